"""Where a unit stands and which way it looks: its own axes on the road and back. Plain numbers.

Along x a unit stands at its `slew_axis_x_m`, across the road at its `slew_axis_y_m`, and `yaw_rad` askew. A unit's own
axes are u toward its tailboard, v toward the road, both from its slew axis; of a unit that looks toward the nose they
are mirrored, so that toward the road is positive for both. Most units stand straight on the middle line: for them
nothing here changes a number.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, sin

from simulator.scenario.unit import Unit, UnitStart

Vector = tuple[float, float, float]
Spot = tuple[float, float]
LEVEL = UnitStart(0.0, 0.0, 0.0)


def is_straight(unit: Unit) -> bool:
    """It stands on the middle line and along the road."""
    return unit.slew_axis_y_m == 0.0 and unit.yaw_rad == 0.0


def as_it_stands(unit: Unit) -> Unit:
    """The same unit whatever its boom and its lines are at."""
    return replace(unit, start=LEVEL, lines=())


def straight(unit: Unit, point: Vector) -> Vector:
    """A point as the unit would have it if it stood straight on the middle line, m: what its boom has to reach."""
    if is_straight(unit):
        return point
    along, across = _turned(unit, point[0] - unit.slew_axis_x_m, point[1] - unit.slew_axis_y_m)
    return unit.slew_axis_x_m + along, across, point[2]


def askew(unit: Unit, point: Vector) -> Vector:
    """Back from `straight`: where a point of a unit that is reckoned straight is on the road, m."""
    if is_straight(unit):
        return point
    x, y = _back(unit, point[0] - unit.slew_axis_x_m, point[1])
    return unit.slew_axis_x_m + x, unit.slew_axis_y_m + y, point[2]


def straight_way(unit: Unit, way: Vector) -> Vector:
    """A force or a movement along x, y, z as the unit has it that is reckoned straight."""
    return way if unit.yaw_rad == 0.0 else (*_turned(unit, way[0], way[1]), way[2])


def askew_way(unit: Unit, way: Vector) -> Vector:
    """Back from `straight_way`."""
    return way if unit.yaw_rad == 0.0 else (*_back(unit, way[0], way[1]), way[2])


def _turned(unit: Unit, dx: float, dy: float) -> Spot:
    c, s, way = cos(unit.yaw_rad), sin(unit.yaw_rad), unit.facing
    return c * dx + way * s * dy, c * dy - way * s * dx


def _back(unit: Unit, along: float, across: float) -> Spot:
    c, s, way = cos(unit.yaw_rad), sin(unit.yaw_rad), unit.facing
    return c * along - way * s * across, c * across + way * s * along


def on_road(unit: Unit, u_m: float, v_m: float) -> Spot:
    """A place of the unit on the road: u from its slew axis toward the tailboard, v from its middle toward the road."""
    x, y, _ = askew(unit, (unit.slew_axis_x_m + unit.facing * u_m, v_m, 0.0))
    return x, y


def float_places(unit: Unit) -> tuple[Spot, Spot, Spot, Spot]:
    """Its four floats on the road: tailboard-road, tailboard-ravine, cab-road, cab-ravine."""
    floats = unit.floats
    front, back = floats.toward_tailboard_m, -floats.toward_cab_m
    return (
        on_road(unit, front, floats.road_m),
        on_road(unit, front, -floats.ravine_m),
        on_road(unit, back, floats.road_m),
        on_road(unit, back, -floats.ravine_m),
    )


def half_pad_m(unit: Unit) -> float:
    """From the middle of a pad to its farthest place across the road: of a pad askew that is a corner."""
    return unit.floats.pad_side_m / 2.0 * (abs(cos(unit.yaw_rad)) + abs(sin(unit.yaw_rad)))


def pads_from_m(unit: Unit) -> float:
    """The y of the pads' edge that is nearest to the ravine."""
    return min(y for _, y in float_places(unit)) - half_pad_m(unit)


def pads_to_m(unit: Unit) -> float:
    """The y of the pads' edge that is nearest to the live lane."""
    return max(y for _, y in float_places(unit)) + half_pad_m(unit)


def tailboard_x_m(unit: Unit) -> float:
    """Where along the road the middle of its tailboard is."""
    return on_road(unit, unit.tailboard_m, 0.0)[0]


def tailboard_reach_m(unit: Unit) -> float:
    """Where along the road the corner of its tailboard is that comes nearest to the load."""
    half = unit.carrier_width_m / 2.0
    return max(unit.facing * on_road(unit, unit.tailboard_m, side)[0] for side in (half, -half)) * unit.facing


def not_driven(units: tuple[Unit, ...]) -> str:
    """Why a lift by these units is judged and not driven; empty where it may be."""
    names = " and the ".join(unit.name for unit in units if not is_straight(unit))
    if not names:
        return ""
    return (
        f"the {names} unit stands askew or at its own distance from the edge: such a set-up is checked, not "
        "driven; a drive needs every unit straight along the road on one line, yaw 0 and slew_axis_y 0"
    )


def is_short_jacked(unit: Unit) -> bool:
    """A side has its floats farther in than the width that its table is of."""
    return min(unit.floats.road_m, unit.floats.ravine_m) < unit.floats.across_m
