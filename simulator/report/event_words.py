"""Events and incidents of a recording in words, amounts in the reader's units."""

from __future__ import annotations

from simulator.recording.happened import happened
from simulator.report.amounts import Amounts
from simulator.words import filled


def event_words(kind: str, text: str, amounts: Amounts) -> str:
    """What happened, as the middle of a sentence."""

    def amount(value: float, what: str) -> str:
        return amounts.text(value, "m" if what == "m" else "N" if what == "N" else "m/s")

    if (found := happened(text)) is None:
        return text if kind in ("load", "incident") else f"{kind}: {text}"
    return filled(f"event.{found.name}", found.texts, found.amounts, amount)
