"""Random loads hung at rest by least energy, read with errors drawn as they are stated: for tests and for a tool."""

from __future__ import annotations

from math import radians
from typing import NamedTuple

import numpy as np

from simulator.mechanics.matrix import rotation
from simulator.mechanics.rest_pose import rest
from simulator.mechanics.trailer_body import Vector
from simulator.mechanics.weighing import SIGMAS, Errors, LineReading, Reading, friction
from tests.mechanics.hung_bodies import Array, _hooks_m, random_case

ENDS = ((-9.0, -2.0, -2.0), (9.0, 2.0, 2.0))
HEIGHT_M = 0.5


class Hung(NamedTuple):
    """A load at rest: what is true of it, and what would be read with no error."""

    weight_N: float
    cg_m: Vector
    """From the reference point."""
    reading: Reading


def hung(rng: np.random.Generator, *, height_m: float = HEIGHT_M) -> Hung:
    """Two to four lines, some of them bridles, splayed, pitched, yawed and rolled; all of them bear."""
    while True:
        case = random_case(rng, bridles=True)
        found = rest(case.weight_N, case.lines, falls=True)
        pose = found.pose
        if not (found.stable and min(found.pulls_N) > 0.05 * case.weight_N):
            continue
        cg = rng.normal(0.0, 1.0), rng.normal(0.0, 0.2), rng.normal(0.0, height_m / SIGMAS)
        q = np.array([*pose.cg_m, pose.pitch_rad, pose.yaw_rad, pose.roll_rad])
        hooks = _hooks_m(case, q)
        lines = tuple(
            _line(n, found.pulls_N[n], hook, sheave, pick + cg, (float(high), bool(bridle)), rng)
            for n, (hook, sheave, pick, high, bridle) in enumerate(
                zip(hooks, case.sheaves_m, case.picks_m, case.rigging_m, case.bridle, strict=True)
            )
        )
        return Hung(case.weight_N, cg, Reading(lines, pose.pitch_rad, pose.yaw_rad, pose.roll_rad))


def _line(
    n: int,
    pull_N: float,
    hook: Array,
    sheave: Array,
    pick: Array,
    rigging: tuple[float, bool],
    rng: np.random.Generator,
) -> LineReading:
    parts, moved = int(rng.integers(0, 5)), int(rng.integers(-1, 2))
    below = float(rng.uniform(3e3, 8e3))
    x, y, drop = hook[0] - sheave[0], hook[1] - sheave[1], sheave[2] - hook[2]
    shown = (pull_N + below) * friction(parts, Errors().sheave_loss, moved)
    at = (float(pick[0]), float(pick[1]), float(pick[2]))
    return LineReading(
        f"line {n}", shown, below, at, *rigging, float(np.arctan2(x, drop)), float(np.arctan2(y, drop)), parts, moved
    )


def turned(pitch_rad: float, cg_m: tuple[float, float, float], weight_N: float) -> Reading:
    """A load on two plumb lines at a pitch, by moments about the tail hook (statics)."""
    hooks = []
    turn = np.array(rotation(pitch_rad, 0.0, 0.0)).reshape(3, 3)
    for x in (-5.0, 5.0):
        hooks.append(float((turn @ np.array([x, 0.0, 1.0]))[0]))
    at = float((turn @ np.array(cg_m))[0])
    nose_N = weight_N * (hooks[1] - at) / (hooks[1] - hooks[0])
    loads = (nose_N, weight_N - nose_N)
    lines = tuple(
        LineReading(name, load, 0.0, (x, 0.0, 1.0), 2.3, True)
        for name, load, x in zip(("nose", "tail"), loads, (-5.0, 5.0), strict=True)
    )
    return Reading(lines, pitch_rad)


def misread(true: Reading, errors: Errors, rng: np.random.Generator) -> Reading:
    """The same with every error drawn: written anew, without the code under test, from what each error is said to be.

    A display shows r = (true - zero) / (1 + share); what the tape, the angles and the levels say is off by their own.
    """

    def drawn(half: float) -> float:
        return float(rng.normal(0.0, half / SIGMAS))

    sway = drawn(errors.sway_rad), drawn(errors.sway_rad)
    lines = []
    for one in true.lines:
        half = friction(one.parts, errors.sheave_loss, 1) - friction(one.parts, errors.sheave_loss, 0)
        factor = friction(one.parts, errors.sheave_loss, one.moved)
        real = factor + (drawn(half) if not one.moved else 0.0)
        shown = (one.load_N * real / factor - drawn(errors.gauge_N) - drawn(errors.display_N)) / (
            1.0 + drawn(errors.gauge_share)
        )
        x, y, z = (at - drawn(errors.tape_m) for at in one.pick_m)
        along = one.along_rad - drawn(errors.angle_rad) - sway[0]
        across = one.across_rad - drawn(errors.angle_rad) - sway[1]
        lines.append(one._replace(load_N=shown, pick_m=(x, y, z), along_rad=along, across_rad=across))
    pitch, roll = true.pitch_rad - drawn(errors.angle_rad), true.roll_rad - drawn(errors.angle_rad)
    return true._replace(lines=tuple(lines), pitch_rad=pitch, roll_rad=roll)


def errors_drawn(rng: np.random.Generator) -> Errors:
    """Some set of instruments, from good to poor."""
    return Errors(
        gauge_share=float(rng.uniform(0.01, 0.06)),
        gauge_N=float(rng.uniform(0.0, 3e3)),
        angle_rad=radians(float(rng.uniform(0.1, 1.0))),
        tape_m=float(rng.uniform(0.01, 0.1)),
        height_m=HEIGHT_M,
        sway_rad=radians(float(rng.uniform(0.0, 0.5))),
    )
