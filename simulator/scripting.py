"""What a script uses: load a lift, change its numbers, run it to its end with no window, read how it went.

A name imported as itself is handed on: the package's public face takes it from here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from contextlib import nullcontext
from math import inf
from numbers import Real
from pathlib import Path

from simulator.attempt import Attempt as Attempt
from simulator.attempt import Observer
from simulator.attempt import Operator as Operator
from simulator.drill.partner import Partner as Partner
from simulator.engine import step_rule
from simulator.engine.commands import Commands as Commands
from simulator.engine.commands import UnitCommands as UnitCommands
from simulator.engine.simulation import Simulation as Simulation
from simulator.engine.time_zero import unfit
from simulator.places import find_scenario
from simulator.readings import CHANNELS as CHANNELS
from simulator.readings import Readings as Readings
from simulator.recording.headless import GIVEN_UP, LONGEST_S, run_operators
from simulator.recording.keep import start_recording
from simulator.report.summary import Summary as Summary
from simulator.scenario.description import Description as Description
from simulator.scenario.faults import BrokenScenario as BrokenScenario
from simulator.scenario.reader import load as read
from simulator.scenario.reader import parse_text
from simulator.scenario.writer import dump
from simulator.words import say


def load(name_or_path: str | Path) -> Description:
    """The lift of a scenario file, or of a shipped scenario or drill by its name.

    Raises:
        BrokenScenario: no such file, or everything that is wrong with it.
    """
    return read(find_scenario(name_or_path))


def checked(description: Description) -> Description:
    """The same lift, if a scenario file could say it: what `replace` has put in is judged as a file's numbers are.

    Raises:
        BrokenScenario: with everything that is out of its range or does not fit.
    """
    return parse_text(dump(description), "the lift given")


def run(
    description: Description,
    operators: Sequence[Operator | None] | None = None,
    *,
    longest_s: float = LONGEST_S,
    observers: Iterable[Observer] = (),
    record_in: Path | None = None,
) -> Summary:
    """A lift or drill from time zero to its end with no window.

    Args:
        description: looked over by `checked` first.
        operators: one a unit (nose, tail; or the lone unit's); None in a seat keeps that unit still; left out, all are
            automatic.
        longest_s: simulated time after which it is given up.
        observers: each is shown the readings of every moment, at `engine.readings_per_s`.
        record_in: a folder to keep a recording in, for `slopepick look` and `slopepick debrief`.

    Raises:
        BrokenScenario: numbers that no scenario file could hold, or with which the lift cannot begin.
        ValueError: not a seat a unit, no time, or a command that is no number.
    """
    names = tuple(unit.name for unit in description.units)
    seats = None if operators is None else _seated(operators, names)
    until_s = _seconds(longest_s)
    lift = checked(description)
    if refused := step_rule.faults("the lift given", lift):
        raise BrokenScenario(refused)
    automatic: list[Operator | None] = [Partner(lift, place) for place in range(len(lift.units))]
    attempt = Attempt(lift, automatic if seats is None else seats, in_bulk=True)
    if faults := unfit("the lift given", attempt.simulation):
        raise BrokenScenario(faults)
    attempt.observers.extend(observers)
    with nullcontext() if record_in is None else start_recording(attempt, Path(record_in), ""):
        return summed_up(attempt, lambda: run_operators(attempt, longest_s=until_s))


def _seconds(given: object) -> float:
    """A length of time.

    Raises:
        ValueError: it is none.
    """
    if not isinstance(given, Real) or not 0.0 < float(given) < inf:
        raise ValueError(f"longest_s: given {given!r}, allowed: a number of seconds over 0")
    return float(given)


def _seated(operators: object, names: tuple[str, ...]) -> list[Operator | None]:
    """The operator of each of these units.

    Raises:
        ValueError: not one a unit, or one that cannot be asked for its commands.
    """
    if not isinstance(operators, Sequence) or len(operators) != len(names):
        given = len(operators) if isinstance(operators, Sequence) else repr(operators)
        may = f"{len(names)} in a list ({', '.join(names)}), or None for all automatic"
        raise ValueError(f"operators: given {given}, allowed: {may}")
    for end, one in zip(names, operators, strict=True):
        if one is not None and not callable(getattr(one, "command", None)):
            may = "None, or an object with command(readings)"
            raise ValueError(f"operators: given {one!r} for the {end} unit, allowed: {may}")
    return list(operators)


def summed_up(attempt: Attempt, go: Callable[[], None]) -> Summary:
    """What `go` made of an attempt, in a few figures."""
    summary = Summary(attempt.description.title, say("program.caution"), attempt.rig)
    attempt.observers.append(summary)
    summary(attempt.readings)
    go()
    summary.incidents = [one.happening for one in attempt.incidents]
    summary.given_up = next((event.happening for event in attempt.events if event.kind == GIVEN_UP), None)
    summary.state_hash = attempt.state_hash
    if attempt.session is not None:
        summary.drill, summary.account = attempt.session.as_json(), attempt.session.account()
    return summary
