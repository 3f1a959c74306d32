"""Rules of the rig: how many units and lines, what they are called, which pick each line goes to, how units stand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from simulator.scenario.breach import Breach, Breaches
from simulator.scenario.faults import listed, shown
from simulator.scenario.rig import LONGEST_NAME, MOST_UNITS, PAIR, TAKEN_NAMES, is_unit_name
from simulator.scenario.standing import tailboard_reach_m
from simulator.scenario.trailer import Pick, PickCandidate
from simulator.scenario.unit import Line, Unit

UNIT_NAME = (
    f"up to {LONGEST_NAME} small letters, digits and single underscores, such as rescue_1, and none of "
    f"{listed(TAKEN_NAMES, last='and')}: readings and columns are named after it"
)
TAIL_TO_TAIL = "the nose unit toward the tail, the tail unit back"

SLING_LENGTH = 'sling_length beside it, pick to hook, such as sling_length = "16 ft"'
BRIDLE = '"bridle_across": a drop on either side of the load'


def units(given: tuple[Unit, ...]) -> Breaches:
    """One, or two by the names of the pair, tail to tail with a gap between the tailboards."""
    if len(given) > MOST_UNITS:
        yield Breach(("units",), f"{len(given)} units", f"one or {MOST_UNITS}")
        return
    for number, unit in enumerate(given, 1):
        if not is_unit_name(unit.name):
            yield Breach((f"units {number}.name",), shown(unit.name), UNIT_NAME)
            return
    for name, count in Counter(unit.name for unit in given).items():
        if count > 1:
            yield Breach(("units",), f"{count} units named {shown(name)}", "a name of its own for each unit")
            return
    if len(given) == MOST_UNITS:
        yield from _pair(given)


def _pair(given: tuple[Unit, ...]) -> Breaches:
    names = tuple(unit.name for unit in given)
    if names != PAIR:
        yield Breach(("units",), f"units named {listed(map(shown, names), last='and')}", "nose and tail, in this order")
        return
    first, second = given[0], given[-1]
    if first.tailboard_toward == second.tailboard_toward:
        keys = ("units 2.tailboard_toward", "units 1.tailboard_toward")
        yield Breach(keys, f"both look toward the {first.tailboard_toward}", TAIL_TO_TAIL)
    elif first.facing < 0.0:
        keys = ("units 1.tailboard_toward", "units 2.tailboard_toward")
        yield Breach(keys, "they stand cab to cab", TAIL_TO_TAIL)
    elif (least := second.slew_axis_x_m + tailboard_reach_m(first) - tailboard_reach_m(second)) >= second.slew_axis_x_m:
        keys = ("units 2.slew_axis_x", "units 1.slew_axis_x")
        yield Breach(keys, f"{second.slew_axis_x_m:g} m", f"more than {least:g} m: the tailboards overlap")


def picks(given: tuple[Pick, ...], all_units: tuple[Unit, ...]) -> Breaches:
    """Names tell picks apart, each line's pick is there, each pick is taken, and by one line unless both say so."""
    names = [pick.name for pick in given]
    for name, count in Counter(names).items():
        if count > 1:
            yield Breach(("trailer.picks",), f"{count} picks named {shown(name)}", "a name of its own for each pick")
    takers: dict[str, list[tuple[str, bool]]] = {}
    for place, line in _lines(all_units):
        if line.pick not in names:
            yield Breach(
                (f"{place}.pick",),
                shown(line.pick),
                listed(map(shown, dict.fromkeys(names))) or "a pick in [[trailer.picks]]",
            )
        takers.setdefault(line.pick, []).append((place, line.shares_pick))
    for number, name in enumerate(names, 1):
        taking = takers.get(name, [])
        if not taking:
            yield Breach(
                (f"trailer.picks {number}.name",), f"{shown(name)}, which no line goes to", "a pick that a line goes to"
            )
        elif len(taking) > 1 and not all(shares for _, shares in taking):
            keys = (f"{taking[-1][0]}.pick",)
            yield Breach(
                keys, f"{shown(name)}, where another line goes too", "a pick of its own, or shares_pick = true on both"
            )


def _lines(all_units: tuple[Unit, ...]) -> Iterator[tuple[str, Line]]:
    for number, unit in enumerate(all_units, 1):
        for place, line in enumerate(unit.lines, 1):
            yield f"units {number}.lines {place}", line


def extra_levers(unit: Unit) -> Breaches:
    """A lever that moves two lines at once needs two, and each is named once."""
    if unit.levers and len(unit.lines) < 2:
        yield Breach(
            ("{unit}.levers",), listed(map(shown, unit.levers)), "none: they move two lines, and this unit has one"
        )
    elif len(set(unit.levers)) < len(unit.levers):
        yield Breach(("{unit}.levers",), listed(map(shown, unit.levers)), "each once")


def leader(name: str, all_units: tuple[Unit, ...]) -> Breaches:
    """A pair is led by one of its units."""
    names = [unit.name for unit in all_units]
    if len(names) > 1 and name not in names:
        yield Breach(("path.leader",), shown(name), listed(map(shown, names)))


def candidates(given: tuple[PickCandidate, ...], all_picks: tuple[Pick, ...]) -> Breaches:
    """What might be picked instead says instead of which pick."""
    names = [pick.name for pick in all_picks]
    for number, one in enumerate(given, 1):
        if one.pick not in names:
            yield Breach((f"trailer.pick_candidates {number}.pick",), shown(one.pick), listed(map(shown, names)))


def slings(given: tuple[Pick, ...]) -> Breaches:
    """A sling that lies on the load has a length, and pivots at its pick; so does every line that may come to bear."""
    for number, pick in enumerate(given, 1):
        place = f"trailer.picks {number}"
        if pick.lies_on is not None and pick.sling_length_m is None:
            yield Breach((f"{place}.lies_on",), f"{shown(pick.lies_on)} without sling_length", SLING_LENGTH)
        if pick.sling_length_m is not None and pick.pivot != "single_point":
            given_pivot = f"{shown(pick.pivot)} with a sling that runs round the load"
            yield Breach((f"{place}.pivot", f"{place}.sling_length"), given_pivot, '"single_point"')


def spreaders(given: tuple[Pick, ...]) -> Breaches:
    """A spreader hangs under a hook, above its pick line, and its drops hold the load from both sides."""
    for number, pick in enumerate(given, 1):
        bar, place = pick.spreader, f"trailer.picks {number}"
        if bar is None:
            continue
        if pick.pivot != "bridle_across":
            yield Breach((f"{place}.pivot", f"{place}.spreader"), f"{shown(pick.pivot)} under a spreader", BRIDLE)
        if bar.drop_m >= pick.height_m:
            allowed = f"less than height, {pick.height_m:g} m: its top legs go on from the bar to the hook"
            yield Breach((f"{place}.spreader.drop", f"{place}.height"), f"{bar.drop_m:g} m", allowed)
        if 0.0 < pick.width_m != bar.length_m:
            allowed = f"spreader.length, {bar.length_m:g} m, or left out: its drops hang plumb"
            yield Breach((f"{place}.width", f"{place}.spreader.length"), f"{pick.width_m:g} m", allowed)
