"""All text the window shows, from one file ready for translation.

House words: sway for the load's motion, float for an outrigger's plate, slew named by where the tip goes.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from functools import cache, lru_cache

from simulator.places import assets_folder

WORDS_FILE = "words.toml"
"""Text by section and key, in the folder of assets."""
_HEAD = re.compile(r"^\[(\w+)\]$", re.MULTILINE)


@lru_cache(maxsize=1)
def _sections() -> dict[str, str]:
    """The file's sections as they are written, by name: most of what runs needs few of them."""
    heads = _HEAD.split((assets_folder() / WORDS_FILE).read_text(encoding="utf-8"))
    return dict(zip(heads[1::2], heads[2::2], strict=True))


@cache
def section(name: str) -> dict[str, str]:
    """The texts of a section by key; none if there is no such section.

    Raises:
        OSError: the file of words is missing or cannot be read.
    """
    return tomllib.loads(_sections().get(name, ""))


@lru_cache(maxsize=1)
def table() -> dict[str, str]:
    """Every text by its dotted key, such as `panel.share`.

    Raises:
        OSError: the file of words is missing or cannot be read.
    """
    return {f"{name}.{key}": text for name in _sections() for key, text in section(name).items()}


def known(key: str, otherwise: str = "") -> str:
    """The text of `key`, or another if there is none; no text of the file is empty."""
    name, _, rest = key.partition(".")
    return section(name).get(rest, otherwise)


def say(key: str, **values: object) -> str:
    """The text of `key`, with `{name}` filled from `values`.

    Raises:
        KeyError: no such key in the file of words.
    """
    text = known(key)
    if not text:
        raise KeyError(key)
    return text.format(**values) if values else text


def phrase(text: str) -> str:
    """What is shown for a phrase that stands in data, such as a part of a unit or a stage; itself if it has no other.

    `[told]` in the file of words holds them by the very phrase.
    """
    return known(f"told.{text}", text)


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
