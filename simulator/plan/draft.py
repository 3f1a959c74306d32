"""A first scenario from tape-measure numbers: everything else from named defaults, each marked as assumed."""

from __future__ import annotations

from math import ceil, sqrt
from typing import NamedTuple

from simulator.mechanics.bearing import LEAST_SET_BACK_M, run_of_line_m
from simulator.plan.draft_text import (
    AXLES_AT,
    AXLES_HIGH_SHARE,
    FLOOR_SHARE,
    LEGS_AT,
    OFF_LANE_M,
    OFF_PADS_M,
    PARKED,
    PICK_IN_SHARE,
    SPARE_M,
    Body,
    StartPose,
    Words,
    depth_words,
    scenario_text,
)
from simulator.plan.lying_rules import lies
from simulator.plan.questions import QUESTIONS, SOILS, Answer
from simulator.plan.spacing import THREE_QUARTERS
from simulator.plan.starts import over_the_picks
from simulator.scenario.asked_numbers import System
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario, Fault
from simulator.scenario.kept_pieces import BrokenPiece, find, unit_of
from simulator.scenario.measures import METERS_PER_FOOT, STANDARD_GRAVITY_MPS2
from simulator.scenario.reader import parse_text

FLOAT_BEARS = 0.6
"""Of a unit with half the load, what its fullest float bears, about: our own choice, for pads nobody has measured."""
PLAIN_PAD_M, WIDEST_PAD_M = 0.75, 3.0
BESIDE_TOE_M = 0.3
STEPS_M: dict[System, float] = {"metric": 0.1, "us": METERS_PER_FOOT / 2.0}
"""A place that nobody has measured is round in these steps."""
SAME = 1e-6


class Draft(NamedTuple):
    """A scenario's text, and the keys of what was assumed in it."""

    text: str
    assumed: tuple[str, ...]


def draft(given: dict[str, Answer], system: System = "metric", notes: tuple[str, ...] = ()) -> Draft:
    """Write a scenario.

    Args:
        given: answers by key, SI; what is missing is assumed.
        system: units that its numbers and title are in.
        notes: what was meant by the numbers as they were typed, such as which ton.

    Raises:
        BrokenScenario: the numbers do not fit each other; with every fault.
    """
    numbers = complete(given, system)
    assumed = tuple(
        one.key
        for one in QUESTIONS
        if one.key not in given and (not one.needs or numbers.get(one.needs)) and not given.get(one.unless)
    )
    trailer = body(numbers)
    words = Words(f"First draft: trailer {depth_words(float(numbers['depth']), system)} down", system, notes)

    def text(starts: tuple[StartPose, StartPose], lies_rad: tuple[float, float] = (0.0, 0.0)) -> str:
        return scenario_text(numbers, trailer, starts, tuple(given), words, lies_rad)

    lies_rad = lies(parse_text(text((PARKED, PARKED)), "first draft")).rests_rad
    lying = parse_text(text((PARKED, PARKED), lies_rad), "first draft")
    found = text(_starts(lying), lies_rad)
    parse_text(found, "draft")
    return Draft(found, assumed)


def to_ask_again(given: dict[str, Answer]) -> tuple[str, ...]:
    """Which of the answers of a draft that failed are to be asked again: each that alone spoils it, or else all."""
    spoil = tuple(key for key in given if _fits({one: value for one, value in given.items() if one != key}))
    return spoil or tuple(given)


def _fits(given: dict[str, Answer]) -> bool:
    try:
        draft(given)
    except BrokenScenario:
        return False
    return True


def complete(given: dict[str, Answer], system: System = "metric") -> dict[str, Answer]:
    """All answers: those given, defaults, and what follows from the others; a place nobody measured is round in these
    units."""
    numbers = {question.key: question.default for question in QUESTIONS if question.default is not None} | given
    numbers |= _of_units(given)
    length = float(numbers["length"])
    across = float(numbers["width"] if numbers["attitude"] == "on_wheels" else numbers["height"])
    numbers = _place(numbers, across, system)
    landing = float(numbers["float_spread"]) / 2 + float(numbers["pad_side"]) / 2 + OFF_PADS_M + SPARE_M + across / 2
    worked_out: dict[str, Answer] = {
        "cg_from_front": length / 2,
        "nose_pick": PICK_IN_SHARE * length,
        "tail_pick": PICK_IN_SHARE * length,
        "gap": THREE_QUARTERS * length,
        "lane_out": landing + across / 2 + OFF_LANE_M + 2.0 * SPARE_M,
    }
    return {**worked_out, **numbers, "landing": landing, "across": across}


def _place(numbers: dict[str, Answer], across_m: float, system: System) -> dict[str, Answer]:
    """Pads, edge, bank and trailer, as far as nobody has measured them: a place that no rule for ground refuses, unless
    what was measured leaves no room for it."""
    soil, step_m = SOILS[str(numbers["ground"])], STEPS_M[system]

    def up(value_m: float) -> float:
        return ceil(value_m / step_m - SAME) * step_m

    bears_Pa = float(numbers.get("shoulder", soil.allowable_Pa))
    load_kg = float(numbers["unit_weight"]) + float(numbers["weight"]) / 2.0
    needs_m = up(sqrt(FLOAT_BEARS * load_kg * STANDARD_GRAVITY_MPS2 / bears_Pa))
    found = {"pad_side": min(WIDEST_PAD_M, max(PLAIN_PAD_M, needs_m)), **numbers}
    pads_m = float(found["float_spread"]) / 2.0 + float(found["pad_side"]) / 2.0
    found = {"edge_out": up(pads_m + LEAST_SET_BACK_M + SPARE_M), **found}
    stands_m = up(run_of_line_m(float(found["depth"]), soil.steepest_rad))
    beyond_m = float(found["edge_out"]) + across_m / 2.0
    room_m = float(found["trailer_out"]) - beyond_m if "trailer_out" in found else stands_m
    found = {"face_run": min(stands_m, room_m) if room_m > 0.0 else stands_m, **found}
    return {"trailer_out": up(beyond_m + float(found["face_run"]) + BESIDE_TOE_M), **found}


def _of_units(given: dict[str, Answer]) -> dict[str, Answer]:
    """What named units bring: of both the wider stand, the higher deck, the shorter reach.

    Raises:
        BrokenScenario: there is none of that name, one cannot be used, or a number is given beside it.
    """
    if "nose_unit" not in given:
        return {}
    beside = [one.key for one in QUESTIONS if one.unless == "nose_unit" and one.key in given]
    if beside:
        what = "none beside a unit by name: its file has them"
        raise BrokenScenario(Fault(f"new: {key}", "a number of the unit", what) for key in beside)
    try:
        units = [unit_of(find("unit", str(given[key]))) for key in ("nose_unit", "tail_unit") if key in given]
    except BrokenPiece as broken:
        faults = [Fault("new: nose_unit or tail_unit", one, "a unit that can be used") for one in broken.faults]
        raise BrokenScenario(faults) from broken
    return {
        "tail_unit": given.get("tail_unit", given["nose_unit"]),
        "deck_height": max(one.deck_height_m for one in units),
        "float_spread": 2.0 * max(one.floats.across_m for one in units),
        "pad_side": max(one.floats.pad_side_m for one in units),
        "boom_shortest": max(one.boom.shortest_m for one in units),
        "boom_longest": min(one.boom.longest_m for one in units),
        "nose_tailboard": units[0].tailboard_m,
        "tail_tailboard": units[-1].tailboard_m,
    }


def body(numbers: dict[str, Answer]) -> Body:
    """Pieces whose weights and center of gravity come out as asked: the cargo takes what is left."""
    length, height, weight = (float(numbers[key]) for key in ("length", "height", "weight"))
    shell, axles, legs = 0.20 * weight, 0.16 * weight, 0.015 * weight
    cargo = weight - shell - axles - legs
    cg_x = float(numbers["cg_from_front"]) - length / 2
    cargo_x = (weight * cg_x - axles * AXLES_AT * length - legs * LEGS_AT * length) / cargo
    cargo_z = 0.52 * height
    middles = shell * (1.0 + FLOOR_SHARE) / 2 + axles * AXLES_HIGH_SHARE / 2 + legs * FLOOR_SHARE / 2
    return Body(shell, axles, legs, cargo, cargo_x, cargo_z, cg_x, (middles * height + cargo * cargo_z) / weight)


def _starts(first: Description) -> tuple[StartPose, StartPose]:
    """Booms over their picks as far as their travel goes, lines a little slack."""
    found = [StartPose(*one.boom, one.ropes_m[0]) for one in over_the_picks(first)]
    return found[0], found[1]
