"""What a script uses: load a lift, change its numbers, run it to its end with no window, once or many times, read how
it went.

A name imported as itself is handed on: the package's public face takes it from here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import nullcontext
from math import inf
from numbers import Real
from pathlib import Path

from simulator.attempt import Attempt as Attempt
from simulator.attempt import Observer
from simulator.attempt import Operator as Operator
from simulator.drill.partner import Partner as Partner
from simulator.drill.ways import WAYS
from simulator.engine import step_rule
from simulator.engine.commands import Commands as Commands
from simulator.engine.commands import UnitCommands as UnitCommands
from simulator.engine.simulation import Simulation as Simulation
from simulator.engine.time_zero import unfit
from simulator.files import bounds
from simulator.mechanics.weighing import Errors as Errors
from simulator.mechanics.weighing_lift import reading_of
from simulator.places import find_scenario
from simulator.plan.recheck import Rechecked as Rechecked
from simulator.plan.recheck import recheck
from simulator.readings import CHANNELS as CHANNELS
from simulator.readings import Readings as Readings
from simulator.recording.counted import sample_every
from simulator.recording.headless import GIVEN_UP, LONGEST_S, run_operators
from simulator.recording.keep import start_recording
from simulator.rehearsal.driven import Job
from simulator.rehearsal.kept import KeptRows
from simulator.rehearsal.lots import SEEDS, Lots, Range, unordered, wild
from simulator.rehearsal.many import MOST_JOBS, Where
from simulator.rehearsal.many import rehearse as rehearse_many
from simulator.report.lift.summary import Summary as Summary
from simulator.report.rehearsal.rehearsed import Rehearsal as Rehearsal
from simulator.report.rehearsal.rehearsed import first_told, set_up_of
from simulator.scenario.description import Description as Description
from simulator.scenario.faults import BrokenScenario as BrokenScenario
from simulator.scenario.reader import load as read
from simulator.scenario.reader import parse_text
from simulator.scenario.toml_writer import dump
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


def rehearse(
    description: Description,
    draws: int = 100,
    *,
    weight: Range | None = None,
    cg_m: Range | None = None,
    cg_across_m: Range | None = None,
    wind_mps: Range | None = None,
    operators: Sequence[str] | Sequence[Sequence[str]] = ("able",),
    seed: int | None = None,
    jobs: int | None = None,
    on: str | None = None,
    keep_in: Path | None = None,
    causes: bool = False,
) -> Rehearsal:
    """A lift or drill driven many times, with loads, wind and operators drawn by lot: a row a draw.

    Draw number k is the same whatever else is drawn, and wherever it is driven.

    Args:
        description: looked over by `checked` first; a range that is None keeps what it says.
        draws: how many.
        weight: true weight over the stated one, least and most.
        cg_m, cg_across_m: true center of gravity from the stated one, along toward the axles, and across.
        wind_mps: mean wind; gusts come on top as described.
        operators: ways (as `slopepick rehearse --operators`) of which each unit draws one; or a list for each unit.
        seed: the scenario's own when none is given.
        jobs, on: processes (all cores; a script then begins under `__main__`), or a Dask scheduler's address.
        keep_in: a folder for the rows; a run that was broken off goes on there.
        causes: debrief each draw: what it names first.

    Raises:
        BrokenScenario, ValueError: numbers that cannot be used.
        Refused, WorkersLost: the folder is of another run; whoever was to drive cannot, or was lost.
    """
    lift = checked(description)
    own = Lots(lift.seed if seed is None else seed, _ways(operators, lift), weight, cg_m, cg_across_m, wind_mps)
    return _rehearsed(Job(lift, own, first_told if causes else None), draws, Where(jobs, on), keep_in)


def _rehearsed(job: Job, draws: int, where: Where, keep_in: Path | None) -> Rehearsal:
    counts = (
        ("draws", draws, 1, bounds.DRAWS),
        ("seed", job.lots.seed, 0, SEEDS - 1),
        ("jobs", where.jobs, 1, MOST_JOBS),
    )
    for name, given, low, high in counts:
        if given is not None and not (isinstance(given, int) and low <= given <= high):
            raise ValueError(f"{name}: given {given!r}, allowed: a whole number, {low} to {high}")
    if faults := unordered(job.lots) or wild(job.lift, job.lots):
        raise ValueError("; ".join(faults))
    with nullcontext() if keep_in is None else KeptRows(Path(keep_in), job) as kept:
        rows = rehearse_many(job, draws, where, kept=kept)
    return Rehearsal(job.lift, job.lots, draws, rows, set_up_of(job.lift))


def _ways(given: Sequence[str] | Sequence[Sequence[str]], lift: Description) -> tuple[tuple[str, ...], ...]:
    """The ways of each unit.

    Raises:
        ValueError: no such way, or not a list a unit.
    """
    units = tuple(unit.name for unit in lift.units)
    each = [given] * len(units) if all(one in WAYS for one in given) else list(given)
    if len(each) != len(units) or not all(
        isinstance(own, list | tuple) and own and set(own) <= set(WAYS) for own in each
    ):
        may = f"ways, or a list of them for each of {', '.join(units)}: {', '.join(WAYS)}"
        raise ValueError(f"operators: given {given!r}, allowed: {may}")
    return tuple(tuple(map(str, own)) for own in each)


def weigh(
    description: Description,
    loads_N: Mapping[str, float],
    *,
    leans_rad: Mapping[str, tuple[float, float]] | None = None,
    pitch_rad: float = 0.0,
    roll_rad: float = 0.0,
    errors: Errors | None = None,
) -> Rechecked:
    """What the load tells while it hangs free and still, and whether the rest of the path holds with it.

    Args:
        description: the lift; its hidden numbers are not looked at.
        loads_N: what the displays show, block and rigging in it, by the line's name; gauges at the hook.
        leans_rad: off plumb along and across (load toward the tail unit, toward the road) by the line's name.
        pitch_rad: nose up.
        roll_rad: road side up.
        errors: how sure all that is, each the half-width of 95 %; as `Errors` has them unless given.

    Raises:
        ValueError: not every line once, a load that is no number, or readings that contradict each other.
    """
    reading = reading_of(description, loads_N, leans_rad=leans_rad, pitch_rad=pitch_rad, roll_rad=roll_rad)
    return recheck(description, [reading], errors)


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
    steps_per_s = attempt.description.engine.steps_per_s
    every = sample_every(steps_per_s, attempt.every)
    summary = Summary(attempt.description.title, say("program.caution"), attempt.rig, every=every,
                      limits=attempt.description.limits)  # fmt: skip
    attempt.watch_closely(summary, steps_per_s / every)
    go()
    summary(attempt.readings)
    summary.incidents = [one.happening for one in attempt.incidents]
    summary.given_up = next((event.happening for event in attempt.events if event.kind == GIVEN_UP), None)
    summary.state_hash = attempt.state_hash
    if attempt.session is not None:
        summary.drill, summary.account = attempt.session.as_json(), attempt.session.account()
    return summary
