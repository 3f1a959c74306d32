"""The program's loop: one window, one screen at a time, events in, frames out."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pygame

from simulator.attempt import Operator
from simulator.recording.reader import BrokenRecording, read
from simulator.scenario.description import Description
from simulator.window.hands.gamepads import PadKeys, key_press
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.measures_shown import System, clock
from simulator.window.protocols import Check, Tell, nothing_told
from simulator.window.review.looking_back import Kept, LookBack
from simulator.window.screens.cards import draw_progress
from simulator.window.screens.debrief_screen import DebriefScreen
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.replay_screen import ReplayScreen
from simulator.window.screens.screen import Go, Screen
from simulator.window.screens.seat_check import SeatCheck
from simulator.window.screens.sentences import Line, LinesScreen
from simulator.window.screens.start_screen import StartScreen
from simulator.window.shell.desk import Desk
from simulator.window.shell.display import NoDisplay, Presented, Presenting, SleepWatch, presented, reopen, resized
from simulator.window.shell.lift import Begin, Choice, Lift
from simulator.window.shell.lifts_on_offer import (
    Offer,
    drill_offers,
    offered_lifts,
    shipped_lifts,
    user_folder,
    user_offers,
)
from simulator.words import say

FRAMES_PER_S = 60
LONGEST_FRAME_S = 0.25
SLOW_PRESENT_MS = 8.0
DEAR_PRESENT_MS = 4.0
"""Of the processor for one frame: a graphics card leaves it a fraction of a millisecond."""
"""Showing a frame slower than this suggests plain presenting."""
MOUSE = (pygame.MOUSEBUTTONDOWN, pygame.MOUSEBUTTONUP, pygame.MOUSEMOTION)
PADS = (pygame.JOYBUTTONDOWN, pygame.JOYHATMOTION, pygame.JOYAXISMOTION)


def _nobody_stops() -> bool:
    return False


class Program:
    """The window, its present screen, and the way between screens."""

    def __init__(
        self,
        surface: pygame.Surface,
        system: System,
        begin: Begin,
        *,
        desk: Desk | None = None,
        tell: Tell = nothing_told,
        check: Check | None = None,
    ) -> None:
        self.surface = surface
        self.desk = desk or Desk()
        if desk is None:
            self.desk.change(units=system)
        self.canvas = Canvas(surface)
        self.screen: Screen | None = None
        self.exit_code = 0
        self._begin, self._tell, self._check = begin, tell, check
        self._kept: Kept | None = None
        """The lift that is driven, to be looked back on."""
        self._back: LookBack | None = None
        self._offers: tuple[Offer, ...] | None = None
        self._pad_keys = PadKeys()
        self._pad_keys.find()
        self._stopped = _nobody_stops
        """Somebody asked the program to stop: by a signal, not by a key of the window."""
        self._is_full = False
        self._is_lost = False
        """The display may have lost what was shown on it."""
        self._asked_plain = self._is_plain = self.desk.settings.plain_presenting
        self._windowed = surface.get_size()

    # Screens ----------------------------------------------------------------------------------------------------

    def show_start(self, chosen: Choice | None) -> None:
        """The start screen.

        Raises:
            NoDisplay: there is no lift to offer.
        """
        if self._offers is None:
            own = user_offers(user_folder()) if self.desk.path is not None else ()
            self._offers = offered_lifts(shipped_lifts(), (*drill_offers(), *own))
        offered = self._offers
        if chosen and all(row.description != chosen.description for row in offered):
            offered = (Offer(chosen.description), *offered)
        if not any(row.description for row in offered):
            raise NoDisplay(say("program.no_lifts"))
        self._show(StartScreen(offered, self.desk, chosen=chosen, check=self._check))

    def sit_down(self, choice: Choice) -> None:
        """People look at their seats first; nobody has no seat to look at."""
        if choice.who == "demo":
            self.show_lift(choice)
        else:
            self._show(SeatCheck(choice))

    def show_lift(self, choice: Choice) -> None:
        """A lift from time zero."""
        self._kept = None

        def begin(description: Description, operators: list[Operator | None]) -> Lift:
            lift = self._begin(description, operators)
            self._kept = Kept.of(lift, choice, self.desk)
            return lift

        self._show(DriveScreen(choice, self.desk.settings.units, begin=begin, desk=self.desk))

    def show_debrief(self, back: LookBack, at_s: float | None = None) -> None:
        """The debrief of a lift."""
        self._back = back
        self._show(DebriefScreen(back, at_s=at_s))

    def _drive_on(self, at_s: float) -> None:
        """Take a recorded lift over at a moment; the way there is shown, and may be broken off."""
        assert self._back is not None
        back = self._back
        kept = back.take_over(at_s, self._show_progress)
        if kept is None:
            self._show(DebriefScreen(back, at_s=at_s, fault=back.fault))
            return
        self._kept, lift = kept, kept.attempt
        drive = DriveScreen(kept.choice, self.desk.settings.units, begin=lambda *_: lift, desk=self.desk)
        drive.wait(say("pause.taken_over", time=clock(lift.readings.time_s)))
        self._show(drive)

    def _show_progress(self, share: float) -> bool:
        """Draw how far a re-run is; False when somebody wants it to end."""
        for event in pygame.event.get():
            if event.type == pygame.QUIT or (event.type == pygame.KEYDOWN and event.key == pygame.K_ESCAPE):
                return False
        if self._stopped():
            return False
        draw_progress(self.canvas, share)
        pygame.display.flip()
        return True

    def _show(self, screen: Screen) -> None:
        self.desk.sounds.work(0.0, elapsed_s=1.0)
        self.canvas.clear()
        screen.renew(self.canvas)
        self.screen = screen

    def look_at_display(self) -> None:
        """See what showing frames takes here; where acceleration is the processor's own work, do without it."""
        seen = presented(self.surface)
        if not self._is_plain and seen.processor_ms > DEAR_PRESENT_MS:
            seen = self._try_plain(seen)
        self.desk.slow_present_ms = seen.wall_ms if seen.wall_ms > SLOW_PRESENT_MS and not self._is_plain else 0.0

    def _try_plain(self, before: Presented) -> Presented:
        """Without acceleration, if that takes less; it holds for this once, and the start screen says so."""
        self.desk.dear_present_ms = before.processor_ms
        self._reopen()
        seen = presented(self.surface)
        if seen.processor_ms < before.processor_ms and seen.wall_ms < max(before.wall_ms, SLOW_PRESENT_MS):
            return seen
        self.desk.dear_present_ms = 0.0
        self._reopen()
        return before

    # The loop ---------------------------------------------------------------------------------------------------

    def run(self, most_frames: int | None = None, *, stopped: Callable[[], bool] | None = None) -> int:
        """Frames until the window is closed, or `stopped` says so; then the lift on the screen is left."""
        self._stopped = stopped or _nobody_stops
        clock, sleep_watch, presenting = pygame.time.Clock(), SleepWatch(), Presenting()
        elapsed_s, frames = 1.0 / FRAMES_PER_S, 0
        while self.take_events() and not self._stopped() and (most_frames is None or frames < most_frames):
            shown = self.screen
            is_new = self.frame(elapsed_s)
            presenting.frame(elapsed_s, is_new=is_new or self._is_lost)
            self._is_lost = False
            elapsed_s = min(LONGEST_FRAME_S, clock.tick(FRAMES_PER_S) / 1000.0)
            frames += 1
            if sleep_watch.was_long() and isinstance(shown, DriveScreen) and shown.over is None:
                shown.wait(say("pause.slept"))  # a key let go meanwhile may never be told of
        self._leave_lift()
        return self.exit_code

    def frame(self, elapsed_s: float) -> bool:
        """One frame of the present screen; False when nothing had to be drawn."""
        if self.desk.settings.plain_presenting != self._asked_plain:
            self.desk.dear_present_ms = 0.0  # whoever chooses by hand has the last word
            self._reopen()
        return self.screen is not None and self.screen.frame(self.canvas, elapsed_s)

    def take_events(self) -> bool:
        """Answer what has happened; False when the program should end."""
        goes_on = True
        for event in pygame.event.get():
            goes_on = self._take_event(event) and goes_on
        return goes_on

    def _take_event(self, event: pygame.event.Event) -> bool:
        if event.type == pygame.QUIT:
            return False
        if event.type == pygame.WINDOWEXPOSED:
            self._is_lost = True
        if event.type == pygame.VIDEORESIZE and not self._is_full:
            self._resize((event.w, event.h))
        elif event.type == pygame.KEYDOWN and event.key == pygame.K_F11:
            self._toggle_full()
        elif self.screen is not None:
            return self._pass_on(event, self.screen)
        return True

    def _pass_on(self, event: pygame.event.Event, screen: Screen) -> bool:
        """Give a screen its event: the mouse in design units, a gamepad's buttons as keys."""
        if event.type == pygame.JOYDEVICEADDED:
            self._pad_keys.find()
        if event.type in PADS:
            key = self._pad_keys.key_of(event, in_menu=screen.is_menu)
            instance = getattr(event, "instance_id", None)
            return True if key is None else self._go(screen.take_event(key_press(key, instance)))
        if event.type in MOUSE:
            if event.type == pygame.MOUSEBUTTONDOWN and event.button != 1:
                return True
            event = pygame.event.Event(event.type, {**event.dict, "pos": self.canvas.from_px(event.pos)})
        return self._go(screen.take_event(event))

    def _go(self, go: Go) -> bool:
        """Follow a screen's wish; False when the program should end."""
        if isinstance(self.screen, DriveScreen) and go.to in ("start", "lift", "debrief", "quit"):
            self._leave_lift()
        if go.to == "start":
            self.show_start(go.choice or getattr(self.screen, "choice", None))
        elif go.to == "seats" and go.choice is not None:
            self.sit_down(go.choice)
        elif go.to == "lift" and go.choice is not None:
            self.show_lift(go.choice)
        elif go.to == "debrief":
            self._look_back(go)
        elif go.to == "replay" and self._back is not None:
            self._show(ReplayScreen(self._back, self.desk, at_s=go.at_s))
        elif go.to == "recording" and go.path is not None:
            self._open(go.path)
        elif go.to == "drive_on" and self._back is not None:
            self._drive_on(go.at_s)
        return go.to != "quit"

    def _open(self, path: Path) -> None:
        """Look back on a recording of the folder; why it cannot be read is a sentence."""
        try:
            self.show_debrief(LookBack(read(path), None, self._tell, self.desk))
        except BrokenRecording as broken:
            self._say_broken(path.name, str(broken))

    def _say_broken(self, name: str, why: str) -> None:
        """A recording cannot be read: said over the start screen."""
        if not isinstance(self.screen, StartScreen):
            self.show_start(getattr(self.screen, "choice", None))
        if isinstance(self.screen, StartScreen):
            self.screen.over = LinesScreen(name, say("recordings.broken"), (Line("caution", why),))

    def _look_back(self, go: Go) -> None:
        """The debrief: of the lift just driven, or of the one that is looked back on already."""
        if isinstance(self.screen, DriveScreen):
            if self._kept is None:
                return
            try:
                recording = self._kept.recording(self.desk)
            except BrokenRecording as broken:
                self._say_broken(say("debrief.this_lift"), str(broken))
            else:
                self.show_debrief(LookBack(recording, self._kept.choice, self._tell, self.desk))
        elif self._back is not None:
            self.show_debrief(self._back, go.at_s)

    def _leave_lift(self) -> None:
        """The lift on the screen is over for its operators."""
        if not isinstance(self.screen, DriveScreen):
            return
        self.exit_code = 1 if getattr(self.screen.lift, "incidents", None) else 0
        self.desk.stop_recording()

    # The window -------------------------------------------------------------------------------------------------

    def _toggle_full(self) -> None:
        self._is_full = not self._is_full
        self._reopen()

    def _resize(self, size: tuple[int, int]) -> None:
        self.surface = resized(size)
        self._windowed = self.surface.get_size()
        self._renew()

    def _reopen(self) -> None:
        """Close and open the display: how frames are shown is read when it starts."""
        self._asked_plain = self.desk.settings.plain_presenting
        self._is_plain = self._asked_plain or self.desk.dear_present_ms > 0.0
        self.surface = reopen(self._windowed, is_full=self._is_full, is_plain=self._is_plain)
        self._renew()

    def _renew(self) -> None:
        self.canvas = Canvas(self.surface)
        self.canvas.clear()
        if self.screen is not None:
            self.screen.renew(self.canvas)
