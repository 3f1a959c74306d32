"""A unit that stands askew, from the ravine: where its corners are on the road, and its boom from its own foot pin."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin

import numpy as np
import pygame
import pytest

from simulator.places import find_scenario
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.standing import float_places, on_road
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.palette import SIDES, SKY
from simulator.window.kit.regions import Region
from simulator.window.layout.ravine_camera import RavineCamera
from simulator.window.scene.trucks import Truck

REGION = Region(0.0, 0.0, 1920.0, 1080.0)


def standing(yaw_deg: float, end: int) -> Description:
    lift = load(find_scenario("box_on_wheels"))
    units = list(lift.units)
    units[end] = replace(units[end], yaw_rad=radians(yaw_deg))
    return replace(lift, units=tuple(units))


@pytest.mark.parametrize("end", [0, 1])
@pytest.mark.parametrize("yaw_deg", [0.0, 15.0, -15.0])
def test_it_is_as_long_as_its_corners_reach(yaw_deg: float, end: int) -> None:
    """By the same corners as from above; a unit that is drawn straight is 0.3 to 1.2 m off at 15 degrees."""
    pygame.init()
    lift = standing(yaw_deg, end)
    unit = lift.units[end]
    surface = pygame.Surface((1920, 1080))
    canvas, camera = Canvas(surface), RavineCamera(lift, REGION)
    canvas.clear(SKY)
    Truck(unit, SIDES[end]).draw_carrier(canvas, camera)
    inked = np.any(pygame.surfarray.array3d(surface) != np.array(SKY), axis=(1, 2)).nonzero()[0]
    half, pad = unit.carrier_width_m / 2.0, unit.floats.pad_side_m / 2.0
    corners = [on_road(unit, u, v)[0] for u in (-unit.cab_front_m, unit.tailboard_m) for v in (-half, half)]
    pads = [x + by for x, _ in float_places(unit) for by in (-pad, pad)]
    xs = [camera.to_scene(x, 0.0)[0] for x in (*corners, *pads)]
    assert inked[0] == pytest.approx(min(xs), abs=4.0)
    assert inked[-1] == pytest.approx(max(xs), abs=4.0)


@pytest.mark.parametrize("end", [0, 1])
def test_its_boom_starts_at_its_own_foot_pin_and_its_superstructure_looks_along_it(end: int) -> None:
    unit = standing(15.0, end).units[end]
    truck, slew = Truck(unit, SIDES[end]), radians(40.0)
    back = -unit.boom.foot_pin_back_m
    x, y, _ = truck.foot_m(slew)
    assert (x, y) == pytest.approx(on_road(unit, back * cos(slew), back * sin(slew)))
    canvas, camera = Canvas(pygame.Surface((1920, 1080))), RavineCamera(standing(15.0, end), REGION)
    place = truck._upper_place(canvas, camera, slew)
    along = place.spots(np.array(((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))))
    axis, out = on_road(unit, 0.0, 0.0), on_road(unit, cos(slew), sin(slew))
    seen = camera.to_scene(out[0], 0.0)[0] - camera.to_scene(axis[0], 0.0)[0]
    assert along[1][0] - along[0][0] == pytest.approx(seen, abs=1e-6)
