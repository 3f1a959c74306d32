"""Events of recordings of layout 1, which kept them as sentences: read back to kind and fields.

The sentences are the stored layout and stay as they are, so that old recordings go on opening.
"""

from __future__ import annotations

import re

from simulator.events import UNKNOWN, WORDS_OF_ACTS, Field, Fields, Happening
from simulator.scenario.measures import TONNE_N
from simulator.scenario.rig import PAIR

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
    "bed": "the load is on bed or slope",
    "all_in": "{unit}: boom all in",
    "all_out": "{unit}: boom all out",
    "lowest": "{unit}: boom at its lowest",
    "highest": "{unit}: boom at its highest",
    "slew_ravine": "{unit}: slewed to its end toward the ravine",
    "slew_road": "{unit}: slewed to its end toward the road",
    "block": "{unit}: block at its stop",
    "rope_out": "{unit}: usable rope all out",
    "given_up": "both units stood still for {lasts} s",
}
"""Every event's text by its name; `{x:m}` is a number in meters, `{part}` a text. The first that fits is it."""
SI = {"m": (1.0, "m"), "m/s": (1.0, "mps"), "t": (TONNE_N, "N")}
"""Written unit: its size in SI, and what it is then."""
OF_A_LINE = ("stall", "slack", "block", "rope_out")
"""What was said of a unit and is its line's."""
_FIELD = re.compile(r"\\{(\w+)(?::([\w/]+))?\\}")


def happening_of(kind: str, text: str) -> Happening:
    """What a stored sentence says; one that is no event's of this program stays a text."""
    if kind == "step":
        number, _, title = text.partition(": ")
        known = number.isdecimal() and title
        return Happening(kind, "step", {"number": int(number), "title": title}) if known else _as_it_is(kind, text)
    if kind == "stage":
        unit, _, doing = text.partition(" unit: ")
        return Happening(kind, "stage", {"unit": unit, "doing": doing}) if doing else _as_it_is(kind, text)
    if kind == "instructor":
        return _act(text)
    for name, (form, units) in PATTERNS.items():
        if found := form.fullmatch(text):
            return Happening(kind, name, _fields(name, found, units))
    return _as_it_is(kind, text)


def _as_it_is(kind: str, text: str) -> Happening:
    return Happening(kind, UNKNOWN, {"text": text})


def _fields(name: str, found: re.Match[str], units: dict[str, str]) -> Fields:
    fields: dict[str, Field] = {f"{key}_{SI[unit][1]}": float(found[key]) * SI[unit][0] for key, unit in units.items()}
    for key, text in found.groupdict().items():
        if key in units:
            continue
        if key == "lasts":
            fields["lasts_s"] = float(text)
        else:
            whose = "line" if key == "unit" and name in OF_A_LINE else key
            fields[whose] = text.removesuffix(" unit") if key == "unit" else text
    return fields


def _act(text: str) -> Happening:
    """`gust | 5.0 | 0 | 6.0`: an act, its amount, its unit by place, how long it lasts."""
    try:
        act, amount, place, lasts = (part.strip() for part in text.split("|"))
        fields: dict[str, Field] = {"act": act, "amount": float(amount), "place": int(place), "lasts_s": float(lasts)}
        fields["line" if act == "line slips" else "unit"] = PAIR[int(place)]
    except (ValueError, IndexError):
        return _as_it_is("instructor", text)
    return Happening("instructor", WORDS_OF_ACTS.get(act, "instructor"), fields)


def pattern(stored: str) -> tuple[re.Pattern[str], dict[str, str]]:
    """What finds a stored text, and the written units of its numbers."""
    escaped = re.escape(stored)
    units = {name: unit for name, unit in _FIELD.findall(escaped) if unit}
    return re.compile(_FIELD.sub(_group, escaped)), units


def _group(field: re.Match[str]) -> str:
    return f"(?P<{field[1]}>{r'[+-]?[0-9.]+' if field[2] else '.+?'})"


PATTERNS = {name: pattern(stored) for name, stored in STORED.items()}
