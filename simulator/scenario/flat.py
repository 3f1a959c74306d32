"""A low flat trailer that waits on the road: the load is set down on its deck and leaves on it.

It stands along the road. All of it, from the road to its deck, counts as one solid box.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from simulator.scenario.measures import Measure, Meters, PositiveKilograms, PositiveMeters

FLAT = "flat trailer"
"""What it is called among the things that the load may meet."""
Overhang = Annotated[float, Measure("m", 0.0, 3.0, "0.3 m")]


@dataclass(frozen=True, slots=True)
class Flat:
    """The waiting flat trailer and what happens with the load next."""

    deck_height_m: Annotated[float, Measure("m", 0.2, 2.0, "0.9 m")]
    """Top of its empty deck over the road."""
    length_m: Annotated[float, Measure("m", 1.0, 40.0, "13.6 m")]
    """Of the deck that carries, along the road."""
    width_m: Annotated[float, Measure("m", 1.0, 6.0, "2.55 m")]
    """Of the deck, across the road."""
    x_m: Meters | None = None
    """Middle of its deck along the road. Left out: under the middle of the load as it hangs level."""
    y_m: Meters | None = None
    """Middle of its deck across the road. Left out: `y` of the landing."""
    side_overhang_m: Overhang = 0.0
    """How far the load may stand out over either side of the deck. None unless stated: our own choice, no source."""
    end_overhang_m: Overhang = 0.0
    """How far the load may stand out over either end of the deck. None unless stated: our own choice, no source."""
    payload_kg: PositiveKilograms | None = None
    """What it may carry, by its plate. Left out: not judged."""
    mass_kg: PositiveKilograms | None = None
    """Its own, empty: for the papers that go with the load. Left out: the gross weight is not told."""
    height_limit_m: PositiveMeters | None = None
    """Most height of trailer and load over the road on the way that they take: 4.1 to 4.3 m by road (common practice,
    no source), less where a bridge is lower. Left out: not judged."""
    leaves: Literal["nose", "tail"] | None = None
    """Which way along the road it drives off: toward the load's nose, or toward its tail. Left out: whether the way out
    is free is not judged."""
    what_next: str | None = None
    """What is done with the load once it is set down, for whoever takes it over. Left out: not judged."""
