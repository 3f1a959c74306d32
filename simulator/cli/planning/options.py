"""The planning commands of the front door: their options, and which function answers each."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from pathlib import Path

from simulator.cli.planning.answer import Describe
from simulator.cli.planning.many_setups import picks, spacing, sweep
from simulator.cli.planning.new_scenario import add_questions, new
from simulator.cli.planning.one_setup import check, rigging
from simulator.cli.planning.weigh import add_weigh, weigh
from simulator.files.terminal import Parser, force_option, units_option

RANGE_OPTIONS = ("--weight", "--cg", "--cg-across", "--wind", "--depth")
SIGNED_OPTIONS = ("--pitch", "--roll", "--wires-out")


def add_commands(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The planning commands' options."""
    check = commands.add_parser("check", help="does a set-up pass a stated limit? its whole path judged first")
    check.add_argument("scenario", help="a file, or a shipped scenario's name")
    check.add_argument("--step", metavar="LENGTH", default="0.5 m", help="steps across the road; 0.5 m")
    check.add_argument("--slew-step", metavar="ANGLE", help="steps of the leader's slew instead")
    check.add_argument("--every", action="store_true", help="show every station")
    check.add_argument("--sheet", type=Path, metavar="OUT.pdf", help="write a one-page plan sheet")
    check.add_argument("--roadside", type=Path, metavar="OUT.pdf", help="write two pages for the roadside")
    check.add_argument("--paper", choices=("letter", "a4"), default="letter", help="of the pages for the roadside")
    force_option(check)
    _answer_options(check)
    rigging = commands.add_parser("rigging", help="legs, tensions and the hardware that holds, at both ends")
    rigging.add_argument("scenario", help="a file, or a shipped scenario's name")
    rigging.add_argument(
        "--have", action="append", default=[], metavar="PIECE", help='judge a size, "chain Gr 80 1/2 in"'
    )
    rigging.add_argument("--side-load", default="0", metavar="ANGLE", help="pull on leg shackles off in-line")
    rigging.add_argument("--compare", action="store_true", help="beside other rigs: how far each turns the load over")
    _answer_options(rigging)
    _add_sweep(commands)
    picks = commands.add_parser("picks", help="pick points side by side, and what overhang costs in boom")
    picks.add_argument("scenario", help="a file, or a shipped scenario's name")
    picks.add_argument("--inboard", default="2 m", metavar="LENGTH", help='how much farther in to pick; "2 m"')
    _answer_options(picks)
    spacing = commands.add_parser("spacing", help="where the units stand: gap, distance from the edge, who leads")
    spacing.add_argument("scenario", help="a file, or a shipped scenario's name")
    spacing.add_argument("--unit", metavar="NAME", help="move this unit alone, such as nose; otherwise both alike")
    _answer_options(spacing)
    weighed = commands.add_parser(
        "weigh", help="what the displays showed in the hold: weight, heavy end, does the rest hold?"
    )
    add_weigh(weighed)
    _answer_options(weighed)
    new = commands.add_parser("new", help="a first scenario from tape-measure numbers")
    if isinstance(new, Parser):
        new.later = add_questions


def _add_sweep(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    unknown = commands.add_parser("sweep", help="what is not known: in how many combinations does the set-up hold?")
    unknown.add_argument("scenario", help="a file, or a shipped scenario's name")
    unknown.add_argument(
        "--weight", metavar="22..28t", help="true weight of the trailer, or a share of the stated one: 0.9..1.1"
    )
    unknown.add_argument("--cg", metavar="-1..+2m", help="true center of gravity from the stated one, toward the axles")
    unknown.add_argument("--cg-across", metavar="-0.3..+0.3m", help="the same across; each combination judged in full")
    unknown.add_argument("--wind", metavar="0..8m/s", help="steady wind; gusts on top as described")
    unknown.add_argument("--depth", metavar="9..11m", help="road to bed")
    unknown.add_argument(
        "--count", type=int, metavar="N",
        help="combinations, corners included; 20000, or 200 where each is judged in full",
    )  # fmt: skip
    unknown.add_argument("--seed", type=int, metavar="N", help="of the draws; the scenario's own")
    unknown.add_argument("--jobs", type=int, metavar="N", help="processes; as many as cores")
    _answer_options(unknown)


def _answer_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="the answer as JSON, SI")
    units_option(parser)


def joined(arguments: Sequence[str]) -> list[str]:
    """`--cg -1..+2m` as `--cg=-1..+2m`, `--pitch -2deg` likewise: a minus sign would begin another option."""
    words: list[str] = []
    for word in arguments:
        is_range = words and words[-1] in RANGE_OPTIONS and ".." in word
        is_signed = words and words[-1] in SIGNED_OPTIONS and word[1:2].isdigit()
        if word.startswith("-") and (is_range or is_signed):
            words[-1] = f"{words[-1]}={word}"
        else:
            words.append(word)
    return words


def run_planning(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """Run one planning command.

    Args:
        given: the command line, read.
        describe: a scenario by file or name; None when it has faults, which it has printed.
        caution: the program's caution.
    """
    return PLANNING[given.command](given, describe, caution)


PLANNING: dict[str, Callable[[argparse.Namespace, Describe, str], int]] = {
    "check": check,
    "rigging": rigging,
    "sweep": sweep,
    "picks": picks,
    "spacing": spacing,
    "weigh": weigh,
    "new": new,
}
