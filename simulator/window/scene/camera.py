"""Where the side view's meters fall on the screen. Pure arithmetic; it draws nothing.

Boom tips stay at one height on the screen; the scale follows the load down and up, in eased steps.
"""

from __future__ import annotations

from typing import NamedTuple

from simulator.readings import Readings
from simulator.window.kit.regions import SCENE

Spot = tuple[float, float]
TIP_BELOW_TOP = 136.0
LEAST_SCALE, MOST_SCALE = 16.0, 32.0
"""Units per meter that the camera chooses from by itself."""
CLOSEST_SCALE = 48.0
"""Units per meter that can be chosen by hand."""
BELOW_LOAD_M = 1.0
BELOW_ROAD_M = 4.0
EASE_S = 0.6
SCALE_BAND = 0.08
TIP_BAND_M = 0.5
ZOOM_STEP = 1.15
ROSE_RADII = (84.0, 112.0)
ROSE_SCALES = (16.0, 21.0)
ROSE_RIM_DEG = 4.0


class View(NamedTuple):
    """A scale, and the height in the world that stands at the tips' place."""

    scale: float
    tip_z_m: float


def wanted_scale(tip_z_m: float, lowest_z_m: float) -> float:
    """Scale that shows 1 m under the load's lowest point and 4 m under the road, 16 to 32 units per meter."""
    foot_z_m = min(lowest_z_m - BELOW_LOAD_M, -BELOW_ROAD_M)
    return min(MOST_SCALE, max(LEAST_SCALE, (SCENE.h - TIP_BELOW_TOP) / max(1.0, tip_z_m - foot_z_m)))


def eased_share(share: float) -> float:
    """0 to 1 with a soft start and a soft end."""
    s = min(1.0, max(0.0, share))
    return s * s * (3.0 - 2.0 * s)


def rose_radius(scale: float) -> float:
    """Radius of a plumb rose: 112 units from 21 units per meter up, 84 at 16 and under."""
    (low, high), (near, far) = ROSE_RADII, ROSE_SCALES
    return low + (high - low) * min(1.0, max(0.0, (scale - near) / (far - near)))


class Camera:
    """Follows the lift. `sign` is +1 where x grows to the right, -1 where the picture is mirrored."""

    def __init__(self, *, sign: float = 1.0, reduced_motion: bool = False) -> None:
        self.sign = sign
        self.reduced_motion = reduced_motion
        self.by_hand: float | None = None
        self._from = self._to = self._now = View(MOST_SCALE, 0.0)
        self._ease_s = EASE_S
        self._started = False

    @property
    def view(self) -> View:
        """What is shown now: two frames of one view may share a background."""
        return self._now

    @property
    def scale(self) -> float:
        """Units per meter."""
        return self._now.scale

    @property
    def is_easing(self) -> bool:
        """True while the view still changes."""
        return self._now != self._to

    def to_scene(self, x_m: float, z_m: float) -> Spot:
        """A point of the side view in design units."""
        view = self._now
        return (
            SCENE.x + SCENE.w / 2.0 + self.sign * x_m * view.scale,
            SCENE.y + TIP_BELOW_TOP + (view.tip_z_m - z_m) * view.scale,
        )

    def to_world(self, x: float, y: float) -> Spot:
        """A design point in meters: (x, z)."""
        view = self._now
        return (
            self.sign * (x - SCENE.x - SCENE.w / 2.0) / view.scale,
            view.tip_z_m - (y - SCENE.y - TIP_BELOW_TOP) / view.scale,
        )

    def follow(self, elapsed_s: float, readings: Readings) -> View:
        """Goes on for `elapsed_s` on the wall, looking at the higher tip and the load's lowest point."""
        tip_z_m = max(unit.tip_z_m for unit in readings.units)
        return self.go_on(elapsed_s, tip_z_m, readings.load.height_over_road_m)

    def go_on(self, elapsed_s: float, tip_z_m: float, lowest_z_m: float) -> View:
        """Goes on for `elapsed_s` given the heights of the tips and of the load's lowest point."""
        scale = self.by_hand or wanted_scale(tip_z_m, lowest_z_m)
        if not self._started or self._is_off(scale, tip_z_m):
            self._aim(View(scale, tip_z_m))
        self._ease_s = min(EASE_S, self._ease_s + max(0.0, elapsed_s))
        share = eased_share(self._ease_s / EASE_S)
        self._now = (
            self._to
            if share >= 1.0
            else View(*(a + (b - a) * share for a, b in zip(self._from, self._to, strict=True)))
        )
        return self._now

    def zoom(self, steps: int) -> None:
        """One step nearer (+1) or further (-1) by hand."""
        scale = (self.by_hand or self._to.scale) * ZOOM_STEP**steps
        self.by_hand = min(CLOSEST_SCALE, max(LEAST_SCALE, scale))

    def automatic(self) -> None:
        """Back to choosing the scale by itself."""
        self.by_hand = None

    def _is_off(self, scale: float, tip_z_m: float) -> bool:
        """True when the view aimed at no longer serves: 8 % off in scale, or half a meter at the tips."""
        if self.by_hand is not None:
            is_off = scale != self._to.scale
        else:
            is_off = abs(scale - self._to.scale) > SCALE_BAND * self._to.scale
        return is_off or abs(tip_z_m - self._to.tip_z_m) > TIP_BAND_M

    def _aim(self, view: View) -> None:
        """Starts easing toward a view; the first one, and every one with reduced motion, is there at once."""
        jumps = self.reduced_motion or not self._started
        self._from, self._to = self._now, view
        self._ease_s = EASE_S if jumps else 0.0
        self._started = True
