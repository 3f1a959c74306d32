"""Benchmark rows of the window: drawing a frame at three sizes with the software renderer, and the first frame."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from statistics import quantiles
from time import perf_counter, process_time

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
os.environ.setdefault("SDL_AUDIODRIVER", "dummy")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

import pygame

from simulator.places import find_scenario
from simulator.scenario.reader import load
from simulator.window.kit.canvas import Canvas
from simulator.window.screens.drive import DriveScreen
from simulator.window.shell.lift import Choice

Row = tuple[str, str]
SIZES = ((1920, 1080), (1366, 768), (1280, 720))
SHARES = (((1920, 1080), "12 %"), ((3840, 2160), "25 %"))
FRAMES = 600
FIRST_FRAME = """
from simulator.__main__ import _described
from simulator.window.program import run_drive
run_drive(_described("practice_yard"), at_once=True, most_frames=1)
"""


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


def share_row(size: tuple[int, int], goal: str) -> tuple[str, str, str]:
    """What a window of this size takes of a processor: the lift of the demonstration and drawing it, 60 frames a
    second, the best of five times two seconds; showing a frame is the display's."""
    pygame.display.init()
    canvas = Canvas(pygame.display.set_mode(size))
    screen = DriveScreen(Choice(load(find_scenario("tank_on_side")), "demo"), "metric")
    screen.renew(canvas)
    taken = []
    for _ in range(6):
        begun = process_time()
        for _ in range(120):
            screen.advance(1.0 / 60.0)
            screen.draw(canvas, 1.0 / 60.0)
        taken.append((process_time() - begun) / 2.0)
    best_s = min(taken[1:])
    how = f"{100.0 * best_s:.0f} % of a processor ({best_s * 1e3:.0f} ms a second)"
    return f"a window at {size[0]}x{size[1]}", how, goal


def _cuts(times_s: list[float]) -> str:
    """Median and 99th of a hundred, the first frames left out."""
    cuts = quantiles(times_s[30:], n=100)
    return f"median {cuts[49] * 1e3:.1f} ms, 99th {cuts[98] * 1e3:.1f} ms"


def first_frame_row() -> tuple[str, str, str]:
    """From the shell to the first frame of a lift."""
    times, own = [], {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    for _ in range(4):
        start = perf_counter()
        subprocess.run([sys.executable, "-c", FIRST_FRAME], cwd=Path(__file__).parents[1], env=own, check=True)
        times.append(perf_counter() - start)
    return "first frame from the shell", f"{sorted(times)[1]:.2f} s", "0.5 s"


def rows() -> Iterator[tuple[str, ...]]:
    """All of them."""
    yield from (frame_row(size) for size in SIZES)
    yield from (share_row(size, goal) for size, goal in SHARES)
    yield first_frame_row()
