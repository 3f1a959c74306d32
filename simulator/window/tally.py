"""What a lift came to, from the same readings and levels that the readouts showed."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import isfinite

from simulator.readings import Readings
from simulator.window.alerts import Watched
from simulator.window.thresholds import Level


@dataclass
class Tally:
    """Extremes of both units, and how often something came into caution or stop."""

    off_plumb_rad: list[float] = field(default_factory=lambda: [0.0, 0.0])
    line_load_N: list[float] = field(default_factory=lambda: [0.0, 0.0])
    capacity_used: list[float] = field(default_factory=lambda: [0.0, 0.0])
    least_float_share: list[float] = field(default_factory=lambda: [1.0, 1.0])
    sway_m: float = 0.0
    stops: int = 0
    cautions: int = 0
    time_s: float = 0.0

    def take(self, readings: Readings, before: Watched, now: Watched) -> None:
        """Add one look at the readouts."""
        self.time_s = readings.time_s
        for end, unit in enumerate(readings.units):
            self.line_load_N[end] = _more(self.line_load_N[end], unit.line_load_N)
            self.capacity_used[end] = _more(self.capacity_used[end], unit.capacity_used)
            self.least_float_share[end] = -_more(-self.least_float_share[end], -unit.least_float_share)
            if not unit.slack:
                self.off_plumb_rad[end] = _more(self.off_plumb_rad[end], unit.mean_off_plumb_rad)
        if readings.load.ground_N < 1.0:
            self.sway_m = _more(self.sway_m, readings.load.sway_m)
        self.stops += raised(before, now, Level.STOP)
        self.cautions += raised(before, now, Level.CAUTION)


def _more(before: float, now: float) -> float:
    return max(before, now) if isfinite(now) else before


def raised(before: Watched, now: Watched, level: Level) -> int:
    """How many readouts came up to `level` (not down to it)."""
    return sum(1 for name, at in now.levels.items() if at is level and before.level(name) < level)
