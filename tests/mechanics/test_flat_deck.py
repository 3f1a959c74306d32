"""A waiting flat trailer among the things that a load meets: over it, on it, into it, and as ground under it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from simulator.mechanics.clearance.decks import Clearances, clearances
from simulator.mechanics.clearance.scene import Pose, prepare_scene
from simulator.mechanics.clearance.touching import contacts
from simulator.mechanics.flat_deck import cg_inside_m, deck_of, overhangs_m, set_down
from simulator.scenario.description import Description
from simulator.scenario.flat import FLAT, Flat
from tests.mechanics.scene import STATIONS, description, pose, trailer

FLAT_TRAILER = Flat(0.9, 15.0, 3.0, y_m=6.8, side_overhang_m=0.6, end_overhang_m=0.2)
_, *BOOMS = STATIONS["landed"]
LIES_WIDE_M, LIES_HIGH_M, LONG_M = 4.0, 2.6, 14.6
"""On its side: 4.0 m across, 2.6 m high."""


def lift(flat: Flat | None = FLAT_TRAILER, *, on_wheels: bool = False) -> Description:
    found = description(load=trailer(on_wheels=on_wheels))
    return replace(found, landing=replace(found.landing, flat=flat))


def at(found: Description, *, lowest_m: float, y_m: float, x_m: float = 0.0) -> Pose:
    return pose(found.trailer, belly_m=lowest_m, middle_y_m=y_m, middle_x_m=x_m)


def gaps(found: Description, where: Pose) -> Clearances:
    return clearances(prepare_scene(found), where, tuple(BOOMS))


def touched(found: Description, where: Pose) -> set[str]:
    return {one.meets for one in contacts(prepare_scene(found), where, tuple(BOOMS))}


def test_where_the_load_is_set_down_and_where_the_deck_is() -> None:
    """By hand: the outline about the landing, 4.0 m across on its side and 2.6 m on its wheels; the deck about its own
    middle, or under the load's."""
    lying, standing = set_down(lift()), set_down(lift(on_wheels=True))
    assert lying.y_m == pytest.approx((4.6, 8.6)) and lying.high_m == pytest.approx(LIES_HIGH_M)
    assert standing.y_m == pytest.approx((5.3, 7.9)) and standing.high_m == pytest.approx(LIES_WIDE_M)
    assert lying.x_m[1] - lying.x_m[0] == pytest.approx(LONG_M)
    deck = deck_of(lift())
    assert deck is not None
    assert (deck.low_y_m, deck.high_y_m, deck.top_m) == pytest.approx((5.3, 8.3, 0.9))
    assert (deck.low_x_m + deck.high_x_m) / 2.0 == pytest.approx(sum(lying.x_m) / 2.0)
    ends, sides = overhangs_m(deck, lying.x_m, lying.y_m)
    assert (ends, sides) == pytest.approx((-0.2, 0.7))
    assert deck_of(lift(None)) is None


def test_it_bears_on_what_is_lowest() -> None:
    """On its wheels that are the axles alone: legs end 0.1 m higher. CG 1.0 m inside an edge 1.0 m away."""
    found = set_down(lift(on_wheels=True))
    assert found.bears_x_m == pytest.approx(
        (found.from_m[0] + 3.8 - _cg_x(), found.from_m[0] + 6.0 - _cg_x()), abs=1e-6
    )
    deck = deck_of(lift())
    assert deck is not None
    assert cg_inside_m(deck, (-5.0, 5.0), (5.0, 9.0), (0.0, 6.3)) == pytest.approx(1.0)
    assert cg_inside_m(deck, (-1.0, 5.0), (5.0, 9.0), (-1.2, 6.3)) == pytest.approx(-0.2)


def _cg_x() -> float:
    from simulator.mechanics.trailer_body import stated_cg_m

    return stated_cg_m(trailer())[0]


def states_of(gap_m: float) -> set[str]:
    """What is lower than the deck is to be raised, or not clear of it if it is near."""
    if gap_m < 0.0:
        return {"to raise", "not clear"} if gap_m >= -1.5 else {"to raise"}
    return {"close"} if gap_m < 0.3 else {"clears"}


@pytest.mark.parametrize("lowest_m", [1.4, 1.1, 0.7, -3.0])
def test_it_is_passed_over_on_the_way(lowest_m: float) -> None:
    """Beside the pads, parts that have no jack to pass over have still to come over the deck, 0.9 m high."""
    found = lift()
    rows = gaps(found, at(found, lowest_m=lowest_m, y_m=3.2)).parts
    over = {row.part: row for row in rows if row.meets == FLAT}
    half_m = {part.name: part.width_m / 2.0 for part in found.trailer.parts}
    assert len(over) > 1
    for part, row in over.items():
        gap = lowest_m + LIES_HIGH_M / 2.0 - half_m[part] - 0.9
        assert row.gap_m == pytest.approx(gap, abs=1e-6) and row.state in states_of(gap)
    assert not any(row.meets == FLAT for row in gaps(lift(None), at(found, lowest_m=lowest_m, y_m=3.2)).parts)


def test_over_its_place_it_is_ground() -> None:
    """Out over the sides by as much as is allowed, nothing is in the way any more; a little more, and it is."""
    found = replace(lift(), landing=replace(lift().landing, flat=replace(FLAT_TRAILER, side_overhang_m=0.8)))
    for y, is_in_the_way in ((6.8, False), (6.6, False), (6.45, True), (7.15, True)):
        room = gaps(found, at(found, lowest_m=1.0, y_m=y))
        assert any(row.meets == FLAT for row in room.parts) is is_in_the_way, y
        assert room.ground.meets == FLAT and room.ground.gap_m == pytest.approx(0.1, abs=1e-6)
    assert gaps(found, at(found, lowest_m=1.0, y_m=0.0)).ground.meets != FLAT


def test_what_lies_on_it_is_set_down_and_what_meets_its_side_is_met() -> None:
    found = lift()
    assert FLAT not in touched(found, at(found, lowest_m=0.9, y_m=6.8))
    assert FLAT not in touched(found, at(found, lowest_m=0.82, y_m=6.8)), "as deep as a deck gives"
    assert FLAT in touched(found, at(found, lowest_m=0.75, y_m=6.8))
    assert FLAT in touched(found, at(found, lowest_m=0.3, y_m=3.31)), "its side, from the pads' side"
    assert FLAT in touched(found, at(found, lowest_m=0.8, y_m=3.34)), "its edge: out of it is nearer sideways"
    assert FLAT not in touched(found, at(found, lowest_m=0.8, y_m=3.4)), "set down on its edge"
    assert FLAT not in touched(found, at(found, lowest_m=0.3, y_m=3.28))


def test_an_end_that_hangs_lower_beyond_the_deck_meets_nothing() -> None:
    """Nose down by 0.02 rad over a deck 6 m long: 0.87 m high at its end, 0.78 m where the nose hangs free."""
    found = lift(replace(FLAT_TRAILER, length_m=6.0))
    level = at(found, lowest_m=0.93, y_m=6.8)
    assert FLAT not in touched(found, level._replace(pitch_rad=-0.02))
    assert FLAT in touched(found, level._replace(pitch_rad=-0.06)), "0.75 m high at its end"
