"""Can a lift begin as it is described? What only shows when the trailer lies on the ground and the lines hang."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import hypot, inf, isfinite

from simulator.engine.commands import STILL
from simulator.engine.motion import Motion
from simulator.engine.simulation import Simulation
from simulator.mechanics.ground import bed_at
from simulator.mechanics.trailer import Vector, lying, rotation, stated_cg_m, turned_back
from simulator.scenario.description import END_NAMES
from simulator.scenario.faults import Fault
from simulator.scenario.trailer import Part

LOOKED_AT_S = 0.5
"""So long nobody touches a lever, and the trailer has to lie still."""
FASTEST_MPS = 0.3
FARTHEST_M = 0.1
DEEPEST_M = 0.3
"""So far the ground may reach into a part. All three: our own choice, well over what soft ground gives."""
PLACES = 24
"""Places along the trailer at which the ground is looked at."""


def unfit(description_name: str, simulation: Simulation) -> list[Fault]:
    """Why a lift cannot begin; nothing when it can.

    Args:
        description_name: its file's name, for the faults.
        simulation: of the lift, at time zero; it is there again afterward.
    """
    rows = [*_taut(simulation), *_pierced(simulation)] or [*_restless(simulation)]
    return [Fault(f"{description_name}: {place}", given, allowed) for place, given, allowed in rows]


def _taut(simulation: Simulation) -> Iterator[tuple[str, str, str]]:
    """A line that is shorter than the way to its hook would pull with all its stretch at once."""
    description = simulation.description
    starts = (description.start.nose, description.start.tail)
    for end, unit in enumerate(simulation.state.units):
        short_m = unit.hang.distance_m - unit.line_m
        if short_m > 0.0:
            rope_m = starts[end].rope_out_m + description.units[end].hoist.parts * short_m
            allowed = f"more than {rope_m:.2f} m: the line hangs slack at time zero"
            yield f"[start.{END_NAMES[end]}] rope_out", f"{starts[end].rope_out_m:g} m", allowed


def _pierced(simulation: Simulation) -> Iterator[tuple[str, str, str]]:
    """The ground must not stand inside the trailer."""
    depth_m, name = max(((_inside_m(simulation, part), part.name) for part in _parts(simulation)), default=(0.0, ""))
    if depth_m > DEEPEST_M:
        given = f"ground that reaches {depth_m:.2f} m into {name} as the trailer lies there"
        yield "[site] section", given, f"at most {DEEPEST_M:g} m: ground or bed beside or under the trailer"


def _parts(simulation: Simulation) -> tuple[Part, ...]:
    return simulation.description.trailer.parts


def _inside_m(simulation: Simulation, part: Part) -> float:
    """How deep the highest places of the ground are inside a part."""
    motion, model = simulation.state.motion, simulation.model
    surface, reach = model.bed.surface, model.bed.farthest_m
    along = [motion.x + reach * (2.0 * i / PLACES - 1.0) for i in range(PLACES + 1)]
    deepest = 0.0
    for x in (*along, *surface.bed_x_m):
        rise, _ = bed_at(surface, x)
        for (y, z), carries in zip(surface.section, surface.carries_bed, strict=True):
            deepest = max(deepest, _depth_m(part, _own(simulation, motion, (x, y, z + carries * rise))))
    return deepest


def _own(simulation: Simulation, motion: Motion, point: Vector) -> Vector:
    """A point of the world in the trailer's own axes."""
    trailer, cg = simulation.description.trailer, simulation.model.body.cg_m
    matrix = rotation(motion.pitch, motion.yaw, motion.roll)
    x, y, z = turned_back(matrix, (point[0] - motion.x, point[1] - motion.y, point[2] - motion.z))
    lies = x + cg[0], y + cg[1], z + cg[2]
    origin = stated_cg_m(trailer)
    axes = (lying(trailer.attitude, axis) for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)))
    a, b, c = (sum(one * other for one, other in zip(axis, lies, strict=True)) for axis in axes)
    return a + origin[0], b + origin[1], c + origin[2]


def _depth_m(part: Part, point: Vector) -> float:
    """Least way out of a part; not positive outside."""
    x, y, z = point
    corners = part.outline_m
    area = sum(x0 * z1 - x1 * z0 for (x0, z0), (x1, z1) in pairwise((*corners, corners[0])))
    way = 1.0 if area > 0.0 else -1.0
    depth = part.width_m / 2.0 - abs(y - part.y_m)
    for (x0, z0), (x1, z1) in pairwise((*corners, corners[0])):
        length = hypot(x1 - x0, z1 - z0)
        depth = min(depth, way * ((x1 - x0) * (z - z0) - (z1 - z0) * (x - x0)) / length if length else inf)
    return depth


def _restless(simulation: Simulation) -> Iterator[tuple[str, str, str]]:
    """Left alone, the trailer stays where it lies."""
    start, fastest = simulation.state.motion, 0.0
    for _ in range(round(LOOKED_AT_S / simulation.model.dt)):
        now = simulation.step(STILL).motion
        fastest = max(fastest, hypot(now.vx, now.vy, now.vz))
    moved = hypot(now.x - start.x, now.y - start.y, now.z - start.z)
    simulation.reset()
    if not isfinite(moved) or moved > FARTHEST_M or not fastest <= FASTEST_MPS:
        given = f"a place where the trailer does not come to rest (left alone it moves at {fastest:.3g} m/s)"
        yield "[start.trailer] y", given, "a place, an attitude and ground on which it lies still"
