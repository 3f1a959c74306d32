"""A unit's lines averaged over a sway period: what part of its load each bears, and how high each has its side."""

from __future__ import annotations

from collections import deque

from simulator.drill.agreed_path import Agreement, middle
from simulator.drill.own_lines import high_m, own_lines
from simulator.readings import Readings
from simulator.scenario.rig import RigUnit

PAIR = 2
"""Lines of a unit between which a load is held from twisting."""
EVEN_PER_S, UNTWIST_PER_S = 2.0, 0.3
"""How briskly two lines are kept to their parts of a load that is set down, and a hanging one from twisting: share of
the stretch too much a second."""


class OwnMeans:
    """Of one unit."""

    parts: tuple[float, ...]
    """What part of the unit's load each of its lines bears while the load hangs."""
    twisted_N: tuple[float, ...]
    """How much more each line bears than lines of its side of the load bear at all units, by their parts: a stiff load
    hangs level all the same, and turns about the vertical where lines lean apart."""
    _high_m: deque[tuple[float, ...]]

    def __init__(self, own: RigUnit, units: tuple[RigUnit, ...]) -> None:
        self._own = own
        self._pairs = tuple(unit for unit in units if len(unit.lines) == PAIR)
        self.twisted_N = (0.0,) * len(own.lines)
        self.parts = (1.0 / len(own.lines),) * len(own.lines)
        self._high_m = deque()

    @property
    def high_m(self) -> list[float]:
        """How high each line has its side of the load: one that sways leans to and fro; to follow it would
        feed the sway."""
        return [middle(one) for one in zip(*self._high_m, strict=True)]

    def forget(self) -> None:
        """Look anew at how high the lines have the load, as after it was turned over: by what was agreed before,
        it would hang aslant, and hands would turn it back."""
        self._high_m.clear()

    def see(self, now: Readings, agreed: Agreement, dt: float) -> None:
        """Take in a moment, so many seconds after the one before."""
        period_s = now.load.sway_period_s
        self._weigh(now, min(1.0, dt / max(period_s, 1e-3)))
        if len(self._own.lines) == 1:
            return
        self._twist(now, agreed, min(1.0, dt / max(period_s, 1e-3)))
        self._high_m.append(high_m(now, self._own, agreed))
        most = round(period_s / dt) if dt > 0.0 else 1
        while len(self._high_m) > max(1, most):
            self._high_m.popleft()

    def untwisting_mps(self, now: Readings) -> list[float]:
        """A line that bears more than its side of the load does at the other unit is let down, by what that stretches
        it."""
        return [
            -UNTWIST_PER_S * more_N / max(1.0, line.line_stiffness_N_per_m)
            for more_N, line in zip(self.twisted_N, own_lines(now, self._own), strict=True)
        ]

    def unloading_mps(self, now: Readings, up_mps: float) -> tuple[float, ...]:
        """A line that bears more than its part of what the unit still bears is let down faster, by what it is stretched
        more; none is taken up again."""
        lines = own_lines(now, self._own)
        whole_N = sum(line.hook_load_N for line in lines)
        stretched = [
            (line.hook_load_N - part * whole_N) / max(1.0, line.line_stiffness_N_per_m)
            for line, part in zip(lines, self.parts, strict=True)
        ]
        return tuple(min(-up_mps, -EVEN_PER_S * more) for more in stretched)

    def _weigh(self, now: Readings, new: float) -> None:
        loads = [line.hook_load_N for line in own_lines(now, self._own)]
        if now.load.ground_N > 0.0 or sum(loads) <= 0.0:
            return
        self.parts = tuple(old + new * (load / sum(loads) - old) for old, load in zip(self.parts, loads, strict=True))

    def _twist(self, now: Readings, agreed: Agreement, new: float) -> None:
        if now.load.ground_N > 0.0 or len(self._own.lines) != PAIR:
            self.twisted_N = (0.0,) * len(self._own.lines)
            return
        own, mean = _left_part(now, self._own, agreed), middle([_left_part(now, one, agreed) for one in self._pairs])
        more_N = (own - mean) * sum(line.hook_load_N for line in own_lines(now, self._own))
        left = _left(self._own, agreed)
        here = [more_N if line.place == left else -more_N for line in self._own.lines]
        self.twisted_N = tuple(old + new * (one - old) for old, one in zip(self.twisted_N, here, strict=True))


def _left(of: RigUnit, agreed: Agreement) -> int:
    """Place of its line that bears the left side of the load, looking along x."""
    return max((line.place for line in of.lines), key=lambda place: agreed.picks_m[place][1])


def _left_part(now: Readings, of: RigUnit, agreed: Agreement) -> float:
    """Of the unit's load, what that line bears."""
    whole_N = sum(line.hook_load_N for line in own_lines(now, of))
    return now.lines[_left(of, agreed)].hook_load_N / whole_N if whole_N > 0.0 else 0.5
