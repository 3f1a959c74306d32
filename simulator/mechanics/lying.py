"""Does a load stay where it lies? Statics of a rigid body on a surface with friction, before any line holds it.

It stays if some set of pushes, each within its friction cone, carries its weight with no moment left over (limit
analysis: any statics text). On a plane that is the old rule: it slides by itself if tan(slope) > friction.
"""

from __future__ import annotations

from math import atan2, floor, hypot, inf, pi
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.mechanics.ground import Ground, height_m, nearest
from simulator.mechanics.set_down import lift_m, turned_down
from simulator.mechanics.trailer_body import Body, Vector, rotation, turned
from simulator.scenario.kept_by_identity import kept_by_identity

Array = NDArray[np.float64]
Used = NDArray[np.bool_]
TOUCHES_M = 0.05
"""A point this near to the ground bears: soil gives and steel bends by as much."""
CONE_SIDES = 16
LITTLE_TURN_RAD = 0.1
STILL = 1e-6
"""Forces in parts of the weight, moments in parts of weight times size: less than this is nothing."""
MOST_SHARE = 8.0
SAME_SHARE = MOST_SHARE / 2**24
"""Shares this near to each other are one."""
MOST_PULL, PULL_STEP = 1.5, 0.05
"""Parts of the weight: no holding pull is looked for beyond, nor at more places than these on the way."""
CLEARLY = 1e-3
"""So much is left over for certain, whatever rounding there is."""
LEAST_AMOUNT = 1e-12
NOTHING, NEARER = 0.1 * STILL, 1e-6
"""A rest that is well under what counts as nothing is not made smaller; less of a rest than this is rounding."""


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
    pitch, roll = turned_down(surface, body, at_m, turned_rad)
    if max(abs(pitch - turned_rad[0]), abs(roll - turned_rad[2])) > LITTLE_TURN_RAD:
        pitch, roll = turned_down(surface, body, at_m, _laid_on(surface, body, at_m, yaw))
    bears = _bears(surface, body, at_m, (pitch, yaw, roll), friction)
    return Rest(pitch, roll, bears, _downhill(bears))


def _laid_on(surface: Ground, body: Body, at_m: tuple[float, float], yaw_rad: float) -> tuple[float, float, float]:
    """Pitch, yaw and roll along the chords of the ground under it."""
    x, y = at_m
    along, across = ((body.high_m[axis] - body.low_m[axis]) / 2.0 for axis in (0, 1))
    falls = height_m(surface, x - along, y) - height_m(surface, x + along, y)
    rises = height_m(surface, x, y + across) - height_m(surface, x, y - across)
    return atan2(falls, 2.0 * along), yaw_rad, atan2(rises, 2.0 * across)


def _bears(
    surface: Ground,
    body: Body,
    at_m: tuple[float, float],
    angles: tuple[float, float, float],
    friction: tuple[float, float],
) -> tuple[Bears, ...]:
    """Points at the ground; the depth is measured to the nearest of it, as wherever the ground pushes."""
    matrix = rotation(*angles)
    z = lift_m(surface, body, at_m, matrix)
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
    """Least share of the friction that is there with which the load stays; infinite when none would do.

    What is left over falls to nothing nearly straight as the share grows, so where it would is tried before the middle.
    """
    pushes = _all_pushes(rest)
    if pushes is None:
        return inf
    weight = _weight(rest, 0.0)
    most = _nearest(pushes.with_share(MOST_SHARE), weight)
    if most.left_over >= STILL:
        return inf
    if _nearest(pushes.with_share(SAME_SHARE), weight).left_over < STILL:
        return SAME_SHARE
    low, high, last = SAME_SHARE, MOST_SHARE, most
    shares: list[tuple[float, float]] = []
    while high - low > SAME_SHARE:
        trial = _where_nothing_is_left(shares, low, high)
        last = _nearest(pushes.with_share(trial), weight, last.amounts)
        if last.left_over < STILL:
            high = trial
        else:
            low = trial
            shares.append((trial, last.left_over))
    return high


def _where_nothing_is_left(seen: list[tuple[float, float]], low: float, high: float) -> float:
    """The share to try next: a little beyond where the last two that were too small point, else the middle."""
    middle = (low + high) / 2.0
    if len(seen) < 2 or len(seen) % 3 == 0:
        return middle
    (far, more), (near, less) = seen[-2:]
    if less >= more or near <= far:
        return middle
    at = near + (near - far) * less / (more - less)
    trial = at + max(0.4 * SAME_SHARE, 0.02 * (at - near))
    return trial if low < trial < middle else middle


def holding_pull(rest: Rest, share: float) -> float:
    """Least pull up the slope, through the center of gravity, that holds the load with a share of its friction.

    Returns:
        Parts of the weight; infinite when no pull that is looked for does.
    """
    pushes = _all_pushes(rest)
    if pushes is None:
        return inf
    columns, way = pushes.with_share(share), _weight(rest, 1.0) - _weight(rest, 0.0)
    found, pull = _nearest(columns, _weight(rest, 0.0)), 0.0
    while found.left_over >= STILL:
        low, pull = pull, _next_pull(found, way, pull)
        if pull > MOST_PULL + SAME_SHARE:
            return inf
        found = _nearest(columns, _weight(rest, pull), found.amounts)
    if pull == 0.0:
        return 0.0
    high = pull
    for _ in range(12):
        middle = (low + high) / 2.0
        found = _nearest(columns, _weight(rest, middle), found.amounts)
        low, high = (low, middle) if found.left_over < STILL else (middle, high)
    return high


def _next_pull(found: _Nearest, way: Array, pull: float) -> float:
    """The next of the pulls that are looked at. What is left over at one pull stands square to all that pushes can do,
    so no pull holds either as long as it points that way (the separating plane of convex sets): those are passed by."""
    following = pull + PULL_STEP
    if found.left_over < CLEARLY:
        return following
    toward = float(found.rest @ way)
    if toward >= 0.0:
        return inf
    none_before = pull + found.left_over**2 / -toward
    return max(following, PULL_STEP * floor(none_before / PULL_STEP))


class Tied(NamedTuple):
    """A line that holds the load from the bank."""

    arm_m: Vector
    """Where it is made fast, from the center of gravity."""
    toward: Vector
    """Unit vector to its anchor."""


TRIES = 16
"""Pulls of a line that are tried: a load that only a pull between two of them would hold counts as not held."""
ROUNDS = 12
"""Halvings of what is looked for: a four-thousandth of it."""


def held_friction_used(rest: Rest, line: Tied, most: float) -> float:
    """`friction_used` of a load that a line holds too, with any pull up to `most` (parts of the weight)."""
    pulls = [most * i / TRIES for i in range(TRIES + 1)]
    if not any(_stays(rest, MOST_SHARE, pull, line) for pull in pulls):
        return inf
    low, high = 0.0, MOST_SHARE
    for _ in range(ROUNDS):
        middle = (low + high) / 2.0
        low, high = (low, middle) if any(_stays(rest, middle, pull, line) for pull in pulls) else (middle, high)
    return high


def line_pull(rest: Rest, share: float, line: Tied) -> float:
    """Least pull of a line that holds the load with a share of its friction.

    Returns:
        Parts of the weight; infinite when no pull that is looked for does.
    """
    steps = (PULL_STEP * i for i in range(round(MOST_PULL / PULL_STEP) + 1))
    first = next((pull for pull in steps if _stays(rest, share, pull, line)), None)
    if first is None:
        return inf
    low, high = max(0.0, first - PULL_STEP), first
    for _ in range(ROUNDS):
        middle = (low + high) / 2.0
        low, high = (low, middle) if _stays(rest, share, middle, line) else (middle, high)
    return high


def _stays(rest: Rest, share: float, pull: float, line: Tied) -> bool:
    """Whether pushes within their friction cones balance the weight and the pull of a line."""
    pushes = _all_pushes(rest)
    if pushes is None:
        return False
    force, size = pull * np.array(line.toward), max(hypot(*one.arm_m) for one in rest.bears) or 1.0
    moment = np.cross(np.array(line.arm_m) / size, force)
    target = np.concatenate([np.array([0.0, 0.0, 1.0]) - force, -moment])
    return _nearest(pushes.with_share(share), target).left_over < STILL


class _Pushes(NamedTuple):
    """Edges of all friction cones as forces and moments, a column each: without friction, and what all of it adds."""

    smooth: Array
    rubbing: Array

    def with_share(self, share: float) -> Array:
        """The edges with a share of the friction."""
        return self.smooth + share * self.rubbing


class _Nearest(NamedTuple):
    """How near pushes come to a load."""

    amounts: Array
    """Of each push; none is negative."""
    rest: Array
    """What they leave of the load."""
    left_over: float
    """Its size."""


@kept_by_identity
def _all_pushes(rest: Rest) -> _Pushes | None:
    """Those of everything that bears, of each cone one edge straight up the slope; None where nothing does."""
    if not rest.bears:
        return None
    size = max(hypot(*one.arm_m) for one in rest.bears) or 1.0
    normal = np.array([one.normal for one in rest.bears])
    arm = np.array([one.arm_m for one in rest.bears])[:, None] / size
    friction = np.array([one.friction for one in rest.bears])[:, None, None]
    up = -np.array(rest.downhill)
    up = up - (normal @ up)[:, None] * normal
    length = np.sqrt((up * up).sum(axis=1, keepdims=True))
    up = np.where(length > 1e-9, up / np.maximum(length, 1e-9), _crossed(normal, np.array((0.0, 1.0, 0.0))))
    side = _crossed(normal, up)
    turns = 2.0 * pi * np.arange(CONE_SIDES)[:, None] / CONE_SIDES
    along = friction * (np.cos(turns) * up[:, None] + np.sin(turns) * side[:, None])
    forces = np.broadcast_to(normal[:, None], along.shape)
    smooth, rubbing = (np.concatenate([one, _crossed(arm, one)], axis=2).reshape(-1, 6).T for one in (forces, along))
    return _Pushes(smooth, rubbing)


def _crossed(a: Array, b: Array) -> Array:
    """Vector products along the last axis."""
    (ax, ay, az), (bx, by, bz) = (np.moveaxis(one, -1, 0) for one in (a, b))
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=-1)


def _weight(rest: Rest, pull: float) -> Array:
    """What the pushes have to balance: the weight, and a pull up the slope in parts of it."""
    x, y, z = rest.downhill
    return np.array([x * pull, y * pull, 1.0 + z * pull, 0.0, 0.0, 0.0])


def _nearest(columns: Array, target: Array, start: Array | None = None) -> _Nearest:
    """The non-negative amounts of the columns that come nearest to a target (least squares by Lawson and Hanson, 1974).

    Args:
        columns: the pushes.
        target: what they have to come to.
        start: amounts to begin with, such as those of a target near by; none of them negative.
    """
    count = columns.shape[1]
    amounts = np.zeros(count) if start is None else start
    used = amounts > LEAST_AMOUNT
    if used.any():
        amounts, used = _non_negative(columns, target, amounts, used)
    idle = np.zeros(count, dtype=bool)  # taken without coming nearer: not taken again before something does
    left = target - columns @ amounts
    size = float(np.linalg.norm(left))
    for _ in range(6 * count):
        gain = columns.T @ left
        gain[used | idle] = -inf
        best = int(gain.argmax())
        if gain[best] <= 1e-10 or size < NOTHING:
            break
        used[best] = True
        amounts, used = _non_negative(columns, target, amounts, used)
        left, before = target - columns @ amounts, size
        size = float(np.linalg.norm(left))
        if before - size > NEARER * before:
            idle[:] = False
        else:
            idle[best] = True
    return _Nearest(amounts, left, size)


def _non_negative(columns: Array, target: Array, amounts: Array, used: Used) -> tuple[Array, Used]:
    """Least squares of the columns in use, those left out that would have to pull."""
    amounts = np.where(used, amounts, 0.0)
    while used.any():
        trial = np.zeros(len(used))
        trial[used] = np.linalg.lstsq(columns[:, used], target, rcond=None)[0]
        low = used & (trial <= 0.0)
        if not low.any():
            return trial, used
        falls = amounts[low] - trial[low]
        share = np.min(np.divide(amounts[low], falls, out=np.zeros_like(falls), where=falls > 0.0))
        amounts = amounts + share * (trial - amounts)
        used = used & (amounts > LEAST_AMOUNT)
        amounts[~used] = 0.0
    return amounts, used
