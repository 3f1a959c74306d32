"""What happens as lines take a load off the ground: a snatch from slack, a line that leans, a weight nobody looked at.

Each is told once, when it is certain, with a size; what of it costs points and what fails a drill is the judge's.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt
from typing import Literal, NamedTuple

from simulator.engine.commands import Commands
from simulator.mechanics.trailer_body import stated_mass_kg
from simulator.readings import LineReadings, Readings
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import RigLine, rig_of

LAY_S = 1.0
"""A load that has lain so long leaves the ground when it leaves it; for less it bounces. Our choice, no source."""
FREE_S = 0.3
"""And it has left it when it has been free for so long."""
TAKEN_SHARE = 0.25
"""A line's taking up is looked at until it bears this part of its even share of the stated weight."""
WEIGHED_S = 1.0
"""Loads are averaged for at least so long before the weight is compared with the papers."""
HELD_S = 3.0
"""No lever touched for so long is a hold in which loads, brakes and floats can be looked at (common practice: lift a
little, stop, look; no source for the seconds)."""
WENT_ON_M = 0.5
"""Risen so far from where it came free, the load was lifted on."""


class Happening(NamedTuple):
    """Something that happened as the load was taken."""

    kind: Literal["snatch", "left leaning", "lifted on"]
    end: int | None
    """The unit; none for the pair."""
    value: float
    """Snatch: pull to be added by the shock, over the line's even share of the stated weight; left leaning: rad off
    plumb; lifted on: weight found over weight stated, less 1."""


class TakingWeight:
    """Looks at a lift from moment to moment."""

    _taut: dict[int, tuple[float, float]]
    _slack_seen: set[int]
    _lay_s: float
    _free_s: float
    _quiet_s: float
    _weighed_s: float
    _last_s: float | None
    _leans: tuple[float, ...]
    _left_z_m: float | None
    _mean_N: float
    _told: bool

    def __init__(self, description: Description) -> None:
        self._stated_N = stated_mass_kg(description.trailer) * STANDARD_GRAVITY_MPS2
        self._lines = rig_of(description).lines
        self._share_N = self._stated_N / len(self._lines)
        self._slack_N = description.limits.slack_N
        self.forget()

    def forget(self) -> None:
        """Begin anew, as after a step back."""
        self._taut, self._slack_seen = {}, set()
        self._lay_s = self._free_s = self._quiet_s = self._weighed_s = 0.0
        self._last_s, self._leans, self._left_z_m = None, (), None
        self._mean_N = 0.0
        self._told = False

    def see(self, now: Readings, asked: Commands) -> list[Happening]:
        """Take in a moment."""
        dt = 0.0 if self._last_s is None else now.time_s - self._last_s
        self._last_s = now.time_s
        snatched = [one for of in self._lines for one in self._taken(of, now.lines[of.place], now.time_s)]
        return [*snatched, *self._leaving(now, dt), *self._lifted_on(now, any(map(any, asked)), dt)]

    def _taken(self, of: RigLine, line: LineReadings, time_s: float) -> Iterator[Happening]:
        """A pull that grows at a steady rate R swings a mass on a spring R / omega past it (ramp response of the
        undamped oscillator, any textbook of vibrations): R sqrt(m / k) with the line's even share of the load on it."""
        if line.hook_load_N < self._slack_N:
            self._slack_seen.add(of.place)
            self._taut.pop(of.place, None)
            return
        if of.place not in self._slack_seen:
            return
        since_s, from_N = self._taut.setdefault(of.place, (time_s, line.hook_load_N))
        grown_N = line.hook_load_N - from_N
        if grown_N < TAKEN_SHARE * self._share_N:
            return
        self._slack_seen.discard(of.place)
        rate = grown_N / max(time_s - since_s, 1e-9)
        stiffness = line.line_stiffness_N_per_m
        mass_kg = self._share_N / STANDARD_GRAVITY_MPS2
        shock = rate * sqrt(mass_kg / stiffness) / self._share_N if stiffness > 0.0 else 0.0
        yield Happening("snatch", of.unit, shock)

    def _leaving(self, now: Readings, dt: float) -> Iterator[Happening]:
        """The lean of each unit's loaded lines as the ground let go, told when the load has stayed off it."""
        if now.load.ground_N > 0.0:
            self._lay_s += dt
            self._free_s = 0.0
            if self._lay_s >= LAY_S:
                # A line that has just come taut pulls too: whatever bears anything at the end bears the load.
                bears = {line.unit for line in self._lines if not now.lines[line.place].slack}
                self._leans = tuple(u.off_plumb_rad if end in bears else 0.0 for end, u in enumerate(now.units))
            return
        self._free_s += dt
        if self._leans and self._free_s >= FREE_S:
            for end, lean_rad in enumerate(self._leans):
                yield Happening("left leaning", end, lean_rad)
            self._leans = ()
        self._lay_s = 0.0 if self._free_s >= FREE_S else self._lay_s

    def _lifted_on(self, now: Readings, is_asked: bool, dt: float) -> Iterator[Happening]:
        """The weight found since it came free, once the load has gone on up with no hold; a bounce changes nothing."""
        if now.load.ground_N > 0.0:
            if self._lay_s >= LAY_S:
                self._left_z_m, self._mean_N, self._quiet_s, self._told = None, 0.0, 0.0, False
            return
        if self._left_z_m is None:
            self._left_z_m, self._weighed_s = now.load.z_m, 0.0
        self._weighed_s += dt
        both_N = sum(unit.hook_load_N for unit in now.units)
        if self._weighed_s > 0.0:
            self._mean_N += (both_N - self._mean_N) * dt / self._weighed_s
        self._quiet_s = 0.0 if is_asked else self._quiet_s + dt
        self._told = self._told or self._quiet_s >= HELD_S
        if not self._told and self._weighed_s >= WEIGHED_S and now.load.z_m - self._left_z_m >= WENT_ON_M:
            self._told = True
            yield Happening("lifted on", None, self._mean_N / self._stated_N - 1.0)
