"""Where keys go on the layout screen: fields, pictures, what governs, the path, what would help."""

from __future__ import annotations

import pygame

from simulator.window.layout import panels
from simulator.window.layout.field_panel import rows_shown
from simulator.window.layout.one_field import GROUPS, Typed
from simulator.window.layout.panels import Focus
from simulator.window.layout.work import Ask, Option, Work
from simulator.words import say

ENTER_KEYS = (pygame.K_RETURN, pygame.K_KP_ENTER)
AREAS = ("fields", "views", "rows", "path", "helps")
STEP = 1
ARROWS = {pygame.K_LEFT: (-STEP, 0), pygame.K_RIGHT: (STEP, 0), pygame.K_UP: (0, STEP), pygame.K_DOWN: (0, -STEP)}
LONGEST_TYPED = 40


class Board:
    """What is open, what has the focus, what is being typed."""

    def __init__(self, work: Work, sign: float) -> None:
        self.work = work
        self.sign = sign
        """+1 where x grows to the right in the pictures."""
        self.group = GROUPS[0]
        self.first, self.first_row = 0, 0
        """Of the open group's fields, and of what governs: the one that is shown first."""
        self.focus = Focus("fields", work.sheet.fields[0].key)
        self.typed: str | None = None
        """What is being typed in the field in focus."""
        self.grip: str = ""
        """The grip that arrows move."""

    def next_area(self, by: int) -> None:
        self.take_typed()
        self._enter_area(AREAS[(AREAS.index(self.focus.area) + by) % len(AREAS)])

    def _enter_area(self, area: str) -> None:
        """The first thing in an area, or the one that was chosen there."""
        grips = [one.key for one in self.work.sheet.grips]
        key = {"fields": self._open[0].key, "views": self.grip or grips[0], "path": "", "helps": "0"}.get(area, "0")
        self.focus = Focus(area, key)
        if area == "views":
            self.grip = key
        elif area == "rows":
            self.work.look_at_row(self.first_row)
            self.focus = Focus("rows", str(self.first_row))

    @property
    def _open(self) -> list[Typed]:
        """Fields of the open group."""
        return [one for one in self.work.sheet.fields if one.group == self.group]

    def press(self, event: pygame.event.Event) -> None:
        fine = bool(event.mod & pygame.KMOD_SHIFT)
        step = ARROWS.get(event.key, (0, 0))
        {
            "fields": lambda: self._in_fields(event, step, fine=fine),
            "views": lambda: self._in_views(event, step, fine=fine),
            "rows": lambda: self._in_rows(-step[1]),
            "path": lambda: self.work.look_at_station(self.work.station + step[0]),
            "helps": lambda: self._in_helps(event, -step[1]),
        }[self.focus.area]()

    def _in_fields(self, event: pygame.event.Event, step: tuple[int, int], *, fine: bool) -> None:
        sheet, key = self.work.sheet, self.focus.key
        if event.key in ENTER_KEYS:
            if self.typed is None:
                self.typed = self.begun()
            else:
                self.take_typed()
                if key not in sheet.half:
                    self._move_field(1)
        elif step[1]:
            self.take_typed()
            self._move_field(-step[1])
        elif event.key in (pygame.K_PAGEDOWN, pygame.K_PAGEUP):
            self.take_typed()
            self.open_group(GROUPS[(GROUPS.index(self.group) + (1 if event.key == pygame.K_PAGEDOWN else -1)) % 4])
        elif step[0] and self.typed is None:
            sheet.step(key, step[0], fine=fine)
        elif event.key == pygame.K_BACKSPACE or event.unicode.isprintable():
            self.typed = edited(self._typed_so_far, event, most=self._longest)

    @property
    def _longest(self) -> int:
        """Letters that are taken in: of a text more than it may have, so that it is said and nothing is lost."""
        longest = self.work.sheet.field(self.focus.key).longest
        return 2 * longest if longest else LONGEST_TYPED

    @property
    def _typed_so_far(self) -> str:
        """What a key is added to: a number is typed anew, a text goes on."""
        return self.begun() if self.typed is None and self._longest > LONGEST_TYPED else self.typed or ""

    def begun(self) -> str:
        """What stands in a field as somebody begins to type with Enter; nothing where nothing is there."""
        sheet, key = self.work.sheet, self.focus.key
        is_empty = sheet.field(key).longest and key not in sheet.half and sheet.field(key).get(sheet.lift) is None
        return "" if is_empty else sheet.shown(key)

    def paste(self, text: str) -> None:
        """A text from elsewhere, into the field in focus; its lines become one."""
        if self.focus.area == "fields" and self.work.sheet.field(self.focus.key).is_typed:
            words = "".join(letter if letter.isprintable() else " " for letter in text)
            self.typed = (self._typed_so_far + words)[: self._longest]

    def take_typed(self) -> None:
        """Enter takes a field."""
        text, self.typed = self.typed, None
        if text is None:
            return
        key, sheet = self.focus.key, self.work.sheet
        asks = sheet.asks_which_tons(text, key)
        if text != sheet.shown(key) or key in sheet.half:
            sheet.type(key, text)
        if asks:
            options = (
                Option("s", say("layout.ask_tons_short"), "short"),
                Option("m", say("layout.ask_tons_metric"), "metric"),
            )
            self.work.ask = Ask(say("layout.ask_tons"), options)

    def _move_field(self, by: int) -> None:
        keys = [one.key for one in self._open]
        at = keys.index(self.focus.key) if self.focus.key in keys else 0
        at = max(0, min(len(keys) - 1, at + by))
        self.focus = Focus("fields", keys[at])
        self.first = max(min(self.first, at), at - rows_shown() + 1)

    def open_group(self, group: str) -> None:
        self.group, self.first = group, 0
        self.focus = Focus("fields", self._open[0].key)

    def _in_views(self, event: pygame.event.Event, step: tuple[int, int], *, fine: bool) -> None:
        grips = self.work.sheet.grips
        keys = list(dict.fromkeys(one.key for one in grips))
        at = keys.index(self.grip) if self.grip in keys else 0
        if event.key in (*ENTER_KEYS, pygame.K_PAGEDOWN, pygame.K_SPACE):
            at = (at + 1) % len(keys)
        elif event.key == pygame.K_PAGEUP:
            at = (at - 1) % len(keys)
        elif step != (0, 0):
            moved = step[0] * int(self.sign), step[1]
            mine = [one for one in grips if one.key == keys[at]]
            axis = 0 if step[0] else 1
            one = next((grip for grip in mine if any(move.axis == axis for move in grip.moves)), None)
            if one is not None:
                sign = -1 if one.view == "across" else 1
                self.work.sheet.nudge(one, (step[0] * sign if sign < 0 else moved[0]), moved[1], fine=fine)
        self.grip = keys[at]
        self.focus = Focus("views", self.grip)

    def _in_rows(self, by: int) -> None:
        judged = self.work.judged
        if judged is None:
            return
        at = max(0, min(len(judged.rows) - 1, int(self.focus.key or 0) + by))
        self.choose_row(at)

    def choose_row(self, at: int) -> None:
        self.focus = Focus("rows", str(at))
        self.first_row = max(min(self.first_row, at), at - panels.governs_shown() + 1)
        self.work.look_at_row(at)

    def _in_helps(self, event: pygame.event.Event, by: int) -> None:
        at = max(0, min(max(0, len(self.work.helps) - 1), int(self.focus.key or 0) + by))
        self.focus = Focus("helps", str(at))
        self.work.look_at_row(None)
        if event.key in ENTER_KEYS:
            self.work.take_help(at)

    def scroll(self, rows: int, *, is_left: bool) -> None:
        """The list under the mouse."""
        if is_left:
            most = max(0, len(self._open) - rows_shown())
            self.first = max(0, min(most, self.first + rows))
        elif self.work.judged is not None:
            most = max(0, len(self.work.judged.rows) - panels.governs_shown())
            self.first_row = max(0, min(most, self.first_row + rows))


def edited(text: str, event: pygame.event.Event, *, most: int = LONGEST_TYPED) -> str:
    """A text after a key."""
    if event.key == pygame.K_BACKSPACE:
        return text[:-1]
    is_letter = len(event.unicode) == 1 and event.unicode.isprintable()
    return (text + event.unicode)[:most] if is_letter else text
