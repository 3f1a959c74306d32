"""The coach's hand calculations: what can be worked out from readings and papers with a pencil."""

from __future__ import annotations

from collections.abc import Sequence
from math import tan
from typing import NamedTuple

from simulator.mechanics.trailer import Body, Vector, body
from simulator.scenario.trailer import Trailer

SPAN_M = 0.5
"""Picks nearer together along the load than this tell nothing of where its weight is. Our choice, no source."""


class CentreOfGravity(NamedTuple):
    """Where the load's centre of gravity is, from the nose pick toward the tail pick."""

    from_loads_m: float
    true_m: float
    stated_m: float
    span_m: float
    """Pick to pick."""
    nose_N: float
    tail_N: float


def cg_from_nose_pick_m(nose_N: float, tail_N: float, span_m: float, *, over_cg_m: float, pitch_rad: float) -> float:
    """Two plumb lines carry W b / s and W a / s: a = s T / (N + T); out of level the picks' height adds h tan(pitch).

    Args:
        nose_N: hook load at the nose pick.
        tail_N: hook load at the tail pick.
        span_m: pick to pick.
        over_cg_m: picks over the stated CG.
        pitch_rad: nose up positive.

    Returns:
        Distance along the load from the nose pick, m.
    """
    return span_m * tail_N / (nose_N + tail_N) + over_cg_m * tan(pitch_rad)


def centre_of_gravity(trailer: Trailer, pulls: Sequence[tuple[int, float]], pitch_rad: float) -> CentreOfGravity | None:
    """What the hook loads say, beside the papers and the truth, which only the debrief may look at.

    Args:
        trailer: the load.
        pulls: of each line its pick, by place, and its hook load, N. Lines to one end of the load count as one there.
        pitch_rad: nose up positive.

    Returns:
        None where nothing bears, or where all lines go to one place along the load: such loads say nothing of it.
    """
    known: Body = body(trailer)
    xs = [known.picks_m[pick][0] for pick, _ in pulls]
    half_way = (min(xs) + max(xs)) / 2.0
    if max(xs) - min(xs) < SPAN_M or sum(load_N for _, load_N in pulls) <= 0.0:
        return None
    ends: list[list[tuple[Vector, float]]] = [[], []]
    for (pick, load_N), x in zip(pulls, xs, strict=True):
        ends[x > half_way].append((known.picks_m[pick], load_N))
    nose_x, tail_x = (sum(at[0] for at, _ in end) / len(end) for end in ends)
    over = sum(sum(at[2] for at, _ in end) / len(end) for end in ends) / 2.0
    nose_N, tail_N = (sum(load_N for _, load_N in end) for end in ends)
    inferred = cg_from_nose_pick_m(nose_N, tail_N, tail_x - nose_x, over_cg_m=over, pitch_rad=pitch_rad)
    return CentreOfGravity(inferred, known.cg_m[0] - nose_x, -nose_x, tail_x - nose_x, nose_N, tail_N)


def off_plumb_m(drop_m: float, off_plumb_rad: float) -> float:
    """How far the tip stands from plumb: L tan(angle)."""
    return drop_m * tan(off_plumb_rad)
