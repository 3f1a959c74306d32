"""The numbers of the units of a lift that can be typed: which unit, where it stands, its floats, boom and lines."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import radians

from simulator.scenario.asked_numbers import Kind
from simulator.scenario.description import Description
from simulator.scenario.unit import MOST_YAW_RAD, Floats, Unit
from simulator.window.layout import own_pieces as own
from simulator.window.layout import place_edits as place
from simulator.window.layout.one_field import (
    SAME_M,
    Typed,
    call_of,
    choice_field,
    length_field,
)
from simulator.words import say


def unit_fields(lift: Description) -> Iterator[Typed]:
    """All of the units, gap first."""
    if len(lift.units) > 1:
        yield length_field("gap", "units", lambda one: one.gap_m, place.with_gap, (2.0, 40.0), 10.0)
        yield _swap()
    for number in range(len(lift.units)):
        yield from _named(lift, number)
    for number in range(len(lift.units)):
        yield from _unit(lift, number)


def _named(lift: Description, number: int) -> Iterator[Typed]:
    """Which unit it is, of those with a name, and how it is set up where it has several charts."""
    name = call_of(lift, number)
    names, charts = (*own.named_units(), own.AS_STATED), own.charts_of(lift.units[number])
    label = say("layout.named", name=name)
    yield choice_field(f"named_{number}", "units", lambda one: own.name_of(one.units[number]),
                  lambda one, v: own.with_named(one, number, v), names, label=label)  # fmt: skip
    if len(charts) > 1:
        yield choice_field(f"setup_{number}", "units", lambda one: one.units[number].configuration or "",
                      lambda one, v: own.with_named(one, number, own.name_of(one.units[number]), v), charts,
                      (f"units {number + 1}.configuration",), label=say("layout.setup", name=name))  # fmt: skip


SWAPS = ("as_they_stand", "change_places")


def _swap() -> Typed:
    """Which unit stands at which end: stepped, they change places."""

    def put(one: Description, value: str) -> Description:
        return place.with_units_swapped(one) if value == SWAPS[1] else one

    return choice_field("swap", "units", lambda one: SWAPS[0], put, SWAPS)


class _Rows:
    """Makes the fields of one unit."""

    def __init__(self, lift: Description, number: int) -> None:
        self.name, self.number = call_of(lift, number), number

    def __call__(
        self,
        key: str,
        get: Callable[[Unit], float],
        put: Callable[[Unit, float], Unit],
        span: tuple[float, float],
        example: float,
        at: str = "",
        kind: Kind = "length",
    ) -> Typed:
        """One number of the unit; `at` is its key in a file."""
        number = self.number
        return length_field(
            f"{key}_{number}",
            "units",
            lambda one: get(one.units[number]),
            lambda one, value: place.with_unit(one, number, put(one.units[number], value)),
            span,
            example,
            (f"units {number + 1}.{at}",) if at else (),
            kind=kind,
            label=say(f"layout.{key}", name=self.name),
        )


def _unit(lift: Description, number: int) -> Iterator[Typed]:
    row, name = _Rows(lift, number), call_of(lift, number)
    yield row("axis", lambda one: one.slew_axis_x_m, lambda one, v: replace(one, slew_axis_x_m=v), (-40.0, 40.0), 9.0,
              "slew_axis_x")  # fmt: skip
    yield length_field(f"off_edge_{number}", "units", lambda one: place.off_edge_m(one, number),
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
