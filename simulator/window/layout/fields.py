"""The numbers of a lift that can be typed, in the order of the screen: place, load, path; units are beside it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import radians

from simulator.mechanics.trailer_body import stated_mass_kg
from simulator.scenario.asked_numbers import Kind
from simulator.scenario.description import Description, Path
from simulator.scenario.site import SOILS
from simulator.window.layout import load_edits as load
from simulator.window.layout import own_pieces as own
from simulator.window.layout import place_edits as place
from simulator.window.layout.flat_edits import MOST_LETTERS, flat_fields
from simulator.window.layout.one_field import (
    ATTITUDES,
    Typed,
    Value,
    call_of,
    choice_field,
    length_field,
    number_in,
)
from simulator.window.layout.unit_fields import unit_fields
from simulator.words import say


def fields_of(lift: Description) -> tuple[Typed, ...]:
    """All that can be typed of a lift, in the order of the screen."""
    return (*_place(lift), *_load(lift), *_path(lift), *unit_fields(lift))


# The place --------------------------------------------------------------------------------------------------------


def _site(lift: Description, **values: object) -> Description:
    return replace(lift, site=replace(lift.site, **values))  # type: ignore[arg-type]


def _of_site(name: str) -> tuple[Callable[[Description], Value], Callable[[Description, float], Description]]:
    def get(lift: Description) -> Value:
        value: float = getattr(lift.site, name)
        return value

    return get, lambda lift, value: _site(lift, **{name: value})


def _wind(lift: Description, **values: object) -> Description:
    return _site(lift, wind=replace(lift.site.wind, **values))  # type: ignore[arg-type]


def _place(lift: Description) -> Iterator[Typed]:
    section = ("site.section",)
    yield length_field("edge", "place", lambda one: -one.site.edge_y_m, lambda one, v: place.with_edge(one, -v),
                  (1.5, 20.0), 4.7, ("site.edge_y",))  # fmt: skip
    yield length_field("set_back", "place", place.set_back_m, place.with_set_back, (-3.0, 15.0), 0.8)
    if place.has_slope(lift):
        yield length_field("depth", "place", place.depth_m, place.with_depth, (0.3, 60.0), 10.5, section)
        yield length_field("run", "place", place.run_m, place.with_run, (0.05, 80.0), 8.0, section)
        slope = (radians(2.0), radians(89.0))
        yield length_field("bank", "place", place.bank_rad, place.with_bank, slope, radians(45.0), kind="slope")
    yield length_field("lane", "place", *_of_site("live_lane_y_m"), (3.0, 60.0), 10.0, ("site.live_lane_y",))
    yield length_field("rail", "place", *_of_site("guard_rail_height_m"), (0.0, 3.0), 0.8, ("site.guard_rail_height",))
    yield from _rail_cut()
    yield choice_field(
        "soil", "place", lambda one: one.site.soil.name, place.with_soil, tuple(SOILS), ("site.soil.name",)
    )
    yield Typed("face_by", "place", say("layout.face_by"), lambda one: one.site.soil.face_judged_by, _with_judge,
                can_be_none=True, longest=MOST_LETTERS)  # fmt: skip
    yield length_field("wind", "place", lambda one: one.site.wind.speed_mps, lambda one, v: _wind(one, speed_mps=v),
                  (0.0, 30.0), 4.5, ("site.wind.speed",), kind="speed")  # fmt: skip
    yield length_field("gust", "place", lambda one: one.site.wind.gust_share, lambda one, v: _wind(one, gust_share=v),
                  (0.0, 1.0), 0.5, ("site.wind.gust_share",), kind="share")  # fmt: skip
    yield length_field("wind_to", "place", lambda one: one.site.wind.toward_rad,
                  lambda one, v: _wind(one, toward_rad=v), (-3.1416, 3.1416), radians(90.0), ("site.wind.toward",),
                  kind="angle")  # fmt: skip
    yield from _line()
    sides = ("left", "right")
    yield choice_field("nose_side", "place", lambda one: one.site.nose_seen_from_ravine,
                  lambda one, v: _site(one, nose_seen_from_ravine=v), sides,
                  ("site.nose_seen_from_ravine",))  # fmt: skip


def _with_judge(lift: Description, value: Value) -> Description:
    """Who found the slope's face to carry the pads: an engineer's word, not the table's."""
    return _site(lift, soil=replace(lift.site.soil, face_judged_by=None if value is None else str(value)))


def _rail_cut() -> Iterator[Typed]:
    """Both ends of an opening in the rail: nothing where it stands all along."""
    for key, name, example in (("cut_from", "guard_rail_cut_from_m", -8.0), ("cut_to", "guard_rail_cut_to_m", 8.0)):

        def get(one: Description, name: str = name) -> Value:
            value: float | None = getattr(one.site, name)
            return value

        def put(one: Description, value: Value, name: str = name) -> Description:
            return place.with_rail_cut(one, **{name: None if value is None else number_in(value)})

        at = (f"site.{name.removesuffix('_m')}",)
        yield Typed(key, "place", say(f"layout.{key}"), get, put, "length", -60.0, 60.0, example, (), True, at)


def _line() -> Iterator[Typed]:
    """The overhead line: nothing where there is none."""
    rows: tuple[tuple[str, str, Kind, tuple[float, float], float], ...] = (
        ("line_out", "y_m", "length", (-60.0, 60.0), 9.0),
        ("line_height", "height_m", "length", (3.0, 80.0), 9.0),
        ("line_kv", "kilovolt", "count", (0.0, 1500.0), 12.0),
    )
    for key, name, kind, (low, high), example in rows:

        def get(one: Description, name: str = name) -> Value:
            line = one.site.overhead_line
            value: float | None = None if line is None else getattr(line, name)
            return value

        def put(one: Description, value: Value, name: str = name) -> Description:
            return place.with_line(one, **{name: None if value is None else number_in(value)})

        at = (f"site.overhead_line.{name.removesuffix('_m')}",)
        yield Typed(key, "place", say(f"layout.{key}"), get, put, kind, low, high, example, (), True, at)


# The load ---------------------------------------------------------------------------------------------------------


def _load(lift: Description) -> Iterator[Typed]:
    attitude, types = ("trailer.attitude",), (*own.trailers(), own.AS_STATED)
    yield choice_field("type", "load", lambda one: own.trailer_of(one.trailer), own.with_trailer, types)
    yield choice_field("attitude", "load", lambda one: one.trailer.attitude, load.with_attitude, ATTITUDES, attitude)
    for n, (key, put) in enumerate(
        (("length", load.with_length), ("width", load.with_width), ("height", load.with_height))
    ):
        span = ((3.0, 30.0), (1.0, 5.0), (1.0, 6.0))[n]

        def get(one: Description, n: int = n) -> Value:
            return load.size_m(one.trailer)[n]

        yield length_field(key, "load", get, put, span, (16.0, 2.6, 4.1)[n])
    yield length_field("weight", "load", lambda one: stated_mass_kg(one.trailer), load.with_weight, (500.0, 100e3),
                  20e3, ("trailer.cargo.mass",), kind="mass")  # fmt: skip
    yield length_field("heavy", "load", load.heavy_from_front_m, load.with_heavy_from_front, (0.3, 29.0), 8.0,
                  ("trailer.cargo.cg",))  # fmt: skip
    yield length_field("out", "load", lambda one: -load.middle_y_m(one), lambda one, v: load.with_middle(one, y_m=-v),
                  (-20.0, 40.0), 7.6, ("trailer.start.y",))  # fmt: skip
    yield length_field("along", "load", load.middle_x_m, lambda one, v: load.with_middle(one, x_m=v),
                  (-15.0, 15.0), 0.3, ("trailer.start.x",))  # fmt: skip
    for number, pick in enumerate(lift.trailer.picks):
        yield _pick(number, pick.name.replace("_", " "), is_front=load.is_front_pick(lift, number))
    yield length_field("rigging", "load", lambda one: one.trailer.picks[0].height_m, load.with_rigging, (0.3, 10.0),
                  2.1, tuple(f"trailer.picks {n + 1}.height" for n in range(len(lift.trailer.picks))))  # fmt: skip


def _pick(number: int, name: str, *, is_front: bool) -> Typed:
    label = say("layout.pick_from_front" if is_front else "layout.pick_from_rear", name=name)
    return length_field(
        f"pick_{number}",
        "load",
        lambda one: load.pick_from_end_m(one, number),
        lambda one, value: load.with_pick_from_end(one, number, value),
        (0.0, 25.0),
        1.5,
        (f"trailer.picks {number + 1}.at",),
        label=label,
    )


# The path ---------------------------------------------------------------------------------------------------------


def _path(lift: Description) -> Iterator[Typed]:
    def of(name: str) -> tuple[Callable[[Description], Value], Callable[[Description, float], Description]]:
        def get(one: Description) -> Value:
            value: float = getattr(one.path, name)
            return value

        return get, lambda one, value: replace(one, path=replace(one.path, **{name: value}))

    yield length_field("belly", "path", *of("belly_over_road_m"), (0.0, 12.0), 1.8, ("path.belly_over_road",))
    yield length_field("tips", "path", *of("tip_height_m"), (2.0, 40.0), 9.0, ("path.tip_height",))
    yield length_field("landing", "path", lambda one: one.landing.y_m,
                  lambda one, v: replace(one, landing=replace(one.landing, y_m=v)), (0.0, 50.0), 6.0,
                  ("landing.y",))  # fmt: skip
    yield from flat_fields(lift)
    if len(lift.units) > 1:
        names = tuple(call_of(lift, number) for number in range(len(lift.units)))
        yield choice_field("leader", "path", _leader, _with_leader, names, ("path.leader",))


def _leader(lift: Description) -> str:
    names = [unit.name for unit in lift.units]
    return call_of(lift, names.index(lift.path.leader) if lift.path.leader in names else 0)


def _with_leader(lift: Description, called: str) -> Description:
    number = next(n for n in range(len(lift.units)) if call_of(lift, n) == called)
    path: Path = replace(lift.path, leader=lift.units[number].name)
    return replace(lift, path=path)
