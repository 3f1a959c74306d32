"""The text of a first scenario, with a word on every number: measured or assumed."""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees
from typing import NamedTuple

from simulator.plan.questions import QUESTIONS, SOILS, Answer
from simulator.scenario.asked_numbers import INCH_M, Field, Kind, System, written
from simulator.scenario.measures import METERS_PER_FOOT
from simulator.scenario.toml_writer import quoted
from simulator.scenario.typed_numbers import parse_typed

OVER_DECK_M = 0.45
"""Trailer's lowest point over the decks while it crosses."""
HEAD_ROOM_M = 1.6
BLOCK_AND_STOP_M = 1.0
OFF_PADS_M, OFF_LANE_M, SPARE_M = 0.3, 1.0, 0.2
PICK_IN_SHARE = 0.125
"""Picks so far in from either end, as a share of the length."""
FLOOR_SHARE, AXLES_HIGH_SHARE = 0.31, 0.26
"""Floor of the box and top of the axle group, as shares of the trailer's height."""
AXLES_AT, LEGS_AT = 0.34, -0.30
"""Middle of axle group and landing legs along the trailer, as shares of its length from the middle."""


@dataclass(frozen=True, slots=True)
class Body:
    """The trailer's pieces in its own axes: masses that add up, and its center of gravity."""

    shell_kg: float
    axles_kg: float
    legs_kg: float
    cargo_kg: float
    cargo_x_m: float
    cargo_z_m: float
    cg_x_m: float
    cg_z_m: float


class StartPose(NamedTuple):
    """A unit's functions at time zero."""

    boom_m: float
    elevation_rad: float
    slew_rad: float
    rope_m: float


PARKED = StartPose(0.0, 0.0, 0.0, 0.0)
"""Stands for a start that is not known yet: the text then takes the shortest boom."""


LINES = """\
# INVENTED OR UNPROVEN DATA. Made from tape-measure numbers; every line marked `assumed` is a stand-in that somebody
# has to measure or look up. For training and rehearsal only: a real lift is planned by qualified people, from the
# makers' charts and local codes. Plain numbers are SI; text carries its unit: "43 ft", "24 t", "35 deg".{tons}

title = {title}
story = "Invented or unproven numbers. A first draft from tape-measure numbers: check it, correct it, then rehearse."
difficulty = 2
seed = 1
invented = true

[site]
# (y, z): road, edge ({w_edge_out}), toe ({w_face_run}) at its depth ({w_depth}), far side (assumed level){bank}
section = [[{thirty:m}, 0], [{edge_out:-m}, 0], [{toe:-m}, {depth:-m}], [{far:-m}, {depth:-m}]]
edge_y = {edge_out:-m}
nose_seen_from_ravine = "{nose_side}"  # {w_nose_side}
live_lane_y = {lane_out:m}  # {w_lane_out}
guard_rail_height = {rail:m}  # {w_rail}
cross_fall = {cross_fall:rad}  # {w_cross_fall}, down toward the ravine
settle = 6  # assumed

[site.soil]  # {w_ground}: {soil_source}
name = "{ground}"
allowable_bearing = {bearing:Pa}  # {w_shoulder}
steepest_angle = {steepest:rad}
{face}
[site.wind]
speed = {wind:m/s}  # {w_wind}
gust_share = {gust:1}  # {w_gust}
{wires}
{shared}# Where they stand, and where boom and line are at time zero.
[[units]]
name = "nose"
{nose_from}{nose_set_up}slew_axis_x = {nose_axis:-m}  # {w_gap} gap between the tailboards

{start_nose}

[[units]]
name = "tail"
{tail_from}{tail_set_up}slew_axis_x = {tail_axis:m}

{start_tail}

[trailer]
attitude = "{attitude}"  # {w_attitude}

[[trailer.picks]]
name = "nose"
at = [{nose_x:m}, {pick_y:m}, {pick_z:m}]  # {w_nose_pick} along; assumed in line with the center of gravity
height = {rigging_height:m}  # {w_rigging_height}
rigging = {rigging:kg}  # assumed
kind = "two-leg bridle across"  # assumed

[[trailer.picks]]
name = "tail"
at = [{tail_x:m}, {pick_y:m}, {pick_z:m}]  # {w_tail_pick} along
height = {rigging_height:m}
rigging = {rigging:kg}  # assumed
kind = "two-leg bridle across"

# The load takes what is left of {w_weight} weight and puts the center of gravity where it is {w_cg_from_front}.
[trailer.cargo]
mass = {cargo:kg}
cg = [{cargo_x:m}, 0.0, {cargo_z:m}]
size = [{cargo_long:m}, {cargo_wide:m}, {cargo_high:m}]

[[trailer.parts]]  # {w_length} length, {w_width} width, {w_height} height
name = "box"
drawn_as = "box"
outline = [[{half:-m}, {floor:m}], [{half:m}, {floor:m}], [{half:m}, {height:m}], [{half:-m}, {height:m}]]
width = {width:m}
mass = {shell:kg}

[[trailer.parts]]  # assumed
name = "landing legs"
drawn_as = "legs"
outline = [[{legs_from:m}, 0.0], [{legs_to:m}, 0.0], [{legs_to:m}, {floor:m}], [{legs_from:m}, {floor:m}]]
width = {legs_wide:m}
mass = {legs:kg}

[[trailer.parts]]  # assumed
name = "axle group"
drawn_as = "wheels"
outline = [[{axles_from:m}, 0.0], [{axles_to:m}, 0.0], [{axles_to:m}, {axles_high:m}], [{axles_from:m}, {axles_high:m}]]
width = {width:m}
mass = {axles:kg}

# Where it lies at time zero.
[trailer.start]
x = {cg_x:m}
y = {start_y:m}  # {w_trailer_out}
pitch = {start_pitch}
roll = {start_roll}  # worked out: as the slope lies under it

[path]  # assumed: lowest point 0.45 m over the decks, tips high enough for 1.6 m of head room
belly_over_road = {belly:m}
tip_height = {tip:m}

[landing]
y = {landing:m}  # assumed: as near to the pads as is allowed
"""


class InUnits(NamedTuple):
    """A number that a template writes in the user's units: `{depth:m}`, `{depth:-m}` for the other sign."""

    value: float
    """SI."""
    system: System

    def __format__(self, of: str) -> str:
        """A plain SI number, or text with its unit; feet and inches where they come out even."""
        value = -self.value if of.startswith("-") else self.value
        kind = KINDS_OF[of.lstrip("-")]
        if kind is None or value == 0.0:
            return _number(value)
        if kind == "angle":
            return f'"{_number(degrees(value))} deg"'
        return _number(value) if self.system == "metric" else f'"{_us(value, kind)}"'


KINDS_OF: dict[str, Kind | None] = {
    "m": "length",
    "in": "size",
    "kg": "mass",
    "N": "force",
    "rad": "angle",
    "m/s": "speed",
    "Pa": "pressure",
    "1": None,
}
"""What a template names: the kind of number; None for a plain one."""


def _us(value: float, kind: Kind) -> str:
    field = Field("", kind, value, value, value)
    if kind == "length":
        text = written(value, field, "us", words=True)
        is_even = abs(parse_typed(text, "m") - value) < INCH_M * 1e-5
        return text if is_even else f"{value / METERS_PER_FOOT:.5f}".rstrip("0").rstrip(".") + " ft"
    plain = field.plain("us")
    name = {"force": "lbf"}.get(kind, plain.name)
    return f"{value / plain.one:.4f}".rstrip("0").rstrip(".") + f" {name}"


BANK = """
# Nobody has measured the bank: it is as steep as this ground may stand beside pads, or as the trailer leaves room for.
# That is our own choice, no source."""
SHARED = """\
# What the units share. Masses are split as in an invented 38 t unit; carrier CG and floats along it are assumed.
[each_unit]
tailboard = {tailboard:m}  # assumed: slew axis to tailboard
deck_height = {deck_height:m}  # {w_deck_height}
carrier = {carrier:kg}  # {w_unit_weight} weight of the unit, assumed split
carrier_cg = {carrier_cg:m}  # assumed
superstructure = {superstructure:kg}
superstructure_cg = {superstructure_cg:m}  # assumed
boom_mass = {boom_mass:kg}

# No rating table: only 85 % of tipping is judged. Put in the maker's [each_unit.rating] before believing any capacity.
[each_unit.boom]
shortest = {boom_shortest:m}  # {w_boom_shortest}
longest = {boom_longest:m}  # {w_boom_longest}
lowest = 0.0  # assumed
highest = {boom_highest:rad}  # {w_boom_highest}
foot_pin_back = {foot_pin_back:m}  # assumed
foot_pin_height = {foot_pin_height:m}  # assumed

[each_unit.hoist]
parts = {parts}  # {w_parts}
usable_rope = {rope:m}  # {w_rope}
stall_line_pull = {winch_pull:N}  # {w_winch_pull}, first layer
rope_diameter = {rope_size:in}  # {w_rope_size}
{breaking}to_boom_foot = {to_boom_foot:m}  # assumed
block = {block:kg}  # assumed
block_and_stop = {block_and_stop:m}  # assumed

[each_unit.floats]
toward_tailboard = {toward_tailboard:m}  # assumed
toward_cab = {toward_cab:m}  # assumed
across = {half_spread:m}  # {w_float_spread} float to float
pad_side = {pad_side:m}  # {w_pad_side}

"""
"""What stands in the scenario itself where no unit is named."""


def scenario_text(
    numbers: dict[str, Answer],
    trailer: Body,
    starts: tuple[StartPose, StartPose],
    measured: tuple[str, ...],
    words: Words,
    lies_rad: tuple[float, float] = (0.0, 0.0),
) -> str:
    """TOML of a scenario; a start with no boom takes the shortest boom, level, over the tailboard."""
    marks = {f"w_{key}": "measured" if key in measured else "assumed" for key in (*numbers, *KEYS)}
    found = {**numbers, **_site(numbers), **_units(numbers), **_trailer(numbers, trailer), **_names(numbers), **ASSUMED}
    every = {key: value if isinstance(value, str) else InUnits(value, words.system) for key, value in found.items()}
    every |= {**marks, "parts": str(round(float(numbers["parts"])))}
    every |= {key: text.format(**every) if numbers.get(GIVEN_BY[key]) else "" for key, text in PIECES.items()}
    every["bank"] = "" if "face_run" in measured else BANK
    every["shared"] = "" if numbers.get("nose_unit") else SHARED.format(**every)
    return LINES.format(
        **every,
        title=quoted(words.title),
        tons="".join(f"\n# As they were typed, {note}." for note in words.notes),
        soil_source=SOILS[str(numbers["ground"])].source,
        start_pitch=f"{lies_rad[0]:.5f}",
        start_roll=f"{lies_rad[1]:.5f}",
        start_nose=_start(numbers, starts[0], "nose", words.system),
        start_tail=_start(numbers, starts[1], "tail", words.system),
    )


def _names(numbers: dict[str, Answer]) -> dict[str, Answer]:
    """What is a name or a text of the user's own, as TOML writes it."""
    keys = ("face_judged_by", "nose_unit", "tail_unit", "nose_configuration", "tail_configuration")
    return {key: quoted(str(numbers[key])) for key in keys if key in numbers}


ASSUMED = {
    "thirty": 30.0,
    "tailboard": 3.6,
    "carrier_cg": 3.0,
    "superstructure_cg": 1.7,
    "foot_pin_back": 1.2,
    "foot_pin_height": 2.6,
    "to_boom_foot": 2.0,
    "block": 300.0,
    "toward_tailboard": 2.8,
    "toward_cab": 4.2,
    "rigging": 200.0,
}
"""Of an invented unit, its block and rigging; SI."""
KEYS = tuple(question.key for question in QUESTIONS)
PIECES = {
    "face": "face_judged_by = {face_judged_by}\n",
    "wires": (
        "\n[site.overhead_line]\ny = {wires_out:-m}  # {w_wires_out}\nheight = {wires_height:m}  # {w_wires_height}\n"
        "kilovolt = {wires_kilovolt:1}  # {w_wires_kilovolt}\n"
    ),
    "nose_from": "from = {nose_unit}\n",
    "tail_from": "from = {tail_unit}\n",
    "nose_set_up": "configuration = {nose_configuration}\n",
    "tail_set_up": "configuration = {tail_configuration}\n",
    "breaking": "rope_breaking = {rope_breaking:N}  # {w_rope_breaking}, by its certificate\n",
}
"""Lines that stand only where there is something to write."""


GIVEN_BY = {
    "face": "face_judged_by",
    "wires": "wires_height",
    "breaking": "rope_breaking",
    "nose_from": "nose_unit",
    "tail_from": "tail_unit",
    "nose_set_up": "nose_configuration",
    "tail_set_up": "tail_configuration",
}


class Words(NamedTuple):
    """What is written beside the numbers, and in which units those are."""

    title: str
    system: System
    notes: tuple[str, ...] = ()


def depth_words(depth_m: float, system: System) -> str:
    """As people say it: meters to a tenth, or whole feet."""
    return f"{depth_m / METERS_PER_FOOT:.0f} ft" if system == "us" else f"{_number(round(depth_m, 1))} m"


def _number(value: float) -> str:
    return f"{value:.4f}".rstrip("0").rstrip(".") if abs(value) < 1e5 else f"{value:.1f}"


def _site(numbers: dict[str, Answer]) -> dict[str, Answer]:
    out, edge, run = (float(numbers[key]) for key in ("trailer_out", "edge_out", "face_run"))
    soil = SOILS[str(numbers["ground"])]
    return {
        "toe": edge + run,
        "far": max(out + float(numbers["across"]) + 6.0, edge + run + 3.0),
        "bearing": numbers.get("shoulder", soil.allowable_Pa),
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
        "nose_axis": float(numbers["gap"]) / 2 + float(numbers.get("nose_tailboard", ASSUMED["tailboard"])),
        "tail_axis": float(numbers["gap"]) / 2 + float(numbers.get("tail_tailboard", ASSUMED["tailboard"])),
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


def _start(numbers: dict[str, Answer], pose: StartPose, pick: str, system: System) -> str:
    length = pose.boom_m or float(numbers["boom_shortest"])
    rope = pose.rope_m or length + 2.5
    return (
        f"[units.start]\nboom_length = {InUnits(length, system):m}  # worked out: over the pick, line a little slack\n"
        f"elevation = {pose.elevation_rad:.5f}\nslew = {pose.slew_rad:.5f}\n\n"
        f'[[units.lines]]\npick = "{pick}"\nrope_out = {InUnits(rope, system):m}'
    )
