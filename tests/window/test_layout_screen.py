"""The layout screen by real events: keys, mouse, verdict, drafts, files, driving on."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pygame
import pytest

from simulator.cli.layout_answers import Bench
from simulator.places import find_scenario
from simulator.scenario.reader import load, parse_text
from simulator.window.layout import kept
from simulator.window.screens import layout_screen
from simulator.window.screens.seat_check import SeatCheck
from simulator.window.screens.start_screen import StartScreen
from tests.window.layouts import begun, drag, mouse, open_layout, place_of, press, write
from tests.window.screens import frames, open_small, show_start

CTRL = pygame.KMOD_LCTRL


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The user's folders, empty."""
    monkeypatch.setattr(kept, "data_folder", lambda: tmp_path)
    monkeypatch.setattr(layout_screen, "user_folder", lambda: tmp_path / "scenarios")
    return tmp_path


def to_field(shown, screen, key: str) -> None:  # type: ignore[no-untyped-def]
    """By the mouse, its group opened first."""
    typed = screen.work.sheet.field(key)
    screen.board.open_group(typed.group)
    at = [one.key for one in screen.work.sheet.fields if one.group == typed.group].index(key)
    for _ in range(at):
        press(shown, pygame.K_DOWN)
    assert screen.board.focus.key == key


class TestKeys:
    def test_a_number_is_typed_and_taken_by_enter(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        to_field(shown, screen, "length")
        before = screen.work.judged
        write(shown, "48'")
        press(shown, pygame.K_RETURN)
        frames(shown, 1)
        assert screen.work.sheet.shown("length") == "48'"
        assert screen.work.judged is not before
        assert screen.board.focus.key == "width"  # Enter goes on to the next

    def test_what_is_not_understood_dims_the_verdict_and_says_it_is_old(self, said: list[str]) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        before = screen.work.judged
        to_field(shown, screen, "length")
        write(shown, "53 lb")
        press(shown, pygame.K_RETURN)
        said.clear()
        frames(shown, 1)
        assert screen.work.judged is not None and before is not None
        assert screen.work.judged.rows == before.rows
        assert any(text.startswith("Old:") for text in said)
        assert any("53 lb" in text for text in said) and any("Length" in text for text in said)
        press(shown, pygame.K_ESCAPE)  # forgets it
        frames(shown, 1)
        assert screen.work.why_old == ""

    def test_arrows_step_a_number_and_shift_steps_finely(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        to_field(shown, screen, "lane")
        write(shown, "33")
        press(shown, pygame.K_RETURN)
        press(shown, pygame.K_UP)
        assert screen.board.focus.key == "lane"
        press(shown, pygame.K_RIGHT)
        assert screen.work.sheet.shown("lane") == "33' 6\""
        press(shown, pygame.K_LEFT, mod=pygame.KMOD_LSHIFT)
        assert screen.work.sheet.shown("lane") == "33' 5\""

    def test_arrows_move_what_is_chosen_in_the_pictures(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        press(shown, pygame.K_TAB)
        while screen.board.grip != "unit_1":
            press(shown, pygame.K_SPACE)
        before = screen.work.sheet.lift.units[1].slew_axis_x_m
        press(shown, pygame.K_RIGHT)
        press(shown, pygame.K_RIGHT)
        assert 0.2 < screen.work.sheet.lift.units[1].slew_axis_x_m - before < 0.4
        press(shown, pygame.K_z, mod=CTRL)
        press(shown, pygame.K_z, mod=CTRL)
        assert screen.work.sheet.lift.units[1].slew_axis_x_m == before
        press(shown, pygame.K_y, mod=CTRL)
        assert screen.work.sheet.can_redo

    def test_all_areas_are_reached_by_tab_and_all_draw(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        seen = []
        for _ in range(5):
            seen.append(screen.board.focus.area)
            frames(shown, 1)
            press(shown, pygame.K_DOWN)
            frames(shown, 1)
            press(shown, pygame.K_TAB)
        assert seen == ["fields", "views", "rows", "path", "helps"]

    def test_tons_are_asked_for(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        to_field(shown, screen, "weight")
        write(shown, "22 tons")
        press(shown, pygame.K_RETURN)
        assert screen.work.ask is not None
        frames(shown, 1)
        press(shown, pygame.K_s, "s")
        assert screen.work.ask is None and screen.work.sheet.shown("weight") == "44,000 lb"


class TestMouse:
    def test_a_truck_is_dragged_and_the_verdict_follows_each_frame(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        _, (x, y) = place_of(shown, screen, "unit_0")
        mouse(shown, pygame.MOUSEBUTTONDOWN, x, y)
        seen = []
        for n in range(1, 5):
            mouse(shown, pygame.MOUSEMOTION, x - 12.0 * n, y)
            frames(shown, 1)
            assert screen.work.judged is not None
            seen.append(next(one.value for one in screen.work.judged.rows if one.code == "capacity"))
            assert screen.work.judged.check.description == replace(screen.work.sheet.lift)
        assert len(set(seen)) > 1 and screen.work.is_moving
        mouse(shown, pygame.MOUSEBUTTONUP, x - 48.0, y)
        frames(shown, 1)
        assert not screen.work.is_moving and screen.work.sheet.can_undo

    def test_pictures_do_not_jump_while_something_is_dragged(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        before = screen.pictures.frames
        _, (x, y) = place_of(shown, screen, "lane")
        mouse(shown, pygame.MOUSEBUTTONDOWN, x, y)
        mouse(shown, pygame.MOUSEMOTION, x, y - 60.0)
        frames(shown, 1)
        assert screen.pictures.frames == before

    def test_escape_drops_what_is_held(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        before = screen.work.sheet.lift
        _, (x, y) = place_of(shown, screen, "load")
        mouse(shown, pygame.MOUSEBUTTONDOWN, x + 40.0, y)
        mouse(shown, pygame.MOUSEMOTION, x + 80.0, y + 10.0)
        assert screen.work.sheet.lift != before
        press(shown, pygame.K_ESCAPE)
        assert screen.work.sheet.lift == before

    def test_every_grip_can_be_dragged(self) -> None:
        shown, screen = open_layout("tank_on_side", system="metric")
        begun(shown, screen)
        for grip in screen.work.sheet.grips:
            drag(shown, screen, grip.key, 9.0, -9.0, grip.view)
            assert not screen.work.sheet.is_dragging
        frames(shown, 1)

    def test_a_row_shows_its_station_and_marks_the_place(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        judged = screen.work.judged
        assert judged is not None
        wanted = next(n for n, one in enumerate(judged.rows) if one.station > 2)
        screen.board.first_row = 0
        screen.board.choose_row(wanted)
        frames(shown, 1)
        assert screen.work.station == judged.rows[wanted].station
        assert screen.work.row == judged.rows[wanted]

    def test_a_bar_of_the_ribbon_shows_its_station(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        mouse(shown, pygame.MOUSEBUTTONDOWN, 940.0, 960.0)
        frames(shown, 1)
        assert screen.work.station > 5


class TestHelps:
    def test_one_press_takes_a_help_and_one_takes_it_back(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        sheet = screen.work.sheet
        before = sheet.lift
        for _ in range(400):
            frames(shown, 1, 0.2)
            if not screen.work.is_trying and screen.work.helps:
                break
        assert screen.work.helps and screen.work.rooms
        wanted = screen.work.helps[0].lift
        press(shown, pygame.K_F6)
        assert sheet.lift == wanted != before
        press(shown, pygame.K_z, mod=CTRL)
        assert sheet.lift == before

    @pytest.mark.long
    def test_every_help_gains_what_it_says(self) -> None:
        bench = Bench("us")
        lift = bench.settled(load(find_scenario("box_on_wheels")))
        judged = bench.judged(lift)
        last = ()
        for found in bench.helps(lift, judged):
            last = found  # type: ignore[assignment]
        assert last
        for one in last:
            now = bench.judged(one.lift)  # type: ignore[attr-defined]
            first = judged.rows[0]
            same = next(row for row in now.rows if (row.code, row.who) == (first.code, first.who))
            assert same.used < first.used
            assert f"{first.value} to {same.value}" in one.gain  # type: ignore[attr-defined]


class TestFiles:
    def test_a_draft_survives_quitting_with_its_half_typed_text(self, own: Path) -> None:
        shown, screen = open_layout(folder=own)
        begun(shown, screen)
        drag(shown, screen, "unit_0", -30.0, 0.0)
        to_field(shown, screen, "length")
        write(shown, "53 ells")
        press(shown, pygame.K_RETURN)
        lift = screen.work.sheet.lift
        screen.leave()  # as closing the window does
        again, other = open_layout(folder=own)
        assert other.work.ask is not None
        begun(again, other)
        assert other.work.sheet.lift == lift
        assert other.work.sheet.shown("length") == "53 ells" and "axis_0" in other.work.sheet.given

    def test_text_in_the_middle_of_a_word_survives_too(self, own: Path) -> None:
        shown, screen = open_layout(folder=own)
        begun(shown, screen)
        to_field(shown, screen, "length")
        write(shown, "5x")
        screen.leave()
        again, other = open_layout(folder=own)
        begun(again, other)
        assert other.work.sheet.shown("length") == "5x"

    def test_a_draft_that_is_not_gone_on_with_becomes_a_file(self, own: Path) -> None:
        shown, screen = open_layout(folder=own)
        begun(shown, screen)
        drag(shown, screen, "unit_0", -30.0, 0.0)
        lift = screen.work.sheet.lift
        screen.leave()
        again, other = open_layout(folder=own)
        begun(again, other, pygame.K_n, "n")
        files = list((own / "scenarios").glob("*.toml"))
        assert len(files) == 1 and load(files[0]) == lift
        assert other.work.sheet.lift != lift

    def test_a_broken_draft_is_passed_over(self, own: Path) -> None:
        kept.draft_path().write_text('{"lift": "nonsense"')
        assert kept.kept("us", lambda one: one) is None
        _, screen = open_layout(folder=own)
        assert screen.work.ask is not None and screen.work.ask.options[0].what == "chosen"

    def test_saved_by_name_and_read_as_the_same_lift(self, own: Path) -> None:
        shown, screen = open_layout(folder=own)
        begun(shown, screen)
        drag(shown, screen, "lane", 0.0, -40.0)
        press(shown, pygame.K_s, mod=CTRL)
        assert screen.naming is not None
        frames(shown, 1)
        for _ in range(len(screen.naming)):
            press(shown, pygame.K_BACKSPACE)
        write(shown, "below the bend")
        press(shown, pygame.K_RETURN)
        path = own / "scenarios" / "below_the_bend.toml"
        assert load(path) == screen.work.sheet.lift
        text = path.read_text()
        assert "measured" in text and "assumed" in text and " ft" in text
        assert not kept.draft_path().exists()

    def test_a_name_that_another_lift_has_is_said_to_be_taken(self, own: Path) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        press(shown, pygame.K_s, mod=CTRL)
        press(shown, pygame.K_RETURN)
        other_shown, other = open_layout()
        begun(other_shown, other)
        press(other_shown, pygame.K_s, mod=CTRL)
        press(other_shown, pygame.K_RETURN)
        assert other.work.ask is not None and "already" in other.work.ask.text
        assert screen.work.path is not None and screen.work.path.name in other.work.ask.text
        press(other_shown, pygame.K_RETURN)
        assert other.work.path is not None and other.work.path != screen.work.path
        assert len(list((own / "scenarios").glob("*.toml"))) == 2

    def test_a_file_changed_meanwhile_is_asked_for_and_both_are_kept(self, own: Path) -> None:
        shown, screen = open_layout(folder=own)
        begun(shown, screen)
        path = own / "scenarios" / "mine.toml"
        screen.work.save_to(path)
        theirs = path.read_text() + "\n# somebody else was here\n"
        path.write_text(theirs)
        drag(shown, screen, "lane", 0.0, -40.0)
        press(shown, pygame.K_s, mod=CTRL)
        assert screen.work.ask is not None
        frames(shown, 1)
        press(shown, pygame.K_RETURN)
        assert path.read_text() == theirs
        assert load(own / "scenarios" / "mine_2.toml") == screen.work.sheet.lift

    def test_nothing_is_saved_while_a_field_is_half_typed(self, own: Path) -> None:
        shown, screen = open_layout(folder=own)
        begun(shown, screen)
        screen.work.sheet.type("length", "long")
        screen.work.save_to(own / "scenarios" / "x.toml")
        assert not (own / "scenarios" / "x.toml").exists() and screen.work.message

    def test_the_sheet_is_printed(self, own: Path) -> None:
        shown, screen = open_layout(folder=own)
        begun(shown, screen)
        press(shown, pygame.K_p, mod=CTRL)
        sheets = list((own / "sheets").glob("*.pdf"))
        assert len(sheets) == 1 and sheets[0].read_bytes().startswith(b"%PDF")


class TestWays:
    def test_from_the_start_screen_and_to_the_seats(self) -> None:
        shown, _ = open_layout()
        show_start(shown, None)
        assert isinstance(shown.screen, StartScreen)
        press(shown, pygame.K_l, "l")
        screen = shown.screen
        assert isinstance(screen, layout_screen.LayoutScreen)
        begun(shown, screen)
        press(shown, pygame.K_F5)
        assert isinstance(shown.screen, SeatCheck)

    def test_escape_goes_back_with_the_lift_chosen(self) -> None:
        shown, screen = open_layout()
        begun(shown, screen)
        drag(shown, screen, "lane", 0.0, -40.0)
        press(shown, pygame.K_ESCAPE)
        start = shown.screen
        assert isinstance(start, StartScreen) and start.choice is not None
        assert start.choice.description == screen.work.sheet.lift

    def test_without_somebody_who_judges_there_is_no_layout(self) -> None:
        shown = open_small()
        show_start(shown, None)
        press(shown, pygame.K_l, "l")
        assert isinstance(shown.screen, StartScreen)

    def test_a_new_lift_has_every_number_and_is_judged_within_its_first_frame(self) -> None:
        shown, screen = open_layout(None)
        begun(shown, screen)
        assert screen.work.judged is not None and screen.work.judged.missing
        assert screen.work.sheet.given == frozenset()


class TestMissing:
    def test_what_a_verdict_needs_is_said_beside_it_and_all_of_it_by_a_key(self, said: list[str]) -> None:
        """A new lift has no rating table, and nobody has judged the slope's face."""
        shown, screen = open_layout(None)
        begun(shown, screen)
        said.clear()
        screen.renew(shown.canvas)
        screen.frame(shown.canvas, 0.0)
        assert any("F4" in one and "no rating table" in one for one in said)
        press(shown, pygame.K_F4)
        said.clear()
        frames(shown, 1)
        assert "What is missing" in said and "What would help" not in said
        press(shown, pygame.K_F4)
        said.clear()
        frames(shown, 1)
        assert "What would help" in said

    def test_an_engineers_word_on_the_slope_is_typed_and_saved(self, own: Path) -> None:
        shown, screen = open_layout(None)
        begun(shown, screen)
        lacks = len(screen.work.judged.missing)  # type: ignore[union-attr]
        to_field(shown, screen, "face_by")
        write(shown, "R. Ash, report 12")
        press(shown, pygame.K_RETURN)
        frames(shown, 1)
        assert screen.work.sheet.lift.site.soil.face_judged_by == "R. Ash, report 12"
        assert len(screen.work.judged.missing) == lacks - 2, "one for each unit"  # type: ignore[union-attr]
        assert parse_text(kept.text_for(screen.work.sheet), "saved") == screen.work.sheet.lift
