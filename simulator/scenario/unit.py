"""One recovery truck with its slewing telescopic boom: stand, dimensions, masses, drives, and its one or two lines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from simulator.scenario.measures import (
    Acceleration,
    Angle,
    AngularAcceleration,
    AngularSpeed,
    Elevation,
    Kilograms,
    Length,
    Measure,
    Meters,
    PositiveForce,
    PositiveKilograms,
    PositiveMeters,
    PositiveMoment,
    Seconds,
    Share,
    Speed,
    Stiffness,
    WindSpeed,
)

MOST_YAW_RAD = 0.35
"""20 degrees: a unit that stands more askew than this looks past the load (our choice, no source)."""


@dataclass(frozen=True, slots=True)
class Boom:
    """Boom travel and drives. Speeds and ramps: common practice, no source."""

    shortest_m: PositiveMeters
    """Foot pin to tip, all the way in."""
    longest_m: PositiveMeters
    """Foot pin to tip, all the way out."""
    lowest_rad: Elevation
    """Travel end downward."""
    highest_rad: Elevation
    """Travel end upward."""
    foot_pin_back_m: Length
    """Foot pin behind the slew axis."""
    foot_pin_height_m: PositiveMeters
    """Over the road."""
    slew_ravine_rad: Angle = -1.74533
    """Travel end toward the ravine."""
    slew_road_rad: Angle = 1.74533
    """Travel end toward the road."""
    telescope_speed_mps: Speed = 0.20
    """Full speed."""
    telescope_ramp_mps2: Acceleration = 0.15
    """To full speed and back."""
    elevation_speed_radps: AngularSpeed = 0.0209
    """Full speed."""
    elevation_ramp_radps2: AngularAcceleration = 0.015
    """To full speed and back."""
    slew_speed_radps: AngularSpeed = 0.0262
    """Full speed."""
    slew_ramp_radps2: AngularAcceleration = 0.015
    """To full speed and back."""
    tip_stiffness_N_per_m: Stiffness | None = None
    """Square to the boom at its longest, as its maker gives it or as measured; more when shorter, as its sections bend.
    Left out: as a boom of its length, depth and mass bends (see `mechanics/boom_section.py`)."""
    depth_m: PositiveMeters = 0.55
    """Depth of the section at the boom's foot. Common practice, no source."""
    raise_relief_Nm: PositiveMoment | None = None
    """Moment of line and boom about the foot pin at which raising stalls. Left out: 1.2 times the most that the rating
    allows (common practice, no source; so are the next two)."""
    telescope_relief_N: PositiveForce | None = None
    """Push of line, lead line and moving sections along the boom at which extending stalls; so much a boom may be
    telescoped with. Left out: three quarters of the most that the rating allows."""
    telescope_load_kg: Kilograms | None = None
    """By the unit's own rule: most load at the hook with which its boom may be telescoped; 0: not under load at all.
    Left out: with whatever its telescope moves (makers differ: some forbid it, some give a share of the chart for it;
    common practice, no source)."""
    slew_hold_Nm: PositiveMoment | None = None
    """Torque about the slew axis at which slewing stalls and a held boom is dragged round. Left out: a side pull of 8 %
    of the rated load."""
    holding_factor: Annotated[float, Measure("1", 1.0, 10.0)] = 1.3
    """Holding valves keep a boom up and out to so many times the relief, then let it give way (common practice, no
    source)."""


@dataclass(frozen=True, slots=True)
class Hoist:
    """Drum, rope and block of one line."""

    parts: Annotated[int, Measure("1", 1, 12)] = 2
    """Parts of line."""
    speed_mps: Speed = 0.5
    """Top rope speed at the drum, on the first layer; outer layers take rope faster, by their diameter."""
    ramp_mps2: Acceleration = 1.25
    """A stop from the usual top speed takes 0.4 s (0.3 to 0.5 s: common practice, no source)."""
    usable_rope_m: PositiveMeters = 66.0
    """Rope on the drum less the wraps that must stay on."""
    to_boom_foot_m: Length = 2.0
    """Rope from the drum to the boom's foot and over the sheave (R_0)."""
    rope_EA_N: PositiveForce = 15.3e6
    """Metallic area times modulus of one part (3/4 in 6x36 IWRC: 176 mm2 x 86.9 GPa, from memory)."""
    damping_ratio: Share = 0.03
    """Of the line's stretch, as a share of critical: strands rub (2 to 5 %: common practice, no source)."""
    sway_damping_ratio: Annotated[float, Measure("1", 0.0, 0.2)] = 0.01
    """Share of critical that a sway on this line loses: hysteresis of rope, sheaves and block, and drag of still air
    (about 1 %: common practice, no source). An amplitude is down to a third after some 18 sways; 0: it never dies."""
    block_kg: Kilograms = 300.0
    """Weight of block and hook."""
    block_and_stop_m: Length = 1.0
    """Sheave to hook when the block meets its stop."""
    stall_line_pull_N: PositiveForce = 130e3
    """Rope pull at which the winch stalls on the first layer; outer layers pull less, by their diameter."""
    brake_line_pull_N: PositiveForce | None = None
    """Rope pull on the first layer at which the brake of a held winch slips. Left out: 1.3 times the stall (common
    practice, no source)."""
    drum_diameter_m: PositiveMeters = 0.45
    """Of the bare drum."""
    drum_width_m: PositiveMeters = 0.55
    """Between the flanges."""
    rope_diameter_m: PositiveMeters = 0.019
    """Of the hoist rope."""
    rope_breaking_N: PositiveForce | None = None
    """Least breaking strength by the rope's certificate; without it the size is looked up in the tables."""
    rope_is_rotation_resistant: bool = False
    """True for a rope that is made not to spin: its design factor is 5 (29 CFR 1926.1414(e)(2)), not 3.5."""
    wraps_to_stay: Annotated[int, Measure("1", 2, 10)] = 2
    """Full wraps that stay on the drum (at least 2: 29 CFR 1926.1417(t)); some makers ask for 5."""
    sheave_diameter_m: PositiveMeters | None = None
    """Smallest sheave the rope runs over, to the rope's middle; left out: not looked at."""
    sheave_loss: Annotated[float, Measure("1", 1.0, 1.2)] = 1.02
    """Pull ratio over one sheave (roller bearings 1.02, from memory)."""
    two_block_override: bool = False
    """True lets block meet stop (logged); False is a travel end."""


@dataclass(frozen=True, slots=True)
class Floats:
    """Four floats; distances from the slew axis. Stiffness of float and ground together."""

    toward_tailboard_m: PositiveMeters
    """Of the two on the tailboard side."""
    toward_cab_m: PositiveMeters
    """Of the two on the cab side."""
    across_m: PositiveMeters
    """Of each from the unit's centerline, beams all the way out: the width that the rating table is of."""
    pad_side_m: PositiveMeters = 0.75
    """Side of the square pad under a float."""
    stiffness_N_per_m: Stiffness = 8.0e6
    """Of each, float and ground together (common practice, no source)."""
    soft_float_share: Annotated[tuple[float, float, float, float], Measure("1", 0.05, 1.0)] = (1.0, 1.0, 1.0, 1.0)
    """Share of the stiffness under tailboard-road, tailboard-ravine, cab-road, cab-ravine."""
    across_road_m: PositiveMeters | None = None
    """Of the two on the road side from the unit's centerline, where their beams are not all the way out (short-jacked).
    Left out: `across`."""
    across_ravine_m: PositiveMeters | None = None
    """The same of the two on the ravine side."""

    @property
    def road_m(self) -> float:
        """Of those on the road side from the unit's centerline."""
        return self.across_m if self.across_road_m is None else self.across_road_m

    @property
    def ravine_m(self) -> float:
        """Of those on the ravine side from the unit's centerline."""
        return self.across_m if self.across_ravine_m is None else self.across_ravine_m


@dataclass(frozen=True, slots=True)
class Rating:
    """A rating table: line load allowed by load radius and boom length. Invented in demo scenarios."""

    boom_lengths_m: Annotated[tuple[float, ...], Measure("m", 0.1, 100.0)]
    """Foot pin to tip, one a column, rising."""
    radii_m: Annotated[tuple[float, ...], Measure("m", 0.1, 100.0)]
    """Load radii, one a row, rising."""
    rated_kg: Annotated[tuple[tuple[float, ...], ...], Measure("kg", 0.0, 1e6)]
    """One row a radius, one column a boom length; 0 where the boom does not reach."""
    invented: bool = True
    """True where no maker stands behind it."""
    tandem_share: Annotated[float, Measure("1", 0.05, 1.0)] = 0.75
    """Mark for a lift by two machines (75 %: ASME P30.1, BS 7121-3 practice, from memory)."""
    tipping_share: Annotated[float, Measure("1", 0.05, 1.0)] = 0.85
    """Rated load as a share of tipping load (29 CFR 1910.180(c)(1); SAE J765)."""
    entered: str | None = None
    """As entered from the maker's chart: when and by whom. Such a table may have holes, 0 where it gives no load."""


@dataclass(frozen=True, slots=True)
class Equipment:
    """Something that stands on the deck: winch, tool box, rack."""

    name: str
    """What it is called."""
    from_m: Meters
    """Its two ends from the slew axis, positive toward the tailboard."""
    to_m: Meters
    """The other end."""
    width_m: PositiveMeters
    """Across, about the unit's centerline."""
    height_m: PositiveMeters
    """Its highest point over the road."""


@dataclass(frozen=True, slots=True)
class Line:
    """A winch's rope to one pick: its sheave's place, where it goes, how much of it is out at time zero."""

    pick: str
    """The pick it goes to, by name."""
    rope_out_m: PositiveMeters
    """Rope paid out at time zero."""
    hoist: Hoist
    across_m: Meters = 0.0
    """Its sheave from the boom's middle, square to the boom and level; positive the way the tip goes when the boom
    slews toward the road."""
    shares_pick: bool = False
    """True where another line may go to the same pick."""


@dataclass(frozen=True, slots=True)
class UnitStart:
    """Where a unit's boom stands at time zero."""

    boom_length_m: PositiveMeters
    """Foot pin to tip."""
    elevation_rad: Elevation
    """Above horizontal."""
    slew_rad: Angle
    """From straight over the tailboard, positive toward the road."""


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit. `slew_axis_x_m` says where it stands; it faces the load, tailboard first."""

    name: str
    """`nose` and `tail` where there are two; a lone unit has any name."""
    slew_axis_x_m: Meters
    """Where it stands along the road."""
    tailboard_m: PositiveMeters
    """Slew axis to tailboard."""
    deck_height_m: Length
    """Over the road."""
    boom: Boom
    lines: tuple[Line, ...]
    """One or two."""
    start: UnitStart
    floats: Floats
    carrier_kg: PositiveKilograms
    """Weight of what stands on the ground."""
    carrier_cg_m: Meters
    """CG of the carrier toward the cab from the slew axis."""
    superstructure_kg: PositiveKilograms
    """Weight of what slews, without the boom."""
    superstructure_cg_m: Meters
    """CG of superstructure and counterweight, opposite the boom from the slew axis."""
    boom_kg: PositiveKilograms
    """Weight of the boom."""
    boom_cg_share: Share = 0.42
    """CG of the boom as a share of its length from the foot pin."""
    rating: Rating | None = None
    level_along_rad: Angle = 0.0
    """Level error: positive when the tailboard end is low."""
    level_across_rad: Angle = 0.0
    """Level error: positive when the ravine side is low."""
    creep_share: Share = 0.2
    """What the slow key leaves of a lever: a hook then sets a load down at under 0.1 m/s, its bounce on the rope
    included (our choice, no source)."""
    full_speed_share: Annotated[float, Measure("1", 0.0, 0.95)] = 0.6
    """Every function goes at its full speed up to this share of what stalls it, then slower, and stands at what stalls
    it (pumps of limited power: common practice, no source)."""
    lean_relaxation_s: Seconds = 0.5
    """How fast a lean follows its load (common practice, no source)."""
    superstructure_radius_m: PositiveMeters = 1.25
    """Of its body, from the slew axis."""
    tail_swing_m: PositiveMeters = 2.3
    """Counterweight's rear from the slew axis."""
    carrier_width_m: PositiveMeters = 2.5
    """Across."""
    cab_length_m: PositiveMeters = 2.2
    """Of the cab, back from its front."""
    cab_height_m: PositiveMeters = 3.0
    """Over the road."""
    cab_front_m: PositiveMeters = 7.6
    """Front of the cab from the slew axis."""
    command_ramp_s: Annotated[float, Measure("s", 0.0, 5.0)] = 0.4
    """How long a key takes to full command."""
    equipment: tuple[Equipment, ...] = ()
    """What stands on the deck."""
    tailboard_toward: Literal["tail", "nose"] = "tail"
    """Which way its tailboard looks: along +x toward the tail end, or back. A unit named `tail` looks to the nose."""
    levers: tuple[Literal["both", "turn"], ...] = ()
    """Levers that move its two lines at once: both alike, or line 1 out and line 2 in alike (`turn`)."""
    wind_caution_mps: WindSpeed | None = None
    """Maker's: gust at the boom tip from which the load is reduced or the boom watched."""
    wind_stop_mps: WindSpeed | None = None
    """Maker's: gust at the boom tip from which the boom is not used."""
    configuration: str | None = None
    """How it is set up, by the name of its chart: outriggers, sector, counterweight. Its table is of this one."""
    slew_axis_y_m: Meters = 0.0
    """Where it stands across the road, toward the road from the line that y is measured from: each unit may stand at
    its own distance from the slope's edge."""
    yaw_rad: Annotated[float, Measure("rad", -MOST_YAW_RAD, MOST_YAW_RAD, "3 deg")] = 0.0
    """How far askew it stands in plan; positive with its tailboard toward the road."""

    @property
    def facing(self) -> float:
        """+1 where its tailboard looks along +x, -1 where it looks back."""
        return 1.0 if self.tailboard_toward == "tail" else -1.0

    @property
    def hoist(self) -> Hoist:
        """Its first line's hoist."""
        return self.lines[0].hoist
