"""Replay: the drive screen shows a recorded lift, with the track in place of the caution line."""

from __future__ import annotations

from collections.abc import Callable

import pygame

from simulator.window.kit import measures_shown as shown
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.icons import icon
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import INK, PANEL, STEEL_DARK
from simulator.window.kit.pieces import draw_flat_key
from simulator.window.kit.regions import CAUTION_LINE, SCENE
from simulator.window.readouts.turning_panels import GAUGE
from simulator.window.review.chart_view import draw_flag
from simulator.window.review.looking_back import LookBack, Replayed
from simulator.window.review.moments import at_or_before, moments
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.screen import ENTER_KEYS, STAY, Go, Screen, Shell, to_debrief
from simulator.window.shell.desk import Desk
from simulator.window.shell.pace import REPLAY_SPEEDS, Pace
from simulator.words import say

TRACK_LEFT, TRACK_RIGHT, TRACK_Y = 330.0, 1180.0, 1058.0
SEEK_S = 5.0
SETTLES_S = 2.0
"""Camera and readouts have come to rest so long after the last change."""


def replay(back: LookBack, at_s: float) -> Callable[[Shell], Screen]:
    """A lift played from a moment."""
    return lambda shell: ReplayScreen(back, shell.desk, at_s=at_s)


def drive_on(back: LookBack, at_s: float) -> Callable[[Shell], Screen]:
    """Take a recorded lift over at a moment; the way there is shown, and may be broken off."""

    def make(shell: Shell) -> Screen:
        kept = back.take_over(at_s, shell.show_progress)
        if kept is None:
            return shell.doors.debrief(back, at_s, back.fault)
        lift = kept.attempt
        screen = DriveScreen(kept.choice, shell.desk.settings.units, begin=lambda *_: lift, desk=shell.desk)
        screen.kept = kept
        screen.wait(say("pause.taken_over", time=shown.clock(lift.readings.time_s)))
        return screen

    return make


class ReplayScreen(Screen):
    """Plays from a moment; Esc goes back to the debrief."""

    def __init__(self, back: LookBack, desk: Desk, *, at_s: float = 0.0) -> None:
        assert back.choice is not None
        self.back, self.choice = back, back.choice
        self.lift = Replayed(back.recording, at_s)
        self.moments = moments(back.recording, back.findings, desk.settings.units)
        self.drive = DriveScreen(back.choice, desk.settings.units, begin=lambda *_: self.lift, desk=desk)
        self.drive.seats.pads = {}
        self.drive.pace = Pace(back.recording.head.steps_per_s, speeds=REPLAY_SPEEDS)
        self.drive.pace.speed = back.speed
        self._is_dragging = False
        self._still_s = 0.0
        """Wall time since anything changed."""

    @property
    def is_menu(self) -> bool:
        """Gamepads work it like arrows and Enter."""
        return True

    @property
    def is_playing(self) -> bool:
        """Time goes on."""
        return not self.drive.pace.paused

    def take_event(self, event: pygame.event.Event) -> Go:
        """Space plays and halts, arrows go from event to event, Enter takes the lift over, Esc goes back."""
        self._still_s = 0.0
        if event.type == pygame.MOUSEBUTTONUP:
            self._is_dragging = False
        if event.type == pygame.MOUSEBUTTONDOWN and event.pos[1] >= CAUTION_LINE.y:
            return self._click(event.pos[0])
        if event.type == pygame.MOUSEMOTION and self._is_dragging:
            self._to(self._time_s(event.pos[0]))
        return self._press(event) if event.type == pygame.KEYDOWN else STAY

    def _press(self, event: pygame.event.Event) -> Go:
        key = event.key
        if key == pygame.K_ESCAPE:
            return to_debrief(self.back, self.lift.time_s)
        if key in ENTER_KEYS:
            return Go(drive_on(self.back, self.lift.time_s))
        if key == pygame.K_SPACE:
            self.play_or_halt()
        elif key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._step(1 if key == pygame.K_RIGHT else -1)
        elif key in (pygame.K_UP, pygame.K_DOWN):
            self._to(self.lift.time_s + (SEEK_S if key == pygame.K_UP else -SEEK_S))
        elif key not in (pygame.K_F1, pygame.K_TAB):
            self.drive.take_event(event)
            self.drive.seats.let_go()
            self.back.speed = self.drive.pace.speed
        return STAY

    def play_or_halt(self) -> None:
        """At the end it plays from the start again."""
        if self.lift.is_at_end:
            self._to(0.0)
            self.drive.pace.paused = False
        else:
            self.drive.pace.paused = not self.drive.pace.paused

    def _step(self, by: int) -> None:
        # While it plays, the event just passed is the one to leave when going back.
        slack_s = 1.0 if by < 0 and self.is_playing else 1e-6
        ahead = [one.time_s for one in self.moments if (one.time_s - self.lift.time_s) * by > slack_s]
        if ahead:
            self._to(min(ahead) if by > 0 else max(ahead))

    def _to(self, time_s: float) -> None:
        self.lift.go_to(time_s)

    def _click(self, x: float) -> Go:
        if x < TRACK_LEFT - 20.0:
            self.play_or_halt()
        elif x <= TRACK_RIGHT + 20.0:
            self._is_dragging = True
            self._to(self._time_s(x))
        return STAY

    def _time_s(self, x: float) -> float:
        share = min(1.0, max(0.0, (x - TRACK_LEFT) / (TRACK_RIGHT - TRACK_LEFT)))
        return share * self.back.recording.length_s

    def _x(self, time_s: float) -> float:
        return TRACK_LEFT + (TRACK_RIGHT - TRACK_LEFT) * min(1.0, time_s / max(1e-9, self.back.recording.length_s))

    # Frames -----------------------------------------------------------------------------------------------------

    def renew(self, canvas: Canvas) -> None:
        """Everything again on a new canvas."""
        self._still_s = 0.0
        self.drive.renew(canvas)

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """The drive screen at the time that is reached, and the track; halted, it stands still before long."""
        self._still_s = 0.0 if self.is_playing or self.drive.prompt_cards.is_shown else self._still_s + elapsed_s
        if self._still_s > SETTLES_S:
            return False
        self.drive.frame(canvas, elapsed_s)
        if self.lift.is_at_end:
            self.drive.pace.paused = True
        self._draw_track(canvas)
        return True

    def _draw_track(self, canvas: Canvas) -> None:
        canvas.rect(*CAUTION_LINE, INK)
        canvas.box(24.0, 1042.0, 122.0, 32.0, fill=PANEL, radius=6.0)
        canvas.text(say("debrief.replay"), 85.0, 1067.0, 24.0, weight="bold", anchor="center", width=110.0)
        if self.is_playing:
            canvas.rect(166.0, 1047.0, 7.0, 22.0, PANEL)
            canvas.rect(179.0, 1047.0, 7.0, 22.0, PANEL)
        else:
            icon(canvas, "play", 176.0, TRACK_Y, 24.0, fill=PANEL)
        canvas.digits(shown.clock(self.lift.time_s), 206.0, 1067.0, 28.0, color=PANEL)
        canvas.rect(TRACK_LEFT, TRACK_Y - 3.0, TRACK_RIGHT - TRACK_LEFT, 6.0, STEEL_DARK)
        now_x = self._x(self.lift.time_s)
        canvas.rect(TRACK_LEFT, TRACK_Y - 3.0, now_x - TRACK_LEFT, 6.0, PANEL)
        for one in self.moments:
            self._draw_mark(canvas, self._x(one.time_s), one.level)
        canvas.disc(now_x, TRACK_Y, 13.0, fill=PANEL, edge=INK, edge_width=4.0)
        self._draw_keys(canvas)
        self._draw_moment(canvas)

    def _draw_mark(self, canvas: Canvas, x: float, level: Level) -> None:
        if level is Level.GOOD:
            canvas.disc(x, TRACK_Y, 5.0, fill=PANEL)
        else:
            icon(canvas, "caution" if level is Level.CAUTION else "stop", x, TRACK_Y - 1.0, 22.0)

    def _draw_keys(self, canvas: Canvas) -> None:
        rows = (
            ("key.space", "debrief.halt" if self.is_playing else "debrief.play"),
            ("key.enter", "debrief.drive_on_short"),
            ("key.escape", "debrief.name"),
        )
        right = 1896.0
        for cap, does in reversed(rows):
            right -= canvas.text(say(does), right, 1066.0, 24.0, color=PANEL, anchor="right") + 8.0
            right -= canvas.text_width(say(cap), 24.0, weight="bold") + 18.0
            draw_flat_key(canvas, say(cap), right, 1045.0)
            right -= 20.0

    def _draw_moment(self, canvas: Canvas) -> None:
        """The event just passed, over the foot of the scene or the gauge of a turn, for a few seconds of the lift."""
        place = at_or_before(self.moments, self.lift.time_s)
        if place < 0 or self.lift.time_s - self.moments[place].time_s > SEEK_S:
            return
        one = self.moments[place]
        width = min(1160.0, canvas.text_width(one.title, 28.0, weight="bold") + 92.0)
        foot = GAUGE.y if self.drive.readouts.is_across else SCENE.foot
        x, y = 960.0 - width / 2.0, foot - 52.0
        canvas.box(x, y, width, 44.0, fill=PANEL, edge=INK, radius=8.0)
        draw_flag(canvas, one, x + 36.0, y + 22.0, size=28.0)
        canvas.text(one.title, x + 68.0, y + 32.0, 28.0, weight="bold", width=width - 84.0)
