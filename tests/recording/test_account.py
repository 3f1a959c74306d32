"""A drill's account in words and any units: what the judge writes, and the lines that layout 1 kept."""

import re
from math import radians

import pytest

from simulator.drill.coach import on_center
from simulator.drill.judge import Loss, summed
from simulator.drill.scales import Center
from simulator.events import ACCOUNT, UNKNOWN, Happening
from simulator.recording.older_account import account_of
from simulator.report.amounts import Amounts
from simulator.report.lift.event_words import account_lines, lost_words
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2

NEWTONS = 103e3


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("  -25.0 tail: took it early, first at 13.4 s (tail.hook_load_N 103 kN)",
         "-25.0 tail unit: took it early, at 00:13.4 (tail hook load 10.5 t at its worst moment)"),
        ("-5.0 nose: moved out of turn, 3 times, first at 61.0 s (nose.commands 1.00)",
         "-5.0 nose unit: moved out of turn, 3 times, first at 01:01.0 (a lever 100 % over)"),
        ("-3.0 both: too slow, first at 300.0 s (time_s 300.00 s)", "-3.0 both: too slow, at 05:00.0"),
        ("-100.0 both: incident, first at 205.9 s (incidents 1.00)", "-100.0 both: incident, at 03:25.9"),
        ("-100.0 both: step not done, 8 times, first at 300.0 s", "-100.0 both: steps not done, 8"),
    ],
)  # fmt: skip
def test_an_account_says_readings_by_their_words(line: str, said: str) -> None:
    assert lost_words(account_of(line), Amounts()) == said


@pytest.mark.parametrize(
    ("reading", "value", "metric", "us"),
    [
        ("tail.hook_load_N", NEWTONS, NEWTONS / STANDARD_GRAVITY_MPS2 / 1e3,
         NEWTONS / STANDARD_GRAVITY_MPS2 / 0.45359237),
        ("load.sway_m", 0.61, 0.61, 0.61 / 0.3048),
        ("tail.off_plumb_rad", radians(11.57), 11.57, 11.57),
        ("load.speed_mps", 0.16, 0.16, 0.16 / 0.3048),
    ],
)  # fmt: skip
def test_what_the_judge_writes_today_comes_out_in_the_users_units(
    reading: str, value: float, metric: float, us: float
) -> None:
    loss = Loss(10.0, "tail", "a step", "a rule, with a comma", reading, value, 13.4, 20.0)
    (line,) = summed([loss])
    for system, wanted in (("metric", metric), ("us", us)):
        said = lost_words(line, Amounts(system))  # type: ignore[arg-type]
        assert "_" not in said and "a rule, with a comma" in said
        number = float(said.rpartition("(")[2].partition(" at its worst moment")[0].split()[-2].replace(",", ""))
        assert number == pytest.approx(wanted, rel=0.06)


@pytest.mark.parametrize(("system", "unit", "meters"), [("metric", "m", 1.0), ("us", "ft", 0.3048)])
def test_the_center_of_gravity_is_told_in_the_users_units(system: str, unit: str, meters: float) -> None:
    """The drill's own line, which older recordings have as well; a foot is 0.3048 m, exactly."""
    stored_before = (
        "By the loads the centre of gravity is 5.00 m from the nose pick; it is at -0.25 m, the papers said 4.20 m."
    )
    said = "".join(account_lines([account_of(stored_before)], Amounts(system)))  # type: ignore[arg-type]
    assert not said.startswith(" ")
    assert [float(one) for one in re.findall(rf"(-?[\d.]+) {unit}\b", said)] == [
        pytest.approx(value / meters, abs=0.005) for value in (5.0, -0.25, 4.2)
    ]
    now = Happening(ACCOUNT, "center", {"loads_m": 5.0, "true_m": -0.25, "stated_m": 4.2})
    assert account_of(stored_before) == now
    assert said == on_center(Center(5.0, 0.1, -0.25, 4.2), us=system == "us").sentence


def test_what_is_no_loss_is_left_as_it_is() -> None:
    line = "drill not done, in step 1: nose 0, tail 0, together 0 of 100"
    assert account_of(line).what == UNKNOWN and lost_words(account_of(line), Amounts()) == line
