"""Text that somebody else wrote, made harmless: it can be printed and drawn, and steers nothing."""

from __future__ import annotations

import re


def one_line(text: str) -> str:
    """`text` without anything that would break the line or the terminal: escapes, controls, text that runs backward."""
    return text if text.isprintable() else "".join(char if char.isprintable() else " " for char in text)


def cut_to(text: str, letters: int) -> str:
    """`text` on one line and no longer than so many letters."""
    text = one_line(text[: letters + 1])
    return text if len(text) <= letters else text[: letters - 3] + "..."


def steers(text: str, *, lines: bool = False) -> bool:
    """True when a text holds more than letters and spaces; `lines` lets it have tabs and be of several lines."""
    return not (re.sub(r"[\t\n\r\u00a0\u2009\u202f]", " ", text) if lines else text).isprintable()
