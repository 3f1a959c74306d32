"""The world at the very first: booms as described, lines slack, the trailer set on the ground."""

from __future__ import annotations

from simulator.engine.drives import at_start
from simulator.engine.lines import hang
from simulator.engine.model import Model, Side
from simulator.engine.motion import Motion
from simulator.engine.stance import UNLOADED, stance
from simulator.engine.state import State, UnitState
from simulator.mechanics.boom import BoomPose, tip_m
from simulator.mechanics.ground import height_m
from simulator.mechanics.hoist_line import damper_N_s_per_m, line_length_m, stiffness_N_per_m
from simulator.mechanics.trailer import Matrix, rotation, turned

NOTHING = (0.0, 0.0, 0.0)


def resting(model: Model) -> State:
    """The trailer set down in its described attitude until its first point touches."""
    start = model.description.trailer.start
    matrix = rotation(start.pitch_rad, start.yaw_rad, start.roll_rad)
    rx, ry, _ = turned(matrix, model.reference_m)
    x, y = start.x_m - rx, start.y_m - ry
    surface = model.bed.surface
    arms = [turned(matrix, point) for point in model.bed.points]
    z = max(height_m(surface, x + ax, y + ay) - az for ax, ay, az in arms)
    motion = Motion(x, y, z, start.pitch_rad, start.yaw_rad, start.roll_rad)
    sides = model.sides
    return State(0, (_unit(model, sides[0], motion, matrix), _unit(model, sides[1], motion, matrix)), motion)


def _unit(model: Model, side: Side, motion: Motion, matrix: Matrix) -> UnitState:
    drives = at_start(side.unit)
    tip = tip_m(side.unit, BoomPose(drives.length_m, drives.elevation_rad, drives.slew_rad))
    px, py, pz = turned(matrix, side.pick_m)
    pick = motion.x + px, motion.y + py, motion.z + pz
    line = hang(tip, pick, matrix, side.pick.height_m, across_rigid=side.across_rigid)
    footing = stance(side, drives, line, side.below_sheave_N, UNLOADED, 0.0)
    k = stiffness_N_per_m(side.unit.hoist, drives.rope_out_m, footing.give_m_per_N)
    return UnitState(
        drives=drives,
        lean=NOTHING,
        tip=tip,
        tip_velocity=NOTHING,
        hang=line,
        line_m=line_length_m(side.unit.hoist, drives.rope_out_m, drives.length_m),
        stiffness=k,
        damper=damper_N_s_per_m(side.unit.hoist, k, model.body.mass_kg),
        hook_load_N=0.0,
        stance=footing,
    )
