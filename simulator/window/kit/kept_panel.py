"""Parts of a screen that are kept as they were drawn for as long as all that they show is the same."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import pygame

from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import INK, PANEL, PAPER, Color
from simulator.window.kit.regions import Region
from simulator.window.kit.shapes import quick

Draw = Callable[[Canvas], None]


class KeptRow(NamedTuple):
    """A row of a panel, on plain ground; nothing of it shows outside its region."""

    region: Region
    shows: object
    """All that is drawn in it, as a value that can be compared."""
    draw: Draw


class KeptPanel:
    """One part of the screen with its own ground: drawn anew when something of it has changed, of rows only those that
    have."""

    def __init__(self, region: Region, ground: Color = PAPER) -> None:
        self.region, self.ground = region, ground
        self._layer: Canvas | None = None
        self._is_of: object = None
        self._rows: list[object] = []

    def show(self, canvas: Canvas, shows: object, draw: Draw, rows: Sequence[KeptRow] = ()) -> None:
        """Lay it on the canvas.

        Args:
            canvas: where.
            shows: all that `draw` draws, as a value that can be compared.
            draw: everything but the rows.
            rows: what lies on it.
        """
        is_of = canvas.surface.get_size(), canvas.f, canvas.ox, canvas.oy, [row.region for row in rows], shows
        layer = self._layer
        if layer is None or is_of != self._is_of:
            layer = canvas.layer(*self.region)
            layer.rect(*self.region, self.ground)
            draw(layer)
            self._layer, self._is_of, self._rows = layer, is_of, []
        for n, row in enumerate(rows):
            if not self._rows or self._rows[n] != row.shows:
                with layer.clip(*row.region):
                    layer.rect(*row.region, PANEL)
                    row.draw(layer)
        self._rows = [row.shows for row in rows]
        canvas.paste(layer)


class KeptStamp:
    """Something on clear ground, kept where it was drawn."""

    def __init__(self) -> None:
        self._surface: pygame.Surface | None = None
        self._is_of: object = None
        self._corner = (0, 0)

    def show(self, canvas: Canvas, region: Region, shows: object, draw: Draw) -> None:
        """Lay it on the canvas; arguments as of a panel, `region` holds all of it."""
        is_of = canvas.surface.get_size(), canvas.f, canvas.ox, canvas.oy, region, shows
        if self._surface is None or is_of != self._is_of:
            layer = canvas.layer(*region, clear=True)
            # Half-covered edge pixels take the outline's color, not the paper's.
            layer.surface.fill((*INK, 0))
            draw(layer)
            self._surface, self._is_of = quick(layer.surface), is_of
            self._corner = canvas.ox - layer.ox, canvas.oy - layer.oy
        canvas.surface.blit(self._surface, self._corner)
