"""One unit and its line through one step: drives, lean, tip, line, pull, footing."""

from __future__ import annotations

from simulator.engine.commands import UnitCommands
from simulator.engine.drives import advance
from simulator.engine.lines import SLACK, Hang, Pull, hang, pull
from simulator.engine.model import Model, Side
from simulator.engine.motion import Motion
from simulator.engine.stance import stance
from simulator.engine.state import State, UnitState
from simulator.mechanics.boom import BoomPose, tip_m
from simulator.mechanics.hoist_line import damper_N_s_per_m, line_length_m, stiffness_N_per_m
from simulator.mechanics.trailer import Matrix, Vector, rotation, turned


def advance_unit(
    model: Model, end: int, before: State, asked: UnitCommands, to: Motion, matrix: Matrix, *, lines: bool
) -> tuple[UnitState, Pull]:
    """The unit after the step, and its line's pull on the trailer at the pose `to` (rotation `matrix`).

    Args:
        model: numbers.
        end: 0 nose unit, 1 tail unit.
        before: state before the step.
        asked: its operator's commands.
        to: the trailer's pose at which forces are taken.
        matrix: its rotation.
        lines: False while the trailer settles at the start.
    """
    side, was, dt = model.sides[end], before.units[end], model.dt
    unit = side.unit
    drives = advance(side.ends, was.drives, asked, dt, stalled=was.stance.stalled)
    lean = _leaning(was, side.lean_share)
    x, y, z = tip_m(unit, end, BoomPose(drives.length_m, drives.elevation_rad, drives.slew_rad))
    tip = x + lean[0], y + lean[1], z + lean[2]
    old = was.tip
    speed = (tip[0] - old[0]) / dt, (tip[1] - old[1]) / dt, (tip[2] - old[2]) / dt
    line_m = line_length_m(unit.hoist, drives.rope_out_m, drives.length_m)
    k = stiffness_N_per_m(unit.hoist, drives.rope_out_m, was.stance.give_m_per_N)
    c = damper_N_s_per_m(unit.hoist, k, model.body.mass_kg)
    line = hung(side, tip, to, matrix)
    force = pull(line, speed, to, line_m, (line_m - was.line_m) / dt, k, c) if lines else SLACK
    footing = was.stance
    if (before.step + 1) % model.footing_every == 0:
        load = force.size_N + side.below_sheave_N
        footing = stance(side, drives, line, load, footing, dt * model.footing_every)
    return UnitState(drives, lean, tip, speed, line, line_m, k, c, force.size_N, footing), force


def _leaning(was: UnitState, share: float) -> Vector:
    """The tip's lean, a share of the way further to where it is going."""
    (x, y, z), (to_x, to_y, to_z) = was.lean, was.stance.lean_to_m
    return x + (to_x - x) * share, y + (to_y - y) * share, z + (to_z - z) * share


def hung(side: Side, tip: Vector, motion: Motion, matrix: Matrix) -> Hang:
    """Where the line from `tip` hangs with the trailer at a pose."""
    px, py, pz = turned(matrix, side.pick_m)
    pick = motion.x + px, motion.y + py, motion.z + pz
    return hang(tip, pick, matrix, side.pick.height_m, across_rigid=side.across_rigid)


def rehung(side: Side, unit: UnitState, motion: Motion) -> UnitState:
    """The unit with its line led to the trailer at another pose."""
    return unit._replace(hang=hung(side, unit.tip, motion, rotation(motion.pitch, motion.yaw, motion.roll)))
