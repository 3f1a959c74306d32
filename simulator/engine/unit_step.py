"""One unit and its line through one step: drives, lean, tip, line, pull, footing."""

from __future__ import annotations

from simulator.engine.commands import Hands
from simulator.engine.drives import advance
from simulator.engine.lines import SLACK, Hang, Pull, hang, pull
from simulator.engine.made import made
from simulator.engine.model import Model, Side
from simulator.engine.motion import Motion
from simulator.engine.stance import stance
from simulator.engine.state import State, UnitState
from simulator.mechanics.boom import tip_over
from simulator.mechanics.hoist_line import damper_N_s_per_m, line_length_m, stiffness_N_per_m
from simulator.mechanics.trailer import Matrix, Vector, rotation


def advance_unit(
    model: Model, end: int, before: State, asked: Hands, to: Motion, matrix: Matrix, *, lines: bool
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
    side, dt = model.sides[end], model.dt
    hoist = side.unit.hoist
    was, lean, old_tip, _, _, old_line_m, _, _, _, standing = before.units[end]
    drives = advance(side.ends, was, asked, dt, stalled=standing.stalled)
    rope, length, elevation, slew, _, _, _, _ = drives
    lean_x, lean_y, lean_z = lean
    to_x, to_y, to_z = standing.lean_to_m
    share = side.lean_share
    lean = lean_x, lean_y, lean_z = (
        lean_x + (to_x - lean_x) * share,
        lean_y + (to_y - lean_y) * share,
        lean_z + (to_z - lean_z) * share,
    )
    old_x, old_y, old_z = old_tip
    x, y, z = tip_over(side.foot, length, elevation, slew)
    tip = x, y, z = x + lean_x, y + lean_y, z + lean_z
    speed = (x - old_x) / dt, (y - old_y) / dt, (z - old_z) / dt
    line_m = line_length_m(hoist, rope, length)
    k = stiffness_N_per_m(hoist, rope, standing.give_m_per_N)
    c = damper_N_s_per_m(hoist, k, model.body.mass_kg)
    line = hung(side, tip, to, matrix)
    force = pull(line, speed, to, line_m, (line_m - old_line_m) / dt, k, c) if lines else SLACK
    if (before.step + 1) % model.footing_every == 0:
        load = force.size_N + side.below_sheave_N
        standing = stance(side, drives, line, load, standing, dt * model.footing_every)
    return made(UnitState, (drives, lean, tip, speed, line, line_m, k, c, force.size_N, standing)), force


def hung(side: Side, tip: Vector, motion: Motion, matrix: Matrix) -> Hang:
    """Where the line from `tip` hangs with the trailer at a pose."""
    a, b, c, d, e, f, g, h, i = matrix
    x, y, z = side.pick_m
    pick = (
        motion.x + (a * x + b * y + c * z),
        motion.y + (d * x + e * y + f * z),
        motion.z + (g * x + h * y + i * z),
    )
    return hang(tip, pick, matrix, side.rigging_m, across_rigid=side.across_rigid)


def rehung(side: Side, unit: UnitState, motion: Motion) -> UnitState:
    """The unit with its line led to the trailer at another pose."""
    return unit._replace(hang=hung(side, unit.tip, motion, rotation(motion.pitch, motion.yaw, motion.roll)))
