"""What a step has to know of a lift: plain numbers of its units, lines and trailer. Nothing changes them.

`model` makes them from a description.
"""

from __future__ import annotations

from math import inf
from typing import Final

from simulator.engine.drives import Travel, ample
from simulator.engine.slung import RoundNumbers
from simulator.mechanics.boom import Foot
from simulator.mechanics.four_floats import Four
from simulator.mechanics.going_over import Masses
from simulator.mechanics.lean import Bend
from simulator.mechanics.load_table import LoadTable
from simulator.mechanics.matrix import Matrix, Vector
from simulator.mechanics.unit_loads import Stand

Layer = tuple[float, float, float]
"""Usable rope left up to which it is in play, stall load, rope speed over that on the first."""


class LineNumbers:
    """A winch, its rope and sheave, and the pick it goes to."""

    __slots__ = (
        "across_m",
        "across_rigid",
        "ample_m",
        "below_sheave_N",
        "brake_over_stall",
        "breaking_N",
        "damping_ratio",
        "hoist",
        "layers",
        "lead_share",
        "parts",
        "pick_m",
        "rigging_m",
        "rope_EA_N",
        "round",
        "share_kg",
        "sway_per_N",
        "to_boom_foot_m",
        "to_stop_m",
        "two_block_override",
        "usable_rope_m",
    )

    def __init__(self, hoist: Travel, telescope: Travel, across_m: float, pick_m: Vector, rigging_m: float) -> None:
        """Its hoist's travel (minus the rope paid out, so that up is positive), its boom's telescope, its sheave's
        place and where it pulls; the rest is set by `model`."""
        self.hoist: Travel = hoist
        self.across_m: float = across_m
        """Its sheave from the boom's middle, square to the boom and level."""
        self.pick_m: Vector = pick_m
        """From the true CG, lying axes."""
        self.rigging_m: float = rigging_m
        """Pick line to hook; all of a sling that may lie on the load."""
        self.round: RoundNumbers | None = None
        """Its sling, where it may lie on the load."""
        self.across_rigid: bool = False
        """Bridle or basket across: the rigging turns with the trailer in roll."""
        self.below_sheave_N: float = 0.0
        """Weight of block and rigging."""
        self.rope_EA_N: float = 1.0
        self.parts: float = 1.0
        self.to_boom_foot_m: float = 0.0
        self.usable_rope_m: float = 0.0
        self.damping_ratio: float = 0.0
        self.share_kg: float = 0.0
        """Its share of the trailer's mass for its damper: the mass over the number of all lines."""
        self.sway_per_N: float = 0.0
        """2 z / sqrt(g): times pull over the square root of its length it is the damper of a sway."""
        self.to_stop_m: float = 0.0
        """Rope out less boom length when the block meets its stop."""
        self.ample_m: float = ample(hoist.top + telescope.top, hoist.ramp)
        """With this much rope more, hoist and telescope together need not be held back."""
        self.two_block_override: bool = False
        self.layers: list[Layer] = []
        """By rope left: line load at which the winch stalls, rope speed over that on the first layer."""
        self.brake_over_stall: float = 1.0
        """Line load at which a held winch's brake slips over that at which it stalls."""
        self.breaking_N: float = inf
        """Line load at which a part of it parts while it is hoisted."""
        self.lead_share: float = 1.0
        """Pull in its lead line over its load."""


class UnitNumbers:
    """A truck: where its boom stands, how fast it goes, what it weighs, what it stands on."""

    __slots__ = (
        "bearing_Pa",
        "bend",
        "elevation",
        "foot",
        "full_share",
        "given_share",
        "holding_factor",
        "lean_share",
        "masses",
        "pad_side_m",
        "reliefs",
        "resting_N",
        "settle_mps",
        "slew",
        "stand",
        "table",
        "telescope",
        "tipping_share",
    )

    def __init__(self, foot: Foot, stand: Stand, telescope: Travel, elevation: Travel, slew: Travel) -> None:
        """Where it stands, its weights and floats, its boom's travels; the rest is set by `model`."""
        self.foot: Foot = foot
        self.stand: Stand = stand
        self.telescope: Travel = telescope
        self.elevation: Travel = elevation
        self.slew: Travel = slew
        self.bend: Bend = Bend(1.0, 1.0, [0.0, 0.0])
        self.masses: Masses = Masses(1.0, 1.0, 1.0)
        self.reliefs: Vector = (inf, inf, inf)
        """What stalls raising (N m about the foot pin), extending (N along the boom), slewing (N m)."""
        self.holding_factor: float = 1.0
        self.full_share: float = 1.0
        """Share of what stalls a function up to which it has its full speed."""
        self.pad_side_m: float = 1.0
        self.bearing_Pa: float = 1.0
        self.settle_mps: float = 0.0
        """How fast a float sinks into ground it overloads once over."""
        self.resting_N: Four = (0.0, 0.0, 0.0, 0.0)
        """Float reactions with the hook empty, boom over the tailboard at start length and elevation."""
        self.lean_share: float = 1.0
        """Part of the way to where it is going that a tip leans in one step."""
        self.given_share: float = 1.0
        """The same from one solve of the floats to the next."""
        self.table: LoadTable | None = None
        """Rated loads, if it has a table."""
        self.tipping_share: float = 1.0
        """Rated load as a share of what tips the unit."""


SOLID: Final = 0
LIQUID: Final = 1
BULK: Final = 2
"""Kinds of cargo."""


class CargoNumbers:
    """A cargo and the tank it may move in; vectors in lying axes."""

    __slots__ = (
        "damping_ratio",
        "fill",
        "gravity_mps2",
        "home_m",
        "kind",
        "mass_kg",
        "repose_rad",
        "size_m",
        "slump_radps",
        "tank_m",
        "upright",
    )

    def __init__(self, kind: int) -> None:
        """Solid, liquid or bulk; the rest is set by `weather`."""
        self.kind: int = kind
        self.mass_kg: float = 0.0
        self.fill: float = 1.0
        self.size_m: Vector = (1.0, 1.0, 1.0)
        """Of the tank's inside."""
        self.tank_m: Vector = (0.0, 0.0, 0.0)
        """Middle of the tank from the load's center of gravity."""
        self.home_m: Vector = (0.0, 0.0, 0.0)
        """Center of the cargo from the tank's middle for which the load's center of gravity is worked out."""
        self.upright: Vector = (0.0, 0.0, 1.0)
        """Up of the trailer on its wheels: how a bulk load was laid in."""
        self.damping_ratio: float = 0.0
        self.repose_rad: float = 0.0
        self.slump_radps: float = 0.0
        self.gravity_mps2: float = 9.80665


class BodyNumbers:
    """The trailer as a rigid body."""

    __slots__ = ("inertia_kg_m2", "inverse", "mass_kg", "pitch_inertia_kg_m2", "weight_N")

    def __init__(self, mass_kg: float, inertia_kg_m2: Matrix, inverse: Matrix, weight_N: float) -> None:
        """Mass, inertia about the CG in lying axes and its inverse, weight."""
        self.mass_kg: float = mass_kg
        self.inertia_kg_m2: Matrix = inertia_kg_m2
        self.inverse: Matrix = inverse
        self.pitch_inertia_kg_m2: float = inertia_kg_m2[4]
        self.weight_N: float = weight_N
