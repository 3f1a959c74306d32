"""Does a load stay where it lies: against closed forms of statics, and the engine's own contact law."""

from __future__ import annotations

from dataclasses import replace
from math import atan, cos, degrees, inf, radians, sin, tan
from random import Random

import pytest

from simulator.engine.commands import STILL
from simulator.engine.simulation import Simulation
from simulator.mechanics.ground import ground
from simulator.mechanics.lying import Rest, come_to_rest, friction_used, holding_pull
from simulator.mechanics.set_down import SetDown, lift_m
from simulator.mechanics.trailer_body import rotation, turned
from simulator.plan.draft import draft
from simulator.plan.hanging import load_of
from simulator.plan.lying_rules import STOP, lies
from simulator.scenario.description import Description
from simulator.scenario.reader import parse_text
from simulator.scenario.site import Contact, Site
from tests.demo import with_lie

OUT_M = 16.0


def on_a_face(slope_rad: float, friction: float = 0.5) -> Description:
    """A van on its side in the middle of a plane face 30 m long: low enough to slide before it turns over."""
    words = draft(
        {"face_run": 30.0, "depth": 30.0 * tan(slope_rad), "trailer_out": OUT_M, "attitude": "top_to_ravine"}
    ).text
    lift = parse_text(words, "face")
    return replace(lift, site=replace(lift.site, contact=replace(lift.site.contact, friction=friction)))


def rest_of(lift: Description, section: tuple[tuple[float, float], ...] | None = None, y_m: float = -OUT_M) -> Rest:
    site = lift.site if section is None else replace(lift.site, section_m=section)
    start = lift.trailer.start
    angles = start.pitch_rad, start.yaw_rad, start.roll_rad
    frictions = site.contact.friction, site.road_contact.friction
    return come_to_rest(ground(site), load_of(lift).body, (start.x_m, y_m), angles, frictions)


@pytest.mark.parametrize("slope_deg", [0.0, 5.0, 15.0, 26.0, 27.0, 35.0])
def test_on_a_plane_it_needs_the_slopes_own_tangent(slope_deg: float) -> None:
    """It slides by itself if tan(slope) > friction (statics)."""
    rest = rest_of(on_a_face(radians(slope_deg)))
    assert degrees(rest.slope_rad) == pytest.approx(slope_deg, abs=0.01)
    assert friction_used(rest) == pytest.approx(tan(radians(slope_deg)) / 0.5, abs=1e-3)


@pytest.mark.parametrize("slope_deg", [30.0, 35.0, 45.0])
def test_the_pull_that_holds_it(slope_deg: float) -> None:
    """W (sin a - mu cos a): 44,000 lb at 25 deg and 0.40 take 2,644 lb (textbook statics), here at other slopes."""
    slope = radians(slope_deg)
    assert holding_pull(rest_of(on_a_face(slope)), 1.0) == pytest.approx(sin(slope) - 0.5 * cos(slope), abs=2e-4)
    assert 44000.0 * (sin(radians(25.0)) - 0.4 * cos(radians(25.0))) == pytest.approx(2644.186, abs=0.01)
    by_25 = holding_pull(rest_of(on_a_face(radians(25.0), friction=0.4)), 1.0)
    assert 44000.0 * by_25 == pytest.approx(2644.0, abs=15.0)


def test_what_stays_needs_no_pull() -> None:
    assert holding_pull(rest_of(on_a_face(radians(20.0))), 1.0) == 0.0


def test_a_notch_holds_by_its_shape_what_the_face_alone_would_not() -> None:
    """The same 45 deg face: on it the van slides; in a notch between two such faces shape alone holds it upright."""
    assert friction_used(rest_of(on_a_face(radians(45.0)))) == pytest.approx(2.0, abs=0.01)
    words = draft({"face_run": 30.0, "depth": 30.0, "trailer_out": OUT_M}).text
    notch = ((30.0, 0.0), (-4.65, 0.0), (-OUT_M, -11.35), (-OUT_M - 30.0, 18.65))
    assert friction_used(rest_of(with_lie(parse_text(words, "notch"), roll_rad=0.0), notch)) < 0.05


def test_a_face_too_steep_to_lie_on_turns_it_over_whatever_the_friction() -> None:
    assert friction_used(rest_of(on_a_face(radians(68.0)))) == inf


def test_upright_on_its_wheels_it_turns_over_where_its_weight_leaves_its_wheels() -> None:
    """2.6 m wide, center of gravity 2.0 m up: at 35 deg it hangs 0.1 m out (geometry), whatever the friction."""
    words = draft({"face_run": 30.0, "depth": 30.0 * tan(radians(35.0)), "trailer_out": OUT_M}).text
    assert friction_used(rest_of(parse_text(words, "face"))) == inf


def test_the_bed_along_the_road_counts_too() -> None:
    """Both slopes together: tan^2 adds (geometry of a plane)."""
    lift = on_a_face(radians(10.0))
    steep = tan(radians(12.0))
    site = replace(lift.site, bed_m=((-60.0, 60.0 * steep), (60.0, -60.0 * steep)))
    start = replace(lift.trailer.start, pitch_rad=radians(12.0))
    lift = replace(lift, site=site, trailer=replace(lift.trailer, start=start))
    slope = tan(radians(10.0))
    section = ((30.0, 0.0), (25.0, 0.0), (24.99, -0.01 * slope), (-40.0, -65.0 * slope))
    low = Site(section, 25.0, bed_m=site.bed_m, contact=Contact())
    both = (slope**2 + steep**2) ** 0.5
    rest = rest_of(replace(lift, site=low))
    assert friction_used(rest) == pytest.approx(both / 0.5, rel=0.03)


@pytest.mark.parametrize("slope_deg", [21.0, 31.0])
def test_the_engine_agrees(slope_deg: float) -> None:
    """Its own contact law, 12 s with nobody pulling: what is let pass stays, what is refused goes."""
    lift = on_a_face(radians(slope_deg))
    simulation = Simulation(lift)
    first = simulation.state.motion.y
    for _ in range(12 * lift.engine.steps_per_s):
        simulation.step(STILL)
    moved = abs(simulation.state.motion.y - first)
    assert (moved < 0.05) is lies(lift).stays, moved
    assert moved < 0.05 or moved > 1.0


def test_a_load_that_is_stated_to_lie_level_on_a_face_is_refused_for_that() -> None:
    """It would fall onto the face first: 21 deg of turning, and in the engine it goes on sliding 11 m from the blow."""
    level = with_lie(on_a_face(radians(21.0)), roll_rad=0.0)
    found = lies(level)
    assert degrees(found.turns_rad) == pytest.approx(21.0, abs=0.1)
    assert degrees(found.rests_rad[1]) == pytest.approx(21.0, abs=0.1), "road side up"
    assert found.friction_used < STOP and not found.stays


def test_the_slope_it_would_stay_on_is_told_with_the_margin() -> None:
    """1.2 against sliding (common practice, no source): atan(0.5 / 1.2)."""
    assert pytest.approx(1.0 / 1.2) == STOP
    assert lies(on_a_face(radians(40.0))).stays_at_rad == pytest.approx(atan(0.5 / 1.2))


def test_many_attitudes_at_a_stroke_are_each_by_itself() -> None:
    """To the bit: the same sums, on a face with a bed that falls along the road too."""
    lift = on_a_face(radians(35.0))
    site = replace(lift.site, bed_m=((-60.0, 1.5), (0.0, 0.2), (7.0, 0.9), (60.0, -1.5)))
    body, surface, rng = load_of(lift).body, ground(site), Random(5)
    for _ in range(300):
        at_m, yaw = (rng.uniform(-70.0, 70.0), rng.uniform(-50.0, 40.0)), rng.uniform(-0.3, 0.3)
        angles = [(rng.uniform(-1.0, 1.0), rng.uniform(-1.0, 1.0)) for _ in range(8)]
        by_itself = []
        for pitch, roll in angles:
            matrix = rotation(pitch, yaw, roll)
            by_itself.append(lift_m(surface, body, at_m, matrix) + turned(matrix, body.cg_m)[2])
        assert SetDown(surface, body, at_m, yaw).heights_m(angles) == by_itself
