"""What ends a lift: what happened, where, and with which numbers."""

from __future__ import annotations

from math import hypot
from typing import NamedTuple

from simulator.engine.model import Model
from simulator.engine.state import State
from simulator.events import Fields, Happening
from simulator.scenario.description import END_NAMES


class Incident(NamedTuple):
    """Something that ends a lift."""

    time_s: float
    what: str
    """met, tipped"""
    fields: Fields

    @property
    def happening(self) -> Happening:
        """As what is told of a lift."""
        return Happening("incident", self.what, self.fields)


def met(time_s: float, part: str, other: str, speed_mps: float, at_m: tuple[float, float, float]) -> Incident:
    """A part of the trailer and something it touches."""
    x, y, z = at_m
    fields: Fields = {"part": part, "other": other, "x_m": x, "y_m": y, "z_m": z, "speed_mps": speed_mps}
    return Incident(time_s, "met", fields)


def tipped(model: Model, state: State) -> Incident:
    """A unit that no set of pushing floats balances any more."""
    end = 0 if state.units[0].stance.tipping else 1
    side, unit = model.sides[end], state.units[end]
    hook = unit.hang.hook
    fields: Fields = {
        "unit": END_NAMES[end],
        "way": "the ravine" if unit.tip[1] < 0.0 else "the road",
        "y_m": unit.tip[1],
        "load_N": unit.hook_load_N + side.below_sheave_N,
        "radius_m": hypot(hook[0] - side.unit.slew_axis_x_m, hook[1]),
    }
    return Incident(state.step * model.dt, "tipped", fields)
