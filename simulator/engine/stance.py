"""How a unit stands under its lines' pulls: floats, capacity, stall, and what the tip gives along the pulls and square
to them.

Each line pulls at its own sheave; floats, capacity and lean answer to the sum. The tip's displacement is the boom's
bending and the frame's sink and lean with the pulls less those without them. Its part along the sum is in the lines'
springs (`lines`) and is taken out of the lean here, so that it counts once.
"""

from __future__ import annotations

from math import cos, hypot, inf, sin, sqrt
from typing import Final

from simulator.engine.booms import aim
from simulator.engine.drives import press
from simulator.engine.leaning import begin, read_floats, stands_again
from simulator.engine.moving import Line, Unit
from simulator.mechanics.bearing import bearing_used
from simulator.mechanics.four_floats import Four, lies_level, point_moved, stood
from simulator.mechanics.going_over import onto_outline
from simulator.mechanics.lean import along_m_per_N, bending, both, displacement_m, frame_compliance, tip_give_m_per_N
from simulator.mechanics.matrix import Matrix, Vector
from simulator.mechanics.unit_loads import least_float, on_functions, plumb_load_that_tips_N, pulled_at, weights

ALMOST_SLACK_N: Final = 2000.0
"""Under this load the give along the pulls is taken from the springs alone, not from the displacement."""


class Pulls:
    """The pulls of a unit's lines, added up, in the unit's own axes."""

    __slots__ = ("at", "hook", "load", "size_N", "toward")

    def __init__(self, size_N: float, toward: Vector, at: Vector, hook: Vector, load: Vector) -> None:
        """See the names."""
        self.size_N: float = size_N
        self.toward: Vector = toward
        """Unit vector of the sum, from the load up."""
        self.at: Vector = at
        """Where the sum acts: the sheaves by their loads."""
        self.hook: Vector = hook
        """The hooks by their loads, world axes."""
        self.load: Vector = load
        """On the frame."""


def stand(unit: Unit, dt: float) -> None:
    """The unit's answer to its lines' loads.

    Args:
        unit: as it is now.
        dt: since it was asked last, s.
    """
    numbers, foot = unit.numbers, unit.numbers.foot
    length, elevation, slew = unit.telescope.at, unit.elevation.at, unit.slew.at
    level, steep, cos_slew, sin_slew = cos(elevation), sin(elevation), cos(slew), sin(slew)
    gives_way(unit)
    gx, gy, gz = unit.given_m
    tip_x, tip_y, tip_z = unit.tip_x, unit.tip_y, unit.tip_z
    if unit.over.is_up:  # as it would be if the unit stood
        tip_x, tip_y, tip_z = unit.aimed_x + unit.lean_x, unit.aimed_y + unit.lean_y, unit.aimed_z + unit.lean_z
    u, v, z = foot.facing * (tip_x + gx - foot.slew_axis_x_m), tip_y + gy, tip_z + gz
    pulls = added_up(unit, (u, v, z), cos_slew, sin_slew, numbers.given_share if dt > 0.0 else 1.0)
    out, rise = u * cos_slew + v * sin_slew + foot.foot_pin_back_m, z - foot.foot_pin_height_m
    own = weights(numbers.stand, out, rise, cos_slew, sin_slew)
    whole = own[0] + pulls.load[0], own[1] + pulls.load[1], own[2] + pulls.load[2]
    floats, tips, sunk = stood(numbers.stand.frame, whole, unit.sunk_m)
    if tips or unit.over.is_up:
        floats, sunk = _goes_over(unit, whole, floats, tips, dt)
    way = level * cos_slew, level * sin_slew, steep
    bent = bending(tip_give_m_per_N(numbers.bend, length), way)
    _give(unit, pulls, bent, own, sunk, dt)
    unit.floats_N = floats
    unit.least_float, unit.least_float_share = least_float(floats, numbers.resting_N)
    unit.ground_used = bearing_used(max(floats), numbers.pad_side_m, numbers.bearing_Pa)
    unit.capacity_used = _capacity_used(unit, pulls, plumb_load_that_tips_N(numbers.stand, own, pulls.at))
    _bears_on_functions(unit, pulls, (length, level, steep), (cos_slew, sin_slew))
    if unit.ground_used > 1.0:
        unit.sunk_m = _settled(unit, floats, dt)


def _goes_over(unit: Unit, whole: Vector, floats: Four, tips: bool, dt: float) -> tuple[Four, Vector]:
    """Floats, and sink and leans on them, of a unit that goes over: it begins to, or it may stand again."""
    over, frame = unit.over, unit.numbers.stand.frame
    _, _, sunk = stood(frame, onto_outline(frame, whole), unit.sunk_m)
    if not over.is_up:
        unit.floats_N = floats
        begin(unit)
    elif not tips and stands_again(over):
        over.stands()
        aim(unit)
    elif dt > 0.0 and not over.is_gone:
        floats = read_floats(over, dt)
    return floats, sunk


def gives_way(unit: Unit) -> None:
    """The tip goes on along its lines' pulls, as slowly as it leans square to them: no bouncing."""
    give, share = unit.give_m_per_N, unit.numbers.given_share
    gx = gy = gz = 0.0
    for line in unit.lines:
        given = give * line.pull_N
        gx, gy, gz = gx - given * line.ux, gy - given * line.uy, gz - given * line.uz
    x, y, z = unit.given_m
    unit.given_m = x + (gx - x) * share, y + (gy - y) * share, z + (gz - z) * share


def added_up(unit: Unit, tip: Vector, cos_slew: float, sin_slew: float, part_share: float) -> Pulls:
    """The sum of a unit's pulls, block and rigging included, each at its own sheave; `part_share` as in
    `_part_of_each`."""
    on, way = unit.numbers.stand, unit.numbers.foot.facing
    u, v, z = tip
    total = at_u = at_v = hook_x = hook_y = hook_z = down = to_u = to_v = sum_u = sum_v = sum_z = 0.0
    count = 0
    for line in unit.lines:
        load, across, count = line.pull_N + line.numbers.below_sheave_N, line.numbers.across_m, count + 1
        sheave_u, sheave_v = u - sin_slew * across, v + cos_slew * across
        du, dv, dz = way * line.ux, line.uy, line.uz
        a, b, c = pulled_at(on, (sheave_u, sheave_v, z), (-du * load, -dv * load, -dz * load))
        down, to_u, to_v = down + a, to_u + b, to_v + c
        sum_u, sum_v, sum_z = sum_u + du * load, sum_v + dv * load, sum_z + dz * load
        total += load
        share = load / total if total > 0.0 else 1.0 / count
        at_u, at_v = at_u + (sheave_u - at_u) * share, at_v + (sheave_v - at_v) * share
        hook_x, hook_y = hook_x + (line.hook_x - hook_x) * share, hook_y + (line.hook_y - hook_y) * share
        hook_z = hook_z + (line.hook_z - hook_z) * share
    hook, loaded = (hook_x, hook_y, hook_z), (down, to_u, to_v)
    if count == 1:  # its own direction, to the last bit
        line = unit.lines[0]
        return Pulls(total, (way * line.ux, line.uy, line.uz), (at_u, at_v, z), hook, loaded)
    size = sqrt(sum_u * sum_u + sum_v * sum_v + sum_z * sum_z)
    toward = _part_of_each(unit, size, (sum_u, sum_v, sum_z), part_share)
    return Pulls(size, toward, (at_u, at_v, z), hook, loaded)


def _part_of_each(unit: Unit, size: float, whole: Vector, share: float) -> Vector:
    """The sum's direction, and the cosine of each line with it; lines that bear nothing hang plumb.

    The cosine goes where it is now as slowly as the tip leans (`share` of the way): loads that swap between two lines
    would otherwise change it in time with themselves, and lose the more energy the more seldom the floats are solved.
    """
    sum_u, sum_v, sum_z = whole
    toward = (sum_u / size, sum_v / size, sum_z / size) if size > 0.0 else (0.0, 0.0, 1.0)
    tu, tv, tz = toward
    way = unit.numbers.foot.facing
    for line in unit.lines:
        line.part += (way * line.ux * tu + line.uy * tv + line.uz * tz - line.part) * share
    return toward


def _give(unit: Unit, pulls: Pulls, bent: Matrix, own: Vector, now: Vector, dt: float) -> None:
    """Where the tip's lean goes (world) square to the pulls, and the structure's give along them."""
    frame, way = unit.numbers.stand.frame, unit.numbers.foot.facing
    at, size, sunk = pulls.at, pulls.size_N, unit.sunk_m
    settled_u = settled_v = settled_z = 0.0
    if not lies_level(sunk):
        settled_u, settled_v, settled_z = point_moved(
            at, stood(frame, own, sunk)[2], stood(frame, own, (0.0, 0.0, 0.0, 0.0))[2]
        )
    if size < ALMOST_SLACK_N:
        unit.lean_to_x, unit.lean_to_y, unit.lean_to_z = way * settled_u, settled_v, settled_z
        _gives(unit, along_m_per_N(both(frame_compliance(frame, at), bent), pulls.toward), dt)
        return
    du, dv, dz = pulls.toward
    bu, bv, bz = displacement_m(bent, pulls.toward)
    _, _, without = stood(frame, own, sunk)
    fu, fv, fz = point_moved(at, now, without)
    u, v, z = fu - size * bu, fv - size * bv, fz - size * bz
    along = u * du + v * dv + z * dz
    unit.lean_to_x = way * (u - along * du) + way * settled_u
    unit.lean_to_y = v - along * dv + settled_v
    unit.lean_to_z = z - along * dz + settled_z
    _gives(unit, -along / size, dt)


def _gives(unit: Unit, give: float, dt: float) -> None:
    """The structure's give along the pulls goes where it is now as slowly as the tip leans: a pull whose direction
    swings would otherwise change it in time with the swing, and draw energy from it."""
    unit.give_m_per_N += (give - unit.give_m_per_N) * (unit.numbers.given_share if dt > 0.0 else 1.0)


def _capacity_used(unit: Unit, pulls: Pulls, tips_N: float) -> float:
    """The sum's size over what is allowed at its radius; infinite where nothing is allowed."""
    if pulls.size_N <= 0.0:
        return 0.0
    numbers = unit.numbers
    allowed = numbers.tipping_share * tips_N
    if numbers.table is not None:
        x, y, _ = pulls.hook
        rated = numbers.table.line_load_N(unit.telescope.at, hypot(x - numbers.foot.slew_axis_x_m, y))
        allowed = rated if rated < allowed else allowed
    return pulls.size_N / allowed if allowed > 0.0 else inf


def _bears_on_functions(unit: Unit, pulls: Pulls, boom: Vector, slew: tuple[float, float]) -> None:
    """What every function of the unit has to hold, and so what speed it has left."""
    numbers, size, lead = unit.numbers, pulls.size_N, 0.0
    full, holds = numbers.full_share, numbers.holding_factor
    for line in unit.lines:
        load = line.pull_N + line.numbers.below_sheave_N
        lead += load * line.numbers.lead_share
        _bears_on_winch(line, load, full)
    du, dv, dz = pulls.toward
    force = (-size * du, -size * dv, -size * dz)
    lowers, draws_in, turns = on_functions(numbers.stand, boom, slew, pulls.at, force, lead)
    raising, extending, slewing = numbers.reliefs
    press(unit.elevation, lowers / raising, holds, full, False)
    press(unit.telescope, draws_in / extending, holds, full, False)
    press(unit.slew, -turns / slewing, 1.0, full, True)


def _bears_on_winch(line: Line, load: float, full: float) -> None:
    """A line's load on its winch, on the layer in play; a rope past its strength parts."""
    numbers = line.numbers
    left = numbers.usable_rope_m + line.hoist.at
    _, stall, gear = numbers.layers[-1]
    for up_to, stalls_at, faster in numbers.layers:
        if left <= up_to:
            stall, gear = stalls_at, faster
            break
    line.hoist.gear = gear
    press(line.hoist, load / stall, numbers.brake_over_stall, full, False)
    line.is_parted = line.is_parted or load > numbers.breaking_N


def _settled(unit: Unit, floats: Four, dt: float) -> Four:
    """Floats whose ground is exceeded go on sinking."""
    a, b, c, d = unit.sunk_m
    r0, r1, r2, r3 = floats
    return a + _sinks(unit, r0, dt), b + _sinks(unit, r1, dt), c + _sinks(unit, r2, dt), d + _sinks(unit, r3, dt)


def _sinks(unit: Unit, reaction_N: float, dt: float) -> float:
    numbers = unit.numbers
    over = bearing_used(reaction_N, numbers.pad_side_m, numbers.bearing_Pa) - 1.0
    return numbers.settle_mps * over * dt if over > 0.0 else 0.0
