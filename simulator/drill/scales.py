"""What a load tells while it is taken and held, from readings alone: bounds on the bed, then weight and heavy end."""

from __future__ import annotations

from math import pi
from typing import Literal, NamedTuple

from simulator.drill.own_lines import at_rest
from simulator.mechanics.trailer_body import body
from simulator.mechanics.weighing import Bounds, Errors, Reading, Weighed, bounds, weigh
from simulator.mechanics.weighing_doubts import Doubt, contradictions, refusals
from simulator.mechanics.weighing_lift import ends_of, most_N, nose_most_m, papers_of, reading_of
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import rig_of

State = Literal["nothing", "on the bed", "moving", "held", "went on"]
LEAST_HELD_S = 2.0
"""Nothing is weighed in a shorter hold, nor before a whole sway period. Our choice, no source."""
WEIGHED_M = 0.2
"""The loads of a load that sways more than this are not weighed."""
SWAY_LEFT = 0.25
"""Of the sway's angle that stays in a mean over periods that are never quite whole. Our choice, no source."""
AGAIN_S = 1.0
"""A hold that goes on is weighed anew so often, each time with all that was read in it."""
WENT_ON_M = 0.5
"""So high over the ground the load was lifted on, whatever it may weigh."""
OFF_SHARE, OFF_M = 0.05, 0.3
"""Off the papers by so much of the weight or so far along. Our choice, no source."""


class Center(NamedTuple):
    """Where along the load its weight is, from the nose-most pick toward the tail end."""

    from_loads_m: float
    spread_m: float
    """Of that."""
    true_m: float
    """Which only the end of a drill may tell."""
    stated_m: float


def center_of(description: Description, found: Weighed) -> Center:
    """What the loads said, beside the truth and the papers."""
    nose_m, true_m = nose_most_m(description), body(description.trailer).cg_m[0]
    return Center(found.cg_m[0] - nose_m, found.spread_m[0], true_m - nose_m, -nose_m)


class Scales:
    """Looks at a lift from moment to moment; gauges are at the hooks, and each is good to `Errors().gauge_share`."""

    state: State
    reading: Reading | None
    """What the last hold told it by, kept until the load is set down."""
    errors: Errors
    found_s: float
    """When it was told."""
    _sums: list[float]
    _count: int
    _since_s: float
    _sway_m: float

    def __init__(self, description: Description) -> None:
        self._description = description
        self._units = rig_of(description).units
        self._slack_N = description.limits.slack_N
        self._ends = ends_of(description)
        self.forget()

    def forget(self) -> None:
        """Begin anew, as after a step back."""
        self.state, self.reading, self.errors, self.found_s = "nothing", None, Errors(), 0.0
        self.found: Weighed | None = None
        """What the last hold told, kept until the load is set down."""
        self._let_go_of_means()

    def _let_go_of_means(self) -> None:
        self._sums, self._count, self._since_s, self._sway_m = [], 0, 0.0, 0.0

    def see(self, now: Readings) -> None:
        """Take in a moment."""
        if all(line.hook_load_N < self._slack_N for line in now.lines):
            if self.state != "nothing":
                self.forget()
            return
        if self.state == "went on" or now.load.height_over_bed_m >= WENT_ON_M:
            self.state = "went on"  # until it is set down and the lines are slack
        elif now.load.ground_N > 0.0:
            self.found, self.reading, self.state = None, None, "on the bed"
            self._let_go_of_means()
        elif all(at_rest(now, unit) for unit in self._units):
            self.state = "held"
            self._hold(now)
        else:
            self.state = "moving"
            self._let_go_of_means()

    def _hold(self, now: Readings) -> None:
        load = now.load
        row = [load.pitch_rad, load.yaw_rad, load.roll_rad]
        for line in now.lines:
            row += [line.line_load_N, line.off_plumb_along_rad, line.off_plumb_across_rad]
        self._since_s = now.time_s if not self._count else self._since_s
        self._sums = [total + value for total, value in zip(self._sums or [0.0] * len(row), row, strict=True)]
        self._count, self._sway_m = self._count + 1, load.sway_m
        held_s = now.time_s - self._since_s
        is_due = self.found is None or now.time_s - self.found_s >= AGAIN_S or self.found_s < self._since_s
        if is_due and held_s >= max(LEAST_HELD_S, load.sway_period_s) and load.sway_m <= WEIGHED_M:
            self._weigh(load.sway_period_s)
            self.found_s = now.time_s

    def _weigh(self, period_s: float) -> None:
        pitch, yaw, roll, *of_lines = (total / self._count for total in self._sums)
        names = [line.name for unit in self._units for line in unit.lines]
        leans = {name: (of_lines[3 * n + 1], of_lines[3 * n + 2]) for n, name in enumerate(names)}
        long_m = STANDARD_GRAVITY_MPS2 * (period_s / (2.0 * pi)) ** 2
        self.errors = Errors(sway_rad=SWAY_LEFT * self._sway_m / long_m)
        self.reading = reading_of(self._description, of_lines[::3], leans_rad=leans, pitch_rad=pitch, yaw_rad=yaw,
                                  roll_rad=roll)  # fmt: skip
        if any(True for _ in refusals(self.reading, self.errors)):
            self.reading = self.found = None
            return
        self.weigh_again()

    def weigh_again(self) -> None:
        """Work out what the last hold told from what it was told by."""
        reading = self.reading
        self.found = None if reading is None else weigh([reading], self.errors, self._ends, most_pitch_rad=0.0)

    @property
    def is_off_papers(self) -> bool:
        """So far that it is worth asking whether the rest of the path holds."""
        if self.found is None:
            return False
        off = abs(self.found.weight_N / papers_of(self._description).weight_N - 1.0)
        return off > OFF_SHARE or abs(self.found.cg_m[0]) > OFF_M

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        """What speaks against what was found."""
        if self.reading is None or self.found is None:
            return ()
        papers = papers_of(self._description)
        return tuple(contradictions(self.reading, self.errors, self._ends, self.found, papers))

    def bounds(self, now: Readings) -> Bounds:
        """What can be said while part of the load lies on the bed."""
        loads = [line.line_load_N for line in now.lines]
        load = now.load
        reading = reading_of(self._description, loads, pitch_rad=load.pitch_rad, yaw_rad=load.yaw_rad,
                             roll_rad=load.roll_rad)  # fmt: skip
        return bounds(reading, Errors(), self._ends, most_N=most_N(self._description))
