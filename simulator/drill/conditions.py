"""Conditions of a drill looked up in readings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from operator import attrgetter, ge, gt, le, lt

from simulator.readings import Channel, Readings, channels_of
from simulator.scenario.description import Limits
from simulator.scenario.drill import Condition, Step
from simulator.scenario.rig import TWO_BY_ONE, Rig

COMPARE: dict[str, Callable[[float, float], bool]] = {
    "<": lt,
    "<=": le,
    ">": gt,
    ">=": ge,
    "within": lambda value, bound: abs(value) <= bound,
    "beyond": lambda value, bound: abs(value) > bound,
}
Test = Callable[[Readings, Readings], bool]
"""Of this moment and of the one in which the step began."""
ROUNDING_S = 1e-9
WELL_PLUMB = 0.5
"""A tip that leans by more than this part of what counts as plumb costs points (our choice, no source)."""


@lru_cache(maxsize=64)
def _channels(units: tuple[str, ...], lines: tuple[str, ...]) -> dict[str, Channel]:
    return {channel.name: channel for channel in channels_of(units, lines)}


def channel_of(condition: Condition, rig: Rig = TWO_BY_ONE) -> Channel:
    """The row of a lift's table of channels that a condition looks at."""
    return _channels(rig.unit_names, rig.line_names)[condition.reading]


def value_of(condition: Condition, now: Readings, began: Readings, rig: Rig = TWO_BY_ONE) -> float:
    """The number a condition looks at.

    Args:
        condition: it.
        now: this moment.
        began: the moment its step began.
        rig: of the lift.
    """
    read = channel_of(condition, rig).read
    return read(now) - read(began) if condition.change else read(now)


def holds(condition: Condition, now: Readings, began: Readings, rig: Rig = TWO_BY_ONE) -> bool:
    """True when it holds at this moment, however long it has."""
    return COMPARE[condition.comparison](value_of(condition, now, began, rig), condition.value)


def plumb_enough_rad(unit: str, step: Step, limits: Limits) -> float:
    """The lean at which a unit's line is plumb enough, with nothing to lose by it: a share of the lift's limit, or of
    what ends the step if that is less."""
    asked = (one for one in step.until if one.reading == f"{unit}.off_plumb_rad" and one.comparison in ("<", "<="))
    return WELL_PLUMB * min((limits.plumb_rad, *(one.value for one in asked)))


def test_of(condition: Condition, rig: Rig = TWO_BY_ONE) -> Test:
    """`holds` of one condition, all looked up that does not change: for one that is asked at every moment."""
    read, compare, bound = _reader(channel_of(condition, rig)), COMPARE[condition.comparison], condition.value
    if condition.change:
        return lambda now, began: compare(read(now) - read(began), bound)
    return lambda now, _: compare(read(now), bound)


def _reader(channel: Channel) -> Callable[[Readings], float]:
    """`Channel.read`, with where it stands looked up once."""
    if channel.whose not in ("units", "lines"):
        number = attrgetter(channel.name)
        return lambda readings: float(number(readings))
    owners, value, place = attrgetter(channel.whose), attrgetter(channel.name.rpartition(".")[2]), channel.place
    return lambda readings: float(value(owners(readings)[place]))


class Held:
    """Conditions with their hold times: remembers since when each has held."""

    _since_s: list[float | None]

    def __init__(self, conditions: Sequence[Condition], *, rig: Rig = TWO_BY_ONE) -> None:
        self._tests = [(test_of(one, rig), one.hold_s - ROUNDING_S) for one in conditions]
        self._since_s = [None] * len(self._tests)

    def see(self, now: Readings, began: Readings) -> tuple[bool, ...]:
        """Which of them have held for long enough."""
        answer = []
        for index, (test, hold_s) in enumerate(self._tests):
            since = self._since_s[index]
            if not test(now, began):
                since = None
            elif since is None:
                since = now.time_s
            self._since_s[index] = since
            answer.append(since is not None and now.time_s - since >= hold_s)
        return tuple(answer)
