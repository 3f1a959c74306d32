"""A running lift gone on with under changed numbers: the trailer stays where it is, whatever its CG now is."""

from __future__ import annotations

from simulator.engine.model import Model
from simulator.engine.state import Motion, State
from simulator.mechanics.matrix import Matrix, Vector, rotation, turned, turned_back


def carried_over(was: Model, now: Model, state: State) -> State:
    """The same moment for another model of the same lift.

    The trailer's reference point keeps its place and velocity, the trailer its turning; what moves is its CG.

    Args:
        was: the model the state belongs to.
        now: the model it is to belong to.
        state: the moment.
    """
    motion = state.motion
    matrix = rotation(motion.pitch, motion.yaw, motion.roll)
    old, new = turned(matrix, was.reference_m), turned(matrix, now.reference_m)
    ax, ay, az = old[0] - new[0], old[1] - new[1], old[2] - new[2]
    lx, ly, lz = _momentum(now, matrix, (motion.ox, motion.oy, motion.oz))
    moved = motion._replace(
        x=motion.x + ax,
        y=motion.y + ay,
        z=motion.z + az,
        vx=motion.vx + motion.oy * az - motion.oz * ay,
        vy=motion.vy + motion.oz * ax - motion.ox * az,
        vz=motion.vz + motion.ox * ay - motion.oy * ax,
        lx=lx,
        ly=ly,
        lz=lz,
    )
    return state._replace(motion=moved, hold_at=_held(was, now, state, moved, matrix))


def _momentum(model: Model, matrix: Matrix, turning: Vector) -> Vector:
    """Angular momentum R I R^T o."""
    a, b, c, d, e, f, g, h, i = model.body.inertia_kg_m2
    x, y, z = turned_back(matrix, turning)
    return turned(matrix, (a * x + b * y + c * z, d * x + e * y + f * z, g * x + h * y + i * z))


def _held(was: Model, now: Model, state: State, motion: Motion, matrix: Matrix) -> Vector | None:
    """Where the bed holds the trailer: as before, or here if the hold is new."""
    if now.hold_point_m is None:
        return None
    if was.hold_point_m is not None:
        return state.hold_at
    x, y, z = turned(matrix, now.hold_point_m)
    return motion.x + x, motion.y + y, motion.z + z


def slipped(state: State, line: int, rope_m: float) -> State:
    """The moment with so much rope more paid out of one line's drum."""
    lines = list(state.lines)
    lines[line] = lines[line]._replace(rope_out_m=lines[line].rope_out_m + rope_m)
    return state._replace(lines=tuple(lines))
