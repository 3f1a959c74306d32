"""What does not change along the path: pads behind the slope's edge, wind at the booms."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from simulator.mechanics.allowances import HANDS_TAKE_M
from simulator.mechanics.bearing import EdgeCheck, edge_check
from simulator.mechanics.clearance.units import FLOAT_WORDS
from simulator.mechanics.ground import bed_at, ground
from simulator.mechanics.wind import wind_at_mps
from simulator.plan.findings import Amount, Change, Reading, passed
from simulator.plan.solutions import ROUNDING
from simulator.scenario.checks_site import half_width_m
from simulator.scenario.description import Description
from simulator.scenario.standing import float_places, half_pad_m, pads_to_m

TABLE_ENDS_M = 6.096
"""20 ft: deeper slopes are in no table (29 CFR 1926 Subpart P App. B, Table B-1, read in a secondary copy)."""


RAVINE_FLOATS = (1, 3)


class Pad(NamedTuple):
    """A ravine-side pad against the slope."""

    end: int
    name: str
    edge: EdgeCheck
    depth_m: float
    """Of the slope below the pad, to its deepest corner."""

    @property
    def beyond_table(self) -> str:
        """Why no table decides here; empty where one does."""
        if self.depth_m > TABLE_ENDS_M:
            return "the slope is deeper than 20 ft, where the table of safe slopes ends"
        if self.edge.set_back_m < self.depth_m:
            return "a pad stands nearer to the edge than the slope is deep, and the table knows no load on top"
        return ""


def ravine_pads(description: Description) -> tuple[Pad, ...]:
    """The ravine-side pads of every unit."""
    site, surface = description.site, ground(description.site)
    found = []
    for end, unit in enumerate(description.units):
        places = float_places(unit)
        for number in RAVINE_FLOATS:
            (x, y), word = places[number], FLOAT_WORDS[number]
            pad_edge, (rise, _) = y - half_pad_m(unit), bed_at(surface, x)
            edge = edge_check(site.section_m, site.edge_y_m, pad_edge, site.soil.steepest_angle_rad, bed_m=rise)
            depth = max((-z - rise for y, z in site.section_m if y < site.edge_y_m), default=0.0)
            found.append(Pad(end, f"{word} pad", edge, depth))
    return tuple(found)


def set_back_readings(description: Description) -> Iterator[Reading]:
    """The ravine-side pads behind the slope's edge and behind the line from its toe: the same at every station."""
    for pad in ravine_pads(description):
        spare = pad.edge.set_back_m - pad.edge.needed_m
        words = "stand this float {} farther back ({} behind the edge, by the line from the toe or the 2 ft)"
        words += ", or have qualified people hold the face"
        change = Change(words, (Amount(-spare, "m"), Amount(pad.edge.needed_m, "m")))
        who, name = f"{description.units[pad.end].name} unit", "pad behind its line"
        yield Reading("set-back", who, name, "m", spare, -ROUNDING, -ROUNDING, False, pad.name, change)


def landing_readings(description: Description, aside_m: float) -> Iterator[Reading]:
    """Room of the load where it is to come down, to what it has to stay off there: pads and live lane.

    Args:
        description: a lift whose load crosses.
        aside_m: how far wind holds it to one side as it comes down.
    """
    landing, trailer = description.landing, description.trailer
    half = half_width_m(trailer.parts, "on_wheels" if landing.on_wheels else trailer.attitude) + abs(aside_m)
    pads = max(map(pads_to_m, description.units))
    rooms = {"pads": landing.y_m - half - pads - landing.off_pads_m}
    if landing.off_lane_m > description.limits.lane_stop_m:  # else the room to the live lane says it
        rooms["live lane"] = description.site.live_lane_y_m - landing.off_lane_m - landing.y_m - half
    what = min(rooms, key=rooms.__getitem__)
    caution = max(HANDS_TAKE_M, description.limits.gap_close_m)
    change = Change(f"land it {{}} farther from the {what}", (Amount(max(0.0, HANDS_TAKE_M - rooms[what]), "m"),))
    name = "room at its landing place"
    yield Reading("landing", "trailer", name, "m", rooms[what], caution, HANDS_TAKE_M - ROUNDING, False, what, change)


def wind_readings(description: Description) -> Iterator[Reading]:
    """The gust at each boom tip against its maker's limit, or the usual one where none is given."""
    limits, tip_m = description.limits, description.path.tip_height_m
    gust = wind_at_mps(description.site.wind, tip_m) * (1.0 + description.site.wind.gust_share)
    for unit in description.units:
        stop = limits.wind_stop_mps if unit.wind_stop_mps is None else unit.wind_stop_mps
        caution = min(stop, limits.wind_caution_mps if unit.wind_caution_mps is None else unit.wind_caution_mps)
        change = Change(
            "wait for gusts below {}", (Amount(passed(gust, caution, stop, rising=True), "m/s", is_least=False),)
        )
        about = "common practice" if unit.wind_stop_mps is None else "maker's limit"
        name = "gust at the boom tip"
        yield Reading("wind", f"{unit.name} unit", name, "m/s", gust, caution, stop, True, about, change)
