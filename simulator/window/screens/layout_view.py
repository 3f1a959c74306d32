"""The layout screen, drawn."""

from __future__ import annotations

from functools import partial
from typing import NamedTuple, Protocol

from simulator.mechanics.trailer_body import stated_mass_kg
from simulator.scenario.asked_numbers import System
from simulator.scenario.retold import retold
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_caution_line
from simulator.window.kit.kept_panel import KeptPanel
from simulator.window.kit.measures_shown import mass
from simulator.window.kit.palette import INK, INK_2, PANEL, PAPER
from simulator.window.kit.pieces import draw_key, lines_of, tail_of
from simulator.window.kit.regions import CAUTION_LINE, Region
from simulator.window.layout import panels
from simulator.window.layout.board import Board
from simulator.window.layout.field_panel import FieldsLook, draw_fields
from simulator.window.layout.views import Pictures
from simulator.window.layout.work import Option, Work
from simulator.words import say

FOOT_KEYS = (
    ("key.f5", "layout.key_drive"), ("layout.ctrl_p", "layout.key_paper"),
    ("layout.ctrl_s", "layout.key_save"), ("layout.ctrl_z", "layout.key_undo"), ("key.escape", "key.back"),
)  # fmt: skip

TEXT_LINES = 14
HEAD_W, SLASH = 560.0, {"/", "\\"}
"""Of what stands left of the verdict; what a path is told by, of which the end matters."""
HEAD = Region(0.0, 0.0, 1920.0, 120.0)
OWN_UNIT_KEY = ("key.f9", "layout.key_own_unit")
"""Instead of undo while the units are open: the line of caution needs its room."""


class KeptLayout:
    """What is kept of the screen between frames."""

    def __init__(self) -> None:
        self.head, self.foot = KeptPanel(HEAD), KeptPanel(CAUTION_LINE)
        self.fields, self.governs = KeptPanel(panels.FIELDS), KeptPanel(panels.GOVERNS)
        self.helps = KeptPanel(panels.HELPS)


class Layout(Protocol):
    """What is drawn of it."""

    work: Work
    board: Board
    system: System
    naming: str | None
    shows_missing: bool
    kept: KeptLayout

    @property
    def pictures(self) -> Pictures:
        """The three views."""
        ...


def draw_layout(canvas: Canvas, screen: Layout, spots: panels.Spots) -> None:
    """The whole screen; remembers what answers the mouse."""
    work, sheet, board = screen.work, screen.work.sheet, screen.board
    spots.rows.clear()
    canvas.clear(PAPER)
    kept = screen.kept
    head = _head_said(canvas, screen)
    kept.head.show(canvas, head, partial(_head, said=head))
    panels.draw_verdict(canvas, work.judged, sheet, old=work.why_old, moving=work.is_moving)
    spots.add(*panels.VERDICT, ("verdict", ""))
    look = FieldsLook(sheet, board.group, board.focus, board.typed, board.first)
    draw_fields(canvas, kept.fields, look, spots)
    chosen = board.grip if board.focus.area == "views" else ""
    rooms = work.rooms if not sheet.is_dragging else ()
    screen.pictures.draw(canvas, work.stop, room=rooms, row=work.row, chosen=chosen, measured=_measured(screen))
    is_old = bool(work.why_old)
    panels.draw_ribbon(canvas, work.judged, work.station, board.focus, spots, is_old=is_old)
    panels.draw_governs(canvas, kept.governs, work.judged, sheet, board.focus, spots,
                        first=board.first_row, is_old=is_old)  # fmt: skip
    lines, title = _in_words(canvas, screen)
    helps = panels.helps_look(sheet, work.helps, board.focus, is_looking=work.is_trying, lines=lines, title=title)
    panels.draw_helps(canvas, kept.helps, helps, spots)
    is_units = board.group == "units"
    keys = tuple(OWN_UNIT_KEY if is_units and key[0] == "layout.ctrl_z" else key for key in FOOT_KEYS)
    kept.foot.show(canvas, keys, partial(draw_caution_line, keys=keys))
    _text(canvas, screen)
    _ask(canvas, screen, spots)


def _text(canvas: Canvas, screen: Layout) -> None:
    """A text that is typed has no room in its field: it stands over the screen, with what may be typed."""
    board, sheet = screen.board, screen.work.sheet
    if board.typed is None or board.focus.area != "fields" or not sheet.field(board.focus.key).longest:
        return
    canvas.veil(0.0, 120.0, 1920.0, 916.0)
    typed = sheet.field(board.focus.key)
    x, y, w = 460.0, 240.0, 1000.0
    lines = lines_of(canvas, f"{board.typed}|", w - 96.0, size=30.0, most=TEXT_LINES)
    allowed = lines_of(canvas, typed.allowed(sheet.system), w - 64.0, weight="medium")
    h = 330.0 + len(lines) * 40.0
    canvas.box(x, y, w, h, fill=PANEL, edge=INK, edge_width=4.0, radius=10.0)
    canvas.text(typed.label, x + 32.0, y + 62.0, 36.0, weight="bold", width=w - 64.0)
    for n, line in enumerate(allowed):
        canvas.text(line, x + 32.0, y + 102.0 + n * 30.0, 24.0, weight="medium", color=INK_2)
    canvas.box(
        x + 32.0, y + 152.0, w - 64.0, len(lines) * 40.0 + 24.0, fill=PANEL, edge=INK, edge_width=3.0, radius=6.0
    )
    for n, line in enumerate(lines):
        canvas.text(line, x + 48.0, y + 192.0 + n * 40.0, 30.0, weight="semibold", width=w - 96.0)
    at = y + 196.0 + len(lines) * 40.0
    for cap, words in (("key.enter", "layout.text_take"), ("key.escape", "layout.text_not")):
        wide = draw_key(canvas, say(cap), x + 32.0, at, height=44.0, size=28.0)
        canvas.text(say(words), x + 48.0 + wide, at + 32.0, 28.0, width=w - wide - 90.0)
        at += 60.0


def _in_words(canvas: Canvas, screen: Layout) -> tuple[tuple[str, ...], str]:
    """All of the row that is chosen, or all that is missing if somebody asked; with its title."""
    work, sheet = screen.work, screen.work.sheet
    if work.row is not None:
        words = [_capital(panels.as_seen(sheet, work.row.sentence))]
    elif screen.shows_missing and work.judged is not None:
        words = list(panels.missing_shown(sheet, work.judged))
    else:
        return (), ""
    room = panels.LINES_SHOWN - len(words) + 1
    lines = tuple(line for one in words for line in lines_of(canvas, one, 452.0, weight="medium", most=room))
    return lines, "" if work.row is not None else say("layout.missing_all")


def _measured(screen: Layout) -> tuple[str, str]:
    """The field in focus, or the first that the grip in hand moves, with its text."""
    board, sheet = screen.board, screen.work.sheet
    key = board.focus.key if board.focus.area == "fields" else ""
    if board.focus.area == "views":
        key = next((one.moves[0].field for one in sheet.grips if one.key == board.grip), "")
    return (key, sheet.field(key).shown(sheet.lift, sheet.system)) if key else ("", "")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


class HeadSaid(NamedTuple):
    """All that stands in the head beside its title and the verdict."""

    words: tuple[str, ...]
    weight: str
    tons: str


def _head_said(canvas: Canvas, screen: Layout) -> HeadSaid:
    work, sheet = screen.work, screen.work.sheet
    saved = say("layout.is_saved", name=work.path.name) if work.is_saved and work.path else say("layout.not_saved_yet")
    words = panels.as_seen(sheet, work.message) or f"{retold(sheet.lift.title, us=screen.system == 'us')}, {saved}"
    weight = mass(stated_mass_kg(sheet.lift.trailer), screen.system).joined
    tons = say(f"layout.tons_{sheet.tons}") if sheet.tons else say("program.invented")
    if sheet.ranges:
        tons = say("layout.counting")
        if work.cases is not None:
            tons = say("layout.cases", held=work.cases[0], count=work.cases[1])
    broken = lines_of(canvas, words, HEAD_W, weight="medium", most=2)
    lines = tuple(tail_of(canvas, one, HEAD_W, size=24.0, weight="medium") if SLASH & {*one} else one for one in broken)
    return HeadSaid(lines, _between(screen) or say("layout.papers", weight=weight), tons)


def _head(canvas: Canvas, said: HeadSaid) -> None:
    canvas.rect(0.0, 0.0, 1920.0, 118.0, PANEL)
    canvas.rect(0.0, 118.0, 1920.0, 2.0, INK)
    canvas.text(say("layout.title"), 24.0, 48.0, 42.0, weight="bold")
    for n, line in enumerate(said.words):
        canvas.text(line, 24.0, 80.0 + n * 28.0, 24.0, weight="medium", color=INK_2, width=HEAD_W)
    canvas.text(said.weight, 1896.0, 46.0, 26.0, weight="semibold", anchor="right", width=380.0)
    canvas.text(said.tons, 1896.0, 84.0, 24.0, weight="medium", color=INK_2, anchor="right", width=380.0)


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
