"""The real program in a real window on a virtual display: keys from outside, readings from the telemetry it writes.

Needs Xvfb and xdotool, which are for X11.
"""

from __future__ import annotations

import csv
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from simulator.readings import Readings, channels_of  # noqa: E402 - a script finds the program beside it
from simulator.recording.recorded import as_readings  # noqa: E402
from simulator.scenario.rig import Rig  # noqa: E402

Environment = dict[str, str]
Running = subprocess.Popen[bytes]


def can_be_had() -> bool:
    """This computer has what it takes."""
    return sys.platform == "linux" and all(shutil.which(name) for name in ("Xvfb", "xdotool"))


@contextmanager
def display(size: str = "1920x1080") -> Iterator[Environment]:
    """A virtual display of its own; answers the environment for a program on it."""
    read, write = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(write), "-screen", "0", f"{size}x24", "-nolisten", "tcp", "-noreset"],
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
    try:
        yield environment
    finally:
        server.terminate()
        server.wait()


def _as_a_terminal_would() -> None:
    """Whoever runs this may ignore a hang-up, as nohup does, and what is ignored is handed on."""
    signal.signal(signal.SIGHUP, signal.SIG_DFL)
    signal.signal(signal.SIGINT, signal.default_int_handler)


@contextmanager
def program(environment: Environment, scenario: str, telemetry: Path, *, rate: float) -> Iterator[Running]:
    """The program with a lift for two people, begun at once; closed at the end if it has not closed itself.

    Without a scenario it begins with its start screen.
    """
    lift = [scenario, "--at-once"] if scenario else []
    command = [sys.executable, "-m", "simulator", "drive", *lift, "--telemetry", str(telemetry), "--rate", str(rate)]
    with subprocess.Popen(
        command,
        env=environment,
        cwd=ROOT,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        preexec_fn=_as_a_terminal_would,
    ) as running:
        try:
            yield running
        finally:
            running.terminate()
            running.wait(timeout=20)


def key(environment: Environment, action: str, names: Iterable[str]) -> None:
    """Let keys go down or up, or both: `keydown`, `keyup`, `key`."""
    if given := list(names):
        subprocess.run(["xdotool", action, *given], env=environment, check=True)


class Tail:
    """Reads on in telemetry that grows: beside its place while the lift runs, then the same rows in their place."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._read = 0
        self._columns: list[str] = []

    def rows(self) -> list[dict[str, float]]:
        """Whole rows that have come since the last look."""
        parts = sorted(self._path.parent.glob(f"{self._path.name}.*.part"))
        path = parts[-1] if parts else self._path
        if not path.exists():
            return []
        with path.open("rb") as file:
            file.seek(self._read)
            new = file.read()
        whole = new[: new.rfind(b"\n") + 1]
        self._read += len(whole)
        lines = [line for line in whole.decode().splitlines() if not line.startswith("#")]
        parsed = list(csv.reader(lines))
        if parsed and not self._columns:
            self._columns = parsed.pop(0)
        return [dict(zip(self._columns, map(float, row), strict=True)) for row in parsed]


def readings_of(row: dict[str, float], rig: Rig) -> Readings:
    """A row of telemetry as readings of a lift with this rig, without gaps."""
    channels = channels_of(rig.unit_names, rig.line_names)
    return as_readings(np.array([row[channel.name] for channel in channels]), rig)
