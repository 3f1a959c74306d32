"""Where large pictures lie in memory."""

from __future__ import annotations

import ctypes
import sys

MMAP_THRESHOLD = -3
"""Of `mallopt`; the number stands in the GNU C library's `malloc.h`."""
LARGE_B = 64 * 1024


def give_large_blocks_back() -> None:
    """Keep large pictures out of the heap, so that the memory of each that goes is free again at once.

    The GNU C library takes every large block that was freed as a reason to put the next ones of that size into the
    heap, where what is freed under something kept is not given back: hours of pictures that come and go swell it.
    Other C libraries are left alone.
    """
    if not sys.platform.startswith("linux"):
        return
    mallopt = getattr(ctypes.CDLL(None), "mallopt", None)
    if mallopt is not None:
        mallopt(MMAP_THRESHOLD, LARGE_B)
