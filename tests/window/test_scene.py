"""Side view and insets: what is where, what is nearer, what is kept between frames."""

from dataclasses import replace
from math import cos, radians, sin

import numpy as np
import pygame
import pytest

from simulator.mechanics.trailer_body import lying, stated_cg_m
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import LEFT, RIGHT, SKY
from simulator.window.kit.regions import PLAN_INSET, SCENE, SECTION_INSET, screen_sign
from simulator.window.scene.camera import Camera
from simulator.window.scene.insets import Insets
from simulator.window.scene.load_view import Poser, bodies_of, items_of
from simulator.window.scene.shells_and_wheels import on_shell, showing
from simulator.window.scene.side_view import SideView, ruler_marks
from simulator.window.scene.solids import PLAN_VIEW, SECTION_VIEW, SIDE_VIEW, Builder, Paint, placed
from simulator.window.scene.trailer_shape import bounds, shell, trailer_shape, wheels
from simulator.window.scene.trucks import section_ends
from tests.window.sample import (
    calm_readings,
    caution_readings,
    sample_description,
    sample_trailer,
    sample_unit,
    stop_readings,
)

ATTITUDES = ("on_wheels", "top_to_ravine", "top_to_road")


def canvas_of(size: tuple[int, int] = (960, 540)) -> Canvas:
    pygame.font.init()
    return Canvas(pygame.Surface(size))


def camera_for(description: Description, readings: Readings) -> Camera:
    camera = Camera(sign=screen_sign(description))
    camera.follow(0.0, readings)
    return camera


def shown(canvas: Canvas, color: tuple[int, int, int]) -> pygame.Rect:
    """Where the scene shows a color."""
    rects = pygame.mask.from_threshold(canvas.surface, color, (3, 3, 3, 255)).get_bounding_rects()
    return rects[0].unionall(rects[1:]) if rects else pygame.Rect(0, 0, 0, 0)


@pytest.mark.parametrize("nose_seen", ["left", "right"])
def test_units_stand_on_their_sides_of_the_picture(nose_seen: str) -> None:
    description = sample_description(nose_seen=nose_seen)  # type: ignore[arg-type]
    readings, canvas = calm_readings(), canvas_of()
    SideView(description).draw(canvas, camera_for(description, readings), readings)
    left, right = shown(canvas, LEFT.main), shown(canvas, RIGHT.main)
    assert left.w > 50 and right.w > 50
    assert left.right < canvas.surface.get_width() / 2 < right.left, "left is left in either picture"


def test_sheaves_on_screen_are_the_lines_upper_ends() -> None:
    description, readings = sample_description(nose_seen="right"), calm_readings()
    camera = camera_for(description, readings)
    sheaves = SideView(description).sheaves_on_screen(camera, readings)
    for (x, y), line in zip(sheaves, readings.lines, strict=True):
        assert x == pytest.approx(SCENE.x + SCENE.w / 2 - line.tip_x_m * camera.scale)
        assert camera.to_world(x, y) == pytest.approx((line.tip_x_m, line.tip_z_m))


def test_drawing_stays_inside_the_scene() -> None:
    description, canvas = sample_description(), canvas_of()
    canvas.clear((1, 2, 3))
    for readings in (calm_readings(), caution_readings(), stop_readings(), calm_readings(y_m=6.0, height_m=0.2)):
        SideView(description).draw(canvas, camera_for(description, readings), readings)
    inside = canvas.rect_px(*SCENE)
    outside = pygame.mask.from_threshold(canvas.surface, (1, 2, 3), (1, 1, 1, 255))
    assert outside.count() == canvas.surface.get_width() * canvas.surface.get_height() - inside.w * inside.h


def test_still_ground_is_drawn_once_for_a_view() -> None:
    description, readings, canvas = sample_description(), calm_readings(), canvas_of()
    camera, view = camera_for(description, readings), SideView(description)
    view.draw(canvas, camera, readings)
    kept = view._still
    moved = readings._replace(load=readings.load._replace(pitch_rad=0.05))
    view.draw(canvas, camera, moved)
    assert view._still is kept
    camera.zoom(1)
    camera.follow(1.0, readings)
    view.draw(canvas, camera, readings)
    assert view._still is not kept


def test_a_load_on_the_road_side_is_behind_the_trucks() -> None:
    """Over the tail unit's carrier: the load hides it from the ravine side, and is hidden from the road side."""
    description, canvas = sample_description(), canvas_of()
    seen = []
    for y_m in (-6.0, 6.0):
        readings = calm_readings(y_m=y_m, height_m=0.4)
        load = readings.load._replace(x_m=description.units[1].slew_axis_x_m + 2.0)
        SideView(description).draw(canvas, camera_for(description, readings), readings._replace(load=load))
        seen.append(pygame.mask.from_threshold(canvas.surface, RIGHT.main, (3, 3, 3, 255)).count())
    assert seen[0] < seen[1] - 500


@pytest.mark.parametrize("attitude", ATTITUDES)
def test_pose_turns_own_axes_as_the_model_says(attitude: str) -> None:
    """R = Rz(yaw) Ry(pitch) Rx(roll) of the lying axes, about the stated CG, each factor written out here."""
    trailer = replace(sample_trailer(), attitude=attitude)  # type: ignore[arg-type]
    p, w, q = 0.11, -0.23, 0.31
    load = calm_readings().load._replace(x_m=1.0, y_m=-7.0, z_m=2.5, pitch_rad=p, yaw_rad=w, roll_rad=q)
    about_z = np.array(((cos(w), -sin(w), 0), (sin(w), cos(w), 0), (0, 0, 1)))
    about_y = np.array(((cos(p), 0, sin(p)), (0, 1, 0), (-sin(p), 0, cos(p))))
    about_x = np.array(((1, 0, 0), (0, cos(q), -sin(q)), (0, sin(q), cos(q))))
    point = (6.0, 0.7, 3.1)
    from_cg = lying(attitude, tuple(a - b for a, b in zip(point, stated_cg_m(trailer), strict=True)))  # type: ignore[arg-type]
    expected = np.array((1.0, -7.0, 2.5)) + about_z @ about_y @ about_x @ np.array(from_cg)
    assert Poser(trailer).pose(load).world(point) == pytest.approx(tuple(expected))


def test_nose_up_is_up_on_the_screen() -> None:
    description, readings = sample_description(), calm_readings()
    view, camera = SideView(description), camera_for(description, readings)
    up = readings.load._replace(pitch_rad=radians(5.0))
    place = view.load.place(canvas_of((1920, 1080)), camera, up)
    nose, tail = place.spots(np.array(((-7.0, 0.0, 2.0), (7.0, 0.0, 2.0))))
    assert nose[0] < tail[0]
    assert tail[1] - nose[1] == pytest.approx(14.0 * sin(radians(5.0)) * camera.scale)


@pytest.mark.parametrize(
    ("attitude", "part"), [("top_to_ravine", "top"), ("top_to_road", "wheels"), ("on_wheels", "side")]
)
def test_which_side_of_the_trailer_shows(attitude: str, part: str) -> None:
    """Top to the ravine shows its top to the viewer, top to the road its wheels, on its wheels its ravine side."""
    trailer = replace(sample_trailer(), attitude=attitude)  # type: ignore[arg-type]
    readings = calm_readings()
    pose = Poser(trailer).pose(readings.load)
    top, foot, side = pose.world((0.0, 0.0, 4.0)), pose.world((0.0, 0.0, 0.0)), pose.world((0.0, -1.2, 2.0))
    nearest = min((top[1], "top"), (foot[1], "wheels"), (side[1], "side"))
    assert nearest[1] == part


@pytest.mark.parametrize("roll_deg", [0.0, 4.0, -7.0])
@pytest.mark.parametrize("attitude", ATTITUDES)
def test_the_shell_shows_the_half_that_looks_at_the_viewer(attitude: str, roll_deg: float) -> None:
    trailer = replace(sample_trailer(), attitude=attitude)  # type: ignore[arg-type]
    tank = next(part for part in trailer.parts if part.drawn_as == "tank")
    section = shell(tank).stations[4]
    load = calm_readings().load._replace(roll_rad=radians(roll_deg))
    place = placed(canvas_of(), SIDE_VIEW, Poser(trailer).pose(load).matrix, (960.0, 540.0), 20.0)
    lit = showing(section, place)
    upper, middle, lower = place.spots(np.array([on_shell(section, lit, share) for share in (0.0, 0.5, 1.0)]))
    axis = place.spots(np.array([(section.x_m, section.y_m, section.z_m)]))[0]
    assert upper[1] < axis[1] < lower[1], "from its upper edge to its lower"
    assert middle[2] < axis[2], "by way of the side toward the viewer"
    ring = place.spots(np.array([on_shell(section, lit, n / 60) for n in range(61)]))
    assert upper[1] == pytest.approx(min(spot[1] for spot in ring), abs=1e-6), "the silhouette"


@pytest.mark.parametrize("attitude", ATTITUDES)
def test_what_is_left_out_is_hidden(attitude: str) -> None:
    """What is taken as hidden lies further off, and inside the body's silhouette, an ellipse, at that roll."""
    trailer = replace(sample_trailer(), attitude=attitude)  # type: ignore[arg-type]
    body = bodies_of(trailer)[0]
    _, half_y, half_z = ((high - low) / 2.0 for low, high in zip(body.low_m, body.high_m, strict=True))
    items, hidden = items_of(trailer_shape(trailer), trailer), 0
    for roll in (-0.2, -0.05, 0.0, 0.05, 0.2):
        reach = ((half_z * cos(roll)) ** 2 + (half_y * sin(roll)) ** 2) ** 0.5
        for item in items:
            if item.is_behind(body, 0.0, roll):
                hidden += 1
                assert item.middle_m[1] > body.middle_m[1]
                heights = [
                    (z - body.middle_m[2]) * cos(roll) + (y - body.middle_m[1]) * sin(roll)
                    for y in (item.low_m[1], item.high_m[1])
                    for z in (item.low_m[2], item.high_m[2])
                ]
                assert max(map(abs, heights)) < reach + 0.12
    assert hidden > 0 or attitude == "on_wheels"


def test_wheels_fill_their_part() -> None:
    part = next(part for part in sample_trailer().parts if part.drawn_as == "wheels")
    b, rows = bounds(part), wheels(part)
    assert min(w.middle_m[0] - w.radius_m for w in rows) == pytest.approx(b.x0)
    assert max(w.middle_m[0] + w.radius_m for w in rows) == pytest.approx(b.x1)
    assert min(w.middle_m[2] - w.radius_m for w in rows) == pytest.approx(b.z0)
    assert {round(abs(w.middle_m[1]) + w.half_width_m, 6) for w in rows} == {part.width_m / 2}


@pytest.mark.parametrize("length_m", [6.7, 9.3, 14.5])
def test_boom_sections_end_at_the_tip_in_order(length_m: float) -> None:
    ends = section_ends(sample_unit(0), length_m)
    assert ends[-1] == length_m
    assert ends == sorted(ends)
    assert ends[0] < 6.7


def test_only_faces_toward_the_viewer_show() -> None:
    builder = Builder()
    gray = (9, 9, 9)
    builder.box((-1.0, -1.0, -1.0), (1.0, 1.0, 1.0), Paint(gray, gray, gray, gray))
    cube = builder.build()
    for view in (SIDE_VIEW, SECTION_VIEW, PLAN_VIEW):
        toward = [tuple(n) for n in cube.normals if (view @ n)[2] < -0.02]
        assert len(toward) == 1
        assert toward[0] == pytest.approx(tuple(-view[2]))


def test_views_stand_upright() -> None:
    """Side and section keep up as up; the plan has the road (+y) at its top, the section on its left."""
    assert (SIDE_VIEW @ (0, 0, 1)).tolist() == [0, 1, 0]
    assert (SECTION_VIEW @ (0, 0, 1)).tolist() == [0, 1, 0]
    assert (PLAN_VIEW @ (0, 1, 0)).tolist() == [0, 1, 0]
    assert (SECTION_VIEW @ (0, 1, 0)).tolist() == [-1, 0, 0]


def test_lean_is_marked_from_caution_on() -> None:
    description, readings, canvas = sample_description(), stop_readings(), canvas_of((1920, 1080))
    tail = readings.tail._replace(tip_x_m=readings.tail.hook_x_m - 0.9)
    leaning = readings.with_unit(1, tail)
    camera, view = camera_for(description, leaning), SideView(description)
    x, y = camera.to_scene(tail.hook_x_m - 0.35, tail.hook_z_m + 1.5)
    seen = []
    for level in (Level.GOOD, Level.CAUTION, Level.STOP):
        view.draw(canvas, camera, leaning, levels=(Level.GOOD, level))
        seen.append(canvas.surface.get_at((round(x), round(y)))[:3])
    assert len(set(seen)) == 3


def test_ruler_names_the_road_and_every_fifth_meter() -> None:
    description, readings = sample_description(), stop_readings()
    camera = camera_for(description, readings)
    rows = {word: y for y, word in ruler_marks(camera) if word}
    assert rows["road"] == pytest.approx(camera.to_scene(0.0, 0.0)[1])
    assert rows["+5"] == pytest.approx(camera.to_scene(0.0, 5.0)[1])
    assert rows["\N{MINUS SIGN}5"] == pytest.approx(camera.to_scene(0.0, -5.0)[1])
    feet = [y for y, word in ruler_marks(camera, "us") if word]
    assert feet[0] - feet[1] == pytest.approx(10 * 0.3048 * camera.scale), "ten feet from word to word"


@pytest.mark.parametrize("readings", [calm_readings(), stop_readings(), calm_readings(y_m=6.0, height_m=0.2)])
def test_insets_keep_to_their_regions(readings: Readings) -> None:
    description, canvas = sample_description(), canvas_of()
    canvas.clear((1, 2, 3))
    insets = Insets(description)
    insets.draw_section(canvas, readings)
    insets.draw_plan(canvas, readings)
    covered = sum(r.w * r.h for r in (canvas.rect_px(*SECTION_INSET), canvas.rect_px(*PLAN_INSET)))
    left_alone = pygame.mask.from_threshold(canvas.surface, (1, 2, 3), (1, 1, 1, 255)).count()
    assert left_alone == canvas.surface.get_width() * canvas.surface.get_height() - covered


def test_inset_places_agree_with_the_world() -> None:
    insets = Insets(sample_description())
    road, ravine = insets.section.at(5.0, 0.0), insets.section.at(-8.0, -8.0)
    assert road[0] < ravine[0] and road[1] < ravine[1]
    assert ravine[0] - road[0] == pytest.approx(13.0 * insets.section.framing.scale)
    high, low = insets.plan.at(0.0, 5.0), insets.plan.at(0.0, -8.0)
    assert low[1] - high[1] == pytest.approx(13.0 * insets.plan.scale)
    mirrored = Insets(sample_description(nose_seen="right"))
    assert mirrored.plan.at(-5.0, 0.0)[0] > mirrored.plan.at(5.0, 0.0)[0]


def test_inset_figures_wait_their_turn_and_mark_the_lane() -> None:
    insets, readings = Insets(sample_description()), calm_readings()
    insets.figures.follow(readings)
    assert insets.figures.to_ground.value.joined == "7.9 m"
    near = readings._replace(load=readings.load._replace(lane_room_m=1.5, height_over_bed_m=3.2))
    insets.figures.follow(near._replace(time_s=readings.time_s + 0.05))
    assert insets.figures.to_ground.value.text == "7.9", "too soon"
    insets.figures.follow(near._replace(time_s=readings.time_s + 0.11))
    assert insets.figures.to_ground.value.text == "3.2"
    assert insets.figures.to_lane.level is Level.CAUTION
    insets.figures.follow(readings._replace(time_s=0.0))
    assert insets.figures.to_lane.level is Level.GOOD, "set back in time, as in a replay"


def test_sky_is_above_the_road() -> None:
    description, readings, canvas = sample_description(), calm_readings(), canvas_of()
    camera = camera_for(description, readings)
    SideView(description).draw(canvas, camera, readings)
    sky = shown(canvas, SKY)
    assert sky.bottom <= canvas.to_px(*camera.to_scene(0.0, 0.0))[1]
