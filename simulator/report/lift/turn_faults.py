"""Faults of a turn in the air, read from how each unit's lines ran and from what the load did meanwhile.

Each is looked for by what sets it apart: an end that rushes the corner gets ahead of the other too, and one that is let
down while it turns pays out more than it takes in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import degrees, radians
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.recording.counted import HANGS_N
from simulator.recording.recorded import Recording, minutes
from simulator.report.amounts import Amounts
from simulator.report.lift.cause import Cause, Kind
from simulator.report.lift.moves import unit_name
from simulator.words import say

Column = NDArray[np.float64]
TURNS_MPS, OVER_S = 0.008, 1.0
"""A unit whose lines run one out and one in faster than this, over so long, turns the load."""
RESTS_S = 5.0
"""Hands that turn nothing for so long have not begun, or have stopped. Our own choice, no source."""
CORNER_FROM_RAD, CORNER_TO_RAD, THERE_RAD = radians(4.5), radians(1.0), radians(0.5)
"""Before the corner: where it is to be gone slowly, and where it is reached."""
RUSHED_MPS = 0.045
"""Of each line, over twice what is taught there."""
AT_FIRST_RAD, SWAYS_M = radians(20.0), 0.18
"""A sway of more than this at the turn's beginning was not waited for: a turn itself stirs up less."""
OUT_SHARE, IN_M = 1.3, 0.3
"""So much more out than in, once so much is in: to keep the height of a shell or a box takes less of a difference."""
DOWN_M, DOWN_MPS = 0.25, 0.02
"""So far were both lines paid out at once, each faster than this."""
LEAST_ROOM_M = 0.3
"""Under a load that is turned. Common practice, no source."""
TOWARD_LANE_M = 0.5
"""A tip that went so far toward the traffic during the turn was led there."""
TOGETHER_S = 1.0
"""Who does the same so long after the other only followed."""
ALONE_M, BEGINS_M = 0.15, 0.04
"""The ends' lines that differ by so much: over twice what halts an able hand; it began with the second."""


class Turn(NamedTuple):
    """One turn in the air: what is looked at between its beginning and its end."""

    recording: Recording
    first: int
    last: int
    """Places of its samples."""
    goal_rad: float

    def column(self, name: str) -> Column:
        """A reading in the turn."""
        return np.asarray(self.recording.column(name)[self.first : self.last + 1], dtype=float)

    @property
    def time_s(self) -> Column:
        """When each of its samples was taken."""
        return np.asarray(self.recording.time_s[self.first : self.last + 1], dtype=float)

    def speed(self, name: str) -> Column:
        """How fast a reading goes up, over `OVER_S`."""
        return _speed(self.recording.time_s, self.recording.column(name))[self.first : self.last + 1]

    def line_names(self, end: int) -> tuple[str, ...]:
        """Of a unit."""
        return tuple(line.name for line in self.recording.rig.units[end].lines)

    @property
    def ends(self) -> range:
        """Places of its units."""
        return range(len(self.recording.rig.units))


class TurnFault(NamedTuple):
    """A fault, from when until when."""

    begin_s: float
    until_s: float
    cause: Cause


def turn_faults(recording: Recording, amounts: Amounts) -> Iterator[TurnFault]:
    """What was done badly in a turn, each unit's by what sets it apart; nothing where nothing was turned."""
    turn = _turn_of(recording)
    if turn is None:
        return
    found = [one for look in LOOKS if (one := look(turn, amounts)) is not None]
    if any(one.cause.kind == "turned low" for one in found):  # who lets an end down pays out more than comes in
        found = [one for one in found if one.cause.kind != "out faster than in"]
    yield from found or [one for one in (_alone(turn, amounts), _low(turn, amounts)) if one is not None]


def _turn_of(recording: Recording) -> Turn | None:
    """From when a unit's lines began to turn the load to when it hung as it is to land, or they last turned it."""
    description = recording.description
    if description is None or not description.lands_turned_rad or not len(recording.time_s):
        return None
    hangs = np.asarray(recording.column("load.ground_N")) < HANGS_N
    turns = np.zeros(len(recording.time_s), dtype=bool)
    for name in recording.rig.unit_names:
        turns |= _speed(recording.time_s, recording.column(f"{name}.turn_m")) > TURNS_MPS
    on, goal_rad = np.flatnonzero(turns & hangs), abs(description.lands_turned_rad)
    if not len(on):
        return None
    turned = np.asarray(recording.column("load.turned_rad"))
    there = np.flatnonzero(hangs & (turned > goal_rad - THERE_RAD))
    first = _begins(recording, on, np.flatnonzero(hangs & (turned > AT_FIRST_RAD)))
    last = int(on[-1]) if not len(there) else max(first, int(there[0]))
    return Turn(recording, first, last, goal_rad)


def _begins(recording: Recording, on: NDArray[np.intp], past: NDArray[np.intp]) -> int:
    """Where the turn begins that took the load on: lines hauled one a little more than the other while it was raised or
    carried turned nothing."""
    before = on[on <= past[0]] if len(past) else on[:1]
    if not len(before):
        return int(on[0])
    rests = np.flatnonzero(np.diff(np.asarray(recording.time_s)[before]) > RESTS_S)
    return int(before[rests[-1] + 1] if len(rests) else before[0])


def _speed(time_s: Column, values: Column) -> Column:
    """Up a second, over `OVER_S` before each sample; the first samples over what there is."""
    times, numbers = np.asarray(time_s, dtype=float), np.asarray(values, dtype=float)
    since = np.searchsorted(times, times - OVER_S)
    lasts = np.maximum(times - times[since], 1e-9)
    return np.where(times > times[since], (numbers - numbers[since]) / lasts, 0.0)


def _said(turn: Turn, mask: NDArray[np.bool_], kind: Kind, end: int | None, key: str, **more: str) -> TurnFault:
    """A fault that was on where the mask is."""
    on = turn.time_s[mask]
    unit = say("finding.both_units") if end is None else unit_name(turn.recording, end)
    words = say(f"finding.{key}", unit=unit, when=minutes(float(on[0])), **more)
    return TurnFault(float(on[0]), float(on[-1]), Cause(words, kind, end))


def _whose(masks: list[NDArray[np.bool_]], time_s: Column) -> tuple[NDArray[np.bool_], int | None] | None:
    """Where any unit did it, and the one that did or began; none where both began together."""
    did = sorted((float(time_s[mask][0]), end) for end, mask in enumerate(masks) if mask.any())
    if not did:
        return None
    is_one = len(did) == 1 or did[1][0] - did[0][0] > TOGETHER_S
    return np.logical_or.reduce(masks), did[0][1] if is_one else None


def _swaying(turn: Turn, amounts: Amounts) -> TurnFault | None:
    """Turned from the beginning while it swayed."""
    turned, sway = turn.column("load.turned_rad"), turn.column("load.sway_m")
    sways = (turned - turned[0] < AT_FIRST_RAD) & (sway > SWAYS_M)
    masks = [sways & (turn.speed(f"{name}.turn_m") > TURNS_MPS) for name in turn.recording.rig.unit_names]
    found = _whose(masks, turn.time_s)
    if found is None:
        return None
    mask, end = found
    worst = amounts.text(float(sway[mask].max()), "m")
    return _said(turn, mask, "turned swaying", end, "turned_swaying", sway=worst)


def _lane(turn: Turn, amounts: Amounts) -> TurnFault | None:
    """A tip was led toward the live lane."""
    description = turn.recording.description
    assert description is not None
    near = turn.column("load.lane_room_m") < description.limits.lane_caution_m
    ways = [tip - tip[0] for tip in (turn.column(f"{name}.tip_y_m") for name in turn.recording.rig.unit_names)]
    found = _whose([near & (way > TOWARD_LANE_M) for way in ways], turn.time_s)
    if found is None:
        return None
    mask, end = found
    room = amounts.text(float(turn.column("load.lane_room_m")[mask].min()), "m")
    way = amounts.text(float(max(one[mask].max() for one in ways)), "m")
    return _said(turn, mask, "turned near the lane", end, "turned_near_lane", room=room, way=way)


def _let_down(turn: Turn, amounts: Amounts) -> TurnFault | None:
    """Both lines of a unit were paid out at once."""
    masks, ways = [], []
    for place in turn.ends:
        outs = [turn.speed(f"{name}.line_length_m") for name in turn.line_names(place)]
        both = np.logical_and.reduce([out > DOWN_MPS for out in outs])
        way = float(np.sum(np.where(both, np.minimum.reduce(outs), 0.0) * np.gradient(turn.time_s)))
        ways.append(way)
        masks.append(both if way > DOWN_M and len(outs) > 1 else np.zeros_like(both))
    found = _whose(masks, turn.time_s)
    if found is None:
        return None
    mask, end = found
    least = amounts.text(float(turn.column("load.height_over_bed_m").min()), "m")
    return _said(turn, mask, "turned low", end, "turned_low", way=amounts.text(max(ways), "m"), least=least)


def _uneven(turn: Turn, amounts: Amounts) -> TurnFault | None:
    """Line 1 went out faster than line 2 came in."""
    is_before = turn.goal_rad - turn.column("load.turned_rad") > CORNER_FROM_RAD
    if not is_before.any():
        return None
    last = int(np.argmin(is_before)) if not is_before.all() else len(is_before) - 1
    masks, shares = [], [0.0]
    for place in turn.ends:
        lengths = [turn.column(f"{name}.line_length_m") for name in turn.line_names(place)]
        mask = np.zeros_like(is_before)
        if len(lengths) > 1:
            out_m, in_m = lengths[0][last] - lengths[0][0], lengths[1][0] - lengths[1][last]
            share = out_m / max(in_m, 1e-6)
            if in_m > IN_M and share > OUT_SHARE:
                mask = is_before & (turn.speed(f"{turn.recording.rig.unit_names[place]}.turn_m") > TURNS_MPS)
                shares.append(share)
        masks.append(mask)
    found = _whose(masks, turn.time_s)
    if found is None:
        return None
    mask, end = found
    return _said(turn, mask, "out faster than in", end, "out_faster", share=f"{max(shares):.1f}")


def _rushed(turn: Turn, amounts: Amounts) -> TurnFault | None:
    """The last corner was gone through as fast as the rest."""
    left = turn.goal_rad - turn.column("load.turned_rad")
    near = (left < CORNER_FROM_RAD) & (left > CORNER_TO_RAD)
    speeds = [turn.speed(f"{name}.turn_m") for name in turn.recording.rig.unit_names]
    found = _whose([near & (speed > RUSHED_MPS) for speed in speeds], turn.time_s)
    if found is None:
        return None
    mask, end = found
    fastest = amounts.text(float(max(speed[mask].max() for speed in speeds)), "m/s")
    return _said(turn, mask, "rushed the corner", end, "rushed_corner", speed=fastest,
                 corner=f"{degrees(turn.goal_rad):.0f}")  # fmt: skip


def _alone(turn: Turn, amounts: Amounts) -> TurnFault | None:
    """One end was turned on ahead of the other."""
    differ = turn.column("load.ends_differ_m")
    if not (np.abs(differ) > ALONE_M).any():
        return None
    mask = np.abs(differ) > BEGINS_M
    end = turn.ends[0] if differ[mask][0] > 0.0 else turn.ends[-1]
    ahead = amounts.text(float(np.abs(differ).max()), "m")
    return _said(turn, mask, "turned alone", end, "turned_alone", ahead=ahead)


def _low(turn: Turn, amounts: Amounts) -> TurnFault | None:
    """It was begun with too little room under it."""
    height = turn.column("load.height_over_bed_m")
    mask = height < LEAST_ROOM_M
    if not mask.any():
        return None
    return _said(turn, mask, "turned low", None, "begun_low", least=amounts.text(float(height.min()), "m"),
                 begun=amounts.text(float(height[0]), "m"))  # fmt: skip


LOOKS: tuple[Callable[[Turn, Amounts], TurnFault | None], ...] = (_swaying, _lane, _let_down, _uneven, _rushed)
"""In this order; an end ahead of the other, or a load too low, is a fault of its own only where none of these is."""
