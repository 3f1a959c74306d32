"""The rigging of both ends: legs, what each piece has to carry at worst, the sizes that hold, edges to protect."""

from __future__ import annotations

from math import pi
from typing import NamedTuple

from simulator.mechanics.drum import lead_line_pull_N
from simulator.mechanics.rigging import (
    LOWEST_LEG_RAD,
    ROPE_FACTOR,
    WIDEST_BOW_RAD,
    Held,
    Leg,
    basket_share,
    bridle_leg,
    choose,
    height_for_angle_m,
    judge,
    nearest_size,
    side_load_share,
)
from simulator.mechanics.trailer import lying, part_corners
from simulator.plan.setup_check import SetupCheck
from simulator.scenario.hardware import Hardware, Piece, Table
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.trailer import Part, Trailer


class Chosen(NamedTuple):
    """One piece of the list."""

    role: str
    held: Held
    source: str


class EndRigging(NamedTuple):
    """Rigging of one end."""

    end: int
    hook_load_N: float
    """The most below the block along the path, rigging included."""
    where: str
    width_m: float
    height_m: float
    legs: int
    leg: Leg
    pieces: tuple[Chosen, ...]
    edges: tuple[str, ...]
    """Where a leg bears on an edge and is protected."""
    refused: tuple[str, ...]
    """What does not hold, with what would."""


class _Span(NamedTuple):
    """A part's box across the trailer as it lies."""

    name: str
    low_y_m: float
    high_y_m: float
    high_z_m: float


def rigging_list(
    check: SetupCheck, hardware: Hardware, *, side_load_rad: float = 0.0, have: tuple[Piece, ...] = ()
) -> tuple[EndRigging, EndRigging]:
    """Both ends' rigging.

    Args:
        check: the set-up, judged; its worst hook loads count.
        hardware: the tables.
        side_load_rad: how far off in-line the leg shackles are pulled.
        have: sizes at hand, judged where their table has a part to play; other tables give the smallest that holds.
    """
    return _end(check, hardware, 0, side_load_rad, have), _end(check, hardware, 1, side_load_rad, have)


def _end(check: SetupCheck, hardware: Hardware, end: int, side_load_rad: float, have: tuple[Piece, ...]) -> EndRigging:
    trailer, unit = check.description.trailer, check.description.units[end]
    pick = trailer.picks[end]
    worst = max(check.stations, key=lambda one: one.units[end].line.load_N)
    line_load_N = worst.units[end].line.load_N
    hook_load = line_load_N - unit.hoist.block_kg * STANDARD_GRAVITY_MPS2
    single = pick.pivot == "single_point"
    width = 0.0 if single else pick.width_m or _width_m(trailer, end)
    leg = bridle_leg(hook_load * (2.0 if single else 1.0), width, pick.height_m)
    basket = "basket" in pick.kind.lower()
    pieces = _pieces(hardware, hook_load, leg, side_load_rad, have, basket=basket)
    pieces += [_rope(table, unit.hoist.rope_diameter_m, _lead_N(check, end), have) for table in hardware.of("rope")]
    sources = {table.name: table.source for table in hardware.tables}
    found = tuple(piece._replace(source=sources[piece.held.piece.table]) for piece in pieces)
    refused = (*_low_legs(leg, width), *(_refusal(piece) for piece in found if not piece.held.holds))
    edges = () if single else _edges(trailer, end, width, pick.height_m, pick.kind)
    legs = 1 if single else 2
    return EndRigging(end, hook_load, worst.station.name, width, pick.height_m, legs, leg, found, edges, refused)


def _lead_N(check: SetupCheck, end: int) -> float:
    """Most pull in the part that runs to the drum."""
    hoist = check.description.units[end].hoist
    most = max(one.units[end].line.load_N for one in check.stations)
    return lead_line_pull_N(most, hoist.parts, hoist.sheave_loss)


def _rope(table: Table, diameter_m: float, pull_N: float, have: tuple[Piece, ...]) -> Chosen:
    """The unit's own rope, taken as the nearest size of the table."""
    at_hand = [piece for piece in have if piece in table.pieces] or [nearest_size(table, diameter_m)]
    return Chosen("hoist rope as reeved", judge(table, at_hand[0], pull_N, share=1.0 / ROPE_FACTOR), "")


def _pieces(
    hardware: Hardware, hook_load_N: float, leg: Leg, side_load_rad: float, have: tuple[Piece, ...], *, basket: bool
) -> list[Chosen]:
    """For each way to make the legs: sizes at hand judged, else the smallest that hold."""
    found: list[Chosen] = []

    def add(role: str, table: Table, needed_N: float, share: float = 1.0) -> None:
        at_hand = [judge(table, piece, needed_N, share=share) for piece in have if piece in table.pieces]
        found.extend(Chosen(role, held, "") for held in at_hand or [choose(table, needed_N, share=share)])

    bow = 1.0 if pi - 2.0 * leg.angle_rad <= WIDEST_BOW_RAD + 1e-9 else 0.0
    for table in hardware.of("shackle"):
        add("shackle at the hook, both legs in its bow", table, hook_load_N, bow)
        add("shackle at each leg's lower end", table, leg.tension_N, side_load_share(side_load_rad))
    for table in hardware.of("chain"):
        add("legs of chain", table, leg.tension_N)
    for table in hardware.of("sling"):
        if basket:
            add("one round sling in a basket", table, hook_load_N, basket_share(leg.angle_rad))
            add("two round slings side by side in baskets", table, hook_load_N, 2.0 * basket_share(leg.angle_rad))
        else:
            add("legs of round sling, one each", table, leg.tension_N)
    return found


def _refusal(piece: Chosen) -> str:
    held = piece.held
    used = f"{100.0 * held.used:.1f} %" if held.used < 1e6 else "nothing allowed"
    after = f"next that holds: {held.next_size.name}" if held.next_size else "no size in the table holds"
    return f"{piece.role}, {held.piece.name}: {used}; {after}"


def _low_legs(leg: Leg, width_m: float) -> tuple[str, ...]:
    if leg.angle_rad >= LOWEST_LEG_RAD - 1e-9:
        return ()
    height = height_for_angle_m(width_m, LOWEST_LEG_RAD)
    return (f"legs lower than 30 deg from horizontal: raise the rigging to {height:.2f} m over the picks",)


def _spans(trailer: Trailer, end: int) -> list[_Span]:
    """Parts at the pick's place along the trailer, as they lie."""
    x = trailer.picks[end].at_m[0]
    return [_span(part, trailer.attitude) for part in trailer.parts if _covers(part, x)]


def _covers(part: Part, x_m: float) -> bool:
    along = [x for x, _ in part.outline_m]
    return min(along) - 1e-9 <= x_m <= max(along) + 1e-9


def _span(part: Part, attitude: str) -> _Span:
    corners = [lying(attitude, corner) for corner in part_corners(part)]
    across = [y for _, y, _ in corners]
    return _Span(part.name, min(across), max(across), max(z for _, _, z in corners))


def _width_m(trailer: Trailer, end: int) -> float:
    """Width across of the part that the pick is on: the highest there that holds it."""
    _, y, _ = lying(trailer.attitude, trailer.picks[end].at_m)
    under = [one for one in _spans(trailer, end) if one.low_y_m <= y <= one.high_y_m]
    if not under:
        return 0.0
    highest = max(under, key=lambda one: one.high_z_m)
    return highest.high_y_m - highest.low_y_m


def _edges(trailer: Trailer, end: int, width_m: float, height_m: float, kind: str) -> tuple[str, ...]:
    """Upper edges that stand in a leg's straight way, and the corners that a sling under the load is bent round."""
    _, y, z = lying(trailer.attitude, trailer.picks[end].at_m)
    found = []
    for span in _spans(trailer, end):
        rise = span.high_z_m - z
        if not 1e-6 < rise < height_m:
            continue
        leg_y = width_m / 2.0 * (height_m - rise) / height_m
        sides = (("ravine-side", y - span.low_y_m), ("road-side", span.high_y_m - y))
        found += [f"{side} upper edge of {span.name}" for side, out in sides if out > leg_y + 1e-6]
    if any(word in kind.lower() for word in ("basket", "sling", "strap", "round")):
        under = [one.name for one in _spans(trailer, end) if one.low_y_m <= y <= one.high_y_m]
        found += [f"both lower corners of {name}, where the sling turns under it" for name in under[:1]]
    return tuple(found)
