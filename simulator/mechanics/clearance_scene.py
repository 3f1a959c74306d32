"""A lift made ready for gap questions: what never moves is worked out once, then poses are put into it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
import shapely

from simulator.mechanics.clearance_gap import Boxes
from simulator.mechanics.clearance_solid import Array, Solids, placed, prism, rotations, stacked
from simulator.mechanics.clearance_units import (
    END_UNITS,
    Box,
    Kind,
    boom_solids,
    slewing_frames,
    superstructure,
    tail_piece,
    unit_boxes,
)
from simulator.mechanics.ground import Ground, ground
from simulator.mechanics.trailer import lying, stated_cg_m
from simulator.scenario.description import Description
from simulator.scenario.trailer import Part, Trailer

FAR_ALONG_M = 1.0e4
RAIL_THICK_M = 0.1
EDGE_THICK_M = 0.01

Outlines = Any
"""An array of shapely polygons; shapely ships no types."""


class Pose(NamedTuple):
    """Where the trailer's reference point (its stated CG) is and how it is turned: R = Rz(yaw) Ry(pitch) Rx(roll)."""

    x_m: float
    y_m: float
    z_m: float
    pitch_rad: float = 0.0
    yaw_rad: float = 0.0
    roll_rad: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """A lift's solids. Obstacles in order: level boxes, the two superstructures, the two tail swings."""

    description: Description
    part_names: tuple[str, ...]
    parts: Solids
    """In lying axes from the reference point."""
    middle_m: Array
    """Middle of the trailer's outline, in lying axes from the reference point."""
    picks_m: Array
    """(2, 3), in lying axes from the reference point."""
    names: tuple[str, ...]
    """Of the obstacles."""
    kinds: tuple[Kind, ...]
    """Of the level boxes."""
    boxes: Boxes
    box_solids: Solids
    rounds: Solids
    """The two superstructures, where they stand."""
    tails: Solids
    """The two tail swings, slew axis at zero, boom toward +x."""
    stand_m: Array
    """Slew axes (2, 3)."""
    outlines: Outlines
    """Plan outlines of boxes and superstructures, prepared."""
    surface: Ground


class Placed(NamedTuple):
    """A scene with the trailer and the booms where they are; leading axes of the poses, if any."""

    turn: Array
    parts: Solids
    low_m: Array
    """Least x, y, z of each part."""
    high_m: Array
    sweep_m: Array
    """How far along y the trailer's middle still is from where it is to come down."""
    tails: Solids
    booms: Solids


def part_solid(part: Part, trailer: Trailer) -> Solids:
    """A part in lying axes from the trailer's reference point."""
    reference = np.array(lying(trailer.attitude, stated_cg_m(trailer)))
    near, far = part.y_m - part.width_m / 2.0, part.width_m
    outline = np.array([lying(trailer.attitude, (x, near, z)) for x, z in part.outline_m]) - reference
    return prism(outline, np.array(lying(trailer.attitude, (0.0, far, 0.0))))


def site_boxes(description: Description) -> list[Box]:
    """The guard rail, and the slope's edge: the line over which everything must pass."""
    site = description.site
    along, edge = (-FAR_ALONG_M, FAR_ALONG_M), site.edge_y_m
    edge_z = float(np.interp(edge, *np.array(site.section_m)[::-1].T))
    boxes = [Box("slope's edge", "edge", along, (edge - EDGE_THICK_M, edge), (edge_z, edge_z))]
    if site.guard_rail_height_m > 0.0:
        across = (edge - RAIL_THICK_M / 2.0, edge + RAIL_THICK_M / 2.0)
        boxes.append(Box("guard rail", "rail", along, across, (edge_z, edge_z + site.guard_rail_height_m)))
    return boxes


def _level_boxes(boxes: list[Box]) -> tuple[Boxes, Solids]:
    spans = np.array([[box.x_m, box.y_m, box.z_m] for box in boxes])
    middle, half = spans.mean(axis=-1), np.ptp(spans, axis=-1) / 2.0
    signs = np.array([[i, j, k] for i in (-1.0, 1.0) for j in (-1.0, 1.0) for k in (-1.0, 1.0)])
    axes = np.broadcast_to(np.eye(3), (len(boxes), 3, 3))
    solids = Solids(middle[:, None] + signs * half[:, None], axes, axes)
    return Boxes(middle[:, :2], half[:, :2], spans[:, 2, 0], spans[:, 2, 1]), solids


def prepare_scene(description: Description) -> Scene:
    """Everything of a lift that clearances need and that never moves; call once a lift."""
    trailer, units = description.trailer, description.units
    parts = stacked([part_solid(part, trailer) for part in trailer.parts])
    corners = parts.corners.reshape(-1, 3)
    reference = np.array(lying(trailer.attitude, stated_cg_m(trailer)))
    picks = [lying(trailer.attitude, pick.at_m) for pick in (trailer.nose_pick, trailer.tail_pick)]
    listed = [*site_boxes(description), *unit_boxes(units[0], 0), *unit_boxes(units[1], 1)]
    boxes, solids = _level_boxes(listed)
    stand = np.array([[unit.slew_axis_x_m, 0.0, 0.0] for unit in units])
    rounds = placed(stacked([superstructure(unit) for unit in units]), np.eye(3), stand)
    low, high = boxes.centre_m - boxes.half_m, boxes.centre_m + boxes.half_m
    outlines = np.concatenate([shapely.box(*low.T, *high.T), hulls(rounds)])
    shapely.prepare(outlines)
    rest = [f"{unit} {piece}" for piece in ("superstructure", "tail swing") for unit in END_UNITS]
    return Scene(
        description=description,
        part_names=tuple(part.name for part in trailer.parts),
        parts=parts,
        middle_m=(corners.min(axis=0) + corners.max(axis=0)) / 2.0,
        picks_m=np.array(picks) - reference,
        names=(*(box.name for box in listed), *rest),
        kinds=tuple(box.kind for box in listed),
        boxes=boxes,
        box_solids=solids,
        rounds=rounds,
        tails=stacked([tail_piece(unit) for unit in units]),
        stand_m=stand,
        outlines=outlines,
        surface=ground(description.site),
    )


def hulls(solids: Solids, *, sweep_m: float = 0.0) -> Outlines:
    """Plan outlines of solids, swept along y: shapely polygons."""
    plan = solids.corners[..., :2]
    if sweep_m != 0.0:
        plan = np.concatenate([plan, plan + [0.0, sweep_m]], axis=-2)
    return shapely.convex_hull(shapely.linestrings(plan))


def place(scene: Scene, poses: Array, booms: Array) -> Placed:
    """The scene with trailer and booms put in.

    Args:
        scene: from `prepare_scene`.
        poses: `Pose` values (..., 6), m and rad.
        booms: `BoomPose` values of nose and tail unit (..., 2, 3), m and rad.
    """
    turn = rotations(poses[..., 3], poses[..., 4], poses[..., 5])
    parts = placed(scene.parts, turn[..., None, :, :], poses[..., None, :3])
    middle_y = poses[..., 1] + turn[..., 1, :] @ scene.middle_m
    frames = slewing_frames(booms[..., 2])
    return Placed(
        turn=turn,
        parts=parts,
        low_m=parts.corners.min(axis=-2),
        high_m=parts.corners.max(axis=-2),
        sweep_m=scene.description.landing.y_m - middle_y,
        tails=placed(scene.tails, frames, scene.stand_m),
        booms=boom_solids(scene.description.units, scene.stand_m, booms, frames),
    )
