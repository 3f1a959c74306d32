"""A spreader under a hook, drawn: its bar, two top legs to the hook; the drops hang from the bar's ends."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from simulator.mechanics.trailer_body import rotation, turned
from simulator.readings import LineReadings, LoadReadings
from simulator.scenario.trailer import Pick, Trailer
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import INK, STEEL
from simulator.window.scene.solids import PlacedSolid, Spot, Vector

BAR_WIDTH, LEG_WIDTH = 7.0, 3.0
_UP: dict[str, tuple[Vector, Vector]] = {
    "on_wheels": ((0.0, 0.0, 1.0), (0.0, 1.0, 0.0)),
    "top_to_ravine": ((0.0, 1.0, 0.0), (0.0, 0.0, -1.0)),
    "top_to_road": ((0.0, -1.0, 0.0), (0.0, 0.0, 1.0)),
}
"""What is up and what is across of a trailer as it lies, in its own axes."""


class Bar(NamedTuple):
    """Two ends of a bar, the farther first where one is."""

    far: Spot
    near: Spot


def bar_m(pick: Pick, line: LineReadings, load: LoadReadings) -> tuple[Vector, Vector] | None:
    """Where the bar's ends are in the world: it turns with the load's yaw and roll, and hangs plumb for pitch.

    Args:
        pick: none without a spreader.
        line: whose hook it hangs under.
        load: whose roll and yaw it has.
    """
    bar = pick.spreader
    if bar is None:
        return None
    matrix, hook = rotation(0.0, load.yaw_rad, load.roll_rad), (line.hook_x_m, line.hook_y_m, line.hook_z_m)
    left, right = (turned(matrix, (0.0, side * bar.length_m, bar.drop_m - pick.height_m)) for side in (-0.5, 0.5))
    return _beside(hook, left), _beside(hook, right)


def _beside(place: Vector, by: Vector) -> Vector:
    x, y, z = (a + b for a, b in zip(place, by, strict=True))
    return x, y, z


def bar_beside_hook(canvas: Canvas, trailer: Trailer, pick: Pick, place: PlacedSolid, hook: Spot) -> Bar | None:
    """Where the bar's ends are on the screen, in design units, with the load seen from the side.

    Args:
        canvas: drawn on.
        trailer: how it lies.
        pick: none without a spreader.
        place: of the trailer on the screen.
        hook: in design units.
    """
    bar = pick.spreader
    if bar is None:
        return None
    up, across = np.array(_UP[trailer.attitude])
    under = np.array(pick.at_m) + pick.height_m * up
    middle = under - (pick.height_m - bar.drop_m) * up
    rows = np.array([under, middle - 0.5 * bar.length_m * across, middle + 0.5 * bar.length_m * across])
    (x, y, _), *ends = place.spots(rows)
    at_x, at_y = canvas.points_px([hook])[0]
    near, far = sorted(ends, key=lambda end: end[2])
    return Bar(*(canvas.to_units(at_x + end[0] - x, at_y + end[1] - y) for end in (far, near)))


def draw_bar(canvas: Canvas, hook: Spot, bar: Bar) -> None:
    """Draws the bar and its top legs."""
    for end in bar:
        canvas.line(hook, end, INK, width=LEG_WIDTH)
    canvas.line(bar.far, bar.near, INK, width=BAR_WIDTH)
    canvas.line(bar.far, bar.near, STEEL, width=BAR_WIDTH - 4.0)
    for end in bar:
        canvas.disc(*end, BAR_WIDTH / 2.0, fill=INK)
