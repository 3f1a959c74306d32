"""A set-up check for the terminal: verdict, stations, what governs, what to change. Every color has its word."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, inf, isfinite, radians

from simulator.plan.advice import Tried
from simulator.plan.findings import ORDER, Finding, Level, NotJudged, Reading, Verdict
from simulator.plan.judged_station import StationCheck
from simulator.plan.setup_check import SetupCheck
from simulator.report.amounts import Amounts
from simulator.report.plan.exit_lines import exit_lines
from simulator.report.plan.turn_lines import turn_lines
from simulator.words import phrase, say, thing

LEVEL_WORDS: dict[Level, str] = {"good": "within", "caution": "CAUTION", "stop": "STOP"}
COLORS: dict[Level, str] = {"good": "32", "caution": "33", "stop": "31;1"}
PAST: tuple[Level, ...] = ("stop", "caution")
VERDICT_WORDS: dict[Verdict, str] = {
    "limit passed": "A STATED LIMIT IS PASSED",
    "not judged": "NOT JUDGED: something that is needed is missing",
    "no limit passed": "NO STATED LIMIT IS PASSED, by the assumptions below",
}
"""None of them says that anybody may lift."""
SHOWN_EVERY_M, TURN_SHOWN_RAD = 2.0, radians(15.0)
CROSSING, TURNED = "crossing", "turned "
DECIDES = (
    "Decides nothing by itself: qualified people decide, from the makers' charts, local codes and the ground there."
)


def setup_lines(check: SetupCheck, amounts: Amounts, *, every_station: bool = False, color: bool = False) -> list[str]:
    """The whole answer.

    Args:
        check: the set-up, judged.
        amounts: how numbers are written.
        every_station: also those between the ones worth showing.
        color: put colors round the words of levels.
    """
    return [
        amounts.told(check.description.title),
        headline(check, color=color),
        "",
        *_stations(check, amounts, every_station=every_station, color=color),
        "",
        *_boom_choice(check),
        "",
        *turn_lines(check, amounts),
        *([""] if check.turn else []),
        *exit_lines(check, amounts),
        *([""] if check.exit_plan else []),
        *_findings(check, amounts, color=color),
        "",
        *verdict_lines(check, amounts, color=color),
        DECIDES,
    ]


def unit_names(check: SetupCheck) -> tuple[str, ...]:
    """What its units are called."""
    return tuple(unit.name for unit in check.description.units)


def worth_showing(check: SetupCheck) -> Iterator[StationCheck]:
    """Named stations, the crossing every two meters, a turn every 15 degrees, and what governs past its caution."""
    told = {one.where for one in check.findings if one.level != "good"}
    for one in check.stations:
        if one.station.phase == "turning" and one.station.name not in told:
            steps = one.station.turned_rad / TURN_SHOWN_RAD
            if abs(steps - round(steps)) > 0.05:
                continue
        y = one.station.y_m / SHOWN_EVERY_M
        if one.station.phase != "crossing" or abs(y - round(y)) < 0.01 or one.station.name in told:
            yield one


def _stations(check: SetupCheck, amounts: Amounts, *, every_station: bool, color: bool) -> list[str]:
    u, w = amounts.length_unit, amounts.load_unit
    names = ("boom", "elev", "slew", "reach", "load", "cap.", "floats TR/TV/CR/CV", "least", "grnd", "head", "rope")
    units = (u, "deg", "deg", u, w, "%", w, "%", "%", u, f"left {u}")
    gap = f"least gap {u}"
    head = f"{'station':<20}{'unit':<5}" + _row(names) + f"{'stall':>6}  {gap:<30}"
    below = f"{'':<25}" + _row(units) + f"{'%':>6}"
    shown = check.stations if every_station else tuple(worth_showing(check))
    lines = [head.rstrip(), below]
    for one in shown:
        lines += _station_rows(one, unit_names(check), amounts, color=color)
    floats = (
        "T tailboard end, C cab end; R road side, V ravine side; least: lightest float's share of its resting load."
    )
    return [*lines, floats]


def _row(cells: tuple[str, ...]) -> str:
    widths = (6, 6, 7, 6, 6, 5, 25, 6, 5, 6, 8)
    return "".join(f"{cell:>{width}}" for cell, width in zip(cells, widths, strict=True))


def _station_rows(one: StationCheck, names: tuple[str, ...], amounts: Amounts, *, color: bool) -> Iterator[str]:
    for end, (unit, stand) in enumerate(zip(names, one.units, strict=True)):
        length, elevation, slew = stand.pose
        floats = "/".join(f"{amounts.load(reaction):.1f}" for reaction in stand.floats.reactions_N)
        cells = (
            f"{amounts.length(length):.1f}",
            f"{degrees(elevation):.1f}",
            f"{degrees(slew):.1f}",
            f"{amounts.length(stand.reach_m):.2f}",
            f"{amounts.load(stand.pull.load_N):.1f}",
            _percent(stand.capacity.used),
            floats,
            _percent(stand.floats.lightest_share),
            _percent(stand.floats.bearing_used),
            f"{amounts.length(min(line.head_room_m for line in stand.lines)):.2f}",
            f"{amounts.length(min(line.rope_left_m for line in stand.lines)):.1f}",
        )
        name = station_name(one.station.name, amounts) if end == 0 else ""
        level = _worst(reading for reading in one.readings if reading.who == f"{unit} unit")
        mark = "" if level == "good" else _colored(level, color=color)
        gap = _gap(one, amounts) if end == 0 else _boom_gap(one, amounts)
        stall = _percent(max(line.stall_used for line in stand.lines))
        row = f"{name:<20}{unit:<5}{_row(cells)}{stall:>6}  {gap:<58} {mark}"
        yield row.rstrip()


def _percent(share: float) -> str:
    return f"{100.0 * share:.0f}" if isfinite(share) else "none"


def _worst(readings: Iterator[Reading]) -> Level:
    return max((reading.level for reading in readings), key=ORDER.__getitem__, default="good")


def _gap(one: StationCheck, amounts: Amounts) -> str:
    """The governing part over what it is or will be over."""
    if one.room is None or not isfinite(one.room.governing.gap_m):
        return ""
    part = one.room.governing
    return f"{amounts.length(part.gap_m):+.2f} {part.part} over {part.meets}"


def _boom_gap(one: StationCheck, amounts: Amounts) -> str:
    """The nearer boom over the trailer."""
    if one.room is None:
        return ""
    boom = min(one.room.booms, key=lambda each: each.distance_m)
    room = at_least(f"{amounts.length(boom.distance_m):+.2f}", is_least=boom.at_least)
    return f"{room} {boom.part} to {boom.meets}"


def at_least(text: str, *, is_least: bool) -> str:
    """A value, and whether it is a lower bound: what was too far to be measured."""
    return f"{say('check_told.at_least')} {text}" if is_least else text


def _boom_choice(check: SetupCheck) -> list[str]:
    """Which boom positions reach the tips, which is kept, and why."""
    lines = []
    for end, word in enumerate(unit_names(check)):
        choices = [one.units[end].choice for one in check.stations]
        kept = "pointing at it" if not any(choice.kept for choice in choices) else "slewed half round at some stations"
        other = [degrees(choice.solutions[1 - choice.kept].pose.elevation_rad) for choice in choices]
        span = f"{min(other):.0f} to {max(other):.0f} deg of elevation"
        reasons = " and ".join(sorted({choice.why for choice in choices}))
        lines.append(
            f"{word} boom: two ways reach each tip; kept: {kept}. {reasons[:1].upper()}{reasons[1:]} ({span})."
        )
    return lines


def _findings(check: SetupCheck, amounts: Amounts, *, color: bool) -> list[str]:
    head = f"{'what governs':<30}{'who':<13}{'worst':>11}{'stop at':>11}{'room left':>11}  {'where':<22}{'':<9}about"
    lines = [head.rstrip()]
    for one in check.findings:
        reading = one.reading
        if reading.code == "two-unit mark" and one.level == "good":
            continue
        limit = "" if abs(reading.stop) == inf else amounts.text(reading.stop, reading.kind)
        room = "" if abs(reading.stop) == inf else amounts.text(reading.margin, reading.kind)
        level = _colored(one.level, color=color, width=9)
        worst = amounts.text(reading.value, reading.kind)
        row = f"{reading.name:<30}{reading.who:<13}{worst:>11}{limit:>11}{room:>11}"
        far = " (at least: farther than is measured)" if reading.is_at_least else ""
        lines.append(f"{row}  {station_name(one.where, amounts):<22}{level}{reading.what}{far}".rstrip())
    return lines


def headline(check: SetupCheck, *, color: bool = False) -> str:
    """Which of the three answers it is, and how much is past which limit; no color of its own means go."""
    levels = [one.level for one in check.findings]
    counted = [f"{levels.count(level)} {LEVEL_WORDS[level]}" for level in PAST if level in levels]
    counted += [f"{len(check.not_judged)} not judged"] if check.not_judged else []
    words = "; ".join([VERDICT_WORDS[check.verdict], *([", ".join(counted)] if counted else [])])
    return words if check.verdict == "no limit passed" else _paint(words, "stop", color=color)


def verdict_lines(check: SetupCheck, amounts: Amounts, *, color: bool = False) -> list[str]:
    """The headline, then each failing line with what to change, the cautions, what is missing, what is assumed."""
    lines = [headline(check, color=color)]
    for one in check.findings:
        if one.level != "good":
            lines.append(f"  {_colored(one.level, color=color, width=8)}{told(one, amounts)}")
    lines += [f"  {'missing':<8}{missing_words(one)}" for one in check.not_judged]
    return [*lines, *(f"  {'assumed':<8}{amounts.told(one)}" for one in check.assumptions)]


def tried_lines(found: tuple[Tried, ...], amounts: Amounts) -> list[str]:
    """What was tried: what it cures, what it leaves."""
    lines = []
    for one in found:
        left = f"still past: {', '.join(one.leaves)}" if one.leaves else "then no stated limit is passed"
        lines.append(f"  {'tried':<8}{amounts.sentence(one.change)}: cures {', '.join(one.cures)}; {left}")
    return lines


def missing_words(one: NotJudged) -> str:
    """What could not be judged, and what it takes."""
    return say("check_told.missing", who=phrase(one.who), what=one.missing, needs=one.needs)


def told(one: Finding, amounts: Amounts) -> str:
    """One finding as a sentence: what, where, by how much, what to change."""
    return sentence(one, amounts) + change_words(one, amounts)


def sentence(one: Finding, amounts: Amounts) -> str:
    """What, where, by how much."""
    reading = one.reading
    is_nothing = reading.value < 0.0 and reading.kind == "share"
    level, limit = ("stop", reading.stop) if one.level == "stop" else ("caution", reading.caution)
    value = say("check_told.nothing") if is_nothing else amounts.text(reading.value, reading.kind)
    return say(
        "check_told.sentence",
        who=phrase(reading.who),
        what=phrase(reading.name),
        about=say("check_told.about", what=about(reading.what)) if reading.what else "",
        value=at_least(value, is_least=reading.is_at_least),
        beyond=say("check_told.at_most" if reading.rising else "check_told.at_least"),
        limit=amounts.text(limit, reading.kind),
        level=phrase(level),
        where=_range(one, amounts),
    )


def change_words(one: Finding, amounts: Amounts) -> str:
    """What to change, if the finding says."""
    change = one.reading.change
    return say("check_told.change", words=amounts.sentence(change)) if change else ""


def about(what: str) -> str:
    """The float, part or rule; of two parts how one is to the other."""
    for how in ("over", "beside", "under"):
        part, found, other = what.partition(f" {how} ")
        if found:
            return say(f"check_told.{how}", part=part, other=thing(other))
    return phrase(what)


def _range(one: Finding, amounts: Amounts) -> str:
    names = [station_name(name, amounts) for name in one.stops or one.cautions]
    where = station_name(one.where, amounts)
    if len(names) < 2:
        return where
    return say("check_told.where", worst=where, first=names[0], last=names[-1], count=len(names))


def station_name(name: str, amounts: Amounts) -> str:
    """A station of the path; while the trailer crosses it is named by meters from the road's edge."""
    if name.startswith(TURNED):
        return say("check_told.turned", angle=name.split()[1])
    phase, _, y_m = name.rpartition(" ")
    if phase != CROSSING:
        return phrase(name)
    return say("check_told.crossing", y=f"{amounts.length(float(y_m)):+.1f} {amounts.length_unit}")


def _colored(level: Level, *, color: bool, width: int = 0) -> str:
    return _paint(f"{LEVEL_WORDS[level]:<{width}}", level, color=color)


def _paint(text: str, level: Level, *, color: bool) -> str:
    return f"\x1b[{COLORS[level]}m{text}\x1b[0m" if color else text
