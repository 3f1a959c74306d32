"""How meters fall on the pictures of a lift that is laid out; the one from the ravine has a camera of its own."""

from __future__ import annotations

from typing import NamedTuple

from simulator.scenario.description import Description
from simulator.window.kit.regions import Region, screen_sign
from simulator.window.scene.camera import Camera
from simulator.window.scene.side_view_ground import bed_line

Spot = tuple[float, float]


class Frame(NamedTuple):
    """How meters fall on a picture: kept while something is dragged, so that nothing else jumps."""

    scale: float
    u_m: float
    """What stands in the middle, or at the top for heights."""
    v_m: float


class RavineCamera(Camera):
    """The side view in its own region."""

    def __init__(self, lift: Description, region: Region) -> None:
        super().__init__(sign=screen_sign(lift))
        self.region = region
        widest = max(abs(unit.slew_axis_x_m - unit.facing * unit.cab_front_m) for unit in lift.units) + 0.6
        lowest = min(z for _, z in bed_line(lift)) - 1.0
        self.top_z = lift.path.tip_height_m + 1.2
        self._scale = min(region.w / 2.0 / widest, region.h / (self.top_z - lowest))

    @property
    def scale(self) -> float:
        """Units per meter."""
        return self._scale

    def to_scene(self, x_m: float, z_m: float) -> Spot:
        """A point of the side view in design units."""
        region = self.region
        return region.x + region.w / 2.0 + self.sign * x_m * self._scale, region.y + (self.top_z - z_m) * self._scale

    @property
    def frame(self) -> Frame:
        """Its scale and top."""
        return Frame(self._scale, 0.0, self.top_z)

    def hold(self, frame: Frame) -> None:
        """As it was."""
        self._scale, self.top_z = frame.scale, frame.v_m
