"""Every rule that ties tables together, each run as soon as the values it needs could be read."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from simulator.scenario import checks_drill, checks_site, checks_trailer, checks_unit
from simulator.scenario.breach import Breach, Breaches
from simulator.scenario.description import END_NAMES
from simulator.scenario.faults import Fault
from simulator.scenario.tables import Notes


class Check(NamedTuple):
    """A rule and the dotted paths of its arguments; `{end}` in a path means once for each unit."""

    run: Callable[..., Breaches]
    needs: tuple[str, ...]


CHECKS = (
    Check(checks_site.section, ("site.section", "site.edge_y")),
    Check(checks_site.road_height, ("site.section",)),
    Check(checks_site.bed, ("site.bed",)),
    Check(checks_unit.boom_travel, ("units.{end}.boom",)),
    Check(checks_unit.foot_pin, ("units.{end}.boom", "units.{end}.cab_front")),
    Check(checks_unit.stand, ("units.{end}.floats", "units.{end}.carrier_cg")),
    Check(checks_unit.rating, ("units.{end}.rating",)),
    Check(checks_unit.rating_covers, ("units.{end}.rating", "units.{end}.boom")),
    Check(checks_trailer.gap, ("units.nose", "units.tail")),
    Check(checks_trailer.parts, ("trailer.parts",)),
    Check(checks_trailer.picks_apart, ("trailer.nose_pick", "trailer.tail_pick")),
    Check(checks_trailer.weight, ("trailer.parts", "trailer.cargo")),
    Check(checks_trailer.centre_of_gravity, ("trailer",)),
    Check(checks_unit.start_travel, ("start.{end}", "units.{end}.boom")),
    Check(checks_unit.start_rope, ("start.{end}", "units.{end}.hoist")),
    Check(
        checks_site.landing,
        (
            "landing",
            "site.live_lane_y",
            "trailer.parts",
            "trailer.attitude",
            "units.nose.floats",
            "units.tail.floats",
        ),
    ),
    Check(checks_site.limits, ("limits",)),
    Check(checks_site.engine, ("engine",)),
    Check(checks_drill.drill, ("drill",)),
)


def check(notes: Notes) -> None:
    """Run every rule whose values were found, and note what is broken."""
    for rule in CHECKS:
        per_end = any("{end}" in path for path in rule.needs)
        for end in END_NAMES if per_end else ("",):
            needs = [path.format(end=end) for path in rule.needs]
            if all(path in notes.found for path in needs):
                for breach in rule.run(*(notes.found[path] for path in needs)):
                    notes.faults.append(_fault(notes, breach, end))


def _fault(notes: Notes, breach: Breach, end: str) -> Fault:
    """A breach as a fault, placed where the file gives the value: at one end's own table when that has a say."""
    places = [notes.places[key.format(end=end)] for key in breach.keys]
    own = [place for place in places if place.startswith(f"[units.{end}")] if end else []
    place = (own or places)[0]
    return Fault(f"{notes.where}: {place}", breach.given, breach.allowed.format(end=end))
