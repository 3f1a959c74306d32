"""The rigging of both ends: legs, what each piece has to carry at worst, the sizes that hold, edges to protect.

Every piece carries `DYNAMIC_MARGIN` more than the load that hangs still, and is counted on as far as its figure is
confirmed (`GRADE_SHARE`): what only just holds by a figure from memory does not hold.
"""

from __future__ import annotations

from math import inf, pi
from typing import Literal, NamedTuple

from simulator.mechanics.allowances import DYNAMIC_MARGIN
from simulator.mechanics.drum import lead_line_pull_N
from simulator.mechanics.rigging import (
    GRADE_SHARE,
    LOWEST_LEG_RAD,
    ROPE_FACTOR,
    ROTATION_RESISTANT_FACTOR,
    WIDEST_BOW_RAD,
    Held,
    Leg,
    basket_share,
    bridle_leg,
    choose,
    height_for_angle_m,
    judge,
    side_load_share,
    size_at_most,
)
from simulator.mechanics.trailer_body import lying, part_corners
from simulator.plan.findings import NotJudged
from simulator.plan.judged_station import StationCheck
from simulator.plan.sling_rigging import SlingLie, sling_lies
from simulator.scenario.description import Description
from simulator.scenario.hardware import Hardware, Piece, Table
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import RigLine, rig_of
from simulator.scenario.trailer import Part, Pick, Trailer
from simulator.scenario.unit import Hoist

MARGINS = (
    f"Used: of the rated load, with {100.0 * (DYNAMIC_MARGIN - 1.0):.0f} % on the pull for dynamics, and less counted "
    "on where a figure is less well confirmed: "
    + ", ".join(f"{mark} {100.0 * share:.0f} %" for mark, share in GRADE_SHARE.items())
    + " (common practice, no source)."
)
Serves = Literal["hook", "leg's end", "legs", "rope"]
"""What a piece does; of several kinds of legs one that holds is enough."""


class Chosen(NamedTuple):
    """One piece of the list."""

    role: str
    serves: Serves
    held: Held
    source: str
    at_hand: bool
    """A size that is there, and has to hold; else the smallest of its table that does."""


class EndRigging(NamedTuple):
    """Rigging under one line."""

    line: str
    """As the rig has it: `nose`, or `nose_1` where a unit has two."""
    who: str
    """Its unit."""
    hoist: Hoist
    pick: Pick
    hook_load_N: float
    """The most below the block along the path, rigging included."""
    where: str
    y_m: float
    width_m: float
    height_m: float
    legs: int
    leg: Leg
    pieces: tuple[Chosen, ...]
    edges: tuple[str, ...]
    """Where a leg bears on an edge and is protected."""
    refused: tuple[str, ...]
    """What does not hold, with what would."""
    missing: tuple[NotJudged, ...]
    """What could not be judged."""
    slings: tuple[SlingLie, ...] = ()
    """How its sling lies on the load."""

    @property
    def spreader_press_N(self) -> float | None:
        """What its top legs press a spreader together with, dynamics included; none without one."""
        return DYNAMIC_MARGIN * self.leg.level_N if self.pick.spreader else None


class _Span(NamedTuple):
    """A part's box across the trailer as it lies."""

    name: str
    low_y_m: float
    high_y_m: float
    high_z_m: float


def rigging_of(
    description: Description,
    stations: tuple[StationCheck, ...],
    hardware: Hardware,
    *,
    side_load_rad: float = 0.0,
    have: tuple[Piece, ...] = (),
) -> tuple[EndRigging, ...]:
    """Each end's rigging.

    Args:
        description: the lift.
        stations: its path, judged; the worst hook loads count.
        hardware: the tables.
        side_load_rad: how far off in-line the leg shackles are pulled.
        have: sizes at hand, besides those the scenario names; judged where their table has a part to play; other
            tables give the smallest that holds.
    """
    return tuple(
        _of_line(description, stations, hardware, line, side_load_rad, have) for line in rig_of(description).lines
    )


def _of_line(
    description: Description,
    stations: tuple[StationCheck, ...],
    hardware: Hardware,
    line: RigLine,
    side_load_rad: float,
    have: tuple[Piece, ...],
) -> EndRigging:
    trailer, hoist = description.trailer, description.units[line.unit].lines[line.number - 1].hoist
    pick, who = trailer.picks[line.pick], f"{description.units[line.unit].name} unit"
    worst = max(stations, key=lambda one: one.units[line.unit].lines[line.number - 1].load_N)
    line_load_N = worst.units[line.unit].lines[line.number - 1].load_N
    hook_load = line_load_N - hoist.block_kg * STANDARD_GRAVITY_MPS2
    single = pick.pivot == "single_point"
    width, leg = _legs_of(trailer, pick, hook_load)
    named, missing = _named(hardware, pick, who)
    at_hand = (*have, *named)
    pieces = (
        *_pieces(hardware, hook_load, leg, side_load_rad, at_hand, basket="basket" in pick.kind.lower()),
        *_ropes(hardware, hoist, lead_line_pull_N(line_load_N, hoist.parts, hoist.sheave_loss), at_hand),
    )
    no_rope = [] if any(piece.serves == "rope" for piece in pieces) else [_no_rope(hoist, who)]
    return EndRigging(
        line=line.name,
        who=who,
        hoist=hoist,
        pick=pick,
        hook_load_N=hook_load,
        where=worst.station.name,
        y_m=worst.station.y_m,
        width_m=width,
        height_m=pick.height_m,
        legs=1 if single else 2,
        leg=leg,
        pieces=pieces,
        edges=() if single or pick.spreader else _edges(trailer, pick, width, pick.height_m, pick.kind),
        refused=_refused(trailer, pick, (width, leg), pieces),
        missing=(*missing, *no_rope, *_spreader_unknown(pick, who)),
        slings=sling_lies(description, pick, hook_load),
    )


def _legs_of(trailer: Trailer, pick: Pick, hook_load_N: float) -> tuple[float, Leg]:
    """How far apart the legs' lower ends are, and a leg; under a hook with a spreader its top leg."""
    if pick.pivot == "single_point":
        return 0.0, bridle_leg(2.0 * hook_load_N, 0.0, pick.height_m)
    width = pick.width_m or _width_m(trailer, pick)
    if pick.spreader is not None:
        return width, bridle_leg(hook_load_N, pick.spreader.length_m, pick.height_m - pick.spreader.drop_m)
    return width, bridle_leg(hook_load_N, width, pick.height_m)


def _refused(trailer: Trailer, pick: Pick, legs: tuple[float, Leg], pieces: tuple[Chosen, ...]) -> tuple[str, ...]:
    """What does not hold, with what would."""
    width, leg = legs
    bad = (_refusal(piece) for piece in pieces if fails(piece, pieces))
    return *_low_legs(leg, pick, width), *_short_spreader(trailer, pick), *bad


def fails(piece: Chosen, pieces: tuple[Chosen, ...]) -> bool:
    """A piece does not hold, and no other kind stands in for it: what is at hand has to hold by itself."""
    if piece.held.holds:
        return False
    return piece.at_hand or not any(one.serves == piece.serves and one.held.holds for one in pieces)


def _named(hardware: Hardware, pick: Pick, who: str) -> tuple[list[Piece], list[NotJudged]]:
    """Pieces that the scenario names, and those of them that no table has."""
    known = {piece.name.lower(): piece for table in hardware.tables for piece in table.pieces}
    found = [known[name.lower()] for name in pick.pieces if name.lower() in known]
    missing = [
        NotJudged("rigging", who, f"{name}: no table has it", "a rating by its tag; see slopepick rigging")
        for name in pick.pieces
        if name.lower() not in known
    ]
    return found, missing


def _no_rope(hoist: Hoist, who: str) -> NotJudged:
    missing = f"no strength of the hoist rope: {1000.0 * hoist.rope_diameter_m:.1f} mm is in no table"
    return NotJudged("hoist rope", who, missing, "its certificate's breaking strength as rope_breaking")


def _ropes(hardware: Hardware, hoist: Hoist, pull_N: float, have: tuple[Piece, ...]) -> list[Chosen]:
    """The unit's own rope by its certificate; without one, each table's size that is no thicker."""
    pull_N *= DYNAMIC_MARGIN
    if hoist.rope_breaking_N is not None:
        size = f"{1000.0 * hoist.rope_diameter_m:.0f} mm by its certificate"
        piece = Piece("hoist rope", size, hoist.rope_breaking_N, "S", hoist.rope_diameter_m)
        table = Table("hoist rope", "rope", "breaking strength stated in the scenario", (piece,))
        return [_rope(table, piece, pull_N, hoist)]
    found = []
    for table in hardware.of("rope"):
        named = [piece for piece in have if piece in table.pieces]
        own = named[0] if named else size_at_most(table, hoist.rope_diameter_m)
        found += [] if own is None else [_rope(table, own, pull_N, hoist)]
    return found


def rigging_holds_N(one: EndRigging, hardware: Hardware) -> float:
    """The most hook load that the rigging under a line holds: by what is at hand, else by the largest of its tables."""
    most = inf
    for serves in dict.fromkeys(piece.serves for piece in one.pieces if piece.serves != "rope"):
        mine = [piece for piece in one.pieces if piece.serves == serves]
        own = [one.hook_load_N / piece.held.used for piece in mine if piece.at_hand]
        largest = [one.hook_load_N / _by_largest(piece, hardware) for piece in mine if not piece.at_hand]
        most = min(most, *own, *([max(largest)] if largest and not own else []))
    return most


def _by_largest(piece: Chosen, hardware: Hardware) -> float:
    """What would be used of the largest size of its table."""
    table = hardware.named(piece.held.piece.table)
    if table is None or piece.held.allowed_N <= 0.0:
        return piece.held.used
    largest, own = table.pieces[-1], piece.held.piece
    stronger = largest.rated_N * GRADE_SHARE[largest.mark] / (own.rated_N * GRADE_SHARE[own.mark])
    return piece.held.used / stronger


def rope_holds_N(hardware: Hardware, hoist: Hoist, have: tuple[Piece, ...] = ()) -> float:
    """The line load that the hoist rope holds, margins included; infinite when nothing is known of it."""
    ropes = _ropes(hardware, hoist, lead_line_pull_N(1.0, hoist.parts, hoist.sheave_loss), have)
    return min((1.0 / rope.held.used for rope in ropes), default=inf)


def _rope(table: Table, piece: Piece, pull_N: float, hoist: Hoist) -> Chosen:
    factor = ROTATION_RESISTANT_FACTOR if hoist.rope_is_rotation_resistant else ROPE_FACTOR
    held = judge(table, piece, pull_N, share=1.0 / factor, by_grade=True)
    return Chosen("hoist rope as reeved", "rope", held, table.source, at_hand=True)


def _pieces(
    hardware: Hardware, hook_load_N: float, leg: Leg, side_load_rad: float, have: tuple[Piece, ...], *, basket: bool
) -> list[Chosen]:
    """For each way to make the legs: sizes at hand judged, else the smallest that hold."""
    found: list[Chosen] = []

    def add(role: str, serves: Serves, table: Table, needed_N: float, share: float = 1.0) -> None:
        needed_N *= DYNAMIC_MARGIN
        own = [piece for piece in have if piece in table.pieces]
        held = [judge(table, piece, needed_N, share=share, by_grade=True) for piece in own]
        held = held or [choose(table, needed_N, share=share, by_grade=True)]
        found.extend(Chosen(role, serves, one, table.source, bool(own)) for one in held)

    bow = 1.0 if pi - 2.0 * leg.angle_rad <= WIDEST_BOW_RAD + 1e-9 else 0.0
    for table in hardware.of("shackle"):
        add("shackle at the hook, both legs in its bow", "hook", table, hook_load_N, bow)
        add("shackle at each leg's lower end", "leg's end", table, leg.tension_N, side_load_share(side_load_rad))
    for table in hardware.of("chain"):
        add("legs of chain", "legs", table, leg.tension_N)
    for table in hardware.of("sling"):
        if basket:
            add("one round sling in a basket", "legs", table, hook_load_N, basket_share(leg.angle_rad))
            two = 2.0 * basket_share(leg.angle_rad)
            add("two round slings side by side in baskets", "legs", table, hook_load_N, two)
        else:
            add("legs of round sling, one each", "legs", table, leg.tension_N)
    return found


def _refusal(piece: Chosen) -> str:
    held = piece.held
    used = f"{100.0 * held.used:.1f} %" if held.used < 1e6 else "nothing allowed"
    after = f"next that holds: {held.next_size.name}" if held.next_size else "no size in the table holds"
    return f"{piece.role}, {held.piece.name}: {used}; {after}"


def _spreader_unknown(pick: Pick, who: str) -> list[NotJudged]:
    if pick.spreader is None or pick.spreader.may_press_N is not None:
        return []
    return [NotJudged("rigging", who, "what the spreader bears is not stated", "its plate's compression as may_press")]


def _short_spreader(trailer: Trailer, pick: Pick) -> tuple[str, ...]:
    """Drops that lean in press the sides after all."""
    wide = _width_m(trailer, pick)
    if pick.spreader is None or pick.spreader.length_m >= wide - 1e-9:
        return ()
    return (f"spreader of {pick.spreader.length_m:.2f} m: its drops press the sides; at least {wide:.2f} m long",)


def _low_legs(leg: Leg, pick: Pick, width_m: float) -> tuple[str, ...]:
    if leg.angle_rad >= LOWEST_LEG_RAD - 1e-9:
        return ()
    height = height_for_angle_m(width_m, LOWEST_LEG_RAD)
    if pick.spreader is not None:
        height = pick.spreader.drop_m + height_for_angle_m(pick.spreader.length_m, LOWEST_LEG_RAD)
    return (f"legs lower than 30 deg from horizontal: raise the rigging to {height:.2f} m over the picks",)


def _spans(trailer: Trailer, pick: Pick) -> list[_Span]:
    """Parts at the pick's place along the trailer, as they lie."""
    x = pick.at_m[0]
    return [_span(part, trailer.attitude) for part in trailer.parts if _covers(part, x)]


def _covers(part: Part, x_m: float) -> bool:
    along = [x for x, _ in part.outline_m]
    return min(along) - 1e-9 <= x_m <= max(along) + 1e-9


def _span(part: Part, attitude: str) -> _Span:
    corners = [lying(attitude, corner) for corner in part_corners(part)]
    across = [y for _, y, _ in corners]
    return _Span(part.name, min(across), max(across), max(z for _, _, z in corners))


def _width_m(trailer: Trailer, pick: Pick) -> float:
    """Width across of the part that the pick is on: the highest there that holds it."""
    _, y, _ = lying(trailer.attitude, pick.at_m)
    under = [one for one in _spans(trailer, pick) if one.low_y_m <= y <= one.high_y_m]
    if not under:
        return 0.0
    highest = max(under, key=lambda one: one.high_z_m)
    return highest.high_y_m - highest.low_y_m


def _edges(trailer: Trailer, pick: Pick, width_m: float, height_m: float, kind: str) -> tuple[str, ...]:
    """Upper edges that stand in a leg's straight way, and the corners that a sling under the load is bent round."""
    _, y, z = lying(trailer.attitude, pick.at_m)
    found = []
    for span in _spans(trailer, pick):
        rise = span.high_z_m - z
        if not 1e-6 < rise < height_m:
            continue
        leg_y = width_m / 2.0 * (height_m - rise) / height_m
        sides = (("ravine-side", y - span.low_y_m), ("road-side", span.high_y_m - y))
        found += [f"{side} upper edge of {span.name}" for side, out in sides if out > leg_y + 1e-6]
    if any(word in kind.lower() for word in ("basket", "sling", "strap", "round")):
        under = [one.name for one in _spans(trailer, pick) if one.low_y_m <= y <= one.high_y_m]
        found += [f"both lower corners of {name}, where the sling turns under it" for name in under[:1]]
    return tuple(found)
