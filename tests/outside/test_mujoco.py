"""MuJoCo as an independent rigid body in three dimensions, hung from the tips and lines that telemetry holds.

It is given where the tips are and how long the lines, with their stiffness and damper; all motion is its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from math import sqrt
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest

pytest.importorskip("mujoco")

from simulator.engine.commands import STILL, Commands
from simulator.engine.instruments import Instruments
from simulator.engine.load import Load
from simulator.engine.moving import Body
from simulator.engine.simulation import Simulation
from simulator.engine.state import State
from simulator.places import shipped_scenarios
from simulator.readings import CHANNELS
from simulator.recording.track import CommandChange, read
from simulator.scenario.description import Description, Engine
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.reader import load
from simulator.scenario.rig import NOSE, TAIL, TWO_BY_ONE, rig_of
from tests.demo import textbook, with_boom, with_hoist, with_pick, with_trailer, with_units
from tests.engine.test_several_lines import frame, scene, soft_units, under_the_sheaves
from tests.outside.hanging import hanging
from tests.outside.mujoco_load import replay
from tests.outside.telemetry import COLUMNS, Array, Telemetry, record, row
from tests.shipped_lifts import Demonstrations

pytestmark = pytest.mark.long

TRACKS = Path(__file__).parent / "tracks"
ROUGH = {1: "tank_on_side", 2: "tank_on_side", 3: "box_on_wheels"}
ROUGH_S = 120.0
EVERY = 8
"""Of the rows of a rough track, each so many is compared: thirty a second."""
SMOOTH_EVERY = 2
"""Of a demonstration MuJoCo takes steps so many times as long: nothing jerks in it."""
QUANTITIES = ("x", "y", "z", "pitch", "yaw", "roll", "nose load", "tail load")


def states(simulation: Simulation, changes: dict[int, Commands], last: int, *, every: int = 1) -> Iterator[State]:
    """The states of a lift whose commands change at known steps, after every one of them or every so many."""
    assert all(step % every == 0 for step in (last, *changes))
    commands = STILL
    for step in range(0, last, every):
        commands = changes.get(step, commands)
        simulation.run(commands, every)
        yield simulation.state


def all_of(pose: Array, hook_N: Array, weight_N: float) -> Array:
    """Pose and loads (shares of the weight) side by side."""
    return np.column_stack([pose, hook_N / weight_N])


def rough_track(number: int) -> list[CommandChange]:
    """A track of rough driving."""
    return read(TRACKS / f"rough_{number}.csv", TWO_BY_ONE)


def rms(values: Array) -> Array:
    return np.asarray(np.sqrt(np.mean(np.square(values), axis=0)))


def test_rows_are_what_telemetry_holds() -> None:
    """At a moment of a raised, jerked load with a hidden CG: every column is its channel's value, to rounding.

    A row has the upper end of the line's spring; a tip is read with what its structure gives along the pull besides.
    """
    simulation = Simulation(roughly(2))
    instruments = Instruments(simulation.model)
    instruments.watch(simulation.moving)
    changes = {round(row.time_s * 240): row.commands for row in rough_track(2)}
    kept: list[State] = []
    for state in states(simulation, changes, 24 * 240):
        kept = [*kept[-1:], state]
    found = row(record(kept, simulation.model.reference_m, simulation.model), -1)
    readings = instruments.read(kept[-1])
    for end, boom in zip((NOSE, TAIL), kept[-1].booms, strict=True):
        found |= {
            f"{end}.tip_{axis}_m": found[f"{end}.tip_{axis}_m"] + part
            for axis, part in zip("xyz", boom.given, strict=True)
        }
    channels = {channel.name: channel.read(readings) for channel in CHANNELS if channel.name in COLUMNS}
    assert channels["nose.hook_load_N"] > 1e5
    assert found == pytest.approx(channels, rel=1e-12, abs=1e-12)


RIGID = [
    path
    for path in shipped_scenarios()
    for trailer in (load(path).trailer,)
    if trailer.cargo.kind != "bulk" and all(pick.lies_on is None for pick in trailer.picks)
]
"""Lifts that are a rigid body on straight lines. `test_turned_outside` has those whose lines run round the load. A bulk
load lies far from where it was laid in, and its weight alone is moved there: in roll it is 0.114 deg off a body that is
rigid there, in place 8 mm.
"""


@pytest.mark.parametrize("path", RIGID, ids=lambda path: path.stem)
def test_a_demonstration_hangs_the_same_from_lift_off_to_touch_down(path: Path, demonstrated: Demonstrations) -> None:
    lift = demonstrated(path)
    simulation = Simulation(with_hoist(lift.description, sway_damping_ratio=0.0))
    rows = states(simulation, lift.changes, lift.landed.step, every=SMOOTH_EVERY)
    whole = record(rows, simulation.model.reference_m, simulation.model)
    touching = np.flatnonzero(whole.ground.any(axis=1))
    longest = int(np.argmax(np.diff(touching)))
    flight = whole.between(int(touching[longest]) + 1, int(touching[longest + 1]) - 1)
    assert len(flight) > 60.0 * 240.0 / SMOOTH_EVERY
    weight = simulation.model.weight_N
    step_s = SMOOTH_EVERY * simulation.model.dt
    theirs = replay(lift.description.trailer, flight, step_s, simulation.model.rig)
    error = rms(all_of(flight.pose, flight.hook_N, weight) - all_of(theirs.pose, theirs.hook_N, weight))
    assert error[:3].max() < 0.02
    assert np.degrees(error[3:6]).max() < 0.1
    assert error[6:].max() < 0.005


def roughly(number: int) -> Description:
    """The lift of a rough track: the textbook one with winches quick enough to jerk a line slack.

    All else is as when the tracks were driven: booms stiff and held by valves that never open, winches at full speed
    until they stall, rope on one layer, lines that damp their stretch and no sway. No rope parts. Carriers are heavier
    than they were: where a tip goes with its lines' pulls a unit stands less firmly. The second has a single point at
    its tail pick and a hidden CG.
    """
    winch = {"speed_mps": 1.5, "ramp_mps2": 20.0, "drum_width_m": 10.0, "rope_breaking_N": 1e8}
    quick = with_hoist(textbook(ROUGH[number]), damping_ratio=0.15, sway_damping_ratio=0.0, **winch)
    held = {"raise_relief_Nm": 1e9, "telescope_relief_N": 1e9, "slew_hold_Nm": 1e9}
    stiff = with_boom(quick, tip_stiffness_N_per_m=1.2e6, **held)
    described = with_units(stiff, carrier_kg=4e4, full_speed_share=0.95)
    if number != 2:
        return described
    described = with_pick(described, TAIL, pivot="single_point")
    return with_trailer(described, hidden_cg_m=(0.3, 0.1, -0.1))


class Driven(NamedTuple):
    """The two rough minutes of a track, the load hanging all the while."""

    description: Description
    telemetry: Telemetry
    weight_N: float
    swung: Array
    """Every quantity about its quasi-static value, at the moments that are compared."""


def drive(number: int, rough_s: float = ROUGH_S) -> Driven:
    """Drive a rough track on the engine as it is at the moment, or the first part of it."""
    described = roughly(number)
    simulation = Simulation(described)
    per_s = described.engine.steps_per_s
    changes = {round(change.time_s * per_s): change.commands for change in rough_track(number)}
    start = first_rough_step(number, per_s)
    last = start + round(rough_s * per_s)
    whole = record(states(simulation, changes, last), simulation.model.reference_m, simulation.model)
    assert not simulation.incidents
    rough, weight = whole.between(start, last - 1), simulation.model.weight_N
    return Driven(described, rough, weight, swung(described, thinned(rough), weight))


driven = lru_cache(drive)


def first_rough_step(number: int, per_s: int) -> int:
    """Raising is over at the first row that asks nothing of either hoist; two seconds later rough driving begins."""
    track = rough_track(number)
    still = next(change for change in track if change.time_s > 0.0 and change.commands == STILL)
    return round((still.time_s + 2.0) * per_s)


def thinned(telemetry: Telemetry) -> Telemetry:
    return Telemetry(*(getattr(telemetry, name)[::EVERY] for name in telemetry.__dataclass_fields__))


def swung(described: Description, telemetry: Telemetry, weight_N: float) -> Array:
    """Every quantity about its quasi-static value: hanging still under the present tips and lines."""
    still = hanging(described.trailer, telemetry)
    return all_of(telemetry.pose, telemetry.hook_N, weight_N) - all_of(still.pose, still.hook_N, weight_N)


def error_shares(lift: Driven) -> dict[str, float]:
    """RMS of engine less MuJoCo over RMS of the engine's own motion about the quasi-static value."""
    ours = thinned(lift.telemetry)
    theirs = replay(lift.description.trailer, lift.telemetry, 1.0 / lift.description.engine.steps_per_s)
    pose, hook_N = theirs.pose[::EVERY], theirs.hook_N[::EVERY]
    error = rms(all_of(ours.pose, ours.hook_N, lift.weight_N) - all_of(pose, hook_N, lift.weight_N))
    return dict(zip(QUANTITIES, (float(share) for share in error / rms(lift.swung)), strict=True))


def over_bound(shares: dict[str, float]) -> dict[str, float]:
    """What differs by more than is allowed."""
    return {name: share for name, share in shares.items() if not share < 0.05}


@pytest.mark.parametrize("number", ROUGH)
class TestRoughTrack:
    def test_it_is_rough(self, number: int) -> None:
        lift = driven(number)
        most = np.abs(lift.swung).max(axis=0)
        assert most[:2].min() > 0.7
        assert np.degrees(most[4:6]).min() > 8.0
        assert (lift.telemetry.hook_N == 0.0).any()
        assert not lift.telemetry.ground.any()

    def test_mujoco_moves_the_same(self, number: int) -> None:
        assert not over_bound(error_shares(driven(number)))


class Swayless(Load):
    """The engine's load with its sway taken away: sideways motion is damped as much as a pendulum can be to not swing.

    Critical damping at the 8 m of line and rigging of a rough track; the load still follows its tips.
    """

    def advance(self, body: Body, dt: float) -> None:
        super().advance(body, dt)
        kept = 1.0 / (1.0 + 2.0 * sqrt(STANDARD_GRAVITY_MPS2 / 8.0) / 240.0)
        body.vx, body.vy = kept * body.vx, kept * body.vy
        self.place(body)


def test_the_comparison_sees_dynamics(monkeypatch: pytest.MonkeyPatch) -> None:
    """On an engine without sway the same comparison fails, along and across."""
    monkeypatch.setattr("simulator.engine.load.Load", Swayless)
    assert {"x", "y"} <= set(over_bound(error_shares(drive(1, 40.0))))


def roughly_on_four_lines() -> tuple[Description, tuple[tuple[int, Commands], ...]]:
    """A box on two lines a unit, soft units; hands that jerk single lines slack, slew, telescope and turn."""
    described = replace(scene(frame(), *soft_units()), engine=Engine())
    quick = [
        replace(unit, boom=replace(unit.boom, slew_speed_radps=0.1, slew_ramp_radps2=0.3))
        for unit in with_hoist(described, speed_mps=1.5, ramp_mps2=20.0).units
    ]
    nose, tail = rig_of(replace(described, units=tuple(quick))).units
    hands = (
        (480, Commands(nose.hands(), tail.hands())),
        (40, Commands(nose.hands(hoist_1=1.0), tail.hands())),
        (120, Commands(nose.hands(slew=1.0), tail.hands(slew=0.6))),
        (30, Commands(nose.hands(hoist_1=-1.0), tail.hands(hoist_2=1.0))),
        (60, Commands(nose.hands(hoist_1=-0.8, hoist_2=0.8), tail.hands(hoist_1=-0.8, hoist_2=0.8))),
        (240, Commands(nose.hands(telescope=1.0, slew=-1.0), tail.hands(elevation=0.5))),
        (900, Commands(nose.hands(), tail.hands())),
    )
    return replace(described, units=tuple(quick)), hands


def test_four_lines_move_the_same_in_mujoco() -> None:
    """A rough quarter of a minute: pose to 2 mm and 0.05 degrees, each line's load to 1 % of the weight, all rms."""
    described, hands = roughly_on_four_lines()
    simulation = Simulation(described)
    under_the_sheaves(simulation)
    kept = [simulation.step(commands) for steps, commands in hands for _ in range(steps)]
    whole = record(kept, simulation.model.reference_m, simulation.model)
    rough = whole.between(480, len(whole) - 1)
    assert (rough.hook_N == 0.0).any(axis=0).sum() >= 2 and not rough.ground.any()
    theirs = replay(described.trailer, rough, simulation.model.dt, rig_of(described))
    weight = simulation.model.weight_N
    error = rms(all_of(rough.pose, rough.hook_N, weight) - all_of(theirs.pose, theirs.hook_N, weight))
    moved = np.ptp(rough.pose, axis=0)
    assert moved[:2].min() > 0.2 and np.degrees(moved[4:6]).min() > 5.0, "rough"
    assert error[:3].max() < 0.002
    assert np.degrees(error[3:6]).max() < 0.05
    assert error[6:].max() < 0.01
