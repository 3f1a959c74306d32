"""The table of keys as a document shows it: a row a lever, from the table of bindings."""

from __future__ import annotations

from simulator.window.hands.bindings import BINDINGS, SEATS, Labels, find_binding
from simulator.words import say


def key_table() -> tuple[str, ...]:
    """Rows for a US keyboard: what a lever does both ways, each seat's keys, and what of a gamepad moves it."""
    return tuple(_row(lever) for lever in dict.fromkeys(row.lever for row in BINDINGS))


def _row(lever: str) -> str:
    labels, ways = Labels(), [find_binding(lever, sign) for sign in (1, -1)]
    cells = [
        " / ".join(say(f"control.{row.word}").lower() for row in ways),
        *(" / ".join(labels.of(row.scancode(seat)) for row in ways) for seat in SEATS),
        say(f"pad.{lever}"),
    ]
    return f"| {' | '.join(cells)} |"
