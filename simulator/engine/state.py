"""Everything that changes from step to step, and nothing else: small, copyable, hashable."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from hashlib import sha256
from struct import pack
from typing import NamedTuple

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
