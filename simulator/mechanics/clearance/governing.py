"""Which obstacle decides for a part: the least gap, but before it anything near in plan that the part is below."""

from __future__ import annotations

from simulator.mechanics.clearance.over import gap_over
from simulator.mechanics.clearance.place import Placed

TO_RAISE_M = 1.5
"""A part more than this below what it must pass over is still to raise, not a fault."""
NEAR_M = 0.3
"""A part that is farther than this in plan has not come near yet: a load in a bed right beside the road lies as it
should, and so does one that goes straight up from there. What counts as close upward, too; our choice, no source."""


def below_what(placed: Placed, lowest_gap_m: float) -> dict[int, tuple[float, int]]:
    """Of each part that is not clear of something near, the least such gap and what it is to.

    Args:
        placed: the scene with a pose put in.
        lowest_gap_m: the least gap of any part.
    """
    found: dict[int, tuple[float, int]] = {}
    if lowest_gap_m >= 0.0:
        return found
    parts, obstacles = (placed.on_the_way & (placed.over_m < 0.0) & (placed.off_m[1] <= NEAR_M)).nonzero()
    for part, obstacle in zip(parts.tolist(), obstacles.tolist(), strict=True):
        gap = gap_over(placed, part, obstacle, below_m=0.0)
        if -TO_RAISE_M <= gap < 0.0:
            found[part] = min(found.get(part, (gap, obstacle)), (gap, obstacle))
    return found
