"""The text of a first scenario, with a word on every number: measured or assumed."""

from __future__ import annotations

from simulator.plan.draft_numbers import (
    AXLES_AT,
    AXLES_HIGH_SHARE,
    BLOCK_AND_STOP_M,
    FLOOR_SHARE,
    HEAD_ROOM_M,
    LEGS_AT,
    OVER_DECK_M,
    Body,
    StartPose,
)
from simulator.plan.questions import PLAIN_UNITS, SOILS, Answer, System
from simulator.scenario.measures import parse

LINES = """\
# INVENTED OR UNPROVEN DATA. Made from tape-measure numbers; every line marked `assumed` is a stand-in that somebody
# has to measure or look up. For training and rehearsal only: a real lift is planned by qualified people, from the
# makers' charts and local codes. Plain numbers are SI; text may carry its unit: "43 ft", "24 t", "35 deg".

title = {title}
story = "Invented or unproven numbers. A first draft from tape-measure numbers: check it, correct it, then rehearse."
difficulty = 2
seed = 1
invented = true

[site]
# (y, z): road, edge ({w_edge_out}), toe ({w_face_run}) at its depth ({w_depth}), far side (assumed level)
section = [[30, 0], [-{edge_out}, 0], [-{toe}, -{depth}], [-{far}, -{depth}]]
edge_y = -{edge_out}
nose_seen_from_ravine = "{nose_side}"  # {w_nose_side}
live_lane_y = {lane_out}  # {w_lane_out}
settle = 6  # assumed

[site.soil]  # {w_ground}: {soil_source}
name = "{ground}"
allowable_bearing = {bearing}
steepest_angle = {steepest}

# What the units share. Masses are split as in an invented 38 t unit; carrier CG and floats along it are assumed.
[each_unit]
tailboard = 3.6  # assumed: slew axis to tailboard
deck_height = {deck_height}  # {w_deck_height}
carrier = {carrier}  # {w_unit_weight} weight of the unit, assumed split
carrier_cg = 3.0  # assumed
superstructure = {superstructure}
superstructure_cg = 1.7  # assumed
boom_mass = {boom_mass}

# No rating table: only 85 % of tipping is judged. Put in the maker's [each_unit.rating] before believing any capacity.
[each_unit.boom]
shortest = {boom_shortest}  # {w_boom_shortest}
longest = {boom_longest}  # {w_boom_longest}
lowest = 0.0  # assumed
highest = {boom_highest}  # {w_boom_highest}
foot_pin_back = 1.2  # assumed
foot_pin_height = 2.6  # assumed

[each_unit.hoist]
parts = {parts}  # {w_parts}
usable_rope = {rope}  # {w_rope}
to_boom_foot = 2.0  # assumed
block = 300.0  # assumed
block_and_stop = {block_and_stop}  # assumed

[each_unit.floats]
toward_tailboard = 2.8  # assumed
toward_cab = 4.2  # assumed
across = {half_spread}  # {w_float_spread} float to float
pad_side = {pad_side}  # {w_pad_side}

# Where they stand, and where boom and line are at time zero.
[[units]]
name = "nose"
slew_axis_x = -{axis}  # {w_gap} gap between the tailboards

{start_nose}

[[units]]
name = "tail"
slew_axis_x = {axis}

{start_tail}

[trailer]
attitude = "{attitude}"  # {w_attitude}

[[trailer.picks]]
name = "nose"
at = [{nose_x}, {pick_y}, {pick_z}]  # {w_nose_pick} along; assumed in line with the center of gravity
height = {rigging_height}  # {w_rigging_height}
rigging = 200.0  # assumed
kind = "two-leg bridle across"  # assumed

[[trailer.picks]]
name = "tail"
at = [{tail_x}, {pick_y}, {pick_z}]  # {w_tail_pick} along
height = {rigging_height}
rigging = 200.0  # assumed
kind = "two-leg bridle across"

# The load takes what is left of {w_weight} weight and puts the center of gravity where it is {w_cg_from_front}.
[trailer.cargo]
mass = {cargo}
cg = [{cargo_x}, 0.0, {cargo_z}]
size = [{cargo_long}, {cargo_wide}, {cargo_high}]

[[trailer.parts]]  # {w_length} length, {w_width} width, {w_height} height
name = "box"
drawn_as = "box"
outline = [[-{half}, {floor}], [{half}, {floor}], [{half}, {height}], [-{half}, {height}]]
width = {width}
mass = {shell}

[[trailer.parts]]  # assumed
name = "landing legs"
drawn_as = "legs"
outline = [[{legs_from}, 0.0], [{legs_to}, 0.0], [{legs_to}, {floor}], [{legs_from}, {floor}]]
width = {legs_wide}
mass = {legs}

[[trailer.parts]]  # assumed
name = "axle group"
drawn_as = "wheels"
outline = [[{axles_from}, 0.0], [{axles_to}, 0.0], [{axles_to}, {axles_high}], [{axles_from}, {axles_high}]]
width = {width}
mass = {axles}

# Where it lies at time zero.
[trailer.start]
x = {cg_x}
y = {start_y}  # {w_trailer_out}
pitch = {start_pitch}
roll = {start_roll}  # worked out: as the slope lies under it

[path]  # assumed: lowest point 0.45 m over the decks, tips high enough for 1.6 m of head room
belly_over_road = {belly}
tip_height = {tip}

[landing]
y = {landing}  # assumed: as near to the pads as is allowed
"""


def scenario_text(
    numbers: dict[str, Answer],
    trailer: Body,
    starts: tuple[StartPose, StartPose],
    assumed: tuple[str, ...],
    title: str,
    lies_rad: tuple[float, float] = (0.0, 0.0),
) -> str:
    """TOML of a scenario; a start with no boom takes the shortest boom, level, over the tailboard."""
    words = {f"w_{key}": "assumed" if key in assumed else "measured" for key in numbers}
    plain = {key: value if isinstance(value, str) else _number(value) for key, value in numbers.items()}
    plain["parts"] = str(round(float(numbers["parts"])))
    found = {
        key: _number(value)
        for key, value in {**_site(numbers), **_units(numbers), **_trailer(numbers, trailer)}.items()
    }
    soil = SOILS[str(numbers["ground"])]
    return LINES.format(
        **{**plain, **found, **words},
        title=f'"{title}"',
        soil_source=soil.source,
        start_pitch=f"{lies_rad[0]:.5f}",
        start_roll=f"{lies_rad[1]:.5f}",
        start_nose=_start(numbers, starts[0], "nose"),
        start_tail=_start(numbers, starts[1], "tail"),
    )


def depth_words(depth_m: float, system: System) -> str:
    """As people say it: meters to a tenth, or whole feet."""
    plain = PLAIN_UNITS[system]["m"]
    value = depth_m / parse(f"1 {plain}", "m")
    return f"{value:.0f} {plain}" if system == "us" else f"{_number(round(value, 1))} {plain}"


def _number(value: float) -> str:
    return f"{value:.4f}".rstrip("0").rstrip(".") if abs(value) < 1e5 else f"{value:.1f}"


def _site(numbers: dict[str, Answer]) -> dict[str, float]:
    out, edge, run = (float(numbers[key]) for key in ("trailer_out", "edge_out", "face_run"))
    soil = SOILS[str(numbers["ground"])]
    return {
        "toe": edge + run,
        "far": max(out + float(numbers["across"]) + 6.0, edge + run + 3.0),
        "bearing": soil.allowable_Pa,
        "steepest": soil.steepest_rad,
    }


def _units(numbers: dict[str, Answer]) -> dict[str, float]:
    weight, belly = float(numbers["unit_weight"]), float(numbers["deck_height"]) + OVER_DECK_M
    top = float(numbers["height"] if numbers["attitude"] == "on_wheels" else numbers["width"])
    return {
        "carrier": weight * 21.0 / 38.0,
        "superstructure": weight * 11.5 / 38.0,
        "boom_mass": weight * 5.5 / 38.0,
        "half_spread": float(numbers["float_spread"]) / 2,
        "axis": float(numbers["gap"]) / 2 + 3.6,
        "belly": belly,
        "tip": belly + top + float(numbers["rigging_height"]) + BLOCK_AND_STOP_M + HEAD_ROOM_M,
        "block_and_stop": BLOCK_AND_STOP_M,
    }


def _trailer(numbers: dict[str, Answer], trailer: Body) -> dict[str, float]:
    length, width, height = (float(numbers[key]) for key in ("length", "width", "height"))
    side = {"on_wheels": 0.0, "top_to_ravine": 1.0, "top_to_road": -1.0}[str(numbers["attitude"])]
    return {
        "half": length / 2,
        "floor": FLOOR_SHARE * height,
        "nose_x": float(numbers["nose_pick"]) - length / 2,
        "tail_x": length / 2 - float(numbers["tail_pick"]),
        "pick_y": side * width / 2,
        "pick_z": height if side == 0.0 else trailer.cg_z_m,
        "cargo": trailer.cargo_kg,
        "cargo_x": trailer.cargo_x_m,
        "cargo_z": trailer.cargo_z_m,
        "cargo_long": 0.7 * length,
        "cargo_wide": 0.9 * width,
        "cargo_high": 0.4 * height,
        "shell": trailer.shell_kg,
        "legs": trailer.legs_kg,
        "axles": trailer.axles_kg,
        "legs_from": LEGS_AT * length - 0.15,
        "legs_to": LEGS_AT * length + 0.15,
        "legs_wide": 0.8 * width,
        "axles_from": AXLES_AT * length - 1.8,
        "axles_to": min(length / 2, AXLES_AT * length + 1.8),
        "axles_high": AXLES_HIGH_SHARE * height,
        "cg_x": trailer.cg_x_m,
        "start_y": -float(numbers["trailer_out"]) + side * (height / 2 - trailer.cg_z_m),
    }


def _start(numbers: dict[str, Answer], pose: StartPose, pick: str) -> str:
    length = pose.boom_m or float(numbers["boom_shortest"])
    rope = pose.rope_m or length + 2.5
    return (
        f"[units.start]\nboom_length = {length:.4f}  # worked out: over the pick, line a little slack\n"
        f"elevation = {pose.elevation_rad:.5f}\nslew = {pose.slew_rad:.5f}\n\n"
        f'[[units.lines]]\npick = "{pick}"\nrope_out = {rope:.3f}'
    )
