"""Rules of the place and of what is judged on it: section, bed, landing, limits."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from simulator.scenario.breach import Breach, Breaches, rising
from simulator.scenario.description import Engine, Landing, Limits
from simulator.scenario.drill import Drill
from simulator.scenario.site import HoldingLine
from simulator.scenario.standing import pads_to_m
from simulator.scenario.trailer import Part, Pick
from simulator.scenario.unit import Unit

Points = tuple[tuple[float, float], ...]
ROAD_HEIGHT_TOLERANCE_M = 0.01
MOST_POINTS = 250
"""Every step asks the ground for its nearest point: with more, a lift no longer runs in its own time."""


def section(section_m: Points, edge_y_m: float) -> Breaches:
    """At least two points and not too many, y falling all the way, the edge among them."""
    yield from _not_too_many("site.section", section_m)
    across = tuple(-y for y, _ in section_m)
    if len(section_m) < 2 or not rising(across):
        given = f"y {_row(y for y, _ in section_m)} m"
        yield Breach(("site.section",), given, "at least 2 points from the road to the far bank, y falling at each")
    elif not section_m[-1][0] <= edge_y_m <= section_m[0][0]:
        yield Breach(("site.edge_y",), f"{edge_y_m:g} m", _between("m", section_m[-1][0], section_m[0][0], "section"))


def road_height(section_m: Points) -> Breaches:
    """The units stand at y = 0, where the section has to be as high as the road: zero."""
    if not rising(tuple(-y for y, _ in section_m)):
        return
    for (y0, z0), (y1, z1) in pairwise(section_m):
        if y1 <= 0.0 <= y0:
            z = z0 + (z1 - z0) * (y0 / (y0 - y1))
            if abs(z) > ROAD_HEIGHT_TOLERANCE_M:
                yield Breach(("site.section",), f"z {z:.3g} m at y = 0", "z = 0 at y = 0, where the units stand")
            return
    yield Breach(("site.section",), f"y {_row(y for y, _ in section_m)} m", "points on both sides of y = 0")


def bed(bed_m: Points) -> Breaches:
    """At least two points and not too many, x rising."""
    yield from _not_too_many("site.bed", bed_m)
    along = tuple(x for x, _ in bed_m)
    if len(along) < 2 or not rising(along):
        yield Breach(("site.bed",), f"x {_row(along)} m", "at least 2 points, x rising at each")


def rail_cut(start_m: float | None, end_m: float | None) -> Breaches:
    """An opening has two ends, the first one nearer to the nose's end of the road."""
    keys = ("site.guard_rail_cut_from", "site.guard_rail_cut_to")
    if (start_m is None) != (end_m is None):
        given = "only " + ("guard_rail_cut_from" if end_m is None else "guard_rail_cut_to")
        yield Breach(keys, given, "both ends of the opening, such as -8 m and 8 m")
    elif start_m is not None and end_m is not None and start_m >= end_m:
        yield Breach(keys, f"from {start_m:g} m to {end_m:g} m", "guard_rail_cut_from less than guard_rail_cut_to")


def _not_too_many(key: str, points: Points) -> Breaches:
    if len(points) > MOST_POINTS:
        allowed = f"at most {MOST_POINTS} points; of a survey leave out those that lie nearly on the line of their "
        yield Breach((key,), f"a list of {len(points)}", allowed + "neighbors, such as all but one in each meter")


def landing(
    place: Landing, lane_y_m: float, parts: tuple[Part, ...], attitude: str, units: tuple[Unit, ...]
) -> Breaches:
    """The trailer fits between the pads and the live lane where it is to come down."""
    if not parts or not all(part.outline_m for part in parts):
        return
    half = half_width_m(parts, "on_wheels" if place.on_wheels else attitude)
    pads = max(map(pads_to_m, units))
    low, high = pads + place.off_pads_m + half, lane_y_m - place.off_lane_m - half
    keys = ("landing.y", "site.live_lane_y", "landing.off_pads", "landing.off_lane")
    if low > high:
        room = f"{lane_y_m - pads:.2f} m from pads to live lane"
        yield Breach(keys, room, f"at least {lane_y_m - pads + low - high:.2f} m for this trailer")
    elif not low <= place.y_m <= high:
        yield Breach(keys, f"{place.y_m:g} m", f"{low:.2f} to {high:.2f} m, clear of the pads and of the live lane")


def carried(
    exercise: Drill | None, place: Landing, lane_y_m: float, parts: tuple[Part, ...], attitude: str, limits: Limits
) -> Breaches:
    """A drill asks for no place that takes points from whoever does as it says: none in the live lane's caution."""
    if exercise is None or not parts or not all(part.outline_m for part in parts):
        return
    most = lane_y_m - limits.lane_caution_m - half_width_m(parts, "on_wheels" if place.on_wheels else attitude)
    for number, step in enumerate(exercise.steps, 1):
        y = place.y_m if step.to_y_m is None else step.to_y_m
        if step.work == "cross" and y > most:
            key = "landing.y" if step.to_y_m is None else f"drill.steps {number}.to_y"
            may = f"up to {most:.2f} m where a drill carries the load there: nearer to the live lane costs points"
            yield Breach((key, "site.live_lane_y", "limits.lane_caution"), f"{y:g} m", may)


MOST_OVER_GROUND_M = 3.0
"""An anchor is a stake, a tree or a unit's hook."""


def holding_line(
    line: HoldingLine | None, section_m: Points, edge_y_m: float, bed_m: Points, parts: tuple[Part, ...]
) -> Breaches:
    """Its anchor is on the section's ground, it is made fast to the trailer, and drawn up to less than it holds."""
    if line is None or not rising(tuple(-y for y, _ in section_m)) or not rising(tuple(x for x, _ in bed_m)):
        return
    key, (x, y, z) = "site.holding_line.anchor", line.anchor_m
    low, high = section_m[-1][0], section_m[0][0]
    if not low <= y <= high:
        allowed = f"y {low:g} to {high:g} m, inside the section, such as [{x:g}, {(low + high) / 2.0:g}, {z:g}]"
        yield Breach((key,), f"y {y:g} m", allowed)
        return
    ground_m = _height_m(tuple(reversed(section_m)), y) + (_height_m(bed_m, x) if y < edge_y_m else 0.0)
    if not ground_m - 0.5 <= z <= ground_m + MOST_OVER_GROUND_M:
        most = ground_m + MOST_OVER_GROUND_M
        allowed = f"z {ground_m - 0.5:.2f} to {most:.2f} m, where the ground is, such as [{x:g}, {y:g}, {ground_m:.2f}]"
        yield Breach((key,), f"z {z:g} m at y {y:g} m", allowed)
    yield from _made_fast(line.at_m, parts)
    if line.drawn_up_N >= line.holds_N:
        allowed = f"less than holds, {line.holds_N:g} N, such as {line.holds_N / 4.0:.0f}"
        yield Breach(("site.holding_line.drawn_up",), f"{line.drawn_up_N:g} N", allowed)


def _made_fast(at_m: tuple[float, float, float], parts: tuple[Part, ...]) -> Breaches:
    """Somewhere on or in the box round the trailer's parts."""
    if not parts or not all(part.outline_m for part in parts):
        return
    sides = [part.y_m + way * part.width_m / 2.0 for part in parts for way in (-1.0, 1.0)]
    axes = ([x for part in parts for x, _ in part.outline_m], sides, [z for part in parts for _, z in part.outline_m])
    if not all(min(row) - 0.1 <= at <= max(row) + 0.1 for at, row in zip(at_m, axes, strict=True)):
        ranges = ", ".join(f"{name} {min(row):g} to {max(row):g}" for name, row in zip("xyz", axes, strict=True))
        middle = ", ".join(f"{(min(row) + max(row)) / 2.0:g}" for row in axes)
        given = ", ".join(f"{at:g}" for at in at_m)
        yield Breach(("site.holding_line.at",), f"[{given}] m", f"on the trailer: {ranges} m, such as [{middle}]")


def _height_m(points: Points, at: float) -> float:
    """Of a line of points with the first numbers rising; level beyond its ends."""
    if at <= points[0][0]:
        return points[0][1]
    for (x0, z0), (x1, z1) in pairwise(points):
        if at <= x1:
            return z0 + (z1 - z0) * (at - x0) / (x1 - x0)
    return points[-1][1]


def turned_over(on_wheels: bool, attitude: str, picks: tuple[Pick, ...]) -> Breaches:
    """What is to be turned over in the air lies on its side, and hangs on slings that may come to bear on it."""
    if not on_wheels or attitude == "on_wheels":
        return
    for number, pick in enumerate(picks, 1):
        if pick.sling_length_m is None:
            keys = ("landing.on_wheels", f"trailer.picks {number}.sling_length")
            allowed = f"sling_length at every pick, the {pick.name} pick too: each line comes to bear as the load turns"
            yield Breach(keys, "true", allowed)
            return


def limits(limit: Limits) -> Breaches:
    """Caution comes before stop, and plumb before caution."""
    rows = (
        ("plumb", limit.plumb_rad, "off_plumb_caution", limit.off_plumb_caution_rad),
        ("off_plumb_caution", limit.off_plumb_caution_rad, "off_plumb_stop", limit.off_plumb_stop_rad),
        ("capacity_caution", limit.capacity_caution, "capacity_stop", limit.capacity_stop),
        ("pitch_caution", limit.pitch_caution_rad, "pitch_stop", limit.pitch_stop_rad),
        ("sway_caution", limit.sway_caution_m, "sway_stop", limit.sway_stop_m),
        ("sway_caution", limit.sway_caution_m, "gap_close", limit.gap_close_m),
        ("hook_off_stop", limit.hook_off_stop_m, "hook_off_caution", limit.hook_off_caution_m),
        ("lane_stop", limit.lane_stop_m, "lane_caution", limit.lane_caution_m),
        ("wind_caution", limit.wind_caution_mps, "wind_stop", limit.wind_stop_mps),
        ("head_room_stop", limit.head_room_stop_m, "head_room_caution", limit.head_room_caution_m),
        ("rope_left_stop", limit.rope_left_stop_m, "rope_left_caution", limit.rope_left_caution_m),
    )
    for smaller, value, larger, other in rows:
        if value > other:
            # A limit that the file leaves out is not the one to look at: name both.
            given = f"{smaller} {value:.4g} and {larger} {other:.4g}"
            yield Breach((f"limits.{smaller}", f"limits.{larger}"), given, f"{smaller} at most {larger}")


def engine(numbers: Engine) -> Breaches:
    """Readings fall on steps."""
    if numbers.steps_per_s % numbers.readings_per_s:
        given, whole = f"{numbers.readings_per_s}", f"a whole part of steps_per_s, {numbers.steps_per_s}"
        yield Breach(("engine.readings_per_s", "engine.steps_per_s"), given, whole)


def half_width_m(parts: tuple[Part, ...], attitude: str) -> float:
    """Half of the trailer's extent across the road as it lies."""
    if attitude == "on_wheels":
        low = min(part.y_m - part.width_m / 2.0 for part in parts)
        high = max(part.y_m + part.width_m / 2.0 for part in parts)
    else:
        heights = [z for part in parts for _, z in part.outline_m]
        low, high = min(heights), max(heights)
    return (high - low) / 2.0


def _row(values: Iterable[float]) -> str:
    numbers = [f"{value:g}" for value in values]
    return ", ".join(numbers if len(numbers) <= 8 else [*numbers[:4], "...", *numbers[-3:]])


def _between(unit: str, low: float, high: float, name: str) -> str:
    return f"{low:g} to {high:g} {unit}, inside the {name}"
