"""What can be known of a lift at one moment, and the one table that names it all.

`Readings` is a value; `CHANNELS` says of each number its symbol, unit, decimals, sign and meaning. Recording columns,
gauges, drill conditions and report axes all come from this table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import hypot, inf
from typing import NamedTuple

from simulator.channel_rows import LOAD_ROWS, UNIT_ROWS, Row

FLOAT_NAMES = ("tailboard_road", "tailboard_ravine", "cab_road", "cab_ravine")
"""Order of the four floats everywhere."""


class UnitReadings(NamedTuple):
    """One unit at one moment. SI; signs as in the table."""

    line_load_N: float
    hook_load_N: float
    share: float
    off_plumb_rad: float
    off_plumb_along_rad: float
    off_plumb_across_rad: float
    mean_off_plumb_rad: float
    mean_off_plumb_along_rad: float
    mean_off_plumb_across_rad: float
    slack: bool
    stall: bool
    boom_length_m: float
    elevation_rad: float
    slew_rad: float
    reach_m: float
    load_radius_m: float
    tip_x_m: float
    tip_y_m: float
    tip_z_m: float
    hook_x_m: float
    hook_y_m: float
    hook_z_m: float
    lean_m: float
    line_length_m: float
    line_stiffness_N_per_m: float
    line_damper_N_s_per_m: float
    sheave_to_hook_m: float
    rope_out_m: float
    rope_left_m: float
    head_room_m: float
    hoist_speed_mps: float
    telescope_speed_mps: float
    elevation_speed_radps: float
    slew_speed_radps: float
    capacity_used: float
    float_tailboard_road_N: float
    float_tailboard_ravine_N: float
    float_cab_road_N: float
    float_cab_ravine_N: float
    least_float_N: float
    least_float_share: float
    ground_used: float
    tipping: bool
    tandem_used: float = 0.0
    pad_needed_m2: float = 0.0
    set_back_room_m: float = 0.0
    boom_stiffness_N_per_m: float = 0.0
    raise_used: float = 0.0
    telescope_used: float = 0.0
    slew_used: float = 0.0
    laid_m: float = 0.0
    hook_off_m: float = 0.0
    squeeze_N: float = 0.0
    shell_pressure_Pa: float = 0.0
    turn_m: float = 0.0
    over_along_rad: float = 0.0
    over_across_rad: float = 0.0

    @property
    def over_rad(self) -> float:
        """How far the unit has gone over; 0 of one that stands on its floats."""
        return hypot(self.over_along_rad, self.over_across_rad)

    @property
    def floats_N(self) -> tuple[float, float, float, float]:
        """The four reactions in the order of `FLOAT_NAMES`."""
        tailboard = self.float_tailboard_road_N, self.float_tailboard_ravine_N
        return *tailboard, self.float_cab_road_N, self.float_cab_ravine_N


class LineReadings(NamedTuple):
    """One line at one moment; what its unit's readings of the same names are made of."""

    line_load_N: float
    hook_load_N: float
    off_plumb_rad: float
    off_plumb_along_rad: float
    off_plumb_across_rad: float
    mean_off_plumb_rad: float
    mean_off_plumb_along_rad: float
    mean_off_plumb_across_rad: float
    slack: bool
    stall: bool
    tip_x_m: float
    tip_y_m: float
    tip_z_m: float
    hook_x_m: float
    hook_y_m: float
    hook_z_m: float
    line_length_m: float
    line_stiffness_N_per_m: float
    line_damper_N_s_per_m: float
    sheave_to_hook_m: float
    rope_out_m: float
    rope_left_m: float
    head_room_m: float
    hoist_speed_mps: float
    laid_m: float = 0.0
    hook_off_m: float = 0.0
    squeeze_N: float = 0.0
    shell_pressure_Pa: float = 0.0


def line_of(unit: UnitReadings) -> LineReadings:
    """The only line of a unit, from the unit's readings."""
    return LineReadings(*(getattr(unit, name) for name in LineReadings._fields))


def lines_of(units: tuple[UnitReadings, ...]) -> tuple[LineReadings, ...]:
    """The lines of units that have one each."""
    return tuple(line_of(unit) for unit in units)


class LoadReadings(NamedTuple):
    """The trailer at one moment: its true center of gravity moves, which only the engine's own reports name."""

    x_m: float
    y_m: float
    z_m: float
    vx_mps: float
    vy_mps: float
    vz_mps: float
    pitch_rad: float
    yaw_rad: float
    roll_rad: float
    pitch_rate_radps: float
    yaw_rate_radps: float
    roll_rate_radps: float
    speed_mps: float
    sway_along_m: float
    sway_across_m: float
    sway_m: float
    sway_period_s: float
    height_over_road_m: float
    height_over_bed_m: float
    ground_N: float
    ground_x_N: float
    ground_y_N: float
    ground_z_N: float
    ground_roll_Nm: float
    ground_pitch_Nm: float
    ground_yaw_Nm: float
    road_N: float
    other_x_N: float
    other_y_N: float
    other_z_N: float
    other_roll_Nm: float
    other_pitch_Nm: float
    other_yaw_Nm: float
    lane_room_m: float
    landed: bool
    turned_rad: float = 0.0
    ends_differ_m: float = 0.0
    twist_Nm: float = 0.0
    holding_line_N: float = 0.0


class PartGap(NamedTuple):
    """One trailer part and what it would meet."""

    part: str
    gap_m: float
    meets: str
    state: str
    """to raise, cannot raise, close, clears, not clear"""
    to_raise_m: float = 0.0
    """Height still missing to a gap that is nowhere close."""
    short_m: float = 0.0
    """How much of it head room does not leave, boom tips where they are."""
    beside_m: float = inf
    """Level distance across the road to the slope's face; infinite with none beside it."""


Gaps = Sequence[PartGap]  # of the trailer's parts


class Readings(NamedTuple):
    """Everything, at one moment."""

    step: int
    time_s: float
    units: tuple[UnitReadings, ...]
    """In the rig's order."""
    lines: tuple[LineReadings, ...]
    """In the rig's order."""
    load: LoadReadings
    gaps: Gaps = ()

    @property
    def nose(self) -> UnitReadings:
        """The first unit."""
        return self.units[0]

    @property
    def tail(self) -> UnitReadings:
        """The second unit."""
        return self.units[1]

    def with_unit(self, place: int, unit: UnitReadings) -> Readings:
        """The same moment with other readings of one unit, and of its line where each unit has one."""
        units = (*self.units[:place], unit, *self.units[place + 1 :])
        return self._replace(units=units, lines=lines_of(units) if len(units) == len(self.lines) else self.lines)

    @property
    def to_raise_m(self) -> float:
        """Height still missing to gaps that are nowhere close."""
        return max((gap.to_raise_m for gap in self.gaps), default=0.0)

    @property
    def raise_short_m(self) -> float:
        """How much of that height head room does not leave."""
        return max((gap.short_m for gap in self.gaps), default=0.0)

    @property
    def slope_room_m(self) -> float:
        """Level distance from the trailer to the slope's face beside it."""
        return min((gap.beside_m for gap in self.gaps), default=inf)


UNIT_ENDINGS = frozenset(("m", "mps", "rad", "radps", "N", "s", "share"))  # at the end of a reading's name


def as_words(name: str) -> str:
    """A reading's name without its unit: `nose.hook_load_N` is nose hook load."""
    stem, _, ending = name.rpartition("_")
    return (stem if stem and ending in UNIT_ENDINGS else name).replace(".", " ").replace("_", " ").strip()


@dataclass(frozen=True, slots=True)
class Channel:
    """One number of the readings."""

    name: str
    """Whose it is and which, such as `nose.line_load_N`, `nose_1.slack`, `load.pitch_rad`, `time_s`."""
    symbol: str
    unit: str
    """SI unit; `bool` for a yes or no (1 or 0)."""
    decimals: int
    meaning: str
    """What it is; then, after a semicolon, which way is positive."""
    whose: str = ""
    """`units`, `lines`, `load`, or "" for the moment's own."""
    place: int = 0  # among the units or lines

    def read(self, readings: Readings) -> float:
        """This channel's value."""
        field = self.name.rpartition(".")[2]
        owner: object = getattr(readings, self.whose) if self.whose else readings
        if isinstance(owner, tuple) and self.whose in ("units", "lines"):
            owner = owner[self.place]
        return float(getattr(owner, field))


_SUM, _ANY, _MEAN = "sum of its lines", "any of its lines", "mean of its lines"
_WHERE = "where the sum of its lines' pulls acts, by their loads"
_OF_TWO_LINES = {
    **dict.fromkeys(("line_load_N", "hook_load_N", "line_stiffness_N_per_m", "line_damper_N_s_per_m"), _SUM),
    **dict.fromkeys(("slack", "stall"), _ANY),
    **dict.fromkeys(("rope_out_m", "laid_m", "squeeze_N", "shell_pressure_Pa"), "most of its lines"),
    **dict.fromkeys(("rope_left_m", "head_room_m", "hook_off_m"), "least of its lines"),
    **dict.fromkeys(("hook_x_m", "hook_y_m", "load_radius_m"), _WHERE),
    **dict.fromkeys(("hook_z_m", "line_length_m", "sheave_to_hook_m", "hoist_speed_mps"), _MEAN),
    **{name: "of the sum of its lines' pulls" for name in UnitReadings._fields if "off_plumb" in name},
}
"""What a unit's reading is where it has two lines; each line then has channels of its own."""


@lru_cache(maxsize=32)
def channels_of(units: tuple[str, ...], lines: tuple[str, ...]) -> tuple[Channel, ...]:
    """The table of a lift's readings.

    Args:
        units: names of its units, in the rig's order.
        lines: names of its lines; one that is called like its unit is read there and has no channels of its own.
    """
    of_units = [_of_unit(place, name, name in lines, row) for place, name in enumerate(units) for row in UNIT_ROWS]
    own = [(place, name) for place, name in enumerate(lines) if name not in units]
    of_lines = [_of_line(*one, row) for one in own for row in UNIT_ROWS if row[0] in LineReadings._fields]
    of_load = [Channel(f"load.{row[0]}", *row[1:], whose="load") for row in LOAD_ROWS]
    return (*_MOMENT, *of_units, *of_lines, *of_load, *_ROUND_IT)


def _of_unit(place: int, unit: str, is_its_only_line: bool, row: Row) -> Channel:
    name, symbol, measure, decimals, meaning = row
    if not is_its_only_line and name in _OF_TWO_LINES:
        what, mark, sign = meaning.partition("; ")
        meaning = f"{what} ({_OF_TWO_LINES[name]}){mark}{sign}"
    said = f"{unit} unit: {meaning}"
    return Channel(f"{unit}.{name}", f"{unit[0]}.{symbol}", measure, decimals, said, "units", place)


def _of_line(place: int, line: str, row: Row) -> Channel:
    name, symbol, measure, decimals, meaning = row
    said = f"line {line.rpartition('_')[2]} of the {line.rpartition('_')[0]} unit: {meaning}"
    return Channel(f"{line}.{name}", f"{line[0]}{line[-1]}.{symbol}", measure, decimals, said, "lines", place)


_STEP = Channel("step", "n", "1", 0, "steps since time zero")
_MOMENT = _STEP, Channel("time_s", "t", "s", 4, "time since time zero")
_ROUND_IT = (
    Channel("to_raise_m", "tr", "m", 3, "height still missing to gaps that are nowhere close; missing"),
    Channel("raise_short_m", "rs", "m", 3, "how much of it head room does not leave, tips where they are; short"),
    Channel("slope_room_m", "sr", "m", 3, "level distance from the trailer to the slope's face; short of it"),
)

CHANNELS: tuple[Channel, ...] = channels_of(("nose", "tail"), ("nose", "tail"))  # two units, one line each
