"""The world at the very first: booms as described, lines slack, the trailer set on the ground."""

from __future__ import annotations

from simulator.engine.booms import lead, reach
from simulator.engine.capture import move_to
from simulator.engine.cargo import come_to_rest
from simulator.engine.lines import hang, pay_out, stretch
from simulator.engine.model import Model, UnitModel
from simulator.engine.moving import Body, Line, Moving, Unit
from simulator.engine.stance import stand
from simulator.engine.state import Motion
from simulator.mechanics.ground import height_m
from simulator.mechanics.matrix import rotation, turned


def moving_parts(model: Model) -> Moving:
    """Everything that moves in a lift, standing as described; the trailer nowhere in particular."""
    units = [_unit(model, unit) for unit in model.units]
    return Moving(units, Body(model.trailer), len(model.bed.points))


def _unit(model: Model, of: UnitModel) -> Unit:
    start = of.unit.start
    lines = [Line(line.numbers, line.line.rope_out_m) for line in model.lines_of(of)]
    return Unit(of.numbers, lines, (start.boom_length_m, start.elevation_rad, start.slew_rad))


def set_down(model: Model, moving: Moving) -> None:
    """The trailer in its described attitude, lowered until its first point touches; nothing moves."""
    start = model.description.trailer.start
    matrix = rotation(start.pitch_rad, start.yaw_rad, start.roll_rad)
    rx, ry, _ = turned(matrix, model.reference_m)
    x, y = start.x_m - rx, start.y_m - ry
    surface = model.bed.surface
    arms = [turned(matrix, point) for point in model.bed.points]
    z = max(height_m(surface, x + ax, y + ay) - az for ax, ay, az in arms)
    move_to(moving.body, Motion(x, y, z, start.pitch_rad, start.yaw_rad, start.roll_rad))
    come_to_rest(model.step.cargo, moving.cargo, moving.body)
    for unit in moving.units:
        reach(unit)
        for line in unit.lines:
            lead(line, unit, model.dt)
            pay_out(line, unit.telescope.at)
            hang(line, moving.body)
        stand(unit, 0.0)
        stretch(unit)
        for line in unit.lines:
            line.pull_N = 0.0
