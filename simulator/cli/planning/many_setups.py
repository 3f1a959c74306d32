"""`sweep`, `picks` and `spacing`: many set-ups compared."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from simulator.cli.exit_codes import BAD_INPUT, NO, OK
from simulator.cli.planning.answer import Describe, refuse
from simulator.cli.planning.typed import lift_and_number, note_tons, tons_json, tons_said
from simulator.files.terminal import complain, show_progress, tell, tell_json
from simulator.scenario.asked_numbers import Field

if TYPE_CHECKING:
    from simulator.plan.sweep import Ranges
    from simulator.scenario.description import Description

INBOARD = Field("how much farther in to pick", "length", 0.05, 20.0, 2.0)


RANGED = ("weight", "cg", "wind", "depth", "cg_across")
"""Options with a range, in the order of `Ranges`."""


def _ranges(given: argparse.Namespace, described: Description | None) -> Ranges | None:
    """The unknowns' ranges; None, with every fault printed, when one cannot be used."""
    from simulator.plan.ranges import BrokenRange, is_share_of_weight, read_range
    from simulator.plan.sweep import Ranges, stated_corner

    read: list[tuple[float, float] | None] = []
    broken = False
    for option in RANGED:
        text = getattr(given, option)
        is_share = option == "weight" and text is not None and is_share_of_weight(text)
        try:
            found = None if text is None else read_range(text, "share" if is_share else option, given.units, given.tons)
            note_tons(given, found and found.tons)
            whole = stated_corner(described).mass_kg if is_share and described is not None else 1.0
            read.append(None if found is None else (whole * found.low, whole * found.high))
        except BrokenRange as error:
            broken = True
            refuse(f"--{option.replace('_', '-')}", f'"{text}"', str(error))
    return None if broken else Ranges(*read)


def _one_line_each(described: Description, command: str) -> bool:
    """Whether a lift is of the kind these commands compare; says so when it is not."""
    from simulator.scenario.rig import TWO_BY_ONE, rig_of

    own = rig_of(described)
    if own.line_names == TWO_BY_ONE.line_names:
        return True
    counted = f"{len(own.units)} unit(s) with {len(own.lines)} line(s)"
    refuse(command, counted, "two units with one line each; for others: slopepick check")
    return False


def sweep(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """Judge many combinations of what is not known; interrupted, it says what it knows."""
    described = describe(given.scenario)
    ranges, count = _ranges(given, described), 1 if given.count is None else given.count
    for option, value, low, high in (("--count", count, 1, 10**7), ("--jobs", given.jobs or 1, 1, 256)):
        if not low <= value <= high:
            return refuse(option, value, f"{low} to {high}")
    if given.seed is not None and given.seed < 0:
        return refuse("--seed", given.seed, "0 or more")
    if ranges is None or described is None:
        return BAD_INPUT
    if not any(ranges):
        return refuse("sweep", "no range", "at least one of --weight, --cg, --cg-across, --wind, --depth")
    from simulator.plan.sweep import check_corner
    from simulator.plan.sweep import sweep as sweep_many
    from simulator.report.amounts import Amounts
    from simulator.report.plan.compare_lines import sweep_json, sweep_lines

    found, stopped = None, False
    try:
        for found in sweep_many(described, ranges, count=given.count, seed=given.seed, jobs=given.jobs):
            show_progress(f"{found.done} of {found.asked}")
    except KeyboardInterrupt:
        stopped = True
    show_progress("")
    if found is None:
        return NO
    worst = check_corner(described, found.worst)
    if given.json:
        seed = described.seed if given.seed is None else given.seed
        tell_json(sweep_json(found, worst, stopped=stopped, seed=seed) | {**tons_json(given), "caution": caution})
    else:
        amounts = Amounts(given.units)
        lines = sweep_lines(found, worst, amounts, stopped=stopped)
        tell(amounts.told(described.title), *lines, *tons_said(given), caution)
    return OK if found.share == 1.0 else NO


def picks(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """Candidates of the scenario, or both picks moved in, against the picks as described."""
    asked = lift_and_number(given, describe, "--inboard", given.inboard, INBOARD)
    if asked is None:
        return BAD_INPUT
    described, inboard = asked
    if not _one_line_each(described, "picks"):
        return BAD_INPUT
    from simulator.plan.picks import candidates, compare_picks, overhang_costs
    from simulator.report.amounts import Amounts
    from simulator.report.plan.compare_lines import pick_lines, row_json

    amounts = Amounts(given.units)
    several = candidates(described, inboard_m=(inboard / 2.0, inboard), say=lambda far_m: amounts.text(far_m, "m"))
    found = compare_picks(described, several)
    costs = overhang_costs(described, inboard)
    if given.json:
        rows = [{**one._asdict(), "row": None if one.row is None else row_json(one.row)} for one in found]
        tell_json({"picks": rows, "overhang": [one._asdict() for one in costs], "caution": caution})
    else:
        tell(amounts.told(described.title), *pick_lines(found, costs, amounts), caution)
    return OK


def _set_backs(described: Description, unit: str | None) -> tuple[float, ...]:
    """Round distances from the edge, and the present one."""
    from simulator.plan.spacing import set_back_m, set_back_of_m

    now = set_back_m(described) if unit is None else set_back_of_m(described, unit)
    return tuple(sorted({now, *(0.3 + 0.3 * i for i in range(10))}))


def spacing(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """Gap 50 to 110 % of the trailer's length, distance from the edge, which end leads."""
    described = describe(given.scenario)
    if described is None:
        return BAD_INPUT
    if not _one_line_each(described, "spacing"):
        return BAD_INPUT
    names = [unit.name for unit in described.units]
    if given.unit is not None and given.unit not in names:
        complain(f"--unit {given.unit}: allowed: {' or '.join(names)}, a unit of this lift; such as --unit {names[0]}")
        return BAD_INPUT
    from simulator.plan.spacing import ends, gaps, leaders, least_used, set_backs, trailer_length_m
    from simulator.report.amounts import Amounts
    from simulator.report.plan.compare_lines import row_json, spacing_lines

    by_gap = gaps(described, tuple(0.5 + 0.05 * i for i in range(13)), unit=given.unit)
    by_edge = set_backs(described, _set_backs(described, given.unit), unit=given.unit)
    leading = leaders(described)
    if given.json:
        answers: dict[str, Any] = {}
        for name, found in (("gap_share", by_gap), ("set_back_m", by_edge)):
            top, runs = least_used(found), [[least.end.value, most.end.value] for least, most in ends(found)]
            rows = [{"value": one.value, **row_json(one.row)} for one in found]
            answers[name] = {"rows": rows, "within_limits": runs, "limits_used_least_at": top.value if top else None}
        tell_json({**answers, "leaders": [row_json(row) for row in leading], "caution": caution})
    else:
        amounts = Amounts(given.units)
        lines = spacing_lines(by_gap, by_edge, leading, trailer_length_m(described), amounts)
        tell(amounts.told(described.title), *lines, caution)
    return OK
