"""Benchmark rows of the layout screen: processor time of a frame while something is dragged, by what is dragged, and
how soon the first verdict stands there.

Each frame is one movement of the mouse, what it changes in the lift, its verdict, and drawing all of it at 1920x1080.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from statistics import quantiles
from time import process_time

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
os.environ.setdefault("SDL_AUDIODRIVER", "dummy")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

import pygame

from simulator.cli.layout_answers import Bench
from simulator.places import find_scenario
from simulator.scenario.reader import load
from simulator.window.kit.canvas import Canvas
from simulator.window.layout.grips import View
from simulator.window.layout.sheet import Sheet
from simulator.window.layout.work import Work
from simulator.window.screens.layout_screen import LayoutScreen
from simulator.window.shell.desk import Desk

Row = tuple[str, str, str]
SIZE = (1920, 1080)
FRAMES, LEFT_OUT = 90, 10
FRAME_S = 1.0 / 30.0
GOAL, FIRST_GOAL = "33 ms", "1000 ms"
"""30 frames a second; a verdict within a second of opening."""
LIFT = "box_on_wheels"
DRAGS: tuple[tuple[str, str, View, str], ...] = (
    ("unit", "unit_0", "above", LIFT),
    ("load", "load", "above", LIFT),
    ("pick", "pick_0", "above", LIFT),
    ("edge", "edge", "above", LIFT),
    ("depth", "toe", "across", LIFT),
    ("lane", "lane", "above", LIFT),
    ("wire", "line", "above", LIFT),
)
"""What is said to be dragged, its grip, in which view, of which lift."""


def opened(name: str) -> tuple[LayoutScreen, Canvas, float]:
    """The screen on a lift with its first verdict, and the processor seconds until then."""
    pygame.display.init()
    canvas = Canvas(pygame.display.set_mode(SIZE))
    desk = Desk(path=None)
    desk.change(units="us")
    bench = Bench("us")
    lift = load(find_scenario(name))
    begun = process_time()
    sheet = Sheet(lift, system="us", settle=bench.settled)
    screen = LayoutScreen(Work(sheet, bench), desk)
    while screen.work.judged is None or screen.work.is_moving:
        screen.frame(canvas, FRAME_S)
    return screen, canvas, process_time() - begun


def mouse(screen: LayoutScreen, kind: int, x: float, y: float) -> None:
    """A movement or press in design units."""
    screen.take_event(pygame.event.Event(kind, pos=(x, y), button=1, buttons=(1, 0, 0), rel=(0, 0)))


def with_wire(screen: LayoutScreen) -> None:
    """A line overhead, so that it can be dragged."""
    if screen.work.sheet.lift.site.overhead_line is None:
        screen.work.sheet.put("line_out", screen.work.sheet.field("line_out").example)


def drag_row(what: str, key: str, view: View, name: str) -> Row:
    """There and back by a few design units a frame."""
    screen, canvas, _ = opened(name)
    if what == "wire":
        with_wire(screen)
    screen.frame(canvas, FRAME_S)
    pygame.key.set_mods(pygame.KMOD_SHIFT)  # by an inch: each frame is a change
    grip = next(one for one in screen.work.sheet.grips if one.key == key and one.view == view)
    x, y = screen.pictures.spot(grip)
    mouse(screen, pygame.MOUSEBUTTONDOWN, x, y)
    times, verdicts = [], []
    for n in range(FRAMES):
        by = 60.0 - 1.5 * abs(n % 80 - 40.0)
        dx, dy = (by, 0.0) if key in ("unit_0", "pick_0", "load") else (0.3 * by, by)
        before, begun = screen.work.sheet.count, process_time()
        mouse(screen, pygame.MOUSEMOTION, x + dx, y + dy)
        screen.work.go_on(FRAME_S)
        verdicts.append(process_time() - begun)
        screen.draw(canvas)
        if screen.work.sheet.count != before:
            times.append(process_time() - begun)
    mouse(screen, pygame.MOUSEBUTTONUP, x, y)
    cuts, judged = quantiles(times[LEFT_OUT:], n=20), quantiles(verdicts[LEFT_OUT:], n=20)
    how = (
        f"processor {cuts[9] * 1e3:.0f} ms a frame, 95th {cuts[18] * 1e3:.0f} ms; its verdict after "
        f"{judged[9] * 1e3:.0f} and {judged[18] * 1e3:.0f} ms; {len(times)} changes in {FRAMES} frames"
    )
    return f"layout, {what} dragged", how, GOAL


def rows() -> Iterator[Row]:
    """All of them."""
    first, *again = (opened(LIFT)[2] for _ in range(3))
    how = f"processor {first * 1e3:.0f} ms in a new program, what it needs read first; {min(again) * 1e3:.0f} ms again"
    yield "layout, first verdict", how, FIRST_GOAL
    yield from (drag_row(*one) for one in DRAGS)
