"""What the front door tells the window of judgments it cannot make itself: a lift told, a set-up checked."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from simulator.mechanics.weighing import Errors, Reading
    from simulator.recording.recorded import Recording
    from simulator.report.lift.debrief import LiftFinding
    from simulator.scenario.description import Description

System = Literal["metric", "us"]
ORDER = {"stop": 0, "caution": 1, "good": 2}


def tell_lift(recording: Recording, units: System) -> Sequence[LiftFinding]:
    """What went wrong in a recorded lift, the same as on its page."""
    from simulator.report.amounts import Amounts
    from simulator.report.lift.debrief import debrief

    # The window numbers findings together with events, so none is named by its number here.
    return debrief(recording, Amounts(units), names_repeats=False).findings


def declined(description: Description, units: System) -> str:
    """Why a lift is not driven at all: its load would not stay where it lies, or a unit stands askew; else empty."""
    from simulator.plan.findings import governing
    from simulator.plan.lying_rules import AT_START, lies, lying_readings
    from simulator.report.amounts import Amounts
    from simulator.report.plan.setup_lines import told
    from simulator.scenario.standing import not_driven

    if why := not_driven(description.units):
        return why[0].upper() + why[1:] + "."
    found = lies(description)
    if found.stays:
        return ""
    findings = governing((AT_START, reading) for reading in lying_readings(found))
    return " ".join(told(one, Amounts(units)) for one in findings if one.level == "stop")


def check_lift(description: Description, units: System) -> tuple[bool, tuple[tuple[str, str], ...], str]:
    """A set-up judged: whether no limit is passed and nothing is missing; level and sentence of all of it, the worst
    first; why it is not driven at all, if it is not."""
    from simulator.plan.setup_check import check_setup
    from simulator.report.amounts import Amounts
    from simulator.report.plan.exit_lines import exit_sentences
    from simulator.report.plan.setup_lines import change_words, missing_words, sentence

    amounts, found = Amounts(units), check_setup(description)
    rows = []
    for one in sorted(found.findings, key=lambda one: ORDER[one.level]):
        # What is well needs no change.
        words = sentence(one, amounts) + ("" if one.level == "good" else change_words(one, amounts))
        rows.append((str(one.level), words))
    missing = [("caution", missing_words(one)) for one in found.not_judged]
    notes = [("note", one) for one in ([] if found.exit_plan is None else exit_sentences(found.exit_plan, amounts))]
    notes += [("note", amounts.told(one)) for one in found.assumptions]
    return found.verdict == "no limit passed", (*rows, *missing, *notes), declined(description, units)


def recheck_lift(
    description: Description, reading: Reading, errors: Errors, units: System
) -> tuple[str, str, tuple[tuple[str, str], ...]]:
    """What a load that was weighed means for the rest of the path: what to do, the same in words, level and sentence
    of all that speaks for it."""
    from simulator.plan.recheck import Unusable, recheck
    from simulator.report.amounts import Amounts
    from simulator.report.plan.weigh_lines import do_sentence, doubt_sentence, short_lines

    amounts = Amounts(units)
    try:
        found = recheck(description, [reading], errors)
    except Unusable as broken:
        rows = tuple(("stop", doubt_sentence(one, amounts)) for one in broken.doubts)
        return "set down and think", do_sentence("set down and think", 0.0, amounts), rows
    return found.do, do_sentence(found.do, found.move_m, amounts), short_lines(description, found, amounts)
