"""Every threshold of a plan and of the readouts in one table, with where it comes from: what docs/thresholds.md shows.

Marks as for hardware: T read in the published text, R read in a secondary copy, M from memory, P common practice, no
source. Numbers are taken from where they stand in the program, so the table cannot say another.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from math import degrees
from typing import Any, NamedTuple

from simulator.mechanics.allowances import DYNAMIC_MARGIN, HANDS_LEAN_RAD, HANDS_TAKE_M, SLACK_M
from simulator.mechanics.bearing import LEAST_SET_BACK_M
from simulator.mechanics.drum import LEAST_BEND
from simulator.mechanics.rating import TIPPING_SHARE
from simulator.mechanics.rigging import (
    GRADE_SHARE,
    LOWEST_LEG_RAD,
    ROPE_FACTOR,
    ROTATION_RESISTANT_FACTOR,
    WIDEST_BOW_RAD,
)
from simulator.mechanics.wind import GUST_OVERSHOOT, PROFILE_POWER
from simulator.plan import lying_rules, rising_rules
from simulator.plan.flat_rules import HEIGHT_CAUTION_M, PAYLOAD_CAUTION
from simulator.plan.site_rules import TABLE_ENDS_M
from simulator.plan.unit_rules import FUNCTIONS, STALL_CAUTION
from simulator.scenario.description import Landing, Limits
from simulator.scenario.hardware import Mark
from simulator.scenario.judged_limits import GROUND_CAUTION, YAW_CAUTION_RAD, YAW_STOP_RAD
from simulator.scenario.site import SOILS, Site, Wind
from simulator.scenario.unit import Hoist, Rating

PRACTICE = "common practice"


class Row(NamedTuple):
    """One threshold."""

    what: str
    caution: str
    stop: str
    mark: Mark
    source: str
    where: str
    """What a scenario file calls it; empty where it is fixed."""


def rows() -> Iterator[tuple[str, tuple[Row, ...]]]:
    """The table, by sections; defaults, which a scenario file may change where it has a name for them."""
    limits = Limits()
    yield "Allowances of a plan", tuple(_allowances())
    yield "Lines and load", (*_lines(limits), *_load(limits))
    yield "Units", tuple(_units(limits))
    yield "Rigging and rope", tuple(_rigging())
    yield "A flat trailer that waits for the load", tuple(_flat(limits))
    yield "Site", (*_wind(limits), *_ground(), *_traffic(limits))


def _default(table: type, field: str) -> Any:
    """What a scenario file that leaves this out gets."""
    return next(one.default for one in fields(table) if one.name == field)


def _deg(value_rad: float) -> str:
    return f"{degrees(value_rad):.3g} deg"


def _share(value: float) -> str:
    return f"{100.0 * value:.3g} %"


def _allowances() -> Iterator[Row]:
    """What every limit of a plan is held against with, and why; all from `mechanics.allowances`."""
    found = (
        (
            "pull counted for dynamics",
            _share(DYNAMIC_MARGIN),
            "1 + 2 a / g of a start; ISO 8686 HC2 begins at 110 %, M",
        ),
        ("gaps, head room, landing place: hands take", f"{HANDS_TAKE_M:g} m", "sway, one end ahead of the other"),
        ("off plumb: hands lean, beside wind", _deg(HANDS_LEAN_RAD), "tips that are steered"),
        ("rope left: slack in each part of line", f"{SLACK_M:g} m", "lines at time zero"),
    )
    for what, amount, why in found:
        source = f"measured by this simulator with able operators (docs/verdict-tables.md); {why}"
        yield Row(what, "", amount, "P", source, "")


def _lines(limits: Limits) -> Iterator[Row]:
    source = "half of the caution"
    yield Row("counts as plumb, within", _deg(limits.plumb_rad), "", "P", source, "limits.plumb")
    pair = _deg(limits.off_plumb_caution_rad), _deg(limits.off_plumb_stop_rad)
    source = "a boom's side pull is usually allowed near 3 % of the load; the maker's figure goes before"
    yield Row("off plumb, mean over a sway", *pair, "P", source, "limits.off_plumb_caution, off_plumb_stop")
    pair = f"{limits.head_room_caution_m:g} m", f"{limits.head_room_stop_m:g} m"
    yield Row("head room under", *pair, "P", PRACTICE, "limits.head_room_caution, head_room_stop")
    pair = f"{limits.rope_left_caution_m:g} m", f"{limits.rope_left_stop_m:g} m"
    yield Row("rope left under", *pair, "P", PRACTICE, "limits.rope_left_caution, rope_left_stop")
    yield Row("a line is slack under", f"{limits.slack_N:.0f} N", "", "P", PRACTICE, "limits.slack")


def _load(limits: Limits) -> Iterator[Row]:
    pair = _deg(limits.pitch_caution_rad), _deg(limits.pitch_stop_rad)
    yield Row("pitch, and roll it hangs with", *pair, "P", PRACTICE, "limits.pitch_caution, pitch_stop")
    pair = _deg(YAW_CAUTION_RAD), _deg(YAW_STOP_RAD)
    yield Row("yaw; of a plan by wind and gusts", *pair, "P", "our choice, no source", "")
    pair = f"{limits.sway_caution_m:g} m", f"{limits.sway_stop_m:g} m"
    source = "no more than what counts as close: a gap that clears has to clear with the sway that is let pass"
    yield Row("sway", *pair, "P", source, "limits.sway_caution, sway_stop")
    pair = f"{limits.gap_close_m:g} m", f"{HANDS_TAKE_M:g} m in a plan"
    yield Row("gap over decks, to ground, to units under", *pair, "P", PRACTICE, "limits.gap_close")
    whole = f"{limits.gap_close_m:g} m"
    yield Row("room beside units where it lies, in a plan", "", whole, "P", PRACTICE, "limits.gap_close")
    yield Row("room at the landing place, beside off_pads", *pair, "P", PRACTICE, "landing.y, landing.off_pads")
    soft = f"{_default(Site, 'light_contact_mps'):g} m/s"
    yield Row("ground contact faster than", "", soft, "P", PRACTICE, "site.light_contact")
    pair = f"{lying_rules.CAUTION:.2f} of friction", f"{lying_rules.STOP:.2f} of friction"
    yield Row("lies on its slope by friction, needs", *pair, "P", "1.5 and 1.2 against sliding", "")
    pair = _deg(lying_rules.TURNS_CAUTION_RAD), _deg(lying_rules.TURNS_STOP_RAD)
    yield Row("turns from where it is stated to lie", *pair, "P", PRACTICE, "trailer.start")
    pair = _deg(lying_rules.ROLLS_CAUTION_RAD), _deg(lying_rules.ROLLS_STOP_RAD)
    yield Row("rolls as it is lifted, from how it lies", *pair, "P", "our choice, no source", "trailer.attitude")
    pair = f"{rising_rules.RISES_CAUTION:g} of path.hold_height", f"{rising_rules.RISES_STOP:g} of path.hold_height"
    yield Row("gap to ground as wind takes it while it rises", *pair, "P", "our choice, no source", "site.wind")


def _flat(limits: Limits) -> Iterator[Row]:
    """All beside what a scenario allows: overhang, distances from pads and live lane, payload, height."""
    pair = f"{max(HANDS_TAKE_M, limits.gap_close_m):g} m", f"{HANDS_TAKE_M:g} m"
    where = "landing.flat.side_overhang, end_overhang"
    yield Row("room on its deck, beside the overhang allowed", *pair, "P", PRACTICE, where)
    yield Row("center of gravity inside what bears, room on its way out", *pair, "P", PRACTICE, "landing.flat")
    yield Row("room where it stands, beside off_pads and off_lane", pair[1], "0 m", "P", PRACTICE, "landing.flat.y")
    pair = _share(PAYLOAD_CAUTION), _share(1.0)
    yield Row("payload used", *pair, "P", PRACTICE, "landing.flat.payload")
    pair = f"{HEIGHT_CAUTION_M:g} m under", "its limit"
    yield Row("loaded height", *pair, "P", PRACTICE, "landing.flat.height_limit")


def _units(limits: Limits) -> Iterator[Row]:
    pair = _share(limits.capacity_caution), _share(limits.capacity_stop)
    yield Row("capacity used, by the rating table", *pair, "P", PRACTICE, "limits.capacity_caution, capacity_stop")
    source = "29 CFR 1910.180(c)(1) for truck cranes with or without outriggers; SAE J765"
    yield Row("share of the tipping load", "", _share(TIPPING_SHARE), "R", source, "rating.tipping_share")
    source = "practice of SAE J765 and ASME B30.5; 29 CFR 1910.180 says 85 %. Not used: these units stand on floats"
    yield Row("the same, truck-mounted without outriggers", "", "75 %", "M", source, "")
    tandem = _share(float(_default(Rating, "tandem_share")))
    yield Row(
        "capacity used in a lift by two", tandem, "", "M", "ASME P30.1, BS 7121-3 practice", "rating.tandem_share"
    )
    light = limits.light_float_share
    pair = _share(limits.float_caution_factor * light), _share(light)
    yield Row("plan: lightest float under, of resting", *pair, "P", PRACTICE, "limits.light_float_share")
    pair = pair[0], _share(limits.float_stop_factor * light)
    yield Row("lift: lightest float under, of resting", *pair, "P", PRACTICE, "limits.float_stop_factor")
    yield Row("ground bearing used", _share(GROUND_CAUTION), "100 %", "P", PRACTICE, "")
    source = "29 CFR 1926.1417(s): brake test from 90 % of the line pull"
    yield Row("winch pull used", _share(STALL_CAUTION), "100 %", "T", source, "")
    for (_, name, _), keys in zip(FUNCTIONS, ("raise_relief", "telescope_relief", "slew_hold"), strict=True):
        yield Row(name, _share(STALL_CAUTION), "100 %", "P", PRACTICE, f"each_unit.boom.{keys}")


def _rigging() -> Iterator[Row]:
    grades = ", ".join(f"{mark} {_share(share)}" for mark, share in GRADE_SHARE.items())
    yield Row("counted on, by mark", "", grades, "P", "our choice; S is stated in the scenario", "")
    yield Row("rope: breaking strength over pull", "", f"{ROPE_FACTOR:g}", "M", "ASME B30.5", "hoist.rope_breaking")
    source = "29 CFR 1926.1414(e)(2)"
    yield Row(
        "the same, rotation-resistant",
        "",
        f"{ROTATION_RESISTANT_FACTOR:g}",
        "T",
        source,
        "hoist.rope_is_rotation_resistant",
    )
    yield Row(
        "drum or sheave over rope", "", f"{LEAST_BEND:g}", "M", "ASME B30.5", "hoist.drum_diameter, sheave_diameter"
    )
    wraps = f"{_default(Hoist, 'wraps_to_stay')}"
    yield Row("wraps on the drum", "", wraps, "T", "29 CFR 1926.1417(t); some makers ask for 5", "hoist.wraps_to_stay")
    yield Row("legs from horizontal under", "", _deg(LOWEST_LEG_RAD), "R", "ASME B30.9", "")
    yield Row("two legs in one bow, angle over", "", _deg(WIDEST_BOW_RAD), "R", "several reprints", "")
    limits = Limits()
    pair = f"{limits.hook_off_caution_m:g} m", f"{limits.hook_off_stop_m:g} m"
    where = "limits.hook_off_caution, hook_off_stop"
    yield Row("hook of a sling round the load, off the load by under", *pair, "P", PRACTICE, where)


def _wind(limits: Limits) -> Iterator[Row]:
    pair = f"{limits.wind_caution_mps:g} m/s", f"{limits.wind_stop_mps:g} m/s"
    source = "caution common practice; stop the light in-service wind of ISO 4302. A maker's limit goes before"
    where = "unit.wind_caution, wind_stop; limits.wind_caution, wind_stop"
    yield Row("gust at the boom tip", *pair, "M", source, where)
    source = "suddenly applied load, machine-design texts"
    yield Row("what a gust adds to the mean wind counts", "", f"{GUST_OVERSHOOT:g} times", "R", source, "")
    measured = _default(Wind, "measured_height_m")
    source = f"power law, exponent {PROFILE_POWER:.3g}, ASCE 7; measured at {measured:g} m, WMO"
    yield Row("wind grows with height", "", "to the tip", "M", source, "wind.measured_height")


def _ground() -> Iterator[Row]:
    source = "29 CFR 1926.651(j)(2)"
    yield Row("pad behind the slope's edge under", "", f"{LEAST_SET_BACK_M:.2f} m", "R", source, "")
    for name, soil in SOILS.items():
        figures = f"{soil['allowable_bearing'] / 1000.0:g} kPa; {_deg(soil['steepest_angle'])}"
        source = "IBC 2012 Table 1806.2; 29 CFR 1926 Subpart P App. B"
        if name == "fill":
            source = "Chicago code 13-132-060; 29 CFR 1926 Subpart P App. B"
        yield Row(f"{name}: bearing; steepest line from the toe", "", figures, "R", source, "site.soil")
    source = "29 CFR 1926 Subpart P App. B, Table B-1: beyond it an engineer decides"
    yield Row("table of slopes ends at", "", f"{TABLE_ENDS_M:.1f} m (20 ft)", "R", source, "soil.face_judged_by")
    source = "App. B (c)(3) has no figure for a load on top: an engineer decides"
    yield Row("pad nearer to the edge than the slope is deep", "", "not judged", "R", source, "soil.face_judged_by")


def _traffic(limits: Limits) -> Iterator[Row]:
    pair = f"{limits.lane_caution_m:g} m", f"{limits.lane_stop_m:g} m"
    yield Row("room to the live lane under", *pair, "P", PRACTICE, "limits.lane_caution, lane_stop")
    off = f"{_default(Landing, 'off_lane_m'):g} m"
    yield Row("landed off the live lane by", "", off, "P", PRACTICE, "landing.off_lane")
    source = (
        "29 CFR 1926.1408, Table A, as good practice: it leaves out wreckers at a wreck (1926.1400(c), from memory)"
    )
    yield Row("distance to an overhead line", "by voltage", "by voltage", "T", source, "site.overhead_line")


HEAD = """# Thresholds

Training and rehearsal aid: a lift is planned by qualified people, from the makers' charts and local codes. Where they
and this table differ, they hold.

Made from the program (`python tools/thresholds.py`) and held to it by `tests/plan/test_thresholds.py`. These are the
defaults; a scenario file may state others under the names in the last column. Confirmed: T read in the published text,
R read in a secondary copy, M from memory, P common practice, no source.
"""


def page() -> str:
    """The table as Markdown."""
    lines = [HEAD]
    for section, found in rows():
        lines += [f"## {section}", "", "| what | caution | stop | confirmed | source | in a scenario file |"]
        lines += ["| --- | --- | --- | --- | --- | --- |"]
        lines += [f"| {' | '.join(str(cell) for cell in row)} |" for row in found]
        lines.append("")
    return "\n".join(lines)
