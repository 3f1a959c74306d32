"""Scenario files in the form before lists: `[units.nose]`, `[start.nose]`, `[trailer.nose_pick]`; read as ever."""

from __future__ import annotations

import re
from typing import Any

from simulator.scenario.faults import shown, shown_key
from simulator.scenario.rig import PAIR
from simulator.scenario.tables import Notes

OLDER = {f"to_{unit}": unit for unit in PAIR}


def with_told(top: dict[str, Any]) -> dict[str, Any]:
    """The same content with every step's texts as a list of units and texts; what is wrong stays where it is found."""
    drill = top.get("drill")
    if not isinstance(drill, dict) or not isinstance(drill.get("steps"), list):
        return top
    steps = [_with_texts(one) if isinstance(one, dict) else one for one in drill["steps"]]
    return {**top, "drill": {**drill, "steps": steps}}


def _with_texts(step: dict[str, Any]) -> dict[str, Any]:
    older = {unit: step[key] for key, unit in OLDER.items() if key in step}
    to = step.get("to", {})
    if not isinstance(to, dict) or not (to or older):
        return step
    rest = {key: value for key, value in step.items() if key not in OLDER}
    return {**rest, "to": [{"unit": unit, "text": text} for unit, text in {**older, **to}.items()]}


_START_OF_LINE = ("rope_out",)
"""What was said at a unit's start and is said of its line."""
_NEWER_TO_OLDER = (
    (r"units {number}\.lines \d\.hoist", "units.{end}.hoist"),
    (r"units {number}\.lines \d", "start.{end}"),
    (r"units {number}\.start", "start.{end}"),
    (r"units {number}", "units.{end}"),
    (r"trailer\.picks {number}", "trailer.{end}_pick"),
)


FREE_SURFACE = ("free_surface_length", "free_surface_depth")
AXES = ("x", "y", "z")
MOST_FILLED = 0.98
"""A tank is taken to be at least as much higher than its liquid."""

RESPELLED = {"centre": "center"}  # the older spelling
"""Kinds of work of a drill's step that were spelled otherwise once."""


def respelled(top: dict[str, Any]) -> dict[str, Any]:
    """The same content with a drill's kinds of work as they are spelled today."""
    drill = top.get("drill")
    steps = drill.get("steps") if isinstance(drill, dict) else None
    if not isinstance(drill, dict) or not isinstance(steps, list):
        return top
    return {**top, "drill": {**drill, "steps": [_step(one) for one in steps]}}


def with_tank(top: dict[str, Any]) -> dict[str, Any]:
    """The same content with a free liquid as a tank that is partly filled: of that length and depth, and as wide and as
    high as the cargo was said to be.
    """
    trailer = top.get("trailer")
    cargo = trailer.get("cargo") if isinstance(trailer, dict) else None
    if not isinstance(trailer, dict) or not isinstance(cargo, dict) or cargo.keys().isdisjoint(FREE_SURFACE):
        return top
    rest = {key: value for key, value in cargo.items() if key not in FREE_SURFACE}
    long, deep = (cargo.get(key, usual) for key, usual in zip(FREE_SURFACE, (0.0, 1.0), strict=True))
    size = cargo.get("size")
    if not isinstance(size, list) or len(size) != len(AXES) or not all(isinstance(one, float | int) for one in size):
        return top
    if isinstance(long, float | int) and isinstance(deep, float | int) and long > 0.0 and deep > 0.0:
        high = max(size[2], deep / MOST_FILLED)
        rest |= {"kind": "liquid", "size": [long, size[1], high], "fill": deep / high}
    return {**top, "trailer": {**trailer, "cargo": rest}}


def _step(own: Any) -> Any:
    work = own.get("work") if isinstance(own, dict) else None
    return {**own, "work": RESPELLED[work]} if isinstance(work, str) and work in RESPELLED else own


def is_older(top: dict[str, Any]) -> bool:
    """True for a file in the form before lists."""
    if isinstance(top.get("units"), list) or "each_unit" in top:
        return False
    trailer = top.get("trailer")
    names_picks = isinstance(trailer, dict) and not trailer.keys().isdisjoint(f"{end}_pick" for end in PAIR)
    return isinstance(top.get("units"), dict) or "start" in top or names_picks


def newer(notes: Notes, top: dict[str, Any]) -> dict[str, Any]:
    """The same content in today's form; what is no table stays where a fault will be found."""
    rest = {key: value for key, value in top.items() if key not in ("units", "start", "trailer")}
    units, trailer = top.get("units"), top.get("trailer")
    start = _start(notes, top.get("start", {}))
    if isinstance(units, dict):
        shared = {key: value for key, value in units.items() if key not in PAIR}
        each = [_unit(end, units.get(end, {}), start.get(end, {})) for end in PAIR]
        rest |= {"each_unit": shared, "units": each}
    elif units is not None:
        rest["units"] = units
    if isinstance(top.get("limits"), dict):
        rest["limits"] = _limits(top["limits"])
    if trailer is not None:
        rest["trailer"] = _trailer(trailer, start) if isinstance(trailer, dict) else trailer
    return rest


def _start(notes: Notes, start: Any) -> dict[str, Any]:
    """The tables of `[start]`, which today's form has nowhere to keep: what it may not hold is a fault here."""
    if not isinstance(start, dict):
        notes.fault("start", shown(start), "a table [start]")
        return {}
    for key in start.keys() - {"trailer", *PAIR}:
        notes.fault(f"[start] {shown_key(key)}", "a name that is not known", "trailer, nose or tail")
    return start


def _unit(end: str, own: Any, start: Any) -> Any:
    if not isinstance(own, dict):
        return own
    if not isinstance(start, dict):
        hoist = {"hoist": own["hoist"]} if "hoist" in own else {}
        return {"name": end, **own, "start": start, "lines": [{"pick": end, **hoist}]}
    line = {key: start[key] for key in _START_OF_LINE if key in start}
    boom = {key: value for key, value in start.items() if key not in _START_OF_LINE}
    hoist = {"hoist": own["hoist"]} if "hoist" in own else {}
    rest = {key: value for key, value in own.items() if key != "hoist"}
    return {"name": end, **rest, "start": boom, "lines": [{"pick": end, **line, **hoist}]}


def _limits(own: dict[str, Any]) -> dict[str, Any]:
    """A sway was let pass then that a gap which clears need not clear; the smaller limit holds for both now.

    Every recording of then has both written out, so that without this none could be driven again.
    """
    sway, gap = own.get("sway_caution"), own.get("gap_close")
    if isinstance(sway, int | float) and isinstance(gap, int | float) and 0.0 < gap < sway:
        return {**own, "sway_caution": gap}
    return own


def _trailer(own: dict[str, Any], start: dict[str, Any]) -> dict[str, Any]:
    given = [own.get(f"{end}_pick", {}) for end in PAIR]
    picks = [{"name": end, **pick} if isinstance(pick, dict) else pick for end, pick in zip(PAIR, given, strict=True)]
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
        text.replace("a table [[units]] for each unit", "tables [units.nose] and [units.tail]")
        .replace("a table [[units]]", "a table [units.nose] or [units.tail]")
        .replace("each_unit.", "units.")
        .replace("[each_unit]", "[units]")
        .replace("trailer.start", "start.trailer")
        .replace("[trailer] start", "[start] trailer")
    )
