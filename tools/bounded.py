"""Some work in a process of its own, forked from this warm one, with bounds on memory and time. Not on Windows."""

from __future__ import annotations

import os
import resource
import signal
import traceback
from collections.abc import Callable, Sequence

MEMORY_BYTES = 512_000_000
CPU_S = 10
BROKEN = "!"
"""What came of work begins so when a bound was reached or something was raised."""


def bounded(work: Callable[[], str], *, memory_bytes: int = MEMORY_BYTES, cpu_s: int = CPU_S) -> str:
    """What came of some work: its own word, or which bound it reached, or what it raised."""
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read)
        _work(work, write, memory_bytes, cpu_s)
    os.close(write)
    with os.fdopen(read, "rb") as pipe:
        said = pipe.read().decode("utf-8", "replace")
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status):
        name = signal.Signals(os.WTERMSIG(status)).name
        return f"{BROKEN}more than {cpu_s} s" if name in ("SIGXCPU", "SIGKILL") else f"{BROKEN}{name}"
    return said or f"{BROKEN}nothing said, exit {os.waitstatus_to_exitcode(status)}"


def each_bounded(works: Sequence[Callable[[], str]]) -> list[str]:
    """What came of each: all in one process, under the bounds of one alone; each in its own where that broke.

    Forking a process that has everything loaded costs as much as most of the work.
    """
    said = bounded(lambda: "\n".join(work() for work in works)) if works else ""
    words = said.split("\n") if works else []
    return [bounded(work) for work in works] if said.startswith(BROKEN) or len(words) != len(works) else words


def _work(work: Callable[[], str], write: int, memory_bytes: int, cpu_s: int) -> None:
    """In the forked process: never comes back."""
    try:
        # What can be written to; address space that a library only sets aside is no memory.
        resource.setrlimit(resource.RLIMIT_DATA, (memory_bytes, memory_bytes))
        resource.setrlimit(resource.RLIMIT_CPU, (cpu_s, cpu_s + 1))
        word = work()
    except MemoryError:
        word = f"{BROKEN}more than {memory_bytes} bytes"
    except BaseException:  # whatever it is, it is what was looked for
        word = BROKEN + traceback.format_exc()
    os.write(write, word.encode("utf-8", "replace")[-60_000:])
    os._exit(0)
