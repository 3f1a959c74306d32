"""A lift that is being laid out: its numbers, what is half typed, what is dragged, and the way back. No pygame.

The lift of a sheet is always one that a scenario file could hold: what does not fit is kept as it was typed, with the
sentence that says why, and the lift stays as it was.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import NamedTuple

from simulator.scenario.asked_numbers import System, Tons
from simulator.scenario.checks import faults_of
from simulator.scenario.description import Description
from simulator.scenario.retold import retold
from simulator.scenario.typed_numbers import WhichTons
from simulator.window.layout.fields import fields_of
from simulator.window.layout.grips import STEPS_M, Grip, as_written, grips_of, number_of, stepped, within
from simulator.window.layout.one_field import Typed, Value
from simulator.window.layout.place_edits import with_fitting_landing
from simulator.words import say

Settle = Callable[[Description], Description]
"""The same lift with its load as the slope lies under it and its booms over the picks."""
MOST_KEPT = 500
ALL_OUT = ("off_edge", "jacks")
"""Numbers of a new lift that are not made round: its units stand on one line, their jacks all the way out."""
SHIFTED = ("set_back", "edge")
"""Made round once more in the end: wider pads have moved them."""
SAME = 1e-9
RANGED = ("weight", "heavy")
"""What may be typed as a range, such as `40 to 50 klb`."""
OF_A_RANGE = ("least", "most")
BETWEEN = re.compile(r"\s*\.\.\s*|\s+to\s+")
UNIT_AT_END = re.compile(r"[a-zA-Z'\"]+\s*$")
"""Numbers that differ by less are the same."""
STEPS: dict[str, tuple[float, float]] = {"kg": (500.0, 50.0), "share": (0.05, 0.01), "speed": (0.5, 0.1)}


class Half(NamedTuple):
    """Text that could not be taken."""

    text: str
    why: str


class Kept(NamedTuple):
    """What undo goes back to."""

    lift: Description
    given: frozenset[str]


class Drag(NamedTuple):
    """A grip that is held."""

    grip: Grip
    lift: Description
    """Before it was taken hold of."""
    was: tuple[float, ...]
    """The numbers it moves, before."""


class Sheet:
    """One lift on the screen."""

    def __init__(self, lift: Description, *, system: System = "metric", settle: Settle = lambda one: one) -> None:
        self.lift = as_laid_out(lift)
        self.system: System = system
        self.given: frozenset[str] = frozenset()
        """Keys of the numbers that a person gave, by hand or by mouse."""
        self.half: dict[str, Half] = {}
        """By key of the field."""
        self.ranges: dict[str, tuple[float, float]] = {}
        """Between what a number lies, by key of its field, SI: counted are the cases in which the lift holds."""
        self.tons: Tons | None = None
        """Which ton they mean, once they have said so."""
        self.fault = ""
        """Why the last drag or change did not go further."""
        self.count = 0
        """Goes up with every change: whoever keeps something made of the lift looks at it."""
        self._settle = settle
        self._before: list[Kept] = []
        self._after: list[Kept] = []
        self._drag: Drag | None = None
        self._fields: tuple[int, tuple[Typed, ...]] | None = None

    # What there is ------------------------------------------------------------------------------------------------

    @property
    def fields(self) -> tuple[Typed, ...]:
        """All that can be typed."""
        if self._fields is None or self._fields[0] != self.count:
            self._fields = self.count, fields_of(self.lift)
        return self._fields[1]

    def look_again(self) -> None:
        """What there is to choose from may have changed: somebody has entered a unit."""
        self._fields = None

    def field(self, key: str) -> Typed:
        """The field of that key.

        Raises:
            KeyError: there is none.
        """
        for one in self.fields:
            if one.key == key:
                return one
        raise KeyError(key)

    @property
    def grips(self) -> tuple[Grip, ...]:
        """All that can be dragged."""
        return grips_of(self.lift)

    @property
    def is_dragging(self) -> bool:
        """Something is held."""
        return self._drag is not None

    @property
    def can_undo(self) -> bool:
        """There is a way back."""
        return bool(self._before)

    @property
    def can_redo(self) -> bool:
        """There is a way forward again."""
        return bool(self._after)

    def shown(self, key: str) -> str:
        """What stands in a field: what is half typed, else its value in the person's units."""
        half = self.half.get(key)
        return half.text if half else self.field(key).shown(self.lift, self.system)

    # Typing -------------------------------------------------------------------------------------------------------

    def type(self, key: str, text: str) -> str:
        """Take what was typed; answers why not, or nothing. Text that is not taken is kept."""
        typed = self.field(key)
        try:
            if key in RANGED and (ends := BETWEEN.split(text.strip())) and len(ends) == len(OF_A_RANGE):
                return self._type_range(typed, text, (ends[0], ends[1]))
            value, tons = typed.read(text, self.system, self.tons)
        except ValueError as why:
            self.half[key] = Half(text, str(why))
            self.count += 1
            return str(why)
        self.tons = tons or self.tons
        self.ranges.pop(key, None)
        return self.put(key, value, text=text)

    def _type_range(self, typed: Typed, text: str, ends: tuple[str, str]) -> str:
        """Between what a number lies: it is laid out with the heaviest load, and with the middle of anything else.

        Raises:
            ValueError: an end is not understood, or they stand the wrong way round.
        """
        unit = UNIT_AT_END.search(ends[1])
        first = ends[0] if unit is None or UNIT_AT_END.search(ends[0]) else f"{ends[0]} {unit[0]}"
        values = []
        for end in (first, ends[1]):
            value, tons = typed.read(end, self.system, self.tons)
            self.tons = tons or self.tons
            values.append(float(value or 0.0))
        low, high = values
        if low >= high:
            raise ValueError(say("layout.range_wrong", label=typed.label, given=text.strip()))
        why = self.put(typed.key, high if typed.key == "weight" else (low + high) / 2.0, text=text)
        if not why:
            self.ranges[typed.key] = (low, high)
        return why

    def asks_which_tons(self, text: str, key: str) -> bool:
        """What was typed speaks of tons, and nobody has said of which."""
        try:
            self.field(key).read(text, self.system, self.tons)
        except WhichTons:
            return True
        except ValueError:
            return False
        return False

    def say_tons(self, tons: Tons) -> None:
        """Which ton is meant, from now on; what waited for it is taken."""
        self.tons = tons
        for key, half in list(self.half.items()):
            self.type(key, half.text)

    def put(self, key: str, value: Value, *, text: str | None = None) -> str:
        """A field's new value, in SI; answers why it does not fit, or nothing."""
        why, lift = self._tried(lambda one: _fitted(self.field(key).put(one, value), key))
        if lift is None:
            self.half[key] = Half(text if text is not None else str(value), why)
            self.count += 1
            return why
        self.half.pop(key, None)
        self._take(lift, {key})
        return ""

    def step(self, key: str, by: int, *, fine: bool = False) -> None:
        """A number up or down by its step, or the next choice."""
        typed, now = self.field(key), number_of(self.field(key), self.lift)
        if typed.longest:
            return
        if typed.kind is None:
            self.put(key, typed.next_choice(self.lift, by))
        elif now is None:
            self.put(key, typed.example)
        else:
            size = _step(typed, self.system, fine=fine)
            self.put(key, within(typed, as_written(typed, round(now / size + by) * size, self.system)))

    def forget_half(self, key: str) -> None:
        """Throw away what is half typed in a field."""
        if self.half.pop(key, None):
            self.count += 1

    # Dragging -----------------------------------------------------------------------------------------------------

    def take_hold(self, grip: Grip) -> None:
        """Begin to drag."""
        was = tuple(number_of(self.field(one.field), self.lift) or 0.0 for one in grip.moves)
        self._drag, self.fault = Drag(grip, self.lift, was), ""

    def drag(self, du_m: float, dv_m: float, *, fine: bool = False) -> None:
        """So far from where it was taken hold of; a lift that no file could hold is not gone to."""
        if self._drag is None:
            return
        held, lift = self._drag, self.lift
        wishes = list[tuple[Typed, float]]()
        for one, was in zip(held.grip.moves, held.was, strict=True):
            typed, by = self.field(one.field), (du_m, dv_m)[one.axis]
            value = stepped(typed, was, one.sign * by, self.system, fine=fine) if abs(by) >= one.holds_m else was
            now = number_of(typed, lift)
            if now is None or abs(value - now) > SAME:
                wishes.append((typed, value))
        if not wishes:
            return
        why, found = self._moved(lift, wishes)
        if found is None and len(wishes) > 1:  # as far as each of them goes by itself
            for wish in wishes:
                lift = self._moved(lift, [wish])[1] or lift
            found = lift
        self.fault = why
        if found is not None and found is not self.lift:
            self.lift = found
            self.count += 1

    def _moved(self, lift: Description, wishes: list[tuple[Typed, float]]) -> tuple[str, Description | None]:
        def change(one: Description) -> Description:
            for typed, value in wishes:
                one = _fitted(typed.put(one, value), typed.key)
            return one

        return self._tried(change, of=lift)

    def let_go(self) -> None:
        """The drag is over: one step for undo."""
        held, self._drag = self._drag, None
        if held is not None and held.lift is not self.lift:
            lift, self.lift = self.lift, held.lift
            self._take(lift, {one.field for one in held.grip.moves})

    def drop(self) -> None:
        """Break a drag off: all is as it was."""
        held, self._drag = self._drag, None
        if held is not None and held.lift is not self.lift:
            self.lift = held.lift
            self.count += 1

    def nudge(self, grip: Grip, du: int, dv: int, *, fine: bool = False) -> None:
        """One step with an arrow: along the view's axes."""
        step = STEPS_M[self.system][fine]
        self.take_hold(grip)
        self.drag(du * step, dv * step, fine=fine)
        self.let_go()

    # Whole changes ------------------------------------------------------------------------------------------------

    def change(self, lift: Description, keys: Mapping[str, object] | set[str] = frozenset()) -> str:  # type: ignore[assignment]
        """Another lift in its place, such as a proposal; answers why it does not fit, or nothing."""
        why, found = self._tried(lambda _: lift)
        if found is not None:
            self._take(found, set(keys))
        return why

    def undo(self) -> None:
        """Back by one change."""
        self._go(self._before, self._after)

    def redo(self) -> None:
        """Forward again."""
        self._go(self._after, self._before)

    def _go(self, out: list[Kept], into: list[Kept]) -> None:
        self.drop()
        if out:
            into.append(Kept(self.lift, self.given))
            self.lift, self.given = out.pop()
            self.count += 1
            self.fault = ""

    def _take(self, lift: Description, keys: set[str]) -> None:
        if lift == self.lift:
            self.given |= keys
            self.count += 1
            return
        self._before.append(Kept(self.lift, self.given))
        del self._before[:-MOST_KEPT]
        self._after.clear()
        self.lift, self.given, self.fault = lift, self.given | keys, ""
        self.count += 1

    def _tried(
        self, change: Callable[[Description], Description], *, of: Description | None = None
    ) -> tuple[str, Description | None]:
        """A changed lift, settled, if a scenario file could hold it; else why not."""
        try:
            lift = self._settle(change(of or self.lift))
        except (ValueError, ArithmeticError, LookupError, StopIteration) as why:
            return say("layout.does_not_fit", why=str(why) or why.__class__.__name__), None
        faults = faults_of(lift)
        if faults:
            first = faults[0]
            where = self._called(first.place.partition(": ")[2])
            return say(
                "layout.fault", place=where, given=self._told(first.given), allowed=self._told(first.allowed)
            ), None
        return "", lift

    def _called(self, place: str) -> str:
        """A place in a file by the field that is typed there, if there is one."""
        dotted = place.replace("[", "").replace("] ", ".").replace("]", "")
        return next((one.label for one in self.fields if dotted in one.keys), place)

    def _told(self, text: str) -> str:
        """Its amounts in the person's units."""
        return retold(text, us=self.system == "us")


def _fitted(lift: Description, changed: str) -> Description:
    """A landing that no longer fits goes to the nearest place that does, unless it is what was changed."""
    return lift if changed == "landing" else with_fitting_landing(lift)


def as_laid_out(lift: Description) -> Description:
    """A lift as one that is laid out: by its papers, with no drill, nothing hidden."""
    trailer = replace(lift.trailer, hidden_cg_m=(0.0, 0.0, 0.0), hidden_mass_factor=1.0)
    return replace(lift, trailer=trailer, drill=None)


def rounded(lift: Description, system: System, settle: Settle) -> Description:
    """A lift to begin with, its lengths and weights round in these units as far as they fit together."""
    fields = fields_of(lift)
    for typed in (*fields, *(one for one in fields if one.key in SHIFTED)):
        now = number_of(typed, lift)
        if now is None or typed.kind not in ("length", "size", "mass") or typed.key.startswith(ALL_OUT):
            continue
        step = _step(typed, system, fine=typed.kind == "size")
        value = as_written(typed, round(now / step) * step, system)
        try:
            found = _fitted(typed.put(lift, value), typed.key)
        except (ValueError, ArithmeticError):
            continue
        lift = lift if value == 0.0 or faults_of(found) else found
    return settle(lift)


def _step(typed: Typed, system: System, *, fine: bool) -> float:
    """What one press changes a number by."""
    if typed.kind in ("length", "size"):
        return STEPS_M[system][fine]
    if typed.kind == "mass":
        return (45.359237 if fine else 453.59237) if system == "us" else (50.0 if fine else 500.0)
    if typed.kind in ("angle", "slope"):
        return 0.017453292519943295 * (0.1 if fine else 1.0)
    if typed.kind == "count":
        return 1.0
    return STEPS[str(typed.kind)][fine]
