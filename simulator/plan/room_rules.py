"""Room round the trailer at one station: over decks, under booms, beside, over ground, to the live lane, overhead."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from simulator.mechanics.allowances import HANDS_TAKE_M
from simulator.mechanics.clearance.decks import Clearances, HeadRoom
from simulator.mechanics.clearance.overhead import action_distance_m
from simulator.mechanics.clearance.passing import Passing
from simulator.mechanics.clearance.scene import FAR_OVER_CLOSE_M
from simulator.plan.findings import Amount, Change, Reading, passed
from simulator.plan.stations import Phase
from simulator.scenario.description import Description, Limits

ALOFT: tuple[Phase, ...] = ("raised", "crossing", "over the tailboards", "above the landing", "turning")
"""Where the trailer hangs at its agreed height; on its way up and down it is not yet, or no longer, over anything."""
WHO = "trailer"


def room_readings(description: Description, phase: Phase, found: Clearances, room: HeadRoom) -> Iterator[Reading]:
    """Every clearance at a station that has a limit."""
    limits = description.limits
    if phase in ALOFT:
        yield _over(found, room, limits)
    if phase in (*ALOFT, "held"):
        yield _ground(found, limits)
    yield from _passing(found, limits, lies=phase == "lift-off")
    yield from _booms(found, limits)
    yield _lane(found, limits)
    yield from _overhead(description, found)


def _stop_m(limits: Limits) -> float:
    """What is closer than this on paper may be met by a load that is carried."""
    return min(HANDS_TAKE_M, limits.gap_close_m)


def _over(found: Clearances, room: HeadRoom, limits: Limits) -> Reading:
    part = found.governing
    words = "carry the trailer {} higher; head room leaves {}, so the tips go up by {}"
    amounts = Amount(part.to_raise_m, "m"), Amount(max(0.0, room.left_m), "m", is_least=False)
    change = Change(words, (*amounts, Amount(room.short_m, "m")), ("load up",))
    if room.enough:
        change = Change("carry the trailer {} higher; head room leaves {}", amounts, ("load up",))
    what = f"{part.part} over {part.meets}" if part.meets else "over nothing"
    return Reading(
        "gap over",
        WHO,
        "gap over decks and edge",
        "m",
        part.gap_m,
        limits.gap_close_m,
        _stop_m(limits),
        False,
        what,
        change,
    )


def _ground(found: Clearances, limits: Limits) -> Reading:
    ground = found.ground
    change = Change(
        "carry the trailer {} higher there", (Amount(limits.gap_close_m - ground.gap_m, "m"),), ("load up",)
    )
    what = f"{ground.part} over {ground.meets}"
    return Reading(
        "gap to ground",
        WHO,
        "gap to the ground",
        "m",
        ground.gap_m,
        limits.gap_close_m,
        _stop_m(limits),
        False,
        what,
        change,
    )


def _passing(found: Clearances, limits: Limits, *, lies: bool) -> Iterator[Reading]:
    """What the trailer goes beside; what it goes over is among the gaps, but where it lies, what it lies on counts too,
    and what is far above that is not met before it has been raised. As it comes free it turns and slides to where it
    hangs: what may be met then is all that is closer than it may be carried past (own choice; 0.21 m was driven)."""
    deepest = -FAR_OVER_CLOSE_M if lies else -inf
    beside = [one for one in found.passing if (lies or one.distance_m > 0.0) and one.over_m > deepest]
    if not beside:
        return
    tightest = min(beside, key=lambda one: max(one.distance_m, one.over_m))
    room, stop_m = max(tightest.distance_m, tightest.over_m), limits.gap_close_m if lies else _stop_m(limits)
    words = "{} is missing: widen the gap between the units, or carry the trailer higher"
    change = Change(words, (Amount(limits.gap_close_m - room, "m"),), ("farther", "load up"))
    what, far = f"{tightest.part} beside {tightest.meets}", is_far(tightest, limits)
    yield Reading(
        "passing",
        WHO,
        "room beside the units",
        "m",
        room,
        limits.gap_close_m,
        stop_m,
        False,
        what,
        change,
        far,
    )


def is_far(beside: Passing, limits: Limits) -> bool:
    """Farther than is measured to the outline: its distance is a lower bound."""
    return max(beside.distance_m, beside.over_m) > limits.gap_close_m + FAR_OVER_CLOSE_M


def _booms(found: Clearances, limits: Limits) -> Iterator[Reading]:
    one = min(found.booms, key=lambda boom: boom.distance_m)
    words = "{} is missing: hold the tips higher, stand the units farther off, or use longer rigging"
    change = Change(words, (Amount(limits.gap_close_m - one.distance_m, "m"),), ("tips up", "farther", "else"))
    what, far = f"{one.part} under {one.meets}", one.at_least
    room = one.distance_m
    yield Reading(
        "boom", WHO, "room to the booms", "m", room, limits.gap_close_m, _stop_m(limits), False, what, change, far
    )


def _lane(found: Clearances, limits: Limits) -> Reading:
    lane = found.lane
    least = min(lane.trailer_m, *lane.tail_swings_m)
    is_trailer = least == lane.trailer_m
    what = f"{lane.part}" if is_trailer else "tail swing"
    stop = limits.lane_stop_m + HANDS_TAKE_M
    caution = max(stop, limits.lane_caution_m)
    words = "close the lane or land {} nearer" if is_trailer else "close the lane or move its edge {} away"
    change = Change(words, (Amount(passed(least, caution, stop, rising=False) - least, "m"),))
    return Reading("live lane", WHO, "room to the live lane", "m", least, caution, stop, False, what, change)


def _overhead(description: Description, found: Clearances) -> Iterator[Reading]:
    """Over the table's voltages no distance is enough until the utility or a qualified engineer has set one."""
    line = description.site.overhead_line
    if line is None:
        return
    near = min(found.overhead, key=lambda one: one.distance_m)
    if near.required_m is None:
        words = "the utility or a qualified engineer sets the distance for this voltage, before anyone lifts"
        yield Reading(
            "overhead line",
            WHO,
            "distance to the line",
            "m",
            near.distance_m,
            1e9,
            1e9,
            False,
            near.what,
            Change(words),
        )
        return
    caution = action_distance_m(line.kilovolt)
    words = "keep {} from the line, or have it made dead (29 CFR 1926.1408, Table A, taken as good practice)"
    if near.distance_m >= near.required_m:
        words = (
            "keep {} from the line, or take the measures that good practice asks for nearer to it (29 CFR 1926.1408)"
        )
    limit = passed(near.distance_m, caution, near.required_m, rising=False)
    change = Change(words, (Amount(limit, "m"),))
    name = "distance to the overhead line"
    yield Reading("overhead line", WHO, name, "m", near.distance_m, caution, near.required_m, False, near.what, change)
