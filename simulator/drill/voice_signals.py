"""Voice signals: unit, function and direction, distance or speed, function and stop.

Order of the three parts: 29 CFR 1926.1421(b); that the unit is named first where there are two: 29 CFR 1926.1419(m),
the latter from memory, not confirmed. The words are in the file of words.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from simulator.drill.spoken_amounts import Amount
from simulator.engine.commands import Hands
from simulator.scenario.drill import EVERYBODY
from simulator.scenario.measures import METERS_PER_FOOT
from simulator.scenario.rig import BOOM_FUNCTIONS, PAIR, RigUnit
from simulator.words import say

SLOW_MPS, VERY_SLOW_MPS = 0.07, 0.04
"""Below these a move is called slow, and very slow: as a load comes off the ground or back on it, where what the slow
key gives is too much."""
LEAST_SAID_M = 0.05

Pace = Literal["steady", "slow", "very_slow"]
"""How fast a move is called for; in the words of the file of words."""


class Signal(NamedTuple):
    """One order."""

    unit: str
    """A unit's name, or `both`."""
    function: str
    """hoist, telescope, elevation, slew or turn."""
    sign: int
    """1 hoist up, telescope out, elevation up, slew toward the road, line 1 out and line 2 in; else -1."""
    distance_m: float
    """How far the tip or the hook goes; 0: until the line bears, or hangs loose."""
    pace: Pace
    line: int = 0
    """Number of the one line that goes up or down; 0: all of the unit's lines alike."""
    is_onto_deck: bool = False
    """The load goes down onto a waiting flat trailer's deck."""


def pace_of(speed_mps: float) -> Pace:
    """What a hook's speed is called."""
    return "very_slow" if speed_mps < VERY_SLOW_MPS else "slow" if speed_mps < SLOW_MPS else "steady"


def spoken(signal: Signal, *, us: bool = False) -> str:
    """The order as one sentence, in meters or in feet."""
    way = "up" if signal.sign > 0 else "down"
    return say(
        "coach.voice",
        unit=called(signal.unit),
        function=say(f"coach.voice_line_{way}", number=str(signal.line))
        if signal.line
        else say(f"control.said_{signal.function}_{way}"),
        distance=_distance(signal, us=us),
        pace=say(f"coach.voice_{signal.pace}"),
        stop=say(f"coach.voice_stop_{signal.function}"),
    )


def _distance(signal: Signal, *, us: bool) -> str:
    distance_m = signal.distance_m
    if distance_m <= 0.0:
        return say("coach.voice_until_it_bears" if signal.sign > 0 else "coach.voice_until_it_is_loose")
    said = Amount(max(0.1, distance_m), "m").said()
    if us:
        said = f"{max(0.5, round(2.0 * distance_m / METERS_PER_FOOT) / 2.0):g} {say('measure.foot')}"
    return say("coach.voice_to_deck", distance=said) if signal.is_onto_deck else said


def called(unit: str) -> str:
    """How a unit, or both, are spoken to; nobody else is there to be meant where a lone unit is."""
    return say(f"coach.voice_{unit}" if unit in (*PAIR, EVERYBODY) else "coach.voice_alone")


def largest(own: RigUnit, hands: Hands) -> tuple[str, float]:
    """The function of its boom that is asked for the most, and the command."""
    of_boom = [
        (lever.function, pulled)
        for lever, pulled in zip(own.levers, hands, strict=True)
        if lever.function in BOOM_FUNCTIONS
    ]
    return max(of_boom, key=lambda one: abs(one[1]))
