"""What was worked out of the last few frozen values, kept by which value it is and not by what it holds.

A lift is asked for its rig, its load or its middle dozens of times in one frame. To compare a whole lift with one that
was seen before costs more than many of the answers; whether it is the same one is seen at once.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

Asked = TypeVar("Asked")
Answer = TypeVar("Answer")
MOST = 8


def kept_by_identity(work: Callable[[Asked], Answer]) -> Callable[[Asked], Answer]:
    """The same function of one frozen value; its answers for the last `MOST` values are kept, and those values with
    them, so that no other can take their place."""
    kept: dict[int, tuple[Asked, Answer]] = {}

    @wraps(work)
    def answer(asked: Asked) -> Answer:
        found = kept.get(id(asked))
        if found is not None:
            return found[1]
        made = work(asked)
        if len(kept) >= MOST:
            kept.pop(next(iter(kept)), None)
        kept[id(asked)] = asked, made
        return made

    return answer
