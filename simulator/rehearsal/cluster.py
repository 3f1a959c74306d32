"""Rehearsals on the workers of a Dask scheduler that runs somewhere; all that needs the package is here."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import CancelledError
from contextlib import closing
from itertools import islice
from typing import TYPE_CHECKING, Any, TypeVar

from simulator.files.plain_text import cut_to
from simulator.files.writing import Refused
from simulator.rehearsal.cores import LOOKS_EVERY_S, Task, WorkersLost
from simulator.rehearsal.driven import Job
from simulator.rehearsal.kept import difference, program

if TYPE_CHECKING:
    from distributed import Client

T = TypeVar("T")
REACHED_S = "10 s"
"""A scheduler that does not answer by then is not there."""
AHEAD = 2
"""Draws handed out for each thread of a worker."""
REASON_LETTERS = 200
EXAMPLE = "the address of a running scheduler, such as tcp://192.0.2.7:8786 (dask scheduler)"


def over_cluster(
    task: Task[T], job: Job, numbers: Iterable[int], address: str, stopped: Callable[[], bool]
) -> Iterator[tuple[int, T]]:
    """Draws over the workers of the scheduler at an address, as they come; those of a worker that is lost are driven
    by others.

    Raises:
        Refused: no such package or scheduler, no workers, or workers of another version.
        WorkersLost: the scheduler is gone, or a draw was lost with several workers.
    """
    client = _client(address)
    with closing(client):
        _look_at_workers(client, address)
        yield from _spread(client, task, job, numbers, address, stopped)


def _client(address: str) -> Client:
    try:
        from distributed import Client
    except ModuleNotFoundError as error:
        may = 'the package distributed beside this program: pip install "slopepick[cluster]"'
        raise Refused(f"--on: given {address} and no Dask, allowed: {may}") from error
    try:
        return Client(address, timeout=REACHED_S, set_as_default=False)
    except (OSError, ValueError, TypeError) as error:
        reason = cut_to(str(error) or type(error).__name__, REASON_LETTERS)
        raise Refused(f"--on: given {address}, where no scheduler answers ({reason}), allowed: {EXAMPLE}") from error


def _look_at_workers(client: Client, address: str) -> None:
    """Refuse a cluster that would drive other lifts than this computer does."""
    try:
        found: dict[str, Any] = client.run(_program_there, on_error="return")
    except (ImportError, AttributeError) as error:
        found = {"": error}
    if not found:
        raise Refused(f"--on: given {address}, which has no workers, allowed: one with some (dask worker ADDRESS)")
    for worker, one in found.items():
        other = f"no Slopepick that answers ({one})" if isinstance(one, Exception) else difference(program(), one)
        if other:
            told = cut_to(other, REASON_LETTERS)
            raise Refused(
                f"--on: given worker {worker or 'somewhere'} with {told}, allowed: workers with the very same program"
            )


def _program_there() -> dict[str, str]:
    """On a worker: what runs."""
    return program()


def _spread(
    client: Client, task: Task[T], job: Job, numbers: Iterable[int], address: str, stopped: Callable[[], bool]
) -> Iterator[tuple[int, T]]:
    from distributed import wait

    left, own = iter(numbers), program()
    waiting: dict[Any, int] = {}
    try:
        while not stopped():
            room = AHEAD * max(1, sum(client.nthreads().values())) - len(waiting)
            waiting |= {client.submit(_one, task, job, one, own, pure=False): one for one in islice(left, max(0, room))}
            if not waiting:
                return
            try:
                with client.as_current():
                    wait(list(waiting), timeout=LOOKS_EVERY_S, return_when="FIRST_COMPLETED")
            except TimeoutError:
                continue
            for future in [one for one in waiting if one.done()]:
                number, found = waiting.pop(future), future.result()
                if isinstance(found, str):
                    raise Refused(f"--on: given a worker with {found}, allowed: workers with the very same program")
                yield number, found[0]
    except (OSError, CancelledError, _killed_worker()) as error:
        reason = cut_to(str(error) or type(error).__name__, REASON_LETTERS)
        may = "a scheduler and workers that stay"
        raise WorkersLost(f"--on: given {address}, which lost its draws ({reason}), allowed: {may}") from error
    finally:
        client.cancel(list(waiting))


def _killed_worker() -> type[Exception]:
    """A draw that was lost with one worker after another."""
    from distributed.scheduler import KilledWorker

    killed: type[Exception] = KilledWorker
    return killed


def _one(task: Task[T], job: Job, number: int, own: dict[str, str]) -> tuple[T | None] | str:
    """On a worker: the draw driven; or what differs, of a worker that came later."""
    return difference(own, program()) or (task(job, number),)
