"""Many rehearsals of one lift: those that are not yet driven, wherever they are to be, then the worst once more."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from os import cpu_count
from pathlib import Path
from typing import NamedTuple, TypeVar

from simulator.files.writing import write_whole
from simulator.recording.headless import nobody
from simulator.rehearsal.cluster import over_cluster
from simulator.rehearsal.cores import Task, alone, over_cores
from simulator.rehearsal.driven import DrawRow, Job, drive, recorded
from simulator.rehearsal.kept import KeptRows

T = TypeVar("T")
MOST_JOBS = 256


class Where(NamedTuple):
    """Who drives."""

    jobs: int | None = None
    """Processes of this computer; as many as cores when none is given."""
    on: str | None = None
    """Address of a Dask scheduler whose workers drive instead."""


def rehearse(
    job: Job,
    count: int,
    where: Where | None = None,
    *,
    kept: KeptRows | None = None,
    stopped: Callable[[], bool] = nobody,
    progress: Callable[[int], object] = int,
) -> tuple[DrawRow, ...]:
    """Rows of the first `count` draws by their numbers; the same on any number of cores. Fewer when it was stopped.

    Args:
        job: what is driven.
        count: draws.
        where: who drives; all cores when it is left out.
        kept: rows that were driven before, and where new ones are kept.
        stopped: asked now and then.
        progress: told how many are driven.

    Raises:
        Refused: the cluster cannot be used.
        WorkersLost: who drove was lost.
        OSError: a row cannot be kept.
    """
    done = {row.number: row for row in (kept.rows() if kept else ()) if row.number <= count}
    progress(len(done))
    left = [number for number in range(1, count + 1) if number not in done]
    for number, row in _spread(drive, job, left, where or Where(), stopped):
        done[number] = row
        if kept is not None:
            kept.add(row)
        progress(len(done))
    return tuple(done[number] for number in sorted(done))


def record(
    job: Job, rows: Iterable[DrawRow], folder: Path, where: Where | None = None, *, stopped: Callable[[], bool] = nobody
) -> Iterator[tuple[DrawRow, bool]]:
    """Drive these again and keep each as a recording; one that is there is left as it is.

    Yields:
        Each row that was driven again, and whether it came to the same state.

    Raises:
        As `rehearse`.
    """
    begun = {row.number: row for row in rows if row.ended != "cannot begin"}
    left = [number for number in begun if not recording_of(folder, number).exists()]
    for number, (data, state_hash) in _spread(recorded, job, left, where or Where(), stopped):
        write_whole(recording_of(folder, number), data)
        yield begun[number], state_hash == begun[number].state_hash


def recording_of(folder: Path, number: int) -> Path:
    """Where the recording of a draw stands."""
    return folder / f"draw-{number:05}.lift"


def _spread(
    task: Task[T], job: Job, numbers: list[int], where: Where, stopped: Callable[[], bool]
) -> Iterator[tuple[int, T]]:
    if not numbers:
        return iter(())
    if where.on is not None:
        return over_cluster(task, job, numbers, where.on, stopped)
    jobs = min(where.jobs or cpu_count() or 1, len(numbers))
    return alone(task, job, numbers, stopped) if jobs == 1 else over_cores(task, job, numbers, jobs, stopped)
