"""The judge: readings and commands to figures and points. It never looks at the world itself."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass, field
from math import isfinite

from simulator.drill.cases import Case, Key, case_of
from simulator.drill.conditions import Held, holds, value_of
from simulator.drill.figures import Figures
from simulator.drill.hard_fails import Fail, failing
from simulator.drill.marks import FULL_POINTS, RULES, standing_marks
from simulator.drill.progress import Progress
from simulator.drill.slack import ONE_LINE
from simulator.drill.spoken_amounts import Amount
from simulator.drill.standing import Standing
from simulator.engine.commands import Commands
from simulator.events import ACCOUNT, Field, Fields, Happening
from simulator.readings import CHANNELS, Readings, as_words
from simulator.scenario.description import Limits
from simulator.scenario.drill import EVERYBODY, Drill, Mark, Seat
from simulator.scenario.rig import PAIR, TWO_BY_ONE, Rig


@dataclass
class Loss:
    """Points lost: by whom, for what, seen in which reading, when."""

    points: float
    who: Seat
    step: str
    rule: str
    reading: str
    value: float
    """The reading when it began, and then its worst."""
    time_s: float
    """When it began."""
    until_s: float
    fails: bool = False
    """It fails the drill, whatever points are left."""

    def __str__(self) -> str:
        return f"{self.time_s:.1f} s: -{self.points:.1f} {self.who}, {self.rule} ({self.reading} {self.value:.4g})"


class Grade(tuple[float, ...]):
    """Points kept, 0 to 100: a value a unit, in the rig's order, and last what they kept together."""

    __slots__ = ()

    @property
    def units(self) -> tuple[float, ...]:
        """Of each unit."""
        return self[:-1]

    @property
    def together(self) -> float:
        """What nobody lost."""
        return self[-1]


@dataclass
class Kept:
    """What the judge has on record; a copy of it is what a step back goes back to."""

    losses: list[Loss] = field(default_factory=list)
    steps: dict[int, tuple[Figures, ...]] = field(default_factory=dict)
    """Figures of each seat."""


class Judge:
    """Watches a pair, or a lone operator, through the drill."""

    kept: Kept
    counting: list[Loss]
    """What is costing points at this moment."""
    _standing: Standing | None
    _free_since_s: float | None
    _last_s: float | None
    _stopped_since_s: float | None
    _open: dict[tuple[Key, Seat], Loss]
    _incidents: int
    _out_s: dict[str, float]
    _going: dict[Key, Seat]
    _held: Held
    _index: int

    def __init__(
        self,
        drill: Drill,
        limits: Limits,
        standing: Standing | None = None,
        *,
        rig: Rig = TWO_BY_ONE,
        telescoped_N: tuple[float, ...] = (),
    ) -> None:
        """
        Args:
            drill: steps and marks.
            limits: of the scenario.
            standing: what is charged beside limits of readings; without it that is not judged.
            rig: of the lift.
            telescoped_N: most hook load with which each unit's boom may be telescoped by its own rule.
        """
        self._telescoped_N = telescoped_N
        self._drill, self._limits, self._standing, self._rig = drill, limits, standing, rig
        standing_ones = standing_marks(limits, rig.unit_names) if drill.standing_marks else ()
        self._usual: tuple[Mark, ...] = standing_ones
        self.kept, self.counting = Kept(), []
        self._free_since_s = self._last_s = self._stopped_since_s = None
        self._open, self._going, self._incidents = {}, {}, 0
        self._out_s = dict.fromkeys(rig.unit_names, -1e9)
        self._marks: list[tuple[Mark, Key]] = []
        self._held = Held((), rig=rig)
        self._index = -1

    def see(self, now: Readings, asked: Commands, at: Progress, *, stopped: bool = False, incidents: int = 0) -> None:
        """Take in a moment.

        Args:
            now: readings.
            asked: what both operators ask for, whether it is given or not.
            at: where the pair is in its drill.
            stopped: a stop order holds.
            incidents: how many there have been.
        """
        if at.index != self._index:
            self.begin(at)
        dt = 0.0 if self._last_s is None else now.time_s - self._last_s
        self._last_s = now.time_s
        settled = self._is_settled(now)
        self.counting = []
        for end, figures in enumerate(self.kept.steps[self._index]):
            figures.see(now, end, dt, settled=settled)
        # Under a stop order points rest: who calls a stop and waits loses nothing by it.
        self._look_at_marks(now, at.reckoned, 0.0 if stopped else dt, stopped=stopped)
        self._turns(now, asked, at, dt, stopped=stopped)
        self._look_at_lift(now, asked, at, 0.0 if stopped else dt)
        self._count_incidents(now, incidents)

    def _look_at_marks(self, now: Readings, began: Readings, dt: float, *, stopped: bool) -> None:
        for (mark, key), held in zip(self._marks, self._held.see(now, began), strict=True):
            if not (held or self._open):
                continue
            counts = held and all(holds(only, now, began, self._rig) for only in mark.only_while)
            rests = stopped and mark.per == "second"
            if not rests and (counts or (key, mark.who) in self._open):
                self._count(case_of(mark, key, value_of(mark, now, began, self._rig)), now.time_s, dt, counts=counts)

    def _look_at_lift(self, now: Readings, asked: Commands, at: Progress, dt: float) -> None:
        """What holds in every drill and is no condition on one reading; first what fails it."""
        if self._standing is None:
            return
        seen = self._standing.see(now, asked, at)
        for fail in failing(now, self._limits, seen.happened, self._rig, self._telescoped_N):
            self.fail(fail, now.time_s)
        keys = {case.key for case in seen.cases}
        for key in [key for key in self._going if key not in keys]:
            del self._open[key, self._going.pop(key)]
        for case in seen.cases if self._drill.standing_marks else ():
            self._count(case, now.time_s, dt, counts=True)
            if case.per_s > 0.0:
                self._going[case.key] = case.who

    def fail(self, fail: Fail, time_s: float) -> None:
        """Something that fails the drill: once for each seat and rule, at its worst value."""
        been = (loss for loss in self.kept.losses if loss.fails and (loss.rule, loss.who) == (fail.rule, fail.who))
        loss = next(been, None)
        if loss is None:
            loss = self.lose(RULES.hard_fail, fail.who, fail.rule, fail.reading, fail.value, time_s)
            loss.fails = True
        worse = fail.value < loss.value if fail.low_is_worse else abs(fail.value) > abs(loss.value)
        loss.value, loss.until_s = (fail.value if worse else loss.value), time_s
        self.counting.append(loss)

    def begin(self, at: Progress) -> None:
        """A step begins, or begins anew."""
        self._index, self._open, self._going = at.index, {}, {}
        # While a unit's lines are taken one after the other, the one that bears leans by itself.
        usual = [mark for mark in self._usual if at.step.work not in ONE_LINE or "off_plumb" not in mark.reading]
        marks = (*at.step.marks, *self._drill.marks, *usual)
        self._marks = [(mark, ("mark", marks.index(mark))) for mark in marks]
        self._held = Held(marks, rig=self._rig)
        self.kept.steps.setdefault(at.index, tuple(Figures() for _ in self._rig.units))

    def back_to(self, kept: Kept) -> None:
        """Take back all that came after `kept` was copied."""
        self.kept, self._open, self._index = deepcopy(kept), {}, -1
        self._free_since_s = self._last_s = None
        self._going = {}
        if self._standing is not None:
            self._standing.forget()

    def lose(self, points: float, who: Seat, rule: str, reading: str, value: float, time_s: float) -> Loss:
        """Take points."""
        title = self._drill.steps[max(0, self._index)].title
        loss = Loss(points, who, title, rule, reading, value, time_s, time_s)
        self.kept.losses.append(loss)
        return loss

    def stop_called(self, now: Readings, *, reached: str = "") -> None:
        """A stop order was given; `reached` names the reading of the limit that called it, if one did."""
        for figures in self.kept.steps.get(self._index, ()):
            figures.stops += 1
        if reached:
            self.lose(RULES.stop_reached, EVERYBODY, "a stop was reached", reached, 1.0, now.time_s)

    def _is_settled(self, now: Readings) -> bool:
        """The load has hung free for a whole sway period, so that its sway is no longer the bed's doing."""
        if now.load.ground_N > 0.0:
            self._free_since_s = None
        elif self._free_since_s is None:
            self._free_since_s = now.time_s
        return self._free_since_s is not None and now.time_s - self._free_since_s > now.load.sway_period_s

    def _count(self, case: Case, time_s: float, dt: float, *, counts: bool) -> None:
        """Begin a loss, let it grow, or close it; what costs once stays open and so is not begun again."""
        place = case.key, case.who
        loss = self._open.get(place)
        if not counts:
            if loss is not None and case.per_s > 0.0:
                del self._open[place]
            return
        more = case.per_s * dt
        if loss is None:
            loss = self._open[place] = self.lose(0.0, case.who, case.rule, case.reading, case.value, time_s)
            more = case.first
        loss.points += self._left_to_lose(case, loss.step, more)
        worse = case.value < loss.value if case.low_is_worse else abs(case.value) > abs(loss.value)
        loss.value = case.value if worse else loss.value
        loss.until_s = time_s
        self.counting.append(loss)

    def _left_to_lose(self, case: Case, step: str, points: float) -> float:
        """What of these points may still be taken for this rule."""
        same = (loss for loss in self.kept.losses if (loss.rule, loss.who) == (case.rule, case.who))
        gone = sum(loss.points for loss in same if case.fades or loss.step == step)
        if case.fades:
            points *= 1.0 - gone / case.most
        return max(0.0, min(points, case.most - gone))

    def _turns(self, now: Readings, asked: Commands, at: Progress, dt: float, *, stopped: bool) -> None:
        """Moves in somebody else's step, and moves under a stop order."""
        if not stopped:
            self._stopped_since_s = None
        elif self._stopped_since_s is None:
            self._stopped_since_s = now.time_s
        since = self._stopped_since_s
        late = since is not None and now.time_s - since > RULES.stop_grace_s
        for end, (who, hands) in enumerate(zip(self._rig.unit_names, asked, strict=True)):
            moves, size = any(hands), max(map(abs, hands))
            grace = now.time_s - at.began.time_s <= RULES.turn_grace_s
            out = moves and not (stopped or at.done or grace) and at.step.moves not in (EVERYBODY, who)
            self._out_s[who] = now.time_s if out else self._out_s[who]
            self.kept.steps[self._index][end].out_of_turn += out and ("turn", who) not in self._open
            reading = f"{who}.commands"
            turn = Case("turn", who, "moved out of turn", reading, size, RULES.out_of_turn,
                        RULES.out_of_turn_per_s, RULES.out_of_turn_most)  # fmt: skip
            if out or now.time_s - self._out_s[who] > RULES.turn_gap_s:
                self._count(turn, now.time_s, dt, counts=out)
            if moves and late:
                self.fail(Fail(who, "moved under a stop order", reading, size), now.time_s)

    def _count_incidents(self, now: Readings, incidents: int) -> None:
        for _ in range(self._incidents, incidents):
            loss = self.lose(RULES.incident, EVERYBODY, "incident", "incidents", float(incidents), now.time_s)
            loss.fails = True
            for figures in self.kept.steps[self._index]:
                figures.incidents += 1
        self._incidents = incidents


def grade(losses: list[Loss], names: tuple[str, ...] = PAIR) -> Grade:
    """Points kept by each of these units and together."""
    lost = {who: sum(loss.points for loss in losses if loss.who == who) for who in (*names, EVERYBODY)}

    def kept(points: float) -> float:
        return max(0.0, FULL_POINTS - points)

    return Grade((*(kept(lost[name] + lost[EVERYBODY]) for name in names), kept(sum(lost.values()))))


def _field(reading: str) -> str:
    return reading.rpartition(".")[2]


UNITS = {_field(channel.name): (channel.unit, channel.decimals) for channel in CHANNELS} | {"gap_m": ("m", 2)}
"""Of what is read, whoever's it is."""


def worst_said(reading: str, value: float, *, us: bool) -> str:
    """The value of a reading, or of something that is none, such as commands."""
    unit, decimals = UNITS.get(_field(reading), ("", 2))
    return Amount(value, unit, 1 if unit == "N" else min(2, decimals)).said(us=us)


MEASURES = ("N", "m", "rad", "m/s", "s")
"""Units in which a worst value is kept with a lost mark; all others are plain numbers, and of a lever its share."""


def summed(losses: list[Loss]) -> list[Happening]:
    """One for each rule and seat: points, how often, when first, worst reading."""
    groups: dict[tuple[str, Seat, str], list[Loss]] = {}
    for loss in losses:
        groups.setdefault((loss.rule, loss.who, loss.reading), []).append(loss)
    return [Happening(ACCOUNT, "lost", _sum_of(same)) for same in groups.values()]


def _sum_of(same: list[Loss]) -> Fields:
    first, worst = same[0], max(same, key=lambda loss: abs(loss.value)).value
    fields: dict[str, Field] = {"points": sum(loss.points for loss in same), "who": first.who, "rule": first.rule}
    fields |= {"times": len(same), "first_s": first.time_s, "fails": int(any(loss.fails for loss in same))}
    if first.reading in SAYS_NOTHING or not isfinite(worst):
        return fields
    unit = "lever" if first.reading.endswith(".commands") else UNITS.get(_field(first.reading), ("", 2))[0]
    measure = unit if unit in (*MEASURES, "lever") else "number"
    return {**fields, "reading": as_words(first.reading), "value": worst, "measure": measure}


SAYS_NOTHING = ("time_s", "incidents")
"""Readings that tell no more than the rule already does."""


def not_done(drill: Drill, passed: set[int], time_s: float) -> list[Loss]:
    """What the steps that were not done cost, each its even share."""
    share = RULES.not_done / len(drill.steps)
    return [
        Loss(share, EVERYBODY, step.title, "step not done", "time_s", time_s, time_s, time_s)
        for index, step in enumerate(drill.steps)
        if index not in passed
    ]
