"""Benchmark rows of growth and of waiting: what becomes of a debrief, a folder, a sweep when they are large.

Each is a ratio: to the same work on less, or to the start of Python alone, in the same run.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import NamedTuple

from simulator.attempt import Attempt
from simulator.engine.commands import Commands, UnitCommands
from simulator.places import find_scenario
from simulator.recording.keep import new_file
from simulator.recording.layout import END, HEAD, MAGIC, SECOND, as_json, frame, frames
from simulator.recording.listing import Listing
from simulator.recording.recorder import Recorder
from simulator.recording.seconds import second_content, second_of
from simulator.scenario.reader import load

Row = tuple[str, str, str]
"""What was measured, value with unit and ratio, goal."""
ROOT = Path(__file__).resolve().parent.parent
MINUTE_S, QUARTER, TWO_HOURS, THREE_HOURS = 60, 15, 120, 180
MANY = 10_000
RUNS = 3
TELL = """
import sys; from pathlib import Path
from simulator.recording.lift_file import read
from simulator.report.lift.debrief import debrief
from simulator.report.lift.debrief_lines import debrief_lines
debrief_lines(debrief(read(Path(sys.argv[1]))))
"""
SWEEP = """
import sys; import numpy as np; import simulator.plan.sweep as room
from simulator.script import load
room.judge_many = lambda batch, chunk: np.zeros((len(chunk.mass_kg), len(room.CODES)))
ranges = room.Ranges((20e3, 32e3), (-1.0, 1.0), (0.0, 10.0), (10.0, 14.0))
for found in room.sweep(load("tank_on_side"), ranges, count=int(sys.argv[1]), jobs=1): pass
"""
WAITS: tuple[tuple[str, tuple[str, ...], str], ...] = (
    ("slopepick --help", ("-m", "simulator", "--help"), "0.1 s"),
    ("slopepick check", ("-m", "simulator", "check", "tank_on_side"), "0.4 s"),
    ("slopepick check --sheet", ("-m", "simulator", "check", "tank_on_side", "--sheet", "{folder}/sheet.pdf"), "1.5 s"),
    ("slopepick debrief --pdf, one minute", ("-m", "simulator", "debrief", "{minute}", "--pdf", "{folder}/p.pdf"),
     "2 s"),
)  # fmt: skip


class Ran(NamedTuple):
    """What a process took."""

    wall_s: float
    processor_s: float
    MB: float

    def times(self, other: Ran) -> str:
        """Both times, and how many times another's work it was: of the processor, which other work does not change."""
        return (
            f"{self.wall_s:.2f} s (processor {self.processor_s:.2f} s, {self.processor_s / other.processor_s:.1f} times"
        )


def rows() -> Iterator[Row]:
    """All of them."""
    with TemporaryDirectory() as folder:
        place = Path(folder)
        minute = _minute(place / "minute.lift")
        longest = _repeated(minute, THREE_HOURS, place / "longest.lift")
        yield from _waits(place, minute)
        yield from _debriefs(place, minute)
        yield from reports(place, longest)
        yield from _folders(place, minute)
        yield from _large_files(place)
        yield from _sweeps()


def _waits(place: Path, minute: Path) -> Iterator[Row]:
    alone = _process(("-c", "pass"))
    for what, words, goal in WAITS:
        ran = _process(tuple(word.format(folder=place, minute=minute) for word in words))
        yield what, f"{ran.times(alone)} Python alone)", goal


def _debriefs(place: Path, minute: Path) -> list[Row]:
    paths = {count: _repeated(minute, count, place / f"{count}.lift") for count in (QUARTER, TWO_HOURS)}
    short, long = (_process(("-c", TELL, str(path))) for path in paths.values())
    return [
        ("debrief of 15 minutes", f"{short.wall_s:.2f} s (processor {short.processor_s:.2f} s), {short.MB:.0f} MB", ""),
        ("debrief of 2 hours", f"{long.times(short)} that of 15 minutes)", "5 s, 8 times"),
        ("memory of it", f"{long.MB:.0f} MB", "300 MB"),
    ]


def reports(place: Path, lift: Path) -> list[Row]:
    """Every report of one lift: its time and most memory."""
    asked = {
        "debrief": ("debrief", str(lift)),
        "page and table": ("debrief", str(lift), "--pdf", str(place / "long.pdf"), "--csv", str(place / "long.csv")),
        "track": ("track", str(lift), str(place / "long_track.csv")),
    }
    ran = {what: _one_process(("-m", "simulator", *words)) for what, words in asked.items()}
    size_MB, goal = lift.stat().st_size / 1e6, "512 MB"
    return [
        (
            f"{what} of a lift of {size_MB:.0f} MB",
            f"{one.wall_s:.1f} s (processor {one.processor_s:.1f} s), {one.MB:.0f} MB",
            goal,
        )
        for what, one in ran.items()
    ]


def _folders(place: Path, minute: Path) -> list[Row]:
    folder, data = place / "many", minute.read_bytes()
    folder.mkdir()
    first_s = _timed(lambda: new_file(folder, "a", b"").close())
    for number in range(2, MANY + 1):
        (folder / f"a_{number}.lift").write_bytes(data)
    (folder / "a_1.lift").write_bytes(data)
    named_s = _timed(lambda: new_file(folder, "a", b"").close())
    seen_s = median(_timed(lambda: [file.stat() for file in os.scandir(folder)]) for _ in range(RUNS))
    new_s, known_s = (_timed(lambda: _listed(folder, place / "index")) for _ in range(2))
    return [
        (f"name after {MANY} recordings", f"{named_s * 1e3:.2f} ms, the first {first_s * 1e3:.2f} ms", "constant"),
        (f"list of {MANY}, each new", f"{new_s:.2f} s", "not in the window's way"),
        (f"list of {MANY}, known", f"{known_s:.2f} s, {known_s / seen_s:.1f} times asking for sizes alone", "0.3 s"),
    ]


def _large_files(place: Path) -> Iterator[Row]:
    """Files of many parts and of many section points: what is allowed, and what is refused."""
    for what, made, few, most, refused in (
        ("parts", with_parts, 25, 100, 1_000),
        ("section points", with_points, 60, 240, 10_000),
    ):
        ran = {}
        for count in (few, most, refused):
            path = place / f"{count}_{what.split()[0]}.toml"
            path.write_text(made(find_scenario("tank_on_side").read_text(encoding="utf-8"), count), encoding="utf-8")
            command, codes = ("validate", (2,)) if count == refused else ("check", (0, 1))
            ran[count] = _process(("-m", "simulator", command, str(path)), codes)
        yield f"check with {most} {what}", f"{ran[most].times(ran[few])} that with {few})", "linear: 4 times"
        yield f"a file of {refused} {what}", f"{ran[refused].wall_s:.2f} s, refused with its line", "linear or refused"


def with_parts(text: str, count: int) -> str:
    """A shipped lift with so many small parts more, side by side on its frame."""
    part = (
        '[[trailer.parts]]\nname = "box {i}"\ndrawn_as = "case"\n'
        "outline = [[{x:.3f}, 1.1], [{x2:.3f}, 1.1], [{x2:.3f}, 1.2], [{x:.3f}, 1.2]]\n"
        'width = 0.2\nmass = "1 kg"\ntouches_ground = false\n\n'
    )
    own = text.count("[[trailer.parts]]")
    more = (part.format(i=i, x=-5.0 + i * 0.005, x2=-4.9 + i * 0.005) for i in range(count - own))
    head, mark, tail = text.partition("[[trailer.parts]]")
    return head + "".join(more) + mark + tail


def with_points(text: str, count: int) -> str:
    """A shipped lift whose far bank has so many points."""
    head, _, rest = text.partition("section = ")
    old, _, tail = rest.partition("\n")
    ends = json.loads(old.partition("#")[0])
    (y0, z0), (y1, z1) = ends[-2:]
    more = [[round(y0 + (y1 - y0) * i / count, 5), round(z0 + (z1 - z0) * i / count, 5)]
            for i in range(1, count - len(ends) + 1)]  # fmt: skip
    return f"{head}section = {json.dumps([*ends[:-1], *more, ends[-1]])}\n{tail}"


def _sweeps() -> list[Row]:
    few, many = (_process(("-c", SWEEP, str(count))) for count in (10**5, 10**7))
    how = f"{many.MB:.0f} MB, {many.MB / few.MB:.2f} times that of 10^5; {many.wall_s:.0f} s without judging"
    return [("sweep of 10^7", how, "bounded memory")]


def _listed(folder: Path, index: Path) -> None:
    listing = Listing(folder, index)
    while listing.look():
        pass
    assert len(listing.entries) == MANY + 1


def _minute(path: Path) -> Path:
    """A recording of one minute that is driven roughly."""
    attempt, hands = Attempt(load(find_scenario("practice_yard"))), Random(3)
    with path.open("xb") as file, Recorder(attempt, file, stamp="2031-04-05 06:07"):
        while attempt.readings.time_s < MINUTE_S:
            both = [UnitCommands(*(hands.choice((0.0, 0.0, 0.4)) * hands.uniform(-1, 1) for _ in range(4)))
                    for _ in range(2)]  # fmt: skip
            attempt.advance(Commands(*both), 24)
    return path


def _repeated(minute: Path, count: int, path: Path) -> Path:
    """The same minute so many times after another, as one recording."""
    found = list(frames(minute.read_bytes()))
    head, end = (next(one for one in found if one.kind == kind) for kind in (HEAD, END))
    seconds = [second_of(one.content) for one in found if one.kind == SECOND]
    step = [name for name, _, _ in as_json(head.content)["channels"]].index("step")
    with path.open("wb") as file:
        file.write(MAGIC + 2 * frame(HEAD, head.content))
        for late in (number * seconds[-1].end_step for number in range(count)):
            for one in seconds:
                samples = one.samples.astype("int64")
                samples[:, step] += late
                samples = samples[samples[:, step] > late] if late else samples
                moved = one._replace(
                    begin_step=one.begin_step + late, end_step=one.end_step + late, samples=samples, state=None,
                    changes=tuple((at + late, asked) for at, asked in one.changes),
                    events=tuple(event._replace(step=event.step + late) for event in one.events),
                )  # fmt: skip
                file.write(frame(SECOND, second_content(moved)))
        file.write(frame(END, end.content))
    return path


def _timed(work: Callable[[], object]) -> float:
    start = perf_counter()
    work()
    return perf_counter() - start


def _process(words: tuple[str, ...], codes: tuple[int, ...] = (0, 1)) -> Ran:
    """Medians of a Python process's times, and the most memory that one took; `codes` that it may end with."""
    ran = [_one_process(words, codes) for _ in range(RUNS)]
    return Ran(median(one.wall_s for one in ran), median(one.processor_s for one in ran), max(one.MB for one in ran))


def _one_process(words: tuple[str, ...], codes: tuple[int, ...] = (0, 1)) -> Ran:
    """Start it and wait for it; on Windows only its time on the wall is known."""
    start = perf_counter()
    own = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    quiet = subprocess.DEVNULL
    process = subprocess.Popen([sys.executable, *words], cwd=ROOT, env=own, stdout=quiet, stderr=quiet)
    if not hasattr(os, "wait4"):
        process.wait()
        return Ran(perf_counter() - start, float("nan"), float("nan"))
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in codes:
        raise subprocess.CalledProcessError(process.returncode, process.args)
    per_MB = 1e6 if sys.platform == "darwin" else 1e3
    return Ran(perf_counter() - start, used.ru_utime + used.ru_stime, used.ru_maxrss / per_MB)
