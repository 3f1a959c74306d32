"""Who did what in lifts that the engine made of a few plain faults: told as an instructor beside them would."""

from __future__ import annotations

from dataclasses import replace
from math import radians
from typing import NamedTuple

import pytest

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.places import find_scenario
from simulator.recording.recorded import minutes
from simulator.report.lift.debrief import Debrief, debrief
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from tests.report.lifts import asked, driven

Hands = tuple[tuple[float, Commands], ...]
UP = UnitCommands(hoist=0.4)
HUNG_S = 10.0
LIFTED: Hands = ((0.0, asked(nose=UP, tail=UP)), (8.0, STILL))
"""Both hoist at one speed: the frame hangs level, half a meter up."""


class Fault(NamedTuple):
    """What hands do, what is told of it and what would be wrong to tell."""

    hands: Hands
    length_s: float
    told: tuple[str, ...]
    not_told: tuple[str, ...] = ()
    label: str = "off plumb"
    """Of the reading."""


def hung(*hands: tuple[float, Commands]) -> Hands:
    """First it is lifted; times count from when it hangs."""
    return *LIFTED, *((HUNG_S + time_s, commands) for time_s, commands in hands)


def to_and_fro(every_s: float, count: int) -> Hands:
    pulls = [(n * every_s, asked(nose=UnitCommands(slew=0.6 * (-1.0) ** n))) for n in range(count)]
    return hung(*pulls, (count * every_s, STILL))


FASTER, RAISED = UnitCommands(hoist=0.5), UnitCommands(elevation=0.5)
LEANING: Hands = (
    (0.0, asked(tail=UnitCommands(slew=0.8))),
    (6.0, STILL),
    (8.0, asked(nose=UP, tail=UP)),
    (14.0, STILL),
)
FAULTS = {
    "only the nose hoists": Fault(
        hung((0.0, asked(nose=FASTER))), 19.0,
        ("nose unit took line in while the tail unit stood", "tail line 0.00 m"), ("stopped",), "pitch",
    ),
    "both hoist and the tail stops": Fault(
        hung((0.0, asked(nose=FASTER, tail=FASTER)), (3.0, asked(nose=FASTER))), 22.0,
        (f"tail unit stopped at {minutes(HUNG_S + 3.0)} while the nose unit went on",), ("took line in",), "pitch",
    ),
    "the tail telescopes out under load": Fault(
        hung((0.0, asked(tail=UnitCommands(telescope=0.6)))), 18.0,
        ("tail unit raised its end alone, extend", "the nose unit's 0.00 m"), ("line in",), "pitch",
    ),
    "the tail slews and its telescope does not follow": Fault(
        hung((0.0, asked(tail=UnitCommands(slew=0.5)))), 22.0,
        (f"since {minutes(HUNG_S)}: tail unit slewed", "without the boom length to match (it changed +0.00 m, needed -",
         "along the road, toward the nose unit"), ("nose unit slewed", "toward the road", "chased"),
    ),
    # A tip draws back along the road at 11.6 m x sin 0.69 x 0.0105 rad/s x cos 0.90 = 0.048 m/s over a pendulum of
    # 9.2 m: 0.0052 rad/s. From -0.4 degrees to the caution at 2 that is 8.0 s, and the mean over a sway of 6 s is 3 s
    # behind: 21 s to 22 s, and what is told must last 0.3 s.
    "both booms go up": Fault(
        hung((0.0, asked(nose=RAISED, tail=RAISED))), 24.0,
        ("nose unit, boom up", "tail unit, boom up", "along the road"), ("line", "stood"),
    ),
    "the nose chases the swing": Fault(
        to_and_fro(2.85, 11), 42.0, ("nose unit chased the sway: its slew went to and fro",), ("tail unit",), "sway",
    ),
    "the tail line is loaded with its tip off the hook": Fault(
        LEANING, 18.0, ("tail unit took the load while its line leaned", "and the nose line was still slack"),
        ("stood", "slewed"),
    ),
}  # fmt: skip


def yard() -> Description:
    """With limits stated so wide that lifting from a little off plumb, as all of these do, is no fault of its own, nor
    that the frame swings into the hollow's side."""
    lift = load(find_scenario("practice_yard"))
    limits = replace(lift.limits, off_plumb_caution_rad=radians(2.0), off_plumb_stop_rad=radians(4.0))
    return replace(lift, limits=limits, site=replace(lift.site, light_contact_mps=0.3))


def told_of(fault: Fault) -> Debrief:
    return debrief(driven(yard(), fault.hands, length_s=fault.length_s))


@pytest.mark.parametrize("name", FAULTS)
def test_a_plain_fault_is_told_as_what_it_was(name: str) -> None:
    fault = FAULTS[name]
    findings = told_of(fault).findings
    first = next(one.why for one in findings if one.what.startswith(fault.label))
    if first.startswith("as no. "):
        first = findings[int(first.removeprefix("as no. ")) - 1].why
    assert all(words in first for words in fault.told), first
    assert not any(words in first for words in fault.not_told), first


def test_the_other_line_leans_for_the_one_that_was_loaded_leaning() -> None:
    findings = told_of(FAULTS["the tail line is loaded with its tip off the hook"]).findings
    (nose,) = [one for one in findings if one.who == "nose unit"]
    assert "tail unit had taken the load at 00:1" in nose.why and "no single move" not in nose.why


def test_a_lift_of_both_alike_has_no_finding() -> None:
    assert told_of(Fault(LIFTED, HUNG_S, ())).findings == ()
