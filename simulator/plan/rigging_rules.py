"""What the rigging list comes to as values with limits: pieces, hoist rope, legs, what the load is stated to bear."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from simulator.mechanics.allowances import DYNAMIC_MARGIN
from simulator.mechanics.drum import LEAST_BEND, bend_ratio
from simulator.mechanics.rigging import LOWEST_LEG_RAD, height_for_angle_m
from simulator.plan.findings import Amount, Change, Place, Reading
from simulator.plan.rigging_list import Chosen, EndRigging, fails
from simulator.scenario.trailer import Pick

FULL = 1.0
"""A piece holds up to here, margins included."""


def rigging_readings(ends: tuple[EndRigging, ...]) -> Iterator[tuple[Place, Reading]]:
    """Every value of the rigging that has a limit, each where its line pulls hardest."""
    for one in ends:
        place, who, hoist = Place(one.where, one.y_m), one.who, one.hoist
        yield place, _pieces(one, who)
        yield from ((place, reading) for reading in _rope(one, who))
        if one.legs > 1:
            yield place, _legs(one, who)
        yield from ((place, reading) for reading in _stated(one, one.pick, who))
        ratio = bend_ratio(hoist)
        change = Change("a rope of at most {}, or a larger drum and sheaves", (_thinner(ratio, hoist.rope_diameter_m),))
        about = "drum" if hoist.sheave_diameter_m is None else "drum or sheave"
        name = "drum or sheave over rope"
        yield place, Reading("rope bend", who, name, "times", ratio, LEAST_BEND, LEAST_BEND, False, about, change)


def _thinner(ratio: float, rope_m: float) -> Amount:
    return Amount(rope_m * ratio / LEAST_BEND, "m", is_least=False)


def _pieces(one: EndRigging, who: str) -> Reading:
    """The piece used most of those that have to hold; of kinds of legs to choose from, the one used least."""
    served = dict.fromkeys(piece.serves for piece in one.pieces if piece.serves != "rope")
    worst = max((_governing(one, serves) for serves in served), key=lambda piece: piece.held.used)
    return _of_piece("rigging", who, "rigging used", worst)


def _governing(one: EndRigging, serves: str) -> Chosen:
    mine = [piece for piece in one.pieces if piece.serves == serves]
    bad = [piece for piece in mine if fails(piece, one.pieces)]
    if bad or any(piece.at_hand for piece in mine):
        return max(bad or [piece for piece in mine if piece.at_hand], key=lambda piece: piece.held.used)
    return min(mine, key=lambda piece: piece.held.used)


def _rope(one: EndRigging, who: str) -> Iterator[Reading]:
    ropes = [piece for piece in one.pieces if piece.serves == "rope"]
    if ropes:
        yield _of_piece("hoist rope", who, "hoist rope used", max(ropes, key=lambda piece: piece.held.used))


def _of_piece(code: str, who: str, name: str, piece: Chosen) -> Reading:
    after = piece.held.next_size
    words = f"{after.name} is the next that holds" if after else "no size in the table holds: take weight off this line"
    if code == "hoist rope":
        words = "reeve another part of line, or take weight off this line; a stronger rope is the maker's to allow"
    used = piece.held.used
    return Reading(
        code, who, name, "share", used, FULL, FULL, True, f"{piece.role}, {piece.held.piece.name}", Change(words)
    )


def _legs(one: EndRigging, who: str) -> Reading:
    bar = one.pick.spreader
    high_m = height_for_angle_m(bar.length_m if bar else one.width_m, LOWEST_LEG_RAD) + (bar.drop_m if bar else 0.0)
    change = Change("raise the rigging to {} over the picks", (Amount(high_m, "m"),))
    low = LOWEST_LEG_RAD - 1e-9
    return Reading("leg angle", who, "legs from horizontal", "rad", one.leg.angle_rad, low, low, False, "", change)


def _stated(one: EndRigging, pick: Pick, who: str) -> Iterator[Reading]:
    """What the trailer, or a spreader, is stated to bear; what is not stated is said among the assumptions."""
    change = Change("spread this pull over more picks, or have the maker state more")
    press_N, bar = one.leg.level_N if one.legs > 1 else 0.0, pick.spreader
    rows = (
        ("pick", "pull at the pick", pick.may_carry_N, one.hook_load_N),
        ("press", "legs press its sides", pick.may_press_N, 0.0 if bar else press_N),
        ("spreader", "legs press the spreader", bar.may_press_N if bar else None, press_N),
    )
    for code, name, may_N, load_N in rows:
        if may_N is not None:
            used = DYNAMIC_MARGIN * load_N / may_N if may_N > 0.0 else inf
            yield Reading(code, who, f"{name}, of what is stated", "share", used, FULL, FULL, True, change=change)
