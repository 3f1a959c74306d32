"""The coach: one voice. Whose move, one short sentence, and on request the hand calculation behind it."""

from __future__ import annotations

from math import atan, atan2, cos, degrees, hypot
from typing import Literal, NamedTuple

from simulator.drill.amounts import Amount, Words, words
from simulator.drill.conditions import channel_of, plumb_enough_rad
from simulator.drill.manoeuvres import LEVEL_M, MOVING_MPS, SLACK_OUT_N, Hands, moves_on_bed, off_m
from simulator.drill.progress import Progress
from simulator.drill.reckoning import CentreOfGravity
from simulator.drill.steering import Aim, steer
from simulator.drill.sway_means import Averages
from simulator.drill.voice_signals import LEAST_SAID_M, SLOW_MPS, Signal, largest, spoken
from simulator.readings import Readings, UnitReadings
from simulator.scenario.description import END_NAMES, Description
from simulator.scenario.drill import Condition
from simulator.words import say

STAYS_S = 1.0
"""A prompt stays at least so long, unless the next one is to stop or to wait."""
SAID_AGAIN_S = 6.0
"""The same order with another distance is said again only after so long."""
LEAST_HOIST_MPS = 0.01
IN_STEP_M = 0.3
"""Tips this much apart across, or off the agreed line along, are put right before they go on."""
LOW_M = 0.15
"""A hook that hangs lower than agreed by this is brought up before the tips go on: what it passes is near."""
SWAY_M = 0.10
"""Sway that is waited out."""
SWAY_PERIODS = 4.0
"""For at most so many periods where it stays under the lift's caution: a small sway takes long to die."""
SET_DOWN_M = 0.5
"""This near to the ground a load that sways is set down again."""
LEAST_DROP_M = 0.1
"""Of a tip over its hook, where an angle is reckoned from it."""
COMPARED = {"<": "under", "<=": "under", ">": "over", ">=": "over", "within": "within", "beyond": "beyond"}
PLAIN = str.maketrans("._", "  ")
STILL_WORK = ("lift off", "hold", "raise", "steady", "lower", "centre")
"""Work in which a load that sways is waited for."""

Kind = Literal["stop", "wait", "move", "hold", "done"]


class Prompt(NamedTuple):
    """What the coach says."""

    kind: Kind
    mover: Literal["nose", "tail", "both", "none"]
    sentence: str
    reason: str
    """The hand calculation behind it, for those who ask."""
    signal: Signal | None = None


class Draft(NamedTuple):
    """A prompt before it is put into somebody's units."""

    kind: Kind
    mover: Literal["nose", "tail", "both", "none"]
    order: Words | Signal
    why: Words

    @property
    def key(self) -> tuple[object, ...]:
        """What makes it another order, and not the same with another distance."""
        order = self.order
        return (self.kind, self.mover, *((order.function, order.sign) if isinstance(order, Signal) else (order,)))

    def said(self, *, us: bool) -> Prompt:
        """In metres or in feet."""
        order, why = self.order, self.why.said(us=us)
        if isinstance(order, Signal):
            return Prompt(self.kind, self.mover, spoken(order, us=us), why, order)
        return Prompt(self.kind, self.mover, order.said(us=us), why)


class Coach:
    """Reads along and says one thing at a time."""

    def __init__(self, description: Description, *, us: bool = False) -> None:
        self._description = description
        self.us = us
        """It speaks in feet and thousand pounds."""
        self._averages = Averages()
        self._hands = (Hands(description, 0), Hands(description, 1))
        self._began: Readings | None = None
        self._said_s = 0.0
        self._sways_since_s: float | None = None
        self._draft = _hold("coach.why_hold_lies")

    @property
    def prompt(self) -> Prompt:
        """What it says now."""
        return self._draft.said(us=self.us)

    def see(self, now: Readings, at: Progress, *, stopped: bool = False) -> None:
        """Take in a moment and say what is to be said."""
        self._averages.see(now)
        begins = self._began is not at.began
        if begins:
            self._began = at.began
            for hands in self._hands:
                hands.begin(now)
        draft = self._urgent(now, at, stopped=stopped)
        urgent = draft is not None and draft.kind in ("stop", "wait") and draft.kind != self._draft.kind
        waited = now.time_s - self._said_s
        if not (urgent or begins or waited >= STAYS_S):
            return
        draft = draft or self._order(now, self._averages.of(now), at)
        if draft.key != self._draft.key or waited >= SAID_AGAIN_S or begins:
            self._said_s = now.time_s
            self._draft = draft

    def mean_loads(self) -> tuple[float, float, float]:
        """Nose and tail hook load, and pitch, over the last sway period."""
        return self._averages.loads

    def _urgent(self, now: Readings, at: Progress, *, stopped: bool) -> Draft | None:
        """Stop, done, wait: what goes before any order."""
        load = now.load
        if stopped:
            return Draft("stop", "none", words("coach.drill_stop"), words("coach.why_stop"))
        if at.done:
            return Draft("done", "none", words("coach.drill_done"), words(""))
        if moves_on_bed(now) and at.step.work != "slack off":
            speed = hypot(load.vx_mps, load.vy_mps)
            why = words("coach.why_wait_bed", speed=Amount(speed, "m/s", 3), bound=Amount(MOVING_MPS, "m/s", 3))
            return Draft("wait", "none", words("coach.drill_wait_bed"), why)
        if self._waits_for_sway(now, at):
            sway, period = Amount(load.sway_m, "m", 2), f"{load.sway_period_s:.1f}"
            key = "coach.drill_settle_sway" if load.height_over_bed_m < SET_DOWN_M else "coach.drill_wait_sway"
            return Draft("wait", "none", words(key), words("coach.why_wait_sway", sway=sway, period=period))
        return _holding(now) if at.step.moves == "none" else None

    def _waits_for_sway(self, now: Readings, at: Progress) -> bool:
        load = now.load
        if load.ground_N > 0.0 or load.sway_m <= SWAY_M or at.step.work not in STILL_WORK:
            self._sways_since_s = None
            return False
        self._sways_since_s = now.time_s if self._sways_since_s is None else self._sways_since_s
        waited_s = now.time_s - self._sways_since_s
        far = load.sway_m >= self._description.limits.sway_caution_m
        return far or waited_s < SWAY_PERIODS * load.sway_period_s

    def _order(self, now: Readings, means: Readings, at: Progress) -> Draft:
        """The next signal: plumb before hoisting, and the seat that has further to go before the other."""
        seats = [end for end in (0, 1) if at.step.moves in ("both", END_NAMES[end])]
        alone = at.step.moves != "both"
        aims = {end: self._hands[end].aim(at.step.work, means, alone=alone) for end in seats}
        wanted = {end: aim for end, aim in aims.items() if aim is not None}
        off = {end: off_m(means.units[end]) for end in wanted} if now.load.ground_N > 0.0 else {}
        plumb = [end for end in off if self._lean_rad(end, means) > self._plumb_enough_rad(end, at)]
        if plumb:
            end = max(plumb, key=lambda one: off[one])
            return self._boom(end, means, wanted[end], off[end], self._why_plumb(end, means))
        if at.step.work == "cross":
            return self._across(seats, means)
        hoists = [end for end, aim in wanted.items() if abs(aim.hook_up_mps) > LEAST_HOIST_MPS]
        if hoists:
            return self._hoist(hoists, means, wanted, at)
        return _waiting_for(at.missing(now))

    def _lean_rad(self, end: int, means: Readings) -> float:
        unit = means.units[end]
        return atan2(off_m(unit), _drop_m(unit))

    def _plumb_enough_rad(self, end: int, at: Progress) -> float:
        return plumb_enough_rad(END_NAMES[end], at.step, self._description.limits)

    def _across(self, seats: list[int], means: Readings) -> Draft:
        """A hook off its height first, then a tip off its line along the road, then the one that lags, then both."""
        rests = {end: self._hands[end].landing_tip_y(end) - means.units[end].tip_y_m for end in seats}
        last = max(seats, key=lambda end: abs(rests[end]))
        why = words("coach.why_across", rest=Amount(abs(rests[last]), "m"))
        low = max(seats, key=lambda end: abs(self._hands[end].to_raise_m(means)))
        rise_m = self._hands[low].to_raise_m(means)
        if not -IN_STEP_M < rise_m < LOW_M:
            return _said(Signal(_name(low), "hoist", 1 if rise_m > 0.0 else -1, abs(rise_m), slow=True), why)
        off = max(seats, key=lambda end: abs(self._off_line_m(end, means)))
        if abs(self._off_line_m(off, means)) > IN_STEP_M:
            return self._onto_its_line(off, means, why)
        apart = abs(rests[last]) - min(abs(rest) for rest in rests.values())
        whose = "both" if len(seats) == 2 and apart < IN_STEP_M else _name(last)
        sign = 1 if rests[last] > 0.0 else -1
        return _said(Signal(whose, "slew", sign, abs(rests[last]), slow=True), why)

    def _off_line_m(self, end: int, means: Readings) -> float:
        """How far a tip has to go along the road to its line."""
        return self._hands[end].agreed.tips_x_m[end] - means.units[end].tip_x_m

    def _onto_its_line(self, end: int, means: Readings, why: Words) -> Draft:
        """Nearer to the slew axis or farther from it, never by slewing back: by the telescope, or by elevation where
        that brings the tip nearer to its height as well."""
        unit, described = means.units[end], self._description.units[end]
        off_m = self._off_line_m(end, means)
        is_out = off_m * described.facing * cos(unit.slew_rad) > 0.0
        is_low = unit.tip_z_m < self._description.path.tip_height_m
        function, sign = ("telescope", 1 if is_out else -1) if is_out == is_low else ("elevation", -1 if is_out else 1)
        return _said(Signal(_name(end), function, sign, abs(off_m), slow=True), why)

    def _boom(self, end: int, means: Readings, aim: Aim, distance_m: float, why: Words) -> Draft:
        """The boom function that does most of the way."""
        hands = steer(self._description.units[end], end, means.units[end], aim)
        function, command = largest((0.0, hands.telescope, hands.elevation, hands.slew))
        if command == 0.0:
            unit = say(f"coach.voice_{END_NAMES[end]}")
            return Draft("wait", "none", words("coach.drill_wait_plumb", unit=unit), why)
        sign = 1 if command > 0.0 else -1
        return _said(Signal(_name(end), function, sign, max(LEAST_SAID_M, distance_m), slow=True), why)

    def _hoist(self, ends: list[int], means: Readings, wanted: dict[int, Aim], at: Progress) -> Draft:
        """Up or down: both in one order when they go the same way."""
        speeds = {end: wanted[end].hook_up_mps for end in ends}
        lead = max(ends, key=lambda end: abs(speeds[end]))
        together = len({speed > 0.0 for speed in speeds.values()}) == 1 and len(ends) == 2
        bearing = means.units[lead].hook_load_N >= SLACK_OUT_N
        distance = self._to_hoist_m(lead, means, at) if bearing or at.step.work in ("lower", "raise") else 0.0
        unit: Literal["nose", "tail", "both"] = "both" if together else _name(lead)
        sign = 1 if speeds[lead] > 0.0 else -1
        signal = Signal(unit, "hoist", sign, distance, slow=abs(speeds[lead]) < SLOW_MPS)
        return _said(signal, self._why_hoist(lead, means, at))

    def _to_hoist_m(self, end: int, means: Readings, at: Progress) -> float:
        if at.step.work == "raise":
            return abs(self._hands[end].to_raise_m(means))
        if at.step.work == "slack off":
            return 0.0
        if at.step.work == "lower":
            return max(LEVEL_M, means.load.height_over_road_m)
        return LEVEL_M

    def _why_plumb(self, end: int, means: Readings) -> Words:
        unit: UnitReadings = means.units[end]
        off, drop = off_m(unit), _drop_m(unit)
        return words(
            "coach.why_plumb",
            period=f"{means.load.sway_period_s:.1f}",
            off=Amount(off, "m", 2),
            drop=Amount(drop, "m"),
            angle=f"{degrees(atan(off / drop)):.1f}",
            side=Amount(unit.line_load_N * off / drop, "N", 2),
        )

    def _why_hoist(self, end: int, means: Readings, at: Progress) -> Words:
        mine, other = means.units[end], means.units[1 - end]
        load = Amount(mine.hook_load_N, "N", 2)
        if mine.hook_load_N < SLACK_OUT_N and at.step.work not in ("lower", "slack off"):
            return words("coach.why_slack", load=load, bound=Amount(SLACK_OUT_N, "N", 2))
        if at.step.work in ("raise", "lower", "lift off"):
            agreed = self._hands[end].agreed
            rise = (mine.hook_z_m - other.hook_z_m) * (1 if end == 0 else -1)
            ahead = rise - agreed.hook_rise_m(0.0) * (1 if end == 0 else -1)
            return words("coach.why_height", rest=Amount(self._to_hoist_m(end, means, at), "m", 2),
                         ahead=Amount(ahead, "m", 2), span=Amount(agreed.span_m, "m"),
                         angle=f"{degrees(ahead / agreed.span_m):.1f}")  # fmt: skip
        return words("coach.why_line", load=load, both=Amount(mine.hook_load_N + other.hook_load_N, "N", 2))


def _hold(why: str) -> Draft:
    return Draft("hold", "none", words("coach.drill_hold"), words(why))


def _waiting_for(missing: tuple[Condition, ...]) -> Draft:
    """Nothing is left for hands to do; if the step does not end, the first condition that keeps it is named."""
    if not missing:
        return _hold("coach.why_hold_done")
    one = missing[0]
    channel = channel_of(one)
    bound = Amount(one.value, channel.unit, min(2, channel.decimals))
    how = words("coach.condition_change" if one.change else f"coach.condition_{COMPARED[one.comparison]}").said()
    return Draft("hold", "none", words("coach.drill_hold"),
                 words("coach.why_hold_missing", reading=_plainly(one.reading), how=how, bound=bound))  # fmt: skip


def _plainly(reading: str) -> str:
    """`load.pitch_rad` is load pitch."""
    name, _, unit = reading.rpartition("_")
    return (name if name and unit in ("m", "mps", "rad", "radps", "N", "s") else reading).translate(PLAIN)


def _holding(now: Readings) -> Draft:
    """Nobody's move: what may be said of it depends on whether the load hangs."""
    return _hold("coach.why_hold" if now.load.ground_N <= 0.0 else "coach.why_hold_lies")


def _drop_m(unit: UnitReadings) -> float:
    return max(LEAST_DROP_M, unit.tip_z_m - unit.hook_z_m)


def _said(signal: Signal, why: Words) -> Draft:
    return Draft("move", signal.unit, signal, why)


def on_centre(centre: CentreOfGravity, *, us: bool = False) -> Prompt:
    """What the loads say of the centre of gravity, beside the papers and the truth: for the end of a drill."""
    order = words("lost.centre", loads=Amount(centre.from_loads_m, "m", 2), true=Amount(centre.true_m, "m", 2),
                  stated=Amount(centre.stated_m, "m", 2))  # fmt: skip
    why = words("coach.why_centre", span=Amount(centre.span_m, "m"), tail=Amount(centre.tail_N, "N", 2),
                both=Amount(centre.nose_N + centre.tail_N, "N", 2))  # fmt: skip
    return Draft("done", "none", order, why).said(us=us)


def _name(end: int) -> Literal["nose", "tail"]:
    return "nose" if end == 0 else "tail"
