"""Where things stand on the drive screen, and what is said there: each as an instructor saw it go wrong."""

from __future__ import annotations

from collections.abc import Callable

import pygame
import pytest

from simulator.mechanics.trailer_body import stated_cg_m
from simulator.window.kit import regions
from simulator.window.kit.canvas import Canvas, Spot
from simulator.window.kit.measures_shown import NONE, System
from simulator.window.kit.regions import SCENE, UNIT_PANELS, Region
from simulator.window.kit.seen import SEEN_BY_TWO
from simulator.window.readouts.alerts import Watched
from simulator.window.readouts.looks import panel_look, table_look
from simulator.window.readouts.overlay import rose_place
from simulator.window.readouts.panels import draw_unit_panel
from simulator.window.readouts.rose_tag import ABOVE_CENTER, HEADROOM
from simulator.window.readouts.stop_band import BAND_FOOT, TOP, SeatHears, StopLook, draw_stop_band
from simulator.window.scene.inset_section import SectionView
from simulator.window.scene.side_view import SideView, draw_ruler, ruler_marks
from simulator.words import say
from tests.window.sample import TONNE_N, calm_readings, sample_description, stop_readings
from tests.window.test_panels import GROUND, outside
from tests.window.test_scene import camera_for, canvas_of


@pytest.mark.parametrize("radius", [84.0, 98.0, 112.0])
@pytest.mark.parametrize("tip_y", [100.0, 264.0, 340.0])
def test_a_stop_order_covers_no_rose_and_no_tag(radius: float, tip_y: float) -> None:
    spots = [(860.0, tip_y), (1060.0, tip_y)]
    for side in (0, 1):
        middle = (spots[0][0] + spots[1][0]) / 2.0
        y = rose_place(side, spots[side], middle, radius, head=BAND_FOOT)[1]
        assert min(y - radius, y - ABOVE_CENTER - HEADROOM) >= BAND_FOOT
        assert y <= max(tip_y, BAND_FOOT + 140.0), "moved down only as far as the band needs"
    assert regions.COACH.foot <= TOP
    assert SCENE.y + 50.0 >= BAND_FOOT, "over the boom tips at 136, and so over the load"


def test_in_a_demonstration_the_stop_order_says_once_who_can_lift_it(screen: pygame.Surface, said: list[str]) -> None:
    seats = [SeatHears(unit, False, True, say(f"stop.{unit.where}_slow")) for unit in SEEN_BY_TWO.units]
    canvas = Canvas(pygame.Surface((1280, 720)))
    canvas.clear(GROUND)
    draw_stop_band(canvas, StopLook(tuple(seats)))
    assert said.count(say("stop.either")) == 1
    assert {say("stop.left_slow"), say("stop.right_slow")} <= set(said)
    band = Region(SCENE.x, TOP, SCENE.w, BAND_FOOT - TOP)
    assert not outside(canvas.surface, canvas.rect_px(*band).inflate(2, 4))


@pytest.mark.parametrize("system", ["metric", "us"])
def test_a_load_that_lies_has_no_sway_and_no_period(system: System) -> None:
    calm = calm_readings().load._replace(sway_m=0.14)
    hangs, lies = (table_look(calm._replace(ground_N=force_N), Watched(), system) for force_N in (0.0, 5e4))
    assert (lies.sway.value.text, lies.period.text) == (NONE, NONE)
    assert NONE not in (hangs.sway.value.text, hangs.period.text)
    assert lies.height == hangs.height and lies.pitch == hangs.pitch, "where it lies, and how"


@pytest.mark.parametrize("size", [(1920, 1080), (1366, 768), (1280, 720)])
@pytest.mark.parametrize(("tonnes", "share"), [(9.2, 1.0), (45.3, 1.0), (4.0, 0.5)])
def test_line_tension_and_share_keep_apart(
    screen: pygame.Surface, monkeypatch: pytest.MonkeyPatch, size: tuple[int, int], tonnes: float, share: float
) -> None:
    """Between the unit of the one and the first digit of the other there is room for a blank of the larger letters."""
    calm = calm_readings()
    now = calm.with_unit(0, calm.nose._replace(line_load_N=tonnes * TONNE_N, share=share))
    row = panel_look(now, SEEN_BY_TWO.units[0].unit, Watched(), "us", state="HOLD", is_moving=False)
    spans: list[tuple[float, float]] = []
    text, digits, canvas = Canvas.text, Canvas.digits, Canvas(pygame.Surface(size))

    def noting(draw: Callable) -> Callable:  # type: ignore[type-arg]
        def drawn(self: Canvas, one: str, x: float, y: float, *more: object, **how: object) -> float:
            width = draw(self, one, x, y, *more, **how)
            if y == 300.0 and one:
                spans.append((x, x + width))
            return float(width)

        return drawn

    monkeypatch.setattr(Canvas, "text", noting(text))
    monkeypatch.setattr(Canvas, "digits", noting(digits))
    draw_unit_panel(canvas, row, region=UNIT_PANELS[0], seen=SEEN_BY_TWO.units[0], marks=(0.85, 1.0))
    spans.sort()
    assert len(spans) == 4
    assert spans[2][0] - spans[1][1] >= 12.0


def test_the_word_road_stands_at_the_roads_level(monkeypatch: pytest.MonkeyPatch) -> None:
    camera, baselines = camera_for(sample_description(), stop_readings()), {}
    monkeypatch.setattr(Canvas, "text", lambda self, text, x, y, *rest, **more: baselines.setdefault(text, y))
    draw_ruler(canvas_of(), camera)
    ticks = {word: y for y, word in ruler_marks(camera) if word}
    apart = {word: baselines[word] - y for word, y in ticks.items()}
    assert apart["road"] == pytest.approx(apart["+5"]), "as much under its tick as every other word"


@pytest.mark.parametrize(("y_m", "over"), [(-5.0, "road"), (-9.0, "bed")])
def test_the_arrow_in_the_section_stands_where_the_load_is_nearest_to_the_ground(y_m: float, over: str) -> None:
    """A level trailer 2.5 m wide with its wheels at +2: one side over the road at 0, or all of it over the slope."""
    description, calm = sample_description(), calm_readings()
    view, height_m = SectionView(description), 2.0
    cg_m = stated_cg_m(description.trailer)[2]
    load = calm.load._replace(y_m=y_m, z_m=height_m + cg_m, pitch_rad=0.0, x_m=0.0)
    y, z = view.nearest_ground(load)
    assert z == pytest.approx(height_m)
    assert y == pytest.approx(y_m + 1.25), "the side toward the road is over the higher ground"
    gap_m = {"road": height_m, "bed": height_m - height_of_ground(y_m + 1.25)}[over]
    arrows: list[tuple[Spot, Spot]] = []
    canvas = canvas_of()
    canvas.arrow = lambda start, end, *rest, **more: arrows.append((start, end))  # type: ignore[method-assign]
    view.draw_moving(canvas, calm._replace(load=load._replace(height_over_bed_m=gap_m)))
    ((start, end),) = arrows
    assert start == pytest.approx(view.at(y, z)) and end[0] == start[0]
    assert (end[1] - start[1]) / view.framing.scale == pytest.approx(gap_m), "as long as the figure"


def height_of_ground(y_m: float) -> float:
    """The sample's slope between its corners (-6, -10) and (-12, -10.4)."""
    return -10.0 + 0.4 * (y_m + 6.0) / 6.0


def test_the_mark_of_a_bed_below_the_frame_says_what_it_is(said: list[str]) -> None:
    description, readings = sample_description(), calm_readings()
    camera, view = camera_for(description, readings), SideView(description)
    view.draw(canvas_of(), camera, readings)
    assert any(one.startswith("bed ") and one.endswith(" m") for one in said)
