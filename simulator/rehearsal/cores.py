"""Rehearsals on the cores of this computer: each process drives one draw at a time."""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from itertools import islice
from multiprocessing import connection, parent_process
from multiprocessing.sharedctypes import RawValue
from typing import Any, Protocol, TypeVar

from simulator.files.interrupts import ASKS
from simulator.rehearsal.driven import Job

T = TypeVar("T")
T_co = TypeVar("T_co", covariant=True)
LOOKS_EVERY_S = 0.2
"""So often it is looked whether somebody asked to stop."""
AHEAD = 2
"""Draws handed out for each process."""
MOST_LOST = 3
"""Processes lost one after another with nothing driven between."""


class Task(Protocol[T_co]):
    """What is done with a draw; none when it was asked to stop meanwhile."""

    def __call__(self, job: Job, number: int, stopped: Callable[[], bool] = ...) -> T_co | None:
        """Do it."""
        ...


class WorkersLost(Exception):  # noqa: N818 - it says what happened
    """Whoever drove was lost, again and again."""


def alone(task: Task[T], job: Job, numbers: Iterable[int], stopped: Callable[[], bool]) -> Iterator[tuple[int, T]]:
    """One draw after another, in this process."""
    for number in numbers:
        found = None if stopped() else task(job, number, stopped)
        if found is None:
            return
        yield number, found


def over_cores(
    task: Task[T], job: Job, numbers: Iterable[int], jobs: int, stopped: Callable[[], bool]
) -> Iterator[tuple[int, T]]:
    """The same over several processes, as they come. One that is lost is replaced, and its draws are driven again.

    Raises:
        WorkersLost: several were lost with nothing driven between.
    """
    left, lost = dict.fromkeys(numbers), 0
    while left and not stopped():
        try:
            for number, found in _over_pool(task, job, tuple(left), jobs, stopped):
                del left[number]
                lost = 0
                yield number, found
        except BrokenProcessPool as error:
            lost += 1
            if lost == MOST_LOST and not stopped():
                given = f"{lost} processes that ended by themselves one after another (no memory left?)"
                raise WorkersLost(f"--jobs: given {given}, allowed: fewer jobs, or more memory") from error


def _over_pool(
    task: Task[T], job: Job, numbers: tuple[int, ...], jobs: int, stopped: Callable[[], bool]
) -> Iterator[tuple[int, T]]:
    # A bare byte: a lock would stay closed for ever if a process is killed while it holds it.
    left, bell = iter(numbers), RawValue("b", 0)
    with ProcessPoolExecutor(min(jobs, len(numbers)), initializer=_begin, initargs=(task, job, bell)) as pool:
        try:
            waiting: dict[Future[Any], int] = {pool.submit(_one, one): one for one in islice(left, AHEAD * jobs)}
            while waiting and not stopped():
                done, _ = wait(waiting, LOOKS_EVERY_S, FIRST_COMPLETED)
                for future in done:
                    number, found = waiting.pop(future), future.result()
                    waiting |= {pool.submit(_one, following): following for following in islice(left, 1)}
                    if found is not None:
                        yield number, found
        finally:
            bell.value = 1
            pool.shutdown(cancel_futures=True)


_HELD: list[tuple[Task[object], Job, Callable[[], bool]]] = []


def _begin(task: Task[object], job: Job, bell: Any) -> None:
    """In each process: keep the job, leave stopping to the one who asked, and do not outlive them."""
    for name in ASKS:
        if (number := getattr(signal, name, None)) is not None:
            # SIGTERM ends them: it is how a pool rids itself of those that are left when one is lost.
            signal.signal(number, signal.SIG_DFL if name == "SIGTERM" else signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    _HELD[:] = [(task, job, lambda: bool(bell.value))]


def _end_with_parent() -> None:
    if (parent := parent_process()) is not None:
        connection.wait([parent.sentinel])
        os._exit(1)


def _one(number: int) -> Any:
    task, job, stopped = _HELD[0]
    return task(job, number, stopped)
