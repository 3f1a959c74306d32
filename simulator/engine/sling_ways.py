"""A pick's sling turned into the numbers that a step needs: both ways round the outline there, and the one it lies."""

from __future__ import annotations

from math import cos, hypot, sin

from simulator.engine.slung import FULL_RAD, OFF, RoundNumbers, WayRound, bears, length_m
from simulator.mechanics.sling import trailer_sling
from simulator.mechanics.taut_string import Way, ahead_rad, edge_m
from simulator.mechanics.trailer_body import Vector, stated_cg_m
from simulator.scenario.trailer import Pick, Trailer


class SlingError(ValueError):
    """A pick whose sling cannot lie on the trailer."""

    def __init__(self, pick: Pick, why: str) -> None:
        """The pick, and what is missing."""
        super().__init__(f"pick {pick.name}: {why}")
        self.pick = pick


def slung(trailer: Trailer, pick: Pick, sling_m: float) -> RoundNumbers:
    """The sling of a pick, from the true CG in lying axes.

    Raises:
        SlingError: nothing of the trailer reaches to the pick, or its sling may start either way.
    """
    try:
        return _slung(trailer, pick, sling_m)
    except ValueError as error:
        raise SlingError(pick, str(error)) from error


def _slung(trailer: Trailer, pick: Pick, sling_m: float) -> RoundNumbers:
    true_cg = tuple(a + b for a, b in zip(stated_cg_m(trailer), trailer.hidden_cg_m, strict=True))
    from_m: Vector = (true_cg[0], true_cg[1], true_cg[2])
    either = trailer_sling(trailer, pick.at_m, from_m=from_m, sling_m=sling_m)
    first = OFF
    if pick.lies_on is not None:
        (way,) = trailer_sling(trailer, pick.at_m, from_m=from_m, lies_on=pick.lies_on).ways
        first = int(way.mirrored)
    onward, _ = either.ways
    found = RoundNumbers((either.x_m, *onward.pick_m), sling_m, pick.sling_width_m, first)
    found.ways = [way_round(way) for way in either.ways]
    return found


def lying_m(own: RoundNumbers, across_m: float, over_m: float) -> float:
    """Sheave to hook as the load lies at time zero, its sheave straight over the pick's place along the load.

    Args:
        own: the sling.
        across_m: of the sheave from over the center of gravity.
        over_m: the same, up.
    """
    own_way = own.ways[max(own.first, 0)]
    seen = -across_m if own_way.is_mirrored else across_m
    if own.first == OFF or not bears(own_way, seen, over_m):
        return hypot(across_m - own.pick_y, over_m - own.pick_z) - own.sling_m
    return length_m(own_way, seen, over_m) - own.sling_m


def way_round(way: Way) -> WayRound:
    """A way round as numbers; the bend that the string meets first comes once more at the end."""
    y, z = cos(way.begins_rad), sin(way.begins_rad)
    found = WayRound(way.mirrored, (y, z, y * way.pick_m[0] + z * way.pick_m[1]))
    begins, laid, count = way.begins_rad, way.lead_m, len(way.bends)
    for place in range(count + 1):
        bend, after = way.bends[(way.first + place) % count], way.bends[(way.first + place + 1) % count]
        turn = ahead_rad(begins, bend.to_rad) if count > 1 else FULL_RAD
        looks_y, looks_z, ends = cos(bend.to_rad), sin(bend.to_rad), bend.at(bend.to_rad)
        rows = (
            (found.y_m, bend.y_m),
            (found.z_m, bend.z_m),
            (found.radius_m, bend.radius_m),
            (found.shell_m, bend.shell_radius_m),
            (found.begins_rad, begins),
            (found.turn_rad, turn),
            (found.before_m, laid),
            (found.edge_y, looks_y),
            (found.edge_z, looks_z),
            (found.edge_over_m, looks_y * ends[0] + looks_z * ends[1]),
        )
        for row, value in rows:
            row.append(value)
        laid += bend.radius_m * turn + edge_m(bend, after)
        begins += turn
    if count == 1:  # a round shell has no edge to leave by
        for row in (found.y_m, found.z_m, found.radius_m, found.shell_m, found.begins_rad):
            row.pop()
    return found
