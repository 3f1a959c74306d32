"""What one unit's numbers at one station are held against, and what to change where they do not hold."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, inf, pi, sqrt, tan

from simulator.mechanics.allowances import HANDS_LEAN_RAD, HANDS_TAKE_M, SLACK_M
from simulator.mechanics.boom import tip_m
from simulator.mechanics.clearance.units import FLOAT_WORDS
from simulator.plan.findings import Amount, Change, Kind, Move, Reading, passed
from simulator.plan.solutions import ROUNDING, TravelEnd
from simulator.plan.stations import Station
from simulator.plan.unit_stand import Line, Side, UnitStand
from simulator.scenario.description import Description, Limits
from simulator.scenario.judged_limits import GROUND_CAUTION, GROUND_STOP

STALL_CAUTION = 0.9
"""At 90 % of the line pull a lift begins with a brake test (29 CFR 1926.1417(s), its tail read)."""
HANDS_MOST = 0.6
"""Where a maker allows little off plumb, hands are taken to be steadier: they use no more of it (own choice)."""
GIVES_MORE = 0.15
"""A tip that is moved gives way otherwise: so much of what it gives is kept in hand."""

WAYS = {
    "boom too short": "{} more boom is needed: stand the unit nearer to its pick, or hold the tips {} lower",
    "boom too long": "the boom cannot be short enough: stand the unit farther off, or hold the tips {} higher",
    "elevation too high": "stand the unit {} farther off, or hold the tips {} lower",
    "elevation too low": "stand the unit nearer to its pick, or hold the tips {} higher",
    "slew": "stand the unit {} farther from the gap",
}
MOVES: dict[str, tuple[Move, ...]] = {
    "boom too short": ("nearer", "tips down"),
    "boom too long": ("farther", "tips up"),
    "elevation too high": ("farther", "tips down"),
    "elevation too low": ("nearer", "tips up"),
    "slew": ("farther",),
}
NEARER = "{} more boom is needed: stand the unit nearer to its pick"
"""Where no lower tip helps: it is too far off."""
OTHER_SIDE = "this boom may not slew to that side: the travel end of its slew has to be farther out"


def unit_readings(side: Side, station: Station, stand: UnitStand, description: Description) -> Iterator[Reading]:
    """Every value of a unit at a station that has a limit."""
    who, limits = side.who, description.limits
    yield from (_travel(side, station, stand, end) for end in stand.choice.ends)
    yield from _capacity(side, stand, limits)
    yield from _floats(side, stand, limits)
    yield from _functions(who, stand)
    for own, line in zip(side.lines, stand.lines, strict=True):
        named = line if len(stand.lines) > 1 else line._replace(name="")
        yield from _line(who, named, limits, own.hoist.parts)
    yield _off_plumb(who, stand, limits, description.site.wind.speed_mps)
    for own, line in zip(side.lines, stand.lines, strict=True):
        change = Change("bring the picks to both sides of the center of gravity: this line would go slack")
        about = line.name if len(stand.lines) > 1 else ""
        share = station.shares[own.place]
        yield Reading("share", who, "share of the weight", "share", share, 0.0, 0.0, False, about, change)


def head_room_stop_m(limits: Limits) -> float:
    """A plan's: what hands take is left over."""
    return limits.head_room_stop_m + HANDS_TAKE_M


def rope_stop_m(limits: Limits, parts: int) -> float:
    """A plan's: the lines lie slack before the lift."""
    return limits.rope_left_stop_m + parts * SLACK_M


def plumb_stop_rad(limits: Limits) -> float:
    """A plan's, for wind alone: hands lean besides, for a stated part of the limit at most."""
    return limits.off_plumb_stop_rad - min(HANDS_LEAN_RAD, HANDS_MOST * limits.off_plumb_stop_rad)


FUNCTIONS = (
    ("raising", "raising used", "take {} off this unit, or shorten its reach"),
    ("extending", "extending used", "take {} off this unit, or hold its boom flatter"),
    ("slew hold", "slew torque used", "bring its lines plumb, or take {} off this unit"),
)
"""Code, name and what to change of each function's load, in the order of `UnitStand.used`."""


def _functions(who: str, stand: UnitStand) -> Iterator[Reading]:
    """What stalls a function leaves nothing in hand for a jerk."""
    for (code, name, words), used in zip(FUNCTIONS, stand.used, strict=True):
        change = Change(words, _excess(stand.pull.load_N, used, STALL_CAUTION, 1.0))
        yield Reading(code, who, name, "share", used, STALL_CAUTION, 1.0, True, change=change)


def _line(who: str, line: Line, limits: Limits, parts: int) -> Iterator[Reading]:
    """One line's own limits; it is named where its unit has another."""
    stop = head_room_stop_m(limits)
    low = max(stop, limits.head_room_caution_m)
    words = "raise the tips by {}, shorten the rigging by {}, or carry the trailer {} lower"
    change = Change(words, 3 * _short(line.head_room_m, low, stop), ("tips up", "else", "load down"))
    yield Reading("head room", who, "head room", "m", line.head_room_m, low, stop, False, line.name, change)
    stop = rope_stop_m(limits, parts)
    low = max(stop, limits.rope_left_caution_m)
    change = Change("{} more rope is needed, or fewer parts of line", _short(line.rope_left_m, low, stop))
    yield Reading("rope left", who, "rope left", "m", line.rope_left_m, low, stop, False, line.name, change)
    words = "take {} off this line, or reeve another part of line"
    change = Change(words, _excess(line.load_N, line.stall_used, STALL_CAUTION, 1.0))
    yield Reading(
        "stall", who, "winch pull used", "share", line.stall_used, STALL_CAUTION, 1.0, True, line.name, change
    )


def _short(value_m: float, caution_m: float, stop_m: float) -> tuple[Amount]:
    """Length that is missing to the limit that was passed."""
    return (Amount(passed(value_m, caution_m, stop_m, rising=False) - value_m, "m"),)


def _excess(load_N: float, used: float, caution: float, stop: float) -> tuple[Amount]:
    """Load beyond the limit that was passed, where half of the load uses half as much."""
    mark = passed(used, caution, stop, rising=True)
    return (Amount(load_N * (1.0 - mark / used) if used > 0.0 else 0.0, "N"),)


def _travel(side: Side, station: Station, stand: UnitStand, end: TravelEnd) -> Reading:
    """A function against a travel end, and where the tips or the unit would have to be instead."""
    code = "boom length" if end.what.startswith("boom") else end.what.split()[0]
    stop = end.end + (ROUNDING if end.rising else -ROUNDING)
    is_good = end.needed < stop if end.rising else end.needed >= stop
    change = None if is_good else _travel_change(side, station, stand, end)
    kind: Kind = "m" if code == "boom length" else "rad"
    about = end.what if end.past else "upper end" if end.rising else "lower end"
    who = side.who
    return Reading(code, who, f"{code} needed", kind, end.needed, stop, stop, end.rising, about, change)


def _travel_change(side: Side, station: Station, stand: UnitStand, end: TravelEnd) -> Change:
    """Words of `WAYS` with their amounts; others where one of the ways leads nowhere."""
    tip, words = tip_m(side.unit, stand.pose), WAYS[end.what]  # of the boom before it gives way
    rise = tip[2] - side.unit.boom.foot_pin_height_m
    level, more_m = abs(stand.pose.length_m * cos(stand.pose.elevation_rad)), GIVES_MORE * stand.lean_m
    if end.what == "slew":
        along = side.unit.facing * (tip[0] - side.unit.slew_axis_x_m)
        if end.end > 0.0 if end.rising else end.end < 0.0:
            return Change(words, (Amount(abs(tip[1]) / tan(abs(end.end)) - along + more_m, "m"),), MOVES[end.what])
        return Change(OTHER_SIDE)
    if end.what.startswith("elevation"):
        height = Amount(abs(rise - level * tan(end.end)) + more_m, "m")
        amounts = (Amount(rise / tan(end.end) - level + more_m, "m"), height) if end.rising else (height,)
        return Change(words, amounts, MOVES[end.what])
    more = Amount(end.needed - end.end + more_m, "m")
    if end.rising and level >= end.end:
        return Change(NEARER, (more,), ("nearer",))
    height = Amount(abs(rise - sqrt(max(0.0, end.end**2 - level**2))) + more_m, "m")
    return Change(words, (more, height) if end.rising else (height,), MOVES[end.what])


def _capacity(side: Side, stand: UnitStand, limits: Limits) -> Iterator[Reading]:
    who, used, load_N = side.who, stand.capacity.used, stand.pull.load_N
    rated, tipping = stand.capacity.rated_N, stand.capacity.by_tipping_N
    by = "rating table" if rated is not None and rated <= tipping else "share of tipping load"
    words = "take {} off this line, or shorten its reach"
    change = Change(words, _excess(load_N, used, limits.capacity_caution, limits.capacity_stop))
    if rated == 0.0:
        change = Change("the rating table has nothing here: shorten the reach, or give the table of this unit")
    yield Reading(
        "capacity", who, "capacity used", "share", used, limits.capacity_caution, limits.capacity_stop, True, by, change
    )
    if side.unit.rating is not None:
        mark = side.unit.rating.tandem_share
        change = Change(words, _excess(load_N, used, mark, inf))
        what = "mark for a lift by two units"
        yield Reading("two-unit mark", who, "capacity used", "share", used, mark, inf, True, what, change)


def _floats(side: Side, stand: UnitStand, limits: Limits) -> Iterator[Reading]:
    """A plan with a light float has nothing left for sway, so light is a stop here; tipping is a float at nothing."""
    who, floats = side.who, stand.floats
    stop = limits.light_float_share
    value = -1.0 if floats.tips else floats.lightest_share
    what = "the unit tips" if floats.tips else f"{FLOAT_WORDS[floats.lightest]} float"
    change = Change("shorten the reach here, take weight off this line, or stand the floats farther out")
    caution = limits.float_caution_factor * stop
    name = "lightest float, of resting"
    yield Reading("lightest float", who, name, "share", value, caution, stop, False, what, change)
    used = floats.bearing_used
    mark = passed(used, GROUND_CAUTION, GROUND_STOP, rising=True)
    pad = Amount(sqrt(floats.heaviest_N / (mark * side.bearing_Pa)), "m")
    change = Change("pads of at least {} square, or mats that spread as much", (pad,))
    what = f"{FLOAT_WORDS[floats.heaviest]} float"
    yield Reading("bearing", who, "ground bearing used", "share", used, GROUND_CAUTION, GROUND_STOP, True, what, change)


def _off_plumb(who: str, stand: UnitStand, limits: Limits, wind_mps: float) -> Reading:
    """Square to the boom; in the boom's plane the load stands at another load radius, and capacity counts that."""
    angle = stand.side_pull_rad
    stop = plumb_stop_rad(limits)
    caution = limits.off_plumb_caution_rad * stop / limits.off_plumb_stop_rad
    mark = passed(angle, caution, stop, rising=True)
    lower = wind_mps * sqrt(tan(mark) / tan(angle)) if 0.0 < angle < pi / 2.0 else 0.0
    change, name = Change("wait for a mean wind below {}", (Amount(lower, "m/s", is_least=False),)), "off plumb by wind"
    if wind_mps <= 0.0:  # of two lines that bear unlike, the heavier one leans the sum of their pulls
        change, name = Change("pick so that both lines of the unit bear alike"), "off plumb"
    return Reading("off plumb", who, name, "rad", angle, caution, stop, True, change=change)
