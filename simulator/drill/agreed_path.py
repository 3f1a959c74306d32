"""What the pair agreed before the lift: where tips go and how high, worked out from the stated numbers alone."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import sin

from simulator.mechanics.trailer import body
from simulator.scenario.description import Description

NOTHING = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Agreement:
    """Stated geometry of the lift."""

    tips_x_m: tuple[float, float]
    """Where each tip stands along the road while the load hangs level."""
    hook_over_belly_m: tuple[float, float]
    """Each hook over the trailer's lowest point, level."""
    span_m: float
    """Pick to pick."""
    lands_y_m: float
    """Trailer's reference point when landed."""
    tip_y_over_reference_m: tuple[float, float]
    """Each tip's y less the reference point's, hanging plumb."""

    def hook_rise_m(self, pitch_rad: float) -> float:
        """Nose hook over tail hook at a pitch."""
        return self.hook_over_belly_m[0] - self.hook_over_belly_m[1] + self.span_m * sin(pitch_rad)


def agreement(description: Description) -> Agreement:
    """Work it out; the hidden CG and the true mass are not looked at."""
    trailer = replace(description.trailer, hidden_cg_m=NOTHING, hidden_mass_factor=1.0)
    stated = body(trailer)
    picks = trailer.picks[0], trailer.picks[1]
    start = description.trailer.start
    middle_y = (stated.low_m[1] + stated.high_m[1]) / 2.0
    return Agreement(
        tips_x_m=(start.x_m + stated.picks_m[0][0], start.x_m + stated.picks_m[1][0]),
        hook_over_belly_m=tuple(  # type: ignore[arg-type]
            at[2] + pick.height_m - stated.low_m[2] for at, pick in zip(stated.picks_m, picks, strict=True)
        ),
        span_m=stated.picks_m[1][0] - stated.picks_m[0][0],
        lands_y_m=description.landing.y_m - middle_y,
        tip_y_over_reference_m=(stated.picks_m[0][1], stated.picks_m[1][1]),
    )
