"""The program's loop: one window, one screen at a time, events in, frames out."""

from __future__ import annotations

from collections.abc import Callable

import pygame

from simulator.window.hands.gamepads import PadKeys, key_press
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.pieces import draw_progress
from simulator.window.screens.screen import Doors, Go, Screen, Shell
from simulator.window.shell.desk import Desk
from simulator.window.shell.display import Presented, Presenting, SleepWatch, presented, reopen, resized

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

    def __init__(self, surface: pygame.Surface, desk: Desk, doors: Doors) -> None:
        self.surface, self.desk, self.doors = surface, desk, doors
        self.canvas = Canvas(surface)
        self.screen: Screen | None = None
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

    def show(self, make: Callable[[Shell], Screen]) -> None:
        """Another screen.

        Raises:
            NoDisplay: the start screen has no lift to offer.
        """
        if self.screen is not None:
            self.screen.leave()
        screen = make(self)
        self.desk.sounds.work(0.0, elapsed_s=1.0)
        self.canvas.clear()
        screen.renew(self.canvas)
        self.screen = screen

    def show_progress(self, share: float) -> bool:
        """Draw how far a re-run is; False when somebody wants it to end."""
        for event in pygame.event.get():
            if event.type == pygame.QUIT or (event.type == pygame.KEYDOWN and event.key == pygame.K_ESCAPE):
                return False
        if self._stopped():
            return False
        draw_progress(self.canvas, share)
        pygame.display.flip()
        return True

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
            if sleep_watch.was_long() and shown is not None:
                shown.slept()
        if self.screen is not None:
            self.screen.leave()
        return self.desk.exit_code

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
        if go.screen is not None:
            self.show(go.screen)
        return not go.ends

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
