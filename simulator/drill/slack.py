"""How the slack of a unit's lines is taken up: all at once, or one line alone, until it bears."""

from __future__ import annotations

from math import inf

from simulator.drill.own_lines import SLACK_OUT_N
from simulator.readings import LineReadings

SLACK_SPEED_MPS = 0.06
SOFTEST_MPS = 0.01
"""How fast one of two lines comes taut, and how fast a load is set on the ground by them."""
SNUG_M, SNUG_MPS = 0.002, 0.006
"""A line with no more slack than this is snug, and waits for its neighbor; how softly it comes there."""
TOLD_SNUG_M = 0.02
"""The same for a person, whose hand runs on while the next signal is heard."""
AHEAD_N = 800.0
"""Of lines that come to bear, one that bears so much more than another waits for it."""
EVEN_N, EVENED_TO_N = 700.0, 8000.0
"""One whose slack is out goes on, while others are waited for, as long as another bears so much more; up to so much."""
HOOK_PER_S = 0.5
"""How briskly a hook's height is corrected: share of the error a second."""
LIGHT_N, LIGHT_PACE = 40e3, 0.15
"""Two lines that bear no more than this lean by themselves: they are taken up on, if slowly, until their pulls tell."""
ONE_LINE = ("take line 1", "take line 2")
"""Work in which one of a unit's lines is taken up while the other stays as it is."""


def slack_ups_mps(lines: tuple[LineReadings, ...], only: int = 0, *, by_signals: bool = False) -> tuple[float, ...]:
    """How fast each of a unit's lines is taken up.

    Args:
        lines: of the unit.
        only: number of the one that is; 0: all. A unit with fewer lines takes its last.
        by_signals: a person takes them up by what is said: lines are snug a little sooner, and none waits for another
            that bears a little less.
    """
    number = min(only, len(lines))
    snug_m = TOLD_SNUG_M if by_signals else SNUG_M
    is_snug = number > 0 or len(lines) == 1 or all(_slack_m(line) <= snug_m for line in lines)
    waits_at_m, loads = -inf if is_snug else snug_m, [line.hook_load_N for line in lines]
    if by_signals or number > 0:
        goes = [number in (0, place) and load < SLACK_OUT_N for place, load in enumerate(loads, 1)]
    else:
        enough_N = min(EVENED_TO_N, max(SLACK_OUT_N, max(loads) - EVEN_N))
        goes = [load < enough_N and load <= min(loads) + AHEAD_N for load in loads]
    return tuple(_taking_up(line, len(lines), waits_at_m) if go else 0.0 for line, go in zip(lines, goes, strict=True))


def _slack_m(line: LineReadings) -> float:
    return line.line_length_m - line.sheave_to_hook_m


def _taking_up(line: LineReadings, count: int, waits_at_m: float) -> float:
    """One of two lines comes taut softly: by itself it leans, and pulls the boom aside until the other bears. So each
    comes snug first (`waits_at_m`), and bears when all are."""
    slack_m = _slack_m(line)
    if slack_m <= waits_at_m:
        return 0.0
    softest = SOFTEST_MPS if waits_at_m == -inf else SNUG_MPS
    softly = SLACK_SPEED_MPS if count == 1 else HOOK_PER_S * max(0.0, slack_m) + softest
    return min(SLACK_SPEED_MPS, softly)
