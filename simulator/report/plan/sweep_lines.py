"""A sweep as lines of text and as plain values."""

from __future__ import annotations

from math import isfinite
from typing import Any

from simulator.plan.setup_check import SetupCheck
from simulator.plan.sweep import Corner, Sweep
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_lines import told
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
    return f"{weight}, CG {moved:+.2f} {amounts.length_unit} toward the axles, wind {wind}, bed {bed} down"


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
