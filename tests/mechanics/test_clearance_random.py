"""A thousand random poses of the demo trailer among the demo units: program against brute force, twice over."""

from dataclasses import replace
from math import pi
from typing import NamedTuple

import numpy as np
import pytest
import shapely

from simulator.mechanics.boom import BoomPose
from simulator.mechanics.clearance import clearances
from simulator.mechanics.clearance_contact import contacts, touch_names
from simulator.mechanics.clearance_gap import box_sides
from simulator.mechanics.clearance_many import Verdicts, verdicts
from simulator.mechanics.clearance_over import boom_table, gap_table, plan_outlines
from simulator.mechanics.clearance_scene import Pose, Scene, place, prepare_scene
from simulator.mechanics.clearance_solid import Array, Flags
from simulator.mechanics.trailer import lying, part_corners, stated_cg_m
from tests.mechanics.sampled import Sampled, gap_over, gap_under, sampled, share_a_point
from tests.mechanics.scene import SITE, WINCH, description, pose, unit

POSES, WITHIN_M = 1000, 0.005
STEP_M, ALONG_X_M = 0.003, 0.008
RAY_M, COARSE_M = 0.006, 0.02
"""Steps along edges: for gaps, where slopes make heights of them, and for contacts."""


class Thousand(NamedTuple):
    scene: Scene
    poses: Array
    booms: Array
    found: Verdicts


@pytest.fixture(scope="module")
def thousand() -> Thousand:
    lift = description(site=replace(SITE, guard_rail_height_m=0.8), nose_unit=unit(-9.075, equipment=(WINCH,)))
    scene = prepare_scene(lift)
    rng = np.random.default_rng(20)
    level = pose(lift.trailer, belly_m=0.0, middle_y_m=0.0)
    places = rng.uniform([-1.0, -9.0, -0.5], [1.0, 8.0, 3.5], (POSES, 3)) + np.array(level[:3])
    poses = np.column_stack([places, rng.uniform(-0.25, 0.25, (POSES, 3))])
    booms = rng.uniform([7.0, 0.4, -1.4], [12.0, 1.04, 1.4], (POSES, 2, 3))
    return Thousand(scene, poses, booms, verdicts(scene, poses, booms))


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


def plans(scene: Scene, placed_tails: Array) -> list[tuple[Array, float]]:
    """Outline in plan (in order) and upper face of every obstacle."""
    outlines = []
    for centre, half, top in zip(scene.boxes.centre_m, scene.boxes.half_m, scene.boxes.high_m, strict=True):
        signs = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
        outlines.append((centre + signs * half, float(top)))
    for corners in (*scene.rounds.corners, *placed_tails):
        count = len(corners) // 2
        outlines.append((corners[:count, :2], float(corners[:, 2].max())))
    return outlines


def test_gaps_are_those_of_sampled_edges(thousand: Thousand) -> None:
    """A part over each obstacle: samples never lie below the gap, and come within 5 mm of it. The shell every other
    pose, the rest in turn."""
    scene, poses, booms, _ = thousand
    parts, compared = sampled_parts(scene, STEP_M, ALONG_X_M), 0
    for row, (at, booms_at) in enumerate(zip(poses, booms, strict=True)):
        i = 0 if row % 2 else row // 2 % len(parts)
        placed = place(scene, at, booms_at)
        gaps = gap_table(scene, placed, plan_outlines(placed))[i]
        sides = box_sides(placed.parts, scene.boxes, placed.sweep_m)[i]
        part, sweep = parts[i].moved(turn(*at[3:]), at[:3]), float(placed.sweep_m)
        for k, (outline, top) in enumerate(plans(scene, placed.tails.corners)):
            if part.low[0] > outline[:, 0].max() or part.high[0] < outline[:, 0].min():
                assert gaps[k] == np.inf
                continue
            slow = gap_over(part, outline, top, sweep, RAY_M)
            if slow == np.inf:  # an overlap that fits between samples
                assert gaps[k] == np.inf or (k < len(scene.kinds) and sides[k] > -ALONG_X_M)
                continue
            assert -1e-6 <= slow - gaps[k] <= WITHIN_M, (at, scene.load.names[i], scene.names[k])
            compared += 1
    assert compared > 5 * POSES


def test_gaps_under_the_booms_are_those_of_sampled_edges(thousand: Thousand) -> None:
    scene, poses, booms, _ = thousand
    parts, compared = sampled_parts(scene, STEP_M, ALONG_X_M), 0
    for at, booms_at in zip(poses[:250], booms[:250], strict=True):
        placed = place(scene, at, booms_at)
        table = boom_table(placed, plan_outlines(placed))
        for end in np.flatnonzero((table < np.inf).any(axis=0)):
            above = sampled(placed.booms.corners[end], STEP_M)
            for i in np.flatnonzero(table[:, end] < np.inf):
                slow = gap_under(parts[i].moved(turn(*at[3:]), at[:3]), above)
                assert slow == np.inf or -1e-6 <= slow - table[i, end] <= WITHIN_M, (at, end, i)
                compared += 1
    assert compared > 250


def test_no_contact_of_sampled_edges_is_missed(thousand: Thousand) -> None:
    scene, poses, booms, found = thousand
    parts, names = sampled_parts(scene, COARSE_M, COARSE_M), touch_names(scene)
    made: dict[tuple[int, int], Sampled] = {}
    seen = 0
    for row, (at, booms_at) in enumerate(zip(poses, booms, strict=True)):
        placed = place(scene, at, booms_at)
        corners = [*scene.box_solids.corners, *scene.rounds.corners, *placed.tails.corners, *placed.booms.corners]
        low, high = np.array([c.min(axis=0) for c in corners]), np.array([c.max(axis=0) for c in corners])
        for i, part in enumerate(one.moved(turn(*at[3:]), at[:3]) for one in parts):
            near: Flags = np.asarray(((part.low <= high) & (part.high >= low)).all(axis=1))
            near[names.index("slope's edge")] = False
            for k in np.flatnonzero(near).tolist():
                key = (k, row if k >= len(names) - 4 else 0)
                if key not in made:
                    made[key] = sampled(np.clip(corners[k], -20.0, 20.0), COARSE_M)
                solid = made[key]
                if share_a_point(part, solid):
                    assert found.touches[row, i, k], (at, scene.load.names[i], names[k])
                    seen += 1
    assert seen > POSES


def test_outlines_and_closed_form_give_the_same_verdict(thousand: Thousand) -> None:
    scene, poses, booms, found = thousand
    names = touch_names(scene)
    for row, (at, booms_at) in enumerate(zip(poses, booms, strict=True)):
        where, both = Pose(*at), (BoomPose(*booms_at[0]), BoomPose(*booms_at[1]))
        one = clearances(scene, where, both)
        gaps = np.array([part.gap_m for part in one.parts])
        np.testing.assert_allclose(found.gaps_m[row], gaps, rtol=0.0, atol=1e-9)
        np.testing.assert_allclose(found.booms_m[row], [boom.gap_m for boom in one.booms], rtol=0.0, atol=1e-9)
        np.testing.assert_allclose(found.boom_distances_m[row], [boom.distance_m for boom in one.booms], atol=1e-9)
        assert found.not_clear[row] == any(part.state == "not clear" for part in one.parts)
        touching = {(contact.part, contact.meets) for contact in contacts(scene, where, both)}
        assert touching == {(scene.load.names[i], names[k]) for i, k in np.argwhere(found.touches[row])}
    assert 0.2 < found.touching.mean() < 0.8 and 0.2 < found.not_clear.mean() < 0.8


def test_jacks_and_pads_measured_only_where_needed_are_those_of_the_whole_table(thousand: Thousand) -> None:
    """The tightest of four jacks or pads against every outline measured: the same room to the micrometre."""
    scene, poses, booms, _ = thousand
    rows = {name: row for row, name in enumerate(scene.names)}
    kinds = [("nose unit", "jack"), ("tail unit", "jack"), ("nose unit", "pad"), ("tail unit", "pad")]
    groups = [[row for name, row in rows.items() if name.startswith(a) and name.endswith(b)] for a, b in kinds]
    for at, booms_at in zip(poses[::5], booms[::5], strict=True):
        both = (BoomPose(*booms_at[0]), BoomPose(*booms_at[1]))
        placed = place(scene, at, booms_at)
        off = shapely.distance(plan_outlines(placed).now[:, None], scene.outlines)
        over = placed.low_m[:, 2, None] - scene.highs_m[:, 2]
        room = np.maximum(np.maximum(off, over), scene.lows_m[:, 2] - placed.high_m[:, 2, None])
        for one, group in zip(clearances(scene, Pose(*at), both).passing[4:], groups, strict=True):
            part, thing = scene.load.names.index(one.part), rows[one.meets]
            assert thing in group and room[part, thing] == pytest.approx(room[:, group].min(), abs=1e-6)
            assert one.distance_m == pytest.approx(off[part, thing], abs=1e-6)


def test_deep_contacts_are_seen_by_samples_too(thousand: Thousand) -> None:
    """The other way round: what is called more than 5 cm deep is no false alarm."""
    scene, poses, booms, _ = thousand
    parts, names = sampled_parts(scene, COARSE_M, COARSE_M), touch_names(scene)
    seen = 0
    for at, booms_at in zip(poses[:100], booms[:100], strict=True):
        both = (BoomPose(*booms_at[0]), BoomPose(*booms_at[1]))
        placed = place(scene, at, booms_at)
        moved = dict(zip(scene.load.names, (part.moved(turn(*at[3:]), at[:3]) for part in parts), strict=True))
        solids = [*scene.box_solids.corners, *scene.rounds.corners, *placed.tails.corners, *placed.booms.corners]
        for contact in contacts(scene, Pose(*at), both):
            corners = solids[names.index(contact.meets)]
            if contact.deep_m > 0.05:
                solid = sampled(np.clip(corners, -20.0, 20.0), COARSE_M)
                assert share_a_point(moved[contact.part], solid), (at, contact)
                seen += 1
    assert seen > 100


def test_the_poses_are_turned_every_way(thousand: Thousand) -> None:
    angles = thousand.poses[:, 3:]
    assert (angles.min(axis=0) < -pi / 15).all() and (angles.max(axis=0) > pi / 15).all()
