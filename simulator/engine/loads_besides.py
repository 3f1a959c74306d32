"""What acts on the trailer besides lines, ground and gravity: wind and a hold on the bed."""

from __future__ import annotations

from math import sin

from simulator.engine.moving import Body, Moving, Wrench, nothing
from simulator.mechanics.matrix import Vector, turned


class OtherNumbers:
    """Wind and hold of one lift. Nothing changes them; `weather` makes them."""

    __slots__ = (
        "gust_share",
        "hold_N",
        "hold_point",
        "hold_stiffness",
        "lever",
        "pressure_area",
        "speed_mps",
        "toward",
        "waves",
    )

    def __init__(self) -> None:
        """Calm and free."""
        self.speed_mps: float = 0.0
        self.toward: tuple[float, float] = (1.0, 0.0)
        self.pressure_area: tuple[float, float] = (0.0, 0.0)
        """Factor times drag coefficient times area seen, along and across: force over V squared."""
        self.gust_share: float = 0.0
        self.waves: list[tuple[float, float]] = []
        """(rad/s, phase) of each wave of the gusts."""
        self.lever: Vector = (0.0, 0.0, 0.0)
        """Middle of the outline from the CG, lying axes."""
        self.hold_point: Vector = (0.0, 0.0, 0.0)
        """From the CG, lying axes."""
        self.hold_stiffness: float = 0.0
        self.hold_N: float = 0.0
        """Pull at which the bed lets go."""


def act(numbers: OtherNumbers, moving: Moving, time_s: float) -> None:
    """Their sum; a hold that is pulled too hard has let go."""
    if numbers.speed_mps == 0.0 and not moving.is_held:
        moving.other = nothing()
        return
    body = moving.body
    fx, fy, fz, mx, my, mz = nothing()
    if numbers.speed_mps != 0.0:
        fx, fy = wind_force_N(numbers, time_s)
        rx, ry, rz = turned(body.matrix, numbers.lever)
        mx, my, mz = -rz * fy, rz * fx, rx * fy - ry * fx
    if moving.is_held:
        hx, hy, hz, px, py, pz = _hold(numbers, moving, body)
        fx, fy, fz, mx, my, mz = fx + hx, fy + hy, fz + hz, mx + px, my + py, mz + pz
    moving.other = (fx, fy, fz, mx, my, mz)


def wind_speed_mps(wind: OtherNumbers, time_s: float) -> float:
    """Wind speed at a moment: steady, and up to the gust share more."""
    if wind.gust_share == 0.0:
        return wind.speed_mps
    wave = 0.0
    for rate, phase in wind.waves:
        wave = wave + sin(rate * time_s + phase)
    wave = wave / len(wind.waves)
    return wind.speed_mps * (1.0 + wind.gust_share * 0.5 * (1.0 + wave))


def wind_force_N(wind: OtherNumbers, time_s: float) -> tuple[float, float]:
    """Force along and across the road, each on the area it sees."""
    speed = wind_speed_mps(wind, time_s)
    toward_x, toward_y = wind.toward
    area_x, area_y = wind.pressure_area
    along, across = speed * toward_x, speed * toward_y
    return area_x * along * abs(along), area_y * across * abs(across)


def _hold(numbers: OtherNumbers, moving: Moving, body: Body) -> Wrench:
    """The bed's hold as a spring to where it took hold; it lets go when its pull is reached."""
    rx, ry, rz = turned(body.matrix, numbers.hold_point)
    x, y, z = moving.hold_at
    k = numbers.hold_stiffness
    fx, fy, fz = k * (x - body.x - rx), k * (y - body.y - ry), k * (z - body.z - rz)
    if fx * fx + fy * fy + fz * fz >= numbers.hold_N * numbers.hold_N:
        moving.is_held = False
        return nothing()
    return fx, fy, fz, ry * fz - rz * fy, rz * fx - rx * fz, rx * fy - ry * fx
