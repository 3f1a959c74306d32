"""Picks, spacings, leaders and sweeps side by side, as lines of text and as plain values."""

from __future__ import annotations

from collections.abc import Callable
from math import degrees, isfinite
from typing import Any

from simulator.plan.compare import Each, Row
from simulator.plan.findings import Level
from simulator.plan.picks import USUAL_ELEVATION_RAD, Compared, OverhangCost
from simulator.plan.setup_check import SetupCheck
from simulator.plan.spacing import AHEAD_M, THREE_QUARTERS, Neighbor, Spaced, ends, least_used
from simulator.plan.sweep import Corner, Sweep
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_lines import LEVEL_WORDS, at_least, told
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2


def sweep_lines(found: Sweep, worst: SetupCheck, amounts: Amounts, *, stopped: bool = False) -> list[str]:
    """Share that holds, what refuses the rest, the worst combination with its reasons."""
    after = " (stopped before the end)" if stopped else ""
    lines = [f"{found.done} of {found.asked} combinations judged{after}"]
    if found.fixed:
        lines.append(f"STOP whatever the unknowns are: {', '.join(found.fixed)}")
    lines.append(f"hold: {100.0 * found.share:.1f} %")
    lines += [f"  past {code}: {100.0 * n / found.done:.1f} %" for code, n in found.refused.items() if n and found.done]
    lines.append(f"worst: {corner_words(found.worst, amounts)}: {_worst(found)}")
    return lines + [f"  STOP: {told(one, amounts)}" for one in worst.findings if one.level == "stop"]


def _worst(found: Sweep) -> str:
    """Past which limit the worst combination is, or how near to which."""
    if found.worst_used >= 1.0:
        return f"does not hold, {found.worst_code} farthest past its limit"
    return f"holds, {found.worst_code} nearest to its limit ({100.0 * found.worst_used:.0f} % of the way)"


def corner_words(corner: Corner, amounts: Amounts) -> str:
    """One combination in words."""
    weight = amounts.text(corner.mass_kg * STANDARD_GRAVITY_MPS2, "N")
    moved = amounts.length(corner.cg_shift_m)
    wind, bed = amounts.text(corner.wind_mps, "m/s"), amounts.text(corner.depth_m, "m")
    aside = f" and {amounts.length(corner.cg_across_m):+.2f} {amounts.length_unit} across" if corner.cg_across_m else ""
    return f"{weight}, CG {moved:+.2f} {amounts.length_unit} toward the axles{aside}, wind {wind}, bed {bed} down"


def sweep_json(found: Sweep, worst: SetupCheck, *, stopped: bool, seed: int) -> dict[str, Any]:
    """Everything, SI."""
    return {
        "done": found.done,
        "asked": found.asked,
        "stopped": stopped,
        "seed": seed,
        "share_that_holds": found.share,
        "refused": found.refused,
        "refused_whatever_the_unknowns": list(found.fixed),
        "worst": found.worst._asdict(),
        "worst_code": found.worst_code,
        "worst_used": found.worst_used if isfinite(found.worst_used) else None,
        "worst_refused_for": list(worst.refused_for),
    }


def pick_lines(found: tuple[Compared, ...], costs: tuple[OverhangCost, ...], amounts: Amounts) -> list[str]:
    """Candidates, differences from the picks as described, and what overhang costs."""
    first = found[0].row
    lines = [_head(f"{'pick':<30}"), _unit_row(f"{NOSE_TAIL + ', worst on the path':<30}", amounts)]
    for one in found:
        if one.row is None:
            lines.append(f"{one.name:<24}{one.end:<6}{LEVEL_WORDS['stop']}: {one.why_not}")
            continue
        lines.append(_row(f"{one.name[:23]:<24}{one.end:<6}", one.row, amounts))
        if first is not None and one.end != "both":
            lines.append(_difference(one, first, amounts))
    return [*lines, "", *cost_lines(costs, amounts)]


def _head(first: str) -> str:
    names = ("share", "load", "reach", "boom", "cap.", "head", "least")
    return first + "".join(f"{name:>14}" for name in names) + "  verdict"


NOSE_TAIL = "nose / tail"
"""What stands on either side of the stroke."""


def _unit_row(first: str, amounts: Amounts) -> str:
    u = amounts.length_unit
    units = ("%", amounts.load_unit, u, u, "%", u, "float %")
    return first + "".join(f"{unit:>14}" for unit in units)


def _row(first: str, row: Row, amounts: Amounts) -> str:
    cells = (
        _both(row.shares, 100.0, 0),
        _both(_mapped(row.line_load_N, amounts.load), 1.0, 1),
        _both(_mapped(row.reach_m, amounts.length), 1.0, 2),
        _both(_mapped(row.boom_m, amounts.length), 1.0, 2),
        _both(row.capacity_used, 100.0, 0),
        _both(_mapped(row.head_room_m, amounts.length), 1.0, 2),
        _both(row.least_float_share, 100.0, 0),
    )
    return first + "".join(f"{cell:>14}" for cell in cells) + f"  {verdict(row)}"


def _mapped(each: Each, convert: Any) -> Each:
    return tuple(convert(value) for value in each)


def _both(each: Each, factor: float, decimals: int) -> str:
    return " / ".join(f"{factor * value:.{decimals}f}" if isfinite(value) else "none" for value in each)


def verdict(row: Row) -> str:
    """The word that a check has for it, and what for."""
    level, codes = level_of(row), row.refused_for or row.cautioned_for
    return LEVEL_WORDS[level] + (f": {', '.join(codes)}" if codes else "")


def level_of(row: Row) -> Level:
    """Of the worst of it."""
    return "stop" if row.refused_for else "caution" if row.cautioned_for else "good"


def _difference(one: Compared, first: Row, amounts: Amounts) -> str:
    """Against the picks as described, at its own end."""
    assert one.row is not None
    end = 0 if one.end == "nose" else 1
    here, there = one.row, first
    more_over_m = here.boom_over_tailboard_m[end] - there.boom_over_tailboard_m[end]
    parts = [
        f"reach {amounts.length(here.reach_m[end] - there.reach_m[end]):+.2f} {amounts.length_unit}",
        f"boom {amounts.length(here.boom_m[end] - there.boom_m[end]):+.2f} {amounts.length_unit} on the bed",
        *([f"{amounts.length(more_over_m):+.2f} over the tailboard"] if isfinite(more_over_m) else []),
        f"share {100.0 * (here.shares[end] - there.shares[end]):+.0f} %",
        f"capacity {100.0 * (here.capacity_used[end] - there.capacity_used[end]):+.0f} %",
        f"least float {100.0 * (here.least_float_share[end] - there.least_float_share[end]):+.0f} %",
    ]
    return f"{'':<30}overhang {amounts.text(one.overhang_m, 'm')}; {', '.join(parts)}"


def cost_lines(costs: tuple[OverhangCost, ...], amounts: Amounts) -> list[str]:
    """What picking farther in costs in boom, both ways of reckoning, and why they differ."""
    inward = amounts.text(max(cost.more_reach_m for cost in costs), "m") if costs else ""
    lines = [f"{inward} more overhang costs this much more boom:"]
    usual = f"{degrees(USUAL_ELEVATION_RAD):.0f} deg"
    for one in costs:
        held, height = amounts.text(one.at_usual_elevation_m, "m"), amounts.text(one.at_constant_height_m, "m")
        ways = f"{held:>9} with elevation held at {usual}; {height:>8} with the tip at its height"
        lines.append(f"  {one.end} unit, {one.place:<22}{ways}")
    return [
        *lines,
        f"  Why: half as much boom again as overhang is common practice (no source): at {usual} only; the tip rises.",
        "  With the tip kept at its height elevation goes down, which gives reach for less boom. Over the ravine booms",
        "  point mostly across the road: a pick farther along it changes reach little; it costs load share instead.",
    ]


def spacing_lines(
    by_gap: tuple[Spaced, ...], by_edge: tuple[Spaced, ...], leading: tuple[Row, Row], length_m: float, amounts: Amounts
) -> list[str]:
    """Gap, distance from the edge, which end leads."""
    lines = [f"gap between the tailboards, trailer {amounts.text(length_m, 'm')} long", *_spaced_head(amounts)]
    for one in by_gap:
        mark = "  <- three quarters (common practice)" if abs(one.value - THREE_QUARTERS) < 0.005 else ""
        gap = amounts.text(one.value * length_m, "m")
        lines.append(_spaced_row(f"{100.0 * one.value:>5.0f} %  {gap:>9}", one.row, amounts) + mark)
    lines += _bands(by_gap, lambda value: f"{100.0 * value:.0f} % ({amounts.text(value * length_m, 'm')})")
    lines += ["", "from the slope's edge to the nearest pad", *_spaced_head(amounts)]
    lines += [_spaced_row(f"{amounts.text(one.value, 'm'):>18}", one.row, amounts) for one in by_edge]
    lines += _bands(by_edge, lambda value: amounts.text(value, "m"))
    lines += ["", f"which end leads, its tip {amounts.text(AHEAD_M, 'm')} ahead"]
    for row in leading:
        room = at_least(amounts.text(row.room_m, "m"), is_least=row.room_is_at_least)
        where = f"least room {room} ({row.room_to})"
        lines.append(f"  {row.name:<18}{verdict(row)}; {where}; most used: {row.tightest}, {_percent(row.used)}")
    return lines


def _spaced_head(amounts: Amounts) -> list[str]:
    """What the columns are, and in which unit, nose unit's before tail unit's."""
    units = f"{NOSE_TAIL} {amounts.length_unit}", f"{NOSE_TAIL} deg", f"{NOSE_TAIL} %"
    return [
        f"{'':<20}{'boom over tailboard':>20}{'elevation, highest':>20}{'least float':>16}  verdict; most used limit",
        f"{'':<20}{units[0]:>20}{units[1]:>20}{units[2]:>16}",
    ]


def _spaced_row(first: str, row: Row, amounts: Amounts) -> str:
    boom = _both(_mapped(row.boom_over_tailboard_m, amounts.length), 1.0, 2)
    elevation, least = _both(_mapped(row.elevation_rad, degrees), 1.0, 1), _both(row.least_float_share, 100.0, 0)
    return f"{first:<20}{boom:>20}{elevation:>20}{least:>16}  {verdict(row)}; {row.tightest}, {_percent(row.used)}"


def _percent(share: float) -> str:
    return f"{100.0 * share:.0f} % of its limit" if isfinite(share) else "past its limit"


def _bands(found: tuple[Spaced, ...], say: Callable[[float], str]) -> list[str]:
    """Least and most that work, each with how far the refused one is, and where most is kept in hand."""
    runs, top = ends(found), least_used(found)
    if top is None:
        return [f"each passes a limit: {LEVEL_WORDS['stop']} at each"]
    lines = []
    for least, most in runs:
        lines += [f"least within limits: {_end(least, say)}", f"most within limits: {_end(most, say)}"]
    is_end = any(top is one.end and one.refused is not None for run in runs for one in run)
    edge = ", an end of what passes no limit: stand clear of it" if is_end else ""
    used = f"{top.row.tightest}, {_percent(top.row.used)}"
    return [*lines, f"limits are used least ({used}) at {say(top.value)}{edge}"]


def _end(one: Neighbor, say: Callable[[float], str]) -> str:
    """An end of what passes no limit, and the refused one beyond it."""
    if one.refused is None:
        return f"{say(one.end.value)}, the last that was tried"
    way = "less" if one.refused.value < one.end.value else "more"
    off = say(abs(one.refused.value - one.end.value))
    return f"{say(one.end.value)}; {off} {way} is a {verdict(one.refused.row)}"


def row_json(row: Row) -> dict[str, Any]:
    """One row, SI; JSON has no infinity."""

    def plain(value: Any) -> Any:
        if isinstance(value, tuple):
            return [plain(one) for one in value]
        return None if isinstance(value, float) and not isfinite(value) else value

    return {"level": level_of(row), **{name: plain(value) for name, value in row._asdict().items()}}
