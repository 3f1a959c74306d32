"""How much a unit may lift here: its rating table and a share of what would tip it, whichever is less."""

from __future__ import annotations

from functools import lru_cache
from math import inf

import numpy as np

from simulator.mechanics.footing import Load, Stand, pull_load
from simulator.mechanics.load_table import SAME_M, LoadTable
from simulator.mechanics.outriggers import FloatArray
from simulator.mechanics.unit_loads import plumb_load_that_tips_N
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.unit import Rating, Unit

TIPPING_SHARE = 0.85
"""Rated load as a share of tipping load, for a unit with no table (29 CFR 1910.180(c)(1), SAE J765; from summaries)."""


def rated_load_N(rating: Rating, boom_length_m: float, load_radius_m: float) -> float:
    """The table's line load at the next larger radius and next longer boom; 0 where it has none."""
    return table_of(rating).line_load_N(boom_length_m, load_radius_m)


@lru_cache(maxsize=16)
def table_of(rating: Rating) -> LoadTable:
    """The table in N, ready to be asked."""
    rows = [[kg * STANDARD_GRAVITY_MPS2 for kg in row] for row in rating.rated_kg]
    return LoadTable(list(rating.radii_m), list(rating.boom_lengths_m), rows)


def rated_load_many(rating: Rating, boom_length_m: FloatArray, load_radius_m: FloatArray) -> FloatArray:
    """`rated_load_N` for arrays."""
    table = np.pad(np.array(rating.rated_kg, dtype=float), ((0, 1), (0, 1)))
    row = np.searchsorted(rating.radii_m, load_radius_m - SAME_M)
    column = np.searchsorted(rating.boom_lengths_m, boom_length_m - SAME_M)
    return np.asarray(table[row, column] * STANDARD_GRAVITY_MPS2)


def tipping_load_N(on: Stand, own: Load[float], tip_m: tuple[float, float, float]) -> float:
    """The plumb line load at the tip that would tip the unit: least over the edges of the floats' outline.

    About an edge (statics): what the weights hold down, over the load's distance outside it.

    Args:
        on: the unit.
        own: its own load at this pose, `own_load`.
        tip_m: (u, v, z) of the tip in the unit's own axes.

    Returns:
        N; infinite where no load tips it, 0 where it tips by itself.
    """
    return plumb_load_that_tips_N(on, own, tip_m)


def tipping_load_many(on: Stand, own: Load[FloatArray], tip_m: tuple[FloatArray, FloatArray, FloatArray]) -> FloatArray:
    """`tipping_load_N` for arrays."""
    still = np.zeros_like(tip_m[0])
    outline = np.array(on.frame.outline)
    overturns = -(outline @ np.stack(pull_load(on, tip_m, (still, still, still - 1.0))))
    holds = outline @ np.stack(own)
    least = np.divide(holds, overturns, out=np.full_like(holds, inf), where=overturns > 0.0).min(axis=0)
    return np.asarray(np.where((holds < 0.0).any(axis=0), 0.0, least))


def allowed_load_N(
    unit: Unit, boom_length_m: float, load_radius_m: float, tipping_N: float, *, tipping_share: float = TIPPING_SHARE
) -> float:
    """The smaller of the rating table (if the unit has one) and its share of the tipping load."""
    if unit.rating is None:
        return tipping_share * tipping_N
    return min(rated_load_N(unit.rating, boom_length_m, load_radius_m), unit.rating.tipping_share * tipping_N)


def capacity_used(
    line_load_N: float, unit: Unit, boom_length_m: float, load_radius_m: float, tipping_N: float
) -> float:
    """Line load over the allowed load; infinite where nothing is allowed.

    Args:
        line_load_N: hook load with block and rigging.
        unit: its description, for the table.
        boom_length_m: foot pin to tip.
        load_radius_m: slew axis to hanging load, level.
        tipping_N: `tipping_load_N` here.
    """
    allowed = allowed_load_N(unit, boom_length_m, load_radius_m, tipping_N)
    if line_load_N <= 0.0:
        return 0.0
    return line_load_N / allowed if allowed > 0.0 else inf
