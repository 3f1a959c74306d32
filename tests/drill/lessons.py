"""Lessons for the tests: shipped drills driven by somebody, and readings set by hand."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Any

from simulator.attempt import Attempt, Operator
from simulator.drill.clumsy import Clumsy
from simulator.drill.partner import Partner
from simulator.drill.session import Session
from simulator.drill.ways import Fault
from simulator.places import find_scenario
from simulator.readings import LoadReadings, Readings, UnitReadings, lines_of
from simulator.recording.headless import run_operators
from simulator.scenario.description import Description
from simulator.scenario.drill import Drill
from simulator.scenario.reader import load

LONG = ("raise_level", "carry_across", "lay_on_deck", "turn_and_land", "two_line_centering", "whole_lift")


@lru_cache
def drill(name: str) -> Description:
    """A shipped drill."""
    return load(find_scenario(name))


def coarser(described: Description) -> Description:
    """The same lift at half the rate of steps and readings: half the computing for the long lessons."""
    engine = described.engine
    half = replace(engine, steps_per_s=engine.steps_per_s // 2, readings_per_s=engine.readings_per_s // 2,
                   footing_every_steps=max(1, engine.footing_every_steps // 2))  # fmt: skip
    return replace(described, engine=half)


def pair(described: Description) -> list[Operator | None]:
    """Two automatic operators."""
    return [Partner(described, 0), Partner(described, 1)]


def driven(described: Description, operators: list[Operator | None], *, longest_s: float = 400.0) -> Attempt:
    """A lesson driven to its end, or for so long."""
    attempt = Attempt(described, operators, in_bulk=True)
    run_operators(attempt, longest_s=longest_s)
    return attempt


def session(attempt: Attempt) -> Session:
    """Its drill."""
    assert attempt.session is not None
    return attempt.session


class Heard:
    """An observer: all readings of a lesson, with the step and prompt of each."""

    def __init__(self, attempt: Attempt) -> None:
        self._attempt = attempt
        self.rows: list[tuple[Readings, Readings, int]] = []
        self.prompts: list[tuple[float, int, str, str]] = []
        attempt.observers.append(self)

    def __call__(self, now: Readings) -> None:
        held = session(self._attempt)
        self.rows.append((now, held.progress.began, held.index))
        prompt = held.prompt
        if prompt is not None and (not self.prompts or self.prompts[-1][3] != prompt.sentence):
            self.prompts.append((now.time_s, held.index, prompt.kind, prompt.sentence))


@lru_cache
def taught() -> tuple[Attempt, Heard]:
    """The centering drill as it is taught, by two automatic operators."""
    described = drill("centering")
    attempt = Attempt(described, pair(described), in_bulk=True)
    heard = Heard(attempt)
    run_operators(attempt, longest_s=200.0)
    return attempt, heard


@lru_cache
def passed(name: str) -> Attempt:
    """A shipped drill driven by two automatic operators; the long ones at half the rate."""
    described = coarser(drill(name)) if name in LONG else drill(name)
    return driven(described, pair(described))


@lru_cache
def faulty(name: str, nose: Fault | None, tail: Fault | None, longest_s: float) -> Attempt:
    """A shipped drill with a fault in one seat or both, at half the rate."""
    described = coarser(drill(name))
    seats = [Clumsy(described, end, fault=fault) if fault else Partner(described, end)
             for end, fault in enumerate((nose, tail))]  # fmt: skip
    return driven(described, list(seats), longest_s=longest_s)


UNIT = UnitReadings(*(0.0 for _ in UnitReadings._fields))._replace(
    least_float_share=1.0, slack=True, head_room_m=5.0, rope_left_m=20.0
)
LOAD = LoadReadings(*(0.0 for _ in LoadReadings._fields))._replace(
    ground_N=1e5, sway_period_s=6.0, lane_room_m=10.0, landed=False
)
STILL_READINGS = Readings(0, 0.0, (UNIT, UNIT), lines_of((UNIT, UNIT)), LOAD)
"""A load lying on its bed with slack lines; nothing else is anything."""


def at(
    time_s: float, *, nose: dict[str, Any] | None = None, tail: dict[str, Any] | None = None, **load_now: Any
) -> Readings:
    """Readings at a moment, with some of them set."""
    now = STILL_READINGS.with_unit(0, UNIT._replace(**(nose or {}))).with_unit(1, UNIT._replace(**(tail or {})))
    return now._replace(time_s=time_s, load=LOAD._replace(**load_now))


def with_drill(given: Drill, *, name: str = "plumb_tips") -> Description:
    """A shipped lift with another exercise on it."""
    return replace(drill(name), drill=given)
