"""Set-ups drawn by lot, over all that a set-up check has to judge: what `driven_setups.py` drives.

A draw is a shipped lift, a shipped drill or the template driven as a whole lift, or a first draft from tape-measure
numbers; with other load, stands, pads, soil, slope, tips, landing, rope and wind. Seed and number alone say what it is.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from math import pi, radians, sqrt
from pathlib import Path
from random import Random
from typing import Any

from simulator.mechanics.boom import boom_pose
from simulator.mechanics.hoist_line import rope_for_m
from simulator.places import scenarios_folder, shipped_drills, shipped_scenarios
from simulator.plan.draft import draft
from simulator.plan.hanging import load_of
from simulator.plan.lying_rules import rests_rad
from simulator.plan.site_rules import ravine_pads
from simulator.plan.spacing import set_back_m, with_set_back
from simulator.plan.stations import stations
from simulator.scenario.description import Description
from simulator.scenario.reader import load, parse_text
from simulator.scenario.rig import rig_of
from simulator.scenario.site import SOILS, Site
from simulator.scenario.trailer import Trailer
from simulator.scenario.unit import Hoist, Unit
from simulator.script import checked

SLACK_M = 0.3
"""Lines at time zero."""
DRAFT = "a first draft"
TEMPLATE = scenarios_folder() / "templates" / "drill.toml"


def families() -> tuple[str, ...]:
    """All that a draw begins with; shipped lifts and drafts three times as often as drills, which share their lifts."""
    lifts = (*(str(path) for path in shipped_scenarios()), DRAFT)
    return (*lifts, *lifts, *lifts, *(str(path) for path in (*shipped_drills(), TEMPLATE)))


def drawn(seed: int, number: int) -> Description:
    """Set-up `number`, its hidden numbers as on its papers.

    Raises:
        BrokenScenario, ValueError: what was drawn does not fit together.
    """
    lots = Random(f"{seed} {number}")
    family = lots.choice(families())
    lift = _of_tape_measure(lots) if family == DRAFT else _loaded(family)
    lift = replace(lift, drill=None, seed=lots.randrange(2**31), trailer=_trailer(lift.trailer, lots))
    site = _site(lift.site, lots)
    mats = sqrt(max(1.0, lift.site.soil.allowable_bearing_Pa / site.soil.allowable_bearing_Pa))
    lift = replace(lift, site=site, units=tuple(_unit(unit, mats, lots) for unit in lift.units))
    lift = _lying(lift, lots)
    lift = _path(lift, lots)
    lift = _off_the_lane(with_set_back(lift, set_back_m(lift) + _farther_m(lift, lots)), lots)
    steps = replace(lift.engine, steps_per_s=120, readings_per_s=20, footing_every_steps=4)
    lift = replace(lift, engine=steps)
    return checked(replace(lift, units=tuple(started(lift))))


@lru_cache
def _loaded(path: str) -> Description:
    return load(Path(path))


def _trailer(trailer: Trailer, lots: Random) -> Trailer:
    """Other weight and place of what it carries, by its papers; a tank or a bulk body filled otherwise."""
    (x, y, z), cargo = trailer.cargo.cg_m, trailer.cargo
    share = lots.uniform(0.5, 1.35)
    at = x + lots.uniform(-1.0, 1.0), y + lots.uniform(-0.1, 0.1), z + lots.uniform(-0.3, 0.3)
    fill = cargo.fill if cargo.kind == "solid" else min(0.95, max(0.15, cargo.fill * share))
    cargo = replace(cargo, mass_kg=cargo.mass_kg * share, cg_m=at if cargo.kind == "solid" else cargo.cg_m, fill=fill)
    start = replace(
        trailer.start, x_m=trailer.start.x_m + lots.uniform(-0.3, 0.3), y_m=trailer.start.y_m + lots.uniform(-0.4, 0.4),
        yaw_rad=trailer.start.yaw_rad + radians(lots.uniform(-2.0, 2.0)),
    )  # fmt: skip
    return replace(trailer, cargo=cargo, start=start, hidden_cg_m=(0.0, 0.0, 0.0), hidden_mass_factor=1.0)


def _site(site: Site, lots: Random) -> Site:
    """Another depth, cross fall, soil and wind from anywhere; somebody qualified has judged the slope."""
    deeper = lots.uniform(0.6, 1.3)
    section = tuple((across, up * deeper if up < 0.0 else up) for across, up in site.section_m)
    wind = replace(
        site.wind, speed_mps=0.0 if lots.random() < 0.25 else lots.uniform(0.0, 9.0), gust_share=lots.uniform(0.0, 0.5),
        toward_rad=lots.uniform(-pi, pi), gust_period_s=lots.uniform(6.0, 20.0),
        measured_height_m=lots.choice((2.0, 10.0)),
    )  # fmt: skip
    soil = replace(site.soil, face_judged_by="an engineer, drawn by lot")
    if lots.random() < 0.6:
        name = lots.choice(sorted(SOILS))
        figures: dict[str, Any] = SOILS[name]
        steepest = figures["steepest_angle"] if lots.random() < 0.15 else soil.steepest_angle_rad
        soil = replace(
            soil, name=name, allowable_bearing_Pa=figures["allowable_bearing"], steepest_angle_rad=steepest
        )  # fmt: skip
    fall = site.cross_fall_rad if lots.random() < 0.6 else lots.uniform(-0.03, 0.03)
    return replace(site, section_m=section, wind=wind, soil=soil, cross_fall_rad=fall)


def _lying(lift: Description, lots: Random) -> Description:
    """Mostly as it would come to rest there; else as stated, whatever the slope has become."""
    if lots.random() < 0.15:
        return lift
    pitch, roll = rests_rad(lift)
    start = replace(lift.trailer.start, pitch_rad=pitch, roll_rad=roll)
    return replace(lift, trailer=replace(lift.trailer, start=start))


def _unit(unit: Unit, mats: float, lots: Random) -> Unit:
    """Stands elsewhere, on other pads, wider ones on weaker ground; each unit by itself."""
    floats = replace(
        unit.floats, pad_side_m=min(3.0, unit.floats.pad_side_m * mats * lots.uniform(0.8, 1.5)),
        across_m=unit.floats.across_m * lots.uniform(0.9, 1.02),
        stiffness_N_per_m=unit.floats.stiffness_N_per_m * lots.uniform(0.6, 1.5),
    )  # fmt: skip
    rope = lots.uniform(0.9, 1.3)
    parts = lots.choice((0, 0, 0, 1))
    lines = tuple(replace(line, hoist=_reeved(line.hoist, parts, rope)) for line in unit.lines)
    out_m = unit.facing * lots.uniform(-0.8, 0.8)
    return replace(unit, slew_axis_x_m=unit.slew_axis_x_m - out_m, floats=floats, lines=lines)


def _reeved(hoist: Hoist, parts: int, rope: float) -> Hoist:
    return replace(hoist, parts=hoist.parts + parts, usable_rope_m=hoist.usable_rope_m * rope)


def _farther_m(lift: Description, lots: Random) -> float:
    """How much farther the units stand from the edge: mostly as far as the soil asks, or some more."""
    short = max(pad.edge.needed_m - pad.edge.set_back_m for pad in ravine_pads(lift))
    if lots.random() < 0.1:
        return lots.uniform(-0.2, 0.2)
    return max(0.0, short) + 0.01 + lots.choice((0.0, lots.uniform(0.0, 0.5)))


def _off_the_lane(lift: Description, lots: Random) -> Description:
    """Landed somewhat farther out; the live lane no nearer than a place to land leaves it."""
    body = load_of(lift).body
    lift = replace(lift, landing=replace(lift.landing, y_m=lift.landing.y_m + lots.uniform(0.05, 0.5)))
    lane_m = lift.landing.y_m + (body.high_m[1] - body.low_m[1]) / 2.0 + lots.uniform(1.6, 4.0)
    return replace(lift, site=replace(lift.site, live_lane_y_m=max(lift.site.live_lane_y_m, lane_m)))


def _path(lift: Description, lots: Random) -> Description:
    path = replace(
        lift.path, tip_height_m=lift.path.tip_height_m + lots.uniform(-0.6, 0.4),
        belly_over_road_m=max(0.0, lift.path.belly_over_road_m + lots.uniform(-0.1, 0.8)),
        leader=lots.choice([unit.name for unit in lift.units]),
    )  # fmt: skip
    return replace(lift, path=path)


def _of_tape_measure(lots: Random) -> Description:
    length = lots.uniform(7.0, 14.0)
    depth = lots.uniform(1.5, 10.0)
    answers: dict[str, Any] = {
        "attitude": lots.choice(("on_wheels", "top_to_ravine", "top_to_road")), "length": length,
        "height": lots.uniform(2.4, 4.0), "weight": lots.uniform(5e3, 24e3), "depth": depth,
        "cg_from_front": length * lots.uniform(0.42, 0.58), "face_run": lots.uniform(0.3, 1.0),
        "gap": length * lots.uniform(0.6, 0.95), "unit_weight": lots.uniform(30e3, 46e3),
        "boom_longest": lots.uniform(13.0, 18.0), "pad_side": lots.uniform(0.6, 1.4),
        "trailer_out": lots.uniform(6.8, 8.4), "edge_out": 4.65, "lane_out": 13.0,
    }  # fmt: skip
    return parse_text(draft(answers).text, DRAFT)


def started(lift: Description) -> list[Unit]:
    """The units with their booms over the picks as far as their travel goes, lines a little slack."""
    lift_off, units = stations(lift, load_of(lift))[0], []
    for unit, of in zip(lift.units, rig_of(lift).units, strict=True):
        tip, boom = lift_off.tips_m[of.place], unit.boom
        length, elevation, slew = boom_pose(unit, tip)
        length = min(max(length, boom.shortest_m), boom.longest_m)
        elevation = min(max(elevation, boom.lowest_rad), boom.highest_rad)
        slew = min(max(slew, boom.slew_ravine_rad), boom.slew_road_rad)
        ropes = (
            rope_for_m(line.hoist, max(0.1, tip[2] - lift_off.hooks_m[own.place][2] + SLACK_M), length)
            for line, own in zip(unit.lines, of.lines, strict=True)
        )
        lines = (
            replace(line, rope_out_m=min(rope, line.hoist.usable_rope_m))
            for line, rope in zip(unit.lines, ropes, strict=True)
        )
        start = replace(unit.start, boom_length_m=length, elevation_rad=elevation, slew_rad=slew)
        units.append(replace(unit, start=start, lines=tuple(lines)))
    return units
