"""A window that nobody could see, or that does not fit, is refused in a sentence."""

from __future__ import annotations

import pygame
import pytest

from simulator.window.program import NoDisplay, open_window, run_drive


def test_a_driver_that_shows_nothing_is_for_those_who_count_frames() -> None:
    """The tests' environment names one."""
    with pytest.raises(NoDisplay, match="SDL_VIDEODRIVER is set to dummy, which shows nothing"):
        run_drive(None)
    assert run_drive(None, most_frames=2) == 0


def test_a_display_that_is_too_small_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pygame.display, "get_driver", lambda: "x11")
    monkeypatch.setattr(pygame.display, "get_desktop_sizes", lambda: [(1024, 600)])
    with pytest.raises(NoDisplay, match="1024x600 pixels, and 1280x720 are needed"):
        open_window()
    monkeypatch.setattr(pygame.display, "get_desktop_sizes", lambda: [(1280, 720)])
    assert open_window() is not None
    pygame.quit()
