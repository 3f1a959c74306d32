"""Gap to the ground straight below: bed, slope's edge, and a hump in the bed, against hand figures and a fine grid."""

from dataclasses import replace
from math import cos, radians, tan

import numpy as np
import pytest

from simulator.mechanics.clearance_ground import ground_gap, part_ground_gaps
from simulator.mechanics.clearance_scene import Pose, Scene, place, prepare_scene
from simulator.mechanics.ground import ground, height_m
from simulator.scenario.trailer import Part
from tests.mechanics.sampled import envelope, sampled
from tests.mechanics.scene import SITE, STATIONS, description, pose, trailer

BOX = (Part("box", ((-7.3, 0.0), (7.3, 0.0), (7.3, 2.6), (-7.3, 2.6)), 4.0, 1e3),)
MM = 1e-3
BOOMS = np.array(STATIONS["on the bed"][1:])


def boxed(**changes: object) -> Scene:
    return prepare_scene(description(load=trailer(on_wheels=True, parts=BOX), site=replace(SITE, **changes)))  # type: ignore[arg-type]


def at(scene: Scene, y_m: float, belly_m: float, **angles: float) -> Pose:
    load = scene.description.trailer
    return pose(load, belly_m=belly_m, middle_y_m=y_m)._replace(**angles)


def test_level_over_the_bed() -> None:
    scene = boxed()
    found = ground_gap(scene, place(scene, np.array(at(scene, -9.0, -11.2)), BOOMS))
    assert found.gap_m == pytest.approx(0.8, abs=MM)
    assert (found.part, found.meets) == ("box", "bed")


def test_rolled_over_the_slopes_edge_the_edge_is_nearest() -> None:
    """Reference point straight over y = -4.65: the lower face there stands half the depth over cos(roll) below it."""
    scene, q = boxed(), radians(10.0)
    z, low = 2.0, -scene.load.solids.corners[..., 2].min()
    found = ground_gap(scene, place(scene, np.array(Pose(0.0, -4.65 + 1.0, z, 0.0, 0.0, q)), BOOMS))
    assert found.y_m == pytest.approx(-4.65, abs=MM)
    assert found.gap_m == pytest.approx(z - 1.0 * tan(q) - low / cos(q), abs=MM)


def test_rolled_over_the_road_its_low_side_is_nearest() -> None:
    scene = boxed()
    found = ground_gap(scene, place(scene, np.array(at(scene, 4.0, 1.0, roll_rad=radians(-3.0))), BOOMS))
    assert found.meets == "road" and found.y_m > 4.0 + 1.8


def test_a_hump_in_the_bed_is_met_in_the_middle_of_a_face() -> None:
    """The hump's crest lies under the belly, away from every corner and edge of a level box."""
    scene = boxed(bed_m=((-20.0, 0.0), (1.0, 0.7), (20.0, 0.0)))
    found = ground_gap(scene, place(scene, np.array(at(scene, -9.0, -11.0)), BOOMS))
    assert found.gap_m == pytest.approx(1.0 - 0.7, abs=MM)
    assert found.x_m == pytest.approx(1.0, abs=MM)


def test_random_poses_against_a_fine_grid() -> None:
    """The lower envelope less the ground's own height function, every 4 cm: never below the gap, within 30 mm of it."""
    scene = boxed(
        section_m=((14.0, 0.0), (-4.0, 0.0), (-9.0, -4.0), (-11.0, -5.0), (-14.0, -4.4), (-40.0, -9.0)),
        edge_y_m=-4.0,
        bed_m=((-30.0, 0.0), (-2.0, 0.6), (3.0, -0.3), (30.0, 0.2)),
    )
    surface, body = ground(scene.description.site), sampled(scene.load.solids.corners[0], 1.0)
    rng = np.random.default_rng(3)
    for _ in range(20):
        # Kept off the strip between the edge and the first point that carries the bed, where the ground is no plane.
        where = Pose(rng.uniform(-1, 1), rng.uniform(-20.0, -12.0), 0.0, *rng.uniform(-0.15, 0.15, 3))
        placed = place(scene, np.array(where), BOOMS)
        turned = body.moved(placed.back.T, np.array(where[:3]))
        x, y = (np.arange(turned.low[i], turned.high[i], 0.04) for i in (0, 1))
        xy = np.array([(a, b) for a in x for b in y])
        low, high = envelope(turned, xy)
        over = low <= high
        slow = min(z - height_m(surface, *place_) for z, place_ in zip(low[over], xy[over].tolist(), strict=True))
        gap = float(part_ground_gaps(scene, placed)[0][0])
        assert -1e-9 <= slow - gap <= 0.03
