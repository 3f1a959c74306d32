"""What costs points in every drill: marks made from the scenario's own limits. Points: our choice, no source.

The whole rule: each seat and the pair begin with 100 points. A mark takes points while its condition holds (or once),
up to its most in one step. A move out of turn, a move under a stop order, a stop reached, an incident, and a step not
done cost as `RULES` says. A seat keeps what neither it nor the pair lost; together they keep what nobody lost.
"""

from __future__ import annotations

from typing import NamedTuple

from simulator.scenario.description import END_NAMES, Limits
from simulator.scenario.drill import Comparison, Condition, Mark, Seat

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
    under_stop: float = 10.0
    """A move asked for under a stop order, once in each."""
    stop_grace_s: float = 1.5
    """How long hands may take to let go."""
    stop_reached: float = 10.0
    """A limit that calls a stop, each time."""
    incident: float = FULL_POINTS
    not_done: float = FULL_POINTS
    """Shared evenly over the drill's steps: what each step not done costs."""


RULES = Rules()
FREE = Condition(reading="load.ground_N", comparison="<=", value=0.0)
"""The ground carries nothing of the load."""


def standing_marks(limits: Limits) -> tuple[Mark, ...]:
    """The marks of every drill on a lift with these limits."""
    return (*(mark for end in END_NAMES for mark in _unit_marks(end, limits)), *_load_marks(limits))


def _unit_marks(end: str, limits: Limits) -> tuple[Mark, ...]:
    loaded = Condition(reading=f"{end}.slack", comparison="<", value=1.0)
    light = limits.light_float_share
    who: Seat = "nose" if end == "nose" else "tail"
    line, used, floats = f"{end}.off_plumb_rad", f"{end}.capacity_used", f"{end}.least_float_share"

    def mark(reading: str, comparison: Comparison, value: float, points: float, why: str, *only: Condition) -> Mark:
        return Mark(
            reading=reading, comparison=comparison, value=value, points=points, why=why, who=who, most=40.0,
            only_while=only,
        )  # fmt: skip

    return (
        mark(line, ">", limits.off_plumb_caution_rad, 2.0, "loaded line off plumb", loaded),
        mark(line, ">", limits.off_plumb_stop_rad, 4.0, "loaded line far off plumb", loaded),
        mark(used, ">", limits.capacity_caution, 1.0, "little capacity left"),
        mark(used, ">", limits.capacity_stop, 10.0, "over capacity"),
        mark(floats, "<", light * limits.float_caution_factor, 1.0, "light float"),
        mark(floats, "<", light * limits.float_stop_factor, 10.0, "float about to lift"),
    )


def _load_marks(limits: Limits) -> tuple[Mark, ...]:
    def mark(reading: str, comparison: Comparison, value: float, points: float, why: str, *only: Condition) -> Mark:
        return Mark(
            reading=reading, comparison=comparison, value=value, points=points, why=why, most=40.0, only_while=only
        )  # fmt: skip

    return (
        mark("load.pitch_rad", "beyond", limits.pitch_caution_rad, 1.0, "hanging load out of level", FREE),
        mark("load.pitch_rad", "beyond", limits.pitch_stop_rad, 4.0, "hanging load far out of level", FREE),
        mark("load.sway_m", ">", limits.sway_caution_m, 2.0, "hanging load sways", FREE),
        mark("load.sway_m", ">", limits.sway_stop_m, 6.0, "hanging load sways far", FREE),
        mark("load.lane_room_m", "<", limits.lane_caution_m, 5.0, "load near the live lane"),
    )
