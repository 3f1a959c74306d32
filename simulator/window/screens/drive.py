"""The drive screen: people's keys to commands, commands to fixed steps, readings to the picture."""

from __future__ import annotations

import gc
from time import perf_counter

import pygame

from simulator.window.bindings import SEATS, STOP_KEY
from simulator.window.camera import Camera
from simulator.window.canvas import Canvas
from simulator.window.coach_words import Situation
from simulator.window.desk import Desk
from simulator.window.gamepads import find_gamepads
from simulator.window.layout import CAUTION_LINE, screen_sign
from simulator.window.lift import (
    Begin,
    Choice,
    begin_attempt,
    drill_shown,
    ended_words,
    is_moving,
    partners,
    people,
    stage_of,
)
from simulator.window.lift_picture import LiftPicture
from simulator.window.measures_shown import System, speed
from simulator.window.notice import Notice
from simulator.window.pace import Pace
from simulator.window.readouts import Readouts
from simulator.window.screens.cards import PauseCard, SummaryCard, lay_veil
from simulator.window.screens.keys import KeysScreen
from simulator.window.screens.screen import STAY, Go
from simulator.window.screens.settings import SettingsScreen
from simulator.window.seats import Seats
from simulator.window.sounds import share_of_work
from simulator.window.tally import Tally, raised
from simulator.window.thresholds import Level
from simulator.words import say

Cover = PauseCard | KeysScreen | SettingsScreen | SummaryCard
"""What may lie over the lift."""
STEPS_AT_ONCE = 4
PHYSICS_SHARE_S = 0.025
"""Wall time a frame gives to physics before it drops what is still owed."""
STILL_MOVING_S = 0.8
"""MOVE stays this long after the last motion, so that it does not flicker."""


def _set_aside() -> None:
    """Spare the collector of rubbish what stays for the whole lift: to look through it takes three frames."""
    if gc.get_freeze_count():
        gc.unfreeze()
        gc.collect()
    gc.freeze()


class DriveScreen:
    """One lift on the screen."""

    def __init__(
        self, choice: Choice, system: System = "metric", *, begin: Begin = begin_attempt, desk: Desk | None = None
    ) -> None:
        self.choice, self.system, self.desk = choice, system, desk or Desk()
        description = choice.description
        self.lift = begin(description, partners(description, choice.who))
        self.seats = Seats(description)
        self.seats.pads = find_gamepads(people(choice.who) or SEATS)
        self.pace = Pace(description.engine.steps_per_s)
        self.camera = Camera(sign=screen_sign(description))
        self.readouts = Readouts(description, self.lift.readings, system)
        self.tally = Tally()
        self.sounds = self.desk.sounds
        self.notice = Notice()
        self.over: Cover | None = None
        self._picture: LiftPicture | None = None
        self._card_is_drawn = self._is_covered = False
        self._moved_s = [STILL_MOVING_S, STILL_MOVING_S]
        self.apply_settings()
        self._summed_up = False

    # Events -----------------------------------------------------------------------------------------------------

    @property
    def is_menu(self) -> bool:
        """Something to choose from lies over the lift."""
        return self.over is not None

    def take_event(self, event: pygame.event.Event) -> Go:
        """Keys of the seats, of the screen, and of whatever lies over it."""
        if self.over is None or event.type in (pygame.WINDOWFOCUSLOST, pygame.WINDOWFOCUSGAINED):
            self.seats.take_event(event)
        if event.type in (pygame.JOYDEVICEADDED, pygame.JOYDEVICEREMOVED):
            self._change_pads(event.type == pygame.JOYDEVICEREMOVED)
            return STAY
        if self.over is not None:
            self._card_is_drawn = False
            return self._go(self.over.take_event(event))
        if event.type == pygame.KEYDOWN:
            self._press(event)
        elif event.type == pygame.MOUSEBUTTONDOWN and event.pos[1] >= CAUTION_LINE.y:
            self._cover(PauseCard())
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
            self.desk.change(mute=not self.desk.settings.mute)
        elif event.key == pygame.K_F2:
            self.desk.change(units="us" if self.system == "metric" else "metric")
            self.apply_settings()

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
        elif go.to == "settings":
            self.over = SettingsScreen(self.desk)
        elif go.to == "finish":
            self._sum_up()
        elif go.to == "again":
            return Go("lift", self.choice)
        else:
            return go
        return STAY

    def apply_settings(self) -> None:
        """Bring the screen to the settings of the desk."""
        settings, description = self.desk.settings, self.choice.description
        self.seats.tap_to_hold = settings.tap_to_hold
        self.camera.reduced_motion = settings.reduced_motion
        if settings.units != self.system:
            self.system = settings.units
            self.readouts = Readouts(description, self.lift.readings, self.system)
            self._picture = None

    def wait(self, words: str) -> None:
        """Paused until the people say that they are ready."""
        self._cover(PauseCard(words=words))

    def _cover(self, card: Cover) -> None:
        self.seats.let_go()
        self.pace.paused = True
        self.over, self._card_is_drawn = card, False

    def _uncover(self) -> None:
        if isinstance(self.over, SettingsScreen):
            self.apply_settings()
        self.over, self.pace.paused = None, False
        self._is_covered = True

    def _change_pads(self, was_removed: bool) -> None:
        had = self.seats.pads
        self.seats.pads = find_gamepads(people(self.choice.who) or SEATS, had)
        is_lost = any(self.seats.pads.get(seat) is not pad for seat, pad in had.items())
        if was_removed and is_lost and not self._summed_up:
            self._cover(PauseCard(words=say("pause.lost_pad")))

    def _sum_up(self) -> None:
        self._summed_up = True
        title = say("summary.landed" if self.lift.readings.load.landed else "summary.ended")
        words = say("summary.yours") if self.lift.readings.load.landed else ended_words(self.lift, self.readouts.ends)
        note = self.desk.recording_fault()
        self._cover(SummaryCard(title, words, self.tally, self.readouts.ends, self.system, note=note))

    # Frames -----------------------------------------------------------------------------------------------------

    def renew(self, canvas: Canvas) -> None:
        """Everything again on a new canvas."""
        self._picture = LiftPicture(self.choice.description, canvas, self.system)
        self._card_is_drawn = False
        self.camera.follow(0.0, self.lift.readings)
        self.readouts.follow(self.lift.readings, 0.0, self._situation())
        canvas.clear()
        self._draw_all(canvas)
        _set_aside()

    def frame(self, canvas: Canvas, elapsed_s: float) -> None:
        """Physics for the time that passed, then the picture."""
        if self._picture is None:
            self.renew(canvas)
        if isinstance(self.over, KeysScreen | SettingsScreen):
            self.over.frame(canvas, elapsed_s)
            return
        if self.over is None:
            self.advance(elapsed_s)
            self._card_is_drawn = False
            self.draw(canvas, elapsed_s)
        if self.over is not None and not self._card_is_drawn:
            self._draw_all(canvas)
            lay_veil(canvas)
            self.over.draw(canvas)
            self._card_is_drawn = True
        self.sounds.work(share_of_work(self.choice.description, self.lift.readings, is_still=self.over is not None))

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
        if is_new:
            self._take_note()
        assert self._picture is not None
        if self._is_covered:
            self._draw_all(canvas)
        else:
            self._picture.draw(canvas, self.camera, readings, self.readouts, self.seats.labels, is_new=is_new)
        self.notice.draw(canvas, self.desk.recording_fault(), elapsed_s)
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

    def _draw_all(self, canvas: Canvas) -> None:
        assert self._picture is not None
        self._picture.draw_all(canvas, self.camera, self.lift.readings, self.readouts, self.seats.labels)
        self._is_covered = False

    def _hand_over(self) -> None:
        """A seat that is touched takes its unit from the automatic operator."""
        for side, seat in enumerate(SEATS):
            if self.seats.touched(seat):
                self.lift.operators[self.readouts.ends[side]] = None

    def _note_motion(self, elapsed_s: float) -> None:
        description = self.choice.description
        for side, end in enumerate(self.readouts.ends):
            moving = is_moving(description.units[end], self.lift.readings.units[end])
            self._moved_s[side] = 0.0 if moving else self._moved_s[side] + elapsed_s

    def _situation(self) -> Situation:
        left, right = self.readouts.ends
        operators = self.lift.operators
        automatic = (operators[left] is not None, operators[right] is not None)
        drill = drill_shown(self.lift)
        stage = drill.stage if drill else stage_of(operators)
        return Situation(
            moving=(self._moved_s[0] < STILL_MOVING_S, self._moved_s[1] < STILL_MOVING_S),
            automatic=automatic,
            is_stopped=self.lift.stopped,
            has_ended=self.lift.ended,
            label=say("coach.step", index=stage.number, count=stage.last) if stage else "",
            title=stage.title if stage else "",
            progress=(stage.number, stage.last) if stage else None,
            prompt=drill.prompt if drill else say("coach.demo_prompt") if all(automatic) else "",
            score=drill.score if drill else "",
            speed=speed(self.pace.shown_speed),
            is_slow=self.pace.is_slow,
        )
