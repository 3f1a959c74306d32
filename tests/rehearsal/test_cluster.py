"""Rehearsals on a Dask scheduler of this computer with two workers, one of which is killed on the way."""

from __future__ import annotations

import logging
import os
import signal
from collections.abc import Iterator
from typing import Any

import pytest

from simulator.files.writing import Refused
from simulator.rehearsal import cluster
from simulator.rehearsal.many import Where, rehearse
from tests.rehearsal.short import DRAWS, alone, job

pytestmark = [pytest.mark.xdist_group("rehearsals"), pytest.mark.filterwarnings("ignore")]


@pytest.fixture(scope="module")
def workers() -> Iterator[Any]:
    distributed = pytest.importorskip("distributed", reason="the extra `cluster` is not installed")
    logging.getLogger("distributed").setLevel(logging.CRITICAL)
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=":0") as found:
        yield found


def test_workers_give_the_rows_of_one_core_though_one_is_killed(workers: Any) -> None:
    def kill_one(done: int) -> None:
        if done == 1:
            os.kill(workers.workers[0].pid, signal.SIGKILL)

    there = rehearse(job(), DRAWS, Where(on=workers.scheduler_address), progress=kill_one)
    assert repr(there) == repr(alone())


def test_workers_of_another_version_are_refused(workers: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    other = {**cluster.program(), "sources": "of here"}
    monkeypatch.setattr(cluster, "program", lambda: other)
    with pytest.raises(Refused, match=r"--on: given worker tcp://.* with sources .* there, of here here, allowed"):
        rehearse(job(), DRAWS, Where(on=workers.scheduler_address))
    # One that comes later is asked with its first draw.
    monkeypatch.setattr(cluster, "_look_at_workers", lambda *_: None)
    with pytest.raises(Refused, match="allowed: workers with the very same program"):
        rehearse(job(), DRAWS, Where(on=workers.scheduler_address))


def test_where_no_scheduler_is_a_sentence_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("distributed", reason="the extra `cluster` is not installed")
    monkeypatch.setattr(cluster, "REACHED_S", "0.2 s")
    for address in ("tcp://127.0.0.1:9", "no address at all"):
        with pytest.raises(Refused, match=f"--on: given {address}, where no scheduler answers"):
            rehearse(job(), DRAWS, Where(on=address))


def test_without_the_package_a_sentence_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(__import__("sys").modules, "distributed", None)
    with pytest.raises(Refused, match=r'given tcp://x:1 and no Dask, allowed: .*pip install "slopepick\[cluster\]"'):
        rehearse(job(), DRAWS, Where(on="tcp://x:1"))
