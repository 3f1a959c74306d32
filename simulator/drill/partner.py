"""An automatic operator for either seat. It sees readings and the agreed path, and acts through commands alone.

Two of them make the demonstration: both read the same readings and go through the same stages, the leader setting the
pace across and the other following the leader's tip. In a drill they do the work of the step that the pair is in.
"""

from __future__ import annotations

from simulator.drill.manoeuvres import PLUMBED_M, SLACK_OUT_N, SPARE_SHARE, STEADY_M, Hands, at_rest, off_m, still
from simulator.drill.steering import steer
from simulator.engine.commands import UnitCommands
from simulator.readings import Readings
from simulator.scenario.description import END_NAMES, Description

PATIENCE_S = 4.0
"""The other unit at rest for so long has done what it means to do: what it is told asks for no more."""
NEAR_M = 0.3
"""And a tip of its that rests this near to its landing place is there."""
STAGES = ("plumb the tips", "take slack", "lift off", "hold", "raise", "cross", "steady", "lower", "slack off", "done")
"""What the pair does, in order, when no drill says otherwise."""


class Partner:
    """One automatic operator."""

    def __init__(self, description: Description, end: int, *, spare_share: float = SPARE_SHARE) -> None:
        """
        Args:
            description: the lift.
            end: the seat.
            spare_share: share of a function's top speed that the crossing may ask for.
        """
        self._description = description
        self._end = end
        self._unit = description.units[end]
        self._hands = Hands(description, end, spare_share=spare_share)
        self.stage = 0
        self._began: Readings | None = None
        self._other_moved_s = 0.0
        self.step = -1
        """Step of the drill it is in; none yet."""

    @property
    def doing(self) -> str:
        """What it is at, in words."""
        return self.work

    @property
    def work(self) -> str:
        """The kind of work it is at."""
        drill = self._description.drill
        return STAGES[self.stage] if drill is None else drill.steps[max(0, self.step)].work

    def follow(self, began: Readings, step: int) -> None:
        """Take up the work of a step, if it has just begun or begun anew."""
        if began is self._began or self._description.drill is None:
            return
        self.step, self._began = step, began
        self.stage = STAGES.index(self.work) if self.work in STAGES else self.stage
        self._hands.begin(began)

    def command(self, readings: Readings) -> UnitCommands:
        """What this operator's hands do now."""
        if not at_rest(readings.units[1 - self._end]):
            self._other_moved_s = readings.time_s
        if self._description.drill is None and self._ready(readings):
            self.stage += 1
            self._hands.begin(readings)
        aim = self._hands.aim(self.work, readings, alone=self._alone)
        if aim is None or not self.my_turn:
            return UnitCommands()
        return steer(self._unit, self._end, readings.units[self._end], aim)

    @property
    def my_turn(self) -> bool:
        """False in a step of the drill that somebody else moves in, or nobody."""
        drill = self._description.drill
        return drill is None or drill.steps[max(0, self.step)].moves in ("both", END_NAMES[self._end])

    @property
    def _alone(self) -> bool:
        """In a step of a drill in which this unit alone moves."""
        drill = self._description.drill
        return drill is not None and drill.steps[max(0, self.step)].moves != "both"

    def _ready(self, readings: Readings) -> bool:
        """The present stage is done, as anyone could read.

        Its own part to its own measure. Of the other, who may be a person, what is enough for the roses: when it rests.
        """
        load, units, limits = readings.load, readings.units, self._description.limits
        mine, other = units[self._end], units[1 - self._end]
        rests = readings.time_s - self._other_moved_s > PATIENCE_S
        waited = readings.time_s - self._hands.since_s
        name = STAGES[self.stage]
        if name == "plumb the tips":
            other_is_plumb = off_m(other) < PLUMBED_M and still(other)
            other_is_done = (rests and other.off_plumb_rad <= limits.plumb_rad) or other.hook_load_N > SLACK_OUT_N
            return waited > 1.0 and off_m(mine) < PLUMBED_M and still(mine) and (other_is_plumb or other_is_done)
        if name == "take slack":
            return all(unit.hook_load_N > SLACK_OUT_N for unit in units)
        if name == "lift off":
            return load.ground_N <= 0.0 and load.height_over_bed_m >= self._description.path.hold_height_m
        if name == "hold":
            return waited >= self._description.path.hold_s
        if name == "raise":
            is_level = abs(load.pitch_rad) < 0.01 or (rests and abs(load.pitch_rad) < limits.pitch_caution_rad)
            return abs(self._hands.to_raise_m(readings)) < 0.05 and is_level
        if name == "cross":
            off = [abs(unit.tip_y_m - self._hands.landing_tip_y(i)) for i, unit in enumerate(units)]
            return max(off) < 0.05 or (rests and at_rest(mine) and max(off) < NEAR_M)
        if name == "steady":
            return waited > load.sway_period_s and (load.sway_m < STEADY_M or waited > 12.0 * load.sway_period_s)
        if name == "lower":
            return all(unit.slack for unit in units)
        return name == "slack off" and (load.landed or waited > 10.0)
