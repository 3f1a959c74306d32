"""Rules of the trailer: parts, center of gravity, picks."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise, product
from math import atan2, hypot, isclose, tau

from simulator.scenario.breach import Breach, Breaches
from simulator.scenario.rig import MOST_UNITS
from simulator.scenario.trailer import Cargo, Part, Pick, Trailer
from simulator.scenario.unit import Unit

Vector = tuple[float, float, float]
LEAST_AREA_M2 = 1e-6
MOST_PARTS = 100
"""Gaps are looked at between every two parts and units: with more, a lift no longer runs in its own time."""


def parts(all_parts: tuple[Part, ...]) -> Breaches:
    """There is one at least; names tell parts apart; outlines are convex."""
    if not all_parts:
        yield Breach(("trailer.parts",), "a list of 0", "at least 1 part")
    if len(all_parts) > MOST_PARTS:
        allowed = f"at most {MOST_PARTS} parts; draw small ones that lie together as one, such as one box round them"
        yield Breach(("trailer.parts",), f"a list of {len(all_parts)}", allowed)
    for name, count in Counter(part.name for part in all_parts).items():
        if count > 1:
            yield Breach(("trailer.parts",), f"{count} parts named {name}", "a name of its own for each part")
    for number, part in enumerate(all_parts, 1):
        if not convex(part.outline_m):
            given = f"{len(part.outline_m)} corners that are not in order round a convex outline"
            allowed = "at least 3 different (x, z) corners, in order round a convex outline"
            yield Breach((f"trailer.parts {number}.outline",), given, allowed)


def convex(corners: tuple[tuple[float, float], ...]) -> bool:
    """True for corners in order round a convex outline with some area in it."""
    if len(corners) < 3 or len(set(corners)) < len(corners):
        return False
    edges = [(x1 - x0, z1 - z0) for (x0, z0), (x1, z1) in pairwise((*corners, corners[0]))]
    turns = []
    for (ax, az), (bx, bz) in pairwise((*edges, edges[0])):
        cross, along = ax * bz - az * bx, ax * bx + az * bz
        straight = abs(cross) <= 1e-9 * hypot(ax, az) * hypot(bx, bz)
        turns.append(atan2(0.0 if straight else cross, along))
    one_way = all(turn >= 0.0 for turn in turns) or all(turn <= 0.0 for turn in turns)
    return one_way and isclose(abs(sum(turns)), tau, rel_tol=1e-6) and _area_m2(corners) > LEAST_AREA_M2


def _area_m2(corners: tuple[tuple[float, float], ...]) -> float:
    return abs(sum(x0 * z1 - x1 * z0 for (x0, z0), (x1, z1) in pairwise((*corners, corners[0])))) / 2.0


def picks_apart(picks: tuple[Pick, ...], units: tuple[Unit, ...]) -> Breaches:
    """Whatever the nose unit picks is nearer the front end than what the tail unit picks."""
    if len(units) != MOST_UNITS:
        return
    at = {pick.name: (number, pick.at_m[0]) for number, pick in enumerate(picks, 1)}
    for (number, x), (other, beyond) in product(
        *([at[line.pick] for line in unit.lines if line.pick in at] for unit in units)
    ):
        if x >= beyond:
            keys = (f"trailer.picks {number}.at", f"trailer.picks {other}.at")
            yield Breach(keys, f"x {x:g} m", f"x less than the tail unit's pick, {beyond:g} m")


def weight(all_parts: tuple[Part, ...], cargo: Cargo) -> Breaches:
    """The trailer weighs something."""
    if not _mass_kg(all_parts, cargo) > 0.0:
        yield Breach(("trailer.parts", "trailer.cargo.mass"), "no mass at all", "a mass for some part or the cargo")


def tank(cargo: Cargo) -> Breaches:
    """What moves in a tank has one."""
    if cargo.kind != "solid" and not all(side > 0.0 for side in cargo.size_m):
        given = " x ".join(f"{side:g}" for side in cargo.size_m) + " m"
        yield Breach(
            ("trailer.cargo.size",), given, f"three sides over 0: the inside of the tank of a {cargo.kind} cargo"
        )


def center_of_gravity(trailer: Trailer) -> Breaches:
    """Stated and true CG between the picks, and below the hook lines where they do not hold it from both sides.

    On slings that run round it a load may hang with its CG over the picks: whether it hangs stable is looked at as its
    lift begins.
    """
    weighs = _mass_kg(trailer.parts, trailer.cargo) > 0.0
    if not weighs or not trailer.picks or not all(part.outline_m for part in trailer.parts):
        return
    stated = stated_cg_m(trailer.parts, trailer.cargo)
    x, y, z = (a + b for a, b in zip(stated, trailer.hidden_cg_m, strict=True))
    yield from _cg(trailer, stated, "stated CG", ("trailer.cargo.cg", "trailer.parts"))
    if any(trailer.hidden_cg_m):
        yield from _cg(trailer, (x, y, z), "CG with its hidden offset", ("trailer.hidden_cg",))


def _cg(trailer: Trailer, cg: Vector, name: str, keys: tuple[str, ...]) -> Breaches:
    xs = [pick.at_m[0] for pick in trailer.picks]
    low, high = min(xs), max(xs)
    if low < high and not low < cg[0] < high:
        yield Breach(keys, f"{name} at x {cg[0]:.3g} m", f"between the picks, x {low:g} to {high:g} m")
    if any(pick.sling_length_m is not None for pick in trailer.picks):
        return
    height = height_as_it_lies_m(trailer.attitude, cg)
    across = [across_as_it_lies_m(trailer.attitude, pick.at_m) for pick in trailer.picks]
    above = max(0.0, height - min(height_as_it_lies_m(trailer.attitude, pick.at_m) for pick in trailer.picks))
    if min(across) + above < across_as_it_lies_m(trailer.attitude, cg) < max(across) - above:
        return  # held from both sides, each farther off than it stands over the picks
    for number, pick in enumerate(trailer.picks, 1):
        hook_line = height_as_it_lies_m(trailer.attitude, pick.at_m)
        hook_line += pick.height_m if pick.pivot == "bridle_across" else 0.0
        if height >= hook_line:
            below = f"below the {pick.name} hook line, {hook_line:.3g} m on the same scale: it would turn over"
            yield Breach((*keys, f"trailer.picks {number}.at"), f"{name} {height:.3g} m high as it lies", below)


def height_as_it_lies_m(attitude: str, point: Vector) -> float:
    """Height of a point of the trailer's own axes, over the axes' origin, with the trailer in its attitude."""
    _, y, z = point
    return {"on_wheels": z, "top_to_ravine": y, "top_to_road": -y}[attitude]


def across_as_it_lies_m(attitude: str, point: Vector) -> float:
    """Place across of a point of the trailer's own axes, from the axes' origin, with the trailer in its attitude."""
    _, y, z = point
    return {"on_wheels": y, "top_to_ravine": -z, "top_to_road": z}[attitude]


def stated_cg_m(all_parts: tuple[Part, ...], cargo: Cargo) -> Vector:
    """CG as the papers have it: each part's mass in the middle of the box round its outline."""
    pieces = [(part.mass_kg, _middle_m(part)) for part in all_parts] + [(cargo.mass_kg, cargo.cg_m)]
    total = _mass_kg(all_parts, cargo)
    x, y, z = (sum(mass * middle[axis] for mass, middle in pieces) / total for axis in range(3))
    return x, y, z


def _middle_m(part: Part) -> Vector:
    xs, zs = zip(*part.outline_m, strict=True)
    return (min(xs) + max(xs)) / 2.0, part.y_m, (min(zs) + max(zs)) / 2.0


def _mass_kg(all_parts: tuple[Part, ...], cargo: Cargo) -> float:
    return sum(part.mass_kg for part in all_parts) + cargo.mass_kg
