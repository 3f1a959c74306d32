"""The instructor's acts as a table: what each does, by which amount, in which steps, in the user's units."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from simulator.attempt import Attempt
from simulator.drill.instruction import LASTS_S, Instruction, Kind
from simulator.window.act_words import (
    METRES_PER_S_PER_MPH,
    length_said,
    load_said,
    shift_said,
    speed_said,
    stiffness_said,
)
from simulator.window.lift import Lift
from simulator.window.measures_shown import METRES_PER_FOOT, NEWTONS_PER_KILOPOUND, NEWTONS_PER_TONNE, System

Show = Callable[[float, System], str]


class Scale(NamedTuple):
    """How an amount is chosen: in steps that are round numbers in the user's units."""

    step: dict[System, float]
    """SI."""
    first: dict[System, int]
    """How many steps stand there at first."""
    show: Show


class Act(NamedTuple):
    """One row of the panel."""

    name: str
    """Its key in the file of words, under `instructor`."""
    kind: Kind
    end: int = 0
    scale: Scale | None = None
    turns: tuple[float, ...] = ()
    """Amounts to choose from where they are no scale: numbers of steps."""


GUST = Scale({"metric": 1.0, "us": 2.0 * METRES_PER_S_PER_MPH}, {"metric": 8, "us": 9}, speed_said)
SLIP = Scale({"metric": 0.05, "us": 0.25 * METRES_PER_FOOT}, {"metric": 6, "us": 4}, length_said)
SOFT = Scale({"metric": 0.05, "us": 0.05}, {"metric": 10, "us": 10}, stiffness_said)
BED = Scale({"metric": NEWTONS_PER_TONNE, "us": 2.0 * NEWTONS_PER_KILOPOUND}, {"metric": 2, "us": 2}, load_said)


def _cargo(ends: tuple[int, int]) -> Scale:
    def show(value: float, system: System) -> str:
        return shift_said(value, system, ends)

    return Scale({"metric": 0.1, "us": 0.5 * METRES_PER_FOOT}, {"metric": 5, "us": 3}, show)


def acts(lift: Lift, ends: tuple[int, int]) -> tuple[tuple[Act, ...], tuple[Act, ...]]:
    """The two columns of the panel: the lesson, and what is put into the lift. `ends` are seen left, seen right."""
    session = lift.session if isinstance(lift, Attempt) else None
    lesson = [Act("go_on", "go on") if lift.is_paused else Act("pause", "pause"), Act("stop", "stop")]
    if session is not None:
        begun = sorted({*session.progress.passed_by, session.index})
        lesson.append(Act("step_back", "step back", turns=tuple(map(float, begun))))
        lesson.append(_shown(lift, "coach", "show coach", "hide coach"))
    lesson.append(_shown(lift, "roses", "show roses", "hide roses"))
    lesson.append(_shown(lift, "loads", "show loads", "hide loads"))
    into = (
        Act("gust", "gust", scale=GUST),
        Act("cargo", "cargo shifts", scale=_cargo(ends)),
        *(Act(f"float_{side}", "soft float", end, SOFT) for side, end in zip(("left", "right"), ends, strict=True)),
        *(Act(f"slip_{side}", "line slips", end, SLIP) for side, end in zip(("left", "right"), ends, strict=True)),
        Act("bed", "bed holds", scale=BED),
    )
    return tuple(lesson), into


def _shown(lift: Lift, thing: str, show: Kind, hide: Kind) -> Act:
    return Act(f"show_{thing}", show) if thing in lift.hidden else Act(f"hide_{thing}", hide)


def instruction(act: Act, amount: float) -> Instruction:
    """What the row does with this amount."""
    return Instruction(act.kind, amount, act.end, LASTS_S if act.kind == "gust" else 0.0)
