"""Rehearsals driven: the same rows on any number of cores, whoever is lost or stops them on the way."""

from __future__ import annotations

import csv
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from multiprocessing import active_children
from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.recording.lift_file import read
from simulator.recording.replay import check
from simulator.rehearsal.cores import WorkersLost, over_cores
from simulator.rehearsal.driven import DrawRow, drive
from simulator.rehearsal.kept import NAME, KeptRows
from simulator.rehearsal.limits import limits_of
from simulator.rehearsal.lots import lift_of, operators_of
from simulator.rehearsal.many import Where, record, recording_of, rehearse
from simulator.scenario.toml_writer import dump
from simulator.script import run
from simulator.words import say
from tests.rehearsal.short import DRAWS, SEED, alone, job, lots, short_drill

pytestmark = pytest.mark.xdist_group("rehearsals")


@pytest.fixture(scope="module")
def rows() -> tuple[DrawRow, ...]:
    return alone()


def test_a_row_says_what_the_lift_says(rows: tuple[DrawRow, ...]) -> None:
    """Against a run of the drawn lift with the same hands."""
    row = next(one for one in rows if set(one.draw.ways) == {"able"})
    lift = lift_of(short_drill(), row.draw)
    told = run(lift, operators_of(lift, row.draw))
    assert told.state_hash == row.state_hash and told.last is not None and told.last.time_s == row.time_s
    assert told.drill is not None and told.drill["score"]["together"] == row.points
    assert told.drill["passed"] == row.is_good
    values = {limit.key: value for limit, value in zip(limits_of(lift), row.values, strict=True)}
    assert values["nose.ground_used"] == told.units["nose"].ground_used
    assert values["nose.wind"] == pytest.approx(row.draw.wind_mps, rel=1e-9), "no gusts, and a tip under 10 m"


def test_two_processes_give_the_rows_of_one_though_one_is_killed(rows: tuple[DrawRow, ...]) -> None:
    def kill_one(done: int) -> None:
        if done == 1:
            os.kill(active_children()[0].pid or 0, signal.SIGKILL)

    assert repr(rehearse(job(), DRAWS, Where(jobs=2), progress=kill_one)) == repr(rows)


def die(*_: object) -> None:
    """A draw that no process survives."""
    os._exit(1)


def test_processes_that_are_lost_again_and_again_are_said() -> None:
    with pytest.raises(WorkersLost, match="--jobs: given 3 processes that ended by themselves"):
        list(over_cores(die, job(), range(4), 2, lambda: False))  # type: ignore[arg-type]


def test_a_run_that_was_stopped_goes_on_where_it_was(tmp_path: Path, rows: tuple[DrawRow, ...]) -> None:
    driven: list[int] = []
    with KeptRows(tmp_path, job()) as kept:
        some = rehearse(job(), DRAWS, Where(1), kept=kept, stopped=lambda: len(driven) > 2, progress=driven.append)
    assert len(some) == 2 and repr(some) == repr(rows[:2])
    path = tmp_path / NAME
    path.write_bytes(path.read_bytes()[:-20])  # killed as it wrote
    driven.clear()
    with KeptRows(tmp_path, job()) as kept:
        assert repr(rehearse(job(), DRAWS, Where(1), kept=kept, progress=driven.append)) == repr(rows)
        assert repr(rehearse(job(), 2, Where(1), kept=kept)) == repr(rows[:2]), "fewer are asked for"
    assert driven == [1, 2, 3], "one was there"


def test_the_worst_are_recordings_of_the_very_draws(tmp_path: Path, rows: tuple[DrawRow, ...]) -> None:
    assert [(row.number, same) for row, same in record(job(), rows[:1], tmp_path, Where(1))] == [(1, True)]
    recording = read(recording_of(tmp_path, 1))
    assert check(recording).same and recording.head.pair == rows[0].draw.ways
    assert recording.description == lift_of(short_drill(), rows[0].draw)
    assert list(record(job(), rows[:1], tmp_path, Where(1))) == [], "one that is there is left as it is"


def test_what_cannot_begin_is_a_row(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("simulator.rehearsal.driven.unfit", lambda name, _: [f"{name}: a line that pulls"])
    row = drive(job(), 1)
    assert row is not None and (row.ended, row.why, row.is_good) == ("cannot begin", "draw 1: a line that pulls", False)


def command(scenario: Path, out: Path, jobs: int) -> list[str]:
    """The same job from the command line."""
    scenario.write_text(dump(short_drill()), encoding="utf-8")
    one = lots()
    assert one.weight and one.cg_m and one.cg_across_m
    ends = (f"--weight={one.weight[0]}..{one.weight[1]}", f"--cg={one.cg_m[0]}..{one.cg_m[1]}m",
            f"--cg-across={one.cg_across_m[0]}..{one.cg_across_m[1]}m", "--wind=0..6m/s")  # fmt: skip
    return ["rehearse", str(scenario), "--draws", str(DRAWS), *ends, "--operators", "able,a-little-clumsy",
            "--seed", str(SEED), "--out", str(out), "--jobs", str(jobs)]  # fmt: skip


def test_interrupted_then_killed_a_run_goes_on_and_leaves_no_process(
    tmp_path: Path, rows: tuple[DrawRow, ...], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    scenario, out = tmp_path / "short.toml", tmp_path / "out"

    @contextmanager
    def interrupting(_: int) -> Iterator[Callable[[int], None]]:
        yield lambda done: signal.raise_signal(signal.SIGINT) if done == 1 else None

    # A shell that starts this suite behind itself lets it ignore the keyboard, and so does what it starts.
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    with monkeypatch.context() as patched:
        patched.setattr("simulator.cli.rehearsing._progress", interrupting)
        # One process: of two, both may have begun the rest before the first row is told of.
        assert main(command(scenario, out, 1)) == 1
    signal.signal(signal.SIGINT, before)
    told = capsys.readouterr()
    assert "stopped from the keyboard: 1 of 3 draws driven" in told.err and "the same command goes on" in told.err
    assert "NOT FINISHED: 1 of 3 draws driven" in told.out and not active_children()
    with subprocess.Popen([sys.executable, "-m", "simulator", *command(scenario, out, 2)], stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, text=True) as killed:  # fmt: skip
        while killed.poll() is None and (out / NAME).read_bytes().count(b"\n") < 3:
            time.sleep(0.01)
        killed.kill()
        said, _ = killed.communicate()  # ends only when no process of it has its output open
    assert "Traceback" not in said
    assert main(command(scenario, out, 1)) == 0
    with KeptRows(out, job()) as kept:
        assert repr(sorted(kept.rows(), key=lambda row: row.number)) == repr(list(rows))
    looks_whole(out, rows)


def looks_whole(out: Path, rows: tuple[DrawRow, ...]) -> None:
    """What a finished run leaves in its folder."""
    caution, head, *table = (out / "rehearsal.csv").read_text(encoding="utf-8").splitlines()
    assert caution == f"# {say('program.caution')}"
    told = list(csv.DictReader([head, *table]))
    assert [int(one["draw"]) for one in told] == [row.number for row in rows]
    assert [float(one["time_s"]) for one in told] == [row.time_s for row in rows]
    counts = json.loads((out / "rehearsal.json").read_text(encoding="utf-8"), parse_constant=lambda name: 1 / 0)
    assert counts["driven"] == DRAWS and counts["verdict"] == "no limit passed" and counts["caution"] in caution
    assert (out / "rehearsal.pdf").read_bytes().startswith(b"%PDF")
    assert {path.name for path in out.glob("*.lift")} == {f"draw-{row.number:05}.lift" for row in rows}
