"""Many rehearsals in words and tables: for the terminal, and for the page."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import isfinite
from pathlib import Path

from simulator.recording.recorded import minutes
from simulator.rehearsal.driven import DrawRow, FirstCause
from simulator.rehearsal.lots import Lots, Range
from simulator.rehearsal.many import recording_of
from simulator.rehearsal.tally import Count, LimitTally, Spread, used_most
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_lines import DECIDES, VERDICT_WORDS
from simulator.report.rehearsal.rehearsed import Rehearsal
from simulator.scenario.measures import METERS_PER_S_PER_MPH
from simulator.telling.happened import named
from simulator.words import phrase, say, thing

WIDTHS = (38, 9, 12, 10, 8, 10, 10, 10, 7)
"""Of the table's columns on the terminal."""


def rehearsal_lines(found: Rehearsal, amounts: Amounts, folder: Path | None = None) -> list[str]:
    """The whole answer; `folder` is where recordings of the worst draws are kept."""
    heads = (*heads_of(), say("rehearsal.draw"))
    rows = [heads, *((*limit_cells(one, amounts), str(one.worst or "")) for one in found.tally.limits)]
    worst = [f"  {file_name(row)}: {draw_words(found, row, amounts)}" for row in found.tally.worst]
    return [
        amounts.told(found.lift.title),
        *headline(found),
        "",
        *counts(found, amounts),
        "",
        *("".join(_cells(row)).rstrip() for row in rows),
        say("rehearsal.one_in_20_is"),
        "",
        *([worst_head(folder), *worst, ""] if worst else []),
        *assumed(found, amounts),
        say("rehearsal.interval"),
        DECIDES,
    ]


def _cells(row: tuple[str, ...]) -> Iterator[str]:
    """The first to the left, all others to the right."""
    for place, (cell, width) in enumerate(zip(row, WIDTHS, strict=True)):
        yield f"{cell:<{width}}" if place == 0 else f"{cell:>{width}}"


def headline(found: Rehearsal) -> list[str]:
    """The verdict, and what the check says of the lift as described."""
    kept = found.tally.kept
    lines = []
    if not found.finished:
        lines.append(say("rehearsal.unfinished", of=len(found.rows), asked=found.asked))
    if kept.draws < kept.of:
        lines.append(say("rehearsal.passed", bad=kept.of - kept.draws, of=kept.of))
    elif found.finished:
        lines.append(say("rehearsal.none_passed", of=kept.of))
    verdict = VERDICT_WORDS[found.set_up.verdict].replace(", by the assumptions below", "")
    return [*lines, say("rehearsal.check", verdict=verdict), *found.set_up.missing]


def counts(found: Rehearsal, amounts: Amounts) -> Iterator[str]:
    """In how many draws what; how times and points spread."""
    one = found.tally
    yield f"{say('rehearsal.kept')}: {count_words(one.kept)}"
    yield f"{say('rehearsal.good')}: {count_words(one.good)}"
    yield say("rehearsal.ended", ends=", ".join(f"{phrase(how)} {draws}" for how, draws in one.ended.items()))
    for (what, names), draws in one.incidents.items():
        texts = {name: thing(named(name, value)) for name, value in names}
        yield say("rehearsal.incident", count=draws, what=say(f"rehearsal.{what}", **texts))
    for rule, draws in one.failed_by.items():
        yield say("rehearsal.failed", count=draws, rule=rule)
    for cause, draws in one.causes.items():
        yield say("rehearsal.cause", count=draws, cause=cause_words(cause))
    if one.good.draws:
        yield _spread_words("rehearsal.times", one.time_s, minutes)
    if isfinite(one.points.median):
        yield _spread_words("rehearsal.points", one.points, "{:.0f}".format)
    elif found.lift.drill is None:
        yield say("rehearsal.no_drill")


def _spread_words(key: str, values: Spread, written: Callable[[float], str]) -> str:
    return say(key, **{name: written(value) for name, value in values._asdict().items()})


def cause_words(one: FirstCause) -> str:
    """A kind of cause, and whose it is."""
    return say("rehearsal.cause_by", cause=phrase(one.kind), unit=one.by) if one.by else phrase(one.kind)


def count_words(one: Count) -> str:
    """So many of so many, with the interval."""
    low, high = one.interval
    return say("rehearsal.share", count=one.draws, of=one.of, low=f"{100.0 * low:.1f}", high=f"{100.0 * high:.1f}")


def heads_of() -> tuple[str, ...]:
    """Of `limit_cells`."""
    names = ("limit", "at", "kept_head", "of_all", "governs", "median", "one_in_20", "worst")
    return tuple(say(f"rehearsal.{name}") for name in names)


def limit_cells(one: LimitTally, amounts: Amounts) -> tuple[str, ...]:
    """One limit in a row: its name and value, draws that kept it, those it governed, median, one in twenty, worst."""
    at, kind = one.limit.at, one.limit.at.kind
    low, high = one.kept.interval
    bad = (one.values.p95, one.values.most) if at.rising else (one.values.p5, one.values.least)
    return (
        limit_name(one),
        amounts.text(at.stop, kind),
        f"{one.kept.draws}/{one.kept.of}",
        f"{100.0 * low:.0f}-{100.0 * high:.0f} %" if one.kept.of else "",
        str(one.governed or ""),
        *(amounts.text(value, kind) if isfinite(value) else "" for value in (one.values.median, *bad)),
    )


def limit_name(one: LimitTally) -> str:
    """Whose it is and what."""
    return f"{thing(one.limit.at.who)}: {phrase(one.limit.at.name)}"


def draw_words(found: Rehearsal, row: DrawRow, amounts: Amounts) -> str:
    """One draw in a sentence: what was drawn, how it ended, what governed."""
    draw = row.draw
    points = say("rehearsal.with_points", points=f"{row.points:.0f}") if isfinite(row.points) else ""
    return say(
        "rehearsal.of_draw",
        weight=f"{draw.weight:.3f}",
        cg=_signed(draw.cg_m, amounts),
        across=_signed(draw.cg_across_m, amounts),
        wind=_wind(draw.wind_mps, amounts),
        ways=", ".join(f"{unit.name} {way}" for unit, way in zip(found.lift.units, draw.ways, strict=True)),
        ended=phrase(row.ended),
        time=minutes(row.time_s),
        points=points,
        used=say("rehearsal.begins_not", why=row.why) if row.why else used_words(found, row),
    )


def used_words(found: Rehearsal, row: DrawRow) -> str:
    """What governed a draw, and how much of it was used."""
    limits = {one.limit.key: one for one in found.tally.limits}
    key, used = used_most([one.limit for one in found.tally.limits], row)
    if not key:
        return say("rehearsal.nothing_used")
    share = say("rehearsal.share_used", percent=f"{100.0 * used:.0f}") if isfinite(used) else say("rehearsal.all_used")
    return say("rehearsal.used_of", share=share, limit=limit_name(limits[key]))


def worst_head(folder: Path | None) -> str:
    """What the list of the worst is called, and where their recordings are."""
    return f"{say('rehearsal.worst_draws')}:" if folder is None else say("rehearsal.worst_kept", folder=folder)


def file_name(row: DrawRow) -> str:
    """A draw by the name that its recording has."""
    return recording_of(Path(), row.number).stem


def _wind(value_mps: float, amounts: Amounts) -> str:
    """Slow or not, as winds are told."""
    if amounts.system == "us":
        return f"{value_mps / METERS_PER_S_PER_MPH:.0f} {say('measure.mile_per_h')}"
    return f"{value_mps:.1f} {say('measure.meter_per_s')}"


def _percent(value: float, _: Amounts) -> str:
    return f"{100.0 * value:.0f} {say('measure.percent')}"


def _signed(value_m: float, amounts: Amounts) -> str:
    return f"{amounts.length(value_m):+.2f} {amounts.length_unit}"


def assumed(found: Rehearsal, amounts: Amounts) -> Iterator[str]:
    """What it rests on."""
    lots = found.lots
    hands = (
        say("rehearsal.assumed_hand", unit=unit.name, ways=", ".join(ways))
        for unit, ways in zip(found.lift.units, lots.ways, strict=True)
    )
    said = [
        say("rehearsal.assumed_lots", drawn=", ".join(_drawn(lots, amounts)), seed=lots.seed),
        say("rehearsal.assumed_hands", hands="; ".join(hands)),
        say("rehearsal.assumed_rest"),
        say("rehearsal.assumed_samples"),
        *(say("rehearsal.assumed_check", what=what) for what in found.set_up.assumptions),
    ]
    return (say("rehearsal.assumed", what=what) for what in said)


def _drawn(lots: Lots, amounts: Amounts) -> list[str]:
    """Each range that was drawn from."""
    rows: tuple[tuple[str, Range | None, Callable[[float, Amounts], str]], ...] = (
        ("weight", lots.weight, _percent),
        ("cg", lots.cg_m, _signed),
        ("across", lots.cg_across_m, _signed),
        ("wind", lots.wind_mps, _wind),
    )
    found = [
        say(f"rehearsal.assumed_{name}", low=written(ends[0], amounts), high=written(ends[1], amounts))
        for name, ends, written in rows
        if ends is not None
    ]
    return found or [say("rehearsal.assumed_nothing")]
