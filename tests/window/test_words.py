"""All that is shown comes from the file of words: no sentence stands in the window's code, and no phrase is missing."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest

from simulator import words
from simulator.drill.instruction import KINDS, Instruction
from simulator.drill.scales import State
from simulator.engine.incidents import met
from simulator.events import WORDS_OF_ACTS
from simulator.places import assets_folder
from simulator.plan.findings import Move
from simulator.plan.recheck import Do
from simulator.plan.stations import Phase
from simulator.recording.noticed import conditions
from simulator.recording.older_events import STORED, happening_of
from simulator.report.amounts import Amounts
from simulator.report.lift.event_words import event_words
from simulator.scenario.description import Limits
from simulator.scenario.judged_limits import judged_rows
from simulator.scenario.measures import METERS_PER_FOOT
from simulator.scenario.rig import TWO_BY_ONE, rig_of
from simulator.window.kit.seen import MIRRORED, SEEN_BY_TWO
from simulator.window.readouts.alert_words import as_seen
from simulator.window.readouts.event_texts import event_text, incident_text
from simulator.words import phrase, say, table, thing
from tests.window.sample import calm_readings, sample_description

PACKAGE = Path(words.__file__).parent
DRAWN = {"text", "digits", "text_width", "fitted", "draw_row", "draw_button", "draw_key", "lines_of"}
"""Calls that put a text on the screen."""
SENTENCE = re.compile(r"[A-Za-z]{2,} [A-Za-z]{2,}")
JUDGED = {row.label for row in judged_rows(Limits())}
COMPARED = {"to raise", "cannot raise", *KINDS, *JUDGED, *get_args(State), *get_args(Do)}
"""States and instructions of other rooms: they are compared, not shown."""


def strings(tree: ast.AST) -> Iterator[ast.Constant]:
    """String constants that are no docstrings."""
    said = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in said:
            yield node


def literals_drawn(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Words that a call draws though no file of words holds them."""
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        name = ast.unparse(node.func).rpartition(".")[2]
        if name not in DRAWN:
            continue
        for arg in node.args:
            parts = arg.values if isinstance(arg, ast.JoinedStr) else [arg]
            for part in parts:
                if isinstance(part, ast.Constant) and isinstance(part.value, str) and re.search("[A-Za-z]", part.value):
                    yield node.lineno, part.value


def sources(folder: str) -> Iterator[tuple[str, ast.Module]]:
    """Every module of a wing."""
    for path in sorted((PACKAGE / folder).rglob("*.py")):
        yield path.relative_to(PACKAGE.parent).as_posix(), ast.parse(path.read_text(encoding="utf-8"))


def test_no_word_that_is_drawn_stands_in_the_windows_code() -> None:
    found = [(path, *one) for path, tree in sources("window") for one in literals_drawn(tree)]
    assert found == []
    assert list(literals_drawn(ast.parse('canvas.text(f"Stop {n}", 1.0, 2.0)'))) == [(1, "Stop ")]


def test_no_sentence_stands_in_the_windows_code() -> None:
    found = [
        (path, node.lineno, node.value)
        for path, tree in sources("window")
        for node in strings(tree)
        if SENTENCE.search(node.value) and node.value not in COMPARED
    ]
    assert found == []


def test_every_word_that_is_asked_for_is_in_the_file() -> None:
    for folder in ("window", "report", "drill"):
        for path, tree in sources(folder):
            for node in ast.walk(tree):
                if isinstance(node, ast.Call) and ast.unparse(node.func) == "say" and node.args:
                    key = node.args[0]
                    for one in [key, *(getattr(key, name) for name in ("body", "orelse") if hasattr(key, name))]:
                        if isinstance(one, ast.Constant):
                            assert one.value in table(), (path, node.lineno, one.value)


RULES = ("unit_rules", "room_rules", "rigging_rules", "site_rules", "lying_rules", "turn_rules")


def phrases_of_the_plan() -> Iterator[str]:
    """What a check of a set-up may say: names of readings, what they are about, and what to change."""
    for room in (
        "unit_rules",
        "room_rules",
        "setup_check",
        "rigging_rules",
        "site_rules",
        "lying_rules",
        "advice",
        "turn_rules",
    ):
        tree = ast.parse((PACKAGE / "plan" / f"{room}.py").read_text(encoding="utf-8"))
        inside = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in node.values}
        added = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.AugAssign)}
        yield from (node.value for node in strings(tree) if " " in node.value and id(node) not in inside | added)
    yield from get_args(Phase)


CODES = {
    *("gap over", "gap to ground", "two-unit mark", "hung roll", "live lane", "overhead line", "boom length"),
    *("hook off", " and "),
    *("rope bend", "leg angle", "limit passed", "not judged", "no limit passed", ": ", ", ", ", or ", ", or |, "),
    *get_args(Move),
}


def test_every_phrase_of_a_set_up_check_is_in_the_file() -> None:
    """By the very phrase, or as the beginning of one that is put together."""
    told = [key.removeprefix("told.") for key in table() if key.startswith("told.")]
    missing = {
        one
        for one in phrases_of_the_plan()
        if one not in CODES and one not in ("crossing", "turning") and not any(key.startswith(one) for key in told)
    }
    assert missing == set()


def test_every_event_that_is_stored_has_its_words() -> None:
    assert {f"event.{name}" for name in STORED} <= set(table())
    assert all(phrase(kind) == table()[f"told.{kind}"] for kind in KINDS)
    assert {f"event.{key}" for key in WORDS_OF_ACTS.values() if key != "act_cargo"} <= set(table())
    act = Instruction("gust", 5.0, 0, 6.0).happening(TWO_BY_ONE)
    assert "5.0 m/s more for 6 s" in event_words(act, Amounts())


def test_all_that_is_noted_of_a_lift_is_what_a_recording_of_layout_1_may_say() -> None:
    description, calm = sample_description(), calm_readings()
    nose = calm.nose._replace(
        stall=True, tipping=True, slack=True, boom_length_m=0.0, elevation_rad=-2.0, slew_rad=-9.0, head_room_m=0.0,
        rope_left_m=0.0,
    )  # fmt: skip
    tail = calm.tail._replace(boom_length_m=99.0, elevation_rad=2.0, slew_rad=9.0)
    seen = {
        one.what
        for ground_N, road_N in ((0.0, 0.0), (9.0, 9.0), (9.0, 0.0))
        for one in conditions(
            description,
            rig_of(description),
            calm.with_unit(0, nose)
            .with_unit(1, tail)
            ._replace(load=calm.load._replace(ground_N=ground_N, road_N=road_N)),
        )
    }
    assert seen == STORED.keys() - {"met", "tipped", "stop_called", "stop", "lifted", "given_up"}


@pytest.mark.parametrize(("system", "speed", "x"), [("metric", "0.27 m/s", 5.6), ("us", "0.89 ft/s", 18.4)])
def test_an_old_incident_is_told_in_the_users_units(system: str, speed: str, x: float) -> None:
    """The text as recordings of layout 1 have kept it; feet by NIST SP 811 (exact)."""
    text = "Shell meets tail unit tailboard, x +5.6, y -0.6, z +1.3 m: at 0.27 m/s"
    stored = happening_of("incident", text)
    assert stored == met(3.0, "Shell", "tail unit tailboard", 0.27, (5.6, -0.6, 1.3)).happening
    assert float(speed.split()[0]) == pytest.approx(0.27 / (METERS_PER_FOOT if system == "us" else 1.0), abs=0.005)
    seen = event_text(stored, SEEN_BY_TWO, system)  # type: ignore[arg-type]
    assert seen.startswith("Shell meets right unit tailboard") and speed in seen and f"{x:.1f}" in seen
    assert incident_text(stored, MIRRORED, system) == "Shell meets left unit tailboard"  # type: ignore[arg-type]
    assert speed in event_words(stored, Amounts(system))  # type: ignore[arg-type]


def test_a_text_that_is_no_event_of_ours_is_shown_as_it_is() -> None:
    odd = happening_of("remark", "nose unit looks odd")
    assert event_text(odd, SEEN_BY_TWO, "metric") == "Remark: left unit looks odd"
    assert event_words(odd, Amounts()) == "remark: nose unit looks odd"


def test_the_sections_read_one_by_one_are_the_whole_file() -> None:
    whole = tomllib.loads((assets_folder() / words.WORDS_FILE).read_text(encoding="utf-8"))
    flat = {f"{name}.{key}": text for name, rows in whole.items() for key, text in rows.items()}
    assert table() == flat and all(flat.values())
    assert {key: words.known(key) for key in flat} == flat


def test_a_translated_file_reaches_parts_of_units(monkeypatch: pytest.MonkeyPatch) -> None:
    other = {**table(), "told.tailboard": "hayon", "unit.right_said": "engin droit", "told.off plumb": "hors d'aplomb"}
    monkeypatch.setattr(words, "known", lambda key, otherwise="": other.get(key, otherwise))
    assert as_seen("tail unit tailboard", SEEN_BY_TWO) == "engin droit hayon"
    assert thing("tail unit tailboard") == "tail unit hayon"
    assert phrase("off plumb") == "hors d'aplomb"
    assert say("unit.right_said") == "engin droit"
