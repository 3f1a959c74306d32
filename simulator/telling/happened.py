"""What happened in a lift, in words: for screen, page and command line alike."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress

from simulator.events import UNKNOWN, Fields, Happening
from simulator.words import filled

PLAIN = ("load", "incident", "given up")
"""Kinds that are not named before a text that this program does not know."""
AMOUNT_OF = {"m": "m", "mps": "m/s", "N": "N", "share": "share", "rad": "rad"}
"""Ending of a field's name: what kind of amount it is."""
Amount = Callable[[float, str], str]
"""Writes a value in SI of a kind (m, m/s, N, share, rad) in the user's units."""


def told(one: Happening, amount: Amount, units: Mapping[str, str] | None = None) -> str:
    """What happened, as the middle of a sentence.

    Args:
        one: what happened.
        amount: writes amounts.
        units: how units and lines are called here, by `nose unit` and `nose line`; as they are unless given.

    What this program has no words for, or lacks what its words need, is told as it stands: a file may hold anything.
    """
    if one.what != UNKNOWN:
        with suppress(LookupError, ValueError, TypeError):
            return _told(one, amount, units)
    text = str(one.fields.get("text", "" if one.what == UNKNOWN else one.what))
    return text if one.kind in PLAIN else f"{one.kind}: {text}"


def _told(one: Happening, amount: Amount, units: Mapping[str, str] | None) -> str:
    """In the words of this program."""
    what, fields = _act(one.what, one.fields) if one.kind == "instructor" else (one.what, one.fields)
    if fields.get("units") == 1:
        what = f"{what}_alone"
    texts, amounts = {}, {}
    for key, value in fields.items():
        name, _, ending = key.rpartition("_")
        if name and ending in AMOUNT_OF and isinstance(value, int | float):
            amounts[name] = float(value), AMOUNT_OF[ending]
        else:
            texts[name if ending == "s" and name else key] = named(key, value)
    said = filled(f"event.{what}", texts, amounts, amount, units)
    if not fields and "{" in said:
        raise LookupError(what)
    return said


def named(key: str, value: object) -> str:
    """A field's value as a phrase: `nose` as a unit is the nose unit, `nose_1` as a line the nose line 1."""
    if key == "unit":
        return f"{value} unit"
    if key == "line":
        name, _, number = str(value).partition("_")
        return f"{name} line {number}".strip()
    return f"{value:g}" if isinstance(value, float) else str(value)


def _act(what: str, fields: Fields) -> tuple[str, Fields]:
    """An instructor's act: which words, and its amount by what it is of."""
    amount, rest = float(fields["amount"]), {key: value for key, value in fields.items() if key != "amount"}
    if what == "act_cargo":
        return f"act_cargo_{'nose' if amount < 0.0 else 'tail'}", {**rest, "shift_m": abs(amount)}
    if what == "act_back":
        return ("act_back_here", rest) if amount < 0.0 else (what, {**rest, "number": int(amount) + 1})
    of = {"act_gust": "speed_mps", "act_float": "share_share", "act_slip": "rope_m", "act_bed": "pull_N"}
    return what, {**rest, of[what]: amount} if what in of else rest
