"""The drive screen: people's keys to commands, commands to fixed steps, readings to the picture."""

from __future__ import annotations

from time import perf_counter

import pygame

from simulator.window.bindings import SEATS, STOP_KEY
from simulator.window.camera import Camera
from simulator.window.canvas import Canvas
from simulator.window.coach_words import Situation
from simulator.window.gamepads import find_gamepads
from simulator.window.insets import Insets
from simulator.window.layout import screen_sign
from simulator.window.lift import Begin, Choice, begin_attempt, ended_words, is_moving, partners, stage_of
from simulator.window.measures_shown import System, speed
from simulator.window.overlay import Overlay
from simulator.window.pace import Pace
from simulator.window.readouts import Readouts
from simulator.window.screens.cards import PauseCard, SummaryCard, lay_veil
from simulator.window.screens.keys import KeysScreen
from simulator.window.screens.screen import STAY, Go
from simulator.window.seats import Seats
from simulator.window.side_view import SideView
from simulator.window.sounds import Sounds
from simulator.window.tally import Tally, raised
from simulator.window.thresholds import Level
from simulator.words import say

INSET_EVERY = 2
"""Frames from one inset to the other."""
LONGEST_INSET_WAIT = 3
"""Frames after which an inset is drawn though panels are due."""
STEPS_AT_ONCE = 4
PHYSICS_SHARE_S = 0.025
"""Wall time a frame gives to physics before it drops what is still owed."""
STILL_MOVING_S = 0.8
"""MOVE stays this long after the last motion, so that it does not flicker."""


class DriveScreen:
    """One lift on the screen."""

    def __init__(self, choice: Choice, system: System = "metric", *, begin: Begin = begin_attempt) -> None:
        self.choice, self.system = choice, system
        description = choice.description
        self.lift = begin(description, partners(description, choice.who))
        self.seats = Seats(description)
        self.seats.pads = find_gamepads()
        self.pace = Pace(description.engine.steps_per_s)
        self.camera = Camera(sign=screen_sign(description))
        self.readouts = Readouts(description, self.lift.readings, system)
        self.tally = Tally()
        self.side_view = SideView(description, system=system)
        self.insets = Insets(description, system=system)
        self.sounds = Sounds()
        self.over: PauseCard | KeysScreen | SummaryCard | None = None
        self._overlay: Overlay | None = None
        self._moved_s = [STILL_MOVING_S, STILL_MOVING_S]
        self._pad_stop = False
        self._summed_up = False
        self._inset_turn = 0
        self._frames_without_inset = 0

    # Events -----------------------------------------------------------------------------------------------------

    def take_event(self, event: pygame.event.Event) -> Go:
        """Keys of the seats, of the screen, and of whatever lies over it."""
        if self.over is not None:
            return self._go(self.over.take_event(event))
        self.seats.take_event(event)
        if event.type in (pygame.JOYDEVICEADDED, pygame.JOYDEVICEREMOVED):
            self._change_pads(event.type == pygame.JOYDEVICEREMOVED)
        if event.type == pygame.KEYDOWN:
            self._press(event)
        return STAY

    def _press(self, event: pygame.event.Event) -> None:
        if event.scancode == STOP_KEY:
            self.stop_or_go_on()
        elif event.key == pygame.K_ESCAPE:
            self._cover(PauseCard())
        elif event.key == pygame.K_F1:
            self._cover(KeysScreen(self.choice.description.limits, labels=self.seats.labels, is_paused=True))
        elif event.key in (pygame.K_MINUS, pygame.K_KP_MINUS):
            self.pace.faster(-1)
        elif event.key in (pygame.K_PLUS, pygame.K_EQUALS, pygame.K_KP_PLUS):
            self.pace.faster(+1)
        elif event.scancode == pygame.KSCAN_V:
            self.camera.zoom(-1)
        elif event.scancode == pygame.KSCAN_N:
            self.camera.zoom(+1)
        elif event.scancode == pygame.KSCAN_B:
            self.camera.automatic()
        elif event.scancode == pygame.KSCAN_M:
            self.sounds.is_muted = not self.sounds.is_muted

    def stop_or_go_on(self) -> None:
        """The STOP key: both units hold; pressed again, they may go on."""
        self.seats.let_go()
        if self.lift.stopped:
            self.lift.resume()
        else:
            self.lift.stop()

    def _go(self, go: Go) -> Go:
        """Answers of what lies over the lift that are settled here."""
        if go.to == "back":
            self._uncover()
        elif go.to == "keys":
            self.over = KeysScreen(self.choice.description.limits, labels=self.seats.labels, is_paused=True)
        elif go.to == "finish":
            self._sum_up()
        elif go.to == "again":
            return Go("lift", self.choice)
        else:
            return go
        return STAY

    def _cover(self, card: PauseCard | KeysScreen | SummaryCard) -> None:
        self.seats.let_go()
        self.pace.paused = True
        self.over = card

    def _uncover(self) -> None:
        self.over, self.pace.paused = None, False
        self.readouts.redraw_all()

    def _change_pads(self, was_removed: bool) -> None:
        had = len(self.seats.pads)
        self.seats.pads = find_gamepads()
        if was_removed and len(self.seats.pads) < had:
            self._cover(PauseCard(words=say("pause.lost_pad")))

    def _sum_up(self) -> None:
        self._summed_up = True
        title = say("summary.landed" if self.lift.readings.load.landed else "summary.ended")
        words = say("summary.yours") if self.lift.readings.load.landed else ended_words(self.lift)
        self._cover(SummaryCard(title, words, self.tally, self.readouts.ends, self.system))

    # Frames -----------------------------------------------------------------------------------------------------

    def renew(self, canvas: Canvas) -> None:
        """Everything again on a new canvas."""
        self._overlay = Overlay(self.choice.description, canvas)
        self._overlay.renew(self.readouts, self.seats.labels)
        self.readouts.redraw_all()
        canvas.clear()
        self._draw_insets(canvas, both=True)

    def frame(self, canvas: Canvas, elapsed_s: float) -> None:
        """Physics for the time that passed, then the picture."""
        if self._overlay is None:
            self.renew(canvas)
        if isinstance(self.over, KeysScreen):
            self.over.frame(canvas, elapsed_s)
            return
        if self.over is None:
            self.advance(elapsed_s)
        self.draw(canvas, elapsed_s)
        if self.over is not None:
            self.readouts.redraw_all()
            self.readouts.draw_due(canvas, most=99)
            self._draw_insets(canvas, both=True)
            lay_veil(canvas)
            self.over.draw(canvas)

    def advance(self, elapsed_s: float) -> None:
        """Run the fixed steps that are due; drop what the machine cannot run in time."""
        self._hand_over()
        owed = self.pace.owe(elapsed_s)
        until = perf_counter() + PHYSICS_SHARE_S
        done = 0
        while done < owed and perf_counter() < until and not self.lift.ended:
            steps = min(STEPS_AT_ONCE, owed - done)
            commands = self.seats.commands(steps / self.pace.steps_per_s)
            self.lift.advance(commands, steps)
            done += steps
        self.pace.done(owed if self.lift.ended else done)
        self._note_motion(elapsed_s)

    def draw(self, canvas: Canvas, elapsed_s: float) -> None:
        """Scene, what lies on it, and the panels that changed."""
        readings = self.lift.readings
        self.camera.follow(elapsed_s, readings)
        is_new = self.readouts.follow(readings, elapsed_s, self._situation())
        assert self._overlay is not None
        if is_new:
            self._take_note()
            self._overlay.renew(self.readouts, self.seats.labels)
        levels = (self.readouts.off_plumb_level(0), self.readouts.off_plumb_level(1))
        self.side_view.draw(canvas, self.camera, readings, levels=levels)
        self._overlay.draw(canvas, self.camera, readings, self.readouts)
        drawn = self.readouts.draw_due(canvas)
        self._frames_without_inset += 1
        if self._frames_without_inset >= (LONGEST_INSET_WAIT if drawn else INSET_EVERY):
            self._draw_insets(canvas)
        if self.lift.ended and not self._summed_up:
            self._sum_up()

    def _take_note(self) -> None:
        """Tally and sound of what the readouts have just come to."""
        before, now = self.readouts.before, self.readouts.watched
        self.tally.take(self.readouts.readings, before, now)
        for level in (Level.STOP, Level.CAUTION):
            if raised(before, now, level):
                self.sounds.play(level)
                return

    def _draw_insets(self, canvas: Canvas, *, both: bool = False) -> None:
        self._frames_without_inset = 0
        self._inset_turn = 1 - self._inset_turn
        if self._inset_turn or both:
            self.insets.draw_section(canvas, self.lift.readings)
        if not self._inset_turn or both:
            self.insets.draw_plan(canvas, self.lift.readings)

    def _hand_over(self) -> None:
        """A seat that is touched takes its unit from the automatic operator; a gamepad may stop both."""
        for side, seat in enumerate(SEATS):
            if self.seats.touched(seat):
                self.lift.operators[self.readouts.ends[side]] = None
        pad_stop = self.seats.any_stop_on_pads()
        if pad_stop and not self._pad_stop:
            self.stop_or_go_on()
        self._pad_stop = pad_stop

    def _note_motion(self, elapsed_s: float) -> None:
        description = self.choice.description
        for side, end in enumerate(self.readouts.ends):
            moving = is_moving(description.units[end], self.lift.readings.units[end])
            self._moved_s[side] = 0.0 if moving else self._moved_s[side] + elapsed_s

    def _situation(self) -> Situation:
        left, right = self.readouts.ends
        operators = self.lift.operators
        automatic = (operators[left] is not None, operators[right] is not None)
        stage = stage_of(operators)
        return Situation(
            moving=(self._moved_s[0] < STILL_MOVING_S, self._moved_s[1] < STILL_MOVING_S),
            automatic=automatic,
            is_stopped=self.lift.stopped,
            has_ended=self.lift.ended,
            label=say("coach.step", index=stage.number, count=stage.last) if stage else "",
            title=stage.title if stage else "",
            progress=(stage.number, stage.last) if stage else None,
            prompt=say("coach.demo_prompt") if all(automatic) else "",
            speed=speed(self.pace.shown_speed),
            is_slow=self.pace.is_slow,
        )
