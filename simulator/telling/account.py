"""A drill's account in words: how it ended, what cost points, where the loads say the center of gravity is."""

from __future__ import annotations

from collections.abc import Mapping

from simulator.events import UNKNOWN, Fields, Happening
from simulator.telling.happened import Amount
from simulator.words import filled, say

NOT_DONE = "step not done"
"""The rule by which steps that were not done cost points."""
KINDS_OF = {"N": "N", "m": "m", "rad": "rad", "m/s": "m/s"}
"""Measures of a worst value that are written in the user's units."""


def account_words(one: Happening, amount: Amount, units: Mapping[str, str] | None = None) -> str:
    """One line of an account.

    Args:
        one: of the kind `account`.
        amount: writes a value in SI of a kind in the user's units.
        units: how units are called here, by `nose unit`; as they are unless given.
    """
    if one.what == UNKNOWN:
        return str(one.fields.get("text", ""))
    if one.what == "drill":
        return _drill(one.fields)
    if one.what == "center":
        return filled("lost.center", {}, {key[:-2]: (float(value), "m") for key, value in one.fields.items()}, amount)
    return _lost(one.fields, amount, units)


def _drill(fields: Fields) -> str:
    each = "".join(f"{key[3:]} {float(points):.0f}, " for key, points in fields.items() if key.startswith("of_"))
    key = "account_" + str(fields["state"]).replace(" ", "_")
    return say(f"lost.{key}", step=fields["step"], units=each, together=f"{float(fields['together']):.0f}")


def _lost(fields: Fields, amount: Amount, units: Mapping[str, str] | None) -> str:
    who, times = str(fields["who"]), int(fields["times"])
    texts = {"points": f"-{abs(float(fields['points'])):.1f}", "rule": str(fields["rule"])}
    texts["who"] = who if who == "both" else f"{who} unit"
    if texts["rule"] == NOT_DONE:
        return filled("lost.not_done", {**texts, "count": str(times)}, {}, amount, units)
    seconds = float(fields["first_s"])
    texts |= {"first": f"{int(seconds // 60):02d}:{seconds % 60:04.1f}", "times": str(times)}
    key, amounts = "many" if times > 1 else "once", {}
    if "reading" in fields:
        value, measure = float(fields["value"]), str(fields["measure"])
        key += "_lever" if measure == "lever" else "_seen"
        texts["reading"] = str(fields["reading"])
        if measure in KINDS_OF:
            amounts["value"] = value, KINDS_OF[measure]
        else:
            texts["value"] = f"{100.0 * value:.0f}" if measure == "lever" else f"{value:.2f}{' s' * (measure == 's')}"
    said = filled(f"lost.{key}", texts, amounts, amount, units)
    return say("lost.fails", lost=said) if fields.get("fails") else said
