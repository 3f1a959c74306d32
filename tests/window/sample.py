"""An invented lift and readings set by hand for window tests and stills: shapes and texts, never physics."""

from __future__ import annotations

from dataclasses import replace
from math import radians
from typing import Literal

from simulator.mechanics.boom import boom_pose, tip_m
from simulator.readings import LoadReadings, PartGap, Readings, UnitReadings, lines_of
from simulator.scenario.description import Description, Landing, Path
from simulator.scenario.rig import PAIR
from simulator.scenario.site import Site
from simulator.scenario.trailer import Cargo, Part, Trailer, TrailerStart
from simulator.scenario.unit import Boom, Unit
from tests.demo import PARKED, demo_unit, pair_of_picks

TONNE_N = 9806.65
PART_NAMES = ("Nose plate", "Landing legs", "Belly", "Axle group", "Rear bumper")


def sample_unit(end: int) -> Unit:
    """One unit of the pair."""
    start = PARKED if end == 0 else replace(PARKED, slew_rad=radians(-69.0))
    return demo_unit(PAIR[end], boom=Boom(6.7, 14.5, -0.1, radians(60.5), 1.2, 2.6), start=start)


def sample_trailer() -> Trailer:
    """A tank trailer on its wheels, 14.6 m long."""
    parts = (
        Part("Nose plate", ((-7.2, 1.0), (-5.6, 1.0), (-5.6, 1.3), (-7.2, 1.3)), 2.4, 500.0, 0.0, "plate"),
        Part("Landing legs", ((-4.8, 0.4), (-4.2, 0.4), (-4.2, 1.2), (-4.8, 1.2)), 2.0, 400.0, 0.0, "legs"),
        Part("Belly", ((-7.3, 1.3), (7.3, 1.3), (7.3, 3.4), (-7.3, 3.4)), 2.5, 5000.0, 0.0, "tank"),
        Part("Axle group", ((2.8, 0.0), (6.4, 0.0), (6.4, 1.0), (2.8, 1.0)), 2.5, 3000.0, 0.0, "wheels"),
        Part("Rear bumper", ((6.6, 0.6), (7.3, 0.6), (7.3, 1.0), (6.6, 1.0)), 2.4, 200.0, 0.0, "bumper"),
    )
    picks = pair_of_picks((-6.0, 0.0, 3.4), (6.0, 0.0, 3.4))
    return Trailer(parts, Cargo(15e3, (0.0, 0.0, 2.2), (13.0, 2.0, 1.6)), picks, TrailerStart(0.0, -8.0))


def sample_description(*, nose_seen: Literal["left", "right"] = "left") -> Description:
    """The whole lift."""
    section = ((14.0, 0.0), (-4.65, 0.0), (-5.3, -3.0), (-6.0, -10.0), (-12.0, -10.4), (-16.0, -9.0))
    return Description(
        title="Stream bed",
        story="Nose low. Find the share before lifting.",
        site=Site(section, -4.65, nose_seen_from_ravine=nose_seen, guard_rail_height_m=0.8),
        units=(sample_unit(0), sample_unit(1)),
        trailer=sample_trailer(),
        path=Path(1.8, 9.3),
        landing=Landing(6.6),
    )


def sample_unit_readings(end: int, *, height_m: float, y_m: float, tip_z_m: float, **changes: float) -> UnitReadings:
    """One unit with its line plumb over its pick; `changes` overrides fields."""
    unit = sample_unit(end)
    hook = (-unit.facing * 6.0, y_m, height_m + 3.4 + 2.3)
    pose = boom_pose(unit, (hook[0], y_m, tip_z_m))
    tip = tip_m(unit, pose)
    reach = ((tip[0] - unit.slew_axis_x_m) ** 2 + tip[1] ** 2) ** 0.5
    line = tip[2] - hook[2]
    fields: dict[str, float] = dict.fromkeys(UnitReadings._fields, 0.0)
    fields |= {
        "line_load_N": 12.9 * TONNE_N, "hook_load_N": 12.4 * TONNE_N, "share": 0.53, "slack": False, "stall": False,
        "boom_length_m": pose.length_m, "elevation_rad": pose.elevation_rad, "slew_rad": pose.slew_rad,
        "reach_m": reach, "load_radius_m": reach, "tip_x_m": tip[0], "tip_y_m": tip[1], "tip_z_m": tip[2],
        "hook_x_m": hook[0], "hook_y_m": hook[1], "hook_z_m": hook[2], "line_length_m": line,
        "sheave_to_hook_m": line, "rope_out_m": 2 * line + pose.length_m + 2.0,
        "rope_left_m": 64.0 - 2 * line - pose.length_m, "head_room_m": line - 1.0, "capacity_used": 0.71,
        "float_tailboard_road_N": 8.0 * TONNE_N, "float_tailboard_ravine_N": 18.5 * TONNE_N,
        "float_cab_road_N": 7.2 * TONNE_N, "float_cab_ravine_N": 17.7 * TONNE_N,
        "least_float_N": 7.2 * TONNE_N, "least_float_share": 0.54, "ground_used": 0.6, "tipping": False,
    }  # fmt: skip
    return UnitReadings(**(fields | changes))  # type: ignore[arg-type]


def sample_load(*, height_m: float, y_m: float, **changes: float) -> LoadReadings:
    """The trailer, level and still."""
    fields: dict[str, float] = dict.fromkeys(LoadReadings._fields, 0.0)
    fields |= {
        "y_m": y_m, "z_m": height_m + 1.9, "sway_m": 0.06, "sway_period_s": 4.9, "height_over_road_m": height_m,
        "height_over_bed_m": 7.9, "lane_room_m": 13.4, "pitch_rad": radians(0.3), "landed": False,
    }  # fmt: skip
    return LoadReadings(**(fields | changes))  # type: ignore[arg-type]


def sample_gaps(values_m: tuple[float, ...] = (1.16, 1.02, 1.33, 0.94, 1.22)) -> tuple[PartGap, ...]:
    """A gap for each part, with the state that its size asks for."""

    def state(gap_m: float) -> str:
        return "to raise" if gap_m < -1.5 else "not clear" if gap_m < 0 else "close" if gap_m < 0.3 else "clears"

    rows = zip(PART_NAMES, values_m, strict=True)
    return tuple(PartGap(name, gap_m, "tail unit's deck", state(gap_m)) for name, gap_m in rows)


def calm_readings(*, height_m: float = 1.3, y_m: float = -6.0, tip_z_m: float = 10.5) -> Readings:
    """A good lift: nothing to look at."""
    place = {"height_m": height_m, "y_m": y_m, "tip_z_m": tip_z_m}
    tail = {"line_load_N": 11.3 * TONNE_N, "share": 0.47, "capacity_used": 0.64}
    units = (
        sample_unit_readings(0, **place, mean_off_plumb_rad=0.006, mean_off_plumb_across_rad=0.006),
        sample_unit_readings(1, **place, **tail, mean_off_plumb_rad=0.007, mean_off_plumb_along_rad=0.007),
    )
    return Readings(
        60480,
        252.0,
        units,
        lines_of(units),
        sample_load(height_m=height_m, y_m=y_m),
        sample_gaps() if height_m > 0 else sample_gaps((-9.59, -9.5, -9.4, -10.8, -10.2)),
    )


def caution_readings() -> Readings:
    """The nose line off plumb, one tail float light, one part not clear, one close."""
    calm = calm_readings()
    nose = calm.nose._replace(
        mean_off_plumb_rad=radians(1.4), mean_off_plumb_along_rad=radians(-1.15),
        mean_off_plumb_across_rad=radians(-0.8), off_plumb_rad=radians(1.4),
        off_plumb_along_rad=radians(-1.1), off_plumb_across_rad=radians(-0.86),
    )  # fmt: skip
    tail = calm.tail._replace(
        float_cab_road_N=2.6 * TONNE_N, least_float_N=2.6 * TONNE_N, least_float_share=0.195,
        float_tailboard_road_N=5.4 * TONNE_N, float_cab_ravine_N=20.3 * TONNE_N,
    )  # fmt: skip
    return calm.with_unit(0, nose).with_unit(1, tail)._replace(gaps=sample_gaps((1.16, 1.02, 1.33, -0.12, 0.22)))


def stop_readings() -> Readings:
    """Deep, with everything wrong at once."""
    deep = calm_readings(height_m=-8.1, y_m=-8.0, tip_z_m=9.3)
    nose = deep.nose._replace(
        capacity_used=0.94, mean_off_plumb_rad=radians(0.6), mean_off_plumb_across_rad=radians(-0.6)
    )
    tail = deep.tail._replace(
        capacity_used=1.03, mean_off_plumb_rad=radians(4.2), mean_off_plumb_along_rad=radians(2.9),
        mean_off_plumb_across_rad=radians(-3.1), off_plumb_rad=radians(4.4), off_plumb_along_rad=radians(3.1),
        off_plumb_across_rad=radians(-3.2), float_cab_road_N=0.7 * TONNE_N, least_float_N=0.7 * TONNE_N,
        least_float_share=0.053, float_tailboard_road_N=0.0, ground_used=1.08, stall=True,
    )  # fmt: skip
    load = deep.load._replace(sway_m=0.62, sway_period_s=7.6, pitch_rad=radians(2.4), height_over_bed_m=0.4)
    return deep.with_unit(0, nose).with_unit(1, tail)._replace(load=load)
