"""What moves in a lift, changed in place by every step: drives, booms, lines, the trailer and what pushes it.

Numbers only, one slot each, so that a step makes no values to throw away. `capture` reads it all out as a `State`.
"""

from __future__ import annotations

from simulator.engine.drives import Drive
from simulator.engine.numbers import BodyNumbers, LineNumbers, UnitNumbers
from simulator.engine.over import HoldingLine, Over
from simulator.engine.slung import OFF
from simulator.mechanics.four_floats import Four
from simulator.mechanics.matrix import Matrix, Vector

Wrench = tuple[float, float, float, float, float, float]
"""Force, and moment about the CG, world axes."""


def nothing() -> Wrench:
    """No force, no moment."""
    return 0.0, 0.0, 0.0, 0.0, 0.0, 0.0


class Line:
    """A line: its winch, its sheave, where it hangs, what it bears."""

    __slots__ = (
        "arm_m",
        "boom_length_m",
        "damper",
        "distance_m",
        "hoist",
        "hook_x",
        "hook_y",
        "hook_z",
        "is_parted",
        "is_taut",
        "laid_m",
        "length_m",
        "numbers",
        "part",
        "pay_out_mps",
        "pull_N",
        "rope_give",
        "rope_out_m",
        "sheave_vx",
        "sheave_vy",
        "sheave_vz",
        "sheave_x",
        "sheave_y",
        "sheave_z",
        "stiffness",
        "stretch_m",
        "ux",
        "uy",
        "uz",
        "way",
    )

    def __init__(self, numbers: LineNumbers, rope_out_m: float) -> None:
        """With so much rope out (its hoist stands at minus that: up is positive), nothing else known yet."""
        self.numbers: LineNumbers = numbers
        self.hoist: Drive = Drive(numbers.hoist, -rope_out_m)
        self.is_parted: bool = False
        self.sheave_x: float = 0.0
        self.sheave_y: float = 0.0
        self.sheave_z: float = 0.0
        self.sheave_vx: float = 0.0
        self.sheave_vy: float = 0.0
        self.sheave_vz: float = 0.0
        self.hook_x: float = 0.0
        self.hook_y: float = 0.0
        self.hook_z: float = 0.0
        self.arm_m: Vector = (0.0, 0.0, 0.0)
        """Where it leaves the load (its pick, or where its sling does) from the CG, world axes."""
        self.laid_m: float = 0.0
        """Sling that lies on the load."""
        self.way: int = OFF if numbers.round is None else numbers.round.first
        """The way round the load that its sling lies; `OFF`: straight from the pick."""
        self.distance_m: float = 0.0
        """Sheave to hook."""
        self.ux: float = 0.0
        self.uy: float = 0.0
        self.uz: float = 1.0  # unit vector, hook to sheave
        self.length_m: float = 0.0  # sheave to hook, unloaded
        self.pay_out_mps: float = 0.0
        self.stretch_m: float = 0.0
        self.rope_give: float = 0.0
        """m/N, the rope alone."""
        self.rope_out_m: float = -1.0
        self.boom_length_m: float = 0.0
        """What length and give of the rope were last worked out for."""
        self.part: float = 1.0
        """Cosine between it and the sum of its unit's pulls, when the floats were last solved."""
        self.is_taut: bool = False
        self.stiffness: float = 0.0
        self.damper: float = 0.0
        self.pull_N: float = 0.0
        """At the hook."""


class Unit:
    """A truck: its boom's drives, its tip (lean included) and how it leans, what its floats carry."""

    __slots__ = (
        "aimed_elevation",
        "aimed_length",
        "aimed_slew",
        "aimed_x",
        "aimed_y",
        "aimed_z",
        "aside_x",
        "aside_y",
        "aside_z",
        "capacity_used",
        "elevation",
        "floats_N",
        "give_m_per_N",
        "given_m",
        "ground_used",
        "lean_to_x",
        "lean_to_y",
        "lean_to_z",
        "lean_x",
        "lean_y",
        "lean_z",
        "least_float",
        "least_float_share",
        "lines",
        "numbers",
        "over",
        "slew",
        "sunk_m",
        "telescope",
        "tip_x",
        "tip_y",
        "tip_z",
    )

    def __init__(self, numbers: UnitNumbers, lines: list[Line], start: Vector) -> None:
        """`start`: boom length, elevation, slew."""
        self.numbers: UnitNumbers = numbers
        self.lines: list[Line] = lines
        self.telescope: Drive = Drive(numbers.telescope, start[0])
        self.elevation: Drive = Drive(numbers.elevation, start[1])
        self.slew: Drive = Drive(numbers.slew, start[2])
        self.lean_x: float = 0.0
        self.lean_y: float = 0.0
        self.lean_z: float = 0.0
        self.lean_to_x: float = 0.0
        self.lean_to_y: float = 0.0
        self.lean_to_z: float = 0.0
        """Where the tip's lean is going."""
        self.tip_x: float = 0.0
        self.tip_y: float = 0.0
        self.tip_z: float = 0.0
        self.aimed_length: float = -1.0
        self.aimed_elevation: float = 0.0
        self.aimed_slew: float = 0.0
        """The boom that the five below belong to."""
        self.aimed_x: float = 0.0
        self.aimed_y: float = 0.0
        self.aimed_z: float = 0.0
        """Tip of a boom that does not lean."""
        self.aside_x: float = 0.0
        self.aside_y: float = 1.0
        self.aside_z: float = 0.0
        """Unit vector square to the boom, level while the unit stands: its way when it slews toward the road."""
        self.over: Over = Over()
        self.give_m_per_N: float = 0.0
        self.given_m: Vector = (0.0, 0.0, 0.0)
        """Structure's give along the sum of its pulls; how far it has let the tip go, as slowly as the tip leans."""
        self.floats_N: Four = (0.0, 0.0, 0.0, 0.0)
        self.least_float: int = 0
        self.least_float_share: float = 1.0
        self.ground_used: float = 0.0
        self.capacity_used: float = 0.0
        self.sunk_m: Four = (0.0, 0.0, 0.0, 0.0)
        """How far each float has settled into ground it overloads."""


class Body:
    """The trailer: pose of the true CG, its velocity, rates of the three angles, turning velocity, angular momentum."""

    __slots__ = (
        "fx",
        "fy",
        "fz",
        "lx",
        "ly",
        "lz",
        "matrix",
        "numbers",
        "ox",
        "oy",
        "oz",
        "pitch",
        "pitch_rate",
        "roll",
        "roll_rate",
        "torque",
        "vx",
        "vy",
        "vz",
        "x",
        "y",
        "yaw",
        "yaw_rate",
        "z",
    )

    def __init__(self, numbers: BodyNumbers) -> None:
        """At rest nowhere in particular."""
        self.numbers: BodyNumbers = numbers
        self.x: float = 0.0
        self.y: float = 0.0
        self.z: float = 0.0
        self.pitch: float = 0.0
        self.yaw: float = 0.0
        self.roll: float = 0.0
        self.vx: float = 0.0
        self.vy: float = 0.0
        self.vz: float = 0.0
        self.pitch_rate: float = 0.0
        self.yaw_rate: float = 0.0
        self.roll_rate: float = 0.0
        self.ox: float = 0.0
        self.oy: float = 0.0
        self.oz: float = 0.0
        self.lx: float = 0.0
        self.ly: float = 0.0
        self.lz: float = 0.0
        self.matrix: Matrix = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)
        """Lying axes to the world."""
        self.fx: float = 0.0
        self.fy: float = 0.0
        self.fz: float = 0.0
        """Whole force of this step, weight included."""
        self.torque: float = 0.0
        """That takes the pitch rate (nose down positive, as in the side view) where this step wants it."""


class Cargo:
    """A cargo that may move in its tank: its surface and its center, lying axes."""

    __slots__ = ("at_m", "back_N", "moves", "speed_mps", "turning", "up")

    def __init__(self) -> None:
        """As on level ground."""
        self.moves: bool = False
        """It is a liquid or a bulk load."""
        self.up: Vector = (0.0, 0.0, 1.0)
        """Square to the surface, unit vector."""
        self.turning: Vector = (0.0, 0.0, 0.0)
        """Its rate of change."""
        self.at_m: Vector = (0.0, 0.0, 0.0)
        """Center from the tank's middle."""
        self.speed_mps: Vector = (0.0, 0.0, 0.0)
        self.back_N: Vector = (0.0, 0.0, 0.0)
        """Its push back in the step before, world axes."""


class Spring:
    """The friction spring of one contact point."""

    __slots__ = ("touches", "x", "y", "z")

    def __init__(self) -> None:
        """Clear of the ground."""
        self.touches: bool = False
        self.x: float = 0.0
        self.y: float = 0.0
        self.z: float = 0.0


class Edge:
    """A place where a ridge of the ground goes into or out of a part of the load, and its friction spring."""

    __slots__ = (
        "arm_m",
        "at_m",
        "depth_m",
        "is_beaten",
        "is_on",
        "normal",
        "ridge",
        "spring",
        "square_m2",
        "times",
    )

    def __init__(self, ridge: int) -> None:
        """Of the ridge with this number; in no part yet."""
        self.ridge: int = ridge
        self.spring: Spring = Spring()
        self.is_on: bool = False
        self.is_beaten: bool = False
        """A corner beside it is deeper, and acts for both."""
        self.at_m: Vector = (0.0, 0.0, 0.0)
        """The place, from the CG, world axes."""
        self.arm_m: Vector = (0.0, 0.0, 0.0)
        """Where the load is pushed."""
        self.normal: Vector = (0.0, 0.0, 1.0)
        """The way it is pushed."""
        self.depth_m: float = 0.0
        """Of the place under the face of the part there."""
        self.times: float = 1.0
        """Its stiffness over that of a corner."""
        self.square_m2: float = 0.0
        """Its energy, twice, over the stiffness of a corner."""


class Moving:
    """All of it."""

    __slots__ = (
        "body",
        "cargo",
        "edges",
        "ground",
        "hold_at",
        "holding",
        "is_gone",
        "is_held",
        "is_on_edge",
        "is_parted",
        "is_touching",
        "other",
        "road_N",
        "springs",
        "step",
        "units",
    )

    def __init__(self, units: list[Unit], body: Body, points: int, edges: list[Edge]) -> None:
        """`points`: of contact; `edges`: places where ridges can be in the load."""
        self.step: int = 0
        self.units: list[Unit] = units
        self.body: Body = body
        self.cargo: Cargo = Cargo()
        self.springs: list[Spring] = [Spring() for _ in range(points)]
        self.is_gone: bool = False
        """Any unit has gone over and cannot be saved."""
        self.is_parted: bool = False
        """Any line has parted."""
        self.is_touching: bool = False
        """Any point touches the ground."""
        self.edges: list[Edge] = edges
        self.is_on_edge: bool = False
        """Any ridge is in the load."""
        self.ground: Wrench = nothing()
        self.road_N: float = 0.0
        """Upward part of the ground's push that the road gives."""
        self.other: Wrench = nothing()
        """Wind, bed hold and a cargo that moves."""
        self.is_held: bool = False
        self.hold_at: Vector = (0.0, 0.0, 0.0)
        """Where the bed holds the trailer, if it does."""
        self.holding: HoldingLine = HoldingLine()
