"""Why a reading passed its limit: what hands did from when it began to get worse, the plainest first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from simulator.readings import Readings
from simulator.recording.counted import HANGS_N
from simulator.recording.recorded import Recording, minutes
from simulator.report.amounts import Amounts
from simulator.report.lift.cause import Cause, Kind
from simulator.report.lift.judged import Spell, judged_values
from simulator.report.lift.lever_use import chases, first_asked_s, last_asked_s, lever_called
from simulator.report.lift.lost_points import Lost
from simulator.report.lift.moves import (
    TELLING_M,
    Deeds,
    OneEnd,
    deed_words,
    deeds,
    end_words,
    line_name,
    load_causes,
    moved_boom,
    one_end,
    stands_over,
    tip_causes,
    unit_name,
)
from simulator.report.lift.onset import (
    CALM_SHARE,
    LONGEST_ONSET_S,
    OFF_PLUMB,
    PITCH,
    SWAY,
    UNDER_LOAD,
    YAW,
    cause_s,
    judged_since_s,
    last_before,
)
from simulator.report.lift.turns import out_of_turn, steps_on
from simulator.report.lift.typical_faults import Typical, explaining
from simulator.scenario.faults import listed
from simulator.telling.account import NOT_DONE
from simulator.words import say


class SpellCase(NamedTuple):
    """A spell to be explained."""

    recording: Recording
    spell: Spell
    amounts: Amounts
    before: Readings
    """When all was well."""
    after: Readings
    """When the limit was passed."""

    @property
    def both(self) -> tuple[Deeds, ...]:
        """What each unit did between the two moments."""
        return deeds(self.recording, self.before, self.after)


LEAST_TELLING_M = 0.10
STOPPED_WITHIN_S, WENT_ON_S = 10.0, 1.0
"""Who moved within so long before, and then not while the other went on for so long, has stopped."""
LAY_SHARE = 0.75
"""A load that lay at this share of the angle it hangs at was lifted as it lay."""
SMALL_PART = 0.5
"""Of two parts square to each other, one under this share of the other adds less than an eighth to the whole."""


def why(recording: Recording, spell: Spell, amounts: Amounts, faults: tuple[Typical, ...] = ()) -> list[Cause]:
    """Causes of a spell: what was done from when it began to get worse until it passed its limit.

    Args:
        recording: the lift.
        spell: past one of its limits.
        amounts: how numbers are written.
        faults: the lift's typical faults; one that was on meanwhile is told first.

    Returns:
        One cause or more, the plainest first, which begins with its time; where nothing stands out, that and all moves.
    """
    begin_s = cause_s(recording, spell)
    case = SpellCase(recording, spell, amounts, recording.at(begin_s), recording.at(spell.begin_s))
    turns = list(out_of_turn(recording, spell.judged.end, case.before, case.after, amounts))
    # Where one unit was not to move, that the other stood is no fault.
    typical = [one.cause for one in explaining(faults, begin_s, spell.begin_s)]
    found = [*typical, *turns, *_found(case, may_stand=not turns)]
    found = found or [Cause(say("finding.no_move"), "moves"), *did(recording, case.before, case.after, amounts)]
    since_s = first_asked_s(recording, case.before.time_s, spell.begin_s)
    first = found[0]
    told = Cause(say("finding.since", when=minutes(since_s), cause=first), first.kind, first.end)
    again = first.kind == "chased"  # seen in the whole lift, and again in this spell
    return [told, *(one for one in found[1:] if not (again and (one.kind, one.end) == (first.kind, first.end)))]


def place_of(recording: Recording, who: str) -> int | None:
    """The unit that a line of an account is about; none for all of them."""
    names = recording.rig.unit_names
    return names.index(who) if who in names else None


def did(recording: Recording, before: Readings, after: Readings, amounts: Amounts) -> list[Cause]:
    """What each unit did, and its name."""
    both = enumerate(deeds(recording, before, after))
    said = (say("finding.who_did", who=unit_name(recording, end), did=deed_words(done, amounts)) for end, done in both)
    return [Cause(one, "moves") for one in said]


SOON_S = 15.0
"""A fault that began so soon after is what the first lost point already belongs to."""
JUST_BEFORE_S = 5.0
"""What was done so long before points were lost is why."""


def last_step_s(recording: Recording) -> float:
    """When the step began that the drill did not come out of."""
    on = steps_on(recording)
    return on[-1].since_s if on else 0.0


def points_why(
    recording: Recording, lost: Lost, begin_s: float, amounts: Amounts, faults: tuple[Typical, ...]
) -> list[Cause]:
    """Why a drill took points, where no spell of a reading says so.

    Args:
        recording: the lift.
        lost: the line of the account.
        begin_s: from when on to look.
        amounts: how numbers are written.
        faults: the lift's typical faults.
    """
    until_s = recording.length_s if lost.rule == NOT_DONE else begin_s + SOON_S
    typical = [one.cause for one in explaining(faults, begin_s, until_s)]
    if typical:
        return typical
    before, after = recording.at(max(0.0, begin_s - JUST_BEFORE_S)), recording.at(begin_s + 1.0)
    end = place_of(recording, lost.who)
    kind = next((kind for rule, kind in BY_RULE if rule in lost.rule), None)
    moves = did(recording, before, after, amounts)
    ahead = list(_out_of_step(recording, lost, before, after, amounts))
    if ahead:
        return ahead
    if "ends differ" in lost.reading:
        leads = 0 if after.load.ends_differ_m > 0.0 else len(after.units) - 1
        return [Cause(f"{lost.rule} ({moves[leads]})", "turned alone", leads), *moves]
    if kind is not None:
        whose = end if end is not None else leans_more(after)
        return [Cause(f"{lost.rule} ({moves[whose]})", kind, whose), *moves]
    turns = [] if end is None else list(out_of_turn(recording, end, before, after, amounts))
    return [*turns, *moves]


def _out_of_step(
    recording: Recording, lost: Lost, before: Readings, after: Readings, amounts: Amounts
) -> Iterator[Cause]:
    """One end that was moved further than the other, where points went for level or for yaw."""
    if "pitch" in lost.reading or "ahead" in lost.reading:
        both = deeds(recording, before, after)
        one = one_end(both, LEAST_TELLING_M)
        if one is not None:
            yield end_words(recording, one, both, amounts)
    if "yaw" in lost.reading:
        yield from tip_causes(recording, before, after, amounts, telling_m=TELLING_M, is_along=False)


BY_RULE: tuple[tuple[str, Kind], ...] = (
    ("early weight", "early"),
    ("weight taken", "early"),
    ("before its turn", "early"),
    ("out of plumb", "leaning"),
    ("line leaning", "leaning"),
    ("out of turn", "out of turn"),
    ("to and fro", "chased"),
    ("ahead of the other", "went on alone"),
)
"""Rules of drills that say by themselves what the fault was."""


def leans_more(now: Readings) -> int:
    """The unit whose line leans more."""
    return max(range(len(now.units)), key=lambda end: now.units[end].off_plumb_rad)


def _found(case: SpellCase, *, may_stand: bool) -> list[Cause]:
    """What fits this reading; `may_stand`: that one unit was moved and the other was not may be told."""
    row = case.spell.judged
    if row.label == OFF_PLUMB:
        return _why_off_plumb(case, may_stand=may_stand)
    if row.label == PITCH:
        return _why_pitched(case, may_stand=may_stand)
    if row.label == SWAY:
        return _why_swaying(case)
    if row.label == YAW:
        return _tips(case, (0.0, 1.0), TELLING_M)
    if row.end is not None and row.label in UNDER_LOAD:
        return load_causes(case.recording, row.end, case.before, case.after, case.amounts)
    said = did(case.recording, case.before, case.after, case.amounts) if may_stand else []
    return said if row.end is None else said[row.end : row.end + 1]


def _why_off_plumb(case: SpellCase, *, may_stand: bool) -> list[Cause]:
    end = case.spell.judged.end
    assert end is not None
    telling_m = _telling_m(case)
    unit = case.after.units[end]
    found = list(_took_leaning(case, end, case.before.time_s))
    if not found:
        # A mean over a sway evens out what goes to and fro; a tip that has stayed out of its place is told first.
        leans = unit.mean_off_plumb_along_rad, unit.mean_off_plumb_across_rad
        found = [*_tips(case, leans, telling_m), *_chased(case)]
    for other in range(len(case.after.units)):
        if not found and other != end:
            found = list(_took_leaning(case, other, case.after.time_s - LONGEST_ONSET_S))
    return found or (list(_one_end(case, telling_m)) if may_stand else [])


def _why_pitched(case: SpellCase, *, may_stand: bool) -> list[Cause]:
    lay_rad, hangs_rad = case.before.load.pitch_rad, case.after.load.pitch_rad
    ends = list(_one_end(case, _telling_m(case))) if may_stand else []
    if case.before.load.ground_N >= HANGS_N and lay_rad / hangs_rad >= LAY_SHARE:
        # Hands may have added to it, but as it lay it would have hung past half of the limit anyway.
        said = say("finding.lay_so", value=case.amounts.text(abs(lay_rad), "rad"))
        return [Cause(said, "as it lay"), *ends]
    return ends


def _why_swaying(case: SpellCase) -> list[Cause]:
    before, after = case.before, case.after
    found = [*_chased(case), *_came_free(case)]
    found = found or _tips(case, (after.load.sway_along_m, after.load.sway_across_m), TELLING_M)
    found = found or list(_one_end(case, TELLING_M))
    if not found and any(moved_boom(done) for done in case.both):
        moves = "; ".join(did(case.recording, before, after, case.amounts))
        is_quick = after.time_s - before.time_s <= 2.0 * after.load.sway_period_s
        found = [Cause(say("finding.tips_moved", did=moves), "moves")] if is_quick else []
    return found


def _tips(case: SpellCase, parts: tuple[float, float], telling_m: float) -> list[Cause]:
    """Tips that left their place the way the reading goes; `parts`: of the reading, along the road and across."""
    along, across = (abs(part) for part in parts)
    return tip_causes(
        case.recording,
        case.before,
        case.after,
        case.amounts,
        telling_m=telling_m,
        is_along=not along < SMALL_PART * across,
        is_across=not across < SMALL_PART * along,
    )


def _one_end(case: SpellCase, telling_m: float) -> Iterator[Cause]:
    both = case.both
    one = one_end(both, telling_m)
    if one is not None:
        yield end_words(case.recording, one, both, case.amounts, stopped_at=_stopped_at(case, one))


def _stopped_at(case: SpellCase, one: OneEnd) -> str:
    """When the other's winch stopped while this one's went on; nothing if it did not."""
    if not one.by_winch:
        return ""
    from_s, end_s = case.before.time_s - STOPPED_WITHIN_S, case.after.time_s
    went_s, stopped_s = (last_asked_s(case.recording, end, "hoist", from_s, end_s) for end in (one.went, one.stood))
    if went_s is None or stopped_s is None or went_s - stopped_s < WENT_ON_S:
        return ""
    still_s = last_asked_s(case.recording, one.went, "hoist", stopped_s, stopped_s + WENT_ON_S)
    return minutes(stopped_s) if still_s is not None and still_s - stopped_s > 0.5 * WENT_ON_S else ""


def _chased(case: SpellCase) -> Iterator[Cause]:
    period_s = case.after.load.sway_period_s
    begin_s = max(0.0, case.before.time_s - period_s)
    for one in chases(case.recording, begin_s, case.after.time_s, period_s):
        function, lasts = lever_called(one.function), f"{one.lasted_s:.0f}"
        said = say(
            "finding.chased", unit=unit_name(case.recording, one.end), function=function, turns=one.turns, lasts=lasts
        )
        yield Cause(said, "chased", one.end)


def _came_free(case: SpellCase) -> Iterator[Cause]:
    """The load swayed from the moment the ground let it go, its lines leaning."""
    recording, begin_s = case.recording, case.after.time_s
    free_s = judged_since_s(recording, case.spell)
    if free_s > 0.0 and begin_s - free_s <= 1.5 * case.after.load.sway_period_s:
        units = recording.at(free_s).units
        leans = [
            say("finding.leaned", line=line_name(recording, end), lean=case.amounts.text(unit.off_plumb_rad, "rad"))
            for end, unit in enumerate(units)
        ]
        said = say("finding.came_free", leans=listed(leans, last=say("finding.and")))
        yield Cause(said, "leaning")


def _took_leaning(case: SpellCase, end: int, from_s: float) -> Iterator[Cause]:
    """A slack line was loaded, not before `from_s`, although its tip was not over its hook; it leaned from then on."""
    recording, row = case.recording, case.spell.judged
    mine = row._replace(key=f"{recording.rig.unit_names[end]}.{row.key.partition('.')[2]}", end=end)
    since_s = judged_since_s(recording, case.spell._replace(judged=mine))
    slacks = recording.column(f"{recording.rig.unit_names[end]}.slack")
    was_slack = last_before(recording, f"{recording.rig.unit_names[end]} slack", lambda: slacks == 1.0, since_s)
    if since_s <= 0.0 or since_s < from_s - 1e-6 or was_slack < 0:
        return
    first, last = (int(np.searchsorted(recording.time_s, time_s)) for time_s in (since_s, case.after.time_s))
    slack = recording.at(float(recording.time_s[was_slack]))
    if stands_over(slack, recording.rig.units[end], row.caution):
        return
    lean_rad, leaned_rad = slack.units[end].off_plumb_rad, judged_values(recording, mine)[first : last + 1]
    if lean_rad < row.caution or np.nan_to_num(leaned_rad).min() <= CALM_SHARE * row.caution:
        return
    others = [place for place, unit in enumerate(slack.units) if place != end and unit.slack]
    key = "leaning_other_slack" if others else "leaning"
    key = key if end == row.end else "other_leaning"
    value, when = case.amounts.text(lean_rad, "rad"), minutes(float(recording.time_s[was_slack + 1]))
    other = line_name(recording, others[0]) if others else ""
    said = say(f"finding.{key}", unit=unit_name(recording, end), value=value, other=other, when=when)
    yield Cause(said, "early" if key == "leaning_other_slack" else "leaning", end)


def _telling_m(case: SpellCase) -> float:
    """How far a tip or hook must have moved to matter: half of what brings this line to its caution limit."""
    row, before = case.spell.judged, case.before
    if row.label == PITCH:
        hooks_m = [line.hook_x_m for line in before.lines]
        span_m = max(hooks_m) - min(hooks_m)
        return min(TELLING_M, max(LEAST_TELLING_M, 0.25 * row.caution * span_m))
    if row.label != OFF_PLUMB or row.end is None:
        return TELLING_M
    return max(LEAST_TELLING_M, 0.5 * row.caution * before.units[row.end].sheave_to_hook_m)
