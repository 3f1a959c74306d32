"""A set-up check as plain values for JSON: SI throughout, units at the ends of the names."""

from __future__ import annotations

from math import isfinite
from typing import Any

from simulator.plan.findings import Finding, Verdict
from simulator.plan.judged_station import StationCheck
from simulator.plan.room_rules import is_far
from simulator.plan.setup_check import SetupCheck
from simulator.plan.unit_stand import Line
from simulator.report.amounts import Amounts
from simulator.report.plan.exit_lines import exit_json
from simulator.report.plan.turn_lines import turn_json
from simulator.scenario.description import Limits

VERDICTS: dict[Verdict, str] = {
    "limit passed": "a stated limit is passed",
    "not judged": "not judged",
    "no limit passed": "no stated limit is passed, by these assumptions",
}
FLOAT_ORDER = ("tailboard_road", "tailboard_ravine", "cab_road", "cab_ravine")


def setup_json(check: SetupCheck, caution: str) -> dict[str, Any]:
    """Everything of a check."""
    return {
        "title": check.description.title,
        "verdict": VERDICTS[check.verdict],
        "refused_for": list(check.refused_for),
        "cautioned_for": list(check.cautioned_for),
        "not_judged": [one._asdict() for one in check.not_judged],
        "assumptions": list(check.assumptions),
        "weight_N": check.load.weight_N,
        "hung_roll_rad": check.load.roll_rad,
        "findings": [finding_json(one) for one in check.findings],
        "stations": [_station(check, one) for one in check.stations],
        "turn": turn_json(check.turn, check.description, check.load.weight_N),
        "exit_plan": exit_json(check.exit_plan),
        "caution": caution,
    }


def finite(value: float | None) -> float | None:
    """JSON has no infinity: nothing instead."""
    return value if value is not None and isfinite(value) else None


def finding_json(one: Finding) -> dict[str, Any]:
    """One finding."""
    reading = one.reading
    return {
        "code": reading.code,
        "who": reading.who,
        "name": reading.name,
        "level": one.level,
        "value": finite(reading.value),
        "at_least": reading.is_at_least,
        "caution": finite(reading.caution),
        "stop": finite(reading.stop),
        "room_left": finite(reading.margin),
        "unit": "1" if reading.kind in ("share", "times") else reading.kind,
        "rising": reading.rising,
        "about": reading.what,
        "where": one.where,
        "y_m": one.y_m,
        "stations_past_stop": list(one.stops),
        "stations_at_caution": list(one.cautions),
        "change": Amounts().sentence(reading.change) if reading.change and one.level != "good" else "",
    }


def _station(check: SetupCheck, one: StationCheck) -> dict[str, Any]:
    station, limits = one.station, check.description.limits
    units = zip(check.description.units, range(len(one.units)), strict=True)
    return {
        "name": station.name,
        "phase": station.phase,
        "y_m": station.y_m,
        "pose": dict(zip(station.pose._fields, station.pose, strict=True)),
        **{unit.name: _unit(one, end) for unit, end in units},
        "gaps": _gaps(one, limits),
        "height_missing_m": one.head_room.missing_m if one.head_room else None,
        "head_room_short_m": one.head_room.short_m if one.head_room else None,
    }


def _unit(at: StationCheck, end: int) -> dict[str, Any]:
    stand = at.units[end]
    capacity, floats = stand.capacity, stand.floats
    return {
        "boom_length_m": stand.pose.length_m,
        "elevation_rad": stand.pose.elevation_rad,
        "slew_rad": stand.pose.slew_rad,
        "other_solution": dict(
            zip(stand.pose._fields, stand.choice.solutions[1 - stand.choice.kept].pose, strict=True)
        ),
        "kept_because": stand.choice.why,
        "within_travel": stand.choice.within,
        "past_travel": [
            {"what": one.what, "needed": one.needed, "end": one.end} for one in stand.choice.ends if one.past
        ],
        "tip_m": list(at.station.tips_m[end]),
        "lean_m": stand.lean_m,
        "reach_m": stand.reach_m,
        "share": stand.share,
        "line_load_N": stand.pull.load_N,
        "off_plumb_rad": stand.pull.off_plumb_rad,
        "side_pull_rad": stand.side_pull_rad,
        "load_radius_m": capacity.load_radius_m,
        "rated_N": finite(capacity.rated_N),
        "by_tipping_N": finite(capacity.by_tipping_N),
        "capacity_used": finite(capacity.used),
        "of_tipping": finite(capacity.of_tipping),
        "floats_N": dict(zip(FLOAT_ORDER, floats.reactions_N, strict=True)),
        "lightest_float": FLOAT_ORDER[floats.lightest],
        "lightest_share": floats.lightest_share,
        "tipping": floats.tips,
        "bearing_used": floats.bearing_used,
        "head_room_m": min(line.head_room_m for line in stand.lines),
        "rope_out_m": max(line.rope_out_m for line in stand.lines),
        "rope_left_m": min(line.rope_left_m for line in stand.lines),
        "stall_used": finite(max(line.stall_used for line in stand.lines)),
        "lines": [_line(line) for line in stand.lines],
    }


def _line(line: Line) -> dict[str, Any]:
    return {
        "name": line.name,
        "line_load_N": line.load_N,
        "off_plumb_rad": line.off_plumb_rad,
        "head_room_m": line.head_room_m,
        "rope_out_m": line.rope_out_m,
        "rope_left_m": line.rope_left_m,
        "stall_used": finite(line.stall_used),
    }


def _gaps(one: StationCheck, limits: Limits) -> dict[str, Any] | None:
    room = one.room
    if room is None:
        return None
    return {
        "parts": [{"part": p.part, "gap_m": finite(p.gap_m), "over": p.meets, "state": p.state} for p in room.parts],
        "booms": [
            {"part": b.part, "distance_m": finite(b.distance_m), "to": b.meets, "at_least": b.at_least}
            for b in room.booms
        ],
        "beside": [
            {
                "part": p.part,
                "beside": p.meets,
                "distance_m": p.distance_m,
                "over_m": p.over_m,
                "at_least": is_far(p, limits),
            }
            for p in room.passing
        ],
        "ground": {"part": room.ground.part, "gap_m": room.ground.gap_m, "over": room.ground.meets},
        "lane_m": room.lane.trailer_m,
        "overhead": [{"what": o.what, "distance_m": o.distance_m, "required_m": o.required_m} for o in room.overhead],
    }
