"""The world at the very first: booms as described, lines slack, the trailer set on the ground."""

from __future__ import annotations

from simulator.engine.booms import lead, reach
from simulator.engine.capture import move_to
from simulator.engine.cargo import come_to_rest
from simulator.engine.contact import rises_m
from simulator.engine.edges import places
from simulator.engine.lines import hang, pay_out, stretch
from simulator.engine.loads_besides import tie
from simulator.engine.model import Model, UnitModel
from simulator.engine.moving import Body, Line, Moving, Unit
from simulator.engine.stance import stand
from simulator.engine.state import Motion
from simulator.mechanics.ground import height_m
from simulator.mechanics.matrix import rotation, turned

LIFTS = 50
"""A load that is set down is lifted off one ridge after the other, at most so often."""


def moving_parts(model: Model) -> Moving:
    """Everything that moves in a lift, standing as described; the trailer nowhere in particular."""
    units = [_unit(model, unit) for unit in model.units]
    return Moving(units, Body(model.trailer), len(model.bed.points), places(model.bed.outline))


def _unit(model: Model, of: UnitModel) -> Unit:
    start = of.unit.start
    lines = [Line(line.numbers, line.line.rope_out_m) for line in model.lines_of(of)]
    return Unit(of.numbers, lines, (start.boom_length_m, start.elevation_rad, start.slew_rad))


def set_down(model: Model, moving: Moving) -> None:
    """The trailer in its described attitude, lowered until it lies on its first point or on a ridge; nothing moves."""
    start = model.description.trailer.start
    matrix = rotation(start.pitch_rad, start.yaw_rad, start.roll_rad)
    rx, ry, _ = turned(matrix, model.reference_m)
    x, y = start.x_m - rx, start.y_m - ry
    surface = model.bed.surface
    arms = [turned(matrix, point) for point in model.bed.points]
    z = max(height_m(surface, x + ax, y + ay) - az for ax, ay, az in arms)
    lies = Motion(x, y, z, start.pitch_rad, start.yaw_rad, start.roll_rad)
    move_to(moving.body, lies)
    for _ in range(LIFTS):
        up_m = rises_m(model.bed, moving)
        if up_m < 1e-3:
            break
        lies = lies._replace(z=lies.z + up_m)
        move_to(moving.body, lies)
    come_to_rest(model.step.cargo, moving.cargo, moving.body)
    tie(model.step.others, moving)
    for unit in moving.units:
        reach(unit, 0.0)
        for line in unit.lines:
            lead(line, unit, model.dt)
            pay_out(line, unit.telescope.at)
            hang(line, moving.body)
        stand(unit, 0.0)
        stretch(unit)
        for line in unit.lines:
            line.pull_N = 0.0
