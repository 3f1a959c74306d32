"""What an event of a recording says, read back from its text: which one it is, who was in it, and its amounts in SI.

The texts are the stored layout and stay as they are, so that old recordings go on opening. What is shown is made of
this in whoever shows it, in their words and units.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from simulator.recording.noticed import AGAIN
from simulator.scenario.description import END_NAMES
from simulator.scenario.measures import TONNE_N

STORED = {
    "met": "{part} meets {other}, x {x:m}, y {y:m}, z {z:m} m: at {speed:m/s} m/s",
    "tipped": "{unit} tips over, toward {way}, boom tip at y {y:m} m: line load {load:t} t at {radius:m} m load radius;"
    " no set of pushing floats balances it",
    "stop_called": "both units hold, called by {by}",
    "stop": "both units hold",
    "lifted": "lifted",
    "stall": "{unit}: winch at its stall pull",
    "tipping": "{unit}: no set of floats balances it",
    "slack": "{unit} line slack while the load hangs",
    "free": "the load hangs free",
    "road": "the load touches the road",
    "bed": AGAIN,
    "all_in": "{unit}: boom all in",
    "all_out": "{unit}: boom all out",
    "lowest": "{unit}: boom at its lowest",
    "highest": "{unit}: boom at its highest",
    "slew_ravine": "{unit}: slewed to its end toward the ravine",
    "slew_road": "{unit}: slewed to its end toward the road",
    "block": "{unit}: block at its stop",
    "rope_out": "{unit}: usable rope all out",
    "given_up": "both units stood still for {lasts} s",
    "act_gust": "gust | {speed:m/s} | {end} | {lasts}",
    "act_float": "soft float | {share:share} | {end} | {lasts}",
    "act_slip": "line slips | {rope:m} | {end} | {lasts}",
    "act_cargo_nose": "cargo shifts | -{shift:m} | {end} | {lasts}",
    "act_cargo_tail": "cargo shifts | {shift:m} | {end} | {lasts}",
    "act_bed": "bed holds | {pull:N} | {end} | {lasts}",
    "act_back_here": "step back | -1.0 | {end} | {lasts}",
    "act_back": "step back | {index} | {end} | {lasts}",
    "instructor": "{act} | {amount} | {end} | {lasts}",
}
"""Every event's text by its name; `{x:m}` is a number in metres, `{part}` a text. The first that fits is it."""
SI = {"m": (1.0, "m"), "m/s": (1.0, "m/s"), "t": (TONNE_N, "N"), "N": (1.0, "N"), "share": (1.0, "share")}
"""Written unit: its size in SI, and what it is then."""
_FIELD = re.compile(r"\\{(\w+)(?::([\w/]+))?\\}")


class Happened(NamedTuple):
    """One event."""

    name: str
    """Of `STORED`."""
    texts: dict[str, str]
    amounts: dict[str, tuple[float, str]]
    """Value in SI, and m, m/s, N or share."""


def happened(text: str) -> Happened | None:
    """What a stored text says; none if it is no event's of this program."""
    for name, (form, units) in PATTERNS.items():
        if found := form.fullmatch(text):
            amounts = {key: (float(found[key]) * SI[unit][0], SI[unit][1]) for key, unit in units.items()}
            texts = {key: one for key, one in found.groupdict().items() if key not in units}
            return Happened(name, texts | _acted(texts) if name.startswith("act") else texts, amounts)
    return None


def _acted(texts: dict[str, str]) -> dict[str, str]:
    """Whose unit and line an instructor's act is for, for how long, and back to which step."""
    end = dict(enumerate(END_NAMES)).get(int(texts["end"]) if texts["end"].isdecimal() else -1, "")
    return {
        "unit": f"{end} unit",
        "line": f"{end} line",
        "lasts": _plain(texts["lasts"]),
        "number": _plain(texts.get("index", ""), 1.0),
    }


def _plain(text: str, more: float = 0.0) -> str:
    """A stored number without its empty decimals; any other text as it is."""
    try:
        return f"{float(text) + more:g}"
    except ValueError:
        return text


def pattern(stored: str) -> tuple[re.Pattern[str], dict[str, str]]:
    """What finds a stored text, and the written units of its numbers."""
    escaped = re.escape(stored)
    units = {name: unit for name, unit in _FIELD.findall(escaped) if unit}
    return re.compile(_FIELD.sub(_group, escaped)), units


def _group(field: re.Match[str]) -> str:
    return f"(?P<{field[1]}>{r'[+-]?[0-9.]+' if field[2] else '.+?'})"


PATTERNS = {name: pattern(stored) for name, stored in STORED.items()}
