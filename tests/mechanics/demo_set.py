"""The demo set: an invented unit, and the trade's textbook trailer (common practice, no source) lifted by two of them.

Worked through with prototypes before there was a program, with booms straight from foot pin to tip. Check values of
the footing and of plans.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import radians

from simulator.mechanics.boom import BoomPose, boom_pose
from simulator.scenario.rig import TAIL
from simulator.scenario.unit import Boom
from tests.demo import demo_unit

TIP_HEIGHT_M = 9.3
PICKS_X_M = (-6.4, 6.0)
LINE_LOAD_T = 13.5
"""26 t on two lines, block 0.3 t and rigging 0.2 t."""

BOOM = Boom(6.7, 14.5, radians(0.0), radians(60.0), foot_pin_back_m=1.2, foot_pin_height_m=2.6)
NOSE_UNIT = demo_unit(boom=BOOM)
UNITS = (NOSE_UNIT, demo_unit(TAIL, boom=BOOM))


@dataclass(frozen=True)
class Station:
    """One row of the demo set's station table, as printed."""

    end: int
    y_m: float
    belly_m: float
    reach_m: float
    boom_m: float
    elevation_deg: float
    slew_deg: float
    floats_t: tuple[float, float, float, float]
    of_85_percent_tip: int
    head_room_m: float
    rope_out_m: float

    @property
    def tip_m(self) -> tuple[float, float, float]:
        """Tip over its pick."""
        return PICKS_X_M[self.end], self.y_m, TIP_HEIGHT_M

    @property
    def pose(self) -> BoomPose:
        """Boom with its tip there."""
        return boom_pose(UNITS[self.end], self.tip_m)


STATIONS = (
    Station(0, -8.0, -12.0, 8.44, 11.7, 34.8, -71.5, (6.0, 20.9, 4.9, 19.8), 52, 15.4, 46.5),
    Station(1, -8.0, -12.0, 8.57, 11.8, 34.4, -69.0, (6.3, 21.3, 4.5, 19.4), 52, 15.4, 46.6),
    # The printed row is one for both units and gives 19.0; the nose unit's own is 2 * 2.6 + 11.74 + 2.
    Station(0, -8.0, 1.8, 8.44, 11.7, 34.8, -71.5, (6.0, 20.9, 4.9, 19.8), 52, 1.6, 18.9),
    Station(1, -8.0, 1.8, 8.57, 11.8, 34.4, -69.0, (6.3, 21.3, 4.5, 19.4), 52, 1.6, 19.0),
    Station(0, -6.0, 1.8, 6.57, 10.3, 40.8, -66.0, (8.0, 18.5, 7.2, 17.7), 28, 1.6, 17.5),
    Station(1, -6.0, 1.8, 6.74, 10.4, 40.2, -62.9, (8.4, 19.0, 6.8, 17.4), 28, 1.6, 17.6),
    Station(0, -4.0, 1.8, 4.81, 9.0, 48.1, -56.2, (9.9, 16.2, 9.6, 15.8), 6, 1.6, 16.2),
    Station(1, -4.0, 1.8, 5.05, 9.2, 47.0, -52.4, (10.2, 16.6, 9.2, 15.5), 6, 1.6, 16.4),
    Station(0, -2.0, 1.8, 3.34, 8.1, 55.9, -36.8, (11.4, 13.9, 11.9, 14.4), 0, 1.6, 15.3),
    Station(1, -2.0, 1.8, 3.67, 8.3, 54.0, -33.0, (11.7, 14.4, 11.4, 14.1), 2, 1.6, 15.5),
    Station(0, 0.0, 1.8, 2.67, 7.7, 60.0, 0.0, (12.3, 12.3, 13.4, 13.4), 0, 1.6, 14.9),
    Station(1, 0.0, 1.8, 3.07, 7.9, 57.5, 0.0, (12.8, 12.8, 13.0, 13.0), 2, 1.6, 15.1),
    Station(0, 2.0, 1.8, 3.34, 8.1, 55.9, 36.8, (13.9, 11.4, 14.4, 11.9), 0, 1.6, 15.3),
    Station(1, 2.0, 1.8, 3.67, 8.3, 54.0, 33.0, (14.4, 11.7, 14.1, 11.4), 2, 1.6, 15.5),
    Station(0, 4.0, 1.8, 4.81, 9.0, 48.1, 56.2, (16.2, 9.9, 15.8, 9.6), 6, 1.6, 16.2),
    Station(1, 4.0, 1.8, 5.05, 9.2, 47.0, 52.4, (16.6, 10.2, 15.5, 9.2), 6, 1.6, 16.4),
    Station(0, 6.6, 1.8, 7.12, 10.7, 38.8, 67.9, (19.2, 7.4, 18.3, 6.5), 35, 1.6, 17.9),
    Station(1, 6.6, 1.8, 7.28, 10.8, 38.3, 65.0, (19.7, 7.8, 18.0, 6.1), 35, 1.6, 18.0),
    Station(0, 6.6, 0.0, 7.12, 10.7, 38.8, 67.9, (19.2, 7.4, 18.3, 6.5), 35, 3.4, 21.5),
    # Printed 21.5, which is the nose unit's; its own is 2 * 4.4 + 10.81 + 2.
    Station(1, 6.6, 0.0, 7.28, 10.8, 38.3, 65.0, (19.7, 7.8, 18.0, 6.1), 35, 3.4, 21.6),
)
