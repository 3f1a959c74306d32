"""Distance to an overhead power line along the road, and what is required."""

from __future__ import annotations

from math import hypot, inf
from typing import NamedTuple

import shapely

from simulator.mechanics.boom import tip_m
from simulator.mechanics.clearance.place import Placed
from simulator.mechanics.clearance.scene import Scene
from simulator.mechanics.clearance.slew import hull
from simulator.mechanics.clearance.units import called
from simulator.scenario.rig import rig_of
from simulator.scenario.site import OverheadLine
from simulator.scenario.standing import askew

TABLE_A_FT: tuple[tuple[float, float], ...] = ((50, 10), (200, 15), (350, 20), (500, 25), (750, 35), (1000, 45))
"""Up to so many kilovolts (inclusive), so many feet (29 CFR 1926.1408 Table A)."""
FOOT_M = 0.3048


class OverheadGap(NamedTuple):
    """One thing and its distance to the overhead line."""

    what: str
    distance_m: float
    required_m: float | None
    """None: over the table; the utility or a qualified engineer sets it."""
    state: str
    """clears; close: inside the distance at which the rule asks for action; not clear"""


def required_distance_m(kilovolt: float) -> float | None:
    """Distance to keep from a line: 29 CFR 1926.1408 Table A. None over 1,000 kV (utility or qualified engineer)."""
    return next((feet * FOOT_M for highest, feet in TABLE_A_FT if kilovolt <= highest), None)


def action_distance_m(kilovolt: float) -> float:
    """Distance inside which the rule asks for action: 29 CFR 1926.1408(a), 1926.1409(a), read in a secondary copy."""
    return (20.0 if kilovolt <= 350.0 else 50.0) * FOOT_M


def overhead_gaps(scene: Scene, placed: Placed) -> tuple[OverheadGap, ...]:
    """Booms with their tips, hoist lines (tip to pick) and trailer against the overhead line; () with no line."""
    line = scene.description.site.overhead_line
    if line is None:
        return ()
    seen = shapely.Point(line.y_m, line.height_m)
    found = []
    picks = (scene.load.picks_m @ placed.back + placed.pose[:3])[:, 1:].tolist()
    units, boom_corners = scene.description.units, placed.slewed.booms.corners
    for unit, of, boom, corners in zip(
        units, rig_of(scene.description).units, placed.slewed.booms_at, boom_corners, strict=True
    ):
        tip = askew(unit, tip_m(unit, boom))[1:]
        found.append(_judged(f"{called(unit)} boom", float(hull(corners[:, 1:]).distance(seen)), line))
        hoists = [_segment_m(tip, picks[one.pick], (line.y_m, line.height_m)) for one in of.lines]
        found.append(_judged(f"{called(unit)} hoist line", min(hoists), line))
    trailer = hull(placed.corners.reshape(-1, 3)[:, 1:])
    return (*found, _judged("trailer", float(trailer.distance(seen)), line))


def _segment_m(start: tuple[float, float], end: list[float], point: tuple[float, float]) -> float:
    """Distance from a point to a segment, m."""
    along = end[0] - start[0], end[1] - start[1]
    off = point[0] - start[0], point[1] - start[1]
    square = along[0] * along[0] + along[1] * along[1]
    share = min(1.0, max(0.0, (off[0] * along[0] + off[1] * along[1]) / square)) if square > 0.0 else 0.0
    return hypot(off[0] - share * along[0], off[1] - share * along[1])


def _judged(what: str, distance_m: float, line: OverheadLine) -> OverheadGap:
    required = required_distance_m(line.kilovolt)
    if distance_m < (inf if required is None else required):
        state = "not clear"
    else:
        state = "close" if distance_m < action_distance_m(line.kilovolt) else "clears"
    return OverheadGap(what, distance_m, required, state)
