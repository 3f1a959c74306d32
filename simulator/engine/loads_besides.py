"""What acts on the trailer besides hoist lines, ground and gravity: wind, a hold on the bed, a holding line."""

from __future__ import annotations

from math import sin, sqrt

from simulator.engine.moving import Body, Moving, Wrench, nothing
from simulator.mechanics.matrix import Vector, turned


class OtherNumbers:
    """Wind, hold and holding line of one lift. Nothing changes them; `weather` makes them."""

    __slots__ = (
        "gust_share",
        "hold_N",
        "hold_point",
        "hold_stiffness",
        "holding_N",
        "holding_at",
        "holding_from",
        "holding_mps",
        "holding_stiffness",
        "holding_up_N",
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
        self.holding_from: Vector = (0.0, 0.0, 0.0)
        """The holding line's anchor, world axes."""
        self.holding_at: Vector = (0.0, 0.0, 0.0)
        """Where it is made fast, from the CG, lying axes."""
        self.holding_stiffness: float = 0.0
        """0: there is none."""
        self.holding_N: float = 0.0
        """Pull at which its anchor slips or it parts."""
        self.holding_up_N: float = 0.0
        """Pull it is drawn up to at the very first."""
        self.holding_mps: float = 0.0
        """How fast it is let out."""


def act(numbers: OtherNumbers, moving: Moving, time_s: float, dt: float) -> None:
    """Their sum; a hold or a holding line that is pulled too hard has let go."""
    if numbers.speed_mps == 0.0 and not moving.is_held and not moving.holding.is_tied:
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
    if moving.holding.is_tied:
        hx, hy, hz, px, py, pz = _holding(numbers, moving, body, dt)
        fx, fy, fz, mx, my, mz = fx + hx, fy + hy, fz + hz, mx + px, my + py, mz + pz
    moving.other = (fx, fy, fz, mx, my, mz)


def tie(numbers: OtherNumbers, moving: Moving) -> None:
    """Make the holding line fast to the load where it now is, drawn up as stated."""
    if numbers.holding_stiffness == 0.0:
        return
    holding = moving.holding
    toward, _ = _along_holding(numbers, moving.body)
    holding.length_m = sqrt(toward[0] ** 2 + toward[1] ** 2 + toward[2] ** 2)
    holding.length_m -= numbers.holding_up_N / numbers.holding_stiffness
    holding.is_tied, holding.is_let_out, holding.pull_N = True, False, 0.0


def _along_holding(numbers: OtherNumbers, body: Body) -> tuple[Vector, Vector]:
    """From where it is made fast to its anchor; from the CG to where it is made fast."""
    rx, ry, rz = turned(body.matrix, numbers.holding_at)
    x, y, z = numbers.holding_from
    return (x - body.x - rx, y - body.y - ry, z - body.z - rz), (rx, ry, rz)


def _holding(numbers: OtherNumbers, moving: Moving, body: Body, dt: float) -> Wrench:
    """A spring that only pulls, toward its anchor; gone once it is pulled too hard."""
    holding = moving.holding
    if holding.is_let_out:
        holding.length_m += numbers.holding_mps * dt
    (dx, dy, dz), (rx, ry, rz) = _along_holding(numbers, body)
    long = sqrt(dx * dx + dy * dy + dz * dz)
    pull = numbers.holding_stiffness * (long - holding.length_m)
    holding.pull_N = pull if pull > 0.0 else 0.0
    if pull <= 0.0:
        return nothing()
    if pull > numbers.holding_N:
        holding.is_tied, holding.pull_N = False, 0.0
        return nothing()
    fx, fy, fz = pull * dx / long, pull * dy / long, pull * dz / long
    return fx, fy, fz, ry * fz - rz * fy, rz * fx - rx * fz, rx * fy - ry * fx


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
