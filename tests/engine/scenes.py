"""Scenes in which closed forms apply: a plain box hung from stiff units with no ground near. Invented numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from math import cos, pi, sin

import numpy as np

from simulator.engine.commands import STILL, Commands, still
from simulator.engine.simulation import Simulation
from simulator.engine.state import Motion, State
from simulator.mechanics.boom import boom_pose
from simulator.mechanics.hoist_line import rope_for_m
from simulator.mechanics.trailer_body import rotation
from simulator.scenario.description import Description, Engine, Landing, Path
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import NOSE, TAIL
from simulator.scenario.site import Site, Soil
from simulator.scenario.trailer import Cargo, Part, Trailer, TrailerStart
from simulator.scenario.unit import Boom, Floats, Hoist, Unit
from tests.demo import demo_unit, pair_of_picks, rehoisted, restarted

FOOT_M, POUND_KG = 0.3048, 0.45359237
G = STANDARD_GRAVITY_MPS2
Vector = tuple[float, float, float]

RIGID = 1e12
"""N/m, the stiffest a description allows: structure that does not give."""
TAUT_EA_N = 150e6
"""A rope ten times as stiff as a real one: lines stretch by millimeters, and bounce far faster than anything sways."""
FIRM = Soil(allowable_bearing_Pa=1e9, settle_mps_per_overload=0.0)
DEEP = Site(((40.0, 0.0), (30.0, 0.0), (29.0, -90.0), (-40.0, -90.0)), 30.0, soil=FIRM, settle_s=0.0)
"""No ground within reach of a hung load."""
BOOM = Boom(3.0, 60.0, 0.0, 1.5, 1.2, 2.6, tip_stiffness_N_per_m=RIGID)
HOIST = Hoist(rope_EA_N=TAUT_EA_N, damping_ratio=0.0, usable_rope_m=1000.0, stall_line_pull_N=1e9,
              sway_damping_ratio=0.0)  # fmt: skip
FLOATS = Floats(2.8, 4.2, 3.5, stiffness_N_per_m=RIGID)


def unit(slew_axis_x_m: float, *, boom: Boom = BOOM, hoist: Hoist = HOIST, floats: Floats = FLOATS) -> Unit:
    """A unit far too heavy to tip; the tail unit where it stands beyond x = 0."""
    name = NOSE if slew_axis_x_m < 0.0 else TAIL
    return demo_unit(name, slew_axis_x_m, boom=boom, hoist=hoist, floats=floats, carrier_kg=1e6)


UNITS = unit(-12.0), unit(12.0)


def block(
    *,
    mass_kg: float = 24000.0,
    size_m: Vector = (14.6, 2.6, 2.6),
    picks_x_m: tuple[float, float] = (-6.0, 6.0),
    pick_over_cg_m: float = 0.0,
    rigging_m: float = 0.0,
    pivot: str = "single_point",
    hidden_cg_m: Vector = (0.0, 0.0, 0.0),
) -> Trailer:
    """A solid box on its underside, CG in its middle (x = 0), picks on its middle line."""
    long, wide, high = size_m
    outline = ((-long / 2, 0.0), (long / 2, 0.0), (long / 2, high), (-long / 2, high))
    nose, tail = ((x, 0.0, high / 2 + pick_over_cg_m) for x in picks_x_m)
    picks = pair_of_picks(nose, tail, pivot=pivot, height_m=rigging_m, rigging_kg=0.0)
    middle = (0.0, 0.0, high / 2)
    part = Part("box", outline, wide, mass_kg)
    return Trailer((part,), Cargo(0.0, middle, (0.0, 0.0, 0.0)), picks, TrailerStart(0.0, 0.0), hidden_cg_m=hidden_cg_m)


def started(unit_: Unit, tip_m: Vector, line_m: float) -> Unit:
    """A unit with its tip there and this much unloaded line from sheave to hook."""
    pose = boom_pose(unit_, tip_m)
    return restarted(
        unit_,
        boom_length_m=pose.length_m,
        elevation_rad=pose.elevation_rad,
        slew_rad=pose.slew_rad,
        rope_out_m=rope_for_m(unit_.hoist, line_m, pose.length_m),
    )


def describe(
    trailer: Trailer,
    tips_m: tuple[Vector, Vector],
    lines_m: tuple[float, float],
    *,
    units: tuple[Unit, Unit] = UNITS,
    site: Site = DEEP,
    at: TrailerStart | None = None,
    steps_per_s: int = 240,
) -> Description:
    """A scene by its tips and its unloaded lines."""
    stand = tuple(started(u, tip, line) for u, tip, line in zip(units, tips_m, lines_m, strict=True))
    return Description(
        "test", "invented", site, stand, replace(trailer, start=at or trailer.start),
        Path(1.8, 9.3), Landing(6.6), engine=Engine(steps_per_s=steps_per_s, footing_every_steps=240),
    )  # fmt: skip


def shares_N(trailer: Trailer, mass_kg: float) -> tuple[float, float]:
    """What plumb lines carry of a level box with its true CG at `hidden_cg_m`: W b / s and W a / s."""
    nose, tail = (pick.at_m[0] - trailer.hidden_cg_m[0] for pick in trailer.picks)
    return mass_kg * G * tail / (tail - nose), -mass_kg * G * nose / (tail - nose)


def hung(
    trailer: Trailer,
    *,
    hang_m: float = 10.0,
    y_m: float = 0.0,
    tip_z_m: float = 12.0,
    units: tuple[Unit, Unit] = UNITS,
    site: Site = DEEP,
    steps_per_s: int = 240,
) -> Simulation:
    """The box hanging level and still on plumb lines that are `hang_m` long under its weight, sheave to hook."""
    mass = sum(part.mass_kg for part in trailer.parts) * trailer.hidden_mass_factor
    tips = tuple((pick.at_m[0] - trailer.hidden_cg_m[0], y_m, tip_z_m) for pick in trailer.picks)
    lines = []
    for end, share in enumerate(shares_N(trailer, mass)):
        hoist, boom_m = units[end].hoist, boom_pose(units[end], tips[end]).length_m
        line = hang_m
        for _ in range(8):
            line = hang_m - share * rope_for_m(hoist, line, boom_m) / (hoist.rope_EA_N * hoist.parts**2)
        lines.append(line)
    description = describe(trailer, tips, tuple(lines), units=units, site=site, steps_per_s=steps_per_s)  # type: ignore[arg-type]
    simulation = Simulation(description)
    simulation.place(Motion(*plumb_cg_m(simulation, hang_m), 0.0, 0.0, 0.0))
    return simulation


def plumb_cg_m(simulation: Simulation, hang_m: float) -> Vector:
    """Where the CG is when a level load hangs plumb on lines `hang_m` long."""
    line, tip = simulation.model.lines[0], simulation.state.booms[0].tip
    x, y, z = line.pick_m
    return tip[0] - x, tip[1] - y, tip[2] - hang_m - line.pick.height_m - z


def displaced(simulation: Simulation, *, along: float = 0.0, across: float = 0.0, up: float = 0.0, yaw: float = 0.0,
              roll: float = 0.0) -> None:  # fmt: skip
    """Move the load, at rest, from where it is."""
    m = simulation.state.motion
    simulation.place(Motion(m.x + along, m.y + across, m.z + up, m.pitch, m.yaw + yaw, m.roll + roll))


def run(simulation: Simulation, seconds: float, commands: Commands = STILL) -> None:
    """Go on under steady commands."""
    for _ in range(round(seconds / simulation.model.dt)):
        simulation.step(commands)


def kinetic_J(simulation: Simulation) -> float:
    """Energy of motion."""
    body, m = simulation.model.body, simulation.state.motion
    turn = np.array(rotation(m.pitch, m.yaw, m.roll)).reshape(3, 3)
    rate = turn.T @ np.array([m.ox, m.oy, m.oz])
    inertia = np.array(body.inertia_kg_m2).reshape(3, 3)
    return float(0.5 * body.mass_kg * (m.vx**2 + m.vy**2 + m.vz**2) + 0.5 * rate @ inertia @ rate)


def stretches_m(simulation: Simulation) -> tuple[float, ...]:
    """How far each line is stretched."""
    return tuple(max(0.0, line.hang.distance_m - line.line_m) for line in simulation.state.lines)


def energy_J(simulation: Simulation) -> float:
    """Motion, height and stretched lines."""
    lines = zip(stretches_m(simulation), simulation.state.lines, strict=True)
    return (
        kinetic_J(simulation)
        + simulation.model.weight_N * simulation.state.motion.z
        + sum(0.5 * line.stiffness * stretch**2 for stretch, line in lines)
    )


def work_of_units_J(before: State, after: State) -> float:
    """Work done in one step on lines and load: winches and moving tips.

    A winch that takes in rope under pull gives the line -T l'. Rope comes in strained, so the rest of the line is
    stiffer afterwards: at the same stretch it holds k' s^2 / 2 more.
    """
    total = 0.0
    for was, now in zip(before.lines, after.lines, strict=True):
        toward = np.array([now.hang.ux, now.hang.uy, now.hang.uz])
        stretch = max(0.0, now.hang.distance_m - now.line_m)
        total += now.hook_load_N * float(toward @ (np.array(now.sheave) - np.array(was.sheave)))
        total -= now.hook_load_N * (now.line_m - was.line_m)
        total += 0.5 * (now.stiffness - was.stiffness) * stretch**2
    return total


def come_to_rest(simulation: Simulation, *, still_J: float = 1e-6, longest_s: float = 400.0) -> None:
    """Find the engine's own static pose: whenever energy of motion has passed a peak, stop the load where it is."""
    before = 0.0
    peak = 0.0
    nobody = still(simulation.model.rig)
    for count in range(round(longest_s / simulation.model.dt)):
        simulation.step(nobody)
        now = kinetic_J(simulation)
        peak = max(peak, now)
        if now < before:
            if peak < still_J and count > 240:
                return
            m = simulation.state.motion
            simulation.place(Motion(m.x, m.y, m.z, m.pitch, m.yaw, m.roll))
            before = peak = 0.0
        else:
            before = now
    raise AssertionError("the load does not come to rest")


def period_s(values: Sequence[float], dt: float) -> float:
    """Mean period from the first to the last upward crossing of the middle."""
    middle = (max(values) + min(values)) / 2.0
    crossings = [i + (middle - a) / (b - a) for i, (a, b) in enumerate(pairwise(values)) if a < middle <= b]
    return (crossings[-1] - crossings[0]) / (len(crossings) - 1) * dt


def circle_m(radius_m: float, angle_rad: float) -> tuple[float, float]:
    """Sideways and upward move of a pendulum's bob."""
    return radius_m * sin(angle_rad), radius_m * (1.0 - cos(angle_rad))


def simple_period_s(length_m: float) -> float:
    """2 pi sqrt(L / g)."""
    return 2.0 * pi * float(np.sqrt(length_m / G))


def with_hoist(changes: Mapping[str, object], units: tuple[Unit, Unit] = UNITS) -> tuple[Unit, Unit]:
    """The units with other hoists."""
    nose, tail = (rehoisted(u, **changes) for u in units)
    return nose, tail
