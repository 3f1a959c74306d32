"""What acts on the trailer besides lines, ground and gravity: wind, a free liquid, a hold on the bed."""

from __future__ import annotations

from simulator.engine.model import Model
from simulator.engine.motion import Motion
from simulator.engine.weather import liquid_moment_Nm, wind_force_N
from simulator.mechanics.trailer import Matrix, Vector, turned
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2

Wrench = tuple[float, float, float, float, float, float]
"""Force and moment about the CG, world axes."""
NOTHING: Wrench = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


def other_forces(
    model: Model, to: Motion, matrix: Matrix, time_s: float, hold_at: Vector | None
) -> tuple[Wrench, Vector | None]:
    """Their sum, and where the bed still holds the trailer (None once it has let go)."""
    if hold_at is None and model.is_calm:
        return NOTHING, None
    fx = fy = fz = mx = my = mz = 0.0
    if model.weather.speed_mps:
        fx, fy = wind_force_N(model.weather, time_s)
        rx, ry, rz = turned(matrix, model.weather.lever)
        mx, my, mz = -rz * fy, rz * fx, rx * fy - ry * fx
    if model.liquid:
        my += liquid_moment_Nm(model.description.trailer.cargo, to.pitch, STANDARD_GRAVITY_MPS2)
    if hold_at is not None:
        hold = _hold(model, to, matrix, hold_at)
        if hold is None:
            return (fx, fy, fz, mx, my, mz), None
        fx, fy, fz = fx + hold[0], fy + hold[1], fz + hold[2]
        mx, my, mz = mx + hold[3], my + hold[4], mz + hold[5]
    return (fx, fy, fz, mx, my, mz), hold_at


def _hold(model: Model, to: Motion, matrix: Matrix, hold_at: Vector) -> Wrench | None:
    """The bed's hold as a spring to where it took hold; None when its pull is reached."""
    bed_hold, point = model.description.site.bed_hold, model.hold_point_m
    if bed_hold is None or point is None:
        return None
    rx, ry, rz = turned(matrix, point)
    k = bed_hold.stiffness_N_per_m
    fx, fy, fz = k * (hold_at[0] - to.x - rx), k * (hold_at[1] - to.y - ry), k * (hold_at[2] - to.z - rz)
    if fx * fx + fy * fy + fz * fz >= bed_hold.pull_N**2:
        return None
    return fx, fy, fz, ry * fz - rz * fy, rz * fx - rx * fz, rx * fy - ry * fx
