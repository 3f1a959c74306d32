"""The drive loop and its screens: posted events change the physics' commands, time and state."""

from __future__ import annotations

from pathlib import Path

import pygame
import pytest

from simulator.attempt import Attempt, Operator
from simulator.engine.commands import FUNCTIONS, STILL
from simulator.recording.settings import Settings
from simulator.scenario.description import Description
from simulator.window import program
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.regions import CAUTION_LINE, SMALLEST_WINDOW
from simulator.window.program import NoDisplay, Program
from simulator.window.screens import start_screen
from simulator.window.screens.cards import PauseCard, SummaryCard
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.keys_and_marks import KeysScreen
from simulator.window.screens.seat_check import SeatCheck
from simulator.window.screens.start_screen import StartScreen
from simulator.window.shell import display
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice, Who, begin_attempt
from tests.window.sample import calm_readings, sample_description
from tests.window.screens import CountingLift, open_small, show_lift, show_start

HOIST, SLEW = FUNCTIONS.index("hoist"), FUNCTIONS.index("slew")

FRAME_S = 1 / 60


def open_program(who: Who = "two", description: Description | None = None) -> tuple[Program, DriveScreen]:
    """A program that shows a lift that only counts."""
    shown = open_small(size=SMALLEST_WINDOW)
    show_lift(shown, Choice(description or sample_description(), who))
    assert isinstance(shown.screen, DriveScreen)
    return shown, shown.screen


def post(kind: int, scancode: int = 0, key: int = pygame.K_x) -> None:
    """Put a key event into the queue."""
    pygame.event.post(pygame.event.Event(kind, scancode=scancode, key=key, mod=0, unicode=""))


def tap(shown: Program, key: int, scancode: int = 0) -> None:
    """Press and release a key, each seen by the program."""
    for kind in (pygame.KEYDOWN, pygame.KEYUP):
        post(kind, scancode, key)
        shown.take_events()


def frames(shown: Program, count: int) -> None:
    """Events and frames."""
    for _ in range(count):
        shown.take_events()
        shown.frame(FRAME_S)


def test_half_a_second_of_frames_is_half_a_second_of_steps() -> None:
    shown, drive = open_program()
    frames(shown, 30)
    assert drive.lift.readings.step == pytest.approx(120, abs=4)
    assert set(drive.lift.given) == {STILL}  # type: ignore[attr-defined]


def test_posted_keys_reach_the_physics_and_release_ends_them() -> None:
    shown, drive = open_program()
    post(pygame.KEYDOWN, pygame.KSCAN_R)
    post(pygame.KEYDOWN, pygame.KSCAN_SEMICOLON)
    frames(shown, 36)
    last = drive.lift.given[-1]  # type: ignore[attr-defined]
    assert (last[0][HOIST], last[1][SLEW]) == (1.0, -1.0)
    post(pygame.KEYUP, pygame.KSCAN_R)
    frames(shown, 36)
    last = drive.lift.given[-1]  # type: ignore[attr-defined]
    assert (last[0][HOIST], last[1][SLEW]) == (0.0, -1.0)


def test_speed_keys_change_the_number_of_steps() -> None:
    shown, drive = open_program()
    tap(shown, pygame.K_EQUALS)
    before = drive.lift.readings.step
    frames(shown, 15)
    assert drive.lift.readings.step - before == pytest.approx(2 * 60, abs=6)
    tap(shown, pygame.K_MINUS)
    tap(shown, pygame.K_MINUS)
    assert drive.pace.speed == 0.5


def test_pause_stands_still_and_escape_goes_on() -> None:
    shown, drive = open_program()
    frames(shown, 4)
    post(pygame.KEYDOWN, pygame.KSCAN_R)
    tap(shown, pygame.K_ESCAPE)
    step = drive.lift.readings.step
    frames(shown, 10)
    assert isinstance(drive.over, PauseCard) and drive.lift.readings.step == step
    tap(shown, pygame.K_ESCAPE)
    frames(shown, 5)
    assert drive.over is None and drive.lift.readings.step > step
    assert drive.lift.given[-1] == STILL  # type: ignore[attr-defined]


def test_help_pauses_and_returns_to_the_lift() -> None:
    shown, drive = open_program()
    tap(shown, pygame.K_F1)
    step = drive.lift.readings.step
    frames(shown, 3)
    assert isinstance(drive.over, KeysScreen) and drive.lift.readings.step == step
    tap(shown, pygame.K_F1)
    assert drive.over is None and not drive.pace.paused


@pytest.mark.parametrize(("who", "free"), [("two", (True, True)), ("left", (True, False)), ("right", (False, True)),
                                           ("demo", (False, False))])  # fmt: skip
def test_seats_nobody_sits_in_drive_themselves(who: Who, free: tuple[bool, bool]) -> None:
    _, drive = open_program(who)
    assert tuple(operator is None for operator in drive.lift.operators) == free


def test_any_key_of_a_seat_takes_its_unit_over_and_only_that() -> None:
    shown, drive = open_program("demo", sample_description(nose_seen="right"))
    post(pygame.KEYDOWN, pygame.KSCAN_W)
    frames(shown, 2)
    nose, tail = drive.lift.operators
    assert tail is None and nose is not None


@pytest.mark.parametrize("note", ["", "The recording is not kept: no room."])
def test_a_summary_with_all_that_cost_points_stays_over_the_foot(monkeypatch: pytest.MonkeyPatch, note: str) -> None:
    _, drive = open_program("two")
    feet: list[float] = []
    kept = Canvas.box

    def box(self: Canvas, x: float, y: float, w: float, h: float, **more: object) -> None:
        feet.append(y + h) if w >= 800.0 else None
        kept(self, x, y, w, h, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(Canvas, "box", box)
    lost = (
        "40 points, right: snatched from slack",
        "18 points, left: lever turned back",
        "17 points, right: off plumb",
    )
    SummaryCard(drive, "Drill failed", "Points of 100", note=note, lost=lost).draw(Canvas(pygame.Surface((1280, 720))))
    assert len(feet) == 2 + bool(note) and max(feet) <= CAUTION_LINE.y - 2.0


def test_the_end_of_a_lift_shows_its_summary_once_and_tab_begins_again() -> None:
    shown, drive = open_program()
    drive.lift.ended = True  # type: ignore[misc]
    frames(shown, 3)
    assert isinstance(drive.over, SummaryCard)
    tap(shown, pygame.K_TAB)
    assert isinstance(shown.screen, DriveScreen) and shown.screen is not drive


def test_pause_menu_by_arrows_leads_to_the_start_screen() -> None:
    shown, _ = open_program()
    tap(shown, pygame.K_ESCAPE)
    tap(shown, pygame.K_UP)
    tap(shown, pygame.K_RETURN)
    assert isinstance(shown.screen, StartScreen)


def test_start_screen_chooses_by_keys_and_starts() -> None:
    shown = open_small(desk=Desk(Settings(units="us")))
    show_start(shown, None)
    start = shown.screen
    assert isinstance(start, StartScreen)
    frames(shown, 1)
    tap(shown, pygame.K_RIGHT)
    tap(shown, pygame.K_RIGHT)
    tap(shown, pygame.K_TAB)
    tap(shown, pygame.K_DOWN)
    frames(shown, 1)
    assert start.choice is not None
    assert (start.lift, start.choice.who) == (2, "left")
    tap(shown, pygame.K_RETURN)
    assert isinstance(shown.screen, SeatCheck)
    tap(shown, pygame.K_RETURN)
    assert isinstance(shown.screen, DriveScreen) and shown.screen.choice == start.choice


def test_a_smaller_window_is_taken_up_to_the_least_size() -> None:
    shown, _ = open_program()
    pygame.event.post(pygame.event.Event(pygame.VIDEORESIZE, w=1500, h=900, size=(1500, 900)))
    pygame.display.set_mode((1500, 900), pygame.RESIZABLE)
    frames(shown, 2)
    assert shown.canvas.f == pytest.approx(min(1500 / 1920, 900 / 1080))


def test_real_physics_hoists_the_hook_while_its_key_is_down() -> None:
    """Rope comes in under the left seat's R: the nose unit's rope out falls, the other's stays."""
    shown = open_small(begin=begin_attempt)
    show_lift(shown, Choice(program.shipped_lifts()[0], "two"))
    drive = shown.screen
    assert isinstance(drive, DriveScreen) and isinstance(drive.lift, Attempt)
    before = drive.lift.readings
    post(pygame.KEYDOWN, pygame.KSCAN_R)
    frames(shown, 20)
    after = drive.lift.readings
    assert after.time_s > before.time_s
    assert after.nose.rope_out_m < before.nose.rope_out_m - 0.005
    assert after.tail.rope_out_m == pytest.approx(before.tail.rope_out_m, abs=1e-9)


def test_closing_the_window_ends_the_program() -> None:
    shown, _ = open_program()
    pygame.event.post(pygame.event.Event(pygame.QUIT))
    assert shown.run() == 0


def test_run_drive_runs_frames_and_closes() -> None:
    assert program.run_drive(sample_description(), demo=True, begin=CountingLift, most_frames=3) == 0
    assert not pygame.display.get_init()


@pytest.mark.parametrize(
    ("demo", "at_once", "begins"), [(False, False, False), (False, True, True), (True, False, True)]
)
def test_people_sit_down_before_a_lift_from_the_command_line(demo: bool, at_once: bool, begins: bool) -> None:
    begun: list[CountingLift] = []

    def begin(lift: Description, operators: list[Operator | None]) -> CountingLift:
        begun.append(CountingLift(lift, operators))
        return begun[-1]

    assert program.run_drive(sample_description(), demo=demo, at_once=at_once, begin=begin, most_frames=2) == 0
    assert bool(begun) == begins


def test_no_screen_is_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    pygame.quit()
    monkeypatch.setenv("SDL_VIDEODRIVER", "no_such_driver")
    with pytest.raises(NoDisplay, match="No window could be opened"):
        program.run_drive(None)


def test_a_display_that_answers_late_is_asked_again_and_none_at_all_is_a_sentence(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    opened, answers = pygame.display.get_driver, iter(["offscreen", "offscreen"])
    monkeypatch.setattr(display, "RETRY_S", 0.0)
    monkeypatch.setattr(pygame.display, "get_driver", lambda: next(answers, None) or opened())
    assert display.reopen((1280, 720), is_full=False, is_plain=False).get_size() == (1280, 720)
    assert next(answers, None) is None
    monkeypatch.setattr(pygame.display, "get_driver", lambda: "offscreen")
    with pytest.raises(NoDisplay, match="No window could be opened"):
        display.reopen((1280, 720), is_full=False, is_plain=False)


def test_no_lift_is_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(program, "open_window", lambda **_: pygame.display.set_mode((1280, 720)))
    monkeypatch.setattr(start_screen, "shipped_lifts", tuple)
    monkeypatch.setattr(start_screen, "drill_offers", tuple)
    monkeypatch.setattr(start_screen, "user_offers", lambda folder: ())
    with pytest.raises(NoDisplay, match="No lift was found"):
        program.run_drive(None)


def test_still_is_a_picture_of_its_size(tmp_path: Path) -> None:
    picture = program.still_picture(sample_description(), calm_readings(), (1280, 720), units="us")
    (tmp_path / "a.png").write_bytes(picture)
    assert pygame.image.load(str(tmp_path / "a.png")).get_size() == (1280, 720)
