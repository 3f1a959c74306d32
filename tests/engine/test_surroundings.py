"""Gaps in a running lift: what head room leaves to raise by, what is left out while far, gaps at an incident."""

from collections.abc import Callable
from dataclasses import replace
from math import inf

import pytest

from simulator.attempt import Attempt
from simulator.engine import surroundings
from simulator.engine.commands import STILL, Commands
from simulator.engine.incidents import Incident
from simulator.engine.surroundings import FAR_LOOKS, LOOKS_PER_S, Surroundings, closing_mps
from simulator.mechanics.trailer import body
from simulator.places import find_scenario
from simulator.readings import PartGap, Readings
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.site import OverheadLine
from simulator.scenario.unit import Boom
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
    attempt.advance(STILL, 60)
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
    attempt = hung(described, -0.2, -8.0, belly_m)
    return settled(attempt).slope_room_m


def test_the_slope_comes_nearer_as_the_load_goes_down_beside_it() -> None:
    """The face leans out toward the toe: metres nearer over the height between, then none beside it over the road."""
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


Look = tuple[tuple[PartGap, ...], list[Incident]]


def both_ways(
    described: Description, course: Callable[[float], Readings], seconds: float
) -> tuple[list[Look], list[Look], int]:
    """Every look along a course as it is, and with nothing left out; and how many were left out."""
    skipping, looking = Surroundings(described), Surroundings(described)
    looking._closing_mps = inf
    measured = []
    measure = surroundings.measured
    times = [i / LOOKS_PER_S for i in range(round(seconds * LOOKS_PER_S))]
    try:
        surroundings.measured = lambda *given: (measured.append(1), measure(*given))[1]
        one = [skipping.look(course(t)) for t in times]
        left_out = len(times) - len(measured)
    finally:
        surroundings.measured = measure
    return one, [looking.look(course(t)) for t in times], left_out


def quicker(boom: Boom, times: float) -> Boom:
    slew, telescope = times * boom.slew_speed_radps, times * boom.telescope_speed_mps
    return replace(boom, slew_speed_radps=slew, telescope_speed_mps=telescope)


@pytest.mark.parametrize("way", [(0.0, 0.0, 1.0), (0.0, 0.3, 0.95), (0.3, 0.3, 0.9), (1.0, 0.0, 0.0), (0.0, -0.6, 0.8)])
@pytest.mark.parametrize("fast", [1.0, 4.0])
def test_nothing_is_missed_while_far_at_the_largest_speeds(way: tuple[float, float, float], fast: float) -> None:
    """As fast as anything can go in this lift (and with drives four times as fast): same states, same incidents, at the
    same looks; heights within what may have changed since the last measuring."""
    line = OverheadLine(y_m=12.0, height_m=9.0, kilovolt=34.5)
    described = tank(live_lane_y_m=6.0, overhead_line=line)
    units = tuple(replace(unit, boom=quicker(unit.boom, fast)) for unit in described.units)
    described = replace(described, units=units)
    start = hung(described, -0.2, -9.0, -8.0).readings
    speed = closing_mps(described)
    seconds = 20.0 / speed
    one, all_of_them, left_out = both_ways(
        described, lambda t: moved(start, (way[0] * speed, way[1] * speed, way[2] * speed), t), seconds
    )
    same(one, all_of_them)
    assert left_out > 0, "a course that never is far shows nothing"


def same(one: list[Look], other: list[Look]) -> None:
    """States and incidents; of a part that is far below, only that it is to be raised, not whether it can be."""
    for (gaps, hits), (true_gaps, true_hits) in zip(one, other, strict=True):
        assert [_plain(gap) for gap in gaps] == [_plain(gap) for gap in true_gaps]
        assert [_met(hit) for hit in hits] == [_met(hit) for hit in true_hits]


def _met(hit: Incident) -> tuple[str, object, object]:
    return hit.what, hit.fields["part"], hit.fields["other"]


def _plain(gap: PartGap) -> str:
    return gap.state.replace("cannot", "to")


def test_past_the_decks_the_lane_and_the_overhead_line_are_not_missed() -> None:
    """Nothing is under the load any more, so no gap is near; the lane is."""
    line = OverheadLine(y_m=16.0, height_m=5.0, kilovolt=34.5)
    described = tank(live_lane_y_m=11.0, overhead_line=line)
    start = hung(described, -0.2, 6.9, 0.1).readings
    speed = closing_mps(described)
    one, all_of_them, _ = both_ways(described, lambda t: moved(start, (0.0, speed, 0.0), t), 8.0 / speed)
    same(one, all_of_them)
    others = {hit.fields["other"] for _, hits in one for hit in hits}
    assert {"live lane", "overhead line"} <= others


def test_a_load_that_rests_far_below_is_measured_once_a_second() -> None:
    described = tank()
    now = hung(described, -0.2, -9.0, -9.0).readings
    _, _, left_out = both_ways(described, lambda t: moved(now, (0.0, 0.0, 0.0), t), 11.0)
    assert left_out == 100 and FAR_LOOKS == LOOKS_PER_S


def test_gaps_that_come_with_an_incident_are_those_of_that_moment() -> None:
    """The shell against the deck's side: what is read is the gap where it stands, to the millimetre."""
    attempt = hung(tank(), -0.2, -5.0, 1.28)
    carry(attempt, 0.15, 40.0)
    assert attempt.incidents
    fresh, hits = Surroundings(attempt.description).look(attempt.readings)
    assert hits and attempt.readings.gaps == fresh
    hit = attempt.incidents[0].fields["part"]
    row = next(gap for gap in attempt.readings.gaps if gap.part == hit)
    assert row.state == "not clear" and row.gap_m < 0.0


def test_a_far_load_that_meets_something_is_measured_then() -> None:
    """Far by all gaps, then at once on a deck, as after a slip: contacts are asked at every look, then gaps too."""
    described = tank()
    far, near = hung(described, -0.2, -9.0, -9.0).readings, hung(described, -0.2, 0.0, 1.30).readings
    around = Surroundings(described)
    around.look(far)
    gaps, hits = around.look(near._replace(time_s=0.1))
    assert hits
    assert gaps == Surroundings(described).look(near)[0]
