"""Gap to the ground straight below: bed, slope's edge, and a hump in the bed, against hand figures and a fine grid."""

from dataclasses import replace
from math import cos, radians, tan

import numpy as np
import pytest

from simulator.mechanics.clearance.ground_gaps import ground_gap
from simulator.mechanics.clearance.place import place
from simulator.mechanics.clearance.scene import Pose, Scene, prepare_scene
from simulator.mechanics.ground import Ground, ground, height_m
from simulator.scenario.trailer import Part
from tests.mechanics.sampled import Array, Sampled, envelope, sampled
from tests.mechanics.scene import SITE, STATIONS, description, pose, trailer

BOX = (Part("box", ((-7.3, 0.0), (7.3, 0.0), (7.3, 2.6), (-7.3, 2.6)), 4.0, 1e3),)
MM = 1e-3
BOOMS = STATIONS["on the bed"][1:]


def boxed(**changes: object) -> Scene:
    return prepare_scene(description(load=trailer(on_wheels=True, parts=BOX), site=replace(SITE, **changes)))  # type: ignore[arg-type]


def at(scene: Scene, y_m: float, belly_m: float, **angles: float) -> Pose:
    load = scene.description.trailer
    return pose(load, belly_m=belly_m, middle_y_m=y_m)._replace(**angles)


def test_level_over_the_bed() -> None:
    scene = boxed()
    found = ground_gap(scene, place(scene, at(scene, -9.0, -11.2), BOOMS))
    assert found.gap_m == pytest.approx(0.8, abs=MM)
    assert (found.part, found.meets) == ("box", "bed")


def test_rolled_over_the_slopes_edge_the_edge_is_nearest() -> None:
    """Reference point straight over y = -4.65: the lower face there stands half the depth over cos(roll) below it."""
    scene, q = boxed(), radians(10.0)
    z, low = 2.0, -scene.load.solids.corners[..., 2].min()
    found = ground_gap(scene, place(scene, Pose(0.0, -4.65 + 1.0, z, 0.0, 0.0, q), BOOMS))
    assert found.y_m == pytest.approx(-4.65, abs=MM)
    assert found.gap_m == pytest.approx(z - 1.0 * tan(q) - low / cos(q), abs=MM)


def test_rolled_over_the_road_its_low_side_is_nearest() -> None:
    scene = boxed()
    found = ground_gap(scene, place(scene, at(scene, 4.0, 1.0, roll_rad=radians(-3.0)), BOOMS))
    assert found.meets == "road" and found.y_m > 4.0 + 1.8


def test_a_hump_in_the_bed_is_met_in_the_middle_of_a_face() -> None:
    """The hump's crest lies under the belly, away from every corner and edge of a level box."""
    scene = boxed(bed_m=((-20.0, 0.0), (1.0, 0.7), (20.0, 0.0)))
    found = ground_gap(scene, place(scene, at(scene, -9.0, -11.0), BOOMS))
    assert found.gap_m == pytest.approx(1.0 - 0.7, abs=MM)
    assert found.x_m == pytest.approx(1.0, abs=MM)


def least_on_grid(surface: Ground, solid: Sampled, low: Array, high: Array, step_m: float) -> tuple[float, list[float]]:
    """Least height of a solid over the ground at places of a grid that it is over, and the place."""
    x, y = (np.arange(low[i], high[i], step_m) for i in (0, 1))
    xy = np.array([(a, b) for a in x for b in y])
    bottom, top = envelope(solid, xy)
    over = bottom <= top
    return min((z - height_m(surface, *at_), at_) for z, at_ in zip(bottom[over], xy[over].tolist(), strict=True))


def test_random_poses_against_a_fine_grid() -> None:
    """The lower envelope less the ground's own height function, every 15 cm and then every 1 cm round the least: never
    below the gap, within 10 mm of it."""
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
        placed = place(scene, where, BOOMS)
        turned = body.moved(placed.back.T, np.array(where[:3]))
        coarse, (x, y) = least_on_grid(surface, turned, turned.low[:2], turned.high[:2], 0.15)
        fine, _ = least_on_grid(surface, turned, np.array([x - 0.15, y - 0.15]), np.array([x + 0.15, y + 0.15]), 0.01)
        assert -1e-9 <= min(coarse, fine) - ground_gap(scene, placed).gap_m <= 0.01


def level_box(y_m: float, belly_m: float, *, site: Scene | None = None, **angles: float) -> float:
    scene = site or boxed()
    return ground_gap(scene, place(scene, at(scene, y_m, belly_m, **angles), BOOMS)).sides_m[0]


def test_beside_the_face_it_is_as_far_as_its_road_side_edge_is_from_the_edge_of_the_road() -> None:
    """A box 4 m wide and 2.6 m high; the face leans 0.65 m over 12 m, so it is nearest at the box's upper edge."""
    for belly in (-11.0, -8.0, -5.0):
        face_y = -5.3 + 0.65 * (belly + 2.6 + 12.0) / 12.0
        foot_y = -5.3 + 0.65 * (belly + 12.0) / 12.0
        side = -9.0 + 2.0
        assert level_box(-9.0, belly) == pytest.approx(min(face_y, foot_y) - side, abs=MM)


def test_half_over_the_road_it_is_measured_below_the_road_and_over_it_nothing_is_beside() -> None:
    assert level_box(-9.0, -1.0) == pytest.approx(-5.3 + 0.65 * 11.0 / 12.0 + 7.0, abs=MM)
    assert level_box(-9.0, 0.01) == np.inf


@pytest.mark.parametrize("roll", [8.0, -8.0])
def test_rolled_it_is_nearest_with_its_foot_or_where_its_side_goes_past_the_roads_edge(roll: float) -> None:
    """Against points every 5 mm along its edges, those not over the road."""
    scene, section = boxed(), np.array(SITE.section_m)[::-1]
    where = at(scene, -9.0, -1.0, roll_rad=radians(roll))
    placed = place(scene, where, BOOMS)
    points = sampled(scene.load.solids.corners[0], 0.005).moved(placed.back.T, np.array(where[:3])).points
    held = points[points[:, 2] <= 0.0]
    slow = min(np.interp(z, section[1:3, 1], section[1:3, 0]) - y for _, y, z in held)
    assert (held[:, 2].max() > -0.01) and -1e-9 <= slow - ground_gap(scene, placed).sides_m[0] <= 0.001
    if roll < 0.0:
        foot = placed.parts.corners[0][placed.parts.corners[0][:, 2].argmin()]
        assert np.interp(foot[2], section[1:3, 1], section[1:3, 0]) - foot[1] > slow + 0.05, "the road's edge decides"


def test_beside_a_hump_its_ridge_is_nearest() -> None:
    """The far bank has a crest at y = -14, 3 m over the bed; beside it the box's ravine-side face stands upright."""
    crest = ((14.0, 0.0), (-4.65, 0.0), (-5.3, -12.0), (-12.9, -12.0), (-14.0, -9.0), (-20.0, -12.0))
    scene = boxed(section_m=crest)
    found = ground_gap(scene, place(scene, at(scene, -9.0, -11.0), BOOMS)).sides_m[0]
    toe = -9.0 - 2.0 - (-12.9 - 1.1 * 1.0 / 3.0)
    road_side = -5.3 + 0.65 * 1.0 / 12.0 + 7.0
    assert found == pytest.approx(min(toe, road_side), abs=MM)
    assert level_box(-11.5, -10.0, site=scene) == pytest.approx(-11.5 - 2.0 + 12.9 + 1.1 * 2.0 / 3.0, abs=MM)
