"""The whole picture of one lift: the scene, panels, boards, tags and insets in turn; or all at once.

The scene is drawn every frame, and every second one while a load is turned over.
"""

from __future__ import annotations

from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.window.hands.bindings import Labels
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.measures_shown import System
from simulator.window.kit.regions import SCENE, screen_sign
from simulator.window.kit.seen import seen_of
from simulator.window.readouts.coach_words import Situation, at_rest
from simulator.window.readouts.overlay import Overlay
from simulator.window.readouts.readouts import Readouts
from simulator.window.scene.camera import Camera
from simulator.window.scene.insets import Insets
from simulator.window.scene.side_view import SideView
from simulator.window.scene.turn_view import TurnView
from simulator.window.scene.weight_marks import WeightMarks, draw_weight_marks
from simulator.window.shell.lift import unit_moves

JOBS_A_FRAME = 2
"""Panels, boards, tags or insets drawn in one frame; a frame that zooms, or that reckons the readouts, draws one."""
INSET_EVERY = 3
"""Frames from one inset to the other: each is drawn ten times a second."""
LONGEST_INSET_WAIT = 6
"""Frames after which an inset is drawn though others are due."""
ACROSS_EVERY = 2
"""Frames from one picture of the large section to the next: a load is turned over slowly, by a pixel or two a frame."""
ALL = 99


class LiftPicture:
    """Draws one lift; knows what is due."""

    def __init__(self, description: Description, canvas: Canvas, system: System) -> None:
        self.side_view = SideView(description, system=system)
        self.insets = Insets(description, system=system)
        self.turn_view = TurnView(description, system)
        self.overlay = Overlay(description, canvas)
        self._sign = screen_sign(description)
        self._section_is_next = True
        self._frames_without_inset = 0
        self._frames_across = 0
        """Since the large section came to stand in the scene."""
        self.weight_marks: WeightMarks | None = None
        """Where the load's weight is, while it is being told."""

    def draw(
        self, canvas: Canvas, camera: Camera, readings: Readings, readouts: Readouts, labels: Labels, *, is_new: bool
    ) -> None:
        """One frame; `is_new` when the readouts have just been brought up to date."""
        if is_new:
            self.overlay.note(readouts, labels)
        if self._is_scene_due(is_across=readouts.is_across):
            self._scene(canvas, camera, readings, readouts)
        jobs = 1 if is_new or camera.is_easing else JOBS_A_FRAME
        self._frames_without_inset += 1
        if self._frames_without_inset >= LONGEST_INSET_WAIT:
            jobs -= self._inset(canvas, readings, is_across=readouts.is_across)
        jobs -= self.overlay.draw_due(jobs)
        jobs -= readouts.draw_due(canvas, most=jobs)
        if jobs > 0 and self._frames_without_inset >= INSET_EVERY:
            self._inset(canvas, readings, is_across=readouts.is_across)

    def draw_all(self, canvas: Canvas, camera: Camera, readings: Readings, readouts: Readouts, labels: Labels) -> None:
        """Everything at once: the first frame, a still, or what lies under a card."""
        self.overlay.renew(readouts, labels)
        self._scene(canvas, camera, readings, readouts)
        self._left_inset(canvas, readings, is_across=readouts.is_across)
        self.insets.draw_plan(canvas, readings)
        readouts.redraw_all()
        readouts.draw_due(canvas, most=ALL)

    def _is_scene_due(self, *, is_across: bool) -> bool:
        self._frames_across = self._frames_across + 1 if is_across else 0
        return not is_across or self._frames_across % ACROSS_EVERY == 1

    def _scene(self, canvas: Canvas, camera: Camera, readings: Readings, readouts: Readouts) -> None:
        if readouts.is_across:
            self.turn_view.draw(canvas, readings)
            self.overlay.draw_across(canvas, readings, readouts, sign=self._sign)
            return
        levels = tuple(readouts.off_plumb_level(place) for place in range(len(readings.units)))
        self.side_view.draw(canvas, camera, readings, levels=levels)
        if self.weight_marks is not None:
            with canvas.clip(*SCENE):
                draw_weight_marks(canvas, camera, readings.load, self.weight_marks)
        self.overlay.draw(canvas, camera, readings, readouts)

    def _left_inset(self, canvas: Canvas, readings: Readings, *, is_across: bool) -> None:
        """The section; the side view while the section stands large in the scene."""
        (self.insets.draw_side if is_across else self.insets.draw_section)(canvas, readings)

    def _inset(self, canvas: Canvas, readings: Readings, *, is_across: bool) -> int:
        """The one inset whose turn it is; answers 1, a job done."""
        self._frames_without_inset = 0
        if self._section_is_next:
            self._left_inset(canvas, readings, is_across=is_across)
        else:
            self.insets.draw_plan(canvas, readings)
        self._section_is_next = not self._section_is_next
        return 1


def draw_still(
    canvas: Canvas,
    description: Description,
    readings: Readings,
    system: System = "metric",
    *,
    situation: Situation | None = None,
    is_across: bool = False,
) -> None:
    """Draws everything of the drive screen once; `is_across` with the views swapped."""
    seen = seen_of(description)
    moving = tuple(unit_moves(description, readings, unit) for unit in seen.units)
    camera = Camera(sign=screen_sign(description))
    camera.follow(0.0, readings)
    readouts = Readouts(description, readings, system)
    readouts.is_across = is_across
    readouts.follow(readings, 0.0, situation or at_rest(seen, moving=moving))
    canvas.clear()
    LiftPicture(description, canvas, system).draw_all(canvas, camera, readings, readouts, Labels())
