"""Rules of how much a lift may ask of the computer before it begins."""

from __future__ import annotations

from simulator.files.bounds import CORNERS, GROUND_WORK, SETTLING_STEPS
from simulator.scenario.breach import Breach, Breaches
from simulator.scenario.description import Engine
from simulator.scenario.trailer import Part


def corners(parts: tuple[Part, ...]) -> Breaches:
    """A trailer is drawn with so many corners."""
    count = sum(len(part.outline_m) for part in parts)
    if count > CORNERS:
        yield Breach(("trailer.parts",), f"{count} corners in {len(parts)} parts", f"at most {CORNERS} corners in all")


def settling(settle_s: float, numbers: Engine, parts: tuple[Part, ...]) -> Breaches:
    """The steps before time zero, each with every corner that may touch the ground, are done in seconds."""
    touching = 2 * sum(len(part.outline_m) for part in parts if part.touches_ground)
    most = min(SETTLING_STEPS, GROUND_WORK // max(1, touching))
    if settle_s * numbers.steps_per_s > most:
        given = f"{settle_s:g} s at {numbers.steps_per_s} steps a second, {touching} corners that touch the ground"
        allowed = f"at most {most / numbers.steps_per_s:.4g} s with so many steps and corners"
        yield Breach(("site.settle", "engine", "trailer.parts"), given, allowed)
