"""The load on edges of the ground against MuJoCo: dragged over a crest by its side, set down half over the edge; and on
a waiting deck, half over its side and half over its end.

MuJoCo has its own shapes (a box, and the ground as convex bodies), its own search for contacts and its own friction.
Its contacts are springs of an acceleration (solref in direct form), so their stiffness is matched over four corners of
the load, and made so high that both sink in by a few millimeters.
"""

from __future__ import annotations

from dataclasses import replace
from math import atan, cos, sin, sqrt
from typing import NamedTuple

import numpy as np
import pytest

pytest.importorskip("mujoco")

from simulator.engine.commands import Commands, UnitCommands
from simulator.engine.simulation import Simulation
from simulator.engine.state import Motion
from simulator.scenario.flat import Flat
from simulator.scenario.site import Contact, Site
from tests.engine.scenes import FIRM, Vector, block, describe, with_hoist
from tests.outside.mujoco_load import Lies, replay
from tests.outside.telemetry import Array, Telemetry, record

pytestmark = pytest.mark.long

SIZE_M = 12.0, 2.6, 2.6
MASS_KG = 24000.0
STIFFNESS, FRICTION = 2.0e7, 0.5
LASTS_S = 20.0
SLOPE = 0.7
Polygon = tuple[tuple[float, float], ...]
"""(y, z) round a convex piece of ground."""
CREST = (40.0, 0.0), (0.0, 0.0), (-15.0, -15.0 * SLOPE)
EDGE = (40.0, 0.0), (0.0, 0.0), (-0.4, -8.0), (-15.0, -8.0)
UNDER_CREST: tuple[Polygon, ...] = ((*CREST, (-15.0, -30.0), (40.0, -30.0)),)
UNDER_EDGE: tuple[Polygon, ...] = (
    (*EDGE[:3], (40.0, -8.0)),
    ((40.0, -8.0), (-15.0, -8.0), (-15.0, -30.0), (40.0, -30.0)),
)


def in_mujoco(pieces: tuple[Polygon, ...], flat: Flat | None = None) -> Lies:
    """Convex pieces of ground drawn out along the road, a deck as a box, and the load as a box."""
    rate = 4.0 * STIFFNESS / MASS_KG
    soft = f'solref="{-rate!r} {-sqrt(rate)!r}" solimp="0.95 0.95 0.001" friction="{FRICTION} 0 0" condim="3"'
    assets = ground = ""
    for i, piece in enumerate(pieces):
        vertices = " ".join(f"{v!r}" for x in (-40.0, 40.0) for y, z in piece for v in (x, y, z))
        assets += f'<mesh name="ground{i}" vertex="{vertices}"/>'
        ground += f'<geom type="mesh" mesh="ground{i}" {soft}/>'
    if flat is not None:
        deck = flat.length_m / 2.0, flat.width_m / 2.0, flat.deck_height_m / 2.0
        size, at = (" ".join(map(repr, row)) for row in (deck, (flat.x_m, flat.y_m, deck[2])))
        ground += f'<geom type="box" size="{size}" pos="{at}" {soft}/>'
    half = " ".join(f"{side / 2.0!r}" for side in SIZE_M)
    return Lies(assets, ground, f'<geom type="box" size="{half}" mass="0" {soft}/>')


class Course(NamedTuple):
    """How a box goes for 20 s."""

    section: Polygon
    pieces: tuple[Polygon, ...]
    tip_m: tuple[float, float]
    """y and z of both tips."""
    pick_over_cg_m: float
    begins: Motion
    slack_m: float
    """Of both lines, as it begins."""
    hook_mps: float
    """Up positive."""
    flat: Flat | None = None
    """What waits on the road."""
    tip_x_m: float = 0.0
    """Of the middle between the tips."""


def on_the_slope(down_m: float) -> Motion:
    """The box lying on the slope, its CG over a point so far down it."""
    lean, half = atan(SLOPE), SIZE_M[2] / 2.0 - 0.001
    return Motion(0.0, -down_m * cos(lean) - half * sin(lean), -down_m * sin(lean) + half * cos(lean), 0.0, 0.0, lean)


DRAGGED = Course(CREST, UNDER_CREST, (12.0, 8.0), 0.0, on_the_slope(3.5), 0.005, 0.15)
SET_DOWN = Course(EDGE, UNDER_EDGE, (-0.15, 9.0), 1.3, Motion(0.0, -0.15, 1.3, 0.0, 0.0, 0.0), -0.02, -0.05)
DECK = Flat(0.9, 8.0, 1.6, x_m=0.0, y_m=20.0)
ROAD = (40.0, 0.0), (-15.0, 0.0), (-15.4, -8.0), (-30.0, -8.0)
UNDER_ROAD: tuple[Polygon, ...] = (((40.0, 0.0), (-15.0, 0.0), (-15.0, -8.0), (40.0, -8.0)),)
OVER_SIDE = Course(ROAD, UNDER_ROAD, (20.95, 9.0), 1.3, Motion(0.0, 20.95, 2.2, 0.0, 0.0, 0.0), -0.02, -0.05, DECK)
OVER_END = Course(ROAD, UNDER_ROAD, (20.0, 9.0), 1.3, Motion(4.15, 20.0, 2.2, 0.0, 0.0, 0.0), -0.02, -0.05, DECK, 4.15)
COURSES = {
    "dragged over a crest": DRAGGED,
    "set down half over the edge": SET_DOWN,
    "set down half over a deck's side": OVER_SIDE,
    "set down half over a deck's end": OVER_END,
}


def driven(course: Course) -> tuple[Simulation, Telemetry, list[bool]]:
    """The course in the engine: its telemetry, and when ridges bore."""
    trailer = block(
        mass_kg=MASS_KG, size_m=SIZE_M, picks_x_m=(-5.0, 5.0), pick_over_cg_m=course.pick_over_cg_m, rigging_m=1.0
    )
    hoist = {"speed_mps": 4.0, "parts": 4, "ramp_mps2": 1.0, "rope_EA_N": 1.5e7, "damping_ratio": 0.05}
    ground = Contact(stiffness_N_per_m=STIFFNESS, damping_ratio=0.5, friction=FRICTION)
    site = Site(course.section, 0.0, contact=ground, road_contact=ground, soil=FIRM, settle_s=0.0)
    tips: tuple[Vector, Vector] = ((course.tip_x_m - 5.0, *course.tip_m), (course.tip_x_m + 5.0, *course.tip_m))
    line = 15.0
    for _ in range(2):
        described = describe(trailer, tips, (line, line), units=with_hoist(hoist), site=site)
        described = replace(described, landing=replace(described.landing, flat=course.flat))
        simulation = Simulation(described)
        simulation.place(course.begins)
        line = simulation.state.lines[0].hang.distance_m + course.slack_m
    hand = UnitCommands(hoist=course.hook_mps)
    kept = [simulation.step(Commands(hand, hand)) for _ in range(round(LASTS_S / simulation.model.dt))]
    after = len(simulation.model.bed.points)
    bore = [any(place >= after for place, *_ in state.ground.stretches) for state in kept]
    return simulation, record(kept, simulation.model.reference_m, simulation.model), bore


def off(course: Course) -> tuple[Array, list[bool]]:
    """MuJoCo less engine: pose (m, rad) and line loads (shares of the weight), a row a step; and when ridges bore."""
    simulation, telemetry, bore = driven(course)
    model = simulation.model
    theirs = replay(model.description.trailer, telemetry, model.dt, model.rig, in_mujoco(course.pieces, course.flat))
    return np.column_stack([theirs.pose - telemetry.pose, (theirs.hook_N - telemetry.hook_N) / model.weight_N]), bore


@pytest.mark.parametrize("course", COURSES.values(), ids=list(COURSES))
def test_mujoco_moves_the_same(course: Course) -> None:
    """Over 20 s: 2 cm at every moment, 1.2 degrees; line loads within 5 % of the weight, rms."""
    error, bore = off(course)
    most, rms = np.abs(error).max(axis=0), np.sqrt(np.mean(np.square(error), axis=0))
    assert 0.1 < np.mean(bore) < 1.0
    assert most[:3].max() < 0.02, most
    assert np.degrees(most[3:6]).max() < 1.2, most
    assert rms[6:].max() < 0.05, rms


def test_the_comparison_sees_edges(monkeypatch: pytest.MonkeyPatch) -> None:
    """An engine in which only corners touch goes another way by far."""
    monkeypatch.setattr("simulator.engine.model.ridges", lambda surface: [])
    error, bore = off(SET_DOWN)
    assert not any(bore)
    assert np.abs(error[:, :3]).max() > 0.2
