"""Can a lift begin as it is described? What only shows when the trailer lies on the ground and the lines hang."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, inf, isfinite, sqrt

from simulator.engine.commands import still
from simulator.engine.simulation import Simulation
from simulator.mechanics.bearing import bearing_used
from simulator.mechanics.ground import bed_at
from simulator.mechanics.trailer_body import Vector, lying, part_sides, rotation, stated_cg_m, turned_back
from simulator.scenario.faults import Fault
from simulator.scenario.rig import rig_of
from simulator.scenario.trailer import Part

LOOKED_AT_S = 0.5
"""So long nobody touches a lever, and the trailer has to lie still."""
FASTEST_MPS = 0.3
FARTHEST_M = 0.1
DEEPEST_M = 0.3
"""So far the ground may stand over a part's underside. All three: our own choice, well over what soft ground gives."""
SINKS_MPS = 0.005
"""So fast a float may sink under its unit alone, before anything hangs: a foot in a minute. Our own choice."""
AXES: tuple[Vector, ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
PLACES = 24
"""Places along the trailer at which the ground is looked at."""


def unfit(description_name: str, simulation: Simulation) -> list[Fault]:
    """Why a lift cannot begin; nothing when it can.

    Args:
        description_name: its file's name, for the faults.
        simulation: of the lift, at time zero; it is there again afterward.
    """
    at_once = (_taut, _tipping, _sinking, _pierced)
    rows = [row for look in at_once for row in look(simulation)] or [*_restless(simulation)]
    return [Fault(f"{description_name}: {place}", given, allowed) for place, given, allowed in rows]


def _taut(simulation: Simulation) -> Iterator[tuple[str, str, str]]:
    """A line that is shorter than the way to its hook would pull with all its stretch at once."""
    description = simulation.description
    for rigged, state in zip(rig_of(description).lines, simulation.state.lines, strict=True):
        line = description.units[rigged.unit].lines[rigged.number - 1]
        short_m = state.hang.distance_m - state.line_m
        if short_m > 0.0:
            allowed = f"more than {line.rope_out_m + line.hoist.parts * short_m:.2f} m: slack at time zero"
            yield f"[units {rigged.unit + 1}.lines {rigged.number}] rope_out", f"{line.rope_out_m:g} m", allowed


def _tipping(simulation: Simulation) -> Iterator[tuple[str, str, str]]:
    """A unit that no floats balance before anything hangs on it."""
    for unit, boom in zip(simulation.model.units, simulation.state.booms, strict=True):
        if boom.stance.tipping:
            given, allowed = "floats on which the unit tips over with no load", "a unit that stands by itself"
            yield f"[units {unit.place + 1}.floats] toward_tailboard", given, allowed


def _sinking(simulation: Simulation) -> Iterator[tuple[str, str, str]]:
    """Ground that a unit's floats go through before anything hangs on it."""
    for unit in simulation.model.units:
        numbers = unit.numbers
        on_N, bears_Pa = max(numbers.resting_N), numbers.bearing_Pa
        over = bearing_used(on_N, numbers.pad_side_m, bears_Pa) - 1.0
        if numbers.settle_mps * over > SINKS_MPS:
            least_m = sqrt(on_N / (bears_Pa * (1.0 + SINKS_MPS / numbers.settle_mps)))
            sinks = f"{numbers.settle_mps * over:.2g} m/s under the unit alone"
            given = f"{numbers.pad_side_m:g} m, which sinks into this ground at {sinks}"
            yield f"[units {unit.place + 1}.floats] pad_side", given, f"{least_m:.2f} m or more, or firmer ground"


def _pierced(simulation: Simulation) -> Iterator[tuple[str, str, str]]:
    """The ground must not stand inside the trailer."""
    own = _OwnAxes(simulation)
    tops, down = [own.point(top) for top in _tops(simulation)], own.way((0.0, 0.0, -1.0))
    depth_m, name = max(((_inside_m(part, tops, down), part.name) for part in _parts(simulation)), default=(0.0, ""))
    if depth_m > DEEPEST_M:
        given = f"ground that stands {depth_m:.2f} m over the underside of {name} as the trailer lies there"
        yield "[site] section", given, f"at most {DEEPEST_M:g} m: the trailer lies on the ground, not in it"


def _parts(simulation: Simulation) -> tuple[Part, ...]:
    return simulation.description.trailer.parts


def _tops(simulation: Simulation) -> list[Vector]:
    """The highest places of the ground near the trailer, from its CG on."""
    motion, model = simulation.state.motion, simulation.model
    surface, reach = model.bed.surface, model.bed.farthest_m
    along = [motion.x + reach * (2.0 * i / PLACES - 1.0) for i in range(PLACES + 1)]
    found = []
    for x in (*along, *(at for at, _ in surface.bed)):
        rise, _ = bed_at(surface, x)
        for (y, z), carries in zip(surface.section, surface.carries_bed, strict=True):
            if abs(y - motion.y) < reach:
                found.append((x - motion.x, y - motion.y, z + carries * rise - motion.z))
    return found


class _OwnAxes:
    """The trailer's own axes, as it lies there."""

    def __init__(self, simulation: Simulation) -> None:
        trailer, motion = simulation.description.trailer, simulation.state.motion
        self._matrix = rotation(motion.pitch, motion.yaw, motion.roll)
        self._lying = [lying(trailer.attitude, axis) for axis in AXES]
        # Both from the stated CG: the true one, and where the axes begin.
        cg, begins = self._along(simulation.model.body.cg_m), stated_cg_m(trailer)
        self._from_m = [one + other for one, other in zip(cg, begins, strict=True)]

    def way(self, way: Vector) -> Vector:
        """A direction of the world along them."""
        return self._along(turned_back(self._matrix, way))

    def point(self, from_cg: Vector) -> Vector:
        """A point of the world, from the CG on, in them."""
        a, b, c = (one + other for one, other in zip(self.way(from_cg), self._from_m, strict=True))
        return a, b, c

    def _along(self, way: Vector) -> Vector:
        a, b, c = (sum(one * other for one, other in zip(axis, way, strict=True)) for axis in self._lying)
        return a, b, c


def _inside_m(part: Part, tops: list[Vector], down: Vector) -> float:
    """How far the highest places of the ground stand over a part's underside there, all in the trailer's own axes."""
    sides = part_sides(part)
    return max((_over_m(sides, top, down) for top in tops), default=0.0)


def _over_m(sides: tuple[tuple[Vector, float], ...], point: Vector, down: Vector) -> float:
    """How far down from a point the part ends that lies there; nothing where none of it is under the point."""
    enters, leaves = 0.0, inf
    for out, room in sides:
        distance = room - sum(one * other for one, other in zip(out, point, strict=True))
        toward = sum(one * other for one, other in zip(out, down, strict=True))
        if toward > 1e-9:
            leaves = min(leaves, distance / toward)
        elif toward < -1e-9:
            enters = max(enters, distance / toward)
        elif distance < 0.0:
            return 0.0
    return leaves if enters < leaves < inf else 0.0


def _restless(simulation: Simulation) -> Iterator[tuple[str, str, str]]:
    """Left alone, the trailer stays where it lies."""
    start, fastest = simulation.state.motion, 0.0
    for _ in range(round(LOOKED_AT_S / simulation.model.dt)):
        now = simulation.step(still(rig_of(simulation.description))).motion
        fastest = max(fastest, hypot(now.vx, now.vy, now.vz))
    moved = hypot(now.x - start.x, now.y - start.y, now.z - start.z)
    simulation.reset()
    if not isfinite(moved) or moved > FARTHEST_M or not fastest <= FASTEST_MPS:
        given = f"a place where the trailer does not come to rest (left alone it moves at {fastest:.3g} m/s)"
        yield "[trailer.start] y", given, "a place, an attitude and ground on which it lies still"
