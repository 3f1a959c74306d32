"""The planning commands of the front door: what can be asked of a set-up before anyone drives."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from math import radians
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from simulator.scenario.description import Description

OK, REFUSED, BAD_INPUT = 0, 1, 2
"""Exit codes: the set-up works; it does not; input that cannot be used."""
Describe = Callable[[str], "Description | None"]
LEAST_STEP_M, LEAST_STEP_DEG = 0.05, 0.5


def add_commands(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The planning commands' options."""
    check = commands.add_parser("check", help="does this set-up work? the whole path judged before anyone drives")
    check.add_argument("scenario", help="a file, or a shipped scenario's name")
    check.add_argument("--step", type=float, default=0.5, metavar="M", help="steps across the road; 0.5 m")
    check.add_argument("--slew-step", type=float, metavar="DEG", help="steps of the leader's slew instead")
    check.add_argument("--every", action="store_true", help="show every station")
    check.add_argument("--sheet", type=Path, metavar="OUT.pdf", help="write a one-page plan sheet")
    _answer_options(check)


def _answer_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="the answer as JSON, SI")
    parser.add_argument("--units", choices=("metric", "us"), default="metric", help="units shown")


def run_planning(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """Run one planning command.

    Args:
        given: the command line, read.
        describe: a scenario by file or name; None when it has faults, which it has printed.
        caution: the program's caution.
    """
    return PLANNING[given.command](given, describe, caution)


def _refuse(place: str, given: object, allowed: str) -> int:
    print(f"{place}: given {given}, allowed: {allowed}", file=sys.stderr)
    return BAD_INPUT


def check(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """Judge a set-up along its whole path."""
    if not LEAST_STEP_M <= given.step <= 100.0:
        return _refuse("--step", given.step, f"{LEAST_STEP_M} to 100 m")
    if given.slew_step is not None and not LEAST_STEP_DEG <= given.slew_step <= 90.0:
        return _refuse("--slew-step", given.slew_step, f"{LEAST_STEP_DEG} to 90 deg")
    described = describe(given.scenario)
    if described is None:
        return BAD_INPUT
    from simulator.plan.setup_check import check_setup
    from simulator.report.amounts import Amounts
    from simulator.report.setup_json import setup_json
    from simulator.report.setup_lines import setup_lines

    slew = None if given.slew_step is None else radians(given.slew_step)
    found = check_setup(described, step_m=given.step, slew_step_rad=slew)
    if given.json:
        _print_json(setup_json(found, caution))
    else:
        amounts = Amounts(given.units)
        print("\n".join(setup_lines(found, amounts, every_station=given.every, colour=sys.stdout.isatty())))
        print(caution)
    if given.sheet is not None:
        from simulator.report.plan_sheet import write_sheet

        write_sheet(found, given.sheet, Amounts(given.units), caution)
        print(f"plan sheet: {given.sheet}", file=sys.stderr)
    return OK if found.works else REFUSED


def _print_json(values: dict[str, Any]) -> None:
    import json

    print(json.dumps(values, indent=2, allow_nan=False))


PLANNING: dict[str, Callable[[argparse.Namespace, Describe, str], int]] = {"check": check}
