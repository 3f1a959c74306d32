"""What ends a lift: what happened, where, and with which numbers."""

from __future__ import annotations

from math import hypot, pi
from typing import NamedTuple

from simulator.engine.model import Model
from simulator.engine.state import State
from simulator.events import Fields, Happening

MOST_PITCH_RAD = 75.0 * pi / 180.0
"""Angles are about level axes, which fail with the trailer on end: wrong by a meter past 79 deg."""
DEEPEST_SUNK_M = 0.5
"""No jack has more stroke, and the carrier comes to lie on the ground. Common practice, no source."""


class Incident(NamedTuple):
    """Something that ends a lift."""

    time_s: float
    what: str
    """met, tipped, sank, parted, on_end"""
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


def fallen(model: Model, state: State) -> Incident:
    """The first unit that does not stand any more: it has gone over, or one float has gone down too far."""
    if any(boom.is_gone for boom in state.booms):
        return tipped(model, state)
    sunk_m, place = max((max(boom.stance.sunk_m), -place) for place, boom in enumerate(state.booms))
    return Incident(state.step * model.dt, "sank", {"unit": model.units[-place].unit.name, "depth_m": sunk_m})


def tipped(model: Model, state: State) -> Incident:
    """A unit that has gone over: past its balance, or farther than it can be saved from."""
    place = next(place for place, boom in enumerate(state.booms) if boom.is_gone)
    unit, boom = model.units[place], state.booms[place]
    lines = model.lines_of(unit)
    loads = [state.lines[line.rig.place].hook_load_N + line.numbers.below_sheave_N for line in lines]
    whole = sum(loads) or 1.0
    hooks = [state.lines[line.rig.place].hang.hook for line in lines]
    x = sum(load * hook[0] for load, hook in zip(loads, hooks, strict=True)) / whole
    y = sum(load * hook[1] for load, hook in zip(loads, hooks, strict=True)) / whole
    fields: Fields = {
        "unit": unit.unit.name,
        "way": "the ravine" if boom.tip[1] < 0.0 else "the road",
        "y_m": boom.tip[1],
        "load_N": sum(loads),
        "radius_m": hypot(x - unit.unit.slew_axis_x_m, y),
    }
    return Incident(state.step * model.dt, "tipped", fields)


def parted(model: Model, state: State) -> Incident:
    """A hoist rope that was pulled past its breaking strength."""
    line = next(line for line in model.lines if state.lines[line.rig.place].parted)
    fields: Fields = {"line": line.rig.name, "load_N": line.numbers.breaking_N}
    return Incident(state.step * model.dt, "parted", fields)


def on_end(time_s: float, pitch_rad: float) -> Incident:
    """A trailer so steep that its angles mean nothing much longer."""
    return Incident(time_s, "on_end", {"pitch_rad": pitch_rad})
