"""Many set-ups at once: the same lift with other weights, centers of gravity, winds and depths, as arrays."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, inf, sin
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.mechanics.allowances import DYNAMIC_MARGIN
from simulator.mechanics.bearing import LEAST_SET_BACK_M, run_of_line_m
from simulator.mechanics.blown import LEAST_HEIGHT_M
from simulator.mechanics.clearance.scene import Pose
from simulator.mechanics.drum import stall_table
from simulator.mechanics.footing import Load as FrameLoad
from simulator.mechanics.footing import own_load_many, pull_load, together
from simulator.mechanics.ground import bed_at, ground, height_m, level_along
from simulator.mechanics.outriggers import solve_many
from simulator.mechanics.rating import TIPPING_SHARE, rated_load_many, tipping_load_many
from simulator.mechanics.trailer_body import rotation, turned
from simulator.mechanics.wind import wind_at_mps
from simulator.plan.flat_rules import holds_used, payload_used
from simulator.plan.hanging import Load, load_of, wind_force_N
from simulator.plan.judged_station import StationCheck
from simulator.plan.rigging_list import rigging_holds_N, rigging_of, rope_holds_N
from simulator.plan.shipped_hardware import shipped_hardware
from simulator.plan.site_rules import RAVINE_FLOATS
from simulator.plan.stations import Station, stations
from simulator.plan.unit_rules import head_room_stop_m, plumb_stop_rad, rope_stop_m
from simulator.plan.unit_stand import Side, UnitStand, side_of, stand_at
from simulator.plan.windy import cg_at_m, lever_m
from simulator.scenario.description import Description
from simulator.scenario.judged_limits import YAW_STOP_RAD
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.standing import float_places, half_pad_m, straight
from simulator.scenario.unit import Unit

Array = NDArray[np.float64]
CODES = (
    "capacity",
    "lightest float",
    "bearing",
    "rope left",
    "stall",
    "off plumb",
    "head room",
    "share",
    "set-back",
    "wind",
    "hoist rope",
    "rigging",
    "yaw",
    "payload",
    "deck holds",
)
"""What a batch judges; all else does not change with what is not known."""
CAPACITY, FLOAT, BEARING, ROPE, STALL, PLUMB, HEAD, SHARE, SET_BACK, WIND, STRENGTH, RIGGING, YAW, PAYLOAD, HOLDS = (
    range(len(CODES))
)


class Unknowns(NamedTuple):
    """One row a set-up."""

    mass_kg: Array
    cg_shift_m: Array
    """Along the trailer from the stated center of gravity, toward the axles."""
    wind_mps: Array
    """Steady; gusts come on top of it as described."""
    depth_m: Array
    """Road to bed under the trailer's reference point."""


@dataclass(frozen=True, slots=True)
class Batch:
    """What no set-up of a batch changes. Build it with `prepare`."""

    description: Description
    load: Load
    sides: tuple[Side, Side]
    path: tuple[Station, ...]
    stands: tuple[tuple[UnitStand, UnitStand], ...]
    wind_per_square_N: tuple[float, float]
    """Force along and across at 1 m/s of steady wind, gust included."""
    cg_m: tuple[tuple[float, float], ...]
    """Center of gravity at each station, along and across."""
    lever_m: tuple[tuple[float, float], ...]
    """From there to where wind acts."""
    depth_m: float
    bed_points: tuple[tuple[float, float], ...]
    """At lift-off, for each point that may touch: height of the section there, and what else its corner adds."""
    strongest_N: tuple[float, ...]
    """Line load that the hoist ropes may carry; infinite where nothing is known of one."""
    rigging_holds_N: tuple[float, ...]
    """Hook load that the rigging holds."""


def prepare(description: Description, *, step_m: float = 1.0) -> Batch:
    """The lift as described, hidden numbers and all, ready for `judge_many`."""
    load = load_of(description)
    path = stations(description, load, step_m=step_m)
    sides = side_of(description, load, 0), side_of(description, load, 1)
    breeze = replace(description, site=replace(description.site, wind=replace(description.site.wind, speed_mps=1.0)))
    stands = tuple((stand_at(sides[0], one), stand_at(sides[1], one)) for one in path)
    hardware = shipped_hardware()
    judged = tuple(StationCheck(one, both, None, None, ()) for one, both in zip(path, stands, strict=True))
    return Batch(
        description=description,
        load=load,
        sides=sides,
        path=path,
        stands=stands,
        wind_per_square_N=wind_force_N(breeze, load),
        cg_m=tuple(cg_at_m(load, one.pose)[:2] for one in path),
        lever_m=tuple(lever_m(load, one.pose) for one in path),
        depth_m=depth_of(description),
        bed_points=_bed_points(description, load),
        strongest_N=tuple(rope_holds_N(hardware, unit.hoist) for unit in description.units),
        rigging_holds_N=tuple(rigging_holds_N(one, hardware) for one in rigging_of(description, judged, hardware)),
    )


def depth_of(description: Description) -> float:
    """Road to the section under the trailer's reference point."""
    flat = level_along(ground(description.site))
    return -height_m(flat, description.trailer.start.x_m, description.trailer.start.y_m)


def _bed_points(description: Description, load: Load) -> tuple[tuple[float, float], ...]:
    start, surface = description.trailer.start, ground(description.site)
    flat = level_along(surface)
    matrix = rotation(start.pitch_rad, start.yaw_rad, start.roll_rad)
    found = []
    for point in load.body.points_m:
        x, y, z = turned(matrix, point)
        section = height_m(flat, start.x_m + x, start.y_m + y)
        found.append((section, height_m(surface, start.x_m + x, start.y_m + y) - section - z))
    return tuple(found)


def judge_many(batch: Batch, unknowns: Unknowns) -> Array:
    """How much of each limit is used at worst along the path: (set-up, code), 1 and more is refused."""
    used = np.zeros((len(unknowns.mass_kg), len(CODES)))
    drop = _drop_m(batch, unknowns.depth_m)
    wind = _wind(batch, unknowns, drop)
    for end in range(len(batch.sides)):
        np.maximum(used, _unit_used(batch, unknowns, end, drop, wind), out=used)
    used[:, SET_BACK] = _set_back_used(batch, unknowns.depth_m)
    used[:, WIND] = _wind_used(batch, unknowns.wind_mps)
    used[:, YAW] = _yaw_used(batch, wind)
    used[:, PAYLOAD] = payload_used(batch.description, unknowns.mass_kg)
    used[:, HOLDS] = holds_used(batch.description, unknowns.cg_shift_m)
    return used


def _drop_m(batch: Batch, depth_m: Array) -> Array:
    """How much lower the trailer lies on a bed of other depth."""
    if batch.depth_m <= 0.0:
        return np.zeros_like(depth_m)
    section, rest = np.array(batch.bed_points).T
    deep = np.where(section < 0.0, section, 0.0)
    scaled = (depth_m / batch.depth_m)[:, None] * deep + (section - deep) + rest
    return np.asarray((section + rest).max() - scaled.max(axis=1))


class _Pulls(NamedTuple):
    """(set-up, station)"""

    load_N: Array
    share: Array
    down_N: Array
    along_N: Array
    across_N: Array


def _pulls(batch: Batch, unknowns: Unknowns, end: int, wind: _Wind) -> _Pulls:
    """What one line carries."""
    weight = (unknowns.mass_kg / batch.load.body.mass_kg)[:, None] * batch.load.weight_N
    share = np.array([_share(batch, one, unknowns, end) for one in batch.path]).T
    hold = np.array([one.hold_N[end] for one in batch.path])
    down = share * weight + batch.sides[end].lines[0].below_sheave_N + hold
    along, across = wind.along_N[end], wind.across_N[end]
    size = np.sqrt(down * down + along * along + across * across)
    return _Pulls(np.where(down > 0.0, size, 0.0), share, down, along, across)


def _share(batch: Batch, station: Station, unknowns: Unknowns, end: int) -> Array:
    """Share of the weight on a line, the center of gravity moved; a cargo that runs weighs its part of any weight."""
    pitch = station.pose.pitch_rad
    span = (station.hooks_m[1][0] - station.hooks_m[0][0]) / cos(station.pose.yaw_rad)
    moved = unknowns.cg_shift_m * cos(pitch) / span
    way = 1.0 if end == 1 else -1.0
    return np.asarray(station.shares[end] + way * moved)


def _unit_used(batch: Batch, unknowns: Unknowns, end: int, drop_m: Array, wind: _Wind) -> Array:
    side, limits = batch.sides[end], batch.description.limits
    hoist = side.unit.hoist
    pulls = _pulls(batch, unknowns, end, wind)
    lowered = _lowered(batch, drop_m)
    line = np.array([stands[end].line.length_m for stands in batch.stands]) + lowered
    rope = np.array([stands[end].line.rope_out_m for stands in batch.stands]) + hoist.parts * lowered
    used = np.zeros((len(drop_m), len(CODES)))
    used[:, CAPACITY] = (_capacity_used(batch, end, pulls, line) / limits.capacity_stop).max(axis=1)
    used[:, FLOAT], used[:, BEARING] = _floats_used(batch, end, pulls)
    used[:, ROPE] = _inverse(hoist.usable_rope_m - rope, rope_stop_m(limits, hoist.parts)).max(axis=1)
    used[:, STALL] = (DYNAMIC_MARGIN * pulls.load_N / _stall_N(side, hoist.usable_rope_m - rope)).max(axis=1)
    used[:, PLUMB] = (_side_pull_rad(batch, end, pulls) / plumb_stop_rad(limits)).max(axis=1)
    used[:, STRENGTH] = pulls.load_N.max(axis=1) / batch.strongest_N[end]
    hook_N = pulls.load_N.max(axis=1) - hoist.block_kg * STANDARD_GRAVITY_MPS2
    used[:, RIGGING] = hook_N / batch.rigging_holds_N[end]
    used[:, SHARE] = _inverse(pulls.share, 0.0).max(axis=1)
    used[:, HEAD] = _inverse(line - hoist.block_and_stop_m, head_room_stop_m(limits)).max(axis=1)
    return used


def _side_pull_rad(batch: Batch, end: int, pulls: _Pulls) -> Array:
    """Off plumb square to the boom."""
    slew = np.array([stands[end].points.slew_rad for stands in batch.stands])
    unit = batch.sides[end].unit
    along, across = _own_pulls(unit, pulls)
    side = across * np.cos(slew) - unit.facing * along * np.sin(slew)
    return np.asarray(np.arctan2(np.abs(side), pulls.down_N))


def _own_pulls(unit: Unit, pulls: _Pulls) -> tuple[Array, Array]:
    """Level parts of the pulls along and across, as the unit has them that is reckoned straight."""
    if unit.yaw_rad == 0.0:
        return pulls.along_N, pulls.across_N
    c, s = cos(unit.yaw_rad), unit.facing * sin(unit.yaw_rad)
    return c * pulls.along_N + s * pulls.across_N, c * pulls.across_N - s * pulls.along_N


def _wind_used(batch: Batch, wind_mps: Array) -> Array:
    """Gust at the boom tips over the lower stop limit of the units."""
    site, limits = batch.description.site, batch.description.limits
    per_mps = wind_at_mps(replace(site.wind, speed_mps=1.0), batch.description.path.tip_height_m)
    stop = min(
        limits.wind_stop_mps if one.wind_stop_mps is None else one.wind_stop_mps for one in batch.description.units
    )
    return np.asarray(wind_mps * per_mps * (1.0 + site.wind.gust_share) / stop)


class _Wind(NamedTuple):
    """What `mechanics.blown` says of one load, for all of them; (set-up, station)."""

    along_N: tuple[Array, Array]
    """Level pull on each line."""
    across_N: tuple[Array, Array]
    yaw_rad: Array


def _wind(batch: Batch, unknowns: Unknowns, drop_m: Array) -> _Wind:
    """Of loads on two plumb lines."""
    weight = (unknowns.mass_kg / batch.load.body.mass_kg)[:, None] * batch.load.weight_N
    square = (unknowns.wind_mps**2)[:, None]
    force = [square * part for part in batch.wind_per_square_N]
    stiff, x, y = [], [], []
    moved = unknowns.cg_shift_m[:, None]
    ways = np.array([_along_load(one.pose) for one in batch.path]).T
    for end in range(len(batch.sides)):
        high = np.array([stands[end].line.length_m for stands in batch.stands]) + _lowered(batch, drop_m)
        share = np.array([_share(batch, one, unknowns, end) for one in batch.path]).T
        stiff.append(np.maximum(0.0, share) * weight / np.maximum(LEAST_HEIGHT_M, high))
        hooks = np.array([one.hooks_m[end][:2] for one in batch.path]).T - np.array(batch.cg_m).T
        x.append(hooks[0] - ways[0] * moved)
        y.append(hooks[1] - ways[1] * moved)
    lever = np.array(batch.lever_m).T
    return _held(force, (stiff, x, y), (lever[0] - ways[0] * moved, lever[1] - ways[1] * moved))


def _held(force: list[Array], lines: tuple[list[Array], list[Array], list[Array]], lever: tuple[Array, Array]) -> _Wind:
    """The sums of `mechanics.blown.blown`, sheaves straight over their hooks."""
    stiff, x, y = lines
    whole = np.maximum(stiff[0] + stiff[1], 1e-9)
    to_x, to_y = ((stiff[0] * at[0] + stiff[1] * at[1]) / whole for at in (x, y))
    back = sum(k * (u * u + v * v) for k, u, v in zip(stiff, x, y, strict=True)) - whole * (to_x**2 + to_y**2)
    turns = (lever[0] - to_x) * force[1] - (lever[1] - to_y) * force[0]
    yaw = np.divide(turns, back, out=np.where(np.abs(turns) > 0.0, inf, 0.0) + 0.0 * back, where=back > 1e-3)
    held = np.where(np.isfinite(yaw), yaw, 0.0)
    off_x, off_y = force[0] / whole + held * to_y, force[1] / whole - held * to_x
    along = [k * (off_x - held * v) for k, v in zip(stiff, y, strict=True)]
    across = [k * (off_y + held * u) for k, u in zip(stiff, x, strict=True)]
    return _Wind((along[0], along[1]), (across[0], across[1]), yaw)


def _along_load(pose: Pose) -> tuple[float, float]:
    """Level parts of a meter along the load."""
    return cos(pose.pitch_rad) * cos(pose.yaw_rad), cos(pose.pitch_rad) * sin(pose.yaw_rad)


def _lowered(batch: Batch, drop_m: Array) -> Array:
    """How much longer lines are at lift-off on a bed of other depth."""
    lowered = np.zeros((len(drop_m), len(batch.path)))
    lowered[:, 0] = drop_m
    return lowered


def _yaw_used(batch: Batch, wind: _Wind) -> Array:
    """Yaw by wind over its stop, while the load hangs."""
    hangs = [i for i, one in enumerate(batch.path) if one.phase not in ("lift-off", "landed")]
    return np.asarray(np.abs(wind.yaw_rad[:, hangs]).max(axis=1) / YAW_STOP_RAD)


def _inverse(value: Array, least: float) -> Array:
    """Share used of something that must not be less than `least`; infinite at nothing left."""
    return np.divide(least, value, out=np.full_like(value, inf), where=value > 0.0)


def _stall_N(side: Side, rope_left_m: Array) -> Array:
    upto, load = np.array(stall_table(side.unit.hoist)).T
    layer = np.searchsorted(upto + 1e-9, rope_left_m)
    return np.asarray(load[np.minimum(layer, len(load) - 1)])


def _tips(batch: Batch, end: int) -> tuple[Array, Array, Array]:
    """Tips in the unit's own axes, one a station."""
    unit = batch.sides[end].unit
    way, x = unit.facing, unit.slew_axis_x_m
    tip = np.array([straight(unit, one.tips_m[end]) for one in batch.path])
    return way * (tip[:, 0] - x), tip[:, 1], tip[:, 2]


def _own(batch: Batch, end: int) -> tuple[Array, FrameLoad[Array]]:
    length, elevation, slew = np.array([stands[end].points for stands in batch.stands]).T
    return length, own_load_many(batch.sides[end].stand, length, elevation, slew)


def _capacity_used(batch: Batch, end: int, pulls: _Pulls, line_m: Array) -> Array:
    side = batch.sides[end]
    u, v, z = _tips(batch, end)
    length, own = _own(batch, end)
    rating = side.unit.rating
    share = TIPPING_SHARE if rating is None else rating.tipping_share
    tipping = tipping_load_many(side.stand, own, (u, v, z))
    allowed = np.broadcast_to(share * tipping if share > 0.0 else np.zeros_like(tipping), line_m.shape)
    if rating is not None:
        off = np.maximum(0.0, line_m) / np.where(pulls.down_N > 0.0, pulls.down_N, inf)
        along, across = _own_pulls(side.unit, pulls)
        radius = np.hypot(u + off * side.unit.facing * along, v + off * across)
        rated = rated_load_many(rating, np.broadcast_to(length, radius.shape), radius)
        within = np.array([stands[end].choice.within for stands in batch.stands])
        allowed = np.where(within, np.minimum(allowed, rated), allowed)
    used = np.divide(DYNAMIC_MARGIN * pulls.load_N, allowed, out=np.full_like(pulls.load_N, inf), where=allowed > 0.0)
    return np.asarray(np.where(pulls.load_N > 0.0, used, 0.0))


def _floats_used(batch: Batch, end: int, pulls: _Pulls) -> tuple[Array, Array]:
    """Light-float limit over the lightest share, and bearing used, at worst along the path."""
    side = batch.sides[end]
    way = side.unit.facing
    tip = tuple(np.broadcast_to(part, pulls.down_N.shape) for part in _tips(batch, end))
    _, own = _own(batch, end)
    along, across = _own_pulls(side.unit, pulls)
    pull = [DYNAMIC_MARGIN * part for part in (way * along, across, -pulls.down_N)]
    load = together(own, pull_load(side.stand, (tip[0], tip[1], tip[2]), (pull[0], pull[1], pull[2])))
    found = solve_many(side.stand.frame, *(np.broadcast_to(part, pulls.down_N.shape).ravel() for part in load))
    rests = np.array(side.resting_N)
    shares = np.where(rests > 0.0, found.reactions_N / np.where(rests > 0.0, rests, 1.0), inf).min(axis=1)
    light = _inverse(np.where(found.tips, 0.0, shares), batch.description.limits.light_float_share)
    bearing = found.reactions_N.max(axis=1) / side.unit.floats.pad_side_m**2 / side.bearing_Pa
    return light.reshape(pulls.down_N.shape).max(axis=1), bearing.reshape(pulls.down_N.shape).max(axis=1)


def _set_back_used(batch: Batch, depth_m: Array) -> Array:
    """Set-back needed over set-back there is, worst pad."""
    site, worst = batch.description.site, np.zeros_like(depth_m)
    factor = depth_m / batch.depth_m if batch.depth_m > 0.0 else np.ones_like(depth_m)
    surface, slope = ground(site), run_of_line_m(1.0, site.soil.steepest_angle_rad)
    for unit in batch.description.units:
        places = float_places(unit)
        for number in RAVINE_FLOATS:
            (x, pad_y), half = places[number], half_pad_m(unit)
            room = pad_y - half - site.edge_y_m
            rise, _ = bed_at(surface, x)
            needed = np.full_like(depth_m, LEAST_SET_BACK_M)
            for y, z in site.section_m:
                if y < site.edge_y_m:
                    deep = -(factor * z if z < 0.0 else z) - rise
                    run = np.multiply(deep, slope, out=np.zeros_like(deep), where=deep > 0.0)
                    needed = np.maximum(needed, y + run - site.edge_y_m)
            worst = np.maximum(worst, (needed - 2e-9) / room if room > 0.0 else inf)
    return worst
