"""Limits to go on, worked out beforehand: for a weight, between what its center of gravity may lie."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from simulator.mechanics.trailer_body import stated_mass_kg
from simulator.plan.batch import Array, Unknowns, depth_of, judge_many, prepare
from simulator.plan.hanging import as_stated, load_of, off_the_bed
from simulator.plan.line_pulls import is_plumb
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import rig_of

SHARES = (0.9, 1.0, 1.1, 1.2)
"""Of the weight on paper."""
STEP_M = 0.05


class GoOn(NamedTuple):
    """For one weight: along from the place on paper, toward the tail end; no place holds where both are None."""

    weight_N: float
    from_m: float | None
    to_m: float | None


def go_on_limits(description: Description) -> tuple[GoOn, ...]:
    """The rest of the path with other weights and places: where no stated limit is passed.

    Empty for a lift whose lines splay: each of its cases is judged by itself, which `slopepick weigh` does.
    """
    known = off_the_bed(as_stated(description))
    if not is_plumb(rig_of(known)):
        return ()
    body, paper_kg = load_of(known).body, stated_mass_kg(known.trailer)
    xs = sorted(pick[0] for pick in body.picks_m)
    places: Array = np.asarray(np.arange(round(xs[0] / STEP_M) + 1, round(xs[-1] / STEP_M)) * STEP_M, dtype=np.float64)
    masses = np.repeat(np.array(SHARES) * paper_kg, len(places))
    same = np.ones(len(masses))
    unknowns = Unknowns(masses, np.tile(places, len(SHARES)), same * known.site.wind.speed_mps, same * depth_of(known))
    holds = (judge_many(prepare(known), unknowns) < 1.0).all(axis=1).reshape(len(SHARES), -1)
    return tuple(_of(share * paper_kg, places[row]) for share, row in zip(SHARES, holds, strict=True))


def _of(mass_kg: float, places_m: Array) -> GoOn:
    weight_N = mass_kg * STANDARD_GRAVITY_MPS2
    if not len(places_m):
        return GoOn(weight_N, None, None)
    return GoOn(weight_N, float(places_m.min()), float(places_m.max()))
