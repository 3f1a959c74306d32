"""Units, lines and picks that do not fit: each a fault with its line, what was given, what is allowed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import NamedTuple

import pytest

from simulator.places import find_scenario
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load, parse_text

TANK = find_scenario("tank_on_side").read_text(encoding="utf-8")
NOSE = '[[units]]\nname = "nose"\n'
TAIL = '[[units]]\nname = "tail"\n'
TAIL_LINE = TANK[TANK.rindex("[[units.lines]]") : TANK.index("\n# The trailer")]
TAIL_PICK = '[[trailer.picks]]\nname = "tail"\n'
SECOND = '\n[[units.lines]] # second\npick = "tail"\nrope_out = 48.2\n'
THIRD_UNIT = """
[[units]] # third
name = "third"
slew_axis_x = 40
tailboard_toward = "nose"

[units.start]
boom_length = 11.98
elevation = 0.6
slew = -1.2

[[units.lines]]
pick = "tail"
rope_out = 48.2
shares_pick = true
"""
LINES_WANTED = "one or two tables [[units.lines]], each with pick and rope_out"
ONE_WAY = "the nose unit toward the tail, the tail unit back"


class Case(NamedTuple):
    """Texts put in place of others in the shipped tank lift, and its faults: the row each is about, and the rest."""

    changes: tuple[tuple[str, str], ...]
    faults: tuple[tuple[str, str], ...]


CASES = {
    "a pick that nobody takes": Case(
        ((TAIL_PICK, f'[[trailer.picks]]\nname = "middle" # here\nat = [0, 1.3, 2]\n\n{TAIL_PICK}'),),
        (
            (
                'name = "middle" # here',
                '[trailer.picks 2] name: given "middle", which no line goes to, allowed: a pick that a line goes to',
            ),
        ),
    ),
    "a line to a pick that does not exist": Case(
        ((TAIL_LINE, TAIL_LINE + SECOND.replace('"tail"', '"rear" # here')),),
        (('pick = "rear" # here', '[units 2.lines 2] pick: given "rear", allowed: "nose" or "tail"'),),
    ),
    "two lines to one pick": Case(
        ((TAIL_LINE, TAIL_LINE + SECOND.replace('"tail"', '"tail" # here')),),
        (
            (
                'pick = "tail" # here',
                '[units 2.lines 2] pick: given "tail", where another line goes too, '
                "allowed: a pick of its own, or shares_pick = true on both",
            ),
        ),
    ),
    "two lines to one pick, of which one says that it shares": Case(
        ((TAIL_LINE, TAIL_LINE + SECOND.replace('"tail"', '"tail" # here') + "shares_pick = true\n"),),
        (
            (
                'pick = "tail" # here',
                '[units 2.lines 2] pick: given "tail", where another line goes too, '
                "allowed: a pick of its own, or shares_pick = true on both",
            ),
        ),
    ),
    "lines of two units to one pick": Case(
        (('pick = "nose"', 'pick = "tail" # one'), (TAIL_LINE, TAIL_LINE.replace('"tail"', '"tail" # other'))),
        (
            (
                'name = "nose" # pick',
                '[trailer.picks 1] name: given "nose", which no line goes to, allowed: a pick that a line goes to',
            ),
            (
                'pick = "tail" # other',
                '[units 2.lines 1] pick: given "tail", where another line goes too, '
                "allowed: a pick of its own, or shares_pick = true on both",
            ),
            (
                "at = [5.3, 1.25, 1.9]",
                "[trailer.picks 2] at: given x 5.3 m, allowed: x less than the tail unit's pick, 5.3 m",
            ),
        ),
    ),
    "three lines on a unit": Case(
        ((TAIL_LINE, TAIL_LINE.replace("]]\n", "]] # here\n") + 2 * SECOND),),
        (("[[units.lines]] # here", f"[units 2] lines: given 3 lines, allowed: {LINES_WANTED}"),),
    ),
    "no line on a unit": Case(
        ((TAIL, TAIL.replace("]]\n", "]] # here\n")), (TAIL_LINE, "")),
        (("[[units]] # here", f"[units 2] lines: given nothing, allowed: {LINES_WANTED}"),),
    ),
    "two units facing the same way": Case(
        ((TAIL, TAIL + 'tailboard_toward = "tail" # here\n'),),
        (
            (
                'tailboard_toward = "tail" # here',
                f"[units 2] tailboard_toward: given both look toward the tail, allowed: {ONE_WAY}",
            ),
        ),
    ),
    "two units cab to cab": Case(
        (
            (NOSE, NOSE + 'tailboard_toward = "nose" # here\n'),
            (TAIL, TAIL + 'tailboard_toward = "tail"\n'),
        ),
        (
            (
                'tailboard_toward = "nose" # here',
                f"[units 1] tailboard_toward: given they stand cab to cab, allowed: {ONE_WAY}",
            ),
        ),
    ),
    "a unit's name twice": Case(
        ((NOSE, NOSE.replace("]]\n", "]] # here\n")), (TAIL, TAIL.replace("tail", "nose"))),
        (("[[units]] # here", '[units]: given 2 units named "nose", allowed: a name of its own for each unit'),),
    ),
    "a pick's name twice": Case(
        ((TAIL_PICK, TAIL_PICK.replace('"tail"', '"nose"')),),
        (
            (
                "[[trailer.picks]] # first",
                '[trailer] picks: given 2 picks named "nose", allowed: a name of its own for each pick',
            ),
            ('pick = "tail"', '[units 2.lines 1] pick: given "tail", allowed: "nose"'),
        ),
    ),
    "two units of other names": Case(
        ((TAIL, TAIL.replace("tail", "rear")), (NOSE, NOSE.replace("]]\n", "]] # here\n"))),
        (
            (
                "[[units]] # here",
                '[units]: given units named "nose" and "rear", allowed: nose and tail, in this order',
            ),
        ),
    ),
    "three units": Case(
        ((TAIL_LINE, TAIL_LINE + "shares_pick = true\n" + THIRD_UNIT), (NOSE, NOSE.replace("]]\n", "]] # here\n"))),
        (("[[units]] # here", "[units]: given 3 units, allowed: one or 2"),),
    ),
    "a lever for two lines on a unit with one": Case(
        ((TAIL, TAIL + 'levers = ["turn"] # here\n'),),
        (
            (
                'levers = ["turn"] # here',
                '[units 2] levers: given "turn", allowed: none: they move two lines, and this unit has one',
            ),
        ),
    ),
    "a leader that is no unit": Case(
        (('leader = "nose"', 'leader = "rear" # here'),),
        (('leader = "rear" # here', '[path] leader: given "rear", allowed: "nose" or "tail"'),),
    ),
    "a candidate for a pick that does not exist": Case(
        (
            (
                "[trailer.start]",
                '[[trailer.pick_candidates]]\nname = "legs"\npick = "mid"\nat = [4, 1, 2]\n[trailer.start]',
            ),
        ),
        (('pick = "mid"', '[trailer.pick_candidates 1] pick: given "mid", allowed: "nose" or "tail"'),),
    ),
}


def changed(changes: tuple[tuple[str, str], ...]) -> str:
    """The shipped file with some of its texts changed, each of which stands there once."""
    text = TANK.replace('[[trailer.picks]]\nname = "nose"\n', '[[trailer.picks]] # first\nname = "nose" # pick\n')
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def read(path: Path, text: str) -> Description:
    path.write_text(text, encoding="utf-8")
    return load(path)


@pytest.mark.parametrize("name", CASES)
def test_it_is_told_with_its_line(tmp_path: Path, name: str) -> None:
    changes, faults = CASES[name]
    text = changed(changes)
    expected = [f"x.toml: line {_line(text, row)}: {said}" for row, said in faults]
    with pytest.raises(BrokenScenario) as broken:
        read(tmp_path / "x.toml", text)
    assert [str(fault) for fault in broken.value.faults] == expected


def _line(text: str, row: str) -> int:
    """Of the last row that begins so."""
    return max(number for number, line in enumerate(text.split("\n"), 1) if line.startswith(row))


def test_two_lines_may_share_a_pick_when_both_say_so(tmp_path: Path) -> None:
    share = "shares_pick = true\n"
    lift = read(tmp_path / "x.toml", changed(((TAIL_LINE, TAIL_LINE + share + SECOND + share),)))
    assert [len(unit.lines) for unit in lift.units] == [1, 2]
    assert {line.pick for line in lift.units[1].lines} == {"tail"}


def test_a_line_has_what_all_units_and_its_own_say_of_a_hoist(tmp_path: Path) -> None:
    """The nearest wins: its own, else its unit's, else what all share."""
    share, own = "shares_pick = true\n", "[units.lines.hoist]\nparts = 4\n"
    lines = f"[units.hoist]\nspeed = 0.3\n\n{TAIL_LINE}{share}{own}{SECOND}{share}"
    text = changed(((TAIL_LINE, lines),))
    nose, tail = read(tmp_path / "x.toml", text).units
    assert [(line.hoist.parts, line.hoist.speed_mps) for line in (*nose.lines, *tail.lines)] == [
        (2, 0.5),
        (4, 0.3),
        (2, 0.3),
    ]


def test_a_lone_unit_of_any_name_takes_both_picks() -> None:
    begin, end = TANK.index(TAIL), TANK.index("# The trailer, in its own axes")
    text = (TANK[:begin] + TANK[end:]).replace(NOSE, NOSE.replace("nose", "wrecker"))
    text = text.replace("# The trailer, in its own axes", f"{TAIL_LINE}\n# The trailer, in its own axes")
    lift = parse_text(text, "x.toml")
    assert [unit.name for unit in lift.units] == ["wrecker"]
    assert [line.pick for line in lift.units[0].lines] == ["nose", "tail"]
    assert lift.gap_m == float("inf")


@pytest.mark.parametrize("name", ["load", "both", "Rescue", "rescue 1", "a.b", "a,b", "1st", "a__b", "x" * 25, "gap"])
def test_a_name_that_readings_and_columns_cannot_have_is_told(name: str) -> None:
    begin, end = TANK.index(TAIL), TANK.index("# The trailer, in its own axes")
    text = (TANK[:begin] + TANK[end:]).replace(NOSE, NOSE.replace('"nose"', json.dumps(name), 1))
    text = text.replace("# The trailer, in its own axes", f"{TAIL_LINE}\n# The trailer, in its own axes")
    with pytest.raises(BrokenScenario, match="small letters, digits and single underscores, such as rescue_1"):
        parse_text(text, "x.toml")


def test_a_list_of_units_is_never_read_as_the_form_before(tmp_path: Path) -> None:
    """A table of the older form among them is a name that is not known, at its line."""
    text = changed((("[trailer.start]", "[start.trailer]"),))
    with pytest.raises(BrokenScenario) as broken:
        read(tmp_path / "x.toml", text)
    assert [fault.place for fault in broken.value.faults] == [
        f"x.toml: line {_line(text, '[start.trailer]')}: start",
        f"x.toml: line {_line(text, '[trailer]')}: [trailer] start",
    ]
