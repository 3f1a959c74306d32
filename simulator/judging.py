"""What the front door tells the window of judgements it cannot make itself: a lift told, a set-up checked."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from simulator.recording.recorded import Recording
    from simulator.report.debrief import Finding
    from simulator.scenario.description import Description

System = Literal["metric", "us"]
ORDER = {"stop": 0, "caution": 1, "good": 2}


def tell_lift(recording: Recording, units: System) -> Sequence[Finding]:
    """What went wrong in a recorded lift, the same as on its page."""
    from simulator.report.amounts import Amounts
    from simulator.report.debrief import debrief

    # The window numbers findings together with events, so none is named by its number here.
    return debrief(recording, Amounts(units), names_repeats=False).findings


def check_lift(description: Description, units: System) -> tuple[bool, tuple[tuple[str, str], ...]]:
    """Does a set-up work: whether it does, level and sentence of all that was judged, the worst first, and notes."""
    from simulator.plan.setup_check import check_setup
    from simulator.report.amounts import Amounts
    from simulator.report.setup_lines import change_words, sentence

    amounts, found = Amounts(units), check_setup(description)
    rows = []
    for one in sorted(found.findings, key=lambda one: ORDER[one.level]):
        # What is well needs no change.
        words = sentence(one, amounts) + ("" if one.level == "good" else change_words(one, amounts))
        rows.append((str(one.level), words))
    return found.works, (*rows, *(("note", note) for note in found.notes))
