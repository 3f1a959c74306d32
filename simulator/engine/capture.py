"""The edge of the step: what moves read out as a `State`, and put back from one, to the last bit."""

from __future__ import annotations

from typing import Final

from simulator.engine.booms import aim
from simulator.engine.drives import press
from simulator.engine.moving import Body, Cargo, Line, Moving, Unit
from simulator.engine.over import HoldingLine, Over
from simulator.engine.state import BoomState, Drives, GroundPush, Hang, LineState, Motion, SlungState, Stance, State
from simulator.mechanics.going_over import leaned_by
from simulator.mechanics.matrix import rotation

STALLED: Final = 0.05
"""A winch with no more of its speed left than this is stalled."""


def captured(moving: Moving) -> State:
    """All that moves, as a value."""
    booms: list[BoomState] = []
    lines: list[LineState] = []
    slung: list[SlungState] = []
    for unit in moving.units:
        booms.append(_boom(unit))
        for line in unit.lines:
            if line.numbers.round is not None:
                slung.append(SlungState(len(lines), line.way, line.laid_m))
            lines.append(_line(line))
    springs = [(i, one.x, one.y, one.z) for i, one in enumerate(moving.springs) if one.touches]
    if moving.is_on_edge:
        after = len(moving.springs)
        for i, edge in enumerate(moving.edges):
            one = edge.spring
            if one.touches:
                springs.append((after + i, one.x, one.y, one.z))
    ground = GroundPush(*moving.ground, moving.road_N, tuple(springs))
    hold = moving.hold_at if moving.is_held else None
    body, other, cargo = _motion(moving.body), moving.other, _cargo(moving)
    holding = _holding(moving.holding)
    return State(moving.step, tuple(booms), tuple(lines), body, ground, other, hold, tuple(slung), cargo, holding)


def _holding(holding: HoldingLine) -> tuple[float, ...]:
    if holding.length_m == 0.0:
        return ()
    return holding.length_m, holding.pull_N, float(holding.is_tied), float(holding.is_let_out)


def _cargo(moving: Moving) -> tuple[float, ...]:
    cargo = moving.cargo
    if not cargo.moves:
        return ()
    return (*cargo.up, *cargo.turning, *cargo.at_m, *cargo.speed_mps, *cargo.back_N)


def _boom(unit: Unit) -> BoomState:
    a, b, c = unit.telescope, unit.elevation, unit.slew
    stance = Stance(
        (unit.lean_to_x, unit.lean_to_y, unit.lean_to_z),
        unit.give_m_per_N,
        unit.floats_N,
        unit.least_float,
        unit.least_float_share,
        unit.ground_used,
        unit.capacity_used,
        unit.over.is_up,
        (unit.elevation.used, unit.telescope.used, unit.slew.used),
        unit.sunk_m,
    )
    return BoomState(
        Drives(a.at, b.at, c.at, a.speed, b.speed, c.speed),
        (unit.lean_x, unit.lean_y, unit.lean_z),
        (unit.tip_x, unit.tip_y, unit.tip_z),
        unit.given_m,
        stance,
        _over(unit.over),
    )


def _over(over: Over) -> tuple[float, ...]:
    if not over.is_up:
        return ()
    rates = over.sink_mps, over.rate_u, over.rate_v
    return over.lean_u, over.lean_v, *rates, float(over.pivot), *over.pushed_Ns, float(over.is_gone)


def _line(line: Line) -> LineState:
    hook = line.hook_x, line.hook_y, line.hook_z
    return LineState(
        -line.hoist.at,
        line.hoist.speed,
        (line.sheave_x, line.sheave_y, line.sheave_z),
        Hang(hook, line.distance_m, line.ux, line.uy, line.uz),
        line.length_m,
        line.stiffness,
        line.damper,
        line.pull_N,
        line.part,
        line.hoist.used,
        line.hoist.gear,
        line.hoist.up_most <= STALLED,
        line.is_parted,
    )


def _motion(body: Body) -> Motion:
    return Motion(
        *(body.x, body.y, body.z, body.pitch, body.yaw, body.roll),
        *(body.vx, body.vy, body.vz, body.pitch_rate, body.yaw_rate, body.roll_rate),
        *(body.ox, body.oy, body.oz, body.lx, body.ly, body.lz),
    )


def restore(moving: Moving, state: State) -> None:
    """Put everything where a state of the same lift has it."""
    moving.step = state.step
    lines = iter(state.lines)
    slung = iter(state.slung)
    for unit, boom in zip(moving.units, state.booms, strict=True):
        _restore_unit(unit, boom)
        for line in unit.lines:
            _restore_line(line, next(lines), unit.numbers.full_share)
            if line.numbers.round is not None:
                _, line.way, line.laid_m = next(slung)
    moving.is_parted = any(line.parted for line in state.lines)
    moving.is_gone = any(unit.over.is_gone for unit in moving.units)
    move_to(moving.body, state.motion)
    for spring in moving.springs:
        spring.touches = False
    for edge in moving.edges:
        edge.is_on = edge.spring.touches = False
    moving.is_touching, moving.is_on_edge = bool(state.ground.stretches), False
    after = len(moving.springs)
    for point, x, y, z in state.ground.stretches:
        spring = moving.springs[point] if point < after else moving.edges[point - after].spring
        moving.is_on_edge = moving.is_on_edge or point >= after
        spring.touches, spring.x, spring.y, spring.z = True, x, y, z
    ground = state.ground
    moving.ground = (ground.fx, ground.fy, ground.fz, ground.mx, ground.my, ground.mz)
    moving.road_N, moving.other = ground.road_N, state.other
    moving.is_held = state.hold_at is not None
    moving.hold_at = state.hold_at or (0.0, 0.0, 0.0)
    if state.cargo:
        _restore_cargo(moving.cargo, state.cargo)
    if state.holding:
        was, holding = state.holding, moving.holding
        holding.length_m, holding.pull_N = was[0], was[1]
        holding.is_tied, holding.is_let_out = was[2] == 1.0, was[3] == 1.0


def _restore_cargo(cargo: Cargo, was: tuple[float, ...]) -> None:
    cargo.up = was[0], was[1], was[2]
    cargo.turning = was[3], was[4], was[5]
    cargo.at_m = was[6], was[7], was[8]
    cargo.speed_mps = was[9], was[10], was[11]
    cargo.back_N = was[12], was[13], was[14]


def _restore_unit(unit: Unit, boom: BoomState) -> None:
    drives, stance = boom.drives, boom.stance
    unit.telescope.at, unit.telescope.speed = drives.length_m, drives.telescope_mps
    unit.elevation.at, unit.elevation.speed = drives.elevation_rad, drives.elevation_radps
    unit.slew.at, unit.slew.speed = drives.slew_rad, drives.slew_radps
    unit.lean_x, unit.lean_y, unit.lean_z = boom.lean
    unit.tip_x, unit.tip_y, unit.tip_z = boom.tip
    unit.given_m = boom.given
    unit.lean_to_x, unit.lean_to_y, unit.lean_to_z = stance.lean_to_m
    unit.give_m_per_N, unit.floats_N, unit.sunk_m = stance.give_m_per_N, stance.floats_N, stance.sunk_m
    unit.least_float, unit.least_float_share = stance.least_float, stance.least_float_share
    unit.ground_used, unit.capacity_used = stance.ground_used, stance.capacity_used
    raising, extending, slewing = stance.used
    full, holds = unit.numbers.full_share, unit.numbers.holding_factor
    press(unit.elevation, raising, holds, full, False)
    press(unit.telescope, extending, holds, full, False)
    press(unit.slew, slewing, 1.0, full, True)
    aim(unit)
    _restore_over(unit.over, boom.over)


def _restore_over(over: Over, was: tuple[float, ...]) -> None:
    over.stands()
    if not was:
        return
    over.is_up = True
    over.lean_u, over.lean_v, over.sink_mps, over.rate_u, over.rate_v = was[0], was[1], was[2], was[3], was[4]
    over.pivot, over.pushed_Ns, over.is_gone = int(was[5]), (was[6], was[7], was[8], was[9]), was[10] == 1.0
    over.turn = leaned_by(over.lean_u, over.lean_v)


def _restore_line(line: Line, was: LineState, full: float) -> None:
    line.hoist.at, line.hoist.speed = -was.rope_out_m, was.hoist_mps
    line.sheave_x, line.sheave_y, line.sheave_z = was.sheave
    line.hook_x, line.hook_y, line.hook_z = was.hang.hook
    line.distance_m, line.ux, line.uy, line.uz = was.hang.distance_m, was.hang.ux, was.hang.uy, was.hang.uz
    line.length_m, line.stiffness, line.damper = was.line_m, was.stiffness, was.damper
    line.pull_N, line.part = was.hook_load_N, was.part
    line.hoist.gear, line.is_parted = was.gear, was.parted
    press(line.hoist, was.used, line.numbers.brake_over_stall, full, False)
    line.rope_out_m = -1.0


def move_to(body: Body, motion: Motion) -> None:
    """The trailer where and how `motion` says."""
    body.x, body.y, body.z, body.pitch, body.yaw, body.roll = motion[:6]
    body.vx, body.vy, body.vz, body.pitch_rate, body.yaw_rate, body.roll_rate = motion[6:12]
    body.ox, body.oy, body.oz, body.lx, body.ly, body.lz = motion[12:]
    body.matrix = rotation(body.pitch, body.yaw, body.roll)
