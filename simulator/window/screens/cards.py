"""Cards over a paused or ended lift: a title, and a list to choose from with arrows and Enter."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite
from typing import NamedTuple

import pygame

from simulator.window.kit import measures_shown as shown
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line
from simulator.window.kit.icons import badge, icon
from simulator.window.kit.measures_shown import System
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, INK, INK_2, PANEL, PAPER, RULE
from simulator.window.kit.pieces import draw_key, draw_row
from simulator.window.kit.regions import COACH
from simulator.window.kit.seen import Seen
from simulator.window.review.lift_extremes import LiftExtremes
from simulator.window.screens.drive_protocol import Driven
from simulator.window.screens.instructor import InstructorPanel
from simulator.window.screens.keys_and_marks import KeysScreen
from simulator.window.screens.screen import BACK, ENTER_KEYS, STAY, Go, Spots, StillScreen, to_start
from simulator.window.screens.settings_screen import SettingsScreen
from simulator.words import say


def keys_of(drive: Driven) -> KeysScreen:
    """Keys and marks of the lift that is driven."""
    return KeysScreen(drive.choice.description, labels=drive.seats.labels, is_paused=True)


def instructor_of(drive: Driven) -> InstructorPanel:
    """The instructor's panel."""
    return InstructorPanel(drive.lift, drive.readouts.seen, drive.system)


def _why(drive: Driven) -> Go:
    drive.prompt_cards.ask()
    return BACK


def _finish(drive: Driven) -> Go:
    drive.sum_up()
    return STAY


PAUSE_ROWS: tuple[tuple[str, Callable[[Driven], Go]], ...] = (
    ("pause.back", lambda _: BACK),
    ("pause.keys", lambda drive: Go(over=keys_of(drive))),
    ("pause.settings", lambda drive: Go(over=SettingsScreen(drive.desk))),
    ("instructor.title", lambda drive: Go(over=instructor_of(drive))),
    ("pause.why", _why),
    ("pause.again", lambda drive: drive.again()),
    ("pause.finish", _finish),
    ("pause.leave", lambda drive: to_start(drive.choice)),
)
SUMMARY_KEYS: tuple[tuple[str, str, Callable[[Driven], Go]], ...] = (
    ("key.enter", "summary.debrief", lambda drive: drive.look_back()),
    ("key.tab", "summary.again", lambda drive: drive.again()),
    ("key.escape", "summary.leave", lambda drive: to_start(drive.choice)),
)
PAUSE_KEYS = (("key.up_down", "key.choose"), ("key.enter", "key.take"), ("key.escape", "key.back"))
COLUMN, COLUMN_PITCH = 104.0, 158.0
"""Middle of the summary's last column, from the card's right edge, and from one to the next."""


class PauseCard(StillScreen):
    """The pause menu."""

    is_card = True

    def __init__(self, drive: Driven, *, words: str = "") -> None:
        self._drive = drive
        self.chosen = 0
        self._words = words
        self._spots: Spots[int] = Spots()

    def take_event(self, event: pygame.event.Event) -> Go:
        """Arrows choose, Enter takes, Esc goes back; the mouse takes what it presses."""
        if event.type == pygame.MOUSEBUTTONDOWN and (found := self._spots.at(event.pos)) is not None:
            return PAUSE_ROWS[found][1](self._drive)
        if event.type != pygame.KEYDOWN:
            return STAY
        if event.key == pygame.K_ESCAPE:
            return BACK
        if event.key in ENTER_KEYS:
            return PAUSE_ROWS[self.chosen][1](self._drive)
        if event.key in (pygame.K_DOWN, pygame.K_TAB):
            self.chosen = (self.chosen + 1) % len(PAUSE_ROWS)
        if event.key == pygame.K_UP:
            self.chosen = (self.chosen - 1) % len(PAUSE_ROWS)
        return STAY

    def draw(self, canvas: Canvas) -> None:
        """Draws the card in the middle, on a veil that was laid before."""
        x, w = 660.0, 600.0
        self._spots.clear()
        height = 122.0 + 84.0 * len(PAUSE_ROWS) + (44.0 if self._words else 0.0)
        y = 580.0 - height / 2.0
        canvas.box(x, y, w, height, fill=PANEL, edge=INK, radius=10.0)
        canvas.text(say("pause.title"), x + 40.0, y + 72.0, 46.0, weight="bold", width=w - 80.0)
        top = y + 106.0
        if self._words:
            canvas.text(self._words, x + 40.0, y + 112.0, 26.0, color=INK_2, width=w - 80.0)
            top += 44.0
        for index, (key, _) in enumerate(PAUSE_ROWS):
            row_y = top + index * 84.0
            draw_row(canvas, say(key), x + 40.0, row_y, w - 80.0, is_chosen=index == self.chosen)
            self._spots.add(x + 40.0, row_y, w - 80.0, 68.0, index)
        draw_caution_line(canvas, PAUSE_KEYS)


class Figure(NamedTuple):
    """One line of the summary: what, and its value unit by unit from left to right, or one value for the lift."""

    label: str
    values: tuple[str, ...]


ROW, LOW_ROW = 62.0, 54.0
"""Of the summary; lower where what cost points stands under it."""


class SummaryCard(StillScreen):
    """How the lift ended, and its extremes."""

    is_card = True

    def __init__(self, drive: Driven, title: str, words: str, *, note: str = "", lost: tuple[str, ...] = ()) -> None:
        self._drive = drive
        self._title, self._words, self._note, self._lost = title, words, note, lost
        self._seen = drive.readouts.seen
        self._rows = figures(drive.extremes, self._seen, drive.system)
        self._spots: Spots[Callable[[Driven], Go]] = Spots()

    def take_event(self, event: pygame.event.Event) -> Go:
        """Enter looks back on the lift, Tab drives it again, Esc goes to the start screen; or by the mouse."""
        if event.type == pygame.MOUSEBUTTONDOWN:
            found = self._spots.at(event.pos)
            return found(self._drive) if found is not None else STAY
        if event.type != pygame.KEYDOWN:
            return STAY
        if event.key in ENTER_KEYS:
            return self._drive.look_back()
        if event.key == pygame.K_TAB:
            return self._drive.again()
        return to_start(self._drive.choice) if event.key == pygame.K_ESCAPE else STAY

    def draw(self, canvas: Canvas) -> None:
        """Draws the card in the middle, on a veil that was laid before."""
        x, y, w = 560.0, 154.0, 800.0
        pitch = LOW_ROW if self._lost else ROW
        height = 290.0 + pitch * len(self._rows)
        if self._lost:
            y -= 26.0
            self._draw_lost(canvas, x, y + height + 12.0, w)
        canvas.box(x, y, w, height, fill=PANEL, edge=INK, radius=10.0)
        canvas.text(self._title, x + 40.0, y + 72.0, 46.0, weight="bold", width=w - 80.0)
        canvas.text(self._words, x + 40.0, y + 112.0, 28.0, color=INK_2, width=w - 80.0)
        for unit, at in zip(self._seen.units, self._columns, strict=True):
            if not unit.is_alone:
                badge(canvas, unit.side, x + w - at, y + 160.0, 40.0)
        for index, row in enumerate(self._rows):
            self._row(canvas, row, x + 40.0, y + 192.0 + index * pitch, w - 80.0, pitch)
        foot = y + height - 42.0
        canvas.rect(x + 40.0, foot - 50.0, w - 80.0, 2.0, RULE)
        self._foot(canvas, x + 40.0, foot, w - 80.0)
        draw_caution_line(canvas, tuple((cap, does) for cap, does, _ in SUMMARY_KEYS))
        if self._note:
            foot += 54.0 + (18.0 + 34.0 * len(self._lost) if self._lost else 0.0)
            canvas.box(x, foot, w, 52.0, fill=CAUTION_TINT, edge=CAUTION, radius=6.0)
            icon(canvas, "caution", x + 34.0, foot + 25.0, 32.0)
            canvas.text(self._note, x + 62.0, foot + 35.0, 26.0, width=w - 84.0)

    def _draw_lost(self, canvas: Canvas, x: float, y: float, w: float) -> None:
        """What cost points in a drill, the most first."""
        canvas.box(x, y, w, 16.0 + 34.0 * len(self._lost), fill=PANEL, edge=INK, radius=8.0)
        for index, text in enumerate(self._lost):
            canvas.text(text, x + 40.0, y + 34.0 + 34.0 * index, 26.0, width=w - 80.0)

    def _foot(self, canvas: Canvas, x: float, foot: float, w: float) -> None:
        """The three ways on, evenly placed."""
        self._spots.clear()
        for index, (cap, does, go) in enumerate(SUMMARY_KEYS):
            left = x + index * w / len(SUMMARY_KEYS)
            width = draw_key(canvas, say(cap), left, foot - 29.0, height=40.0)
            room = w / len(SUMMARY_KEYS) - width - 24.0
            canvas.text(say(does), left + width + 12.0, foot, 28.0, weight="bold", width=room)
            self._spots.add(left, foot - 40.0, w / len(SUMMARY_KEYS), 62.0, go)

    def _row(self, canvas: Canvas, row: Figure, x: float, y: float, w: float, pitch: float) -> None:
        canvas.rect(x, y, w, 2.0, RULE)
        canvas.text(row.label, x, y + pitch - 20.0, 28.0, width=w - 330.0)
        places = self._columns if len(row.values) > 1 else (sum(self._columns) / len(self._columns),)
        for value, at in zip(row.values, places, strict=True):
            canvas.digits(value, x + w + 40.0 - at, y + pitch - 18.0, 34.0, anchor="center")

    @property
    def _columns(self) -> tuple[float, ...]:
        """Middles of the units' columns, from the card's right edge."""
        return tuple(COLUMN + COLUMN_PITCH * n for n in range(len(self._seen.units)))[::-1]


def figures(extremes: LiftExtremes, seen: Seen, system: System) -> tuple[Figure, ...]:
    """The summary's lines."""

    def said(value: float, text: Callable[[float], str]) -> str:
        return text(value) if isfinite(value) else shown.NONE

    def by_unit(field: str, text: Callable[[float], str]) -> Figure:
        return Figure(say(f"worst.{field}"), tuple(said(extremes.worst(unit.name, field), text) for unit in seen.units))

    return (
        Figure(say("summary.time"), (shown.clock(extremes.time_s),)),
        by_unit("mean_off_plumb_rad", lambda value: shown.angle(value).joined),
        by_unit("line_load_N", lambda value: shown.load(value, system).joined),
        by_unit("capacity_used", lambda value: shown.percent(value).joined),
        by_unit("least_float_share", lambda value: shown.percent(value).joined),
        Figure(
            say("worst.sway_m"),
            (said(extremes.sway_m, lambda value: shown.length(value, system, decimals=2).joined),),
        ),
        Figure(say("summary.cautions"), (str(extremes.cautions),)),
        Figure(say("summary.stops"), (str(extremes.stops),)),
    )


def lay_veil(canvas: Canvas) -> None:
    """Paper over everything but the coach strip and the foot."""
    canvas.veil(0.0, COACH.foot, 1920.0, 1036.0 - COACH.foot, PAPER, share=0.6)
