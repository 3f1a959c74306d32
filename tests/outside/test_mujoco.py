"""MuJoCo as an independent rigid body in three dimensions, hung from the tips and lines that telemetry holds.

It is given where the tips are and how long the lines, with their stiffness and damper; all motion is its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

pytest.importorskip("mujoco")

from simulator.engine.commands import Commands
from simulator.engine.load import Load
from simulator.engine.motion import Motion
from simulator.engine.simulation import Simulation
from simulator.engine.state import State
from simulator.places import find_scenario, shipped_scenarios
from simulator.recording.track import read
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from tests.outside.hanging import hanging
from tests.outside.mujoco_load import replay
from tests.outside.telemetry import Array, Telemetry, record
from tests.test_demonstrations import demonstrated

TRACKS = Path(__file__).parent / "tracks"
ROUGH = {1: "tank_on_side", 2: "tank_on_side", 3: "box_on_wheels"}
ROUGH_S = 120.0
EVERY = 8
"""Of the rows of a rough track, each so many is compared: thirty a second."""
QUANTITIES = ("x", "y", "z", "pitch", "yaw", "roll", "nose load", "tail load")


def states(simulation: Simulation, changes: dict[int, Commands], last: int) -> Iterator[State]:
    """The states of a lift whose commands change at known steps."""
    commands = Commands()
    for step in range(last):
        commands = changes.get(step, commands)
        yield simulation.step(commands)


def all_of(pose: Array, hook_N: Array, weight_N: float) -> Array:
    """Pose and loads (shares of the weight) side by side."""
    return np.column_stack([pose, hook_N / weight_N])


def rms(values: Array) -> Array:
    return np.asarray(np.sqrt(np.mean(np.square(values), axis=0)))


@pytest.mark.xdist_group("demonstrations")
@pytest.mark.parametrize("path", shipped_scenarios(), ids=lambda path: path.stem)
def test_a_demonstration_hangs_the_same_from_lift_off_to_touch_down(path: Path) -> None:
    attempt, _ = demonstrated(path)
    simulation = Simulation(attempt.description)
    last = attempt.simulation.state.step
    whole = record(states(simulation, dict(attempt.changes), last), simulation.model.reference_m)
    touching = np.flatnonzero(whole.ground.any(axis=1))
    longest = int(np.argmax(np.diff(touching)))
    flight = whole.between(int(touching[longest]) + 1, int(touching[longest + 1]) - 1)
    assert len(flight) > 60.0 * 240.0
    weight = simulation.model.weight_N
    theirs = replay(attempt.description.trailer, flight, simulation.model.dt)
    error = rms(all_of(flight.pose, flight.hook_N, weight) - all_of(theirs.pose, theirs.hook_N, weight))
    assert error[:3].max() < 0.02
    assert np.degrees(error[3:6]).max() < 0.1
    assert error[6:].max() < 0.005


def roughly(number: int) -> Description:
    """The lift of a rough track: the shipped one with winches quick enough to jerk a line slack.

    Shipped winches ramp too gently for that. The second has a single point at its tail pick and a hidden CG.
    """
    described = load(find_scenario(ROUGH[number]))
    nose, tail = (replace(u, hoist=replace(u.hoist, speed_mps=1.5, ramp_mps2=20.0)) for u in described.units)
    described = replace(described, nose_unit=nose, tail_unit=tail)
    if number != 2:
        return described
    pick = replace(described.trailer.tail_pick, pivot="single_point")
    return replace(described, trailer=replace(described.trailer, tail_pick=pick, hidden_cg_m=(0.3, 0.1, -0.1)))


@lru_cache
def driven(number: int) -> tuple[Description, Telemetry, float]:
    """The last two minutes of a rough track, the load hanging all the while; and its weight."""
    described = roughly(number)
    simulation = Simulation(described)
    per_s = described.engine.steps_per_s
    track = read(TRACKS / f"rough_{number}.csv")
    changes = {round(row.time_s * per_s): row.commands for row in track}
    start = first_rough_step(number, per_s)
    last = start + round(ROUGH_S * per_s)
    whole = record(states(simulation, changes, last), simulation.model.reference_m)
    return described, whole.between(start, last - 1), simulation.model.weight_N


def first_rough_step(number: int, per_s: int) -> int:
    """Raising is over at the first row that asks nothing of either hoist; two seconds later rough driving begins."""
    still = next(row for row in read(TRACKS / f"rough_{number}.csv") if row.time_s > 0.0 and row.commands == Commands())
    return round((still.time_s + 2.0) * per_s)


def thinned(telemetry: Telemetry) -> Telemetry:
    return Telemetry(*(getattr(telemetry, name)[::EVERY] for name in telemetry.__dataclass_fields__))


def swung(telemetry: Telemetry, described: Description, weight_N: float) -> Array:
    """Every quantity about its quasi-static value: hanging still under the present tips and lines."""
    thin = thinned(telemetry)
    still = hanging(described.trailer, thin)
    return all_of(thin.pose, thin.hook_N, weight_N) - all_of(still.pose, still.hook_N, weight_N)


@pytest.mark.parametrize("number", ROUGH)
@pytest.mark.xdist_group("rough")
class TestRoughTrack:
    def test_it_is_rough(self, number: int) -> None:
        described, telemetry, weight = driven(number)
        most = np.abs(swung(telemetry, described, weight)).max(axis=0)
        assert most[:2].min() > 0.7
        assert np.degrees(most[4:6]).min() > 8.0
        assert (telemetry.hook_N == 0.0).any()
        assert not telemetry.ground.any()

    def test_mujoco_moves_the_same(self, number: int) -> None:
        described, telemetry, weight = driven(number)
        theirs = replay(described.trailer, telemetry, 1.0 / described.engine.steps_per_s)
        ours = thinned(telemetry)
        error = rms(
            all_of(ours.pose, ours.hook_N, weight) - all_of(theirs.pose[::EVERY], theirs.hook_N[::EVERY], weight)
        )
        share = error / rms(swung(telemetry, described, weight))
        assert dict(zip(QUANTITIES, share < 0.05, strict=True)) == dict.fromkeys(QUANTITIES, True), share


class Swayless(Load):
    """The engine's load with its sway taken away: sideways speeds die within a tenth of a second."""

    def advance(self, now: Motion, *rest: Any) -> Motion:
        moved = super().advance(now, *rest)
        still = moved._replace(vx=0.9 * moved.vx, vy=0.9 * moved.vy)
        self.place(still)
        return still


@pytest.mark.xdist_group("rough")
def test_the_comparison_sees_dynamics(monkeypatch: pytest.MonkeyPatch) -> None:
    """On an engine without sway the same comparison fails, along and across."""
    monkeypatch.setattr("simulator.engine.simulation.Load", Swayless)
    driven.cache_clear()
    described, telemetry, weight = driven(1)
    driven.cache_clear()
    theirs = replay(described.trailer, telemetry, 1.0 / described.engine.steps_per_s)
    ours = thinned(telemetry)
    error = rms(all_of(ours.pose, ours.hook_N, weight) - all_of(theirs.pose[::EVERY], theirs.hook_N[::EVERY], weight))
    share = error / rms(swung(telemetry, described, weight))
    assert share[:2].min() > 0.5
