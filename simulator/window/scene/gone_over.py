"""Where points of a unit are seen: as it stands, askew too; while it goes over, turned about the float it stands on."""

from __future__ import annotations

from simulator.mechanics.going_over import leaned_by, lowest
from simulator.mechanics.trailer_body import turned
from simulator.readings import UnitReadings
from simulator.scenario.standing import askew
from simulator.scenario.unit import Unit
from simulator.window.scene.solids import Vector

UPRIGHT = leaned_by(0.0, 0.0)


class GoneOver:
    """A unit as it leans. Points are in its own axes: toward the tailboard, toward the road, up."""

    def __init__(self, unit: Unit) -> None:
        self._unit = unit
        floats = unit.floats
        front, back, road, ravine = floats.toward_tailboard_m, -floats.toward_cab_m, floats.road_m, -floats.ravine_m
        self._places = ((front, road), (front, ravine), (back, road), (back, ravine))
        self.leans = 0.0, 0.0
        """Toward the tailboard, toward the road."""
        self.turn, self._about = UPRIGHT, (0.0, 0.0)

    def take(self, now: UnitReadings) -> None:
        """Lean as these readings say."""
        leans = self._unit.facing * now.over_along_rad, now.over_across_rad
        if leans != self.leans:
            self.leans, self.turn = leans, leaned_by(*leans)
            self._about = self._places[lowest(self._places, *leans)]

    @property
    def is_up(self) -> bool:
        """Floats are off the ground."""
        return self.leans != (0.0, 0.0)

    def world(self, own: Vector) -> Vector:
        """Such a point in the world, m."""
        u, v, z = own
        if self.is_up:
            pu, pv = self._about
            u, v, z = turned(self.turn, (u - pu, v - pv, z))
            u, v = u + pu, v + pv
        return askew(self._unit, (self._unit.slew_axis_x_m + self._unit.facing * u, v, z))
