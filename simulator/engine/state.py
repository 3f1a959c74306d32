"""Everything that changes from step to step, and nothing else, as a readable value: small, copyable, hashable."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256
from math import isfinite
from struct import pack
from typing import Any, NamedTuple

from simulator.mechanics.four_floats import Four
from simulator.mechanics.matrix import Vector

Stretches = tuple[tuple[int, float, float, float], ...]
"""(point, stretch x, y, z) of the friction spring at each point that touches; places of ridges come after points."""


class Drives(NamedTuple):
    """Where a boom's three functions stand, and how fast they go (out, up, toward the road positive)."""

    length_m: float
    elevation_rad: float
    slew_rad: float
    telescope_mps: float = 0.0
    elevation_radps: float = 0.0
    slew_radps: float = 0.0


class Stance(NamedTuple):
    """One unit's footing at a moment."""

    lean_to_m: Vector
    """Where the tip's lean is going: square to the pulls, and wherever settled floats take it."""
    give_m_per_N: float
    """Structure's give along the sum of the pulls."""
    floats_N: Four
    least_float: int
    least_float_share: float
    ground_used: float
    capacity_used: float
    tipping: bool
    used: Vector
    """What raising, extending and slewing have to hold, over what stalls them."""
    sunk_m: Four
    """How far each float has settled into ground it overloads."""


OVER = 11
"""Numbers of a unit that goes over."""


class BoomState(NamedTuple):
    """One unit's boom, and how the unit stands."""

    drives: Drives
    lean: Vector
    """Tip moved square to the pulls by boom, frame and ground giving way."""
    tip: Vector
    """Lean included: the end of the lines' springs."""
    given: Vector
    """How far the structure has let the tip go along the pulls besides."""
    stance: Stance
    over: tuple[float, ...] = ()
    """Of a unit that goes over: its leans toward the tailboard and the road, sink rate and lean rates, the float it
    stands on, what each float has pushed since they were read (N s), whether it is lost. Nothing of one that stands."""

    @property
    def is_gone(self) -> bool:
        """It has gone over and cannot be saved."""
        return bool(self.over) and self.over[-1] == 1.0


class Hang(NamedTuple):
    """Where a line hangs: hook, distance from the sheave, direction."""

    hook: Vector
    distance_m: float
    ux: float
    uy: float
    uz: float
    """Unit vector, hook to sheave."""


class LineState(NamedTuple):
    """One line."""

    rope_out_m: float
    hoist_mps: float
    """Up positive."""
    sheave: Vector
    hang: Hang
    line_m: float
    """Sheave to hook, unloaded."""
    stiffness: float
    """Beside the unit's other lines that bear."""
    damper: float
    hook_load_N: float
    part: float
    """Cosine between it and the sum of its unit's pulls, when the floats were last solved."""
    used: float
    """What its winch has to hold over what stalls it on this layer."""
    gear: float
    """Rope speed on this layer over that on the first."""
    stalled: bool
    parted: bool


class SlungState(NamedTuple):
    """A line's sling on the load."""

    place: int
    """Of the line, in the rig's order."""
    way: int
    """The way round the load that it lies; -1: straight from the pick."""
    laid_m: float


class Motion(NamedTuple):
    """Pose of the true CG, its velocity, rates of the three angles, turning velocity and angular momentum (world)."""

    x: float
    y: float
    z: float
    pitch: float
    yaw: float
    roll: float
    vx: float = 0.0
    vy: float = 0.0
    vz: float = 0.0
    pitch_rate: float = 0.0
    yaw_rate: float = 0.0
    roll_rate: float = 0.0
    ox: float = 0.0
    oy: float = 0.0
    oz: float = 0.0
    lx: float = 0.0
    ly: float = 0.0
    lz: float = 0.0


class GroundPush(NamedTuple):
    """Force and moment about the CG; the upward part that the road gives; the friction springs afterwards."""

    fx: float
    fy: float
    fz: float
    mx: float
    my: float
    mz: float
    road_N: float
    stretches: Stretches


CLEAR = GroundPush(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, ())


CARGO = 15
"""Numbers of a cargo that moves."""
HOLDING = 4
"""Numbers of a holding line."""


class State(NamedTuple):
    """The world after a step."""

    step: int
    booms: tuple[BoomState, ...]
    """A unit each, in the rig's order."""
    lines: tuple[LineState, ...]
    """In the rig's order."""
    motion: Motion
    ground: GroundPush = CLEAR
    other: tuple[float, float, float, float, float, float] = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    """Wind, bed hold and a cargo that moves: force and moment about the CG."""
    hold_at: Vector | None = None
    """Where the bed still holds the trailer."""
    slung: tuple[SlungState, ...] = ()
    """Slings that may lie on the load."""
    cargo: tuple[float, ...] = ()
    """Of a cargo that moves, three numbers each: its surface's up and how fast that turns, its center and how fast it
    moves, its push back. Nothing of a solid one."""
    holding: tuple[float, ...] = ()
    """Of a holding line: its length and pull, whether it may hold, whether it is let out. Nothing with none."""


def _numbers(value: object) -> Iterator[float]:
    if isinstance(value, tuple):
        for part in value:
            yield from _numbers(part)
    elif value is None:
        yield float("nan")
    else:
        yield float(value)  # type: ignore[arg-type]


def state_hash(state: State) -> str:
    """SHA-256 over every number of the state, bit for bit, but for the sign of a zero: pymunk's way round and the way
    without it give a level trailer the one or the other, and no number that follows depends on it."""
    numbers = [number + 0.0 for number in _numbers(state)]
    return sha256(pack(f"<{len(numbers)}d", *numbers)).hexdigest()


def state_from(plain: Any) -> State:
    """The state whose numbers were put away as plain lists in lists, to the last bit.

    Raises:
        ValueError: they are no state.
    """
    try:
        step, booms, lines, motion, ground, other, hold_at, *more = plain
        hold = None if hold_at is None else _floats(hold_at, 3)
        parts = tuple(map(_boom, booms)), tuple(map(_line, lines))
        pushes = _ground(ground), _floats(other, 6)
        state = State(int(step), *parts, Motion(*_floats(motion, 18)), *pushes, hold, *_more(*more))
        is_finite = all(isfinite(number) for number in _numbers(state._replace(hold_at=hold or (0.0, 0.0, 0.0))))
    except (TypeError, LookupError, OverflowError) as error:
        raise ValueError(f"no state: {error}") from error
    if not is_finite:
        raise ValueError("no state: a number that is not finite")
    return state


def _floats(plain: Any, count: int) -> Any:
    numbers = tuple(float(number) for number in plain)
    if len(numbers) != count:
        raise ValueError(f"no state: {len(numbers)} numbers for {count}")
    return numbers


def _boom(plain: Any) -> BoomState:
    drives, lean, tip, given, stance, *over = plain
    at, rest = Drives(*_floats(drives, 6)), tuple(_floats(one, OVER) if one else () for one in over)
    return BoomState(at, _floats(lean, 3), _floats(tip, 3), _floats(given, 3), _stance(stance), *rest)


def _line(plain: Any) -> LineState:
    rope, speed, sheave, (hook, *direction), *line, stalled, parted = plain
    hang, broken = Hang(_floats(hook, 3), *_floats(direction, 4)), (bool(stalled), bool(parted))
    return LineState._make((float(rope), float(speed), _floats(sheave, 3), hang, *_floats(line, 7), *broken))


def _stance(plain: Any) -> Stance:
    to, give, floats, least, *shares, tipping, used, sunk = plain
    shown = int(least), *_floats(shares, 3), bool(tipping), _floats(used, 3)
    return Stance._make((_floats(to, 3), float(give), _floats(floats, 4), *shown, _floats(sunk, 4)))


def _more(slung: Any = (), cargo: Any = (), holding: Any = ()) -> Any:
    slings = tuple(SlungState(int(place), int(way), float(laid)) for place, way, laid in slung)
    return slings, _floats(cargo, CARGO) if cargo else (), _floats(holding, HOLDING) if holding else ()


def _ground(plain: Any) -> GroundPush:
    *push, stretches = plain
    springs = tuple((int(point), *_floats(stretch, 3)) for point, *stretch in stretches)
    return GroundPush._make((*_floats(push, 7), springs))
