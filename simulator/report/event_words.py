"""Events and incidents of a recording in words, amounts in the reader's units."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import cast

from simulator.plan.findings import Kind
from simulator.recording.happened import happened
from simulator.recording.marks_lost import mark_lost
from simulator.report.amounts import Amounts
from simulator.words import filled


def event_words(kind: str, text: str, amounts: Amounts) -> str:
    """What happened, as the middle of a sentence."""

    if (found := happened(text)) is None:
        return text if kind in ("load", "incident") else f"{kind}: {text}"
    return filled(f"event.{found.name}", found.texts, found.amounts, _amount(amounts))


def lost_words(line: str, amounts: Amounts) -> str:
    """A line of a drill's account."""
    found = mark_lost(line)
    return line if found is None else filled(f"lost.{found.name}", found.texts, found.amounts, _amount(amounts))


def account_lines(lines: Sequence[str], amounts: Amounts) -> Iterator[str]:
    """A drill's account, each loss of points a little in."""
    for line in lines:
        yield line if mark_lost(line) is None else f"  {lost_words(line, amounts)}"


def _amount(amounts: Amounts) -> Callable[[float, str], str]:
    return lambda value, kind: amounts.text(value, cast(Kind, kind))
