"""One short lift, recorded once: automatic operators, a stop order in it."""

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.engine.commands import STILL
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.recording.keep import start_recording
from simulator.scenario.description import Description
from simulator.scenario.reader import load

LENGTH_S = 20
STOPPED_S, LIFTED_S = 6, 8


class Recorded(NamedTuple):
    """A lift, its file, and all readings that went by."""

    path: Path
    attempt: Attempt
    seen: list[Readings]


@pytest.fixture(scope="session")
def described() -> Description:
    return load(find_scenario("practice_yard"))


@pytest.fixture(scope="session")
def lift(described: Description, tmp_path_factory: pytest.TempPathFactory) -> Recorded:
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)])
    seen = [attempt.readings]
    attempt.observers.append(seen.append)
    with start_recording(attempt, tmp_path_factory.mktemp("kept"), "2031-04-05 06:07", ("Ada", "Ben")) as recorder:
        for second in range(LENGTH_S):
            if second == STOPPED_S:
                attempt.stop()
            if second == LIFTED_S:
                attempt.resume()
            attempt.advance(STILL, described.engine.steps_per_s)
        recorder.close(text="end of the hour")
    assert recorder.stopped_at_s is None
    return Recorded(recorder.path, attempt, seen)


@pytest.fixture
def changed(lift: Recorded, tmp_path: Path) -> Callable[[bytes], Path]:
    """Writes some bytes as a file of its own."""

    def write(data: bytes) -> Path:
        path = tmp_path / "changed.lift"
        path.write_bytes(data)
        return path

    return write
