"""The instructor's panel: keys, mouse and gamepad do its acts, and the lift's state and events are read."""

from __future__ import annotations

import pygame
import pytest

from simulator.attempt import Attempt
from simulator.drill.instruction import RANGES, Instruction, from_fields
from simulator.recording.replay import check
from simulator.scenario.measures import METERS_PER_FOOT
from simulator.window.kit import head_foot
from simulator.window.kit.canvas import Canvas
from simulator.window.loop import Program
from simulator.window.screens.cards import PauseCard
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.instructor import InstructorPanel
from simulator.words import say
from tests.window.inside import kept_of, spots_of
from tests.window.screens import classroom, frames, key, mouse, tap

SPACE, LEFT, RIGHT = pygame.KSCAN_SPACE, pygame.KSCAN_LSHIFT, pygame.KSCAN_RSHIFT


def open_panel(shown: Program, drive: DriveScreen) -> InstructorPanel:
    key(shown, 0, pygame.K_TAB)
    assert isinstance(drive.over, InstructorPanel)
    return drive.over


def choose(shown: Program, drive: DriveScreen, name: str, *, turns: int = 0) -> InstructorPanel:
    """Open the panel and go to a row by keys alone."""
    panel = open_panel(shown, drive)
    row = next(index for index, act in enumerate(panel.rows) if act.name == name)
    tap(shown, *[pygame.K_DOWN] * row)
    tap(shown, *[pygame.K_RIGHT if turns > 0 else pygame.K_LEFT] * abs(turns))
    assert panel.rows[panel.chosen].name == name
    return panel


def instructed(lift: Attempt) -> list[Instruction]:
    return [from_fields(event.fields) for event in lift.events if event.kind == "instructor"]


def test_the_panel_halts_the_lift_and_an_act_goes_on() -> None:
    shown, drive, lift = classroom()
    choose(shown, drive, "hide_coach")
    step = lift.readings.step
    frames(shown, 10)
    assert lift.readings.step == step
    key(shown, 0, pygame.K_RETURN)
    frames(shown, 10)
    assert drive.over is None and lift.readings.step > step
    assert lift.session is not None and lift.session.prompt is None


def test_pause_stays_until_the_instructor_goes_on() -> None:
    shown, drive, lift = classroom()
    choose(shown, drive, "pause")
    key(shown, 0, pygame.K_RETURN)
    step = lift.readings.step
    frames(shown, 10)
    key(shown, 0, pygame.K_ESCAPE)
    key(shown, 0, pygame.K_ESCAPE)
    assert drive.over is None and lift.is_paused and lift.readings.step == step
    choose(shown, drive, "go_on")
    key(shown, 0, pygame.K_RETURN)
    frames(shown, 10)
    assert not lift.is_paused and lift.readings.step > step
    assert [act.kind for act in instructed(lift)] == ["pause", "go on"]


def test_the_instructors_stop_is_said_to_be_theirs() -> None:
    shown, drive, lift = classroom()
    choose(shown, drive, "stop")
    key(shown, 0, pygame.K_RETURN)
    assert lift.stopped and lift.called_by == "the instructor"


@pytest.mark.parametrize(("hide", "show", "thing"), [("hide_roses", "show_roses", "roses"),
                                                     ("hide_loads", "show_loads", "loads")])  # fmt: skip
def test_roses_and_loads_are_hidden_from_the_picture_and_shown_again(hide: str, show: str, thing: str) -> None:
    shown, drive, lift = classroom()
    frames(shown, 12)

    def picture() -> bytes:
        places = {"roses": (950, 160, 110, 160), "loads": (20, 230, 250, 80)}
        x, y, w, h = (round(value * shown.canvas.f) for value in places[thing])
        return pygame.image.tobytes(shown.surface.subsurface((x, y, w, h)), "RGB")

    before = picture()
    assert len(set(before)) > 2
    choose(shown, drive, hide)
    key(shown, 0, pygame.K_RETURN)
    frames(shown, 15)
    assert lift.hidden == {thing} and picture() != before
    choose(shown, drive, show)
    key(shown, 0, pygame.K_RETURN)
    assert not lift.hidden and len(instructed(lift)) == 2


@pytest.mark.parametrize(
    ("name", "turns", "kind", "amount", "end"),
    [
        ("gust", 2, "gust", 10.0, 0),
        ("cargo", -1, "cargo shifts", 0.4, 0),
        ("float_right", -1, "soft float", 0.45, 1),
        ("slip_left", 2, "line slips", 0.4, 0),
        ("bed", 1, "bed holds", 3.0 * 9806.65, 0),
    ],
)
def test_what_goes_wrong_is_put_in_by_keys_and_noted(name: str, turns: int, kind: str, amount: float, end: int) -> None:
    shown, drive, lift = classroom()
    choose(shown, drive, name, turns=turns)
    key(shown, 0, pygame.K_RETURN)
    done = instructed(lift)[-1]
    assert (done.kind, done.end) == (kind, end) and done.amount == pytest.approx(amount)


def test_amounts_go_in_round_numbers_of_feet() -> None:
    shown, drive, lift = classroom()
    tap(shown, pygame.K_F2)
    panel = choose(shown, drive, "cargo", turns=1)
    assert panel.amount(panel.chosen) == pytest.approx(2.0 * METERS_PER_FOOT) and "2.00 ft" in panel.amount_shown(7)
    key(shown, 0, pygame.K_RETURN)
    assert instructed(lift)[-1].amount == pytest.approx(2.0 * METERS_PER_FOOT)


@pytest.mark.parametrize(
    ("name", "kind", "way"),
    [("gust", "gust", 1), ("gust", "gust", -1), ("slip_left", "line slips", 1), ("float_left", "soft float", -1)],
)
def test_a_wild_amount_is_refused_in_a_sentence(name: str, kind: str, way: int) -> None:
    shown, drive, lift = classroom()
    panel = choose(shown, drive, name, turns=60 * way)
    assert panel.refused.startswith(say(f"instructor.{name}")) and "refused" in panel.refused
    low, high = RANGES[kind]
    assert low <= panel.amount(panel.chosen) <= high
    frames(shown, 1)
    tap(shown, pygame.K_LEFT if way > 0 else pygame.K_RIGHT)
    assert not panel.refused
    assert not instructed(lift)


def test_back_to_the_start_of_a_step_that_has_begun_and_to_no_other() -> None:
    shown, drive, lift = classroom()
    session = lift.session
    assert session is not None
    session.progress.passed_by.add(0)
    lift.world.begin_drill_step(1)
    session.back_to(1, lift.readings)
    panel = choose(shown, drive, "step_back", turns=5)
    assert panel.amount(panel.chosen) == 1.0
    tap(shown, pygame.K_LEFT, pygame.K_LEFT, pygame.K_LEFT)
    key(shown, 0, pygame.K_RETURN)
    assert session.index == 0 and instructed(lift)[-1].kind == "step back"


def test_the_panel_by_mouse_and_by_gamepad() -> None:
    shown, drive, lift = classroom()
    mouse(shown, pygame.MOUSEBUTTONDOWN, 1800.0, 1058.0)
    assert isinstance(drive.over, PauseCard)
    for button in (-1, -1, -1):
        pygame.event.post(pygame.event.Event(pygame.JOYHATMOTION, instance_id=0, hat=0, value=(0, button)))
        shown.take_events()
    pygame.event.post(pygame.event.Event(pygame.JOYBUTTONDOWN, instance_id=0, button=0))
    frames(shown, 2)
    panel = drive.over
    assert isinstance(panel, InstructorPanel)
    row = next(index for index, act in enumerate(panel.rows) if act.name == "slip_right")
    more = next(place for place in spots_of(panel) if place.what == (row, 1)).region
    mouse(shown, pygame.MOUSEBUTTONDOWN, more.x + 20.0, more.y + 20.0)
    assert panel.amount(row) == pytest.approx(0.35)
    mouse(shown, pygame.MOUSEBUTTONDOWN, more.x - 300.0, more.y + 20.0)
    assert drive.over is None
    done = instructed(lift)[-1]
    assert (done.kind, done.end) == ("line slips", 1) and done.amount == pytest.approx(0.35)


def test_what_was_done_in_the_window_is_done_again_by_a_re_run() -> None:
    shown, drive, lift = classroom()
    for name in ("slip_left", "hide_roses", "gust"):
        choose(shown, drive, name)
        key(shown, 0, pygame.K_RETURN)
        frames(shown, 10)
    key(shown, SPACE)
    frames(shown, 40)
    for scancode in (LEFT, RIGHT):
        key(shown, scancode)
    frames(shown, 90)
    assert kept_of(shown) is not None
    again = check(kept_of(shown).recording(shown.desk))
    assert again.same and again.seconds >= 2
    assert len(instructed(lift)) == 3


def test_the_foot_says_what_keys_do_on_the_very_screen(monkeypatch: pytest.MonkeyPatch) -> None:
    """Space calls a stop only while the lift is driven; Esc goes back from whatever lies over it."""
    shown, drive, _ = classroom()
    said: list[str] = []
    flat_key = head_foot.draw_flat_key

    def noting(canvas: Canvas, label: str, x: float, y: float) -> float:
        said.append(label)
        return flat_key(canvas, label, x, y)

    monkeypatch.setattr(head_foot, "draw_flat_key", noting)
    enter, escape, space = (say(f"key.{name}") for name in ("enter", "escape", "space"))
    for pressed in (pygame.K_TAB, pygame.K_ESCAPE):
        key(shown, 0, pressed)
        frames(shown, 1)
        assert drive.over is not None and {enter, escape} <= set(said[-3:]) and space not in said[-2:]
        last = said[-1]
        assert last == escape
        key(shown, 0, pygame.K_ESCAPE)
        frames(shown, 2)
        assert drive.over is None and said[-3:] == [space, escape, say("key.f1")]
