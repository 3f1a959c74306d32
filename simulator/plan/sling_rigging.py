"""A sling that lies on the load, as the rigging list tells it: where it bends, what is there, how hard it presses, and
how far friction may hold its two sides apart. The load lies level, the sheave straight over it."""

from __future__ import annotations

from math import degrees, hypot
from typing import NamedTuple

from simulator.mechanics.allowances import DYNAMIC_MARGIN
from simulator.mechanics.section import Point
from simulator.mechanics.sling import Run, pull_range_N, trailer_sling
from simulator.mechanics.trailer_body import lying, part_corners, rotation, stated_cg_m, turned_back
from simulator.scenario.description import Description
from simulator.scenario.trailer import Pick, Trailer

SAME_M = 0.005
"""A bend so near to a part's corner is there."""


class SlingBend(NamedTuple):
    """Where it presses the load."""

    where: str
    turn_deg: float
    push_N: float
    may_bear_N: float | None
    """At a corner; none: nobody knows."""
    pressure_Pa: float | None
    """On a shell; none at a corner."""
    may_bear_Pa: float | None


class SlingLie(NamedTuple):
    """A sling on the load at one attitude."""

    attitude: str
    """lying, or turned"""
    laid_m: float
    hook_off_m: float
    bends: tuple[SlingBend, ...]
    pulls_N: tuple[float, float]
    """What its far side may carry, by friction at its bends."""
    needs_off_m: float
    """By the limits of the lift."""

    @property
    def hook_is_off(self) -> bool:
        """Its upper eye hangs clear of the load."""
        return self.hook_off_m >= self.needs_off_m


def sling_lies(description: Description, pick: Pick, pull_N: float) -> tuple[SlingLie, ...]:
    """How a pick's sling lies on the load as that lies and as it is set down; nothing where it does not.

    Args:
        description: the lift.
        pick: with its sling.
        pull_N: at its hook at worst; `DYNAMIC_MARGIN` is added.
    """
    if pick.sling_length_m is None:
        return ()
    found = [_lie(description, pick, pull_N * DYNAMIC_MARGIN, "lying", 0.0)]
    if description.lands_turned_rad:
        found.append(_lie(description, pick, pull_N * DYNAMIC_MARGIN, "turned", description.lands_turned_rad))
    return tuple(one for one in found if one.bends)


def _lie(description: Description, pick: Pick, pull_N: float, attitude: str, roll_rad: float) -> SlingLie:
    trailer, path = description.trailer, description.path
    assert pick.sling_length_m is not None
    sling = trailer_sling(
        trailer, pick.at_m, from_m=stated_cg_m(trailer), lies_on=pick.lies_on, sling_m=pick.sling_length_m
    )
    over = path.tip_height_m - path.belly_over_road_m
    run = sling.run(turned_back(rotation(0.0, 0.0, roll_rad), (sling.x_m, 0.0, over)))
    pulls = pull_range_N(pull_N, pick.corner_friction, run.turned_rad)
    stop = description.limits.hook_off_stop_m
    return SlingLie(attitude, run.laid_m, run.hook_off_m, _bends(trailer, pick, run, pull_N), pulls, stop)


def _bends(trailer: Trailer, pick: Pick, run: Run, pull_N: float) -> tuple[SlingBend, ...]:
    found = []
    for turn, squeeze in zip(run.turns, run.squeeze(pull_N, pick.sling_width_m), strict=True):
        is_shell = squeeze.pressure_Pa is not None
        where, may_Pa = _at(trailer, pick, turn.at_m, is_shell=is_shell)
        may_N = None if is_shell else pick.corner_bears_N
        found.append(SlingBend(where, degrees(turn.turn_rad), squeeze.push_N, may_N, squeeze.pressure_Pa, may_Pa))
    return tuple(found)


def _at(trailer: Trailer, pick: Pick, at_m: Point, *, is_shell: bool) -> tuple[str, float | None]:
    """The part that a sling bends round, and what its shell is stated to bear."""
    origin = stated_cg_m(trailer)
    for part in trailer.parts:
        xs = [x for x, _ in part.outline_m]
        if not min(xs) <= pick.at_m[0] <= max(xs):
            continue
        if is_shell and part.drawn_as == "tank":
            return part.name, part.may_bear_Pa
        for corner in part_corners(part):
            _, y, z = lying(trailer.attitude, (0.0, corner[1] - origin[1], corner[2] - origin[2]))
            if not is_shell and hypot(y - at_m[0], z - at_m[1]) < SAME_M:
                return f"edge of {part.name}", None
    return "the pick's own edge", None
