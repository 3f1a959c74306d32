"""A sling round the load: its length against hulls and sliding corners, where it leaves, how it presses, which way."""

from __future__ import annotations

from math import asin, atan2, cos, hypot, pi, sin, sqrt

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import minimize

from simulator.mechanics.section import Disc, box
from simulator.mechanics.sling import Sling, pull_range_N, trailer_sling
from simulator.mechanics.taut_string import lies_toward, ways_round
from simulator.scenario.trailer import Cargo, Part, Trailer, TrailerStart
from tests.demo import pair_of_picks
from tests.mechanics.turned_sections import string_m

Array = NDArray[np.float64]
CASES = 200
DOWN, LEFT = (0.0, -1.0), (1.0, 0.0)


def random_section(rng: np.random.Generator) -> tuple[tuple[Disc, ...], Array, tuple[float, float]]:
    """Corners or a round shell with a lug: as discs, as corners for the hull, and a pick that stands out."""
    if rng.random() < 0.5:
        discs = tuple(Disc(*corner) for corner in rng.uniform(-1.5, 1.5, (rng.integers(3, 8), 2)))
        corners = np.array([disc[:2] for disc in discs])
    else:
        radius = rng.uniform(0.8, 1.5)
        discs = (Disc(0.2, -0.1, radius, radius),)
        turn = np.linspace(0.0, 2.0 * pi, 1440, endpoint=False)
        corners = np.array([0.2, -0.1]) + radius * np.column_stack([np.cos(turn), np.sin(turn)])
    angle = rng.uniform(-pi, pi)
    out = np.array([cos(angle), sin(angle)])
    pick = out * ((corners @ out).max() + rng.uniform(0.01, 0.6))
    return discs, corners, (float(pick[0]), float(pick[1]))


def sheave_round(rng: np.random.Generator) -> tuple[float, float]:
    angle, away = rng.uniform(-pi, pi), rng.uniform(4.0, 12.0)
    return away * cos(angle), away * sin(angle)


def test_strings_are_as_long_as_the_hull_says() -> None:
    rng = np.random.default_rng(182)
    laid_down = 0
    for i in range(CASES):
        discs, corners, pick = random_section(rng)
        sheave = sheave_round(rng)
        each = [string_m(corners, np.array(pick), np.array(sheave), way) for way in (1, -1)]
        for way, wanted in zip(ways_round(discs, pick), each, strict=True):
            found = Sling(0.0, (way,)).laid(sheave)
            assert found.laid_m + found.free_m == pytest.approx(wanted, abs=3e-5), i
            laid_down += found.laid_m > 0.0
        straight = Sling(0.0, ways_round(discs, pick)).laid(sheave)
        assert straight.laid_m + straight.free_m == pytest.approx(min(each), abs=3e-5), i
    assert CASES / 2 < laid_down < 2 * CASES


def slings(rng: np.random.Generator) -> tuple[Sling, Array]:
    discs, _, pick = random_section(rng)
    ways = ways_round(discs, pick)
    return Sling(rng.uniform(-3.0, 3.0), (ways[rng.integers(2)],), 1.5), np.array(
        [rng.uniform(-6.0, 6.0), *sheave_round(rng)]
    )


def test_where_it_leaves_and_how_it_pulls_are_slopes_of_its_length() -> None:
    rng = np.random.default_rng(183)
    for i in range(CASES):
        sling, sheave = slings(rng)
        reach, run = sling.reach(sheave), sling.run(sheave)
        assert reach.distance_m == pytest.approx(run.laid_m + run.free_m - 1.5), i
        assert reach.toward == pytest.approx(run.toward, abs=1e-12), i
        assert reach.toward == pytest.approx((sheave - run.leaves_m) / run.free_m, abs=1e-9), i
        nudges = 1e-5 * np.eye(3)
        ahead, behind = [sling.reach(sheave + n) for n in nudges], [sling.reach(sheave - n) for n in nudges]
        slope = [(a.distance_m - b.distance_m) / 2e-5 for a, b in zip(ahead, behind, strict=True)]
        assert reach.toward == pytest.approx(slope, abs=1e-7), i
        bend = np.array([(a.toward - b.toward) / 2e-5 for a, b in zip(ahead, behind, strict=True)])
        assert np.abs(reach.bend_per_m - bend).max() < 1e-6, i


def test_a_string_over_a_prism_finds_the_places_of_its_corners_along_it() -> None:
    rng, tried = np.random.default_rng(184), 0
    for i in range(40):
        corners = rng.uniform(-1.5, 1.5, (6, 2))
        discs = tuple(Disc(*corner) for corner in corners)
        pick = max(corners.tolist(), key=lambda c: c[1])
        sling = Sling(0.5, (ways_round(discs, tuple(pick))[0],))
        sheave = np.array([rng.uniform(-6.0, 6.0), *rng.uniform((-1.0, -9.0), (1.0, -5.0))])
        laid, run = sling.laid((float(sheave[1]), float(sheave[2]))), sling.run(sheave)
        passed = [turn.at_m for turn in laid.turns]
        if not passed:
            continue
        tried += 1

        def length(
            x: Array, passed: list[tuple[float, float]] = passed, pick: list[float] = pick, sheave: Array = sheave
        ) -> float:
            points = np.array([(0.5, *pick), *((at, *c) for at, c in zip(x, passed, strict=True)), sheave])
            return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())

        found = minimize(length, np.full(len(passed), 0.5), options={"gtol": 1e-10})
        assert run.laid_m + run.free_m == pytest.approx(found.fun, abs=1e-8), i
        assert run.leaves_m[0] == pytest.approx(found.x[-1], abs=1e-4), i
    assert tried > 20


SHEAVE = (0.0, -0.3, 8.0)


def under_a_box(sling_m: float = 10.0) -> Sling:
    """From the lower left edge of a box 2.6 m wide and high, under it and up its far side."""
    return Sling(0.0, (lies_toward(box(2.6, 2.6), (1.3, -1.3), DOWN),), sling_m)


def test_squeeze_at_corners_is_what_holds_the_two_legs_apart() -> None:
    run = under_a_box().run(SHEAVE)
    assert run.laid_m == pytest.approx(5.2) and run.leaves_m == pytest.approx((0.0, -1.3, 1.3))
    lower, upper = run.squeeze(1e5, 0.1)
    assert lower.at_m == (-1.3, -1.3) and upper.at_m == (-1.3, 1.3) and lower.pressure_Pa is None
    assert lower.push_N == pytest.approx(1e5 * sqrt(2.0))
    assert upper.push_N == pytest.approx(2e5 * sin(atan2(1.0, 6.7) / 2.0))


def test_out_of_the_plane_a_corner_pushes_by_the_vector_sum_of_its_legs() -> None:
    run = under_a_box().run((3.0, -0.3, 8.0))
    slope = 3.0 / hypot(3.0, 5.2 + hypot(1.0, 6.7))
    level = sqrt(1.0 - slope**2)
    under, beside = np.array([slope, -level, 0.0]), np.array([slope, 0.0, level])
    last = np.subtract((3.0, -0.3, 8.0), run.leaves_m) / run.free_m
    assert last[0] == pytest.approx(slope)
    pushes = [float(np.linalg.norm(beside - under)), float(np.linalg.norm(last - beside))]
    assert [one.push_N for one in run.squeeze(1e5, 0.1)] == pytest.approx([1e5 * push for push in pushes])
    assert run.turned_rad == pytest.approx(sum(2.0 * asin(push / 2.0) for push in pushes))


def test_pressure_on_a_round_shell_is_pull_over_radius_and_width() -> None:
    shell = (Disc(0.0, 0.0, 1.3, 1.3),)
    run = Sling(0.0, (ways_round(shell, (1.3, 0.0))[1],)).run((0.0, -1.3, 8.0))
    assert run.turns[0].turn_rad == pytest.approx(pi) and run.laid_m == pytest.approx(1.3 * pi)
    (pressed,) = run.squeeze(1e5, 0.15)
    assert pressed.pressure_Pa == pytest.approx(1e5 / (1.3 * 0.15))
    assert pressed.push_N == pytest.approx(2e5)  # half a turn: both legs


def test_friction_lets_the_sides_differ_as_round_a_drum() -> None:
    low, high = pull_range_N(1e4, 0.3, pi)
    assert (low, high) == pytest.approx((1e4 / 2.5663, 1e4 * 2.5663), rel=1e-4)  # exp(0.3 pi)
    assert pull_range_N(1e4, 0.3, 0.0) == (1e4, 1e4)


def test_the_hook_is_off_the_load_by_half_a_meter_or_not() -> None:
    assert under_a_box(sling_m=5.71).run(SHEAVE).hook_is_off
    short = under_a_box(sling_m=5.69).run(SHEAVE)
    assert not short.hook_is_off and short.hook_off_m == pytest.approx(0.49)


def test_a_straight_line_comes_to_bear_on_the_edge_it_is_turned_over() -> None:
    sling = Sling(0.0, ways_round(box(2.6, 2.6), (1.3, -1.3)))
    free = sling.run((0.0, 1.31, 8.0))
    assert free.laid_m == 0.0 and free.turns == ()
    bears = sling.run((0.0, 1.0, 8.0))
    assert bears.laid_m == pytest.approx(2.6) and bears.leaves_m == pytest.approx((0.0, 1.3, 1.3))
    assert len(bears.turns) == 1


def test_a_sheave_inside_the_load_is_said() -> None:
    with pytest.raises(ValueError, match="inside the load"):
        under_a_box().run((0.0, 0.1, 0.2))


def tank(attitude: str = "top_to_ravine", width: float = 2.6) -> Trailer:
    def part(name: str, x: float, z: tuple[float, float], width: float, drawn_as: str) -> Part:
        return Part(name, ((-x, z[0]), (x, z[0]), (x, z[1]), (-x, z[1])), width, drawn_as=drawn_as)  # type: ignore[arg-type]

    parts = part("shell", 7.3, (1.4, 4.0), width, "tank"), part("frame", 7.0, (1.15, 1.4), 2.3, "frame")
    cargo, picks = Cargo(1e3, (0.0, 0.0, 2.7), (1.0, 1.0, 1.0)), pair_of_picks((-6.0, 0.0, 3.0), (6.0, 0.0, 3.0))
    return Trailer(parts, cargo, picks, TrailerStart(0.0, 0.0), attitude)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("lies_on", "leaves_y", "leaves_z"), [("right", -1.3, 0.0), ("floor", 1.55, 1.15)], ids=["under", "up the frame"]
)
def test_a_lying_tank_is_gone_round_in_the_way_stated(lies_on: str, leaves_y: float, leaves_z: float) -> None:
    # Top to the ravine: its right is down, its floor looks toward the road (y > 0), its roof toward the ravine.
    sling = trailer_sling(tank(), (-6.0, -1.15, 1.15), from_m=(0.0, 0.0, 2.7), lies_on=lies_on)
    assert sling.run((-6.0, -1.3, 99.0)).leaves_m[1:] == pytest.approx((leaves_y, leaves_z), abs=0.05)


def test_a_lying_tank_presses_by_its_radius_and_the_lower_edge_goes_under() -> None:
    sling = trailer_sling(tank(), (-6.0, -1.15, 1.15), from_m=(0.0, 0.0, 2.7), lies_on="right", sling_m=9.0)
    run = sling.run((-6.0, -1.3, 9.0))
    assert run.turns[-1].shell_radius_m == pytest.approx(1.3)
    assert run.leaves_m == pytest.approx((-6.0, -1.3, 0.0), abs=1e-9)


def test_a_pick_in_the_middle_of_the_side_it_lies_on_is_refused() -> None:
    with pytest.raises(ValueError, match="name the side that it runs on to, such as left or right"):
        trailer_sling(tank("on_wheels"), (0.0, 0.0, 1.15), from_m=(0.0, 0.0, 2.7), lies_on="floor")
    with pytest.raises(ValueError, match="allowed are left, right, roof, floor"):
        trailer_sling(tank(), (0.0, 0.0, 1.15), from_m=(0.0, 0.0, 2.7), lies_on="top")


def test_left_of_a_box_is_gone_up_from_its_lower_left_edge() -> None:
    up = lies_toward(box(2.6, 4.0), (1.3, -2.0), LEFT)
    found = Sling(0.0, (up,)).laid((-4.0, 0.0))
    assert [turn.at_m for turn in found.turns] == [(1.3, 2.0), (-1.3, 2.0)]
    assert found.laid_m == pytest.approx(4.0 + 2.6)


def test_a_pick_just_on_a_shell_is_no_corner_of_its_own() -> None:
    # Rounding may leave it a hair in or out of the arc: either way the string starts there and nowhere else.
    radius = 0.9012654409492454
    for angle in np.linspace(-pi, pi, 40):
        pick = radius * cos(angle), radius * sin(angle)
        for way in ways_round((Disc(0.0, 0.0, radius, radius), Disc(2.0, 0.5), Disc(2.0, -0.5)), pick):
            seen = (-way.pick_m[0] if way.mirrored else way.pick_m[0], way.pick_m[1])
            inside = abs(angle) < 1.6  # the corners' lines cover the shell there
            assert inside or seen == pytest.approx(pick, abs=1e-9)


def test_a_pick_inside_the_outline_counts_from_the_nearest_place_of_it() -> None:
    discs = (*box(2.6, 2.6), Disc(0.0, 2.0))  # a roof: the eaves hollow
    inside = Sling(0.0, (ways_round(box(2.6, 2.6), (1.2, 0.0))[0],)).laid((-9.0, 0.0))
    on_it = Sling(0.0, (ways_round(box(2.6, 2.6), (1.3, 0.0))[0],)).laid((-9.0, 0.0))
    assert inside == on_it and discs
