"""Gamepads: sticks and triggers to what a seat asks for; in menus, buttons to the keys that do the same."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import copysign
from typing import Any, NamedTuple, Protocol

import pygame

from simulator.engine.commands import finest
from simulator.window.hands.bindings import SEATS, STOP_KEY, Seat

DEAD_ZONE = 0.15
"""Share of a stick's travel that does nothing. Common practice, no source."""


class PadLayout(NamedTuple):
    """Numbers of a gamepad's axes and buttons; -1 where it has none."""

    left_x: int = 0
    left_y: int = 1
    left_trigger: int = 2
    right_x: int = 3
    right_y: int = 4
    right_trigger: int = 5
    stop: int = 0
    """The lower face button."""
    leave: int = 1
    """The right face button: back, in menus."""
    left_shoulder: int = 4
    right_shoulder: int = 5
    view: int = 6
    menu: int = 7
    up: int = -1
    """The four of the cross, where it is made of buttons and not a hat."""
    down: int = -1
    left: int = -1
    right: int = -1


PLACES = {
    "left_x": "leftx", "left_y": "lefty", "left_trigger": "lefttrigger", "right_x": "rightx", "right_y": "righty",
    "right_trigger": "righttrigger", "stop": "a", "leave": "b", "left_shoulder": "leftshoulder",
    "right_shoulder": "rightshoulder", "view": "back", "menu": "start", "up": "dpup", "down": "dpdown",
    "left": "dpleft", "right": "dpright",
}  # fmt: skip
"""Field of `PadLayout`: its name in a mapping of the SDL library."""
AXES = ("left_x", "left_y", "left_trigger", "right_x", "right_y", "right_trigger")


def layout_of(mapping: dict[str, str]) -> PadLayout:
    """The layout that a mapping tells, such as `{"leftx": "a0", "a": "b0"}`; what it does not tell is not there."""
    found = dict.fromkeys(PLACES, -1)
    for field, name in PLACES.items():
        told = mapping.get(name, "").lstrip("+-").rstrip("~")
        kind = "a" if field in AXES else "b"
        if told[:1] == kind and told[1:].isdigit():
            found[field] = int(told[1:])
    return PadLayout(**found)


class PadState(NamedTuple):
    """One gamepad now, each stick and trigger as far as it asks, in [-1, 1]."""

    hoist: float = 0.0
    """Right stick, up."""
    turn: float = 0.0
    """Right stick, sideways: toward the other unit takes line 2 in."""
    telescope: float = 0.0
    elevation: float = 0.0
    slew: float = 0.0
    left_shoulder: bool = False
    right_shoulder: bool = False
    stop: bool = False


NOT_TOUCHED = PadState()


class PadMoves(NamedTuple):
    """What a gamepad asks of a unit's levers."""

    moved: dict[str, float]
    creep: bool


def lever_moves(state: PadState, levers: tuple[str, ...]) -> PadMoves:
    """What a gamepad asks of levers, by their keys.

    With one line the right stick hoists and either shoulder is slow. With two lines the stick moves both alike; while
    the left shoulder is held line 1 alone, while the right one is held line 2 alone, as far as the stick goes: a little
    stick is slow there. Sideways it turns, where the lift has that lever; whichever way it is pushed further counts, so
    that nobody turns a load who means to hoist.
    """
    moved = {"telescope": state.telescope, "elevation": state.elevation, "slew": state.slew}
    if "hoist" in levers:
        moved["hoist"] = state.hoist
        return PadMoves(moved, state.left_shoulder or state.right_shoulder)
    is_alone = state.left_shoulder != state.right_shoulder
    turns = "turn" in levers and not is_alone and abs(state.turn) > abs(state.hoist)
    if turns:
        moved["turn"] = state.turn
    elif is_alone:
        moved["hoist_1" if state.left_shoulder else "hoist_2"] = state.hoist
    elif "both" in levers:
        moved["both"] = state.hoist
    else:
        moved.update(hoist_1=state.hoist, hoist_2=state.hoist)
    return PadMoves(moved, False)


class Pad(Protocol):
    """Anything that answers like a gamepad."""

    def state(self) -> PadState:
        """Sticks and buttons now."""
        ...


def respond(travel: float) -> float:
    """Command of a stick's travel in [-1, 1]: nothing inside the dead zone, squared beyond it."""
    beyond = (abs(travel) - DEAD_ZONE) / (1.0 - DEAD_ZONE)
    return finest(copysign(min(1.0, beyond) ** 2, travel)) if beyond > 0.0 else 0.0


class Gamepad:
    """A pygame joystick in one seat; the stick pushed away from the other truck slews toward the ravine."""

    def __init__(
        self,
        joystick: pygame.joystick.JoystickType,
        seat: Seat,
        layout: PadLayout = PadLayout(),  # noqa: B008 - frozen
    ) -> None:
        self.joystick, self.layout = joystick, layout
        self._away = -1.0 if seat == "left" else 1.0
        self._triggers_moved: set[int] = set()

    def state(self) -> PadState:
        """Sticks and buttons now."""
        at = self.layout
        return PadState(
            hoist=respond(-self._axis(at.right_y)),
            turn=-self._away * respond(self._axis(at.right_x)),
            telescope=respond(self._trigger(at.right_trigger) - self._trigger(at.left_trigger)),
            elevation=respond(-self._axis(at.left_y)),
            slew=-self._away * respond(self._axis(at.left_x)),
            left_shoulder=self._button(at.left_shoulder),
            right_shoulder=self._button(at.right_shoulder),
            stop=self._button(at.stop),
        )

    def sticks(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Left and right stick, right and down positive, as they lie."""
        at = self.layout
        return (self._axis(at.left_x), self._axis(at.left_y)), (self._axis(at.right_x), self._axis(at.right_y))

    def _axis(self, number: int) -> float:
        return self.joystick.get_axis(number) if 0 <= number < self.joystick.get_numaxes() else 0.0

    def _trigger(self, number: int) -> float:
        # A trigger rests at -1 but reads 0 until it is first moved.
        value = self._axis(number)
        if value != 0.0:
            self._triggers_moved.add(number)
        return (value + 1.0) / 2.0 if number in self._triggers_moved else 0.0

    def _button(self, number: int) -> bool:
        return 0 <= number < self.joystick.get_numbuttons() and bool(self.joystick.get_button(number))


def seat_of_each(numbers: Sequence[int], seats: tuple[Seat, ...], before: Mapping[Seat, int]) -> dict[Seat, int]:
    """Which gamepad belongs to which seat. Nobody's gamepad changes hands because another came or went.

    Args:
        numbers: the system's numbers of the connected gamepads, in its order.
        seats: those that people sit in, left before right; a new single gamepad for two people goes right.
        before: which one each seat had.
    """
    taken = {seat: before[seat] for seat in seats if before.get(seat) in numbers}
    free = [number for number in numbers if number not in taken.values()]
    order: tuple[Seat, ...] = ("right", "left") if len(numbers) == 1 and len(seats) > 1 else seats
    for seat, number in zip([seat for seat in order if seat not in taken], free, strict=False):
        taken[seat] = number
    return taken


def find_gamepads(seats: tuple[Seat, ...] = SEATS, before: Mapping[Seat, Pad] | None = None) -> dict[Seat, Pad]:
    """The connected gamepads for the seats that people sit in; one that was there before keeps its seat."""
    pygame.joystick.init()
    found = [pygame.joystick.Joystick(number) for number in range(pygame.joystick.get_count())]
    places = {one.get_instance_id(): place for place, one in enumerate(found)}
    had = {seat: pad for seat, pad in (before or {}).items() if isinstance(pad, Gamepad)}
    ids: dict[Seat, int] = {seat: pad.joystick.get_instance_id() for seat, pad in had.items()}
    pads: dict[Seat, Pad] = {}
    for seat, number in seat_of_each(list(places), seats, ids).items():
        place = places[number]
        is_same = ids.get(seat) == number
        pads[seat] = had[seat] if is_same else Gamepad(found[place], seat, mapped_layout(place))
    return pads


def mapped_layout(number: int) -> PadLayout:
    """The layout of a connected gamepad, from the SDL library where it knows it, else the usual one."""
    try:
        from pygame._sdl2 import controller

        controller.init()
        if controller.is_controller(number):
            mapping: dict[str, Any] = controller.Controller(number).get_mapping()
            return layout_of({str(name): str(told) for name, told in mapping.items()})
    except (ImportError, pygame.error, AttributeError):
        pass
    return PadLayout()


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
