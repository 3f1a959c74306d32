"""`new`: a first scenario from tape-measure numbers, asked for or given as options."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from simulator.cli.exit_codes import BAD_INPUT, OK
from simulator.cli.planning.answer import Describe
from simulator.cli.planning.typed import note_tons, say_how, tons_said
from simulator.files.terminal import as_typed, ask, complain, force_option, tell, units_option
from simulator.files.writing import SCENARIO, Output, look_at, write_whole
from simulator.scenario.asked_numbers import SYSTEMS
from simulator.scenario.typed_numbers import NotTaken, WhichTons

if TYPE_CHECKING:
    from simulator.plan.draft import Draft
    from simulator.plan.questions import Answer, Question, Taken


def add_questions(parser: argparse.ArgumentParser) -> None:
    """One option a question."""
    from simulator.plan.questions import QUESTIONS

    parser.add_argument("out", type=Path, metavar="OUT.toml", help="the scenario file to write")
    units_option(parser)
    parser.add_argument("--ask", action="store_true", help="ask for every number that no option gives")
    force_option(parser)
    for question in QUESTIONS:
        name = question.key.replace("_", "-")
        shown = "{" + ",".join(question.choices) + "}" if question.choices else "NUMBER" if question.kind else "TEXT"
        parser.add_argument(f"--{name}", dest=f"q_{question.key}", metavar=shown, help=_help(question))


def _help(question: Question) -> str:
    """With the range of a plain number, in both systems where they differ."""
    if question.kind is None:
        return question.words
    metric, us = (question.span(system) for system in SYSTEMS)
    words = f"{question.words}: {metric}" + ("" if us == metric else f" (--units us: {us})")
    return words.replace("%", "%%")  # argparse fills in what a percent sign begins


def new(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """Ask, fill in, write, and say what was assumed."""
    look_at([Output(given.out, SCENARIO)], force=given.force)
    answers = _of_options(given)
    if answers is None:
        return BAD_INPUT
    written = _asked_until_it_fits(given, answers) if given.ask else _drafted(given, answers)
    if written is None:
        return BAD_INPUT
    write_whole(given.out, written.text.encode("utf-8"))
    _say(given, written.assumed, caution)
    return OK


def _of_options(given: argparse.Namespace) -> dict[str, Answer] | None:
    """What options answer; None, with every fault printed, where one cannot be used."""
    from simulator.plan.questions import QUESTIONS

    answers: dict[str, Answer] = {}
    broken = False
    for question in QUESTIONS:
        text = getattr(given, f"q_{question.key}")
        if text is None:
            continue
        try:
            found = question.read(text, given.units, given.tons)
        except ValueError as error:
            broken = True
            how = say_how(error) if isinstance(error, NotTaken) else ""
            complain(f"{_option(question)}: {error}{how}")
        else:
            answers[question.key] = found.answer
            note_tons(given, found.tons)
    return None if broken else answers


def _option(question: Question) -> str:
    return f"--{question.key.replace('_', '-')}"


def _drafted(given: argparse.Namespace, answers: dict[str, Answer]) -> Draft | None:
    """The scenario; None, with its faults printed, where the numbers do not fit each other."""
    from simulator.plan.draft import draft
    from simulator.scenario.faults import BrokenScenario

    try:
        return draft(answers, given.units, tons_said(given))
    except BrokenScenario as faults:
        complain("these numbers do not fit each other:", *faults.faults)
        return None


def _asked_until_it_fits(given: argparse.Namespace, answers: dict[str, Answer]) -> Draft | None:
    """Ask for all that no option gives; what does not fit is asked for again, all else is kept."""
    from simulator.plan.draft import to_ask_again
    from simulator.plan.questions import QUESTIONS

    typed = {one.key: text for one in QUESTIONS if (text := getattr(given, f"q_{one.key}")) is not None}
    asked = [one for one in QUESTIONS if one.key not in answers]
    before: dict[str, Answer] = {}
    try:
        while True:
            for question in asked:
                if (not question.needs or answers.get(question.needs)) and question.unless not in answers:
                    _put(question, given, answers, typed, before)
            if before and all(answers.get(key) == was for key, was in before.items()):
                raise _NobodyThere
            written = _drafted(given, answers)
            if written is not None:
                return written
            if not answers:
                return None
            before = {key: answers.pop(key) for key in to_ask_again(answers)}
            asked = [one for one in QUESTIONS if one.key in before]
            tell("asked again; nothing keeps what it was:")
    except (KeyboardInterrupt, _NobodyThere) as end:
        kept = "".join(f" {_option(one)}={as_typed(typed[one.key])}" for one in QUESTIONS if one.key in typed)
        tons = f" --tons {given.tons}" if given.tons else ""
        complain("", f"go on with: slopepick new {given.out} --ask --units {given.units}{tons}{kept}")
        if isinstance(end, KeyboardInterrupt):
            raise
        return None


class _NobodyThere(Exception):  # noqa: N818 - it says what it is
    """Input has ended where a number has to be asked for again."""


def _put(
    question: Question,
    given: argparse.Namespace,
    answers: dict[str, Answer],
    typed: dict[str, str],
    before: dict[str, Answer],
) -> None:
    """Put one question until its answer can be used; nothing typed takes the default, or what it was."""
    usual = f"as it was, {typed[question.key]}" if question.key in before else question.usual(given.units)
    while True:
        try:
            text = ask(f"{question.asked(given.units)}; nothing: {usual}]: ").strip()
        except EOFError:
            if question.key in before:
                raise _NobodyThere from None
            return
        if not text:
            if question.key in before:
                answers[question.key] = before[question.key]
            return
        found = _understood(question, text, given)
        if found is not None:
            answers[question.key], typed[question.key] = found.answer, text
            note_tons(given, found.tons)
            return


def _understood(question: Question, text: str, given: argparse.Namespace) -> Taken | None:
    """What was typed; None, with what is allowed printed, where it cannot be used."""
    try:
        return question.read(text, given.units, given.tons)
    except WhichTons:
        _ask_which_tons(given)
        return _understood(question, text, given)
    except ValueError as error:
        tell(f"  {error}")
        return None


def _ask_which_tons(given: argparse.Namespace) -> None:
    """Once: the answer is kept in the user's settings."""
    from dataclasses import replace

    from simulator.recording.settings import read_settings, settings_path, write_settings

    while True:
        try:
            text = ask("Tons: short (2,000 lb) or metric (1,000 kg, 2,204.6 lb)? [short or metric]: ").strip().lower()
        except EOFError:
            raise _NobodyThere from None
        if text in ("short", "metric"):
            break
        tell(f'  Tons: given "{text[:60]}", allowed: short or metric')
    given.tons, path = text, settings_path()
    if fault := write_settings(replace(read_settings(path).settings, tons=given.tons), path):
        complain(fault)


def _say(given: argparse.Namespace, assumed: tuple[str, ...], caution: str) -> None:
    from simulator.plan.questions import QUESTIONS
    from simulator.report.lift.summary import next_check

    words = {question.key: question.words for question in QUESTIONS}
    tell(f"written: {given.out}", *tons_said(given))
    if assumed:
        tell("assumed, to be measured or looked up:", *(f"  {words[key]}" for key in assumed))
    if "nose_unit" in assumed:
        tell("assumed in any case: masses inside the unit, floats along it, foot pin, block, no rating table")
    tell(next_check(str(given.out)), caution)
