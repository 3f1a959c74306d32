"""One picture of the drive screen at one moment, from readings alone."""

from __future__ import annotations

from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.window.bindings import Labels
from simulator.window.camera import Camera
from simulator.window.canvas import Canvas
from simulator.window.coach_words import Situation
from simulator.window.layout import ends_by_side, screen_sign
from simulator.window.lift import is_moving
from simulator.window.lift_picture import LiftPicture
from simulator.window.measures_shown import System
from simulator.window.readouts import Readouts


def draw_still(
    canvas: Canvas,
    description: Description,
    readings: Readings,
    system: System = "metric",
    *,
    situation: Situation | None = None,
) -> None:
    """Draws everything of the drive screen once."""
    left, right = (is_moving(description.units[end], readings.units[end]) for end in ends_by_side(description))
    camera = Camera(sign=screen_sign(description))
    camera.follow(0.0, readings)
    readouts = Readouts(description, readings, system)
    readouts.follow(readings, 0.0, situation or Situation(moving=(left, right)))
    canvas.clear()
    LiftPicture(description, canvas, system).draw_all(canvas, camera, readings, readouts, Labels())
