"""The instructor's panel over the lift: pause, stop, step back, hide and show, and what goes wrong on purpose.

To open it pauses the lift, and an act closes it and goes on: the panel needs the arrows and Enter, nobody should hold a
hanging load meanwhile by levers that no longer answer, and what was put in is then seen from its first moment.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import pygame

from simulator.attempt import Attempt
from simulator.drill.instruction import LASTS_S, RANGES, Instruction, Kind, refuse_wild
from simulator.scenario.measures import METERS_PER_FOOT, METERS_PER_S_PER_MPH, POUND_N, TONNE_N
from simulator.scenario.rig import RigLine
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line
from simulator.window.kit.icons import icon
from simulator.window.kit.measures_shown import System
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, INK, INK_2, PANEL, RULE
from simulator.window.kit.pieces import draw_key
from simulator.window.kit.regions import Region
from simulator.window.kit.seen import Seen, SeenUnit
from simulator.window.readouts.act_words import (
    length_said,
    load_said,
    shift_said,
    speed_said,
    stiffness_said,
)
from simulator.window.screens.screen import BACK, ENTER_KEYS, STAY, Go, Spots, StillScreen
from simulator.window.shell.lift import Lift
from simulator.words import say

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
    """Place of the unit, or of the line that slips."""
    scale: Scale | None = None
    turns: tuple[float, ...] = ()
    """Amounts to choose from where they are no scale: numbers of steps."""
    number: int = 0
    """Of the line, where its unit has two."""


GUST = Scale({"metric": 1.0, "us": 2.0 * METERS_PER_S_PER_MPH}, {"metric": 8, "us": 9}, speed_said)
SLIP = Scale({"metric": 0.05, "us": 0.25 * METERS_PER_FOOT}, {"metric": 6, "us": 4}, length_said)
SOFT = Scale({"metric": 0.05, "us": 0.05}, {"metric": 10, "us": 10}, stiffness_said)
BED = Scale({"metric": TONNE_N, "us": 2000.0 * POUND_N}, {"metric": 2, "us": 2}, load_said)


def _cargo(sign: float) -> Scale:
    def show(value: float, system: System) -> str:
        return shift_said(value, system, sign)

    return Scale({"metric": 0.1, "us": 0.5 * METERS_PER_FOOT}, {"metric": 5, "us": 3}, show)


def acts(lift: Lift, seen: Seen) -> tuple[tuple[Act, ...], tuple[Act, ...]]:
    """The two columns of the panel: the lesson, and what is put into the lift."""
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
        Act("cargo", "cargo shifts", scale=_cargo(seen.sign)),
        *(Act(f"float_{unit.where}", "soft float", unit.place, SOFT) for unit in seen.units),
        *(_slip(unit, line) for unit in seen.units for line in unit.unit.lines),
        Act("bed", "bed holds", scale=BED),
    )
    return tuple(lesson), into


def _slip(unit: SeenUnit, line: RigLine) -> Act:
    name = f"slip_{unit.where}"
    if len(unit.unit.lines) < 2:
        return Act(name, "line slips", line.place, SLIP)
    return Act(f"{name}_nth", "line slips", line.place, SLIP, number=line.number)


def act_said(act: Act) -> str:
    """What a row does."""
    return say(f"instructor.{act.name}", **({"number": act.number} if act.number else {}))


def _shown(lift: Lift, thing: str, show: Kind, hide: Kind) -> Act:
    return Act(f"show_{thing}", show) if thing in lift.hidden else Act(f"hide_{thing}", hide)


def instruction(act: Act, amount: float) -> Instruction:
    """What the row does with this amount."""
    return Instruction(act.kind, amount, act.end, LASTS_S if act.kind == "gust" else 0.0)


X, Y, W, H = 184.0, 136.0, 1552.0, 884.0
COLUMNS = ((X + 40.0, 620.0), (X + 700.0, 812.0))
TOP, PITCH, APART, ROWS_H = Y + 192.0, 78.0, 10.0, 546.0
"""Of the rows: from one to the next at most, between them, and room for all."""
AMOUNT_W = 440.0
FOOT = (("key.up_down", "instructor.choose"), ("key.left_right", "instructor.amount"),
        ("key.tab", "instructor.column"), ("key.enter", "instructor.do"), ("key.escape", "key.back"))  # fmt: skip


def draw_instructor(canvas: Canvas, panel: InstructorPanel) -> None:
    """Draws all of it and remembers its places for the mouse."""
    panel.spots.clear()
    canvas.box(X, Y, W, H, fill=PANEL, edge=INK, radius=10.0)
    canvas.text(say("instructor.title"), X + 40.0, Y + 64.0, 46.0, weight="bold", width=W - 80.0)
    canvas.text(say("instructor.words"), X + 40.0, Y + 104.0, 28.0, weight="medium", color=INK_2, width=W - 80.0)
    row, pitch = 0, min(PITCH, ROWS_H / max(map(len, panel.columns)))
    for (x, w), words, column in zip(COLUMNS, ("instructor.lesson", "instructor.into"), panel.columns, strict=True):
        canvas.text(say(words), x, TOP - 24.0, 30.0, weight="bold", width=w)
        for place in range(len(column)):
            _draw_row(canvas, panel, row, Region(x, TOP + place * pitch, w, pitch - APART))
            row += 1
    if panel.refused:
        y = TOP + ROWS_H + 8.0
        canvas.box(X + 40.0, y, W - 80.0, 52.0, fill=CAUTION_TINT, edge=CAUTION, radius=6.0)
        icon(canvas, "caution", X + 74.0, y + 25.0, 32.0)
        canvas.text(panel.refused, X + 102.0, y + 35.0, 26.0, weight="bold", width=W - 164.0)
    _draw_foot(canvas)
    draw_caution_line(canvas, FOOT[-2:])


def _draw_row(canvas: Canvas, panel: InstructorPanel, row: int, place: Region) -> None:
    x, y, w, h = place
    is_chosen, act = row == panel.chosen, panel.rows[row]
    if is_chosen:
        canvas.box(x - 6.0, y - 6.0, w + 12.0, h + 12.0, fill=PANEL, edge=INK, edge_width=4.0, radius=12.0)
    ground, ink = (INK, PANEL) if is_chosen else (PANEL, INK)
    canvas.box(x, y, w, h, fill=ground, edge=INK if is_chosen else RULE, radius=8.0)
    panel.spots.add(x, y, w, h, (row, 0))
    amount = panel.amount_shown(row)
    room = (w - AMOUNT_W if act.scale is not None else 330.0) if amount else w - 40.0
    canvas.text(act_said(act), x + 22.0, y + h / 2.0 + 10.0, 28.0, weight="bold", color=ink, width=room - 20.0)
    if not amount:
        return
    left, right = x + room + 10.0, x + w - 12.0
    for at, turn, by in ((left + 18.0, 180, -1), (right - 18.0, 0, 1)):
        icon(canvas, "arrow", at, y + h / 2.0, 28.0, fill=ink, turn_deg=turn)
        panel.spots.add(at - 26.0, y, 52.0, h, (row, by))
    canvas.text(amount, (left + right) / 2.0, y + h / 2.0 + 10.0, 28.0, weight="bold", color=ink, anchor="center",
                width=right - left - 84.0)  # fmt: skip


def _draw_foot(canvas: Canvas) -> None:
    """The keys that work here."""
    canvas.rect(X + 40.0, Y + H - 76.0, W - 80.0, 2.0, RULE)
    left = X + 40.0
    for cap, does in FOOT:
        left += draw_key(canvas, say(cap), left, Y + H - 58.0, height=38.0) + 10.0
        left += canvas.text(say(does), left, Y + H - 30.0, 26.0, weight="bold") + 36.0


class InstructorPanel(StillScreen):
    """Arrows choose a row and its amount, Tab goes to the other column, Enter does it, Esc goes back."""

    is_card = True

    def __init__(self, lift: Lift, seen: Seen, system: System) -> None:
        self.lift, self.system = lift, system
        self.columns = acts(lift, seen)
        self.chosen = 0
        """Row, counted through both columns."""
        self.refused = ""
        """Why the last press was refused, in a sentence."""
        self.spots: Spots[tuple[int, int]] = Spots()
        """Row, and -1 or 1 for less or more, 0 to do it."""
        self._counts = [
            act.scale.first[system] if act.scale is not None else max(0, len(act.turns) - 1) for act in self.rows
        ]

    @property
    def rows(self) -> tuple[Act, ...]:
        """All rows."""
        return (*self.columns[0], *self.columns[1])

    def amount(self, row: int, *, more: int = 0) -> float:
        """A row's amount in SI, or what it would be after so many presses more."""
        act, count = self.rows[row], self._counts[row] + more
        if act.scale is not None:
            return count * act.scale.step[self.system]
        return act.turns[min(len(act.turns) - 1, max(0, count))] if act.turns else 0.0

    def amount_shown(self, row: int) -> str:
        """In the user's units; empty for a row without one."""
        act = self.rows[row]
        if act.scale is not None:
            value = act.scale.show(self.amount(row), self.system)
            return say("instructor.lasts", value=value, seconds=f"{LASTS_S:g}") if act.kind == "gust" else value
        session = self.lift.session if isinstance(self.lift, Attempt) else None
        if not act.turns or session is None:
            return ""
        index = int(self.amount(row))
        return say("instructor.step_number", number=index + 1, title=session.drill.steps[index].title)

    def take_event(self, event: pygame.event.Event) -> Go:
        """Answers back when it is done with."""
        if event.type == pygame.MOUSEBUTTONDOWN and (found := self.spots.at(event.pos)) is not None:
            self.chosen, turn = found
            return self._turn(turn) if turn else self._do()
        if event.type != pygame.KEYDOWN:
            return STAY
        if event.key == pygame.K_ESCAPE:
            return BACK
        if event.key in ENTER_KEYS:
            return self._do()
        if event.key == pygame.K_TAB:
            first = len(self.columns[0])
            self.chosen = first if self.chosen < first else 0
        elif event.key in (pygame.K_DOWN, pygame.K_UP):
            self.chosen = (self.chosen + (1 if event.key == pygame.K_DOWN else -1)) % len(self.rows)
        elif event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            return self._turn(-1 if event.key == pygame.K_LEFT else 1)
        self.refused = ""
        return STAY

    def _turn(self, by: int) -> Go:
        """Less or more; what no lift could take is refused."""
        act = self.rows[self.chosen]
        self.refused = self._refusal(act, self.amount(self.chosen, more=by))
        if not self.refused:
            most = len(act.turns) - 1 if act.scale is None else 10**6
            self._counts[self.chosen] = min(most, max(-(10**6) if act.scale else 0, self._counts[self.chosen] + by))
        return STAY

    def _refusal(self, act: Act, amount: float) -> str:
        try:
            refuse_wild(instruction(act, amount))
        except ValueError as error:
            if act.scale is None or act.kind not in RANGES:
                return str(error)
            value, low, high = (act.scale.show(one, self.system) for one in (amount, *RANGES[act.kind]))
            return say("instructor.refused", what=act_said(act), value=value, low=low, high=high)
        return ""

    def _do(self) -> Go:
        """The chosen act, now; what the lift refuses is said."""
        act = self.rows[self.chosen]
        try:
            self.lift.instruct(instruction(act, self.amount(self.chosen)))
        except ValueError as error:
            self.refused = str(error)
            return STAY
        return BACK

    def draw(self, canvas: Canvas) -> None:
        """Draws the panel on a veil that was laid before."""
        draw_instructor(canvas, self)
