"""Where acceleration is the processor's own work, the program presents plainly by itself, and says so."""

import os
from collections.abc import Iterator

import pytest

from simulator.window import loop
from simulator.window.loop import Program
from simulator.window.screens.settings_screen import ROWS, SettingsScreen
from simulator.window.shell.display import FEWEST_FLIPS, TIMED_FLIPS, Presented, presented
from simulator.words import say
from tests.window.screens import frames, open_small, show_start

ACCELERATED, PLAIN = Presented(12.0, 33.0), Presented(5.0, 5.5)
"""As measured with Mesa's software renderer and without it."""


@pytest.fixture
def costs(monkeypatch: pytest.MonkeyPatch) -> Iterator[dict[bool, Presented]]:
    """What showing a frame takes, with plain presenting and without."""
    found = {True: PLAIN, False: ACCELERATED}
    monkeypatch.delenv("SDL_FRAMEBUFFER_ACCELERATION", raising=False)
    monkeypatch.setattr(loop, "presented", lambda _: found[os.environ.get("SDL_FRAMEBUFFER_ACCELERATION") == "0"])
    yield found
    os.environ.pop("SDL_FRAMEBUFFER_ACCELERATION", None)


def _looked() -> Program:
    shown = open_small()
    shown.look_at_display()
    return shown


def _is_plain() -> bool:
    return os.environ.get("SDL_FRAMEBUFFER_ACCELERATION") == "0"


def test_dear_acceleration_is_done_without_and_said(costs: dict[bool, Presented], said: list[str]) -> None:
    shown = _looked()
    assert _is_plain() and not shown.desk.settings.plain_presenting
    frames(shown, 3)
    assert _is_plain()  # it stays so
    show_start(shown, None)
    frames(shown, 1)
    assert say("start.dear_present", value="33") in said
    settings = SettingsScreen(shown.desk)
    settings.chosen = next(place for place, row in enumerate(ROWS) if row.name == "plain_presenting")
    said.clear()
    settings.draw(shown.canvas)
    assert say("settings.dear_present", value="33") in " ".join(said)


def test_a_graphics_card_is_left_to_work(costs: dict[bool, Presented], said: list[str]) -> None:
    costs[False] = Presented(16.7, 0.4)  # waiting for the screen takes time and no work
    shown = _looked()
    assert not _is_plain()
    assert shown.desk.dear_present_ms == 0.0 and shown.desk.slow_present_ms == 16.7


@pytest.mark.parametrize("plain", [Presented(5.0, 40.0), Presented(60.0, 5.0)])
def test_what_is_no_better_plainly_is_left_as_it_was(costs: dict[bool, Presented], plain: Presented) -> None:
    costs[True] = plain
    shown = _looked()
    assert not _is_plain()
    assert (shown.desk.dear_present_ms, shown.desk.slow_present_ms) == (0.0, 12.0)


def test_whoever_chooses_by_hand_has_the_last_word(costs: dict[bool, Presented]) -> None:
    shown = _looked()
    for plain in (True, False):
        shown.desk.change(plain_presenting=plain)
        frames(shown, 1)
        assert _is_plain() == plain
        assert shown.desk.dear_present_ms == 0.0


def test_few_frames_are_shown_where_each_takes_long(monkeypatch: pytest.MonkeyPatch) -> None:
    shown, flips = open_small(), []
    clock = iter(range(1000))
    monkeypatch.setattr("pygame.display.flip", lambda: flips.append(1))
    monkeypatch.setattr("simulator.window.shell.display.perf_counter", lambda: float(next(clock)))
    assert presented(shown.surface).wall_ms == 1000.0
    assert len(flips) == FEWEST_FLIPS
    flips.clear()
    monkeypatch.setattr("simulator.window.shell.display.perf_counter", lambda: 0.0)
    presented(shown.surface)
    assert len(flips) == TIMED_FLIPS
