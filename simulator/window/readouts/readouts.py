"""All readouts of one lift: follows the readings, keeps every look, draws a panel only when its look changed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.retold import retold
from simulator.scenario.rig import rig_of
from simulator.window.hands.bindings import Labels
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import DRIVE_KEYS, DRIVE_KEYS_ALONE, draw_caution_line
from simulator.window.kit.levels import Level, Marked
from simulator.window.kit.measures_shown import NONE, Shown, System, clock
from simulator.window.kit.regions import Region, parts_as_seen
from simulator.window.kit.seen import SeenUnit, layout_of, seen_of
from simulator.window.readouts import looks
from simulator.window.readouts.alert_words import AlertLook, alert_look, as_seen
from simulator.window.readouts.alerts import Watched, look, watch_list
from simulator.window.readouts.coach_strip import CoachLook, draw_coach_strip
from simulator.window.readouts.coach_words import Situation, call
from simulator.window.readouts.drill_alerts import DrillAlert, stand
from simulator.window.readouts.fix_chips import Advice, advise
from simulator.window.readouts.load_near_units import LoadNearUnits, judged
from simulator.window.readouts.panels import draw_clearance_strip, draw_load_table, draw_unit_panel
from simulator.window.readouts.resting_floats import RestingFloats
from simulator.window.readouts.steady import Steady
from simulator.window.readouts.turning import GaugeLook, Turning, gauge_look, line_rows, strip_look
from simulator.window.readouts.turning_panels import TurnPanelLook, TurnStripLook, draw_turn_panel, draw_turn_strip
from simulator.window.readouts.weighing_panel import WeighLook, draw_weigh_panel
from simulator.words import say

Draw = Callable[[Canvas, Any], None]
PANELS_A_FRAME = 2


def _draw_strip(canvas: Canvas, look: WeighLook | TurnStripLook | tuple[looks.PartLook, ...]) -> None:
    """What the load tells while it is held, or what a turn asks for; columns of clearance at any other time."""
    if isinstance(look, WeighLook):
        draw_weigh_panel(canvas, look)
    elif isinstance(look, TurnStripLook):
        draw_turn_strip(canvas, look)
    else:
        draw_clearance_strip(canvas, look)


def _draw_panel(
    canvas: Canvas,
    look: looks.PanelLook | TurnPanelLook,
    *,
    region: Region,
    seen: SeenUnit,
    marks: tuple[float, float],
) -> None:
    """A unit's panel, or the one that it has while the load is turned."""
    if isinstance(look, TurnPanelLook):
        draw_turn_panel(canvas, look, region=region, seen=seen, marks=marks)
    else:
        draw_unit_panel(canvas, look, region=region, seen=seen, marks=marks)


class Readouts:
    """Levels, advice and looks of one lift."""

    def __init__(self, description: Description, readings: Readings, system: System) -> None:
        self.description = description
        self.system: System = system
        self.seen = seen_of(description)
        self.standing = RestingFloats(description)
        parts = tuple(part.name for part in description.trailer.parts)
        self._watches = watch_list(description.limits, parts, self.standing.resting, rig_of(description))
        self._order = parts_as_seen(description)
        self._steady = Steady(readings)
        self._load_near_units = LoadNearUnits(description)
        self.readings = readings
        self.watched = Watched()
        self.before = Watched()
        self.advice: tuple[Advice, ...] = tuple(Advice("leave") for _ in description.units)
        """Unit by unit, in the rig's order."""
        self.parts: tuple[looks.PartLook, ...] = ()
        self._of_drill: tuple[DrillAlert, ...] = ()
        self._drawers = self._panel_drawers()
        self.shows_loads = True
        self.is_across = False
        """The large section stands in the scene: panels and strip show what a turn asks for."""
        self.labels = Labels()
        self._turning = Turning(description)
        self.gauge: GaugeLook = gauge_look(self._turning, readings)
        self.is_stopped = False
        """A stop order holds every unit: its band takes the head of the scene."""
        self._looks: dict[str, Any] = {}
        self._due: list[str] = []

    def follow(self, readings: Readings, elapsed_s: float, situation: Situation) -> bool:
        """Take a frame's readings; answer whether the texts were brought up to date."""
        self.is_stopped = situation.is_stopped and not situation.has_ended
        smooth, is_new = self._steady.follow(readings, elapsed_s, is_over=situation.has_ended)
        if is_new:
            is_near, close_m = self._load_near_units.is_near(smooth.load), self.description.limits.gap_close_m
            self.readings = smooth._replace(gaps=judged(smooth.gaps, is_near=is_near, close_m=close_m))
            self.before, self.watched = self.watched, look(self._watches, self.readings, self.watched)
            self._of_drill = stand(self._of_drill, situation.cautions, readings.time_s)
            allowed = self.standing.allowed(self.readings)
            self.advice = advise(
                self.description,
                self.readings,
                allowed,
                before=self.advice,
                automatic=self._in_rig_order(situation.automatic),
                held=self._in_rig_order(situation.held),
            )
            self.parts = looks.part_looks(self.readings, self.watched, self.system, order=self._order)
            if self.is_across:
                self.gauge = gauge_look(self._turning, self.readings, self.gauge.differ_level)
        if is_new or situation.has_ended:
            self._renew(situation)
        return is_new

    def _in_rig_order(self, seen: tuple[bool, ...]) -> tuple[bool, ...]:
        """What is said of the units from left to right, in the rig's order."""
        rows = sorted(zip((one.place for one in self.seen.units), seen, strict=True))
        return tuple(row for _, row in rows)

    def as_seen(self, text: str) -> str:
        """A text with units named by the side they are seen on."""
        return as_seen(text, self.seen)

    def off_plumb_level(self, place: int) -> Level:
        """How much a unit's lines lean, together."""
        return self.watched.level(f"{self.description.units[place].name}.off_plumb")

    def board_look(self, place: int) -> looks.BoardLook:
        """The outrigger board of one unit."""
        unit = self.description.units[place]
        floats = unit.floats
        full_N = self.description.site.soil.allowable_bearing_Pa * floats.pad_side_m**2
        return looks.board_look(
            self.readings.units[place],
            unit.name,
            self.watched,
            self.system,
            resting_N=self.standing.resting[place],
            light_share=self.description.limits.light_float_share,
            full_N=full_N,
            off_level_rad=self.standing.off_level_rad(place, self.readings),
        )

    def redraw_all(self) -> None:
        """Everything must be drawn again: the window was changed or covered."""
        self._due = list(self._drawers)

    def draw_due(self, canvas: Canvas, *, most: int = PANELS_A_FRAME) -> int:
        """Draws the panels whose look changed, at most so many; returns how many."""
        now, self._due = self._due[:most], self._due[most:]
        for name in now:
            if name in self._looks:
                self._drawers[name](canvas, self._looks[name])
        return len(now)

    def _panel_drawers(self) -> dict[str, Draw]:
        marks = (self.description.limits.capacity_caution, self.description.limits.capacity_stop)
        return {
            "coach": draw_coach_strip,
            **{
                seen.where: partial(_draw_panel, region=region, seen=seen, marks=marks)
                for seen, region in zip(self.seen.units, layout_of(self.seen).panels, strict=True)
            },
            "strip": _draw_strip,
            "table": draw_load_table,
            "line": lambda canvas, row: draw_caution_line(
                canvas, DRIVE_KEYS_ALONE if self.seen.is_alone else DRIVE_KEYS
            ),
        }

    def _renew(self, situation: Situation) -> None:
        new: dict[str, Any] = {
            "coach": self._coach(situation),
            **{seen.where: self._panel(seen, *now) for seen, *now in self._hands_on(situation)},
            "strip": self._strip(situation),
            "table": looks.table_look(self.readings.load, self.watched, self.system),
            "line": True,
        }
        for name, row in new.items():
            if self._looks.get(name) != row:
                self._looks[name] = row
                if name not in self._due:
                    self._due.append(name)

    def _strip(self, situation: Situation) -> WeighLook | TurnStripLook | tuple[looks.PartLook, ...]:
        if self.shows_loads and situation.weighing:
            return situation.weighing
        if self.is_across and self.shows_loads:
            return TurnStripLook(strip_look(self._turning, self.readings, self.watched, self.system))
        return self.parts

    def _hands_on(self, situation: Situation) -> Iterator[tuple[SeenUnit, bool, bool]]:
        """Each unit, whether it moves and whether it is driven by itself; a unit that is held does neither."""
        is_held = situation.is_stopped or situation.has_ended or self.watched.worst is Level.STOP
        rows = zip(self.seen.units, situation.moving, situation.automatic, strict=True)
        for seen, moves, is_automatic in rows:
            yield seen, moves and not is_held, is_automatic and not is_held

    def _panel(self, seen: SeenUnit, is_moving: bool, is_automatic: bool) -> looks.PanelLook | TurnPanelLook:
        word = "panel.auto" if is_automatic else "panel.move" if is_moving else "panel.hold"
        row = looks.panel_look(
            self.readings, seen.unit, self.watched, self.system, state=say(word), is_moving=is_moving
        )
        row = row if self.shows_loads else looks.without_loads(row)
        if not self.is_across:
            return row
        lines = line_rows(self.readings, seen, self.watched, self.system, self.labels, self.description)
        hidden = Marked(Shown(NONE, ""))
        return TurnPanelLook(row, lines if self.shows_loads else tuple(line._replace(load=hidden) for line in lines))

    def _coach(self, situation: Situation) -> CoachLook:
        advice = tuple(self.advice[seen.place] for seen in self.seen.units)
        levels = tuple(self.off_plumb_level(seen.place) for seen in self.seen.units)
        said = call(self.readings, self.watched, advice, levels, situation, self.seen)
        return CoachLook(
            units=self.seen.units,
            label=situation.label or say("coach.lift"),
            title=situation.title or retold(self.description.title, us=self.system == "us"),
            progress=situation.progress,
            mover=said.mover,
            mover_words=said.words,
            prompt=said.prompt,
            alert=self._alert(situation),
            time=clock(self.readings.time_s),
            speed=situation.speed,
            is_slow=situation.is_slow,
            score=situation.score,
        )

    def _alert(self, situation: Situation) -> AlertLook | None:
        """What ended the lift stands over all that came before it."""
        if situation.incident:
            return AlertLook(Level.STOP, say("alert.incident", what=situation.incident), 1)
        return alert_look(self.watched, self.readings, self.seen, self.system, drill=self._of_drill)
