"""Tables of readings as few bytes: whole numbers, differences from row to row, bytes of one weight together.

A reading changes little from one sample to the next, so the high bytes of the differences are nearly all zero; laid
side by side they compress to almost nothing.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from simulator.readings import Channel

Whole = NDArray[np.int64]
Kept = NDArray[np.int64] | NDArray[np.int32]
"""Whole numbers as they are kept in memory: in half the room where they fit."""
Real = NDArray[np.float64]

NO_NUMBER = -(1 << 62)
"""Stands for a value that is not a number."""
ENDLESS = 1 << 60
"""Stands, with its sign, for a value that is infinite or too large to keep."""
BYTES = 8
SHORT = 2**31 - 1
"""What is nowhere larger is kept in four bytes."""


def places(channel: Channel) -> int:
    """Decimals kept of a channel: one more than are shown; none of what is counted."""
    return 0 if channel.unit == "bool" or channel.name == "step" else channel.decimals + 1


def to_whole(values: Real, decimals: NDArray[np.int64]) -> Whole:
    """Values (one column a channel) as whole numbers of their last decimal."""
    with np.errstate(over="ignore"):
        scaled = np.rint(values * 10.0**decimals)
    bounded = np.clip(np.nan_to_num(scaled, nan=0.0), -ENDLESS, ENDLESS).astype(np.int64)
    return np.where(np.isnan(values), NO_NUMBER, bounded)


def to_real(table: Kept, decimals: NDArray[np.int64]) -> Real:
    """The other way."""
    values = table / 10.0**decimals
    values = np.where(np.abs(table) >= ENDLESS, np.copysign(np.inf, values), values)
    return np.where(table == NO_NUMBER, np.nan, values)


def kept(table: Whole) -> Kept:
    """The same numbers in as few bytes as they need."""
    fits = table.size and table.min() >= -SHORT and table.max() <= SHORT
    return table.astype(np.int32) if fits else table


def pack(table: Kept) -> bytes:
    """A table (rows in time) as bytes: columns one after another, differences, signs in the lowest bit, byte planes."""
    columns = np.ascontiguousarray(table.T, dtype=np.int64)
    steps = np.diff(columns, axis=1, prepend=0).ravel()
    return planes(((steps << 1) ^ (steps >> 63)).view(np.uint64))


def unpack(data: bytes, rows: int, columns: int) -> Whole:
    """The table in `rows * columns * 8` bytes."""
    folded = from_planes(data).reshape(columns, rows)
    steps = (folded >> np.uint64(1)).view(np.int64) ^ -(folded & np.uint64(1)).view(np.int64)
    return np.ascontiguousarray(np.cumsum(steps, axis=1, dtype=np.int64).T)


def planes(numbers: NDArray[np.uint64]) -> bytes:
    """All lowest bytes, then all second ones, and so on."""
    return numbers.astype("<u8").view(np.uint8).reshape(-1, BYTES).T.tobytes()


def from_planes(data: bytes) -> NDArray[np.uint64]:
    """The other way."""
    numbers = np.ascontiguousarray(np.frombuffer(data, np.uint8).reshape(BYTES, -1).T)
    return numbers.view("<u8").ravel().astype(np.uint64, copy=False)
