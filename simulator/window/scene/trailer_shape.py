"""The trailer's parts as shapes to draw, from their own outlines and widths: solids, wheels and round shells."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt
from typing import NamedTuple

from simulator.scenario.trailer import Part, Trailer
from simulator.window.kit.palette import BODY, INK, PANEL, RULE, STEEL, STEEL_DARK, STEEL_LIGHT, mixed
from simulator.window.scene.solids import Builder, ConvexSolids, Paint, Vector, span_at

TYRE = mixed(INK, STEEL_DARK, 0.25)
BODY_PAINT = Paint(BODY, PANEL, STEEL_LIGHT, mixed(BODY, STEEL, 0.35), edge_width=2.0, line=RULE)
FRAME_PAINT = Paint(STEEL_DARK, STEEL, mixed(STEEL_DARK, INK, 0.3), STEEL_DARK)
DARK_PAINT = Paint(INK, STEEL_DARK, INK, INK, edge_width=1.0)
CASE_PAINT = Paint(STEEL, STEEL_LIGHT, STEEL_DARK, mixed(STEEL, STEEL_DARK, 0.4))
WALKWAY_PAINT = Paint(STEEL, STEEL, STEEL_DARK, STEEL_DARK, edge=STEEL_DARK, edge_width=1.0, line=STEEL_LIGHT)
WHEEL_PITCH_M = 1.31
TYRE_WIDTH_M = 0.56
DOME_M = 0.48
SEAM_PITCH_M = 2.6


class ShellSection(NamedTuple):
    """A round shell's section at one place along it."""

    x_m: float
    y_m: float
    z_m: float
    half_width_m: float
    half_height_m: float


class RoundShell(NamedTuple):
    """A round shell with domed ends."""

    part: str
    stations: tuple[ShellSection, ...]
    seams: tuple[ShellSection, ...]
    middle_m: Vector


class Wheel(NamedTuple):
    """One wheel (or pair): a drum about the trailer's y axis."""

    middle_m: Vector
    radius_m: float
    half_width_m: float


class Lid(NamedTuple):
    """A round lid on a tank's top."""

    middle_m: Vector
    radius_m: float


class TrailerShape(NamedTuple):
    """All there is to draw of a trailer, in its own axes."""

    solids: ConvexSolids
    shells: tuple[RoundShell, ...]
    wheels: tuple[Wheel, ...]
    lids: tuple[Lid, ...]


class PartBox(NamedTuple):
    """A part's bounding box."""

    x0: float
    x1: float
    y0: float
    y1: float
    z0: float
    z1: float


def bounds(part: Part) -> PartBox:
    """The bounding box of a part, in the trailer's own axes."""
    xs, zs = [x for x, _ in part.outline_m], [z for _, z in part.outline_m]
    return PartBox(min(xs), max(xs), part.y_m - part.width_m / 2, part.y_m + part.width_m / 2, min(zs), max(zs))


def station_at(part: Part, x_m: float) -> ShellSection:
    """Section of a part's round shell at `x_m`; the ends are domed inside the outline."""
    b = bounds(part)
    low, high = span_at(part.outline_m, min(b.x1, max(b.x0, x_m)))
    from_end = max(0.0, min(x_m - b.x0, b.x1 - x_m))
    short = max(0.0, 1.0 - from_end / DOME_M)
    dome = 0.66 + 0.34 * sqrt(max(0.0, 1.0 - short * short))
    half_height, middle = (high - low) / 2.0, (high + low) / 2.0
    return ShellSection(x_m, part.y_m, middle, part.width_m / 2.0 * dome, half_height * dome)


def shell(part: Part) -> RoundShell:
    """A tank as a round shell: an ellipse as high and as wide as the part at every place."""
    b = bounds(part)
    domes = (0.0, 0.05, 0.18, DOME_M)
    places = {b.x0 + d for d in domes} | {b.x1 - d for d in domes}
    places |= {x for x, _ in part.outline_m if b.x0 + DOME_M < x < b.x1 - DOME_M}
    count = max(1, round((b.x1 - b.x0 - 2 * DOME_M) / SEAM_PITCH_M))
    step = (b.x1 - b.x0 - 2 * DOME_M) / count
    seams = tuple(station_at(part, b.x0 + DOME_M + n * step) for n in range(count + 1))
    middle = ((b.x0 + b.x1) / 2.0, part.y_m, (b.z0 + b.z1) / 2.0)
    return RoundShell(part.name, tuple(station_at(part, x) for x in sorted(places)), seams, middle)


def _top_ends(part: Part) -> tuple[float, float]:
    """Where a tank's walkway begins and ends."""
    b = bounds(part)
    return b.x0 + 0.16 * (b.x1 - b.x0), b.x1 - 0.12 * (b.x1 - b.x0)


def _tank_top(part: Part, builder: Builder) -> None:
    """The walkway on a tank's top."""
    b, (x0, x1) = bounds(part), _top_ends(part)
    steps = max(2, round((x1 - x0) / 1.3))
    ribs = [x0 + (x1 - x0) * n / steps for n in range(1, steps)]
    builder.box((x0, part.y_m - 0.34, b.z1 - 0.03), (x1, part.y_m + 0.34, b.z1 + 0.07), WALKWAY_PAINT, ribs=ribs)


def lids(part: Part) -> tuple[Lid, ...]:
    """The lids along a tank's top."""
    b, (x0, x1) = bounds(part), _top_ends(part)
    count = max(2, round((x1 - x0) / SEAM_PITCH_M))
    places = (x0 + (x1 - x0) * (n + 0.5) / count for n in range(count))
    return tuple(Lid((x, part.y_m, b.z1 + 0.12), 0.28) for x in places)


def _box(part: Part, builder: Builder) -> None:
    b = bounds(part)
    count = max(2, round((b.x1 - b.x0) / 1.2))
    ribs = [b.x0 + (b.x1 - b.x0) * n / count for n in range(1, count)]
    builder.prism(part.outline_m, b.y0, b.y1, BODY_PAINT, ribs=ribs)


def _frame(part: Part, builder: Builder) -> None:
    """Two rails and the cross members between them."""
    b = bounds(part)
    out, inner = 0.24 * part.width_m, 0.17 * part.width_m
    count = max(2, round((b.x1 - b.x0) / 1.4))
    for n in range(1, count):
        x = b.x0 + (b.x1 - b.x0) * n / count
        low, high = span_at(part.outline_m, x)
        third = (high - low) / 3.0
        builder.box((x - 0.06, part.y_m - inner, low + third), (x + 0.06, part.y_m + inner, high), FRAME_PAINT)
    for side in (-1.0, 1.0):
        edges = sorted((part.y_m + side * inner, part.y_m + side * out))
        builder.prism(part.outline_m, edges[0], edges[1], FRAME_PAINT)


def _legs(part: Part, builder: Builder) -> None:
    """Two legs with their plates, and the brace between."""
    b = bounds(part)
    x, plate = (b.x0 + b.x1) / 2.0, min(0.09, (b.z1 - b.z0) / 4.0)
    reach = min((b.x1 - b.x0) / 2.0, 0.26)
    for side in (-1.0, 1.0):
        y = part.y_m + side * (part.width_m / 2.0 - 0.15)
        builder.box((x - 0.08, y - 0.08, b.z0 + plate), (x + 0.08, y + 0.08, (b.z0 + b.z1) / 2.0), CASE_PAINT)
        builder.box((x - 0.12, y - 0.12, (b.z0 + b.z1) / 2.0), (x + 0.12, y + 0.12, b.z1), FRAME_PAINT)
        builder.box((x - reach, y - 0.15, b.z0), (x + reach, y + 0.15, b.z0 + plate), DARK_PAINT)
    z = b.z0 + 0.7 * (b.z1 - b.z0)
    builder.box((x - 0.05, b.y0 + 0.3, z), (x + 0.05, b.y1 - 0.3, z + 0.1), FRAME_PAINT)


def _axles(part: Part, builder: Builder) -> None:
    """The axle beams of a wheel group."""
    half = part.width_m / 2 - 0.2
    for wheel in wheels(part)[::2]:
        x, _, z = wheel.middle_m
        builder.box((x - 0.09, part.y_m - half, z - 0.09), (x + 0.09, part.y_m + half, z + 0.09), CASE_PAINT)


def _hangers(part: Part, trailer: Trailer, builder: Builder) -> None:
    """What joins wheels and bumper to the body over them: two rails, up to where that body begins."""
    b = bounds(part)
    x = (b.x0 + b.x1) / 2.0
    over = [o for o in map(bounds, (p for p in trailer.parts if p.drawn_as in CARRIERS)) if o.x0 <= x <= o.x1]
    ceiling = min((o.z0 for o in over if o.z0 > b.z0 + 0.3), default=b.z1)
    inset = 0.32 if part.drawn_as == "wheels" else 0.02
    x0, x1, z0 = b.x0 + inset, b.x1 - inset, b.z1 - (0.3 if part.drawn_as == "wheels" else 0.0)
    if ceiling - z0 < 0.05 or ceiling - b.z1 > 1.0:
        return
    for side in (-1.0, 1.0):
        y = part.y_m + side * 0.19 * part.width_m
        builder.box((x0, y - 0.08, z0), (x1, y + 0.08, ceiling + 0.04), FRAME_PAINT)


def wheels(part: Part) -> tuple[Wheel, ...]:
    """The wheels that fill a wheel group's outline, both sides."""
    b = bounds(part)
    radius = min(0.52, (b.z1 - b.z0) / 2.0, (b.x1 - b.x0) / 2.0)
    room = b.x1 - b.x0 - 2 * radius
    count = 1 + max(0, round(room / WHEEL_PITCH_M))
    half = min(TYRE_WIDTH_M, part.width_m / 3.0) / 2.0
    places = [b.x0 + radius + (room * n / (count - 1) if count > 1 else room / 2.0) for n in range(count)]
    return tuple(
        Wheel((x, part.y_m + side * (part.width_m / 2.0 - half), b.z0 + radius), radius, half)
        for x in places
        for side in (1.0, -1.0)
    )


def _bumper(part: Part, builder: Builder) -> None:
    """A bar across on two stays."""
    b = bounds(part)
    bar = min(0.2, (b.z1 - b.z0) / 2.0)
    for side in (-1.0, 1.0):
        y = part.y_m + side * 0.3 * part.width_m
        builder.box((b.x1 - 0.16, y - 0.06, b.z0 + bar), (b.x1 - 0.04, y + 0.06, b.z1), FRAME_PAINT)
    builder.box((b.x1 - 0.2, b.y0, b.z0), (b.x1, b.y1, b.z0 + bar), FRAME_PAINT)


def _plain(paint: Paint) -> Callable[[Part, Builder], None]:
    def add(part: Part, builder: Builder) -> None:
        b = bounds(part)
        builder.prism(part.outline_m, b.y0, b.y1, paint)

    return add


BUILDERS: dict[str, Callable[[Part, Builder], None]] = {
    "tank": _tank_top,
    "box": _box,
    "frame": _frame,
    "wheels": _axles,
    "legs": _legs,
    "plate": _plain(DARK_PAINT),
    "bumper": _bumper,
    "case": _plain(CASE_PAINT),
}
DRAWN_FIRST = ("frame", "plate", "box", "tank")
CARRIERS = ("frame", "box", "tank")


def trailer_shape(trailer: Trailer) -> TrailerShape:
    """Everything there is to draw of a trailer."""
    builder = Builder()
    ranks = {kind: n for n, kind in enumerate(DRAWN_FIRST)}
    for part in sorted(trailer.parts, key=lambda p: ranks.get(p.drawn_as, len(ranks))):
        BUILDERS[part.drawn_as](part, builder)
        if part.drawn_as in ("wheels", "bumper"):
            _hangers(part, trailer, builder)
    shells = tuple(shell(part) for part in trailer.parts if part.drawn_as == "tank")
    rolling = tuple(wheel for part in trailer.parts if part.drawn_as == "wheels" for wheel in wheels(part))
    tops = tuple(lid for part in trailer.parts if part.drawn_as == "tank" for lid in lids(part))
    return TrailerShape(builder.build(), shells, rolling, tops)
