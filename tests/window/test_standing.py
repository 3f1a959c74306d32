"""How far a unit stands off level: its floats' springs by hand."""

from __future__ import annotations

from dataclasses import replace
from math import cos, hypot, isnan, sin

import pytest

from simulator.readings import UnitReadings
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.window.readouts.resting_floats import RestingFloats
from tests.demo import with_unit
from tests.window.sample import calm_readings, sample_description

PULL_N = 60e3


def even(description: Description) -> Description:
    """The sample lift with all floats of the nose unit on the same ground, and level."""
    floats = replace(description.units[0].floats, soft_float_share=(1.0, 1.0, 1.0, 1.0))
    site = replace(description.site, cross_fall_rad=0.0)
    level = with_unit(description, 0, floats=floats, level_along_rad=0.0, level_across_rad=0.0)
    return replace(level, site=site)


def hung(description: Description, slew_rad: float, line_load_N: float) -> tuple[UnitReadings, tuple[float, float]]:
    """The nose unit with its first boom pose turned to `slew_rad` and its line plumb; and its tip in its own axes."""
    unit = description.units[0]
    start = unit.start
    reach = start.boom_length_m * cos(start.elevation_rad) - unit.boom.foot_pin_back_m
    height = unit.boom.foot_pin_height_m + start.boom_length_m * sin(start.elevation_rad)
    tip = reach * cos(slew_rad), reach * sin(slew_rad)
    now = calm_readings().nose._replace(
        boom_length_m=start.boom_length_m, elevation_rad=start.elevation_rad, slew_rad=slew_rad,
        line_load_N=line_load_N, sheave_to_hook_m=5.0, tip_x_m=tip[0], tip_y_m=tip[1], tip_z_m=height,
        hook_x_m=tip[0], hook_y_m=tip[1], hook_z_m=height - 5.0, tipping=False,
    )  # fmt: skip
    return now, tip


def test_a_unit_as_it_was_set_up_stands_level() -> None:
    description = even(sample_description())
    block_N = description.units[0].hoist.block_kg * STANDARD_GRAVITY_MPS2
    now, _ = hung(description, 0.0, block_N)
    assert RestingFloats(description).off_level_rad(0, calm_readings().with_unit(0, now)) == pytest.approx(
        0.0, abs=1e-12
    )


def test_a_load_over_the_tailboard_leans_it_as_four_springs_do() -> None:
    """Moment of the load about the springs' middle over their stiffness against turning."""
    description = even(sample_description())
    floats, block_N = description.units[0].floats, description.units[0].hoist.block_kg * STANDARD_GRAVITY_MPS2
    now, (out_m, _) = hung(description, 0.0, block_N + PULL_N)
    middle_m = (floats.toward_tailboard_m - floats.toward_cab_m) / 2.0
    half_m = (floats.toward_tailboard_m + floats.toward_cab_m) / 2.0
    lean = PULL_N * (out_m - middle_m) / (4.0 * floats.stiffness_N_per_m * half_m**2)
    assert RestingFloats(description).off_level_rad(0, calm_readings().with_unit(0, now)) == pytest.approx(
        abs(lean), rel=1e-6
    )


def test_a_level_error_counts_by_itself() -> None:
    description = even(sample_description())
    crooked = with_unit(description, 0, level_along_rad=0.01, level_across_rad=0.02)
    now, _ = hung(crooked, 0.0, crooked.units[0].hoist.block_kg * STANDARD_GRAVITY_MPS2)
    assert RestingFloats(crooked).off_level_rad(0, calm_readings().with_unit(0, now)) == pytest.approx(
        hypot(sin(0.01), sin(0.02)), rel=1e-6
    )


def test_a_unit_that_tips_has_no_such_figure() -> None:
    description = sample_description()
    assert isnan(
        RestingFloats(description).off_level_rad(
            0, calm_readings().with_unit(0, calm_readings().nose._replace(tipping=True))
        )
    )
