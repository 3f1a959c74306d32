"""A lift, described: frozen, validated, complete. The world is built from it alone."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, pi
from typing import Annotated, Literal

from simulator.scenario.drill import Drill
from simulator.scenario.flat import Flat
from simulator.scenario.measures import Angle, Length, Measure, Meters, Seconds, Share, WindSpeed
from simulator.scenario.site import Site
from simulator.scenario.standing import tailboard_reach_m
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
    """A line so far off plumb is a caution."""
    off_plumb_stop_rad: Angle = 0.0296706
    """1.7 deg: a side pull of 3 % of the load, what a boom is usually allowed (common practice, no source)."""
    capacity_caution: Share = 0.85
    """Share of the allowed load that is a caution."""
    capacity_stop: Share = 1.0
    """Share of the allowed load that is a stop."""
    head_room_caution_m: Length = 1.5
    """Hook to sheave, less block and stop: a caution."""
    head_room_stop_m: Length = 0.5
    """The same: a stop."""
    rope_left_caution_m: Length = 8.0
    """Rope left on the drum: a caution."""
    rope_left_stop_m: Length = 4.0
    """The same: a stop."""
    light_float_share: Share = 0.15
    """A float is light below this share of its resting load."""
    float_caution_factor: Annotated[float, Measure("1", 1.0, 10.0)] = 1.6
    """A float below this times `light_float_share` is a caution."""
    float_stop_factor: Annotated[float, Measure("1", 0.0, 1.0)] = 0.67
    """A float below this times `light_float_share` is a stop in a drive; a plan stops at that share itself."""
    pitch_caution_rad: Angle = 0.0523599
    """The load's pitch: a caution."""
    pitch_stop_rad: Angle = 0.1047198
    """The same: a stop."""
    sway_caution_m: Length = 0.30
    """No more than `gap_close_m`: a gap that clears has to clear with the sway that is let pass."""
    sway_stop_m: Length = 0.60
    """The load's sway: a stop."""
    gap_close_m: Length = 0.30
    """A gap smaller than this is close: a caution."""
    hook_off_caution_m: Length = 0.8
    """Hook, or upper eye, of a sling that runs round the load nearer to the load than this: a caution."""
    hook_off_stop_m: Length = 0.5
    """The same: a stop."""
    lane_caution_m: Length = 2.0
    """Distance to the live lane: a caution."""
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
    """Share of the load's weight that the road has to bear."""
    still_mps: Annotated[float, Measure("m/s", 0.0, 1.0)] = 0.01
    """Slower than this is still."""
    still_s: Seconds = 2.0
    """For so long."""
    off_pads_m: Length = 0.3
    """Least distance from the pads."""
    off_lane_m: Length = 1.0
    """Least distance from the live lane."""
    attitude_rad: Angle = 0.0523599
    """Most pitch and roll it may lie at."""
    on_wheels: bool = False
    """A trailer that lies on its side is turned over in the air and set down on its wheels."""
    flat: Flat | None = None

    @property
    def height_m(self) -> float:
        """Of what the load is set down on, over the road: a waiting trailer's deck, or the road itself."""
        return 0.0 if self.flat is None else self.flat.deck_height_m

    def deck_y_m(self, flat: Flat) -> tuple[float, float]:
        """Both sides of a waiting trailer's deck, across the road."""
        middle = self.y_m if flat.y_m is None else flat.y_m
        return middle - flat.width_m / 2.0, middle + flat.width_m / 2.0


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
    """How long the first stop lasts."""


@dataclass(frozen=True, slots=True)
class Engine:
    """Numbers of the integration."""

    steps_per_s: Annotated[int, Measure("1", 60, 10000)] = 240
    """Steps of the engine."""
    footing_every_steps: Annotated[int, Measure("1", 1, 240)] = 8
    """How often the floats are solved."""
    readings_per_s: Annotated[int, Measure("1", 1, 10000)] = 60
    """How often readings are taken."""
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
    """What the lift is called. An amount in both systems, such as 9.6 m (31 ft), is told in the reader's own."""
    story: str
    """What has happened and what is to be done, for those who drive it; amounts as in the title."""
    site: Site
    units: tuple[Unit, ...]
    """One, or two tail to tail: the nose unit first."""
    trailer: Trailer
    path: Path
    landing: Landing
    limits: Limits = Limits()
    engine: Engine = Engine()
    seed: Annotated[int, Measure("1", 0, 2**31)] = 1
    """Of everything that is drawn by lot: gusts, a drill's hidden load."""
    difficulty: Annotated[int, Measure("1", 1, 4)] = 2
    """Stars, 1 to 4."""
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
        tailboards = sorted(map(tailboard_reach_m, self.units))
        return tailboards[-1] - tailboards[0] if len(tailboards) > 1 else inf
