"""An automatic operator for any seat. It sees readings and the agreed path, and acts through commands alone.

Two of them make the demonstration: both read the same readings and go through the same stages, the leader setting the
pace across and the other following the leader's tip. In a drill they do the work of the step that the pair is in. A
lone unit's operator goes through the same stages and waits for nobody.
"""

from __future__ import annotations

from simulator.drill import maneuvers
from simulator.drill.maneuvers import PLUMBED_M, SPARE_SHARE, STEADY_M
from simulator.drill.own_lines import SLACK_OUT_N, at_rest, off_m, still
from simulator.drill.steering import steer
from simulator.engine.commands import Hands
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import RigUnit, rig_of

PATIENCE_S = 4.0
"""The other unit at rest for so long has done what it means to do: what it is told asks for no more."""
NEAR_M = 0.3
"""And a tip of its that rests this near to its landing place is there."""
STAGES = ("plumb the tips", "take slack", "lift off", "hold", "raise", "cross", "steady", "lower", "slack off", "done")
"""What the pair does, in order, when no drill says otherwise."""
TURNING = (*STAGES[: STAGES.index("lower")], "turn", *STAGES[STAGES.index("lower") :])
"""The same where the load is turned over in the air."""


def stages_of(description: Description) -> tuple[str, ...]:
    """What the pair of a lift does, in order."""
    return TURNING if description.lands_turned_rad else STAGES


class Partner:
    """One automatic operator."""

    stage: int
    step: int
    """Step of the drill it is in; -1: none yet."""
    _began: Readings | None
    _other_moved_s: float
    _hands: maneuvers.Hands

    def __init__(self, description: Description, end: int, *, spare_share: float = SPARE_SHARE) -> None:
        """
        Args:
            description: the lift.
            end: place of the unit whose seat it is.
            spare_share: share of a function's top speed that the crossing may ask for.
        """
        self._description = description
        self.place = end
        """Of its unit, in the rig's order."""
        self._unit = description.units[end]
        rig = rig_of(description)
        self._rig_unit = rig.units[end]
        self._others = tuple(unit for unit in rig.units if unit.place != end)
        self._hands = maneuvers.Hands(description, end, spare_share=spare_share)
        self.stages = stages_of(description)
        self.stage, self.step = 0, -1
        self._began, self._other_moved_s = None, 0.0

    @property
    def doing(self) -> str:
        """What it is at, in words."""
        return self.work

    @property
    def work(self) -> str:
        """The kind of work it is at."""
        drill = self._description.drill
        return self.stages[self.stage] if drill is None else drill.steps[max(0, self.step)].work

    def follow(self, began: Readings, step: int) -> None:
        """Take up the work of a step, if it has just begun or begun anew."""
        if began is self._began or self._description.drill is None:
            return
        self.step, self._began = step, began
        self.stage = self.stages.index(self.work) if self.work in self.stages else self.stage
        self._hands.begin(began, self._description.drill.steps[step])

    def command(self, readings: Readings) -> Hands:
        """What this operator's hands do now."""
        if not all(at_rest(readings, other) for other in self._others):
            self._other_moved_s = readings.time_s
        if self._description.drill is None and self._ready(readings):
            self.stage += 1
            self._hands.begin(readings)
        aim = self._hands.aim(self.work, readings, alone=self._alone)
        if aim is None or not self.my_turn:
            return self._rig_unit.hands()
        return steer(self._unit, self._rig_unit, readings, aim)

    @property
    def my_turn(self) -> bool:
        """False in a step of the drill that somebody else moves in, or nobody."""
        drill = self._description.drill
        return drill is None or drill.steps[max(0, self.step)].moves in ("both", self._rig_unit.name)

    @property
    def _alone(self) -> bool:
        """In a step of a drill in which this unit alone moves."""
        drill = self._description.drill
        return drill is not None and drill.steps[max(0, self.step)].moves != "both"

    def _ready(self, readings: Readings) -> bool:
        """The present stage is done, as anyone could read.

        Its own part to its own measure. Of another, who may be a person, what is enough for the roses: when it rests.
        """
        load, limits, mine = readings.load, self._description.limits, self._rig_unit
        rests = readings.time_s - self._other_moved_s > PATIENCE_S
        waited = readings.time_s - self._hands.since_s
        name = self.stages[self.stage]
        if name == "plumb the tips":
            is_plumb = waited > 1.0 and off_m(readings, mine) < PLUMBED_M and still(readings, mine)
            return is_plumb and all(self._has_plumbed(readings, other, rests=rests) for other in self._others)
        if name == "take slack":
            return all(line.hook_load_N > SLACK_OUT_N for line in readings.lines)
        if name == "lift off":
            return load.ground_N <= 0.0 and load.height_over_bed_m >= self._description.path.hold_height_m
        if name == "hold":
            return waited >= self._description.path.hold_s
        if name == "raise":
            is_level = abs(load.pitch_rad) < 0.01 or (rests and abs(load.pitch_rad) < limits.pitch_caution_rad)
            return abs(self._hands.to_raise_m(readings)) < 0.05 and is_level
        if name == "cross":
            off = [abs(unit.tip_y_m - self._hands.landing_tip_y(i)) for i, unit in enumerate(readings.units)]
            return max(off) < 0.05 or (rests and at_rest(readings, mine) and max(off) < NEAR_M)
        if name == "steady":
            return waited > load.sway_period_s and (load.sway_m < STEADY_M or waited > 12.0 * load.sway_period_s)
        if name == "turn":
            return waited > load.sway_period_s and self._hands.has_turned(readings)
        if name == "lower":
            return all(line.slack for line in readings.lines)
        return name == "slack off" and (load.landed or waited > 10.0)

    def _has_plumbed(self, readings: Readings, other: RigUnit, *, rests: bool) -> bool:
        """Another unit's tip is plumb, or as near as its operator means it to be, or it has taken weight."""
        if off_m(readings, other) < PLUMBED_M and still(readings, other):
            return True
        unit, limits = readings.units[other.place], self._description.limits
        return (rests and unit.off_plumb_rad <= limits.plumb_rad) or unit.hook_load_N > SLACK_OUT_N
