"""A lift in a few figures: an observer of readings, then a table or JSON."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import isfinite, nan
from typing import Any, NamedTuple

from simulator.events import Happening
from simulator.files.terminal import as_typed
from simulator.readings import Readings
from simulator.recording.counted import Sampled
from simulator.recording.recorded import minutes
from simulator.report.amounts import Amounts
from simulator.report.lift.event_words import account_lines, event_words
from simulator.report.lift.stops_passed import StopsPassed
from simulator.report.lift.worst_values import OF_UNITS
from simulator.scenario.description import Limits
from simulator.scenario.judged_limits import Judged, judged_rows
from simulator.scenario.rig import TWO_BY_ONE, Rig
from simulator.words import phrase, say

LABEL = 30
"""Letters of the first column."""


class WorstOfUnit(NamedTuple):
    """One unit's extremes, each as a recording of the lift has it; not a number where nothing counted."""

    line_load_N: float = nan
    off_plumb_rad: float = nan
    """Mean over a sway period, of a loaded line."""
    capacity_used: float = nan
    least_float_share: float = nan
    ground_used: float = nan
    head_room_m: float = nan
    rope_left_m: float = nan


def _worst(seen: Sampled, end: str) -> WorstOfUnit:
    fields = ("mean_off_plumb_rad" if name == "off_plumb_rad" else name for name in WorstOfUnit._fields)
    return WorstOfUnit(*(seen.worst(f"{end}.{field}") for field in fields))


@dataclass
class Summary:
    """Watches a lift."""

    title: str
    caution: str
    rig: Rig = TWO_BY_ONE
    last: Readings | None = None
    incidents: list[Happening] = field(default_factory=list)
    state_hash: str = ""
    drill: dict[str, Any] | None = None
    """Score and losses of a drill, if the lift was one."""
    account: list[Happening] = field(default_factory=list)
    given_up: Happening | None = None
    """Why it was ended before it was done."""
    every: int = 0
    """Steps from one sample of its extremes to the next, if that is known."""
    limits: Limits = field(default_factory=Limits)
    """Of the scenario."""

    def __post_init__(self) -> None:
        self._stops = StopsPassed(judged_rows(self.limits, self.rig.unit_names))
        self._seen = Sampled(self.rig, every=self.every, also=self._stops)

    def __call__(self, readings: Readings) -> None:
        """Take in a moment."""
        self._seen(readings)
        self.last = readings

    @property
    def units(self) -> dict[str, WorstOfUnit]:
        """Each unit's extremes so far, by its name."""
        return {name: _worst(self._seen, name) for name in self.rig.unit_names}

    @property
    def sway_m(self) -> float:
        """Most of it while the load hung; not a number if it never did."""
        return self._seen.worst("load.sway_m")

    @property
    def lane_room_m(self) -> float:
        """Least room to the live lane."""
        return self._seen.worst("load.lane_room_m")

    @property
    def past_stop(self) -> tuple[Judged, ...]:
        """The readings that passed a stop limit, by the debrief's own rules."""
        return tuple(self._stops)

    @property
    def landed(self) -> bool:
        """The road carries it and nothing went wrong."""
        return self.last is not None and self.last.load.landed and not self.incidents

    def as_json(self) -> dict[str, Any]:
        """Every figure, SI; none where nothing counted."""
        load, worst = self.last.load if self.last else None, self.units
        units = {unit: {name: _known(value) for name, value in one._asdict().items()} for unit, one in worst.items()}
        return {
            "title": self.title,
            "landed": self.landed,
            "incidents": [{"what": one.what, **one.fields} for one in self.incidents],
            "time_s": self.last.time_s if self.last else 0.0,
            **units,
            "peak_line_load_N": _most(*(unit["line_load_N"] for unit in units.values())),
            "worst_off_plumb_rad": _most(*(unit["off_plumb_rad"] for unit in units.values())),
            "past_stop": [
                {"reading": row.key, "worst": _known(self._seen.worst(row.key)), "stop": row.stop}
                for row in self.past_stop
            ],
            "worst_sway_m": _known(self.sway_m),
            "lane_room_m": _known(self.lane_room_m),
            "at_m": [load.x_m, load.y_m, load.z_m] if load else None,
            "at_rad": {"pitch": load.pitch_rad, "yaw": load.yaw_rad, "roll": load.roll_rad} if load else None,
            "state_hash": self.state_hash,
            **({"drill": self.drill} if self.drill is not None else {}),
            **({"given_up": dict(self.given_up.fields)} if self.given_up else {}),
            "caution": self.caution,
        }

    def lines(self, *, us: bool = False, file: str = "FILE") -> list[str]:
        """A table for the terminal, in meters and tonnes or in feet and pounds; `file` holds the scenario."""
        amounts, both = Amounts("us" if us else "metric"), tuple(self.units.values())
        kinds = tuple(zip(OF_UNITS.items(), WorstOfUnit._fields, strict=True))
        rows = [
            (say(f"worst.{field}"), *(amounts.text(getattr(one, name), kind) for one in both))
            for (field, kind), name in kinds
        ]
        wide = [f"{name:<{LABEL}}{''.join(f'{cell:>12}' for cell in cells)}" for name, *cells in rows]
        heads = "".join(f"{f'{name} unit':>12}" for name in self.units)
        return [
            amounts.told(self.title),
            f"{'':<{LABEL}}{heads}",
            *wide,
            *self._ending(amounts, file),
            self.caution,
        ]

    def _ending(self, amounts: Amounts, file: str) -> list[str]:
        if self.last is None:
            return ["no readings"]
        load = self.last.load
        x, y, z = (f"{amounts.length(at):+.2f}" for at in (load.x_m, load.y_m, load.z_m))
        how = "ended" if self.drill is not None else "landed" if self.landed else "not landed"
        is_stuck = how == "not landed" and not self.incidents
        return [
            f"{say('worst.sway_m'):<{LABEL}}{amounts.text(self.sway_m, 'm'):>12}",
            f"{say('worst.lane_room_m'):<{LABEL}}{amounts.text(self.lane_room_m, 'm'):>12}",
            f"{how} after {minutes(self.last.time_s)}; load at x {x}, y {y}, z {z} {amounts.length_unit}",
            *self._condemned(amounts),
            *([event_words(self.given_up, amounts)] if self.given_up else []),
            *([next_check(file)] if is_stuck else []),
            *account_lines(self.account, amounts),
            *(f"incident: {event_words(one, amounts)}" for one in self.incidents),
            f"state hash {self.state_hash}",
        ]

    def _condemned(self, amounts: Amounts) -> list[str]:
        """The stop limits that were passed, in a line: whatever became of the load."""
        rows = [
            say(
                "summary.past_stop_row",
                who=phrase("load" if row.end is None else f"{self.rig.unit_names[row.end]} unit"),
                what=phrase(row.label),
                worst=amounts.text(self._seen.worst(row.key), row.kind),
                stop=amounts.text(row.stop, row.kind),
            )
            for row in self.past_stop
        ]
        return [say("summary.past_stop", rows="; ".join(rows))] if rows else []


def next_check(file: str) -> str:
    """What to do next with a scenario that is new, or was not landed: ask whether it can be lifted at all."""
    return say("program.next_check", file=as_typed(file))


def _known(value: float) -> float | None:
    return value if isfinite(value) else None


def _most(*values: float | None) -> float | None:
    """The most of what is known; none if nothing is."""
    return max((value for value in values if value is not None), default=None)
