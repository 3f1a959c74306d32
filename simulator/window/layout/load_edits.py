"""The load of a lift with one of its numbers changed: size, weight, heavy end, picks. Frozen values in and out.

Where the load lies does not change by what is typed of it: its reference point is its center of gravity, and moves.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from simulator.mechanics.trailer_body import lying, part_corners, rotation, stated_cg_m, stated_mass_kg, turned
from simulator.scenario.description import Description
from simulator.scenario.retold import restated
from simulator.scenario.trailer import Part, Trailer, Vector

STIFF_PARTS = ("wheels", "legs")
"""They keep their own size when a trailer gets longer or higher."""
LEAST_CARGO_KG = 1.0
Span = tuple[float, float]


def spans(trailer: Trailer) -> tuple[Span, Span, Span]:
    """Least and most x, y and z of all parts, in the trailer's own axes, m."""
    corners = [corner for part in trailer.parts for corner in part_corners(part)]
    x, y, z = ((min(row), max(row)) for row in zip(*corners, strict=True))
    return x, y, z


def size_m(trailer: Trailer) -> Vector:
    """Length, width, height."""
    long, wide, high = (high - low for low, high in spans(trailer))
    return long, wide, high


def put_trailer(lift: Description, trailer: Trailer) -> Description:
    """The lift with another load in the place of its own: its middle stays where it was along and across."""
    matrix = rotation(0.0, lift.trailer.start.yaw_rad, 0.0)
    was, now = (lying(trailer.attitude, stated_cg_m(one)) for one in (lift.trailer, trailer))
    dx, dy, _ = turned(matrix, (now[0] - was[0], now[1] - was[1], 0.0))
    start = replace(trailer.start, x_m=trailer.start.x_m + dx, y_m=trailer.start.y_m + dy)
    return replace(lift, trailer=replace(trailer, start=start))


def said_anew(lift: Description, was_m: float, now_m: float) -> Description:
    """The lift with a length that its title or story states stated as it is now."""
    title, story = (restated(text, was_m, now_m) for text in (lift.title, lift.story))
    return replace(lift, title=title, story=story)


# Size -------------------------------------------------------------------------------------------------------------


def with_length(lift: Description, length_m: float) -> Description:
    """Longer about its middle; picks stay as far from the ends as they were, axles and legs keep their size."""
    (low, high), _, _ = spans(lift.trailer)
    middle, factor = (low + high) / 2.0, length_m / (high - low)

    def moved(x: float) -> float:
        return middle + (x - middle) * factor

    def from_end(x: float) -> float:
        by = (high - low) * (factor - 1.0) / 2.0
        return x - by if x < middle else x + by

    trailer = _stretched(lift.trailer, 0, moved, from_end)
    long, wide, tall = trailer.cargo.size_m
    cargo = replace(trailer.cargo, size_m=(long * factor, wide, tall))
    return said_anew(put_trailer(lift, replace(trailer, cargo=cargo)), high - low, length_m)


def with_width(lift: Description, width_m: float) -> Description:
    """Wider about its own axis, all parts alike."""
    factor = width_m / size_m(lift.trailer)[1]
    trailer = lift.trailer
    parts = tuple(replace(part, width_m=part.width_m * factor, y_m=part.y_m * factor) for part in trailer.parts)
    long, wide, tall = trailer.cargo.size_m
    x, y, z = trailer.cargo.cg_m
    cargo = replace(trailer.cargo, size_m=(long, wide * factor, tall), cg_m=(x, y * factor, z))
    picks = tuple(replace(pick, at_m=(pick.at_m[0], pick.at_m[1] * factor, pick.at_m[2])) for pick in trailer.picks)
    candidates = tuple(
        replace(one, at_m=(one.at_m[0], one.at_m[1] * factor, one.at_m[2])) for one in trailer.pick_candidates
    )
    return put_trailer(lift, replace(trailer, parts=parts, cargo=cargo, picks=picks, pick_candidates=candidates))


def with_height(lift: Description, height_m: float) -> Description:
    """Higher from the plane it stands on; wheels and legs keep their size."""
    low, high = spans(lift.trailer)[2]
    factor = height_m / (high - low)

    def moved(z: float) -> float:
        return low + (z - low) * factor

    trailer = _stretched(lift.trailer, 2, moved, moved)
    long, wide, tall = trailer.cargo.size_m
    cargo = replace(trailer.cargo, size_m=(long, wide, tall * factor))
    return said_anew(put_trailer(lift, replace(trailer, cargo=cargo)), high - low, height_m)


def _stretched(
    trailer: Trailer, axis: int, moved: Callable[[float], float], picked: Callable[[float], float]
) -> Trailer:
    """Parts and cargo moved along one axis by one rule, picks by another."""

    def at(point: Vector, rule: Callable[[float], float]) -> Vector:
        x, y, z = (rule(value) if n == axis else value for n, value in enumerate(point))
        return x, y, z

    parts = tuple(_part(part, axis, moved) for part in trailer.parts)
    cargo = replace(trailer.cargo, cg_m=at(trailer.cargo.cg_m, moved))
    picks = tuple(replace(pick, at_m=at(pick.at_m, picked)) for pick in trailer.picks)
    candidates = tuple(replace(one, at_m=at(one.at_m, picked)) for one in trailer.pick_candidates)
    return replace(trailer, parts=parts, cargo=cargo, picks=picks, pick_candidates=candidates)


def _part(part: Part, axis: int, moved: Callable[[float], float]) -> Part:
    """A part's outline (x, z) moved along x or z; stiff parts as a whole along x, and not at all along z."""
    place = 0 if axis == 0 else 1
    if part.drawn_as in STIFF_PARTS:
        if axis:
            return part
        xs = [x for x, _ in part.outline_m]
        middle = (min(xs) + max(xs)) / 2.0
        by = moved(middle) - middle
        return replace(part, outline_m=tuple((x + by, z) for x, z in part.outline_m))
    outline = tuple((moved(one[0]), one[1]) if place == 0 else (one[0], moved(one[1])) for one in part.outline_m)
    return replace(part, outline_m=outline)


# Weight -----------------------------------------------------------------------------------------------------------


def with_weight(lift: Description, mass_kg: float) -> Description:
    """Its load takes the difference; where that is not enough, all of it weighs less alike. The heavy end stays."""
    trailer, was_x = lift.trailer, stated_cg_m(lift.trailer)[0]
    rest = stated_mass_kg(trailer) - trailer.cargo.mass_kg
    if mass_kg - rest >= LEAST_CARGO_KG:
        cargo = replace(trailer.cargo, mass_kg=mass_kg - rest)
        return with_heavy_x(put_trailer(lift, replace(trailer, cargo=cargo)), was_x)
    factor = mass_kg / stated_mass_kg(trailer)
    parts = tuple(replace(part, mass_kg=part.mass_kg * factor) for part in trailer.parts)
    cargo = replace(trailer.cargo, mass_kg=trailer.cargo.mass_kg * factor)
    return put_trailer(lift, replace(trailer, parts=parts, cargo=cargo))


def with_heavy_x(lift: Description, x_m: float) -> Description:
    """Its load moved along it until its center of gravity is at an x of its own axes; without one nothing moves."""
    trailer = lift.trailer
    cargo, (cg_x, _, _) = trailer.cargo, stated_cg_m(trailer)
    if cargo.mass_kg <= 0.0:
        return lift
    x, y, z = cargo.cg_m
    by = (x_m - cg_x) * stated_mass_kg(trailer) / cargo.mass_kg
    return put_trailer(lift, replace(trailer, cargo=replace(cargo, cg_m=(x + by, y, z))))


def heavy_from_front_m(lift: Description) -> float:
    """Front end to the center of gravity."""
    return stated_cg_m(lift.trailer)[0] - spans(lift.trailer)[0][0]


def with_heavy_from_front(lift: Description, from_front_m: float) -> Description:
    """The same, put there."""
    return with_heavy_x(lift, spans(lift.trailer)[0][0] + from_front_m)


# Picks ------------------------------------------------------------------------------------------------------------


def pick_from_end_m(lift: Description, number: int) -> float:
    """From the end that is nearer: the front for picks of the front half."""
    (low, high), x = spans(lift.trailer)[0], lift.trailer.picks[number].at_m[0]
    return x - low if is_front_pick(lift, number) else high - x


def is_front_pick(lift: Description, number: int) -> bool:
    """Measured from the front end: the first of two picks; of more, those of the front half."""
    picks = lift.trailer.picks
    if len(picks) == 2:
        return picks[number].at_m[0] == min(pick.at_m[0] for pick in picks)
    low, high = spans(lift.trailer)[0]
    return picks[number].at_m[0] < (low + high) / 2.0


def with_pick_from_end(lift: Description, number: int, from_end_m: float) -> Description:
    """A pick so far from its end."""
    low, high = spans(lift.trailer)[0]
    return with_pick_x(lift, number, low + from_end_m if is_front_pick(lift, number) else high - from_end_m)


def with_pick_x(lift: Description, number: int, x_m: float) -> Description:
    """A pick at an x of the trailer's own axes; a candidate stays where it is."""
    trailer = lift.trailer
    _, y, z = trailer.picks[number].at_m
    picks = list(trailer.picks)
    picks[number] = replace(picks[number], at_m=(x_m, y, z))
    return replace(lift, trailer=replace(trailer, picks=tuple(picks)))


def with_rigging(lift: Description, height_m: float) -> Description:
    """Pick to hook, all picks alike."""
    picks = tuple(replace(pick, height_m=height_m) for pick in lift.trailer.picks)
    return replace(lift, trailer=replace(lift.trailer, picks=picks))


def with_attitude(lift: Description, attitude: str) -> Description:
    """As it lies; its picks go to the side that is up, its roll is found anew."""
    trailer = lift.trailer
    if attitude == trailer.attitude:
        return lift
    _, (left, right), (_, top) = spans(trailer)
    cg_z = stated_cg_m(trailer)[2]
    up = {"on_wheels": (0.0, top), "top_to_ravine": (right, cg_z), "top_to_road": (left, cg_z)}[attitude]
    picks = tuple(replace(pick, at_m=(pick.at_m[0], *up)) for pick in trailer.picks)
    start = replace(trailer.start, roll_rad=0.0, pitch_rad=0.0)
    turned_over = replace(trailer, attitude=attitude, picks=picks, start=start)  # type: ignore[arg-type]
    return replace(lift, trailer=turned_over)


# Where it lies ----------------------------------------------------------------------------------------------------


def middle_y_m(lift: Description) -> float:
    """Middle of the load across, from the middle of the units, toward the road."""
    trailer = lift.trailer
    origin = stated_cg_m(trailer)
    ys = [
        lying(trailer.attitude, (x - origin[0], y - origin[1], z - origin[2]))[1]
        for part in trailer.parts
        for x, y, z in part_corners(part)
    ]
    return trailer.start.y_m + (min(ys) + max(ys)) / 2.0


def width_as_it_lies_m(lift: Description) -> float:
    """Across, as it lies."""
    _, wide, high = size_m(lift.trailer)
    return wide if lift.trailer.attitude == "on_wheels" else high


def middle_x_m(lift: Description) -> float:
    """Middle of the load along the road."""
    (low, high), _, _ = spans(lift.trailer)
    return lift.trailer.start.x_m + (low + high) / 2.0 - stated_cg_m(lift.trailer)[0]


def with_middle(lift: Description, *, x_m: float | None = None, y_m: float | None = None) -> Description:
    """The load lying with its middle there."""
    start = lift.trailer.start
    x = start.x_m if x_m is None else start.x_m + x_m - middle_x_m(lift)
    y = start.y_m if y_m is None else start.y_m + y_m - middle_y_m(lift)
    return replace(lift, trailer=replace(lift.trailer, start=replace(start, x_m=x, y_m=y)))
