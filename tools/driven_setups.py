"""Random set-ups, checked and then driven by able operators: does what the check let pass stay within its limits?

python tools/driven_setups.py [--draws 60] [--seed 4000] [--keep-in FILE] [--refused]

Each draw is a shipped scenario with other weight, center of gravity, stands, tips, depth and wind, by its papers. What
passes no stated limit is driven: an incident, a value past a stop or a lift that is not landed is a miss. With
`--refused`, what the check refuses for one reason is driven as well: the value that it was refused for has to go as far
as the check's own limit. Draws that cannot be built, that are not judged, or refused for several reasons are counted
and not driven. A run with `--keep-in` goes on where it stopped.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from dataclasses import replace
from math import isfinite
from pathlib import Path
from random import Random
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from simulator.mechanics.boom import boom_pose
from simulator.mechanics.hoist_line import rope_for_m
from simulator.places import shipped_scenarios
from simulator.plan.findings import Finding
from simulator.plan.hanging import load_of
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.plan.stations import stations
from simulator.rehearsal.driven import DrawRow
from simulator.rehearsal.limits import RehearsedLimit, limits_of
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from simulator.scenario.unit import Unit
from simulator.script import checked, rehearse

SLACK_M = 0.3
"""Lines at time zero."""
LIVE = {
    "capacity": "capacity_used", "lightest float": "least_float_share", "bearing": "ground_used",
    "rope left": "rope_left_m", "off plumb": "mean_off_plumb_rad", "head room": "head_room_m", "hung roll": "",
    "wind": "wind",
}  # fmt: skip
"""The reading of a drive that shows what a check refuses for; what is not here, a drive that lands cannot show."""
MEETS = ("gap", "deck", "tail swing", "face", "lane", "overhead", "room")
"""Parts of names of what a drive shows as an incident."""


def drawn(seed: int, number: int) -> Description:
    """Set-up `number`, its hidden numbers as on its papers.

    Raises:
        BrokenScenario: what was drawn does not fit together.
    """
    lots = Random(f"{seed} {number}")
    lift = load(lots.choice(list(shipped_scenarios())))
    trailer, site, path = lift.trailer, lift.site, lift.path
    x, y, z = trailer.cargo.cg_m
    cargo = replace(
        trailer.cargo, mass_kg=trailer.cargo.mass_kg * lots.uniform(0.5, 1.6), cg_m=(x + lots.uniform(-1.0, 1.0), y, z)
    )
    deeper = lots.uniform(0.6, 1.3)
    wind = replace(site.wind, speed_mps=lots.uniform(0.0, 9.0), gust_share=lots.uniform(0.0, 0.4))
    section = tuple((across, up * deeper if up < 0.0 else up) for across, up in site.section_m)
    path = replace(
        path, tip_height_m=path.tip_height_m + lots.uniform(-0.8, 0.8),
        belly_over_road_m=path.belly_over_road_m + lots.uniform(-0.3, 0.5),
    )  # fmt: skip
    out_m, pad = lots.uniform(-0.8, 0.8), lots.uniform(0.8, 1.3)
    units = tuple(
        replace(one, slew_axis_x_m=one.slew_axis_x_m - one.facing * out_m,
                floats=replace(one.floats, pad_side_m=one.floats.pad_side_m * pad))
        for one in lift.units
    )  # fmt: skip
    steps = replace(lift.engine, steps_per_s=120, readings_per_s=30, footing_every_steps=4)
    changed = replace(
        lift, drill=None, engine=steps, path=path, units=units, seed=lots.randrange(2**31),
        site=replace(site, section_m=section, wind=wind),
        trailer=replace(trailer, cargo=cargo, hidden_cg_m=(0.0, 0.0, 0.0), hidden_mass_factor=1.0),
    )  # fmt: skip
    return checked(replace(changed, units=tuple(started(changed))))


def started(lift: Description) -> list[Unit]:
    """The units with their booms over the picks as far as their travel goes, lines a little slack."""
    lift_off, units = stations(lift, load_of(lift))[0], []
    for unit, of in zip(lift.units, rig_of(lift).units, strict=True):
        tip, boom = lift_off.tips_m[of.place], unit.boom
        length, elevation, slew = boom_pose(unit, tip)
        length = min(max(length, boom.shortest_m), boom.longest_m)
        elevation = min(max(elevation, boom.lowest_rad), boom.highest_rad)
        slew = min(max(slew, boom.slew_ravine_rad), boom.slew_road_rad)
        ropes = (
            rope_for_m(line.hoist, max(0.1, tip[2] - lift_off.hooks_m[own.place][2] + SLACK_M), length)
            for line, own in zip(unit.lines, of.lines, strict=True)
        )
        lines = (
            replace(line, rope_out_m=min(rope, line.hoist.usable_rope_m))
            for line, rope in zip(unit.lines, ropes, strict=True)
        )
        start = replace(unit.start, boom_length_m=length, elevation_rad=elevation, slew_rad=slew)
        units.append(replace(unit, start=start, lines=tuple(lines)))
    return units


def past(row: DrawRow, limits: tuple[RehearsedLimit, ...]) -> list[str]:
    """The stops that a drive passed."""
    return [
        f"{one.key} {value:.4g} (stop {one.at.stop:.4g})"
        for one, value in zip(limits, row.values, strict=False)
        if isfinite(value) and not one.is_kept(value) and not one.key.endswith(".tandem_used")
    ]


def shows(row: DrawRow, finding: Finding, limits: tuple[RehearsedLimit, ...]) -> bool | None:
    """Whether a drive went as far as the check's limit for what it refused; none where no drive can show it."""
    reading = finding.reading
    name = LIVE.get(reading.code)
    if any(part in reading.code for part in MEETS):
        return bool(row.incidents)
    if not name:
        return None
    unit = reading.who.removesuffix(" unit")
    value = next((value for one, value in zip(limits, row.values, strict=False) if one.key == f"{unit}.{name}"), None)
    if value is None or not isfinite(value):
        return bool(row.incidents)
    return bool(row.incidents) or reading._replace(value=value).level == "stop"


def one_draw(seed: int, number: int, *, refused_too: bool) -> dict[str, Any]:
    """What became of a draw, as plain values."""
    found: dict[str, Any] = {"number": number}
    try:
        lift = drawn(seed, number)
    except (BrokenScenario, ValueError) as broken:
        return {**found, "came": "cannot be built", "why": str(broken)[:200]}
    check = check_setup(lift)
    found |= {"lift": lift.title, "check": check.verdict, "refused for": list(check.refused_for)}
    if check.verdict == "not judged" or len(check.refused_for) > 1 or (check.refused_for and not refused_too):
        return {**found, "came": "not driven"}
    row = rehearse(lift, 1, jobs=1, seed=seed).rows[0]
    limits = limits_of(lift)
    found |= {"ended": row.ended, "time_s": round(row.time_s, 1), "why": row.why, "past": past(row, limits),
              "incidents": [f"{one.what} {one.fields}" for one in row.incidents]}  # fmt: skip
    if not check.refused_for:
        return {**found, "came": "held" if row.ended == "landed" and not found["past"] else "MISS"}
    return {**found, "came": refused_came(row, check, limits)}


def refused_came(row: DrawRow, check: SetupCheck, limits: tuple[RehearsedLimit, ...]) -> str:
    """Whether a refused set-up failed for what it was refused for."""
    one = next(one for one in check.findings if one.level == "stop")
    shown = shows(row, one, limits)
    return "refused, no drive shows it" if shown is None else "refused, shown" if shown else "REFUSED, NOT SHOWN"


def kept(path: Path | None) -> dict[int, dict[str, Any]]:
    """The draws that an earlier run has driven."""
    if path is None or not path.exists():
        return {}
    rows = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines() if line.endswith("}")]
    return {row["number"]: row for row in rows}


def main() -> int:
    """Drive the draws; 1 when one misses."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--draws", type=int, default=60, help="set-ups drawn, whatever the check says of them")
    parser.add_argument("--seed", type=int, default=4000)
    parser.add_argument("--refused", action="store_true", help="drive what is refused for one reason, too")
    parser.add_argument("--keep-in", type=Path, metavar="FILE", help="a line for each draw; for one seed")
    given = parser.parse_args()
    rows = kept(given.keep_in)
    for number in range(1, given.draws + 1):
        if number in rows:
            continue
        rows[number] = one_draw(given.seed, number, refused_too=given.refused)
        print(json.dumps(rows[number]), flush=True)
        if given.keep_in is not None:
            with given.keep_in.open("a", encoding="utf-8") as file:
                file.write(json.dumps(rows[number]) + "\n")
    came = Counter((row["came"], *row.get("refused for", [])) for row in rows.values() if row["number"] <= given.draws)
    for what, times in came.most_common():
        print(f"{times:>5}  {', '.join(what)}")
    return int(any(what[0] in ("MISS", "REFUSED, NOT SHOWN") for what in came))


if __name__ == "__main__":
    sys.exit(main())
