"""What an event of a recording says, read back from its text: which one it is, who was in it, and its amounts in SI.

The texts are the stored layout and stay as they are, so that old recordings go on opening. What is shown is made of
this in whoever shows it, in their words and units.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from simulator.recording.noticed import AGAIN
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
    "instructor": "{act} | {amount} | {end} | {lasts}",
}
"""Every event's text by its name; `{x:m}` is a number in metres, `{part}` a text."""
SI = {"m": (1.0, "m"), "m/s": (1.0, "m/s"), "t": (TONNE_N, "N")}
"""Written unit: its size in SI, and what it is then."""
_FIELD = re.compile(r"\\{(\w+)(?::([\w/]+))?\\}")


class Happened(NamedTuple):
    """One event."""

    name: str
    """Of `STORED`."""
    texts: dict[str, str]
    amounts: dict[str, tuple[float, str]]
    """Value in SI, and m, m/s or N."""


def happened(text: str) -> Happened | None:
    """What a stored text says; none if it is no event's of this program."""
    for name, (pattern, units) in PATTERNS.items():
        if found := pattern.fullmatch(text):
            amounts = {key: (float(found[key]) * SI[unit][0], SI[unit][1]) for key, unit in units.items()}
            return Happened(name, {key: one for key, one in found.groupdict().items() if key not in units}, amounts)
    return None


def _pattern(stored: str) -> tuple[re.Pattern[str], dict[str, str]]:
    escaped = re.escape(stored)
    units = {name: unit for name, unit in _FIELD.findall(escaped) if unit}
    return re.compile(_FIELD.sub(_group, escaped)), units


def _group(field: re.Match[str]) -> str:
    return f"(?P<{field[1]}>{r'[+-]?[0-9.]+' if field[2] else '.+?'})"


PATTERNS = {name: _pattern(stored) for name, stored in STORED.items()}
