"""Small drawn pieces that several readouts share: a value with its unit, a level's mark, pills and key caps."""

from __future__ import annotations

from simulator.window.kit.canvas import Canvas, Weight
from simulator.window.kit.icons import icon
from simulator.window.kit.levels import Level, Marked
from simulator.window.kit.measures_shown import DEGREE, NONE, Shown
from simulator.window.kit.palette import INK, INK_2, PANEL, RULE, WASH, Color
from simulator.words import say


def value_width(canvas: Canvas, value: Shown, size: float, unit_size: float, gap: float) -> float:
    """Width of a value with its unit."""
    unit_gap = 1.0 if value.unit == DEGREE else gap
    return (
        canvas.text_width(value.text, size, weight="bold", digits=True)
        + unit_gap
        + canvas.text_width(shown_unit(value), unit_size, weight="medium")
    )


def shown_unit(value: Shown) -> str:
    """The unit, left out where there is no value."""
    return "" if value.text == NONE else value.unit


def draw_value(
    canvas: Canvas,
    value: Shown,
    x: float,
    y: float,
    size: float,
    *,
    unit_size: float = 26.0,
    gap: float = 6.0,
    right: bool = False,
    color: Color = INK,
    unit_color: Color = INK_2,
) -> float:
    """Draws a value and its unit from `x` (or up to it); returns the left edge of the value."""
    left = x - value_width(canvas, value, size, unit_size, gap) if right else x
    width = canvas.digits(value.text, left, y, size, color=color)
    unit_gap = 1.0 if value.unit == DEGREE else gap
    canvas.text(shown_unit(value), left + width + unit_gap, y, unit_size, weight="medium", color=unit_color)
    return left


def draw_level(canvas: Canvas, level: Level, x: float, y: float, side: float = 28.0) -> None:
    """The triangle or octagon of a level, centered; nothing when good."""
    if level is Level.CAUTION:
        icon(canvas, "caution", x, y, side)
    elif level is Level.STOP:
        icon(canvas, "stop", x, y, side)


def draw_marked(
    canvas: Canvas,
    marked: Marked,
    x: float,
    y: float,
    size: float,
    *,
    unit_size: float = 26.0,
    right: bool = False,
    mark_side: float = 28.0,
) -> None:
    """A value with its mark at its left. When it stands from the left, the mark pushes it aside."""
    has_mark = marked.level > Level.GOOD
    start = x + (mark_side + 6.0 if has_mark and not right else 0.0)
    left = draw_value(canvas, marked.value, start, y, size, unit_size=unit_size, right=right)
    draw_level(canvas, marked.level, left - 6.0 - mark_side / 2, y - size * 0.34, mark_side)


def draw_pill(canvas: Canvas, word: str, x: float, y: float, w: float, *, filled: bool, ground: Color) -> None:
    """MOVE as a filled pill, HOLD as an outlined one, on a unit's color; 36 high."""
    fill, color = (PANEL, ground) if filled else (ground, PANEL)
    canvas.box(x, y, w, 36.0, fill=fill, edge=PANEL, radius=18.0)
    canvas.text(word, x + w / 2, y + 27.0, 26.0, weight="bold", color=color, anchor="center", width=w - 20.0)


def key_width(canvas: Canvas, label: str, size: float = 26.0) -> float:
    """Width of a key cap."""
    return max(36.0, canvas.text_width(label, size, weight="bold") + 20.0)


def draw_key(canvas: Canvas, label: str, x: float, y: float, *, height: float = 34.0, size: float = 26.0) -> float:
    """A key cap from its left upper corner; returns its width."""
    width = key_width(canvas, label, size)
    canvas.box(x, y, width, height, fill=PANEL, edge=INK, radius=6.0)
    canvas.rect(x + 5.0, y + height - 4.0, width - 10.0, 3.0, INK)
    canvas.text(label, x + width / 2, y + height / 2 + size * 0.32, size, weight="bold", anchor="center")
    return width


def draw_flat_key(canvas: Canvas, label: str, x: float, y: float) -> float:
    """A key cap on the dark line, 28 high; returns its width."""
    width = canvas.text_width(label, 24.0, weight="bold") + 18.0
    canvas.box(x, y, width, 26.0, fill=PANEL, radius=5.0)
    canvas.text(label, x + width / 2, y + 21.0, 24.0, weight="bold", anchor="center")
    return width


def lines_of(
    canvas: Canvas, text: str, width: float, *, size: float = 24.0, weight: Weight = "semibold", most: int = 2
) -> list[str]:
    """`text` broken between words into lines that fit; the last one takes what is left."""
    lines: list[str] = []
    for word in unbroken(text):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and (canvas.text_width(longer, size, weight=weight) <= width or len(lines) == most):
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


UNITS = {
    "m", "ft", "t", "lb", "klb", "kPa", "psi", "m/s", "ft/s", "mph", "%", "deg", "s", "min", "kN", "tons", "kg",
}  # fmt: skip


def unbroken(text: str) -> list[str]:
    """Words of a text, a number with its unit as one."""
    words: list[str] = []
    for word in text.split():
        if words and word.rstrip(".,;:)") in UNITS and words[-1][-1].isdigit():
            words[-1] += f" {word}"
        else:
            words.append(word)
    return words


def tail_of(canvas: Canvas, text: str, room: float, *, size: float = 28.0, weight: Weight = "semibold") -> str:
    """The end of a text that has no room: of a path, and of what is typed, the end matters."""
    if canvas.text_width(text, size, weight=weight) <= room:
        return text
    while text and canvas.text_width("\N{HORIZONTAL ELLIPSIS}" + text, size, weight=weight) > room:
        text = text[1:]
    return "\N{HORIZONTAL ELLIPSIS}" + text


def halves(canvas: Canvas, text: str, size: float) -> tuple[str, str]:
    """`text` in two lines, broken between words where the longer line is shortest."""
    words = text.split()
    breaks = [(" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words))] or [(text, "")]
    return min(breaks, key=lambda pair: max(canvas.text_width(line, size, weight="bold") for line in pair))


def draw_row(canvas: Canvas, text: str, x: float, y: float, w: float, *, is_chosen: bool) -> None:
    """One row of a list, 68 high; the chosen one is dark and has the focus edge."""
    if is_chosen:
        canvas.box(x - 8.0, y - 8.0, w + 16.0, 84.0, fill=PANEL, edge=INK, edge_width=4.0, radius=12.0)
    fill, color = (INK, PANEL) if is_chosen else (PANEL, INK)
    canvas.box(x, y, w, 68.0, fill=fill, edge=INK if is_chosen else RULE, radius=8.0)
    canvas.text(text, x + 26.0, y + 45.0, 30.0, weight="bold", color=color, width=w - 52.0)


def draw_progress(canvas: Canvas, share: float) -> None:
    """Draws the card in the middle; `share` is 0 to 1."""
    x, y, w, h = 560.0, 400.0, 800.0, 250.0
    canvas.box(x, y, w, h, fill=PANEL, edge=INK, radius=10.0)
    canvas.text(say("debrief.going_there"), x + 40.0, y + 72.0, 40.0, weight="bold", width=w - 80.0)
    canvas.text(say("debrief.going_words"), x + 40.0, y + 114.0, 26.0, weight="medium", color=INK_2, width=w - 80.0)
    canvas.box(x + 40.0, y + 140.0, w - 80.0, 30.0, fill=WASH, edge=INK, radius=6.0)
    canvas.rect(x + 44.0, y + 144.0, (w - 88.0) * min(1.0, max(0.0, share)), 22.0, INK)
    canvas.digits(f"{100.0 * share:.0f} %", x + 40.0, y + 218.0, 34.0)
    words = canvas.text(say("debrief.break_off"), x + w - 40.0, y + 218.0, 28.0, weight="bold", anchor="right")
    draw_key(canvas, say("key.escape"), x + w - 40.0 - words - 84.0, y + 190.0, height=40.0)
