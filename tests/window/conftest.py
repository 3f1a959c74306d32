"""Window tests draw with SDL's dummy driver: no screen, no sound."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from typing import Any

os.environ["SDL_VIDEODRIVER"] = "dummy"
os.environ["SDL_AUDIODRIVER"] = "dummy"
# Nobody's own settings and recordings are read or written by a test.
os.environ["XDG_CONFIG_HOME"] = os.path.join(tempfile.gettempdir(), f"slopepick-tests-{os.getpid()}")
os.environ["XDG_DATA_HOME"] = os.environ["XDG_CONFIG_HOME"]

import pygame
import pytest

from simulator import words
from simulator.window.kit.canvas import Canvas
from simulator.window.screens import drive
from simulator.window.shell import rubbish

LONGER = 1.3
"""Times the letters of a shipped text, in another language."""


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """A computer that takes no time: a slow one puts steps off, and then keys last longer than they were held."""
    monkeypatch.setattr(drive, "perf_counter", lambda: 0.0)


class NoCollector:
    """Looks through nothing: what all tests hold takes half a second of it, as often as a lift is opened."""

    @staticmethod
    def get_freeze_count() -> int:
        return 0

    @staticmethod
    def freeze() -> None:
        pass


@pytest.fixture(autouse=True)
def held(monkeypatch: pytest.MonkeyPatch) -> None:
    """Rubbish is what Python looks for by itself; `test_rubbish.py` has the collector."""
    monkeypatch.setattr(rubbish, "gc", NoCollector)


@pytest.fixture
def screen() -> Iterator[pygame.Surface]:
    """A window of full size that nobody sees."""
    pygame.display.init()
    pygame.font.init()
    yield pygame.display.set_mode((1920, 1080))
    pygame.display.quit()


@pytest.fixture
def canvas(screen: pygame.Surface) -> Canvas:
    """A canvas on it."""
    return Canvas(screen)


@pytest.fixture
def said(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """All that any canvas writes, in its order, numbers left out; it is drawn all the same."""
    texts, text = [], Canvas.text

    def noting(self: Canvas, one: str, *place: Any, **how: Any) -> float:
        texts.append(one)
        return text(self, one, *place, **how)

    monkeypatch.setattr(Canvas, "text", noting)
    return texts


@pytest.fixture
def cut_short(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """All texts that any canvas has to cut to their room."""
    cut, fitted = [], Canvas.fitted

    def noting(self: Canvas, text: str, size: float, width: float, **more: Any) -> tuple[str, float]:
        result = fitted(self, text, size, width, **more)
        if result[0] != text:
            cut.append(text)
        return result

    monkeypatch.setattr(Canvas, "fitted", noting)
    return cut


@pytest.fixture(params=["shipped", "longer"])
def any_words(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """The shipped words, and those of a longer language."""
    if request.param == "longer":
        texts = {key: text + "n" * round(len(text) * (LONGER - 1.0)) for key, text in words.table().items()}
        monkeypatch.setattr(words, "known", lambda key, otherwise="": texts.get(key, otherwise))
