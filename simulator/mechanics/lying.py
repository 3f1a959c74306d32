"""Does a load stay where it lies? Statics of a rigid body on a surface with friction, before any line holds it.

It stays if some set of pushes, each within its friction cone, carries its weight with no moment left over (limit
analysis: any statics text). On a plane that is the old rule: it slides by itself if tan(slope) > friction.
"""

from __future__ import annotations

from math import atan2, hypot, inf, pi
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.mechanics.ground import Ground, height_m, nearest
from simulator.mechanics.trailer_body import Body, Vector, rotation, turned

Array = NDArray[np.float64]
TOUCHES_M = 0.05
"""A point this near to the ground bears: soil gives and steel bends by as much."""
CONE_SIDES = 16
FIRST_TURN_RAD, LAST_TURN_RAD = 0.05, 2e-5
MOST_TURNS = 2000
LITTLE_TURN_RAD = 0.1
STILL = 1e-6
"""Forces in parts of the weight, moments in parts of weight times size: less than this is nothing."""
MOST_SHARE = 8.0
MOST_PULL = 1.5
"""Parts of the weight: no holding pull is looked for beyond."""


class Bears(NamedTuple):
    """Where the ground bears the load."""

    arm_m: Vector
    """From its center of gravity."""
    normal: Vector
    friction: float


class Rest(NamedTuple):
    """The load come to rest on the ground, nothing sliding."""

    pitch_rad: float
    roll_rad: float
    bears: tuple[Bears, ...]
    downhill: Vector
    """The way it would go, along the ground; level where the ground is level."""

    @property
    def slope_rad(self) -> float:
        """Of the ground under it, along `downhill`."""
        return atan2(-self.downhill[2], hypot(self.downhill[0], self.downhill[1]))


def come_to_rest(
    surface: Ground,
    body: Body,
    at_m: tuple[float, float],
    turned_rad: tuple[float, float, float],
    friction: tuple[float, float],
) -> Rest:
    """Set down at a place, the load turns in pitch and roll until its center of gravity can get no lower.

    Where it would turn far, it falls the way that the ground under it falls: it is laid on that first.

    Args:
        surface: the ground.
        body: the load.
        at_m: x and y of its reference point.
        turned_rad: pitch, yaw and roll in which it is set down.
        friction: ravine side of the slope's edge, road.
    """
    yaw = turned_rad[1]
    pitch, roll = _turned_down(surface, body, at_m, turned_rad)
    if max(abs(pitch - turned_rad[0]), abs(roll - turned_rad[2])) > LITTLE_TURN_RAD:
        pitch, roll = _turned_down(surface, body, at_m, _laid_on(surface, body, at_m, yaw))
    bears = _bears(surface, body, at_m, (pitch, yaw, roll), friction)
    return Rest(pitch, roll, bears, _downhill(bears))


def _laid_on(surface: Ground, body: Body, at_m: tuple[float, float], yaw_rad: float) -> tuple[float, float, float]:
    """Pitch, yaw and roll along the chords of the ground under it."""
    x, y = at_m
    along, across = ((body.high_m[axis] - body.low_m[axis]) / 2.0 for axis in (0, 1))
    falls = height_m(surface, x - along, y) - height_m(surface, x + along, y)
    rises = height_m(surface, x, y + across) - height_m(surface, x, y - across)
    return atan2(falls, 2.0 * along), yaw_rad, atan2(rises, 2.0 * across)


def _turned_down(
    surface: Ground, body: Body, at_m: tuple[float, float], turned_rad: tuple[float, float, float]
) -> tuple[float, float]:
    """Pitch and roll at the nearest least height of its center of gravity."""
    pitch, yaw, roll = turned_rad
    step, best = FIRST_TURN_RAD, _height_m(surface, body, at_m, (pitch, yaw, roll))
    for _ in range(MOST_TURNS):
        tries = [(pitch + step * a, roll + step * b) for a in (-1, 0, 1) for b in (-1, 0, 1) if a or b]
        low, (new_pitch, new_roll) = min((_height_m(surface, body, at_m, (p, yaw, r)), (p, r)) for p, r in tries)
        if low < best - 1e-9:
            best, pitch, roll = low, new_pitch, new_roll
        elif step > LAST_TURN_RAD:
            step /= 2.0
        else:
            break
    return pitch, roll


def _height_m(surface: Ground, body: Body, at_m: tuple[float, float], angles: tuple[float, float, float]) -> float:
    """Of the center of gravity, the load set on the ground in this attitude."""
    matrix = rotation(*angles)
    return _lift_m(surface, body, at_m, angles) + turned(matrix, body.cg_m)[2]


def _lift_m(surface: Ground, body: Body, at_m: tuple[float, float], angles: tuple[float, float, float]) -> float:
    matrix = rotation(*angles)
    arms = [turned(matrix, point) for point in body.points_m]
    return max(height_m(surface, at_m[0] + x, at_m[1] + y) - z for x, y, z in arms)


def _bears(
    surface: Ground,
    body: Body,
    at_m: tuple[float, float],
    angles: tuple[float, float, float],
    friction: tuple[float, float],
) -> tuple[Bears, ...]:
    """Points at the ground; the depth is measured to the nearest of it, as wherever the ground pushes."""
    matrix, z = rotation(*angles), _lift_m(surface, body, at_m, angles)
    cg = turned(matrix, body.cg_m)
    found = []
    for point in body.points_m:
        arm = turned(matrix, point)
        spot = nearest(surface, at_m[0] + arm[0], at_m[1] + arm[1], z + arm[2])
        if spot.depth_m > -TOUCHES_M:
            own = friction[1] if spot.y_m >= surface.edge_y_m else friction[0]
            from_cg = arm[0] - cg[0], arm[1] - cg[1], arm[2] - cg[2]
            found.append(Bears(from_cg, (spot.nx, spot.ny, spot.nz), own))
    return tuple(found)


def _downhill(bears: tuple[Bears, ...]) -> Vector:
    """Down along the plane that lies square to the mean of the normals."""
    x, y, z = (sum(one.normal[axis] for one in bears) for axis in range(3))
    size = hypot(x, y, z)
    x, y, z = x / size, y / size, z / size
    level = hypot(x, y)
    return (1.0, 0.0, 0.0) if level < 1e-9 else (x * z / level, y * z / level, -level)


def friction_used(rest: Rest) -> float:
    """Least share of the friction that is there with which the load stays; infinite when none would do."""
    pushes = _all_pushes(rest)
    if not _stays(rest, pushes, MOST_SHARE):
        return inf
    low, high = 0.0, MOST_SHARE
    for _ in range(24):
        middle = (low + high) / 2.0
        low, high = (low, middle) if _stays(rest, pushes, middle) else (middle, high)
    return high


def holding_pull(rest: Rest, share: float) -> float:
    """Least pull up the slope, through the center of gravity, that holds the load with a share of its friction.

    Returns:
        Parts of the weight; infinite when no pull that is looked for does.
    """
    count, pushes = round(MOST_PULL / 0.05), _all_pushes(rest)
    first = next((i for i in range(count + 1) if _stays(rest, pushes, share, 0.05 * i)), None)
    if first is None:
        return inf
    if first == 0:
        return 0.0
    low, high = 0.05 * (first - 1), 0.05 * first
    for _ in range(12):
        middle = (low + high) / 2.0
        low, high = (low, middle) if _stays(rest, pushes, share, middle) else (middle, high)
    return high


class Tied(NamedTuple):
    """A line that holds the load from the bank."""

    arm_m: Vector
    """Where it is made fast, from the center of gravity."""
    toward: Vector
    """Unit vector to its anchor."""


TRIES = 16
"""Pulls of a line that are tried: a load that only a pull between two of them would hold counts as not held."""


def held_friction_used(rest: Rest, line: Tied, most: float) -> float:
    """`friction_used` of a load that a line holds too, with any pull up to `most` (parts of the weight)."""
    pushes, pulls = _all_pushes(rest), [most * i / TRIES for i in range(TRIES + 1)]
    if not any(_stays(rest, pushes, MOST_SHARE, pull, line) for pull in pulls):
        return inf
    low, high = 0.0, MOST_SHARE
    for _ in range(16):
        middle = (low + high) / 2.0
        stays = any(_stays(rest, pushes, middle, pull, line) for pull in pulls)
        low, high = (low, middle) if stays else (middle, high)
    return high


def line_pull(rest: Rest, share: float, line: Tied) -> float:
    """Least pull of a line that holds the load with a share of its friction.

    Returns:
        Parts of the weight; infinite when no pull that is looked for does.
    """
    count, pushes = round(MOST_PULL / 0.05), _all_pushes(rest)
    first = next((i for i in range(count + 1) if _stays(rest, pushes, share, 0.05 * i, line)), None)
    if first is None:
        return inf
    low, high = 0.05 * max(0, first - 1), 0.05 * first
    for _ in range(12):
        middle = (low + high) / 2.0
        low, high = (low, middle) if _stays(rest, pushes, share, middle, line) else (middle, high)
    return high


class _Pushes(NamedTuple):
    """Edges of all friction cones as forces and moments, a column each: without friction, and what all of it adds."""

    smooth: Array
    rubbing: Array


def _all_pushes(rest: Rest) -> _Pushes | None:
    """Those of everything that bears; None where nothing does."""
    if not rest.bears:
        return None
    size = max(hypot(*one.arm_m) for one in rest.bears) or 1.0
    rows = [_pushes(one, rest.downhill, size) for one in rest.bears]
    return _Pushes(np.concatenate([one.smooth for one in rows]).T, np.concatenate([one.rubbing for one in rows]).T)


def _stays(rest: Rest, pushes: _Pushes | None, share: float, pull: float = 0.0, line: Tied | None = None) -> bool:
    """Whether pushes within their friction cones balance the weight and a pull up the slope, or that of a line."""
    if pushes is None:
        return False
    if line is not None:
        force, size = pull * np.array(line.toward), max(hypot(*one.arm_m) for one in rest.bears) or 1.0
        moment = np.cross(np.array(line.arm_m) / size, force)
        left_over = np.concatenate([np.array([0.0, 0.0, 1.0]) - force, -moment])
    else:
        x, y, z = rest.downhill
        left_over = np.array([x * pull, y * pull, 1.0 + z * pull, 0.0, 0.0, 0.0])
    return _least_residual(pushes.smooth + share * pushes.rubbing, left_over) < STILL


def _pushes(one: Bears, downhill: Vector, size_m: float) -> _Pushes:
    """The edges of one friction cone, one of them straight up the slope."""
    normal, arm = np.array(one.normal), np.array(one.arm_m) / size_m
    up = -np.array(downhill)
    up = up - (up @ normal) * normal
    length = float(np.linalg.norm(up))
    up = up / length if length > 1e-9 else np.cross(normal, (0.0, 1.0, 0.0))
    side = np.cross(normal, up)
    turns = 2.0 * pi * np.arange(CONE_SIDES) / CONE_SIDES
    along = one.friction * (np.cos(turns)[:, None] * up + np.sin(turns)[:, None] * side)
    forces = np.broadcast_to(normal, along.shape)
    return _Pushes(np.hstack([forces, np.cross(arm, forces)]), np.hstack([along, np.cross(arm, along)]))


def _least_residual(columns: Array, target: Array) -> float:
    """How near non-negative amounts of the columns come to the target (least squares by Lawson and Hanson, 1974)."""
    count = columns.shape[1]
    amounts, used = np.zeros(count), np.zeros(count, dtype=bool)
    for _ in range(6 * count):
        gain = columns.T @ (target - columns @ amounts)
        gain[used] = -inf
        best = int(gain.argmax())
        if gain[best] <= 1e-10:
            break
        used[best] = True
        while True:
            trial = np.zeros(count)
            trial[used] = np.linalg.lstsq(columns[:, used], target, rcond=None)[0]
            low = used & (trial <= 0.0)
            if not low.any():
                amounts = trial
                break
            share = np.min(amounts[low] / (amounts[low] - trial[low]))
            amounts = amounts + share * (trial - amounts)
            used &= amounts > 1e-12
            amounts[~used] = 0.0
    return float(np.linalg.norm(target - columns @ amounts))
