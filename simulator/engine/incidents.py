"""What ends a lift: what happened, where, and why, in words that need no other reading."""

from __future__ import annotations

from math import hypot
from typing import NamedTuple

from simulator.engine.model import Model
from simulator.engine.state import State
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
    place = next(place for place, boom in enumerate(state.booms) if boom.stance.tipping)
    unit, boom = model.units[place], state.booms[place]
    lines = model.lines_of(unit)
    loads = [state.lines[line.rig.place].hook_load_N + line.numbers.below_sheave_N for line in lines]
    whole = sum(loads) or 1.0
    hooks = [state.lines[line.rig.place].hang.hook for line in lines]
    x, y = (sum(load * hook[axis] for load, hook in zip(loads, hooks, strict=True)) / whole for axis in (0, 1))
    radius = hypot(x - unit.unit.slew_axis_x_m, y)
    toward = "the ravine" if boom.tip[1] < 0.0 else "the road"
    return Incident(
        time_s=state.step * model.dt,
        what=f"{unit.unit.name} unit tips over",
        where=f"toward {toward}, boom tip at y {boom.tip[1]:+.1f} m",
        why=f"line load {sum(loads) / TONNE_N:.1f} t at {radius:.1f} m load radius; "
        "no set of pushing floats balances it",
    )
