"""A partner of adjustable skill, and one with a fault: for showing what goes wrong and what it costs."""

from __future__ import annotations

from collections import deque
from math import copysign, sqrt
from random import Random

from simulator.drill.agreed_path import agreement
from simulator.drill.maneuvers import LIFT_SPEED_MPS, ON_THE_BED
from simulator.drill.own_lines import SLACK_OUT_N, hook_z_m, own_lines
from simulator.drill.partner import Partner
from simulator.drill.steering import Aim, steer
from simulator.drill.turned_badly import TurnedBadly
from simulator.drill.ways import FAULTS, SKILLS, TURN_FAULTS, WAYS, Fault
from simulator.engine.commands import Hands
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of

SLOWEST_REACTION_S = 1.2
COARSEST = 0.5
"""The least skilled hand moves a lever in steps of this, or in touches where less is wanted."""
WIDEST_M = 0.4
"""How far beside the mark the least skilled eye takes the hook to be."""
LOOKS_EVERY_S = 4.0
"""How long it goes on believing so."""
LEARNS_IN = 4.0
"""Looks at one kind of work after which the eye errs by 0.7 of what it did: who looks again sees better, so that a tip
is not led after the eye's mistakes for ever. Our choice, no source."""
HOISTING: tuple[Fault, ...] = ("hoists straight on", "hoists early", "stays out of plumb")
STRAIGHT_MPS = 0.10
HAND_WIDTH_M = 0.3
"""Height over the bed at which the straight hoisting ends."""
CHASE_PER_RAD = 60.0
"""Slew command for each radian that the hook is seen off plumb."""
SEEN_RAD = 0.001
CHASE_LATE_S = 1.2
"""From seeing the hook to the lever moving; the slew drive's own ramp comes on top."""
STOPS_AFTER_S = 1.0
ALONE_MPS = 0.25
"""How fast a unit that goes on alone takes its end up, whatever the other does."""
SHOWS_S = 30.0
"""How long hands that hoist out of turn go their own way; then they let down, and do what is to be done."""
WAITS_S = 15.0
"""How long of it they wait for the other line to bear."""
LETS_DOWN_MPS = 0.06


class Clumsy:
    """A partner whose hands are late, coarse and beside the mark, or who has one fault."""

    def __init__(
        self, description: Description, end: int, *, skill: float = 0.5, fault: Fault | None = None, seed: int = 1
    ) -> None:
        """
        Args:
            description: the lift.
            end: place of the unit whose seat it is.
            skill: 1 as good as the partner, 0 the worst there is.
            fault: done instead of what the partner would do, whenever it applies.
            seed: of what is drawn by lot.
        """
        self._partner = Partner(description, end)
        self._unit, self._end, self._fault = description.units[end], end, fault
        self._rig_unit = rig_of(description).units[end]
        self._low = 1.0 - min(1.0, max(0.0, skill)) if fault is None else 0.0
        self._draw = Random(seed * 2 + end)
        self._beside = (0.0, 0.0)
        self._looked_s = -LOOKS_EVERY_S
        self._looks = 0
        self._owed = [0.0] * len(self._rig_unit.levers)
        self._late: deque[Hands] = deque()
        reaction_s = CHASE_LATE_S if fault == "chases sway" else SLOWEST_REACTION_S * self._low
        engine = description.engine
        self._delay = round(reaction_s * engine.readings_per_s / engine.asked_every)
        self._agreed = agreement(description)
        self._description = description
        self._work_since_s = 0.0
        self._working = ""
        self._own_way_s: float | None = None
        self._came_round = False
        self._turned_badly = TurnedBadly(description, end, fault) if fault in TURN_FAULTS else None

    @property
    def doing(self) -> str:
        """What it is at, in words."""
        return self._fault or self._partner.doing

    def follow(self, began: Readings, step: int) -> None:
        """Take up a step of the drill."""
        self._partner.follow(began, step)

    def command(self, readings: Readings) -> Hands:
        """What these hands do now."""
        if self._partner.work != self._working:
            self._working, self._work_since_s, self._looks = self._partner.work, readings.time_s, 0
        if self._fault is not None:
            return self._faulty(readings)
        return self._after_a_while(self._coarse(self._partner.command(self._seen(readings))))

    def _after_a_while(self, wanted: Hands) -> Hands:
        """What was wanted a reaction time ago."""
        self._late.append(wanted)
        return self._late.popleft() if len(self._late) > self._delay else self._rig_unit.hands()

    def _seen(self, readings: Readings) -> Readings:
        """Readings with its own hook taken to be where it is not."""
        mine, own = readings.units[self._end], own_lines(readings, self._rig_unit)
        if readings.time_s - self._looked_s >= LOOKS_EVERY_S:
            self._looked_s = readings.time_s
            self._beside = self._miss(), self._miss()
            self._looks += 1
        x, y = self._beside
        lines = list(readings.lines)
        for line, now in zip(self._rig_unit.lines, own, strict=True):
            lines[line.place] = now._replace(hook_x_m=now.hook_x_m + x, hook_y_m=now.hook_y_m + y)
        seen = mine._replace(hook_x_m=mine.hook_x_m + x, hook_y_m=mine.hook_y_m + y)
        return readings.with_unit(self._end, seen)._replace(lines=tuple(lines))

    def _miss(self) -> float:
        return self._draw.gauss(0.0, 0.5) * WIDEST_M * self._low / sqrt(1.0 + self._looks / LEARNS_IN)

    def _coarse(self, hands: Hands) -> Hands:
        """Levers in steps; what a step gives too little or too much is made up for by the next."""
        grain = COARSEST * self._low
        if grain <= 0.0 or not any(hands):
            self._owed = [0.0] * len(hands)
            return hands
        given = []
        for index, wanted in enumerate(hands):
            step = max(-1.0, min(1.0, round((wanted + self._owed[index]) / grain) * grain)) if wanted else 0.0
            self._owed[index] = max(-grain, min(grain, self._owed[index] + wanted - step)) if wanted else 0.0
            given.append(step)
        return tuple(given)

    def _faulty(self, readings: Readings) -> Hands:
        hands = self._partner.command(readings)
        fault, work = self._fault, self._partner.work
        if self._turned_badly is not None:
            return self._turned_badly.hands(readings, hands) if work == "turn" else hands
        if fault in HOISTING:
            return self._own_way(readings, hands)
        if fault == "slews only" and work == "cross":
            return self._rig_unit.hands(slew=0.4)
        if fault == "chases sway" and readings.load.ground_N <= 0.0:
            return self._chasing(readings, hands)
        if fault == "stops alone" and work in ("raise", "cross", "lower"):
            return hands if readings.time_s - self._work_since_s < STOPS_AFTER_S else self._rig_unit.hands()
        if fault == "goes on alone" and (work in ("raise", "cross") or self._holds(readings)):
            return self._alone(readings, work)
        return hands

    def _up(self, hook_mps: float) -> Hands:
        """All its hooks alike."""
        levers = [lever.key for lever in self._rig_unit.levers if lever.function == "hoist"]
        asked = [hook_mps * line.hoist.parts / line.hoist.speed_mps for line in self._unit.lines]
        return self._rig_unit.hands(**{key: max(-1.0, min(1.0, one)) for key, one in zip(levers, asked, strict=True)})

    def _own_way(self, readings: Readings, hands: Hands) -> Hands:
        """Up while the load lies, whatever is to be done; and what a step that cannot end like that asks for after all:
        line down until it is slack, then as the partner does."""
        if self._came_round or self._partner.work not in ON_THE_BED:
            return hands
        if self._own_way_s is None:
            self._own_way_s = readings.time_s
        lasts_s = readings.time_s - self._own_way_s
        if lasts_s < SHOWS_S:
            return self._hoisting(readings, lasts_s)
        self._came_round = self._partner.work != "plumb the tips" or readings.units[self._end].slack
        return hands if self._came_round else self._up(-LETS_DOWN_MPS)

    def _hoisting(self, readings: Readings, lasts_s: float) -> Hands:
        """The tip left where it stands, a hand's width up: at once, or slowly, or slowly and waiting for the other."""
        mine = readings.units[self._end]
        others = [unit for unit in readings.units if unit is not mine]
        waits = self._fault == "stays out of plumb" and lasts_s < WAITS_S
        if readings.load.height_over_bed_m >= HAND_WIDTH_M:
            return self._rig_unit.hands()
        if waits and mine.hook_load_N > SLACK_OUT_N and any(other.hook_load_N < SLACK_OUT_N for other in others):
            return self._rig_unit.hands()
        return self._up(STRAIGHT_MPS if self._fault == "hoists straight on" else LIFT_SPEED_MPS)

    def _chasing(self, readings: Readings, hands: Hands) -> Hands:
        """Levers full over after the hook: whatever it does this moment is taken for where it hangs."""
        across = readings.units[self._end].off_plumb_across_rad
        slew = copysign(min(1.0, CHASE_PER_RAD * abs(across)), across) if abs(across) > SEEN_RAD else 0.0
        late = self._after_a_while(self._rig_unit.hands(slew=slew))
        is_slew = [lever.function == "slew" for lever in self._rig_unit.levers]
        return tuple(chased if own else pulled for own, chased, pulled in zip(is_slew, late, hands, strict=True))

    def _holds(self, readings: Readings) -> bool:
        """The load hangs, and nobody is to move."""
        return self._partner.work in ("hold", "wait") and readings.load.ground_N <= 0.0

    def _alone(self, readings: Readings, work: str) -> Hands:
        """Its own pace, whatever the other unit does: up while there is any way to go, a hold or not; then across."""
        mine = readings.units[self._end]
        if work != "cross":
            goal = self._description.path.belly_over_road_m + self._agreed.hook_over_belly_m[self._end]
            return self._up(ALONE_MPS if hook_z_m(readings, self._rig_unit) < goal else 0.0)
        x, z = self._agreed.tips_x_m[self._end], self._description.path.tip_height_m
        y = self._agreed.lands_y_m + self._agreed.tip_y_over_reference_m[self._end]
        speed = 0.12 if mine.tip_y_m < y else 0.0
        aim = Aim((x, mine.tip_y_m, z), (0.0, speed, 0.0), 0.0)
        return steer(self._unit, self._rig_unit, readings, aim)


def operator_of(description: Description, end: int, way: str, *, seed: int = 1) -> Partner | Clumsy:
    """An automatic operator who drives in one of `WAYS`; `seed` is of what clumsy hands draw by lot.

    Raises:
        ValueError: there is no such way.
    """
    if way not in WAYS:
        raise ValueError(f"given {way!r}, allowed: {', '.join(WAYS)}")
    if way == "able":
        return Partner(description, end)
    fault: Fault | None = next((one for one in FAULTS if one == way), None)
    return Clumsy(description, end, skill=SKILLS.get(way, 1.0), fault=fault, seed=seed)
