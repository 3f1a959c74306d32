"""What the coach asks of a person beside an automatic operator, and whose move a chip names there."""

from __future__ import annotations

import pytest

from simulator.drill.partner import STAGES, Partner
from simulator.window.readouts.advice import advise
from simulator.window.readouts.alert_words import as_seen
from simulator.window.shell.lift import OutOfReach, stage_prompt
from simulator.words import table
from tests.window.sample import calm_readings, sample_description
from tests.window.test_advice import anything


@pytest.mark.parametrize("number", range(1, len(STAGES) - 1))
def test_each_stage_asks_for_its_own_work(number: int) -> None:
    partner = Partner(sample_description(), 1)
    partner.stage = number
    prompt = stage_prompt(OutOfReach([None, partner]))
    assert prompt and sum(prompt == text for text in table().values()) == 1
    assert stage_prompt(OutOfReach([None, None])) == ""


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
    assert as_seen("Tail unit: slew; the nose unit waits.", (0, 1)) == "Right unit: slew; the left unit waits."
    assert as_seen("Tail unit: slew; the nose unit waits.", (1, 0)) == "Left unit: slew; the right unit waits."
