"""Rehearsals driven: the same rows on any number of cores, whoever is lost or stops them on the way."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from multiprocessing import active_children
from pathlib import Path

import pytest

from simulator.events import Happening
from simulator.recording.reader import read
from simulator.recording.replay import check
from simulator.rehearsal.cores import WorkersLost, over_cores
from simulator.rehearsal.driven import Job, Row, drive
from simulator.rehearsal.kept import NAME, Kept
from simulator.rehearsal.limits import limits_of
from simulator.rehearsal.lots import Lots, lift_of
from simulator.rehearsal.many import Where, record, recording_of, rehearse
from simulator.report.rehearsed import first_told
from simulator.scenario.writer import dump
from simulator.scripting import run
from tests.rehearsal.short import SEED, job, lots, short_drill

pytestmark = pytest.mark.xdist_group("rehearsals")
DRAWS = 3


@pytest.fixture(scope="module")
def rows() -> tuple[Row, ...]:
    """On one core."""
    return rehearse(job(), DRAWS, Where(jobs=1))


def test_a_row_says_what_the_lift_says(rows: tuple[Row, ...]) -> None:
    """Against a run of the drawn lift with the same hands."""
    from simulator.rehearsal.lots import operators_of

    row = next(one for one in rows if set(one.draw.ways) == {"able"})
    lift = lift_of(short_drill(), row.draw)
    told = run(lift, operators_of(lift, row.draw))
    assert told.state_hash == row.state_hash and told.last is not None and told.last.time_s == row.time_s
    assert told.drill is not None and told.drill["score"]["together"] == row.points
    assert told.drill["passed"] == row.is_good
    values = {limit.key: value for limit, value in zip(limits_of(lift), row.values, strict=True)}
    assert values["nose.ground_used"] == told.units["nose"].ground_used
    assert values["nose.wind"] == pytest.approx(row.draw.wind_mps, rel=1e-9), "no gusts, and a tip under 10 m"


def test_two_processes_give_the_rows_of_one_though_one_is_killed(rows: tuple[Row, ...]) -> None:
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


def test_a_run_that_was_stopped_goes_on_where_it_was(tmp_path: Path, rows: tuple[Row, ...]) -> None:
    driven: list[int] = []
    with Kept(tmp_path, job()) as kept:
        some = rehearse(job(), DRAWS, Where(1), kept=kept, stopped=lambda: len(driven) > 2, progress=driven.append)
    assert len(some) == 2 and repr(some) == repr(rows[:2])
    path = tmp_path / NAME
    path.write_bytes(path.read_bytes()[:-20])  # killed as it wrote
    driven.clear()
    with Kept(tmp_path, job()) as kept:
        assert repr(rehearse(job(), DRAWS, Where(1), kept=kept, progress=driven.append)) == repr(rows)
        assert repr(rehearse(job(), 2, Where(1), kept=kept)) == repr(rows[:2]), "fewer are asked for"
    assert driven == [1, 2, 3, 2], "one was there"


def test_the_worst_are_recordings_of_the_very_draws(tmp_path: Path, rows: tuple[Row, ...]) -> None:
    assert [(row.number, same) for row, same in record(job(), rows[:1], tmp_path, Where(1))] == [(1, True)]
    recording = read(recording_of(tmp_path, 1))
    assert check(recording).same and recording.head.pair == rows[0].draw.ways
    assert recording.description == lift_of(short_drill(), rows[0].draw)
    assert list(record(job(), rows[:1], tmp_path, Where(1))) == [], "one that is there is left as it is"


def test_a_fault_is_driven_by_its_unit_and_told() -> None:
    one_fault = Job(short_drill(), Lots(SEED, (("able",), ("hoists early",))), first_told)
    row = drive(one_fault, 1)
    assert row is not None and row.cause == ("early", "tail") and row.ended in ("not passed", "not done")


def test_what_cannot_begin_is_a_row(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("simulator.rehearsal.driven.unfit", lambda name, _: [f"{name}: a line that pulls"])
    row = drive(job(), 1)
    assert row is not None and (row.ended, row.why, row.is_good) == ("cannot begin", "draw 1: a line that pulls", False)
    assert row.incidents == () and Happening  # nothing was driven


def test_interrupted_then_killed_a_command_goes_on_and_leaves_no_process(
    tmp_path: Path, rows: tuple[Row, ...]
) -> None:
    scenario, out = tmp_path / "short.toml", tmp_path / "out"
    scenario.write_text(dump(short_drill()), encoding="utf-8")
    one = lots()
    ends = (f"--weight={one.weight[0]}..{one.weight[1]}", f"--cg={one.cg_m[0]}..{one.cg_m[1]}m",  # type: ignore[index]
            f"--cg-across={one.cg_across_m[0]}..{one.cg_across_m[1]}m", "--wind=0..6m/s")  # type: ignore[index]  # fmt: skip
    command = [sys.executable, "-m", "simulator", "rehearse", str(scenario), "--draws", str(DRAWS), *ends,
               "--operators", "able,a-little-clumsy", "--seed", str(SEED), "--out", str(out)]  # fmt: skip

    def until(lines: int, how: signal.Signals) -> subprocess.Popen[str]:
        started = subprocess.Popen([*command, "--jobs", "2"], start_new_session=True, stdout=subprocess.PIPE,
                                   stderr=subprocess.PIPE, text=True)  # fmt: skip
        while started.poll() is None:
            if (out / NAME).exists() and (out / NAME).read_bytes().count(b"\n") >= lines:
                (os.kill if how == signal.SIGKILL else os.killpg)(started.pid, how)
                break
            time.sleep(0.01)
        said, complained = started.communicate()  # ends only when no process of it has its output open
        assert "Traceback" not in complained, complained
        if how == signal.SIGINT and started.returncode != 0:
            assert started.returncode == 1 and "the same command goes on" in complained and "NOT FINISHED" in said
        return started

    until(2, signal.SIGINT)
    until(3, signal.SIGKILL)
    subprocess.run([*command, "--jobs", "1"], check=True, capture_output=True)
    with Kept(out, job()) as kept:
        assert repr(sorted(kept.rows(), key=lambda row: row.number)) == repr(list(rows))
