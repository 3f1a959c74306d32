"""Figures of one seat in one step: what the judge shows beside the points."""

from __future__ import annotations

from dataclasses import dataclass

from simulator.readings import Readings


@dataclass
class Figures:
    """One seat's step in numbers; they say nothing good or bad by themselves."""

    time_s: float = 0.0
    worst_off_plumb_rad: float = 0.0
    """Of the loaded line."""
    mean_off_plumb_rad: float = 0.0
    sway_m: float = 0.0
    """Largest once the load has hung free for a whole sway period."""
    peak_hook_load_N: float = 0.0
    dynamic: float = 1.0
    """Peak over mean hook load while the load hangs free."""
    least_float_share: float = 1.0
    capacity_used: float = 0.0
    out_of_turn: int = 0
    stops: int = 0
    incidents: int = 0
    _loaded_s: float = 0.0
    _free_s: float = 0.0
    _free_mean_N: float = 0.0
    _free_peak_N: float = 0.0

    def see(self, now: Readings, end: int, dt: float, *, settled: bool) -> None:
        """Take in a moment.

        Args:
            now: readings.
            end: the seat.
            dt: since the moment before.
            settled: the load has hung free for a whole sway period.
        """
        unit, load = now.units[end], now.load
        self.time_s += dt
        self.least_float_share = min(self.least_float_share, unit.least_float_share)
        self.capacity_used = max(self.capacity_used, unit.capacity_used)
        self.peak_hook_load_N = max(self.peak_hook_load_N, unit.hook_load_N)
        if not unit.slack:
            self.worst_off_plumb_rad = max(self.worst_off_plumb_rad, unit.off_plumb_rad)
            self._loaded_s += dt
            if self._loaded_s > 0.0:
                self.mean_off_plumb_rad += (unit.off_plumb_rad - self.mean_off_plumb_rad) * dt / self._loaded_s
        if settled:
            self.sway_m = max(self.sway_m, load.sway_m)
            self._free_s += dt
            self._free_peak_N = max(self._free_peak_N, unit.hook_load_N)
            if self._free_s > 0.0:
                self._free_mean_N += (unit.hook_load_N - self._free_mean_N) * dt / self._free_s
            if self._free_mean_N > 0.0:
                self.dynamic = self._free_peak_N / self._free_mean_N

    def as_json(self) -> dict[str, float]:
        """Every figure, SI."""
        return {name: value for name, value in vars(self).items() if not name.startswith("_")}
