"""Rules of one unit: boom travel, stand on its floats, rating table, start."""

from __future__ import annotations

from itertools import pairwise
from math import inf

from simulator.scenario.breach import Breach, Breaches, angle, rising
from simulator.scenario.unit import Boom, Floats, Line, Rating, UnitStart

UNIT, START = "{unit}", "{unit}.start"
"""Paths of one unit, still to be filled in."""
SAME_LENGTH_M = 1e-9
"""Two lengths that differ by less differ by rounding, as where a table is asked (`mechanics/load_table.py`)."""
LEAST_STAND_M = 0.1
"""Floats closer together than this stand in a line."""


def boom_travel(boom: Boom) -> Breaches:
    """Each travel has two ends, and the boom can stand straight over the tailboard."""
    above = f"{UNIT}.boom."
    if boom.shortest_m >= boom.longest_m:
        given = f"shortest {boom.shortest_m:g} m and longest {boom.longest_m:g} m"
        yield Breach((above + "shortest", above + "longest"), given, "shortest less than longest")
    if boom.lowest_rad >= boom.highest_rad:
        given = f"lowest {angle(boom.lowest_rad)} and highest {angle(boom.highest_rad)}"
        yield Breach((above + "lowest", above + "highest"), given, "lowest less than highest")
    low, high = boom.slew_ravine_rad, boom.slew_road_rad
    if not low <= 0.0 <= high or low == high:
        given = f"slew_ravine {angle(low)} and slew_road {angle(high)}"
        allowed = "slew_ravine at most 0, slew_road at least 0 (over the tailboard), not both 0"
        yield Breach((above + ("slew_ravine" if low > 0.0 else "slew_road"),), given, allowed)


def foot_pin(boom: Boom, cab_front_m: float) -> Breaches:
    """The boom's foot stands on the carrier."""
    if boom.foot_pin_back_m > cab_front_m:
        keys = (f"{UNIT}.boom.foot_pin_back", f"{UNIT}.cab_front")
        given = f"foot_pin_back {boom.foot_pin_back_m:g} m and cab_front {cab_front_m:g} m"
        yield Breach(keys, given, "foot_pin_back at most cab_front: on the carrier")


def superstructure(cg_m: float, tail_swing_m: float) -> Breaches:
    """The superstructure's CG is in it."""
    if cg_m > tail_swing_m:
        keys = (f"{UNIT}.superstructure_cg", f"{UNIT}.tail_swing")
        given = f"superstructure_cg {cg_m:g} m and tail_swing {tail_swing_m:g} m"
        yield Breach(keys, given, "superstructure_cg at most tail_swing: within what slews")


def stand(floats: Floats, carrier_cg_m: float) -> Breaches:
    """Four floats that do not stand in a line, the carrier's CG between them."""
    above = f"{UNIT}.floats."
    length = floats.toward_tailboard_m + floats.toward_cab_m
    if floats.road_m + floats.ravine_m < LEAST_STAND_M:
        given = f"{floats.across_m:g} m"
        yield Breach((above + "across",), given, f"at least {LEAST_STAND_M / 2:g} m: the floats stand in a line")
    for name, side_m in (("across_road", floats.road_m), ("across_ravine", floats.ravine_m)):
        if side_m > floats.across_m:
            allowed = f"at most across, {floats.across_m:g} m: the beams all the way out"
            yield Breach((above + name, above + "across"), f"{side_m:g} m", allowed)
    if length < LEAST_STAND_M:
        allowed = f"at least {LEAST_STAND_M:g} m together: the floats stand in a line"
        given = f"toward_tailboard {floats.toward_tailboard_m:g} m and toward_cab {floats.toward_cab_m:g} m"
        yield Breach((above + "toward_tailboard", above + "toward_cab"), given, allowed)
    elif not -floats.toward_tailboard_m < carrier_cg_m < floats.toward_cab_m:
        keys = (f"{UNIT}.carrier_cg", above + "toward_tailboard", above + "toward_cab")
        low, high = -floats.toward_tailboard_m, floats.toward_cab_m
        yield Breach(keys, f"carrier_cg {carrier_cg_m:g} m", f"between the floats, {low:g} to {high:g} m")


def rating(table: Rating | None) -> Breaches:
    """Lengths and radii rising, one row a radius and one column a length, no holes, not rising with radius."""
    if table is None:
        return
    above = f"{UNIT}.rating."
    for name, values in (("boom_lengths", table.boom_lengths_m), ("radii", table.radii_m)):
        if not values:
            yield Breach((above + name,), "a list of 0", "at least 1 number")
        if not rising(values):
            yield Breach((above + name,), ", ".join(f"{v:g}" for v in values) + " m", "each larger than the one before")
    shape = [len(row) for row in table.rated_kg]
    rows, columns = len(table.radii_m), len(table.boom_lengths_m)
    if len(shape) != rows:
        keys = (above + "rated", above + "radii")
        yield Breach(keys, f"{len(shape)} rows for {rows} radii", "one row a radius")
    if any(count != columns for count in shape):
        number, count = next((i, c) for i, c in enumerate(shape, 1) if c != columns)
        keys = (above + "rated", above + "boom_lengths")
        yield Breach(keys, f"{count} numbers in row {number} for {columns} boom lengths", "one number a boom length")
    elif len(shape) == rows and rows > 0:
        yield from (_rated if table.entered is None else _entered)(table, above + "rated")


def _rated(table: Rating, key: str) -> Breaches:
    """0 only where the boom does not reach: below the last radius of a column, left of the boom that reaches."""
    for column, length in enumerate(table.boom_lengths_m):
        down = [row[column] for row in table.rated_kg]
        if down[0] <= 0.0:
            yield Breach((key,), f"0 kg at {table.radii_m[0]:g} m with {length:g} m of boom", "more than 0")
        for above_kg, below_kg, radius in zip(down, down[1:], table.radii_m[1:], strict=False):
            if below_kg > above_kg:
                given = f"{below_kg:g} kg at {radius:g} m with {length:g} m of boom"
                what = "a hole" if above_kg == 0.0 else "a rise"
                yield Breach(
                    (key,), given, f"at most {above_kg:g} kg, as at the radius before: no {what[2:]} in a column"
                )
    for row, radius in zip(table.rated_kg, table.radii_m, strict=True):
        reached = [kg > 0.0 for kg in row]
        if any(a and not b for a, b in pairwise(reached)):
            yield Breach(
                (key,), f"0 kg at {radius:g} m right of a rated load", "more than 0: a longer boom reaches too"
            )


def _entered(table: Rating, key: str) -> Breaches:
    """Holes are the maker's; a load may not rise with the radius past one, and none reaches beyond its boom."""
    for column, length in enumerate(table.boom_lengths_m):
        least = inf
        for row, radius in zip(table.rated_kg, table.radii_m, strict=True):
            kg = row[column]
            if kg > least:
                yield Breach((key,), f"{kg:g} kg at {radius:g} m with {length:g} m of boom", f"at most {least:g} kg")
            if kg > 0.0 and radius > length + SAME_LENGTH_M:
                given = f"{kg:g} kg at {radius:g} m with {length:g} m of boom"
                yield Breach((key,), given, "0: beyond the boom")
            least = min(least, kg) if kg > 0.0 else least
        if least == inf:
            yield Breach((key,), f"no load with {length:g} m of boom", "a load at one radius at least")


def rating_covers(table: Rating | None, boom: Boom) -> Breaches:
    """The table is read at the next longer boom in it, so it needs one for the longest."""
    if table is not None and table.boom_lengths_m and table.boom_lengths_m[-1] < boom.longest_m - SAME_LENGTH_M:
        keys = (f"{UNIT}.rating.boom_lengths", f"{UNIT}.boom.longest")
        given = f"lengths up to {table.boom_lengths_m[-1]:g} m for a boom of up to {boom.longest_m:g} m"
        yield Breach(keys, given, "a column for the longest boom")


def start_travel(start: UnitStart, boom: Boom) -> Breaches:
    """The functions start within their travel."""
    rows = (
        ("boom_length", start.boom_length_m, boom.shortest_m, boom.longest_m),
        ("elevation", start.elevation_rad, boom.lowest_rad, boom.highest_rad),
        ("slew", start.slew_rad, boom.slew_ravine_rad, boom.slew_road_rad),
    )
    for key, value, low, high in rows:
        if low < high and not low <= value <= high:
            say = _meters if key == "boom_length" else angle
            allowed = f"{say(low)} to {say(high)}, the travel in [{UNIT}.boom]"
            yield Breach((f"{START}.{key}",), say(value), allowed)


def _meters(value_m: float) -> str:
    return f"{value_m:g} m"


def start_rope(line: Line, start: UnitStart) -> Breaches:
    """Enough rope paid out to reach over the sheave, and no more than the drum has."""
    hoist = line.hoist
    least = start.boom_length_m + hoist.to_boom_foot_m
    if not least < line.rope_out_m <= hoist.usable_rope_m:
        allowed = (
            f"more than boom_length and to_boom_foot, {least:g} m, and at most usable_rope, {hoist.usable_rope_m:g} m"
        )
        yield Breach(("{line}.rope_out",), f"{line.rope_out_m:g} m", allowed)
