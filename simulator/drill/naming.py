"""Naming the load: after the hold the pair says what it weighs, which end is heavy and, where two lines of a unit tell
it, which side; then it goes on or sets it down."""

from __future__ import annotations

from dataclasses import replace
from math import isfinite
from random import Random
from typing import NamedTuple, get_args

from simulator.drill.scales import Scales
from simulator.events import Happening
from simulator.mechanics.weighing_lift import HeavyEnd, HeavySide, heavy_end, heavy_side, tells_across
from simulator.plan.recheck import LOADED, Rechecked, Unusable, recheck
from simulator.scenario.description import Description

NAMING = "name the load"
"""The work of a step in which it is done."""
ENDS: tuple[HeavyEnd, ...] = get_args(HeavyEnd)
SIDES: tuple[HeavySide, ...] = get_args(HeavySide)
NAMED_SHARE = 0.03
"""A weight is named rightly within its spread and this share more. Our choice, no source."""
MOST_N = 1e7
GOES_ON, SETS_DOWN = "named_goes_on", "named_sets_down"
"""What is told of an answer."""
ACROSS = "_across"
"""Added to that where the heavy side is said too."""
WRONG_WEIGHT, WRONG_END, WRONG_SIDE, NEEDLESS, IN_DOUBT = 15.0, 15.0, 15.0, 25.0, 15.0
"""Points; our choice, no source."""


class Answer(NamedTuple):
    """What a pair says."""

    weight_N: float
    """Of the load alone."""
    heavy: HeavyEnd
    goes_on: bool
    """Else it is set down."""
    side: HeavySide | None = None
    """Which side of it is heavy; none where the lift's lines do not tell."""

    def happening(self) -> Happening:
        """As what is told of a lift."""
        what = GOES_ON if self.goes_on else SETS_DOWN
        if self.side is None:
            return Happening("answer", what, {"weight_N": self.weight_N, "heavy": self.heavy})
        return Happening("answer", what + ACROSS, {"weight_N": self.weight_N, "heavy": self.heavy, "side": self.side})


def answer_from(what: Happening) -> Answer:
    """The answer that an event of the kind `answer` holds.

    Raises:
        ValueError: it holds none.
    """
    weight_N, heavy, side = (what.fields.get(field) for field in ("weight_N", "heavy", "side"))
    ends = {end: end for end in ENDS}
    said = next((one for one in SIDES if one == side), None)
    done = what.what.removesuffix(ACROSS)
    if not isinstance(weight_N, int | float) or heavy not in ends or done not in (GOES_ON, SETS_DOWN):
        raise ValueError("an answer without weight, heavy end and what is done")
    answer = Answer(float(weight_N), ends[heavy], done == GOES_ON, said)
    refuse_wild(answer)
    return answer


class Wrong(NamedTuple):
    """Something that was said or decided wrongly."""

    points: float
    rule: str
    reading: str
    value: float
    fails: bool = False


def refuse_wild(answer: Answer) -> None:
    """Stop an answer that no load could have.

    Raises:
        ValueError: with what was given and what is allowed.
    """
    if not isfinite(answer.weight_N) or not 0.0 < answer.weight_N <= MOST_N:
        raise ValueError(f"weight_N: given {answer.weight_N}, allowed: a weight in N over 0 to {MOST_N:.0f}")
    if answer.heavy not in ENDS:
        raise ValueError(f"heavy: given {answer.heavy!r}, allowed: {', '.join(ENDS)}")
    if answer.side not in (None, *SIDES):
        raise ValueError(f"side: given {answer.side!r}, allowed: {', '.join(SIDES)}")


def drawn_load(description: Description) -> Description:
    """The lift with one of its drill's loads hidden in it, drawn by its seed; the same lift where there are none."""
    drill = description.drill
    if drill is None or not drill.loads:
        return description
    load = Random(description.seed).choice(drill.loads)
    trailer = replace(description.trailer, hidden_mass_factor=load.mass_factor, hidden_cg_m=load.cg_m)
    return replace(description, trailer=trailer, drill=replace(drill, loads=()))


class Told:
    """What one weighing means for the rest of the path, judged once, when it is first asked for."""

    def __init__(self, description: Description, scales: Scales) -> None:
        self._description, self._scales = description, scales
        self._kept: tuple[float, Rechecked | None] | None = None

    @property
    def rechecked(self) -> Rechecked | None:
        """None where nothing was weighed, or the readings contradict each other."""
        scales = self._scales
        if scales.reading is None:
            return None
        if self._kept is None or self._kept[0] != scales.found_s:
            try:
                found: Rechecked | None = recheck(self._description, [scales.reading], scales.errors)
            except Unusable:
                found = None
            self._kept = scales.found_s, found
        return self._kept[1]

    @property
    def is_past(self) -> bool:
        """The load as found passes a limit that depends on it: to go on with it fails a drill."""
        found = self.rechecked
        return found is None or bool(set(found.check.refused_for) & set(LOADED))

    @property
    def holds(self) -> bool:
        """No case of its spread passes a limit that depends on it."""
        return not self.is_past and self.rechecked is not None and not set(self.rechecked.cases.refused) & set(LOADED)

    def by_the_loads(self) -> Answer:
        """What an able pair says."""
        assert self._scales.found is not None
        weighed = self._scales.found
        side = heavy_side(self._description, weighed) if tells_across(self._description) else None
        return Answer(weighed.weight_N, heavy_end(self._description, weighed), self.holds, side)

    def wrong(self, answer: Answer) -> list[Wrong]:
        """What of an answer is wrong, by what the loads told."""
        assert self._scales.found is not None
        weighed, right = self._scales.found, self.by_the_loads()
        off_N = answer.weight_N - weighed.weight_N
        found = []
        if abs(off_N) > weighed.weight_spread_N + NAMED_SHARE * weighed.weight_N:
            found.append(Wrong(WRONG_WEIGHT, "weight named wrongly", "load.named_off_N", off_N))
        if right.heavy not in ("even", answer.heavy):
            found.append(Wrong(WRONG_END, "heavy end named wrongly", "time_s", 0.0))
        if right.side not in (None, "even", answer.side):
            found.append(Wrong(WRONG_SIDE, "heavy side named wrongly", "time_s", 0.0))
        held = self.rechecked.cases.held / self.rechecked.cases.drawn if self.rechecked else 0.0
        if answer.goes_on and self.is_past:
            found.append(Wrong(0.0, WENT_ON, "load.cases_held", held, fails=True))
        elif answer.goes_on and not self.holds:
            found.append(Wrong(IN_DOUBT, "went on though part of the spread is past a limit", "load.cases_held", held))
        elif not answer.goes_on and self.holds:
            found.append(Wrong(NEEDLESS, "set down a load that holds", "load.cases_held", held))
        return found


WENT_ON = "went on past a load that does not hold"
