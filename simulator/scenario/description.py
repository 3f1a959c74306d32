"""A lift, described: frozen, validated, complete. The world is built from it alone."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, pi
from typing import Annotated, Literal

from simulator.scenario.drill import Drill
from simulator.scenario.measures import Angle, Length, Measure, Meters, Seconds, Share, WindSpeed
from simulator.scenario.site import Site
from simulator.scenario.trailer import Trailer
from simulator.scenario.unit import Unit

_ONTO_WHEELS_RAD = {"on_wheels": 0.0, "top_to_ravine": -pi / 2.0, "top_to_road": pi / 2.0}


@dataclass(frozen=True, slots=True)
class Limits:
    """Thresholds of the readouts (caution, stop). Defaults: common practice, no source; where they come from stands in
    docs/thresholds.md."""

    plumb_rad: Angle = 0.0087266
    """Nearer to plumb than this is plumb: half of the caution."""
    off_plumb_caution_rad: Angle = 0.0174533
    off_plumb_stop_rad: Angle = 0.0296706
    """1.7 deg: a side pull of 3 % of the load, what a boom is usually allowed (common practice, no source)."""
    capacity_caution: Share = 0.85
    capacity_stop: Share = 1.0
    head_room_caution_m: Length = 1.5
    head_room_stop_m: Length = 0.5
    rope_left_caution_m: Length = 8.0
    rope_left_stop_m: Length = 4.0
    light_float_share: Share = 0.15
    """A float is light below this share of its resting load."""
    float_caution_factor: Annotated[float, Measure("1", 1.0, 10.0)] = 1.6
    float_stop_factor: Annotated[float, Measure("1", 0.0, 1.0)] = 0.67
    pitch_caution_rad: Angle = 0.0523599
    pitch_stop_rad: Angle = 0.1047198
    sway_caution_m: Length = 0.30
    """No more than `gap_close_m`: a gap that clears has to clear with the sway that is let pass."""
    sway_stop_m: Length = 0.60
    gap_close_m: Length = 0.30
    lane_caution_m: Length = 2.0
    lane_stop_m: Length = 1.0
    """Nearer to the live lane is a stop."""
    wind_caution_mps: WindSpeed = 9.0
    """Gust at the boom tip, where no maker's limit is given (common practice, no source)."""
    wind_stop_mps: WindSpeed = 14.0
    """Gust at the boom tip, where no maker's limit is given (light in-service wind of ISO 4302, from memory)."""
    slack_N: Annotated[float, Measure("N", 0.0, 1e6)] = 1961.33
    """A line is slack below this hook load (0.2 t)."""


@dataclass(frozen=True, slots=True)
class Landing:
    """What counts as landed, and where."""

    y_m: Meters
    """Where the trailer's middle is to come down."""
    road_share: Share = 0.98
    still_mps: Annotated[float, Measure("m/s", 0.0, 1.0)] = 0.01
    still_s: Seconds = 2.0
    off_pads_m: Length = 0.3
    off_lane_m: Length = 1.0
    attitude_rad: Angle = 0.0523599
    on_wheels: bool = False
    """A trailer that lies on its side is turned over in the air and set down on its wheels."""


@dataclass(frozen=True, slots=True)
class Path:
    """The agreed way from bed to road: what a pair writes on the board before anyone drives."""

    belly_over_road_m: Length
    """Height of the trailer's lowest point over the road while it crosses."""
    tip_height_m: Length
    """Height of the boom tips while they cross."""
    leader: str = "nose"
    """The unit that sets the pace, by name; a lone unit leads itself."""
    hold_height_m: Length = 0.1
    """First stop after lift-off."""
    hold_s: Seconds = 10.0


@dataclass(frozen=True, slots=True)
class Engine:
    """Numbers of the integration."""

    steps_per_s: Annotated[int, Measure("1", 60, 10000)] = 240
    footing_every_steps: Annotated[int, Measure("1", 1, 240)] = 8
    """How often the floats are solved."""
    readings_per_s: Annotated[int, Measure("1", 1, 10000)] = 60
    operators_per_s: Annotated[int, Measure("1", 1, 10000)] = 10
    """How often automatic operators move their hands, as near as readings come (common practice, no source)."""

    @property
    def asked_every(self) -> int:
        """Readings from one question to an automatic operator to the next."""
        return max(1, round(self.readings_per_s / self.operators_per_s))


@dataclass(frozen=True, slots=True)
class Description:
    """One lift."""

    title: str
    story: str
    site: Site
    units: tuple[Unit, ...]
    """One, or two tail to tail: the nose unit first."""
    trailer: Trailer
    path: Path
    landing: Landing
    limits: Limits = Limits()
    engine: Engine = Engine()
    seed: Annotated[int, Measure("1", 0, 2**31)] = 1
    difficulty: Annotated[int, Measure("1", 1, 4)] = 2
    invented: Literal[True] = True
    """Demo data is invented, and says so."""
    drill: Drill | None = None
    """An exercise on this lift; without one it is the whole lift, freely driven."""

    @property
    def lands_turned_rad(self) -> float:
        """Roll from how it lies at time zero to how it is to be set down; road side up positive."""
        return _ONTO_WHEELS_RAD[self.trailer.attitude] if self.landing.on_wheels else 0.0

    @property
    def gap_m(self) -> float:
        """Tailboard to tailboard; infinite for a lone unit."""
        tailboards = sorted(unit.slew_axis_x_m + unit.facing * unit.tailboard_m for unit in self.units)
        return tailboards[-1] - tailboards[0] if len(tailboards) > 1 else inf
