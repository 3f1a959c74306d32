"""Side view and plan of a plan sheet, drawn with matplotlib."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import Any, NamedTuple

from simulator.places import assets_folder
from simulator.plan.judged_station import StationCheck
from simulator.plan.picture import Shape, flat_shapes, ground_shapes, load_shapes, pad_labels, unit_shapes
from simulator.plan.setup_check import SetupCheck
from simulator.report.amounts import Amounts
from simulator.scenario.standing import float_places

INK, PALE, BLUE, BROWN, RED = "#1b2733", "#d9dfe5", "#1f5f99", "#8a6a3f", "#b3261e"
MARGIN_M = 0.6


class ShapeLook(NamedTuple):
    """How a kind of shape is drawn."""

    edge: str
    fill: str | None
    width: float
    over: int


LOOKS: dict[str, ShapeLook] = {
    "unit": ShapeLook(INK, PALE, 0.5, 2),
    "pad": ShapeLook(INK, INK, 0.5, 3),
    "superstructure": ShapeLook(INK, "#c2cad2", 0.5, 4),
    "trailer": ShapeLook(BLUE, "#cfe0f1", 0.7, 6),
    "boom": ShapeLook(INK, None, 2.6, 8),
    "line": ShapeLook(RED, None, 0.9, 7),
    "rigging": ShapeLook(RED, None, 0.6, 7),
    "flat": ShapeLook(INK, "#e9dcc3", 0.8, 1),
    "ground": ShapeLook(BROWN, None, 1.2, 1),
    "road": ShapeLook(INK, None, 1.2, 1),
    "edge": ShapeLook(BROWN, None, 1.6, 1),
    "lane": ShapeLook(RED, None, 1.0, 1),
}


def shown_stations(check: SetupCheck) -> tuple[StationCheck, StationCheck, StationCheck]:
    """First, nearest to the tailboards, last."""
    middle = min(check.stations[1:], key=lambda one: abs(one.station.y_m))
    return check.stations[0], middle, check.stations[-1]


def _draw(axes: Any, shapes: Iterable[Shape], *, ghost: bool = False) -> None:
    from matplotlib.patches import Polygon

    for shape in shapes:
        look = LOOKS[shape.kind]
        alpha = 0.45 if ghost else 1.0
        if shape.open:
            x, y = zip(*shape.points, strict=True)
            style = "--" if shape.kind in ("lane", "ground") or ghost else "-"
            axes.plot(
                x,
                y,
                style,
                color=look.edge,
                linewidth=look.width * (0.6 if ghost else 1.0),
                alpha=alpha,
                zorder=look.over,
            )
        else:
            fill = look.fill if look.fill and not ghost else "none"
            axes.add_patch(
                Polygon(
                    shape.points,
                    facecolor=fill,
                    edgecolor=look.edge,
                    linewidth=look.width,
                    linestyle="--" if ghost else "-",
                    alpha=alpha,
                    zorder=look.over,
                )
            )


def _extent(check: SetupCheck) -> tuple[float, float]:
    units = check.description.units
    fronts = [unit.slew_axis_x_m - unit.facing * unit.cab_front_m for unit in units]
    tails = [unit.slew_axis_x_m + unit.facing * unit.tailboard_m for unit in units]
    start = check.description.trailer.start.x_m
    ends = [start + end for end in (check.load.body.low_m[0], check.load.body.high_m[0])]
    every = (*fronts, *tails, *ends)
    return min(every) - MARGIN_M, max(every) + MARGIN_M


def draw_side(axes: Any, check: SetupCheck, amounts: Amounts) -> None:
    """On the bed and over the tailboards, seen from the ravine."""
    low, high = _extent(check)
    first, middle, _ = shown_stations(check)
    _draw(axes, ground_shapes(check, "side", low, high))
    _draw(axes, flat_shapes(check, "side"))  # behind the units: it stands on the road's far side of them
    _draw(axes, unit_shapes(check, "side"))
    _draw(axes, [shape for shape in load_shapes(check, first, "side") if shape.kind != "boom"], ghost=True)
    _draw(axes, load_shapes(check, middle, "side"))
    depth = min(shape.points[0][1] for shape in ground_shapes(check, "side", low, high))
    path = check.description.path
    top = max(path.tip_height_m, check.description.units[0].cab_height_m)
    _finish(axes, check, (low, high), (depth - 2.0, top + 1.2))
    tips = middle.station.tips_m
    at_tips = sum(tip[0] for tip in tips) / len(tips)
    _say(axes, at_tips, path.tip_height_m + 0.5, f"tips at {amounts.text(path.tip_height_m, 'm')}")
    x, y = middle.station.pose.x_m, path.belly_over_road_m
    _say(axes, x, y - 0.9, f"lowest point {amounts.text(y, 'm')} over the road")
    bed = _bed_z(check)
    _say(axes, first.station.pose.x_m, bed - 1.3, f"bed {amounts.text(-bed, 'm')} below the road")
    for unit in check.description.units:
        _say(axes, unit.slew_axis_x_m, -0.9, f"{unit.name} unit")


def _say(axes: Any, x: float, y: float, words: str, *, ink: str = INK, align: str = "center") -> None:
    """A label on white, so that lines do not run through it."""
    box = {"boxstyle": "square,pad=0.15", "facecolor": "white", "edgecolor": "none", "alpha": 0.85}
    axes.text(x, y, words, fontproperties=font(6.5), color=ink, ha=align, va="center", bbox=box, zorder=9)


def _bed_z(check: SetupCheck) -> float:
    low, high = _extent(check)
    points = ground_shapes(check, "side", low, high)[1].points
    x = check.stations[0].station.pose.x_m
    (x0, z0), (x1, z1) = next(pair for pair in pairwise(points) if pair[0][0] <= x <= pair[1][0])
    return z0 + (z1 - z0) * (x - x0) / (x1 - x0)


def draw_plan(axes: Any, check: SetupCheck, amounts: Amounts) -> None:
    """From above: on the bed and landed dashed, over the tailboards in full; floats with the most they carry."""
    low, high = _extent(check)
    first, middle, last = shown_stations(check)
    lines = ground_shapes(check, "plan", low, high)
    _draw(axes, lines)
    _draw(axes, flat_shapes(check, "plan"))
    _draw(axes, unit_shapes(check, "plan"))
    for one in (first, last):
        _draw(axes, load_shapes(check, one, "plan"), ghost=True)
    _draw(axes, load_shapes(check, middle, "plan"))
    ys = [point[1] for one in (first, last) for shape in load_shapes(check, one, "plan") for point in shape.points]
    edge_low = min(*ys, *(y for unit in check.description.units for _, y in float_places(unit)))
    _finish(axes, check, (low, high), (edge_low - 1.0, max(*ys, check.description.site.live_lane_y_m) + 1.0))
    for shape in lines:
        y = shape.points[0][1]
        if edge_low - 1.0 < y:
            x, align = (low, "left") if shape.kind != "ground" else (high, "right")
            _say(axes, x, y, shape.label, ink=LOOKS[shape.kind].edge, align=align)
    for pad in pad_labels(check):
        _say(axes, pad.x_m, pad.y_m + (0.85 if pad.y_m > 0 else 1.05), f"{amounts.load(pad.most_N):.1f}")


def _finish(axes: Any, check: SetupCheck, across: tuple[float, float], up: tuple[float, float]) -> None:
    """Limits and scale; mirrored when the nose is seen on the right."""
    right = check.description.site.nose_seen_from_ravine == "right"
    axes.set_xlim(*(across[::-1] if right else across))
    axes.set_ylim(*up)
    axes.set_aspect("equal")
    axes.set_axis_off()


def font(size: float, *, bold: bool = False) -> Any:
    """The program's own lettering."""
    from matplotlib.font_manager import FontProperties

    name = "BarlowSemiCondensed_700Bold.ttf" if bold else "BarlowSemiCondensed_500Medium.ttf"
    path = assets_folder() / "fonts" / name
    return FontProperties(fname=str(path), size=size) if path.is_file() else FontProperties(size=size)
