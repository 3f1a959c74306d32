"""A lift in a few figures: an observer of readings, then a table or JSON."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import degrees
from typing import Any

from simulator.readings import Readings, UnitReadings
from simulator.recording.recorded import minutes
from simulator.report.amounts import Amounts
from simulator.report.event_words import event_words


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

    def lines(self, *, us: bool = False) -> list[str]:
        """A table for the terminal, in metres and tonnes or in feet and thousand pounds."""
        amounts, both = Amounts("us" if us else "metric"), (self.nose, self.tail)
        rows = [
            ("peak line load", *(amounts.text(w.line_load_N, "N") for w in both)),
            ("off plumb, any moment", *(f"{degrees(w.off_plumb_rad):.2f} deg" for w in both)),
            ("capacity used", *(amounts.text(w.capacity_used, "share") for w in both)),
            ("least float, of resting", *(amounts.text(w.least_float_share, "share") for w in both)),
            ("ground bearing used", *(amounts.text(w.ground_used, "share") for w in both)),
            ("least head room", *(amounts.text(w.head_room_m, "m") for w in both)),
            ("least rope left", *(amounts.text(w.rope_left_m, "m") for w in both)),
        ]
        wide = [f"{name:<26}{nose:>12}{tail:>12}" for name, nose, tail in rows]
        return [self.title, f"{'':<26}{'nose unit':>12}{'tail unit':>12}", *wide, *self._ending(amounts), self.caution]

    def _ending(self, amounts: Amounts) -> list[str]:
        if self.last is None:
            return ["no readings"]
        load = self.last.load
        x, y, z = (f"{amounts.length(at):+.2f}" for at in (load.x_m, load.y_m, load.z_m))
        how = "ended" if self.drill is not None else "landed" if self.landed else "not landed"
        is_stuck = how == "not landed" and not self.incidents
        return [
            f"{'worst sway':<26}{amounts.text(self.sway_m, 'm'):>12}",
            f"{'least room to live lane':<26}{amounts.text(self.lane_room_m, 'm'):>12}",
            f"{how} after {minutes(self.last.time_s)}; load at x {x}, y {y}, z {z} {amounts.length_unit}",
            *(["why not: ask slopepick check whether this set-up can be lifted at all"] if is_stuck else []),
            *self.drill_lines,
            *(f"incident: {event_words('incident', text, amounts)}" for text in self.incidents),
            f"state hash {self.state_hash}",
        ]
