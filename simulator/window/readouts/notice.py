"""A notice at the scene's foot: what the program could not do. No alert: only the coach strip gives orders."""

from __future__ import annotations

from simulator.window.kit.canvas import Canvas
from simulator.window.kit.icons import icon
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, INK
from simulator.window.kit.regions import SCENE
from simulator.words import say

SHOWN_S = 12.0
HEIGHT = 48.0


class Notice:
    """Shows a sentence for a while, then a short mark that stays."""

    def __init__(self) -> None:
        self._text = ""
        self._shown_s = 0.0

    def draw(self, canvas: Canvas, text: str, elapsed_s: float) -> None:
        """Draws the notice over the scene; nothing when there is none."""
        self._shown_s = self._shown_s + elapsed_s if text == self._text else 0.0
        self._text = text
        if not text:
            return
        words = say("notice.goes_on", words=text) if self._shown_s < SHOWN_S else say("notice.not_recorded")
        width = min(SCENE.w - 32.0, canvas.text_width(words, 26.0) + 84.0)
        x, y = SCENE.x + (SCENE.w - width) / 2.0, SCENE.foot - HEIGHT - 8.0
        canvas.box(x, y, width, HEIGHT, fill=CAUTION_TINT, edge=CAUTION, radius=6.0)
        icon(canvas, "caution", x + 30.0, y + HEIGHT / 2.0 - 1.0, 32.0)
        canvas.text(words, x + 58.0, y + 33.0, 26.0, color=INK, width=width - 74.0)
