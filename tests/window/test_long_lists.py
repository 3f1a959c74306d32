"""A folder of thousands of recordings does not hold up the window: the list grows while frames go on."""

from pathlib import Path

import pygame
import pytest

from simulator.recording.listing import FEWEST_INDEXED
from simulator.window.kit.canvas import Canvas
from simulator.window.screens import recordings
from simulator.window.screens.recordings import ROWS, RecordingsScreen

MANY = FEWEST_INDEXED - 1


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for number in range(MANY):
        (tmp_path / f"{number:04}.lift").write_bytes(b"no such thing")
    return tmp_path


def test_a_long_list_is_looked_into_a_little_each_frame(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(recordings, "LOOK_S", 0.0)  # one file a frame
    canvas = Canvas(pygame.Surface((640, 360)))
    screen = RecordingsScreen(folder)
    assert len(screen.entries) == ROWS
    screen.take_event(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_DOWN))
    chosen = screen.entries[screen.chosen].path
    frames = 0
    while len(screen.entries) < MANY:
        screen.frame(canvas, 0.1)
        frames += 1
        assert screen.entries[screen.chosen].path == chosen
    assert frames == MANY - ROWS
    assert not screen.frame(canvas, 0.1)  # and then it stands still
