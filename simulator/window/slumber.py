"""Notices that the program stood still: a computer put to sleep, or a program halted from outside.

By the clock on the wall: the steady clock of some systems sleeps too.
"""

from __future__ import annotations

from time import time

LONG_S = 3.0
"""No frame takes so long of itself."""


class Slumber:
    """Asked once a frame."""

    def __init__(self) -> None:
        self._last_s = time()

    def was_long(self) -> bool:
        """Whether it is long since the last question."""
        before_s, self._last_s = self._last_s, time()
        return self._last_s - before_s > LONG_S
