"""A station of the path as a moment of a lift, so that what draws a lift can draw it. No pygame."""

from __future__ import annotations

from simulator.readings import LineReadings, LoadReadings, Readings, UnitReadings
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of
from simulator.telling.laid_out import Stop

_UNIT = UnitReadings(*(0.0 for _ in UnitReadings._fields))  # type: ignore[arg-type]
_LINE = LineReadings(*(0.0 for _ in LineReadings._fields))  # type: ignore[arg-type]
_LOAD = LoadReadings(*(0.0 for _ in LoadReadings._fields))  # type: ignore[arg-type]


def readings_at(lift: Description, stop: Stop) -> Readings:
    """The moment: places and angles only, everything that is measured is left at nothing."""
    rig = rig_of(lift)
    lines = tuple(
        _LINE._replace(
            tip_x_m=sheave[0],
            tip_y_m=sheave[1],
            tip_z_m=sheave[2],
            hook_x_m=hook[0],
            hook_y_m=hook[1],
            hook_z_m=hook[2],
        )
        for sheave, hook in zip(stop.sheaves_m, stop.hooks_m, strict=True)
    )
    units = []
    for rig_unit, at in zip(rig.units, stop.units, strict=True):
        hook = stop.hooks_m[rig_unit.lines[0].place]
        units.append(
            _UNIT._replace(
                boom_length_m=at.length_m,
                elevation_rad=at.elevation_rad,
                slew_rad=at.slew_rad,
                tip_x_m=at.tip_m[0],
                tip_y_m=at.tip_m[1],
                tip_z_m=at.tip_m[2],
                hook_x_m=hook[0],
                hook_y_m=hook[1],
                hook_z_m=hook[2],
            )
        )
    x, y, z, pitch, yaw, roll = stop.load
    load = _LOAD._replace(x_m=x, y_m=y, z_m=z, pitch_rad=pitch, yaw_rad=yaw, roll_rad=roll)
    return Readings(0, 0.0, tuple(units), lines, load)
