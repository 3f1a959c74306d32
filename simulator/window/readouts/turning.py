"""What an operator needs while a load is turned over: how far each end is, what each line carries, which way it runs.

From readings to values that are drawn, compared and tested; nothing is drawn here.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import copysign, degrees, inf, isfinite, nan, radians
from typing import NamedTuple

from simulator.mechanics.end_turns import (
    SLOW_FROM_RAD,
    LineWay,
    end_roll_rad,
    in_load_axes,
    line_ways,
    next_corner_rad,
    way,
)
from simulator.mechanics.sling import shell_bears_Pa
from simulator.mechanics.trailer_body import Vector
from simulator.readings import LineReadings, Readings
from simulator.scenario.description import Description
from simulator.scenario.rig import RigLine, RigUnit, rig_of
from simulator.window.hands.bindings import Labels, find_binding, seat_of
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.levels import Level, Marked, Threshold
from simulator.window.kit.measures_shown import Shown, System
from simulator.window.kit.seen import Seen, SeenUnit, seen_of
from simulator.window.readouts.alerts import Watched
from simulator.words import say

ENDS_DIFFER = Threshold(radians(3.0), inf, True, radians(0.3))
"""Caution; 7 degrees is what one end a tenth faster comes to over a quarter turn (own calculation). Common practice, no
source."""
STILL_MPS = 0.005
"""Line speed under which a line stands still."""
HALF_DEGREES = 2.0
"""Needles move in steps of half a degree, so that the gauge changes only when it shows."""


class Turned(NamedTuple):
    """How far the load is turned over; radians, positive the way it is to be set down, else that of line 1 out."""

    body_rad: float
    ends_rad: tuple[float, ...]
    """Of each unit, in the rig's order: where its own lines would bring it."""

    @property
    def differ_rad(self) -> float:
        """How far the ends are apart."""
        known = [end for end in self.ends_rad if isfinite(end)]
        return max(known) - min(known) if len(known) > 1 else 0.0

    @property
    def ahead(self) -> int | None:
        """Place of the unit whose end is ahead."""
        if self.differ_rad < radians(0.5):
            return None
        return max(range(len(self.ends_rad)), key=lambda n: self.ends_rad[n] if isfinite(self.ends_rad[n]) else -inf)


class Turning:
    """Reads one lift for its turn; what never changes is reckoned once."""

    def __init__(self, description: Description) -> None:
        self.description = description
        self.rig, self.seen = rig_of(description), seen_of(description)
        trailer = description.trailer
        self._ways: tuple[tuple[LineWay, ...], ...] = tuple(
            line_ways(trailer, unit.lines) if len(unit.lines) > 1 else () for unit in self.rig.units
        )
        picks = [trailer.picks[line.pick] for line in self.rig.lines]
        self.bears = tuple((pick.corner_bears_N, shell_bears_Pa(trailer, pick)) for pick in picks)
        """What corners and shell are stated to bear under each line's sling; None: nobody knows."""
        lands = description.lands_turned_rad
        by_lines = next((way(ways) for ways in self._ways if ways), -1.0)
        self._way = copysign(1.0, lands) if lands else by_lines

    def sheave_m(self, readings: Readings, line: RigLine) -> Vector:
        """A line's sheave in the load's axes."""
        load, now = readings.load, readings.lines[line.place]
        angles = (load.pitch_rad, load.yaw_rad, load.roll_rad)
        return in_load_axes((now.tip_x_m, now.tip_y_m, now.tip_z_m), (load.x_m, load.y_m, load.z_m), angles)

    def turned(self, readings: Readings) -> Turned:
        """How far it is turned now."""
        roll = readings.load.roll_rad
        ends = tuple(self._way * self._end_roll_rad(readings, unit) for unit in self.rig.units)
        return Turned(self._way * roll, ends)

    def _end_roll_rad(self, readings: Readings, unit: RigUnit) -> float:
        ways = self._ways[unit.place]
        if not ways:
            return readings.load.roll_rad
        rows = [(one, line, readings.lines[line.place]) for one, line in zip(ways, unit.lines, strict=True)]
        if all(now.slack for *_, now in rows):
            return nan  # it hangs on nothing
        arms = tuple(one.arm_m(self.sheave_m(readings, line)) for one, line, _ in rows)
        stretches = tuple(now.sheave_to_hook_m - now.line_length_m for *_, now in rows)
        return end_roll_rad(readings.load.roll_rad, arms, stretches)


# Looks ------------------------------------------------------------------------------------------------------------


class Needle(NamedTuple):
    """One end on the gauge."""

    side: int
    degrees: float


class GaugeLook(NamedTuple):
    """The gauge of degrees."""

    text: str
    needles: tuple[Needle, ...]
    differ: str
    differ_level: Level
    corner_deg: int
    slow_from_deg: int
    words: str
    """What comes next."""
    yaw: str


def gauge_look(turning: Turning, readings: Readings, before: Level = Level.GOOD) -> GaugeLook:
    """The gauge now; `before` is the level at which its ends differed."""
    turned, seen = turning.turned(readings), turning.seen
    corner = next_corner_rad(turned.body_rad)
    needles = tuple(
        Needle(unit.side, round(HALF_DEGREES * degrees(turned.ends_rad[unit.place])) / HALF_DEGREES)
        for unit in seen.units
        if isfinite(turned.ends_rad[unit.place])
    )
    level = ENDS_DIFFER.level(turned.differ_rad, before)
    corner_deg, slow_deg = round(degrees(corner)), round(degrees(corner - SLOW_FROM_RAD))
    is_near = turned.body_rad > corner - SLOW_FROM_RAD - radians(0.5)
    words = say("turn.now_slowly" if is_near else "turn.stop_at", corner=corner_deg, stop=slow_deg)
    yaw = shown.angle(readings.load.yaw_rad)
    return GaugeLook(
        shown.number(degrees(turned.body_rad), 0), needles, _differ_words(turned, seen), level, corner_deg, slow_deg,
        words, say("turn.yaw", value=yaw.joined),
    )  # fmt: skip


def _differ_words(turned: Turned, seen: Seen) -> str:
    if seen.is_alone:
        return ""
    value = shown.angle(turned.differ_rad).joined
    if turned.ahead is None:
        return say("turn.ends_alike")
    return say(f"turn.ends_differ_{seen.of(turned.ahead).where}", value=value)


class LineRow(NamedTuple):
    """One line in the panel of its unit while the load is turned."""

    number: int
    load: Marked
    word: str
    """SLACK, STALL or nothing."""
    way: int
    """+1 in, -1 out, 0 still."""
    way_word: str
    speed: Shown
    key: str
    """Of the way it runs, or of the way that the turn asks for."""
    head_room: Marked
    rope_left: Marked


def line_rows(
    readings: Readings, seen: SeenUnit, watched: Watched, system: System, labels: Labels, description: Description
) -> tuple[LineRow, ...]:
    """The lines of one unit, with what runs and the key that does it."""
    return tuple(
        _line_row(readings.lines[line.place], line, seen, watched, system, labels, description)
        for line in seen.unit.lines
    )


def _line_row(
    now: LineReadings,
    line: RigLine,
    seen: SeenUnit,
    watched: Watched,
    system: System,
    labels: Labels,
    description: Description,
) -> LineRow:
    parts = description.units[seen.place].lines[line.number - 1].hoist.parts
    speed = now.hoist_speed_mps / parts
    runs = 0 if abs(speed) < STILL_MPS else 1 if speed > 0.0 else -1
    lever = "hoist" if len(seen.unit.lines) < 2 else f"hoist_{line.number}"
    asked = runs or (-1 if line.number == 1 else 1)
    word = say("panel.stall") if now.stall else say("panel.slack") if now.slack else ""
    level = Level.CAUTION if now.stall else watched.level(f"{line.name}.slack")
    return LineRow(
        line.number,
        Marked(shown.load_in_thousands(now.line_load_N, system), level),
        word,
        runs,
        say({0: "turn.still", 1: "turn.in", -1: "turn.out"}[runs]),
        shown.slow_speed(abs(speed) if runs else 0.0, system),
        labels.of(find_binding(lever, asked).scancode(seat_of(seen))),
        Marked(shown.length(now.head_room_m, system), watched.level(f"{line.name}.head_room")),
        Marked(shown.length(now.rope_left_m, system, decimals=0), watched.level(f"{line.name}.rope_left")),
    )


class Column(NamedTuple):
    """One column of the strip under the scene."""

    label: str
    value: Marked
    words: str


def strip_look(turning: Turning, readings: Readings, watched: Watched, system: System) -> tuple[Column, ...]:
    """Lines 1, lines 2, the lightest line, how hard a sling presses, and the least gap."""
    return (
        *_sums(turning, readings, system),
        _lightest(turning, readings, watched, system),
        _pressed(turning, readings, system),
        _least_gap(readings, watched, system),
    )


def _sums(turning: Turning, readings: Readings, system: System) -> tuple[Column, ...]:
    total = sum(line.line_load_N for line in readings.lines)
    most = max(len(unit.lines) for unit in turning.rig.units)
    found = []
    for number in range(1, most + 1):
        own = [line for line in turning.rig.lines if line.number == number]
        value = sum(readings.lines[line.place].line_load_N for line in own)
        share = shown.percent(value / total if total > 0.0 else nan).joined
        label = say("turn.lines" if len(own) > 1 else "turn.line", number=number)
        found.append(Column(label, Marked(shown.load_in_thousands(value, system)), say("turn.share", share=share)))
    return tuple(found)


def _lightest(turning: Turning, readings: Readings, watched: Watched, system: System) -> Column:
    """The line nearest to slack, by its part of its own end's load."""

    def part(line: RigLine) -> float:
        own = sum(readings.lines[other.place].line_load_N for other in turning.rig.units[line.unit].lines)
        return readings.lines[line.place].line_load_N / own if own > 0.0 else inf

    line = min(turning.rig.lines, key=part)
    now, name = readings.lines[line.place], line_called(line, turning.seen)
    if now.slack:
        value = Marked(Shown(say("panel.slack"), ""), watched.level(f"{line.name}.slack"))
        return Column(say("turn.lightest"), value, name)
    words = say("turn.of_its_end", line=name, share=shown.percent(part(line)).joined)
    return Column(say("turn.lightest"), Marked(shown.load_in_thousands(now.line_load_N, system)), words)


def line_called(line: RigLine, seen: Seen) -> str:
    """A line as it is called in a word or two, by the side it is seen on."""
    unit = seen.of(line.unit)
    if len(unit.unit.lines) < 2:
        return say(f"turn.line_{unit.where}")
    return say(f"turn.numbered_{unit.where}", number=line.number)


def _pressed(turning: Turning, readings: Readings, system: System) -> Column:
    """Where a sling that lies on the load presses hardest: by what is stated to bear it, where that is stated."""
    found = [one for line in turning.rig.lines for one in _presses(turning, line, readings, system)]
    if not found:
        return Column(say("turn.sling_presses"), Marked(Shown(shown.NONE, "")), say("turn.none_lies"))
    used, _, value, words = max(found, key=lambda one: one[:2])
    level = Level.STOP if used >= 1.0 else Level.GOOD
    return Column(say("turn.sling_presses"), Marked(value, level), words)


def _presses(
    turning: Turning, line: RigLine, readings: Readings, system: System
) -> Iterator[tuple[float, float, Shown, str]]:
    """What one line presses at a corner and on a shell: used part of what bears it, size, value, words."""
    now, (corner_N, shell_Pa) = readings.lines[line.place], turning.bears[line.place]
    for value, bears, told, where in (
        (now.squeeze_N, corner_N, shown.load_in_thousands, "turn.at_corner"),
        (now.shell_pressure_Pa, shell_Pa, shown.pressure, "turn.on_shell"),
    ):
        if value <= 0.0:
            continue
        name = line_called(line, turning.seen)
        words = say(where, line=name) if bears is None else say("turn.bears", line=name, value=told(bears, system).text)
        yield 0.0 if bears is None else value / bears if bears > 0.0 else inf, value, told(value, system), words


def _least_gap(readings: Readings, watched: Watched, system: System) -> Column:
    met = [row for row in readings.gaps if isfinite(row.gap_m)]
    if not met:
        return Column(say("turn.least_gap"), Marked(Shown(shown.NONE, "")), say("turn.no_gap"))
    row = min(met, key=lambda row: row.gap_m)
    value = Marked(shown.gap(row.gap_m, system), watched.level(f"gap.{row.part}"))
    return Column(say("turn.least_gap"), value, row.part)
