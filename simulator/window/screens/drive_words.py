"""What the drive screen says of its lift: to the coach strip while it runs, on a card when it has ended."""

from __future__ import annotations

from simulator.attempt import Attempt
from simulator.scenario.drill import EVERYBODY
from simulator.window.hands.bindings import WHY_KEY, Labels, find_binding, seat_of
from simulator.window.kit.measures_shown import speed
from simulator.window.kit.seen import SeenUnit
from simulator.window.readouts.coach_words import Situation
from simulator.window.readouts.event_texts import incident_text
from simulator.window.readouts.fix_chips import is_set_down
from simulator.window.readouts.prompt_cards import PromptCardsLook
from simulator.window.screens.cards import SummaryCard
from simulator.window.screens.drive_protocol import Driven
from simulator.window.shell.lift import (
    drill_shown,
    ended_words,
    incident_of,
    is_off_turn,
    is_told_by_step,
    landed_words,
    losses_shown,
    score_words,
    stage_of,
    stage_prompt,
)
from simulator.words import known, say

STILL_MOVING_S = 0.8
"""MOVE stays this long after the last motion, so that it does not flicker."""


def situation_of(drive: Driven) -> Situation:
    """What the coach strip needs to know beside the readings."""
    lift, seen = drive.lift, drive.readouts.seen
    drill = drill_shown(lift)
    stage = drill.stage if drill else stage_of(lift)
    weighed = drive.readouts.as_seen(drive.weighing.prompt)
    moving = tuple(moved_s < STILL_MOVING_S for moved_s in drive.moved_s)
    onto_deck = drive.choice.description.landing.flat is not None
    return Situation(
        moving=moving,
        automatic=tuple(lift.operators[unit.place] is not None for unit in seen.units),
        off_turn=tuple(is_off_turn(lift, unit.name) for unit in seen.units),
        is_stopped=lift.stopped,
        stopped_by=drive.readouts.as_seen(lift.called_by) or say("stop.by_key"),
        has_ended=lift.ended,
        incident=incident_text(incident_of(lift), seen, drive.system),
        label=say("coach.step", index=stage.number, count=stage.last) if stage else "",
        title=stage.title if stage else "",
        progress=(stage.number, stage.last) if stage else None,
        prompt=drive.readouts.as_seen(with_signal_keys(drive, drill.prompt))
        if drill
        else weighed
        or with_turn_keys(drive, own_prompt(drive) or stage_prompt(lift, seen, moving, onto_deck=onto_deck)),
        is_quiet="coach" in lift.hidden,
        score=drill.score if drill else "",
        cautions=drill.cautions if drill else (),
        speed=speed(drive.pace.shown_speed),
        is_slow=drive.pace.is_slow,
        weighing=drive.weighing.look(lift.readings, drive.system),
    )


def own_prompt(drive: Driven) -> str:
    """What people are asked to do with a load that is to be turned over or is set down, where no step and no partner
    tells of it."""
    turn, seen = drive.own_turn, drive.readouts.seen
    if is_told_by_step(drive.lift):
        return ""
    if is_set_down(drive.choice.description, drive.lift.readings.load):
        return seen.say("coach.stage_slack_off")
    if not (turn.is_on or turn.is_done):
        return ""
    if turn.is_on and not turn.waits:
        return seen.say("coach.turn_slowly" if turn.is_near else "coach.turn_together")
    return seen.say("coach.stage_steady" if turn.waits else "coach.stage_lower")


def with_turn_keys(drive: Driven, prompt: str) -> str:
    """A prompt of the turn with the keys of whoever sits there: of both lines, or the one key that does both."""
    is_own_wait = drive.own_turn.waits and not is_told_by_step(drive.lift)
    if not prompt or not drive.turns or is_own_wait:
        return prompt
    return _with_keys(prompt, [turn_keys_of(unit, drive.seats.labels) for unit in _people(drive, EVERYBODY)])


def with_signal_keys(drive: Driven, prompt: str) -> str:
    """A drill's prompt in the turn, with the keys of what it asks for and of whom it asks."""
    session = drive.lift.session if isinstance(drive.lift, Attempt) else None
    signal = session.prompt.signal if session is not None and session.prompt is not None else None
    if not prompt or signal is None or not drive.turns:
        return prompt
    people, labels = _people(drive, signal.unit), drive.seats.labels
    if signal.function == "turn":
        return _with_keys(prompt, [turn_keys_of(unit, labels) for unit in people])
    levers = {lever.key for unit in people for lever in unit.unit.levers}
    if signal.function != "hoist" or signal.line or "both" not in levers:
        return prompt
    key = find_binding("both", signal.sign)
    return _with_keys(prompt, [labels.of(key.scancode(seat_of(unit))) for unit in people])


def _people(drive: Driven, called: str) -> list[SeenUnit]:
    """Units of those people who are called, from left to right."""
    units = [unit for unit in drive.readouts.seen.units if drive.lift.operators[unit.place] is None]
    return [unit for unit in units if called in (EVERYBODY, unit.name)]


def _with_keys(prompt: str, keys: list[str]) -> str:
    found = [key if key.isalnum() else known(f"coach.key_{ord(key[0])}", key) for key in keys if key]
    if not found:
        return prompt
    both = found[0] if len(found) == 1 else say("coach.turn_keys_together", left=found[0], right=found[-1])
    return say("coach.turn_keys", prompt=prompt, keys=both)


def turn_keys_of(unit: SeenUnit, labels: Labels) -> str:
    """The keys of one seat that turn the load the way it is to be turned."""
    levers = {lever.key for lever in unit.unit.levers}
    if "turn" in levers:
        return labels.of(find_binding("turn", 1).scancode(seat_of(unit)))
    if "hoist_2" not in levers:
        return ""
    first, second = (labels.of(find_binding(*row).scancode(seat_of(unit))) for row in (("hoist_1", -1), ("hoist_2", 1)))
    return say("coach.turn_keys_of", first=first, second=second)


def prompt_cards_of(drive: Driven) -> PromptCardsLook:
    """What each seat is told in this step, and if somebody asked, the reason for the coach's prompt."""
    session = drive.lift.session if isinstance(drive.lift, Attempt) else None
    key, seen = drive.seats.labels.of(WHY_KEY), drive.readouts.seen
    is_told = session is not None and not session.done
    told = tuple(session.told[unit.place] if session is not None and is_told else "" for unit in seen.units)
    if not drive.prompt_cards.is_asked:
        return PromptCardsLook(seen, told, key)
    if session is None:
        return PromptCardsLook(seen, told, key, reason=say("glance.no_drill"))
    if session.prompt is None:
        return PromptCardsLook(seen, told, key, reason=say("glance.hidden"))
    as_seen, reason = drive.readouts.as_seen, session.prompt.reason or say("glance.no_reason")
    return PromptCardsLook(seen, told, key, as_seen(session.prompt.sentence), as_seen(reason))


def step_of(drive: Driven) -> object:
    """The moment the step began that is driven now; another one in the next step, and when a step begins anew."""
    session = drive.lift.session if isinstance(drive.lift, Attempt) else None
    return session.progress.began if session is not None else None


def summary_of(drive: Driven) -> SummaryCard:
    """The end of a lift: of a drill with its points and what cost most."""
    lift, seen, note = drive.lift, drive.readouts.seen, drive.desk.recording_fault()
    has_landed = lift.readings.load.landed
    title = landed_words(drive.choice.description) if has_landed else say("summary.ended")
    words = say("summary.yours") if has_landed else ended_words(lift, seen, drive.system)
    session = lift.session if isinstance(lift, Attempt) else None
    lost: tuple[str, ...] = ()
    if session is not None:
        state = "passed" if session.passed else "not_passed" if session.done else "not_done"
        state = "failed" if session.failed_by else state
        title, words = say(f"judge.drill_{state}"), score_words(session, seen)
        lost = losses_shown(session, seen, us=drive.system == "us")
    return SummaryCard(drive, title, words, note=note, lost=lost)
