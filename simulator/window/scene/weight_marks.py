"""Where the load's weight is, drawn on the trailer: an open square for the papers, a quartered disc for this load."""

from __future__ import annotations

from typing import NamedTuple

from simulator.drill.scales import Scales
from simulator.mechanics.trailer_body import rotation, turned
from simulator.readings import LoadReadings, Readings
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import INK, PANEL
from simulator.window.scene.camera import Camera
from simulator.window.scene.solids import Spot
from simulator.words import say


class WeightMarks(NamedTuple):
    """What is drawn on the trailer: along it from the reference point, toward the tail unit."""

    low_m: float
    high_m: float
    at_m: float | None
    """None on the bed."""


def weight_marks(scales: Scales, readings: Readings) -> WeightMarks | None:
    """What is drawn on the trailer now."""
    if scales.state == "on the bed":
        found = scales.bounds(readings)
        return WeightMarks(found.from_m, found.to_m, None)
    if scales.state not in ("held", "moving") or scales.found is None:
        return None
    at, spread = scales.found.cg_m[0], scales.found.spread_m[0]
    return WeightMarks(at - spread, at + spread, at)


RADIUS, TICK = 13.0, 21.0
UP, HIGHER, APART = 28.0, 30.0, 110.0
"""Words stand so far over their marks; the papers' higher where the two are nearer than that."""


def draw_weight_marks(canvas: Canvas, camera: Camera, load: LoadReadings, marks: WeightMarks) -> None:
    """Draws the papers' place, the spread as a bar with ends, and this load's place on it."""
    papers, low, high = (_on(camera, load, at) for at in (0.0, marks.low_m, marks.high_m))
    _bar(canvas, low, high)
    half = RADIUS - 1.0
    canvas.box(papers[0] - half, papers[1] - half, 2.0 * half, 2.0 * half, fill=PANEL, edge=INK, edge_width=3.0)
    words = [(papers, say("weigh.mark_papers"), -UP)]
    if marks.at_m is not None:
        at = _on(camera, load, marks.at_m)
        _quartered(canvas, at)
        is_near = abs(at[0] - papers[0]) < APART
        words = [(papers, say("weigh.mark_papers"), -UP - HIGHER * is_near), (at, say("weigh.mark_load"), -UP)]
    for (x, y), word, off in words:
        width = canvas.text_width(word, 24.0) + 12.0
        canvas.box(x - width / 2.0, y + off - 21.0, width, 28.0, fill=PANEL, radius=6.0)
        canvas.text(word, x, y + off, 24.0, anchor="center")


def _on(camera: Camera, load: LoadReadings, along_m: float) -> Spot:
    x, _, z = turned(rotation(load.pitch_rad, load.yaw_rad, load.roll_rad), (along_m, 0.0, 0.0))
    return camera.to_scene(load.x_m + x, load.z_m + z)


def _bar(canvas: Canvas, low: Spot, high: Spot) -> None:
    for width, color in ((9.0, PANEL), (4.0, INK)):
        canvas.line(low, high, color, width=width)
        for x, y in (low, high):
            canvas.line((x, y - TICK), (x, y + TICK), color, width=width)


def _quartered(canvas: Canvas, at: Spot) -> None:
    """The usual mark of a center of gravity: a disc in quarters, two of them dark."""
    x, y = at
    canvas.disc(x, y, RADIUS + 3.0, fill=PANEL)
    canvas.disc(x, y, RADIUS, fill=PANEL, edge=INK, edge_width=3.0)
    for way in (-1.0, 1.0):
        canvas.rect(min(x, x + way * RADIUS * 0.72), min(y, y + way * RADIUS * 0.72), RADIUS * 0.72, RADIUS * 0.72, INK)
    canvas.line((x - RADIUS, y), (x + RADIUS, y), INK, width=2.0)
    canvas.line((x, y - RADIUS), (x, y + RADIUS), INK, width=2.0)
