"""Recordings damaged in every way we could think of: whatever is in a file, opening and using it gives sentences.

python tools/fuzz_recordings.py [RECORDING ...] [how many, 2000] [seed, 1]

With no recording named, short lifts of every kind of rig are recorded first. Each file in a process bounded to 512 MB
and 10 s (a few together, and each alone if that breaks); frames of one recording are spliced into another. Looked for:
a traceback, a bound reached, what is no sentence.
"""

from __future__ import annotations

import os
import random
import sys
import tempfile
import zlib
from collections import Counter
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tools")]
RE_RUN_EVERY = 20
"""A re-run takes a while: one of so many files gets one."""
LOOK_EVERY = 100
"""One of so many is shown in the window's screens, and printed."""
TOGETHER = 10
"""So many are looked at in one process."""
SHORT_LIFTS = {"practice_yard": 12, "set_down": 8, "four_lines": 8, "tests/drill/lone_unit.toml": 8, "tank_on_side": 1}
"""Scenarios, and how many seconds of each are recorded."""
os.environ |= {"SDL_VIDEODRIVER": "dummy", "SDL_AUDIODRIVER": "dummy"}

from bounded import BROKEN, bounded, each_bounded  # noqa: E402
from recording_mutants import mutated  # noqa: E402

from simulator.attempt import Attempt  # noqa: E402
from simulator.cli.starting import load_sound  # noqa: E402
from simulator.cli.window_answers import tell_lift  # noqa: E402
from simulator.drill.instruction import Instruction  # noqa: E402
from simulator.drill.partner import Partner  # noqa: E402
from simulator.engine.commands import still  # noqa: E402
from simulator.files.writing import begun  # noqa: E402
from simulator.places import find_scenario  # noqa: E402
from simulator.recording.again import CannotReplay  # noqa: E402
from simulator.recording.glance import glance  # noqa: E402
from simulator.recording.lift_file import BrokenRecording, read  # noqa: E402
from simulator.recording.recorded import Recording  # noqa: E402
from simulator.recording.recorder import Recorder  # noqa: E402
from simulator.recording.replay import check, track_of_recording  # noqa: E402
from simulator.recording.telemetry import write_csv  # noqa: E402
from simulator.recording.track import write  # noqa: E402
from simulator.report.lift.debrief import debrief  # noqa: E402
from simulator.report.lift.debrief_lines import debrief_lines  # noqa: E402
from simulator.report.lift.debrief_pages import write_pdf  # noqa: E402
from simulator.window.program import run_debrief  # noqa: E402

GUST = Instruction("gust", 6.0, lasts_s=1.0)


def examine(path: Path) -> str:
    """Open a file and use all that can be used of it; what came of it, in a word.

    Raises:
        AssertionError: something was said that is no single sentence.
    """
    try:
        glance(path)
    except BrokenRecording as broken:
        _is_sentence(str(broken))
    try:
        recording = read(path)
    except BrokenRecording as broken:
        _is_sentence(str(broken))
        return "refused"
    for note in recording.notes:
        _is_sentence(note)
    _use(recording)
    return "saved with notes" if recording.notes else "whole"


def _use(recording: Recording) -> None:
    for time_s in (-1.0, 0.0, recording.length_s / 2.0, 1e9):
        try:
            recording.at(time_s)
        except LookupError as error:
            _is_sentence(str(error.args[0]))
    assert recording.table.shape[0] == len(recording.time_s)
    assert all("\n" not in line for line in debrief_lines(debrief(recording)))
    try:
        track_of_recording(recording)
    except CannotReplay as cannot:
        _is_sentence(str(cannot))


def re_run(path: Path) -> str:
    """Write the readings and commands of a damaged file to files, and give the commands again."""
    try:
        recording = read(path)
        write_csv(recording, path.with_suffix(".csv"), caution="caution")
        write(path.with_suffix(".track.csv"), track_of_recording(recording), recording.rig, caution="caution")
        return "re-run, the same" if check(recording, jobs=1).same else "re-run, differs"
    except (BrokenRecording, CannotReplay) as said:
        _is_sentence(str(said))
        return "no re-run"


def _is_sentence(text: str) -> None:
    assert text and text.isprintable() and len(text) < 2000, text


def shown(path: Path) -> str:
    """Draw what can be drawn of a damaged file: its page, and its debrief in the window."""
    try:
        recording = read(path)
    except BrokenRecording:
        return "not shown"
    write_pdf(debrief(recording), path.with_suffix(".pdf"), caution="caution", invented="invented")
    assert run_debrief(recording, tell=tell_lift, most_frames=3) == 0
    return "shown"


def _short_lift(scenario: Path, length_s: int) -> bytes:
    """A recording of automatic operators, with a stop order and an instructor's gust in it."""
    lift = load_sound(scenario)
    attempt = Attempt(lift, [Partner(lift, end) for end in range(len(lift.units))])
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "short.lift"
        with Recorder(attempt, partial(begun, path), stamp="2031-04-05 06:07") as recorder:
            for second in range(length_s):
                {3: attempt.stop, 5: attempt.resume, 6: partial(attempt.instruct, GUST)}.get(second, int)()
                attempt.advance(still(attempt.rig), lift.engine.steps_per_s)
            recorder.close(text="end of the hour")
        return path.read_bytes()


class _Tried(NamedTuple):
    """A damaged file."""

    number: int
    kind: str
    data: bytes


def _answers(tried: list[_Tried], folder: Path) -> Iterator[tuple[_Tried, list[str]]]:
    """What came of each in every use that it is put to."""
    paths = [folder / f"damaged-{place}.lift" for place in range(len(tried))]
    for path, one in zip(paths, tried, strict=True):
        path.write_bytes(one.data)
    examined = each_bounded([partial(examine, path) for path in paths])
    for path, one, word in zip(paths, tried, examined, strict=True):
        words = [word]
        if one.number % RE_RUN_EVERY == 0:
            words.append(bounded(partial(re_run, path)))
        if one.number % LOOK_EVERY == 0:
            words.append(bounded(partial(shown, path)))
        yield one, words


def main(arguments: list[str]) -> int:
    """Try as many as asked for; 1 when one of them is answered by anything but sentences."""
    numbers = [int(text) for text in arguments if text.isdigit()]
    count, seed = *numbers, *(2000, 1)[len(numbers) :]
    whole = [Path(name).read_bytes() for name in arguments if not name.isdigit()]
    whole = whole or [_short_lift(find_scenario(name), length_s) for name, length_s in SHORT_LIFTS.items()]
    chance, came, faults = random.Random(seed), Counter[str](), 0
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "damaged.lift"
        for data in whole:  # what is looked up once for all is looked up before anything is forked
            path.write_bytes(data)
            assert examine(path) == "whole"
            write_pdf(debrief(read(path)), path.with_suffix(".pdf"), caution="caution", invented="invented")
        for begin in range(0, count, TOGETHER):
            tried = [_Tried(number, *mutated(chance.choice(whole), chance, chance.choice(whole)))
                     for number in range(begin, min(count, begin + TOGETHER))]  # fmt: skip
            for one, words in _answers(tried, Path(folder)):
                for word in words:
                    if word.startswith(BROKEN):
                        faults += 1
                        kept = Path(tempfile.gettempdir()) / f"fuzz-{seed}-{one.number}.lift"
                        kept.write_bytes(one.data)
                        crc = f"{zlib.crc32(one.data):08x}"
                        where = f"number {one.number}, {one.kind} (crc {crc}, kept as {kept})"
                        print(f"{where}: {word}", file=sys.stderr, flush=True)
                    came[f"{one.kind}: {word.splitlines()[-1][:100] if word.startswith(BROKEN) else word}"] += 1
    print("\n".join(f"{number:>6}  {words}" for words, number in sorted(came.items())))
    print(f"{count} damaged recordings, {faults} answered by anything but sentences")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
