"""Short texts beside points of a picture, each where none lies over another."""

from __future__ import annotations

from typing import Any

from matplotlib.axes import Axes

from simulator.report.sheet import POINTS_PER_INCH

WIDTH_OF_LETTER, HEIGHT = 0.64, 1.3
"""Of a letter and of a line, as a share of the type size."""
AWAY = (4.0, 12.0, 20.0, 30.0)
"""How far from its point a text may stand, in points, the nearest first."""
WAYS = ((1, 0), (-1, 0), (1, 1), (1, -1), (-1, 1), (-1, -1), (0, 1), (0, -1))
BY_A_LINE = ((-1, 1), (-1, -1), (1, 1), (1, -1))
"""Beside a point of a level line, and not on the line."""
PAD = 1.5

Box = tuple[float, float, float, float]


class PageNotes:
    """The texts of one picture. Its limits must stand before the first is written."""

    def __init__(self, axes: Axes) -> None:
        self._axes = axes
        self._taken: list[Box] = []

    def write(
        self,
        text: str,
        at: tuple[float, float],
        *,
        size: float,
        must: bool = False,
        ways: tuple[tuple[int, int], ...] = WAYS,
        **look: Any,
    ) -> None:
        """Write a text beside a point where there is room for it.

        Args:
            text: one line.
            at: in the picture's own coordinates.
            size: of the type, in points.
            must: it may stand further off, and without room over another; else it is left out.
            ways: on which sides of the point it may stand, the best first.
            look: how it is written.
        """
        width, height = WIDTH_OF_LETTER * size * len(text) + 2.0 * PAD, HEIGHT * size + 2.0 * PAD
        point = self._points(at)
        spots = [_beside(width, height, way, away) for away in (AWAY if must else AWAY[:1]) for way in ways]
        fitting = [spot for spot in spots if self._is_free(_box(point, spot, width, height))]
        if not fitting and not must:
            return
        spot = (fitting or spots)[0]
        self._taken.append(_box(point, spot, width, height))
        self._axes.annotate(text, at, (spot[0] + PAD, spot[1] + PAD), textcoords="offset points", fontsize=size,
                            ha="left", va="bottom", parse_math=False, **look)  # fmt: skip

    def _points(self, at: tuple[float, float]) -> tuple[float, float]:
        """A place of the picture in points of the page."""
        figure = self._axes.get_figure(root=True)
        assert figure is not None
        x, y = self._axes.transData.transform(at)
        return float(x) * POINTS_PER_INCH / figure.dpi, float(y) * POINTS_PER_INCH / figure.dpi

    def _is_free(self, box: Box) -> bool:
        (x0, x1), (y0, y1) = sorted(self._axes.get_xlim()), sorted(self._axes.get_ylim())
        corners = [self._points((x, y)) for x in (x0, x1) for y in (y0, y1)]
        low, high = (min(x for x, _ in corners), min(y for _, y in corners)), (
            max(x for x, _ in corners), max(y for _, y in corners))  # fmt: skip
        is_inside = box[0] >= low[0] and box[1] >= low[1] and box[2] <= high[0] and box[3] <= high[1]
        return is_inside and not any(_overlap(box, other) for other in self._taken)


def _beside(width: float, height: float, way: tuple[int, int], away: float) -> tuple[float, float]:
    """Lower left corner of a text on one side of its point."""
    x = away if way[0] > 0 else -away - width if way[0] < 0 else -width / 2.0
    y = away if way[1] > 0 else -away - height if way[1] < 0 else -height / 2.0
    return x, y


def _box(point: tuple[float, float], spot: tuple[float, float], width: float, height: float) -> Box:
    x, y = point[0] + spot[0], point[1] + spot[1]
    return x, y, x + width, y + height


def _overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
