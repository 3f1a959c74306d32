"""`new`: a first scenario from tape-measure numbers, asked for or given as options."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from simulator.cli.planning.answer import BAD_INPUT, OK, Describe, refuse
from simulator.files.terminal import ask, complain, force_option, tell
from simulator.files.writing import SCENARIO, Output, look_at, write_whole

if TYPE_CHECKING:
    from simulator.plan.questions import Answer, Question, System


SYSTEMS: tuple[System, System] = ("metric", "us")


def add_questions(parser: argparse.ArgumentParser) -> None:
    """One option a question."""
    from simulator.plan.questions import QUESTIONS

    parser.add_argument("out", type=Path, metavar="OUT.toml", help="the scenario file to write")
    parser.add_argument(
        "--units",
        choices=SYSTEMS,
        default="metric",
        help='plain numbers: m and t, or ft and lb; any number may bring its own unit, "43 ft"',
    )
    parser.add_argument("--ask", action="store_true", help="ask for every number that no option gives")
    force_option(parser)
    for question in QUESTIONS:
        name = question.key.replace("_", "-")
        shown = "{" + ",".join(question.choices) + "}" if question.choices else "NUMBER"
        parser.add_argument(f"--{name}", dest=f"q_{question.key}", metavar=shown, help=_help(question))


def _help(question: Question) -> str:
    """With the range of a plain number, in both systems where they differ."""
    if question.choices:
        return question.words
    metric, us = (question.allowed(system).partition(",")[0] for system in SYSTEMS)
    return f"{question.words}: {metric}" + ("" if us == metric else f" (--units us: {us})")


def new(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """Ask, fill in, write, and say what was assumed."""
    from simulator.plan.draft import draft
    from simulator.plan.questions import QUESTIONS
    from simulator.scenario.faults import BrokenScenario

    look_at([Output(given.out, SCENARIO)], force=given.force)
    answers, broken = {}, False
    for question in QUESTIONS:
        text = getattr(given, f"q_{question.key}")
        if text is None:
            continue
        try:
            answers[question.key] = question.read(text, given.units)
        except ValueError as error:
            broken = True
            refuse(f"--{question.key.replace('_', '-')}", f'"{text}"', str(error))
    if broken:
        return BAD_INPUT
    if given.ask:
        for question in QUESTIONS:
            if question.key not in answers and (answer := _asked(question, given.units)) is not None:
                answers[question.key] = answer
    try:
        written = draft(answers, given.units)
    except BrokenScenario as faults:
        complain("these numbers do not fit each other:", *faults.faults)
        return BAD_INPUT
    write_whole(given.out, written.text.encode("utf-8"))
    _say(given.out, written.assumed, caution)
    return OK


def _asked(question: Question, system: System) -> Answer | None:
    """An answer typed in; nothing typed takes the default."""
    while True:
        try:
            text = ask(f"{question.words} [{question.allowed(system)}; nothing: {question.usual(system)}]: ")
        except EOFError:
            return None
        if not text.strip():
            return None
        try:
            return question.read(text, system)
        except ValueError as error:
            tell(f"  allowed: {error}")


def _say(out: Path, assumed: tuple[str, ...], caution: str) -> None:
    from simulator.plan.questions import QUESTIONS
    from simulator.report.lift.summary import next_check

    words = {question.key: question.words for question in QUESTIONS}
    tell(f"written: {out}")
    if assumed:
        tell("assumed, to be measured or looked up:", *(f"  {words[key]}" for key in assumed))
    tell("assumed in any case: masses inside the unit, floats along it, foot pin, block, no rating table")
    tell(next_check(str(out)), caution)
