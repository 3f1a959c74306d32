"""Every rule that ties tables together, each run as soon as the values it needs could be read."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import is_dataclass
from itertools import takewhile
from typing import Any, NamedTuple

from simulator.files.bounds import CORNERS, GROUND_WORK, SETTLING_STEPS
from simulator.scenario import checks as checks_bounds
from simulator.scenario import checks_drill, checks_flat, checks_rig, checks_site, checks_trailer, checks_unit
from simulator.scenario.breach import Breach, Breaches
from simulator.scenario.description import Description, Engine
from simulator.scenario.faults import Fault
from simulator.scenario.keys import entries
from simulator.scenario.rig import MOST_LINES
from simulator.scenario.tables import Notes
from simulator.scenario.trailer import Part


def corners(parts: tuple[Part, ...]) -> Breaches:
    """A trailer is drawn with so many corners."""
    count = sum(len(part.outline_m) for part in parts)
    if count > CORNERS:
        yield Breach(("trailer.parts",), f"{count} corners in {len(parts)} parts", f"at most {CORNERS} corners in all")


def settling(settle_s: float, numbers: Engine, parts: tuple[Part, ...]) -> Breaches:
    """The steps before time zero, each with every corner that may touch the ground, are done in seconds."""
    touching = 2 * sum(len(part.outline_m) for part in parts if part.touches_ground)
    most = min(SETTLING_STEPS, GROUND_WORK // max(1, touching))
    if settle_s * numbers.steps_per_s > most:
        given = f"{settle_s:g} s at {numbers.steps_per_s} steps a second, {touching} corners that touch the ground"
        allowed = f"at most {most / numbers.steps_per_s:.4g} s with so many steps and corners"
        yield Breach(("site.settle", "engine", "trailer.parts"), given, allowed)


MOST_LISTED = 100
"""No file lists so many units."""


class Check(NamedTuple):
    """A rule and the dotted paths of its arguments; `{unit}` and `{line}` in a path mean once for each."""

    run: Callable[..., Breaches]
    needs: tuple[str, ...]


CHECKS = (
    Check(checks_site.section, ("site.section", "site.edge_y")),
    Check(checks_site.road_height, ("site.section",)),
    Check(checks_site.bed, ("site.bed",)),
    Check(checks_site.rail_cut, ("site.guard_rail_cut_from", "site.guard_rail_cut_to")),
    Check(checks_unit.boom_travel, ("{unit}.boom",)),
    Check(checks_unit.foot_pin, ("{unit}.boom", "{unit}.cab_front")),
    Check(checks_unit.superstructure, ("{unit}.superstructure_cg", "{unit}.tail_swing")),
    Check(checks_unit.stand, ("{unit}.floats", "{unit}.carrier_cg")),
    Check(checks_unit.rating, ("{unit}.rating",)),
    Check(checks_unit.rating_covers, ("{unit}.rating", "{unit}.boom")),
    Check(checks_rig.units, ("units",)),
    Check(checks_rig.picks, ("trailer.picks", "units")),
    Check(checks_rig.slings, ("trailer.picks",)),
    Check(checks_rig.spreaders, ("trailer.picks",)),
    Check(checks_rig.extra_levers, ("{unit}",)),
    Check(checks_rig.leader, ("path.leader", "units")),
    Check(checks_rig.candidates, ("trailer.pick_candidates", "trailer.picks")),
    Check(checks_trailer.parts, ("trailer.parts",)),
    Check(checks_trailer.picks_apart, ("trailer.picks", "units")),
    Check(checks_trailer.weight, ("trailer.parts", "trailer.cargo")),
    Check(checks_trailer.tank, ("trailer.cargo",)),
    Check(checks_trailer.center_of_gravity, ("trailer",)),
    Check(checks_unit.start_travel, ("{unit}.start", "{unit}.boom")),
    Check(checks_unit.start_rope, ("{line}", "{unit}.start")),
    Check(checks_site.landing, ("landing", "site.live_lane_y", "trailer.parts", "trailer.attitude", "units")),
    Check(
        checks_site.carried,
        ("drill", "landing", "site.live_lane_y", "trailer.parts", "trailer.attitude", "limits"),
    ),
    Check(
        checks_flat.flat,
        ("landing", "site.section", "site.edge_y", "trailer.parts", "trailer.attitude", "trailer.start"),
    ),
    Check(checks_site.turned_over, ("landing.on_wheels", "trailer.attitude", "trailer.picks")),
    Check(checks_bounds.corners, ("trailer.parts",)),
    Check(checks_bounds.settling, ("site.settle", "engine", "trailer.parts")),
    Check(checks_site.holding_line, ("site.holding_line", "site.section", "site.edge_y", "site.bed", "trailer.parts")),
    Check(checks_site.limits, ("limits",)),
    Check(checks_site.engine, ("engine",)),
    Check(checks_drill.drill, ("drill",)),
    Check(checks_drill.told, ("drill", "units")),
    Check(checks_drill.seats, ("drill", "units")),
    Check(checks_drill.readings, ("drill", "units")),
)


def check(notes: Notes) -> None:
    """Run every rule whose values were found, and note what is broken."""
    for rule in CHECKS:
        for places in _each(notes, rule):
            needs = [_of(path, places) for path in rule.needs]
            if all(path in notes.found for path in needs):
                for breach in rule.run(*(notes.found[path] for path in needs)):
                    notes.faults.append(_fault(notes, breach, places))


def faults_of(described: Description) -> tuple[Fault, ...]:
    """What of a description breaks a rule: of one that was put together and not read from a file."""
    notes = Notes("the lift")
    _note(notes, described, "")
    check(notes)
    return tuple(dict.fromkeys(notes.faults))


def _note(notes: Notes, table: Any, path: str) -> None:
    """Every value of a table and of those inside it, as reading a file notes them."""
    for entry in entries(table.__class__):
        value = getattr(table, entry.field)
        below = f"{path}.{entry.key}" if path else entry.key
        notes.keep(below, f"[{path}] {entry.key}" if path else entry.key, value)
        if is_dataclass(value):
            _note(notes, value, below)
        elif isinstance(value, tuple) and value and is_dataclass(value[0]):
            for number, item in enumerate(value, 1):
                notes.keep(f"{below} {number}", f"[{below} {number}]", item)
                _note(notes, item, f"{below} {number}")


def _each(notes: Notes, rule: Check) -> Iterator[dict[str, str]]:
    """What `{unit}` and `{line}` stand for, one by one; nothing where the rule speaks of neither."""
    if not any("{" in path for path in rule.needs):
        yield {}
        return
    for unit in takewhile(notes.places.__contains__, (f"units {number}" for number in range(1, MOST_LISTED))):
        if not any("{line}" in path for path in rule.needs):
            yield {"unit": unit}
            continue
        for line in (f"{unit}.lines {number}" for number in range(1, MOST_LINES + 1)):
            yield {"unit": unit, "line": line}


def _of(text: str, places: dict[str, str]) -> str:
    """A text with `{unit}` and `{line}` put in; it may quote a file, whose own braces stay."""
    for name, place in places.items():
        text = text.replace(f"{{{name}}}", place)
    return text


def _fault(notes: Notes, breach: Breach, places: dict[str, str]) -> Fault:
    """A breach as a fault, placed where the file gives the value: in a unit's own table when that has a say."""
    found = [notes.places.get(key, key) for key in (_of(key, places) for key in breach.keys)]
    own = [place for place in found if places and place.startswith(f"[{places['unit']}")]
    return Fault(f"{notes.where}: {(own or found)[0]}", breach.given, _of(breach.allowed, places))
