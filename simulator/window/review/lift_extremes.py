"""What a lift came to: worst values by the samples that its recording keeps, and how often a readout came up."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import nan

from simulator.readings import Readings
from simulator.recording.counted import Sampled
from simulator.window.kit.levels import Level
from simulator.window.readouts.alerts import Watched


@dataclass
class LiftExtremes:
    """Extremes of the units, and how often something came into caution or stop."""

    sampled: Sampled = field(default_factory=Sampled)
    """Shown every moment of the lift."""
    stops: int = 0
    cautions: int = 0
    time_s: float = 0.0

    def take(self, readings: Readings, before: Watched, now: Watched) -> None:
        """Add one look at the readouts."""
        self.time_s = readings.time_s
        self.stops += raised(before, now, Level.STOP)
        self.cautions += raised(before, now, Level.CAUTION)

    def worst(self, unit: str, field_name: str) -> float:
        """The worst value of a unit, by its name, as the debrief has it; not a number where nothing counted."""
        return self.sampled.worst(f"{unit}.{field_name}", nan)

    @property
    def sway_m(self) -> float:
        """The most sway while the load hung; not a number where it never did."""
        return self.sampled.worst("load.sway_m", nan)


def raised(before: Watched, now: Watched, level: Level) -> int:
    """How many readouts came up to `level` (not down to it)."""
    return sum(1 for name, at in now.levels.items() if at is level and before.level(name) < level)
