"""A unit's own rule about telescoping under load: in the check, in a lift, in a drill's score, in a file."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest

from simulator.drill.hard_fails import failing
from simulator.engine.commands import Commands, UnitCommands
from simulator.engine.instruments import Instruments
from simulator.engine.simulation import Simulation
from simulator.places import find_scenario
from simulator.plan.setup_check import check_setup
from simulator.recording.noticed import Noticing
from simulator.report.amounts import Amounts
from simulator.report.lift.event_words import event_words
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.judged_limits import most_telescoped_N
from simulator.scenario.reader import load, parse_text
from simulator.scenario.rig import rig_of
from simulator.scenario.toml_writer import dump
from tests.demo import with_unit

G = 9.80665


def ruled(most_kg: float | None) -> Description:
    """A shipped lift whose nose unit has that rule; it is telescoped on the way across."""
    described = load(find_scenario("box_on_wheels"))
    return with_unit(described, 0, boom=replace(described.units[0].boom, telescope_load_kg=most_kg))


def test_left_out_there_is_no_rule_and_none_at_all_means_an_empty_hook() -> None:
    slack_N = ruled(None).limits.slack_N
    for most_kg, most_N in ((None, inf), (0.0, slack_N), (5000.0, 5000.0 * G)):
        described = ruled(most_kg)
        assert most_telescoped_N(described.units[0], described.limits) == most_N


def test_the_check_stops_where_the_path_asks_for_more_and_says_what_would_do() -> None:
    """The nose unit carries some 10 t and more: a rule of 20 t is kept, of 5 t and of nothing it is not."""
    found = {}
    for most_kg in (None, 0.0, 5000.0, 20000.0):
        check = check_setup(ruled(most_kg), step_m=2.0, room=False)
        rows = {(one.reading.code, one.reading.who): one for one in check.findings}
        found[most_kg] = rows.get(("telescoping", "nose unit"))
        assert ("telescoping", "tail unit") not in rows
    assert found[None] is None
    assert found[0.0] is not None and found[0.0].level == "stop" and found[5000.0] is not None
    assert found[5000.0].level == "stop" and found[5000.0].reading.value > 5000.0 * G
    assert found[20000.0] is not None and found[20000.0].level == "good"
    change = found[0.0].reading.change
    assert change is not None and change.amounts[0].value == pytest.approx(found[0.0].reading.value)


def test_driven_against_it_is_an_event_and_fails_a_drill() -> None:
    described = ruled(0.0)
    simulation, noticing = Simulation(described, in_bulk=True), Noticing(described)
    instruments = Instruments(simulation.model)
    noticing.look(instruments.read(simulation.state))
    rules = tuple(most_telescoped_N(unit, described.limits) for unit in described.units)

    def drive(hands: UnitCommands, steps: int) -> tuple[list[str], set[str]]:
        told, fails = [], set()
        for _ in range(0, steps, 12):
            simulation.run(Commands(hands, UnitCommands()), 12)
            now = instruments.read(simulation.state)
            told += [event for event in noticing.look(now) if event.kind == "telescope"]
            fails |= {f"{one.who}: {one.rule}" for one in failing(now, described.limits, (), rig_of(described), rules)}
        return [event_words(event.happening, Amounts()) for event in told], fails

    empty, fails = drive(UnitCommands(telescope=0.3), 120)
    assert empty == [] and "nose: telescoped under load" not in fails
    drive(UnitCommands(hoist=0.5), 2400)
    assert simulation.state.lines[0].hook_load_N > 2.0 * rules[0]
    loaded, fails = drive(UnitCommands(telescope=-0.3), 240)
    assert len(loaded) == 1 and loaded[0].startswith("nose unit: boom telescoped with ")
    assert "nose: telescoped under load" in fails


def test_a_wrong_value_says_what_is_allowed() -> None:
    text = dump(ruled(5000.0))
    assert "telescope_load = 5000.0" in text
    assert parse_text(text, "a.toml").units[0].boom.telescope_load_kg == 5000.0
    with pytest.raises(BrokenScenario) as broken:
        parse_text(text.replace("telescope_load = 5000.0", "telescope_load = -1"), "a.toml")
    assert "telescope_load: given -1" in str(broken.value)
