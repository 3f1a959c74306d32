"""What can be taken hold of in a view, where it is, and which numbers it moves. No pygame."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from simulator.mechanics.flat_deck import deck_of
from simulator.mechanics.trailer_body import lying, rotation, stated_cg_m, turned
from simulator.scenario.asked_numbers import KINDS, System, written
from simulator.scenario.description import Description
from simulator.scenario.kept_by_identity import kept_by_identity
from simulator.scenario.measures import METERS_PER_FOOT
from simulator.scenario.standing import on_road
from simulator.scenario.typed_numbers import in_si
from simulator.scenario.writer_for_people import as_file_says
from simulator.window.layout import load_edits as load
from simulator.window.layout import place_edits as place
from simulator.window.layout.one_field import Typed, Value

View = Literal["above", "across", "ravine"]
"""From above: x along the road, y toward the road side. Across the slope: y, z. From the ravine: x, z."""
Spot = tuple[float, float]
STEPS_M: dict[System, tuple[float, float]] = {
    "metric": (0.1, 0.01),
    "us": (METERS_PER_FOOT / 2.0, METERS_PER_FOOT / 12.0),
}
"""What a drag or an arrow moves by, and with Shift: a hand's breadth and a finger's (our choice)."""


HELD_FROM_END_M = 0.8
"""A waiting trailer is held by the end of its deck that is on the right: its middle is where the load lands."""
HOLDS_LANE_M = 0.4
"""A unit that is dragged along the road stays on its line up to here; beyond, it goes to its own distance from the
edge."""


class Moves(NamedTuple):
    """A number that goes with a grip."""

    field: str
    axis: int
    """0 the view's first axis, 1 its second."""
    sign: float = 1.0
    """How much more the number is for each meter along the axis."""
    holds_m: float = 0.0
    """It stays as it was until the grip is moved this far along the axis: no shaking hand moves it by the way."""


class Grip(NamedTuple):
    """One thing that is dragged."""

    key: str
    view: View
    at: Spot
    """In the view's own axes, m."""
    moves: tuple[Moves, ...]


@kept_by_identity
def grips_of(lift: Description) -> tuple[Grip, ...]:
    """All of them, the smaller ones last: they lie on top."""
    return (*_above(lift), *_across(lift), *_ravine(lift))


def _above(lift: Description) -> Iterator[Grip]:
    site, middle_x, middle_y = lift.site, load.middle_x_m(lift), load.middle_y_m(lift)
    yield Grip("edge", "above", (_clear_x(lift), site.edge_y_m), (Moves("edge", 1, -1.0),))
    yield Grip("lane", "above", (_clear_x(lift), site.live_lane_y_m), (Moves("lane", 1),))
    yield Grip("landing", "above", (middle_x, lift.landing.y_m), (Moves("landing", 1),))
    if (deck := deck_of(lift)) is not None:
        on_right = site.nose_seen_from_ravine == "left"
        x = deck.high_x_m - HELD_FROM_END_M if on_right else deck.low_x_m + HELD_FROM_END_M
        at = x, (deck.low_y_m + deck.high_y_m) / 2.0
        yield Grip("flat", "above", at, (Moves("flat_along", 0), Moves("flat_across", 1)))
    if site.overhead_line is not None:
        yield Grip("line", "above", (_clear_x(lift), site.overhead_line.y_m), (Moves("line_out", 1),))
    for number, unit in enumerate(lift.units):
        across = Moves(f"off_edge_{number}", 1, holds_m=HOLDS_LANE_M)
        at = on_road(unit, -0.35 * unit.cab_front_m, 0.0)
        yield Grip(f"unit_{number}", "above", at, (Moves(f"axis_{number}", 0), across))
    yield Grip("load", "above", (middle_x, middle_y), (Moves("along", 0), Moves("out", 1, -1.0)))
    yield from _on_the_load(lift, "above", 1)


def _on_the_load(lift: Description, view: View, other: int) -> Iterator[Grip]:
    """The heavy end and the picks, where they are as it lies."""
    trailer = lift.trailer
    origin = stated_cg_m(trailer)

    def placed(x: float, y: float, z: float) -> Spot:
        start = trailer.start
        matrix = rotation(start.pitch_rad, start.yaw_rad, start.roll_rad)
        arm = turned(matrix, lying(trailer.attitude, (x - origin[0], y - origin[1], z - origin[2])))
        return start.x_m + arm[0], (start.y_m if other == 1 else 0.0) + arm[other]

    yield Grip("heavy", view, placed(*origin), (Moves("heavy", 0),))
    for number, pick in enumerate(trailer.picks):
        sign = 1.0 if load.is_front_pick(lift, number) else -1.0
        yield Grip(f"pick_{number}", view, placed(*pick.at_m), (Moves(f"pick_{number}", 0, sign),))


def _across(lift: Description) -> Iterator[Grip]:
    site = lift.site
    if place.has_slope(lift):
        toe = site.edge_y_m - place.run_m(lift), -place.depth_m(lift)
        yield Grip("toe", "across", toe, (Moves("run", 0, -1.0), Moves("depth", 1, -1.0)))
    yield Grip("edge", "across", (site.edge_y_m, 0.0), (Moves("edge", 0, -1.0),))
    if site.overhead_line is not None:
        line = site.overhead_line
        yield Grip("line", "across", (line.y_m, line.height_m), (Moves("line_out", 0), Moves("line_height", 1)))


def _ravine(lift: Description) -> Iterator[Grip]:
    middle = load.middle_x_m(lift)
    half = load.size_m(lift.trailer)[0] / 2.0
    yield Grip("tips", "ravine", (middle, lift.path.tip_height_m), (Moves("tips", 1),))
    yield Grip("belly", "ravine", (middle + 0.25 * half, lift.path.belly_over_road_m), (Moves("belly", 1),))
    for number, unit in enumerate(lift.units):
        at = on_road(unit, -0.35 * unit.cab_front_m, 0.0)[0]
        yield Grip(f"unit_{number}", "ravine", (at, unit.deck_height_m * 0.6), (Moves(f"axis_{number}", 0),))


def _clear_x(lift: Description) -> float:
    """Along the road beyond the cab that is farther to the tail's side: edge and lanes are held there."""
    return max(abs(unit.slew_axis_x_m - unit.facing * unit.cab_front_m) for unit in lift.units) * 0.8


def stepped(typed: Typed, was: float, by: float, system: System, *, fine: bool = False) -> float:
    """A number moved by so much, to the nearest round one in these units, inside its range."""
    step = STEPS_M[system][fine]
    return within(typed, as_written(typed, round((was + by) / step) * step, system))


def as_written(typed: Typed, value: float, system: System) -> float:
    """The number that its text in these units reads back to: so a file says it in them."""
    asked = typed.asked(system)
    return as_file_says(in_si(written(value, asked, system), asked.kind).value, KINDS[asked.kind].unit, system)


def within(typed: Typed, value: float) -> float:
    """The nearest value that may be."""
    return min(typed.high, max(typed.low, value))


def number_of(typed: Typed, lift: Description) -> float | None:
    """Its present number; None for a choice and for what is not there."""
    value: Value = typed.get(lift)
    return None if value is None or isinstance(value, str) else float(value)
