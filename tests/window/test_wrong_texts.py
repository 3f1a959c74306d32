"""Whatever is typed or pasted in a field of the layout screen: a sentence, nothing lost, the last verdict old."""

from __future__ import annotations

import pygame
import pytest

from simulator.cli.layout_answers import Bench
from simulator.places import find_scenario
from simulator.scenario.asked_numbers import System
from simulator.scenario.reader import load
from simulator.window.layout.panels import VERDICT
from simulator.window.layout.sheet import Sheet
from simulator.window.layout.work import Work
from tests.window.layouts import begun, open_layout, press
from tests.window.screens import frames

WRONG = ("-3", "abc", "1e99", "", "53'x", "\N{ARABIC-INDIC DIGIT THREE}\N{ARABIC-INDIC DIGIT FOUR}", "nan", "inf",
         "1e400",         "9" * 10_000, "12 m 7", "\u2028", "0x10", "1/0", "5 ft 99 in", "none", "3 lb ft")  # fmt: skip


def sheet(name: str, system: System) -> Sheet:
    return Sheet(load(find_scenario(name)), system=system, settle=Bench(system).settled)


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", ["box_onto_flat", "four_lines"])
def test_a_text_is_taken_or_kept_with_a_sentence(name: str, system: System) -> None:
    laid = sheet(name, system)
    for text in WRONG:
        for key in [one.key for one in laid.fields]:
            if key not in {one.key for one in laid.fields}:
                continue  # it went with what was taken away
            before = laid.lift
            why = laid.type(key, text)
            if why:
                assert laid.lift is before and laid.shown(key) == text and laid.half[key].why == why
                assert why.endswith((".", '"')) or len(why) > 20, why
                assert len(why) < 600, (key, len(why))
                laid.forget_half(key)
            else:
                assert key not in laid.half
                laid.undo() if laid.lift is not before else None
            assert laid.lift == before, (key, text)


def test_a_verdict_of_before_is_old_until_the_text_is_taken() -> None:
    laid = sheet("box_on_wheels", "us")
    work = Work(laid, Bench("us"))
    work.go_on(0.02)
    judged = work.judged
    assert judged is not None and not work.why_old
    assert laid.type("length", "53 lb")
    work.go_on(0.02)
    assert work.why_old and work.judged is not None and work.judged.headline == judged.headline


def test_ten_thousand_letters_pasted_are_cut_and_said(monkeypatch: pytest.MonkeyPatch) -> None:
    shown, screen = open_layout("box_onto_flat")
    begun(shown, screen)
    screen.board.open_group("load")
    while screen.board.focus.key != "length":
        press(shown, pygame.K_DOWN)
    monkeypatch.setattr(pygame.scrap, "get_text", lambda: "8\n" * 5000)
    press(shown, pygame.K_v, "v", pygame.KMOD_LCTRL)
    assert screen.board.typed is not None and len(screen.board.typed) == 40
    press(shown, pygame.K_RETURN)
    frames(shown, 1)
    assert screen.work.sheet.half["length"].why and screen.work.why_old


def test_a_sentence_tells_the_range_as_it_is_typed() -> None:
    laid = sheet("box_on_wheels", "us")
    assert "0 to 100%" in laid.type("gust", "abc"), "a share, of which 50% was the example"
    assert "such as -26'" in laid.type("cut_from", "abc"), "what may lie either way"


@pytest.mark.parametrize(("system", "unit"), [("us", " ft"), ("metric", " m")])
def test_numbers_that_do_not_fit_together_are_told_by_their_field_in_the_persons_units(
    system: System, unit: str
) -> None:
    laid = sheet("box_on_wheels", system)
    why = laid.type("lane", "20 ft")
    assert why.startswith("Units to landing, middles: given "), why
    assert unit in why and (" m " in why) is (system == "metric"), why


def test_a_long_path_in_the_head_ends_before_the_verdict_with_the_files_name(said: list[str]) -> None:
    shown, screen = open_layout("box_on_wheels", size=(1280, 720))
    begun(shown, screen)
    screen.work.message = "Saved: /home/somebody/with/a/long/name/" + "of_many_words_" * 5 + "lift.toml"
    said.clear()
    screen.renew(shown.canvas)
    screen.frame(shown.canvas, 0.0)
    path = next(one for one in said if one.endswith("lift.toml"))
    assert path.startswith("\N{HORIZONTAL ELLIPSIS}")
    assert 24.0 + shown.canvas.text_width(path, 24.0, weight="medium") < VERDICT.x
