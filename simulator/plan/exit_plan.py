"""What comes after the landing on a waiting flat trailer: what it is then, and where it goes."""

from __future__ import annotations

from typing import NamedTuple

from simulator.mechanics.flat_deck import deck_of, overhangs_m, set_down
from simulator.plan.flat_rules import loaded_m
from simulator.plan.hanging import Load
from simulator.plan.stations import crosses
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.standing import pads_to_m


class ExitPlan(NamedTuple):
    """The loaded trailer, for whoever takes it over."""

    deck_x_m: tuple[float, float]
    """Its deck along the road, across it, and over it."""
    deck_y_m: tuple[float, float]
    deck_m: float
    from_pads_m: float
    """Its side from the pads' edge."""
    loaded_m: float
    """Highest point of the load on it over the road."""
    wide_m: float
    """Of trailer and load."""
    over_sides_m: float
    """The load stands out over the deck so far at each side; 0 where it does not."""
    over_ends_m: float
    """The same at the ends."""
    load_N: float
    gross_N: float | None
    """Weight of trailer and load; none where its own is not stated."""
    leaves: str | None
    """nose or tail: toward which end of the load it drives off."""
    what_next: str | None


def exit_plan(description: Description, load: Load) -> ExitPlan | None:
    """None where the load comes down on the road, or does not come down."""
    flat, deck = description.landing.flat, deck_of(description)
    if flat is None or deck is None or not crosses(description):
        return None
    lies = set_down(description)
    ends, sides = overhangs_m(deck, lies.x_m, lies.y_m)
    return ExitPlan(
        (deck.low_x_m, deck.high_x_m),
        (deck.low_y_m, deck.high_y_m),
        deck.top_m,
        deck.low_y_m - max(map(pads_to_m, description.units)),
        loaded_m(deck, lies),
        max(deck.high_y_m, lies.y_m[1]) - min(deck.low_y_m, lies.y_m[0]),
        max(0.0, sides),
        max(0.0, ends),
        load.weight_N,
        None if flat.mass_kg is None else load.weight_N + flat.mass_kg * STANDARD_GRAVITY_MPS2,
        flat.leaves,
        None if flat.what_next is None else " ".join(flat.what_next.split()),
    )
