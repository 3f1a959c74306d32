"""A sheet of paper to write and draw on, in millimeters from its upper left corner; readable in gray."""

from __future__ import annotations

import re
from textwrap import wrap
from typing import Any, NamedTuple

from matplotlib.axes import Axes
from matplotlib.figure import Figure

PAPERS_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
MARGIN_MM, TOP_MM, FOOT_MM = 14.0, 12.0, 22.0
MM_PER_INCH, POINTS_PER_INCH = 25.4, 72.0
WIDTH_OF_LETTER, WIDTH_OF_BOLD = 0.53, 0.60
"""Mean width of a letter as a share of the type size, plain and bold."""
WITH_UNIT = re.compile(r"(\d) (m|ft|s|min|deg|t|lb|kN|kPa|psi|%|m/s|ft/s|mph|kg)(?![\w/])")
NOT_BROKEN = "\N{NO-BREAK SPACE}"
LEADING = 1.28
GRAY = "0.35"
AS_TEXT: dict[Any, Any] = {"text.parse_math": False, "text.usetex": False}
"""Text is drawn, never read: a dollar sign in a title is a dollar sign."""


class Column(NamedTuple):
    """One column of a table."""

    title: str
    x_mm: float
    width_mm: float


class Sheet:
    """One page. `y_mm` is where the next line goes."""

    def __init__(self, paper: str) -> None:
        self.paper = paper
        self.width_mm, self.height_mm = PAPERS_MM[paper]
        self.figure = Figure(figsize=(self.width_mm / MM_PER_INCH, self.height_mm / MM_PER_INCH))
        self.y_mm = TOP_MM

    @property
    def inside_mm(self) -> float:
        """Width between the margins."""
        return self.width_mm - 2.0 * MARGIN_MM

    @property
    def left_mm(self) -> float:
        """Height that is left above the foot."""
        return self.height_mm - FOOT_MM - self.y_mm

    def put(
        self, text: str, x_mm: float, y_mm: float, *, size: float = 8.0, bold: bool = False, gray: bool = False
    ) -> None:
        """One line of text; `y_mm` is its top."""
        self.figure.text(
            x_mm / self.width_mm,
            1.0 - y_mm / self.height_mm,
            text,
            fontsize=size,
            fontweight="bold" if bold else "normal",
            color=GRAY if gray else "black",
            va="top",
            parse_math=False,
        )

    def write(
        self, text: str, *, size: float = 8.0, bold: bool = False, gray: bool = False, gap_mm: float = 1.0
    ) -> None:
        """A paragraph over the whole width, and down."""
        for line in lines_of(text, self.inside_mm, size, bold=bold):
            self.put(line, MARGIN_MM, self.y_mm, size=size, bold=bold, gray=gray)
            self.y_mm += height_mm(size)
        self.y_mm += gap_mm

    def rule(self, *, heavy: bool = False) -> None:
        """A line across the page, and a little down."""
        axes = self.axes(MARGIN_MM, self.y_mm, self.inside_mm, 0.5)
        axes.axis("off")
        axes.axhline(0.5, color="black", linewidth=1.2 if heavy else 0.4)
        self.y_mm += 1.6

    def row(
        self, columns: tuple[Column, ...], cells: tuple[str, ...], *, size: float = 7.5, bold: bool = False
    ) -> None:
        """One row of a table, as high as its highest cell."""
        wrapped = [
            lines_of(cell, column.width_mm, size, bold=bold) for column, cell in zip(columns, cells, strict=True)
        ]
        for column, lines in zip(columns, wrapped, strict=True):
            for i, line in enumerate(lines):
                self.put(line, MARGIN_MM + column.x_mm, self.y_mm + i * height_mm(size), size=size, bold=bold)
        self.y_mm += max(len(lines) for lines in wrapped) * height_mm(size) + 1.2

    def axes(self, x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> Axes:
        """A place to draw; upper left corner and size."""
        return self.figure.add_axes(
            (
                x_mm / self.width_mm,
                1.0 - (y_mm + height_mm) / self.height_mm,
                width_mm / self.width_mm,
                height_mm / self.height_mm,
            )
        )

    def foot(self, caution: str, invented: str, page: int, pages: int) -> None:
        """The caution, on every page."""
        y_mm = self.height_mm - FOOT_MM + 4.0
        lines = lines_of(caution, self.inside_mm, 7.5, bold=True)
        for i, line in enumerate(lines):
            self.put(line, MARGIN_MM, y_mm + i * height_mm(7.5), size=7.5, bold=True)
        last_mm = y_mm + len(lines) * height_mm(7.5) + 0.8
        self.put(f"{invented}. Page {page} of {pages}.", MARGIN_MM, last_mm, size=7.0, gray=True)


def height_mm(size: float) -> float:
    """Height of a line of type."""
    return size * LEADING / POINTS_PER_INCH * MM_PER_INCH


def lines_of(text: str, width_mm: float, size: float, *, bold: bool = False) -> list[str]:
    """Text cut to a width; a number stays beside its unit."""
    letter = (WIDTH_OF_BOLD if bold else WIDTH_OF_LETTER) * size
    letters = width_mm / MM_PER_INCH * POINTS_PER_INCH / letter
    glued = WITH_UNIT.sub(rf"\1{NOT_BROKEN}\2", text)
    lines = wrap(glued, max(8, int(letters)), break_long_words=True) or [""]
    return [line.replace(NOT_BROKEN, " ") for line in lines]
