"""Whether the load is over the units or about to be: until then a part too low is one to raise, not one not clear."""

from __future__ import annotations

from simulator.mechanics.trailer_body import lying, part_corners
from simulator.readings import Gaps, LoadReadings, PartGap
from simulator.scenario.description import Description
from simulator.window.kit.levels import LENGTH_BAND_M

NEAR_M = 1.0
"""Level room to the units' pads under which a load is about to be over them. Common practice, no source."""


class LoadNearUnits:
    """Level room across the road between the load and the units, pads included."""

    def __init__(self, description: Description) -> None:
        self._pads_m = max(unit.floats.across_m + unit.floats.pad_side_m / 2.0 for unit in description.units)
        trailer = description.trailer
        across = [lying(trailer.attitude, corner)[1] for part in trailer.parts for corner in part_corners(part)]
        self._half_m = (max(across) - min(across)) / 2.0

    def is_near(self, load: LoadReadings) -> bool:
        """True when the load is over the units' strip of road, or within `NEAR_M` of it."""
        return abs(load.y_m) - self._half_m - self._pads_m < NEAR_M


def judged(gaps: Gaps, *, is_near: bool, close_m: float) -> Gaps:
    """The gaps as the readouts judge them: away from the units, what does not clear yet is to be raised.

    Args:
        gaps: smoothed gaps; their states may be those of a moment later, so away from the units the gap decides.
        is_near: from `LoadNearUnits`.
        close_m: gap under which a part is close.
    """
    if is_near:
        return gaps
    return tuple(row._replace(state=_far_state(row, close_m)) for row in gaps)


def _far_state(row: PartGap, close_m: float) -> str:
    if row.gap_m >= close_m + LENGTH_BAND_M:
        return "clears"
    return "cannot raise" if row.short_m > 0.0 else "to raise"
