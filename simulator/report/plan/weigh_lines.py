"""A weighing and its re-check as lines of text and as plain values."""

from __future__ import annotations

from math import degrees
from typing import Any

from simulator.events import Fields
from simulator.mechanics.weighing import Bounds, Weighed
from simulator.mechanics.weighing_doubts import Doubt
from simulator.mechanics.weighing_lift import heavy_end, nose_most_m, papers_of
from simulator.plan.recheck import Rechecked, with_found
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_json import VERDICTS, finding_json
from simulator.report.plan.setup_lines import DECIDES, VERDICT_WORDS, headline, missing_words, sentence, told
from simulator.scenario.description import Description
from simulator.telling.happened import AMOUNT_OF, Amount, named
from simulator.words import filled, say


def doubt_words(kind: str, fields: Fields, amount: Amount) -> str:
    """A contradiction as a sentence.

    Args:
        kind: which, such as `slack`.
        fields: lines by name, and amounts in SI with their unit at the end of the name.
        amount: writes amounts.
    """
    texts, amounts = {}, {}
    for key, value in fields.items():
        name, _, ending = key.rpartition("_")
        if ending in AMOUNT_OF:
            amounts[name] = float(value), AMOUNT_OF[ending]
        else:
            texts[key] = named("line", value)
    return filled(f"weigh.{kind.replace(' ', '_')}", texts, amounts, amount)


def do_words(do: str, move_m: float, amount: Amount) -> str:
    """What is to be done; `move_m` is how far picks move toward the tail end."""
    texts = {"end": "tail" if move_m > 0.0 else "nose"} if move_m else {}
    amounts = {"move": (abs(move_m), "m")} if move_m else {}
    return filled(f"weigh.{do.replace(' ', '_')}", texts, amounts, amount)


MOST_PAST = 6
"""Findings of the worst case that are told."""


def weigh_lines(description: Description, found: Rechecked, amounts: Amounts) -> list[str]:
    """The whole answer: what was found against the papers, the rest of the path, what is to be done."""
    cases = found.cases
    lines = [amounts.told(description.title), *weighed_lines(description, found.weighed, amounts)]
    lines += [say("weigh.doubt", doubt=doubt_sentence(one, amounts)) for one in found.doubts]
    lines += ["", verdict_line(found), say("weigh.path", held=cases.held, drawn=cases.drawn)]
    lines += [
        f"  {say('weigh.past', code=code, count=count, drawn=cases.drawn)}" for code, count in cases.refused.items()
    ]
    lines.append(say("weigh.governs", finding=sentence(found.governs, amounts)))
    lines += [f"  STOP: {told(one, amounts)}" for one in found.check.findings if one.level == "stop"]
    lines += [f"  {missing_words(one)}" for one in found.missing]
    if cases.worst is not None and not found.check.refused_for:
        weight_N, cg_m = cases.worst
        along = f"{amounts.length(cg_m[0]):+.2f} {amounts.length_unit}"
        lines.append(say("weigh.worst", weight=amounts.text(weight_N, "N"), along=along))
        worst = worst_check(description, found)
        lines += [f"  STOP: {told(one, amounts)}" for one in worst.findings if one.level == "stop"][:MOST_PAST]
    return [*lines, say("weigh.to_do", words=do_sentence(found.do, found.move_m, amounts)), DECIDES]


def do_sentence(do: str, move_m: float, amounts: Amounts) -> str:
    """What is to be done."""
    return do_words(do, move_m, amounts.text)  # type: ignore[arg-type]


def short_lines(description: Description, found: Rechecked, amounts: Amounts) -> tuple[tuple[str, str], ...]:
    """Level and sentence of what speaks for what is to be done, the worst first, for a card."""
    cases, check = found.cases, found.check
    path = say("weigh.path", held=cases.held, drawn=cases.drawn)
    if cases.worst is not None and not check.refused_for:
        check = worst_check(description, found)
    rows = [("stop", told(one, amounts)) for one in check.findings if one.level == "stop"]
    rows += [("caution", say("weigh.doubt", doubt=doubt_sentence(one, amounts))) for one in found.doubts]
    rows += [("caution", missing_words(one)) for one in found.missing]
    rows.append(("good" if cases.held == cases.drawn else "stop", path[:1].upper() + path[1:]))
    governs = say("weigh.governs", finding=sentence(found.governs, amounts))
    rows.append(("note", governs[:1].upper() + governs[1:]))
    weighed = weighed_lines(description, found.weighed, amounts)
    return (*rows, *(("note", line[:1].upper() + line[1:]) for line in weighed[:3]))


def worst_check(description: Description, found: Rechecked) -> SetupCheck:
    """The worst case of the spread judged in full, to say where it is past a limit."""
    assert found.cases.worst is not None
    return check_setup(with_found(description, *found.cases.worst), stated=False, begun=True)


def verdict_line(found: Rechecked) -> str:
    """The headline of a check; a limit that only some cases pass is passed."""
    if found.verdict == "limit passed" and not found.check.refused_for:
        return "A STATED LIMIT IS PASSED in part of the spread"
    if found.verdict == "not judged" and not found.check.not_judged:
        return "NOT JUDGED: readings in doubt" if found.doubts else VERDICT_WORDS["not judged"]
    return headline(found.check)


def doubt_sentence(one: Doubt, amounts: Amounts) -> str:
    """Which reading contradicts which."""
    return doubt_words(one.kind, one.fields, amounts.text)  # type: ignore[arg-type]


def weighed_lines(description: Description, found: Weighed, amounts: Amounts) -> list[str]:
    """Weight, heavy end and the three of the center of gravity, each with its spread, against the papers."""
    paper_N, nose_m = papers_of(description).weight_N, nose_most_m(description)
    along, across, up = found.cg_m
    off = f"{round(100.0 * (found.weight_N / paper_N - 1.0)):+d} %"
    spreads = [amounts.text(one, "m") for one in found.spread_m]
    lines = [
        say("weigh.weight", weight=amounts.text(found.weight_N, "N"), spread=amounts.text(found.weight_spread_N, "N"),
            paper=amounts.text(paper_N, "N"), off=off),
        say(f"weigh.heavy_{heavy_end(description, found)}"),
        say("weigh.along", along=amounts.text(along - nose_m, "m"), spread=spreads[0], paper=amounts.text(-nose_m, "m"),
            moved=amounts.text(abs(along), "m"), end="tail" if along > 0.0 else "nose"),
        say("weigh.across", across=amounts.text(abs(across), "m"), spread=spreads[1],
            side=say("weigh.sides_road" if across > 0.0 else "weigh.sides_ravine")),
    ]  # fmt: skip
    if found.tells_height:
        height = f"{amounts.length(up):+.2f} {amounts.length_unit}"
        return [*lines, say("weigh.height_told", up=height, spread=spreads[2])]
    lines.append(say("weigh.height_not", spread=spreads[2]))
    if found.one_more is not None:
        pitch = f"{degrees(found.one_more.pitch_rad):+.1f} {say('measure.degree')}"
        lines.append(say("weigh.one_more", pitch=pitch, spread=amounts.text(found.one_more.height_spread_m, "m")))
    return lines


def bounds_lines(description: Description, found: Bounds, amounts: Amounts) -> list[str]:
    """What can be said while part of the load lies on the bed."""
    low, high = (f"{amounts.length(at):+.2f} {amounts.length_unit}" for at in (found.from_m, found.to_m))
    paper = amounts.text(papers_of(description).weight_N, "N")
    return [
        say("weigh.on_bed"),
        say("weigh.least", least=amounts.text(found.least_N, "N"), paper=paper),
        say("weigh.between", low=low, high=high),
    ]


def weigh_json(description: Description, found: Rechecked) -> dict[str, Any]:
    """Everything, SI."""
    weighed, cases, metric = found.weighed, found.cases, Amounts()
    names = ("along_m", "across_m", "up_m")
    return {
        "title": description.title,
        "verdict": VERDICTS[found.verdict],
        "do": found.do,
        "move_picks_toward_tail_m": found.move_m,
        "weight_N": weighed.weight_N,
        "weight_spread_N": weighed.weight_spread_N,
        "paper_weight_N": papers_of(description).weight_N,
        "heavy_end": heavy_end(description, weighed),
        "cg_from_papers": dict(zip(names, weighed.cg_m, strict=True)),
        "cg_spread": dict(zip(names, weighed.spread_m, strict=True)),
        "tells_height": weighed.tells_height,
        "one_more": weighed.one_more._asdict() if weighed.one_more else None,
        "doubts": [{"kind": one.kind, **one.fields, "sentence": doubt_sentence(one, metric)} for one in found.doubts],
        "cases": {"drawn": cases.drawn, "held": cases.held, "refused": cases.refused},
        "governs": finding_json(found.governs),
        "refused_for": list(found.check.refused_for),
        "not_judged": [one._asdict() for one in found.missing],
        "findings": [finding_json(one) for one in found.check.findings],
    }
