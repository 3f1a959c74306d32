"""Moving things kept as pictures: what is shown is what would be drawn, and nothing grows over a long lift."""

from __future__ import annotations

from math import cos, pi, radians, sin

import pygame
import pytest

from simulator.readings import Readings
from simulator.window.hands.bindings import Labels
from simulator.window.kit import icons, shapes
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.lettering import shared_lettering
from simulator.window.kit.regions import SCENE, screen_sign
from simulator.window.kit.seen import SEEN_BY_TWO
from simulator.window.readouts import gap_blocks, outrigger_board, rose
from simulator.window.readouts.coach_words import at_rest
from simulator.window.readouts.readouts import Readouts
from simulator.window.scene import shells_and_wheels, side_view
from simulator.window.scene.camera import Camera
from simulator.window.scene.kept_pictures import COARSE_PX, FINE_PX, Picture, PictureShape, Wish, bring_up_to_date
from simulator.window.scene.side_view import SideView
from simulator.window.screens.lift_picture import LiftPicture
from tests.window.sample import calm_readings, sample_description

pytestmark = pytest.mark.long

SIZE = (960, 540)


def shape(x: float = 100.0, y: float = 100.0, *, width: float = 40.0) -> PictureShape:
    """A level bar from its anchor."""
    return PictureShape((x, y), ((0.0, 0.0), (width, 0.0)), 4.0)


class Bars:
    """Bars that count how often they were drawn."""

    def __init__(self, count: int) -> None:
        self.canvas = Canvas(pygame.Surface(SIZE), f=1.0, origin_px=(0, 0))
        self.pictures = [Picture() for _ in range(count)]
        self.drawn = [0] * count

    def follow(self, *shapes_now: PictureShape) -> None:
        def draw(n: int, layer: Canvas) -> None:
            self.drawn[n] += 1
            layer.rect(*shapes_now[n].anchor, shapes_now[n].points[1][0], 3.0, (200, 0, 0))

        rows = zip(self.pictures, shapes_now, strict=True)
        wishes = [Wish(one, now, lambda layer, n=n: draw(n, layer)) for n, (one, now) in enumerate(rows)]
        bring_up_to_date(self.canvas, wishes)


def test_a_moved_thing_is_laid_elsewhere_and_not_drawn_again() -> None:
    bars = Bars(1)
    bars.follow(shape())
    bars.follow(shape(250.0, 180.4))
    bars.canvas.clear((0, 0, 0))
    bars.pictures[0].show(bars.canvas, (250.0, 180.4))
    assert bars.drawn == [1]
    red = pygame.mask.from_threshold(bars.canvas.surface, (200, 0, 0), (3, 3, 3, 255)).get_bounding_rects()[0]
    assert red == pygame.Rect(250, 180, 40, 3)


@pytest.mark.parametrize(("by_px", "times"), [(FINE_PX * 0.9, 1), (FINE_PX * 1.1, 2), (COARSE_PX * 2, 2)])
def test_a_changed_shape_is_drawn_again_when_it_shows(by_px: float, times: int) -> None:
    bars = Bars(1)
    bars.follow(shape())
    bars.follow(shape(width=40.0 + by_px))
    assert bars.drawn == [times]


def test_little_changes_wait_their_turn_and_every_one_has_its_turn() -> None:
    bars = Bars(3)
    bars.follow(*(shape(y=50.0 * n) for n in range(3)))
    wider = [shape(y=50.0 * n, width=41.0 + 0.1 * n) for n in range(3)]
    for turn in range(3):
        bars.follow(*wider)
        assert sum(bars.drawn) == 3 + turn + 1
    assert bars.drawn == [2, 2, 2]


def test_two_at_most_are_drawn_in_a_frame_once_all_are_known() -> None:
    bars = Bars(4)
    bars.follow(*(shape(y=50.0 * n) for n in range(4)))
    bars.follow(*(shape(y=50.0 * n, width=80.0) for n in range(4)))
    assert sum(bars.drawn) == 6


def moving(frame: int) -> Readings:
    """A lift that rises, sways, pitches and slews, by hand."""
    t = frame / 60.0
    calm = calm_readings(height_m=-6.0 + 0.1 * t, y_m=-6.0 + 0.05 * t, tip_z_m=10.0)
    sway = 0.3 * sin(2 * pi * t / 5.0)
    load = calm.load._replace(x_m=sway, pitch_rad=radians(2.0 * sin(t / 3.0)), sway_m=0.3)
    nose, tail = (
        unit._replace(
            hook_x_m=unit.hook_x_m + sway,
            off_plumb_along_rad=sway / 12.0,
            off_plumb_across_rad=0.01 * cos(t),
            mean_off_plumb_rad=radians(0.5 + 0.4 * sin(t / 2.0)),
            line_load_N=unit.line_load_N * (1.0 + 0.05 * sin(t)),
            slew_rad=unit.slew_rad + 0.01 * t,
        )
        for unit in calm.units
    )
    gaps = tuple(row._replace(gap_m=row.gap_m + 0.01 * t) for row in calm.gaps)
    return calm.with_unit(0, nose).with_unit(1, tail)._replace(step=4 * frame, time_s=t, load=load, gaps=gaps)


def test_the_kept_scene_is_the_drawn_scene(screen: pygame.Surface) -> None:
    """After two seconds of motion the kept picture differs from a fresh one only along edges, by less than a pixel."""
    description = sample_description()
    kept, canvas = SideView(description), Canvas(pygame.Surface(SIZE))
    camera = Camera(sign=screen_sign(description))
    for frame in range(120):
        camera.follow(1 / 60, moving(frame))
        kept.draw(canvas, camera, moving(frame))
    fresh = Canvas(pygame.Surface(SIZE))
    SideView(description).draw(fresh, camera, moving(119))
    far = pygame.mask.from_threshold(canvas.surface, (0, 0, 0), (90, 90, 90, 255), fresh.surface)
    area = canvas.rect_px(*SCENE)
    off = area.w * area.h - pygame.mask.Mask(area.size, fill=True).overlap_area(far, (-area.x, -area.y))
    assert off < 0.004 * area.w * area.h
    moved = Canvas(pygame.Surface(SIZE))
    SideView(description).draw(moved, camera, moving(0))
    far = pygame.mask.from_threshold(canvas.surface, (0, 0, 0), (90, 90, 90, 255), moved.surface)
    stale = area.w * area.h - pygame.mask.Mask(area.size, fill=True).overlap_area(far, (-area.x, -area.y))
    assert stale > 3 * off + 200, "the same count finds a picture of two seconds ago"


def test_no_cache_outgrows_its_bound_in_a_thousand_frames(screen: pygame.Surface) -> None:
    description = sample_description()
    canvas = Canvas(pygame.Surface((640, 360)))
    camera = Camera(sign=screen_sign(description))
    readouts = Readouts(description, moving(0), "metric")
    readouts.follow(moving(0), 0.0, at_rest(SEEN_BY_TWO))
    picture = LiftPicture(description, canvas, "metric")
    camera.follow(0.0, moving(0))
    picture.draw_all(canvas, camera, moving(0), readouts, Labels())
    for frame in range(1000):
        now = moving(3 * frame)
        camera.follow(1 / 60, now)
        is_new = readouts.follow(now, 1 / 60, at_rest(SEEN_BY_TWO)._replace(moving=(True, True)))
        picture.draw(canvas, camera, now, readouts, Labels(), is_new=is_new)
    lettering = shared_lettering()
    kept = (
        lettering.drawn, lettering.width, lettering.font, lettering.cell, shapes.disc_stamp, shapes.corner_stamp,
        shapes.spread, icons.stamp, rose.rose_face, outrigger_board.loose_tile, gap_blocks.bead_stamp,
        side_view.block_stamp, shells_and_wheels._rows,
    )  # fmt: skip
    for cache in kept:
        info = cache.cache_info()
        assert info.maxsize and info.currsize <= info.maxsize, cache
    # What is kept by place or by shape must not depend on how long the lift goes on.
    for cache in (shapes.disc_stamp, gap_blocks.bead_stamp, side_view.block_stamp, rose.rose_face, icons.stamp):
        assert cache.cache_info().currsize < 0.8 * (cache.cache_info().maxsize or 0), cache
