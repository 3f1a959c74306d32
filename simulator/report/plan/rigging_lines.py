"""The rigging list as lines of text and as plain values."""

from __future__ import annotations

from math import degrees
from typing import Any

from simulator.plan.rigging_list import MARGINS, Chosen, EndRigging, fails
from simulator.plan.sling_rigging import SlingBend, SlingLie
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_json import finite
from simulator.report.plan.setup_lines import station_name
from simulator.scenario.hardware import MARK_WORDS

TAG = "The tag on a piece goes before any table; what has no readable tag, or is cut, bent or worn, is not used."
WRAPS = (
    "Two full wraps stay on each drum, for load and for boom rope (29 CFR 1926.1417(t)), or as many more as its maker "
    "asks for (wraps_to_stay); rope left does not count them."
)


def rigging_lines(ends: tuple[EndRigging, ...], amounts: Amounts) -> list[str]:
    """Both ends: what the legs do, the sizes that hold with their used share, edges, refusals."""
    lines: list[str] = []
    for one in ends:
        pieces = (_row(piece, one, amounts) for piece in one.pieces)
        lines += [*_head(one, amounts), *_spreader(one, amounts), *_slings(one, amounts), *pieces, *_notes(one), ""]
    marks = sorted({piece.held.mark for one in ends for piece in one.pieces})
    lines.append("marks: " + "; ".join(f"{mark} {MARK_WORDS[mark]}" for mark in marks))
    sources = {piece.held.piece.table: piece.source for one in ends for piece in one.pieces}
    return [*lines, *(f"  {name}: {source}" for name, source in sources.items()), MARGINS, TAG, WRAPS]


def _slings(one: EndRigging, amounts: Amounts) -> list[str]:
    """Where a sling bends round the load, what protects it there, how it presses, and what is stated to bear that."""
    lines = []
    for lie in one.slings:
        off = amounts.text(lie.hook_off_m, "m")
        clear = "" if lie.hook_is_off else f"; REFUSED: at least {amounts.text(lie.needs_off_m, 'm')}, a longer sling"
        laid = amounts.text(lie.laid_m, "m")
        lines.append(f"  {lie.attitude}: {laid} of sling lie on the load, its hook is {off} off it{clear}")
        lines += [f"    {_bend(bend, amounts)}" for bend in lie.bends]
        low, high = (amounts.text(pull, "N") for pull in lie.pulls_N)
        friction = f"friction {one.pick.corner_friction:g} at its bends, by exp(friction x angle)"
        lines.append(f"    its far side may carry {low} to {high}: {friction} (common practice)")
    if lines:
        lines.append(f"    protection: {one.pick.protection or 'NOT STATED: a sleeve at every edge'}")
    return lines


def _bend(bend: SlingBend, amounts: Amounts) -> str:
    """One bend, and whether what it presses bears that."""
    turn = f"turns {bend.turn_deg:.0f} deg at {bend.where}: pushes {amounts.text(bend.push_N, 'N')}"
    if bend.pressure_Pa is not None:
        value, known = bend.pressure_Pa, bend.may_bear_Pa
        turn += f", {amounts.pressure(value)} on the shell"
        stated = "" if known is None else amounts.pressure(known)
    else:
        value, known = bend.push_N, bend.may_bear_N
        stated = "" if known is None else amounts.text(known, "N")
    if known is None:
        return f"{turn}; what it bears is not stated: nobody knows"
    return f"{turn}; stated to bear {stated}: {'holds' if value <= known else 'REFUSED'}"


def _spreader(one: EndRigging, amounts: Amounts) -> list[str]:
    bar, press_N = one.pick.spreader, one.spreader_press_N
    if bar is None or press_N is None:
        return []
    press, over = amounts.text(press_N, "N"), amounts.text(one.height_m - bar.drop_m, "m")
    bears = "what it bears is not stated: nobody knows"
    if bar.may_press_N is not None:
        word = "holds" if press_N <= bar.may_press_N else "REFUSED"
        bears = f"stated to bear {amounts.text(bar.may_press_N, 'N')}: {word}"
    return [
        f"  spreader {amounts.text(bar.length_m, 'm')} long: its drops hang plumb and do not press the sides",
        f"  its top legs press it together with {press}; {bears}",
        f"  it and its top legs take {over} of head room over the bar",
    ]


def _head(one: EndRigging, amounts: Amounts) -> list[str]:
    end = one.line
    legs = "one leg" if one.legs == 1 else f"two legs {amounts.text(one.width_m, 'm')} apart"
    return [
        f"{end} end: {amounts.text(one.hook_load_N, 'N')} at the hook "
        f"(worst: {station_name(one.where, amounts)}), {legs}, "
        f"{amounts.text(one.height_m, 'm')} high",
        f"  each leg: {degrees(one.leg.angle_rad):.1f} deg from horizontal, {amounts.text(one.leg.length_m, 'm')} "
        f"long, {amounts.text(one.leg.tension_N, 'N')}; presses inward with {amounts.text(one.leg.level_N, 'N')}",
    ]


def _row(piece: Chosen, end: EndRigging, amounts: Amounts) -> str:
    held = piece.held
    word = "holds" if held.holds else "REFUSED" if fails(piece, end.pieces) else "does not hold"
    used = f"{100.0 * held.used:.0f} %" if finite(held.used) is not None else "none"
    needs = amounts.text(held.needed_N, "N")
    return f"  {piece.role:<44}{held.piece.name:<29} {needs:>9}{used:>7} used  {held.mark}  {word}"


def _notes(one: EndRigging) -> list[str]:
    none = "where its sling bends, see above" if one.slings else "no leg bears on an edge"
    edges = [f"  edge protection: {edge}" for edge in one.edges] or [f"  edge protection: {none}"]
    missing = [f"  NOT JUDGED: {each.missing}; needs {each.needs}" for each in one.missing]
    return [*edges, *missing, *(f"  REFUSED: {text}" for text in one.refused)]


def rigging_json(ends: tuple[EndRigging, ...]) -> list[dict[str, Any]]:
    """Everything of the list, SI."""
    return [
        {
            "end": one.line,
            "hook_load_N": one.hook_load_N,
            "worst_at": one.where,
            "width_m": one.width_m,
            "height_m": one.height_m,
            "legs": one.legs,
            "leg_angle_rad": one.leg.angle_rad,
            "leg_tension_N": one.leg.tension_N,
            "pieces": [_piece(piece) for piece in one.pieces],
            "edge_protection": list(one.edges),
            "protection": one.pick.protection,
            "slings": [_sling(lie) for lie in one.slings],
            "spreader_press_N": one.spreader_press_N,
            "refused": list(one.refused),
            "not_judged": [each._asdict() for each in one.missing],
        }
        for one in ends
    ]


def _sling(lie: SlingLie) -> dict[str, Any]:
    return {**lie._asdict(), "bends": [bend._asdict() for bend in lie.bends]}


def _piece(piece: Chosen) -> dict[str, Any]:
    held = piece.held
    return {
        "role": piece.role,
        "piece": held.piece.name,
        "needed_N": held.needed_N,
        "allowed_N": held.allowed_N,
        "used": finite(held.used),
        "holds": held.holds,
        "next_size": held.next_size.name if held.next_size else None,
        "mark": held.mark,
        "source": piece.source,
    }
