"""When a lever is turned, and when its turns chase the load: one rule for the judge and for whoever tells a lift."""

from __future__ import annotations

from math import inf

PULLED = 0.12
"""A lever less far over is a touch."""
TOUCH_S = 0.25
"""Pulled the other way for less, counted in seconds of a lever full over, it is a touch too: what was a little too much
is taken back so, and keys know nothing smaller. Our choice, no source."""
CORRECTIONS = 2
"""So many turns of a lever within two periods are corrections; one more chases the load. Our choice, no source."""
PERIODS = 2.0


class Pulled:
    """How far a lever was pulled which way: to and fro only by more than touches."""

    _way: int
    _last_s: float
    _back_s: float

    def __init__(self) -> None:
        self._way = 0
        self._last_s = -inf
        self._back_s = 0.0

    def turned_after_s(self, pulled: float, time_s: float, dt: float) -> float | None:
        """How long after the last pull the other way this one has become a turn; none where it is no turn."""
        way = 1 if pulled > 0.0 else -1
        if way == self._way or not self._way:
            # What was taken back is pulled again first; touches that even out never add up to a turn.
            self._back_s = max(0.0, self._back_s - abs(pulled) * dt)
            self._way, self._last_s = way, time_s
            return None
        self._back_s += abs(pulled) * dt
        if self._back_s <= TOUCH_S:
            return None
        since_s, self._way, self._last_s, self._back_s = time_s - self._last_s, way, time_s, 0.0
        return since_s
