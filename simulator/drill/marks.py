"""What costs points in every drill: marks made from the scenario's own limits. Points: our choice, no source.

The whole rule: each seat and the pair begin with 100 points. A mark takes points while its condition holds (or once),
up to its most in one step; under a stop order it rests. A move out of turn, a stop reached, an incident, a step not
done and what fails the drill whatever is left (`hard_fails`) cost as `RULES` says. A seat keeps what neither it nor
the pair lost; together they keep what nobody lost.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from simulator.scenario.description import Limits
from simulator.scenario.drill import EVERYBODY, Comparison, Condition, Mark
from simulator.scenario.judged_limits import Judged, judged_rows
from simulator.scenario.rig import PAIR

FULL_POINTS = 100.0


class Rules(NamedTuple):
    """Points of what is no reading's doing."""

    out_of_turn: float = 3.0
    """Each time a seat moves in somebody else's step."""
    turn_grace_s: float = 1.0
    """How long hands may take to let go when a step begins."""
    turn_gap_s: float = 2.0
    """Touches closer together than this are one move."""
    out_of_turn_per_s: float = 1.0
    out_of_turn_most: float = 30.0
    """In one step."""
    stop_grace_s: float = 1.0
    """How long hands may take to let go under a stop order; then a move fails the drill."""
    hard_fail: float = 40.0
    """What fails the drill whatever its points, once for each seat and rule."""
    stop_reached: float = 10.0
    """A limit that calls a stop, each time."""
    incident: float = FULL_POINTS
    not_done: float = FULL_POINTS
    """Shared evenly over the drill's steps: what each step not done costs."""


RULES = Rules()
FREE = Condition(reading="load.ground_N", comparison="<=", value=0.0)
"""The ground carries nothing of the load."""


SPELL_S = 0.3
"""What does not last so long is no spell in the debrief, and costs nothing."""
LANDS_M = 0.03
"""This near to the ground a load that comes down lands."""
LANDS_FAST_MPS = 0.10
"""Four times the softest speed that is taught. Our choice, no source."""

BY_READING = {
    "off plumb": (2.0, 4.0, "loaded line off plumb", "loaded line far off plumb"),
    "capacity used": (1.0, 0.0, "little capacity left", ""),
    "share for two units used": (1.0, 0.0, "over the share for two units", ""),
    "lightest float": (1.0, 0.0, "light float", ""),
    "head room": (1.0, 4.0, "little head room", "block near its stop"),
    "rope left": (1.0, 4.0, "little rope left", "rope near its end"),
    "ground bearing used": (1.0, 0.0, "ground near its bearing", ""),
    "pitch of the load": (1.0, 4.0, "hanging load out of level", "hanging load far out of level"),
    "yaw of the load": (1.0, 4.0, "hanging load turned across its lines", "hanging load turned far across its lines"),
    "sway": (2.0, 6.0, "hanging load sways", "hanging load sways far"),
    "room to the live lane": (5.0, 0.0, "load near the live lane", ""),
}
"""Of each reading that is judged: points a second past its caution and past its stop, and what the two are called.
No points where its stop fails the drill (`hard_fails`) or ends the lift."""


def standing_marks(limits: Limits, names: tuple[str, ...] = PAIR) -> tuple[Mark, ...]:
    """The marks of every drill on a lift with these limits and units."""
    return (*(mark for row in judged_rows(limits, names) for mark in _marks_of(row)), _landing_mark())


def _marks_of(row: Judged) -> Iterator[Mark]:
    """The marks of one reading that is judged."""
    caution, stop, why, far_why = BY_READING[row.label]
    name = row.key.partition(".")[0]
    only = {"always": (), "hanging": (FREE,), "loaded": (_loaded(name),)}[row.counts]
    above: Comparison = "beyond" if row.kind == "rad" else ">"
    for points, limit, text in ((caution, row.caution, why), (stop, row.stop, far_why)):
        if points:
            yield Mark(
                reading=row.key, comparison=above if row.rising else "<", value=limit, points=points, why=text,
                who=EVERYBODY if row.end is None else name, most=40.0, only_while=only, hold_s=SPELL_S,
            )  # fmt: skip


def _loaded(name: str) -> Condition:
    return Condition(reading=f"{name}.slack", comparison="<", value=1.0)


def _landing_mark() -> Mark:
    near = Condition(reading="load.height_over_bed_m", comparison="<", value=LANDS_M)
    return Mark(
        reading="load.vz_mps", comparison="<", value=-LANDS_FAST_MPS, points=15.0, per="once", why="landed fast",
        only_while=(near, FREE),
    )  # fmt: skip
