"""A drill is data: what a file may say, and what is said of one that is wrong."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from simulator.places import find_scenario, scenarios_folder, shipped_drills
from simulator.readings import CHANNELS
from simulator.scenario.drill import READING_NAMES
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load, parse_text
from simulator.scenario.toml_writer import dump

TEMPLATE = scenarios_folder() / "templates" / "drill.toml"
FILES = (*shipped_drills(), TEMPLATE)
NAMES = {
    "turn_and_land",
    "two_line_centering",
    "plumb_tips",
    "centering",
    "read_the_load",
    "raise_level",
    "carry_across",
    "set_down",
    "lay_on_deck",
    "turn_over",
    "whole_lift",
}


def faults(changes: dict[str, str]) -> list[str]:
    """Faults of the template with pieces of its text replaced."""
    text = TEMPLATE.read_text(encoding="utf-8")
    for old, new in changes.items():
        assert old in text, old
        text = text.replace(old, new, 1)
    try:
        parse_text(text, "mine.toml")
    except BrokenScenario as broken:
        return [str(fault) for fault in broken.faults]
    return []


def test_all_shipped_drills_are_there_and_found_by_name() -> None:
    assert {path.stem for path in shipped_drills()} == NAMES
    assert all(find_scenario(name).stem == name for name in NAMES)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_each_says_that_it_is_invented_and_reads_back_equal(path: Path) -> None:
    text, lift = path.read_text(encoding="utf-8"), load(path)
    assert text.startswith("# INVENTED DEMO DATA.") and "Invented" in lift.story
    assert lift.drill is not None and lift.drill.aim
    assert parse_text(dump(lift), "again.toml") == lift


@pytest.mark.parametrize("path", shipped_drills(), ids=lambda path: path.stem)
def test_both_seats_are_told_something_in_every_step_and_know_the_way_out(path: Path) -> None:
    exercise = load(path).drill
    assert exercise is not None
    assert all(step.told("nose") and step.told("tail") for step in exercise.steps)
    hanging = [step for step in exercise.steps if step.work not in ("wait", "slack off")]
    assert all(step.way_out for step in hanging)


def test_the_template_explains_every_key_that_a_drill_may_have() -> None:
    from simulator.scenario.drill import Condition, Drill, Limit, Mark, Step, Work
    from simulator.scenario.keys import entries

    text = TEMPLATE.read_text(encoding="utf-8")
    exercise = text[text.index("# The drill.") :]
    for table in (Condition, Limit, Mark, Step, Drill):
        for entry in entries(table):
            assert re.search(rf"\b{entry.key}\b", exercise), entry.key
    assert all(work in exercise for work in Work.__args__)  # type: ignore[attr-defined]


def test_every_reading_can_be_named_with_and_without_its_unit() -> None:
    short = set()
    for channel in CHANNELS:
        assert READING_NAMES.find(channel.name) == channel.name
        for word in ("p", "_per_"):
            ending = f"_{channel.unit.replace('/', word).replace(' ', '_' if '/' in channel.unit else '')}"
            if channel.name.endswith(ending):
                assert READING_NAMES.find(channel.name.removesuffix(ending)) == channel.name
                short.add(channel.unit)
    assert short >= {channel.unit for channel in CHANNELS} - {"1", "bool"}


@pytest.mark.parametrize(
    ("written", "nearest"),
    [("nose.hok_load", "nose.hook_load_N"), ("load.swai_m", "load.sway_m"), ("tail.off_plum", "tail.off_plumb_rad")],
)
def test_a_misspelt_reading_is_a_fault_with_the_nearest_right_names(written: str, nearest: str) -> None:
    (fault,) = faults({'reading = "load.sway"': f'reading = "{written}"'})
    assert fault.startswith("mine.toml: [drill.limits 1] reading: ")
    assert f'given "{written}", allowed: perhaps ' in fault
    assert nearest in fault


def test_a_misspelt_reading_deep_inside_is_found_at_its_place() -> None:
    (fault,) = faults({'only_while = [{ reading = "load.ground"': 'only_while = [{ reading = "load.gruond"'})
    assert "[drill.marks 1.only_while 1] reading" in fault and "load.ground_N" in fault


@pytest.mark.parametrize(
    ("value", "part"),
    [('"3 kg"', 'a number in m or text such as "1 m"'), ('"wide"', "a number in m"), ("true", "a number in m")],
)
def test_a_value_of_another_kind_is_a_fault(value: str, part: str) -> None:
    (fault,) = faults({'comparison = ">"\nvalue = "0.5 m"': f'comparison = ">"\nvalue = {value}'})
    assert "[drill.limits 1] value" in fault and part in fault


def test_values_come_in_si_or_with_a_unit() -> None:
    lift = load(TEMPLATE)
    assert lift.drill is not None
    first = lift.drill.steps[0].until[0]
    assert (first.reading, first.value) == ("nose.off_plumb_rad", pytest.approx(0.6 * 3.141592653589793 / 180.0))
    assert lift.drill.steps[1].until[0].value == 4000.0
    text = TEMPLATE.read_text(encoding="utf-8").replace('value = "4 kN"', "value = 4000")
    assert parse_text(text, "plain.toml").drill == lift.drill


@pytest.mark.parametrize(
    ("old", "new", "parts"),
    [
        ('title = "Hold"', 'title = "Plumb both tips"', ("2 steps titled", '[drill.steps 3] next: given "Hold"')),
        ('next = "Hold" ', 'next = "Hald" ', ('[drill.steps 3] next: given "Hald", allowed: perhaps "Hold"',)),
        ('work = "hold"', 'work = "holld"', ("[drill.steps 4] work",)),
        ('moves = "none"', 'moves = "nobody"', ("[drill.steps 4] moves",)),
        ('until = [{ reading = "time", change = true, comparison = ">=", value = "8 s" }]', "until = []",
         ("[drill.steps 4] until: given a list of 0",)),
        ("points = 3\n", "points = 300\n", ("[drill.marks 1] points",)),
        ('per = "second"', 'per = "minute"', ("[drill.marks 1] per",)),
        ('who = "both"', 'whom = "both"', ("[drill.marks 1] whom: given a name that is not known",)),
    ],
)  # fmt: skip
def test_what_cannot_be_used_is_said_with_its_place(old: str, new: str, parts: tuple[str, ...]) -> None:
    found = faults({old: new})
    assert len(found) == len(parts), found
    for part in parts:
        assert any(part in fault for fault in found), found


def test_all_faults_at_once() -> None:
    found = faults(
        {'"load.sway"': '"load.svay"', "pass_points = 60": "pass_points = 160", 'work = "hold"': 'work = "x"'}
    )
    assert len(found) == 3


def test_a_lift_without_a_drill_has_none() -> None:
    assert load(find_scenario("practice_yard")).drill is None


def test_texts_of_the_form_before_are_read_as_ever() -> None:
    """`to_nose` and `to_tail` say what `to = { nose, tail }` says, and what is read back is the same lift."""
    text = TEMPLATE.read_text(encoding="utf-8")
    now = 'to = { nose = "Tip over your hook.", tail = "Tip over your hook." }'
    before = 'to_nose = "Tip over your hook."\nto_tail = "Tip over your hook."\n'
    assert text.count(now) == 1
    older = text.replace(now, before + "#")
    assert parse_text(older, "older.toml") == parse_text(text, "now.toml")


def test_only_units_of_the_lift_are_told_something() -> None:
    (fault,) = faults({'to = { nose = "Tip over your hook.", tail =': 'to = { nose = "Tip over your hook.", crane ='})
    assert all(f'"{name}"' in fault for name in ("crane", "nose", "tail"))


ON_FOUR_LINES = """
[drill]
aim = "a test"

[[drill.steps]]
title = "one"
work = "wait"
moves = "tail"
until = [{ reading = "nose_1.slack", comparison = "<", value = 1 }, { reading = "tail_2.hook_load", comparison = ">", \
value = "2 kN" }]

[[drill.steps.marks]]
reading = "tail_1.off_plumb"
comparison = ">"
value = "2 deg"
why = "leans"
points = 1
who = "nose"
"""


def on_four_lines(old: str, new: str) -> str:
    """The four-line lift with a drill on it, a piece of whose text is replaced."""
    assert old in ON_FOUR_LINES
    return find_scenario("four_lines").read_text(encoding="utf-8") + ON_FOUR_LINES.replace(old, new)


def test_conditions_name_readings_of_each_of_two_lines() -> None:
    exercise = parse_text(on_four_lines("one", "one"), "mine.toml").drill
    assert exercise is not None
    step = exercise.steps[0]
    assert [one.reading for one in step.until] == ["nose_1.slack", "tail_2.hook_load_N"]
    assert (step.marks[0].reading, step.marks[0].value) == ("tail_1.off_plumb_rad", pytest.approx(0.0349066))


@pytest.mark.parametrize(
    ("old", "new", "row", "fault"),
    [
        ('moves = "tail"', 'moves = "rear"', 'moves = "rear"',
         '[drill.steps 1] moves: given "rear", allowed: "nose", "tail", "both" or "none"'),
        ('who = "nose"', 'who = "nose_1"', 'who = "nose_1"',
         '[drill.steps 1.marks 1] who: given "nose_1", allowed: "nose", "tail", "both" or "none"'),
        ("nose_1.slack", "nose_3.slack", "until",
         '[drill.steps 1.until 1] reading: given "nose_3.slack", allowed: perhaps nose_'),
        ("nose_1.slack", "yard.slack", "until",
         '[drill.steps 1.until 1] reading: given "yard.slack", allowed: perhaps '),
        ("nose_1.slack", "nose_1.capacity_used", "until",
         '[drill.steps 1.until 1] reading: given "nose_1.capacity_used", allowed: perhaps nose.capacity_used'),
    ],
)  # fmt: skip
def test_a_seat_or_a_reading_that_the_lift_has_not_is_a_fault_with_its_line(
    tmp_path: Path, old: str, new: str, row: str, fault: str
) -> None:
    file = tmp_path / "mine.toml"
    file.write_text(on_four_lines(old, new), encoding="utf-8")
    with pytest.raises(BrokenScenario) as broken:
        load(file)
    (told,) = map(str, broken.value.faults)
    rows = file.read_text(encoding="utf-8").splitlines()
    number = next(number for number, text in enumerate(rows, 1) if text.startswith(row))
    assert told.startswith(f"mine.toml: line {number}: {fault}")
