"""A debrief as lines for the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from simulator.recording.recorded import minutes
from simulator.report.lift.debrief import Debrief
from simulator.report.lift.event_words import account_lines


def debrief_lines(told: Debrief, other: Debrief | None = None) -> list[str]:
    """One lift, or two one after the other."""
    if other is None:
        return list(_lines(told))
    lines = [*_lines(told), "", *_lines(other)]
    if told.recording.head.title != other.recording.head.title:
        lines.append("These are two different lifts: compare with care.")
    return lines


def _lines(told: Debrief) -> Iterator[str]:
    head = told.recording.head
    yield f"{told.title} ({told.recording.name}{', ' + head.stamp if head.stamp else ''})"
    yield from told.recording.notes
    yield told.heading
    yield told.first_fault
    if told.next_time:
        yield told.next_time
    if told.findings:
        yield ""
    for one in told.findings:
        yield f"{one.number:>3}  {minutes(one.time_s)}  {one.level:<8}  {one.who}: {one.what}"
        yield f"{'':<24}{one.why}"
    if told.worst:
        yield ""
        yield f"{'worst values':<38}{''.join(f'{seat:<34}' for seat in told.seats)}".rstrip()
    for row in told.worst:
        yield f"{row.label:<38}{''.join(f'{cell:<34}' for cell in row.cells).rstrip()}"
    if told.recording.ending and told.recording.ending.account:
        yield ""
        yield from account_lines(told.recording.ending.account, told.amounts)
    if told.course:
        yield ""
    yield from (f"  {minutes(time_s)}  {text}" for time_s, text in told.course)
