"""Whether the load stays where it lies until somebody lifts it: friction and shape against the slope."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import atan, hypot, inf, radians
from typing import NamedTuple

from simulator.mechanics.cargo import resting_cg_m
from simulator.mechanics.ground import ground, height_m
from simulator.mechanics.lying import (
    Rest,
    Tied,
    come_to_rest,
    friction_used,
    held_friction_used,
    holding_pull,
    line_pull,
)
from simulator.mechanics.trailer_body import lying, rotation, stated_cg_m, turned
from simulator.plan.findings import Amount, Change, Place, Reading
from simulator.plan.hanging import Load, as_stated, load_of
from simulator.scenario.description import Description
from simulator.scenario.site import HoldingLine, Site

AT_START = Place("before the lift", 0.0)
CAUTION, STOP = 1.0 / 1.5, 1.0 / 1.2
"""Share of the friction that may be needed: 1.5 and 1.2 against sliding (common practice, no source)."""


TURNS_CAUTION_RAD, TURNS_STOP_RAD = radians(3.0), radians(6.0)
"""A load that turns so far before it rests does not lie as stated, and comes down with a blow that may set it going
(common practice, no source)."""


ROLLS_CAUTION_RAD, ROLLS_STOP_RAD = radians(20.0), radians(45.0)
"""A load that lies rolled so far from how it hangs rolls over as it comes free; half way to another side it is not
known on which it will hang (our own choice, no source)."""


class Lying(NamedTuple):
    """How the load lies before the lift."""

    friction_used: float
    """Share of the friction there is; 1 and more slides."""
    slope_rad: float
    """Of the ground under it."""
    stays_at_rad: float
    """The steepest plane slope it would stay on, by the stop limit."""
    hold_N: float
    """Pull up the slope that would hold it, by the stop limit; infinite when none would."""
    turns_rad: float
    """How far it turns, in pitch or roll, from where it is stated to lie until it rests."""
    rests_rad: tuple[float, float]
    """Pitch and roll in which it rests."""
    line_N: float = 0.0
    """Pull of the holding line that would hold it, by the stop limit; infinite when none would, 0 with no line."""
    line_used: float = 0.0
    """That over what the line holds."""

    @property
    def stays(self) -> bool:
        """Within its stop limits."""
        return self.friction_used < STOP and self.turns_rad < TURNS_STOP_RAD


def lying_of(description: Description, load: Load) -> Lying:
    """How a load lies; of that description."""
    return _lying_of(description.site, load)


@lru_cache(maxsize=8)
def _lying_of(site: Site, load: Load) -> Lying:
    start = load.trailer.start
    rest = _rest_of(site, load)
    used = friction_used(rest)
    hold = 0.0 if used < STOP else holding_pull(rest, STOP) * load.weight_N
    line_N = line_used = 0.0
    if site.holding_line is not None and rest.bears:
        tied = _tied(site.holding_line, site, load, rest)
        line_N = line_pull(rest, STOP, tied) * load.weight_N if used >= STOP else 0.0
        line_used = line_N / site.holding_line.holds_N
        used = held_friction_used(rest, tied, STOP * site.holding_line.holds_N / load.weight_N)
    least = min((one.friction for one in rest.bears), default=0.0)
    turns = max(abs(rest.pitch_rad - start.pitch_rad), abs(rest.roll_rad - start.roll_rad))
    rests = rest.pitch_rad, rest.roll_rad
    return Lying(used, rest.slope_rad, atan(STOP * least), hold, turns, rests, line_N, line_used)


def _tied(line: HoldingLine, site: Site, load: Load, rest: Rest) -> Tied:
    """The line as it runs while the load rests."""
    trailer, start = load.trailer, load.trailer.start
    matrix = rotation(rest.pitch_rad, start.yaw_rad, rest.roll_rad)
    own = tuple(a - b for a, b in zip(line.at_m, stated_cg_m(trailer), strict=True))
    at = turned(matrix, lying(trailer.attitude, (own[0], own[1], own[2])))
    cg = turned(matrix, resting_cg_m(trailer, load.body, start.pitch_rad, start.roll_rad))
    up = max(
        height_m(ground(site), start.x_m + x, start.y_m + y) - z
        for x, y, z in (turned(matrix, point) for point in load.body.points_m)
    )
    ax, ay, az = line.anchor_m
    toward = ax - start.x_m - at[0], ay - start.y_m - at[1], az - up - at[2]
    long = hypot(*toward)
    arm = at[0] - cg[0], at[1] - cg[1], at[2] - cg[2]
    return Tied(arm, (toward[0] / long, toward[1] / long, toward[2] / long))


@lru_cache(maxsize=8)
def _rest_of(site: Site, load: Load) -> Rest:
    start = load.trailer.start
    frictions = site.contact.friction, site.road_contact.friction
    angles = start.pitch_rad, start.yaw_rad, start.roll_rad
    body = replace(load.body, cg_m=resting_cg_m(load.trailer, load.body, start.pitch_rad, start.roll_rad))
    return come_to_rest(ground(site), body, (start.x_m, start.y_m), angles, frictions)


def rests_rad(description: Description) -> tuple[float, float]:
    """Pitch and roll in which the load of a lift rests, by its papers."""
    stated = as_stated(description)
    rest = _rest_of(stated.site, load_of(stated))
    return rest.pitch_rad, rest.roll_rad


def lies(description: Description) -> Lying:
    """How the load of a lift lies, by its papers."""
    stated = as_stated(description)
    return lying_of(stated, load_of(stated))


def lying_readings(found: Lying) -> tuple[Reading, ...]:
    """Friction needed against friction there is, a holding line with it; how far it would turn first, and roll once it
    is lifted; what the holding line bears of what it holds."""
    readings = _slides(found), _turns(found), _rolls(found)
    return (*readings, _holds(found)) if found.line_N > 0.0 else readings


def _holds(found: Lying) -> Reading:
    """The holding line against what it holds, with the same 1.5 and 1.2 in hand."""
    words, amounts = "let the holding line hold {}, or make it fast farther up the slope", (found.line_N / STOP,)
    change = Change(words, tuple(Amount(one, "N") for one in amounts))
    name, used = "holding line used", found.line_used
    return Reading("holding line", "trailer", name, "share", used, CAUTION, STOP, True, "", change)


def _turns(found: Lying) -> Reading:
    words = "say how it lies: by its slope at pitch {} and roll {}"
    amounts = tuple(Amount(angle, "rad") for angle in found.rests_rad)
    name = "turns before it rests"
    stop = TURNS_STOP_RAD
    return Reading(
        "lying", "load", name, "rad", found.turns_rad, TURNS_CAUTION_RAD, stop, True, "", Change(words, amounts)
    )


def _rolls(found: Lying) -> Reading:
    change = Change("state the side on which it lies, and picks for that; or bring it onto level ground first")
    name, rolls_rad = "rolls as it is lifted", abs(found.rests_rad[1])
    return Reading("rolls", "load", name, "rad", rolls_rad, ROLLS_CAUTION_RAD, ROLLS_STOP_RAD, True, "", change)


def _slides(found: Lying) -> Reading:
    words = "hold it with {} up the slope before anyone goes near; by itself it would stay on a slope of {}"
    amounts: tuple[Amount, ...] = (Amount(found.hold_N, "N"), Amount(found.stays_at_rad, "rad", is_least=False))
    if found.hold_N == inf:
        words, amounts = "no single pull up the slope holds it: it turns over; level its bed first", ()
    elif found.hold_N == 0.0:
        words, amounts = "hold it with a line up the slope before anyone goes near; it may slide by itself", ()
    name = "friction needed to stay put"
    return Reading(
        "lying", "trailer", name, "share", found.friction_used, CAUTION, STOP, True, "", Change(words, amounts)
    )
