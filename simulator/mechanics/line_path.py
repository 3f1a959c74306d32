"""How far a sheave is from the load along its line, and how that changes: what a rest pose asks of each line.

All in the load's own axes, from its center of gravity: there the load stands still and the sheave moves.
"""

from __future__ import annotations

from typing import NamedTuple, Protocol

import numpy as np
from numpy.typing import NDArray

from simulator.mechanics.trailer_body import Vector

Array = NDArray[np.float64]


class Reach(NamedTuple):
    """A line as it runs to one place of its sheave."""

    distance_m: float
    """Sheave to hook; what the unloaded length is held against."""
    toward: Array
    """How the distance grows with the sheave's place: the unit vector of the pull."""
    bend_per_m: Array
    """How `toward` turns with the sheave's place, 3 by 3."""


class LinePath(Protocol):
    """Anything that a line can be led by: straight from its pick, over a bridle, round the load."""

    def reach(self, sheave_m: Array) -> Reach:
        """The line to a sheave at this place in the load's axes."""


class Straight(NamedTuple):
    """From the pick straight to the sheave; rigging is the line's own continuation."""

    pick_m: Vector
    rigging_m: float = 0.0

    def reach(self, sheave_m: Array) -> Reach:
        """The line to a sheave at this place in the load's axes."""
        way = sheave_m - self.pick_m
        distance = float(np.linalg.norm(way))
        toward = way / distance
        return Reach(distance - self.rigging_m, toward, (np.eye(3) - np.outer(toward, toward)) / distance)


class Bridle(NamedTuple):
    """Over a bridle or basket across: free about the pick line for pitch, rigid to the load for roll."""

    pick_m: Vector
    rigging_m: float

    def reach(self, sheave_m: Array) -> Reach:
        """The line to a sheave at this place in the load's axes: the hook stays in the plane along the load."""
        x, y, z = (float(value) for value in sheave_m - self.pick_m)
        plane = float(np.hypot(x, z))
        rest = plane - self.rigging_m
        distance = float(np.hypot(y, rest))
        out = np.array([x / plane, 0.0, z / plane])
        toward = (rest * out + np.array([0.0, y, 0.0])) / distance
        level = np.diag([1.0, 0.0, 1.0]) - np.outer(out, out)
        bend = np.diag([0.0, 1.0, 0.0]) + np.outer(out, out) + rest / plane * level - np.outer(toward, toward)
        return Reach(distance, toward, bend / distance)
