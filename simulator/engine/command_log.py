"""The commands that a lift was given: every change, with the step from which it held; hours of them in little room."""

from __future__ import annotations

import zlib
from array import array
from collections.abc import Iterator
from itertools import islice

from simulator.engine.commands import Commands
from simulator.scenario.rig import TWO_BY_ONE, Rig

ROWS_TOGETHER = 1024
"""So many changes are pressed together: hands that move every frame make them in a quarter of a minute."""


class Given:
    """Step and all units' commands, a row a change."""

    def __init__(self, rig: Rig = TWO_BY_ONE) -> None:
        self._levers = [len(unit.levers) for unit in rig.units]
        self._row = 1 + sum(self._levers)
        self._pressed: list[bytes] = []
        self._latest = array("d")

    def add(self, step: int, commands: Commands) -> None:
        """These hold from `step` on."""
        self._latest.append(step)
        for hands in commands:
            self._latest.extend(hands)
        if len(self._latest) == ROWS_TOGETHER * self._row:
            self._pressed.append(zlib.compress(self._latest.tobytes(), 1))
            self._latest = array("d")

    def __iter__(self) -> Iterator[tuple[int, Commands]]:
        for pressed in self._pressed:
            yield from self._rows(array("d", zlib.decompress(pressed)))
        yield from self._rows(self._latest)

    def _rows(self, numbers: array[float]) -> Iterator[tuple[int, Commands]]:
        for step, *pulled in zip(*[iter(numbers)] * self._row, strict=True):
            hands = iter(pulled)
            yield int(step), Commands(*(tuple(islice(hands, count)) for count in self._levers))
