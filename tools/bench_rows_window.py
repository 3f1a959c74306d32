"""Benchmark rows of the window: drawing a frame at three sizes with the software renderer, and the first frame."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import quantiles
from time import perf_counter, process_time

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
os.environ.setdefault("SDL_AUDIODRIVER", "dummy")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

sys.path.insert(0, str(Path(__file__).parent))

import pygame
from real_window import can_be_had, display

from simulator.cli.layout_answers import Bench
from simulator.drill.partner import Partner
from simulator.places import find_scenario
from simulator.scenario.reader import load
from simulator.window.kit.canvas import Canvas
from simulator.window.layout.sheet import Sheet
from simulator.window.layout.work import Work
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.layout_screen import LayoutScreen
from simulator.window.screens.screen import Screen
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice

Row = tuple[str, str]
SIZES = ((1920, 1080), (1366, 768), (1280, 720))
SHARES = (((1920, 1080), "12 %"), ((3840, 2160), "25 %"))
FRAMES = 600
RESTS = 300
"""Frames after which everything on the drawing board has been judged and tried."""
FRAMES_ALONE = """
from simulator.__main__ import _described
from simulator.window.program import run_drive
run_drive(_described("practice_yard"), at_once=True, most_frames={})
"""
FIRST_FRAME = FRAMES_ALONE.format(1)
ROOT = Path(__file__).parents[1]


def frame_row(size: tuple[int, int]) -> Row:
    """Drawing alone: the lift of the demonstration goes on between frames, untimed."""
    pygame.display.init()
    surface = pygame.display.set_mode(size)
    canvas = Canvas(surface)
    screen = DriveScreen(Choice(load(find_scenario("tank_on_side")), "demo"), "metric")
    screen.renew(canvas)
    times, worked = [], []
    for _ in range(FRAMES):
        screen.advance(1.0 / 60.0)
        start, begun = perf_counter(), process_time()
        screen.draw(canvas, 1.0 / 60.0)
        times.append(perf_counter() - start)
        worked.append(process_time() - begun)
    return f"a frame at {size[0]}x{size[1]}", f"{_cuts(times)}; of processor time {_cuts(worked)}"


def share_row(what: str, size: tuple[int, int], goal: str, made: Callable[[], Screen]) -> tuple[str, str, str]:
    """What a screen of this size takes of a processor, 60 frames a second, the best of five times two seconds; showing
    a frame is the display's."""
    pygame.display.init()
    canvas, screen = Canvas(pygame.display.set_mode(size)), made()
    screen.renew(canvas)
    taken = []
    for _ in range(6):
        begun = process_time()
        for _ in range(120):
            screen.frame(canvas, 1.0 / 60.0)
        taken.append((process_time() - begun) / 2.0)
    best_s = min(taken[1:])
    how = f"{100.0 * best_s:.0f} % of a processor ({best_s * 1e3:.0f} ms a second)"
    return f"{what} at {size[0]}x{size[1]}", how, goal


def demonstrated(name: str, until: str = "") -> DriveScreen:
    """A lift by its automatic operators, up to where they are at some work."""
    screen = DriveScreen(Choice(load(find_scenario(name)), "demo"), "metric")
    operators = [one for one in screen.lift.operators if isinstance(one, Partner)]
    while until and any(one.work != until for one in operators):
        screen.advance(0.25)
    return screen


def laid_out() -> LayoutScreen:
    """A lift on the drawing board, all of it judged, nobody's hand on it."""
    desk, bench = Desk(), Bench("metric")
    lift = bench.settled(load(find_scenario("tank_on_side")))
    work = Work(Sheet(lift, system="metric", settle=bench.settled), bench)
    for _ in range(RESTS):
        work.go_on(0.1)
    return LayoutScreen(work, desk)


def real_window_row() -> tuple[str, str, str]:
    """The whole program in a window on a virtual display, which has no graphics card: showing frames is in it."""
    what, goal = "a window of the program with no graphics card, showing frames", "12 %"
    if not can_be_had():
        return what, "not measured: Xvfb is not there", goal
    with display() as environment:
        few_s, many_s = (_worked_s(FRAMES_ALONE.format(frames), environment) for frames in (60, 360))
    return what, f"{20.0 * (many_s - few_s):.0f} % of a processor (60 frames, of 300)", goal


def _worked_s(script: str, environment: dict[str, str]) -> float:
    """Processor time of a process."""
    before = os.times()
    subprocess.run([sys.executable, "-c", script], cwd=ROOT, env=environment, check=True)
    after = os.times()
    return after.children_user + after.children_system - before.children_user - before.children_system


def _cuts(times_s: list[float]) -> str:
    """Median and 99th of a hundred, the first frames left out."""
    cuts = quantiles(times_s[30:], n=100)
    return f"median {cuts[49] * 1e3:.1f} ms, 99th {cuts[98] * 1e3:.1f} ms"


def first_frame_row() -> tuple[str, str, str]:
    """From the shell to the first frame of a lift."""
    times, own = [], {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    for _ in range(4):
        start = perf_counter()
        subprocess.run([sys.executable, "-c", FIRST_FRAME], cwd=ROOT, env=own, check=True)
        times.append(perf_counter() - start)
    return "first frame from the shell", f"{sorted(times)[1]:.2f} s", "0.5 s"


SCREENS: dict[str, Callable[[], Screen]] = {
    "a window": lambda: demonstrated("tank_on_side"),
    "a window while the load is turned over": lambda: demonstrated("turn_over_tank", "turn"),
    "the layout screen, nobody's hand on it": laid_out,
}


def rows() -> Iterator[tuple[str, ...]]:
    """All of them."""
    yield from (frame_row(size) for size in SIZES)
    for what, made in SCREENS.items():
        yield from (share_row(what, size, goal, made) for size, goal in SHARES)
    yield real_window_row()
    yield first_frame_row()
