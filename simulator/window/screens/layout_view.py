"""The layout screen, drawn."""

from __future__ import annotations

from typing import Protocol

from simulator.mechanics.trailer_body import stated_mass_kg
from simulator.scenario.asked_numbers import System
from simulator.scenario.retold import retold
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line
from simulator.window.kit.measures_shown import mass
from simulator.window.kit.palette import INK, INK_2, PANEL, PAPER
from simulator.window.kit.pieces import draw_key, lines_of
from simulator.window.layout import panels
from simulator.window.layout.board import Board
from simulator.window.layout.views import Pictures
from simulator.window.layout.work import Option, Work
from simulator.words import say

FOOT_KEYS = (
    ("key.f5", "layout.key_drive"), ("layout.ctrl_p", "layout.key_paper"),
    ("layout.ctrl_s", "layout.key_save"), ("layout.ctrl_z", "layout.key_undo"), ("key.escape", "key.back"),
)  # fmt: skip

OWN_UNIT_KEY = ("key.f9", "layout.key_own_unit")
"""Instead of undo while the units are open: the line of caution needs its room."""


class Layout(Protocol):
    """What is drawn of it."""

    work: Work
    board: Board
    system: System
    naming: str | None

    @property
    def pictures(self) -> Pictures:
        """The three views."""
        ...


def draw_layout(canvas: Canvas, screen: Layout, spots: panels.Spots) -> None:
    """The whole screen; remembers what answers the mouse."""
    work, sheet, board = screen.work, screen.work.sheet, screen.board
    spots.rows.clear()
    canvas.clear(PAPER)
    _head(canvas, screen)
    panels.draw_verdict(canvas, work.judged, sheet, old=work.why_old, moving=work.is_moving)
    look = panels.FieldsLook(sheet, board.group, board.focus, board.typed, board.first)
    panels.draw_fields(canvas, look, spots)
    chosen = board.grip if board.focus.area == "views" else ""
    rooms = work.rooms if not sheet.is_dragging else ()
    screen.pictures.draw(canvas, work.stop, room=rooms, row=work.row, chosen=chosen, measured=_measured(screen))
    is_old = bool(work.why_old)
    panels.draw_ribbon(canvas, work.judged, work.station, board.focus, spots, is_old=is_old)
    panels.draw_governs(canvas, work.judged, sheet, board.focus, spots, first=board.first_row, is_old=is_old)
    lines = (
        ()
        if work.row is None
        else tuple(lines_of(canvas, _capital(panels.as_seen(sheet, work.row.sentence)), 452.0, weight="medium", most=7))
    )
    panels.draw_helps(canvas, panels.HelpsLook(sheet, work.helps, work.is_trying, board.focus, lines), spots)
    is_units = board.group == "units"
    draw_caution_line(
        canvas, tuple(OWN_UNIT_KEY if is_units and key[0] == "layout.ctrl_z" else key for key in FOOT_KEYS)
    )
    _ask(canvas, screen, spots)


def _measured(screen: Layout) -> tuple[str, str]:
    """The field in focus, or the first that the grip in hand moves, with its text."""
    board, sheet = screen.board, screen.work.sheet
    key = board.focus.key if board.focus.area == "fields" else ""
    if board.focus.area == "views":
        key = next((one.moves[0].field for one in sheet.grips if one.key == board.grip), "")
    return (key, sheet.field(key).shown(sheet.lift, sheet.system)) if key else ("", "")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _head(canvas: Canvas, screen: Layout) -> None:
    work, sheet = screen.work, screen.work.sheet
    canvas.rect(0.0, 0.0, 1920.0, 118.0, PANEL)
    canvas.rect(0.0, 118.0, 1920.0, 2.0, INK)
    canvas.text(say("layout.title"), 24.0, 48.0, 42.0, weight="bold")
    saved = say("layout.is_saved", name=work.path.name) if work.is_saved and work.path else say("layout.not_saved_yet")
    words = panels.as_seen(sheet, work.message) or f"{retold(sheet.lift.title, us=screen.system == 'us')}, {saved}"
    for n, line in enumerate(lines_of(canvas, words, 590.0, weight="medium", most=2)):
        canvas.text(line, 24.0, 80.0 + n * 28.0, 24.0, weight="medium", color=INK_2, width=600.0)
    weight = mass(stated_mass_kg(sheet.lift.trailer), screen.system).joined
    canvas.text(
        _between(screen) or say("layout.papers", weight=weight),
        1896.0,
        46.0,
        26.0,
        weight="semibold",
        anchor="right",
        width=380.0,
    )
    tons = say(f"layout.tons_{sheet.tons}") if sheet.tons else say("program.invented")
    if sheet.ranges:
        tons = say("layout.counting")
        if work.cases is not None:
            tons = say("layout.cases", held=work.cases[0], count=work.cases[1])
    canvas.text(tons, 1896.0, 84.0, 24.0, weight="medium", color=INK_2, anchor="right", width=380.0)


def _between(screen: Layout) -> str:
    """The range of its weight."""
    ends = screen.work.sheet.ranges.get("weight")
    if ends is None:
        return ""
    low, high = (mass(one, screen.system).joined for one in ends)
    return say("layout.papers_range", low=low, high=high)


def _ask(canvas: Canvas, screen: Layout, spots: panels.Spots) -> None:
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
