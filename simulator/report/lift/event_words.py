"""Events and incidents of a recording in words, amounts in the reader's units."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import cast

from simulator.events import Happening
from simulator.plan.findings import Kind
from simulator.report.amounts import Amounts
from simulator.telling.account import account_words
from simulator.telling.happened import told


def event_words(one: Happening, amounts: Amounts) -> str:
    """What happened, as the middle of a sentence."""
    return told(one, _amount(amounts))


def lost_words(one: Happening, amounts: Amounts) -> str:
    """A line of a drill's account."""
    return account_words(one, _amount(amounts))


def account_lines(account: Iterable[Happening], amounts: Amounts) -> Iterator[str]:
    """A drill's account, each loss of points a little in."""
    for one in account:
        yield f"  {lost_words(one, amounts)}" if one.what == "lost" else lost_words(one, amounts)


def _amount(amounts: Amounts) -> Callable[[float, str], str]:
    return lambda value, kind: amounts.text(value, cast(Kind, kind))
