"""A waiting flat trailer against its limits: does the load fit on it, may it carry it, does it stand free, is the way
out free, and how high is it loaded."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, inf

import numpy as np
from numpy.typing import NDArray

from simulator.mechanics.allowances import HANDS_TAKE_M
from simulator.mechanics.clearance.boom_gaps import nearest_to_boom
from simulator.mechanics.clearance.place import place
from simulator.mechanics.clearance.scene import Scene
from simulator.mechanics.clearance.units import called, unit_boxes
from simulator.mechanics.flat_deck import SetDown, cg_inside_m, deck_of, overhangs_m, set_down
from simulator.mechanics.ground import Deck
from simulator.mechanics.trailer_body import lying
from simulator.plan.findings import Amount, Change, NotJudged, Reading
from simulator.plan.hanging import Load
from simulator.plan.judged_station import StationCheck
from simulator.plan.solutions import ROUNDING
from simulator.plan.stations import crosses
from simulator.scenario.description import Description
from simulator.scenario.flat import FLAT, Flat
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.standing import pads_to_m

Array = NDArray[np.float64]
PAYLOAD_CAUTION = 0.9
"""Of what its plate allows: papers of a load that has been in a ravine may be wrong (common practice, no source)."""
HEIGHT_CAUTION_M = 0.05
"""So near to its limit a loaded height by the papers is measured before it drives (common practice, no source)."""
STEP_M = 0.5
"""Of the way out, from one look at the booms to the next."""


def flat_readings(
    description: Description, load: Load, last: StationCheck, scene: Scene | None, aside_m: float
) -> Iterator[Reading]:
    """Every value of the waiting trailer that has a limit.

    Args:
        description: a lift whose load crosses.
        load: of that description.
        last: the station at which it is landed.
        scene: for room under the booms; none where room is not asked for.
        aside_m: how far wind holds the load to one side as it comes down.
    """
    flat, deck = description.landing.flat, deck_of(description)
    if flat is None or deck is None:
        return
    lies = set_down(description)
    yield from _fits(description, flat, deck, lies, abs(aside_m))
    yield _holds(description, deck, lies)
    if flat.payload_kg is not None:
        yield _payload(load, flat.payload_kg)
    yield _stands(description, deck)
    if flat.leaves is not None:
        yield _way_out(description, flat, (deck, lies), last, scene)
    if flat.height_limit_m is not None:
        yield _height(deck, lies, flat.height_limit_m)


def _fits(description: Description, flat: Flat, deck: Deck, lies: SetDown, aside_m: float) -> Iterator[Reading]:
    """How far the load may come down off its place until it stands out over the deck by more than is allowed."""
    ends, sides = overhangs_m(deck, lies.x_m, lies.y_m)
    caution = max(HANDS_TAKE_M, description.limits.gap_close_m)
    long, wide = lies.x_m[1] - lies.x_m[0], lies.y_m[1] - lies.y_m[0] + 2.0 * aside_m
    rows = (
        ("deck along", "room on the deck, along", flat.end_overhang_m - ends, long - 2.0 * flat.end_overhang_m, "long"),
        (
            "deck across",
            "room on the deck, across",
            flat.side_overhang_m - sides - aside_m,
            wide - 2.0 * flat.side_overhang_m,
            "wide",
        ),
    )
    for code, name, room, least, which in rows:
        change = Change(
            f"a deck at least {{}} {which} with its middle under the load's, or more that is allowed to stand out",
            (Amount(least + 2.0 * HANDS_TAKE_M, "m"),),
        )
        yield Reading(code, FLAT, name, "m", room, caution, HANDS_TAKE_M - ROUNDING, False, "", change)


def _holds(description: Description, deck: Deck, lies: SetDown) -> Reading:
    """The center of gravity over what of the deck bears the load."""
    inside = cg_inside_m(deck, lies.bears_x_m, lies.bears_y_m, _cg_m(description, lies))
    caution = max(HANDS_TAKE_M, description.limits.gap_close_m)
    change = Change(
        "bring the deck {} farther under the load's center of gravity", (Amount(HANDS_TAKE_M - inside, "m"),)
    )
    name = "center of gravity inside deck"
    return Reading("deck holds", FLAT, name, "m", inside, caution, HANDS_TAKE_M - ROUNDING, False, "", change)


def _cg_m(description: Description, lies: SetDown) -> tuple[float, float]:
    """Its true place along and across, once it is set down."""
    off = lying(lies.attitude, description.trailer.hidden_cg_m)
    return lies.from_m[0] + off[0], lies.from_m[1] + off[1]


def _payload(load: Load, payload_kg: float) -> Reading:
    used = load.body.mass_kg / payload_kg
    over = load.weight_N - payload_kg * STANDARD_GRAVITY_MPS2 * (1.0 if used >= 1.0 else PAYLOAD_CAUTION)
    change = Change("take {} off the load, or bring a trailer that may carry it", (Amount(over, "N"),))
    return Reading("payload", FLAT, "payload used", "share", used, PAYLOAD_CAUTION, 1.0, True, "", change)


def payload_used(description: Description, mass_kg: Array) -> Array:
    """Of many loads; nothing where there is no such limit."""
    flat = description.landing.flat
    if flat is None or flat.payload_kg is None or not crosses(description):
        return np.zeros_like(mass_kg)
    return np.asarray(mass_kg / flat.payload_kg)


def holds_used(description: Description, cg_shift_m: Array) -> Array:
    """Least room of the center of gravity inside the deck over what there is, of many loads with theirs moved along."""
    deck = deck_of(description)
    if deck is None or not crosses(description):
        return np.zeros_like(cg_shift_m)
    lies = set_down(description)
    x, y = _cg_m(description, lies)
    low, high = max(lies.bears_x_m[0], deck.low_x_m), min(lies.bears_x_m[1], deck.high_x_m)
    near, far = max(lies.bears_y_m[0], deck.low_y_m), min(lies.bears_y_m[1], deck.high_y_m)
    along = np.minimum(x + cg_shift_m - low, high - x - cg_shift_m)
    inside = np.minimum(along, min(y - near, far - y))
    least = HANDS_TAKE_M - ROUNDING
    return np.divide(least, inside, out=np.full_like(inside, inf), where=inside > 0.0)


def _stands(description: Description, deck: Deck) -> Reading:
    """As far off pads and live lane as what is landed, and outside every tail swing at any slew."""
    landing, units = description.landing, description.units
    rooms = {
        "pads": deck.low_y_m - max(map(pads_to_m, units)) - landing.off_pads_m,
        "tail swing": min(
            _level_m(deck, (unit.slew_axis_x_m, unit.slew_axis_y_m)) - unit.tail_swing_m for unit in units
        ),
        "live lane": description.site.live_lane_y_m - landing.off_lane_m - deck.high_y_m,
    }
    what = min(rooms, key=rooms.__getitem__)
    change = Change(f"stand the flat trailer {{}} farther from the {what}", (Amount(max(0.0, -rooms[what]), "m"),))
    name = "room where it stands"
    return Reading("flat stands", FLAT, name, "m", rooms[what], HANDS_TAKE_M, -ROUNDING, False, what, change)


def _level_m(deck: Deck, at_m: tuple[float, float]) -> float:
    """Of a place from the deck, in plan."""
    x = max(deck.low_x_m - at_m[0], at_m[0] - deck.high_x_m, 0.0)
    return hypot(x, max(deck.low_y_m - at_m[1], at_m[1] - deck.high_y_m, 0.0))


def _way_out(
    description: Description, flat: Flat, on_it: tuple[Deck, SetDown], last: StationCheck, scene: Scene | None
) -> Reading:
    """The least room beside what it drives past, and under booms that stay where they let the load down."""
    deck, lies = on_it
    rooms = [*_beside(description, flat, deck, lies)]
    if scene is not None:
        rooms += _under(scene, last, _way_m(description, flat, deck))
    room, what = min(rooms, default=(inf, "nothing on its way"))
    words = "stand the flat trailer {} farther from the units"
    if " under " in what:
        words = "slew the booms away before it drives off: {} is missing under them"
    caution = max(HANDS_TAKE_M, description.limits.gap_close_m)
    change = Change(words, (Amount(max(0.0, HANDS_TAKE_M - room), "m"),))
    name = f"way out, toward the {flat.leaves}"
    return Reading("way out", FLAT, name, "m", room, caution, HANDS_TAKE_M - ROUNDING, False, what, change)


def _way_m(description: Description, flat: Flat, deck: Deck) -> float:
    """How far it drives until it is past all units; negative toward the nose's end of the road."""
    ends = [x for unit in description.units for box in unit_boxes(unit) for x in box.x_m]
    return min(ends) - deck.high_x_m if flat.leaves == "nose" else max(ends) - deck.low_x_m


def _beside(description: Description, flat: Flat, deck: Deck, lies: SetDown) -> Iterator[tuple[float, str]]:
    """Level room to all that stands beside its way, whatever its height; a tail swing at any slew."""
    y = min(deck.low_y_m, lies.y_m[0]), max(deck.high_y_m, lies.y_m[1])
    for unit in description.units:
        swing, (x0, y0) = unit.tail_swing_m, (unit.slew_axis_x_m, unit.slew_axis_y_m)
        things = [(box.name, box.x_m, box.y_m) for box in unit_boxes(unit)]
        things.append((f"{called(unit)} tail swing", (x0 - swing, x0 + swing), (y0 - swing, y0 + swing)))
        for name, (low_x, high_x), (low_y, high_y) in things:
            on_its_way = low_x < deck.high_x_m if flat.leaves == "nose" else high_x > deck.low_x_m
            if on_its_way:
                yield max(y[0] - high_y, low_y - y[1]), f"{FLAT} beside {name}"


def _under(scene: Scene, last: StationCheck, way_m: float) -> Iterator[tuple[float, str]]:
    """Room of the load to the booms, step by step along the way."""
    steps = int(abs(way_m) / STEP_M) + 1
    booms = tuple(one.pose for one in last.units)
    for step in range(steps + 1):
        pose = last.station.pose
        placed = place(scene, pose._replace(x_m=pose.x_m + way_m * step / steps), booms)
        for end, unit in enumerate(scene.description.units):
            distance, part = nearest_to_boom(placed, end)
            yield distance, f"{scene.load.names[part]} under {called(unit)} boom"


def _height(deck: Deck, lies: SetDown, limit_m: float) -> Reading:
    high = loaded_m(deck, lies)
    over = high - (limit_m if high > limit_m else limit_m - HEIGHT_CAUTION_M)
    change = Change("a deck {} lower, or a way that allows it: measured before it drives", (Amount(over, "m"),))
    stop = limit_m + ROUNDING
    name = "loaded height"
    return Reading("loaded height", FLAT, name, "m", high, limit_m - HEIGHT_CAUTION_M, stop, True, "", change)


def loaded_m(deck: Deck, lies: SetDown) -> float:
    """Height of the load on the deck over the road; springs that give under it are left out."""
    return deck.top_m + lies.high_m


def flat_not_judged(description: Description) -> Iterator[NotJudged]:
    """What the file leaves out of the waiting trailer."""
    flat = description.landing.flat
    if flat is None:
        return
    rows = (
        ("payload", flat.payload_kg, "what it may carry is not stated", "payload, by its plate"),
        ("loaded height", flat.height_limit_m, "no height limit of its way is stated", "height_limit"),
        ("way out", flat.leaves, "which way it drives off is not stated", 'leaves = "nose" or "tail"'),
        ("hand-over", flat.what_next, "nobody says what happens with the load next", "what_next, a sentence"),
    )
    for code, given, missing, needs in rows:
        if given is None:
            yield NotJudged(code, FLAT, missing, f"{needs}, in [landing.flat]")


def of_the_flat(description: Description) -> Iterator[str]:
    """What is taken as given of it."""
    if description.landing.flat is not None:
        yield (
            "flat trailer: it stands level and braked, its deck bears wherever the load lies on it; from the road to "
            "its deck it counts as one solid box; what its springs give under the load is left out"
        )
