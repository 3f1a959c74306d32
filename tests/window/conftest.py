"""Window tests draw with SDL's dummy driver: no screen, no sound."""

from __future__ import annotations

import os
from collections.abc import Iterator

os.environ["SDL_VIDEODRIVER"] = "dummy"
os.environ["SDL_AUDIODRIVER"] = "dummy"

import pygame
import pytest

from simulator.window.canvas import Canvas


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
