"""Random set-ups, checked and then driven by able operators: does what the check let pass stay within its limits?

python tools/driven_setups.py [--draws 60] [--seed 4000] [--keep-in FILE] [--refused 100] [--first 1]

What a draw may be stands in `drawn_setups.py`. What passes no stated limit is driven: an incident, a value past a stop
or a lift that is not landed is a miss. With `--refused`, the first so many that the check refuses for one reason are
driven as well: the value that it was refused for has to go as far as the check's own limit. Draws that cannot be built,
that are not judged, or refused for several reasons are counted and not driven. Beside each plan's values stands what
the lift met, from which the plan's allowance for dynamics is taken. A run with `--keep-in` goes on where it stopped.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from math import isfinite
from pathlib import Path
from typing import Any, NamedTuple

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from simulator.attempt import Attempt
from simulator.engine.time_zero import unfit
from simulator.mechanics.allowances import DYNAMIC_MARGIN, HANDS_LEAN_RAD, HANDS_TAKE_M
from simulator.plan.findings import Finding, Reading
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.readings import Readings
from simulator.recording.counted import HANGS_N, Sampled, sample_every
from simulator.recording.headless import GIVEN_UP, run_operators
from simulator.rehearsal.limits import RehearsedLimit, limits_of
from simulator.rehearsal.lots import Lots, lift_of, operators_of
from simulator.rehearsal.lots import drawn as operators_drawn
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from tools.drawn_setups import drawn

LIVE = {
    "capacity": "capacity_used", "lightest float": "least_float_share", "bearing": "ground_used",
    "rope left": "rope_left_m", "off plumb": "mean_off_plumb_rad", "head room": "head_room_m", "hung roll": "",
}  # fmt: skip
"""The reading of a drive that shows what a check refuses for; what is not here, a drive that lands cannot show."""
MEETS = ("gap", "deck", "tail swing", "face", "lane", "overhead", "room")
"""Parts of names of what a drive shows as an incident."""


class Driven(NamedTuple):
    """One lift driven."""

    ended: str
    time_s: float
    values: tuple[float, ...]
    """The worst of each of `limits_of`."""
    incidents: tuple[str, ...]
    why: str
    met: dict[str, float]
    """The most, or of what falls the least, that a unit, a line or the load met."""


class Met:
    """Looks on, and keeps the most of what a plan counts with."""

    def __init__(self, lift: Description) -> None:
        self._units = tuple(unit.name for unit in lift.units)
        self.most: dict[str, float] = {}

    def __call__(self, now: Readings) -> None:
        """Take in a moment."""
        for name, unit in zip(self._units, now.units, strict=True):
            for field in ("raise_used", "telescope_used", "slew_used", "line_load_N", "ground_used", "capacity_used"):
                self._keep(f"{name}.{field}", getattr(unit, field))
        for place, line in enumerate(now.lines):
            self._keep(f"line {place}", line.line_load_N)
        if now.load.ground_N < HANGS_N:
            for field in ("yaw_rad", "pitch_rad", "roll_rad", "sway_along_m", "sway_across_m"):
                self._keep(f"load.{field}", abs(getattr(now.load, field)))

    def _keep(self, key: str, value: float) -> None:
        self.most[key] = max(value, self.most.get(key, value))


def drive(lift: Description, seed: int) -> Driven:
    """By able operators to its end."""
    draw = operators_drawn(lift, Lots(seed, (("able",),) * len(lift.units), None, None, None, None), 1)
    attempt = Attempt(lift_of(lift, draw), operators_of(lift, draw), in_bulk=True)
    if faults := unfit("draw", attempt.simulation):
        return Driven("cannot begin", 0.0, (), (), str(faults[0])[:200], {})
    every = sample_every(attempt.description.engine.steps_per_s, attempt.every)
    seen, met = Sampled(attempt.rig, every=every), Met(lift)
    attempt.watch_closely(seen, attempt.description.engine.steps_per_s / every)
    attempt.watch_closely(met, attempt.description.engine.steps_per_s / every)
    run_operators(attempt)
    seen(attempt.readings)
    values = tuple(seen.worst(one.key) for one in limits_of(lift))
    incidents = tuple(f"{one.happening.what} {one.happening.fields}" for one in attempt.incidents)
    given_up = any(event.kind == GIVEN_UP for event in attempt.events)
    ended = (
        "incident" if incidents else "landed" if attempt.readings.load.landed else "given up" if given_up else "over"
    )
    return Driven(ended, attempt.readings.time_s, values, incidents, "", met.most)


def past(row: Driven, limits: tuple[RehearsedLimit, ...]) -> list[str]:
    """The stops that a drive passed."""
    return [
        f"{one.key} {value:.4g} (stop {one.at.stop:.4g})"
        for one, value in zip(limits, row.values, strict=False)
        if isfinite(value) and not one.is_kept(value) and not one.key.endswith(".tandem_used")
    ]


def shows(row: Driven, finding: Finding, limits: tuple[RehearsedLimit, ...]) -> bool | None:
    """Whether a drive went as far as the check's limit for what it refused; none where no drive can show it."""
    reading = finding.reading
    name = LIVE.get(reading.code)
    if row.ended == "cannot begin" or is_by_allowance(reading):
        return None
    if name is None and any(part in reading.code for part in MEETS):
        return bool(row.incidents)
    if not name:
        return None
    unit = reading.who.removesuffix(" unit")
    value = next((value for one, value in zip(limits, row.values, strict=False) if one.key == f"{unit}.{name}"), None)
    if value is None or not isfinite(value):
        return bool(row.incidents)
    return bool(row.incidents) or reading._replace(value=value).level == "stop"


def is_by_allowance(reading: Reading) -> bool:
    """Refused only by what a plan allows for: half of the lifts do not meet that."""
    if reading.code == "off plumb":
        return reading.value < reading.stop + HANDS_LEAN_RAD
    if reading.code == "lightest float":  # it falls by as much as pulls grow
        return 1.0 - (1.0 - reading.value) / DYNAMIC_MARGIN >= reading.stop
    if reading.rising:
        return reading.code != "wind" and reading.value < DYNAMIC_MARGIN * reading.stop
    taken = {"m": HANDS_TAKE_M}.get(reading.kind, 0.0)
    return reading.code != "rope left" and reading.value >= reading.stop - taken and taken > 0.0


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
    row = drive(lift, seed)
    if row.ended == "cannot begin":  # `check` says of such a file what is wrong with it, and judges nothing
        return {**found, "came": "cannot be built", "why": row.why}
    limits = limits_of(lift)
    found |= {"ended": row.ended, "time_s": round(row.time_s, 1), "why": row.why, "past": past(row, limits),
              "incidents": list(row.incidents), "wind": round(lift.site.wind.speed_mps, 1),
              "driven": {one.key: value for one, value in zip(limits, row.values, strict=False)},
              "met": {key: round(value, 4) for key, value in row.met.items()}, "plan": planned(check)}  # fmt: skip
    if not check.refused_for:
        return {**found, "came": "held" if row.ended == "landed" and not found["past"] else "MISS"}
    return {**found, "came": refused_came(row, check, limits)}


def planned(check: SetupCheck) -> dict[str, float]:
    """The worst of each value of a plan."""
    values = {f"{one.reading.who}.{one.reading.code}": one.reading.value for one in check.findings}
    for place in range(len(check.stations[0].station.shares)):
        loads = [[line.load_N for stand in one.units for line in stand.lines][place] for one in check.stations]
        values[f"line {place}"] = max(loads)
    return {key: round(value, 4) for key, value in values.items()}


def refused_came(row: Driven, check: SetupCheck, limits: tuple[RehearsedLimit, ...]) -> str:
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
    parser.add_argument("--first", type=int, default=1, help="number of the first")
    parser.add_argument("--seed", type=int, default=4000)
    parser.add_argument("--refused", type=int, default=0, metavar="MANY", help="drive so many refused for one reason")
    parser.add_argument("--keep-in", type=Path, metavar="FILE", help="a line for each draw; for one seed")
    given = parser.parse_args()
    rows = kept(given.keep_in)
    numbers = range(given.first, given.first + given.draws)
    for number in numbers:
        if number in rows:
            continue
        refused = sum(row["came"].lower().startswith("refused") for row in rows.values())
        rows[number] = one_draw(given.seed, number, refused_too=refused < given.refused)
        print(told(rows[number]), flush=True)
        if given.keep_in is not None:
            with given.keep_in.open("a", encoding="utf-8") as file:
                file.write(json.dumps(rows[number]) + "\n")
    came = Counter((row["came"], *row.get("refused for", [])) for row in rows.values() if row["number"] in numbers)
    for what, times in came.most_common():
        print(f"{times:>5}  {', '.join(what)}")
    return int(any(what[0] in ("MISS", "REFUSED, NOT SHOWN") for what in came))


def told(row: dict[str, Any]) -> str:
    """A draw in a line."""
    words = [row["came"], row.get("lift", ""), *row.get("refused for", []), row.get("why", "")]
    if row["came"] != "held":
        words += [*row.get("past", []), *row.get("incidents", [])]
    return f"{row['number']:>5}  " + ", ".join(word for word in words if word)


if __name__ == "__main__":
    sys.exit(main())
