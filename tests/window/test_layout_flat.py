"""A waiting flat trailer on the layout screen: brought and taken away by its height, typed, dragged, saved."""

from __future__ import annotations

import pygame
import pytest

from simulator.cli.layout_answers import Bench
from simulator.places import find_scenario
from simulator.plan.setup_check import check_setup
from simulator.scenario.reader import load, parse_text
from simulator.window.layout.flat_edits import middle_m
from simulator.window.layout.grips import grips_of
from simulator.window.layout.kept import text_for
from simulator.window.layout.measured import ends_of
from simulator.window.layout.sheet import Sheet
from tests.window.layouts import begun, open_layout, press, write
from tests.window.screens import frames


def sheet(name: str = "box_onto_flat") -> Sheet:
    return Sheet(load(find_scenario(name)), system="metric", settle=Bench("metric").settled)


def keys(one: Sheet) -> set[str]:
    return {typed.key for typed in one.fields if typed.key.startswith("flat_")}


def test_a_height_brings_one_that_the_load_fits_on_and_none_takes_it_away() -> None:
    laid = sheet("grain_on_side")
    assert keys(laid) == {"flat_height"} and laid.shown("flat_height") == "none"
    assert laid.type("flat_height", "0.8 m") == "" and len(keys(laid)) == 11
    flat = laid.lift.landing.flat
    assert flat is not None and flat.deck_height_m == 0.8
    refused = check_setup(laid.lift, step_m=4.0).refused_for
    assert not {"deck across", "deck along", "deck holds", "gap over"} & set(refused)
    assert laid.type("flat_height", "none") == "" and laid.lift.landing.flat is None
    laid.undo()
    assert laid.lift.landing.flat == flat


@pytest.mark.parametrize(
    ("key", "text", "field", "value"),
    [
        ("flat_length", "12.5 m", "length_m", 12.5),
        ("flat_width", "9 ft", "width_m", 2.7432),
        ("flat_payload", "26 t", "payload_kg", 26000.0),
        ("flat_payload", "none", "payload_kg", None),
        ("flat_limit", "4 m", "height_limit_m", 4.0),
        ("flat_sides", "0.5 m", "side_overhang_m", 0.5),
        ("flat_leaves", "toward the tail", "leaves", "tail"),
    ],
)
def test_its_numbers_are_typed(key: str, text: str, field: str, value: object) -> None:
    laid = sheet()
    assert laid.type(key, text) == ""
    assert getattr(laid.lift.landing.flat, field) == (value if not isinstance(value, float) else pytest.approx(value))


def test_it_is_dragged_along_and_across_and_follows_its_landing_until_it_was() -> None:
    laid = sheet()
    assert laid.lift.landing.flat is not None and laid.lift.landing.flat.y_m is None
    assert laid.type("landing", "6.5 m") == "" and middle_m(laid.lift) == pytest.approx((0.0, 6.5))
    grip = next(one for one in laid.grips if one.key == "flat")
    laid.take_hold(grip)
    laid.drag(0.4, -0.3)
    laid.let_go()
    assert middle_m(laid.lift) == pytest.approx((0.4, 6.2))
    moved = next(one for one in grips_of(laid.lift) if one.key == "flat")
    assert (moved.at[0] - grip.at[0], moved.at[1] - grip.at[1]) == pytest.approx((0.4, -0.3))
    assert laid.type("landing", "6.4 m") == "" and middle_m(laid.lift) == pytest.approx((0.4, 6.2))
    ends = ends_of(laid.lift, "flat_length")
    assert ends is not None and [*ends[0], *ends[1]] == pytest.approx([-5.4, 6.2, 6.2, 6.2])


def test_where_it_cannot_stand_it_is_not_put() -> None:
    laid = sheet()
    assert "0.2 to 2" in laid.type("flat_height", "3 m")
    assert "begins beside the waiting trailer" in laid.type("out", "-6 m"), "the load would lie on its deck"


def test_what_is_done_with_the_load_next_is_a_text() -> None:
    laid = sheet()
    assert laid.shown("flat_next").startswith("With an escort for its width to the yard")
    assert laid.type("flat_next", "  To the quarry,   by night. ") == ""
    assert laid.lift.landing.flat is not None and laid.lift.landing.flat.what_next == "To the quarry, by night."
    assert parse_text(text_for(laid), "x") == laid.lift
    before = laid.lift
    why = laid.type("flat_next", "x" * 401)
    assert "401" in why and "400" in why and laid.lift == before and laid.shown("flat_next") == "x" * 401
    assert laid.type("flat_next", "") == "" and laid.lift.landing.flat is not None
    assert laid.lift.landing.flat.what_next is None and laid.shown("flat_next") == "none"
    assert any(one.code == "hand-over" for one in check_setup(laid.lift, step_m=4.0).not_judged)
    laid.step("flat_next", 1)
    assert laid.lift.landing.flat.what_next is None, "an arrow is no text"


def test_a_text_is_typed_over_the_screen_and_taken_by_enter_or_left_by_escape(said: list[str]) -> None:
    shown, screen = open_layout("box_onto_flat", system="metric", size=(1280, 720))
    begun(shown, screen)
    screen.board.open_group("path")
    while screen.board.focus.key != "flat_next":
        press(shown, pygame.K_DOWN)
    old = screen.work.sheet.shown("flat_next")
    press(shown, pygame.K_RETURN)
    assert screen.board.typed == old, "a text goes on where it stands"
    for _ in old:
        press(shown, pygame.K_BACKSPACE)
    write(shown, "Taken out of the box at the yard, and driven on empty.")
    said.clear()
    frames(shown, 1)
    assert "Take it" in said and any(one.startswith("Taken out of the box") for one in said)
    press(shown, pygame.K_RETURN)
    flat = screen.work.sheet.lift.landing.flat
    assert flat is not None and flat.what_next == "Taken out of the box at the yard, and driven on empty."
    press(shown, pygame.K_UP)
    write(shown, "more")
    press(shown, pygame.K_ESCAPE)
    assert screen.work.sheet.lift.landing.flat == flat and screen.board.typed is None


def test_it_is_saved_with_where_each_number_is_from() -> None:
    laid = sheet()
    assert laid.type("flat_limit", "4.2 m") == ""
    text = text_for(laid)
    assert parse_text(text, "x") == laid.lift
    assert "Height limit when loaded: 4.2 m, measured" in text and "Flat trailer: payload: 24 t, assumed" in text
