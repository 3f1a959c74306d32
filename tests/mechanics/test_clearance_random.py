"""Random poses of the demo trailer among the demo units: program against brute force, twice over."""

from dataclasses import replace
from math import pi
from typing import NamedTuple

import numpy as np
import pytest
import shapely

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.clearance.decks import measured
from simulator.mechanics.clearance.governing import NEAR_M, TO_RAISE_M
from simulator.mechanics.clearance.over import boom_gap, gap_over
from simulator.mechanics.clearance.place import Placed, place
from simulator.mechanics.clearance.scene import Pose, Scene, prepare_scene
from simulator.mechanics.clearance.solid import Array, Flags
from simulator.mechanics.clearance.touching import touching
from simulator.mechanics.clearance.units import END_UNITS
from simulator.mechanics.trailer_body import lying, part_corners, stated_cg_m
from tests.demo import demo_unit
from tests.draws import drawn
from tests.mechanics.outlined import boom_distances, boom_table, gap_table, outline, touches
from tests.mechanics.sampled import Sampled, gap_under, sampled, share_a_point
from tests.mechanics.sampled import gap_over as gap_over_samples
from tests.mechanics.scene import SITE, WINCH, description, pose

POSES, WITHIN_M = drawn(500, 1000), 0.005
STEP_M, ALONG_X_M = 0.003, 0.008
RAY_M, COARSE_M = 0.006, 0.02
"""Steps along edges: for gaps, where slopes make heights of them, and for contacts."""


class Poses(NamedTuple):
    scene: Scene
    poses: list[Pose]
    booms: list[tuple[BoomPose, BoomPose]]

    def placed(self, row: int) -> Placed:
        return place(self.scene, self.poses[row], self.booms[row])

    @property
    def solid_names(self) -> tuple[str, ...]:
        return (*self.scene.names, *(f"{unit} boom" for unit in END_UNITS))


pytestmark = pytest.mark.long


@pytest.fixture(scope="module")
def drawn_poses() -> Poses:
    lift = description(site=replace(SITE, guard_rail_height_m=0.8), nose=demo_unit(equipment=(WINCH,)))
    scene = prepare_scene(lift)
    rng = np.random.default_rng(20)
    level = pose(lift.trailer, belly_m=0.0, middle_y_m=0.0)
    places = rng.uniform([-1.0, -9.0, -0.5], [1.0, 8.0, 3.5], (POSES, 3)) + np.array(level[:3])
    poses = np.column_stack([places, rng.uniform(-0.25, 0.25, (POSES, 3))])
    booms = rng.uniform([7.0, 0.4, -1.4], [12.0, 1.04, 1.4], (POSES, 2, 3))
    both = [(BoomPose(*nose), BoomPose(*tail)) for nose, tail in booms.tolist()]
    return Poses(scene, [Pose(*row) for row in poses.tolist()], both)


def turn(pitch: float, yaw: float, roll: float) -> Array:
    """Rz(yaw) Ry(pitch) Rx(roll) from the three standard matrices."""
    c, s = np.cos, np.sin
    about_x = np.array([[1, 0, 0], [0, c(roll), -s(roll)], [0, s(roll), c(roll)]])
    about_y = np.array([[c(pitch), 0, s(pitch)], [0, 1, 0], [-s(pitch), 0, c(pitch)]])
    about_z = np.array([[c(yaw), -s(yaw), 0], [s(yaw), c(yaw), 0], [0, 0, 1]])
    return np.asarray(about_z @ about_y @ about_x, dtype=float)


def sampled_parts(scene: Scene, step_m: float, along_x_m: float) -> list[Sampled]:
    trailer = scene.description.trailer
    reference = np.array(lying(trailer.attitude, stated_cg_m(trailer)))
    corners = [np.array([lying(trailer.attitude, c) for c in part_corners(part)]) for part in trailer.parts]
    return [sampled(part - reference, step_m, along_x_m=along_x_m) for part in corners]


def plans(placed: Placed) -> list[tuple[Array, float]]:
    """Outline in plan (in order) and upper face of every obstacle."""
    scene, outlines = placed.scene, []
    for (x, y), top in zip(scene.spans[: len(scene.kinds)], scene.ends_m[1, 2], strict=False):
        outlines.append((np.array([(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])]), float(top)))
    for corners in (*scene.rounds.corners, *placed.slewed.tails.corners):
        count = len(corners) // 2
        outlines.append((corners[:count, :2], float(corners[:, 2].max())))
    return outlines


def overlap_m(placed: Placed, part: int, plan: Array) -> float:
    """How wide the overlap of a part's swept outline with another is at most, m."""
    shared = outline(placed.parts.corners[part], placed.sweep_m).intersection(shapely.Polygon(plan))
    return 0.0 if shared.is_empty else float(2.0 * shapely.minimum_bounding_radius(shared))


def test_gaps_are_those_of_sampled_edges(drawn_poses: Poses) -> None:
    """A part over each obstacle: samples never lie below the gap, and come within 5 mm of it. The shell every other
    pose, the rest in turn."""
    scene = drawn_poses.scene
    parts, compared = sampled_parts(scene, STEP_M, ALONG_X_M), 0
    for row, at in enumerate(drawn_poses.poses):
        i = 0 if row % 2 else row // 2 % len(parts)
        placed = drawn_poses.placed(row)
        part, sweep = parts[i].moved(turn(*at[3:]), np.array(at[:3])), placed.sweep_m
        for k, (plan, top) in enumerate(plans(placed)):
            gap = gap_over(placed, i, k)
            if part.low[0] > plan[:, 0].max() or part.high[0] < plan[:, 0].min():
                assert gap == np.inf
                continue
            slow = gap_over_samples(part, plan, top, sweep, RAY_M)
            if slow == np.inf:  # an overlap that fits between samples
                assert gap == np.inf or overlap_m(placed, i, plan) < 2.0 * ALONG_X_M
                continue
            assert -1e-6 <= slow - gap <= WITHIN_M, (at, scene.load.names[i], scene.names[k])
            compared += 1
    assert compared > 5 * POSES


def test_gaps_under_the_booms_are_those_of_sampled_edges(drawn_poses: Poses) -> None:
    """The least of all parts, up to each boom."""
    scene = drawn_poses.scene
    parts, compared = sampled_parts(scene, STEP_M, ALONG_X_M), 0
    for row, at in enumerate(drawn_poses.poses[: POSES // 2]):
        placed = drawn_poses.placed(row)
        turned = [part.moved(turn(*at[3:]), np.array(at[:3])) for part in parts]
        for end in (0, 1):
            gap, _ = boom_gap(placed, end)
            above = sampled(placed.slewed.booms.corners[end], STEP_M)
            slow = min(gap_under(part, above) for part in turned)
            assert (slow == np.inf and gap == np.inf) or -1e-6 <= slow - gap <= WITHIN_M, (at, end)
            compared += gap < np.inf
    assert compared > POSES / 4


def test_no_contact_of_sampled_edges_is_missed(drawn_poses: Poses) -> None:
    scene, names = drawn_poses.scene, drawn_poses.solid_names
    parts = sampled_parts(scene, COARSE_M, COARSE_M)
    made: dict[tuple[int, int], Sampled] = {}
    seen = 0
    for row, at in enumerate(drawn_poses.poses):
        placed = drawn_poses.placed(row)
        corners = solid_corners(placed)
        low, high = np.array([c.min(axis=0) for c in corners]), np.array([c.max(axis=0) for c in corners])
        found = {(one.part, one.meets) for one in touching(scene, placed)}
        for i, part in enumerate(one.moved(turn(*at[3:]), np.array(at[:3])) for one in parts):
            near: Flags = np.asarray(((part.low <= high) & (part.high >= low)).all(axis=1))
            near[names.index("slope's edge")] = False
            for k in np.flatnonzero(near).tolist():
                key = (k, row if k >= len(names) - 4 else 0)
                if key not in made:
                    made[key] = sampled(np.clip(corners[k], -20.0, 20.0), COARSE_M)
                if share_a_point(part, made[key]):
                    assert (scene.load.names[i], names[k]) in found, (at, scene.load.names[i], names[k])
                    seen += 1
    assert seen > POSES


def solid_corners(placed: Placed) -> list[Array]:
    """In the order of `Poses.solid_names`."""
    scene, moving = placed.scene, placed.slewed
    return [*scene.box_solids.corners, *scene.rounds.corners, *moving.tails.corners, *moving.booms.corners]


def test_outlines_and_cut_faces_give_the_same_verdict(drawn_poses: Poses) -> None:
    """Gaps, states and contacts against shapely's outlines and a linear program's dual: `outlined`."""
    scene, names = drawn_poses.scene, drawn_poses.solid_names
    touched = not_clear = 0
    for row in range(POSES):
        placed = drawn_poses.placed(row)
        found = measured(scene, placed)
        table = gap_table(scene, placed)
        near = level_off(placed) <= NEAR_M
        for i, part in enumerate(found.parts):
            below = near[i] & (table[i] < 0.0) & (table[i] >= -TO_RAISE_M)
            least = table[i][below].min() if below.any() else table[i].min()
            np.testing.assert_allclose(part.gap_m, least, rtol=0.0, atol=1e-9)
            assert (part.state == "not clear") == bool(below.any())
        slow = {(scene.load.names[i], names[k]) for i, k in np.argwhere(touches(scene, placed))}
        assert {(contact.part, contact.meets) for contact in touching(scene, placed)} == slow
        touched += bool(slow)
        not_clear += any(part.state == "not clear" for part in found.parts)
    assert 0.2 < touched / POSES < 0.8 and 0.2 < not_clear / POSES < 0.8


def exact_or_far(said_m: float, true_m: float, far_m: float, *, within_m: float) -> bool:
    """True if what is said is the true distance, or true and said are both far and no more is said than is true; and
    tells which it was."""
    assert said_m <= true_m + within_m
    if true_m > far_m:
        assert said_m > far_m
        return False
    assert said_m == pytest.approx(true_m, abs=within_m)
    return True


def test_distances_to_booms_are_exact_unless_far_and_never_too_large(drawn_poses: Poses) -> None:
    """Every edge against every boom's middle line, and outlines over each other."""
    scene, near = drawn_poses.scene, 0
    for row in range(POSES):
        placed = drawn_poses.placed(row)
        straight = np.minimum(boom_distances(scene, placed), boom_table(scene, placed)).min(axis=0)
        for boom, true in zip(measured(scene, placed).booms, straight.tolist(), strict=True):
            near += exact_or_far(boom.distance_m, true, scene.far_m, within_m=1e-9)
            state = "not clear" if true < 0.0 else "close" if true < scene.description.limits.gap_close_m else "clears"
            assert boom.state == state
    assert 0.2 < near / (2.0 * POSES) < 0.8


def level_off(placed: Placed) -> Array:
    """Level distance of bounding boxes (part, obstacle)."""
    corners = placed.parts.corners
    low, high = corners.min(axis=1)[:, None, :2], corners.max(axis=1)[:, None, :2]
    lows, highs = placed.obstacles_m[:, :2].swapaxes(1, 2)
    beside = np.maximum(np.maximum(low - highs, lows - high), 0.0)
    return np.asarray(np.hypot(beside[..., 0], beside[..., 1]))


def test_sideways_room_measured_only_where_needed_is_that_of_every_outline(drawn_poses: Poses) -> None:
    """Jacks, pads, tailboards, superstructures and tail swings against every outline measured: same room to the
    micrometer, or both far and no more said than is true."""
    scene = drawn_poses.scene
    close, far, near = scene.description.limits.gap_close_m, scene.far_m, 0
    rows = {name: row for row, name in enumerate(scene.names)}
    kinds = [(unit, kind) for kind in ("jack", "pad", "tailboard") for unit in ("nose unit", "tail unit")]
    groups = [[row for name, row in rows.items() if name.startswith(a) and name.endswith(b)] for a, b in kinds]
    for row in range(0, POSES, 5):
        placed = drawn_poses.placed(row)
        parts, sweep = placed.parts.corners, placed.sweep_m
        off = shapely.distance(np.array([outline(part) for part in parts])[:, None], scene.outlines)
        low, high = parts[..., 2].min(axis=1)[:, None], parts[..., 2].max(axis=1)[:, None]
        over = low - scene.ends_m[1, 2]
        room = np.maximum(np.maximum(off, over), scene.ends_m[0, 2] - high)
        found = measured(scene, placed).passing
        for one, group in zip(found[4:], groups, strict=True):
            part, thing = scene.load.names.index(one.part), rows[one.meets]
            beside = np.maximum(off, over)[:, group].min()
            assert thing in group and one.distance_m <= off[part, thing] + 1e-6
            if beside > far:
                assert max(one.distance_m, one.over_m) > far and one.state == "clears"
                continue
            near += beside > close
            assert room[part, thing] == pytest.approx(room[:, group].min(), abs=1e-6)
            assert one.distance_m == pytest.approx(off[part, thing], abs=1e-6)
        swept = np.array([outline(part, sweep) for part in parts])[:, None]
        rounds = np.maximum(0.0, shapely.distance(swept, shapely.points(scene.slewing.stand_m[:, :2])) - scene.radius_m)
        tails = [outline(corners) for corners in placed.slewed.tails.corners]
        expected = np.concatenate([rounds, shapely.distance(swept, tails)], axis=1)
        for k, one in enumerate(found[:4]):
            if exact_or_far(one.distance_m, expected[:, k].min(), far, within_m=1e-6):
                assert one.distance_m == pytest.approx(expected[scene.load.names.index(one.part), k], abs=1e-6)
            else:
                assert one.state == "clears"
    assert near > POSES / 10


def test_deep_contacts_are_seen_by_samples_too(drawn_poses: Poses) -> None:
    """The other way round: what is called more than 5 cm deep is no false alarm."""
    scene, names = drawn_poses.scene, drawn_poses.solid_names
    parts = sampled_parts(scene, COARSE_M, COARSE_M)
    seen = 0
    for row, at in enumerate(drawn_poses.poses[: POSES // 10]):
        placed = drawn_poses.placed(row)
        turned = (part.moved(turn(*at[3:]), np.array(at[:3])) for part in parts)
        moved = dict(zip(scene.load.names, turned, strict=True))
        solids = solid_corners(placed)
        for contact in touching(scene, placed):
            corners = solids[names.index(contact.meets)]
            if contact.deep_m > 0.05:
                solid = sampled(np.clip(corners, -20.0, 20.0), COARSE_M)
                assert share_a_point(moved[contact.part], solid), (at, contact)
                seen += 1
    assert seen > POSES / 10


def test_the_poses_are_turned_every_way(drawn_poses: Poses) -> None:
    angles = np.array(drawn_poses.poses)[:, 3:]
    assert (angles.min(axis=0) < -pi / 15).all() and (angles.max(axis=0) > pi / 15).all()
