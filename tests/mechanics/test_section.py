"""The section of a trailer and its convex outline: against shapely's hull, closed forms, and parts by hand."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, sin

import numpy as np
import pytest
import shapely

from simulator.mechanics.section import Bend, Disc, Outline, box, laid_down, outline, trailer_discs
from simulator.scenario.trailer import Cargo, Part, Trailer, TrailerStart
from tests.demo import pair_of_picks

PICKS = pair_of_picks((-6.4, 0.0, 3.0), (6.0, 0.0, 3.0))


def length_m(bends: Outline) -> float:
    """Round all bends and edges."""
    ring = [*bends, bends[0]]
    edges = sum(hypot(*np.subtract(b.at(b.from_rad), a.at(a.to_rad))) for a, b in pairwise(ring))
    return edges + sum(bend.radius_m * (bend.to_rad - bend.from_rad) for bend in bends)


def looks(bends: Outline, angle: float) -> Bend:
    """The bend that looks this way."""
    return next(b for b in bends if (angle - b.from_rad + 1e-9) % (2.0 * pi) <= b.to_rad - b.from_rad + 2e-9)


def random_discs(rng: np.random.Generator) -> list[Disc]:
    discs = [Disc(*rng.uniform(-2.0, 2.0, 2)) for _ in range(rng.integers(3, 7))]
    for _ in range(rng.integers(0, 3)):
        radius = rng.uniform(0.3, 1.5)
        discs.append(Disc(*rng.uniform(-1.0, 1.0, 2), radius, radius))
    return discs


def test_outlines_are_the_convex_hull_of_what_they_go_round() -> None:
    rng = np.random.default_rng(181)
    for i in range(200):
        discs = random_discs(rng)
        bends = outline(discs)
        hull = shapely.union_all(
            [
                shapely.Point(d[:2]).buffer(d.radius_m, quad_segs=256) if d.radius_m else shapely.Point(d[:2])
                for d in discs
            ]
        ).convex_hull
        assert length_m(bends) == pytest.approx(hull.length, abs=2e-4), i
        assert sum(b.to_rad - b.from_rad for b in bends) == pytest.approx(2.0 * pi), i
        for angle in rng.uniform(-pi, pi, 12):
            far = max(cos(angle) * d.y_m + sin(angle) * d.z_m + d.radius_m for d in discs)
            y, z = looks(bends, angle).at(angle)
            assert cos(angle) * y + sin(angle) * z == pytest.approx(far, abs=1e-9), i


def test_a_box_has_four_corners_and_a_shell_none() -> None:
    corners = outline(box(2.6, 4.0))
    assert [(b.y_m, b.z_m) for b in corners] == [(1.3, -2.0), (1.3, 2.0), (-1.3, 2.0), (-1.3, -2.0)]
    assert all(b.to_rad - b.from_rad == pytest.approx(pi / 2.0) for b in corners)
    (shell,) = outline([Disc(0.5, 1.0, 1.3, 1.3)])
    assert shell.to_rad - shell.from_rad == pytest.approx(2.0 * pi)


def test_a_shell_between_two_corners_is_met_twice() -> None:
    bends = outline([Disc(0.0, 0.0, 1.0, 1.0), Disc(3.0, 0.0), Disc(-3.0, 0.0)])
    assert [b.radius_m for b in bends].count(1.0) == 2
    assert length_m(bends) == pytest.approx(4.0 * 8.0**0.5 + 4.0 * (pi / 2.0 - np.arccos(1.0 / 3.0)))


def test_what_touches_no_two_places_has_no_outline() -> None:
    with pytest.raises(ValueError, match="at least two places"):
        outline([Disc(1.0, 1.0), Disc(1.0, 1.0)])


def trailer(*parts: Part) -> Trailer:
    return Trailer(parts, Cargo(1e3, (0.0, 0.0, 2.0), (1.0, 1.0, 1.0)), PICKS, TrailerStart(0.0, 0.0))


def wide(name: str, x: tuple[float, float], z: tuple[float, float], width: float, **more: object) -> Part:
    corners = ((x[0], z[0]), (x[1], z[0]), (x[1], z[1]), (x[0], z[1]))
    return Part(name, corners, width, **more)  # type: ignore[arg-type]


def test_only_parts_that_reach_there_are_cut() -> None:
    load = trailer(
        wide("shell", (-7.3, 7.3), (1.4, 4.0), 2.6, drawn_as="tank"),
        wide("frame", (-7.0, 7.0), (1.0, 1.4), 1.0, drawn_as="frame"),
        wide("axles", (3.5, 6.5), (0.0, 1.0), 2.5, y_m=0.1, drawn_as="wheels"),
    )
    front = trailer_discs(load, -6.0)
    assert front == (Disc(0.0, 2.7, 1.3, 1.3), *(Disc(y, z) for y in (-0.5, 0.5) for z in (1.0, 1.4)))
    back = trailer_discs(load, 5.0)
    assert set(back) - set(front) == {Disc(y, z) for y in (-1.15, 1.35) for z in (0.0, 1.0)}
    assert trailer_discs(load, 9.0) == ()


def test_a_sloping_outline_is_cut_where_it_is() -> None:
    wedge = Part("wedge", ((0.0, 1.0), (4.0, 1.0), (4.0, 3.0)), 2.0)
    assert trailer_discs(trailer(wedge), 2.0) == (Disc(-1.0, 1.0), Disc(-1.0, 2.0), Disc(1.0, 1.0), Disc(1.0, 2.0))


def test_an_oval_tank_is_as_long_round_as_an_ellipse_and_as_bent() -> None:
    oval = wide("shell", (-5.0, 5.0), (1.0, 3.0), 2.6, drawn_as="tank")
    discs = trailer_discs(trailer(oval), 0.0)
    h = ((1.3 - 1.0) / (1.3 + 1.0)) ** 2
    ramanujan = pi * (1.3 + 1.0) * (1.0 + 3.0 * h / (10.0 + (4.0 - 3.0 * h) ** 0.5))  # good to 1e-9 at this flatness
    assert length_m(outline(discs)) == pytest.approx(ramanujan, abs=1e-3)
    assert max(d.shell_radius_m for d in discs) == pytest.approx(1.3**2)
    assert min(d.shell_radius_m for d in discs) == pytest.approx(1.0 / 1.3)


@pytest.mark.parametrize(
    ("attitude", "roof"), [("on_wheels", (0.0, 1.0)), ("top_to_ravine", (-1.0, 0.0)), ("top_to_road", (1.0, 0.0))]
)
def test_discs_lie_as_the_trailer_does(attitude: str, roof: tuple[float, float]) -> None:
    (laid,) = laid_down([Disc(0.2, 4.0, 0.5, 0.5)], attitude, (9.0, 0.2, 3.0))
    assert (laid.y_m, laid.z_m) == pytest.approx(roof) and laid.radius_m == 0.5
