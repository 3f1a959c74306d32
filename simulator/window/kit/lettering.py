"""Type: the three shipped weights, text drawn once and kept (bounded), digits in cells of one width."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path
from typing import Literal

import pygame

from simulator.window.kit.palette import Color

Weight = Literal["medium", "semibold", "bold"]
MINUS = "\u2212"
FILES: dict[Weight, str] = {
    "medium": "BarlowSemiCondensed_500Medium.ttf",
    "semibold": "BarlowSemiCondensed_600SemiBold.ttf",
    "bold": "BarlowSemiCondensed_700Bold.ttf",
}
DIGITS = frozenset("0123456789")
HYPHEN = re.compile(r"(?<![^\s(])-(?=\d)")


def fonts_folder() -> Path:
    """Where the shipped fonts are."""
    try:
        from simulator.places import assets_folder

        return Path(assets_folder()) / "fonts"
    except ImportError:
        return Path(__file__).resolve().parents[2] / "assets" / "fonts"


def true_minus(text: str) -> str:
    """The text with a minus sign before numbers that others wrote with a hyphen; dates and names keep theirs."""
    return HYPHEN.sub(MINUS, text)


class Lettering:
    """Fonts by weight and pixel size, and the drawn text, each in a bounded cache. One serves every canvas."""

    def __init__(self, folder: Path, *, kept_texts: int = 2048, kept_fonts: int = 96) -> None:
        self.folder = folder
        self.font = lru_cache(maxsize=kept_fonts)(self._font)
        self.drawn = lru_cache(maxsize=kept_texts)(self._drawn)
        self.width = lru_cache(maxsize=kept_texts)(self._width)
        self.cell = lru_cache(maxsize=kept_fonts)(self._cell)

    def _font(self, weight: Weight, size_px: int) -> pygame.font.Font:
        """The font of a weight and pixel size; pygame's own when the file is missing or broken."""
        try:
            return pygame.font.Font(str(self.folder / FILES[weight]), size_px)
        except (OSError, pygame.error):
            return pygame.font.Font(None, size_px)

    def _drawn(self, text: str, weight: Weight, size_px: int, color: Color) -> pygame.Surface:
        """The text as a picture with transparent ground."""
        return self.font(weight, size_px).render(true_minus(text), True, color)

    def _width(self, text: str, weight: Weight, size_px: int) -> int:
        """Width of the text in pixels."""
        return self.font(weight, size_px).size(true_minus(text))[0]

    def _cell(self, weight: Weight, size_px: int) -> float:
        """Mean width of a digit in pixels: every digit gets a cell this wide."""
        return sum(self.font(weight, size_px).size(digit)[0] for digit in DIGITS) / len(DIGITS)

    def ascent(self, weight: Weight, size_px: int) -> int:
        """Baseline below the drawn text's top, in pixels."""
        return self.font(weight, size_px).get_ascent()

    def advance(self, letter: str, weight: Weight, size_px: int) -> float:
        """How far one letter moves the pen when digits stand in cells."""
        return self.cell(weight, size_px) if letter in DIGITS else self.width(letter, weight, size_px)

    def letters_within(self, text: str, weight: Weight, size_px: int, width_px: float) -> int:
        """About how many of its letters have room in a width, by their own widths."""
        total = 0.0
        for count, letter in enumerate(text):
            total += self.width(letter, weight, size_px)
            if total > width_px:
                return count
        return len(text)

    def digits_width(self, text: str, weight: Weight, size_px: int) -> float:
        """Width in pixels of a text whose digits stand in cells."""
        return sum(self.advance(letter, weight, size_px) for letter in text)


@lru_cache(maxsize=1)
def shared_lettering() -> Lettering:
    """The one that every canvas uses; made anew after pygame was closed."""
    if not pygame.font.get_init():
        pygame.font.init()
    pygame.register_quit(shared_lettering.cache_clear)
    return Lettering(fonts_folder())
