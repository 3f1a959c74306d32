"""A pair in its drill: step, prompt, cautions, score, from readings and commands alone."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from typing import Any, NamedTuple

from simulator.drill.coach import Coach, on_center
from simulator.drill.conditions import Held
from simulator.drill.hard_fails import Fail
from simulator.drill.judge import Grade, Judge, Kept, Loss, grade, not_done, summed
from simulator.drill.naming import NAMING, WENT_ON, Answer, Told, refuse_wild
from simulator.drill.progress import Progress
from simulator.drill.prompts import Prompt
from simulator.drill.scales import Center, Scales, center_of
from simulator.drill.standing import Standing
from simulator.engine.commands import Commands
from simulator.events import ACCOUNT, Field, Happening
from simulator.plan.recheck import Rechecked
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.drill import EVERYBODY, Drill, Limit, Step
from simulator.scenario.judged_limits import most_telescoped_N
from simulator.scenario.retold import retold
from simulator.scenario.rig import rig_of


class Caution(NamedTuple):
    """Something to look at."""

    text: str
    reading: str
    costs: bool = False
    """Points are lost by it; else it is a limit of the drill."""


class Session:
    """Runs a drill beside a lift."""

    progress: Progress
    judge: Judge
    coach: Coach
    coach_shown: bool
    scales: Scales
    """What the load tells while it is held."""
    center: Center | None
    """What the loads said of the center of gravity, once the load has hung through a hold."""
    stop_reached: str
    """The reading of a limit that has just called a stop."""
    _is_told_off: bool
    _cautions: tuple[Caution, ...]
    _held: Held
    _were: tuple[bool, ...]
    _kept: dict[int, Kept]
    _rested_s: float

    def __init__(self, description: Description, began: Readings, *, us: bool = False) -> None:
        if description.drill is None:
            raise ValueError("a lift without a drill has no session")
        self.drill: Drill = description.drill
        self.progress = Progress(self.drill, began, rig=rig_of(description))
        rules_N = tuple(most_telescoped_N(unit, description.limits) for unit in description.units)
        standing = Standing(description)
        self.judge = Judge(self.drill, description.limits, standing, rig=rig_of(description), telescoped_N=rules_N)
        self.coach = Coach(description, us=us)
        self.coach_shown, self.center, self.stop_reached = True, None, ""
        self._description = description
        self._rig = rig_of(description)
        self.scales = Scales(description)
        self._told = Told(description, self.scales)
        self._is_told_off = False
        self._cautions = ()
        self._limits: tuple[Limit, ...] = ()
        self._kept = {}
        self._now = began
        self._rested_s = 0.0
        self._start_step()

    @property
    def step(self) -> Step:
        """The step the pair is in."""
        return self.progress.step

    @property
    def index(self) -> int:
        """Its number, from 0."""
        return self.progress.index

    @property
    def asks(self) -> bool:
        """The load has been weighed, and the pair is to name it."""
        is_naming = self.step.work == NAMING and self.progress.goes_on is None
        return is_naming and not self.over and self.scales.found is not None

    @property
    def is_to_be_named(self) -> bool:
        """The pair is yet to say what the loads tell, so nobody says it for them."""
        return (
            not self.over
            and any(step.work == NAMING for step in self.drill.steps[self.index :])
            and (self.progress.goes_on is None)
        )

    def by_the_loads(self) -> Answer:
        """What an able pair says when it is asked."""
        return self._told.by_the_loads()

    @property
    def rechecked(self) -> Rechecked | None:
        """The rest of the path with what the loads told; None where they told nothing."""
        return self._told.rechecked

    def answer(self, given: Answer) -> None:
        """The pair says what it weighs, which end is heavy, and whether it goes on.

        Raises:
            ValueError: an answer that no load could have, or nobody asked.
        """
        refuse_wild(given)
        if not self.asks:
            raise ValueError("an answer: given in another step, or before the load was weighed in a hold")
        now = self._now
        for one in self._told.wrong(given):
            if one.fails:
                self.judge.fail(Fail(EVERYBODY, one.rule, one.reading, one.value), now.time_s)
            else:
                self.judge.lose(one.points, EVERYBODY, one.rule, one.reading, one.value, now.time_s)
        self.progress.goes_on = given.goes_on
        if given.goes_on or not self._told.holds:
            self.progress.passed_by |= self.progress.excused()

    @property
    def done(self) -> bool:
        """The last step's end was reached."""
        return self.progress.done

    @property
    def over(self) -> bool:
        """Done, or out of time; time rests under a stop order."""
        return self.done or self._now.time_s - self._rested_s >= self.drill.longest_s

    @property
    def prompt(self) -> Prompt | None:
        """What the coach says; none while it is hidden."""
        if not self.coach_shown:
            return None
        return on_center(self.center, us=self.coach.us) if self.done and self.center else self.coach.prompt

    @property
    def told(self) -> tuple[str, ...]:
        """What each seat is told in this step, unit by unit."""
        return tuple(retold(self.step.told(name), us=self.coach.us) for name in self._rig.unit_names)

    @property
    def title(self) -> str:
        """What the step is called."""
        return retold(self.step.title, us=self.coach.us)

    def speak(self, *, us: bool) -> None:
        """Speak in feet and pounds, or in meters and tonnes, from now on."""
        self.coach.us = us

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What raises a caution now: the drill's limits, and whatever is costing points."""
        return (*self._cautions, *(Caution(loss.rule, loss.reading, costs=True) for loss in self.judge.counting))

    @property
    def losses(self) -> list[Loss]:
        """Every point lost so far; when it is over, the steps not done as well."""
        missing = not_done(self.drill, self.progress.passed_by, self._now.time_s) if self.over else []
        return [*self._lost, *missing]

    @property
    def _lost(self) -> list[Loss]:
        return [loss for loss in self.judge.kept.losses if loss.points > 0.0]

    @property
    def score(self) -> Grade:
        """Points kept so far."""
        return grade(self.losses, self._rig.unit_names)

    def result(self) -> tuple[Grade, list[Loss]]:
        """Points as if it ended here: steps not done count."""
        losses = [*self._lost, *not_done(self.drill, self.progress.passed_by, self._now.time_s)]
        return grade(losses, self._rig.unit_names), losses

    @property
    def passed(self) -> bool:
        """Done, with the points that the drill asks for, and nothing that fails it whatever its points."""
        return self.done and not self.failed_by and self.result()[0].together >= self.drill.pass_points

    @property
    def failed_by(self) -> list[Loss]:
        """What fails the drill whatever its points."""
        return [loss for loss in self._lost if loss.fails]

    def see(self, now: Readings, asked: Commands, *, stopped: bool = False, incidents: int = 0) -> bool:
        """Take in a moment.

        Args:
            now: readings.
            asked: what the operators ask for.
            stopped: a stop order holds.
            incidents: how many there have been.

        Returns:
            True when another step has begun.
        """
        if stopped:
            self.progress.rest(now.time_s - self._now.time_s)
            self._rested_s += now.time_s - self._now.time_s
        self._now = now
        self.judge.see(now, asked, self.progress, stopped=stopped, incidents=incidents)
        self._look_at_limits(now)
        self._weigh(now)
        before = self.progress.index
        ended = not stopped and self.progress.see(now)
        if ended and not self.done:
            self._start_step()
        self.coach.see(now, self.progress, stopped=stopped)
        return self.progress.index != before

    def back_to(self, index: int, now: Readings) -> None:
        """Begin a step anew, with the points that were left when it first began."""
        self.progress.go_to(index, now)
        self.progress.passed_by -= set(range(index, len(self.drill.steps)))
        self.judge.back_to(self._kept.get(index, Kept()))
        self._now = now
        self.scales.forget()
        self._start_step()

    def recall(self, index: int, now: Readings, put_back: Callable[[Session], object]) -> None:
        """Go on at a moment of a step, with what was remembered then.

        Args:
            index: of the step.
            now: readings of that moment.
            put_back: lets it remember, once it stands in that step.
        """
        self.progress.go_to(index, now)
        self._start_step()
        self.judge.begin(self.progress)
        put_back(self)
        self.scales.weigh_again()
        self._now = now

    def _start_step(self) -> None:
        self._kept[self.index] = deepcopy(self.judge.kept)
        self._limits = (*self.step.limits, *self.drill.limits)
        self._held, self._were = Held(self._limits, rig=self._rig), (False,) * len(self._limits)

    def _look_at_limits(self, now: Readings) -> None:
        held = self._held.see(now, self.progress.reckoned)
        rows = list(zip(self._limits, held, self._were, strict=True))
        self._cautions = tuple(Caution(limit.say, limit.reading) for limit, holds, _ in rows if holds)
        reached = [limit.reading for limit, holds, was in rows if limit.at == "stop" and holds and not was]
        self.stop_reached = reached[0] if reached else ""
        self._were = held

    def _weigh(self, now: Readings) -> None:
        was = self.scales.found
        self.scales.see(now)
        if self.scales.found is None:
            self._is_told_off = False
            return
        if self.scales.found is not was:
            self.center = center_of(self._description, self.scales.found)
        if self.scales.state == "went on" and not self._is_told_off:
            self._is_told_off = True
            if self.scales.is_off_papers and self._told.is_past:
                self.judge.fail(Fail(EVERYBODY, WENT_ON, "load.cases_held", 0.0), now.time_s)

    def as_json(self) -> dict[str, Any]:
        """Score, losses, steps and figures, SI."""
        mark, losses = self.result()
        steps = [
            {"title": step.title, "done": index in self.progress.passed_by,
             "figures": [one.as_json() for one in self.judge.kept.steps.get(index, ())]}
            for index, step in enumerate(self.drill.steps)
        ]  # fmt: skip
        return {
            "done": self.done,
            "passed": self.passed,
            "failed_by": [loss.rule for loss in self.failed_by],
            "score": {**dict(zip(self._rig.unit_names, mark.units, strict=True)), "together": mark.together},
            "losses": [vars(loss).copy() for loss in losses],
            "steps": steps,
            "center": self.center._asdict() if self.center else None,
        }

    def account(self) -> list[Happening]:
        """The same, short, as a recording keeps it: how it ended, what cost points, where the loads say the CG is."""
        mark, losses = self.result()
        state = "passed" if self.passed else "not passed" if self.done else "not done"
        fields: dict[str, Field] = {"state": "failed" if self.failed_by else state, "step": self.index + 1}
        fields |= {f"of_{name}": points for name, points in zip(self._rig.unit_names, mark.units, strict=True)}
        found = [Happening(ACCOUNT, "drill", {**fields, "together": mark.together}), *summed(losses)]
        if self.center:
            loads, _, true, stated = self.center
            found.append(Happening(ACCOUNT, "center", {"loads_m": loads, "true_m": true, "stated_m": stated}))
        return found
