"""A boom as a row of box sections: where each ends, which faces show, which is nearer."""

from __future__ import annotations

from math import ceil, hypot, sqrt
from typing import NamedTuple

from simulator.scenario.unit import Unit
from simulator.window import shapes
from simulator.window.camera import Camera
from simulator.window.canvas import Canvas
from simulator.window.palette import INK, Colour, Side, mixed
from simulator.window.solids import Spot, Vector

SECTION_OVERLAP_M = 0.35
TAPER = 0.15
"""How much thinner each boom section is than the one round it."""
LEAST_FACING = 0.03
"""How much a face must look toward the viewer to be drawn."""


def section_ends(unit: Unit, boom_length_m: float) -> list[float]:
    """Where each boom section ends, from the foot pin, the base section first."""
    boom = unit.boom
    count = max(2, ceil(boom.longest_m / boom.shortest_m - 1e-9))
    out = max(0.0, boom_length_m - boom.shortest_m) / (count - 1)
    base = boom.shortest_m - SECTION_OVERLAP_M * (count - 1)
    return [base + n * (out + SECTION_OVERLAP_M) for n in range(count - 1)] + [boom_length_m]


class Beam(NamedTuple):
    """A box-shaped beam's axes in pixels a metre, y down, with how far each leads away from the viewer."""

    foot: Spot
    along: Vector
    across: Vector
    up: Vector

    def at(self, u: float, v: float, w: float) -> Spot:
        """A point `u` along, `v` across and `w` up from the foot."""
        (ax, ay, _), (cx, cy, _), (ux, uy, _) = self.along, self.across, self.up
        return self.foot[0] + ax * u + cx * v + ux * w, self.foot[1] + ay * u + cy * v + uy * w


def beam_axes(canvas: Canvas, camera: Camera, foot: Vector, tip: Vector) -> Beam:
    """The axes of a beam from foot to tip as they are seen."""
    x, y, z = tip[0] - foot[0], tip[1] - foot[1], tip[2] - foot[2]
    length, level = sqrt(x * x + y * y + z * z) or 1.0, hypot(x, y) or 1.0
    a = (x / length, y / length, z / length)
    c = (-y / level, x / level, 0.0)
    up = (-a[2] * c[1], a[2] * c[0], a[0] * c[1] - a[1] * c[0])
    s = camera.scale * canvas.f
    seen = [(camera.sign * s * v[0], -s * v[2], v[1]) for v in (a, c, up)]
    return Beam(canvas.points_px([camera.to_scene(foot[0], foot[2])])[0], *seen)


class Tones(NamedTuple):
    """Colours of one boom section's faces."""

    side: Colour
    top: Colour
    under: Colour
    cap: Colour


class Section(NamedTuple):
    """One boom section: from, to, half its depth, colours."""

    start_m: float
    end_m: float
    half_m: float
    tones: Tones


def section_tones(side: Side) -> tuple[Tones, ...]:
    """The further out a section, the paler."""
    mains = [mixed(side.main, side.tint, share) for share in (0.0, 0.16, 0.32)]
    return tuple(Tones(m, mixed(m, side.tint, 0.35), mixed(m, side.dark, 0.6), side.tint) for m in mains)


def sections(unit: Unit, length_m: float, tones: tuple[Tones, ...]) -> list[Section]:
    """The boom's sections, base first."""
    rows, start = [], -0.35
    for n, end in enumerate(section_ends(unit, length_m)):
        half = unit.boom.depth_m * (1.0 - TAPER * n) / 2.0
        rows.append(Section(start, end, half, tones[min(n, len(tones) - 1)]))
        start = end - 0.02
    return rows


def draw_section(canvas: Canvas, beam: Beam, section: Section) -> None:
    """Draws the faces of one boom section that show: cap, under or upper face, side."""
    start, end, h, tones = section
    w, edge = 0.8 * h, max(1.0, 1.8 * canvas.f)
    faces = []
    if beam.along[2] < -LEAST_FACING:
        faces.append((tones.cap, [(end, -w, -h), (end, w, -h), (end, w, h), (end, -w, h)]))
    if abs(beam.up[2]) > LEAST_FACING:
        k = h if beam.up[2] < 0 else -h
        tone = tones.top if beam.up[1] * k < 0 else tones.under
        faces.append((tone, [(start, -w, k), (end, -w, k), (end, w, k), (start, w, k)]))
    if abs(beam.across[2]) > LEAST_FACING:
        k = w if beam.across[2] < 0 else -w
        faces.append((tones.side, [(start, k, -h), (end, k, -h), (end, k, h), (start, k, h)]))
    for tone, corners in faces:
        shapes.edged_polygon(canvas.surface, [beam.at(*corner) for corner in corners], tone, INK, edge)
