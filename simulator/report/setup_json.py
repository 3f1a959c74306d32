"""A set-up check as plain values for JSON: SI throughout, units at the ends of the names."""

from __future__ import annotations

from math import isfinite
from typing import Any

from simulator.plan.findings import Finding
from simulator.plan.room_rules import is_far
from simulator.plan.setup_check import SetupCheck, StationCheck
from simulator.report.amounts import Amounts
from simulator.scenario.description import Limits

FLOAT_ORDER = ("tailboard_road", "tailboard_ravine", "cab_road", "cab_ravine")


def setup_json(check: SetupCheck, caution: str) -> dict[str, Any]:
    """Everything of a check."""
    return {
        "title": check.description.title,
        "works": check.works,
        "refused_for": list(check.refused_for),
        "notes": list(check.notes),
        "weight_N": check.load.weight_N,
        "hung_roll_rad": check.load.roll_rad,
        "findings": [_finding(one) for one in check.findings],
        "stations": [_station(one, check.description.limits) for one in check.stations],
        "caution": caution,
    }


def finite(value: float | None) -> float | None:
    """JSON has no infinity: nothing instead."""
    return value if value is not None and isfinite(value) else None


def _finding(one: Finding) -> dict[str, Any]:
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
        "unit": "1" if reading.kind == "share" else reading.kind,
        "rising": reading.rising,
        "about": reading.what,
        "where": one.where,
        "y_m": one.y_m,
        "stations_past_stop": list(one.stops),
        "stations_at_caution": list(one.cautions),
        "change": Amounts().sentence(reading.change) if reading.change and one.level != "good" else "",
    }


def _station(one: StationCheck, limits: Limits) -> dict[str, Any]:
    station = one.station
    return {
        "name": station.name,
        "phase": station.phase,
        "y_m": station.y_m,
        "pose": dict(zip(station.pose._fields, station.pose, strict=True)),
        "nose": _unit(one, 0),
        "tail": _unit(one, 1),
        "gaps": _gaps(one, limits),
        "height_missing_m": one.head_room.missing_m if one.head_room else None,
        "head_room_short_m": one.head_room.short_m if one.head_room else None,
    }


def _unit(at: StationCheck, end: int) -> dict[str, Any]:
    stand = at.units[end]
    line, capacity, floats = stand.line, stand.capacity, stand.floats
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
        "reach_m": stand.reach_m,
        "share": stand.share,
        "line_load_N": line.load_N,
        "off_plumb_rad": line.off_plumb_rad,
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
