"""The hold after lift-off in the window: papers against this load, the key that re-checks, and naming the load."""

from __future__ import annotations

from functools import cache

import pygame
import pytest

from simulator.attempt import Attempt
from simulator.cli.window_answers import recheck_lift
from simulator.drill.partner import Partner
from simulator.engine.commands import still
from simulator.places import find_scenario
from simulator.recording.settings import Settings
from simulator.scenario.measures import TONNE_N
from simulator.scenario.reader import load
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.levels import Level
from simulator.window.readouts.weighing_panel import weigh_look
from simulator.window.scene.weight_marks import weight_marks
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.weigh_cards import AnswerCard, RecheckCard
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice
from simulator.words import say
from tests.drill.lessons import coarser

FRAME_S = 0.1


def screen_of(name: str, canvas: Canvas, *, us: bool = False) -> tuple[DriveScreen, Attempt]:
    """A lift that drives itself, on the screen."""
    desk = Desk(Settings(units="us" if us else "metric"))
    desk.recheck = recheck_lift
    screen = DriveScreen(Choice(coarser(load(find_scenario(name))), "demo"), "us" if us else "metric", desk=desk)
    screen.renew(canvas)
    assert isinstance(screen.lift, Attempt)
    return screen, screen.lift


def go_to(screen: DriveScreen, lift: Attempt, state: str, *, found: bool = False) -> None:
    """Until the scales say so."""
    scales = screen.weighing.scales
    while scales.state != state or (found and scales.found is None):
        assert not lift.ended and lift.readings.time_s < 120.0
        lift.advance(still(lift.rig), lift.every)


def show(screen: DriveScreen, canvas: Canvas) -> None:
    """As many frames as draw every panel."""
    for _ in range(40):
        screen.frame(canvas, FRAME_S / 6.0)


def over(screen: DriveScreen) -> object:
    """What lies over the lift now."""
    return screen.over


def press(screen: DriveScreen, key: int, letter: str = "") -> None:
    """A key goes down."""
    screen.take_event(pygame.event.Event(pygame.KEYDOWN, key=key, scancode=0, unicode=letter, mod=0))


def test_bounds_on_the_bed_then_weight_then_what_to_do(canvas: Canvas, said: list[str]) -> None:
    screen, lift = screen_of("practice_yard", canvas)
    assert screen.weighing.look(lift.readings, "metric") is None
    go_to(screen, lift, "on the bed")
    look = screen.weighing.look(lift.readings, "metric")
    assert look is not None and look.is_bounds and not look.asks and look.do_level is None
    marks = weight_marks(screen.weighing.scales, lift.readings)
    assert marks is not None and marks.at_m is None and marks.low_m < marks.high_m
    press(screen, pygame.K_RETURN)
    assert over(screen) is None, "there is nothing to re-check yet"

    go_to(screen, lift, "held", found=True)
    show(screen, canvas)
    look = screen.weighing.look(lift.readings, "metric")
    assert look is not None and look.weight.joined == "6.0 t" and look.weight_spread.startswith("\N{PLUS-MINUS SIGN}")
    assert look.asks and look.do_level is None
    assert {"WEIGHT", "HEAVY END", "papers 6.0 t", "papers", "this load"} <= set(said)
    marks = weight_marks(screen.weighing.scales, lift.readings)
    assert marks is not None and marks.at_m is not None and marks.low_m < marks.at_m < marks.high_m

    press(screen, pygame.K_RETURN)
    assert isinstance(over(screen), RecheckCard)
    screen.frame(canvas, FRAME_S)
    assert any("holds in 1000 of 1000 cases" in text for text in said)
    press(screen, pygame.K_ESCAPE)
    look = screen.weighing.look(lift.readings, "metric")
    assert over(screen) is None and look is not None and look.do_level is Level.GOOD and look.do == say("weigh.go_on")
    go_to(screen, lift, "went on")
    assert screen.weighing.look(lift.readings, "metric") is None, "the parts' clearances are what counts from here"


def test_loads_that_the_instructor_hides_are_not_drawn_on_the_trailer(canvas: Canvas, said: list[str]) -> None:
    screen, lift = screen_of("practice_yard", canvas, us=True)
    go_to(screen, lift, "on the bed")
    lift.hidden = frozenset({"loads"})
    screen.renew(canvas)
    said.clear()
    show(screen, canvas)
    assert not {"WEIGHT AT LEAST", "papers"} & set(said)


@cache
def _asked() -> Attempt:
    lift = coarser(load(find_scenario("read_the_load")))
    attempt = Attempt(lift, [Partner(lift, 0), Partner(lift, 1)])
    assert attempt.session is not None
    while not attempt.session.asks:
        attempt.advance(still(attempt.rig), attempt.every)
    attempt.operators = [None, None]
    return attempt


def test_the_pair_names_its_load_by_keys(canvas: Canvas, said: list[str]) -> None:
    attempt = _asked()
    desk = Desk()
    desk.recheck = recheck_lift
    screen = DriveScreen(Choice(load(find_scenario("read_the_load")), "two"), begin=lambda *_: attempt, desk=desk)
    screen.renew(canvas)
    assert attempt.session is not None and screen.weighing.asks
    assert screen.weighing.look(attempt.readings, "metric") is None, "nobody says it for them"
    press(screen, pygame.K_RETURN)
    card = over(screen)
    assert isinstance(card, AnswerCard)
    for letter in "13.65x":
        press(screen, ord(letter), letter)
    press(screen, pygame.K_BACKSPACE)
    press(screen, pygame.K_DOWN)
    press(screen, pygame.K_LEFT)
    press(screen, pygame.K_DOWN)
    press(screen, pygame.K_RIGHT)
    screen.frame(canvas, FRAME_S)
    assert "What does the load tell?" in said and "left end" in said and "go on" in said
    given = card.answer
    assert given.weight_N == pytest.approx(13.6 * TONNE_N) and (given.heavy, given.goes_on) == ("nose", True)
    press(screen, pygame.K_RETURN)
    assert over(screen) is None and attempt.session.progress.goes_on is True
    assert attempt.events[-1].kind == "answer" and attempt.events[-1].fields["heavy"] == "nose"
    assert weigh_look(screen.weighing.scales, attempt.readings, attempt.description, "us", None) is not None


def test_a_weight_can_be_chosen_in_steps_and_ends_as_they_are_seen(canvas: Canvas) -> None:
    card = AnswerCard(load(find_scenario("read_the_load")), "us", lambda _: None)
    first = card.answer.weight_N
    for key in (pygame.K_RIGHT, pygame.K_RIGHT, pygame.K_LEFT, pygame.K_DOWN, pygame.K_RIGHT):
        card.take_event(pygame.event.Event(pygame.KEYDOWN, key=key, unicode=""))
    assert card.answer.weight_N - first == pytest.approx(200.0 * 4.4482216152605)
    assert card.answer.heavy == "tail" and not card.answer.goes_on, "to set down is what stands there first"
    assert card.take_event(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_ESCAPE, unicode="")).is_back
