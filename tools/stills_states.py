"""The states of lifts worth a picture, good and bad, and how each is really driven to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import degrees
from typing import NamedTuple

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.readings import Readings
from simulator.scenario.description import Description
from tests.demo import with_hoist

Is = Callable[[Readings], bool]


ROCK_S = 7.0
WEAK_SHARE = 0.33


class State(NamedTuple):
    """How a lift is brought to a moment worth a picture."""

    name: str
    lift: str
    good_until: Is
    """The automatic operators drive until then."""
    hands: Callable[[float], Commands] = lambda _: STILL
    """What both people do so many seconds after that."""
    until: Is | None = None
    """The moment; without one, that at which the automatic operators have come so far."""
    change: Callable[[Description], Description] = lambda description: description


def both(**hands: float) -> Callable[[float], Commands]:
    """The same for both units, all the time."""
    return lambda _: Commands(UnitCommands(**hands), UnitCommands(**hands))


def nose(**hands: float) -> Callable[[float], Commands]:
    """One unit alone, all the time."""
    return lambda _: Commands(UnitCommands(**hands), UnitCommands())


def tips(now: Readings) -> bool:
    """One of the units."""
    return now.nose.tipping or now.tail.tipping


def inward(time_s: float) -> Commands:
    """Over the edge with slew and telescope together, too low."""
    return both(slew=0.33, telescope=-1.0, hoist=0.8)(time_s)


def rocking(time_s: float) -> Commands:
    """Slewing to and fro in time with the load, as nobody should."""
    return both(slew=1.0 if time_s % ROCK_S < ROCK_S / 2.0 else -1.0)(time_s)


def softer(description: Description) -> Description:
    """The same lift on ground that bears a third."""
    soil = description.site.soil
    return replace(
        description,
        site=replace(description.site, soil=replace(soil, allowable_bearing_Pa=soil.allowable_bearing_Pa / 3.0)),
    )


def weaker(description: Description) -> Description:
    """The same lift with winches that stall at a third of their pull."""
    return with_hoist(description, stall_line_pull_N=WEAK_SHARE * description.units[0].hoist.stall_line_pull_N)


def half_way(now: Readings) -> bool:
    """Hanging free, half way to the road."""
    return now.load.height_over_road_m > -4.8


def at_start(now: Readings) -> bool:
    """Time zero."""
    return now.time_s >= 0.0


def on_decks(now: Readings) -> bool:
    """Over the units."""
    return now.load.y_m > -0.5


def low_over_road(now: Readings) -> bool:
    """Just over the road, beside the units."""
    return now.load.height_over_road_m > 0.3


def leans(degrees_off: float) -> Is:
    """The nose unit's line off plumb by so much."""
    return lambda now: degrees(now.nose.mean_off_plumb_rad) > degrees_off


def least_head_room_m(now: Readings) -> float:
    """Of both units."""
    return min(now.nose.head_room_m, now.tail.head_room_m)


def least_gap_m(now: Readings) -> float:
    """Of all parts that meet anything."""
    return min((row.gap_m for row in now.gaps), default=float("inf"))


def turned(degrees_over: float) -> Is:
    """Hanging over the road, turned over so far."""
    return lambda now: now.load.y_m > 4.0 and degrees(now.load.turned_rad) > degrees_over


TANK, YARD, TURNED = "tank_on_side", "practice_yard", "turn_over_tank"
STATES = (
    State("1-start", TANK, at_start),
    State("2-half-way", TANK, half_way),
    State("3-over-the-decks", TANK, on_decks),
    State("4-landed", TANK, lambda now: now.load.landed),
    State("slack", YARD, at_start),
    State("rope", TANK, at_start, both(hoist=-1.0), lambda now: now.nose.rope_left_m < 3.6),
    State("plumb-caution", TANK, half_way, nose(slew=0.5), leans(2.2)),
    State("plumb-stop", TANK, half_way, nose(slew=0.5), leans(4.3)),
    State("pitch", TANK, half_way, nose(hoist=1.0), lambda now: abs(degrees(now.load.pitch_rad)) > 6.2),
    State("sway", TANK, half_way, rocking, lambda now: now.load.sway_m > 0.6),
    State("floats", TANK, half_way, both(elevation=-1.0), lambda now: now.nose.least_float_share < 0.2),
    State("tipping", TANK, half_way, both(elevation=-1.0, telescope=1.0), tips),
    State("head-room", TANK, half_way, both(hoist=1.0), lambda now: least_head_room_m(now) < 0.4),
    State("incident", TANK, on_decks, both(hoist=-1.0), lambda now: False),
    State("close", TANK, on_decks, both(hoist=-0.5), lambda now: least_gap_m(now) < 0.2),
    State("not-clear", TANK, low_over_road, inward, lambda now: now.load.y_m > -5.8),
    State(
        "lane",
        TANK,
        lambda now: now.load.y_m > 4.0,
        both(slew=0.5, telescope=1.0, hoist=-0.6),
        lambda now: now.load.lane_room_m < 0.8,
    ),
    State("turn-0", TURNED, turned(2.0)),
    State("turn-45", TURNED, turned(45.0)),
    State("turn-88", TURNED, turned(88.0)),
    State("spreader", "box_on_wheels", half_way),
    State("onto-flat", "box_onto_flat", lambda now: now.load.y_m > 4.0 and now.load.height_over_road_m < 1.5),
    State("ground", TANK, half_way, change=softer),
    State("stall", TANK, at_start, both(hoist=1.0), lambda now: now.nose.stall or now.tail.stall, weaker),
)
