"""Recordings damaged in every way we could think of: whatever is in a file, opening and using it gives sentences.

python tools/fuzz_recordings.py RECORDING [how many, 2000] [seed, 1]
"""

import json
import random
import sys
import tempfile
import zlib
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))
RE_RUN_EVERY = 20
"""A re-run takes a while: so many files get one."""

from simulator.recording.again import CannotReplay  # noqa: E402
from simulator.recording.glance import glance  # noqa: E402
from simulator.recording.layout import HEAD, Frame, frame, frames  # noqa: E402
from simulator.recording.reader import BrokenRecording, read  # noqa: E402
from simulator.recording.recorded import Recording  # noqa: E402
from simulator.recording.replay import check, track_of_recording  # noqa: E402
from simulator.report.debrief import debrief  # noqa: E402
from simulator.report.debrief_lines import debrief_lines  # noqa: E402


def mutated(data: bytes, chance: random.Random) -> tuple[str, bytes]:
    """A damaged copy, and how it was damaged."""
    kinds = {
        "bits": _bits,
        "cut": lambda d, c: d[: c.randrange(len(d))],
        "hole": _hole,
        "doubled": _doubled,
        "noise": lambda d, c: c.randbytes(c.randrange(1, 4000)),
        "noise behind a good start": lambda d, c: d[: c.randrange(len(d))] + c.randbytes(300),
        "content": _content,
        "head": _head,
    }
    kind = chance.choice(sorted(kinds))
    return kind, kinds[kind](data, chance)


def _bits(data: bytes, chance: random.Random) -> bytes:
    changed = bytearray(data)
    for _ in range(chance.choice((1, 1, 2, 20))):
        changed[chance.randrange(len(changed))] ^= 1 << chance.randrange(8)
    return bytes(changed)


def _hole(data: bytes, chance: random.Random) -> bytes:
    begin = chance.randrange(len(data))
    return data[:begin] + data[begin + chance.randrange(1, 5000) :]


def _doubled(data: bytes, chance: random.Random) -> bytes:
    begin, end = sorted(chance.sample(range(len(data)), 2))
    return data[:end] + data[begin:]


def _content(data: bytes, chance: random.Random) -> bytes:
    """Nonsense inside a frame, under a CRC that is good."""
    every = list(frames(data))
    picked = chance.choice(every)
    inside = bytearray(picked.content)
    for _ in range(chance.choice((1, 3, 30))):
        place = chance.randrange(min(len(inside), chance.choice((70, len(inside)))))
        inside[place] = chance.choice((0, 1, 127, 128, 255, chance.randrange(256)))
    if chance.random() < 0.2:
        inside = inside[: chance.randrange(len(inside))]
    return _with(data, picked, bytes(inside))


def _head(data: bytes, chance: random.Random) -> bytes:
    """A head with one value of another kind, in both copies."""
    heads = [one for one in frames(data) if one.kind == HEAD]
    value = json.loads(heads[0].content)
    wild = (None, -1, 0, 10**30, 1.5, "", "text", [], {}, [[]], [1, 2], True, {"a": []}, "x\n\x1b[31m", ["\ud800"])
    key = chance.choice(sorted(value))
    if key == "channels" and chance.random() < 0.6:
        value[key][chance.randrange(len(value[key]))][chance.randrange(3)] = chance.choice(wild)
    elif key == "scenario" and chance.random() < 0.6:
        lines = value[key].splitlines()
        lines[chance.randrange(len(lines))] = chance.choice(("", "x = 1", "[", "steps_per_s = 100", "title = 3"))
        value[key] = "\n".join(lines)
    else:
        value[key] = chance.choice(wild)
    content = json.dumps(value).encode("utf-8", "replace")
    return frame(HEAD, content).join((data[: heads[0].begin], b"")) + data[heads[1].end :]


def _with(data: bytes, old: Frame, content: bytes) -> bytes:
    return data[: old.begin] + frame(old.kind, content) + data[old.end :]


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
    """Give the commands of a damaged file again."""
    try:
        return "re-run, the same" if check(read(path)).same else "re-run, differs"
    except (BrokenRecording, CannotReplay) as said:
        _is_sentence(str(said))
        return "no re-run"


def _is_sentence(text: str) -> None:
    assert text and text.isprintable() and len(text) < 2000, text


def main(arguments: list[str]) -> int:
    """Try as many as asked for; 1 when one of them is answered by anything but sentences."""
    data = Path(arguments[0]).read_bytes()
    count, seed = (int(text) for text in (*arguments[1:], *("2000", "1")[len(arguments) - 1 :]))
    chance, came = random.Random(seed), Counter[str]()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "damaged.lift"
        for number in range(count):
            kind, bad = mutated(data, chance)
            path.write_bytes(bad)
            try:
                came[f"{kind}: {examine(path)}"] += 1
                if number % RE_RUN_EVERY == 0:
                    came[f"{kind}: {re_run(path)}"] += 1
            except Exception as error:
                kept = Path(tempfile.gettempdir()) / f"fuzz-{seed}-{number}.lift"
                kept.write_bytes(bad)
                print(
                    f"number {number}, {kind} (crc {zlib.crc32(bad):08x}, kept as {kept}): {error!r}", file=sys.stderr
                )
                return 1
    print("\n".join(f"{number:>6}  {words}" for words, number in sorted(came.items())))
    print(f"{count} damaged recordings, sentences only")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]) if len(sys.argv) > 1 else __doc__)
