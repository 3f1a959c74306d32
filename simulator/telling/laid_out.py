"""What is told of a lift while it is laid out: what governs, the path, what would help. Plain values."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

Point = tuple[float, float, float]
"""x, y, z, m."""


class Row(NamedTuple):
    """The worst of one limit."""

    code: str
    who: str
    """nose unit, tail unit, trailer or load"""
    level: str
    """good, caution, stop"""
    name: str
    value: str
    limit: str
    """Of what: `of at most 100 %`."""
    used: float
    """Part of its limit; 1 is the limit."""
    where: str
    station: int
    """Where along the path it is worst; -1 where it is so all the time."""
    about: str
    sentence: str
    """All of it, and what to change where it is past a limit."""
    mark_m: Point
    """What governs, at that station."""


class UnitAt(NamedTuple):
    """A unit's boom at one station."""

    length_m: float
    elevation_rad: float
    slew_rad: float
    tip_m: Point
    share: float
    """Of the load's weight."""


class Stop(NamedTuple):
    """One station of the path."""

    name: str
    phase: str
    y_m: float
    level: str
    used: float
    """Of the limit that is used most there."""
    load: tuple[float, float, float, float, float, float]
    """x, y, z of its stated center of gravity, pitch, yaw, roll."""
    units: tuple[UnitAt, ...]
    sheaves_m: tuple[Point, ...]
    hooks_m: tuple[Point, ...]


class Judged(NamedTuple):
    """A lift, judged."""

    verdict: str
    """limit passed, not judged, no limit passed"""
    headline: str
    rows: Sequence[Row]
    """What governs, worst first."""
    path: tuple[Stop, ...]
    missing: tuple[str, ...]
    notes: tuple[str, ...]
    is_quick: bool
    """Judged at fewer places across the road: something is being moved."""
    check: Any
    """What it was made from, for what else is asked of it."""


class Help(NamedTuple):
    """Something that would help."""

    words: str
    gain: str
    lift: Any
    """The lift with that change: a description."""


class Spoke(NamedTuple):
    """Where a unit's tip may stand, one way out from its slew axis in plan."""

    toward_rad: float
    from_m: float
    to_m: float
