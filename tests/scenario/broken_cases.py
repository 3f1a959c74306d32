"""Broken scenarios, one fault a row: what is changed in the small scenario, and what the reader says of it."""

from __future__ import annotations

import datetime
from typing import Any

from tests.scenario.conftest import GONE

TEXT = "text that is not blank, at most 2000 letters, no control characters"
METERS = 'a number in m or text such as "12 ft", -10000 to 10000'
POSITIVE_METERS = 'a number in m or text such as "12 ft", 1e-06 to 10000'
NO_TURNING = "on the same scale: it would turn over"

CASES: dict[str, tuple[dict[str, Any], list[str]]] = {
    # One value.
    "below its range": (
        {"units.0.boom": {"shortest": -3}},
        [f"[units 1.boom] shortest: given -3, allowed: {POSITIVE_METERS}"],
    ),
    "text of another dimension": (
        {"landing.y": "3 kg"},
        [f'[landing] y: given "3 kg", allowed: {METERS}'],
    ),
    "text without a unit": ({"landing.y": "6"}, [f'[landing] y: given "6", allowed: {METERS}']),
    "text out of range after conversion": (
        {"units.1.start.elevation": "100 deg"},
        [
            '[units 2.start] elevation: given "100 deg" (1.74533 rad), allowed: '
            'a number in rad or text such as "35 deg", -0.2 to 1.55'
        ],
    ),
    "a sum to work out": ({"landing.y": "9**9**9 m"}, [f'[landing] y: given "9**9**9 m", allowed: {METERS}']),
    "a comma for a point": ({"landing.y": "5,9 m"}, [f'[landing] y: given "5,9 m", allowed: {METERS}']),
    "not a number": ({"landing.y": float("nan")}, [f"[landing] y: given nan, allowed: {METERS}"]),
    "infinite": (
        {"site.bed": [[-1, 0], [float("inf"), 0]]},
        [f"[site] bed row 2 number 1: given inf, allowed: {METERS}"],
    ),
    "a number past all floats": (
        {"landing.y": 10**400},
        [f"[landing] y: given a very large whole number, allowed: {METERS}"],
    ),
    "true for a number": ({"landing.y": True}, [f"[landing] y: given true, allowed: {METERS}"]),
    "a date for a number": (
        {"landing.y": datetime.date(2020, 1, 31)},
        [f"[landing] y: given the date or time 2020-01-31, allowed: {METERS}"],
    ),
    "a table for a number": ({"landing.y": {"m": 6}}, [f"[landing] y: given a table, allowed: {METERS}"]),
    "a fraction for a whole number": (
        {"engine.steps_per_s": 240.5},
        ["[engine] steps_per_s: given 240.5, allowed: a whole number, 60 to 10000"],
    ),
    "a number for yes or no": (
        {"each_unit.hoist.two_block_override": 1},
        ["[each_unit.hoist] two_block_override: given 1, allowed: true or false"],
    ),
    "a number for text": ({"title": 3}, [f"title: given 3, allowed: {TEXT}"]),
    "blank text": ({"story": " \n"}, [f'story: given "  ", allowed: {TEXT}']),
    "no such choice": (
        {"trailer.attitude": "upside down"},
        ['[trailer] attitude: given "upside down", allowed: "on_wheels", "top_to_ravine" or "top_to_road"'],
    ),
    "not invented": ({"invented": 1}, ["invented: given 1, allowed: true"]),
    "a vector too short": (
        {"trailer.cargo.cg": [0, 0]},
        [f"[trailer.cargo] cg: given a list of 2, allowed: a list of 3, each {METERS}"],
    ),
    # Names.
    "a slip of the pen": (
        {"each_unit.boom.longst": 3},
        ["[each_unit.boom] longst: given a name that is not known, allowed: perhaps longest or lowest"],
    ),
    "the unit still in the name": (
        {"landing.y_m": 6},
        ["[landing] y_m: given a name that is not known, allowed: perhaps y"],
    ),
    "like no name": (
        {"trailer.start.zzz qq": 1},
        ['[trailer.start] "zzz qq": given a name that is not known, allowed: x, y, pitch, yaw or roll'],
    ),
    # Missing and misplaced.
    "missing": (
        {"path.tip_height": GONE},
        ['[path] tip_height: given nothing, allowed: a number in m or text such as "12 ft", 0 to 10000'],
    ),
    "missing at both ends": (
        {"each_unit.boom.shortest": GONE},
        [f"[each_unit.boom] shortest: given nothing, allowed: {POSITIVE_METERS}"],
    ),
    "missing at one end": (
        {"each_unit.boom.shortest": GONE, "units.0.boom": {"shortest": 6}},
        [f"[units 2.boom] shortest: given nothing, allowed: {POSITIVE_METERS}"],
    ),
    "missing table": ({"landing": GONE}, ["landing: given nothing, allowed: a table [landing] with y"]),
    "missing table of both units": (
        {"each_unit.boom": GONE},
        [
            "[each_unit] boom: given nothing, allowed: a table [each_unit.boom] with "
            "shortest, longest, lowest, highest, foot_pin_back and foot_pin_height"
        ],
    ),
    "no units": (
        {"units": GONE},
        ["units: given nothing, allowed: a table [[units]] for each unit, and in [each_unit] what they share"],
    ),
    "text for a table": ({"site.soil": "clay"}, ['[site] soil: given "clay", allowed: a table [site.soil]']),
    "a number for a unit": ({"units.0": 4}, ["[units 1]: given 4, allowed: a table [[units]]"]),
    "a number for a part": ({"trailer.parts.1": 5}, ["[trailer.parts 2]: given 5, allowed: a table"]),
    "shared and overridden": (
        {"each_unit.carrier": -1, "units.0.carrier": 20000, "units.1.carrier": 20000},
        ['[each_unit] carrier: given -1, allowed: a number in kg or text such as "26.5 t", 1e-06 to 1e+06'],
    ),
    # Good alone and wrong together.
    # Site.
    "a vertical face": (
        {"site.section": [[20, 0], [-5, 0], [-5, -10]]},
        [
            "[site] section: given y 20, -5, -5 m, allowed: "
            "at least 2 points from the road to the far bank, y falling at each"
        ],
    ),
    "edge off the section": (
        {"site.edge_y": -30},
        ["[site] edge_y: given -30 m, allowed: -20 to 20 m, inside the section"],
    ),
    "road not at zero": (
        {"site.section": [[20, 1], [-5, 1], [-6, -10]]},
        ["[site] section: given z 1 m at y = 0, allowed: z = 0 at y = 0, where the units stand"],
    ),
    "bed of one point": (
        {"site.bed": [[0, 0]]},
        ["[site] bed: given x 0 m, allowed: at least 2 points, x rising at each"],
    ),
    "a survey of ten thousand points": (
        {"site.section": [[20, 0], [-5, 0], *([-6 - 0.001 * row, -10] for row in range(9998))]},
        ["line 3: given more values than that, allowed: at most 40000 keys, values and signs in a file"],
    ),
    "a survey of four hundred points": (
        {"site.section": [[20, 0], [-5, 0], *([-6 - 0.001 * row, -10] for row in range(398))]},
        [
            "[site] section: given a list of 400, allowed: at most 250 points; of a survey leave out those that lie "
            "nearly on the line of their neighbors, such as all but one in each meter"
        ],
    ),
    "a bed of one point too many": (
        {"site.bed": [[-40 + 0.25 * row, 0] for row in range(251)]},
        [
            "[site] bed: given a list of 251, allowed: at most 250 points; of a survey leave out those that lie nearly "
            "on the line of their neighbors, such as all but one in each meter"
        ],
    ),
    "two hundred parts": (
        {
            "trailer.parts": [
                {
                    "name": f"box {row}",
                    "outline": [[-1, 0], [1, 0], [1, 1], [-1, 1]],
                    "width": 1,
                    "mass": 9,
                    "touches_ground": row == 0,
                }
                for row in range(200)
            ]
        },
        [
            "[trailer] parts: given a list of 200, allowed: at most 100 parts; draw small ones that lie together as "
            "one, such as one box round them"
        ],
    ),
    # Units.
    "boom without travel": (
        {"units.0.boom": {"longest": 5}},
        ["[units 1.boom] longest: given shortest 6 m and longest 5 m, allowed: shortest less than longest"],
    ),
    "elevation without travel": (
        {"each_unit.boom.lowest": 1.2},
        [
            "[each_unit.boom] lowest: given lowest 1.2 rad (68.75 deg) and highest 1 rad (57.3 deg), "
            "allowed: lowest less than highest"
        ],
    ),
    "slew that cannot stand over the tailboard": (
        {"each_unit.boom.slew_road": -0.5},
        [
            "[each_unit.boom] slew_road: given slew_ravine -1.745 rad (-100 deg) and slew_road -0.5 rad (-28.65 deg), "
            "allowed: slew_ravine at most 0, slew_road at least 0 (over the tailboard), not both 0"
        ],
    ),
    "a counterweight on a long stick": (
        {"each_unit.superstructure_cg": 3},
        [
            "[each_unit] superstructure_cg: given superstructure_cg 3 m and tail_swing 2.3 m, "
            "allowed: superstructure_cg at most tail_swing: within what slews"
        ],
    ),
    "foot pin off the carrier": (
        {"each_unit.boom.foot_pin_back": 9},
        [
            "[each_unit.boom] foot_pin_back: given foot_pin_back 9 m and cab_front 7.6 m, "
            "allowed: foot_pin_back at most cab_front: on the carrier"
        ],
    ),
    "floats in a line across": (
        {"each_unit.floats.across": 0.01},
        ["[each_unit.floats] across: given 0.01 m, allowed: at least 0.05 m: the floats stand in a line"],
    ),
    "floats in a line along": (
        {"each_unit.floats.toward_tailboard": 0.01, "each_unit.floats.toward_cab": 0.02},
        [
            "[each_unit.floats] toward_tailboard: given toward_tailboard 0.01 m and toward_cab 0.02 m, "
            "allowed: at least 0.1 m together: the floats stand in a line"
        ],
    ),
    "carrier's CG beyond the floats": (
        {"units.1.carrier_cg": 5},
        ["[units 2] carrier_cg: given carrier_cg 5 m, allowed: between the floats, -3 to 4 m"],
    ),
    "tailboards overlap": (
        {"units.1.slew_axis_x": -4},
        ["[units 2] slew_axis_x: given -4 m, allowed: more than -3 m: the tailboards overlap"],
    ),
    # Rating tables.
    "a row missing": (
        {"each_unit.rating.rated": [[9000, 9000, 8000], [0, 6000, 6000]]},
        ["[each_unit.rating] rated: given 2 rows for 3 radii, allowed: one row a radius"],
    ),
    "a number missing": (
        {"each_unit.rating.rated": [[9000, 9000, 8000], [0, 6000], [0, 0, 3000]]},
        ["[each_unit.rating] rated: given 2 numbers in row 2 for 3 boom lengths, allowed: one number a boom length"],
    ),
    "rising with radius": (
        {"each_unit.rating.rated": [[9000, 9000, 8000], [0, 6000, 8500], [0, 0, 3000]]},
        [
            "[each_unit.rating] rated: given 8500 kg at 8 m with 14 m of boom, "
            "allowed: at most 8000 kg, as at the radius before: no rise in a column"
        ],
    ),
    "a hole in a row": (
        {"each_unit.rating.rated": [[9000, 9000, 8000], [7000, 6000, 0], [0, 0, 0]]},
        [
            "[each_unit.rating] rated: given 0 kg at 8 m right of a rated load, "
            "allowed: more than 0: a longer boom reaches too"
        ],
    ),
    "radii that do not rise": (
        {"each_unit.rating.radii": [4, 4, 12]},
        ["[each_unit.rating] radii: given 4, 4, 12 m, allowed: each larger than the one before"],
    ),
    "no column for the longest boom": (
        {"each_unit.rating.boom_lengths": [6, 10, 12]},
        [
            "[each_unit.rating] boom_lengths: given lengths up to 12 m for a boom of up to 14 m, "
            "allowed: a column for the longest boom"
        ],
    ),
    # Trailer.
    "no parts": ({"trailer.parts": []}, ["[trailer] parts: given a list of 0, allowed: at least 1 part"]),
    "two parts of one name": (
        {"trailer.parts.1.name": "box"},
        ["[trailer] parts: given 2 parts named box, allowed: a name of its own for each part"],
    ),
    "corners out of order": (
        {"trailer.parts.1.outline": [[3, 0], [5, 1], [5, 0], [3, 1]]},
        [
            "[trailer.parts 2] outline: given 4 corners that are not in order round a convex outline, "
            "allowed: at least 3 different (x, z) corners, in order round a convex outline"
        ],
    ),
    "no corners, lying": (
        {"trailer.parts.1.outline": [], "trailer.attitude": "top_to_road"},
        [
            "[trailer.parts 2] outline: given 0 corners that are not in order round a convex outline, "
            "allowed: at least 3 different (x, z) corners, in order round a convex outline"
        ],
    ),
    "picks changed round": (
        {"trailer.picks.0.at": [6, 0, 3]},
        [
            "[trailer.picks 1] at: given x 6 m, allowed: x less than the tail unit's pick, 5 m",
            "[trailer.cargo] cg: given stated CG at x 0 m, allowed: between the picks, x 5 to 6 m",
        ],
    ),
    "CG beyond a pick": (
        {"trailer.cargo.cg": [-7, 0, 2]},
        ["[trailer.cargo] cg: given stated CG at x -6.3 m, allowed: between the picks, x -5 to 5 m"],
    ),
    "hidden CG beyond a pick": (
        {"trailer.hidden_cg": [6, 0, 0]},
        ["[trailer] hidden_cg: given CG with its hidden offset at x 6 m, allowed: between the picks, x -5 to 5 m"],
    ),
    # Stated CG 0.9 * 4 + 0.1 * 2 = 3.8 m over the wheels; the single point is its own hook line.
    "CG above a single point": (
        {"trailer.picks.0.pivot": "single_point", "trailer.cargo.cg": [0, 0, 4]},
        [
            "[trailer.cargo] cg: given stated CG 3.8 m high as it lies, "
            f"allowed: below the nose hook line, 3 m {NO_TURNING}"
        ],
    ),
    # On its side with the top to the ravine, its own y points up: CG 0.9 * 3 = 2.7 m, bridle 2.3 m over a pick at 0.
    "CG above the hook line on its side": (
        {"trailer.attitude": "top_to_ravine", "trailer.cargo.cg": [0, 3, 2]},
        [
            "[trailer.cargo] cg: given stated CG 2.7 m high as it lies, "
            f"allowed: below the {end} hook line, 2.3 m {NO_TURNING}"
            for end in ("nose", "tail")
        ],
    ),
    "no weight": (
        {"trailer.cargo.mass": 0, "trailer.parts.0.mass": 0},
        ["[trailer] parts: given no mass at all, allowed: a mass for some part or the cargo"],
    ),
    # Start, landing, limits, engine.
    "start beyond the boom's travel": (
        {"units.0.start.boom_length": 15},
        ["[units 1.start] boom_length: given 15 m, allowed: 6 m to 14 m, the travel in [units 1.boom]"],
    ),
    # The line's length is (R - L - R_0) / n, so R must be more than 10 + 2 m.
    "no rope over the sheave": (
        {"units.1.lines.0.rope_out": 12},
        [
            "[units 2.lines 1] rope_out: given 12 m, allowed: "
            "more than boom_length and to_boom_foot, 12 m, and at most usable_rope, 66 m"
        ],
    ),
    # Pads end at 3 + 0.375, then 0.3 m and half of 2 m; the lane begins at 10, less 1 m and half of 2 m.
    "landing on the pads": (
        {"landing.y": 2},
        ["[landing] y: given 2 m, allowed: 4.67 to 8.00 m, clear of the pads and of the live lane"],
    ),
    "no room to land": (
        {"site.live_lane_y": 5},
        ["[landing] y: given 1.62 m from pads to live lane, allowed: at least 3.30 m for this trailer"],
    ),
    "a flat trailer without its deck": (
        {"landing.flat": {"length": 9, "width": 2.4}},
        ['[landing.flat] deck_height: given nothing, allowed: a number in m or text such as "0.9 m", 0.2 to 2'],
    ),
    "a deck as high as a wall": (
        {"landing.flat": {"deck_height": 3, "length": 9, "width": 2.4}},
        ['[landing.flat] deck_height: given 3, allowed: a number in m or text such as "0.9 m", 0.2 to 2'],
    ),
    "no such way out": (
        {"landing.flat": {"deck_height": 0.9, "length": 9, "width": 2.4, "leaves": "left"}},
        ['[landing.flat] leaves: given "left", allowed: "nose" or "tail"'],
    ),
    # Half of 2.4 m from the edge at -5.
    "a flat trailer in the ravine": (
        {"landing.flat": {"deck_height": 0.9, "length": 9, "width": 2.4, "y": -9}},
        ["[landing.flat] y: given -9 m, its side at -10.20 m, allowed: at least -3.80 m, all of it on the road"],
    ),
    "a flat trailer on a bank": (
        {
            "site.section": [[20, 3], [7, 0], [-5, 0], [-6, -10], [-20, -10]],
            "landing.flat": {"deck_height": 0.9, "length": 9, "width": 2.4},
        },
        [
            "[landing] y: given 6 m, where the section is +0.05 m high, allowed: "
            "a place where the road is level, z = 0, under all of it"
        ],
    ),
    "stop before caution": (
        {"limits.head_room_stop": 2},
        [
            "[limits] head_room_stop: given head_room_stop 2 and head_room_caution 1.5, "
            "allowed: head_room_stop at most head_room_caution"
        ],
    ),
    "readings between steps": (
        {"engine.readings_per_s": 50},
        ["[engine] readings_per_s: given 50, allowed: a whole part of steps_per_s, 240"],
    ),
}
"""Edits of the small scenario, and its faults."""
