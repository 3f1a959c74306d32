"""A real window under a virtual display; keys come from outside, as from a keyboard."""

from __future__ import annotations

import shutil
import signal
import subprocess
import time
from io import BytesIO
from pathlib import Path

import pygame
import pytest

from simulator.recording.lift_file import read
from simulator.window.kit.palette import INK, PANEL
from tools.real_window import Tail, can_be_had, display, key, program

pytestmark = pytest.mark.skipif(not can_be_had(), reason="needs Linux, Xvfb and xdotool")
PATIENCE_S = 60.0


def wait_for(tail: Tail, name: str, least: float) -> dict[str, float]:
    """Wait until a reading is at least so much; the newest row."""
    end, row = time.monotonic() + PATIENCE_S, dict[str, float]()
    while time.monotonic() < end:
        rows = tail.rows()
        row = rows[-1] if rows else row
        if row and row[name] >= least:
            return row
        time.sleep(0.2)
    raise AssertionError(f"{name} never reached {least}; last row {row}")


def test_keys_from_outside_lift_the_trailer_off_the_bed(tmp_path: Path) -> None:
    path = tmp_path / "telemetry.csv"
    own = {name: str(tmp_path) for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME")}
    with display() as environment, program(environment | own, "practice_yard", path, rate=5):
        tail = Tail(path)
        start = wait_for(tail, "time_s", 0.5)
        assert start["load.ground_N"] > 0.0
        key(environment, "keydown", ["r", "u"])
        lifted = wait_for(tail, "load.height_over_bed_m", 0.3)
        key(environment, "keyup", ["r", "u"])
        assert lifted["load.ground_N"] == 0.0
        assert lifted["nose.hook_load_N"] > 20e3
        assert lifted["tail.hook_load_N"] > 20e3
        held = wait_for(tail, "time_s", lifted["time_s"] + 5.0)
        assert held["nose.hoist_speed_mps"] == held["tail.hoist_speed_mps"] == 0.0


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP", "SIGINT"])
def test_a_window_that_is_asked_to_end_keeps_the_second_it_is_in(name: str, tmp_path: Path) -> None:
    path = tmp_path / "telemetry.csv"
    own = {name: str(tmp_path) for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME")}
    with display("1280x720") as environment, program(environment | own, "practice_yard", path, rate=5) as running:
        tail = Tail(path)
        wait_for(tail, "time_s", 1.2)
        running.send_signal(getattr(signal, name))
        assert running.wait(timeout=PATIENCE_S) == 1
        assert running.stderr is not None
        said = running.stderr.read().decode()
    (kept,) = tmp_path.rglob("*.lift")
    assert "Traceback" not in said and f"Recording: {kept}" in said
    recording = read(kept)
    assert recording.how == "left" and recording.notes == () and recording.length_s >= 1.2
    assert recording.ending is not None and recording.ending.step == recording.seconds[-1].end_step
    assert path.read_text(encoding="utf-8").count("\n") > 5 and not list(tmp_path.glob("*.part"))


def colors_at(environment: dict[str, str], *places: tuple[int, int]) -> list[tuple[int, ...]]:
    """Colors on the display."""
    shot = subprocess.run(["import", "-window", "root", "png:-"], env=environment, check=True, capture_output=True)
    picture = pygame.image.load(BytesIO(shot.stdout), "root.png")
    return [tuple(picture.get_at(place))[:3] for place in places]


@pytest.mark.skipif(shutil.which("import") is None, reason="needs ImageMagick")
def test_full_screen_begins_in_the_corner_where_nobody_manages_windows(tmp_path: Path) -> None:
    path, (width, height) = tmp_path / "telemetry.csv", (1366, 768)
    own = {name: str(tmp_path) for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME")}
    with display(f"{width}x{height}") as environment, program(environment | own, "practice_yard", path, rate=5):
        tail = Tail(path)
        wait_for(tail, "time_s", 0.2)
        corners = (2, 2), (width - 3, height - 3)
        assert colors_at(environment, *corners) == [(0, 0, 0)] * 2, "a window that does not fill the display"
        key(environment, "key", ["F11"])
        end, seen = time.monotonic() + PATIENCE_S, []
        while time.monotonic() < end and seen != [PANEL, INK]:
            time.sleep(0.2)
            seen = colors_at(environment, *corners)
        assert seen == [PANEL, INK], "coach strip and caution line"
        key(environment, "keydown", ["r"])
        wait_for(tail, "nose.hoist_speed_mps", 0.05)
        key(environment, "keyup", ["r"])
