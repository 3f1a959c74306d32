"""What stands still in the three pictures of a lift that is laid out, kept between frames."""

from __future__ import annotations

from simulator.scenario.standing import as_it_stands, on_road
from simulator.scenario.unit import Unit
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.kept_panel import KeptPanel, KeptStamp
from simulator.window.kit.regions import Region
from simulator.window.layout.ravine_camera import RavineCamera
from simulator.window.scene.trucks import BODY_TOP_M, Truck

BESIDE = 8.0
"""Design units round a truck that its outlines may reach into."""
OVER_M = 0.3


class KeptViews:
    """The ground of each picture, and the carriers from the ravine."""

    def __init__(self, above: Region, across: Region, ravine: Region) -> None:
        self.above, self.across, self.ravine = KeptPanel(above), KeptPanel(across), KeptPanel(ravine)
        self._carriers: dict[int, KeptStamp] = {}

    def show_carrier(self, canvas: Canvas, camera: RavineCamera, place: int, truck: Truck) -> None:
        """Lay a unit's carrier where it stands."""
        stamp = self._carriers.setdefault(place, KeptStamp())
        shows = as_it_stands(truck.unit), truck.side, camera.frame, camera.sign
        stamp.show(canvas, _round(camera, truck.unit), shows, lambda layer: truck.draw_carrier(layer, camera))


def _round(camera: RavineCamera, unit: Unit) -> Region:
    """A region that holds all of its carrier."""
    floats = unit.floats
    pad, half = floats.pad_side_m / 2.0, unit.carrier_width_m / 2.0
    us = -max(unit.cab_front_m, floats.toward_cab_m + pad), max(unit.tailboard_m, floats.toward_tailboard_m + pad)
    vs = -max(half, floats.ravine_m), max(half, floats.road_m)
    xs = [camera.to_scene(on_road(unit, u, v)[0], 0.0)[0] for u in us for v in vs]
    foot = camera.to_scene(0.0, 0.0)[1] + BESIDE
    top = camera.to_scene(0.0, max(unit.cab_height_m, unit.deck_height_m + BODY_TOP_M) + OVER_M)[1] - BESIDE
    return Region(min(xs) - BESIDE, top, max(xs) - min(xs) + 2.0 * BESIDE, foot - top)
