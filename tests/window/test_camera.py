"""The side view's camera: where meters fall, which scale is chosen, and how it changes."""

import pytest

from simulator.window.kit.regions import SCENE
from simulator.window.scene.camera import (
    EASE_S,
    LEAST_SCALE,
    MOST_SCALE,
    SCALE_BAND,
    TIP_BELOW_TOP,
    Camera,
    rose_radius,
    wanted_scale,
)

ROOM = SCENE.h - TIP_BELOW_TOP


def at(tip_z_m: float, lowest_z_m: float, *, sign: float = 1.0, reduced_motion: bool = False) -> Camera:
    camera = Camera(sign=sign, reduced_motion=reduced_motion)
    camera.go_on(0.0, tip_z_m, lowest_z_m)
    return camera


def test_scale_shows_one_meter_under_the_load() -> None:
    tip, lowest = 9.3, -12.0
    assert wanted_scale(tip, lowest) == pytest.approx(ROOM / (tip - lowest + 1.0))


def test_scale_stays_between_its_ends() -> None:
    assert wanted_scale(9.3, 5.0) == MOST_SCALE
    assert wanted_scale(20.0, 5.0) == pytest.approx(ROOM / 24.0), "road - 4 m governs when the load is up"
    assert wanted_scale(9.3, -80.0) == LEAST_SCALE


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_tips_stand_at_their_fixed_height_and_back_again(sign: float) -> None:
    camera = at(9.3, -12.0, sign=sign)
    x, y = camera.to_scene(-5.0, 9.3)
    assert y == pytest.approx(SCENE.y + TIP_BELOW_TOP)
    assert (x < SCENE.x + SCENE.w / 2) == (sign > 0), "nose on its side"
    assert camera.to_world(x, y) == pytest.approx((-5.0, 9.3))


def test_load_is_inside_the_scene() -> None:
    camera = at(9.3, -12.0)
    assert camera.to_scene(0.0, -13.0)[1] == pytest.approx(SCENE.foot)


def test_small_changes_do_not_move_the_view() -> None:
    camera = at(9.3, -12.0)
    before = camera.view
    depth = 9.3 + 13.0
    within = depth / (1.0 + 0.9 * SCALE_BAND) - 10.3
    for _ in range(100):
        camera.go_on(0.1, 9.3, -within)
    assert camera.view == before


def test_larger_changes_ease_and_arrive() -> None:
    camera = at(9.3, -12.0)
    start = camera.scale
    seen = [camera.go_on(EASE_S / 20, 9.3, -4.0).scale for _ in range(20)]
    target = wanted_scale(9.3, -4.0)
    assert seen == sorted(seen)
    assert start < seen[0] < target
    assert seen[9] == pytest.approx((start + target) / 2), "half way at half time"
    assert seen[-1] == target
    assert not camera.is_easing


def test_reduced_motion_jumps() -> None:
    camera = at(9.3, -12.0, reduced_motion=True)
    assert camera.go_on(0.001, 9.3, -4.0).scale == wanted_scale(9.3, -4.0)


def test_zoom_by_hand_holds_until_automatic() -> None:
    camera = at(9.3, -12.0)
    own = camera.scale
    camera.zoom(-1)
    camera.go_on(EASE_S, 9.3, -12.0)
    assert camera.scale == pytest.approx(own / 1.15)
    camera.go_on(EASE_S, 9.3, 0.0)
    assert camera.scale == pytest.approx(own / 1.15), "the load's height no longer matters"
    camera.automatic()
    camera.go_on(EASE_S, 9.3, -12.0)
    assert camera.scale == pytest.approx(own)


def test_rose_shrinks_between_its_two_scales() -> None:
    assert rose_radius(32.0) == 112.0
    assert rose_radius(21.0) == 112.0
    assert rose_radius(18.5) == pytest.approx((112.0 + 84.0) / 2)
    assert rose_radius(16.0) == rose_radius(12.0) == 84.0
