"""What each unit did between two moments, and which of it explains a reading: plain geometry of stored readings."""

from __future__ import annotations

from math import cos, degrees, pi
from typing import NamedTuple

from simulator.readings import Readings, UnitReadings
from simulator.report.amounts import Amounts
from simulator.scenario.description import END_NAMES, Description

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
    out_m: float
    raised_rad: float
    slewed_rad: float
    tip_m: tuple[float, float, float]
    radius_m: tuple[float, float]
    """Load radius before and after."""
    load_N: tuple[float, float]
    """Line load before and after."""


def deeds(before: Readings, after: Readings) -> tuple[Deeds, Deeds]:
    """What nose and tail unit did from one moment to another."""
    nose, tail = (_of(was, now) for was, now in zip(before.units, after.units, strict=True))
    return nose, tail


def _of(was: UnitReadings, now: UnitReadings) -> Deeds:
    return Deeds(
        was.line_length_m - now.line_length_m,
        now.boom_length_m - was.boom_length_m,
        now.elevation_rad - was.elevation_rad,
        now.slew_rad - was.slew_rad,
        (now.tip_x_m - was.tip_x_m, now.tip_y_m - was.tip_y_m, now.tip_z_m - was.tip_z_m),
        (was.load_radius_m, now.load_radius_m),
        (was.line_load_N, now.line_load_N),
    )


def deed_words(done: Deeds, amounts: Amounts) -> str:
    """One unit's moves in words."""
    said = []
    if abs(done.line_up_m) >= MOVED_M:
        said.append(f"line {'in' if done.line_up_m > 0 else 'out'} {amounts.text(abs(done.line_up_m), 'm')}")
    if abs(done.out_m) >= MOVED_M:
        said.append(f"telescope {'out' if done.out_m > 0 else 'in'} {amounts.text(abs(done.out_m), 'm')}")
    if abs(done.raised_rad) >= MOVED_RAD:
        said.append(f"boom {'up' if done.raised_rad > 0 else 'down'} {amounts.text(abs(done.raised_rad), 'rad')}")
    if abs(done.slewed_rad) >= MOVED_RAD:
        way = "the road" if done.slewed_rad > 0 else "the ravine"
        said.append(f"slew {amounts.text(abs(done.slewed_rad), 'rad')} toward {way}")
    return ", ".join(said) or "stood still"


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
    both = deeds(before, after)
    found = [*_one_hoisted(both, amounts, telling_m), *_one_crossed(both, amounts, telling_m)]
    for end in (0, 1):
        if abs(both[end].tip_m[0]) >= telling_m:
            found += _left_its_line(description, end, before, after, both[end], amounts)
    return found


def _one_hoisted(both: tuple[Deeds, Deeds], amounts: Amounts, telling_m: float) -> list[str]:
    """One line came in or went out and the other stood."""
    far, stood = _apart(both[0].line_up_m, both[1].line_up_m, telling_m)
    if stood is None:
        return []
    way = "in" if far > 0.0 else "out"
    most = amounts.text(abs(far), "m")
    least = amounts.text(abs(both[stood].line_up_m), "m")
    return [
        f"{END_NAMES[stood]} unit stopped hoisting while the {END_NAMES[1 - stood]} unit went on "
        f"({END_NAMES[1 - stood]} line {way} {most}, {END_NAMES[stood]} line {least})"
    ]


def _one_crossed(both: tuple[Deeds, Deeds], amounts: Amounts, telling_m: float) -> list[str]:
    """One tip went across and the other did not."""
    far, stood = _apart(both[0].tip_m[1], both[1].tip_m[1], telling_m)
    if stood is None:
        return []
    way = "the road" if far > 0.0 else "the ravine"
    return [
        f"{END_NAMES[1 - stood]} unit's tip went {amounts.text(abs(far), 'm')} toward {way}, the {END_NAMES[stood]} "
        f"unit's only {amounts.text(abs(both[stood].tip_m[1]), 'm')}"
    ]


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
    toward = "the tail unit" if along > 0 else "the nose unit"
    tip = f"its tip went {amounts.text(abs(along), 'm')} along the road, {toward} way"
    if description is None or abs(done.slewed_rad) < 2.0 * MOVED_RAD:
        return [f"{END_NAMES[end]} unit, {deed_words(done, amounts)}: {tip}"]
    unit, was, now = description.units[end], before.units[end], after.units[end]
    from_axis = was.reach_m * cos(was.slew_rad)
    if abs(now.slew_rad) >= pi / 2.0 - 0.05 or from_axis <= 0.0:
        return [f"{END_NAMES[end]} unit, {deed_words(done, amounts)}: {tip}"]
    needed_m = (from_axis / cos(now.slew_rad) + unit.boom.foot_pin_back_m) / cos(now.elevation_rad) - was.boom_length_m
    did = f"{amounts.length(done.out_m):+.2f}"
    return [
        f"{END_NAMES[end]} unit slewed {degrees(abs(done.slewed_rad)):.0f} deg without the telescope to match (it "
        f"changed {did}, needed {amounts.length(needed_m):+.2f} {amounts.length_unit}): {tip}"
    ]


def load_causes(end: int, before: Readings, after: Readings, amounts: Amounts) -> list[str]:
    """Why a unit carries more, or stands lighter: its radius or its line load grew."""
    done = deeds(before, after)[end]
    found = []
    if done.radius_m[1] - done.radius_m[0] >= TELLING_M:
        a, b = (amounts.text(one, "m") for one in done.radius_m)
        found.append(f"{END_NAMES[end]} unit's load radius grew from {a} to {b}")
    if done.load_N[1] >= (1.0 + GREW_SHARE) * done.load_N[0]:
        a, b = (amounts.text(one, "N") for one in done.load_N)
        found.append(f"{END_NAMES[end]} line load grew from {a} to {b}")
    return found
