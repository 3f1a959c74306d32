"""Benchmark rows of a recorded lift: its commands on the bare engine, a re-run with hashes, jumps in its debrief."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from math import pi, sin
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter, process_time

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
os.environ.setdefault("SDL_AUDIODRIVER", "dummy")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

import pygame

from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.engine.commands import STILL, Commands, UnitCommands, finest
from simulator.places import find_scenario
from simulator.recording.again import BareLift, DriveAgain
from simulator.recording.head import Parent
from simulator.recording.keep import start_recording
from simulator.recording.lift_file import read
from simulator.recording.recorded import Recording
from simulator.recording.replay import check, take_over
from simulator.recording.seconds import Second
from simulator.scenario.reader import load
from simulator.window.kit.canvas import Canvas
from simulator.window.protocols import nothing_told
from simulator.window.review.looking_back import LookBack
from simulator.window.screens.debrief_screen import DebriefScreen
from simulator.window.screens.replay_screen import ReplayScreen
from simulator.window.shell.desk import Desk
from simulator.world import World

Row = tuple[str, str]
SCENARIO, DRILL = "tank_on_side", "whole_lift"
LONG_S, DEMONSTRATED_S, ON_S = 900, 130, 840
HANDS_S = (16.0, 24.0, 20.0, 30.0)
"""Periods of hoist, telescope, elevation and slew once hands have taken over from the demonstration."""
HOW = f"{SCENARIO}: {DEMONSTRATED_S} s of its demonstration, then {LONG_S - DEMONSTRATED_S} s in the air, all moving"
JUMPS = 40


@cache
def long_lift(*, drilled: bool = False) -> tuple[Recording, float]:
    """A lift of fifteen minutes, read from its file, and its MB; hands change at every reading, like a person's.

    Args:
        drilled: judged all the while, by the shipped drill of a whole lift.
    """
    described = load(find_scenario(SCENARIO))
    if drilled and (drill := load(find_scenario(DRILL)).drill):
        described = replace(described, drill=replace(drill, longest_s=4.0 * LONG_S))
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)], in_bulk=True)
    per_s = described.engine.steps_per_s
    with TemporaryDirectory() as folder, start_recording(attempt, Path(folder), "long") as recorder:
        attempt.advance(STILL, DEMONSTRATED_S * per_s)
        attempt.operators = [None, None]
        for step in range(DEMONSTRATED_S * per_s, LONG_S * per_s, attempt.every):
            hands = UnitCommands(*(finest(0.15 * sin(2.0 * pi * step / per_s / period)) for period in HANDS_S))
            attempt.advance(Commands(hands, hands), attempt.every)
        recorder.close()
        recording, size_MB = read(recorder.path), recorder.path.stat().st_size / 1e6
    if attempt.incidents or recording.length_s != LONG_S:
        raise RuntimeError(f"the long lift ended at {recording.length_s} s")
    return recording, size_MB


def bare_row() -> Row:
    """The engine alone under the recorded commands."""
    recording, _ = long_lift()
    assert recording.description is not None
    drive = DriveAgain(recording.whole, BareLift(World(recording.description, in_bulk=True)))
    start = perf_counter()
    drive.to(recording.whole_until_step)
    taken = perf_counter() - start
    step_us = taken / recording.whole_until_step * 1e6
    return f"engine bare; {HOW}", f"{LONG_S / taken:.0f} times real time, {step_us:.1f} us a step"


def again_row() -> tuple[str, ...]:
    """What `slopepick replay` does."""
    recording, _ = long_lift()
    start, before = perf_counter(), os.times()
    found = check(recording)
    taken, worked = perf_counter() - start, sum(os.times()[:4]) - sum(before[:4])
    if not found.same:
        raise RuntimeError("; ".join(found.sentences()))
    return (
        "a recorded 15-minute lift re-run headless, each second's hash compared; the same lift",
        f"{taken:.1f} s (processor {worked:.1f} s, spread over the cores)",
        "1 s",
    )


def drive_on_row(*, drilled: bool = False) -> tuple[str, ...]:
    """That lift brought to minute 14 to be driven on from there: automatic operators look on, a recorder begins."""
    recording, _ = long_lift(drilled=drilled)
    described, kept = recording.description, []
    assert described is not None
    with TemporaryDirectory() as folder:

        def begin(attempt: Attempt, before: Sequence[Second]) -> None:
            kept.append(start_recording(attempt, Path(folder), "on", parent=Parent("long", ON_S), before=before))

        start, began_s = perf_counter(), process_time()
        operators = [Partner(described, 0), Partner(described, 1)]
        take_over(recording, ON_S * recording.head.steps_per_s, begin=begin, followers=operators)
        taken, worked = perf_counter() - start, process_time() - began_s
        kept[0].close()
    what = "the same, judged by a drill" if drilled else "driven on from minute 14 of that lift"
    return what, f"{taken:.1f} s (processor {worked:.1f} s)", "2 s"


def jump_rows() -> list[Row]:
    """From a click on the debrief's track, and from asking for a replay there, to the frame that shows it."""
    pygame.display.init()
    canvas, desk = Canvas(pygame.display.set_mode((1920, 1080))), Desk()
    back = LookBack(long_lift()[0], None, nothing_told, desk)
    screen = DebriefScreen(back)
    screen.renew(canvas)
    screen.frame(canvas, 1.0 / 60.0)
    jumps, replays, places = [], [], set()
    for number in range(JUMPS):
        x = 240.0 + 1120.0 * (number * 17 % JUMPS) / JUMPS
        start = perf_counter()
        screen.take_event(pygame.event.Event(pygame.MOUSEBUTTONDOWN, pos=(x, 884.0), button=1))
        screen.frame(canvas, 1.0 / 60.0)
        jumps.append(perf_counter() - start)
        places.add(screen.at_s)
        start = perf_counter()
        replay = ReplayScreen(back, desk, at_s=screen.at_s)
        replay.renew(canvas)
        replay.frame(canvas, 1.0 / 60.0)
        replays.append(perf_counter() - start)
        screen.renew(canvas)
        screen.frame(canvas, 1.0 / 60.0)
    if len(places) < JUMPS:
        raise RuntimeError("a click on the track went nowhere")
    return [
        ("jump to a moment in the debrief of that lift", _times(jumps)),
        ("a replay of that lift begun at a moment", _times(replays)),
    ]


def _times(times_s: list[float]) -> str:
    return f"median {median(times_s) * 1e3:.0f} ms, worst of {len(times_s)} {max(times_s) * 1e3:.0f} ms"


def size_row() -> Row:
    """What it takes on the disk: levers that never stand still are its worst case."""
    _, size_MB = long_lift()
    return "the file of that lift", f"{size_MB:.2f} MB"


def rows() -> Iterator[tuple[str, ...]]:
    """All of them."""
    yield bare_row()
    yield size_row()
    yield again_row()
    yield drive_on_row()
    yield drive_on_row(drilled=True)
    yield from jump_rows()
