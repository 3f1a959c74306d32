"""From where to where a number of a lift is measured, drawn on the picture from above."""

from __future__ import annotations

from math import hypot
from typing import Protocol

from simulator.mechanics.flat_deck import deck_of
from simulator.scenario.description import Description
from simulator.scenario.standing import float_places, on_road, pads_from_m
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import INK, PANEL
from simulator.window.layout import flat_edits, load_edits, place_edits
from simulator.window.scene.inset_plan import PlanView
from simulator.words import say

Spot = tuple[float, float]
BESIDE_M = 0.9
"""How far beside the load its own measures stand."""
LEAST = 6.0
"""Design units: a shorter line shows nothing."""


class Seen(Protocol):
    """What is drawn on."""

    lift: Description
    plan: PlanView


def ends_of(lift: Description, key: str) -> tuple[Spot, Spot] | None:
    """The two ends of what a field measures, along the road and across it, m; None where it is not seen from above."""
    middle, across = load_edits.middle_x_m(lift), load_edits.middle_y_m(lift)
    half = load_edits.size_m(lift.trailer)[0] / 2.0
    beside = across - load_edits.width_as_it_lies_m(lift) / 2.0 - BESIDE_M
    front, rear = middle - half, middle + half
    site = lift.site
    line = site.overhead_line
    rows: dict[str, tuple[Spot, Spot]] = {
        "edge": ((0.0, 0.0), (0.0, site.edge_y_m)),
        "lane": ((0.0, 0.0), (0.0, site.live_lane_y_m)),
        "line_out": ((0.0, 0.0), (0.0, line.y_m if line else 0.0)),
        "landing": ((middle, 0.0), (middle, lift.landing.y_m)),
        **_of_flat(lift),
        "out": ((middle, 0.0), (middle, across)),
        "along": ((0.0, beside), (middle, beside)),
        "length": ((front, beside), (rear, beside)),
        "heavy": ((front, beside), (front + load_edits.heavy_from_front_m(lift), beside)),
        "run": ((0.0, site.edge_y_m), (0.0, site.edge_y_m - place_edits.run_m(lift))),
    }
    name, _, number = key.rpartition("_")
    if name == "pick":
        from_end = load_edits.pick_from_end_m(lift, int(number))
        is_front = load_edits.is_front_pick(lift, int(number))
        return (
            ((front, beside), (front + from_end, beside)) if is_front else ((rear, beside), (rear - from_end, beside))
        )
    if name in ("axis", "spread", "pad", "off_edge", "askew", "jacks_road", "jacks_ravine"):
        return _of_unit(lift, name, int(number))
    return rows.get(key)


def _of_flat(lift: Description) -> dict[str, tuple[Spot, Spot]]:
    """A waiting trailer's deck: its own size, and its middle from the units'."""
    deck = deck_of(lift)
    if deck is None:
        return {}
    x, y = flat_edits.middle_m(lift)
    return {
        "flat_length": ((deck.low_x_m, y), (deck.high_x_m, y)),
        "flat_width": ((x, deck.low_y_m), (x, deck.high_y_m)),
        "flat_along": ((0.0, y), (x, y)),
        "flat_across": ((x, 0.0), (x, y)),
    }


def _of_unit(lift: Description, name: str, number: int) -> tuple[Spot, Spot]:
    """Slew axis from the middle; float to float; side of a pad."""
    unit = lift.units[number]
    floats, x = unit.floats, unit.slew_axis_x_m
    if name == "axis":
        return (0.0, unit.slew_axis_y_m), (x, unit.slew_axis_y_m)
    near, _, road, ravine = float_places(unit)
    if name == "off_edge":
        low = min(float_places(unit), key=lambda place: place[1])
        return (low[0], lift.site.edge_y_m), (low[0], pads_from_m(unit))
    middle = on_road(unit, -floats.toward_cab_m, 0.0)
    if name in ("jacks_road", "jacks_ravine"):
        return middle, road if name == "jacks_road" else ravine
    if name == "spread":
        return ravine, road
    if name == "askew":
        return (x, unit.slew_axis_y_m), on_road(unit, unit.tailboard_m, 0.0)
    side = floats.pad_side_m / 2.0
    return (near[0] - side, near[1]), (near[0] + side, near[1])


def draw_measured(canvas: Canvas, seen: Seen, key: str, text: str) -> None:
    """A line from end to end with its text; for what is measured along the load, which end is the front."""
    ends = ends_of(seen.lift, key)
    if ends is None:
        return
    start, end = (seen.plan.at(*one) for one in ends)
    long = hypot(end[0] - start[0], end[1] - start[1])
    if long < LEAST:
        return
    ux, uy = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    with canvas.clip(*seen.plan.picture):
        canvas.line(start, end, INK, width=3.0)
        for x, y in (start, end):
            canvas.line((x - uy * 10.0, y + ux * 10.0), (x + uy * 10.0, y - ux * 10.0), INK, width=3.0)
        _text(canvas, text, (start[0] + end[0]) / 2.0 + abs(uy) * 60.0, (start[1] + end[1]) / 2.0 + abs(ux) * 22.0)
        if key in ("heavy", "length") or key.startswith("pick"):
            low = load_edits.middle_x_m(seen.lift) - load_edits.size_m(seen.lift.trailer)[0] / 2.0
            x, y = seen.plan.at(low, load_edits.middle_y_m(seen.lift))
            _text(canvas, say("layout.front"), x - seen.plan.sign * 48.0, y)


def _text(canvas: Canvas, text: str, x: float, y: float) -> None:
    width = canvas.text_width(text, 24.0, weight="bold") + 14.0
    canvas.box(x - width / 2, y - 17.0, width, 34.0, fill=PANEL, edge=INK, edge_width=1.5, radius=6.0)
    canvas.text(text, x, y + 9.0, 24.0, weight="bold", anchor="center")
