"""The trailer's things in the order they are drawn, and which of them a body hides."""

from __future__ import annotations

from itertools import chain
from typing import Literal, NamedTuple

from simulator.mechanics.trailer import lying
from simulator.scenario.trailer import Trailer
from simulator.window.solids import Group, Solids, Vector
from simulator.window.trailer_shape import TrailerShape, bounds

Kind = Literal["solid", "shell", "wheel", "lid"]
END_SLACK_M, EDGE_SLACK_M = 0.05, 0.04
TWIN_M = 0.25
"""On its wheels, a flat-faced piece further off than this stands behind a like one nearer."""


class Item(NamedTuple):
    """One thing of the trailer to draw: a flat-faced solid, a shell, a wheel or a lid."""

    kind: Kind
    number: int
    own_m: Vector
    """Its middle, in the trailer's own axes."""
    middle_m: Vector
    low_m: Vector
    high_m: Vector
    """Its middle and bounding box, in lying axes."""

    def is_behind(self, body: Item, yaw_rad: float, roll_rad: float) -> bool:
        """True when `body` hides it whole, seen from the ravine, at a small yaw and roll."""
        deeper = self.middle_m[1] - body.middle_m[1]
        if deeper <= 0.0:
            return False
        x, z = deeper * abs(yaw_rad) + END_SLACK_M, deeper * abs(roll_rad) - EDGE_SLACK_M
        return (
            self.low_m[0] - x > body.low_m[0]
            and self.high_m[0] + x < body.high_m[0]
            and self.low_m[2] - z > body.low_m[2]
            and self.high_m[2] + z < body.high_m[2]
        )


def _item(kind: Kind, index: int, own: Vector, corners: list[Vector], attitude: str) -> Item:
    placed = [lying(attitude, corner) for corner in corners]
    low = (min(p[0] for p in placed), min(p[1] for p in placed), min(p[2] for p in placed))
    high = (max(p[0] for p in placed), max(p[1] for p in placed), max(p[2] for p in placed))
    return Item(kind, index, own, lying(attitude, own), low, high)


def _box_corners(middle: Vector, half: Vector) -> list[Vector]:
    return [(middle[0] + k * half[0], middle[1] + k * half[1], middle[2] + k * half[2]) for k in (-1.0, 1.0)]


def _group_corners(solids: Solids, group: Group) -> list[Vector]:
    rows = solids.points[sorted(set(chain.from_iterable(face.corners for face in group.faces)))].tolist()
    return [(x, y, z) for x, y, z in rows]


def items_of(shape: TrailerShape, trailer: Trailer) -> tuple[Item, ...]:
    """Everything there is to draw; on its wheels, what stands behind its own twin is left out."""
    attitude, rows = trailer.attitude, []
    for n, group in enumerate(shape.solids.groups):
        x, y, z = shape.solids.points[group.centre].tolist()
        if attitude != "on_wheels" or y <= TWIN_M:
            rows.append(_item("solid", n, (x, y, z), _group_corners(shape.solids, group), attitude))
    for n, shell in enumerate(shape.shells):
        ends = [(s.x_m, s.y_m, s.z_m) for s in (shell.stations[0], shell.stations[-1])]
        w, h = max(s.half_width_m for s in shell.stations), max(s.half_height_m for s in shell.stations)
        corners = [c for end in ends for c in _box_corners(end, (0.0, w, h))]
        rows.append(_item("shell", n, shell.middle_m, corners, attitude))
    for n, wheel in enumerate(shape.wheels):
        half = (wheel.radius_m, wheel.half_width_m, wheel.radius_m)
        rows.append(_item("wheel", n, wheel.middle_m, _box_corners(wheel.middle_m, half), attitude))
    for n, lid in enumerate(shape.lids):
        corners = _box_corners(lid.middle_m, (lid.radius_m, lid.radius_m, 0.05))
        rows.append(_item("lid", n, lid.middle_m, corners, attitude))
    return tuple(rows)


def bodies_of(trailer: Trailer) -> tuple[Item, ...]:
    """The tanks and boxes that can hide what is behind them."""
    rows = []
    for n, part in enumerate(trailer.parts):
        if part.drawn_as in ("tank", "box"):
            b = bounds(part)
            middle = ((b.x0 + b.x1) / 2.0, (b.y0 + b.y1) / 2.0, (b.z0 + b.z1) / 2.0)
            corners: list[Vector] = [(b.x0, b.y0, b.z0), (b.x1, b.y1, b.z1)]
            rows.append(_item("solid", n, middle, corners, trailer.attitude))
    return tuple(rows)
