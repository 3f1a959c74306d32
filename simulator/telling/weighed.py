"""What a weighing comes to, in words: what is to be done, and which reading contradicts which."""

from __future__ import annotations

from simulator.events import Fields
from simulator.telling.happened import AMOUNT_OF, Amount, named
from simulator.words import filled


def doubt_words(kind: str, fields: Fields, amount: Amount) -> str:
    """A contradiction as a sentence.

    Args:
        kind: which, such as `slack`.
        fields: lines by name, and amounts in SI with their unit at the end of the name.
        amount: writes amounts.
    """
    texts, amounts = {}, {}
    for key, value in fields.items():
        name, _, ending = key.rpartition("_")
        if ending in AMOUNT_OF:
            amounts[name] = float(value), AMOUNT_OF[ending]
        else:
            texts[key] = named("line", value)
    return filled(f"weigh.{kind.replace(' ', '_')}", texts, amounts, amount)


def do_words(do: str, move_m: float, amount: Amount) -> str:
    """What is to be done; `move_m` is how far picks move toward the tail end."""
    texts = {"end": "tail" if move_m > 0.0 else "nose"} if move_m else {}
    amounts = {"move": (abs(move_m), "m")} if move_m else {}
    return filled(f"weigh.{do.replace(' ', '_')}", texts, amounts, amount)
