"""In the hold after lift-off: papers against this load, weight and heavy end each with its spread, and what to do."""

from __future__ import annotations

from typing import Literal, NamedTuple

from simulator.drill.scales import Scales
from simulator.mechanics.weighing_lift import heavy_end, nose_most_m, papers_of, tail_most_m
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.icons import icon
from simulator.window.kit.levels import Level
from simulator.window.kit.measures_shown import Shown, System
from simulator.window.kit.palette import CAUTION_TINT, INK, INK_2, PANEL, RULE, STOP
from simulator.window.kit.pieces import draw_key, draw_level, draw_value, lines_of
from simulator.window.kit.regions import CLEARANCE, screen_sign
from simulator.window.protocols import ToldRecheck
from simulator.words import say

OFF_PAPERS_SHARE = 0.10
"""Off the papers by so much, a weight is in caution (as in `drill.hard_fails`; common practice, no source)."""
PLUS_MINUS = "\N{PLUS-MINUS SIGN}"
LEVELS: dict[str, Level] = {"go on": Level.GOOD, "look first": Level.CAUTION}
"""What is to be done that is no stop."""


class WeighLook(NamedTuple):
    """The whole panel."""

    is_bounds: bool
    """Part of the load lies on the bed."""
    weight: Shown
    weight_spread: str
    weight_level: Level
    papers: Shown
    heavy: str
    """Which end, as it is seen; on the bed nothing."""
    place: tuple[str, ...]
    """How far off the middle between the picks, or between what; a line each."""
    do: str
    do_level: Level | None
    """None while nothing has been re-checked."""
    asks: bool
    """The key that re-checks is offered."""


def weigh_look(
    scales: Scales, readings: Readings, description: Description, system: System, told: ToldRecheck | None
) -> WeighLook | None:
    """What the panel says now; None where it is not shown."""
    papers_N = papers_of(description).weight_N
    papers = shown.load(papers_N, system)
    if scales.state == "on the bed":
        found = scales.bounds(readings)
        low, high = (_place(at, description, system) for at in (found.from_m, found.to_m))
        weight = shown.load(max(0.0, found.least_N), system)
        between = (say("weigh.panel_from", low=low), say("weigh.panel_to", high=high))
        return WeighLook(True, weight, "", Level.GOOD, papers, "", between, say("weigh.panel_on_bed"), None, False)
    if scales.state not in ("held", "moving"):
        return None
    if scales.found is None:
        none = Shown(shown.NONE, "")
        return WeighLook(False, none, "", Level.GOOD, papers, "", (), say("weigh.panel_still"), None, False)
    found_N, along_m = scales.found.weight_N, scales.found.cg_m[0]
    off = abs(found_N / papers_N - 1.0)
    spread_m = shown.length(scales.found.spread_m[0], system, decimals=2).text
    return WeighLook(
        False,
        shown.load(found_N, system),
        f"{PLUS_MINUS} {shown.load(scales.found.weight_spread_N, system).text}",
        Level.CAUTION if off > OFF_PAPERS_SHARE else Level.GOOD,
        papers,
        _end_seen(heavy_end(description, scales.found), description),
        (f"{_place(along_m, description, system)} {PLUS_MINUS} {spread_m}",),
        told.words if told else say("weigh.panel_ask"),
        LEVELS.get(told.do, Level.STOP) if told else None,
        True,
    )


def as_seen(text: str, description: Description) -> str:
    """A text with the load's ends named by the side they are seen on."""
    ends = ("left", "right") if screen_sign(description) > 0.0 else ("right", "left")
    for end, side in zip(("nose", "tail"), ends, strict=True):
        text = text.replace(say(f"weigh.end_{end}"), say(f"weigh.end_{side}"))
    return text


def _end_seen(end: Literal["nose", "tail", "even"], description: Description) -> str:
    if end == "even":
        return say("weigh.panel_even")
    is_left = (end == "nose") == (screen_sign(description) > 0.0)
    return say("weigh.panel_left" if is_left else "weigh.panel_right")


def _place(along_m: float, description: Description, system: System) -> str:
    """From the middle between the picks toward the end that is seen there."""
    middle_m = (nose_most_m(description) + tail_most_m(description)) / 2.0
    off_m = along_m - middle_m
    is_left = (off_m < 0.0) == (screen_sign(description) > 0.0)
    size = shown.length(abs(off_m), system, decimals=2).joined
    return say("weigh.panel_to_left" if is_left else "weigh.panel_to_right", size=size)


SECOND, THIRD = 254.0, 532.0
"""Left edges of the panel's second and third part."""


def draw_weigh_panel(canvas: Canvas, look: WeighLook) -> None:
    """Draws it where the columns of clearance stand else: nothing is near yet."""
    x, y = CLEARANCE.x, CLEARANCE.y
    canvas.rect(*CLEARANCE, PANEL)
    _weight(canvas, look, x + 18.0, y)
    canvas.rect(x + SECOND - 14.0, y + 14.0, 2.0, CLEARANCE.h - 28.0, RULE)
    _heavy(canvas, look, x + SECOND, y)
    _do(canvas, look, x + THIRD, y)


def _weight(canvas: Canvas, look: WeighLook, x: float, y: float) -> None:
    label = say("weigh.panel_least" if look.is_bounds else "weigh.panel_weight")
    canvas.text(label, x, y + 33.0, 26.0, weight="medium", color=INK_2, width=210.0)
    left = x
    if look.weight_level > Level.GOOD:
        draw_level(canvas, look.weight_level, x + 15.0, y + 68.0, 30.0)
        left += 36.0
    draw_value(canvas, look.weight, left, y + 84.0, 44.0, unit_size=28.0)
    canvas.text(look.weight_spread, x + 218.0, y + 33.0, 26.0, anchor="right", width=110.0)
    words = say("weigh.panel_papers", value=look.papers.joined)
    canvas.text(words, x, y + 124.0, 26.0, weight="medium", color=INK_2, width=222.0)


def _heavy(canvas: Canvas, look: WeighLook, x: float, y: float) -> None:
    label = say("weigh.panel_center" if look.is_bounds else "weigh.panel_heavy")
    canvas.text(label, x, y + 33.0, 26.0, weight="medium", color=INK_2, width=260.0)
    foot = y + 84.0
    if look.heavy:
        canvas.text(look.heavy, x, foot, 40.0, weight="bold", width=260.0)
        foot = y + 124.0
    for n, line in enumerate(look.place):
        canvas.text(line, x, foot + 34.0 * n, 26.0, width=260.0)


def _do(canvas: Canvas, look: WeighLook, x: float, y: float) -> None:
    """What to do: its mark, its words, and the key that re-checks."""
    room = CLEARANCE.right - x
    ink = INK
    if look.do_level is Level.STOP:
        canvas.rect(x, y, room, CLEARANCE.h, STOP)
        ink = PANEL
    elif look.do_level is Level.CAUTION:
        canvas.rect(x, y, room, CLEARANCE.h, CAUTION_TINT)
    else:
        canvas.rect(x, y + 14.0, 2.0, CLEARANCE.h - 28.0, RULE)
    left = x + 16.0
    if look.do_level is not None:
        mark = {Level.GOOD: "tick", Level.CAUTION: "caution", Level.STOP: "stop"}[look.do_level]
        colors = {"fill": PANEL, "mark": STOP} if look.do_level is Level.STOP else {}
        icon(canvas, mark, left + 17.0, y + 36.0, 34.0, **colors)  # type: ignore[arg-type]
        left += 44.0
    lines = lines_of(canvas, look.do, CLEARANCE.right - 12.0 - left, size=26.0, weight="bold", most=3)
    for n, line in enumerate(lines):
        at = left if n == 0 else x + 16.0
        canvas.text(line, at, y + 44.0 + 30.0 * n, 26.0, weight="bold", color=ink, width=CLEARANCE.right - 10.0 - at)
    if look.asks:
        width = draw_key(canvas, say("key.enter"), x + 16.0, y + 106.0, height=32.0, size=24.0)
        words = say("weigh.panel_again" if look.do_level is not None else "weigh.panel_recheck")
        canvas.text(words, x + 26.0 + width, y + 130.0, 24.0, color=ink, width=CLEARANCE.right - x - width - 36.0)
