"""The rigging between hook and trailer: slings round the body, or one leg to a point."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from simulator.scenario.trailer import Part, Pick, Trailer
from simulator.window import shapes
from simulator.window.canvas import Canvas
from simulator.window.palette import INK, INK_2
from simulator.window.shell_view import on_shell, showing
from simulator.window.solids import Placed, Spot, Vector
from simulator.window.trailer_shape import Station, bounds, station_at

SLING_SPREAD_M = 0.42
SLING_SHARES = (0.0, 0.08, 0.26, 0.44, 0.62, 0.8, 0.93, 1.0)
LEG_WIDTH, BIGHT_WIDTH = 4.0, 3.0


class Sling(NamedTuple):
    """One leg pair of the rigging at one place along the trailer."""

    part: Part | None
    """What it goes round; nothing for a single point."""
    section: Station | None
    """The round section it lies on, if the part is a tank."""
    x_m: float
    pick: Pick


def slings(trailer: Trailer, pick: Pick) -> tuple[Sling, ...]:
    """The slings of one pick: two round the body under it, or one to a point."""
    x = pick.at_m[0]
    hosts = [p for p in trailer.parts if p.drawn_as in ("tank", "box") and bounds(p).x0 <= x <= bounds(p).x1]
    if pick.pivot == "single_point" or not hosts:
        return (Sling(None, None, x, pick),)
    host = max(hosts, key=lambda p: bounds(p).z1)
    b = bounds(host)
    places = (min(b.x1 - 0.1, max(b.x0 + 0.1, x + way * SLING_SPREAD_M)) for way in (-1.0, 1.0))
    is_round = host.drawn_as == "tank"
    return tuple(Sling(host, station_at(host, place) if is_round else None, place, pick) for place in places)


def draw_far_leg(canvas: Canvas, sling: Sling, path: list[Spot], hook: Spot) -> None:
    """Draws the leg that goes down behind the body; `path` is in pixels, `hook` in design units."""
    if sling.part is not None:
        start, width = canvas.points_px([hook])[0], max(1.0, LEG_WIDTH * canvas.f)
        shapes.thick_line(canvas.surface, start, path[0], INK, width)


def draw_near_leg(canvas: Canvas, sling: Sling, path: list[Spot], hook: Spot) -> None:
    """Draws the leg on the side that shows, and the bight round the body."""
    start, width = canvas.points_px([hook])[0], max(1.0, LEG_WIDTH * canvas.f)
    if sling.part is None:
        shapes.thick_line(canvas.surface, start, path[0], INK, width)
        canvas.disc(*canvas.to_units(*path[0]), 6.0, fill=INK)
        return
    shapes.thick_line(canvas.surface, start, path[1], INK, width)
    shapes.bowed_line(canvas.surface, path[1:], INK_2, max(1.0, BIGHT_WIDTH * canvas.f))


def sling_path(sling: Sling, place: Placed) -> list[Spot]:
    """Where a sling runs, in pixels: top of the far side first, then down the side that shows."""
    if sling.part is None:
        rows = [sling.pick.at_m]
    elif sling.section is not None:
        lit = showing(sling.section, place)
        rows = [on_shell(sling.section, lit, share) for share in SLING_SHARES]
    else:
        rows = _round_box(sling.part, sling.x_m, place)
    return [(x, y) for x, y, _ in place.spots(np.array(rows))]


def _round_box(part: Part, x_m: float, place: Placed) -> list[Vector]:
    """A sling's way round a box: its highest corner on the far side, then the corners that show, downward."""
    b = bounds(part)
    ring: list[Vector] = [(x_m, y, z) for y, z in ((b.y0, b.z0), (b.y1, b.z0), (b.y1, b.z1), (b.y0, b.z1))]
    spots = place.spots(np.array(ring))
    nearest = sorted(range(4), key=lambda n: spots[n][2])[:2]
    top = min((n for n in range(4) if n not in nearest), key=lambda n: spots[n][1])
    return [ring[top], *(ring[n] for n in sorted(nearest, key=lambda n: spots[n][1]))]
