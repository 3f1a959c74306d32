"""The settings screen: a list of rows, each with its choices or its text; every change holds at once and is kept."""

from __future__ import annotations

import re
from typing import NamedTuple

import pygame

from simulator.recording.settings import LONGEST_TEXT
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_back, draw_caution_line, draw_head, draw_panel, draw_paragraph, is_back
from simulator.window.kit.icons import icon
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, INK, INK_2, PANEL, PAPER, RULE
from simulator.window.kit.pieces import lines_of, tail_of
from simulator.window.screens.screen import BACK, ENTER_KEYS, STAY, Go, Spots, StillScreen
from simulator.window.shell.desk import LONGEST_NAME, Desk
from simulator.words import say

LEFT, TOP, WIDTH, ROW_H, PITCH = 48.0, 152.0, 1200.0, 78.0, 88.0
VALUE_X = LEFT + 430.0
SIDE_X, SIDE_W = 1280.0, 592.0
FOOT_KEYS = (("key.arrows", "key.choose"), ("key.enter", "settings.change"), ("key.escape", "key.back"))
TEXT_KEYS = (("key.enter", "settings.keep"), ("key.escape", "settings.leave_it"))


class SettingRow(NamedTuple):
    """One setting. `choices` are values with their words; a text has none."""

    name: str
    choices: tuple[tuple[object, str], ...] = ()
    longest: int = LONGEST_NAME


ON_OFF = ((False, "settings.off"), (True, "settings.on"))
ROWS = (
    SettingRow("units", (("metric", "settings.metric"), ("us", "settings.us"))),
    SettingRow(
        "tons", (("", "settings.tons_ask"), ("short", "settings.tons_short"), ("metric", "settings.tons_metric"))
    ),
    SettingRow("mute", ((False, "settings.sounds_on"), (True, "settings.muted"))),
    SettingRow("tap_to_hold", ((False, "settings.hold"), (True, "settings.tap"))),
    SettingRow("reduced_motion", ON_OFF),
    SettingRow("plain_presenting", ON_OFF),
    SettingRow("left_name"),
    SettingRow("right_name"),
    SettingRow("recordings", longest=LONGEST_TEXT),
)


class SettingsScreen(StillScreen):
    """Shows and changes the settings of a desk; Esc goes back."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.chosen = 0
        self.typing: str | None = None
        """The text that is being typed, while one is."""
        self._spots: Spots[tuple[int, int]] = Spots()
        self._is_drawn = False

    @property
    def _row(self) -> SettingRow:
        return ROWS[self.chosen]

    # Events -----------------------------------------------------------------------------------------------------

    def take_event(self, event: pygame.event.Event) -> Go:
        """Up and down choose a row, left and right a value; Enter changes it or begins to type."""
        if is_back(event):
            return BACK
        if event.type == pygame.MOUSEBUTTONDOWN:
            self._click(event.pos)
        if event.type != pygame.KEYDOWN:
            return STAY
        self._is_drawn = False
        if self.typing is not None:
            self._type(event)
        elif event.key in (pygame.K_ESCAPE, pygame.K_F2):
            return BACK
        elif event.key in (pygame.K_DOWN, pygame.K_TAB):
            self.chosen = (self.chosen + 1) % len(ROWS)
        elif event.key == pygame.K_UP:
            self.chosen = (self.chosen - 1) % len(ROWS)
        elif event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._turn(-1 if event.key == pygame.K_LEFT else 1)
        elif event.key in (*ENTER_KEYS, pygame.K_SPACE):
            self._enter()
        return STAY

    def _enter(self) -> None:
        if self._row.choices:
            self._turn(1, round_again=True)
        else:
            self.typing = str(self._value(self._row))

    def _turn(self, by: int, *, round_again: bool = False) -> None:
        values = [value for value, _ in self._row.choices]
        if not values:
            return
        place = values.index(self._value(self._row)) + by
        place = place % len(values) if round_again else min(len(values) - 1, max(0, place))
        self.desk.change(**{self._row.name: values[place]})

    def _type(self, event: pygame.event.Event) -> None:
        assert self.typing is not None
        if event.key in ENTER_KEYS:
            self.desk.change(**{self._row.name: self.typing.strip()})
            self.typing = None
        elif event.key == pygame.K_ESCAPE:
            self.typing = None
        elif event.key == pygame.K_BACKSPACE:
            self.typing = self.typing[:-1]
        elif event.unicode.isprintable():
            self.typing = (self.typing + event.unicode)[: self._row.longest]

    def _click(self, pos: tuple[float, float]) -> None:
        found = self._spots.at(pos)
        if found is None:
            return
        self._is_drawn, self.typing = False, None
        self.chosen, choice = found
        if choice >= 0:
            self.desk.change(**{self._row.name: self._row.choices[choice][0]})
        elif not self._row.choices:
            self._enter()

    def _value(self, row: SettingRow) -> object:
        return getattr(self.desk.settings, row.name)

    # Drawing ----------------------------------------------------------------------------------------------------

    def draw(self, canvas: Canvas) -> None:
        """Draws the whole screen."""
        canvas.clear(PAPER)
        self._spots.clear()
        draw_head(canvas, say("settings.title"), say("settings.words"))
        draw_back(canvas)
        for index, row in enumerate(ROWS):
            self._draw_row(canvas, index, row)
        self._draw_side(canvas)
        draw_caution_line(canvas, FOOT_KEYS if self.typing is None else TEXT_KEYS, left=48.0)

    def _draw_row(self, canvas: Canvas, index: int, row: SettingRow) -> None:
        y = TOP + index * PITCH
        if index == self.chosen:
            canvas.box(LEFT - 6.0, y - 6.0, WIDTH + 12.0, ROW_H + 12.0, fill=INK, radius=12.0)
        canvas.box(LEFT, y, WIDTH, ROW_H, fill=PANEL, edge=None if index == self.chosen else RULE, radius=8.0)
        self._spots.add(LEFT, y, WIDTH, ROW_H, (index, -1))
        canvas.text(say(f"settings.{row.name}"), LEFT + 24.0, y + 50.0, 32.0, weight="bold", width=390.0)
        if not row.choices:
            self._draw_text(canvas, index, row, y)
            return
        width = (LEFT + WIDTH - 24.0 - VALUE_X) / len(row.choices)
        for place, (value, words) in enumerate(row.choices):
            is_on = value == self._value(row)
            x = VALUE_X + place * width
            canvas.box(x, y + 12.0, width - 10.0, ROW_H - 24.0, fill=INK if is_on else PANEL, edge=INK, radius=8.0)
            self._spots.add(x, y + 12.0, width - 10.0, ROW_H - 24.0, (index, place))
            color, left = (PANEL, x + 56.0) if is_on else (INK, x + 24.0)
            if is_on:
                icon(canvas, "tick", x + 30.0, y + ROW_H / 2.0, 30.0, fill=PANEL, mark=INK)
            canvas.text(say(words), left, y + 49.0, 28.0, weight="bold", color=color, width=x + width - 20.0 - left)

    def _draw_text(self, canvas: Canvas, index: int, row: SettingRow, y: float) -> None:
        width = LEFT + WIDTH - 34.0 - VALUE_X
        is_typed = self.typing is not None and index == self.chosen
        canvas.box(VALUE_X, y + 12.0, width, ROW_H - 24.0, fill=PANEL, edge=INK if is_typed else RULE,
                   edge_width=4.0 if is_typed else 2.0, radius=8.0)  # fmt: skip
        text = str(self.typing) if is_typed else str(self._value(row))
        room = width - 48.0
        if not text and not is_typed:
            empty = str(self.desk.settings.recordings_folder) if row.name == "recordings" else say("settings.empty")
            canvas.text(tail_of(canvas, empty, room), VALUE_X + 20.0, y + 49.0, 28.0, weight="medium", color=INK_2)
            return
        used = canvas.text(tail_of(canvas, text, room), VALUE_X + 20.0, y + 49.0, 28.0) if text else 0.0
        if is_typed:
            canvas.rect(VALUE_X + 22.0 + used, y + 24.0, 3.0, ROW_H - 48.0, INK)

    def _draw_side(self, canvas: Canvas) -> None:
        draw_panel(canvas, SIDE_X, TOP, SIDE_W, (len(ROWS) - 1) * PITCH + ROW_H)
        x, room = SIDE_X + 28.0, SIDE_W - 56.0
        canvas.text(say(f"settings.{self._row.name}"), x, TOP + 50.0, 34.0, weight="bold", width=room)
        words = say(f"settings.{self._row.name}_words")
        y = draw_paragraph(
            canvas, lines_of(canvas, words, room, size=26.0, weight="medium", most=9), x, TOP + 96.0, room
        )
        said = ""
        if self.desk.slow_present_ms:
            said = say("settings.slow_present", value=f"{self.desk.slow_present_ms:.0f}")
        if self.desk.dear_present_ms:
            said = say("settings.dear_present", value=f"{self.desk.dear_present_ms:.0f}")
        if self._row.name == "plain_presenting" and said:
            draw_paragraph(canvas, lines_of(canvas, said, room, size=26.0, most=4), x, y + 12.0, room, is_strong=True)
        self._draw_file(canvas, x, room)

    def _draw_file(self, canvas: Canvas, x: float, room: float) -> None:
        """Where the settings are kept, or what is wrong there."""
        if self.desk.faults:
            lines = [one for fault in self.desk.faults for one in lines_of(canvas, fault, room - 60.0, most=5)][:8]
            height = 34.0 * len(lines) + 24.0
            top = TOP + (len(ROWS) - 1) * PITCH + ROW_H - height - 20.0
            canvas.box(x - 8.0, top, room + 16.0, height, fill=CAUTION_TINT, edge=CAUTION, radius=6.0)
            icon(canvas, "caution", x + 22.0, top + 30.0, 32.0)
            draw_paragraph(canvas, lines, x + 52.0, top + 38.0, room - 60.0, size=24.0, is_strong=True)
        elif self.desk.path is not None:
            lines = _path_lines(canvas, str(self.desk.path), room)
            y = TOP + (len(ROWS) - 1) * PITCH + ROW_H - 28.0 - 34.0 * len(lines)
            canvas.text(say("settings.kept_in"), x, y, 24.0, color=INK_2, width=room)
            for number, line in enumerate(lines, 1):
                canvas.text(line, x, y + 34.0 * number, 24.0, weight="medium", color=INK_2)


def _path_lines(canvas: Canvas, path: str, room: float, *, most: int = 4) -> list[str]:
    """A path in lines of the side panel, broken before its separators; of one that is longer still, the end."""
    lines = [""]
    for piece in re.split(r"(?=[/\\])", path):
        longer = lines[-1] + piece
        if lines[-1] and canvas.text_width(longer, 24.0) > room:
            lines.append(piece)
        else:
            lines[-1] = longer
    return [tail_of(canvas, line, room, size=24.0) for line in lines[-most:]]
