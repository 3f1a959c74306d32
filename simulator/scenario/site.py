"""The place: section across the slope, bed along the road, soil, road, wind, and what holds the load down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Literal

from simulator.scenario.measures import (
    Angle,
    Force,
    Length,
    Measure,
    Meters,
    PositiveForce,
    PositiveMeters,
    Pressure,
    Ratio,
    Seconds,
    Share,
    Stiffness,
    WindSpeed,
)

SOILS: dict[str, dict[str, Any]] = {
    "crystalline bedrock": {"allowable_bearing": 574.6e3, "steepest_angle": 1.5707963},
    "sedimentary rock": {"allowable_bearing": 191.5e3, "steepest_angle": 1.5707963},
    "sandy gravel": {"allowable_bearing": 143.6e3, "steepest_angle": 0.5880026},
    "sand": {"allowable_bearing": 95.8e3, "steepest_angle": 0.5880026},
    "clay": {"allowable_bearing": 71.8e3, "steepest_angle": 0.5880026},
    "fill": {"allowable_bearing": 23.94e3, "steepest_angle": 0.5880026},
}
"""Keys and values as in a scenario file, SI."""


Point = tuple[Meters, Meters]


@dataclass(frozen=True, slots=True)
class Contact:
    """How ground pushes back at one contact point of the trailer. Defaults: common practice, no source."""

    stiffness_N_per_m: Stiffness = 2.0e6
    """Of the ground under one corner."""
    damping_ratio: Share = 0.5
    """Of critical for the trailer's weight shared over four points."""
    damper_depth_m: PositiveMeters = 0.02
    """Depth over which the damper grows in."""
    friction: Annotated[float, Measure("1", 0.0, 2.0)] = 0.5
    """Coefficient."""


@dataclass(frozen=True, slots=True)
class Soil:
    """The shoulder under the floats. Defaults: IBC 2012 Table 1806.2, sandy gravel (reproduced in a textbook)."""

    name: str = "sandy gravel"
    """What it is called; a known name brings its numbers."""
    allowable_bearing_Pa: Pressure = 143.6e3
    """Pressure that the ground may carry under a pad."""
    steepest_angle_rad: Angle = 0.588
    """Steepest line from the slope's toe behind which a pad may stand (29 CFR 1926 Subpart P App. B, type C: 34°)."""
    face_judged_by: str | None = None
    """Who found the slope to carry the pads, and where that is written: what no table decides (a slope over 20 ft, a
    pad nearer to its edge than the slope is deep). Left out: not judged."""
    settle_mps_per_overload: Annotated[float, Measure("m/s", 0.0, 1.0)] = 0.002
    """Sinking speed of a float for each 100 % of pressure over the allowable."""


@dataclass(frozen=True, slots=True)
class Wind:
    """Wind at the load; gusts are drawn from the scenario's seed."""

    speed_mps: WindSpeed = 0.0
    """Mean of ten minutes; gusts come on top of it."""
    measured_height_m: Annotated[float, Measure("m", 0.5, 200.0)] = 10.0
    """How high over the ground it was measured or forecast (10 m: WMO, from memory)."""
    toward_rad: Angle = 1.5707963
    """Where it blows to, in plan: 0 toward +x (tail unit), 90 deg toward the road."""
    gust_share: Share = 0.0
    """Largest gust over the steady speed, as a share of it."""
    gust_period_s: Annotated[float, Measure("s", 0.5, 600.0)] = 12.0
    """A usual time from one gust to the next (common practice, no source)."""
    drag_coefficient: Ratio = 1.3
    """Trailer box broadside: a choice within textbook figures, common practice, no source."""
    pressure_factor_kg_per_m3: Ratio = 0.613
    """q = factor V^2 (ASCE 7 velocity pressure, exposure factors taken as 1)."""


@dataclass(frozen=True, slots=True)
class BedHold:
    """Suction or a snag that holds one point of the trailer to the bed until a stated pull."""

    at_m: tuple[Meters, Meters, Meters]
    """Where, in the trailer's own axes."""
    pull_N: Force
    """Pull at which it lets go."""
    stiffness_N_per_m: Stiffness = 4.0e6
    """Of the hold, until it lets go."""


@dataclass(frozen=True, slots=True)
class HoldingLine:
    """A line from an anchor on the bank to the load: what friction does not hold before the lift, it holds. Somebody at
    the anchor lets it out once the load comes off the bed."""

    anchor_m: tuple[Meters, Meters, Meters]
    """Its anchor: along the road, across it, up from the road."""
    at_m: tuple[Meters, Meters, Meters]
    """Where it is made fast, in the trailer's own axes."""
    holds_N: PositiveForce
    """Pull at which its anchor slips or it parts; from then on it holds nothing."""
    drawn_up_N: Force = 0.0
    """Pull to which it is drawn up before anyone lifts; 0: it has no slack, and bears when the load would move."""
    stiffness_N_per_m: Stiffness = 5.0e5
    """Of line and anchor together: 30 m of 3/4 in rope (common practice, no source)."""
    pay_out_mps: Annotated[float, Measure("m/s", 0.02, 5.0)] = 0.5
    """How fast it is let out once it is slackened (our own choice, no source)."""


@dataclass(frozen=True, slots=True)
class OverheadLine:
    """A power line along the road."""

    y_m: Meters
    """Where it runs, across the road."""
    height_m: PositiveMeters
    """Of the lowest conductor over the road."""
    kilovolt: Annotated[float, Measure("1", 0.0, 2000.0)]
    """Its voltage; the rule's distances go by it."""


@dataclass(frozen=True, slots=True)
class Site:
    """Everything that stands still."""

    section_m: tuple[Point, ...]
    """(y, z) across the slope, from the road side (largest y) to the far bank; the road is z = 0."""
    edge_y_m: Meters
    """y of the slope's edge: the section's points on the ravine side of it carry the bed's height along the road."""
    bed_m: tuple[Point, ...] = ((-50.0, 0.0), (50.0, 0.0))
    """(x, height added to the section) along the road."""
    nose_seen_from_ravine: Literal["left", "right"] = "left"
    """On which side somebody in the ravine who looks at the road sees the trailer's nose."""
    live_lane_y_m: Meters = 10.0
    """Edge of the lane that traffic still uses."""
    guard_rail_height_m: Length = 0.0
    """0: none."""
    guard_rail_cut_from_m: Meters | None = None
    """Where the rail is cut away: x of one end of the opening, `guard_rail_cut_to` of the other. Left out: it stands
    all along."""
    guard_rail_cut_to_m: Meters | None = None
    """The other end of the opening."""
    cross_fall_rad: Angle = 0.0
    """Of the road, positive when the ravine side is low."""
    contact: Contact = Contact()
    road_contact: Contact = Contact(friction=0.6)
    soil: Soil = Soil()
    wind: Wind = Wind()
    bed_hold: BedHold | None = None
    holding_line: HoldingLine | None = None
    overhead_line: OverheadLine | None = None
    light_contact_mps: Annotated[float, Measure("m/s", 0.0, 10.0)] = 0.20
    """The load may come onto bed, slope or road at up to this speed; faster is an incident. 0: any touch is. Our own
    choice, no source: a hook that goes down at creep under a load that still sways some 0.15 m."""
    settle_s: Seconds = 6.0
    """How long the trailer is let settle on the bed before time zero."""

    def rail_spans(self, low_m: float, high_m: float) -> list[Point]:
        """Where along the road the guard rail stands, between two places: all of it, or both sides of where it is
        cut."""
        start, end = self.guard_rail_cut_from_m, self.guard_rail_cut_to_m
        if start is None or end is None:
            return [(low_m, high_m)]
        return [(a, b) for a, b in ((low_m, min(high_m, start)), (max(low_m, end), high_m)) if a < b]
