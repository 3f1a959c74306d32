"""A gamepad in menus and as the drive screen's few keys: its events turned into the keys that do the same."""

from __future__ import annotations

from typing import Any

import pygame

from simulator.window.bindings import STOP_KEY
from simulator.window.gamepads import PadLayout, mapped_layout

PUSHED, LET_GO = 0.6, 0.35
"""Share of a stick's travel from which it counts as an arrow key, and under which it may count again."""
MENU_KEYS = {
    "stop": pygame.K_RETURN, "leave": pygame.K_ESCAPE, "menu": pygame.K_ESCAPE, "view": pygame.K_F1,
    "left_shoulder": pygame.K_TAB, "right_shoulder": pygame.K_TAB, "up": pygame.K_UP, "down": pygame.K_DOWN,
    "left": pygame.K_LEFT, "right": pygame.K_RIGHT,
}  # fmt: skip
DRIVE_KEYS = {
    "stop": pygame.K_SPACE, "menu": pygame.K_ESCAPE, "view": pygame.K_F1, "left_shoulder": pygame.K_LSHIFT,
    "right_shoulder": pygame.K_LSHIFT,
}  # fmt: skip
"""Either shoulder is the slow key; which seat's, its gamepad says."""


class PadKeys:
    """Turns gamepad events into key presses."""

    def __init__(self) -> None:
        self._layouts: dict[int, PadLayout] = {}
        self._leaning: dict[tuple[int, int], int] = {}

    def find(self) -> None:
        """Learn which gamepads there are."""
        pygame.joystick.init()
        for number in range(pygame.joystick.get_count()):
            self.learn(pygame.joystick.Joystick(number).get_instance_id(), mapped_layout(number))

    def learn(self, instance: int, layout: PadLayout) -> None:
        """This gamepad lies so."""
        self._layouts[instance] = layout

    def key_of(self, event: pygame.event.Event, *, in_menu: bool) -> int | None:
        """The key that a gamepad's event stands for, if it does for any."""
        layout = self._layouts.get(getattr(event, "instance_id", -1), PadLayout())
        if event.type == pygame.JOYBUTTONDOWN:
            keys = MENU_KEYS if in_menu else DRIVE_KEYS
            return next((key for name, key in keys.items() if getattr(layout, name) == event.button), None)
        if event.type == pygame.JOYHATMOTION and in_menu:
            x, y = event.value
            return _arrow(x, -y)
        if event.type == pygame.JOYAXISMOTION:
            lean = self._lean(event, layout)
            return _arrow(*lean) if in_menu else None
        return None

    def _lean(self, event: pygame.event.Event, layout: PadLayout) -> tuple[int, int]:
        """Right and down, once each time the left stick is pushed."""
        if event.axis not in (layout.left_x, layout.left_y):
            return 0, 0
        place = getattr(event, "instance_id", -1), event.axis
        before, size = self._leaning.get(place, 0), abs(event.value)
        way = 1 if event.value > 0.0 else -1
        now = way if size >= PUSHED else before if size >= LET_GO and before == way else 0
        self._leaning[place] = now
        if not now or now == before:
            return 0, 0
        return (now, 0) if event.axis == layout.left_x else (0, now)


def _arrow(x: int, y: int) -> int | None:
    """The arrow key toward right and down."""
    if y:
        return pygame.K_DOWN if y > 0 else pygame.K_UP
    if x:
        return pygame.K_RIGHT if x > 0 else pygame.K_LEFT
    return None


def key_press(key: int, instance: int | None = None) -> pygame.event.Event:
    """A key that goes down, as an event that knows its gamepad."""
    values: dict[str, Any] = {"key": key, "scancode": STOP_KEY if key == pygame.K_SPACE else 0, "mod": 0, "unicode": ""}
    values["instance_id"] = instance
    return pygame.event.Event(pygame.KEYDOWN, values)
