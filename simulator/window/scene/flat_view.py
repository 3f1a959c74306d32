"""A flat trailer that waits for the load, drawn in every view: its deck, its wheels, and which way it drives off."""

from __future__ import annotations

from collections.abc import Callable

from simulator.mechanics.flat_deck import deck_of
from simulator.mechanics.ground import Deck
from simulator.scenario.description import Description
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import BED, BED_LINE, INK, PANEL, STEEL, STEEL_DARK, mixed
from simulator.window.scene.trailer_shape import TYRE

Spot = tuple[float, float]
At = Callable[[float, float], Spot]
"""A place of a view, m, in design units."""
PLANKS, PLANK_LINE = mixed(BED, BED_LINE, 0.35), mixed(BED, BED_LINE, 0.75)
THICK_M = 0.3
"""Of deck and frame."""
WHEELS, WHEEL_APART_M, WHEEL_END_M, MOST_WHEEL_M = 3, 0.95, 0.8, 0.4
LEG_END_M = 0.9
BEAM_EVERY_M = 1.6


def waits(description: Description) -> tuple[object, ...]:
    """All that is drawn of it, as a value that can be compared."""
    deck, flat = deck_of(description), description.landing.flat
    if deck is None or flat is None:
        return ()
    return deck.low_x_m, deck.high_x_m, deck.low_y_m, deck.high_y_m, deck.top_m, flat.leaves


def draw_beside(canvas: Canvas, at: At, description: Description) -> None:
    """From the ravine: x and z."""
    deck = deck_of(description)
    if deck is None:
        return
    wheel = min(MOST_WHEEL_M, deck.top_m / 2.0)
    rear = _rear(deck, description)
    for n in range(WHEELS):
        x, y = at(rear.x_m + rear.way * (WHEEL_END_M + n * WHEEL_APART_M), wheel)
        canvas.disc(x, y, _long(at, wheel), fill=TYRE, edge=INK, edge_width=1.5)
        canvas.disc(x, y, _long(at, wheel * 0.4), fill=STEEL)
    leg = rear.x_m + rear.way * (deck.high_x_m - deck.low_x_m - LEG_END_M)
    _slab(canvas, at, (leg - 0.12, leg + 0.12), (0.0, deck.top_m - THICK_M / 2.0), STEEL_DARK)
    _slab(canvas, at, (deck.low_x_m, deck.high_x_m), (deck.top_m - THICK_M, deck.top_m), STEEL_DARK)
    _slab(canvas, at, (deck.low_x_m, deck.high_x_m), (deck.top_m - 0.09, deck.top_m), PLANKS)


def draw_across(canvas: Canvas, at: At, description: Description) -> None:
    """Across the road: y and z."""
    deck = deck_of(description)
    if deck is None:
        return
    wheel, wide = min(MOST_WHEEL_M, deck.top_m / 2.0), min(0.5, (deck.high_y_m - deck.low_y_m) / 4.0)
    for low in (deck.low_y_m + 0.05, deck.high_y_m - 0.05 - wide):
        _slab(canvas, at, (low, low + wide), (0.0, 2.0 * wheel), TYRE)
    _slab(canvas, at, (deck.low_y_m, deck.high_y_m), (deck.top_m - THICK_M, deck.top_m), STEEL_DARK)
    _slab(canvas, at, (deck.low_y_m, deck.high_y_m), (deck.top_m - 0.09, deck.top_m), PLANKS)


def draw_above(canvas: Canvas, at: At, description: Description, *, arrow: float = 1.0) -> None:
    """From above: x and y; `arrow`: how large the way it drives off is shown."""
    deck = deck_of(description)
    if deck is None:
        return
    _slab(canvas, at, (deck.low_x_m, deck.high_x_m), (deck.low_y_m, deck.high_y_m), PLANKS)
    count = max(1, round((deck.high_x_m - deck.low_x_m) / BEAM_EVERY_M))
    for n in range(1, count):
        x = deck.low_x_m + (deck.high_x_m - deck.low_x_m) * n / count
        canvas.line(at(x, deck.low_y_m), at(x, deck.high_y_m), PLANK_LINE, width=1.5)
    _way_out(canvas, at, deck, description, arrow)


def _way_out(canvas: Canvas, at: At, deck: Deck, description: Description, size: float) -> None:
    flat = description.landing.flat
    if flat is None or flat.leaves is None:
        return
    y, way = (deck.low_y_m + deck.high_y_m) / 2.0, -1.0 if flat.leaves == "nose" else 1.0
    end = deck.low_x_m if way < 0.0 else deck.high_x_m
    start, tip = at(end + way * 0.3, y), at(end + way * 2.2, y)
    canvas.arrow(start, tip, PANEL, shaft=8.0 * size, head=22.0 * size)
    canvas.arrow(start, tip, INK, shaft=4.0 * size, head=16.0 * size)


class _End:
    """The end with the wheels: away from where it drives off to; `way` along the road, into the deck from there."""

    def __init__(self, x_m: float, way: float) -> None:
        self.x_m, self.way = x_m, way


def _rear(deck: Deck, description: Description) -> _End:
    flat = description.landing.flat
    leaves = None if flat is None else flat.leaves
    return _End(deck.low_x_m, 1.0) if leaves == "tail" else _End(deck.high_x_m, -1.0)


def _slab(canvas: Canvas, at: At, u: Spot, v: Spot, fill: tuple[int, int, int]) -> None:
    corners = [at(u[0], v[0]), at(u[1], v[0]), at(u[1], v[1]), at(u[0], v[1])]
    canvas.polygon(corners, fill, edge=INK, edge_width=1.5)


def _long(at: At, meters: float) -> float:
    """In design units, upward."""
    return abs(at(0.0, meters)[1] - at(0.0, 0.0)[1])
