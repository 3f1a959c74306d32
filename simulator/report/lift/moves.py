"""What each unit did between two moments, and which of it explains a reading: plain geometry of stored readings."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, hypot, pi, sin, tan
from typing import NamedTuple

from simulator.plan.findings import Kind
from simulator.readings import Readings, UnitReadings
from simulator.recording.recorded import Recording
from simulator.report.amounts import Amounts
from simulator.report.lift.cause import Cause
from simulator.scenario.description import Description
from simulator.scenario.rig import MOST_UNITS, NOSE, TAIL, RigUnit
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
    """What the winch alone took in of sheave to hook, from the rope paid out: telescoping lets line out and in too."""
    out_m: float
    raised_rad: float
    slewed_rad: float
    tip_m: tuple[float, float, float]
    hook_up_m: float
    """How far winch, telescope and elevation together brought the hook up: not what the load, or a boom that gives,
    did to it."""


def deeds(recording: Recording, before: Readings, after: Readings) -> tuple[Deeds, ...]:
    """What each unit did from one moment to another; without the lift a line counts as of one part."""
    pairs = zip(before.units, after.units, strict=True)
    return tuple(_of(recording.description, end, was, now) for end, (was, now) in enumerate(pairs))


def _of(description: Description | None, end: int, was: UnitReadings, now: UnitReadings) -> Deeds:
    parts = description.units[end].hoist.parts if description is not None else 1
    out_m = now.boom_length_m - was.boom_length_m
    line_up_m = (was.rope_out_m - now.rope_out_m) / parts
    tip_up_m = now.boom_length_m * sin(now.elevation_rad) - was.boom_length_m * sin(was.elevation_rad)
    return Deeds(
        line_up_m,
        out_m,
        now.elevation_rad - was.elevation_rad,
        now.slew_rad - was.slew_rad,
        (now.tip_x_m - was.tip_x_m, now.tip_y_m - was.tip_y_m, now.tip_z_m - was.tip_z_m),
        tip_up_m + line_up_m + out_m / parts,
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


def unit_name(recording: Recording, end: int) -> str:
    """The unit as a report names it."""
    return phrase(f"{recording.rig.unit_names[end]} unit")


def line_name(recording: Recording, end: int) -> str:
    """Its hoist line, or both of them, as a report names it."""
    return phrase(f"{recording.rig.unit_names[end]} line")


def moved_boom(done: Deeds) -> bool:
    """Slew, telescope or elevation moved: a tip that moved without them only gave way under its load."""
    return abs(done.out_m) >= MOVED_M or abs(done.raised_rad) >= MOVED_RAD or abs(done.slewed_rad) >= MOVED_RAD


def moved(done: Deeds) -> bool:
    """Anything was moved."""
    return abs(done.line_up_m) >= MOVED_M or moved_boom(done)


def tip_causes(
    recording: Recording,
    before: Readings,
    after: Readings,
    amounts: Amounts,
    *,
    telling_m: float,
    is_along: bool = True,
    is_across: bool = True,
) -> list[Cause]:
    """Tips that left their place: across with the other unit's standing, or along the road out of their line.

    The tip of a slack line pulls nothing out of plumb, so it is not told.

    Args:
        recording: of the lift, for its units and booms; without its scenario only moves are told.
        before: when all was well.
        after: when it no longer was.
        amounts: how numbers are written.
        telling_m: how far a tip must be out to be worth naming.
        is_along: those along the road are told.
        is_across: those across it are told.

    Returns:
        A sentence each, the furthest out first.
    """
    both = deeds(recording, before, after)
    pulls = [moved_boom(done) and not unit.slack for done, unit in zip(both, after.units, strict=True)]
    found = list(_crossed(recording, both, pulls, amounts, telling_m)) if is_across else []
    for end, done in enumerate(both):
        along_m = abs(done.tip_m[0])
        if is_along and along_m >= telling_m and pulls[end]:
            said = _left_its_line(recording, end, before, after, done, amounts)
            found.append((along_m, Cause(said, "off its line", end)))
    return [said for _, said in sorted(found, key=lambda one: -one[0])]


def _crossed(
    recording: Recording, both: tuple[Deeds, ...], pulls: list[bool], amounts: Amounts, telling_m: float
) -> Iterator[tuple[float, Cause]]:
    """A tip that went across while the other's stayed, and how far; `pulls`: which tips may be told."""
    if len(both) < MOST_UNITS:
        return
    went, stood, far_m, near_m = _further(*(done.tip_m[1] for done in both))
    if abs(far_m - near_m) >= telling_m and _stood(far_m, near_m) and pulls[went]:
        key = f"deed.one_crossed_{'road' if far_m > 0.0 else 'ravine'}"
        sizes = {"most": amounts.text(abs(far_m), "m"), "least": amounts.text(abs(near_m), "m")}
        said = say(key, went=unit_name(recording, went), stood=unit_name(recording, stood), **sizes)
        yield abs(far_m), Cause(said, "went on alone", went)


def stands_over(now: Readings, of: RigUnit, within_rad: float) -> bool:
    """A unit with two lines has its tip over the load or over the middle of its hooks: each line leans by
    itself, and nothing was to be put right."""
    if len(of.lines) < 2:
        return False
    mine, lines = now.units[of.place], [now.lines[line.place] for line in of.lines]
    drop_m = mine.tip_z_m - sum(line.hook_z_m for line in lines) / len(lines)
    x = sum(line.hook_x_m for line in lines) / len(lines) - mine.tip_x_m
    ys = sum(line.hook_y_m for line in lines) / len(lines) - mine.tip_y_m, now.load.y_m - mine.tip_y_m
    return hypot(x, min(map(abs, ys))) < drop_m * tan(within_rad)


class OneEnd(NamedTuple):
    """One end's hook that was moved further than the other's."""

    went: int
    stood: int
    far_m: float
    near_m: float
    """How far hands brought either hook up."""
    by_winch: bool
    """The winch alone did it, or most of it; else the boom."""


def one_end(both: tuple[Deeds, ...], telling_m: float) -> OneEnd | None:
    """Whether one end's hook was moved so much further than the other's; a lone unit has no other."""
    if len(both) < MOST_UNITS:
        return None
    went, stood, far_m, near_m = _further(*(done.hook_up_m for done in both))
    if abs(far_m - near_m) < telling_m:
        return None
    by_boom_m = far_m - both[went].line_up_m
    return OneEnd(went, stood, far_m, near_m, abs(by_boom_m) < MOVED_M)


def end_words(
    recording: Recording, one: OneEnd, both: tuple[Deeds, ...], amounts: Amounts, *, stopped_at: str = ""
) -> Cause:
    """Which end moved how far, by which function, and what the other did.

    Args:
        recording: of the lift.
        one: the ends.
        both: what the units did.
        amounts: how numbers are written.
        stopped_at: when the other stopped, where it moved with this one before.
    """
    is_alone = _stood(one.far_m, one.near_m) and not moved(both[one.stood])
    if stopped_at or not is_alone:
        key = "stopped" if stopped_at else "further"
    elif one.by_winch:
        key = "one_hoisted_in" if one.far_m > 0.0 else "one_hoisted_out"
    else:
        key = "one_end_up" if one.far_m > 0.0 else "one_end_down"
    lines = [_way_words(both[end].line_up_m, "in", "out", amounts) for end in (one.went, one.stood)]
    hooks = [_way_words(way_m, "up", "down", amounts) for way_m in (one.far_m, one.near_m)]
    said = say(
        f"deed.{key}",
        went=unit_name(recording, one.went),
        stood=unit_name(recording, one.stood),
        lines=f"{line_name(recording, one.went)} {lines[0]}, {line_name(recording, one.stood)} {lines[1]}",
        did=deed_words(both[one.went], amounts),
        stood_did=deed_words(both[one.stood], amounts),
        most=hooks[0],
        least=hooks[1],
        when=stopped_at,
    )
    return Cause(said, "went on alone", one.went)


def _way_words(value_m: float, more: str, less: str, amounts: Amounts) -> str:
    size = amounts.text(abs(value_m), "m")
    return size if abs(value_m) < 0.005 else say(f"deed.{more if value_m > 0.0 else less}", value=size)


def _further(*ways_m: float) -> tuple[int, int, float, float]:
    """Which unit went furthest, which least, and how far either went."""
    order = sorted(range(len(ways_m)), key=lambda end: abs(ways_m[end]))
    went, stood = order[-1], order[0]
    return went, stood, ways_m[went], ways_m[stood]


def _stood(far_m: float, near_m: float) -> bool:
    return abs(near_m) < STOOD_SHARE * abs(far_m)


def _left_its_line(
    recording: Recording, end: int, before: Readings, after: Readings, done: Deeds, amounts: Amounts
) -> str:
    """A tip that moved along the road: by slewing with a telescope that did not follow, or by boom or telescope."""
    along, description = done.tip_m[0], recording.description
    toward = (
        phrase(f"{TAIL if along > 0 else NOSE} unit") if len(before.units) > 1 else phrase(TAIL if along > 0 else NOSE)
    )
    tip = {"value": amounts.text(abs(along), "m"), "toward": toward, "unit": unit_name(recording, end)}
    plain = say("deed.tip_along", did=deed_words(done, amounts), **tip)
    if description is None or abs(done.slewed_rad) < 2.0 * MOVED_RAD:
        return plain
    unit, was, now = description.units[end], before.units[end], after.units[end]
    from_axis = was.reach_m * cos(was.slew_rad)
    if abs(now.slew_rad) >= pi / 2.0 - 0.05 or from_axis <= 0.0:
        return plain
    needed_m = (from_axis / cos(now.slew_rad) + unit.boom.foot_pin_back_m) / cos(now.elevation_rad) - was.boom_length_m
    changed, needed = (f"{amounts.length(one):+.2f} {amounts.length_unit}" for one in (done.out_m, needed_m))
    slewed = amounts.text(abs(done.slewed_rad), "rad")
    return say("deed.off_its_line", slewed=slewed, changed=changed, needed=needed, **tip)


def load_causes(recording: Recording, end: int, before: Readings, after: Readings, amounts: Amounts) -> list[Cause]:
    """Why a unit carries more, or stands lighter: its load radius or its line load grew, and what was done meanwhile.

    Args:
        recording: of the lift; without its scenario a line counts as of one part.
        end: the unit's place.
        before: when all was well.
        after: when it no longer was.
        amounts: how numbers are written.
    """
    was, now = before.units[end], after.units[end]
    did = [deed_words(done, amounts) for done in deeds(recording, before, after)]
    found: list[Cause] = []
    if now.load_radius_m - was.load_radius_m >= TELLING_M:
        a, b = (amounts.text(one, "m") for one in (was.load_radius_m, now.load_radius_m))
        found.append(
            Cause(
                say("deed.radius_grew", unit=unit_name(recording, end), before=a, after=b, did=did[end]), "moves", end
            )
        )
    if now.line_load_N >= (1.0 + GREW_SHARE) * was.line_load_N:
        a, b = (amounts.text(one, "N") for one in (was.line_load_N, now.line_load_N))
        order = sorted(range(len(did)), key=lambda place: place != end)
        moves = " / ".join(f"{unit_name(recording, place)}: {did[place]}" for place in order)
        found.append(
            Cause(say("deed.load_grew", line=line_name(recording, end), before=a, after=b, did=moves), "moves")
        )
    return found
