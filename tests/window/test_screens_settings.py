"""Settings: kept whole, broken files and folders are sentences, every row works by keys and by mouse."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pygame
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simulator.recording.settings import LONGEST_TEXT, Settings, read_settings, write_settings
from simulator.scenario.faults import one_line
from simulator.window.kit.canvas import Canvas
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.settings_screen import ROWS, SettingsScreen
from simulator.window.screens.start_screen import StartScreen
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice
from simulator.words import say
from tests.window.inside import show
from tests.window.screens import SMALL, frames, mouse, open_small, show_lift, show_start, tap, yard

OTHER = Settings("us", True, True, True, True, 'Ash "A" \\ é', "Robin", "~/lifts")


def test_all_settings_come_back_as_they_were_kept(tmp_path: Path) -> None:
    path = tmp_path / "new" / "settings.toml"
    assert write_settings(OTHER, path) == ""
    assert read_settings(path) == (OTHER, ())
    assert [one.name for one in path.parent.iterdir()] == ["settings.toml"]


@given(st.text(max_size=LONGEST_TEXT))
def test_any_name_is_kept_on_one_line(tmp_path_factory: pytest.TempPathFactory, name: str) -> None:
    path = tmp_path_factory.mktemp("any") / "settings.toml"
    fault = write_settings(replace(OTHER, left_name=name), path)
    assert fault or read_settings(path).settings.left_name == one_line(name)


def test_no_file_is_the_usual_settings_and_no_fault(tmp_path: Path) -> None:
    assert read_settings(tmp_path / "settings.toml") == (Settings(), ())


@pytest.mark.parametrize(("text", "said"), [
    ("units = [", "no TOML"),
    ('units = "furlongs"', "allowed: metric or us"),
    ("mute = 1", "allowed: true or false"),
    ("left_name = 7", "allowed: text"),
    ("left_name = '" + "x" * (LONGEST_TEXT + 1) + "'", "allowed: text"),
    ("volume = 11", "a key that is not known"),
    ("a = " + "[" * 3000, "too many brackets"),
])  # fmt: skip
def test_a_broken_file_is_a_sentence_and_the_usual_settings(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "settings.toml"
    path.write_text(text, encoding="utf-8")
    settings, faults = read_settings(path)
    assert settings == Settings()
    assert len(faults) == 1 and said in faults[0] and faults[0].startswith("settings.toml: ")


def test_what_is_good_in_a_broken_file_still_holds(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text('units = "us"\nmute = "loud"\ntap_to_hold = true\nwhat = 1\n', encoding="utf-8")
    settings, faults = read_settings(path)
    assert settings == Settings(units="us", tap_to_hold=True)
    assert len(faults) == 2


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"left_name = '\x01'"])
def test_a_file_that_is_no_text_is_a_sentence(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "settings.toml"
    path.write_bytes(content)
    assert read_settings(path).settings == Settings() and len(read_settings(path).faults) == 1


def test_a_folder_in_the_files_place_is_a_sentence_both_ways(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.mkdir()
    assert len(read_settings(path).faults) == 1
    assert "could not be kept" in write_settings(Settings(), path)


def test_an_unwritable_place_keeps_the_change_for_now_and_says_so(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    desk = Desk(path=tmp_path / "file" / "settings.toml")
    desk.change(units="us")
    assert desk.settings.units == "us"
    assert len(desk.faults) == 1 and "could not be kept" in desk.faults[0]


def test_units_asked_for_once_are_not_kept(tmp_path: Path) -> None:
    desk = Desk(path=tmp_path / "settings.toml")
    desk.settings = replace(desk.settings, units="us")
    desk.change(mute=True)
    assert desk.settings.units == "us"
    assert read_settings(tmp_path / "settings.toml").settings == Settings(mute=True)


def test_every_row_changes_by_keys_and_is_kept(tmp_path: Path) -> None:
    desk = Desk(path=tmp_path / "settings.toml")
    shown = open_small(desk=desk)
    show(shown, SettingsScreen(desk))
    for row in ROWS:
        before = getattr(desk.settings, row.name)
        if row.choices:
            tap(shown, pygame.K_RETURN)
        else:
            tap(shown, pygame.K_RETURN)
            tap(shown, pygame.K_x, unicode="X")
            tap(shown, pygame.K_x, unicode="Y")
            tap(shown, pygame.K_BACKSPACE, pygame.K_RETURN)
            assert getattr(desk.settings, row.name) == "X"
        assert getattr(desk.settings, row.name) != before
        assert read_settings(tmp_path / "settings.toml").settings == desk.settings
        tap(shown, pygame.K_DOWN)


def test_escape_while_typing_leaves_the_text_as_it_was() -> None:
    desk = Desk(replace(Settings(), left_name="Ash"))
    shown = open_small(desk=desk)
    show(shown, SettingsScreen(desk))
    tap(shown, *[pygame.K_DOWN] * 5, pygame.K_RETURN)
    tap(shown, pygame.K_x, unicode="X")
    tap(shown, pygame.K_ESCAPE)
    assert desk.settings.left_name == "Ash"
    assert isinstance(shown.screen, SettingsScreen) and shown.screen.typing is None


def test_the_mouse_takes_a_choice() -> None:
    desk = Desk()
    shown = open_small(desk=desk)
    show(shown, SettingsScreen(desk))
    frames(shown, 1)
    mouse(shown, pygame.MOUSEBUTTONDOWN, 1000.0, 194.0)
    assert desk.settings.units == "us"


def test_settings_open_from_the_start_and_from_the_pause_and_units_change_the_drive_screen() -> None:
    shown = open_small()
    show_start(shown, None)
    tap(shown, pygame.K_F2)
    assert isinstance(shown.screen, StartScreen) and isinstance(shown.screen.over, SettingsScreen)
    tap(shown, pygame.K_ESCAPE)
    assert shown.screen.over is None
    show_lift(shown, Choice(yard(), "two"))
    frames(shown, 1)
    drive = shown.screen
    assert isinstance(drive, DriveScreen)
    tap(shown, pygame.K_ESCAPE, pygame.K_DOWN, pygame.K_DOWN, pygame.K_RETURN)
    assert isinstance(drive.over, SettingsScreen)
    tap(shown, pygame.K_RIGHT, pygame.K_ESCAPE)
    frames(shown, 1)
    assert drive.over is None and drive.system == drive.readouts.system == "us"
    tap(shown, pygame.K_F2)
    frames(shown, 1)
    assert drive.system == drive.readouts.system == shown.desk.settings.units == "metric"


def test_reduced_motion_and_tap_to_hold_reach_the_drive_screen() -> None:
    shown = open_small(desk=Desk(replace(Settings(), reduced_motion=True, tap_to_hold=True)))
    show_lift(shown, Choice(yard(), "two"))
    drive = shown.screen
    assert isinstance(drive, DriveScreen)
    assert drive.camera.reduced_motion and drive.seats.tap_to_hold


def test_plain_presenting_reopens_the_display(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SDL_FRAMEBUFFER_ACCELERATION", raising=False)
    shown = open_small()
    show(shown, SettingsScreen(shown.desk))
    frames(shown, 1)
    before = shown.surface
    shown.desk.change(plain_presenting=True)
    frames(shown, 1)
    assert os.environ["SDL_FRAMEBUFFER_ACCELERATION"] == "0"
    assert shown.surface is not before and shown.surface.get_size() == SMALL
    shown.desk.change(plain_presenting=False)
    frames(shown, 1)
    assert "SDL_FRAMEBUFFER_ACCELERATION" not in os.environ


def test_the_whole_path_of_the_settings_is_shown_where_there_is_room(said: list[str]) -> None:
    path = Path("/home/somebody/a_folder_with_quite_a_long_name/another_one/.config/slopepick/settings.toml")
    shown = open_small(desk=Desk(path=path))
    SettingsScreen(shown.desk).draw(Canvas(pygame.Surface((1920, 1080))))
    at = said.index(say("settings.kept_in"))
    assert any("".join(said[at + 1 : at + 1 + lines]) == str(path) for lines in (1, 2, 3, 4))
