"""The numbers of a lift that can be typed: what each is, its range, how it is read out of a lift and put into it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import radians
from typing import NamedTuple

from simulator.mechanics.trailer_body import stated_mass_kg
from simulator.scenario.asked_numbers import KINDS, Kind, System, Tons, written
from simulator.scenario.asked_numbers import Field as Asked
from simulator.scenario.description import Description, Path
from simulator.scenario.measures import METERS_PER_FOOT
from simulator.scenario.site import SOILS, Site
from simulator.scenario.typed_numbers import read
from simulator.scenario.unit import MOST_YAW_RAD, Floats, Unit
from simulator.scenario.writer_for_people import as_file_says
from simulator.window.kit.seen import seen_of
from simulator.window.layout import load_edits as load
from simulator.window.layout import place_edits as place
from simulator.words import known, say

Value = float | str | None
"""A number in SI, a choice, or nothing where there is none, such as no line overhead."""
GROUPS = ("place", "load", "path", "units")
NONE_WORDS = ("", "none", "no", "-")
"""What is typed for something that is not there."""
SAME_M = 0.005
"""Jacks this near to all the way out are all the way out: a tape is not read nearer."""
ATTITUDES = ("on_wheels", "top_to_ravine", "top_to_road")


class Typed(NamedTuple):
    """One number or choice that is typed or stepped through."""

    key: str
    group: str
    label: str
    get: Callable[[Description], Value]
    put: Callable[[Description, Value], Description]
    kind: Kind | None = None
    """None: one of the choices."""
    low: float = 0.0
    high: float = 0.0
    example: float = 0.0
    choices: tuple[str, ...] = ()
    can_be_none: bool = False
    keys: tuple[str, ...] = ()
    """Where it stands in a file, by dotted keys: there it is said whether it was measured or assumed."""

    def asked(self, system: System) -> Asked:
        """As numbers that people type are read; its example is a round one in these units.

        Raises:
            ValueError: it is a choice.
        """
        if self.kind is None:
            raise ValueError(self.key)
        one = METERS_PER_FOOT if system == "us" and self.kind == "length" else 0.0
        example = max(0.5, round(2.0 * self.example / one) / 2.0) * one if one else self.example
        return Asked(self.label, self.kind, self.low, self.high, example)

    def shown(self, lift: Description, system: System) -> str:
        """Its present value as text in these units."""
        value = self.get(lift)
        if value is None:
            return say("layout.none")
        if isinstance(value, str):
            return choice_words(value)
        return written(value, self.asked(system), system)

    def read(self, text: str, system: System, tons: Tons | None = None) -> tuple[Value, Tons | None]:
        """What was typed, in SI, and which ton it spoke of.

        Raises:
            ValueError: with a sentence: what was given and what is allowed.
        """
        if self.can_be_none and text.strip().lower() in NONE_WORDS:
            return None, None
        if self.kind is None:
            return self._choice(text), None
        found = read(text, self.asked(system), system, tons)
        if self.kind == "count":
            return float(round(found.value)), found.tons
        return as_file_says(found.value, KINDS[self.kind].unit, system), found.tons

    def _choice(self, text: str) -> str:
        wanted = text.strip().lower()
        words = {choice_words(one).lower(): one for one in self.choices}
        found = [one for word, one in words.items() if wanted and word.startswith(wanted)]
        if len(found) != 1:
            allowed = ", ".join(words)
            raise ValueError(say("layout.not_a_choice", label=self.label, given=text.strip(), allowed=allowed))
        return found[0]

    def next_choice(self, lift: Description, by: int) -> Value:
        """The choice after the present one."""
        at = self.choices.index(str(self.get(lift))) if self.get(lift) in self.choices else -1
        return self.choices[(at + by) % len(self.choices)]


def call_of(lift: Description, number: int) -> str:
    """A unit as everything on the screen calls it: left or right as it is seen, a lone one by its own name."""
    seen = seen_of(lift).of(number)
    return seen.said("name") if seen.is_alone else seen.said("call")


def choice_words(value: str) -> str:
    """A choice as it is shown; a name that is the lift's own as it is."""
    return known(f"layout.is_{value.replace(' ', '_')}", value)


def fields_of(lift: Description) -> tuple[Typed, ...]:
    """All that can be typed of a lift, in the order of the screen."""
    return (*_place(lift), *_load(lift), *_path(lift), *_units(lift))


def _num(value: Value) -> float:
    assert isinstance(value, int | float), value
    return float(value)


def _length(
    key: str,
    group: str,
    get: Callable[[Description], Value],
    put: Callable[[Description, float], Description],
    span: tuple[float, float],
    example: float,
    keys: tuple[str, ...] = (),
    *,
    kind: Kind = "length",
    label: str = "",
) -> Typed:
    words = label or say(f"layout.{key}")
    return Typed(
        key, group, words, get, lambda lift, value: put(lift, _num(value)), kind, *span, example, (), False, keys
    )


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
    yield _length("edge", "place", lambda one: -one.site.edge_y_m, lambda one, v: place.with_edge(one, -v),
                  (1.5, 20.0), 4.7, ("site.edge_y",))  # fmt: skip
    yield _length("set_back", "place", place.set_back_m, place.with_set_back, (-3.0, 15.0), 0.8)
    if place.has_slope(lift):
        yield _length("depth", "place", place.depth_m, place.with_depth, (0.3, 60.0), 10.5, section)
        yield _length("run", "place", place.run_m, place.with_run, (0.05, 80.0), 8.0, section)
        slope = (radians(2.0), radians(89.0))
        yield _length("bank", "place", place.bank_rad, place.with_bank, slope, radians(45.0), kind="slope")
    yield _length("lane", "place", *_of_site("live_lane_y_m"), (3.0, 60.0), 10.0, ("site.live_lane_y",))
    yield _length("rail", "place", *_of_site("guard_rail_height_m"), (0.0, 3.0), 0.8, ("site.guard_rail_height",))
    yield from _rail_cut()
    yield _choice("soil", "place", lambda one: one.site.soil.name, place.with_soil, tuple(SOILS), ("site.soil.name",))
    yield _length("wind", "place", lambda one: one.site.wind.speed_mps, lambda one, v: _wind(one, speed_mps=v),
                  (0.0, 30.0), 4.5, ("site.wind.speed",), kind="speed")  # fmt: skip
    yield _length("gust", "place", lambda one: one.site.wind.gust_share, lambda one, v: _wind(one, gust_share=v),
                  (0.0, 1.0), 0.5, ("site.wind.gust_share",), kind="share")  # fmt: skip
    yield _length("wind_to", "place", lambda one: one.site.wind.toward_rad, lambda one, v: _wind(one, toward_rad=v),
                  (-3.1416, 3.1416), radians(90.0), ("site.wind.toward",), kind="angle")  # fmt: skip
    yield from _line()
    sides = ("left", "right")
    yield _choice("nose_side", "place", lambda one: one.site.nose_seen_from_ravine,
                  lambda one, v: _site(one, nose_seen_from_ravine=v), sides,
                  ("site.nose_seen_from_ravine",))  # fmt: skip


def _rail_cut() -> Iterator[Typed]:
    """Both ends of an opening in the rail: nothing where it stands all along."""
    for key, name, example in (("cut_from", "guard_rail_cut_from_m", -8.0), ("cut_to", "guard_rail_cut_to_m", 8.0)):

        def get(one: Description, name: str = name) -> Value:
            value: float | None = getattr(one.site, name)
            return value

        def put(one: Description, value: Value, name: str = name) -> Description:
            return place.with_rail_cut(one, **{name: None if value is None else _num(value)})

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
            return place.with_line(one, **{name: None if value is None else _num(value)})

        at = (f"site.overhead_line.{name.removesuffix('_m')}",)
        yield Typed(key, "place", say(f"layout.{key}"), get, put, kind, low, high, example, (), True, at)


def _choice(
    key: str,
    group: str,
    get: Callable[[Description], Value],
    put: Callable[[Description, str], Description],
    choices: tuple[str, ...],
    keys: tuple[str, ...] = (),
    label: str = "",
) -> Typed:
    words = label or say(f"layout.{key}")
    return Typed(key, group, words, get, lambda one, value: put(one, str(value)), choices=choices, keys=keys)


# The load ---------------------------------------------------------------------------------------------------------


def _load(lift: Description) -> Iterator[Typed]:
    attitude = ("trailer.attitude",)
    yield _choice("attitude", "load", lambda one: one.trailer.attitude, load.with_attitude, ATTITUDES, attitude)
    for n, (key, put) in enumerate(
        (("length", load.with_length), ("width", load.with_width), ("height", load.with_height))
    ):
        span = ((3.0, 30.0), (1.0, 5.0), (1.0, 6.0))[n]

        def get(one: Description, n: int = n) -> Value:
            return load.size_m(one.trailer)[n]

        yield _length(key, "load", get, put, span, (16.0, 2.6, 4.1)[n])
    yield _length("weight", "load", lambda one: stated_mass_kg(one.trailer), load.with_weight, (500.0, 100e3),
                  20e3, ("trailer.cargo.mass",), kind="mass")  # fmt: skip
    yield _length("heavy", "load", load.heavy_from_front_m, load.with_heavy_from_front, (0.3, 29.0), 8.0,
                  ("trailer.cargo.cg",))  # fmt: skip
    yield _length("out", "load", lambda one: -load.middle_y_m(one), lambda one, v: load.with_middle(one, y_m=-v),
                  (-20.0, 40.0), 7.6, ("trailer.start.y",))  # fmt: skip
    yield _length("along", "load", load.middle_x_m, lambda one, v: load.with_middle(one, x_m=v), (-15.0, 15.0), 0.3,
                  ("trailer.start.x",))  # fmt: skip
    for number, pick in enumerate(lift.trailer.picks):
        yield _pick(number, pick.name, is_front=load.is_front_pick(lift, number))
    yield _length("rigging", "load", lambda one: one.trailer.picks[0].height_m, load.with_rigging, (0.3, 10.0), 2.1,
                  tuple(f"trailer.picks {n + 1}.height" for n in range(len(lift.trailer.picks))))  # fmt: skip


def _pick(number: int, name: str, *, is_front: bool) -> Typed:
    label = say("layout.pick_from_front" if is_front else "layout.pick_from_rear", name=name)
    return _length(
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

    yield _length("belly", "path", *of("belly_over_road_m"), (0.0, 12.0), 1.8, ("path.belly_over_road",))
    yield _length("tips", "path", *of("tip_height_m"), (2.0, 40.0), 9.0, ("path.tip_height",))
    yield _length("landing", "path", lambda one: one.landing.y_m,
                  lambda one, v: replace(one, landing=replace(one.landing, y_m=v)), (0.0, 50.0), 6.0,
                  ("landing.y",))  # fmt: skip
    if len(lift.units) > 1:
        names = tuple(unit.name for unit in lift.units)
        yield _choice("leader", "path", lambda one: one.path.leader, _with_leader, names, ("path.leader",))


def _with_leader(lift: Description, name: str) -> Description:
    path: Path = replace(lift.path, leader=name)
    return replace(lift, path=path)


# The units --------------------------------------------------------------------------------------------------------


def _units(lift: Description) -> Iterator[Typed]:
    if len(lift.units) > 1:
        yield _length("gap", "units", lambda one: one.gap_m, place.with_gap, (2.0, 40.0), 10.0)
        yield _swap()
    for number in range(len(lift.units)):
        yield from _unit(lift, number)


SWAPS = ("as they stand", "change places")


def _swap() -> Typed:
    """Which machine stands at which end: stepped, they change places."""

    def put(one: Description, value: str) -> Description:
        return place.with_units_swapped(one) if value == SWAPS[1] else one

    return _choice("swap", "units", lambda one: SWAPS[0], put, SWAPS)


def _unit(lift: Description, number: int) -> Iterator[Typed]:
    name = call_of(lift, number)

    def row(
        key: str,
        get: Callable[[Unit], float],
        put: Callable[[Unit, float], Unit],
        span: tuple[float, float],
        example: float,
        at: str = "",
        kind: Kind = "length",
    ) -> Typed:
        return _length(
            f"{key}_{number}",
            "units",
            lambda one: get(one.units[number]),
            lambda one, value: place.with_unit(one, number, put(one.units[number], value)),
            span,
            example,
            (f"units {number + 1}.{at}",) if at else (),
            kind=kind,
            label=say(f"layout.{key}", name=name),
        )

    yield row("axis", lambda one: one.slew_axis_x_m, lambda one, v: replace(one, slew_axis_x_m=v), (-40.0, 40.0), 9.0,
              "slew_axis_x")  # fmt: skip
    yield _length(f"off_edge_{number}", "units", lambda one: place.off_edge_m(one, number),
                  lambda one, v: place.with_off_edge(one, number, v), (-3.0, 20.0), 0.8,
                  (f"units {number + 1}.slew_axis_y",), label=say("layout.off_edge", name=name))  # fmt: skip
    yield row("askew", lambda one: one.yaw_rad, lambda one, v: replace(one, yaw_rad=v), (-MOST_YAW_RAD, MOST_YAW_RAD),
              radians(3.0), "yaw", kind="angle")  # fmt: skip
    yield row("spread", lambda one: 2.0 * one.floats.across_m, lambda one, v: _floats(one, across_m=v / 2.0),
              (2.0, 12.0), 7.0, "floats.across")  # fmt: skip
    yield row("jacks_road", lambda one: one.floats.road_m, lambda one, v: _jacks(one, "across_road_m", v),
              (0.5, 6.0), 2.0, "floats.across_road")  # fmt: skip
    yield row("jacks_ravine", lambda one: one.floats.ravine_m, lambda one, v: _jacks(one, "across_ravine_m", v),
              (0.5, 6.0), 2.0, "floats.across_ravine")  # fmt: skip
    yield row("pad", lambda one: one.floats.pad_side_m, lambda one, v: _floats(one, pad_side_m=v), (0.2, 3.0), 0.75,
              "floats.pad_side", kind="size")  # fmt: skip
    yield row("boom", lambda one: one.boom.longest_m,
              lambda one, v: replace(one, boom=replace(one.boom, longest_m=v)), (4.0, 40.0), 14.5,
              "boom.longest")  # fmt: skip
    yield row("unit_weight", place.unit_mass_kg, place.with_unit_mass, (5e3, 120e3), 38e3, "carrier",
              kind="mass")  # fmt: skip
    yield row("parts", lambda one: float(one.hoist.parts), _with_parts, (1.0, 12.0), 2.0, "", kind="count")


def _jacks(unit: Unit, name: str, value: float) -> Unit:
    """One side's beams out so far; all the way out they are not stated apart."""
    floats: Floats = replace(unit.floats, **{name: None if abs(value - unit.floats.across_m) < SAME_M else value})  # type: ignore[arg-type]
    return replace(unit, floats=floats)


def _floats(unit: Unit, **values: float) -> Unit:
    floats: Floats = replace(unit.floats, **values)  # type: ignore[arg-type]
    return replace(unit, floats=floats)


def _with_parts(unit: Unit, parts: float) -> Unit:
    lines = tuple(replace(line, hoist=replace(line.hoist, parts=round(parts))) for line in unit.lines)
    return replace(unit, lines=lines)


__all__ = ["ATTITUDES", "GROUPS", "Site", "Typed", "Value", "fields_of"]
