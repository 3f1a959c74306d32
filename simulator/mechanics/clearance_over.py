"""Which part is, or will be, over which obstacle, and with what vertical gap: for one pose, outlines by shapely."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import shapely

from simulator.mechanics.clearance_gap import box_gaps, pair_gaps
from simulator.mechanics.clearance_scene import Outlines, Placed, Scene, hulls
from simulator.mechanics.clearance_solid import Array, Flags, Solids, chosen

NOTHING_M = np.inf
"""Gap where nothing is met."""


class Plan(NamedTuple):
    """Plan outlines at one pose: shapely polygons, one a part or a unit."""

    now: Outlines
    swept: Outlines
    """The parts' outlines swept along y to the landing."""
    tails: Outlines
    booms: Outlines


def plan_outlines(placed: Placed) -> Plan:
    """Outlines of parts, tail swings and booms."""
    plan = placed.parts.corners[:, :, :2]
    later = plan + np.array([0.0, float(placed.sweep_m)])
    parts = hulls(np.stack([np.concatenate([plan, plan], axis=1), np.concatenate([plan, later], axis=1)]))
    return Plan(parts[0], parts[1], hulls(placed.tails.corners), hulls(placed.booms.corners))


def gap_table(scene: Scene, placed: Placed, plan: Plan) -> Array:
    """Least vertical gap of each part over each obstacle (part, obstacle), infinite where it will not be over it, m."""
    over = shapely.intersects(np.concatenate([scene.outlines, plan.tails]), plan.swept[:, None])
    table = np.full(over.shape, NOTHING_M)
    boxes = len(scene.kinds)
    np.copyto(table[:, :boxes], box_gaps(placed.parts, scene.boxes, placed.sweep_m), where=over[:, :boxes])
    for first, obstacles in ((boxes, scene.rounds), (boxes + 2, placed.tails)):
        _fill(table[:, first : first + 2], placed, obstacles, over[:, first : first + 2])
    return table


def _fill(table: Array, placed: Placed, obstacles: Solids, over: Flags) -> None:
    """Gaps over obstacles that are no level boxes, into `table`."""
    if over.any():
        part, obstacle = np.nonzero(over)
        table[part, obstacle] = pair_gaps(
            chosen(placed.parts, part), chosen(obstacles, obstacle), sweep_m=placed.sweep_m
        )


def boom_table(placed: Placed, plan: Plan) -> Array:
    """Vertical gap from each part up to each boom's underside (part, unit), infinite where it is not over it, m."""
    under = shapely.intersects(plan.now[:, None], plan.booms)
    table = np.full(under.shape, NOTHING_M)
    if under.any():
        part, unit = np.nonzero(under)
        table[part, unit] = pair_gaps(chosen(placed.booms, unit), chosen(placed.parts, part))
    return table
