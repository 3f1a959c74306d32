"""Whether what is drawn stays where it belongs."""

from __future__ import annotations

import pygame

from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.seen import layout_of, seen_of
from simulator.window.readouts.coach_words import at_rest
from simulator.window.readouts.readouts import Readouts
from tests.window.inside import draw_alone

GROUND = (255, 0, 255)
"""A color that nothing is drawn in."""


def outside(surface: pygame.Surface, rect: pygame.Rect) -> bool:
    """True if anything but the ground color was drawn outside `rect`."""
    copy = surface.copy()
    copy.fill(GROUND, rect)
    mask = pygame.mask.from_threshold(copy, GROUND, (1, 1, 1, 255))
    return mask.count() != surface.get_width() * surface.get_height()


def panels_outside(
    description: Description, readings: Readings, size: tuple[int, int], system: str, *, is_across: bool = False
) -> list[str]:
    """Units whose panel, drawn alone in a window of that size, leaves its region."""
    rows, seen = Readouts(description, readings, system), seen_of(description)  # type: ignore[arg-type]
    rows.is_across = is_across
    rows.follow(readings, 0.0, at_rest(seen))
    left = []
    for unit, region in zip(seen.units, layout_of(seen).panels, strict=True):
        canvas = Canvas(pygame.Surface(size))
        canvas.clear(GROUND)
        draw_alone(rows, canvas, unit.where)
        if outside(canvas.surface, canvas.rect_px(*region).inflate(2, 2)):
            left.append(unit.where)
    return left
