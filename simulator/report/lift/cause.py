"""A cause as a debrief tells it: a sentence, and with it what kind of fault it is and whose."""

from __future__ import annotations

from typing import Literal, get_args

Kind = Literal[
    "moves",
    "leaning",
    "early",
    "out of turn",
    "off its line",
    "chased",
    "stopped alone",
    "went on alone",
    "as it lay",
    "turned alone",
    "out faster than in",
    "rushed the corner",
    "turned low",
    "turned near the lane",
    "turned swaying",
]
"""`moves`: what hands did, where no fault of the others stands out."""
OF_TURNS: tuple[Kind, ...] = get_args(Kind)[get_args(Kind).index("turned alone") :]
"""Faults of a turn in the air."""


class Cause(str):
    """A sentence that knows what it is about."""

    __slots__ = ("end", "kind")

    kind: Kind
    end: int | None
    """The unit whose fault it is; none where it is nobody's alone."""

    def __new__(cls, text: str, kind: Kind, end: int | None = None) -> Cause:
        """The cause that `text` tells."""
        made = super().__new__(cls, text)
        made.kind, made.end = kind, end
        return made
