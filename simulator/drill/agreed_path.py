"""What the pair agreed before the lift: where tips go and how high, worked out from the stated numbers alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import sin

from simulator.mechanics.trailer_body import Vector, body
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of

NOTHING = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Agreement:
    """Stated geometry of the lift."""

    tips_x_m: tuple[float, ...]
    """Where each unit's tip stands along the road while the load hangs level: over the middle of its picks; a lone
    unit's over the stated CG, which all its lines hold between them."""
    hook_over_belly_m: tuple[float, ...]
    """Each unit's hook, or the middle of its hooks, over the trailer's lowest point, level."""
    picks_m: tuple[Vector, ...]
    """Each line's pick from the trailer's reference point, in lying axes."""
    span_m: float
    """The first unit's picks to the last one's; 0 for a lone unit."""
    lands_y_m: float
    """Trailer's reference point when landed."""
    tip_y_over_reference_m: tuple[float, ...]
    """Each tip's y less the reference point's, hanging plumb."""

    def hook_rise_m(self, pitch_rad: float) -> float:
        """The first unit's hook over the last one's at a pitch."""
        return self.hook_over_belly_m[0] - self.hook_over_belly_m[-1] + self.span_m * sin(pitch_rad)


def agreement(description: Description) -> Agreement:
    """Work it out; the hidden CG and the true mass are not looked at."""
    trailer = replace(description.trailer, hidden_cg_m=NOTHING, hidden_mass_factor=1.0)
    stated = body(trailer)
    start = description.trailer.start
    middle_y = (stated.low_m[1] + stated.high_m[1]) / 2.0
    rig = rig_of(description)
    hooks = [at[2] + pick.height_m - stated.low_m[2] for at, pick in zip(stated.picks_m, trailer.picks, strict=True)]
    picks = [[line.pick for line in unit.lines] for unit in rig.units]
    xs = [middle([stated.picks_m[pick][0] for pick in own]) for own in picks]
    tips = xs if len(xs) > 1 else [_under_cg([stated.picks_m[pick][0] for pick in own]) for own in picks]
    return Agreement(
        tips_x_m=tuple(start.x_m + x for x in tips),
        hook_over_belly_m=tuple(middle([hooks[pick] for pick in own]) for own in picks),
        picks_m=tuple(stated.picks_m[line.pick] for line in rig.lines),
        span_m=xs[-1] - xs[0],
        lands_y_m=description.landing.y_m - middle_y,
        tip_y_over_reference_m=tuple(_under_cg([stated.picks_m[pick][1] for pick in own]) for own in picks),
    )


def _under_cg(picks_m: Sequence[float]) -> float:
    """Where the sum of pulls at these picks acts, along x or y from the stated CG: over it, if it is between them."""
    return min(max(picks_m), max(min(picks_m), 0.0))


def middle(values: Sequence[float]) -> float:
    """Their mean."""
    return sum(values) / len(values)
