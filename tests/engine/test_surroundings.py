"""Gaps in a running lift: what head room leaves to raise by, what is left out while far, gaps when asked for."""

import pickle
from collections.abc import Iterable
from dataclasses import replace
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simulator.attempt import Attempt
from simulator.engine import surroundings
from simulator.engine.commands import STILL, Commands
from simulator.engine.incidents import Incident
from simulator.engine.surroundings import LOOKS_PER_S, Surroundings
from simulator.mechanics.trailer_body import body
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.site import OverheadLine
from tests.demo import with_trailer
from tests.engine.test_incidents import both, carry, hung, tank

BELOW_ROAD_M = -2.5


def left_m(described: Description, now: Readings) -> float:
    """By hand: tip less stretch, block, rigging, picks over the trailer's lowest point, that point, stop limit."""
    stated = body(described.trailer)
    over_belly = max(pick[2] for pick in stated.picks_m) - stated.low_m[2]
    taken = described.units[0].hoist.block_and_stop_m + described.trailer.picks[0].height_m + over_belly
    tip_z_m = min(unit.tip_z_m - (unit.sheave_to_hook_m - unit.line_length_m) for unit in now.units)
    return tip_z_m - taken - now.load.height_over_road_m - described.limits.head_room_stop_m


def missing_m(described: Description, now: Readings) -> float:
    """By hand: what the lowest point has to go to a gap over the deck that is not close."""
    return described.units[1].deck_height_m + described.limits.gap_close_m - now.load.height_over_road_m


def settled(attempt: Attempt) -> Readings:
    """At a moment at which gaps are looked for, and with the bounce on its lines gone: of 3 % of critical damping at
    some 7 rad/s a hundredth of it is left after 20 s."""
    attempt.advance(STILL, 20 * 240)
    assert abs(attempt.readings.load.vz_mps) < 0.02
    return attempt.readings


def raised_all_it_can(attempt: Attempt) -> Readings:
    """Both hooks up until head room is at its stop limit or nothing is missing; what is read then."""
    stop = attempt.description.limits.head_room_stop_m
    for _ in range(60 * 60):
        now = attempt.readings
        if now.to_raise_m == 0.0 or min(unit.head_room_m for unit in now.units) <= stop:
            break
        attempt.advance(Commands(*both(hoist=0.4)), attempt.every)
    assert not attempt.incidents
    return attempt.readings


def practice_box() -> Description:
    """With its weight where the papers have it: it hangs level."""
    described = with_trailer(load(find_scenario("box_on_wheels")), hidden_cg_m=(0.0, 0.0, 0.0))
    return replace(described, site=replace(described.site, settle_s=0.0))


def over_the_ravine(described: Description) -> tuple[Description, Attempt, Readings]:
    attempt = hung(described, -0.2, -8.0, BELOW_ROAD_M, tip_z_m=9.0)
    return described, attempt, settled(attempt)


@pytest.mark.long_in_plain
def test_on_its_wheels_the_box_cannot_be_raised_by_what_is_missing_and_by_how_much() -> None:
    described, attempt, now = over_the_ravine(practice_box())
    short = missing_m(described, now) - left_m(described, now)
    assert short > 0.1
    lowest = max(now.gaps, key=lambda gap: gap.to_raise_m)
    assert lowest.state == "cannot raise" and now.raise_short_m == lowest.short_m
    assert now.to_raise_m == pytest.approx(missing_m(described, now), abs=0.02)
    assert now.raise_short_m == pytest.approx(short, abs=0.05)
    top = raised_all_it_can(attempt)
    assert top.to_raise_m == pytest.approx(short, abs=0.05), "with all head room used up it is that much too low"
    assert top.to_raise_m == pytest.approx(top.raise_short_m, abs=0.01)


@pytest.mark.long_in_plain
def test_on_its_side_the_tank_has_the_head_room_and_passes_under_the_same_tips() -> None:
    described, attempt, now = over_the_ravine(tank())
    spare = left_m(described, now) - missing_m(described, now)
    assert spare > 0.5
    assert now.raise_short_m == 0.0 and "to raise" in {gap.state for gap in now.gaps}
    assert "cannot raise" not in {gap.state for gap in now.gaps}
    top = raised_all_it_can(attempt)
    assert top.to_raise_m == 0.0
    left = min(unit.head_room_m for unit in top.units) - described.limits.head_room_stop_m
    assert left == pytest.approx(spare, abs=0.06)


def test_booming_up_gives_the_box_what_it_was_short_of() -> None:
    _, attempt, now = over_the_ravine(practice_box())
    short = now.raise_short_m
    for _ in range(60 * 60):
        if attempt.readings.raise_short_m == 0.0:
            break
        attempt.advance(Commands(*both(elevation=0.3)), attempt.every)
    assert short > 0.0 and attempt.readings.raise_short_m == 0.0
    assert "cannot raise" not in {gap.state for gap in attempt.readings.gaps}


def beside(described: Description, belly_m: float) -> float:
    """At the first look, before the tips have leaned out and set the load swaying."""
    attempt = hung(described, -0.2, -8.0, belly_m)
    attempt.advance(STILL, 24)
    return attempt.readings.slope_room_m


def test_the_slope_comes_nearer_as_the_load_goes_down_beside_it() -> None:
    """The face leans out toward the toe: meters nearer over the height between, then none beside it over the road."""
    described = tank()
    (edge_y, edge_z), (toe_y, toe_z) = described.site.section_m[1:3]
    lean = (edge_y - toe_y) / (edge_z - toe_z)
    high, low = beside(described, -4.0), beside(described, -8.0)
    assert high - low == pytest.approx(4.0 * lean, abs=0.02)
    assert beside(described, 0.5) == inf


def moved(now: Readings, mps: tuple[float, float, float], seconds: float) -> Readings:
    """The load and its hooks moved straight."""
    x, y, z = (v * seconds for v in mps)
    at = now.load._replace(x_m=now.load.x_m + x, y_m=now.load.y_m + y, z_m=now.load.z_m + z)
    return now._replace(time_s=now.time_s + seconds, load=at)


def both_ways(described: Description, course: Iterable[Readings]) -> tuple[list[list[Incident]], int]:
    """What each look along a course finds, the very same as with nothing left out; and how many were left out."""
    skipping, looking = Surroundings(described), Surroundings(described)
    found, closely = [], 0
    for now in course:
        looking._then = None
        before = skipping._then
        found.append(skipping.look(now))
        assert found[-1] == looking.look(now), f"at {now.time_s} s"
        closely += skipping._then is not before
    return found, len(found) - closely


def straight(start: Readings, way: tuple[float, float, float], speed: float, seconds: float) -> list[Readings]:
    """The load moved straight, looked at ten times a second."""
    there = (way[0] * speed, way[1] * speed, way[2] * speed)
    return [moved(start, there, i / LOOKS_PER_S) for i in range(round(seconds * LOOKS_PER_S))]


@pytest.mark.parametrize("way", [(0.0, 0.0, 1.0), (0.0, 0.3, 0.95), (0.3, 0.3, 0.9), (1.0, 0.0, 0.0), (0.0, -0.6, 0.8)])
@pytest.mark.parametrize("speed", [0.3, 6.0])
def test_nothing_is_missed_on_a_straight_way(way: tuple[float, float, float], speed: float) -> None:
    """As slow as a lift and faster than anything falls in one: same incidents at the same looks."""
    line = OverheadLine(y_m=12.0, height_m=9.0, kilovolt=34.5)
    described = tank(live_lane_y_m=6.0, overhead_line=line)
    start = hung(described, -0.2, -9.0, -8.0).readings
    _, left_out = both_ways(described, straight(start, way, speed, min(40.0, 20.0 / speed)))
    assert left_out > 0, "a course that never is far shows nothing"


def turned(now: Readings, to: tuple[float, float, float], slews: float, raised: float, out_m: float) -> Readings:
    """The load turned to these angles about its reference point, both booms moved by so much."""
    load = now.load._replace(pitch_rad=to[0], yaw_rad=to[1], roll_rad=to[2])
    units = tuple(
        unit._replace(
            slew_rad=unit.slew_rad + slews,
            elevation_rad=unit.elevation_rad + raised,
            boom_length_m=unit.boom_length_m + out_m,
        )
        for unit in now.units
    )
    return now._replace(load=load, units=units)


@pytest.mark.long_in_plain
@given(
    height_m=st.floats(-8.0, 4.0),
    y_m=st.floats(-9.0, 7.0),
    rates=st.lists(st.floats(-0.3, 0.3), min_size=9, max_size=9),
)
@settings(max_examples=12)
def test_nothing_is_missed_of_a_load_that_turns_and_booms_that_move(
    height_m: float, y_m: float, rates: list[float]
) -> None:
    """Any way to go and turn, booms slewed, raised and run out into whatever is there: same incidents at each look."""
    course = []
    for i in range(25):
        s = i / LOOKS_PER_S
        at = moved(NEAR, (rates[0] * s, y_m + rates[1] * s, height_m + rates[2] * s), 1.0)
        angles = rates[3] * s, rates[4] * s, rates[5] * s
        course.append(turned(at, angles, rates[6] * s, rates[7] * s, rates[8] * s)._replace(time_s=s))
    both_ways(OPEN, course)


OPEN = tank(live_lane_y_m=11.0, overhead_line=OverheadLine(y_m=16.0, height_m=8.0, kilovolt=34.5))
NEAR = hung(OPEN, -0.2, 0.0, 0.0).readings


def test_past_the_decks_the_lane_and_the_overhead_line_are_not_missed() -> None:
    """Nothing is under the load any more, so no gap is near; the lane is."""
    line = OverheadLine(y_m=16.0, height_m=5.0, kilovolt=34.5)
    described = tank(live_lane_y_m=11.0, overhead_line=line)
    start = hung(described, -0.2, 6.9, 0.1).readings
    found, _ = both_ways(described, straight(start, (0.0, 1.0, 0.0), 1.0, 8.0))
    others = {hit.fields["other"] for hits in found for hit in hits}
    assert {"live lane", "overhead line"} <= others


def test_a_load_that_rests_far_from_everything_is_looked_at_once() -> None:
    described = tank()
    now = hung(described, -0.2, -9.0, -9.0).readings
    _, left_out = both_ways(described, [now] * 110)
    assert left_out == 109


def test_gaps_are_measured_when_somebody_asks_and_are_those_of_their_moment(monkeypatch: pytest.MonkeyPatch) -> None:
    """Asked late they are what they would have been at once."""
    asked: list[int] = []
    measure = surroundings.part_clearances
    monkeypatch.setattr(surroundings, "part_clearances", lambda *to: (asked.append(1), measure(*to))[1])
    attempt = hung(tank(), -0.2, -8.0, BELOW_ROAD_M)
    attempt.advance(STILL, 24)
    then, height_m = attempt.readings, attempt.readings.load.z_m
    at_once = tuple(Surroundings(attempt.description).gaps(then))
    asked.clear()
    attempt.advance(Commands(*both(hoist=0.5)), 480)
    assert attempt.readings.load.z_m > height_m + 0.01 and not asked
    assert then.gaps == at_once and pickle.loads(pickle.dumps(then)).gaps == at_once
    assert len(asked) == 1, "asked twice, measured once"


def test_gaps_that_come_with_an_incident_are_those_of_that_moment() -> None:
    """The shell against the deck's side: what is read is the gap where it stands, to the millimeter."""
    attempt = hung(tank(), -0.2, -5.0, 1.28)
    carry(attempt, 0.15, 40.0)
    assert attempt.incidents
    assert attempt.readings.gaps == Surroundings(attempt.description).gaps(attempt.readings)
    hit = attempt.incidents[0].fields["part"]
    row = next(gap for gap in attempt.readings.gaps if gap.part == hit)
    assert row.state == "not clear" and row.gap_m < 0.0


def test_a_far_load_that_meets_something_is_looked_at_then() -> None:
    """Far from everything, then at once on a deck, as after a slip."""
    described = tank()
    far, near = hung(described, -0.2, -9.0, -9.0).readings, hung(described, -0.2, 0.0, 1.30).readings
    around = Surroundings(described)
    assert not around.look(far)
    assert around.look(near._replace(time_s=0.1))
