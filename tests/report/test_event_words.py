"""What an instructor did, read back from a recording: to which unit, by how much, for how long, in any units."""

import pytest

from simulator.drill.instruction import Instruction, changed
from simulator.events import Happening
from simulator.places import find_scenario
from simulator.recording.older_events import happening_of
from simulator.report.amounts import Amounts
from simulator.report.lift.event_words import event_words
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.reader import load
from simulator.scenario.rig import TWO_BY_ONE

NEWTONS = 30e3
TONNES = NEWTONS / STANDARD_GRAVITY_MPS2 / 1000.0
FLOAT = "soft float, nose unit, tailboard-end road-side float, 50 % of its stiffness left"


@pytest.mark.parametrize(
    ("act", "metric", "us"),
    [
        (Instruction("gust", 8.0, 0, 6.0), "gust of wind, 8.0 m/s more for 6 s",
         f"gust of wind, {8.0 / 0.44704:.0f} mph more for 6 s"),
        (Instruction("soft float", 0.5, 0), FLOAT, FLOAT),
        (Instruction("line slips", 0.3, 1), "tail line slips by 0.30 m of rope",
         f"tail line slips by {0.3 / 0.3048:.2f} ft of rope"),
        (Instruction("cargo shifts", -1.5), "cargo shifts by 1.50 m toward the nose",
         f"cargo shifts by {1.5 / 0.3048:.2f} ft toward the nose"),
        (Instruction("cargo shifts", 1.5), "cargo shifts by 1.50 m toward the tail",
         f"cargo shifts by {1.5 / 0.3048:.2f} ft toward the tail"),
        (Instruction("bed holds", NEWTONS), f"the bed holds the load, up to {TONNES:.1f} t",
         f"the bed holds the load, up to {100.0 * round(10.0 * TONNES / 0.45359237):,.0f} lb"),
        (Instruction("step back", 2.0), "back to the start of step 3", "back to the start of step 3"),
        (Instruction("step back", -1.0), "back to the start of this step", "back to the start of this step"),
        (Instruction("hide coach"), "hide coach", "hide coach"),
    ],
)  # fmt: skip
def test_an_act_says_unit_amount_and_time(act: Instruction, metric: str, us: str) -> None:
    """A foot is 0.3048 m, a mile an hour 0.44704 m/s, a pound 0.45359237 kg, all exact (NIST SP 811, App. B)."""
    assert event_words(act.happening(TWO_BY_ONE), Amounts()) == f"the instructor: {metric}"
    assert event_words(act.happening(TWO_BY_ONE), Amounts("us")) == f"the instructor: {us}"


def test_the_soft_float_is_the_one_that_is_named() -> None:
    """Floats stand in the order tailboard road, tailboard ravine, cab road, cab ravine."""
    lift = load(find_scenario("practice_yard"))
    before, after = lift.units[0].floats.soft_float_share, changed(lift, Instruction("soft float", 0.5)).units[0]
    assert after.floats.soft_float_share == (0.5 * before[0], *before[1:])


def test_an_act_that_this_program_does_not_know_is_told_as_it_is() -> None:
    dance = Happening("instructor", "instructor", {"act": "dance", "amount": 1.0, "place": 0, "lasts_s": 0.0})
    assert event_words(dance, Amounts()) == "the instructor: dance"
    assert event_words(happening_of("instructor", "dance | 1.0 | 0 | 0.0"), Amounts()) == "the instructor: dance"


@pytest.mark.parametrize(("one", "said"), [
    (Happening("stop order", "stop", {"units": 2}), "stop order: both units hold"),
    (Happening("stop order", "stop", {}), "stop order: both units hold"),
    (Happening("stop order", "stop", {"units": 1}), "stop order: the unit holds"),
    (Happening("stop order", "stop_called", {"by": "the spotter", "units": 1}),
     "stop order called by the spotter: the unit holds"),
    (Happening("given up", "given_up", {"lasts_s": 300.0, "units": 1}),
     "the unit stood still for 300 s, so the lift was given up"),
])  # fmt: skip
def test_of_a_unit_alone_nothing_is_said_of_both(one: Happening, said: str) -> None:
    assert event_words(one, Amounts()) == said


def test_a_line_of_two_is_told_with_its_number() -> None:
    one = Happening("slack", "slack", {"line": "nose_2"})
    assert event_words(one, Amounts()) == "nose line 2 slack while the load hangs"
