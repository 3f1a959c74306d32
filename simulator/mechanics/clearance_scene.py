"""A lift made ready for gap questions: what never moves is worked out once, then poses are put into it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from simulator.mechanics.clearance_gap import Boxes, level_boxes
from simulator.mechanics.clearance_solid import Array, Solids, edge_pairs, prism, rotations_back, stacked, turned
from simulator.mechanics.clearance_units import (
    END_UNITS,
    Box,
    Kind,
    Slewing,
    slewed,
    slewing,
    superstructure,
    tail_piece,
    unit_boxes,
)
from simulator.mechanics.ground import ground
from simulator.mechanics.trailer import lying, stated_cg_m
from simulator.scenario.description import Description
from simulator.scenario.site import Site
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
class Load:
    """The trailer's parts, in lying axes from the reference point."""

    names: tuple[str, ...]
    solids: Solids
    pairs: NDArray[np.intp]
    """Corner numbers of each edge (part, edge, 2)."""
    middle_m: Array
    """Middle of the whole outline."""
    picks_m: Array
    """(2, 3)"""


class Surface(NamedTuple):
    """The ground as arrays, rising y and x."""

    y_m: Array
    z_m: Array
    share: Array
    """1 where a section point carries the bed's height, else 0."""
    x_m: Array
    rise_m: Array
    ridges_y_m: tuple[float, ...]
    """Where the ground bends down across: only there can an edge be nearer than its ends."""


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """A lift's solids. Obstacles in order: level boxes, the two superstructures, the two tail swings."""

    description: Description
    load: Load
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
    numbers: Slewing
    outlines: Outlines
    """Plan outlines of boxes and superstructures, prepared."""
    axes: Outlines
    """The two slew axes in plan."""
    radius_m: Array
    """Of the two superstructures."""
    surface: Surface
    low_things: NDArray[np.intp]
    """Boxes: four jacks of the nose unit, of the tail unit, four pads of each."""
    lows_m: Array
    """Least x, y, z of boxes and superstructures."""
    highs_m: Array


class Placed(NamedTuple):
    """A scene with the trailer and the booms where they are; leading axes of the poses, if any."""

    back: Array
    """Transpose of the trailer's turning matrix."""
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
    near = part.y_m - part.width_m / 2.0
    outline = np.array([lying(trailer.attitude, (x, near, z)) for x, z in part.outline_m]) - _reference(trailer)
    return prism(outline, np.array(lying(trailer.attitude, (0.0, part.width_m, 0.0))))


def _reference(trailer: Trailer) -> Array:
    return np.array(lying(trailer.attitude, stated_cg_m(trailer)))


def _load(trailer: Trailer) -> Load:
    solids = stacked([part_solid(part, trailer) for part in trailer.parts])
    corners = solids.corners.reshape(-1, 3)
    picks = [lying(trailer.attitude, pick.at_m) for pick in (trailer.nose_pick, trailer.tail_pick)]
    return Load(
        names=tuple(part.name for part in trailer.parts),
        solids=solids,
        pairs=edge_pairs([len(part.outline_m) for part in trailer.parts]),
        middle_m=(corners.min(axis=0) + corners.max(axis=0)) / 2.0,
        picks_m=np.array(picks) - _reference(trailer),
    )


def site_boxes(description: Description) -> list[Box]:
    """The slope's edge, over which everything must pass, and the guard rail along it."""
    site = description.site
    along, edge = (-FAR_ALONG_M, FAR_ALONG_M), site.edge_y_m
    edge_z = float(np.interp(edge, *np.array(site.section_m)[::-1].T))
    boxes = [Box("slope's edge", "edge", along, (edge - EDGE_THICK_M, edge), (edge_z, edge_z))]
    if site.guard_rail_height_m > 0.0:
        across = (edge - RAIL_THICK_M / 2.0, edge + RAIL_THICK_M / 2.0)
        boxes.append(Box("guard rail", "rail", along, across, (edge_z, edge_z + site.guard_rail_height_m)))
    return boxes


def _surface(site: Site) -> Surface:
    (y, z), (x, rise) = np.array(site.section_m[::-1]).T, np.array(site.bed_m).T
    share = np.array(ground(site).carries_bed[::-1])
    bends = [np.diff(np.diff(z + share * extra) / np.diff(y)) < 0.0 for extra in (rise.min(), rise.max())]
    return Surface(y, z, share, x, rise, tuple(y[1:-1][bends[0] | bends[1]].tolist()))


def _box_solids(spans: Array) -> Solids:
    """Boxes by their ends along x, y and z (box, 3, 2)."""
    signs = np.array([[i, j, k] for i in (-1.0, 1.0) for j in (-1.0, 1.0) for k in (-1.0, 1.0)])
    axes = np.broadcast_to(np.eye(3), (len(spans), 3, 3))
    return Solids(spans.mean(axis=-1)[:, None] + signs * np.ptp(spans, axis=-1)[:, None] / 2.0, axes, axes)


def prepare_scene(description: Description) -> Scene:
    """Everything of a lift that clearances need and that never moves; call once a lift."""
    units = description.units
    listed = [*site_boxes(description), *unit_boxes(units[0], 0), *unit_boxes(units[1], 1)]
    spans = np.array([[box.x_m, box.y_m, box.z_m] for box in listed])
    numbers = slewing(units)
    rounds = turned(stacked([superstructure(unit) for unit in units]), np.eye(3), numbers.stand_m)
    outlines = np.concatenate([shapely.box(*spans[:, :2, 0].T, *spans[:, :2, 1].T), hulls(rounds.corners)])
    shapely.prepare(outlines)
    rest = [f"{unit} {piece}" for piece in ("superstructure", "tail swing") for unit in END_UNITS]
    low = [i for kind in ("jack", "pad") for i, box in enumerate(listed) if box.kind == kind]
    still = _box_solids(spans), rounds
    return Scene(
        description=description,
        load=_load(description.trailer),
        names=(*(box.name for box in listed), *rest),
        kinds=tuple(box.kind for box in listed),
        boxes=level_boxes(spans[:, :2].mean(axis=-1), np.ptp(spans[:, :2], axis=-1) / 2.0, spans[:, 2, 1]),
        box_solids=still[0],
        rounds=rounds,
        tails=stacked([tail_piece(unit) for unit in units]),
        numbers=numbers,
        outlines=outlines,
        axes=shapely.points(numbers.stand_m[:, :2]),
        radius_m=np.array([unit.superstructure_radius_m for unit in units]),
        surface=_surface(description.site),
        low_things=np.array(low),
        lows_m=np.concatenate([solids.corners.min(axis=1) for solids in still]),
        highs_m=np.concatenate([solids.corners.max(axis=1) for solids in still]),
    )


def hulls(corners: Array) -> Outlines:
    """Convex plan outlines of corners (..., corner, 2 or 3): shapely polygons."""
    return shapely.convex_hull(shapely.linestrings(corners[..., :2]))


def place(scene: Scene, poses: Array, booms: Array) -> Placed:
    """The scene with trailer and booms put in.

    Args:
        scene: from `prepare_scene`.
        poses: `Pose` values (..., 6), m and rad.
        booms: `BoomPose` values of nose and tail unit (..., 2, 3), m and rad.
    """
    back = rotations_back(poses[..., 3], poses[..., 4], poses[..., 5])
    parts = turned(scene.load.solids, back[..., None, :, :], poses[..., None, :3])
    frames, boom_solids = slewed(scene.numbers, booms)
    middle_y = poses[..., 1] + back[..., :, 1] @ scene.load.middle_m
    return Placed(
        back=back,
        parts=parts,
        low_m=parts.corners.min(axis=-2),
        high_m=parts.corners.max(axis=-2),
        sweep_m=scene.description.landing.y_m - middle_y,
        tails=turned(scene.tails, frames, scene.numbers.stand_m),
        booms=boom_solids,
    )
