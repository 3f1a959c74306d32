"""`check` and `rigging`: one set-up judged."""

from __future__ import annotations

import argparse
import sys
from math import radians
from typing import TYPE_CHECKING

from simulator.cli.exit_codes import BAD_INPUT, NO, NOT_JUDGED, OF_VERDICT, OK
from simulator.cli.planning.answer import Describe, refuse
from simulator.cli.planning.typed import lift_and_number, number
from simulator.files.terminal import complain, tell, tell_json
from simulator.files.writing import SHEET, Output, look_at
from simulator.places import find_scenario
from simulator.scenario.asked_numbers import Field

if TYPE_CHECKING:
    from simulator.plan.out_of_reach import OutOfReach
    from simulator.plan.setup_check import SetupCheck

SHEET_ENDINGS = (".pdf", ".png", ".svg")
STEP = Field("steps across the road", "length", 0.05, 100.0, 0.5)
SLEW_STEP = Field("steps of the leader's slew", "angle", radians(0.5), radians(90.0), radians(5.0))
SIDE_LOAD = Field("pull on leg shackles off in-line", "angle", 0.0, radians(90.0), radians(30.0))


def check(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """Judge a set-up along its whole path."""
    step = number(given, "--step", given.step, STEP)
    slew = None if given.slew_step is None else number(given, "--slew-step", given.slew_step, SLEW_STEP)
    if step is None or (slew is None and given.slew_step is not None):
        return BAD_INPUT
    if given.sheet is not None and given.sheet.suffix.lower() not in SHEET_ENDINGS:
        return refuse("--sheet", given.sheet, f"a file ending in {', '.join(SHEET_ENDINGS)}")
    if given.roadside is not None and given.roadside.suffix.lower() != ".pdf":
        return refuse("--roadside", given.roadside, "a file ending in .pdf")
    described = describe(given.scenario)
    if described is None:
        return BAD_INPUT
    papers = [Output(path, SHEET) for path in (given.sheet, given.roadside) if path is not None]
    if papers:
        look_at(papers, inputs=[find_scenario(given.scenario)], force=given.force)
    from simulator.plan.out_of_reach import out_of_reach
    from simulator.plan.setup_check import check_setup, proposals
    from simulator.report.amounts import Amounts
    from simulator.report.plan.drag_lines import drag_json, drag_lines
    from simulator.report.plan.setup_json import setup_json
    from simulator.report.plan.setup_lines import setup_lines, tried_lines

    found = check_setup(described, step_m=step, slew_step_rad=slew)
    dragged = out_of_reach(found)
    if given.json:
        tell_json({**setup_json(found, caution), "before_the_lift": drag_json(dragged)})
    else:
        amounts = Amounts(given.units)
        color = sys.stdout.isatty()
        lines = setup_lines(found, amounts, every_station=given.every, color=color)
        names = tuple(unit.name for unit in described.units)
        lines += drag_lines(dragged, amounts, names)
        tell(*lines, *tried_lines(proposals(found), amounts), caution, color=color)
    _write_papers(given, found, dragged, caution)
    return OF_VERDICT[found.verdict]


def _write_papers(given: argparse.Namespace, found: SetupCheck, before: OutOfReach | None, caution: str) -> None:
    """Those that were asked for."""
    from simulator.report.amounts import Amounts

    if given.sheet is not None:
        from simulator.report.plan.plan_sheet import write_sheet

        write_sheet(found, given.sheet, Amounts(given.units), caution, rigging=found.rigging)
        complain(f"plan sheet: {given.sheet}")
    if given.roadside is not None:
        _write_roadside(given, found, before, caution)


def _write_roadside(given: argparse.Namespace, found: SetupCheck, before: OutOfReach | None, caution: str) -> None:
    """The paper for the roadside, with what the scenario's own file marks as assumed."""
    from simulator.files.bounds import SCENARIO_BYTES
    from simulator.files.reading import text_of
    from simulator.report.amounts import Amounts
    from simulator.report.plan.roadside import write_roadside
    from simulator.scenario.toml_writer import marked_assumed

    text = text_of(find_scenario(given.scenario), SCENARIO_BYTES, "a scenario file")
    write_roadside(
        found,
        given.roadside,
        Amounts(given.units),
        caution,
        paper=given.paper,
        assumed=marked_assumed(text),
        before=before,
    )
    complain(f"for the roadside: {given.roadside}")


def rigging(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """The rigging of both ends; 1 when something does not hold, 3 when something is missing."""
    asked = lift_and_number(given, describe, "--side-load", given.side_load, SIDE_LOAD)
    if asked is None:
        return BAD_INPUT
    described, side_load = asked

    from simulator.plan.setup_check import check_setup, rigging_list
    from simulator.plan.shipped_hardware import shipped_hardware
    from simulator.plan.turn import compared
    from simulator.report.amounts import Amounts
    from simulator.report.plan.rigging_lines import rigging_json, rigging_lines
    from simulator.report.plan.turn_lines import compared_lines, turn_json
    from simulator.scenario.faults import listed

    hardware = shipped_hardware()
    pieces = {piece.name.lower(): piece for table in hardware.tables for piece in table.pieces}
    for name in given.have:
        if name.lower() not in pieces:
            return refuse("--have", f'"{name}"', listed(piece.name for piece in pieces.values()))
    have = tuple(pieces[name.lower()] for name in given.have)
    found = check_setup(described, room=False)
    ends = rigging_list(found, hardware, side_load_rad=side_load, have=have)
    if given.compare and found.turn is None:
        return refuse("--compare", given.scenario, "a lift that is turned over in the air, on two lines a unit")
    rigs = compared(found.description) if given.compare else ()
    if given.json:
        told = [{"name": one.name, **(turn_json(one.turn, described, found.load.weight_N) or {})} for one in rigs]
        sides = {"rigs": told} if rigs else {}
        tell_json({"title": described.title, "ends": rigging_json(ends), **sides, "caution": caution})
    else:
        amounts = Amounts(given.units)
        rows = compared_lines(rigs, found.load.weight_N, amounts) if rigs else []
        tell(amounts.told(described.title), *rigging_lines(ends, amounts), *rows, caution)
    if any(one.refused for one in ends):
        return NO
    return NOT_JUDGED if any(one.missing for one in ends) else OK
