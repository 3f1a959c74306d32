"""The commands that a lift was given: every change, with the step from which it held; hours of them in little room."""

from __future__ import annotations

import zlib
from array import array
from collections.abc import Iterator

from simulator.engine.commands import FUNCTIONS, Commands, UnitCommands

ROWS_TOGETHER = 1024
"""So many changes are pressed together: hands that move every frame make them in a quarter of a minute."""
_FUNCTIONS = len(FUNCTIONS)
_ROW = 1 + 2 * _FUNCTIONS


class Given:
    """Step and both units' commands, a row a change."""

    def __init__(self) -> None:
        self._pressed: list[bytes] = []
        self._latest = array("d")

    def add(self, step: int, commands: Commands) -> None:
        """These hold from `step` on."""
        self._latest.extend((step, *commands[0], *commands[1]))
        if len(self._latest) == ROWS_TOGETHER * _ROW:
            self._pressed.append(zlib.compress(self._latest.tobytes(), 1))
            self._latest = array("d")

    def __iter__(self) -> Iterator[tuple[int, Commands]]:
        for pressed in self._pressed:
            yield from _rows(array("d", zlib.decompress(pressed)))
        yield from _rows(self._latest)


def _rows(numbers: array[float]) -> Iterator[tuple[int, Commands]]:
    for step, *both in zip(*[iter(numbers)] * _ROW, strict=True):
        yield int(step), Commands(UnitCommands(*both[:_FUNCTIONS]), UnitCommands(*both[_FUNCTIONS:]))
