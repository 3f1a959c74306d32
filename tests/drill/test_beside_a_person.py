"""An automatic operator beside a person who is good, not perfect: it waits for no more than the person is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from simulator.attempt import Attempt
from simulator.drill.maneuvers import PLUMBED_M, Hands
from simulator.drill.own_lines import off_m
from simulator.drill.partner import STAGES, Partner
from simulator.drill.steering import steer
from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from simulator.window.readouts.fix_chips import advise
from simulator.window.readouts.resting_floats import RestingFloats

SLOW_KEY = 1.0 / 3.0
LOOKS_STEPS = 24
"""A person acts on what was to be read a tenth of a second ago."""


class Person:
    """Brings the slack line plumb by the chip and a slow key and is content when the chip is; then has able hands, but
    stops short of the landing place by `short_m`. Somebody hasty hoists as soon as the own chip is content."""

    def __init__(self, description: Description, *, short_m: float = 0.0, is_hasty: bool = False) -> None:
        place = description.landing
        self._description, self._is_hasty = description, is_hasty
        self._hands = Hands(replace(description, landing=replace(place, y_m=place.y_m - short_m)), 0)
        self._standing = RestingFloats(description)
        self._work = ""

    def command(self, readings: Readings, work: str) -> tuple[float, ...]:
        """Keys of the nose unit while the other one is at `work`."""
        if work == "plumb the tips":
            row, _ = advise(self._description, readings, self._standing.allowed(readings), automatic=(False, True))
            if row.kind == "control":
                return UnitCommands()._replace(**{row.lever: row.sign * SLOW_KEY})
            hoists = self._is_hasty and readings.nose.hook_load_N < 20_000.0
            return UnitCommands(hoist=SLOW_KEY if hoists else 0.0)
        if work != self._work:
            self._work = work
            self._hands.begin(readings)
        aim = self._hands.aim(work, readings)
        unit, own = self._description.units[0], rig_of(self._description).units[0]
        return UnitCommands() if aim is None else steer(unit, own, readings, aim)


def lifted(person: Person, description: Description, longest_s: float) -> tuple[Attempt, dict[str, Readings]]:
    """The lift, and the readings at which the automatic operator began each kind of work."""
    partner = Partner(description, 1)
    attempt, began = Attempt(description, [None, partner]), {}
    while not attempt.ended and attempt.readings.time_s < longest_s:
        attempt.advance(Commands(person.command(attempt.readings, partner.work), UnitCommands()), LOOKS_STEPS)
        began.setdefault(partner.work, attempt.readings)
    return attempt, began


@pytest.fixture(scope="module")
def yard() -> Description:
    return load(find_scenario("practice_yard"))


def test_a_line_that_its_chip_leaves_alone_is_plumb_enough_for_the_other(yard: Description) -> None:
    """The person stays farther off than the automatic operator would, and stops short of the place: they still land."""
    attempt, began = lifted(Person(yard, short_m=0.2), yard, 900.0)
    assert off_m(began["take slack"], rig_of(yard).units[0]) > PLUMBED_M, "a person's standard, not its own"
    assert list(began) == list(STAGES)[: len(began)]
    assert attempt.readings.load.landed and not attempt.incidents


def test_it_follows_somebody_who_hoists_first(yard: Description) -> None:
    attempt, began = lifted(Person(yard, is_hasty=True), yard, 60.0)
    assert began["take slack"].nose.hook_load_N > 4_000.0 and began["take slack"].tail.slack
    assert "lift off" in began and not attempt.readings.tail.slack


def test_it_waits_while_the_other_still_leans(yard: Description) -> None:
    """Hands off at the start, 1.4 degrees off: nothing is taken up."""
    attempt = Attempt(yard, [None, Partner(yard, 1)])
    attempt.advance(STILL, 40 * 240)
    assert attempt.readings.tail.slack and attempt.readings.nose.off_plumb_rad > yard.limits.plumb_rad
