"""The start screen: what is on offer, files that cannot be used, and the check before driving."""

from __future__ import annotations

from dataclasses import replace
from math import ceil
from pathlib import Path
from typing import Literal

import pygame
import pytest

from simulator.attempt import Attempt
from simulator.places import find_scenario
from simulator.recording.keep import start_recording
from simulator.recording.settings import Settings
from simulator.scenario.reader import load
from simulator.window.kit.canvas import Canvas
from simulator.window.screens.debrief_screen import DebriefScreen
from simulator.window.screens.recordings import RecordingsScreen
from simulator.window.screens.sentences import LinesScreen, Sentence
from simulator.window.screens.start_screen import StartScreen
from simulator.window.screens.start_view import START_W, STORY, STORY_W, start_words, story_lines
from simulator.window.shell import lifts_on_offer
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice, begin_attempt
from simulator.window.shell.lifts_on_offer import offered_lifts
from simulator.words import say
from tests.window.inside import leave_lift, show, spots_of
from tests.window.screens import frames, mouse, open_small, show_lift, show_start, tap, yard


def test_broken_user_files_show_all_their_faults_and_are_not_driven(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    good = Path(lifts_on_offer.shipped_scenarios()[0]).read_text(encoding="utf-8")
    (tmp_path / "a_good.toml").write_text(good, encoding="utf-8")
    (tmp_path / "broken.toml").write_text(good.replace("title =", "titel =", 1) + "\n[nonsense]\n", encoding="utf-8")
    (tmp_path / "worse.toml").write_bytes(b"\xff\x00")
    own = lifts_on_offer.user_offers(tmp_path)
    assert [row.name for row in own] == ["a_good.toml", "broken.toml", "worse.toml"]
    assert [row.description is None for row in own] == [False, True, True]
    shown = open_small()
    shown.desk.offers = offered_lifts((), own)
    show_start(shown, None)
    start = shown.screen
    assert isinstance(start, StartScreen) and len(start.descriptions) == 1
    tap(shown, pygame.K_RIGHT)
    frames(shown, 1)
    tap(shown, pygame.K_RETURN)
    assert isinstance(start.over, LinesScreen)
    assert [line.text for line in start.over.lines] == list(own[1].faults) and len(own[1].faults) >= 2
    frames(shown, 1)
    tap(shown, pygame.K_ESCAPE)
    assert start.over is None and start.choice is None


def test_many_faults_scroll_to_the_last() -> None:
    shown = open_small()
    lines = LinesScreen("t", "w", tuple(Sentence("caution", f"fault {n}") for n in range(60)))
    show(shown, lines)
    frames(shown, 1)
    for _ in range(40):
        tap(shown, pygame.K_PAGEDOWN)
        frames(shown, 1)
    assert lines.first > 40 and lines._last == 60
    tap(shown, pygame.K_HOME)
    assert lines.first == 0


def test_a_check_before_driving_lists_what_it_is_told() -> None:
    asked = []

    def check(description: object, units: str) -> tuple[bool, tuple[tuple[str, str], ...]]:
        asked.append((description, units))
        return False, (("stop", "Too far."), ("good", "Enough rope."))

    shown = open_small(check=check)
    show_start(shown, Choice(yard(), "two"))
    start = shown.screen
    assert isinstance(start, StartScreen)
    tap(shown, pygame.K_c)
    assert isinstance(start.over, LinesScreen) and "a limit is passed" in start.over.title
    assert [line.text for line in start.over.lines] == ["Too far.", "Enough rope."]
    assert asked == [(start.descriptions[start.lift], "metric")]


def test_a_load_that_would_not_stay_where_it_lies_is_not_driven() -> None:
    why = "trailer, friction needed to stay put: 200 %."
    shown = open_small(check=lambda description, units: (False, (("stop", why),), why))
    show_start(shown, Choice(yard(), "two"))
    start = shown.screen
    assert isinstance(start, StartScreen)
    tap(shown, pygame.K_RETURN)
    assert shown.screen is start
    assert isinstance(start.over, LinesScreen) and "not driven" in start.over.title
    assert [line.text for line in start.over.lines] == [why[:1].upper() + why[1:]]


def test_without_a_check_its_key_does_nothing() -> None:
    shown = open_small()
    show_start(shown, None)
    tap(shown, pygame.K_c)
    assert isinstance(shown.screen, StartScreen) and shown.screen.over is None


def test_lifts_that_are_not_shown_are_reached_with_the_mouse_alone() -> None:
    shown = open_small()
    show_start(shown, None)
    start = shown.screen
    assert isinstance(start, StartScreen)
    seen = set()
    for kind in ("row", "wheel"):
        for way in (1, -1):
            for _ in range(len(start.offers)):
                frames(shown, 1)
                places = spots_of(start)
                seen |= {number for _, (what, number) in places if what == "lift"}
                at = next(((one.x + 1.0, one.y + 1.0) for one, what in places if what == (kind, way)), None)
                if kind == "wheel":
                    pygame.event.post(pygame.event.Event(pygame.MOUSEWHEEL, x=0, y=-way))
                    shown.take_events()
                elif at is not None:
                    mouse(shown, pygame.MOUSEBUTTONDOWN, *at)
            frames(shown, 1)
            assert ("row", way) not in [what for _, what in start.spots._places], "nothing is left that way"
            if kind == "wheel":
                assert start.lift // 2 == ((len(start.offers) - 1) // 2 if way > 0 else 0)
    assert seen == set(range(len(start.offers)))


@pytest.mark.parametrize("size", [(1920, 1080), (1366, 768), (1280, 720)])
def test_every_shipped_story_stands_whole_and_30_percent_longer_too(
    screen: pygame.Surface, size: tuple[int, int]
) -> None:
    canvas = Canvas(pygame.Surface(size))
    for one in (*lifts_on_offer.shipped_lifts(), *(row.description for row in lifts_on_offer.drill_offers())):
        assert one is not None
        for text in (one.story, " ".join(word + "n" * ceil(0.3 * len(word) - 0.5) for word in one.story.split())):
            lines, height, pitch = story_lines(canvas, text)
            assert all(canvas.text_width(line, height, weight="medium") <= STORY_W for line in lines), one.title
            assert pitch * len(lines) <= STORY.h and " ".join(lines) == " ".join(text.split())


def test_the_yard_and_the_turn_in_the_air_stand_first_then_the_easiest() -> None:
    first = [load(find_scenario(name)) for name in ("practice_yard", "turn_over_tank")]
    lifts = list(lifts_on_offer.shipped_lifts())
    assert lifts[:2] == first and len(lifts) == len(lifts_on_offer.shipped_scenarios())
    rest = [(one.difficulty, one.title) for one in lifts[2:]]
    assert rest == sorted(rest)


def test_shipped_drills_are_on_offer_after_the_lifts() -> None:
    shown = open_small()
    show_start(shown, None)
    start = shown.screen
    assert isinstance(start, StartScreen)
    has_drill = [row.drill is not None for row in start.descriptions]
    assert has_drill == sorted(has_drill) and has_drill.count(True) == len(lifts_on_offer.shipped_drills()) > 0


def test_recordings_of_the_folder_are_listed_and_one_is_opened(tmp_path: Path) -> None:
    shown = open_small(desk=Desk(Settings(recordings=str(tmp_path)), keeps_lifts=True), begin=begin_attempt)
    show_lift(shown, Choice(yard(), "two"))
    frames(shown, 4, 0.1)
    leave_lift(shown)
    (tmp_path / "other.lift").write_bytes(b"nothing of ours")
    show_start(shown, None)
    tap(shown, pygame.K_r)
    frames(shown, 1)
    start = shown.screen
    assert isinstance(start, StartScreen) and isinstance(start.over, RecordingsScreen)
    names = [entry.path.name for entry in start.over.entries]
    assert len(names) == 2 and "other.lift" in names
    for _ in names:
        tap(shown, pygame.K_UP)
    while start.over.entries[start.over.chosen].path.name != "other.lift":
        tap(shown, pygame.K_DOWN)
    tap(shown, pygame.K_RETURN)
    assert shown.screen is start
    tap(shown, pygame.K_UP if start.over.chosen else pygame.K_DOWN, pygame.K_RETURN)
    assert isinstance(shown.screen, DebriefScreen)
    assert shown.screen.back.recording.head.title == yard().title


def test_a_recording_that_vanished_is_a_sentence(tmp_path: Path) -> None:
    shown = open_small(desk=Desk(Settings(recordings=str(tmp_path)), keeps_lifts=True), begin=begin_attempt)
    show_lift(shown, Choice(yard(), "two"))
    frames(shown, 4, 0.1)
    show_start(shown, None)
    tap(shown, pygame.K_r)
    frames(shown, 1)
    (gone,) = tmp_path.glob("*.lift")
    gone.unlink()
    tap(shown, pygame.K_RETURN)
    assert isinstance(shown.screen, StartScreen) and isinstance(shown.screen.over, LinesScreen)
    assert "no such file" in shown.screen.over.lines[0].text


@pytest.mark.parametrize("size", [(1920, 1080), (1366, 768), (1280, 720)])
@pytest.mark.parametrize("who", range(4))
def test_the_start_button_says_who_drives_however_long_the_title(size: tuple[int, int], who: int) -> None:
    shown = open_small()
    long = replace(yard(), title="A tank trailer on its side in a stream bed, twelve meters down the slope")
    start, canvas = StartScreen(offered_lifts((long, yard()), ()), shown.desk), Canvas(pygame.Surface(size))
    start.who = who
    words, said = start_words(canvas, start), say(start.who_row.said)
    assert words.startswith("A tank trailer") and words.endswith(f"\N{HORIZONTAL ELLIPSIS}, {said}")
    assert canvas.text_width(words, 26.0) <= START_W
    start.lift = 1
    assert start_words(canvas, start) == f"{yard().title}, {said}", "whole where there is room"


@pytest.mark.parametrize(("seen", "words"), [("left", "left 90, right 80"), ("right", "left 80, right 90")])
def test_the_list_of_recordings_gives_each_seats_points_as_it_sits(
    tmp_path: Path, said: list[str], seen: Literal["left", "right"], words: str
) -> None:
    description = replace(yard(), site=replace(yard().site, nose_seen_from_ravine=seen))
    start_recording(Attempt(description), tmp_path, "2031-04-05").close(score="85 (nose 90, tail 80)")
    open_small()
    RecordingsScreen(tmp_path).draw(Canvas(pygame.Surface((1280, 720))))
    assert f"score 85: {words}" in said
