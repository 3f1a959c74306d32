"""The debrief: a lift on one time axis with what was found in it, to be gone through, played, and driven on from."""

from __future__ import annotations

import pygame

from simulator.scenario.description import Limits
from simulator.window.kit.canvas import Canvas
from simulator.window.review.chart_view import LEFT, RIGHT, Axis
from simulator.window.review.charts import charts
from simulator.window.review.looking_back import LookBack
from simulator.window.review.moments import Moment, at_or_before, moments, spans
from simulator.window.review.worst_rows import worst_rows
from simulator.window.screens.debrief_view import draw_ground, draw_now
from simulator.window.screens.drive import drive
from simulator.window.screens.replay_screen import drive_on, replay
from simulator.window.screens.screen import ENTER_KEYS, STAY, Go, Spots, StillScreen, to_start
from simulator.window.shell.pace import REPLAY_SPEEDS

CONTROLS = ("track", "previous", "play", "next", "speed", "drive_on", "again")
"""In the order of Tab."""
SCRUB_S = 1.0
"""An arrow key on the track moves by this."""
TRACK_TOP, TRACK_FOOT = 852.0, 930.0


class DebriefScreen(StillScreen):
    """Looks back on one lift. `at_s` is the moment its cursor stands at."""

    def __init__(self, back: LookBack, *, at_s: float | None = None, fault: str = "") -> None:
        self.back, self.fault = back, fault
        recording = back.recording
        self.choice = back.choice
        self.axis = Axis(recording.length_s)
        self.moments = moments(recording, back.findings, back.desk.settings.units)
        self.spans = spans(recording)
        self.limits = recording.description.limits if recording.description else Limits()
        self.charts = charts(recording, self.limits, back.desk.settings.units)
        self.worst = worst_rows(recording, self.limits, back.desk.settings.units)
        self.at_s = self._first_look_s() if at_s is None else min(max(0.0, at_s), recording.length_s)
        self.focus = CONTROLS.index("play")
        self.spots: Spots[tuple[str, int]] = Spots()
        self._is_dragging = False
        self._ground: Canvas | None = None
        self._is_drawn = False

    @property
    def control(self) -> str:
        """Where the keyboard is."""
        return CONTROLS[self.focus]

    @property
    def can_replay(self) -> bool:
        """There is a scenario to draw and a sample to show."""
        return self.choice is not None and len(self.back.recording.time_s) > 0

    @property
    def moment(self) -> Moment | None:
        """The last one up to the cursor."""
        place = at_or_before(self.moments, self.at_s)
        return self.moments[place] if place >= 0 else None

    def _first_look_s(self) -> float:
        """The worst moment, or the first, or the start."""
        worst = max(self.moments, key=lambda one: (one.level, -one.time_s), default=None)
        return worst.time_s if worst else 0.0

    # Events -----------------------------------------------------------------------------------------------------

    def take_event(self, event: pygame.event.Event) -> Go:
        """Left and right go from event to event, Space plays, Tab goes from control to control."""
        if event.type == pygame.MOUSEBUTTONUP:
            self._is_dragging = False
        if event.type == pygame.MOUSEMOTION and self._is_dragging:
            self._to(self.axis.time_s(event.pos[0]))
        if event.type == pygame.MOUSEBUTTONDOWN:
            return self._click(event.pos)
        return self._press(event.key) if event.type == pygame.KEYDOWN else STAY

    def _press(self, key: int) -> Go:
        self._is_drawn = False
        if key == pygame.K_ESCAPE:
            return to_start(self.choice)
        if key == pygame.K_SPACE:
            return self._play()
        if key in ENTER_KEYS:
            return self._use(self.control)
        if key in (pygame.K_TAB, pygame.K_DOWN, pygame.K_UP):
            self.focus = (self.focus + (-1 if key == pygame.K_UP else 1)) % len(CONTROLS)
        elif key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._sideways(1 if key == pygame.K_RIGHT else -1)
        elif key in (pygame.K_MINUS, pygame.K_KP_MINUS, pygame.K_PLUS, pygame.K_EQUALS, pygame.K_KP_PLUS):
            self._faster(-1 if key in (pygame.K_MINUS, pygame.K_KP_MINUS) else 1)
        elif key in (pygame.K_HOME, pygame.K_END):
            self._to(0.0 if key == pygame.K_HOME else self.axis.length_s)
        return STAY

    def _sideways(self, by: int) -> None:
        if self.control == "track":
            self._to(self.at_s + by * SCRUB_S)
        elif self.control == "speed":
            self._faster(by)
        else:
            self.step(by)

    def step(self, by: int) -> None:
        """To the next moment (+1) or the one before (-1)."""
        ahead = [one.time_s for one in self.moments if (one.time_s - self.at_s) * by > 1e-6]
        if ahead:
            self._to(min(ahead) if by > 0 else max(ahead))

    def _use(self, control: str) -> Go:
        if control in ("previous", "next"):
            self.step(1 if control == "next" else -1)
        elif control in ("play", "track", "speed"):
            return self._play()
        elif control == "drive_on" and self.can_replay:
            return Go(drive_on(self.back, self.at_s))
        elif control == "again" and self.choice is not None:
            return Go(drive(self.choice))
        return STAY

    def _play(self) -> Go:
        """From the cursor; from the start where it stands at the end."""
        if not self.can_replay:
            return STAY
        is_at_end = self.at_s >= self.back.recording.length_s - 0.1
        return Go(replay(self.back, 0.0 if is_at_end else self.at_s))

    def _faster(self, by: int) -> None:
        place = REPLAY_SPEEDS.index(self.back.speed) + by
        self.back.speed = REPLAY_SPEEDS[min(len(REPLAY_SPEEDS) - 1, max(0, place))]

    def _to(self, time_s: float) -> None:
        self.at_s = min(max(0.0, time_s), self.back.recording.length_s)
        self.fault, self._is_drawn = "", False

    def _click(self, pos: tuple[float, float]) -> Go:
        x, y = pos
        self._is_drawn = False
        if TRACK_TOP <= y <= TRACK_FOOT and LEFT - 20.0 <= x <= RIGHT + 20.0:
            self._is_dragging = True
            self._to(self.axis.time_s(x))
            return STAY
        kind, number = self.spots.at(pos) or ("", 0)
        if kind == "moment":
            self._to(self.moments[number].time_s)
        elif kind == "speed":
            self.back.speed = REPLAY_SPEEDS[number]
        elif kind == "leave":
            return to_start(self.choice)
        elif kind:
            self.focus = CONTROLS.index(kind)
            return self._use(kind)
        return STAY

    # Drawing ----------------------------------------------------------------------------------------------------

    def renew(self, canvas: Canvas) -> None:
        """Draw it again, what stands still too."""
        self._ground, self._is_drawn = None, False

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """Draws when something changed; the charts only once."""
        if self._is_drawn:
            return False
        if self._ground is None:
            self._ground = canvas.layer(0.0, 0.0, 1920.0, 1080.0)
            draw_ground(self._ground, self)
        canvas.clear()
        canvas.paste(self._ground)
        draw_now(canvas, self)
        self._is_drawn = True
        return True
