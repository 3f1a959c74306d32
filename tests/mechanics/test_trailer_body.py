"""The trailer as a rigid body: mass, CG and inertia by closed form and by a cloud of points; axes of an attitude."""

from __future__ import annotations

from math import atan, radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from simulator.mechanics.trailer_body import body, hung_roll_rad, lying, rotation, stated_cg_m, turned, turned_back
from simulator.scenario.trailer import Cargo, Part, Trailer, TrailerStart
from tests.demo import pair_of_picks

PICKS = pair_of_picks((-6.4, 0.0, 3.0), (6.0, 0.0, 3.0))
LIES = TrailerStart(0.0, 0.0)
angles = st.floats(-1.4, 1.4)
Array = NDArray[np.float64]


def box(x0: float, x1: float, z0: float, z1: float) -> tuple[tuple[float, float], ...]:
    return (x0, z0), (x1, z0), (x1, z1), (x0, z1)


def trailer(attitude: str = "on_wheels", **changes: object) -> Trailer:
    parts = (Part("shell", box(-7.3, 7.3, 1.4, 4.0), 2.6, 5e3), Part("axles", box(3.5, 6.5, 0.0, 1.0), 2.5, 3e3, 0.2))
    cargo = Cargo(18e3, (-0.9, -0.3, 2.5), (13.0, 2.2, 2.0))
    return Trailer(parts, cargo, PICKS, LIES, attitude=attitude, **changes)  # type: ignore[arg-type]


def cloud(n: int = 12) -> tuple[Array, Array]:
    """The same trailer as a cloud of equal cells in each of its boxes: masses, places."""
    boxes = [
        (5e3, (0.0, 0.0, 2.7), (14.6, 2.6, 2.6)),
        (3e3, (5.0, 0.2, 0.5), (3.0, 2.5, 1.0)),
        (18e3, (-0.9, -0.3, 2.5), (13.0, 2.2, 2.0)),
    ]
    cells = (np.arange(n) + 0.5) / n - 0.5
    grid = np.stack(np.meshgrid(cells, cells, cells), axis=-1).reshape(-1, 3)
    masses = np.concatenate([np.full(n**3, mass / n**3) for mass, _, _ in boxes])
    return masses, np.concatenate([np.array(center) + grid * np.array(size) for _, center, size in boxes])


def inertia_of(masses: Array, places: Array) -> Array:
    arms = places - (masses @ places) / masses.sum()
    square = (arms**2).sum(axis=1)
    tensors = square[:, None, None] * np.eye(3) - arms[:, :, None] * arms[:, None, :]
    return np.asarray(np.einsum("i,ijk->jk", masses, tensors))


def test_a_lone_box_has_the_textbook_inertia() -> None:
    """m / 12 (w^2 + h^2) about its length, and so on round."""
    made = Trailer(
        (Part("box", box(-7.0, 7.0, 0.0, 2.0), 3.0, 12e3),), Cargo(0.0, (0.0, 0.0, 1.0), (0.0, 0.0, 0.0)), PICKS, LIES
    )
    found = np.array(body(made).inertia_kg_m2).reshape(3, 3)
    assert found == pytest.approx(np.diag([1e3 * (9 + 4), 1e3 * (196 + 4), 1e3 * (196 + 9)]), abs=1e-6)
    assert body(made).mass_kg == 12e3


def test_parts_and_cargo_add_up_as_a_cloud_of_points_does() -> None:
    """n cells a side fall short of a solid box by 1 / n^2 of its own inertia."""
    masses, places = cloud()
    assert stated_cg_m(trailer()) == pytest.approx(tuple(masses @ places / masses.sum()), abs=1e-9)
    found = np.array(body(trailer()).inertia_kg_m2).reshape(3, 3)
    assert found == pytest.approx(inertia_of(masses, places), rel=0.01, abs=0.002 * found.max())


@pytest.mark.parametrize(
    ("attitude", "up", "across"),
    [
        ("on_wheels", (0.0, 0.0, 1.0), (0.0, 1.0, 0.0)),
        ("top_to_ravine", (0.0, 1.0, 0.0), (0.0, 0.0, -1.0)),
        ("top_to_road", (0.0, -1.0, 0.0), (0.0, 0.0, 1.0)),
    ],
)
def test_attitude_says_which_axes_point_up_and_across(
    attitude: str, up: tuple[float, ...], across: tuple[float, ...]
) -> None:
    """On its side the trailer's top looks to the ravine (-y) or the road (+y); a proper turn, no mirror."""
    assert lying(attitude, up) == (0.0, 0.0, 1.0)  # type: ignore[arg-type]
    assert lying(attitude, across) == (0.0, 1.0, 0.0)  # type: ignore[arg-type]
    turn = np.array([lying(attitude, tuple(axis)) for axis in np.eye(3)]).T
    assert np.linalg.det(turn) == pytest.approx(1.0)
    top = lying(attitude, (0.0, 0.0, 1.0))
    assert top[1] == {"on_wheels": 0.0, "top_to_ravine": -1.0, "top_to_road": 1.0}[attitude]


def test_on_its_side_it_is_low_and_wide() -> None:
    """4.0 m high on its wheels is 4.0 m wide as it lies, and as high as shell and axles are wide together."""
    upright, lies = body(trailer()), body(trailer("top_to_ravine"))
    size = [high - low for low, high in zip(lies.low_m, lies.high_m, strict=True)]
    assert size == pytest.approx([14.6, 4.0, 2.6 / 2.0 + 0.2 + 2.5 / 2.0])
    before, after = (np.array(b.inertia_kg_m2).reshape(3, 3) for b in (upright, lies))
    assert np.diag(after) == pytest.approx([before[0, 0], before[2, 2], before[1, 1]])
    assert np.linalg.eigvalsh(after) == pytest.approx(np.linalg.eigvalsh(before))


def test_hidden_mass_and_cg_move_only_what_is_hidden() -> None:
    plain = body(trailer("top_to_ravine"))
    hidden = body(trailer("top_to_ravine", hidden_cg_m=(0.7, 0.1, -0.2), hidden_mass_factor=1.2))
    assert hidden.mass_kg == pytest.approx(1.2 * plain.mass_kg)
    assert hidden.cg_m == pytest.approx((0.7, 0.2, 0.1))
    assert hidden.picks_m == plain.picks_m
    assert np.array(hidden.inertia_kg_m2) == pytest.approx(1.2 * np.array(plain.inertia_kg_m2))


@given(angles, st.floats(-3.0, 3.0), angles, st.tuples(*[st.floats(-10.0, 10.0)] * 3))
def test_rotation_is_yaw_then_pitch_then_roll(
    pitch: float, yaw: float, roll: float, point: tuple[float, float, float]
) -> None:
    """R = Rz(yaw) Ry(pitch) Rx(roll), against scipy."""
    matrix = rotation(pitch, yaw, roll)
    other = Rotation.from_euler("ZYX", [yaw, pitch, roll])
    assert np.array(matrix).reshape(3, 3) == pytest.approx(other.as_matrix(), abs=1e-12)
    assert turned_back(matrix, turned(matrix, point)) == pytest.approx(point, abs=1e-9)


def test_signs_of_pitch_yaw_and_roll() -> None:
    """Pitch: nose up. Yaw: tail toward the road. Roll: road side up."""
    nose, tail, road_side = (-1.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)
    assert turned(rotation(0.1, 0.0, 0.0), nose)[2] > 0.0
    assert turned(rotation(0.0, 0.1, 0.0), tail)[1] > 0.0
    assert turned(rotation(0.0, 0.0, 0.1), road_side)[2] > 0.0


def test_a_body_hung_beside_its_cg_rolls_to_the_arc_tangent() -> None:
    assert hung_roll_rad(0.25, 1.0) == pytest.approx(atan(0.25))
    assert hung_roll_rad(0.0, 1.3) == 0.0
    assert hung_roll_rad(-0.5, 0.5) == pytest.approx(-radians(45.0))
