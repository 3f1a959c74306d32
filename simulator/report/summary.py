"""A lift in a few figures: an observer of readings, then a table or JSON."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import degrees
from typing import Any

from simulator.readings import Readings, UnitReadings
from simulator.scenario.measures import TONNE_N


@dataclass
class Worst:
    """One unit's extremes."""

    line_load_N: float = 0.0
    off_plumb_rad: float = 0.0
    capacity_used: float = 0.0
    least_float_share: float = 1.0
    ground_used: float = 0.0
    head_room_m: float = 1e9
    rope_left_m: float = 1e9

    def see(self, unit: UnitReadings) -> None:
        """Take in one moment; a slack line has no angle worth keeping."""
        self.line_load_N = max(self.line_load_N, unit.line_load_N)
        if not unit.slack:
            self.off_plumb_rad = max(self.off_plumb_rad, unit.off_plumb_rad)
        self.capacity_used = max(self.capacity_used, unit.capacity_used)
        self.least_float_share = min(self.least_float_share, unit.least_float_share)
        self.ground_used = max(self.ground_used, unit.ground_used)
        self.head_room_m = min(self.head_room_m, unit.head_room_m)
        self.rope_left_m = min(self.rope_left_m, unit.rope_left_m)


@dataclass
class Summary:
    """Watches a lift."""

    title: str
    caution: str
    nose: Worst = field(default_factory=Worst)
    tail: Worst = field(default_factory=Worst)
    sway_m: float = 0.0
    lane_room_m: float = 1e9
    last: Readings | None = None
    incidents: list[str] = field(default_factory=list)
    state_hash: str = ""
    drill: dict[str, Any] | None = None
    """Score and losses of a drill, if the lift was one."""
    drill_lines: list[str] = field(default_factory=list)

    def __call__(self, readings: Readings) -> None:
        """Take in one moment."""
        self.nose.see(readings.nose)
        self.tail.see(readings.tail)
        if readings.load.ground_N <= 0.0:
            self.sway_m = max(self.sway_m, readings.load.sway_m)
        self.lane_room_m = min(self.lane_room_m, readings.load.lane_room_m)
        self.last = readings

    @property
    def landed(self) -> bool:
        """The road carries it and nothing went wrong."""
        return self.last is not None and self.last.load.landed and not self.incidents

    def as_json(self) -> dict[str, Any]:
        """Every figure, SI."""
        load = self.last.load if self.last else None
        return {
            "title": self.title,
            "landed": self.landed,
            "incidents": self.incidents,
            "time_s": self.last.time_s if self.last else 0.0,
            "nose": vars(self.nose).copy(),
            "tail": vars(self.tail).copy(),
            "peak_line_load_N": max(self.nose.line_load_N, self.tail.line_load_N),
            "worst_off_plumb_rad": max(self.nose.off_plumb_rad, self.tail.off_plumb_rad),
            "worst_sway_m": self.sway_m,
            "lane_room_m": self.lane_room_m,
            "at_m": [load.x_m, load.y_m, load.z_m] if load else None,
            "at_rad": {"pitch": load.pitch_rad, "yaw": load.yaw_rad, "roll": load.roll_rad} if load else None,
            "state_hash": self.state_hash,
            **({"drill": self.drill} if self.drill is not None else {}),
            "caution": self.caution,
        }

    def lines(self) -> list[str]:
        """A table for the terminal."""
        rows = [
            ("peak line load", *(f"{w.line_load_N / TONNE_N:.1f} t" for w in (self.nose, self.tail))),
            ("worst off plumb", *(f"{degrees(w.off_plumb_rad):.2f} deg" for w in (self.nose, self.tail))),
            ("capacity used", *(f"{100 * w.capacity_used:.0f} %" for w in (self.nose, self.tail))),
            ("least float, of resting", *(f"{100 * w.least_float_share:.0f} %" for w in (self.nose, self.tail))),
            ("ground bearing used", *(f"{100 * w.ground_used:.0f} %" for w in (self.nose, self.tail))),
            ("least head room", *(f"{w.head_room_m:.2f} m" for w in (self.nose, self.tail))),
            ("least rope left", *(f"{w.rope_left_m:.1f} m" for w in (self.nose, self.tail))),
        ]
        wide = [f"{name:<26}{nose:>12}{tail:>12}" for name, nose, tail in rows]
        return [self.title, f"{'':<26}{'nose unit':>12}{'tail unit':>12}", *wide, *self._ending(), self.caution]

    def _ending(self) -> list[str]:
        if self.last is None:
            return ["no readings"]
        load, minutes = self.last.load, int(self.last.time_s // 60)
        clock = f"{minutes:02d}:{self.last.time_s - 60 * minutes:04.1f}"
        if self.drill is not None:
            end = f"ended after {clock}; load at x {load.x_m:+.2f}, y {load.y_m:+.2f}, z {load.z_m:+.2f} m"
        elif self.landed:
            end = f"landed after {clock} at x {load.x_m:+.2f} m, y {load.y_m:+.2f} m"
        else:
            end = f"not landed after {clock}; load at x {load.x_m:+.2f}, y {load.y_m:+.2f}, z {load.z_m:+.2f} m"
        return [
            f"{'worst sway':<26}{self.sway_m:>10.2f} m",
            f"{'least room to live lane':<26}{self.lane_room_m:>10.2f} m",
            end,
            *self.drill_lines,
            *(f"incident: {text}" for text in self.incidents),
            f"state hash {self.state_hash}",
        ]
