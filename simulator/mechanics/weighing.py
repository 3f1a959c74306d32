"""What a load weighs and where its weight is, from what can be read off while it hangs: line loads, angles, attitude.

Newton's balance of a body at rest, and no more. The lines' upward parts add up to the weight; their moments put the
weight on one plumb line, the line of gravity. Its place along and across is told by one reading; how high on it the
center of gravity lies is told only by a second reading at another attitude, whose line of gravity meets the first one
there. Until then the height is the papers', with their spread.

Every spread is the half-width that holds 95 of 100 cases. Errors are small and add up linearly: how each moves what is
read is found by a small step of each, and all of them together by their squares (law of propagation of uncertainty,
JCGM 100:2008, 5.1 and 5.2). The readings are then put together by least squares, weighted with what was found.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, radians
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simulator.mechanics.drum import lead_line_share
from simulator.mechanics.trailer_body import Vector
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2

Array = NDArray[np.float64]

SIGMAS = 1.959964
"""Half-width that holds 95 of 100 cases of a normal error, in its standard deviations."""
STEP = 1e-3
"""Of a standard deviation of each error, by which its effect is found."""
FIRM = 1e-7
"""Of weight and of a meter: what is stated without any error is taken as this sure, so that it can be weighted."""
ROUNDS = 3
"""Of the least squares: each begins where the one before ended, and they close in by the square."""
TOLD = 0.7
"""The height is told when the readings leave less than this of the papers' spread. Our choice, no source."""


class LineReading(NamedTuple):
    """One line, as it is read while the load hangs still."""

    name: str
    load_N: float
    """What the display shows: the load with block and rigging."""
    below_N: float
    """Block and rigging, to be taken off."""
    pick_m: Vector
    """By tape, in lying axes from the trailer's reference point."""
    rigging_m: float
    """Pick to hook."""
    is_bridle: bool
    """It pivots at the hook for roll, else at the pick."""
    along_rad: float = 0.0
    """Off plumb; the load lies toward the tail unit."""
    across_rad: float = 0.0
    """Off plumb; the load lies toward the road."""
    parts: int = 0
    """Parts of line between gauge and load where the winch's pull is what is measured; 0: the gauge is at the hook."""
    moved: int = 0
    """Which way the line ran last: 1 up, -1 down, 0 nobody knows."""


class Reading(NamedTuple):
    """All lines at one attitude."""

    lines: tuple[LineReading, ...]
    pitch_rad: float = 0.0
    yaw_rad: float = 0.0
    roll_rad: float = 0.0


class Errors(NamedTuple):
    """How sure what is read is: each the half-width that holds 95 of 100. Common practice, no source, unless said."""

    gauge_share: float = 0.05
    """Of what each gauge reads; one gauge's own, and the same in each of its readings."""
    gauge_N: float = 0.0
    """Of its full scale."""
    display_N: float = 50.0 * STANDARD_GRAVITY_MPS2
    """Of each reading anew: half of the last digit shown."""
    angle_rad: float = radians(0.5)
    """Of a line's angle, of pitch and of roll."""
    tape_m: float = 0.05
    """Of a pick's place, each way."""
    height_m: float = 0.5
    """Of the center of gravity's height on paper."""
    bed_N: float = 0.0
    """What the bed may still push or drag at the load's ends."""
    sway_rad: float = 0.0
    """Half of the angle that the load sways through while it is read."""
    sheave_loss: float = 1.02
    """Pull ratio over one sheave (API RP 9B style, roller bearings, from memory)."""


class OneMore(NamedTuple):
    """A further reading that would tell what is not known."""

    pitch_rad: float
    """At this pitch."""
    height_spread_m: float
    """And so sure would the height be then."""


class Weighed(NamedTuple):
    """What the readings say."""

    weight_N: float
    weight_spread_N: float
    cg_m: Vector
    """From the trailer's reference point (the stated CG), in lying axes: along, across, up."""
    spread_m: Vector
    covariance: Array
    """Of weight (N) and the three of the center of gravity (m), 4 by 4."""
    tells_height: bool
    """Else the height is the papers'."""
    one_more: OneMore | None
    """What would tell it; None where it is told, or no small pitch would."""

    def holds(self, weight_N: float, cg_m: Vector) -> tuple[bool, bool, bool, bool]:
        """Whether a weight and each of the three of a center of gravity lie inside the spreads."""
        off = (weight_N - self.weight_N, *(true - found for true, found in zip(cg_m, self.cg_m, strict=True)))
        spreads = (self.weight_spread_N, *self.spread_m)
        first, second, third, fourth = (abs(o) <= s for o, s in zip(off, spreads, strict=True))
        return first, second, third, fourth


class Bounds(NamedTuple):
    """What can be said while part of the load lies on the bed."""

    least_N: float
    """It weighs at least so much."""
    from_m: float
    to_m: float
    """Along, from the reference point: its center of gravity is between these."""


def friction(parts: int, loss: float, moved: int) -> float:
    """What a gauge at the winch shows for each newton that hangs from `parts` of line, after the line has run up or
    down; 1 with the gauge at the hook, and in the middle where nobody knows which way it ran."""
    if not parts or loss <= 1.0:
        return 1.0
    up, down = _run(parts, loss), _run(parts, 1.0 / loss)
    return up if moved > 0 else down if moved < 0 else (up + down) / 2.0


def _run(parts: int, loss: float) -> float:
    """Parts times lead-line share; running down, friction helps and the loss is its inverse."""
    if loss > 1.0:
        return parts * lead_line_share(parts, loss)
    return parts * loss**parts * (loss - 1.0) / (loss**parts - 1.0)


def weigh(
    readings: Sequence[Reading], errors: Errors, ends_m: tuple[Vector, Vector], *, most_pitch_rad: float = radians(6.0)
) -> Weighed:
    """Weight and center of gravity.

    Args:
        readings: one, or more at other attitudes of the same load on the same lines.
        errors: how sure they are.
        ends_m: least and greatest x, y, z of the load, lying axes from its reference point.
        most_pitch_rad: the most that the load may be pitched for one more reading, rad.

    Raises:
        ValueError: no reading, no line, or lines that bear nothing together.
    """
    found = _put_together(readings, errors, ends_m)
    if found.tells_height or not most_pitch_rad or not errors.height_m:
        return found
    return found._replace(one_more=_one_more(readings, errors, ends_m, found, most_pitch_rad))


def bounds(reading: Reading, errors: Errors, ends_m: tuple[Vector, Vector], *, most_N: float = inf) -> Bounds:
    """Weight at least, and between what the CG lies, with part of the load on the bed: the bed pushes up anywhere
    under it, by whatever is missing to `most_N`, the most it might weigh."""
    moved = _effects([reading], errors, ends_m, (0.0, 0.0, 0.0))
    weight, along = (float(value) for value in moved.at[:2])
    spread, off = (SIGMAS * float(np.sqrt((row**2).sum())) for row in moved.slopes[:2])
    least, low, high = weight - spread, ends_m[0][0], ends_m[1][0]
    if most_N == inf:
        return Bounds(least, low, high)
    bed = max(0.0, most_N - weight)
    whole = weight + bed
    return Bounds(least, max(low, (weight * (along - off) + bed * low) / whole),
                  min(high, (weight * (along + off) + bed * high) / whole))  # fmt: skip


class _Effects(NamedTuple):
    """What is seen, and what one standard deviation of each error does to it: weight, then the line of gravity's place
    along and across less the CG's, for each reading."""

    at: Array
    slopes: Array
    """(seen, error)"""


def _effects(readings: Sequence[Reading], errors: Errors, ends_m: tuple[Vector, Vector], cg_m: Vector) -> _Effects:
    """By a small step of each error both ways, all at once."""
    count = errors_of(len(readings), len(readings[0].lines))
    steps = np.vstack([np.zeros((1, count)), STEP * np.eye(count), -STEP * np.eye(count)])
    seen = seen_with(readings, errors, ends_m, steps, cg_m)
    return _Effects(seen[0], ((seen[1 : count + 1] - seen[count + 1 :]) / (2.0 * STEP)).T)


OF_A_LINE = 6
"""Errors of a line that stay in all its readings: gauge by share and by full scale, friction, and three of its pick."""
OF_ITS_READING, OF_AN_ATTITUDE = 3, 8
"""Errors of one reading: two angles and the display of each line; pitch, roll, sway along and across, four of the
bed."""


def errors_of(readings: int, lines: int) -> int:
    """How many errors there are in so many readings of so many lines, for `seen_with`."""
    return lines * OF_A_LINE + readings * (lines * OF_ITS_READING + OF_AN_ATTITUDE)


def seen_with(
    readings: Sequence[Reading], errors: Errors, ends_m: tuple[Vector, Vector], drawn: Array, cg_m: Vector
) -> Array:
    """What would be seen if each error were put right by so much of it.

    Args:
        readings: as read.
        errors: half-widths.
        ends_m: as in `weigh`.
        drawn: (cases, errors) in standard deviations.
        cg_m: what places along and across are less.

    Returns:
        (cases, 3 a reading): weight, N; the line of gravity's place along and across less that of `cg_m`, m: by moments
        about that point, so that a load which sways, and pulls level with its own weight, is weighed as one at rest.
    """
    lines = len(readings[0].lines)
    kept = drawn[:, : lines * OF_A_LINE].reshape(-1, lines, OF_A_LINE)
    rest = drawn[:, lines * OF_A_LINE :].reshape(len(drawn), len(readings), -1)
    found = [_one_seen(one, errors, ends_m, kept, rest[:, k], cg_m) for k, one in enumerate(readings)]
    return np.concatenate(found, axis=1)


def _one_seen(
    reading: Reading, errors: Errors, ends_m: tuple[Vector, Vector], kept: Array, own: Array, cg_m: Vector
) -> Array:
    lines, count = reading.lines, len(reading.lines)
    angle, sway = errors.angle_rad / SIGMAS, errors.sway_rad / SIGMAS
    of_lines = own[:, : OF_ITS_READING * count].reshape(-1, count, OF_ITS_READING)
    pitch, roll, along, across, *bed = own[:, OF_ITS_READING * count :].T
    turn = _turns(reading.pitch_rad + angle * pitch, reading.yaw_rad, reading.roll_rad + angle * roll)
    leans = of_lines[:, :, :2] * angle + np.stack([along, across], axis=1)[:, None] * sway
    read = np.array([(one.along_rad, one.across_rad) for one in lines])
    slope = -np.tan(read + leans)
    ways = np.concatenate([slope, np.ones((*slope.shape[:2], 1))], axis=2)
    ways /= np.linalg.norm(ways, axis=2, keepdims=True)
    picks = np.array([one.pick_m for one in lines]) + kept[:, :, 3:] * (errors.tape_m / SIGMAS)
    hooks = np.einsum("nij,nlj->nli", turn, picks) + _rigging(lines, turn, ways)
    forces = _pulls_N(lines, errors, kept, of_lines[:, :, 2])[:, :, None] * ways
    places, pushes = _bed(ends_m, turn, np.array(bed) * (errors.bed_N / SIGMAS))
    where, force = np.concatenate([hooks, places], axis=1), np.concatenate([forces, pushes], axis=1)
    arms = where - np.einsum("nij,j->ni", turn, np.array(cg_m))[:, None]
    weight = force[:, :, 2].sum(axis=1)
    level = (arms[:, :, :2] * force[:, :, 2:] - arms[:, :, 2:] * force[:, :, :2]).sum(axis=1) / weight[:, None]
    return np.column_stack([weight, level])


def _pulls_N(lines: Sequence[LineReading], errors: Errors, kept: Array, display: Array) -> Array:
    """What hangs from each hook: friction and the gauge's own error taken out, then block and rigging."""
    shown = np.array([one.load_N for one in lines])
    loss = errors.sheave_loss
    middle = np.array([friction(one.parts, loss, one.moved) for one in lines])
    half = np.array([friction(one.parts, loss, 1) - middle_ if not one.moved else 0.0
                     for one, middle_ in zip(lines, middle, strict=True)])  # fmt: skip
    factor = middle + kept[:, :, 2] * half / SIGMAS
    zero = (kept[:, :, 1] * errors.gauge_N + display * errors.display_N) / SIGMAS
    gauge = shown * (1.0 + kept[:, :, 0] * errors.gauge_share / SIGMAS) + zero
    return np.asarray(gauge / factor - np.array([one.below_N for one in lines]))


def _rigging(lines: Sequence[LineReading], turn: Array, ways: Array) -> Array:
    """Pick to hook: in line with the rope, or of a bridle only in the plane square to the load's cross axis."""
    across = turn[:, None, :, 1]
    in_plane = ways - (ways * across).sum(axis=2, keepdims=True) * across
    in_plane /= np.linalg.norm(in_plane, axis=2, keepdims=True)
    is_bridle = np.array([one.is_bridle for one in lines])[None, :, None]
    high = np.array([one.rigging_m for one in lines])[None, :, None]
    return np.asarray(np.where(is_bridle, in_plane, ways) * high)


def _bed(ends_m: tuple[Vector, Vector], turn: Array, pushed_N: Array) -> tuple[Array, Array]:
    """What the bed may still do: up at either end (each half of it), and a drag along and across under the middle."""
    (x0, y0, z0), (x1, y1, _) = ends_m
    y = (y0 + y1) / 2.0
    places = np.einsum("nij,lj->nli", turn, np.array([(x0, y, z0), (x1, y, z0), ((x0 + x1) / 2.0, y, z0)]))
    first, second, along, across = pushed_N
    none, half = np.zeros_like(first), np.sqrt(0.5)
    rows = ((none, none, half * first), (none, none, half * second), (along, across, none))
    return places, np.stack([np.stack(row, axis=1) for row in rows], axis=1)


def _turns(pitch: Array, yaw: float, roll: Array) -> Array:
    """`matrix.rotation` of many attitudes: (cases, 3, 3)."""
    cp, sp, cq, sq = np.cos(pitch), np.sin(pitch), np.cos(roll), np.sin(roll)
    cw, sw = np.cos(yaw), np.sin(yaw)
    rows = [cw * cp, cw * sp * sq - sw * cq, cw * sp * cq + sw * sq,
            sw * cp, sw * sp * sq + cw * cq, sw * sp * cq - cw * sq, -sp, cp * sq, cp * cq]  # fmt: skip
    return np.asarray(np.stack(rows, axis=1).reshape(-1, 3, 3))


def _put_together(readings: Sequence[Reading], errors: Errors, ends_m: tuple[Vector, Vector]) -> Weighed:
    """Weighted least squares; the weights are found anew where the center of gravity turns out to be."""
    if not readings or not readings[0].lines:
        raise ValueError("a weighing: given no line, allowed: one or more lines that bear")
    cg: Vector = (0.0, 0.0, 0.0)
    for _ in range(ROUNDS):
        moved = _effects(readings, errors, ends_m, cg)
        if min(moved.at[::3]) <= 0.0:
            raise ValueError("a weighing: given lines that bear nothing, allowed: loads over block and rigging")
        rows, root, scale = _weighted(readings, errors, moved)
        wanted = np.linalg.solve(root, np.append(moved.at / np.resize([scale[0], 1.0, 1.0], len(moved.at)), -cg[2]))
        found = np.linalg.lstsq(rows, wanted, rcond=None)[0]
        cg = (cg[0] + float(found[1]), cg[1] + float(found[2]), cg[2] + float(found[3]))
    covariance = _covariance(rows, scale)
    spreads = [SIGMAS * float(value) for value in np.sqrt(np.diag(covariance))]
    tells = spreads[3] < TOLD * errors.height_m
    weight = float(found[0]) * float(scale[0])
    return Weighed(weight, spreads[0], cg, (spreads[1], spreads[2], spreads[3]), covariance, tells, None)


def _weighted(readings: Sequence[Reading], errors: Errors, moved: _Effects) -> tuple[Array, Array, Array]:
    """What weight and center of gravity do to all that was seen, weighted; the root of how sure that is; the scale of
    the four. The papers' height counts as one more thing that was seen."""
    scale = np.array([float(np.mean(moved.at[::3])), 1.0, 1.0, 1.0])
    count = len(moved.at)
    slopes = moved.slopes / np.resize([scale[0], 1.0, 1.0], count)[:, None]
    rows, whole = np.zeros((count + 1, 4)), np.zeros((count + 1, count + 1))
    for k, one in enumerate(readings):
        turn = _turns(np.array([one.pitch_rad]), one.yaw_rad, np.array([one.roll_rad]))[0]
        rows[3 * k, 0] = 1.0
        rows[3 * k + 1 : 3 * k + 3, 1:] = turn[:2]
    rows[-1, 3] = 1.0
    whole[:-1, :-1] = slopes @ slopes.T + FIRM**2 * np.eye(count)
    whole[-1, -1] = max(errors.height_m / SIGMAS, FIRM) ** 2
    root = np.linalg.cholesky(whole)
    return np.asarray(np.linalg.solve(root, rows)), np.asarray(root), scale


def _covariance(rows: Array, scale: Array) -> Array:
    back = np.linalg.pinv(rows, rcond=1e-15)
    return np.asarray(back @ back.T * np.outer(scale, scale))


def _one_more(
    readings: Sequence[Reading], errors: Errors, ends_m: tuple[Vector, Vector], found: Weighed, most_rad: float
) -> OneMore | None:
    """How sure the height would be after one more reading with the load pitched as far as it may be."""
    last = readings[-1]
    pitch = -most_rad if last.pitch_rad > 0.0 else most_rad
    more = (*readings, last._replace(pitch_rad=pitch))
    rows, _, scale = _weighted(more, errors, _effects(more, errors, ends_m, found.cg_m))
    spread = SIGMAS * float(np.sqrt(_covariance(rows, scale)[3, 3]))
    return OneMore(pitch, spread) if spread < TOLD * errors.height_m else None
