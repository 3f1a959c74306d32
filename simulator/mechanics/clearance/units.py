"""A unit as named solids: what stands still on and under its deck, its superstructure and what slews behind it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise, product
from math import ceil
from typing import Literal, NamedTuple

from simulator.mechanics.clearance.solid import Solids, round_plan, tail_plan, upright
from simulator.scenario.standing import on_road
from simulator.scenario.unit import Unit

Kind = Literal["cab", "deck", "tailboard", "equipment", "beam", "jack", "pad", "rail", "edge", "flat"]
Span = tuple[float, float]
END_UNITS = ("nose unit", "tail unit")
FLOAT_WORDS = ("tailboard-end road-side", "tailboard-end ravine-side", "cab-end road-side", "cab-end ravine-side")

TAILBOARD_DEEP_M = 0.3
"""Last piece of the deck that is named tailboard."""
OVER_FOOT_PIN_M = 0.4
"""Superstructure above the foot pin. This and the four below: common practice, no source."""
BEAM_MIDDLE_M, BEAM_DEEP_M = 0.5, 0.25
JACK_SIDE_M = 0.3
JACK_TOP_M = 1.2
PAD_THICK_M = 0.1
PIECE_M = 0.8
"""What stands askew is cut into pieces no longer than this: at 5 degrees each reaches 7 cm farther than it is."""


class Box(NamedTuple):
    """A level box that stands still: ends along x, across y, over the road."""

    name: str
    kind: Kind
    x_m: Span
    y_m: Span
    z_m: Span


def called(unit: Unit) -> str:
    """A unit by its name."""
    return f"{unit.name} unit"


def unit_boxes(unit: Unit) -> list[Box]:
    """Cab, deck, tailboard, equipment, and per float a beam, a jack and a pad."""
    half, deck = unit.carrier_width_m / 2.0, unit.deck_height_m
    side, rear, lip = (-half, half), unit.cab_length_m - unit.cab_front_m, unit.tailboard_m - TAILBOARD_DEEP_M
    boxes = [
        *_box(unit, "cab", "cab", (-unit.cab_front_m, rear), side, (0.0, unit.cab_height_m)),
        *_box(unit, "deck", "deck", (rear, lip), side, (0.0, deck)),
        *_box(unit, "tailboard", "tailboard", (lip, unit.tailboard_m), side, (0.0, deck)),
    ]
    for thing in unit.equipment:
        ends, wide = (thing.from_m, thing.to_m), thing.width_m / 2.0
        boxes += _box(unit, thing.name, "equipment", ends, (-wide, wide), (deck, thing.height_m))
    return [*boxes, *_outrigger_boxes(unit)]


def _outrigger_boxes(unit: Unit) -> list[Box]:
    floats, boxes = unit.floats, []
    beam = BEAM_MIDDLE_M - BEAM_DEEP_M / 2.0, BEAM_MIDDLE_M + BEAM_DEEP_M / 2.0
    for i, word in enumerate(FLOAT_WORDS):
        u = floats.toward_tailboard_m if i < 2 else -floats.toward_cab_m
        y = floats.road_m if i % 2 == 0 else -floats.ravine_m
        jack, pad = JACK_SIDE_M / 2.0, floats.pad_side_m / 2.0
        inner = min(unit.carrier_width_m / 2.0, abs(y))
        along, reach = (u - jack, u + jack), (inner, y) if y > 0 else (y, -inner)
        boxes += [
            *_box(unit, f"{word} beam", "beam", along, reach, beam),
            *_box(unit, f"{word} jack", "jack", along, (y - jack, y + jack), (PAD_THICK_M, JACK_TOP_M)),
            *_box(unit, f"{word} pad", "pad", (u - pad, u + pad), (y - pad, y + pad), (0.0, PAD_THICK_M)),
        ]
    return boxes


def _box(unit: Unit, name: str, kind: Kind, u_m: Span, v_m: Span, z_m: Span) -> Iterator[Box]:
    """A box of the unit's own; of a unit askew in pieces, each as wide as its corners reach: never less than it is."""
    low, high = sorted(z_m)
    for u, v in _pieces(u_m, v_m) if unit.yaw_rad else [(u_m, v_m)]:
        corners = [on_road(unit, a, b) for a in u for b in v]
        xs, ys = sorted(x for x, _ in corners), sorted(y for _, y in corners)
        yield Box(f"{called(unit)} {name}", kind, (xs[0], xs[-1]), (ys[0], ys[-1]), (low, high))


def _pieces(u_m: Span, v_m: Span) -> list[tuple[Span, Span]]:
    """A rectangle cut along and across into pieces that are at most `PIECE_M` long."""
    return list(product(_cut(u_m), _cut(v_m)))


def _cut(span_m: Span) -> list[Span]:
    low, high = sorted(span_m)
    count = max(1, ceil((high - low) / PIECE_M))
    return list(pairwise(low + (high - low) * n / count for n in range(count + 1)))


def superstructure(unit: Unit) -> Solids:
    """A prism drawn round the superstructure's cylinder; slew axis at x = y = 0."""
    return _round(unit.superstructure_radius_m, unit.deck_height_m, unit.boom.foot_pin_height_m + OVER_FOOT_PIN_M)


@lru_cache(maxsize=16)
def _round(radius_m: float, deck_m: float, top_m: float) -> Solids:
    return upright(round_plan(radius_m), min(deck_m, top_m - 0.01), top_m)


def tail_piece(unit: Unit) -> Solids:
    """The counterweight that slews behind the axis, boom toward +x; slew axis at x = y = 0."""
    top = unit.boom.foot_pin_height_m + OVER_FOOT_PIN_M
    return _tail(unit.tail_swing_m, unit.superstructure_radius_m, unit.deck_height_m, top)


@lru_cache(maxsize=16)
def _tail(tail_m: float, half_width_m: float, deck_m: float, top_m: float) -> Solids:
    return upright(tail_plan(tail_m, half_width_m), min(deck_m, top_m - 0.01), top_m)
