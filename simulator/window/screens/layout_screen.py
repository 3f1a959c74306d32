"""The screen on which a lift is laid out by mouse and keys, its verdict live."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pygame

from simulator.scenario.asked_numbers import System
from simulator.scenario.description import Description
from simulator.scenario.retold import retold
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.regions import screen_sign
from simulator.window.layout import panels
from simulator.window.layout.answers import Bench
from simulator.window.layout.board import Board, edited
from simulator.window.layout.grips import Grip, View
from simulator.window.layout.kept import Draft, beside, digest_of, draft_path, file_name, kept, save
from simulator.window.layout.own_pieces import look_again
from simulator.window.layout.panels import Focus
from simulator.window.layout.ravine_camera import Frame
from simulator.window.layout.sheet import Sheet, rounded
from simulator.window.layout.unit_entry import Entry
from simulator.window.layout.views import Pictures
from simulator.window.layout.work import Ask, Option, Work
from simulator.window.screens.layout_view import KeptLayout, draw_layout
from simulator.window.screens.own_unit_screen import OwnUnitScreen
from simulator.window.screens.screen import ENTER_KEYS, STAY, Go, Screen, Shell, StillScreen, to_start
from simulator.window.screens.seat_check import sit_down
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice
from simulator.window.shell.lifts_on_offer import user_folder
from simulator.window.shell.rubbish import set_aside
from simulator.words import say

HELP_KEYS = (pygame.K_F6, pygame.K_F7, pygame.K_F8)


def lay_out(choice: Choice | None, path: Path | None = None) -> Callable[[Shell], Screen]:
    """The layout screen, asking first what to begin from.

    Args:
        choice: the lift that is chosen on the start screen.
        path: the user's own file that it is from.
    """

    def made(shell: Shell) -> Screen:
        desk = shell.desk
        look_again()
        assert desk.lay is not None
        bench = desk.lay(desk.settings.units)
        lift = choice.description if choice is not None else bench.new()
        screen = LayoutScreen(_work(desk, bench, Sheet(lift, system=desk.settings.units, settle=bench.settled)), desk)
        screen.begins_from(choice, path)
        return screen

    return made


def _work(desk: Desk, bench: Bench, sheet: Sheet, path: Path | None = None, digest: str = "") -> Work:
    return Work(sheet, bench, path=path, digest=digest, draft=draft_path() if desk.path is not None else None)


class LayoutScreen(StillScreen):
    """One lift on the drawing board."""

    def __init__(self, work: Work, desk: Desk) -> None:
        self.work, self.desk = work, desk
        self.system: System = desk.settings.units
        self.board = Board(work, screen_sign(work.sheet.lift))
        self.naming: str | None = None
        """What is being typed as the file's name."""
        self.shows_missing = False
        """All that a verdict needs and does not have stands where else stands what would help."""
        self.kept = KeptLayout()
        self._is_set_aside = False
        self._spots = panels.Spots([])
        self._press: tuple[float, float] | None = None
        self._held: tuple[Grip, dict[View, Frame]] | None = None
        self._pictures: tuple[int, Pictures] | None = None
        self._mouse = (0.0, 0.0)
        self._draft: Draft | None = None
        self._path: Path | None = None

    # What it begins from ------------------------------------------------------------------------------------------

    def begins_from(self, choice: Choice | None, path: Path | None) -> None:
        """Ask: the draft that is kept, the lift that was chosen, or a new one."""
        self._path = path
        self._draft = self._kept_draft()
        options = []
        if self._draft is not None:
            words = say("layout.ask_go_on", title=self._said(self._draft.sheet.lift))
            options.append(Option("enter", words, "draft"))
        if choice is not None:
            words = say("layout.ask_from_chosen", title=self._said(choice.description))
            options.append(Option("b" if options else "enter", words, "chosen"))
        options.append(Option("n" if options else "enter", say("layout.ask_from_new"), "new"))
        text = say("layout.ask_draft" if self._draft is not None else "layout.ask_from")
        self.work.ask = Ask(text, (*options, Option("esc", say("key.back"), "back")))

    def _said(self, lift: Description) -> str:
        """A title in the user's units."""
        return retold(lift.title, us=self.system == "us")

    def _kept_draft(self) -> Draft | None:
        if self.desk.path is None:
            return None
        return kept(self.system, self.work.bench.settled)

    def _begin(self, what: str) -> None:
        """What was answered; a draft that is not gone on with becomes a file among the user's lifts."""
        bench, draft = self.work.bench, self._draft
        if what == "draft" and draft is not None:
            self.work = _work(self.desk, bench, draft.sheet, draft.path, draft.digest)
            self.work.is_saved = False
        elif what == "new":
            lift = rounded(bench.new(), self.system, bench.settled)
            self.work = _work(self.desk, bench, Sheet(lift, system=self.system, settle=bench.settled))
        elif self._path is not None:
            self.work = _work(self.desk, bench, self.work.sheet, self._path, digest_of(self._path))
        if what != "draft" and draft is not None:
            self._put_away(draft)
        self._pictures = None
        self.board = Board(self.work, screen_sign(self.work.sheet.lift))

    def _put_away(self, draft: Draft) -> None:
        place = user_folder() / file_name(draft.sheet.lift.title)
        place = beside(place) if place.exists() else place
        try:
            save(draft.sheet, place)
        except OSError as why:
            self.work.message = say("layout.not_saved", why=str(why))
        else:
            self.work.message = say("layout.put_away", path=place)
            self.desk.offers = None

    @property
    def pictures(self) -> Pictures:
        """The three views of the lift as it is now."""
        count = self.work.sheet.count
        if self._pictures is None or self._pictures[0] != count:
            held = self._held[1] if self._held else None
            before = self._pictures[1] if self._pictures else None
            self._pictures = count, Pictures(self.work.sheet.lift, self.system, held=held, before=before)
        return self._pictures[1]

    def leave(self) -> None:
        """Another screen comes, or the program ends: what is half typed is kept."""
        self.board.take_typed()
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
            self.board.scroll(-event.y, is_left=self._mouse[0] < panels.FIELDS.right)
            self._is_drawn = False
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
        if event.key == pygame.K_F9:
            return Go(self._own_unit)
        if event.key == pygame.K_F4:
            self.show_missing()
        elif event.key in HELP_KEYS:
            self.work.take_help(HELP_KEYS.index(event.key))
        elif event.key == pygame.K_ESCAPE:
            return self._escape()
        elif event.key == pygame.K_TAB:
            self.board.next_area(-1 if event.mod & pygame.KMOD_SHIFT else 1)
        else:
            self.board.press(event)
        return STAY

    def _control(self, event: pygame.event.Event) -> None:
        sheet = self.work.sheet
        if event.key == pygame.K_v:
            self.board.paste(pygame.scrap.get_text())
            return
        is_back = event.key == pygame.K_z and not event.mod & pygame.KMOD_SHIFT
        if event.key not in (pygame.K_z, pygame.K_y):
            self.board.take_typed()
        if is_back:
            self.board.typed = None
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
            self.desk.offers = None
        else:
            self.naming = edited(self.naming or "", event)

    def _answer(self, event: pygame.event.Event) -> Go:
        """A key at a question."""
        if event.key == pygame.K_ESCAPE and any(one.what == "back" for one in self._options):
            return to_start(Choice(self.work.sheet.lift, "two"))
        names = {pygame.K_ESCAPE: "esc", **dict.fromkeys(ENTER_KEYS, "enter")}
        key = names.get(event.key, event.unicode.lower())
        for option in self._options:
            if option.key == key:
                return self._do(option)
        return STAY

    @property
    def _options(self) -> tuple[Option, ...]:
        return self.work.ask.options if self.work.ask else ()

    def _do(self, option: Option) -> Go:
        self.work.ask = None
        if option.what == "back":
            return to_start(Choice(self.work.sheet.lift, "two"))
        what, _, rest = option.what.partition(" ")
        if what == "save":
            self.work.save_to(Path(rest))
        elif what in ("short", "metric"):
            self.work.sheet.say_tons("short" if what == "short" else "metric")
        elif what in ("draft", "chosen", "new"):
            self._begin(what)
        return STAY

    def _escape(self) -> Go:
        """What is typed is forgotten; a row is let go; else back."""
        if self._held is not None:
            self.work.sheet.drop()
            self._held = self._press = None
            return STAY
        if self.board.typed is not None:
            self.board.typed = None
            return STAY
        if self.board.focus.area == "fields" and self.board.focus.key in self.work.sheet.half:
            self.work.sheet.forget_half(self.board.focus.key)
            return STAY
        if self.work.row is not None:
            self.work.look_at_row(None)
            return STAY
        return to_start(Choice(self.work.sheet.lift, "two"))

    def _own_unit(self, _: Shell) -> Screen:
        """One's own unit is entered; back here it has a name."""

        def back(_: Shell) -> Screen:
            look_again()
            self.work.sheet.look_again()
            self._is_drawn = False
            return self

        return OwnUnitScreen(Entry(self.system), back)

    def show_missing(self) -> None:
        """What a verdict needs and does not have, and away again."""
        has_any = self.work.judged is not None and bool(self.work.judged.missing)
        self.shows_missing = has_any and not (self.shows_missing and self.work.row is None)
        self.work.look_at_row(None)

    def _drive(self) -> Go:
        self.board.take_typed()
        if self.work.sheet.half:
            self.work.message = say("layout.half_left", count=len(self.work.sheet.half))
            return STAY
        why = self.work.bench.declined(self.work.sheet.lift)
        if why:
            self.work.message = why
            return STAY
        return Go(sit_down(Choice(self.work.sheet.lift, "two")))

    # The mouse ----------------------------------------------------------------------------------------------------

    def _press_mouse(self, x: float, y: float) -> Go:
        if self.work.ask is not None:
            place = self._spots.at(x, y)
            if place is not None and place[0] == "option":
                return self._do(self.work.ask.options[int(str(place[1]))])
            return STAY
        self.board.take_typed()
        grip = self.pictures.grip_at(x, y)
        if grip is not None:
            self.board.grip, self.board.focus = grip.key, Focus("views", grip.key)
            self._press, self._held = (x, y), (grip, self.pictures.frames)
            self.work.sheet.take_hold(grip)
            return STAY
        place = self._spots.at(x, y)
        return self._click(*place) if place is not None else STAY

    def _click(self, kind: str, what: object) -> Go:
        if kind == "group":
            self.board.open_group(str(what))
        elif kind == "field":
            self.board.focus = Focus("fields", str(what))
            typed = self.work.sheet.field(str(what))
            if not typed.is_typed:
                self.work.sheet.step(str(what), 1)
            else:
                self.board.typed = self.board.begun() if typed.longest else ""
        elif kind == "verdict":
            self.show_missing()
        elif kind == "row":
            self.board.choose_row(int(str(what)))
        elif kind == "stop":
            self.board.focus = Focus("path")
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

    # Drawing ------------------------------------------------------------------------------------------------------

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """Goes on with the work, and draws when there is something new."""
        if self.work.go_on(elapsed_s):
            self._is_drawn = False
        is_new = super().frame(canvas, elapsed_s)
        if not self._is_set_aside:
            self._is_set_aside = True
            set_aside()
        return is_new

    def draw(self, canvas: Canvas) -> None:
        """Draws all of it."""
        draw_layout(canvas, self, self._spots)
