"""What else acts on the trailer: wind, a hold on the bed, a free liquid inside."""

from __future__ import annotations

from math import cos, pi, sin, tan
from random import Random
from typing import NamedTuple

from simulator.mechanics.trailer import Body
from simulator.scenario.site import Wind
from simulator.scenario.trailer import Cargo

GUST_WAVES = (1.0, 1.618, 2.414)
"""Frequencies of the three waves a gust is made of, as multiples of one over the gust period (incommensurable)."""


class Weather(NamedTuple):
    """Wind on the trailer, ready for stepping."""

    pressure_area: tuple[float, float]
    """Factor times drag coefficient times area seen, along and across: force over V squared."""
    speed_mps: float
    toward: tuple[float, float]
    gust_share: float
    waves: tuple[tuple[float, float], ...]
    """(rad/s, phase) of each."""
    lever: tuple[float, float, float]
    """Middle of the outline from the CG, lying axes."""


def weather(wind: Wind, body: Body, seed: int) -> Weather:
    """The wind of a scenario; its gusts' phases are drawn from the seed."""
    draw = Random(seed)
    size = [high - low for low, high in zip(body.low_m, body.high_m, strict=True)]
    factor = wind.pressure_factor_kg_per_m3 * wind.drag_coefficient
    middle = [(low + high) / 2.0 - cg for low, high, cg in zip(body.low_m, body.high_m, body.cg_m, strict=True)]
    return Weather(
        (factor * size[1] * size[2], factor * size[0] * size[2]),
        wind.speed_mps,
        (cos(wind.toward_rad), sin(wind.toward_rad)),
        wind.gust_share,
        tuple((2.0 * pi * wave / wind.gust_period_s, draw.uniform(0.0, 2.0 * pi)) for wave in GUST_WAVES),
        (middle[0], middle[1], middle[2]),
    )


def wind_speed_mps(wind: Weather, time_s: float) -> float:
    """Wind speed at a moment: steady, and up to the gust share more."""
    if not wind.gust_share:
        return wind.speed_mps
    wave = sum(sin(rate * time_s + phase) for rate, phase in wind.waves) / len(wind.waves)
    return wind.speed_mps * (1.0 + wind.gust_share * 0.5 * (1.0 + wave))


def wind_force_N(wind: Weather, time_s: float) -> tuple[float, float]:
    """Force along and across the road, each on the area it sees."""
    speed = wind_speed_mps(wind, time_s)
    along, across = (speed * part for part in wind.toward)
    return wind.pressure_area[0] * along * abs(along), wind.pressure_area[1] * across * abs(across)


def liquid_moment_Nm(cargo: Cargo, pitch_rad: float, gravity_mps2: float) -> float:
    """Pitching moment of a free liquid, run to the low end by l^2 tan(pitch) / (12 h) (naval-architecture texts)."""
    if not cargo.free_surface_length_m:
        return 0.0
    shift = cargo.free_surface_length_m**2 * tan(pitch_rad) / (12.0 * cargo.free_surface_depth_m)
    return cargo.mass_kg * gravity_mps2 * shift
