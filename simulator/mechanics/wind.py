"""Wind at a height, and how far a gust takes a hanging load."""

from __future__ import annotations

from simulator.scenario.site import Wind

PROFILE_POWER = 1.0 / 7.0
"""Mean wind over open ground grows with this power of the height (textbook power law, as in ASCE 7, from memory)."""
GUST_OVERSHOOT = 2.0
"""A load that a gust meets at once goes twice as far as one that hangs in it (suddenly applied load, machine-design
texts); measured against driven lifts in the tests."""


def wind_at_mps(wind: Wind, height_m: float) -> float:
    """Mean wind at a height over the road; never less than what was measured."""
    return wind.speed_mps * float(max(1.0, height_m / wind.measured_height_m) ** PROFILE_POWER)
