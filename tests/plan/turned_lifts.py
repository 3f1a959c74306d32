"""The shipped tank, lying, rigged with four lines to be turned onto its wheels over the road."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from simulator.places import find_scenario
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.trailer import Pick
from simulator.scenario.unit import Line

STRAIGHT_M, ROUND_M = 2.8, 4.8


def on_four_lines(*, upper_edges: bool = False, **trailer_changes: Any) -> Description:
    """Line 1 straight to the frame's upper edge, line 2 from its lower edge round under the shell; or both to edges
    that lie up."""
    lift = load(find_scenario("tank_on_side"))
    picks = []
    for end, x in (("nose", -4.6), ("tail", 4.9)):
        picks.append(Pick(f"{end}_1", (x, 1.0, 1.1), "single_point", STRAIGHT_M, sling_length_m=STRAIGHT_M))
        lower, side = ((x, 1.25, 3.0), None) if upper_edges else ((x, -1.0, 1.1), "right")
        long = STRAIGHT_M if upper_edges else ROUND_M
        picks.append(Pick(f"{end}_2", lower, "single_point", long, lies_on=side, sling_length_m=long))  # type: ignore[arg-type]
    units = []
    for unit in lift.units:
        (line,) = unit.lines
        lines = tuple(
            Line(f"{unit.name}_{number}", line.rope_out_m, line.hoist, across)
            for number, across in ((1, 0.3), (2, -0.3))
        )
        units.append(replace(unit, lines=lines, levers=("both", "turn")))
    trailer = replace(lift.trailer, picks=tuple(picks), **trailer_changes)
    landing = replace(lift.landing, on_wheels=True)
    return replace(lift, trailer=trailer, units=tuple(units), landing=landing)
