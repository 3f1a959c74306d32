"""What the front door tells the layout screen: a lift judged while it is moved, by the same check as `check`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import inf
from pathlib import Path
from typing import TYPE_CHECKING, overload

from simulator.scenario.asked_numbers import System
from simulator.telling.laid_out import Help, Judged, Point, Row, Spoke, Stop, UnitAt

if TYPE_CHECKING:
    from simulator.plan.findings import Finding
    from simulator.plan.judged_station import StationCheck
    from simulator.plan.setup_check import SetupCheck
    from simulator.report.amounts import Amounts
    from simulator.scenario.description import Description

QUICK_STEP_M, STEP_M = 100.0, 0.5
"""Stations across the road while something moves: only those that have a name; and of a whole check."""
HELP_STEPS_M: dict[System, tuple[float, ...]] = {"metric": (0.25, 0.5, 1.0), "us": (0.3048, 0.6096, 0.9144)}
"""What is tried of each change: round in the user's units."""
CASES = 100
"""Combinations of weight and heavy end that are counted, corners included."""
ORDER = {"stop": 0, "caution": 1, "good": 2}


class Bench:
    """Answers a layout screen. One for a screen; it keeps nothing but the units that numbers are told in."""

    def __init__(self, system: System) -> None:
        self.system: System = system

    def new(self) -> Description:
        """A lift to begin with, which stands: every number of it is a stand-in."""
        from simulator.plan.draft import draft
        from simulator.scenario.reader import parse_text

        return parse_text(draft({}, self.system).text, "new lift")

    def settled(self, description: Description) -> Description:
        """The same with its load as the slope lies under it, and its booms over the picks."""
        from simulator.plan.starts import settled

        return settled(description)

    def judged(self, description: Description, *, is_quick: bool = False) -> Judged:
        """The whole path judged: at each half meter as `check` has it, or at fewer places while something moves."""
        from simulator.plan.setup_check import check_setup

        found = check_setup(description, step_m=QUICK_STEP_M if is_quick else STEP_M)
        return self.told(found, is_quick=is_quick)

    def told(self, found: SetupCheck, *, is_quick: bool = False) -> Judged:
        """A check as the screen shows it: what is nearest its limit first."""
        from simulator.report.amounts import Amounts
        from simulator.report.plan.setup_lines import headline, missing_words

        amounts = Amounts(self.system)
        return Judged(
            found.verdict,
            headline(found),
            Rows(found, amounts),
            tuple(_stop(one, amounts) for one in found.stations),
            tuple(missing_words(one) for one in found.not_judged),
            found.assumptions,
            is_quick,
            found,
        )

    def declined(self, description: Description) -> str:
        """Why it is not driven at all; empty where it may be tried."""
        from simulator.cli.window_answers import declined

        return declined(description, self.system)

    def helps(self, description: Description, judged: Judged) -> Iterator[tuple[Help, ...]]:
        """What would help, best first, after each trial: each change is tried by the check."""
        from simulator.plan.helping import Trial, best, trials
        from simulator.report.amounts import Amounts

        amounts, found = Amounts(self.system), list[Trial]()
        for one in trials(description, _check(judged), HELP_STEPS_M[self.system]):
            if one is not None:
                found.append(one)
            yield tuple(_help(trial, amounts) for trial in best(found))

    def cases(self, description: Description, ranges: Mapping[str, tuple[float, float]]) -> tuple[int, int] | None:
        """In how many of how many cases a lift holds: the corners of its ranges and draws between, by the sweep."""
        from simulator.plan.sweep import Ranges, sweep
        from simulator.scenario.rig import TWO_BY_ONE, rig_of

        if rig_of(description).line_names != TWO_BY_ONE.line_names:
            return None
        from simulator.window.layout.load_edits import heavy_from_front_m

        heavy, now = ranges.get("heavy"), heavy_from_front_m(description)
        shift = None if heavy is None else (heavy[0] - now, heavy[1] - now)
        *_, found = sweep(description, Ranges(ranges.get("weight"), shift), count=CASES, jobs=1)
        return (0 if found.fixed else found.held), found.done

    def room(self, judged: Judged, end: int) -> Iterator[Spoke]:
        """Where a unit's tip may stand, one spoke after another."""
        from simulator.plan.standing_room import room_of

        for one in room_of(_check(judged), end):
            yield Spoke(*one)

    def print_sheet(self, judged: Judged, path: Path, assumed: tuple[str, ...] = ()) -> None:
        """The paper for the roadside, on letter paper in US units, else on A4.

        Raises:
            OSError: it cannot be written.
        """
        from simulator.plan.out_of_reach import out_of_reach
        from simulator.report.amounts import Amounts
        from simulator.report.plan.roadside import write_roadside
        from simulator.words import say

        check = _check(judged)
        write_roadside(
            check,
            path,
            Amounts(self.system),
            say("program.caution"),
            paper="letter" if self.system == "us" else "a4",
            assumed=assumed,
            before=out_of_reach(check),
        )


def _check(judged: Judged) -> SetupCheck:
    from simulator.plan.setup_check import SetupCheck

    assert isinstance(judged.check, SetupCheck)
    return judged.check


class Rows(Sequence[Row]):
    """What governs, worst first; a row is put into words when it is looked at, and then kept."""

    def __init__(self, check: SetupCheck, amounts: Amounts) -> None:
        self._check, self._amounts = check, amounts
        shown = [one for one in check.findings if one.reading.code != "two-unit mark" or one.level != "good"]
        self._found = sorted(shown, key=lambda one: (ORDER[one.level], -_used(one)))
        self._rows: list[Row | None] = [None] * len(shown)

    def __len__(self) -> int:
        return len(self._found)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Rows) and tuple(self) == tuple(other)

    __hash__ = None  # type: ignore[assignment]

    @overload
    def __getitem__(self, at: int) -> Row: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[Row, ...]: ...
    def __getitem__(self, at: int | slice) -> Row | tuple[Row, ...]:
        if isinstance(at, slice):
            return tuple(self[n] for n in range(*at.indices(len(self))))
        row = self._rows[at]
        if row is None:
            row = self._rows[at] = _row(self._check, self._found[at], self._amounts)
        return row


def _used(one: Finding) -> float:
    from simulator.plan.compare import limit_used

    reading = one.reading
    return limit_used(reading) if reading.stop != inf else reading.value / reading.caution


def _row(check: SetupCheck, one: Finding, amounts: Amounts) -> Row:
    from simulator.report.plan.setup_lines import about, change_words, sentence, station_name
    from simulator.words import phrase

    reading, names = one.reading, [station.station.name for station in check.stations]
    place = names.index(one.where) if one.where in names else -1
    words = sentence(one, amounts) + (change_words(one, amounts) if one.level != "good" else "")
    return Row(
        reading.code,
        reading.who,
        one.level,
        phrase(reading.name),
        _value(one, amounts),
        _limit(one, amounts),
        _used(one),
        station_name(one.where, amounts),
        place,
        about(reading.what) if reading.what else "",
        words,
        _mark(check, check.stations[max(0, place)], one),
    )


def _value(one: Finding, amounts: Amounts) -> str:
    from simulator.report.plan.setup_lines import at_least
    from simulator.words import say

    reading = one.reading
    if reading.value < 0.0 and reading.kind == "share":
        return say("check_told.nothing")
    return at_least(amounts.text(reading.value, reading.kind), is_least=reading.is_at_least)


def _limit(one: Finding, amounts: Amounts) -> str:
    from simulator.words import say

    reading = one.reading
    stop = reading.stop if reading.stop != inf else reading.caution
    return say("layout.at_most" if reading.rising else "layout.at_least", limit=amounts.text(stop, reading.kind))


def _stop(one: StationCheck, amounts: Amounts) -> Stop:
    from simulator.plan.compare import limit_used
    from simulator.report.plan.setup_lines import station_name

    rows = [(ORDER[reading.level], limit_used(reading)) for reading in one.readings if reading.stop != inf]
    level = next(name for name, order in ORDER.items() if order == min(row[0] for row in rows))
    units = tuple(
        UnitAt(*stand.pose, tip, stand.share) for stand, tip in zip(one.units, one.station.tips_m, strict=True)
    )
    station = one.station
    return Stop(
        station_name(station.name, amounts),
        station.phase,
        station.y_m,
        level,
        max(row[1] for row in rows),
        (*station.pose,),
        units,
        station.pulls.sheaves_m,
        station.hooks_m,
    )


def _mark(check: SetupCheck, at: StationCheck, one: Finding) -> Point:
    """Where to look: the float, the tip, or the part of the load that a finding is about."""
    from simulator.plan.picture import pad_place, part_place

    description, reading = check.description, one.reading
    names = [f"{unit.name} unit" for unit in description.units]
    if reading.who in names:
        end = names.index(reading.who)
        return pad_place(description.units[end], reading.what) or at.station.tips_m[end]
    part = reading.what
    for how in (" over ", " beside ", " under "):
        part = part.partition(how)[0]
    return part_place(description.trailer, part, at.station.pose)


def _help(trial: object, amounts: Amounts) -> Help:
    from simulator.plan.helping import Trial
    from simulator.words import phrase, say

    assert isinstance(trial, Trial)
    before, after = trial.before.reading, trial.after.reading
    gain = say(
        "layout.gain",
        what=phrase(before.name),
        before=amounts.text(before.value, before.kind),
        after=amounts.text(after.value, after.kind),
    )
    return Help(amounts.sentence(trial.change), gain, trial.lift)
