"""The palette in numbers: contrast, and what protan, deutan and gray eyes still tell apart; then shape and word."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pygame
import pytest

from simulator.window.kit.canvas import Canvas
from simulator.window.kit.icons import badge, stamp
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import (
    BED,
    BODY,
    CAUTION,
    CAUTION_TINT,
    INK,
    INK_2,
    LEFT,
    PANEL,
    PAPER,
    RIGHT,
    SKY,
    SLOPE_FOOT,
    SLOPE_TOP,
    STOP,
    WASH,
    Color,
)
from simulator.window.readouts import panels
from simulator.window.readouts.gap_blocks import bead_stamp
from simulator.words import say, table
from tools.stills_eyes import EYES
from tools.stills_eyes import linear as coded_to_linear

TEXTS = (
    (INK, PANEL), (INK, PAPER), (INK, WASH), (INK, SKY), (INK, SLOPE_TOP), (INK, SLOPE_FOOT), (INK, BED), (INK, BODY),
    (INK, CAUTION), (INK, CAUTION_TINT), (INK, LEFT.tint), (INK, RIGHT.tint), (INK_2, PANEL), (INK_2, PAPER),
    (INK_2, SKY), (INK_2, SLOPE_TOP), (PANEL, INK), (PANEL, LEFT.main), (PANEL, RIGHT.main), (PANEL, STOP),
    (LEFT.main, PAPER), (RIGHT.main, PAPER),
)  # fmt: skip
"""Every color of text with every ground it stands on."""
MARKS = (
    (LEFT.main, PANEL), (RIGHT.main, PANEL), (STOP, PANEL), (STOP, SLOPE_TOP), (INK, CAUTION),
    (LEFT.main, SKY), (RIGHT.main, SKY), (LEFT.main, SLOPE_FOOT), (RIGHT.main, SLOPE_FOOT), (LEFT.main, BODY),
    (INK, BED), (INK, SLOPE_TOP), (INK, SLOPE_FOOT),
)  # fmt: skip
"""Marks without words in them. Amber is never alone, its outline is ink; over the bed a bead has a rim of ink."""
SEEN_APART = 12.0
"""Distance in CIE L*a*b* (1976) at which two areas are told apart at a glance. Common practice, no source."""


def linear(color: Color) -> np.ndarray:
    """A color of the palette in linear light."""
    return coded_to_linear(np.array(color) / 255.0)


def contrast(first: Color, second: Color) -> float:
    """Contrast ratio of WCAG 2.1 (from memory, not confirmed)."""
    low, high = sorted(float(EYES["gray"][0] @ linear(one)) for one in (first, second))
    return (high + 0.05) / (low + 0.05)


def lab(light: np.ndarray) -> np.ndarray:
    """CIE L*a*b* under D65 of linear sRGB (CIE 15, from memory, not confirmed)."""
    xyz = np.array(((0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505))) @ light
    t = xyz / np.array((0.9505, 1.0, 1.089))
    f = np.where(t > 0.008856, np.cbrt(t), 7.787 * t + 16.0 / 116.0)
    return np.array((116.0 * f[1] - 16.0, 500.0 * (f[0] - f[1]), 200.0 * (f[1] - f[2])))


def apart(first: Color, second: Color, eye: str) -> float:
    """How far two colors are apart for an eye."""
    a, b = (lab(np.clip(EYES[eye] @ linear(color), 0.0, 1.0)) for color in (first, second))
    return float(np.linalg.norm(a - b))


@pytest.mark.parametrize(("ink", "ground"), TEXTS)
def test_text_has_a_contrast_of_four_and_a_half(ink: Color, ground: Color) -> None:
    assert contrast(ink, ground) >= 4.5


@pytest.mark.parametrize(("mark", "ground"), MARKS)
def test_marks_have_a_contrast_of_three(mark: Color, ground: Color) -> None:
    assert contrast(mark, ground) >= 3.0


def test_amber_alone_would_not_do_as_text() -> None:
    """Why it is only ever a fill: the same count finds it too pale."""
    assert contrast(CAUTION, PANEL) < 3.0


@pytest.mark.parametrize("eye", ["protan", "deutan"])
def test_units_and_states_differ_for_every_eye(eye: str) -> None:
    for first, second in combinations((LEFT.main, RIGHT.main, CAUTION, STOP, PANEL), 2):
        assert apart(first, second, eye) > SEEN_APART, (first, second)


def test_states_differ_in_gray_and_units_do_not() -> None:
    """Left and right are equally light on purpose, so that none looks heavier: place and badge tell them apart."""
    for first, second in combinations((PANEL, CAUTION, STOP), 2):
        assert apart(first, second, "gray") > SEEN_APART
    assert apart(LEFT.main, RIGHT.main, "gray") < SEEN_APART


def silhouette(surface: pygame.Surface) -> pygame.mask.Mask:
    """What is not clear of a picture."""
    return pygame.mask.from_surface(surface, 100)


def differing(first: pygame.mask.Mask, second: pygame.mask.Mask) -> int:
    """Pixels that one has and the other has not, middles laid on each other."""
    (w0, h0), (w1, h1) = first.get_size(), second.get_size()
    return first.count() + second.count() - 2 * first.overlap_area(second, ((w0 - w1) // 2, (h0 - h1) // 2))


def test_badges_differ_in_shape(screen: pygame.Surface) -> None:
    masks = []
    for side in (0, 1):
        canvas = Canvas(pygame.Surface((80, 80), pygame.SRCALPHA), f=1.0, origin_px=(40, 40))
        badge(canvas, side, 0.0, 0.0, 60.0)
        masks.append(silhouette(canvas.surface))
    assert masks[0].count() - masks[1].count() > 0.15 * masks[0].count(), "a square holds more than its disc"


def test_every_state_of_a_gap_has_a_shape_and_a_word(screen: pygame.Surface) -> None:
    words = [say(key) for key in (*panels.WORDS.values(), "strip.to_raise", "strip.cannot_raise")]
    assert len(set(words)) == len(words)
    marks = [stamp("tick", 64, INK, PANEL, 0), stamp("caution", 64, INK, PANEL, 0), stamp("stop", 64, INK, PANEL, 0)]
    marks.append(stamp("arrow", 64, INK, PANEL, 270))
    beads = [bead_stamp(3, level, 2.0) for level in Level]
    for pictures in (marks, beads):
        for first, second in combinations(map(silhouette, pictures), 2):
            assert differing(first, second) > 0.05 * min(first.count(), second.count())


@pytest.mark.parametrize("ground", [BED, SLOPE_TOP, SLOPE_FOOT, SKY])
def test_a_stop_bead_stands_out_from_what_lies_under_it(screen: pygame.Surface, ground: Color) -> None:
    """Somewhere on every way from the ground to its middle: WCAG 2.2, 1.4.11 (from memory, not confirmed)."""
    bead = bead_stamp(4, Level.STOP, 2.0)
    picture = pygame.Surface(bead.get_size())
    picture.fill(ground)
    picture.blit(bead, (0, 0))
    middle = picture.get_width() // 2
    for dx, dy in ((1, 0), (0, 1), (-1, 0), (0, -1)):
        way = [tuple(picture.get_at((middle + n * dx, middle + n * dy)))[:3] for n in range(30, middle - 1)]
        assert max(contrast(color, ground) for color in way) >= 3.0


def test_every_state_of_a_line_a_float_and_a_unit_has_a_word() -> None:
    for group in (
        ("rose.plumb", "rose.off_plumb", "rose.stop", "rose.slack"),
        ("board.up", "board.ground", "board.tipping"),
        ("panel.move", "panel.hold", "panel.auto"),
        ("panel.slack", "panel.stall"),
        ("coach.caution", "coach.stop"),
    ):
        words = [table()[key] for key in group]
        assert all(words) and len(set(words)) == len(words)
