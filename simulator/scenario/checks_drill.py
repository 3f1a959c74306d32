"""Rules of a drill: it has steps, each has an end, titles tell them apart, and each that is named is there."""

from __future__ import annotations

from collections import Counter
from difflib import get_close_matches

from simulator.scenario.breach import Breach, Breaches
from simulator.scenario.drill import Drill
from simulator.scenario.faults import listed, shown
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
        if step.next and step.next not in (*titles, END):
            near = get_close_matches(step.next[:60], titles, n=3, cutoff=0.5) or titles
            allowed = f"perhaps {listed(map(shown, near))}, or {shown(END)}"
            yield Breach((f"drill.steps {number}.next",), shown(step.next), allowed)


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
