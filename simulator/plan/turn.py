"""The turn of a load in the air, from rest to rest: line 1 out and line 2 in alike at both ends, its height kept.

A station every 5 degrees. It is followed in short steps, so that it is told how far this rig turns it, and which line
goes slack there; and on beyond the end, for which line would go slack next.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import degrees, radians
from typing import NamedTuple

from simulator.mechanics.rest_pose import Rest, pose_of
from simulator.mechanics.section import trailer_discs
from simulator.mechanics.trailer_body import Vector
from simulator.plan.hanging import Load, load_of
from simulator.plan.slung import Hung, Slung, hung_level, level_over, plumbed, slung_of
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of
from simulator.scenario.trailer import Trailer

EVERY_RAD = radians(5.0)
STEP_M = 0.05
"""Of line between two rests."""
AT_RAD = radians(0.05)
"""A station is as near as this to its angle."""
BEYOND_RAD = radians(45.0)
"""So far past the end it is looked which line goes slack next."""
MOST_M = 8.0
"""Of line moved: more than any trailer takes."""
FOLLOW_ROUNDS, FOUND_ROUNDS = 2, 6


class TurnStation(NamedTuple):
    """One rest on the way."""

    turned_rad: float
    moved_m: float
    """Line 1 out and line 2 in, each end alike."""
    kept_m: float
    """Beside that paid out of every line (negative: hauled in), for the load to keep its height."""
    tips_m: tuple[Vector, ...]
    """Of every unit: they follow, so that what its lines pull together is plumb."""
    hung: Hung
    speeds: tuple[float, float]
    """Line 1 out and line 2 in that keep its height here, over the speed of the turn."""


class GoesSlack(NamedTuple):
    """A line that carries nothing any more, and the angle at which it came to that."""

    line: str
    turned_rad: float


class Turn(NamedTuple):
    """All of it."""

    stations: tuple[TurnStation, ...]
    asked_rad: float
    turns_to_rad: float
    """How far it turns with every line bearing and stable, `asked_rad` at most."""
    slack: GoesSlack | None
    """What stops it short of that; none: it goes all the way."""
    next_slack: GoesSlack | None
    """Which line goes slack first beyond the end; none within `BEYOND_RAD`."""

    @property
    def is_whole(self) -> bool:
        """It turns all the way."""
        return self.turns_to_rad >= self.asked_rad - 2.0 * AT_RAD


def is_turned(description: Description) -> bool:
    """The load is turned over in the air, on two lines a unit."""
    return bool(description.lands_turned_rad) and all(len(unit.lines) > 1 for unit in rig_of(description).units)


def is_turned_on_the_way(description: Description) -> bool:
    """The same, where the lift, or its drill, comes to the turn."""
    drill = description.drill
    return is_turned(description) and (drill is None or any(step.work == "turn" for step in drill.steps))


@lru_cache(maxsize=16)
def turn_of(description: Description) -> Turn:
    """The turn of a lift, by its stated or true numbers as the description has them."""
    load = load_of(description)
    return _Followed(description, load).turn()


class _Followed:
    """A load followed as it is turned."""

    def __init__(self, description: Description, load: Load) -> None:
        self._slung: Slung = slung_of(description)
        self._rig, self._asked = self._slung.rig, abs(description.lands_turned_rad)
        self._way = 1.0 if description.lands_turned_rad > 0.0 else -1.0
        self._belly_m = description.path.belly_over_road_m
        x = description.trailer.start.x_m + load.body.cg_m[0]
        start = level_over(self._slung, x, description.landing.y_m - self._off_landing_m(load), self._belly_m)
        self._tips, hung = hung_level(self._slung, start)
        self._sheaves = self._slung.sheaves_m(self._tips)
        self._lengths = self._slung.lengths_m(self._sheaves, start)
        self._rest = hung.rest
        self._height_m = float(self._rest.pose.cg_m[2])

    def _off_landing_m(self, load: Load) -> float:
        """Middle of the outline across once it is turned, from the center of gravity."""
        low, high, cg = load.body.low_m, load.body.high_m, load.body.cg_m
        # A quarter turn brings up to across: y' = -way z.
        return -self._way * ((low[2] + high[2]) / 2.0 - cg[2])

    def _moved(self, moved_m: float, kept_m: float, before: Rest, rounds: int) -> tuple[Rest, float]:
        """At rest with so much line moved, its height kept; and what that took of every line."""
        rest = before
        for _ in range(2):
            lengths = [
                length + kept_m + (moved_m if line.number == 1 else -moved_m)
                for length, line in zip(self._lengths, self._rig.lines, strict=True)
            ]
            rest = self._slung.at_rest(self._sheaves, lengths, rest, rounds=rounds)
            off = float(rest.pose.cg_m[2]) - self._height_m
            if abs(off) < 1e-3:
                break
            kept_m += off
        return rest, kept_m

    def _turned(self, rest: Rest) -> float:
        """Past half a turn it is not followed."""
        return self._way * rest.pose.roll_rad

    def _slack(self, rest: Rest) -> str:
        """The line that carries least, where one carries nothing."""
        return next((line.name for line, is_slack in zip(self._rig.lines, rest.slack, strict=True) if is_slack), "")

    def turn(self) -> Turn:
        """Every station, and how far it goes."""
        rest, moved, kept = self._rest, 0.0, 0.0
        stations = [self._station(self._turned(rest), 0.0, 0.0, rest)]
        slack: GoesSlack | None = None
        wanted = EVERY_RAD
        while wanted < self._asked + 1e-9 and moved < MOST_M:
            following = moved + STEP_M
            then, more = self._moved(following, kept, rest, FOLLOW_ROUNDS)
            if any(then.slack) or not then.stable:
                slack = self._limit(moved, following, kept, rest, then)
                break
            while self._turned(then) >= wanted and wanted < self._asked + 1e-9:
                stations.append(self._between(moved, following, kept, rest, then, wanted))
                wanted += EVERY_RAD
            rest, moved, kept = then, following, more
        reached = self._asked if slack is None else slack.turned_rad
        beyond = None if slack is not None else self._beyond(moved, kept, rest)
        return Turn(_with_speeds(tuple(stations)), self._asked, reached, slack, beyond)

    def _between(self, low: float, high: float, kept: float, rest: Rest, then: Rest, wanted: float) -> TurnStation:
        """The rest at an angle, between two that lie before and behind it."""
        at_low, at_high = self._turned(rest), self._turned(then)
        found, more, middle = rest, kept, low
        for _ in range(6):
            middle = low + (high - low) * min(1.0, max(0.0, (wanted - at_low) / max(1e-9, at_high - at_low)))
            found, more = self._moved(middle, more, found, FOUND_ROUNDS)
            turned = self._turned(found)
            if abs(turned - wanted) < AT_RAD:
                break
            if turned < wanted:
                low, at_low = middle, turned
            else:
                high, at_high = middle, turned
        return self._station(self._turned(found), middle, more, found)

    def _limit(self, low: float, high: float, kept: float, rest: Rest, then: Rest) -> GoesSlack:
        """The last place that holds, to half a millimeter of line, and which line goes slack there."""
        name, good = self._slack(then), rest
        while high - low > 5e-4:
            middle = 0.5 * (low + high)
            found, _ = self._moved(middle, kept, good, FOUND_ROUNDS)
            if any(found.slack) or not found.stable:
                high, name = middle, self._slack(found)
            else:
                low, good = middle, found
        return GoesSlack(name, self._turned(good))

    def _beyond(self, moved: float, kept: float, rest: Rest) -> GoesSlack | None:
        while self._turned(rest) < self._asked + BEYOND_RAD and moved < MOST_M:
            before = self._turned(rest)
            rest, kept = self._moved(moved + 2.0 * STEP_M, kept, rest, FOLLOW_ROUNDS)
            moved += 2.0 * STEP_M
            if any(rest.slack):
                return GoesSlack(self._slack(rest), before)
            if self._turned(rest) < before:
                return None  # past half a turn
        return None

    def _station(self, turned: float, moved: float, kept: float, rest: Rest) -> TurnStation:
        hung = self._slung.told(self._sheaves, rest)
        station = TurnStation(turned, moved, kept, self._tips, hung, (1.0, 1.0))
        self._tips = plumbed(self._slung, self._tips, hung)
        self._sheaves = self._slung.sheaves_m(self._tips)
        return station


def _with_speeds(stations: tuple[TurnStation, ...]) -> tuple[TurnStation, ...]:
    """How fast each line runs so that the height is kept, from the stations on both sides."""
    found = []
    for n, one in enumerate(stations):
        before, after = stations[max(0, n - 1)], stations[min(len(stations) - 1, n + 1)]
        moved = after.moved_m - before.moved_m
        keeps = (after.kept_m - before.kept_m) / moved if moved > 0.0 else 0.0
        found.append(one._replace(speeds=(1.0 + keeps, 1.0 - keeps)))
    return tuple(found)


def named(turned_rad: float) -> str:
    """A station of the turn, for a table."""
    return f"turned {abs(round(degrees(turned_rad)))} deg"


def level_station(description: Description, load: Load, y_m: float, lowest_m: float) -> tuple[tuple[Vector, ...], Hung]:
    """The load lying as it lies, hung on its lines over a place of the path."""
    slung = slung_of(description)
    x = description.trailer.start.x_m + load.body.cg_m[0]
    pose = level_over(slung, x, y_m - load.middle_y_m + load.body.cg_m[1], lowest_m)
    return hung_level(slung, pose)


def lowered(description: Description, turn: Turn) -> Hung:
    """Turned all the way and let down until its lowest point is on the road or a waiting deck, its lines still taut."""
    slung, last = slung_of(description), turn.stations[-1].hung
    sheaves = slung.sheaves_m(turn.stations[-1].tips_m)
    x, y, z = (float(at) for at in last.rest.pose.cg_m)
    pose = pose_of(
        (x, y, z - last.lowest_m + description.landing.height_m),
        last.pose.pitch_rad,
        last.pose.yaw_rad,
        last.pose.roll_rad,
    )
    return slung.told(sheaves, slung.at_rest(sheaves, slung.lengths_m(sheaves, pose), pose))


def on_upper_edges(description: Description) -> Description:
    """The same lift with both lines of each unit straight to the upper edges of the lying load: to be compared."""
    trailer, rig = description.trailer, rig_of(description)
    picks = list(trailer.picks)
    for unit in rig.units:
        x = sum(picks[line.pick].at_m[0] for line in unit.lines) / len(unit.lines)
        edges = upper_edges_m(trailer, x)
        for line, edge in zip(unit.lines, edges, strict=True):
            pick = picks[line.pick]
            long = pick.height_m if pick.lies_on else pick.sling_length_m
            picks[line.pick] = replace(pick, at_m=edge, lies_on=None, pivot="single_point", sling_length_m=long)
    return replace(description, trailer=replace(trailer, picks=tuple(picks)))


def upper_edges_m(trailer: Trailer, x_m: float) -> tuple[Vector, Vector]:
    """Its two upper edges as it lies at a place along it, in its own axes: the one that goes down in the turn first."""
    high = {"top_to_ravine": 1.0, "top_to_road": -1.0}[trailer.attitude]
    discs = trailer_discs(trailer, x_m)
    y = max(high * disc.y_m + disc.radius_m for disc in discs) * high
    low_z = min(disc.z_m - disc.radius_m for disc in discs)
    top_z = max(disc.z_m + disc.radius_m for disc in discs)
    return (x_m, y, low_z), (x_m, y, top_z)


class Rigged(NamedTuple):
    """One rig, and how far it turns the load."""

    name: str
    turn: Turn


def compared(description: Description) -> tuple[Rigged, ...]:
    """The rig as described beside the one that has both lines on the upper edges."""
    return (
        Rigged("as described", turn_of(description)),
        Rigged("both lines on the upper edges", turn_of(on_upper_edges(description))),
    )
