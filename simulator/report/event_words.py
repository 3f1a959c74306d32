"""Events and incidents of a recording in words, amounts in the reader's units."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import cast

from simulator.events import Happening
from simulator.plan.findings import Kind
from simulator.recording.marks_lost import FAILS, mark_lost
from simulator.report.amounts import Amounts
from simulator.telling.happened import told
from simulator.words import filled, say


def event_words(one: Happening, amounts: Amounts) -> str:
    """What happened, as the middle of a sentence."""
    return told(one, _amount(amounts))


def lost_words(line: str, amounts: Amounts) -> str:
    """A line of a drill's account."""
    found = mark_lost(line)
    if found is None:
        return line
    said = filled(f"lost.{found.name}", found.texts, found.amounts, _amount(amounts))
    return say("lost.fails", lost=said) if FAILS in found.texts else said


def account_lines(lines: Sequence[str], amounts: Amounts) -> Iterator[str]:
    """A drill's account, each loss of points a little in."""
    for line in lines:
        found, said = mark_lost(line), lost_words(line, amounts)
        yield said if found is None or found.name == "centre" else f"  {said}"


def _amount(amounts: Amounts) -> Callable[[float, str], str]:
    return lambda value, kind: amounts.text(value, cast(Kind, kind))
