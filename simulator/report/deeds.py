"""What each unit did between two moments, and which of it explains a reading: plain geometry of stored readings."""

from __future__ import annotations

from math import cos, pi
from typing import NamedTuple

from simulator.plan.findings import Kind
from simulator.readings import Readings, UnitReadings
from simulator.report.amounts import Amounts
from simulator.scenario.description import END_NAMES, Description
from simulator.words import phrase, say

MOVED_M, MOVED_RAD = 0.10, 0.0087
"""Less than this (10 cm, half a degree) is said to be no move."""
TELLING_M = 0.30
"""A difference between the two units, or a tip out of its line, that is worth naming as a cause."""
STOOD_SHARE = 0.25
"""A unit that did less than this share of what the other did stood still beside it."""
GREW_SHARE = 0.10


class Deeds(NamedTuple):
    """How far one unit's functions and tip moved. Signs as in the table of channels."""

    line_up_m: float
    """What the winch alone took in of sheave to hook: telescoping lets line out and in too."""
    out_m: float
    raised_rad: float
    slewed_rad: float
    tip_m: tuple[float, float, float]
    hook_up_m: float
    radius_m: tuple[float, float]
    """Load radius before and after."""
    load_N: tuple[float, float]
    """Line load before and after."""


def deeds(description: Description | None, before: Readings, after: Readings) -> tuple[Deeds, Deeds]:
    """What nose and tail unit did from one moment to another; without the lift all line counts as the winch's."""
    nose, tail = (_of(description, end, before.units[end], after.units[end]) for end in (0, 1))
    return nose, tail


def _of(description: Description | None, end: int, was: UnitReadings, now: UnitReadings) -> Deeds:
    out_m = now.boom_length_m - was.boom_length_m
    by_boom_m = out_m / description.units[end].hoist.parts if description is not None else 0.0
    return Deeds(
        was.line_length_m - now.line_length_m - by_boom_m,
        out_m,
        now.elevation_rad - was.elevation_rad,
        now.slew_rad - was.slew_rad,
        (now.tip_x_m - was.tip_x_m, now.tip_y_m - was.tip_y_m, now.tip_z_m - was.tip_z_m),
        now.hook_z_m - was.hook_z_m,
        (was.load_radius_m, now.load_radius_m),
        (was.line_load_N, now.line_load_N),
    )


def deed_words(done: Deeds, amounts: Amounts) -> str:
    """One unit's moves in words."""
    rows: tuple[tuple[float, float, Kind, str, str], ...] = (
        (done.line_up_m, MOVED_M, "m", "line_in", "line_out"),
        (done.out_m, MOVED_M, "m", "telescope_out", "telescope_in"),
        (done.raised_rad, MOVED_RAD, "rad", "boom_up", "boom_down"),
        (done.slewed_rad, MOVED_RAD, "rad", "slew_road", "slew_ravine"),
    )
    said = [
        say(f"deed.{more if moved > 0.0 else less}", value=amounts.text(abs(moved), kind))
        for moved, least, kind, more, less in rows
        if abs(moved) >= least
    ]
    return ", ".join(said) or say("deed.stood")


def unit_name(end: int) -> str:
    """The unit as a report names it."""
    return phrase(f"{END_NAMES[end]} unit")


def causes(
    description: Description | None,
    before: Readings,
    after: Readings,
    amounts: Amounts,
    *,
    telling_m: float = TELLING_M,
) -> list[str]:
    """Moves that explain why lines lean or the load turns, the plainest first.

    Args:
        description: the lift, for its booms; without it only moves are told.
        before: when all was well.
        after: when it no longer was.
        amounts: how numbers are written.
        telling_m: a difference between the units, or a tip out of its line, that is worth naming.
    """
    both = deeds(description, before, after)
    lines, hooks = (both[0].line_up_m, both[1].line_up_m), (both[0].hook_up_m, both[1].hook_up_m)
    across = both[0].tip_m[1], both[1].tip_m[1]
    found = _by_one_alone(both, lines, ("one_hoisted_in", "one_hoisted_out"), amounts, telling_m)
    found = found or _by_one_alone(both, hooks, ("one_end_up", "one_end_down"), amounts, telling_m)
    found += _by_one_alone(both, across, ("one_crossed_road", "one_crossed_ravine"), amounts, telling_m)
    for end in (0, 1):
        if abs(both[end].tip_m[0]) >= telling_m:
            found += _left_its_line(description, end, before, after, both[end], amounts)
    return found


def _by_one_alone(
    both: tuple[Deeds, Deeds], moved_m: tuple[float, float], ways: tuple[str, str], amounts: Amounts, telling_m: float
) -> list[str]:
    """One unit moved so far, up (the first way) or down (the second), and the other stood."""
    far, stood = _apart(*moved_m, telling_m)
    if stood is None:
        return []
    went = 1 - stood
    return [
        say(
            f"deed.{ways[0] if far > 0.0 else ways[1]}",
            stood=unit_name(stood),
            went=unit_name(went),
            went_line=_line_name(went),
            stood_line=_line_name(stood),
            did=deed_words(both[went], amounts),
            most=amounts.text(abs(far), "m"),
            least=amounts.text(abs(moved_m[stood]), "m"),
        )
    ]


def _line_name(end: int) -> str:
    return phrase(f"{END_NAMES[end]} line")


def _apart(nose: float, tail: float, telling_m: float) -> tuple[float, int | None]:
    """The larger move, and which unit stood still beside it, if one did."""
    far = nose if abs(nose) > abs(tail) else tail
    stood = 1 if far == nose else 0
    near = tail if stood else nose
    is_apart = abs(far - near) >= telling_m and near * (1.0 if far > 0 else -1.0) < STOOD_SHARE * abs(far)
    return far, stood if is_apart else None


def _left_its_line(
    description: Description | None, end: int, before: Readings, after: Readings, done: Deeds, amounts: Amounts
) -> list[str]:
    """A tip that moved along the road: by slewing with a telescope that did not follow, or by boom or telescope."""
    along = done.tip_m[0]
    tip = {"value": amounts.text(abs(along), "m"), "toward": unit_name(1 if along > 0 else 0), "unit": unit_name(end)}
    plain = [say("deed.tip_along", did=deed_words(done, amounts), **tip)]
    if description is None or abs(done.slewed_rad) < 2.0 * MOVED_RAD:
        return plain
    unit, was, now = description.units[end], before.units[end], after.units[end]
    from_axis = was.reach_m * cos(was.slew_rad)
    if abs(now.slew_rad) >= pi / 2.0 - 0.05 or from_axis <= 0.0:
        return plain
    needed_m = (from_axis / cos(now.slew_rad) + unit.boom.foot_pin_back_m) / cos(now.elevation_rad) - was.boom_length_m
    changed, needed = (f"{amounts.length(one):+.2f} {amounts.length_unit}" for one in (done.out_m, needed_m))
    slewed = amounts.text(abs(done.slewed_rad), "rad")
    return [say("deed.off_its_line", slewed=slewed, changed=changed, needed=needed, **tip)]


def load_causes(end: int, before: Readings, after: Readings, amounts: Amounts) -> list[str]:
    """Why a unit carries more, or stands lighter: its radius or its line load grew."""
    done = deeds(None, before, after)[end]
    found = []
    if done.radius_m[1] - done.radius_m[0] >= TELLING_M:
        a, b = (amounts.text(one, "m") for one in done.radius_m)
        found.append(say("deed.radius_grew", unit=unit_name(end), before=a, after=b))
    if done.load_N[1] >= (1.0 + GREW_SHARE) * done.load_N[0]:
        a, b = (amounts.text(one, "N") for one in done.load_N)
        found.append(say("deed.load_grew", line=_line_name(end), before=a, after=b))
    return found
