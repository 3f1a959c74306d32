"""A load turned over on two lines: angles and shares along the turn, how far a rig turns, and random ones by scipy."""

from __future__ import annotations

from math import atan2, degrees, hypot, radians, sqrt

import numpy as np
import pytest
from numpy.typing import NDArray

from simulator.mechanics.rest_pose import pose_of
from simulator.mechanics.section import Disc, Point, box
from simulator.mechanics.sling import Sling
from simulator.mechanics.taut_string import lies_toward, ways_round
from simulator.mechanics.turning import Hung, Station, hung, turn, turns_to
from tests.draws import drawn
from tests.mechanics.turned_sections import Turned, lowest

pytestmark = pytest.mark.long

Array = NDArray[np.float64]
DOWN = (0.0, -1.0)
FREE_M, SIDE_M = 6.7, 0.3
NEAR_DEG, NEAR_SHARE = 0.5, 0.01

# A box 2.6 m wide and high lies with its frame toward the road; line 1 to the frame's upper edge, line 2 from its
# lower edge round under the box. Line moved: turned, share of line 1, of line 2. Worked out twice before this code,
# from least energy and from Newton's balance.
BOX = {
    0.0: (0.0, 0.51, 0.51),
    0.4: (15.4, 0.46, 0.55),
    0.8: (29.0, 0.48, 0.54),
    1.2: (41.8, 0.50, 0.52),
    1.6: (54.5, 0.53, 0.49),
    2.0: (67.6, 0.54, 0.47),
    2.4: (82.0, 0.56, 0.45),
    2.6: (90.0, 0.50, 0.50),
    2.8: (98.0, 0.45, 0.56),
}


def on_two_lines(
    discs: tuple[Disc, ...],
    upper: Point,
    lower: Point,
    cg: Point = (0.0, 0.0),
    *,
    up_m: float = 0.0,
    round_it: bool = True,
) -> Hung:
    """Line 1 straight to the upper pick, line 2 from the lower one round under (or straight too), sheaves 0.3 m a side.

    Args:
        discs: of the section, about its middle.
        upper: pick of line 1.
        lower: pick of line 2.
        cg: in the same axes.
        up_m: sheaves over the section's middle; 0: so that 6.7 m of line 1 are free when the middle hangs under them.
        round_it: line 2 goes round.
    """
    own = tuple(disc._replace(y_m=disc.y_m - cg[0], z_m=disc.z_m - cg[1]) for disc in discs)
    picks = [(pick[0] - cg[0], pick[1] - cg[1]) for pick in (upper, lower)]
    second = (lies_toward(own, picks[1], DOWN),) if round_it else ways_round(own, picks[1])
    up = up_m or upper[1] + sqrt(FREE_M**2 - (upper[0] - SIDE_M) ** 2)
    slings = Sling(0.0, ways_round(own, picks[0])), Sling(0.0, second)
    return hung(slings, ((SIDE_M, up), (-SIDE_M, up)), pose_of((0.0, cg[0], cg[1])))


def the_box(cg: Point = (0.0, 0.0)) -> Hung:
    return on_two_lines(box(2.6, 2.6), (1.3, 1.3), (1.3, -1.3), cg)


def turned_deg(station: Station) -> float:
    """Road side down: the top comes up."""
    return -degrees(station.turned_rad)


def test_the_box_turns_as_it_was_worked_out() -> None:
    for station, (angle, first, second) in zip(turn(the_box(), list(BOX)), BOX.values(), strict=True):
        assert turned_deg(station) == pytest.approx(angle, abs=NEAR_DEG)
        assert station.shares == pytest.approx((first, second), abs=NEAR_SHARE)
        assert station.holds
        assert sum(station.rest.pulls_N) > station.rest.weight_N  # the lines lean against each other


def test_both_lines_bear_as_the_box_comes_upright() -> None:
    # Past 82 degrees line 1, leaning, comes to lie on what was the box's top as it lay; later line 2 is off.
    free, both, past = turn(the_box(), (2.4, 2.6, 2.8))
    assert (free.bears, both.bears, past.bears) == ((False, True), (True, True), (True, False))


@pytest.mark.parametrize(
    ("cg", "moved", "first", "second"),
    [((0.4, 0.0), 1.6, 0.58, 0.43), ((-0.4, 0.0), 0.2, 0.32, 0.69), ((0.0, 0.4), 2.4, 0.69, 0.32)],
    ids=["toward the road, in mid-turn", "toward the ravine, near the start", "up, near the end"],
)
def test_a_cg_off_the_middle_shifts_the_shares_and_the_way_stays_open(
    cg: Point, moved: float, first: float, second: float
) -> None:
    section = the_box(cg)
    (station,) = turn(section, (moved,))
    assert station.shares == pytest.approx((first, second), abs=NEAR_SHARE)
    limit = turns_to(section, 2.6)
    assert limit.slack == (False, False) and -degrees(limit.turned_rad) > 89.0


def test_a_cg_toward_the_road_leans_at_the_start() -> None:
    (start,) = turn(the_box((0.4, 0.0)), (0.0,))
    assert turned_deg(start) == pytest.approx(1.8, abs=0.1)


def test_a_round_shell_turns_as_it_was_worked_out() -> None:
    # A shell of 1.3 m with its frame 1.55 m off. Half the frame's width and the CG did not come with the figures: these
    # two were fitted to them, so six angles and the bearing are five facts.
    half, cg = 1.04, (0.37, 0.0)
    shell = (Disc(0.0, 0.0, 1.3, 1.3), Disc(1.55, half), Disc(1.55, -half))
    start, *stations = turn(on_two_lines(shell, (1.55, half), (1.55, -half), cg), (0.0, 0.4, 0.8, 1.2, 1.6, 2.0, 2.4))
    turned = [turned_deg(one) - turned_deg(start) for one in stations]
    assert turned == pytest.approx((15.1, 29.5, 43.8, 58.8, 75.0, 92.0), abs=NEAR_DEG)
    moved = np.arange(1.7, 2.0, 0.02)
    bears = next(s for s in turn(on_two_lines(shell, (1.55, half), (1.55, -half), cg), moved.tolist()) if s.bears[0])
    assert turned_deg(bears) - turned_deg(start) == pytest.approx(71.0, abs=1.0)


@pytest.mark.parametrize("size", [(2.6, 2.6), (2.6, 4.0), (4.0, 2.6)], ids=["square", "high", "wide"])
def test_both_lines_on_the_upper_edges_turn_it_until_one_is_slack(size: tuple[float, float]) -> None:
    y, z = size[0] / 2.0, size[1] / 2.0
    limit = turns_to(on_two_lines(box(*size), (y, z), (-y, z), round_it=False), 4.0)
    assert limit.slack == (True, False)
    assert -degrees(limit.turned_rad) == pytest.approx(degrees(atan2(y, z)), abs=0.3)
    if size == (2.6, 2.6):
        assert limit.amount_m == pytest.approx(0.97, abs=0.005)


def test_past_the_limit_it_hangs_on_one_line_and_turns_no_further() -> None:
    section = on_two_lines(box(2.6, 2.6), (1.3, 1.3), (-1.3, 1.3), round_it=False)
    at, past = turn(section, (1.2, 2.0))
    assert at.rest.slack == past.rest.slack == (True, False)
    assert turned_deg(at) == pytest.approx(turned_deg(past), abs=1e-3) == pytest.approx(45.0, abs=1e-3)


def random_section(rng: np.random.Generator) -> tuple[Hung, Turned]:
    """Boxes and round shells with narrower frames, CGs off the middle: for the code and for scipy."""
    if rng.random() < 0.6:
        y, z = rng.uniform(0.9, 1.6), rng.uniform(0.9, 2.0)
        discs: tuple[Disc, ...] = box(2.0 * y, 2.0 * z)
        corners = np.array([disc[:2] for disc in discs])
    else:
        y = z = rng.uniform(0.9, 1.5)
        discs = (Disc(0.0, 0.0, y, y),)
        angles = np.linspace(0.0, 2.0 * np.pi, 360, endpoint=False)
        corners = y * np.column_stack([np.cos(angles), np.sin(angles)])
    frame_y, frame_z = y + rng.uniform(0.05, 0.4), z * rng.uniform(0.5, 0.95)
    picks = (frame_y, frame_z), (frame_y, -frame_z)
    cg = float(rng.uniform(-0.4, 0.4)), float(rng.uniform(-0.4, 0.4))
    discs = (*discs, *(Disc(*pick) for pick in picks))
    round_it, up = bool(rng.random() < 0.8), float(rng.uniform(5.0, 10.0))
    second = picks[1] if round_it else (-y, z if len(discs) > 3 else 0.0)
    section = on_two_lines(discs, picks[0], second, cg, up_m=up, round_it=round_it)
    every = np.vstack([corners, picks])
    sheaves = np.array([(SIDE_M, up), (-SIDE_M, up)])
    # From the lower edge round under is clockwise, toward less y; line 1 comes to bear the other way as it turns.
    return section, Turned(
        every, np.array(cg), np.array([picks[0], second]), ((1,), (-1,) if round_it else (1, -1)), sheaves
    )


SECTIONS, STEPS_M = drawn(50, 200), np.linspace(0.0, 2.4, 7)


def test_random_sections_turn_as_scipys_least_energy_has_it() -> None:
    # Each rest is looked for from the one before, by both. Once a line is slack it may fall over: where to is chance.
    rng = np.random.default_rng(185)
    got_there = 0
    for i in range(SECTIONS):
        ours, theirs = random_section(rng)
        q, rings = np.array([*ours.start.cg_m[1:], 0.0]), theirs.rings()
        stations = turn(ours, STEPS_M.tolist())
        for moved, station in zip(STEPS_M, stations, strict=True):
            lengths = np.array((ours.lengths_m[0] + moved, ours.lengths_m[1] - moved))
            q, shares = lowest(theirs, rings, lengths, q)
            if not station.holds:
                assert min(shares) < 1e-3, i
                break
            assert station.rest.pose.cg_m[1:] == pytest.approx(q[:2], abs=1e-3), i
            assert station.turned_rad == pytest.approx(q[2], abs=radians(0.01)), i
            assert station.shares == pytest.approx(shares, abs=1e-3), i
            assert theirs.by_hulls_m(q) == pytest.approx(lengths, abs=1e-5), i
        got_there += all(station.holds for station in stations)
    assert 0.5 < got_there / SECTIONS < 0.95


def test_speeds_that_differ_lift_or_lower_it() -> None:
    (alike,) = turn(the_box(), (1.0,))
    (faster_in,) = turn(the_box(), (1.0,), out=(0.9, -1.0))
    assert faster_in.rest.pose.cg_m[2] > alike.rest.pose.cg_m[2] + 0.04
    assert hypot(*faster_in.out_m) < hypot(*alike.out_m)
