"""Everything that changes from step to step, and nothing else: small, copyable, hashable."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from hashlib import sha256
from math import isfinite
from struct import pack
from typing import Any, NamedTuple

from simulator.engine.contact import CLEAR, GroundPush
from simulator.engine.drives import Drives
from simulator.engine.lines import Hang
from simulator.engine.motion import Motion
from simulator.engine.stance import Stance
from simulator.mechanics.trailer import Vector


class UnitState(NamedTuple):
    """One unit and its line."""

    drives: Drives
    lean: Vector
    """Tip moved square to the line by boom, frame and ground giving way."""
    tip: Vector
    tip_velocity: Vector
    hang: Hang
    line_m: float
    stiffness: float
    damper: float
    hook_load_N: float
    stance: Stance


class State(NamedTuple):
    """The world after a step."""

    step: int
    units: tuple[UnitState, UnitState]
    motion: Motion
    ground: GroundPush = CLEAR
    other: tuple[float, float, float, float, float, float] = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    """Wind, bed hold and free liquid: force and moment about the CG."""
    hold_at: Vector | None = None
    """Where the bed still holds the trailer."""


def _numbers(value: object) -> Iterator[float]:
    if isinstance(value, Iterable):
        for part in value:
            yield from _numbers(part)
    elif value is None:
        yield float("nan")
    else:
        yield float(value)  # type: ignore[arg-type]


def state_hash(state: State) -> str:
    """SHA-256 over every number of the state, bit for bit."""
    numbers = list(_numbers(state))
    return sha256(pack(f"<{len(numbers)}d", *numbers)).hexdigest()


def state_from(plain: Any) -> State:
    """The state whose numbers were put away as plain lists in lists, to the last bit.

    Raises:
        ValueError: they are no state.
    """
    try:
        step, (nose, tail), motion, ground, other, hold_at = plain
        hold = None if hold_at is None else _floats(hold_at, 3)
        units = _unit(nose), _unit(tail)
        state = State(int(step), units, Motion(*_floats(motion, 18)), _ground(ground), _floats(other, 6), hold)
        is_finite = all(isfinite(number) for number in _numbers((*state[:-1], hold or ())))
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


def _unit(plain: Any) -> UnitState:
    drives, lean, tip, velocity, (hook, *direction), *line, stance = plain
    hang = Hang._make((_floats(hook, 3), *_floats(direction, 4)))
    vectors = (_floats(vector, 3) for vector in (lean, tip, velocity))
    return UnitState._make((Drives(*_floats(drives, 8)), *vectors, hang, *_floats(line, 4), _stance(stance)))


def _stance(plain: Any) -> Stance:
    to, give, floats, least, *shares, tipping, stalled, sunk = plain
    shown = int(least), *_floats(shares, 3), bool(tipping), bool(stalled)
    return Stance._make((_floats(to, 3), float(give), _floats(floats, 4), *shown, _floats(sunk, 4)))


def _ground(plain: Any) -> GroundPush:
    *push, stretches = plain
    springs = tuple((int(point), *_floats(stretch, 3)) for point, *stretch in stretches)
    return GroundPush._make((*_floats(push, 7), springs))
