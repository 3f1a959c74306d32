"""A lift made ready for gap questions: what never moves is worked out once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from simulator.mechanics.clearance.clip import Side, Span, sides
from simulator.mechanics.clearance.slew import Outlines, Slewing, hull, slewing
from simulator.mechanics.clearance.solid import Array, Solids, edge_pairs, prism, stacked, turned
from simulator.mechanics.clearance.units import Box, Kind, called, superstructure, unit_boxes
from simulator.mechanics.flat_deck import deck_of
from simulator.mechanics.ground import Deck, ground
from simulator.mechanics.trailer_body import lying, stated_cg_m
from simulator.scenario.description import Description
from simulator.scenario.flat import FLAT
from simulator.scenario.site import Site
from simulator.scenario.trailer import Part, Trailer, TrailerStart

FAR_ALONG_M = 1.0e4
FAR_OVER_CLOSE_M = 1.5
"""How much farther than close something has to be to count as far: our choice, no source."""
RAIL_THICK_M = 0.1
EDGE_THICK_M = 0.01


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
    corners_m: Array
    """x, y, z and 1 of the parts' first corners, then of their second, and so on (corner * part, 4): so all parts' ends
    are found at a stroke, and one product turns and moves them."""
    faces: tuple[tuple[tuple[int, ...], ...], ...]
    """Of each part its faces, corners by number, anticlockwise seen from outside."""
    edges: tuple[tuple[tuple[int, int], ...], ...]
    """Of each part its edges, corners by number."""
    starts: NDArray[np.intp]
    """Row of `corners_m` that each edge starts from, part by part."""
    ends: NDArray[np.intp]
    middle_m: Array
    """x, y, z of the middle of the whole outline, and 1."""
    picks_m: Array
    """(pick, 3)"""


class Ridge(NamedTuple):
    """Where the ground bends down across."""

    y_m: float
    z_m: float
    share: float
    low_m: float
    """Its least height all along."""
    high_m: float


class Face(NamedTuple):
    """A piece of the section that is not level all along the road: from where to where, y rising."""

    y_m: Span
    z_m: Span
    share: Span
    low_m: float
    """Its least height all along."""
    high_m: float


class Surface(NamedTuple):
    """The ground as arrays, rising y and x."""

    y_m: Array
    z_m: Array
    share: Array
    """1 where a section point carries the bed's height, else 0."""
    x_m: Array
    rise_m: Array
    breaks_x_m: tuple[float, ...]
    """Where the bed bends along the road; none where it carries no height anywhere."""
    ridges: tuple[Ridge, ...]
    """Only there can an edge be nearer than its ends."""
    faces: tuple[Face, ...]
    top_m: float
    """No ground is higher."""


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """A lift's solids. Obstacles in order: level boxes, superstructures, tail swings, a unit each."""

    description: Description
    load: Load
    names: tuple[str, ...]
    """Of the obstacles."""
    kinds: tuple[Kind, ...]
    """Of the level boxes."""
    spans: tuple[tuple[Span, Span], ...]
    """Ends along x and across y of boxes and superstructures."""
    round_sides: tuple[tuple[Side, ...], ...]
    """Of the superstructures in plan, a unit each."""
    box_solids: Solids
    rounds: Solids
    """The superstructures, where they stand."""
    slewing: Slewing
    outlines: Outlines
    """Plan outlines of boxes and superstructures, prepared."""
    radius_m: tuple[float, ...]
    """Of the superstructures."""
    surface: Surface
    deck: Deck | None
    """Of a flat trailer that waits for the load; it is one of the boxes, `kinds` says which."""
    low_things: NDArray[np.intp]
    """Boxes: four jacks of each unit, then four pads of each, then each one's tailboard, by which a load lower than
    the decks goes with its ends, four times."""
    ends_m: Array
    """Least and greatest x, y, z of boxes and superstructures (2, 3, obstacle)."""
    far_m: float
    """What is farther apart than this is not measured to the outline: no state can change there."""


def part_solid(part: Part, trailer: Trailer) -> Solids:
    """A part in lying axes from the trailer's reference point."""
    near = part.y_m - part.width_m / 2.0
    outline = np.array([lying(trailer.attitude, (x, near, z)) for x, z in part.outline_m]) - _reference(trailer)
    return prism(outline, np.array(lying(trailer.attitude, (0.0, part.width_m, 0.0))))


def _reference(trailer: Trailer) -> Array:
    return np.array(lying(trailer.attitude, stated_cg_m(trailer)))


def _load(trailer: Trailer) -> Load:
    """Its parts as they are drawn, wherever it lies and is taken."""
    picks = [lying(trailer.attitude, pick.at_m) for pick in trailer.picks]
    bare = replace(trailer, start=TrailerStart(0.0, 0.0), picks=(), pick_candidates=())
    return replace(_shape(bare), picks_m=np.array(picks) - _reference(trailer))


@lru_cache(maxsize=8)
def _shape(trailer: Trailer) -> Load:
    solids = stacked([part_solid(part, trailer) for part in trailer.parts])
    corners = solids.corners.reshape(-1, 3)
    pairs = edge_pairs([len(part.outline_m) for part in trailer.parts])
    pairs = len(pairs) * pairs + np.arange(len(pairs))[:, None, None]
    return Load(
        names=tuple(part.name for part in trailer.parts),
        solids=solids,
        corners_m=_with_one(solids.corners.swapaxes(0, 1).reshape(-1, 3)),
        faces=tuple(_faces(part, trailer) for part in trailer.parts),
        edges=tuple(
            tuple((i, j) for i, j in rows)
            for rows in edge_pairs([len(part.outline_m) for part in trailer.parts]).tolist()
        ),
        starts=pairs[..., 0].ravel(),
        ends=pairs[..., 1].ravel(),
        middle_m=_with_one((corners.min(axis=0) + corners.max(axis=0)) / 2.0),
        picks_m=np.empty((0, 3)),
    )


def _with_one(points: Array) -> Array:
    return np.concatenate([points, np.ones((*points.shape[:-1], 1))], axis=-1)


def _faces(part: Part, trailer: Trailer) -> tuple[tuple[int, ...], ...]:
    """A prism's faces, corners anticlockwise seen from outside."""
    n, corners = len(part.outline_m), part_solid(part, trailer).corners
    normal = sum(np.cross(corners[i] - corners[0], corners[i + 1] - corners[0]) for i in range(1, n - 1))
    ring = list(range(n))
    if float(normal @ (corners[n] - corners[0])) > 0.0:
        ring.reverse()
    walls = ((j, i, i + n, j + n) for i, j in zip(ring, [*ring[1:], ring[0]], strict=True))
    return tuple(ring), tuple(i + n for i in reversed(ring)), *walls


def site_boxes(description: Description) -> list[Box]:
    """The slope's edge, over which everything must pass, and the guard rail along it."""
    site = description.site
    along, edge = (-FAR_ALONG_M, FAR_ALONG_M), site.edge_y_m
    edge_z = float(np.interp(edge, *np.array(site.section_m)[::-1].T))
    boxes = [Box("slope's edge", "edge", along, (edge - EDGE_THICK_M, edge), (edge_z, edge_z))]
    if site.guard_rail_height_m > 0.0:
        across = (edge - RAIL_THICK_M / 2.0, edge + RAIL_THICK_M / 2.0)
        high = (edge_z, edge_z + site.guard_rail_height_m)
        boxes += [Box("guard rail", "rail", span, across, high) for span in site.rail_spans(*along)]
    return boxes


def flat_box(deck: Deck) -> Box:
    """A waiting flat trailer, from the road to its deck."""
    return Box(FLAT, "flat", (deck.low_x_m, deck.high_x_m), (deck.low_y_m, deck.high_y_m), (0.0, deck.top_m))


def _surface(site: Site) -> Surface:
    (y, z), (x, rise) = np.array(site.section_m[::-1]).T, np.array(site.bed_m).T
    share = np.array(ground(site).carries_bed[::-1])
    breaks_x = tuple(x.tolist()) if rise.any() else ()
    lowest, highest = z + share * rise.min(), z + share * rise.max()
    bends = [np.diff(np.diff(heights) / np.diff(y)) < 0.0 for heights in (lowest, highest)]
    rows = [Ridge(*row) for row in np.stack([y, z, share, lowest, highest], axis=1).tolist()]
    ridges = tuple(rows[1 + i] for i in np.flatnonzero(bends[0] | bends[1]))
    pieces = np.flatnonzero((np.diff(z) != 0.0) | (np.diff(share) != 0.0))
    faces = tuple(_face(rows[i], rows[i + 1]) for i in pieces)
    return Surface(y, z, share, x, rise, breaks_x, ridges, faces, float(highest.max()))


def _face(p: Ridge, q: Ridge) -> Face:
    low, high = min(p.low_m, q.low_m), max(p.high_m, q.high_m)
    return Face((p.y_m, q.y_m), (p.z_m, q.z_m), (p.share, q.share), low, high)


def _box_solids(spans: Array) -> Solids:
    """Boxes by their ends along x, y and z (box, 3, 2)."""
    signs = np.array([[i, j, k] for i in (-1.0, 1.0) for j in (-1.0, 1.0) for k in (-1.0, 1.0)])
    axes = np.broadcast_to(np.eye(3), (len(spans), 3, 3))
    return Solids(spans.mean(axis=-1)[:, None] + signs * np.ptp(spans, axis=-1)[:, None] / 2.0, axes, axes)


def _ring(corners: Array) -> tuple[Side, ...]:
    """The sides in plan of an upright prism (corner, 3)."""
    return sides(corners[: len(corners) // 2].tolist())


def prepare_scene(description: Description) -> Scene:
    """Everything of a lift that clearances need and that never moves; call once a lift."""
    units, deck = description.units, deck_of(description)
    listed = [*site_boxes(description), *(box for unit in units for box in unit_boxes(unit))]
    listed += [] if deck is None else [flat_box(deck)]
    spans = np.array([[box.x_m, box.y_m, box.z_m] for box in listed])
    stands = np.array([[unit.slew_axis_x_m, unit.slew_axis_y_m, 0.0] for unit in units])
    rounds = turned(stacked([superstructure(unit) for unit in units]), np.eye(3), stands)
    boxes = shapely.box(*spans[:, :2, 0].T, *spans[:, :2, 1].T)
    outlines = np.array([*boxes, *(hull(corners) for corners in rounds.corners)])
    shapely.prepare(outlines)
    rest = [f"{unit} {piece}" for piece in ("superstructure", "tail swing") for unit in map(called, units)]
    low = [i for kind in ("jack", "pad") for i, box in enumerate(listed) if box.kind == kind]
    for unit in units:  # looked through four at a time: the last one as often as is missing
        tails = [i for i, box in enumerate(listed) if box.kind == "tailboard" and box.name.startswith(called(unit))]
        low += tails + tails[-1:] * (-len(tails) % 4)
    still = _box_solids(spans), rounds
    ends = [np.concatenate([reduce(solids.corners, axis=1) for solids in still]) for reduce in (np.min, np.max)]
    return Scene(
        description=description,
        load=_load(description.trailer),
        names=(*(box.name for box in listed), *rest),
        kinds=tuple(box.kind for box in listed),
        spans=tuple(((x, u), (y, v)) for (x, y, _), (u, v, _) in zip(*(end.tolist() for end in ends), strict=True)),
        round_sides=tuple(_ring(corners) for corners in rounds.corners),
        box_solids=still[0],
        rounds=rounds,
        slewing=slewing(units),
        outlines=outlines,
        radius_m=tuple(unit.superstructure_radius_m for unit in units),
        surface=_surface(description.site),
        deck=deck,
        low_things=np.array(low),
        ends_m=np.stack(ends).swapaxes(1, 2),
        far_m=description.limits.gap_close_m + FAR_OVER_CLOSE_M,
    )
