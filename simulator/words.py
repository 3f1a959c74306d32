"""All text the window shows, from one file ready for translation.

House words: sway for the load's motion, float for an outrigger's plate, slew named by where the tip goes.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping
from functools import lru_cache

from simulator.places import assets_folder

WORDS_FILE = "words.toml"
"""Text by section and key, in the folder of assets."""


@lru_cache(maxsize=1)
def table() -> dict[str, str]:
    """Every text by its dotted key, such as `panel.share`.

    Raises:
        OSError: the file of words is missing or cannot be read.
    """
    sections = tomllib.loads((assets_folder() / WORDS_FILE).read_text(encoding="utf-8"))
    return {f"{section}.{key}": text for section, rows in sections.items() for key, text in rows.items()}


def say(key: str, **values: object) -> str:
    """The text of `key`, with `{name}` filled from `values`.

    Raises:
        KeyError: no such key in the file of words.
    """
    text = table()[key]
    return text.format(**values) if values else text


def phrase(text: str) -> str:
    """What is shown for a phrase that stands in data, such as a part of a unit or a stage; itself if it has no other.

    `[told]` in the file of words holds them by the very phrase.
    """
    return table().get(f"told.{text}", text)


def thing(text: str, units: Mapping[str, str] | None = None) -> str:
    """A phrase that may begin with a unit's name, such as `tail unit tailboard`; `units` says how those are named."""
    first, unit, rest = text.partition(" unit ")
    name = f"{first} unit" if unit else text
    return f"{(units or {}).get(name) or phrase(name)} {phrase(rest)}".strip()


def filled(
    key: str,
    texts: Mapping[str, str],
    amounts: Mapping[str, tuple[float, str]],
    amount: Callable[[float, str], str],
    units: Mapping[str, str] | None = None,
) -> str:
    """The text of `key` with phrases and amounts put in; `amount` writes a value in SI of a kind (m, m/s, N)."""
    values = {name: thing(text, units) for name, text in texts.items()}
    return say(key, **values, **{name: amount(*one) for name, one in amounts.items()})
