"""What ends a lift: what happened, where, and why, in words that need no other reading."""

from __future__ import annotations

from math import hypot
from typing import NamedTuple

from simulator.engine.model import Model
from simulator.engine.state import State
from simulator.scenario.description import END_NAMES
from simulator.scenario.measures import TONNE_N


class Incident(NamedTuple):
    """Something that ends a lift."""

    time_s: float
    what: str
    where: str
    why: str


def met(time_s: float, part: str, other: str, speed_mps: float, at_m: tuple[float, float, float]) -> Incident:
    """A part of the trailer and something it touches."""
    x, y, z = at_m
    return Incident(time_s, f"{part} meets {other}", f"x {x:+.1f}, y {y:+.1f}, z {z:+.1f} m", f"at {speed_mps:.2f} m/s")


def tipped(model: Model, state: State) -> Incident:
    """A unit that no set of pushing floats balances any more."""
    end = 0 if state.units[0].stance.tipping else 1
    side, unit = model.sides[end], state.units[end]
    hook = unit.hang.hook
    load_t = (unit.hook_load_N + side.below_sheave_N) / TONNE_N
    radius = hypot(hook[0] - side.unit.slew_axis_x_m, hook[1])
    toward = "the ravine" if unit.tip[1] < 0.0 else "the road"
    return Incident(
        time_s=state.step * model.dt,
        what=f"{END_NAMES[end]} unit tips over",
        where=f"toward {toward}, boom tip at y {unit.tip[1]:+.1f} m",
        why=f"line load {load_t:.1f} t at {radius:.1f} m load radius; no set of pushing floats balances it",
    )
