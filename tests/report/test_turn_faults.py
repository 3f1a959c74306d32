"""Faults of a turn by readings of closed forms: from when on the load is turned, and what is no turn."""

from __future__ import annotations

from math import radians
from typing import NamedTuple, cast

import numpy as np

from simulator.places import find_scenario
from simulator.recording.recorded import Recording
from simulator.report.amounts import Amounts
from simulator.report.lift.turn_faults import TurnFault, turn_faults
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import Rig, rig_of
from tests.report.lifts import Times

RAISED_S, TURNED_S, SPEED_MPS, SLOW_MPS = 40.0, 150.0, 0.1, 0.02
CALM = {
    "load.ground_N": 0.0, "load.sway_m": 0.05, "load.lane_room_m": 5.0, "load.ends_differ_m": 0.0,
    "load.height_over_bed_m": 1.0, "nose.tip_y_m": 6.5, "tail.tip_y_m": 6.5,
}  # fmt: skip


class MadeUp(NamedTuple):
    """What is read of a recording, its channels by name."""

    description: Description
    time_s: Times
    rig: Rig
    channels: dict[str, Times]

    def column(self, name: str) -> Times:
        return self.channels[name]


def turned(*, raised_unevenly: bool, let_down_m: float = 0.0, **courses: Times | float) -> Recording:
    """Raised from `RAISED_S` on, its lines hauled a little unevenly for 2 s or not; turned from `TURNED_S` on at
    `SPEED_MPS` to 84, slowly to 90 degrees, let down meanwhile or not."""
    description = load(find_scenario("turn_over_tank"))
    times = np.arange(0.0, 200.0, 0.1)
    bump = np.clip(times - RAISED_S, 0.0, 2.0) * 0.012 * raised_unevenly
    since = times - TURNED_S
    out = SPEED_MPS * np.clip(since, 0.0, 22.5) + SLOW_MPS * np.clip(since - 22.5, 0.0, 7.5)
    channels = {name: np.full_like(times, value) for name, value in CALM.items()}
    channels["load.turned_rad"] = radians(90.0) * out / out.max()
    raised = 3.0 * np.clip((times - 60.0) / 20.0, 0.0, 1.0)
    down = let_down_m * np.clip((times - TURNED_S) / 4.0, 0.0, 1.0)
    for end in ("nose", "tail"):
        channels[f"{end}.turn_m"] = bump + out
        channels[f"{end}_1.line_length_m"] = 8.0 + raised + down + out
        channels[f"{end}_2.line_length_m"] = 9.0 + raised + down - out
    channels |= {name: np.broadcast_to(np.asarray(value), times.shape) for name, value in courses.items()}
    return cast(Recording, MadeUp(description, times, rig_of(description), channels))


def faults(recording: Recording) -> list[TurnFault]:
    return list(turn_faults(recording, Amounts()))


def test_lines_hauled_unevenly_before_are_no_turn() -> None:
    """Paid out alike by 3 m on the way, long before it is turned: nobody turned it too low."""
    assert faults(turned(raised_unevenly=False)) == []
    assert faults(turned(raised_unevenly=True)) == []


def test_an_end_let_down_while_it_is_turned_is_still_named() -> None:
    found = faults(turned(raised_unevenly=True, let_down_m=0.9))
    assert [one.cause.kind for one in found] == ["turned low"]
    assert found[0].begin_s > TURNED_S - 1.0


def test_a_sway_counts_from_when_the_turn_begins() -> None:
    times = np.arange(0.0, 200.0, 0.1)
    swung = {"load.sway_m": np.where(times < TURNED_S - 10.0, 0.4, 0.05)}
    assert faults(turned(raised_unevenly=True, **swung)) == [], "it was waited for"
    sways = faults(turned(raised_unevenly=True, **{"load.sway_m": 0.4}))
    assert [one.cause.kind for one in sways] == ["turned swaying"] and sways[0].begin_s > TURNED_S - 1.0
