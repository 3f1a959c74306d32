"""Picks, spacings and leaders side by side, as lines of text and as plain values."""

from __future__ import annotations

from math import degrees, isfinite
from typing import Any

from simulator.plan.compare import Pair, Row
from simulator.plan.picks import USUAL_ELEVATION_RAD, Compared, OverhangCost
from simulator.plan.spacing import THREE_QUARTERS, Spaced, bands, best
from simulator.report.amounts import Amounts


def pick_lines(found: tuple[Compared, ...], costs: tuple[OverhangCost, ...], amounts: Amounts) -> list[str]:
    """Candidates, differences from the picks as described, and what overhang costs."""
    first = found[0].row
    lines = [_head(f"{'pick':<30}"), *_unit_row(amounts, 30)]
    for one in found:
        if one.row is None:
            lines.append(f"{one.name:<24}{one.end:<6}REFUSED: {one.why_not}")
            continue
        lines.append(_row(f"{one.name[:23]:<24}{one.end:<6}", one.row, amounts))
        if first is not None and one.end != "both":
            lines.append(_difference(one, first, amounts))
    return [*lines, "", *cost_lines(costs, amounts)]


def _head(first: str) -> str:
    names = ("share", "load", "reach", "boom", "cap.", "head", "least")
    return first + "".join(f"{name:>14}" for name in names) + "  verdict"


def _unit_row(amounts: Amounts, width: int) -> list[str]:
    u = amounts.length_unit
    units = ("%", amounts.load_unit, u, u, "%", u, "float %")
    return [" " * width + "".join(f"{unit:>14}" for unit in units) + "  (nose / tail, worst along the path)"]


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


def _mapped(pair: Pair, convert: Any) -> Pair:
    return convert(pair[0]), convert(pair[1])


def _both(pair: Pair, factor: float, decimals: int) -> str:
    return " / ".join(f"{factor * value:.{decimals}f}" if isfinite(value) else "none" for value in pair)


def verdict(row: Row) -> str:
    """works, or what refuses it."""
    return "works" if row.works else f"REFUSED: {', '.join(row.refused_for)}"


def _difference(one: Compared, first: Row, amounts: Amounts) -> str:
    """Against the picks as described, at its own end."""
    assert one.row is not None
    end = 0 if one.end == "nose" else 1
    here, there = one.row, first
    parts = (
        f"reach {amounts.length(here.reach_m[end] - there.reach_m[end]):+.2f} {amounts.length_unit}",
        f"boom {amounts.length(here.boom_m[end] - there.boom_m[end]):+.2f} {amounts.length_unit} on the bed",
        f"{amounts.length(here.boom_over_tailboard_m[end] - there.boom_over_tailboard_m[end]):+.2f} over the tailboard",
        f"share {100.0 * (here.shares[end] - there.shares[end]):+.0f} %",
        f"capacity {100.0 * (here.capacity_used[end] - there.capacity_used[end]):+.0f} %",
        f"least float {100.0 * (here.least_float_share[end] - there.least_float_share[end]):+.0f} %",
    )
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
        f"  Why: 8 ft for 12 ft of boom is common practice (no source); it holds at {usual} only and raises the tip.",
        "  With the tip kept at its height elevation goes down, which gives reach for less boom. Over the ravine booms",
        "  point mostly across the road: a pick farther along it changes reach little; it costs load share instead.",
    ]


def spacing_lines(
    by_gap: tuple[Spaced, ...], by_edge: tuple[Spaced, ...], leading: tuple[Row, Row], length_m: float, amounts: Amounts
) -> list[str]:
    """Gap, distance from the edge, which end leads."""
    lines = [f"gap between the tailboards, trailer {amounts.text(length_m, 'm')} long", _spaced_head()]
    for one in by_gap:
        mark = "  <- three quarters (common practice)" if abs(one.value - THREE_QUARTERS) < 0.005 else ""
        gap = amounts.text(one.value * length_m, "m")
        lines.append(_spaced_row(f"{100.0 * one.value:>5.0f} %  {gap:>9}", one.row, amounts) + mark)
    lines += [
        _band_line(by_gap, lambda value: f"{100.0 * value:.0f} %"),
        "",
        "from the slope's edge to the nearest pad",
    ]
    lines.append(_spaced_head())
    lines += [_spaced_row(f"{amounts.text(one.value, 'm'):>18}", one.row, amounts) for one in by_edge]
    lines += [
        _band_line(by_edge, lambda value: amounts.text(value, "m")),
        "",
        "which end leads, its tip half a metre ahead",
    ]
    for row in leading:
        room = f"{amounts.text(row.room_m, 'm')} ({row.room_to})"
        lines.append(
            f"  {row.name:<18}{verdict(row)}; least room {room}; most used: {row.tightest}, {_percent(row.used)}"
        )
    return lines


def _spaced_head() -> str:
    return f"{'':<20}{'boom over tailboard':>20}{'elevation, highest':>20}{'least float %':>15}  most used of its limit"


def _spaced_row(first: str, row: Row, amounts: Amounts) -> str:
    boom = _both(_mapped(row.boom_over_tailboard_m, amounts.length), 1.0, 2)
    elevation, least = _both(_mapped(row.elevation_rad, degrees), 1.0, 1), _both(row.least_float_share, 100.0, 0)
    return f"{first:<20}{boom:>20}{elevation:>20}{least:>15}  {verdict(row)}; {row.tightest} {_percent(row.used)}"


def _percent(share: float) -> str:
    return f"{100.0 * share:.0f} %" if isfinite(share) else "past it"


def _band_line(found: tuple[Spaced, ...], say: Any) -> str:
    """Band that works, and where in it most is kept in hand; the end of a band is no place to aim for."""
    runs, top = bands(found), best(found)
    if top is None:
        return "nothing here works"
    spans = " and ".join(f"{say(low)} to {say(high)}" if low < high else say(low) for low, high in runs)
    at_an_end = any(top.value in run for run in runs)
    edge = "; the next one is refused, so leave room" if at_an_end else ""
    return f"works: {spans}; limits are used least at {say(top.value)} ({_percent(top.row.used)}){edge}"


def row_json(row: Row) -> dict[str, Any]:
    """One row, SI; JSON has no infinity."""

    def plain(value: Any) -> Any:
        if isinstance(value, tuple):
            return [plain(one) for one in value]
        return None if isinstance(value, float) and not isfinite(value) else value

    return {name: plain(value) for name, value in row._asdict().items()}
