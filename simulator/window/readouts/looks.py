"""What each readout shows, as text and levels: from readings to values that are drawn, compared and tested."""

from __future__ import annotations

from math import inf, isfinite, nan
from typing import NamedTuple

from simulator.readings import LineReadings, LoadReadings, Readings, UnitReadings
from simulator.scenario.rig import RigLine, RigUnit
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.levels import Level, Marked
from simulator.window.kit.measures_shown import Shown, System
from simulator.window.readouts.alerts import TO_RAISE, FourNewtons, Watched, float_share, hangs, least_float
from simulator.words import say

MOST_SHARE = 9.99
"""Capacity used that is still told apart."""


class PanelLook(NamedTuple):
    """One unit panel."""

    state: str
    """MOVE, HOLD or AUTO."""
    is_moving: bool
    line_word: str
    line_load: Marked
    share: Shown
    capacity: Marked
    capacity_share: float
    """In steps of half a percent, so that the bar changes only when it shows."""
    reach: Shown
    boom: Shown
    raised: Shown
    slewed: Shown
    slew_way: int
    """+1 toward the road, -1 toward the ravine, 0 over the tailboard."""
    head_room: Marked
    rope_left: Marked
    lines: tuple[LineLook, ...] = ()
    """Each line, where there are two; head room and rope left are then theirs."""


class LineLook(NamedTuple):
    """One of two lines, in the panel of its unit."""

    number: int
    word: str
    """SLACK, STALL or nothing."""
    load: Marked
    head_room: Marked
    rope_left: Marked


class TileLook(NamedTuple):
    """One float."""

    text: str
    fill: float
    """0 to 1, in twentieths."""
    level: Level
    is_least: bool
    word: str
    """UP, GROUND, or nothing."""


class BoardLook(NamedTuple):
    """One outrigger board, tiles in the order of `FLOAT_NAMES`."""

    unit: str
    tiles: tuple[TileLook, ...]
    spare: str
    """Of the float nearest to lifting off, the one with the thick edge."""
    tipping: bool
    lean: str = ""
    """How far the frame stands off level."""


class TableLook(NamedTuple):
    """The load table."""

    pitch: Marked
    way: str
    sway: Marked
    period: Shown
    height: Shown


class PartLook(NamedTuple):
    """One column of the clearance strip."""

    number: int
    part: str
    value: Shown
    level: Level
    to_raise: bool
    name: str
    """The part as its readings name it."""
    cannot_raise: bool = False
    """It is to be raised, and head room does not leave that."""
    is_beside: bool = False
    """It is no part: the room of the whole load to the slope's face."""

    @property
    def has_gap(self) -> bool:
        """False for a part that meets nothing."""
        return self.value.text != shown.NONE


def capital(text: str) -> str:
    """A text with its first letter as a capital."""
    return text[:1].upper() + text[1:]


def panel_look(
    readings: Readings, rig: RigUnit, watched: Watched, system: System, *, state: str, is_moving: bool
) -> PanelLook:
    """The panel of one unit; `state` is its pill's word."""
    unit, name = readings.units[rig.place], rig.name
    lines = tuple(_line_look(readings.lines[line.place], line, watched, system) for line in rig.lines)
    is_slack, stalls = all(readings.lines[line.place].slack for line in rig.lines), unit.stall
    word = say("panel.stall") if stalls else say("panel.slack") if is_slack else ""
    slewed = shown.angle(unit.slew_rad, decimals=0)
    return PanelLook(
        state=state,
        is_moving=is_moving,
        line_word=word,
        line_load=Marked(shown.load(unit.line_load_N, system), Level.CAUTION if stalls else Level.GOOD),
        share=shown.percent(nan if is_slack else unit.share),
        capacity=Marked(capacity_shown(unit.capacity_used), watched.level(f"{name}.capacity")),
        capacity_share=round(min(unit.capacity_used, MOST_SHARE) * 200.0) / 200.0,
        reach=shown.length(unit.reach_m, system),
        boom=shown.length(unit.boom_length_m, system),
        raised=shown.angle(unit.elevation_rad, decimals=0),
        slewed=slewed,
        slew_way=0 if slewed.text == "0" else 1 if unit.slew_rad > 0 else -1,
        head_room=lines[0].head_room,
        rope_left=lines[0].rope_left,
        lines=lines if len(lines) > 1 else (),
    )


def _line_look(now: LineReadings, line: RigLine, watched: Watched, system: System) -> LineLook:
    word = say("panel.stall") if now.stall else say("panel.slack") if now.slack else ""
    return LineLook(
        line.number,
        word,
        Marked(
            shown.load_in_thousands(now.line_load_N, system),
            Level.CAUTION if now.stall else watched.level(f"{line.name}.slack"),
        ),
        Marked(shown.length(now.head_room_m, system), watched.level(f"{line.name}.head_room")),
        Marked(shown.length(now.rope_left_m, system, decimals=0), watched.level(f"{line.name}.rope_left")),
    )


def without_loads(look: PanelLook) -> PanelLook:
    """The panel with what the line carries hidden by the instructor; what warns stays."""
    nothing = shown.Shown(shown.NONE, "")
    lines = tuple(line._replace(load=line.load._replace(value=nothing._replace(unit=line.load.value.unit)))
                  for line in look.lines)  # fmt: skip
    return look._replace(line_load=Marked(nothing, look.line_load.level), share=nothing, lines=lines)


def capacity_shown(share: float) -> Shown:
    """Capacity used; a word where the rating table has no value for so long a radius."""
    return shown.percent(share) if isfinite(share) else Shown(say("panel.no_rating"), "")


def board_look(
    unit: UnitReadings,
    name: str,
    watched: Watched,
    system: System,
    *,
    resting_N: FourNewtons | None,
    light_share: float,
    full_N: float,
    off_level_rad: float = nan,
) -> BoardLook:
    """The outrigger board of one unit, by its name; a tile is full at `full_N`, light under `light_share` of rest."""
    least = least_float(unit, resting_N)
    levels = [level for key, level in watched.levels.items() if key.startswith(f"{name}.float.")]
    overpressed = max(range(4), key=lambda i: unit.floats_N[i]) if watched.level(f"{name}.ground") else -1
    tiles = tuple(
        _tile(unit.floats_N[i], levels[i] if levels else Level.GOOD, system, i == least, i == overpressed, full_N)
        for i in range(4)
    )
    spare_N = _spare_N(unit, least, resting_N, light_share)
    word = "board.spare" if not spare_N < 0 else "board.short"
    return BoardLook(
        unit=shown.load_heading(system),
        tiles=tiles,
        spare=say(word, value=shown.load_in_thousands(abs(spare_N), system).text) if isfinite(spare_N) else "",
        tipping=unit.tipping,
        lean=say("board.lean", value=shown.angle(off_level_rad).joined) if isfinite(off_level_rad) else "",
    )


def table_look(load: LoadReadings, watched: Watched, system: System) -> TableLook:
    """The load table; a load that lies has no sway and no period, whatever the tips over it do."""
    pitch, is_free = shown.angle(load.pitch_rad), hangs(load)
    way = "table.level" if pitch.text == "0.0" else "table.nose_up" if load.pitch_rad > 0 else "table.nose_down"
    return TableLook(
        pitch=Marked(pitch, watched.level("pitch")),
        way=say(way),
        sway=Marked(shown.length(load.sway_m if is_free else nan, system, decimals=2), watched.level("sway")),
        period=shown.seconds(load.sway_period_s if is_free else nan),
        height=shown.length(load.height_over_road_m, system, signed=True),
    )


def part_looks(
    readings: Readings, watched: Watched, system: System, *, order: tuple[str, ...], most: int = 5
) -> tuple[PartLook, ...]:
    """The strip's columns, numbered in `order` (part names); the least clear ones if there are too many. The room
    to the slope's face stands last, while there is one beside a load that hangs.

    None at all while no part has anything to meet. A part that meets nothing has no gap, and counts as clearest.
    """
    beside = _to_slope(readings, watched, system) if hangs(readings.load) and isfinite(readings.slope_room_m) else ()
    if not any(isfinite(row.gap_m) for row in readings.gaps):
        return beside
    kept = sorted(readings.gaps, key=lambda row: row.gap_m if isfinite(row.gap_m) else inf)[: most - len(beside)]
    rows = sorted(kept, key=lambda row: order.index(row.part))
    parts = tuple(
        PartLook(
            number,
            capital(row.part),
            shown.gap(row.gap_m, system),
            Level.CAUTION if row.state == "cannot raise" else watched.level(f"gap.{row.part}"),
            row.state in TO_RAISE,
            row.part,
            row.state == "cannot raise",
        )
        for number, row in enumerate(rows, 1)
    )
    return (*parts, *beside)


def _to_slope(readings: Readings, watched: Watched, system: System) -> tuple[PartLook]:
    """The room to the slope's face as a column."""
    value, name = shown.gap(readings.slope_room_m, system), say("strip.to_slope")
    return (PartLook(0, name, value, watched.level("slope"), False, "", is_beside=True),)


def _tile(reaction_N: float, level: Level, system: System, least: bool, overpressed: bool, full_N: float) -> TileLook:
    text = shown.load_in_thousands(reaction_N, system).text
    is_up = reaction_N < 1.0
    word = say("board.up") if is_up else say("board.ground") if overpressed else ""
    fill = 1.0 if overpressed else min(1.0, round(20.0 * reaction_N / full_N) / 20.0)
    return TileLook(text, fill, Level.STOP if is_up else level, least, word)


def _spare_N(unit: UnitReadings, least: int, resting_N: FourNewtons | None, light_share: float) -> float:
    share = float_share(unit, least, resting_N)
    rest_N = resting_N[least] if resting_N else unit.floats_N[least] / share if share > 0 else nan
    return unit.floats_N[least] - light_share * rest_N
