"""Random four-float set-ups for hypothesis."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

from simulator.mechanics.outriggers import Frame, frame

PROPERTY = settings(max_examples=500, suppress_health_check=[HealthCheck.too_slow])
FEWER = settings(PROPERTY, max_examples=150)

Place = tuple[float, float]


@dataclass(frozen=True)
class Setup:
    """Four floats and a resultant."""

    places: tuple[Place, ...]
    stiffness: tuple[float, ...]
    vertical_N: float
    at: Place

    @cached_property
    def frame(self) -> Frame:
        """The frame under test."""
        return frame(self.places, self.stiffness)

    @property
    def load(self) -> tuple[float, float, float]:
        """Vertical load and its moments toward u and v."""
        return self.vertical_N, self.vertical_N * self.at[0], self.vertical_N * self.at[1]


@st.composite
def setups(draw: st.DrawFn, *, spread: float = 1.2, ragged: float = 0.4, equal: bool = False) -> Setup:
    """A set-up, its resultant up to `spread` of the floats' outline from the middle.

    Args:
        draw: hypothesis's.
        spread: 1 is the outline.
        ragged: how far each float may stand from the corner of a rectangle, m.
        equal: springs all alike.
    """
    front, back, side = draw(st.floats(1.5, 5.0)), draw(st.floats(2.0, 6.0)), draw(st.floats(2.0, 5.0))
    off = st.floats(-ragged, ragged) if ragged else st.just(0.0)
    corners = ((front, side), (front, -side), (-back, side), (-back, -side))
    places = tuple((u + draw(off), v + draw(off)) for u, v in corners)
    spring = st.floats(1e6, 5e7)
    springs = (draw(spring),) * 4 if equal else tuple(draw(spring) for _ in range(4))
    share = st.floats(-spread, spread)
    middle, half = (front - back) / 2.0, (front + back) / 2.0
    at = (middle + draw(share) * half, draw(share) * side)
    return Setup(places, springs, draw(st.floats(1e5, 1e6)), at)
