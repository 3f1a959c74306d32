"""Scenario files in the form before lists: `[units.nose]`, `[start.nose]`, `[trailer.nose_pick]`; read as ever."""

from __future__ import annotations

import re
from typing import Any

from simulator.scenario.rig import PAIR

_START_OF_LINE = ("rope_out",)
"""What was said at a unit's start and is said of its line."""
_NEWER_TO_OLDER = (
    (r"units {number}\.lines \d\.hoist", "units.{end}.hoist"),
    (r"units {number}\.lines \d", "start.{end}"),
    (r"units {number}\.start", "start.{end}"),
    (r"units {number}", "units.{end}"),
    (r"trailer\.picks {number}", "trailer.{end}_pick"),
)


def is_older(top: dict[str, Any]) -> bool:
    """True for a file in the form before lists."""
    trailer = top.get("trailer")
    names_picks = isinstance(trailer, dict) and not trailer.keys().isdisjoint(f"{end}_pick" for end in PAIR)
    return isinstance(top.get("units"), dict) or "start" in top or names_picks


def newer(top: dict[str, Any]) -> dict[str, Any]:
    """The same content in today's form; what is no table stays where a fault will be found."""
    rest = {key: value for key, value in top.items() if key not in ("units", "start", "trailer")}
    units, start, trailer = _table(top, "units"), _table(top, "start"), _table(top, "trailer")
    shared = {key: value for key, value in units.items() if key not in PAIR}
    each = [_unit(end, _table(units, end), _table(start, end)) for end in PAIR]
    return {**rest, "each_unit": shared, "units": each, "trailer": _trailer(trailer, start)}


def _table(above: dict[str, Any], key: str) -> dict[str, Any]:
    found = above.get(key, {})
    return found if isinstance(found, dict) else {key: found}


def _unit(end: str, own: dict[str, Any], start: dict[str, Any]) -> dict[str, Any]:
    line = {key: start[key] for key in _START_OF_LINE if key in start}
    boom = {key: value for key, value in start.items() if key not in _START_OF_LINE}
    hoist = {"hoist": own["hoist"]} if "hoist" in own else {}
    rest = {key: value for key, value in own.items() if key != "hoist"}
    return {"name": end, **rest, "start": boom, "lines": [{"pick": end, **line, **hoist}]}


def _trailer(own: dict[str, Any], start: dict[str, Any]) -> dict[str, Any]:
    picks = [{"name": end, **_table(own, f"{end}_pick")} for end in PAIR if f"{end}_pick" in own]
    rest = {key: value for key, value in own.items() if key not in {f"{end}_pick" for end in PAIR}}
    if isinstance(rest.get("pick_candidates"), list):
        rest["pick_candidates"] = [_candidate(one) for one in rest["pick_candidates"]]
    lies = {"start": start["trailer"]} if "trailer" in start else {}
    return {**rest, "picks": picks, **lies}


def _candidate(own: Any) -> Any:
    if not isinstance(own, dict) or "end" not in own:
        return own
    return {("pick" if key == "end" else key): value for key, value in own.items()}


def older_words(text: str) -> str:
    """A place or a sentence about today's form in the words of the form before."""
    for pattern, older in _NEWER_TO_OLDER:
        for number, end in enumerate(PAIR, 1):
            text = re.sub(pattern.format(number=number), older.format(end=end), text)
    return (
        text.replace("each_unit.", "units.")
        .replace("[each_unit]", "[units]")
        .replace("trailer.start", "start.trailer")
        .replace("[trailer] start", "[start] trailer")
    )
