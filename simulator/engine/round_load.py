"""A line that runs round the load, at the pose of now: where its sling leaves the load, and which way it pulls.

The law is that of `mechanics.sling`: a taut string on the convex outline at the pick, unfolded along the load. The load
feels the pull where the string leaves it, and nowhere else. A line that is off the load comes to bear the shorter way
round, and keeps that way until it is off again.
"""

from __future__ import annotations

from math import cos, sin, sqrt

from simulator.engine.moving import Body, Line
from simulator.engine.slung import OFF, RoundNumbers, WayRound, bears, bend_of, length_m, turned_rad


def lay(line: Line, own: RoundNumbers, body: Body) -> None:
    """Where the line leaves the load and how it runs on to its sheave, at the pose of now.

    Args:
        line: changed in place.
        own: its sling.
        body: the trailer.
    """
    a, b, c, d, e, f, g, h, i = body.matrix
    dx, dy, dz = line.sheave_x - body.x, line.sheave_y - body.y, line.sheave_z - body.z
    x, y, z = a * dx + d * dy + g * dz, b * dx + e * dy + h * dz, c * dx + f * dy + i * dz
    way = line.way = _way(line.way, own, y, z)
    if way == OFF:
        line.laid_m = 0.0
        _run(line, own, body, own.pick_y, own.pick_z, 0.0, x, y, z)
        return
    found = own.ways[way]
    _leave(line, own, found, body, x, y, z)


def _way(was: int, own: RoundNumbers, y: float, z: float) -> int:
    """The way round that the line has from here on."""
    if was != OFF:
        return was if _is_bearing(own.ways[was], y, z) else OFF
    if not (_is_bearing(own.ways[0], y, z) and _is_bearing(own.ways[1], y, z)):
        return OFF
    return 0 if length_m(own.ways[0], y, z) <= length_m(own.ways[1], -y, z) else 1


def _is_bearing(way: WayRound, y: float, z: float) -> bool:
    return bears(way, -y if way.is_mirrored else y, z)


def _leave(line: Line, own: RoundNumbers, way: WayRound, body: Body, x: float, y: float, z: float) -> None:
    """Where it leaves this way round, and on from there."""
    seen_y = -y if way.is_mirrored else y
    bend = bend_of(way, seen_y, z)
    at_y, at_z, radius, laid = way.y_m[bend], way.z_m[bend], way.radius_m[bend], way.before_m[bend]
    if radius > 0.0:
        turned = turned_rad(way, bend, seen_y, z)
        looks = way.begins_rad[bend] + turned
        at_y, at_z, laid = at_y + radius * cos(looks), at_z + radius * sin(looks), laid + radius * turned
    if way.is_mirrored:
        at_y = -at_y
    _run(line, own, body, at_y, at_z, laid, x, y, z)


def _run(
    line: Line, own: RoundNumbers, body: Body, at_y: float, at_z: float, laid: float, x: float, y: float, z: float
) -> None:
    """The string unfolded along the load, from the pick to a sheave at (x, y, z) in the load's axes.

    Args:
        line: changed in place.
        own: its sling.
        body: the trailer.
        at_y: where it leaves, in the plane of the cut.
        at_z: the same.
        laid: so much lies in that plane.
        x: of the sheave, and so are y and z.
        y: across.
        z: up.
    """
    a, b, c, d, e, f, g, h, i = body.matrix
    out_y, out_z, along = y - at_y, z - at_z, x - own.pick_x
    round_m = laid + sqrt(out_y * out_y + out_z * out_z)
    length = sqrt(along * along + round_m * round_m)
    part = laid / round_m
    at_x, out_x, free = own.pick_x + along * part, along * (1.0 - part), (1.0 - part) * length
    px, py, pz = a * at_x + b * at_y + c * at_z, d * at_x + e * at_y + f * at_z, g * at_x + h * at_y + i * at_z
    wx, wy, wz = a * out_x + b * out_y + c * out_z, d * out_x + e * out_y + f * out_z, g * out_x + h * out_y + i * out_z
    ux, uy, uz = wx / free, wy / free, wz / free
    line.laid_m = laid = part * length
    off = own.sling_m - laid
    line.arm_m = px, py, pz
    line.ux, line.uy, line.uz = ux, uy, uz
    line.hook_x, line.hook_y, line.hook_z = body.x + px + off * ux, body.y + py + off * uy, body.z + pz + off * uz
    line.distance_m = free - off
