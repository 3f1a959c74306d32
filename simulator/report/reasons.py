"""Why a reading passed its limit: what hands did from when it was last calm, the plainest first."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

import numpy as np

from simulator.readings import Readings
from simulator.recording.recorded import Recording, minutes
from simulator.report.amounts import Amounts
from simulator.report.deeds import (
    TELLING_M,
    OneEnd,
    deed_words,
    deeds,
    end_words,
    load_causes,
    moved,
    moved_boom,
    one_end,
    tip_causes,
    unit_name,
)
from simulator.report.hands import chases, last_asked_s, may_move, step_at
from simulator.report.judged import Spell, judged_values
from simulator.scenario.description import END_NAMES
from simulator.words import phrase, say

LONGEST_ONSET_S = 45.0
"""No cause is looked for further back than this."""
CALM_SHARE = 0.4
"""A rising reading is calm under this share of its caution limit, a falling one over `CALM_FACTOR` times it."""
CALM_FACTOR = 1.3
LEAST_TELLING_M = 0.10
STOPPED_WITHIN_S, WENT_ON_S = 10.0, 1.0
"""Who moved within so long before, and then not while the other went on for so long, has stopped."""
LAY_SHARE = 0.75
"""A load that lay at this share of the angle it hangs at was lifted as it lay."""
JUST_BEFORE_S = 5.0
"""What was moved within so long before a limit was passed belongs to it."""
TURN_GRACE_S = 2.0
"""When a step has just begun, hands still come to rest from the one before."""
PLUMBING = "plumb the tips"
OFF_PLUMB, PITCH, SWAY = "off plumb", "pitch of the load", "sway"


def why(recording: Recording, spell: Spell, amounts: Amounts) -> list[str]:
    """Causes of a spell: what was done from when the reading was last calm until it passed its limit."""
    row = spell.judged
    begin_s = cause_s(recording, spell)
    before, after = recording.at(begin_s), recording.at(spell.begin_s)
    turns = _out_of_turn(recording, row.end, before, after, amounts)
    # Where one unit was not to move, that the other stood is no fault.
    found = [*turns, *(_found(recording, spell, before, after, amounts, alone=not turns))]
    found = found or [say("finding.no_move"), *did(recording, before, after, amounts)]
    return [say("finding.since", when=minutes(before.time_s), cause=found[0]), *found[1:]]


def did(recording: Recording, before: Readings, after: Readings, amounts: Amounts) -> list[str]:
    """What each unit did, and its name."""
    both = enumerate(deeds(recording.description, before, after))
    return [say("finding.who_did", who=unit_name(end), did=deed_words(done, amounts)) for end, done in both]


def _found(
    recording: Recording, spell: Spell, before: Readings, after: Readings, amounts: Amounts, *, alone: bool
) -> list[str]:
    """What fits this reading; `alone`: that one end was moved and the other was not may be told."""
    row = spell.judged
    if row.label == OFF_PLUMB:
        return _why_off_plumb(recording, spell, before, after, amounts, alone=alone)
    if row.label == PITCH:
        return _why_pitched(recording, spell, before, after, amounts, alone=alone)
    if row.label == SWAY:
        return _why_swaying(recording, spell, before, after, amounts)
    if row.end is not None and row.label in ("capacity used", "lightest float", "ground bearing used"):
        return load_causes(row.end, before, after, amounts)
    said = did(recording, before, after, amounts) if alone else []
    return said if row.end is None else said[row.end : row.end + 1]


def _why_off_plumb(
    recording: Recording, spell: Spell, before: Readings, after: Readings, amounts: Amounts, *, alone: bool
) -> list[str]:
    telling_m = _telling_m(spell, before)
    found = [*_took_leaning(recording, spell, before, amounts), *_chased(recording, before, after)]
    if not found:
        found = tip_causes(recording.description, before, after, amounts, telling_m=telling_m)
    return found or (list(_one_end(recording, before, after, amounts, telling_m)) if alone else [])


def _why_pitched(
    recording: Recording, spell: Spell, before: Readings, after: Readings, amounts: Amounts, *, alone: bool
) -> list[str]:
    telling_m = _telling_m(spell, before)
    lay_rad, hangs_rad = before.load.pitch_rad, after.load.pitch_rad
    ends = list(_one_end(recording, before, after, amounts, telling_m)) if alone else []
    if before.load.ground_N >= 1.0 and lay_rad / hangs_rad >= LAY_SHARE:
        # Hands may have added to it, but as it lay it would have hung past half of the limit anyway.
        return [say("finding.lay_so", value=amounts.text(abs(lay_rad), "rad")), *ends]
    return ends


def _why_swaying(recording: Recording, spell: Spell, before: Readings, after: Readings, amounts: Amounts) -> list[str]:
    found = [*_chased(recording, before, after), *_came_free(recording, spell, amounts)]
    found = found or tip_causes(recording.description, before, after, amounts, telling_m=TELLING_M)
    found = found or list(_one_end(recording, before, after, amounts, TELLING_M))
    if not found and any(moved_boom(done) for done in deeds(recording.description, before, after)):
        moves = "; ".join(did(recording, before, after, amounts))
        is_quick = after.time_s - before.time_s <= 2.0 * after.load.sway_period_s
        found = [say("finding.tips_moved", did=moves)] if is_quick else []
    return found


def _one_end(
    recording: Recording, before: Readings, after: Readings, amounts: Amounts, telling_m: float
) -> Iterator[str]:
    both = deeds(recording.description, before, after)
    one = one_end(both, telling_m)
    if one is not None:
        yield end_words(one, both, amounts, stopped_at=_stopped_at(recording, one, before.time_s, after.time_s))


def _stopped_at(recording: Recording, one: OneEnd, begin_s: float, end_s: float) -> str:
    """When the other's winch stopped while this one's went on; nothing if it did not."""
    if not one.by_winch:
        return ""
    from_s = begin_s - STOPPED_WITHIN_S
    went_s, stopped_s = (last_asked_s(recording, end, "hoist", from_s, end_s) for end in (one.went, one.stood))
    if went_s is None or stopped_s is None or went_s - stopped_s < WENT_ON_S:
        return ""
    still_s = last_asked_s(recording, one.went, "hoist", stopped_s, stopped_s + WENT_ON_S)
    return minutes(stopped_s) if still_s is not None and still_s - stopped_s > 0.5 * WENT_ON_S else ""


def _chased(recording: Recording, before: Readings, after: Readings) -> list[str]:
    period_s = after.load.sway_period_s
    begin_s = max(0.0, before.time_s - period_s)
    return [
        say("finding.chased", unit=unit_name(one.end), function=phrase(one.function), turns=one.turns,
            lasts=f"{one.lasted_s:.0f}")
        for one in chases(recording, begin_s, after.time_s, period_s)
    ]  # fmt: skip


def _came_free(recording: Recording, spell: Spell, amounts: Amounts) -> list[str]:
    """The load swayed from the moment the ground let it go, its lines leaning."""
    free_s = _judged_since_s(recording, spell)
    if free_s <= 0.0 or spell.begin_s - free_s > 1.5 * recording.at(spell.begin_s).load.sway_period_s:
        return []
    units = recording.at(free_s).units
    leans = [amounts.text(unit.off_plumb_rad, "rad") for unit in units]
    nose, tail = (phrase(f"{name} line") for name in END_NAMES)
    return [say("finding.came_free", nose=nose, tail=tail, nose_lean=leans[0], tail_lean=leans[1])]


def _took_leaning(recording: Recording, spell: Spell, before: Readings, amounts: Amounts) -> list[str]:
    """A slack line was loaded although its tip was not over its hook, and it leaned from then on."""
    end, since_s = spell.judged.end, _judged_since_s(recording, spell)
    if end is None or since_s <= 0.0 or since_s < before.time_s - 1e-6:
        return []
    until = int(np.searchsorted(recording.time_s, since_s))
    was_slack = np.flatnonzero(recording.column(f"{END_NAMES[end]}.slack")[:until] == 1.0)
    if not len(was_slack):
        return []
    slack = recording.at(float(recording.time_s[was_slack[-1]]))
    if slack.units[end].off_plumb_rad < spell.judged.caution:
        return []
    key = "leaning_other_slack" if slack.units[1 - end].slack else "leaning"
    value, other = amounts.text(slack.units[end].off_plumb_rad, "rad"), phrase(f"{END_NAMES[1 - end]} line")
    return [say(f"finding.{key}", unit=unit_name(end), value=value, other=other)]


def _out_of_turn(
    recording: Recording, end: int | None, before: Readings, after: Readings, amounts: Amounts
) -> list[str]:
    """Moves in a drill's step that was not for them: the move itself is the deed."""
    at = step_at(recording, after.time_s)
    if at is None or after.time_s <= at.since_s + TURN_GRACE_S:
        return []
    rested_s = at.since_s + TURN_GRACE_S if at.since_s else 0.0
    start = recording.at(max(rested_s, min(before.time_s, after.time_s - JUST_BEFORE_S)))
    found = []
    for one, done in enumerate(deeds(recording.description, start, after)):
        if not moved(done) or end not in (None, one):
            continue
        hoisted = abs(done.line_up_m) >= LEAST_TELLING_M and not after.units[one].slack
        key = "" if may_move(at.step, one) else "not_its_move"
        key = key or ("plumbing_only" if at.step.work == PLUMBING and hoisted else "")
        if key:
            did_words = deed_words(done, amounts)
            found.append(
                say(f"finding.{key}", unit=unit_name(one), did=did_words, number=at.number, title=at.step.title)
            )
    return found


def _telling_m(spell: Spell, before: Readings) -> float:
    """How far a tip or hook must have moved to matter: half of what brings this line to its caution limit."""
    row = spell.judged
    if row.label == PITCH:
        span_m = abs(before.nose.hook_x_m - before.tail.hook_x_m)
        return min(TELLING_M, max(LEAST_TELLING_M, 0.25 * row.caution * span_m))
    if row.label != OFF_PLUMB or row.end is None:
        return TELLING_M
    return max(LEAST_TELLING_M, 0.5 * row.caution * before.units[row.end].sheave_to_hook_m)


def cause_s(recording: Recording, spell: Spell) -> float:
    """From when on to look for what hands did.

    A mean over a sway period comes after what it is the mean of, so it is looked for a period before; a pitch that was
    there when the load came free, from when it last lay with both lines slack.
    """
    row, onset_s, since_s = spell.judged, onset_of_s(recording, spell), _judged_since_s(recording, spell)
    earliest_s = max(0.0, spell.begin_s - LONGEST_ONSET_S)
    if row.label == PITCH and since_s > 0.0 and onset_s <= since_s:
        slack = np.minimum(*(recording.column(f"{name}.slack") for name in END_NAMES)) == 1.0
        lay = np.flatnonzero(slack[: int(np.searchsorted(recording.time_s, since_s))])
        return max(earliest_s, float(recording.time_s[lay[-1]]) if len(lay) else 0.0)
    if row.label in (OFF_PLUMB, SWAY):
        period_s = recording.at(spell.begin_s).load.sway_period_s
        lag_s = period_s if isfinite(period_s) else 0.0
        return max(min(onset_s, since_s), onset_s - lag_s, earliest_s)
    return onset_s


def onset_of_s(recording: Recording, spell: Spell) -> float:
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


def _judged_since_s(recording: Recording, spell: Spell) -> float:
    """First moment from which the reading has been judged without a break until its spell; 0 from the start."""
    values, time_s = judged_values(recording, spell.judged), recording.time_s
    until = int(np.searchsorted(time_s, spell.begin_s))
    gone = np.flatnonzero(np.isnan(values[:until]))
    return float(time_s[int(gone[-1]) + 1]) if len(gone) else 0.0
