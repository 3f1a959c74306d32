"""Where a unit's boom tip may stand with its share of the load: how far out, all round, before a limit is passed."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin
from typing import NamedTuple

from simulator.mechanics.trailer_body import Vector
from simulator.plan.setup_check import SetupCheck
from simulator.plan.stations import Station
from simulator.plan.unit_rules import unit_readings
from simulator.plan.unit_stand import Side, side_of, stand_at

SPOKES = 36
INWARD_M, NEAREST_M = 0.5, 1.0
HALVINGS = 5
FARTHEST = 1.05
"""Of the longest boom: nothing reaches farther."""


class Spoke(NamedTuple):
    """One way out from the slew axis."""

    toward_rad: float
    """In plan: 0 toward the tail end, a quarter turn toward the road."""
    from_m: float
    to_m: float
    """Between them no limit of this unit is passed; equal where there is no such place."""


def room_of(check: SetupCheck, end: int) -> Iterator[Spoke]:
    """The spokes of one unit in turn: its tip at the crossing's height, its share of the load hanging plumb there.

    Each is looked at from the outside in by half meters, and its ends by halving: a place in the middle of it that
    passes a limit while both sides hold is not looked for.
    """
    description = check.description
    side = side_of(description, check.load, end)
    raised = next(one.station for one in check.stations if one.station.phase in ("raised", "held"))
    for n in range(SPOKES):
        yield _spoke(check, side, raised, -pi + 2.0 * pi * n / SPOKES)


def _spoke(check: SetupCheck, side: Side, raised: Station, toward: float) -> Spoke:
    far = side.unit.boom.longest_m * FARTHEST
    out = far
    while out > NEAREST_M and not _holds(check, side, raised, toward, out):
        out -= INWARD_M
    if out <= NEAREST_M:
        return Spoke(toward, 0.0, 0.0)
    low, high = out, min(far, out + INWARD_M)
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if _holds(check, side, raised, toward, middle) else (low, middle)
    inner = out
    while inner - INWARD_M > NEAREST_M and _holds(check, side, raised, toward, inner - INWARD_M):
        inner -= INWARD_M
    return Spoke(toward, inner, low)


def _holds(check: SetupCheck, side: Side, raised: Station, toward: float, out_m: float) -> bool:
    """No limit of this unit is passed with its tip so far out."""
    own = side.unit.slew_axis_x_m + out_m * cos(toward), side.unit.slew_axis_y_m + out_m * sin(toward)
    was = raised.tips_m[side.end]
    by = own[0] - was[0], own[1] - was[1]

    def moved(points: tuple[Vector, ...], mine: set[int]) -> tuple[Vector, ...]:
        return tuple((x + by[0], y + by[1], z) if n in mine else (x, y, z) for n, (x, y, z) in enumerate(points))

    lines = {one.place for one in side.lines}
    pulls = raised.pulls._replace(sheaves_m=moved(raised.pulls.sheaves_m, lines))
    station = raised._replace(
        tips_m=moved(raised.tips_m, {side.end}), hooks_m=moved(raised.hooks_m, lines), pulls=pulls
    )
    stand = stand_at(side, station)
    return all(one.level != "stop" for one in unit_readings(side, station, stand, check.description))
