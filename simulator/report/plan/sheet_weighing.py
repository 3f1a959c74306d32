"""The plan sheet's box for the first hold: read-outs to write down, what they come to, limits to go on."""

from __future__ import annotations

from typing import Any

from simulator.mechanics.weighing import Errors, Reading, weigh
from simulator.mechanics.weighing_lift import ends_of, nose_most_m, papers_of, reading_of, tail_most_m
from simulator.plan.recheck import GoOn, go_on_limits
from simulator.plan.setup_check import SetupCheck
from simulator.report.amounts import Amounts
from simulator.report.plan.sheet_columns import LEFT, LINE, RIGHT, text
from simulator.report.plan.sheet_views import INK
from simulator.scenario.rig import rig_of
from simulator.words import say

TOP, HEIGHT = 0.452, 0.062
SHARES = (0.30, 0.35, 0.40, 0.45, 0.50, 0.55, 0.60, 0.65, 0.70)
"""Of the tail end's hook loads in both ends'."""
FIRST, MIDDLE, LAST = LEFT + 0.008, LEFT + 0.325, LEFT + 0.62
BLANK = "__________"


def draw_weighing(figure: Any, check: SetupCheck, amounts: Amounts) -> None:
    """The box, over the whole width."""
    from matplotlib.patches import Rectangle

    box = Rectangle((LEFT, TOP - HEIGHT), RIGHT - LEFT, HEIGHT, fill=False, edgecolor=INK, linewidth=0.9)
    figure.add_artist(box)
    columns = (
        (LEFT + 0.008, _written(check, amounts)),
        (MIDDLE, _table(check, amounts)),
        (LAST, _limits(check, amounts)),
    )
    for x, (head, *rows) in columns:
        text(figure, x, TOP - 0.003, head, 7.2, weight="bold")
        for n, row in enumerate(rows):
            text(figure, x, TOP - 0.0125 - n * LINE * 0.98, row, 6.4)


def _written(check: SetupCheck, amounts: Amounts) -> list[str]:
    """A line to fill in for each line, with its block and rigging."""
    lines = reading_of(check.description, [0.0] * len(rig_of(check.description).lines)).lines
    rows = [say("weigh.sheet_line", line=one.name.replace("_", " "), below=amounts.text(one.below_N, "N"), blank=BLANK)
            for one in lines]  # fmt: skip
    return [say("weigh.sheet_written"), *rows, say("weigh.sheet_angles", blank=BLANK)]


def _table(check: SetupCheck, amounts: Amounts) -> list[str]:
    """Weight by adding up, center of gravity by the tail end's share: span times share from the nose-most pick."""
    nose_m, tail_m = nose_most_m(check.description), tail_most_m(check.description)
    cells = [(f"{100.0 * share:.0f} %", amounts.text((tail_m - nose_m) * share, "m")) for share in SHARES]
    rows = ["    ".join(f"{share} {place}" for share, place in cells[n : n + 3]) for n in range(0, len(cells), 3)]
    return [say("weigh.sheet_table"), say("weigh.sheet_sum"), say("weigh.sheet_share"), *rows]


def _limits(check: SetupCheck, amounts: Amounts) -> list[str]:
    """Between what it may lie, measured from the nose-most pick, for each weight."""
    nose_m = nose_most_m(check.description)
    rows = [_limit(one, nose_m, amounts) for one in go_on_limits(check.description)]
    if not rows:
        return [say("weigh.sheet_limits"), say("weigh.sheet_splayed")]
    return [say("weigh.sheet_limits"), *rows, _room(check, amounts)]


def _room(check: SetupCheck, amounts: Amounts) -> str:
    """What is to be left for the gauges: the spread with the load as it is on paper."""
    described = check.description
    bare = reading_of(described, [0.0] * len(rig_of(described).lines)).lines
    share = papers_of(described).weight_N / len(bare)
    found = weigh([Reading(tuple(one._replace(load_N=one.below_N + share) for one in bare))], Errors(),
                  ends_of(described), most_pitch_rad=0.0)  # fmt: skip
    weight, place = amounts.text(found.weight_spread_N, "N"), amounts.text(found.spread_m[0], "m")
    return say("weigh.sheet_room", weight=weight, place=place)


def _limit(one: GoOn, nose_m: float, amounts: Amounts) -> str:
    weight = amounts.text(one.weight_N, "N")
    if one.from_m is None or one.to_m is None:
        return say("weigh.sheet_no", weight=weight)
    low, high = (amounts.text(at - nose_m, "m") for at in (one.from_m, one.to_m))
    return say("weigh.sheet_between", weight=weight, low=low, high=high)
