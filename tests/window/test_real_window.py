"""A real window under a virtual display; keys come from outside, as from a keyboard."""

import csv
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

pytestmark = [
    pytest.mark.skipif(sys.platform != "linux", reason="virtual displays are X11"),
    pytest.mark.skipif(not shutil.which("Xvfb") or not shutil.which("xdotool"), reason="needs Xvfb and xdotool"),
]
PATIENCE_S = 60.0


@pytest.fixture
def display() -> Iterator[dict[str, str]]:
    """The environment of a virtual display of its own."""
    read, write = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(write), "-screen", "0", "1920x1080x24", "-nolisten", "tcp"],
        pass_fds=[write],
        stderr=subprocess.DEVNULL,
    )
    os.close(write)
    number = b""
    while not number.endswith(b"\n"):
        number += os.read(read, 16)
    os.close(read)
    environment = {**os.environ, "DISPLAY": f":{number.decode().strip()}", "SDL_AUDIODRIVER": "dummy"}
    environment.pop("SDL_VIDEODRIVER", None)
    yield environment
    server.terminate()
    server.wait()


def last_row(path: Path) -> dict[str, float]:
    """The newest whole row of a telemetry file; empty before the first."""
    if not path.exists():
        return {}
    rows = list(csv.reader(path.read_text(encoding="utf-8").splitlines()[1:]))
    whole = [row for row in rows[1:] if len(row) == len(rows[0])]
    return dict(zip(rows[0], map(float, whole[-1]), strict=True)) if whole else {}


def wait_for(path: Path, name: str, least: float) -> dict[str, float]:
    """Wait until a reading is at least so much."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        row = last_row(path)
        if row and row[name] >= least:
            return row
        time.sleep(0.2)
    raise AssertionError(f"{name} never reached {least}; last row {last_row(path)}")


def test_keys_from_outside_lift_the_trailer_off_the_bed(display: dict[str, str], tmp_path: Path) -> None:
    telemetry = tmp_path / "telemetry.csv"
    command = [
        sys.executable,
        "-m",
        "simulator",
        "drive",
        "practice_yard",
        "--telemetry",
        str(telemetry),
        "--rate",
        "5",
    ]
    program = subprocess.Popen(command, env=display, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def key(action: str, *names: str) -> None:
        subprocess.run(["xdotool", action, *names], env=display, check=True)

    try:
        start = wait_for(telemetry, "time_s", 0.5)
        assert start["load.ground_N"] > 0.0
        key("keydown", "r")
        key("keydown", "u")
        lifted = wait_for(telemetry, "load.height_over_bed_m", 0.3)
        key("keyup", "r")
        key("keyup", "u")
        assert lifted["load.ground_N"] == 0.0
        assert lifted["nose.hook_load_N"] > 20e3
        assert lifted["tail.hook_load_N"] > 20e3
        wait_for(telemetry, "time_s", lifted["time_s"] + 5.0)
        held = last_row(telemetry)
        assert held["nose.hoist_speed_mps"] == held["tail.hoist_speed_mps"] == 0.0
    finally:
        program.terminate()
        program.wait(timeout=20)
