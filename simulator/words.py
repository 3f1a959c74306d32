"""All text the window shows, from one file ready for translation.

House words: sway for the load's motion, float for an outrigger's plate, slew named by where the tip goes.
"""

from __future__ import annotations

import tomllib
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
