"""Plan against drive: at each station of the crossing the driven lift reads what the check said it would."""

from __future__ import annotations

from functools import lru_cache
from math import hypot
from pathlib import Path

import numpy as np
import pytest

from simulator.places import shipped_scenarios
from simulator.plan.judged_station import StationCheck
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.readings import FLOAT_NAMES, Readings, UnitReadings
from simulator.scenario.reader import load
from tests.shipped_lifts import Demonstrations

STEP_M = 2.0


@lru_cache
def checked(lift: Path) -> SetupCheck:
    """The check of a lift with its true CG."""
    return check_setup(load(lift), step_m=STEP_M, stated=False)


def crossing(readings: list[Readings], at: StationCheck) -> list[Readings]:
    """One sway period of readings round the moment the tips pass a station, so that sway averages out."""
    tips_y = [tip[1] for tip in at.station.tips_m]
    hanging = [now for now in readings if now.load.ground_N == 0.0 and now.load.height_over_road_m > 0.0]
    nearest = min(
        range(len(hanging)),
        key=lambda i: sum(abs(unit.tip_y_m - y) for unit, y in zip(hanging[i].units, tips_y, strict=True)),
    )
    half = round(hanging[nearest].load.sway_period_s * 5.0)
    return hanging[max(0, nearest - half) : nearest + half + 1]


def mean(readings: list[UnitReadings], name: str) -> float:
    return float(np.mean([getattr(one, name) for one in readings]))


@pytest.mark.parametrize("path", shipped_scenarios(), ids=lambda path: path.stem)
def test_every_station_of_the_crossing(path: Path, demonstrated: Demonstrations) -> None:
    seen, check = demonstrated(path).readings, checked(path)
    passed = [one for one in check.stations if one.station.phase == "crossing"]
    assert len(passed) >= 4
    for at in passed:
        around = crossing(seen, at)
        for end, stand in enumerate(at.units):
            units = [now.units[end] for now in around]
            axis = check.description.units[end].slew_axis_x_m
            reach = np.mean([hypot(unit.tip_x_m - axis, unit.tip_y_m) for unit in units])
            # Where tips speed up or slow down, the mean of a sway is not of its middle: the plan at each moment.
            planned = np.mean([hypot(at.station.tips_m[end][0] - axis, unit.tip_y_m) for unit in units])
            where = (at.station.name, end)
            load_N = sum(line.load_N for line in stand.lines)
            assert mean(units, "line_load_N") == pytest.approx(load_N, rel=0.02), where
            assert reach == pytest.approx(planned, abs=0.03), where
            floats = [mean(units, f"float_{name}_N") for name in FLOAT_NAMES]
            assert floats == pytest.approx(list(stand.floats.reactions_N), abs=0.02 * max(floats)), where


@pytest.mark.parametrize("path", shipped_scenarios(), ids=lambda path: path.stem)
def test_gaps_over_the_decks(path: Path, demonstrated: Demonstrations) -> None:
    """Where a part comes over something, or leaves it, within that sway period, there is no one gap to compare."""
    seen, check = demonstrated(path).readings, checked(path)
    compared = 0
    for at in check.stations:
        if at.station.phase != "crossing" or at.room is None:
            continue
        around = crossing(seen, at)
        for part in at.room.parts:
            found = [gap for now in around for gap in now.gaps if gap.part == part.part]
            if all(gap.meets == part.meets and np.isfinite(gap.gap_m) for gap in found):
                compared += 1
                gap = float(np.mean([one.gap_m for one in found]))
                assert gap == pytest.approx(part.gap_m, abs=0.03), (at.station.name, part)
    assert compared >= 4
