"""Many rehearsals of one lift as one value: counted, and as plain values and rows for a spreadsheet."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from math import isfinite
from pathlib import Path
from typing import Any, NamedTuple

from simulator.files.terminal import finite
from simulator.files.writing import text_beside
from simulator.plan.findings import Verdict
from simulator.plan.setup_check import check_setup
from simulator.recording.recorded import Recording
from simulator.rehearsal.driven import DrawRow, FirstCause
from simulator.rehearsal.limits import limits_of
from simulator.rehearsal.lots import Lots
from simulator.rehearsal.tally import Count, LimitTally, Tally, is_clean, tally, used_most
from simulator.report.amounts import Amounts
from simulator.report.lift.debrief import debrief
from simulator.report.lift.event_words import event_words
from simulator.report.plan.setup_lines import missing_words
from simulator.scenario.description import Description
from simulator.words import say


class SetUp(NamedTuple):
    """What the check says of the lift as described."""

    verdict: Verdict
    refused_for: tuple[str, ...]
    missing: tuple[str, ...]
    assumptions: tuple[str, ...]


@dataclass(frozen=True)
class Rehearsal:
    """Rows of a lift that was driven many times, and what they come to. None of it says that anybody may lift."""

    lift: Description
    lots: Lots
    """What was drawn, between what, by which seed."""
    asked: int
    """Draws asked for; fewer rows when it was stopped."""
    rows: tuple[DrawRow, ...]
    """A draw each, by their numbers."""
    set_up: SetUp

    @cached_property
    def tally(self) -> Tally:
        """In how many draws each limit was kept, what governed, the spread of times, the ten worst."""
        return tally(self.lift, self.rows)

    @property
    def finished(self) -> bool:
        """All that was asked for is driven."""
        return len(self.rows) >= self.asked

    @property
    def verdict(self) -> Verdict:
        """A limit is passed where any draw passed one or did not end as it should, and where the check says so. A run
        that is not finished has judged nothing."""
        if self.tally.kept.draws < len(self.rows) or self.set_up.verdict == "limit passed":
            return "limit passed"
        return self.set_up.verdict if self.finished else "not judged"

    def as_json(self) -> dict[str, Any]:
        """Every figure but the rows, SI; none where nothing counted."""
        found, limits = self.tally, limits_of(self.lift)
        worst = [{**row.as_json(), "governs": used_most(limits, row)[0], "used": used_most(limits, row)[1]}
                 for row in found.worst]  # fmt: skip
        told: dict[str, Any] = finite({
            "rehearsal": self.lift.title, "verdict": self.verdict, "asked": self.asked, "driven": len(self.rows),
            "lots": self.lots._asdict(), "set_up_check": self.set_up._asdict(),
            "every_limit_kept": _count_json(found.kept), "ended_well": _count_json(found.good), "ended": found.ended,
            "limits": {one.limit.key: _limit_json(one) for one in found.limits},
            "incidents": [{"what": what, **dict(names), "draws": draws}
                          for (what, names), draws in found.incidents.items()],
            "failed_by": found.failed_by,
            "causes": [{"cause": one.kind, "by": one.by or None, "draws": draws}
                       for one, draws in found.causes.items()],
            "time_s": found.time_s._asdict(), "points": found.points._asdict(), "worst": worst,
            "caution": say("program.caution"),
        })  # fmt: skip
        return told

    def write_csv(self, path: Path) -> None:
        """A row a draw, SI; the caution stands in the first line.

        Raises:
            OSError: it cannot be written.
        """
        with text_beside(path) as file:
            file.write(f"# {say('program.caution')}\n")
            table = csv.writer(file)
            names = [unit.name for unit in self.lift.units]
            keys = [f"worst.{one.key}" for one in limits_of(self.lift)]
            table.writerow(["draw", "weight", "cg_m", "cg_across_m", "wind_mps", "gust_seed", *(f"{name}.operator" for
                            name in names), "ended", "time_s", "every_limit_kept", "governs", "used", "points",
                            *keys, "incidents", "failed_by", "cause", "by", "why", "state_hash"])  # fmt: skip
            table.writerows(self._csv_row(row) for row in self.rows)

    def _csv_row(self, row: DrawRow) -> Iterator[object]:
        draw, limits = row.draw, limits_of(self.lift)
        yield from (draw.number, draw.weight, draw.cg_m, draw.cg_across_m, draw.wind_mps, draw.gust_seed, *draw.ways)
        yield from (row.ended, row.time_s, int(is_clean(limits, row)))
        key, used = used_most(limits, row)
        yield from (key, *(one if isfinite(one) else "" for one in (used, row.points, *row.values)))
        yield from ("" for _ in limits[len(row.values) :])
        yield "; ".join(event_words(one, Amounts()) for one in row.incidents)
        yield from ("; ".join(row.failed_by), row.cause.kind, row.cause.by, row.why, row.state_hash)


def _count_json(one: Count) -> dict[str, Any]:
    return {"draws": one.draws, "of": one.of, "interval_95": list(one.interval)}


def _limit_json(one: LimitTally) -> dict[str, Any]:
    at = one.limit.at
    return {
        "who": at.who, "name": at.name, "caution": at.caution, "limit": at.stop, "more_is_worse": at.rising,
        "kept": _count_json(one.kept), "governed": one.governed, "values": one.values._asdict(),
        "most_used": one.used, "worst_draw": one.worst or None,
    }  # fmt: skip


def set_up_of(lift: Description) -> SetUp:
    """The check of the lift as described."""
    found = check_setup(lift)
    missing = tuple(missing_words(one) for one in found.not_judged)
    return SetUp(found.verdict, found.refused_for, missing, tuple(found.assumptions))


def first_told(recording: Recording) -> FirstCause:
    """The cause that the debrief of a rehearsal names first: of a typical fault if there is any."""
    findings = sorted(debrief(recording).findings, key=lambda one: (not one.names_fault, one.time_s))
    if not findings:
        return FirstCause("", "")
    first = findings[0]
    return FirstCause(first.cause, "" if first.by is None else recording.rig.unit_names[first.by])
