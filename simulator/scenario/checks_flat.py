"""Rules of a flat trailer that waits for the load: it stands on the level road, and not where the load lies."""

from __future__ import annotations

from itertools import pairwise

from simulator.scenario.breach import Breach, Breaches, rising
from simulator.scenario.checks_site import ROAD_HEIGHT_TOLERANCE_M, half_width_m
from simulator.scenario.description import Landing
from simulator.scenario.trailer import Part, TrailerStart

Points = tuple[tuple[float, float], ...]


def flat(
    place: Landing, section_m: Points, edge_y_m: float, parts: tuple[Part, ...], attitude: str, start: TrailerStart
) -> Breaches:
    """Its sides are on the road, and the load lies beside it at first."""
    if place.flat is None or not rising(tuple(-y for y, _ in section_m)):
        return
    key = "landing.y" if place.flat.y_m is None else "landing.flat.y"
    low, high = place.deck_y_m(place.flat)
    y, half = (low + high) / 2.0, (high - low) / 2.0
    if low < edge_y_m:
        given = f"{y:g} m, its side at {low:.2f} m"
        yield Breach((key, "landing.flat.width"), given, f"at least {edge_y_m + half:.2f} m, all of it on the road")
        return
    heights = [_height_m(section_m, at) for at in (low, high)]
    heights += [z for at, z in section_m if low < at < high]
    worst = max(heights, key=abs)
    if abs(worst) > ROAD_HEIGHT_TOLERANCE_M:
        given = f"{y:g} m, where the section is {worst:+.2f} m high"
        yield Breach((key, "site.section"), given, "a place where the road is level, z = 0, under all of it")
    yield from _begins_beside(place, (low, high), parts, attitude, start)


def _begins_beside(
    place: Landing, sides_m: tuple[float, float], parts: tuple[Part, ...], attitude: str, start: TrailerStart
) -> Breaches:
    if place.flat is None or not parts or not all(part.outline_m for part in parts):
        return
    half = half_width_m(parts, attitude)
    if start.y_m + half > sides_m[0] and start.y_m - half < sides_m[1]:
        allowed = f"less than {sides_m[0] - half:.2f} m: the load begins beside the waiting trailer, not on it"
        yield Breach(("trailer.start.y", "landing.flat"), f"{start.y_m:g} m", allowed)


def _height_m(section_m: Points, y_m: float) -> float:
    """Of the section there; level beyond its ends."""
    if y_m >= section_m[0][0]:
        return section_m[0][1]
    for (y0, z0), (y1, z1) in pairwise(section_m):
        if y_m >= y1:
            return z1 + (z0 - z1) * (y_m - y1) / (y0 - y1)
    return section_m[-1][1]
