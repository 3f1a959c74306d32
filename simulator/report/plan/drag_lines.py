"""What has to come before a lift whose load is out of reach or would slide, as lines of text and as plain values."""

from __future__ import annotations

from math import inf, isfinite
from typing import Any

from simulator.plan.out_of_reach import OutOfReach, Way
from simulator.report.amounts import Amounts

NOT_A_PLAN = (
    "By hand, with shares of the weight that are common practice, no source: no plan for the drag. "
    "Qualified people decide on it; nobody stands in the bight, in line with the rope, or below the load."
)


def drag_lines(found: OutOfReach | None, amounts: Amounts, names: tuple[str, ...]) -> list[str]:
    """Lines for the terminal and the sheet; none where nothing has to come before."""
    if found is None:
        return []
    lines = ["before the lift:"]
    if found.slides:
        lines.append(f"  it would not stay where it lies: {_held(found.hold_N, amounts)} before anyone goes near")
    if found.beyond:
        lines.append(f"  beyond the reach of {' and '.join(found.beyond)}, or of what is allowed there")
        lines.append(f"  {_brought(found, amounts)}")
    slope, back = amounts.text(found.slope_rad, "rad"), amounts.text(found.runs_back_N, "N")
    lines.append(f"  steepest on the way {slope}; meanwhile a second line or blocks must hold {back}, the ground apart")
    lines.append(f"  one unit's own weight holds {amounts.text(found.unit_holds_N, 'N')} (half of it); more: an anchor")
    lines += [f"  {_way(way, amounts, names)}" for way in found.ways]
    return [*lines, f"  {NOT_A_PLAN}"]


def _held(hold_N: float, amounts: Amounts) -> str:
    return "no single pull holds it" if hold_N == inf else f"hold it with {amounts.text(hold_N, 'N')} up the slope"


def _brought(found: OutOfReach, amounts: Amounts) -> str:
    if found.bring_m is None:
        return "no place short of the slope's edge is in reach: bring it up the slope, or stand the units elsewhere"
    out = amounts.text(-found.to_y_m, "m")
    return f"bring it {amounts.text(found.bring_m, 'm')} toward the road, its middle to {out} out from the units' axis"


def _way(way: Way, amounts: Amounts, names: tuple[str, ...]) -> str:
    pull = f"{way.surface.name}: pull {amounts.text(way.pull_N, 'N')}"
    rows = [_winch(name, one, amounts) for name, one in zip(names, way.winches, strict=True)]
    return f"{pull}; {'; '.join(rows)}; the unit {'holds' if way.holds else 'does NOT hold: anchor it'}"


def _winch(name: str, one: Any, amounts: Amounts) -> str:
    if one is None:
        return f"{name} winch: its rope is too short or its pull too small"
    parts = f"{one.parts} part{'s' if one.parts > 1 else ''}"
    line = amounts.text(one.line_pull_N, "N")
    return f"{name} winch: {parts}, {line} in the line, layer {one.layer}, {100.0 * one.used:.0f} % of its stall"


def drag_json(found: OutOfReach | None) -> dict[str, Any] | None:
    """Plain values, SI."""
    if found is None:
        return None
    plain = {**found._asdict(), "hold_N": found.hold_N if isfinite(found.hold_N) else None}
    plain["ways"] = [
        {
            "surface": way.surface._asdict(),
            "pull_N": way.pull_N,
            "winches": [None if one is None else one._asdict() for one in way.winches],
            "holds": way.holds,
        }
        for way in found.ways
    ]
    return plain
