"""Where a pair is in its drill: steps follow one another as readings say."""

from __future__ import annotations

from simulator.drill.conditions import Held, holds
from simulator.readings import Readings
from simulator.scenario.checks_drill import END
from simulator.scenario.drill import Condition, Drill, Step
from simulator.scenario.rig import TWO_BY_ONE, Rig


class Progress:
    """Goes through the steps of a drill."""

    index: int
    done: bool
    passed_by: set[int]
    """Steps whose end was reached."""
    began: Readings
    _rested_s: float
    goes_on: bool | None
    """Of a step in which the load is named: what the pair decided; None until it has."""
    _held: Held

    def __init__(self, drill: Drill, began: Readings, *, rig: Rig = TWO_BY_ONE) -> None:
        """
        Args:
            drill: its steps.
            began: the moment the first one begins.
            rig: of the lift.
        """
        self.drill, self._rig = drill, rig
        self.passed_by = set()
        self.go_to(0, began)

    @property
    def reckoned(self) -> Readings:
        """The moment the step began, moved on by the time that stop orders have taken since: times rest under one."""
        return self.began if not self._rested_s else self.began._replace(time_s=self.began.time_s + self._rested_s)

    def rest(self, seconds: float) -> None:
        """A stop order has held for so long in this step."""
        self._rested_s += seconds

    @property
    def step(self) -> Step:
        """The step the pair is in; the last one it was in when the drill is done."""
        return self.drill.steps[self.index]

    def see(self, now: Readings) -> bool:
        """Take in a moment; True when it ends a step."""
        if self.done:
            return False
        held = self._held.see(now, self.reckoned)
        if not (all(held) if self.step.match == "all" else any(held)):
            return False
        if self.step.work == "name the load" and self.goes_on is None:
            return False
        self.passed_by.add(self.index)
        following = self._following()
        if following is None:
            self.done = True
        else:
            self.go_to(following, now)
        return True

    def excused(self) -> set[int]:
        """Steps that the way decided on leaves out: those that nothing leads to from here."""
        reached, following = {self.index, *self.passed_by}, self._following()
        titles = [step.title for step in self.drill.steps]
        ways = [following] if following is not None else []
        while ways:
            index = ways.pop()
            if index in reached:
                continue
            reached.add(index)
            step = self.drill.steps[index]
            below = index + 1 if index + 1 < len(titles) else None
            named = [step.next, step.if_set_down]
            ways += [titles.index(one) for one in named if one in titles]
            ways += [below] if step.next is None and below is not None else []
        return set(range(len(titles))) - reached

    def missing(self, now: Readings) -> tuple[Condition, ...]:
        """Conditions of this step's end that do not hold now, but for those that only wait for time."""
        return tuple(
            one for one in self.step.until if one.reading != "time_s" and not holds(one, now, self.reckoned, self._rig)
        )

    def go_to(self, index: int, now: Readings) -> None:
        """Begin a step here and now."""
        self.index, self.began, self.done, self.goes_on = index, now, False, None
        self._rested_s = 0.0
        self._held = Held(self.step.until, rig=self._rig)

    def _following(self) -> int | None:
        """The step after this one; none after the last."""
        named = (self.step.if_set_down or END) if self.goes_on is False else self.step.next
        if named == END or (not named and self.index + 1 == len(self.drill.steps)):
            return None
        return [step.title for step in self.drill.steps].index(named) if named else self.index + 1
