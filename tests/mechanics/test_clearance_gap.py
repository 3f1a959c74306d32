"""Vertical gaps drawn by hand: one box over one deck, level, pitched, rolled, yawed over a corner, and swept.

Expected values are worked out in each test from the equations of the box's lower face: with pitch p, yaw w and
t = x cos w + y sin w it lies at z0 - t tan p - (half height) / cos p; with roll q alone at z0 + y tan q - ... / cos q.
"""

from math import cos, radians, sin, tan

import numpy as np
import pytest

from simulator.mechanics.clearance.apart import pair_apart
from simulator.mechanics.clearance.clip import cutting, drawn_out, looking, lowest, rectangle, sides
from simulator.mechanics.clearance.solid import (
    Array,
    Solids,
    prism,
    round_plan,
    stacked,
    tail_plan,
    turn_back,
    turned,
    upright,
)
from tests.mechanics.outlined import gap as gap_by_planes
from tests.mechanics.outlined import one as only

HALF = np.array([3.0, 1.0, 0.5])
MM = 1e-3
DECK = (np.array([[2.0, 0.0]]), np.array([[1.5, 1.25]]), np.array([1.35]))
"""x 0.5 to 3.5, y -1.25 to 1.25, top 1.35."""


def load(
    at: tuple[float, float, float], *, pitch: float = 0.0, yaw: float = 0.0, roll: float = 0.0, half: Array = HALF
) -> Solids:
    a, b, c = half
    outline = np.array([[-a, -b, -c], [a, -b, -c], [a, -b, c], [-a, -b, c]])
    solid = stacked([prism(outline, np.array([0.0, 2.0 * b, 0.0]))])
    return turned(solid, np.array(turn_back(radians(pitch), radians(yaw), radians(roll))), np.array([at]))


def deck(center: Array, half: Array, high: Array) -> Solids:
    corners = [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]
    return stacked([upright(center[0] + np.array(corners) * half[0], 0.0, float(high[0]))])


FACES = ((0, 1, 2, 3), (7, 6, 5, 4), (1, 0, 4, 5), (2, 1, 5, 6), (3, 2, 6, 7), (0, 3, 7, 4))
"""Of `load`, corners anticlockwise seen from outside."""


def gap(solid: Solids, *, sweep_m: float = 0.0) -> float:
    """The gap over the deck three ways: as a rectangle, as any outline, and by planes. They must agree."""
    points, below = solid.corners[0].tolist(), deck(*DECK)
    faces = looking(points, FACES, up=False)
    assert faces and all(np.cross(*(np.array(f[1:3]) - f[0]))[2] < 0.0 for f in faces)
    drawn = rectangle((0.5, 3.5), (-1.25 - max(0.0, sweep_m), 1.25 - min(0.0, sweep_m)))
    as_outline = drawn_out(sides(below.corners[0, :4].tolist()), (0.5, 3.5), -sweep_m)
    one = lowest(faces, drawn) - 1.35
    low, high = solid.corners[0].min(axis=0).tolist(), solid.corners[0].max(axis=0).tolist()
    assert lowest(faces, cutting(drawn, low, high)) - 1.35 == pytest.approx(one, abs=1e-9)
    assert lowest(faces, as_outline) - 1.35 == pytest.approx(one, abs=1e-9)
    if one < np.inf:
        assert gap_by_planes(only(solid, 0), only(below, 0), sweep_m) == pytest.approx(one, abs=1e-9)
    return one


def test_level_box_over_the_deck() -> None:
    assert gap(load((2.0, 0.0, 3.0))) == pytest.approx(3.0 - 0.5 - 1.35, abs=MM)


@pytest.mark.parametrize("pitch", [3.0, 8.0, 20.0])
def test_nose_up_the_far_edge_of_the_overlap_is_lowest(pitch: float) -> None:
    p = radians(pitch)
    lowest_x = 3.5  # the load ends beyond the deck, so the deck's own edge is the last place under it
    assert 2.0 + 3.0 * cos(p) - 0.5 * sin(p) > lowest_x
    expected = 3.0 - (lowest_x - 2.0) * tan(p) - 0.5 / cos(p) - 1.35
    assert gap(load((2.0, 0.0, 3.0), pitch=pitch)) == pytest.approx(expected, abs=MM)


def test_nose_down_the_load_ends_over_the_deck() -> None:
    p = radians(-6.0)
    at_x = 5.0
    corner_x, corner_z = at_x - 3.0 * cos(p) - 0.5 * sin(p), 3.0 + 3.0 * sin(p) - 0.5 * cos(p)
    assert 0.5 < corner_x < 3.5
    assert gap(load((at_x, 0.0, 3.0), pitch=-6.0)) == pytest.approx(corner_z - 1.35, abs=MM)


@pytest.mark.parametrize(("roll", "y"), [(5.0, 0.8), (-12.0, 0.8), (9.0, -1.6)])
def test_rolled_box_over_the_deck_side(roll: float, y: float) -> None:
    q = radians(roll)
    side = 1.0 if roll < 0.0 else -1.0  # the low side
    own_y = y + side * cos(q) + 0.5 * sin(q)  # its low lower corner
    low_y = min(max(own_y, -1.25), 1.25)
    expected = 3.0 + (low_y - y) * tan(q) - 0.5 / cos(q) - 1.35
    assert gap(load((2.0, y, 3.0), roll=roll)) == pytest.approx(expected, abs=MM)


def test_yawed_and_pitched_the_decks_corner_is_lowest() -> None:
    p, w = radians(5.0), radians(25.0)
    at = np.array([1.5, -0.3])
    corner = np.array([3.5, 1.25]) - at
    t, n = corner @ [cos(w), sin(w)], corner @ [-sin(w), cos(w)]
    assert abs(t) < 2.9 and abs(n) < 1.0  # the corner is well inside the load's outline
    expected = 3.0 - t * tan(p) - 0.5 / cos(p) - 1.35
    assert gap(load((*at, 3.0), pitch=5.0, yaw=25.0)) == pytest.approx(expected, abs=MM)


def test_yawed_and_pitched_the_crossing_of_two_edges_is_lowest() -> None:
    """Deck corner outside the outline: the lowest shared place is where the load's side crosses the deck's end."""
    p, w = radians(5.0), radians(25.0)
    at = np.array([1.5, -0.9])
    corner = np.array([3.5, 1.25]) - at
    assert corner @ [-sin(w), cos(w)] > 1.0
    y = (1.0 + (3.5 - at[0]) * sin(w)) / cos(w)  # on the side n = 1 at the deck's end x = 3.5
    t = (3.5 - at[0]) * cos(w) + y * sin(w)
    assert y + at[1] < 1.25 and t < 2.9
    expected = 3.0 - t * tan(p) - 0.5 / cos(p) - 1.35
    assert gap(load((*at, 3.0), pitch=5.0, yaw=25.0)) == pytest.approx(expected, abs=MM)


def test_yawed_and_rolled_the_loads_end_crosses_the_decks_side() -> None:
    """The same across: a wide load, its end t = 3 crossing the deck's ravine side y = -1.25 short of the corner."""
    q, w = radians(5.0), radians(25.0)
    at, side = np.array([-0.6, 0.3]), -1.25
    assert (np.array([3.5, side]) - at) @ [cos(w), sin(w)] > 3.0
    x = (3.0 - (side - at[1]) * sin(w)) / cos(w)
    n = -x * sin(w) + (side - at[1]) * cos(w)
    assert at[0] + x < 3.5 and n > -4.0
    expected = 3.0 + n * tan(q) - 0.5 / cos(q) - 1.35
    half = np.array([3.0, 4.0, 0.5])
    assert gap(load((*at, 3.0), yaw=25.0, roll=5.0, half=half)) == pytest.approx(expected, abs=MM)


def test_yawed_the_loads_own_corner_is_lowest() -> None:
    p, w = radians(4.0), radians(-20.0)
    at = np.array([-1.0, 1.0])
    length = 3.0 * cos(p) - 0.5 * sin(p)
    ends = [at + np.array([length * cos(w) - n * sin(w), length * sin(w) + n * cos(w)]) for n in (-1.0, 1.0)]
    assert any(0.5 < x < 3.5 and abs(y) < 1.25 for x, y in ends)
    expected = 3.0 - 3.0 * sin(p) - 0.5 * cos(p) - 1.35
    assert gap(load((*at, 3.0), pitch=4.0, yaw=-20.0)) == pytest.approx(expected, abs=MM)


@pytest.mark.parametrize("sweep", [7.0, 12.0])
def test_swept_a_rolled_box_meets_the_deck_with_its_lowest_edge(sweep: float) -> None:
    q = radians(6.0)
    solid = load((2.0, -6.0, 3.0), roll=6.0)
    assert gap(solid) == np.inf
    assert gap(solid, sweep_m=sweep) == pytest.approx(3.0 - 1.0 * sin(q) - 0.5 * cos(q) - 1.35, abs=MM)


def test_a_short_sweep_brings_only_the_leading_side_over_the_deck() -> None:
    q, y = radians(6.0), -6.0 + 4.0
    solid = load((2.0, -6.0, 3.0), roll=6.0)
    lowest_y = -1.25  # its low (ravine) side stays off the deck: the deck's edge under the rising face decides
    expected = 3.0 + (lowest_y - y) * tan(q) - 0.5 / cos(q) - 1.35
    assert gap(solid, sweep_m=4.0) == pytest.approx(expected, abs=MM)


def test_a_sweep_that_stops_short_meets_nothing() -> None:
    """Its leading side, y = -5, needs 3.75 m to the deck's side."""
    assert gap(load((2.0, -6.0, 3.0)), sweep_m=3.75 - MM) == np.inf
    assert gap(load((2.0, -6.0, 3.0)), sweep_m=3.75 + MM) == pytest.approx(3.0 - 0.5 - 1.35, abs=MM)


def test_boxes_stand_apart_by_their_level_distance() -> None:
    touching = load((2.0, 0.0, 1.35 + 0.5))
    assert float(pair_apart(touching, deck(*DECK))[0]) == pytest.approx(0.0, abs=1e-9)
    beside = load((2.0, -1.25 - 1.0 - 0.2, 1.0))
    assert float(pair_apart(beside, deck(*DECK))[0]) == pytest.approx(0.2, abs=1e-9)


def test_two_crossed_edges_stand_apart_along_their_common_normal() -> None:
    """Boxes on edge: one rolled 45 degrees, the other turned a quarter and rolled: only the edge cross parts them."""
    half = np.array([2.0, 0.5, 0.5])
    upper = load((0.0, 0.0, 2.0), roll=45.0, half=half)
    lower = load((0.0, 0.0, 0.0), yaw=90.0, roll=45.0, half=half)
    expected = 2.0 - 2.0 * 0.5 * 2.0**0.5
    assert float(pair_apart(upper, lower)[0]) == pytest.approx(expected, abs=1e-9)
    assert gap_by_planes(only(upper, 0), only(lower, 0)) == pytest.approx(expected, abs=1e-9)


def test_round_outlines_hold_their_circle_closely() -> None:
    circle = np.array([[cos(a), sin(a)] for a in np.linspace(0.0, 2.0 * np.pi, 721)])
    for plan, kept in ((round_plan(1.25), circle * 1.25), (tail_plan(2.3, 1.25), _tail_arc(circle * 2.3))):
        sides = np.roll(plan, -1, axis=0) - plan
        outward = np.column_stack([sides[:, 1], -sides[:, 0]]) / np.linalg.norm(sides, axis=1, keepdims=True)
        out = (kept @ outward.T - (plan * outward).sum(axis=1)).max()
        assert out < 1e-9
        assert np.linalg.norm(plan, axis=1).max() < np.linalg.norm(kept, axis=1).max() * 1.011


def _tail_arc(circle: Array) -> Array:
    return circle[(np.abs(circle[:, 1]) <= 1.25) & (circle[:, 0] < 0.0)]
