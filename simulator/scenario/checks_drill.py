"""Rules of a drill: it has steps, each has an end, titles tell them apart, and each that is named is there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from difflib import get_close_matches

from simulator.readings import channels_of
from simulator.scenario.breach import Breach, Breaches
from simulator.scenario.drill import EVERYBODY, NOBODY, Condition, Drill, Mark
from simulator.scenario.faults import listed, shown
from simulator.scenario.rig import rig
from simulator.scenario.unit import Unit

END = "end"
"""Named as the next step: there is none."""


def drill(given: Drill | None) -> Breaches:
    """All rules of a drill, if there is one."""
    if given is None:
        return
    titles = [step.title for step in given.steps]
    if not titles:
        yield Breach(("drill.steps",), "a list of 0", "at least 1 step")
    for title, count in Counter(titles).items():
        if count > 1:
            yield Breach(("drill.steps",), f"{count} steps titled {shown(title)}", "a title of its own for each step")
    for number, step in enumerate(given.steps, 1):
        if not step.until:
            yield Breach((f"drill.steps {number}.until",), "a list of 0", "at least 1 condition that ends the step")
        for key, named in (("next", step.next), ("if_set_down", step.if_set_down)):
            if named and named not in (*titles, END):
                near = get_close_matches(named[:60], titles, n=3, cutoff=0.5) or titles
                allowed = f"perhaps {listed(map(shown, near))}, or {shown(END)}"
                yield Breach((f"drill.steps {number}.{key}",), shown(named), allowed)
        if step.to_y_m is not None and step.work != "cross":
            place = (f"drill.steps {number}.to_y",)
            yield Breach(place, f"{step.to_y_m:g} m where the work is {shown(step.work)}", 'only with work = "cross"')


def told(given: Drill | None, units: tuple[Unit, ...]) -> Breaches:
    """Only units of the lift are told something, each once a step."""
    names = [unit.name for unit in units]
    for number, step in enumerate(given.steps if given else (), 1):
        for one, count in Counter(row.unit for row in step.to).items():
            place = (f"drill.steps {number}.to",)
            if one not in names:
                yield Breach(place, shown(one), f"a unit of this lift: {listed(map(shown, names))}")
            elif count > 1:
                yield Breach(place, f"{count} texts for {shown(one)}", "one text for each unit")


def seats(given: Drill | None, units: tuple[Unit, ...]) -> Breaches:
    """A step is moved in, and a mark is counted, by a unit of the lift, by both, or by none."""
    if given is None:
        return
    asked = [(f"drill.steps {number}.moves", step.moves) for number, step in enumerate(given.steps, 1)]
    asked += [(f"{place}.who", mark.who) for place, mark in _marks(given)]
    may = [*(unit.name for unit in units), EVERYBODY, NOBODY]
    for place, seat in asked:
        if seat not in may:
            yield Breach((place,), shown(seat), listed(map(shown, may)))


def readings(given: Drill | None, units: tuple[Unit, ...]) -> Breaches:
    """Conditions look at what is read of this lift."""
    if given is None:
        return
    made = rig(tuple((unit.name, tuple(range(len(unit.lines))), ()) for unit in units))
    known = [channel.name for channel in channels_of(made.unit_names, made.line_names)]
    for place, condition in _conditions(given):
        if condition.reading not in known:
            near = get_close_matches(condition.reading[:60], known, n=3, cutoff=0.5)
            may = f"perhaps {listed(near)}" if near else f"one of {len(known)} names such as {known[0]}"
            yield Breach((f"{place}.reading",), shown(condition.reading), may)


def _marks(given: Drill) -> Iterator[tuple[str, Mark]]:
    """Every mark with its place."""
    for number, mark in enumerate(given.marks, 1):
        yield f"drill.marks {number}", mark
    for at, step in enumerate(given.steps, 1):
        for number, mark in enumerate(step.marks, 1):
            yield f"drill.steps {at}.marks {number}", mark


def _conditions(given: Drill) -> Iterator[tuple[str, Condition]]:
    """Every condition with its place."""
    for number, limit in enumerate(given.limits, 1):
        yield f"drill.limits {number}", limit
    for at, step in enumerate(given.steps, 1):
        for what, rows in (("until", step.until), ("limits", step.limits)):
            for number, one in enumerate(rows, 1):
                yield f"drill.steps {at}.{what} {number}", one
    for place, mark in _marks(given):
        yield place, mark
        for number, one in enumerate(mark.only_while, 1):
            yield f"{place}.only_while {number}", one
