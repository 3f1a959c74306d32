"""The coach: one voice. Whose move, one short sentence, and on request the hand calculation behind it."""

from __future__ import annotations

from math import atan, atan2, cos, degrees, hypot, inf

from simulator.drill.coach_turn import TurnCoach
from simulator.drill.conditions import plumb_enough_rad
from simulator.drill.maneuvers import LEVEL_M, ON_THE_BED, Hands
from simulator.drill.own_lines import SLACK_OUT_N, all_bear, hook_z_m, off_m, own_lines
from simulator.drill.progress import Progress
from simulator.drill.prompts import Draft, Prompt, hold, waiting_for, why_sway
from simulator.drill.scales import Center
from simulator.drill.slack import ONE_LINE
from simulator.drill.spoken_amounts import Amount, Words, words
from simulator.drill.steering import Aim, steer
from simulator.drill.sway_means import Averages
from simulator.drill.under_load import MOVING_MPS, moves_on_bed
from simulator.drill.voice_signals import LEAST_SAID_M, Pace, Signal, called, largest, pace_of
from simulator.mechanics.boom import boom_pose
from simulator.mechanics.weighing_lift import tells_across
from simulator.readings import Readings, UnitReadings
from simulator.scenario.description import Description
from simulator.scenario.drill import EVERYBODY, NOBODY
from simulator.scenario.rig import RigUnit, rig_of

LOOKS_S = 0.1 - 1e-6
"""It looks for something to say no more often than this."""
STAYS_S = 1.0
"""A prompt stays at least so long, unless the next one is to stop or to wait."""
SAID_AGAIN_S = 6.0
"""The same order with another distance is said again only after so long."""
LEAST_HOIST_MPS = 0.0055
"""A little under the softest that a line is taken up."""
HELD_SHARE = 0.6
"""Of the lean that raises a caution. Our choice, no source."""
NEAR_M = 0.1
"""A tip this near to where it is plumb goes there very slowly: what the slow key gives would take it past."""
IN_STEP_M = 0.3
"""Tips this much apart across are put right before they go on."""
OFF_LINE_M = 0.17
"""A tip farther off its agreed line along is brought all the way onto it before they go on: lines lean as long as it
stands beside it, and short strokes in the sway's own time feed the sway. By trial in the shipped drills."""
LOW_M = 0.15
"""A hook that hangs lower than agreed by this is brought up before the tips go on: what it passes is near."""
LOW_TIP_M, SPARE_ROOM_M = 0.1, 0.1
"""A tip lower than agreed by more than this goes up before the hook takes its head room, and what is kept of that."""
SWAY_M = 0.10
"""Sway that is waited out."""
SWAY_PERIODS = 4.0
"""For at most so many periods where it stays under the lift's caution: a small sway takes long to die."""
SET_DOWN_M = 0.5
"""This near to the ground a load that sways is set down again."""
AT_END_M, AT_END_RAD = 0.01, 0.002
"""A boom this near to an end of its travel is at it."""
LEAST_DROP_M = 0.1
"""Of a tip over its hook, where an angle is reckoned from it."""
STILL_WORK = ("lift off", "hold", "name the load", "raise", "steady", "lower", "center")
"""Work in which a load that sways is waited for."""


class Coach:
    """Reads along and says one thing at a time."""

    _averages: Averages
    _hands: tuple[Hands, ...]
    _began: Readings | None
    _said_s: float
    _looked_s: float
    _sways_since_s: float | None
    _turn: TurnCoach
    _draft: Draft

    def __init__(self, description: Description, *, us: bool = False) -> None:
        self._description = description
        self.us = us
        """It speaks in feet and pounds."""
        self._averages = Averages()
        self._rig, self._tells_across = rig_of(description), tells_across(description)
        self._hands = tuple(Hands(description, unit.place, by_signals=True) for unit in self._rig.units)
        self._said_s, self._looked_s = 0.0, -LOOKS_S
        self._began = self._sways_since_s = None
        self._turn = TurnCoach(description)
        self._draft = hold("coach.why_hold_lies")

    @property
    def prompt(self) -> Prompt:
        """What it says now."""
        return self._draft.said(us=self.us)

    def see(self, now: Readings, at: Progress, *, stopped: bool = False) -> None:
        """Take in a moment and say what is to be said."""
        self._averages.see(now)
        begins = self._began is not at.began
        if not begins and now.time_s - self._looked_s < LOOKS_S:
            return
        self._looked_s = now.time_s
        if begins:
            self._began = at.began
            for hands in self._hands:
                hands.begin(now, at.step)
        draft = self._urgent(now, at, stopped=stopped)
        urgent = draft is not None and draft.kind in ("stop", "wait") and draft.kind != self._draft.kind
        waited = now.time_s - self._said_s
        if not (urgent or begins or waited >= STAYS_S or self._bears(now)):
            return
        draft = draft or self._order(now, self._averages.of(now), at)
        if draft.key != self._draft.key or waited >= SAID_AGAIN_S or begins:
            self._said_s = now.time_s
            self._draft = draft

    def _bears(self, now: Readings) -> bool:
        """A line that was to be taken up until it bears does: whoever pulls on jerks the load."""
        said = self._draft.order
        if not isinstance(said, Signal) or said.function != "hoist" or said.sign < 0 or said.distance_m > 0.0:
            return False
        asked = [unit for unit in self._rig.units if said.unit in (EVERYBODY, unit.name)]
        return any(line.hook_load_N > SLACK_OUT_N and said.line in (0, number)
                   for unit in asked for number, line in enumerate(own_lines(now, unit), 1))  # fmt: skip

    def _urgent(self, now: Readings, at: Progress, *, stopped: bool) -> Draft | None:
        """Stop, done, wait: what goes before any order."""
        load = now.load
        if stopped:
            return Draft("stop", NOBODY, self._words("coach.drill_stop"), self._words("coach.why_stop"))
        if at.done:
            return Draft("done", NOBODY, words("coach.drill_done"), words(""))
        if moves_on_bed(now) and at.step.work != "slack off":
            speed = hypot(load.vx_mps, load.vy_mps)
            why = words("coach.why_wait_bed", speed=Amount(speed, "m/s", 3), bound=Amount(MOVING_MPS, "m/s", 3))
            return Draft("wait", NOBODY, words("coach.drill_wait_bed"), why)
        if self._waits_for_sway(now, at):
            key = "coach.drill_settle_sway" if load.height_over_bed_m < SET_DOWN_M else "coach.drill_wait_sway"
            return Draft("wait", NOBODY, words(key), why_sway(now))
        if at.step.work == "name the load" and at.goes_on is None:
            across = "_across" if self._tells_across else ""
            return Draft("hold", NOBODY, words(f"coach.name_load{across}"), words(f"coach.why_name_load{across}"))
        return _holding(now) if at.step.moves == NOBODY else None

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
        seats = [unit.place for unit in self._rig.units if at.step.moves in (EVERYBODY, unit.name)]
        alone = at.step.moves != EVERYBODY
        aims = {end: self._hands[end].aim(at.step.work, means, alone=alone) for end in seats}
        wanted = {end: aim for end, aim in aims.items() if aim is not None}
        lies = now.load.ground_N > 0.0 and at.step.work in ON_THE_BED
        off = {end: self._off_m(end, means) for end in wanted} if lies else {}
        plumb = [end for end in off if self._lean_rad(end, means) > self._plumb_enough_rad(end, means, at)]
        if plumb:
            end = max(plumb, key=lambda one: off[one])
            boom = self._boom(end, means, wanted[end], off[end], self._why_plumb(end, means))
            if boom.kind == "move" or len(self._rig.units[end].lines) == 1:
                return boom
        if at.step.work == "raise" and (low := [end for end in wanted if self._lacks_head_room_m(end, means) > 0.0]):
            end = max(low, key=lambda one: self._lacks_head_room_m(one, means))
            short_m = self._description.path.tip_height_m - means.units[end].tip_z_m
            return self._boom(end, means, wanted[end], short_m, self._why_hoist(end, means, at))
        if at.step.work == "cross":
            return self._across(seats, means)
        if at.step.work == "turn":
            return self._turn.order(means, wanted, at)
        hoists = [end for end, aim in wanted.items() if max(map(abs, aim.hooks_up_mps)) > LEAST_HOIST_MPS]
        if hoists:
            return self._hoist(hoists, means, wanted, at)
        return waiting_for(at.missing(now), self._rig)

    def _lacks_head_room_m(self, end: int, means: Readings) -> float:
        """What head room will lack when the hook is at its agreed height, as long as the tip is lower than agreed."""
        unit = means.units[end]
        if self._description.path.tip_height_m - unit.tip_z_m < LOW_TIP_M:
            return 0.0
        left_m = unit.head_room_m - self._hands[end].to_raise_m(means)
        return self._description.limits.head_room_caution_m + SPARE_ROOM_M - left_m

    def _lean_rad(self, end: int, means: Readings) -> float:
        return atan2(self._off_m(end, means), _drop_m(means.units[end]))

    def _off_m(self, end: int, means: Readings) -> float:
        return off_m(means, self._rig.units[end])

    def _is_held(self, end: int, means: Readings) -> bool:
        """Two lines that bear hold a tip in its place: it goes a little, and their pulls come plumb."""
        own = self._rig.units[end]
        return len(own.lines) > 1 and all_bear(means, own)

    def _words(self, key: str, **values: str | Amount) -> Words:
        """A text; for a lone unit the one that speaks of nobody else."""
        return words(key if len(self._rig.units) > 1 else f"{key}_alone", **values)

    def _name(self, end: int) -> str:
        return self._rig.units[end].name

    def _plumb_enough_rad(self, end: int, means: Readings, at: Progress) -> float:
        """Of two lines that bear each leans by itself: while slack is taken up they are left alone, and then the sum of
        their pulls may lean by a part of what raises a caution."""
        if self._is_held(end, means):
            limit_rad = self._description.limits.off_plumb_caution_rad
            return inf if at.step.work in ("take slack", *ONE_LINE) else HELD_SHARE * limit_rad
        return plumb_enough_rad(self._name(end), at.step, self._description.limits)

    def _across(self, seats: list[int], means: Readings) -> Draft:
        """A hook off its height first, then a tip off its line along the road, then the one that lags, then both."""
        rests = {end: self._hands[end].landing_tip_y(end) - means.units[end].tip_y_m for end in seats}
        beyond = next((end for end in seats if self._is_beyond(end, means)), None)
        if beyond is not None:
            unit, rest = called(self._name(beyond)), Amount(abs(rests[beyond]), "m")
            return Draft("hold", NOBODY, words("coach.drill_hold"), words("coach.why_beyond", unit=unit, rest=rest))
        last = max(seats, key=lambda end: abs(rests[end]))
        why = words("coach.why_across", rest=Amount(abs(rests[last]), "m"))
        low = max(seats, key=lambda end: abs(self._hands[end].to_raise_m(means)))
        rise_m = self._hands[low].to_raise_m(means)
        if not -IN_STEP_M < rise_m < LOW_M:
            return _said(Signal(self._name(low), "hoist", 1 if rise_m > 0.0 else -1, abs(rise_m), pace="slow"), why)
        off = max(seats, key=lambda end: abs(self._off_line_m(end, means)))
        if onto_its_line := self._onto_its_line(off, means, why):
            return onto_its_line
        apart = abs(rests[last]) - min(abs(rest) for rest in rests.values())
        whose = EVERYBODY if len(seats) > 1 and apart < IN_STEP_M else self._name(last)
        sign = 1 if rests[last] > 0.0 else -1
        return _said(Signal(whose, "slew", sign, abs(rests[last]), pace="slow"), why)

    def _is_beyond(self, end: int, means: Readings) -> bool:
        """The boom has come to an end of its travel, and the place the tip is to go to lies past it."""
        unit, hands, now = self._description.units[end], self._hands[end], means.units[end]
        place = hands.agreed.tips_x_m[end], hands.landing_tip_y(end), self._description.path.tip_height_m
        boom, wanted = unit.boom, boom_pose(unit, place)
        if wanted.length_m > boom.longest_m and now.boom_length_m >= boom.longest_m - AT_END_M:
            return now.tip_y_m * place[1] > 0.0
        past_road = wanted.slew_rad > boom.slew_road_rad and now.slew_rad >= boom.slew_road_rad - AT_END_RAD
        past_ravine = wanted.slew_rad < boom.slew_ravine_rad and now.slew_rad <= boom.slew_ravine_rad + AT_END_RAD
        return past_road or past_ravine

    def _off_line_m(self, end: int, means: Readings) -> float:
        """How far a tip has to go along the road to its line."""
        return self._hands[end].agreed.tips_x_m[end] - means.units[end].tip_x_m

    def _onto_its_line(self, end: int, means: Readings, why: Words) -> Draft | None:
        """Nearer to the slew axis or farther from it, never by slewing back: by the telescope, or by elevation where
        that brings the tip nearer to its height as well. None: it is near enough, and nobody is bringing it nearer."""
        unit, described = means.units[end], self._description.units[end]
        off_m = self._off_line_m(end, means)
        is_out = off_m * described.facing * cos(unit.slew_rad) > 0.0
        is_low = unit.tip_z_m < self._description.path.tip_height_m
        ways = {"telescope": 1 if is_out else -1, "elevation": -1 if is_out else 1}
        said = self._draft.order
        begun = isinstance(said, Signal) and said.unit == self._name(end) and ways.get(said.function) == said.sign
        if abs(off_m) < OFF_LINE_M and not begun:
            return None
        function = "telescope" if is_out == is_low else "elevation"
        return _said(Signal(self._name(end), function, ways[function], abs(off_m), pace="steady"), why)

    def _boom(self, end: int, means: Readings, aim: Aim, distance_m: float, why: Words) -> Draft:
        """The boom function that does most of the way."""
        own = self._rig.units[end]
        function, command = largest(own, steer(self._description.units[end], own, means, aim))
        if command == 0.0:
            return Draft("wait", NOBODY, words("coach.drill_wait_plumb", unit=called(own.name)), why)
        sign = 1 if command > 0.0 else -1
        pace: Pace = "very_slow" if self._is_held(end, means) or distance_m < NEAR_M else "slow"
        return _said(Signal(own.name, function, sign, max(LEAST_SAID_M, distance_m), pace), why)

    def _hoist(self, ends: list[int], means: Readings, wanted: dict[int, Aim], at: Progress) -> Draft:
        """Up or down: both in one order when they go the same way."""
        speeds = {end: max(wanted[end].hooks_up_mps, key=abs) for end in ends}
        lead = max(ends, key=lambda end: abs(speeds[end]))
        line = _one_line(self._rig.units[lead], wanted[lead])
        together = len({speed > 0.0 for speed in speeds.values()}) == 1 and len(ends) > 1 and not line
        bearing = all_bear(means, self._rig.units[lead])
        distance = self._to_hoist_m(lead, means, at) if bearing or at.step.work in ("lower", "raise") else 0.0
        unit = EVERYBODY if together else self._name(lead)
        sign = 1 if speeds[lead] > 0.0 else -1
        onto_deck = at.step.work == "lower" and self._description.landing.flat is not None
        pace = pace_of(min(abs(up) for up in wanted[lead].hooks_up_mps if abs(up) > LEAST_HOIST_MPS))
        signal = Signal(unit, "hoist", sign, distance, pace, line, onto_deck)
        return _said(signal, self._why_hoist(lead, means, at))

    def _to_hoist_m(self, end: int, means: Readings, at: Progress) -> float:
        if at.step.work == "raise":
            return abs(self._hands[end].to_raise_m(means))
        if at.step.work == "slack off":
            return 0.0
        if at.step.work == "lower":
            return max(LEVEL_M, means.load.height_over_road_m - self._description.landing.height_m)
        return LEVEL_M

    def _why_plumb(self, end: int, means: Readings) -> Words:
        unit: UnitReadings = means.units[end]
        off, drop = self._off_m(end, means), _drop_m(unit)
        return words(
            "coach.why_plumb",
            period=f"{means.load.sway_period_s:.1f}",
            off=Amount(off, "m", 2),
            drop=Amount(drop, "m"),
            angle=f"{degrees(atan(off / drop)):.1f}",
            side=Amount(unit.line_load_N * off / drop, "N", 2),
        )

    def _why_hoist(self, end: int, means: Readings, at: Progress) -> Words:
        mine, units = means.units[end], self._rig.units
        load = Amount(mine.hook_load_N, "N", 2)
        if mine.hook_load_N < SLACK_OUT_N and at.step.work not in ("lower", "slack off"):
            return words("coach.why_slack", load=load, bound=Amount(SLACK_OUT_N, "N", 2))
        if at.step.work in ("raise", "lower", "lift off") and len(units) > 1:
            agreed = self._hands[end].agreed
            rise = hook_z_m(means, units[0]) - hook_z_m(means, units[-1])
            ahead = (rise - agreed.hook_rise_m(0.0)) * (1 if end == 0 else -1)
            return words("coach.why_height", rest=Amount(self._to_hoist_m(end, means, at), "m", 2),
                         ahead=Amount(ahead, "m", 2), span=Amount(agreed.span_m, "m"),
                         angle=f"{degrees(ahead / agreed.span_m):.1f}")  # fmt: skip
        whole_N = sum(unit.hook_load_N for unit in means.units)
        return self._words("coach.why_line", load=load, both=Amount(whole_N, "N", 2))


def _one_line(own: RigUnit, aim: Aim) -> int:
    """Number of the line that goes while its neighbor waits, or goes the other way; 0: its lines go alike."""
    goes = [(speed > 0.0) - (speed < 0.0) if abs(speed) > LEAST_HOIST_MPS else 0 for speed in aim.hooks_up_mps]
    if len(set(goes)) == 1:
        return 0
    fastest = max(range(len(goes)), key=lambda place: abs(aim.hooks_up_mps[place]))
    return own.lines[fastest].number


def _holding(now: Readings) -> Draft:
    """Nobody's move: what may be said of it depends on whether the load hangs."""
    return hold("coach.why_hold" if now.load.ground_N <= 0.0 else "coach.why_hold_lies")


def _drop_m(unit: UnitReadings) -> float:
    return max(LEAST_DROP_M, unit.tip_z_m - unit.hook_z_m)


def _said(signal: Signal, why: Words) -> Draft:
    return Draft("move", signal.unit, signal, why)


def on_center(center: Center, *, us: bool = False) -> Prompt:
    """What the loads say of the center of gravity, beside the papers and the truth: for the end of a drill."""
    order = words("lost.center", loads=Amount(center.from_loads_m, "m", 2), true=Amount(center.true_m, "m", 2),
                  stated=Amount(center.stated_m, "m", 2))  # fmt: skip
    why = words("coach.why_center", spread=Amount(center.spread_m, "m", 2))
    return Draft("done", NOBODY, order, why).said(us=us)
