"""A small lift off a sloping bed beside a face, with real rope and structure, and hands that work every function."""

from __future__ import annotations

from dataclasses import replace
from math import radians

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.simulation import Simulation
from simulator.scenario.description import Description, Engine, Landing, Path
from simulator.scenario.rig import NOSE, TAIL
from simulator.scenario.site import Contact, Site, Wind
from simulator.scenario.trailer import Cargo, Part, Trailer, TrailerStart
from simulator.scenario.unit import UnitStart
from tests.demo import demo_unit, pair_of_picks
from tests.mechanics.demo_set import BOOM

SITE = Site(
    section_m=((40.0, 0.0), (-4.65, 0.0), (-5.3, -8.0), (-14.0, -8.0), (-22.0, -3.0)),
    edge_y_m=-4.65,
    bed_m=((-20.0, 0.7), (20.0, -0.7)),
    wind=Wind(speed_mps=4.0, gust_share=0.4),
    contact=Contact(friction=0.45),
    settle_s=2.0,
)


def _outline(x0: float, x1: float, z0: float, z1: float) -> tuple[tuple[float, float], ...]:
    return (x0, z0), (x1, z0), (x1, z1), (x0, z1)


TRAILER = Trailer(
    parts=(
        Part("shell", _outline(-7.3, 7.3, 1.4, 4.0), 2.6, 5000.0),
        Part("axles", _outline(3.5, 6.5, 0.0, 1.0), 2.5, 3000.0),
    ),
    cargo=Cargo(16000.0, (-0.9, -0.4, 2.2), (10.0, 1.4, 1.6)),
    picks=pair_of_picks((-6.4, 1.3, 2.0), (6.0, 1.3, 2.0)),
    start=TrailerStart(0.0, -8.5, radians(2.0), radians(1.0)),
    attitude="top_to_ravine",
    hidden_cg_m=(0.2, 0.0, 0.0),
)
BOOMS = UnitStart(11.7, radians(34.8), radians(-71.5)), UnitStart(11.8, radians(34.4), radians(-69.0))
UNITS = (
    demo_unit(NOSE, boom=BOOM, start=BOOMS[0], rope_out_m=38.5),
    demo_unit(TAIL, boom=BOOM, start=BOOMS[1], rope_out_m=38.8),
)
LIFT = Description("test", "invented", SITE, UNITS, TRAILER, Path(1.8, 9.3), Landing(6.6), seed=5)

HANDS: tuple[tuple[int, Commands], ...] = (
    (480, Commands(UnitCommands(hoist=0.5), UnitCommands(hoist=0.45))),
    (600, Commands(UnitCommands(hoist=0.4, slew=0.3), UnitCommands(hoist=0.5, elevation=0.3))),
    (240, STILL),
    (360, Commands(UnitCommands(hoist=0.9, telescope=-0.4), UnitCommands(hoist=0.8, slew=0.6, telescope=0.3))),
    (240, Commands(UnitCommands(hoist=-0.6, slew=-1.0), UnitCommands(elevation=-0.5))),
)
"""(steps, commands): off the bed and about, each unit in its own way."""


def driven(description: Description, *, swapped: bool = False) -> Simulation:
    """The lift after those hands; `swapped` gives each unit the other's."""
    simulation = Simulation(description)
    work(simulation, swapped=swapped)
    return simulation


def work(simulation: Simulation, *, swapped: bool = False) -> None:
    """Those hands, from where the lift stands."""
    for steps, commands in HANDS:
        given = Commands(*commands[::-1]) if swapped else commands
        for _ in range(steps):
            simulation.step(given)


def mirrored(description: Description) -> Description:
    """The scene seen in a mirror across the road: x turned over, ends changed."""
    trailer, site = description.trailer, description.site
    units = tuple(
        replace(
            other,
            slew_axis_x_m=-other.slew_axis_x_m,
            name=own.name,
            tailboard_toward=own.tailboard_toward,
            lines=tuple(replace(line, pick=own.name) for line in other.lines),
        )
        for own, other in zip(description.units, description.units[::-1], strict=True)
    )
    parts = tuple(replace(part, outline_m=tuple((-x, z) for x, z in part.outline_m[::-1])) for part in trailer.parts)
    picks = tuple(
        replace(other, name=own.name, at_m=_turned_over(other.at_m))
        for own, other in zip(trailer.picks, trailer.picks[::-1], strict=True)
    )
    lies = trailer.start
    return replace(
        description,
        site=replace(site, bed_m=tuple((-x, z) for x, z in site.bed_m[::-1])),
        units=units,
        trailer=replace(
            trailer,
            parts=parts,
            cargo=replace(trailer.cargo, cg_m=_turned_over(trailer.cargo.cg_m)),
            picks=picks,
            start=replace(lies, x_m=-lies.x_m, pitch_rad=-lies.pitch_rad, yaw_rad=-lies.yaw_rad),
            hidden_cg_m=_turned_over(trailer.hidden_cg_m),
        ),
    )


def _turned_over(point: tuple[float, float, float]) -> tuple[float, float, float]:
    return -point[0], point[1], point[2]


def at_rate(description: Description, steps_per_s: int) -> Description:
    """The same scene at another step."""
    return replace(description, engine=Engine(steps_per_s=steps_per_s))
