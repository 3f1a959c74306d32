"""A load set down on the ground, turned in pitch and roll until its center of gravity can get no lower near by."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from simulator.mechanics.ground import Ground, height_m
from simulator.mechanics.trailer_body import Body, Matrix, rotation

Array = NDArray[np.float64]
FIRST_TURN_RAD, LAST_TURN_RAD = 0.05, 2e-5
MOST_TURNS = 2000


def turned_down(
    surface: Ground, body: Body, at_m: tuple[float, float], turned_rad: tuple[float, float, float]
) -> tuple[float, float]:
    """Pitch and roll at the nearest least height of its center of gravity."""
    pitch, yaw, roll = turned_rad
    set_down = SetDown(surface, body, at_m, yaw)
    step, (best,) = FIRST_TURN_RAD, set_down.heights_m([(pitch, roll)])
    for _ in range(MOST_TURNS):
        tries = [(pitch + step * a, roll + step * b) for a in (-1, 0, 1) for b in (-1, 0, 1) if a or b]
        low, (new_pitch, new_roll) = min(zip(set_down.heights_m(tries), tries, strict=True))
        if low < best - 1e-9:
            best, pitch, roll = low, new_pitch, new_roll
        elif step > LAST_TURN_RAD:
            step /= 2.0
        else:
            break
    return pitch, roll


class SetDown:
    """A load set down at a place, in many attitudes at a stroke: the very sums of `lift_m`, a row each."""

    def __init__(self, surface: Ground, body: Body, at_m: tuple[float, float], yaw_rad: float) -> None:
        self._at_m, self._yaw_rad, self._cg_m = at_m, yaw_rad, body.cg_m
        self._points = np.array(body.points_m).T
        (self._y, self._z), (self._x, self._rise) = np.array(surface.section).T, np.array(surface.bed).T
        self._carries = np.array(surface.carries_bed)

    def heights_m(self, angles: list[tuple[float, float]]) -> list[float]:
        """Of the center of gravity, the load set on the ground with each pitch and roll."""
        matrices = np.array([rotation(pitch, self._yaw_rad, roll) for pitch, roll in angles]).T[:, :, None]
        a, b, c, d, e, f, g, h, i = matrices
        (x, y, z), (at_x, at_y), (cg_x, cg_y, cg_z) = self._points, self._at_m, self._cg_m
        ground_m = self._ground_m(at_x + (a * x + b * y + c * z), at_y + (d * x + e * y + f * z))
        lift = (ground_m - (g * x + h * y + i * z)).max(axis=1)
        found: list[float] = (lift + (g * cg_x + h * cg_y + i * cg_z)[:, 0]).tolist()
        return found

    def _ground_m(self, x: Array, y: Array) -> Array:
        """`height_m` of many places."""
        ys, zs, carries = self._y, self._z, self._carries
        rise = self._rises(x)
        after = np.searchsorted(-ys, -y, side="left").clip(1, len(ys) - 1)
        before = after - 1
        low, high = zs[after] + carries[after] * rise, zs[before] + carries[before] * rise
        between = low + (y - ys[after]) / (ys[before] - ys[after]) * (high - low)
        found = np.where(y >= ys[0], zs[0] + carries[0] * rise, between)
        heights: Array = np.where(y < ys[-1], zs[-1] + carries[-1] * rise, found)
        return heights

    def _rises(self, x: Array) -> Array:
        """What the bed adds at many places along the road."""
        xs, rises = self._x, self._rise
        if len(xs) == 1:
            return np.full_like(x, rises[0])
        after = np.searchsorted(xs, x, side="right").clip(1, len(xs) - 1)
        before = after - 1
        slope = (rises[after] - rises[before]) / (xs[after] - xs[before])
        found = np.where(x <= xs[0], rises[0], rises[before] + slope * (x - xs[before]))
        added: Array = np.where(x >= xs[-1], rises[-1], found)
        return added


def lift_m(surface: Ground, body: Body, at_m: tuple[float, float], matrix: Matrix) -> float:
    """How high its reference point is, the load set on the ground turned so."""
    at_x, at_y = at_m
    a, b, c, d, e, f, g, h, i = matrix
    return max(
        height_m(surface, at_x + (a * x + b * y + c * z), at_y + (d * x + e * y + f * z)) - (g * x + h * y + i * z)
        for x, y, z in body.points_m
    )
