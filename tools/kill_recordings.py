"""Programs killed while they record: each file opens, and at most the last second of its lift is lost.

python tools/kill_recordings.py [how many, 50] [seed, 1]      (needs fork: not on Windows)
"""

import mmap
import os
import random
import signal
import sys
import tempfile
import time
from pathlib import Path
from struct import pack_into, unpack_from

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from simulator.attempt import Attempt  # noqa: E402
from simulator.engine.commands import Commands, UnitCommands  # noqa: E402
from simulator.places import find_scenario  # noqa: E402
from simulator.recording.keep import list_recordings, start_recording  # noqa: E402
from simulator.recording.reader import read  # noqa: E402
from simulator.scenario.reader import load  # noqa: E402

LONGEST_S = 1.2
"""Each is killed within this, wall time."""


def main(count: int, seed: int) -> int:
    """Kill so many; 1 when a file does not open or more than a second is lost."""
    attempt = Attempt(load(find_scenario("practice_yard")))
    per_s = attempt.description.engine.steps_per_s
    chance, lost = random.Random(seed), []
    with tempfile.TemporaryDirectory() as folder:
        for number in range(count):
            reached = _killed(attempt, Path(folder), number, chance.uniform(0.05, LONGEST_S))
            files = [one for one in Path(folder).iterdir() if f"number-{number}_" in one.name]
            if not reached:
                continue
            recording = read(files[0])
            saved = recording.seconds[-1].end_step if recording.seconds else 0
            lost.append((reached - saved) / per_s)
            assert recording.how == "broken off" and recording.notes
        assert len(list_recordings(Path(folder))) >= len(lost)
    if not lost:
        print("none lived long enough to record: nothing was tried", file=sys.stderr)
        return 1
    print(f"{len(lost)} of {count} killed while they recorded; most lost {max(lost):.3f} s")
    return 0 if max(lost) <= 1.0 + attempt.every / per_s else 1


def _killed(attempt: Attempt, folder: Path, number: int, after_s: float) -> int:
    """The last step that a program did before it was killed."""
    shared = mmap.mmap(-1, 8)
    child = os.fork()
    if child == 0:
        _record(attempt, folder, number, shared)
        os._exit(0)
    time.sleep(after_s)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return int(unpack_from("<Q", shared)[0])


def _record(attempt: Attempt, folder: Path, number: int, shared: mmap.mmap) -> None:
    start_recording(attempt, folder, f"number {number}")
    turn = 0
    while True:
        turn += 1
        hands = UnitCommands(hoist=0.5 if turn % 40 < 20 else -0.5)
        attempt.advance(Commands(hands, hands), attempt.every)
        pack_into("<Q", shared, 0, attempt.simulation.state.step)


if __name__ == "__main__":
    given = [int(text) for text in sys.argv[1:]]
    sys.exit(main(*given, *(50, 1)[len(given) :]))
