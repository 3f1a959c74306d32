"""The surface: nearest point and height against an independent geometry library and brute force."""

from __future__ import annotations

from math import atan2, cos, hypot, radians, sin, sqrt, tan

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import nearest_points

from simulator.mechanics.ground import Ground, bed_at, ground, height_m, highest_m, nearest, nearest_over
from simulator.scenario.site import Site

CUT = ((30.0, 0.0), (-4.65, 0.0), (-5.3, -12.0), (-13.0, -12.0), (-22.0, -9.0))
BED = ((-60.0, 0.84), (-12.0, 0.84), (12.0, -0.84), (60.0, -0.84))
LEVEL = ground(Site(section_m=CUT, edge_y_m=-4.65))
SLOPING = ground(Site(section_m=CUT, edge_y_m=-4.65, bed_m=BED))

sections = st.lists(st.tuples(st.floats(0.3, 6.0), st.floats(-5.0, 5.0)), min_size=2, max_size=6).map(
    lambda steps: tuple((20.0 - sum(dy for dy, _ in steps[: i + 1]), steps[i][1]) for i in range(len(steps)))
)


def outline(section: tuple[tuple[float, float], ...]) -> tuple[LineString, Polygon]:
    """The surface with its ends run on, and all ground under it.

    End segments run on in their own direction, as the surface that `nearest` asks; the ground lies under the line.
    """
    (y0, z0), (y1, z1) = section[0], section[1]
    (ya, za), (yb, zb) = section[-2], section[-1]
    first = (y0 + 500.0, z0 + 500.0 * (z0 - z1) / (y0 - y1))
    last = (yb - 500.0, zb - 500.0 * (zb - za) / (ya - yb) * -1.0)
    line = [first, *section[1:-1], last]
    bottom = min(z for _, z in line) - 500.0
    return LineString(line), Polygon([*line, (last[0], bottom), (first[0], bottom)])


@given(sections, st.floats(-15.0, 22.0), st.floats(-12.0, 12.0))
def test_nearest_agrees_with_shapely(section: tuple[tuple[float, float], ...], y: float, z: float) -> None:
    """Depth is the distance to the outline, positive in the ground; the normal leads out along it."""
    line, inside = outline(section)
    spot = nearest(ground(Site(section_m=section, edge_y_m=-99.0)), 0.0, y, z)
    distance = line.distance(Point(y, z))
    assert abs(spot.depth_m) == pytest.approx(distance, abs=1e-6)
    assume(distance > 1e-6)
    assert (spot.depth_m > 0.0) == inside.contains(Point(y, z))
    on = Point(y + spot.depth_m * spot.ny, z + spot.depth_m * spot.nz)
    assert line.distance(on) < 1e-5 or _at_a_corner(line, y, z)
    assert hypot(spot.nx, spot.ny, spot.nz) == pytest.approx(1.0)
    assert spot.nx == 0.0


def _at_a_corner(line: LineString, y: float, z: float) -> bool:
    """The nearest point is a corner of the outline, where the normal is a side's and not the way to the corner."""
    near = nearest_points(line, Point(y, z))[0]
    return any(hypot(near.x - cy, near.y - cz) < 1e-6 for cy, cz in line.coords)


@given(sections, st.floats(-15.0, 22.0))
def test_height_is_straight_under(section: tuple[tuple[float, float], ...], y: float) -> None:
    """Between the end points the section itself, beyond them level."""
    ys, zs = (np.array([point[axis] for point in section[::-1]]) for axis in (0, 1))
    assert height_m(ground(Site(section_m=section, edge_y_m=-99.0)), 0.0, y) == pytest.approx(np.interp(y, ys, zs))


@given(st.floats(-70.0, 70.0), st.floats(-20.0, 10.0))
def test_bed_is_carried_by_the_ravine_side_alone(x: float, y: float) -> None:
    rise = float(np.interp(x, [at for at, _ in BED], [over for _, over in BED]))
    assert bed_at(SLOPING, x)[0] == pytest.approx(rise, abs=1e-12)
    level = height_m(LEVEL, x, y)
    if y >= -4.65:
        assert height_m(SLOPING, x, y) == pytest.approx(level)
    elif y <= -5.3:
        assert height_m(SLOPING, x, y) == pytest.approx(level + rise)


@given(st.floats(-11.0, 11.0), st.floats(-12.0, -8.6), st.floats(-1.0, 3.0))
def test_a_plane_bed_is_measured_square_to_itself(x: float, y: float, over: float) -> None:
    """4 degrees down toward the tail: a point `over` meters above the plane, along its normal, is that far from it.

    More than 3 m from the slope's face, whose foot is at y = -5.3 m, the bed is what is nearest.
    """
    slope = tan(atan2(1.68, 24.0))
    tilt = sqrt(1.0 + slope * slope)
    z = -12.0 - slope * (x - over * slope / tilt) + over / tilt
    spot = nearest(SLOPING, x, y, z)
    assume(abs(over) < 0.5 or over > 0.0)
    assert spot.depth_m == pytest.approx(-(z + 12.0 + slope * x) / tilt, abs=1e-9)
    assert (spot.nx, spot.ny, spot.nz) == pytest.approx((slope / tilt, 0.0, 1.0 / tilt), abs=1e-9)


@pytest.mark.parametrize("surface", [LEVEL, SLOPING])
@given(st.floats(-70.0, 70.0), st.floats(-30.0, 35.0), st.floats(-15.0, 3.0))
def test_a_point_with_ground_over_it_is_measured_as_any_point_is(surface: Ground, x: float, y: float, z: float) -> None:
    """Faces passed over for being too far to one side change nothing, to the last bit."""
    covered = z <= height_m(surface, x, y)
    assert nearest_over(surface, x, y, z) == (nearest(surface, x, y, z) if covered else None)


def test_a_steep_face_pushes_sideways() -> None:
    """0.1 m inside the cut, 6 m below the road: out is toward the ravine, not up."""
    angle = atan2(12.0, 0.65)
    y = -4.65 - 0.65 / 2.0 + 0.1 * sin(angle)
    z = -6.0 - 0.1 * cos(angle)
    spot = nearest(LEVEL, 0.0, y, z)
    assert spot.depth_m == pytest.approx(0.1, abs=1e-9)
    assert (spot.ny, spot.nz) == pytest.approx((-sin(angle), cos(angle)), abs=1e-9)
    assert abs(spot.nz) < sin(radians(4.0))


@pytest.mark.parametrize("surface", [LEVEL, SLOPING])
@given(st.floats(-70.0, 60.0), st.floats(0.0, 30.0), st.floats(-25.0, 25.0), st.floats(0.0, 10.0))
def test_no_ground_in_a_rectangle_is_higher_than_its_highest(
    surface: Ground, x: float, long: float, y: float, wide: float
) -> None:
    """Against a grid of places."""
    most = highest_m(surface, x, x + long, y, y + wide)
    heights = [height_m(surface, x + long * i / 20.0, y + wide * j / 20.0) for i in range(21) for j in range(21)]
    assert max(heights) <= most + 1e-9
