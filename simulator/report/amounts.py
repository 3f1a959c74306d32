"""Numbers of a plan as text, in meters and tonnes or in feet and pounds."""

from __future__ import annotations

from math import ceil, degrees, floor, isfinite
from typing import Literal, NamedTuple

from simulator.plan.findings import Amount, Change, Kind
from simulator.scenario.measures import (
    KILOGRAMS_PER_POUND,
    METERS_PER_FOOT,
    METERS_PER_S_PER_MPH,
    PSI_PA,
    STANDARD_GRAVITY_MPS2,
)
from simulator.scenario.retold import retold
from simulator.words import phrase, say

System = Literal["metric", "us"]
ROUNDING = 1e-6
"""Of a last decimal: less than this past it is the sum's own."""
SLOW_MPS = 2.0
"""Slower than any wind worth naming, faster than a load should ever go."""


class Amounts(NamedTuple):
    """How numbers are written."""

    system: System = "metric"

    @property
    def length_unit(self) -> str:
        """m or ft"""
        return say("measure.foot" if self.system == "us" else "measure.meter")

    @property
    def load_unit(self) -> str:
        """Over a column: t, or 1,000 lb"""
        return say("measure.thousand_pounds" if self.system == "us" else "measure.tonne")

    def told(self, text: str) -> str:
        """A text that somebody wrote, such as a title, with its amounts in these units."""
        return retold(text, us=self.system == "us")

    def length(self, value_m: float) -> float:
        """A length in the system's unit."""
        return value_m / METERS_PER_FOOT if self.system == "us" else value_m

    def load(self, force_N: float) -> float:
        """A force as the weight it stands for, in tonnes or thousand pounds."""
        kilograms = force_N / STANDARD_GRAVITY_MPS2
        return kilograms / KILOGRAMS_PER_POUND / 1000.0 if self.system == "us" else kilograms / 1000.0

    def text(self, value: float, kind: Kind) -> str:
        """With its unit."""
        value = 0.0 if abs(value) < 1e-6 else value
        if not isfinite(value):
            return say("measure.no_limit" if value > 0.0 else "measure.none")
        if kind == "m":
            return f"{self.length(value):.2f} {self.length_unit}"
        if kind == "N":
            return self._weight(value)
        if kind == "rad":
            return f"{degrees(value):.1f} {say('measure.degree')}"
        if kind == "m/s":
            return self._speed(value)
        if kind == "times":
            return f"{value:.1f}"
        return f"{100.0 * value:.0f} {say('measure.percent')}"

    def _weight(self, force_N: float) -> str:
        """Tonnes to a tenth, pounds to a hundred."""
        if self.system == "metric":
            return f"{self.load(force_N):.1f} {say('measure.tonne')}"
        return f"{100.0 * round(10.0 * self.load(force_N)):,.0f} {say('measure.pound')}"

    def _speed(self, value_mps: float) -> str:
        """A wind in whole miles an hour; what is slow in feet a second, where a mile an hour is much."""
        if self.system == "metric":
            return f"{value_mps:.{1 if value_mps >= SLOW_MPS else 2}f} {say('measure.meter_per_s')}"
        if value_mps < SLOW_MPS:
            return f"{value_mps / METERS_PER_FOOT:.2f} {say('measure.foot_per_s')}"
        return f"{value_mps / METERS_PER_S_PER_MPH:.0f} {say('measure.mile_per_h')}"

    def pressure(self, pressure_Pa: float) -> str:
        """Of a sling on a shell."""
        if self.system == "metric":
            return f"{pressure_Pa / 1000.0:.0f} {say('measure.kilopascal')}"
        return f"{pressure_Pa / PSI_PA:.1f} {say('measure.psi')}"

    def sentence(self, change: Change) -> str:
        """A change with its amounts put in."""
        return phrase(change.words).format(*(self.amount(amount) for amount in change.amounts))

    def amount(self, amount: Amount) -> str:
        """One amount of a change, rounded so that what is written is enough."""
        if not isfinite(amount.value) or amount.kind not in ("m", "N", "m/s"):
            return self.text(amount.value, amount.kind)
        step = self._step(amount)
        steps = amount.value / step
        whole = ceil(steps - ROUNDING) if amount.is_least else floor(steps + ROUNDING)
        if whole == 0 and amount.is_least:  # just at the limit, which counts as past it
            whole = 1
        return self.text(whole * step, amount.kind)

    def _step(self, amount: Amount) -> float:
        """The last decimal that is written, in SI."""
        if amount.kind == "m":
            return 0.01 * (METERS_PER_FOOT if self.system == "us" else 1.0)
        if amount.kind == "N":
            return 100.0 * STANDARD_GRAVITY_MPS2 * (KILOGRAMS_PER_POUND if self.system == "us" else 1.0)
        if self.system == "metric":
            return 0.1 if amount.value >= SLOW_MPS else 0.01
        return METERS_PER_FOOT / 100.0 if amount.value < SLOW_MPS else METERS_PER_S_PER_MPH
