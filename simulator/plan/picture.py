"""Outlines of a set-up for drawing: side view (x, z) and plan (x, y), in meters. No colors, no scale."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import cos, sin
from typing import Literal, NamedTuple

from simulator.mechanics.boom import BoomPose, tip_m
from simulator.mechanics.clearance.scene import Pose
from simulator.mechanics.clearance.units import FLOAT_WORDS, unit_boxes
from simulator.mechanics.flat_deck import deck_of
from simulator.mechanics.ground import ground, height_m
from simulator.mechanics.trailer_body import Vector, lying, part_corners, rotation, stated_cg_m, turned
from simulator.plan.judged_station import StationCheck
from simulator.plan.setup_check import SetupCheck
from simulator.scenario.rig import rig_of
from simulator.scenario.standing import askew, float_places, on_road
from simulator.scenario.trailer import Pick, Trailer
from simulator.scenario.unit import Unit

View = Literal["side", "plan"]
Kind = Literal[
    "unit", "pad", "trailer", "boom", "line", "rigging", "ground", "road", "edge", "lane", "superstructure", "flat"
]
Place = tuple[float, float]
ACROSS: dict[View, int] = {"side": 2, "plan": 1}
ROUND_SIDES = 24


class Shape(NamedTuple):
    """A closed outline, or a run of points where `open`."""

    kind: Kind
    points: tuple[Place, ...]
    open: bool = False
    label: str = ""


def hull(points: Iterable[Place]) -> tuple[Place, ...]:
    """Convex outline of points, anticlockwise."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)

    def half(run: list[Place]) -> list[Place]:
        kept: list[Place] = []
        for x, y in run:
            while len(kept) > 1 and _left(kept[-2], kept[-1], (x, y)) <= 0.0:
                kept.pop()
            kept.append((x, y))
        return kept[:-1]

    return (*half(ordered), *half(ordered[::-1]))


def _left(a: Place, b: Place, c: Place) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def unit_shapes(check: SetupCheck, view: View) -> list[Shape]:
    """What of both units stands still."""
    shapes = []
    for unit in check.description.units:
        for box in unit_boxes(unit):
            low, high = box.z_m if view == "side" else box.y_m
            if box.kind in ("cab", "deck", "tailboard", "equipment", "jack", "pad", "beam"):
                kind: Kind = "pad" if box.kind == "pad" else "unit"
                corners = ((box.x_m[0], low), (box.x_m[1], low), (box.x_m[1], high), (box.x_m[0], high))
                shapes.append(Shape(kind, corners))
        shapes.append(_superstructure(unit, view))
    return shapes


def flat_shapes(check: SetupCheck, view: View) -> list[Shape]:
    """A flat trailer that waits for the load."""
    deck = deck_of(check.description)
    if deck is None:
        return []
    low, high = (0.0, deck.top_m) if view == "side" else (deck.low_y_m, deck.high_y_m)
    corners = (deck.low_x_m, low), (deck.high_x_m, low), (deck.high_x_m, high), (deck.low_x_m, high)
    return [Shape("flat", corners, label="flat trailer")]


def _superstructure(unit: Unit, view: View) -> Shape:
    x, radius = unit.slew_axis_x_m, unit.superstructure_radius_m
    if view == "side":
        low, high = unit.deck_height_m, unit.boom.foot_pin_height_m
        return Shape("superstructure", ((x - radius, low), (x + radius, low), (x + radius, high), (x - radius, high)))
    turns = [6.283185307 * i / ROUND_SIDES for i in range(ROUND_SIDES)]
    return Shape("superstructure", tuple((x + radius * cos(turn), radius * sin(turn)) for turn in turns))


def load_shapes(check: SetupCheck, at: StationCheck, view: View) -> list[Shape]:
    """Trailer, lines, rigging and booms at one station."""
    trailer, other = check.description.trailer, ACROSS[view]
    pose = at.station.pose
    matrix, origin = rotation(pose.pitch_rad, pose.yaw_rad, pose.roll_rad), stated_cg_m(trailer)

    def placed(point: tuple[float, float, float]) -> Place:
        arm = (point[0] - origin[0], point[1] - origin[1], point[2] - origin[2])
        found = turned(matrix, lying(trailer.attitude, arm))
        return pose[0] + found[0], pose[other] + found[other]

    shapes = [Shape("trailer", hull(placed(corner) for corner in part_corners(part))) for part in trailer.parts]
    for unit, stand in zip(check.description.units, at.units, strict=True):
        shapes.append(Shape("boom", _boom(unit, stand.pose, view), open=True))
    for line in rig_of(check.description).lines:
        sheave, hook = at.station.pulls.sheaves_m[line.place], at.station.hooks_m[line.place]
        pick = trailer.picks[line.pick]
        shapes.append(Shape("line", ((sheave[0], sheave[other]), (hook[0], hook[other])), open=True))
        runs = [(placed(pick.at_m),)] if pick.spreader is None else [tuple(map(placed, run)) for run in bar_runs(pick)]
        shapes += [Shape("rigging", ((hook[0], hook[other]), *run), open=True) for run in runs]
    return shapes


def bar_runs(pick: Pick) -> Iterator[tuple[Vector, Vector, Vector]]:
    """Under a hook with a spreader, for each side: the bar's end, its drop's foot at the pick line, and back up to the
    bar's middle, in the trailer's own axes as if it stood on its wheels."""
    assert pick.spreader is not None
    x, y, z = pick.at_m
    for side in (-0.5, 0.5):
        end = y + side * pick.spreader.length_m
        bar = z + pick.spreader.drop_m
        yield (x, end, z), (x, end, bar), (x, y, bar)


def _boom(unit: Unit, pose: BoomPose, view: View) -> tuple[Place, Place]:
    """Foot pin to tip."""
    tip, other = askew(unit, tip_m(unit, pose)), ACROSS[view]
    back = unit.boom.foot_pin_back_m
    x, y = on_road(unit, -back * cos(pose.slew_rad), -back * sin(pose.slew_rad))
    foot = x, y, unit.boom.foot_pin_height_m
    return (foot[0], foot[other]), (tip[0], tip[other])


def ground_shapes(check: SetupCheck, view: View, low_x_m: float, high_x_m: float) -> list[Shape]:
    """Road and bed under the trailer in the side view; edge, toe and live lane in plan."""
    site = check.description.site
    if view == "plan":
        toe = min(site.section_m, key=lambda point: (point[1], -point[0]))[0]
        rows: tuple[tuple[Kind, float, str], ...] = (
            ("edge", site.edge_y_m, "slope's edge"),
            ("ground", toe, "toe"),
            ("lane", site.live_lane_y_m, "live lane"),
        )
        return [Shape(kind, ((low_x_m, y), (high_x_m, y)), True, label) for kind, y, label in rows]
    surface, y = ground(site), check.stations[0].station.pose.y_m
    xs = sorted({low_x_m, high_x_m, *(x for x, _ in site.bed_m if low_x_m < x < high_x_m)})
    bed = tuple((x, height_m(surface, x, y)) for x in xs)
    return [Shape("road", ((low_x_m, 0.0), (high_x_m, 0.0)), True), Shape("ground", bed, True)]


class PadLabel(NamedTuple):
    """A float in plan with the most it carries along the path."""

    x_m: float
    y_m: float
    name: str
    most_N: float
    least_N: float


def pad_labels(check: SetupCheck) -> list[PadLabel]:
    """All eight floats."""
    labels = []
    for end, unit in enumerate(check.description.units):
        for i, (word, (x, y)) in enumerate(zip(FLOAT_WORDS, float_places(unit), strict=True)):
            carried = [one.units[end].floats.reactions_N[i] for one in check.stations]
            labels.append(PadLabel(x, y, word, max(carried), min(carried)))
    return labels


def pad_place(unit: Unit, what: str) -> tuple[float, float, float] | None:
    """Where the float or pad is that a reading is about, on the ground; None where it is about none."""
    for i, word in enumerate(FLOAT_WORDS):
        if what.startswith(word):
            return (*float_places(unit)[i], 0.0)
    return None


def part_place(trailer: Trailer, name: str, pose: Pose) -> tuple[float, float, float]:
    """The middle of a part's lower edge with the load so; its reference point where there is no such part."""
    part = next((one for one in trailer.parts if one.name == name), None)
    if part is None:
        return pose[0], pose[1], pose[2]
    matrix, origin = rotation(pose.pitch_rad, pose.yaw_rad, pose.roll_rad), stated_cg_m(trailer)
    arms = [
        turned(matrix, lying(trailer.attitude, (x - origin[0], y - origin[1], z - origin[2])))
        for x, y, z in part_corners(part)
    ]
    xs, ys, zs = zip(*arms, strict=True)
    return pose[0] + sum(xs) / len(xs), pose[1] + sum(ys) / len(ys), pose[2] + min(zs)
