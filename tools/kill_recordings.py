"""Programs killed while they record: each file opens, and at most the last second of its lift is lost.

python tools/kill_recordings.py [how many, 50] [seed, 1]      (needs fork: not on Windows)

Spread over a lift's whole life: while the file is made, in its first second, later, and around its end mark. No empty
file is left, whenever it was.
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
from simulator.recording.lift_file import read  # noqa: E402
from simulator.scenario.reader import load  # noqa: E402

LONGEST_S = 1.2
"""Each that is killed while it drives is killed within this, wall time."""
BEGUN, ENDED = 1 << 40, 1 << 41
"""Marks of a life that is not measured in steps."""


def main(count: int, seed: int) -> int:
    """Kill so many; 1 when a file does not open, is empty, or more than a second is lost."""
    attempt = Attempt(load(find_scenario("practice_yard")))
    per_s = attempt.description.engine.steps_per_s
    chance, lost, whole, unborn = random.Random(seed), [], 0, 0
    with tempfile.TemporaryDirectory() as folder:
        for number in range(count):
            reached = _killed(attempt, Path(folder), number, chance)
            files = [one for one in Path(folder).glob("*.lift") if f"number-{number}_" in one.name]
            assert all(one.stat().st_size for one in files), "an empty file"
            if not files:
                assert reached in (0, BEGUN), "a lift that was driven left no file"
                unborn += 1
                continue
            recording = read(files[0])
            saved = recording.seconds[-1].end_step if recording.seconds else 0
            whole += recording.ending is not None
            lost.append((reached % BEGUN - saved) / per_s)
            assert recording.how != "broken off" or recording.notes
        assert len(list_recordings(Path(folder))) == len(lost)
    if not lost:
        print("none lived long enough to record: nothing was tried", file=sys.stderr)
        return 1
    print(
        f"{len(lost)} of {count} killed while they recorded, {whole} of them with an end mark, "
        f"{unborn} before there was a file; most lost {max(lost):.3f} s"
    )
    return 0 if max(lost) <= 1.0 + attempt.every / per_s else 1


def _killed(attempt: Attempt, folder: Path, number: int, chance: random.Random) -> int:
    """The last step that a program did before it was killed."""
    shared = mmap.mmap(-1, 8)
    when = chance.choice(("making", "first second", "driving", "ending"))
    child = os.fork()
    if child == 0:
        _record(attempt, folder, number, shared, per_end=240 if when == "ending" else 0)
        time.sleep(60.0)
        os._exit(0)
    _wait(when, chance, shared)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return int(unpack_from("<Q", shared)[0])


def _wait(when: str, chance: random.Random, shared: mmap.mmap) -> None:
    """Until a moment of a life: some of each part of it."""

    def seen() -> int:
        return int(unpack_from("<Q", shared)[0])

    if when == "making":
        while not seen():
            time.sleep(0.0)
        time.sleep(chance.uniform(0.0, 0.02))
    elif when == "first second":
        while seen() in (0, BEGUN):
            time.sleep(0.0)
        time.sleep(chance.uniform(0.0, 0.05))
    elif when == "driving":
        time.sleep(chance.uniform(0.05, LONGEST_S))
    else:
        while not seen() & ENDED:
            time.sleep(0.0)
        time.sleep(chance.uniform(0.0, 0.01))


def _record(attempt: Attempt, folder: Path, number: int, shared: mmap.mmap, *, per_end: int) -> None:
    """Drive and record; with `per_end` steps, end it there."""
    pack_into("<Q", shared, 0, BEGUN)
    recorder = start_recording(attempt, folder, f"number {number}")
    turn = 0
    while not per_end or attempt.simulation.state.step < per_end:
        turn += 1
        hands = UnitCommands(hoist=0.5 if turn % 40 < 20 else -0.5)
        attempt.advance(Commands(hands, hands), attempt.every)
        pack_into("<Q", shared, 0, attempt.simulation.state.step)
    pack_into("<Q", shared, 0, attempt.simulation.state.step | ENDED)
    recorder.close()


if __name__ == "__main__":
    given = [int(text) for text in sys.argv[1:]]
    sys.exit(main(*given, *(50, 1)[len(given) :]))
