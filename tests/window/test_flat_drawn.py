"""A waiting flat trailer as it is drawn: in every view where it stands and nowhere else; the words that name it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pygame
import pytest

from simulator.drill.partner import STAGES, Partner
from simulator.engine.instruments import Instruments
from simulator.engine.simulation import Simulation
from simulator.places import find_scenario
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import STEEL_DARK
from simulator.window.kit.seen import SEEN_BY_TWO
from simulator.window.scene.flat_view import PLANKS, draw_above, draw_across, draw_beside, waits
from simulator.window.scene.inset_section import SectionView
from simulator.window.shell.lift import OutOfReach, landed_words, stage_prompt
from simulator.words import say

LIFT = load(find_scenario("box_onto_flat"))
ON_ROAD = replace(LIFT, landing=replace(LIFT.landing, flat=None))
SIZE, SCALE = (900, 700), 40.0
Draw = Callable[..., None]


def at(u_m: float, v_m: float) -> tuple[float, float]:
    return SIZE[0] / 2.0 + SCALE * u_m, 500.0 - SCALE * v_m


def drawn(draw: Draw, lift: Description) -> pygame.Surface:
    canvas = Canvas(pygame.Surface(SIZE), f=1.0, origin_px=(0, 0))
    canvas.surface.fill((255, 0, 255))
    draw(canvas, at, lift)
    return canvas.surface


def color(surface: pygame.Surface, u_m: float, v_m: float) -> tuple[int, ...]:
    x, y = at(u_m, v_m)
    return tuple(surface.get_at((round(x), round(y))))[:3]


@pytest.mark.parametrize(
    ("draw", "inside", "outside"),
    [
        (draw_above, (1.1, 6.9), (1.1, 7.7)),
        (draw_beside, (1.1, 0.65), (1.1, 0.95)),
        (draw_across, (6.2, 0.65), (7.6, 0.65)),
    ],
)
def test_it_is_where_it_stands(draw: Draw, inside: tuple[float, float], outside: tuple[float, float]) -> None:
    shown, bare = drawn(draw, LIFT), drawn(draw, ON_ROAD)
    assert color(shown, *inside) in (PLANKS, STEEL_DARK)
    assert color(shown, *outside) == color(bare, *inside) == color(bare, *outside) == (255, 0, 255)
    assert waits(LIFT) and not waits(ON_ROAD)


@pytest.mark.parametrize(("leaves", "arrow_x_m"), [("nose", -7.0), ("tail", 7.0)])
def test_an_arrow_shows_which_way_it_drives_off(leaves: str, arrow_x_m: float) -> None:
    assert LIFT.landing.flat is not None
    flat = replace(LIFT.landing.flat, leaves=leaves)  # type: ignore[arg-type]
    shown = drawn(draw_above, replace(LIFT, landing=replace(LIFT.landing, flat=flat)))
    assert color(shown, arrow_x_m, 6.2) != (255, 0, 255) and color(shown, -arrow_x_m, 6.2) == (255, 0, 255)


def test_the_arrow_under_a_load_that_is_wider_ends_on_the_deck() -> None:
    """Its corners hang beside the deck, and the figure is to the deck: the arrow stands over the deck."""
    simulation = Simulation(LIFT)
    load_now = Instruments(simulation.model).read(simulation.state).load
    over = load_now._replace(x_m=0.1, y_m=6.375, z_m=2.6, pitch_rad=0.0, yaw_rad=0.0, roll_rad=0.0)
    lowest_m = 2.6 - 1.25
    y_m, z_m = SectionView(LIFT).nearest_ground(over._replace(height_over_bed_m=lowest_m - 0.85))
    assert z_m == pytest.approx(lowest_m, abs=0.01) and 4.92 < y_m < 7.48
    far = SectionView(ON_ROAD).nearest_ground(over._replace(height_over_bed_m=lowest_m))
    assert far[1] == pytest.approx(lowest_m, abs=0.01)


def test_the_words_say_on_what_it_is_set_down() -> None:
    partner = Partner(LIFT, 1)
    partner.stage = STAGES.index("lower")
    lift = OutOfReach([None, partner])
    prompts = [stage_prompt(lift, SEEN_BY_TWO, (True, True), onto_deck=one) for one in (True, False)]
    assert "deck of the flat trailer" in prompts[0] and "deck" not in prompts[1]
    alone = stage_prompt(lift, SEEN_BY_TWO, (True, False), onto_deck=True)
    assert "deck of the flat trailer" in alone
    assert landed_words(LIFT) == say("summary.landed_flat") != landed_words(ON_ROAD)
