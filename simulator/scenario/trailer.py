"""The trailer: named parts, cargo, attitude, named picks and the rigging above them, where it lies at time zero.

All positions are in the trailer's own axes, as its maker would draw it on its wheels: x from the middle of its length
toward the axles, y across from its middle line toward its left when looking along x (up when it lies `top_to_ravine`),
z up from the plane its wheels stand on.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from simulator.scenario.measures import (
    Angle,
    Kilograms,
    Length,
    Measure,
    Meters,
    PositiveForce,
    PositiveKilograms,
    PositiveMeters,
    Pressure,
)

Vector = tuple[Meters, Meters, Meters]


@dataclass(frozen=True, slots=True)
class Part:
    """A named part: an outline in the trailer's own x-z plane, drawn out across its width."""

    name: str
    """What it is called."""
    outline_m: tuple[tuple[Meters, Meters], ...]
    """(x, z) corners, at least three, in order round a convex outline."""
    width_m: PositiveMeters
    """Across."""
    mass_kg: Kilograms = 0.0
    """Its weight."""
    y_m: Meters = 0.0
    """Middle of its width."""
    drawn_as: Literal["tank", "box", "frame", "wheels", "legs", "plate", "bumper", "case"] = "case"
    """How it is drawn."""
    touches_ground: bool = True
    """False leaves its corners out of the contact points."""
    may_bear_Pa: Pressure | None = None
    """Pressure of a sling laid round it that its shell is stated to bear; left out: nobody knows."""


@dataclass(frozen=True, slots=True)
class Cargo:
    """The load inside: a solid box, or a tank (a body for bulk goods) partly filled with what can move in it."""

    mass_kg: Kilograms
    """Its weight."""
    cg_m: Vector
    """Its center with the trailer standing level on its wheels."""
    size_m: tuple[Length, Length, Length]
    """Of a solid cargo; of a liquid or bulk cargo, the inside of its tank."""
    kind: Literal["solid", "liquid", "bulk"] = "solid"
    """liquid: its surface stays level and sloshes; bulk: it slumps where it lies steeper than its angle of repose."""
    fill: Annotated[float, Measure("1", 0.05, 1.0)] = 1.0
    """Share of the tank that is filled; a full one moves nothing. Several compartments are the longest one's, all of
    their mass in it: more moves then than can."""
    slosh_damping_ratio: Annotated[float, Measure("1", 0.0, 1.0)] = 0.05
    """Of a sloshing liquid (a tank with baffles; common practice, no source)."""
    repose_rad: Annotated[float, Measure("rad", 0.05, 1.5, "35 deg")] = 0.61
    """Angle of repose of a bulk cargo (35 deg: sand, gravel, grain stand at 25 to 40; common practice, no source)."""

    @property
    def high_m(self) -> float:
        """As high as it is filled, standing level."""
        return self.size_m[2] * (self.fill if self.kind != "solid" else 1.0)


Side = Literal["left", "right", "roof", "floor"]
"""Of the trailer on its wheels: left and right when looking along x, toward the axles."""


@dataclass(frozen=True, slots=True)
class Spreader:
    """A bar that keeps two drops apart, so that they hang plumb beside the shell; two top legs meet at the hook."""

    length_m: Annotated[float, Measure("m", 0.2, 30.0, "9 ft")]
    """Between its drops."""
    mass_kg: PositiveKilograms
    """Its weight."""
    drop_m: Annotated[float, Measure("m", 0.1, 30.0, "6 ft")]
    """Pick line to bar; the pick's own height goes on to the hook."""
    may_press_N: PositiveForce | None = None
    """Compression that the bar is stated to bear; left out: nobody knows."""


@dataclass(frozen=True, slots=True)
class Pick:
    """Where rigging meets the trailer, and how it pivots there."""

    name: str
    """What it is called; lines name it."""
    at_m: Vector
    """Where it is, in the trailer's own axes."""
    pivot: Literal["single_point", "bridle_across"] = "bridle_across"
    """single_point: pivots at the pick; bridle_across (or basket): at the hook for roll, at the pick line for pitch."""
    height_m: PositiveMeters = 2.3
    """Pick line to hook."""
    rigging_kg: Kilograms = 200.0
    """Weight of the rigging above it."""
    kind: str = "basket sling"
    """What hangs there, in words."""
    width_m: Length = 0.0
    """Across, between the lower ends of its two legs; 0: as wide as the trailer is there."""
    may_carry_N: PositiveForce | None = None
    """What the trailer (or a spreader) is stated to bear here, rigging included; left out: taken as enough."""
    may_press_N: PositiveForce | None = None
    """How hard the legs may press its sides together; left out: taken as enough, and said."""
    pieces: tuple[str, ...] = ()
    """Sizes of rigging at hand, by their names in the tables, such as "chain Gr 80 5/8 in"."""
    lies_on: Side | None = None
    """The side of the trailer that a sling from here lies on first, before it goes on round whatever is convex there.
    Left out: straight from the pick."""
    sling_length_m: Annotated[float, Measure("m", 0.3, 60.0, "16 ft")] | None = None
    """All of the sling, from the pick to the hook, what is laid included. Where it is given, the line comes to bear on
    the trailer's outline as that turns. Left out: the line goes straight, and is not looked at for that."""
    sling_width_m: Annotated[float, Measure("m", 0.01, 2.0, "12 in")] = 0.3
    """Of the sling as it lies (wide web slings: common practice, no source)."""
    corner_friction: Annotated[float, Measure("1", 0.0, 1.0)] = 0.15
    """Between sling and corners, over sleeves (common practice, no source): how far the two sides of a sling may
    differ. The engine's slings slide freely."""
    protection: str | None = None
    """What lies between sling and corners; left out: nothing is stated."""
    corner_bears_N: PositiveForce | None = None
    """Push of a sling that a corner of the trailer is stated to bear here; left out: nobody knows."""
    spreader: Spreader | None = None

    @property
    def hung_kg(self) -> float:
        """Rigging, with its spreader."""
        return self.rigging_kg + (self.spreader.mass_kg if self.spreader else 0.0)


@dataclass(frozen=True, slots=True)
class PickCandidate:
    """A place that might be picked instead; the plan compares them, nothing else looks at them."""

    name: str
    """What it is called."""
    pick: str
    """The pick it might take the place of, by name."""
    at_m: Vector
    """Where it is."""
    pivot: Literal["single_point", "bridle_across"] = "bridle_across"
    """As at a pick."""
    height_m: PositiveMeters = 2.3
    """Pick line to hook."""


@dataclass(frozen=True, slots=True)
class TrailerStart:
    """Where the trailer lies at time zero; it is set on the ground at this place and let settle."""

    x_m: Meters
    """Along the road."""
    y_m: Meters
    """Across it."""
    pitch_rad: Angle = 0.0
    """Nose up."""
    yaw_rad: Angle = 0.0
    """Tail toward the road."""
    roll_rad: Angle = 0.0
    """Road side up."""


@dataclass(frozen=True, slots=True)
class Trailer:
    """The load."""

    parts: tuple[Part, ...]
    cargo: Cargo
    picks: tuple[Pick, ...]
    start: TrailerStart
    attitude: Literal["on_wheels", "top_to_ravine", "top_to_road"] = "on_wheels"
    """How it lies; on which side it was turned."""
    hidden_cg_m: Vector = (0.0, 0.0, 0.0)
    """Added to the stated CG and not shown to the trainee."""
    hidden_mass_factor: Annotated[float, Measure("1", 0.5, 2.0)] = 1.0
    """True mass over stated mass; not shown to the trainee."""
    pick_candidates: tuple[PickCandidate, ...] = ()

    def pick(self, name: str) -> Pick:
        """The pick of that name.

        Raises:
            KeyError: there is none.
        """
        for pick in self.picks:
            if pick.name == name:
                return pick
        raise KeyError(name)
