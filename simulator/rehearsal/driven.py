"""One rehearsal driven: a draw in, a row of figures out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import nan
from typing import Any, Literal, NamedTuple

from simulator.attempt import Attempt
from simulator.engine.time_zero import unfit
from simulator.events import Happening
from simulator.files.plain_text import cut_to
from simulator.recording.counted import Sampled, sample_every
from simulator.recording.headless import GIVEN_UP, nobody, run_operators
from simulator.recording.memory import Memory
from simulator.recording.recorded import Recording
from simulator.rehearsal.limits import GUST, gusts_of, limits_of
from simulator.rehearsal.lots import Draw, Lots, drawn, lift_of, operators_of
from simulator.scenario.description import Description

Ending = Literal["landed", "passed", "not passed", "not done", "not landed", "incident", "given up", "cannot begin"]
"""How a rehearsal ended; `passed`, `not passed` and `not done` of a drill."""
GOOD: tuple[Ending, ...] = ("landed", "passed")
WHY_LETTERS = 200


class FirstCause(NamedTuple):
    """What a debrief names first of a rehearsal."""

    kind: str
    by: str
    """The unit whose it is; empty where it is nobody's alone."""


Told = Callable[[Recording], FirstCause]


class Job(NamedTuple):
    """All that the rehearsals of one run share; it goes to whoever drives them."""

    lift: Description
    lots: Lots
    told: Told | None = None
    """Tells a recording; a function of a module, so that another process finds it."""


class DrawRow(NamedTuple):
    """One rehearsal."""

    draw: Draw
    ended: Ending
    time_s: float
    """Of the lift."""
    values: tuple[float, ...] = ()
    """The worst of each of `limits_of`, in its order; not a number where nothing counted, nothing for a lift that
    could not begin."""
    incidents: tuple[Happening, ...] = ()
    points: float = nan
    """Of a drill, together."""
    failed_by: tuple[str, ...] = ()
    """The rules that failed a drill whatever its points."""
    why: str = ""
    """Why it could not begin."""
    cause: FirstCause = FirstCause("", "")
    state_hash: str = ""

    @property
    def number(self) -> int:
        """Of its draw."""
        return self.draw.number

    @property
    def is_good(self) -> bool:
        """Landed, or its drill passed; of the limits it says nothing."""
        return self.ended in GOOD

    def as_json(self) -> dict[str, Any]:
        """Plain values, from which `row_of` makes the same row."""
        kept = {name: list(value) if isinstance(value, tuple) else value for name, value in self._asdict().items()}
        kept["draw"] = self.draw._asdict()
        kept["incidents"] = [[one.kind, one.what, dict(one.fields)] for one in self.incidents]
        return kept


def row_of(kept: dict[str, Any]) -> DrawRow:
    """The row that `as_json` was made of; a number that JSON has no word for comes back as no number.

    Raises:
        KeyError, TypeError, ValueError: it was made of none.
    """
    lots: dict[str, Any] = kept["draw"]
    draw = Draw(**(lots | {name: tuple(lots[name]) for name in ("ways", "hand_seeds")}))
    if not isinstance(draw.number, int):
        raise ValueError(f"given draw {draw.number!r}, allowed: a whole number")
    return DrawRow(
        draw, kept["ended"], float(kept["time_s"]), tuple(_number(one) for one in kept["values"]),
        tuple(Happening(*one) for one in kept["incidents"]), _number(kept["points"]), tuple(kept["failed_by"]),
        kept["why"], FirstCause(*kept["cause"]), kept["state_hash"],
    )  # fmt: skip


def _number(value: float | None) -> float:
    return nan if value is None else float(value)


def drive(job: Job, number: int, stopped: Callable[[], bool] = nobody) -> DrawRow | None:
    """Drive draw `number` to its end; none when somebody asked to stop meanwhile."""
    draw = drawn(job.lift, job.lots, number)
    try:
        return _driven(job, draw, stopped)
    except ArithmeticError as error:  # numbers that no engine can go on with
        return DrawRow(draw, "cannot begin", 0.0, why=cut_to(str(error), WHY_LETTERS))


def _driven(job: Job, draw: Draw, stopped: Callable[[], bool]) -> DrawRow | None:
    attempt = _begun(job, draw)
    faults = unfit(f"draw {draw.number}", attempt.simulation)
    if faults:
        return DrawRow(draw, "cannot begin", 0.0, why=cut_to(str(faults[0]), WHY_LETTERS))
    steps_per_s = attempt.description.engine.steps_per_s
    every = sample_every(steps_per_s, attempt.every)
    seen = Sampled(attempt.rig, every=every)
    attempt.watch_closely(seen, steps_per_s / every)
    memory = None if job.told is None else Memory(attempt)
    run_operators(attempt, stopped=stopped)
    if stopped():
        return None
    seen(attempt.readings)  # a unit that tips ends the lift, and that moment is a sample
    cause = FirstCause("", "") if memory is None or job.told is None else job.told(memory.recording())
    return _row(attempt, draw, _values(attempt.description, seen), cause)


def _begun(job: Job, draw: Draw) -> Attempt:
    lift = lift_of(job.lift, draw)
    return Attempt(lift, operators_of(lift, draw), in_bulk=True)


def _values(lift: Description, seen: Sampled) -> tuple[float, ...]:
    """The worst of each limit, to the decimals of a recording."""
    limits = limits_of(lift)
    of_lift = [seen.worst(one.key) for one in limits if not one.key.endswith(f".{GUST}")]
    return (*of_lift, *gusts_of(lift))


def _row(attempt: Attempt, draw: Draw, values: Sequence[float], cause: FirstCause) -> DrawRow:
    """What an attempt that is over came to."""
    session = attempt.session
    return DrawRow(
        draw, _ended(attempt), attempt.readings.time_s, tuple(values),
        tuple(one.happening for one in attempt.incidents),
        nan if session is None else session.result()[0].together,
        () if session is None else tuple(dict.fromkeys(loss.rule for loss in session.failed_by)),
        cause=cause, state_hash=attempt.state_hash,
    )  # fmt: skip


def _ended(attempt: Attempt) -> Ending:
    if attempt.incidents:
        return "incident"
    if (session := attempt.session) is not None:
        return "passed" if session.passed else "not passed" if session.done else "not done"
    if attempt.readings.load.landed:
        return "landed"
    return "given up" if any(event.kind == GIVEN_UP for event in attempt.events) else "not landed"


def recorded(job: Job, number: int, stopped: Callable[[], bool] = nobody) -> tuple[bytes, str] | None:
    """Drive draw `number` again: its recording as a file holds it, and the hash of the state it ended in."""
    draw = drawn(job.lift, job.lots, number)
    attempt = _begun(job, draw)
    unfit(f"draw {number}", attempt.simulation)
    memory = Memory(attempt, pair=draw.ways)
    run_operators(attempt, stopped=stopped)
    return None if stopped() else (memory.data(), attempt.state_hash)
