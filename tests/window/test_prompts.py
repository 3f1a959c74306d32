"""What the coach asks of a person beside an automatic operator, and whose move a chip names there."""

from __future__ import annotations

import pytest

from simulator.drill.partner import STAGES, Partner
from simulator.readings import Readings
from simulator.scenario.rig import PAIR
from simulator.window.kit.levels import Level
from simulator.window.kit.seen import MIRRORED, SEEN_BY_TWO, Seen
from simulator.window.readouts.alert_words import as_seen
from simulator.window.readouts.alerts import Watched
from simulator.window.readouts.coach_words import Situation, at_rest, call
from simulator.window.readouts.fix_chips import Advice, advise
from simulator.window.shell.lift import OutOfReach, stage_prompt
from simulator.words import say, table
from tests.window.sample import calm_readings, sample_description
from tests.window.test_advice import anything


@pytest.mark.parametrize("number", range(1, len(STAGES) - 1))
def test_each_stage_asks_for_its_own_work(number: int) -> None:
    partner = Partner(sample_description(), 1)
    partner.stage = number
    prompt = stage_prompt(OutOfReach([None, partner]), SEEN_BY_TWO, (True, True))
    assert prompt and sum(prompt == text for text in table().values()) == 1
    assert stage_prompt(OutOfReach([None, None]), SEEN_BY_TWO, (True, True)) == ""


def test_a_move_is_never_handed_to_a_unit_that_drives_itself() -> None:
    """The automatic one leans more, and still it is the person's move."""
    calm = calm_readings()
    leaning = [
        unit._replace(mean_off_plumb_rad=lean, mean_off_plumb_along_rad=lean, slack=False)
        for unit, lean in ((calm.nose, 0.04), (calm.tail, 0.06))
    ]
    readings = calm.with_unit(0, leaning[0]).with_unit(1, leaning[1])._replace(load=calm.load._replace(sway_m=0.0))
    people = [one.kind for one in advise(sample_description(), readings, anything)]
    assert people == ["other_first", "control"]
    beside = [one.kind for one in advise(sample_description(), readings, anything, automatic=(False, True))]
    assert beside == ["control", "other_first"]


def test_units_are_named_by_their_side_at_the_beginning_of_a_sentence_too() -> None:
    assert as_seen("Tail unit: slew; the nose unit waits.", SEEN_BY_TWO) == "Right unit: slew; the left unit waits."
    assert as_seen("Tail unit: slew; the nose unit waits.", MIRRORED) == "Left unit: slew; the right unit waits."


SIDES = say("unit.left_call"), say("unit.right_call")
YES_NO = (False, True)


def prompted(readings: Readings, levels: dict[str, Level], now: Situation, seen: Seen = SEEN_BY_TWO) -> str:
    calm = (Advice("leave"),) * 2, (Level.GOOD,) * 2
    return call(readings, Watched(levels), *calm, now, seen).prompt


@pytest.mark.parametrize("seen", [SEEN_BY_TWO, MIRRORED])
@pytest.mark.parametrize("automatic", [(False, False), (False, True), (True, False)])
@pytest.mark.parametrize("moving", [(False, False), (False, True), (True, False)])
@pytest.mark.parametrize("nose_up", YES_NO)
def test_nobody_is_asked_to_level_with_an_automatic_end_that_stands(
    seen: Seen, automatic: tuple[bool, bool], moving: tuple[bool, bool], nose_up: bool
) -> None:
    """Nose up: the tail end is low. It is asked to come up if somebody sits there, else the other to come down."""
    calm = calm_readings()
    readings = calm._replace(load=calm.load._replace(pitch_rad=0.07 if nose_up else -0.07))
    now = at_rest(seen)._replace(automatic=automatic, moving=moving)
    prompt = prompted(readings, {"pitch": Level.CAUTION}, now, seen)
    low = seen.of(int(nose_up)).side
    if not automatic[low]:
        assert prompt == say("coach.level_up_prompt", side=SIDES[low])
    else:
        key = "coach.level_wait_prompt" if moving[low] else "coach.level_down_prompt"
        assert prompt == say(key, side=SIDES[1 - low])


@pytest.mark.parametrize("slack", [0, 1])
@pytest.mark.parametrize("automatic", [(False, False), (False, True), (True, False)])
@pytest.mark.parametrize("moving", [(False, False), (False, True), (True, False)])
@pytest.mark.parametrize("much", YES_NO)
def test_with_one_line_slack_nobody_is_told_to_go_on_together(
    slack: int, automatic: tuple[bool, bool], moving: tuple[bool, bool], much: bool
) -> None:
    """The other line at 93 % of capacity or not: a person who can help is named, and only to what helps."""
    readings = calm_readings()
    readings = readings.with_unit(slack, readings.units[slack]._replace(slack=True, hook_load_N=0.0))
    bears = 1 - slack
    levels = {f"{PAIR[bears]}.capacity": Level.CAUTION} if much else {}
    prompt = prompted(readings, levels, at_rest(SEEN_BY_TWO)._replace(automatic=automatic, moving=moving))
    stands = automatic[slack] and not moving[slack]
    if not automatic[bears] and (much or stands):
        assert prompt == say("coach.give_back_prompt", side=SIDES[bears])
    elif automatic[slack]:
        assert prompt == say("coach.slack_wait_prompt", side=SIDES[bears])
    else:
        assert prompt == say("coach.take_up_prompt", side=SIDES[slack])


@pytest.mark.parametrize("seen", [SEEN_BY_TWO, MIRRORED])
def test_beside_a_partner_that_has_done_its_part_only_the_person_is_asked(seen: Seen) -> None:
    partner = Partner(sample_description(), 1)
    partner.stage = STAGES.index("raise")
    lift, side = OutOfReach([None, partner]), seen.of(1).side
    moves = tuple(place == side for place in (0, 1))
    assert stage_prompt(lift, seen, moves) == say("coach.stage_raise")
    alone = stage_prompt(lift, seen, (False, False))
    assert alone == say("coach.alone_raise", side=SIDES[1 - side]) and "Both" not in alone
