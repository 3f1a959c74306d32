"""What comes after a landing on a waiting flat trailer, as lines of text, as rows of a paper, and as plain values."""

from __future__ import annotations

from typing import Any

from simulator.plan.exit_plan import ExitPlan
from simulator.plan.setup_check import SetupCheck
from simulator.report.amounts import Amounts

NO_WORD = "not stated"


def exit_lines(check: SetupCheck, amounts: Amounts) -> list[str]:
    """None where the load comes down on the road."""
    plan = check.exit_plan
    if plan is None:
        return []
    return ["After landing, on the waiting flat trailer:", *(f"  {words}" for words in exit_sentences(plan, amounts))]


def exit_sentences(plan: ExitPlan, amounts: Amounts) -> list[str]:
    """What it is then, what is done before it drives off, which way, and what comes next."""
    length = amounts.text
    gross = f"; {length(plan.gross_N, 'N')} gross with the trailer" if plan.gross_N is not None else ""
    return [
        f"the load, {length(plan.load_N, 'N')}, lies on the deck {length(plan.deck_m, 'm')} over the road: "
        f"{length(plan.loaded_m, 'm')} high and {length(plan.wide_m, 'm')} wide in all{gross}"
        f"{_overhang(plan, amounts)}",
        "before it drives off: lines slack, slings off or made fast on the load, hooks up, booms clear of its way, "
        "load lashed and measured",
        f"which way: {_way(plan)}",
        f"what next: {amounts.told(plan.what_next or NO_WORD)}",
    ]


def _way(plan: ExitPlan) -> str:
    return NO_WORD if plan.leaves is None else f"along the road, toward the load's {plan.leaves}"


def _overhang(plan: ExitPlan, amounts: Amounts) -> str:
    """What stands out over the deck and has to be marked."""
    over = ((plan.over_sides_m, "each side"), (plan.over_ends_m, "the ends, at most"))
    found = [f"{amounts.text(by_m, 'm')} at {where}" for by_m, where in over if by_m > 0.0]
    return f"; it stands out over the deck by {' and '.join(found)}: mark it" if found else ""


def exit_json(plan: ExitPlan | None) -> dict[str, Any] | None:
    """Numbers in SI; nothing where the load comes down on the road."""
    return None if plan is None else plan._asdict()
