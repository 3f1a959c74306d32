"""Which part is, or will be, over which obstacle, and with what vertical gap: for one pose, outlines by shapely."""

from __future__ import annotations

import numpy as np
import shapely

from simulator.mechanics.clearance_gap import box_gaps, pair_gaps
from simulator.mechanics.clearance_scene import Outlines, Placed, Scene, hulls
from simulator.mechanics.clearance_solid import Array, Flags, Solids, chosen

NOTHING_M = np.inf
"""Gap where nothing is met."""


def gap_table(scene: Scene, placed: Placed, swept: Outlines) -> Array:
    """Least vertical gap of each part over each obstacle (part, obstacle), infinite where it will not be over it, m.

    Args:
        scene: from `prepare_scene`.
        placed: the scene with one pose put in.
        swept: plan outlines of the parts, swept to the landing.
    """
    over = shapely.intersects(scene.outlines, swept[:, None])
    over_tails = shapely.intersects(swept[:, None], hulls(placed.tails))
    table = np.full((len(swept), len(scene.names)), NOTHING_M)
    boxes = len(scene.kinds)
    np.copyto(table[:, :boxes], box_gaps(placed.parts, scene.boxes, placed.sweep_m), where=over[:, :boxes])
    _fill(table[:, boxes : boxes + 2], placed, scene.rounds, over[:, boxes:])
    _fill(table[:, boxes + 2 :], placed, placed.tails, over_tails)
    return table


def _fill(table: Array, placed: Placed, obstacles: Solids, over: Flags) -> None:
    """Gaps over obstacles that are no level boxes, into `table`."""
    if over.any():
        part, obstacle = np.nonzero(over)
        sweep = np.full(len(part), placed.sweep_m)
        table[part, obstacle] = pair_gaps(chosen(placed.parts, part), chosen(obstacles, obstacle), sweep)


def boom_table(placed: Placed, now: Outlines) -> Array:
    """Vertical gap from each part up to each boom's underside (part, unit), infinite where the boom is not over it, m."""
    under = shapely.intersects(now[:, None], hulls(placed.booms))
    table = np.full(under.shape, NOTHING_M)
    if under.any():
        part, unit = np.nonzero(under)
        table[part, unit] = pair_gaps(chosen(placed.booms, unit), chosen(placed.parts, part), np.zeros(len(part)))
    return table
