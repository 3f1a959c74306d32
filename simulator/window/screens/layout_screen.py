"""The screen on which a lift is laid out by mouse and keys, its verdict live."""

from __future__ import annotations

from pathlib import Path

import pygame

from simulator.mechanics.trailer import stated_mass_kg
from simulator.scenario.asked_numbers import System
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line
from simulator.window.kit.measures_shown import mass
from simulator.window.kit.palette import INK, INK_2, PANEL, PAPER
from simulator.window.kit.pieces import draw_key, lines_of
from simulator.window.layout import panels
from simulator.window.layout.fields import GROUPS, Typed
from simulator.window.layout.grips import Grip, View
from simulator.window.layout.kept import file_name
from simulator.window.layout.panels import Focus
from simulator.window.layout.views import Frame, Pictures
from simulator.window.layout.work import Ask, Option, Work
from simulator.window.screens.cards import ENTER_KEYS
from simulator.window.screens.screen import STAY, Go, StillScreen
from simulator.window.shell.lift import Choice
from simulator.window.shell.lifts_on_offer import user_folder
from simulator.words import say

AREAS = ("fields", "views", "rows", "path", "helps")
ARROWS = {pygame.K_LEFT: (-1, 0), pygame.K_RIGHT: (1, 0), pygame.K_UP: (0, 1), pygame.K_DOWN: (0, -1)}
HELP_KEYS = (pygame.K_F6, pygame.K_F7, pygame.K_F8)
FOOT_KEYS = (
    ("key.f5", "layout.key_drive"), ("layout.ctrl_p", "layout.key_sheet"),
    ("layout.ctrl_s", "layout.key_save"), ("layout.ctrl_z", "layout.key_undo"), ("key.escape", "key.back"),
)  # fmt: skip
LONGEST_TYPED = 40
PAGE = 8


class LayoutScreen(StillScreen):
    """One lift on the drawing board."""

    def __init__(self, work: Work, system: System) -> None:
        self.work, self.system = work, system
        self.group = GROUPS[0]
        self.first, self.first_row = 0, 0
        """Of the open group's fields, and of what governs: the one that is shown first."""
        self.focus = Focus("fields", work.sheet.fields[0].key)
        self.typed: str | None = None
        """What is being typed in the field in focus."""
        self.naming: str | None = None
        """What is being typed as the file's name."""
        self.grip: str = ""
        """The grip that arrows move."""
        self._spots = panels.Spots([])
        self._press: tuple[float, float] | None = None
        self._held: tuple[Grip, dict[View, Frame]] | None = None
        self._pictures: tuple[int, Pictures] | None = None
        self._mouse = (0.0, 0.0)

    @property
    def is_menu(self) -> bool:
        """Gamepads work it like arrows and Enter."""
        return True

    @property
    def pictures(self) -> Pictures:
        """The three views of the lift as it is now."""
        count = self.work.sheet.count
        if self._pictures is None or self._pictures[0] != count:
            held = self._held[1] if self._held else None
            self._pictures = count, Pictures(self.work.sheet.lift, self.system, held=held)
        return self._pictures[1]

    def leave(self) -> None:
        """Another screen comes, or the program ends: what is half typed is kept."""
        self._take_typed()
        self.work.sheet.let_go()
        self.work.keep_draft()

    # Events -------------------------------------------------------------------------------------------------------

    def take_event(self, event: pygame.event.Event) -> Go:
        """Keys, or the mouse."""
        if event.type == pygame.KEYDOWN:
            self._is_drawn = False
            return self._key(event)
        if event.type in (pygame.MOUSEBUTTONDOWN, pygame.MOUSEBUTTONUP, pygame.MOUSEMOTION):
            self._mouse = event.pos
        if event.type == pygame.MOUSEBUTTONDOWN:
            self._is_drawn = False
            return self._press_mouse(*event.pos)
        if event.type == pygame.MOUSEMOTION and self._press is not None:
            self._drag(*event.pos)
        elif event.type == pygame.MOUSEBUTTONUP:
            self._release()
        elif event.type == pygame.MOUSEWHEEL:
            self._scroll(-event.y)
        return STAY

    def _key(self, event: pygame.event.Event) -> Go:
        if self.work.ask is not None:
            return self._answer(event)
        if self.naming is not None:
            self._name(event)
            return STAY
        if event.mod & (pygame.KMOD_CTRL | pygame.KMOD_META):
            self._control(event)
            return STAY
        if event.key == pygame.K_F5:
            return self._drive()
        if event.key in HELP_KEYS:
            self.work.take_help(HELP_KEYS.index(event.key))
        elif event.key == pygame.K_ESCAPE:
            return self._escape()
        elif event.key == pygame.K_TAB:
            self._next_area(-1 if event.mod & pygame.KMOD_SHIFT else 1)
        else:
            self._in_area(event)
        return STAY

    def _control(self, event: pygame.event.Event) -> None:
        sheet = self.work.sheet
        is_back = event.key == pygame.K_z and not event.mod & pygame.KMOD_SHIFT
        if event.key not in (pygame.K_z, pygame.K_y):
            self._take_typed()
        if is_back:
            self.typed = None
            self.work.message = say("layout.undone") if sheet.can_undo else ""
            sheet.undo()
        elif event.key in (pygame.K_y, pygame.K_z):
            self.work.message = say("layout.redone") if sheet.can_redo else ""
            sheet.redo()
        elif event.key == pygame.K_s:
            if self.work.path is None:
                self.naming = file_name(sheet.lift.title).removesuffix(".toml")
            else:
                self.work.save_to(self.work.path)
        elif event.key == pygame.K_p:
            self.work.print_sheet(file_name(sheet.lift.title).removesuffix(".toml"))

    def _name(self, event: pygame.event.Event) -> None:
        """The file's name is typed."""
        if event.key == pygame.K_ESCAPE:
            self.naming = None
        elif event.key in ENTER_KEYS:
            name, self.naming = self.naming or "", None
            self.work.save_to(user_folder() / file_name(name))
        else:
            self.naming = _edited(self.naming or "", event)

    def _answer(self, event: pygame.event.Event) -> Go:
        """A key at a question."""
        names = {pygame.K_ESCAPE: "esc", **dict.fromkeys(ENTER_KEYS, "enter")}
        key = names.get(event.key, event.unicode.lower())
        ask = self.work.ask
        if ask is not None:
            for option in ask.options:
                if option.key == key:
                    self._do(option)
        return STAY

    def _do(self, option: Option) -> None:
        self.work.ask = None
        what, _, rest = option.what.partition(" ")
        if what == "save":
            self.work.save_to(Path(rest))
        elif what in ("short", "metric"):
            self.work.sheet.say_tons("short" if what == "short" else "metric")

    def _escape(self) -> Go:
        """What is typed is forgotten; a row is let go; else back."""
        if self._held is not None:
            self.work.sheet.drop()
            self._held = self._press = None
            return STAY
        if self.typed is not None:
            self.typed = None
            return STAY
        if self.focus.area == "fields" and self.focus.key in self.work.sheet.half:
            self.work.sheet.forget_half(self.focus.key)
            return STAY
        if self.work.row is not None:
            self.work.look_at_row(None)
            return STAY
        return back_to_start(Choice(self.work.sheet.lift, "two"))

    def _drive(self) -> Go:
        self._take_typed()
        if self.work.sheet.half:
            self.work.message = say("layout.half_left", count=len(self.work.sheet.half))
            return STAY
        why = self.work.bench.declined(self.work.sheet.lift)
        if why:
            self.work.message = why
            return STAY
        return to_seats(Choice(self.work.sheet.lift, "two"))

    # Areas --------------------------------------------------------------------------------------------------------

    def _next_area(self, by: int) -> None:
        self._take_typed()
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

    def _in_area(self, event: pygame.event.Event) -> None:
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
                self.typed = sheet.shown(key)
            else:
                self._take_typed()
                if key not in sheet.half:
                    self._move_field(1)
        elif step[1]:
            self._take_typed()
            self._move_field(-step[1])
        elif event.key in (pygame.K_PAGEDOWN, pygame.K_PAGEUP):
            self._take_typed()
            self._open_group(GROUPS[(GROUPS.index(self.group) + (1 if event.key == pygame.K_PAGEDOWN else -1)) % 4])
        elif step[0] and self.typed is None:
            sheet.step(key, step[0], fine=fine)
        elif event.key == pygame.K_BACKSPACE or event.unicode.isprintable():
            self.typed = _edited(self.typed or "", event)

    def _take_typed(self) -> None:
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
        self.first = max(min(self.first, at), at - panels.rows_shown() + 1)

    def _open_group(self, group: str) -> None:
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
            moved = step[0] * int(self.pictures.camera.sign), step[1]
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
        self._choose_row(at)

    def _choose_row(self, at: int) -> None:
        self.focus = Focus("rows", str(at))
        self.first_row = max(min(self.first_row, at), at - panels.governs_shown() + 1)
        self.work.look_at_row(at)

    def _in_helps(self, event: pygame.event.Event, by: int) -> None:
        at = max(0, min(max(0, len(self.work.helps) - 1), int(self.focus.key or 0) + by))
        self.focus = Focus("helps", str(at))
        self.work.look_at_row(None)
        if event.key in ENTER_KEYS:
            self.work.take_help(at)

    # The mouse ----------------------------------------------------------------------------------------------------

    def _press_mouse(self, x: float, y: float) -> Go:
        if self.work.ask is not None:
            place = self._spots.at(x, y)
            if place is not None and place[0] == "option":
                self._do(self.work.ask.options[int(str(place[1]))])
            return STAY
        self._take_typed()
        grip = self.pictures.grip_at(x, y)
        if grip is not None:
            self.grip, self.focus = grip.key, Focus("views", grip.key)
            self._press, self._held = (x, y), (grip, self.pictures.frames)
            self.work.sheet.take_hold(grip)
            return STAY
        place = self._spots.at(x, y)
        return self._click(*place) if place is not None else STAY

    def _click(self, kind: str, what: object) -> Go:
        if kind == "group":
            self._open_group(str(what))
        elif kind == "field":
            self.focus = Focus("fields", str(what))
            if self.work.sheet.field(str(what)).kind is None:
                self.work.sheet.step(str(what), 1)
            else:
                self.typed = ""
        elif kind == "row":
            self._choose_row(int(str(what)))
        elif kind == "stop":
            self.focus = Focus("path")
            self.work.look_at_station(int(str(what)))
        elif kind == "help":
            self.work.take_help(int(str(what)))
        return STAY

    def _drag(self, x: float, y: float) -> None:
        if self._press is None or self._held is None:
            return
        grip = self._held[0]
        du, dv = self.pictures.meters(grip.view, x - self._press[0], y - self._press[1])
        self.work.sheet.drag(du, dv, fine=bool(pygame.key.get_mods() & pygame.KMOD_SHIFT))
        self._is_drawn = False

    def _release(self) -> None:
        if self._held is not None:
            self.work.sheet.let_go()
            self._held = self._press = None
            self._pictures = None
            self._is_drawn = False

    def _scroll(self, rows: int) -> None:
        """The list under the mouse."""
        if self._mouse[0] < panels.FIELDS.right:
            most = max(0, len(self._open) - panels.rows_shown())
            self.first = max(0, min(most, self.first + rows))
        elif self.work.judged is not None:
            most = max(0, len(self.work.judged.rows) - panels.governs_shown())
            self.first_row = max(0, min(most, self.first_row + rows))
        self._is_drawn = False

    # Drawing ------------------------------------------------------------------------------------------------------

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """Goes on with the work, and draws when there is something new."""
        if self.work.go_on(elapsed_s):
            self._is_drawn = False
        return super().frame(canvas, elapsed_s)

    def draw(self, canvas: Canvas) -> None:
        """Draws all of it."""
        draw_layout(canvas, self, self._spots)


def draw_layout(canvas: Canvas, screen: LayoutScreen, spots: panels.Spots) -> None:
    """The whole screen; remembers what answers the mouse."""
    work, sheet = screen.work, screen.work.sheet
    spots.rows.clear()
    canvas.clear(PAPER)
    _head(canvas, screen)
    panels.draw_verdict(canvas, work.judged, sheet, old=work.why_old, moving=work.is_moving)
    look = panels.FieldsLook(sheet, screen.group, screen.focus, screen.typed, screen.first)
    panels.draw_fields(canvas, look, spots)
    chosen = screen.grip if screen.focus.area == "views" else ""
    rooms = work.rooms if not sheet.is_dragging else ()
    screen.pictures.draw(canvas, work.stop, room=rooms, row=work.row, chosen=chosen)
    is_old = bool(work.why_old)
    panels.draw_ribbon(canvas, work.judged, work.station, screen.focus, spots, is_old=is_old)
    panels.draw_governs(canvas, work.judged, sheet, screen.focus, spots, first=screen.first_row, is_old=is_old)
    lines = (
        () if work.row is None else tuple(lines_of(canvas, _capital(work.row.sentence), 452.0, weight="medium", most=7))
    )
    panels.draw_helps(canvas, panels.HelpsLook(work.helps, work.is_trying, screen.focus, lines), spots)
    draw_caution_line(canvas, FOOT_KEYS)
    _ask(canvas, screen, spots)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _head(canvas: Canvas, screen: LayoutScreen) -> None:
    work, sheet = screen.work, screen.work.sheet
    canvas.rect(0.0, 0.0, 1920.0, 118.0, PANEL)
    canvas.rect(0.0, 118.0, 1920.0, 2.0, INK)
    canvas.text(say("layout.title"), 24.0, 48.0, 42.0, weight="bold")
    saved = say("layout.is_saved", name=work.path.name) if work.is_saved and work.path else say("layout.not_saved_yet")
    words = work.message or f"{sheet.lift.title}, {saved}"
    for n, line in enumerate(lines_of(canvas, words, 590.0, weight="medium", most=2)):
        canvas.text(line, 24.0, 80.0 + n * 28.0, 24.0, weight="medium", color=INK_2, width=600.0)
    weight = mass(stated_mass_kg(sheet.lift.trailer), screen.system).joined
    canvas.text(say("layout.papers", weight=weight), 1896.0, 46.0, 26.0, weight="semibold", anchor="right", width=380.0)
    tons = say(f"layout.tons_{sheet.tons}") if sheet.tons else say("program.invented")
    canvas.text(tons, 1896.0, 84.0, 24.0, weight="medium", color=INK_2, anchor="right", width=380.0)


def _ask(canvas: Canvas, screen: LayoutScreen, spots: panels.Spots) -> None:
    """A question over the screen, or the file's name."""
    ask = screen.work.ask
    if ask is None and screen.naming is None:
        return
    canvas.veil(0.0, 120.0, 1920.0, 916.0)
    rows = (
        ask.options
        if ask
        else (Option("enter", say("layout.name_take"), ""), Option("esc", say("layout.name_not"), ""))
    )
    x, y, w, h = 460.0, 360.0, 1000.0, 130.0 + 64.0 * len(rows) + (0.0 if ask else 64.0)
    canvas.box(x, y, w, h, fill=PANEL, edge=INK, edge_width=4.0, radius=10.0)
    canvas.text(ask.text if ask else say("layout.name_ask"), x + 32.0, y + 62.0, 36.0, weight="bold", width=w - 64.0)
    at = y + 96.0
    if not ask:
        canvas.box(x + 32.0, at, w - 64.0, 52.0, fill=PANEL, edge=INK, edge_width=3.0, radius=6.0)
        canvas.text(f"{screen.naming}|", x + 48.0, at + 37.0, 30.0, weight="semibold")
        at += 64.0
    for n, option in enumerate(rows):
        cap = {"enter": say("key.enter"), "esc": say("key.escape")}.get(option.key, option.key.upper())
        wide = draw_key(canvas, cap, x + 32.0, at + n * 64.0, height=44.0, size=28.0)
        canvas.text(option.words, x + 48.0 + wide, at + n * 64.0 + 32.0, 28.0, width=w - wide - 90.0)
        spots.add(x, at + n * 64.0 - 8.0, w, 60.0, ("option", n))


def _edited(text: str, event: pygame.event.Event) -> str:
    """A text after a key."""
    if event.key == pygame.K_BACKSPACE:
        return text[:-1]
    is_letter = len(event.unicode) == 1 and event.unicode.isprintable()
    return (text + event.unicode)[:LONGEST_TYPED] if is_letter else text


def back_to_start(choice: Choice) -> Go:
    """To the start screen, with this lift chosen."""
    return Go("start", choice)


def to_seats(choice: Choice) -> Go:
    """To the seats: it is driven."""
    return Go("seats", choice)
