"""Advice that agrees with itself: no two findings ask for opposite ways of one thing, and what is proposed is tried."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import NamedTuple

from simulator.plan.findings import OPPOSITE, Amount, Change, Finding, Move
from simulator.scenario.description import Description

OF_ONE_UNIT: tuple[Move, ...] = ("nearer", "farther")
"""Each unit stands by itself; tips and load have one height for all."""
PULL_APART = "another limit asks for the opposite: another boom, other rigging, picks or places to stand"
STEPS_M = (0.25, 0.5, 1.0, 2.0)
"""What is tried of each move; the least that helps most is told."""


def agreeing(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings, with every way taken out of their advice whose opposite another finding asks for."""
    asked = [(one.reading.who, move) for one in findings for move in _moves(one)]
    return tuple(_without_opposed(one, asked) for one in findings)


def _moves(one: Finding) -> tuple[Move, ...]:
    return one.reading.change.moves if one.level != "good" and one.reading.change else ()


def _without_opposed(one: Finding, asked: list[tuple[str, Move]]) -> Finding:
    change, moves = one.reading.change, _moves(one)
    keep = [not _is_opposed(one.reading.who, move, asked) for move in moves]
    if change is None or all(keep):
        return one
    return one._replace(reading=one.reading._replace(change=_only(change, keep)))


def _is_opposed(who: str, move: Move, asked: list[tuple[str, Move]]) -> bool:
    opposite = OPPOSITE.get(move)
    return any(
        way == opposite and (move not in OF_ONE_UNIT or other == who or "trailer" in (other, who))
        for other, way in asked
    )


def _only(change: Change, keep: list[bool]) -> Change:
    """The change with some of its ways, or the word that there is none."""
    head, colon, rest = change.words.rpartition(": ")
    parts = re.split(", or |, ", rest) if len(keep) > 1 else [rest]
    if not any(keep) or len(parts) != len(keep):
        return Change(PULL_APART)
    amounts, texts = list(change.amounts[: head.count("{}")]), []
    at = len(amounts)
    for part, kept in zip(parts, keep, strict=True):
        if kept:
            texts.append(part)
            amounts += change.amounts[at : at + part.count("{}")]
        at += part.count("{}")
    words = ", or ".join([", ".join(texts[:-1]), texts[-1]]) if len(texts) > 1 else texts[0]
    moves = tuple(move for move, kept in zip(change.moves, keep, strict=True) if kept)
    return Change(f"{head}{colon}{words}", tuple(amounts), moves)


class Tried(NamedTuple):
    """A change of the plan, tried by the check itself."""

    change: Change
    cures: tuple[str, ...]
    """What is no longer refused."""
    leaves: tuple[str, ...]
    """What still is."""


Refuses = Callable[[Description], tuple[str, ...]]
"""What a check refuses a lift for."""


def tried(description: Description, before: tuple[str, ...], refuses: Refuses) -> tuple[Tried, ...]:
    """Moves of tips, load and units that cure something and break nothing, those that leave least first.

    Args:
        description: a lift that is refused.
        before: what for.
        refuses: the check.
    """
    found: dict[str, Tried] = {}
    for change, lift in _candidates(description):
        after = refuses(lift)
        if set(after) < set(before):
            cures = tuple(code for code in before if code not in after)
            one, best = Tried(change, cures, after), found.get(change.words)
            if best is None or len(after) < len(best.leaves):
                found[change.words] = one
    return tuple(sorted(found.values(), key=lambda one: len(one.leaves)))


def _candidates(description: Description) -> Iterator[tuple[Change, Description]]:
    path = description.path
    for by_m in STEPS_M:
        amount = (Amount(by_m, "m"),)
        for words, sign in (("hold the tips {} higher", 1.0), ("hold the tips {} lower", -1.0)):
            if path.tip_height_m + sign * by_m > path.belly_over_road_m:
                moved = replace(path, tip_height_m=path.tip_height_m + sign * by_m)
                yield Change(words, amount), replace(description, path=moved)
        for words, sign in (("carry the trailer {} higher", 1.0), ("carry the trailer {} lower", -1.0)):
            if 0.0 <= path.belly_over_road_m + sign * by_m < path.tip_height_m:
                moved = replace(path, belly_over_road_m=path.belly_over_road_m + sign * by_m)
                yield Change(words, amount), replace(description, path=moved)
        for words, sign in (("stand every unit {} farther off", -1.0), ("stand every unit {} nearer", 1.0)):
            if description.gap_m - 2.0 * sign * by_m > 0.0:
                units = tuple(
                    replace(unit, slew_axis_x_m=unit.slew_axis_x_m + sign * unit.facing * by_m)
                    for unit in description.units
                )
                yield Change(words, amount), replace(description, units=units)
