"""The trailer as it hangs on two plumb lines: roll under its picks, hooks, and the share that each line carries."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import cos, sin, sqrt
from typing import NamedTuple

import numpy as np

from simulator.mechanics.cargo import moves, resting_cg_m
from simulator.mechanics.trailer_body import (
    Body,
    Vector,
    body,
    hung_roll_rad,
    lying,
    part_corners,
    rotation,
    stated_cg_m,
)
from simulator.mechanics.trailer_body import turned as turned_by
from simulator.mechanics.wind import GUST_OVERSHOOT, wind_at_mps
from simulator.scenario.description import Description
from simulator.scenario.kept_by_identity import kept_by_identity
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import PAIR
from simulator.scenario.trailer import Trailer

NOTHING = (0.0, 0.0, 0.0)
SETTLED = 40
"""Times that a load with a cargo that moves is rolled on to where its new center of gravity hangs under its hooks."""


def as_stated(description: Description) -> Description:
    """The same lift by its papers: no hidden center of gravity, no hidden mass."""
    trailer = description.trailer
    if trailer.hidden_cg_m == NOTHING and trailer.hidden_mass_factor == 1.0:
        return description
    return replace(description, trailer=replace(trailer, hidden_cg_m=NOTHING, hidden_mass_factor=1.0))


def off_the_bed(description: Description) -> Description:
    """The same lift with the load free: nothing holds it on the bed any more."""
    return replace(description, site=replace(description.site, bed_hold=None))


@dataclass(frozen=True, slots=True)
class Load:
    """The trailer's numbers for hanging it; vectors in lying axes from its reference point."""

    trailer: Trailer
    body: Body
    corners_m: tuple[Vector, ...]
    weight_N: float
    roll_rad: float
    """It hangs so when level; positive road side up."""

    @property
    def middle_y_m(self) -> float:
        """Middle of the outline across."""
        return (self.body.low_m[1] + self.body.high_m[1]) / 2.0


class Hanging(NamedTuple):
    """The load at one attitude on plumb lines."""

    hooks_m: tuple[Vector, ...]
    """Over each pick, from the reference point, along x, y and z."""
    shares: tuple[float, ...]
    """Parts of the weight that plumb lines at the picks carry."""
    cg_m: Vector
    """The center of gravity, from the reference point."""
    lowest_m: float
    """Lowest corner over the reference point (negative)."""


def load_of(description: Description) -> Load:
    """The load of a description, true center of gravity and mass."""
    return _load_of(description.trailer)


@kept_by_identity
def _load_of(trailer: Trailer) -> Load:
    origin = stated_cg_m(trailer)
    corners = tuple(
        lying(trailer.attitude, (x - origin[0], y - origin[1], z - origin[2]))
        for part in trailer.parts
        for x, y, z in part_corners(part)
    )
    found = body(trailer)
    return Load(trailer, found, corners, found.mass_kg * STANDARD_GRAVITY_MPS2, _roll_rad(trailer, found))


def _roll_rad(trailer: Trailer, found: Body) -> float:
    """Roll that brings the center of gravity under the line through both pivots; a bridle across pivots at its hook.

    More picks than two hold a load as it is taken, and one turns with nothing to say how: level then.
    """
    if len(trailer.picks) != len(PAIR):
        return 0.0
    picks = zip(trailer.picks, found.picks_m, strict=True)
    first, last = ((x, y, z + (pick.height_m if pick.pivot == "bridle_across" else 0.0)) for pick, (x, y, z) in picks)
    roll = 0.0
    for _ in range(SETTLED if moves(trailer) else 1):
        cg_x, cg_y, cg_z = resting_cg_m(trailer, found, 0.0, roll)
        along = (cg_x - first[0]) / (last[0] - first[0]) if last[0] != first[0] else 0.5
        line_y, line_z = (first[axis] + along * (last[axis] - first[axis]) for axis in (1, 2))
        roll = -hung_roll_rad(cg_y - line_y, line_z - cg_z)
    return roll


def hang(load: Load, pitch_rad: float, roll_rad: float) -> Hanging:
    """Hooks and shares with both lines plumb (statics: a pitched load moves weight between its lines)."""
    matrix = rotation(pitch_rad, 0.0, roll_rad)
    picks = load.trailer.picks
    up = _across_rigid_up(pitch_rad, roll_rad)
    hooks = []
    for pick, at in zip(picks, load.body.picks_m, strict=True):
        x, y, z = turned_by(matrix, at)
        ux, uy, uz = up if pick.pivot == "bridle_across" else (0.0, 0.0, 1.0)
        hooks.append((x + ux * pick.height_m, y + uy * pick.height_m, z + uz * pick.height_m))
    cg = turned_by(matrix, resting_cg_m(load.trailer, load.body, pitch_rad, roll_rad))
    lowest = min(turned_by(matrix, corner)[2] for corner in load.corners_m)
    return Hanging(tuple(hooks), plumb_shares(hooks, cg[:2]), cg, lowest)


def plumb_shares(hooks_m: Sequence[Vector], cg_m: tuple[float, float]) -> tuple[float, ...]:
    """Parts of a weight on plumb lines: by its moments, and of what those leave open the most even (equal lines)."""
    if len(hooks_m) == len(PAIR) and hooks_m[0][:2] != hooks_m[1][:2]:
        (x, y, _), (other_x, other_y, _) = hooks_m
        along, across = other_x - x, other_y - y
        last = ((cg_m[0] - x) * along + (cg_m[1] - y) * across) / (along * along + across * across)
        return 1.0 - last, last
    rows = np.array([[1.0, x - cg_m[0], y - cg_m[1]] for x, y, _ in hooks_m]).T
    found = np.linalg.lstsq(rows, np.array([1.0, 0.0, 0.0]), rcond=None)[0]
    return tuple(float(share) for share in found)


def _across_rigid_up(pitch_rad: float, roll_rad: float) -> Vector:
    """Pick to hook of a bridle across, its line plumb: as plumb as the plane square to the cross axis has it."""
    _, ex, _, _, ey, _, _, ez, _ = rotation(pitch_rad, 0.0, roll_rad)
    x, y, z = -ez * ex, -ez * ey, 1.0 - ez * ez
    size = sqrt(x * x + y * y + z * z)
    return x / size, y / size, z / size


def wind_force_N(description: Description, load: Load) -> tuple[float, float]:
    """Wind on the load along and across (q = factor V^2: ASCE 7), as far as a gust swings it.

    The mean wind, and what the largest gust adds to it taken `GUST_OVERSHOOT` times.
    """
    wind = description.site.wind
    size = [high - low for low, high in zip(load.body.low_m, load.body.high_m, strict=True)]
    mean = wind_at_mps(wind, description.path.tip_height_m)
    gust = 1.0 + wind.gust_share
    square = mean * mean * (1.0 + GUST_OVERSHOOT * (gust * gust - 1.0))
    along, across = cos(wind.toward_rad), sin(wind.toward_rad)
    factor = wind.pressure_factor_kg_per_m3 * wind.drag_coefficient * size[2] * square
    return factor * size[1] * along * abs(along), factor * size[0] * across * abs(across)
