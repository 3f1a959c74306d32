"""Conditions of a drill looked up in readings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from operator import attrgetter, ge, gt, le, lt

from simulator.readings import CHANNELS, Channel, Readings
from simulator.scenario.description import Limits
from simulator.scenario.drill import Condition, Step

COMPARE: dict[str, Callable[[float, float], bool]] = {
    "<": lt,
    "<=": le,
    ">": gt,
    ">=": ge,
    "within": lambda value, bound: abs(value) <= bound,
    "beyond": lambda value, bound: abs(value) > bound,
}
_CHANNELS = {channel.name: channel for channel in CHANNELS}


@lru_cache(maxsize=256)
def _reader(name: str) -> Callable[[Readings], float]:
    get = attrgetter(name)
    return lambda readings: float(get(readings))


def channel_of(condition: Condition) -> Channel:
    """The row of the table of channels that a condition looks at."""
    return _CHANNELS[condition.reading]


def value_of(condition: Condition, now: Readings, began: Readings) -> float:
    """The number a condition looks at.

    Args:
        condition: it.
        now: this moment.
        began: the moment its step began.
    """
    read = _reader(condition.reading)
    return read(now) - read(began) if condition.change else read(now)


def holds(condition: Condition, now: Readings, began: Readings) -> bool:
    """True when it holds at this moment, however long it has."""
    return COMPARE[condition.comparison](value_of(condition, now, began), condition.value)


def plumb_enough_rad(end: str, step: Step, limits: Limits) -> float:
    """The lean at which a unit's line is plumb enough: the lift's own limit, or what ends the step if that is less."""
    asked = (one for one in step.until if one.reading == f"{end}.off_plumb_rad" and one.comparison in ("<", "<="))
    return min((limits.plumb_rad, *(one.value for one in asked)))


class Held:
    """Conditions with their hold times: remembers since when each has held."""

    def __init__(self, conditions: Sequence[Condition]) -> None:
        self._conditions = tuple(conditions)
        self._since_s: list[float | None] = [None] * len(self._conditions)

    def see(self, now: Readings, began: Readings) -> tuple[bool, ...]:
        """Which of them have held for long enough."""
        answer = []
        for index, condition in enumerate(self._conditions):
            since = self._since_s[index]
            if not holds(condition, now, began):
                since = None
            elif since is None:
                since = now.time_s
            self._since_s[index] = since
            answer.append(since is not None and now.time_s - since >= condition.hold_s - 1e-9)
        return tuple(answer)
