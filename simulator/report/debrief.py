"""A recording told: what passed a limit when, by whom and why; worst values by seat; the course of the lift.

No physics: everything is taken from stored readings and the scenario's limits. `write_pdf` draws it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

import numpy as np

from simulator.readings import Readings
from simulator.recording.recorded import Recording, minutes
from simulator.recording.whole_numbers import Real
from simulator.report.amounts import Amounts
from simulator.report.deeds import TELLING_M, causes, deed_words, deeds, load_causes
from simulator.report.judged import Judged, Spell, judged_values, spells
from simulator.scenario.description import END_NAMES, Limits

LONGEST_ONSET_S = 45.0
"""No cause is looked for further back than this."""
CALM_SHARE = 0.4
"""A rising reading is calm under this share of its caution limit, a falling one over `CALM_FACTOR` times it."""
CALM_FACTOR = 1.3
LEAST_TELLING_M = 0.10
BEFORE_INCIDENT_S = 10.0
TOGETHER_S = 1.0
"""Two units that enter a stage within this enter it together."""
LEAN_LABELS = ("off plumb", "pitch of the load", "sway")
NO_MOVE = "no single move stands out: see the hands in the chart"


class Finding(NamedTuple):
    """Something that went wrong."""

    number: int
    time_s: float
    level: str
    """caution, stop, incident"""
    who: str
    what: str
    why: str
    key: str = ""
    """Channel it is about; none for an incident."""


class WorstRow(NamedTuple):
    """One quantity's worst value for each seat, or for the load."""

    label: str
    cells: tuple[str, ...]
    """Value at time: nose unit and tail unit, or the load alone."""


@dataclass(frozen=True)
class Debrief:
    """All that a page says of one lift."""

    recording: Recording
    limits: Limits
    amounts: Amounts
    findings: tuple[Finding, ...]
    worst: tuple[WorstRow, ...]
    course: tuple[tuple[float, str], ...]
    """Time and text of what happened on the way."""

    @property
    def heading(self) -> str:
        """How it ended, in a sentence."""
        how = {
            "landed": "Landed",
            "incident": "Ended by an incident",
            "left": "Left before the load was landed",
            "broken off": "The recording breaks off",
        }[self.recording.how]
        score = self.recording.ending.score if self.recording.ending else None
        said = f"{how} after {minutes(self.recording.length_s)}" + (f", score {score}" if score else "")
        counts = {level: sum(one.level == level for one in self.findings) for level in ("stop", "caution")}
        return f"{said}. Past a stop limit {counts['stop']} times, past a caution limit only {counts['caution']} times."

    @property
    def first_fault(self) -> str:
        """Where it went wrong, in a sentence."""
        serious = [one for one in self.findings if one.level != "caution"]
        if not serious:
            return "No reading passed a stop limit, and nothing was met."
        one = serious[0]
        return f"It went wrong at {minutes(one.time_s)} (no. {one.number}): {one.who}, {one.what}. {_capital(one.why)}."

    @property
    def seats(self) -> tuple[str, str]:
        """Nose and tail unit with seat and name."""
        description, pair = self.recording.description, self.recording.head.pair
        seats = ("left", "right")
        if description is not None and description.site.nose_seen_from_ravine == "right":
            seats = ("right", "left")
        names = [f", {pair[end]}" if end < len(pair) and pair[end] else "" for end in (0, 1)]
        nose, tail = (f"{END_NAMES[end]} unit ({seats[end]} seat{names[end]})" for end in (0, 1))
        return nose, tail


def debrief(recording: Recording, amounts: Amounts | None = None) -> Debrief:
    """Tell a recording.

    Args:
        recording: whole or not.
        amounts: how numbers are written; metric unless given.
    """
    amounts = amounts or Amounts()
    limits = recording.description.limits if recording.description else Limits()
    if not len(recording.time_s):
        return Debrief(recording, limits, amounts, (), (), ())
    found = [*_from_spells(recording, limits, amounts), *_from_incidents(recording, amounts)]
    numbered = [one._replace(number=i) for i, one in enumerate(sorted(found, key=lambda one: one.time_s), 1)]
    return Debrief(
        recording,
        limits,
        amounts,
        tuple(_without_repeats(numbered)),
        tuple(_worst_rows(recording, amounts)),
        tuple(_course(recording)),
    )


def write_pdf(
    told: Debrief, path: Path, *, caution: str, invented: str, other: Debrief | None = None, paper: str = "a4"
) -> None:
    """The printable page: findings and worst values, charts on one time axis, path of load and tips.

    Args:
        told: the lift.
        path: a PDF file.
        caution: the program's caution, on every page.
        invented: the note that the data is invented.
        other: a second lift, laid beside the first.
        paper: `a4` or `letter`.
    """
    from simulator.report.debrief_pages import save_pages

    save_pages(path, told, other, caution=caution, invented=invented, paper=paper)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _who(end: int | None) -> str:
    return "load" if end is None else f"{END_NAMES[end]} unit"


def _from_spells(recording: Recording, limits: Limits, amounts: Amounts) -> Iterator[Finding]:
    for spell in spells(recording, limits):
        row = spell.judged
        limit, worst = (amounts.text(value, row.kind) for value in (spell.limit, spell.worst))
        sign = "over" if row.rising else "under"
        what = (
            f"{row.label} {sign} {limit} ({spell.level} limit), worst {worst} at {minutes(spell.worst_s)}, "
            f"for {spell.end_s - spell.begin_s:.0f} s"
        )
        why = "; ".join(_why(recording, spell, amounts)) or NO_MOVE
        yield Finding(0, spell.begin_s, spell.level, _who(row.end), what, why, row.key)


def _why(recording: Recording, spell: Spell, amounts: Amounts) -> list[str]:
    """Causes of a spell: what was done from when the reading was last calm until it passed its limit."""
    row = spell.judged
    before, after = recording.at(_onset_s(recording, spell)), recording.at(spell.begin_s)
    since = f"since {minutes(before.time_s)}: "
    if row.label in LEAN_LABELS:
        found = causes(recording.description, before, after, amounts, telling_m=_telling_m(spell, before))
    elif row.end is not None and row.label in ("capacity used", "lightest float", "ground bearing used"):
        found = load_causes(row.end, before, after, amounts)
    elif row.end is not None:
        found = [f"{END_NAMES[row.end]} unit: {deed_words(deeds(before, after)[row.end], amounts)}"]
    else:
        found = [f"{END_NAMES[end]} unit: {deed_words(done, amounts)}" for end, done in enumerate(deeds(before, after))]
    return [since + found[0], *found[1:]] if found else []


def _telling_m(spell: Spell, before: Readings) -> float:
    """How far a tip or hook must have moved to matter: half of what brings this line to its caution limit."""
    row = spell.judged
    if row.label != "off plumb" or row.end is None:
        return TELLING_M
    return max(LEAST_TELLING_M, 0.5 * row.caution * before.units[row.end].sheave_to_hook_m)


def _onset_s(recording: Recording, spell: Spell) -> float:
    """When it began to get worse: the best moment since the reading was last calm, or not judged."""
    row, time_s = spell.judged, recording.time_s
    values = judged_values(recording, row)
    with np.errstate(invalid="ignore"):
        calm = values <= CALM_SHARE * row.caution if row.rising else values >= CALM_FACTOR * row.caution
    until = int(np.searchsorted(time_s, spell.begin_s))
    rests = np.flatnonzero((calm | np.isnan(values))[:until])
    first = max(int(rests[-1]) if len(rests) else 0, int(np.searchsorted(time_s, spell.begin_s - LONGEST_ONSET_S)))
    badness = values[first : until + 1] * (1.0 if row.rising else -1.0)
    best = np.flatnonzero(badness <= np.nanmin(badness))
    return float(time_s[first + int(best[-1])])


def _from_incidents(recording: Recording, amounts: Amounts) -> Iterator[Finding]:
    for step, kind, text in recording.events:
        if kind != "incident":
            continue
        time_s = step / recording.head.steps_per_s
        both = deeds(recording.at(time_s - BEFORE_INCIDENT_S), recording.at(time_s))
        did = "; ".join(f"{END_NAMES[end]} unit: {deed_words(done, amounts)}" for end, done in enumerate(both))
        yield Finding(0, time_s, "incident", "incident", text, f"in the {BEFORE_INCIDENT_S:.0f} s before: {did}")


def _without_repeats(findings: list[Finding]) -> Iterator[Finding]:
    """A cause that was told is named by its number."""
    told: dict[str, int] = {}
    for one in findings:
        cause = one.why.partition(": ")[2]
        first = told.setdefault(cause, one.number) if cause and one.why != NO_MOVE else one.number
        yield one if first == one.number else one._replace(why=f"as no. {first}")


def _worst_rows(recording: Recording, amounts: Amounts) -> Iterator[WorstRow]:
    """Worst values by seat, then of the load, each with its time."""
    rows: tuple[tuple[str, str, str, bool], ...] = (
        ("peak line load", "line_load_N", "N", True),
        ("most off plumb", "off_plumb_rad", "rad", True),
        ("most capacity used", "capacity_used", "share", True),
        ("lightest float, of its resting load", "least_float_share", "share", False),
        ("most ground bearing used", "ground_used", "share", True),
        ("least head room", "head_room_m", "m", False),
        ("least rope left", "rope_left_m", "m", False),
    )
    for label, field, kind, rising in rows:
        cells = []
        for name in END_NAMES:
            values = recording.column(f"{name}.{field}")
            if field == "off_plumb_rad":
                values = np.where(recording.column(f"{name}.slack") == 1.0, np.nan, values)
            cells.append(_worst(recording, values, kind, rising, amounts))
        yield WorstRow(label, tuple(cells))
    for row in (
        Judged("load.sway_m", "sway", None, "m", 0.0, 0.0),
        Judged("load.pitch_rad", "pitch of the load", None, "rad", 0.0, 0.0),
        Judged("load.lane_room_m", "room to the live lane", None, "m", 0.0, 0.0, False),
    ):
        label = f"{'most' if row.rising else 'least'} {row.label}"
        values = judged_values(recording, row)
        yield WorstRow(label, (_worst(recording, values, row.kind, row.rising, amounts),))
    gap = _least_gap(recording, amounts)
    if gap:
        yield WorstRow("least clearance", (gap,))


def _worst(recording: Recording, values: Real, kind: str, rising: bool, amounts: Amounts) -> str:
    known = np.where(np.isfinite(values), values, -np.inf if rising else np.inf)
    at = int(np.argmax(known) if rising else np.argmin(known))
    if not np.isfinite(known[at]):
        return "none"
    return f"{amounts.text(float(values[at]), kind)} at {minutes(float(recording.time_s[at]))}"  # type: ignore[arg-type]


def _least_gap(recording: Recording, amounts: Amounts) -> str:
    """The part that came nearest to something it was over, and when; to the second."""
    found = [
        (gap.gap_m, second.end_step, gap)
        for second in recording.seconds
        for gap in second.gaps
        if gap.state in ("close", "clears") and gap.gap_m >= 0.0
    ]
    if not found:
        return ""
    least_m, step, gap = min(found, key=lambda one: one[:2])
    at = minutes(step / recording.head.steps_per_s)
    return f"{amounts.text(least_m, 'm')} at {at}: {gap.part} over {gap.meets}"


def _course(recording: Recording) -> Iterator[tuple[float, str]]:
    """What happened on the way; a stage that both units enter at once is one line."""
    told: dict[str, int] = {}
    for step, kind, text in recording.events:
        if kind == "incident":
            continue
        words = text if kind == "load" else f"{kind}: {text}"
        if kind == "stage":
            words = f"stage: {text.partition(' unit: ')[2] or text}"
            if step - told.get(words, -(10**9)) <= TOGETHER_S * recording.head.steps_per_s:
                continue
            told[words] = step
        yield step / recording.head.steps_per_s, words
