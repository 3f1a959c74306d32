"""The drill's own cautions in the alert line: its limits, and what is costing points now."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from simulator.drill.session import Caution
from simulator.scenario.retold import retold
from simulator.window.kit.measures_shown import System
from simulator.window.kit.seen import Seen
from simulator.window.readouts.alerts import Watched
from simulator.window.readouts.looks import capital
from simulator.words import say

STAYS_S = 1.0
"""A caution that goes for less than this has not gone: it does not flicker."""


class DrillAlert(NamedTuple):
    """A caution, since when it stands, and when it was seen last."""

    caution: Caution
    since_s: float
    seen_s: float


def stand(before: tuple[DrillAlert, ...], cautions: Iterable[Caution], now_s: float) -> tuple[DrillAlert, ...]:
    """What stands now: all that is seen, and what was seen a moment ago."""
    since = {row.caution: row.since_s for row in before}
    seen = {one: DrillAlert(one, since.get(one, now_s), now_s) for one in cautions}
    late = (row for row in before if row.caution not in seen and 0.0 <= now_s - row.seen_s < STAYS_S)
    return (*seen.values(), *late)


def not_yet_said(watched: Watched, rows: Iterable[DrillAlert], seen: Seen) -> list[DrillAlert]:
    """Those of readings that no alert with a value speaks of already."""
    said = tuple(_reading(name, seen) for name in watched.in_order)
    return [row for row in rows if not row.caution.costs or not row.caution.reading.startswith(said)]


def _reading(name: str, seen: Seen) -> str:
    """How the reading begins that a watched readout, such as `nose.float.cab_road` or `sway`, is taken from."""
    first, _, last = name.partition(".")
    if last in ("head_room", "rope_left", "stall", "slack"):
        owner = seen.owner(first)  # of a line: a drill may ask for its unit's worst
        first = owner.name if owner is not None else first
    if last.startswith("float."):
        return f"{first}.least_float"
    return name if last else f"load.{first}"


def drill_text(caution: Caution, seen: Seen, system: System) -> str:
    """One caution's sentence."""
    what = retold(caution.text, us=system == "us")
    if not caution.costs:
        return what
    unit = seen.owner(caution.reading.partition(".")[0])
    if unit is None:
        return say("alert.costs", what=capital(what))
    return say("alert.costs_unit", unit=unit.said("name"), what=what)
