"""The window's colors, each named by its role. Cool hues say who; warm hues say look here."""

from __future__ import annotations

from typing import NamedTuple

Color = tuple[int, int, int]


def from_hex(text: str) -> Color:
    """A color from six hexadecimal digits, such as "14202B"."""
    return int(text[0:2], 16), int(text[2:4], 16), int(text[4:6], 16)


def mixed(first: Color, second: Color, share: float) -> Color:
    """`first` with `share` (0 to 1) of `second` in it."""
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(first, second, strict=True))
    return red, green, blue


class SideColors(NamedTuple):
    """The colors that mean one unit."""

    main: Color
    tint: Color
    dark: Color


INK = from_hex("14202B")
INK_2 = from_hex("46525D")
INK_3 = from_hex("7B8791")
PAPER = from_hex("F3F1EB")
PANEL = from_hex("FFFFFF")
RULE = from_hex("CFD5DA")
WASH = from_hex("ECEFF1")
SKY = from_hex("E9EFF3")
HILL_NEAR = from_hex("CFD9D5")
HILL_FAR = from_hex("DDE5E3")
LEFT = SideColors(from_hex("0B5CAD"), from_hex("CFE2F5"), from_hex("083F78"))
RIGHT = SideColors(from_hex("00705A"), from_hex("C6E6DC"), from_hex("004D3E"))
CAUTION = from_hex("F5B000")
CAUTION_TINT = from_hex("FFEDB8")
STOP = from_hex("C8280A")
STOP_TINT = from_hex("F9D9D0")
SLOPE_TOP = from_hex("E3DCCE")
SLOPE_FOOT = from_hex("CDC3AF")
BED = from_hex("B7AA92")
BED_LINE = from_hex("5E5444")
STEEL_LIGHT = from_hex("DFE4E8")
STEEL = from_hex("AEB7BF")
STEEL_DARK = from_hex("55606A")
BODY = from_hex("F4F6F7")
"""Barrier and the load's own body."""
TARMAC = from_hex("C3C8CC")
SOIL_MARK = from_hex("B9AE99")
SIDES = (LEFT, RIGHT)
"""Seen on the left, seen on the right."""
