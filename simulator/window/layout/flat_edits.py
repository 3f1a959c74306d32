"""A flat trailer that waits for the load, with one of its numbers typed or dragged; and as fields of the screen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import ceil
from typing import Literal, NamedTuple

from simulator.mechanics.flat_deck import deck_of
from simulator.scenario.asked_numbers import Kind
from simulator.scenario.description import Description
from simulator.scenario.flat import Flat
from simulator.window.layout.load_edits import size_m, width_as_it_lies_m
from simulator.window.layout.one_field import Typed, Value, number_in
from simulator.words import say

HEIGHT_M, WIDTH_M, LONGER_M = 0.9, 2.55, 0.4
"""A new one's deck: height, width, and how much longer than the load: assumed, and shown so."""
MOST_LETTERS = 400
"""Of what happens to the load next: it is read at the roadside. Our own choice, no source."""
Way = Literal["nose", "tail"]
WAYS: dict[str, Way] = {"out_nose": "nose", "out_tail": "tail"}
"""By what is chosen on the screen."""


def new_flat(lift: Description, deck_height_m: float) -> Flat:
    """One that the load fits on, with what it stands out over the sides allowed."""
    long = ceil(10.0 * (size_m(lift.trailer)[0] + LONGER_M)) / 10.0
    over = max(0.0, (width_as_it_lies_m(lift) - WIDTH_M) / 2.0) + 0.3
    return Flat(deck_height_m, long, WIDTH_M, side_overhang_m=ceil(10.0 * over) / 10.0, end_overhang_m=0.3)


def with_flat(lift: Description, flat: Flat | None) -> Description:
    """Another one, or none: the load comes down on the road."""
    return replace(lift, landing=replace(lift.landing, flat=flat))


def with_deck_height(lift: Description, value: Value) -> Description:
    """None takes the trailer away; a height where there is none brings one."""
    if value is None:
        return with_flat(lift, None)
    flat, height = lift.landing.flat, number_in(value)
    return with_flat(lift, new_flat(lift, height) if flat is None else replace(flat, deck_height_m=height))


def middle_m(lift: Description) -> tuple[float, float]:
    """Of its deck along and across, stated or not."""
    deck = deck_of(lift)
    assert deck is not None
    return (deck.low_x_m + deck.high_x_m) / 2.0, (deck.low_y_m + deck.high_y_m) / 2.0


class _Row(NamedTuple):
    key: str
    name: str
    kind: Kind
    low: float
    high: float
    example: float
    can_be_none: bool = False


ROWS = (
    _Row("flat_length", "length_m", "length", 1.0, 40.0, 13.6),
    _Row("flat_width", "width_m", "length", 1.0, 6.0, 2.55),
    _Row("flat_along", "x_m", "length", -60.0, 60.0, 0.0),
    _Row("flat_across", "y_m", "length", 0.0, 60.0, 6.0),
    _Row("flat_sides", "side_overhang_m", "length", 0.0, 3.0, 0.3),
    _Row("flat_ends", "end_overhang_m", "length", 0.0, 3.0, 0.3),
    _Row("flat_payload", "payload_kg", "mass", 500.0, 150e3, 24e3, can_be_none=True),
    _Row("flat_limit", "height_limit_m", "length", 2.0, 8.0, 4.1, can_be_none=True),
)


def flat_fields(lift: Description) -> Iterator[Typed]:
    """Its deck's height, nothing where none waits; the rest where one does."""
    at = ("landing.flat.deck_height",)
    yield Typed("flat_height", "path", say("layout.flat_height"), _deck_height, with_deck_height, "length", 0.2, 2.0,
                HEIGHT_M, (), True, at)  # fmt: skip
    if lift.landing.flat is None:
        return
    yield from map(_typed, ROWS)
    yield Typed("flat_leaves", "path", say("layout.flat_leaves"), _leaves, _with_leaves, choices=tuple(WAYS),
                keys=("landing.flat.leaves",))  # fmt: skip
    yield Typed("flat_next", "path", say("layout.flat_next"), _what_next, _with_what_next, can_be_none=True,
                longest=MOST_LETTERS)  # fmt: skip


def _deck_height(lift: Description) -> Value:
    return None if lift.landing.flat is None else lift.landing.flat.deck_height_m


def _typed(row: _Row) -> Typed:
    get, put = _get_and_put(row.name)
    at = (f"landing.flat.{row.name.rpartition('_')[0]}",)
    words = say(f"layout.{row.key}")
    return Typed(row.key, "path", words, get, put, row.kind, row.low, row.high, row.example, (), row.can_be_none, at)


def _get_and_put(name: str) -> tuple[Callable[[Description], Value], Callable[[Description, Value], Description]]:
    def get(lift: Description) -> Value:
        if name in ("x_m", "y_m"):
            return middle_m(lift)[name == "y_m"]
        value: float | None = getattr(lift.landing.flat, name)
        return value

    def put(lift: Description, value: Value) -> Description:
        flat = lift.landing.flat
        assert flat is not None
        number = None if value is None else number_in(value)
        return with_flat(lift, replace(flat, **{name: number}))  # type: ignore[arg-type]

    return get, put


def _what_next(lift: Description) -> Value:
    flat = lift.landing.flat
    return None if flat is None or flat.what_next is None else " ".join(flat.what_next.split())


def _with_what_next(lift: Description, value: Value) -> Description:
    flat = lift.landing.flat
    assert flat is not None
    return with_flat(lift, replace(flat, what_next=None if value is None else str(value)))


def _leaves(lift: Description) -> Value:
    flat = lift.landing.flat
    return None if flat is None or flat.leaves is None else f"out_{flat.leaves}"


def _with_leaves(lift: Description, value: Value) -> Description:
    flat = lift.landing.flat
    assert flat is not None
    return with_flat(lift, replace(flat, leaves=WAYS[str(value)]))
