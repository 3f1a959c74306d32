"""One number or choice of a lift that can be typed: what it is, its range, how it is read out of a lift and put into
it."""

from __future__ import annotations

from collections.abc import Callable
from math import copysign
from typing import NamedTuple

from simulator.scenario.asked_numbers import KINDS, Kind, System, Tons, written
from simulator.scenario.asked_numbers import Field as Asked
from simulator.scenario.description import Description
from simulator.scenario.measures import METERS_PER_FOOT
from simulator.scenario.typed_numbers import LONGEST, read
from simulator.scenario.writer_for_people import as_file_says
from simulator.window.kit.seen import seen_of
from simulator.words import known, say

Value = float | str | None
"""A number in SI, a choice, or nothing where there is none, such as no line overhead."""
GROUPS = ("place", "load", "path", "units")
NONE_WORDS = ("", "none", "no", "-")
"""What is typed for something that is not there."""
SAME_M = 0.005
"""Jacks this near to all the way out are all the way out: a tape is not read nearer."""
ATTITUDES = ("on_wheels", "top_to_ravine", "top_to_road")


class Typed(NamedTuple):
    """One number or choice that is typed or stepped through."""

    key: str
    group: str
    label: str
    get: Callable[[Description], Value]
    put: Callable[[Description, Value], Description]
    kind: Kind | None = None
    """None: one of the choices."""
    low: float = 0.0
    high: float = 0.0
    example: float = 0.0
    choices: tuple[str, ...] = ()
    can_be_none: bool = False
    keys: tuple[str, ...] = ()
    """Where it stands in a file, by dotted keys: there it is said whether it was measured or assumed."""
    longest: int = 0
    """Of a text in plain words: so many letters at most; 0: it is none."""

    @property
    def is_typed(self) -> bool:
        """A number or a text, not one of several choices."""
        return self.kind is not None or self.longest > 0

    def asked(self, system: System) -> Asked:
        """As numbers that people type are read; its example is a round one in these units.

        Raises:
            ValueError: it is a choice.
        """
        if self.kind is None:
            raise ValueError(self.key)
        one = METERS_PER_FOOT if system == "us" and self.kind == "length" else 0.0
        half_feet = max(1.0, round(2.0 * abs(self.example) / one)) if one else 0.0
        example = copysign(half_feet / 2.0 * one, self.example) if one else self.example
        return Asked(self.label, self.kind, self.low, self.high, example)

    def shown(self, lift: Description, system: System) -> str:
        """Its present value as text in these units."""
        value = self.get(lift)
        if value is None:
            return say("layout.none")
        if isinstance(value, str):
            return value if self.longest else choice_words(value)
        return written(value, self.asked(system), system)

    def read(self, text: str, system: System, tons: Tons | None = None) -> tuple[Value, Tons | None]:
        """What was typed, in SI, and which ton it spoke of.

        Raises:
            ValueError: with a sentence: what was given and what is allowed.
        """
        if self.can_be_none and text.strip().lower() in NONE_WORDS:
            return None, None
        if self.longest:
            return self._plain(text), None
        if self.kind is None:
            return self._choice(text), None
        found = read(text, self.asked(system), system, tons)
        if self.kind == "count":
            return float(round(found.value)), found.tons
        return as_file_says(found.value, KINDS[self.kind].unit, system), found.tons

    def allowed(self, system: System) -> str:
        """What may be typed, in a sentence; nothing of a choice."""
        if self.longest:
            return say("layout.text_allowed", label=self.label, most=self.longest)
        return self.asked(system).allowed(system) if self.kind is not None else ""

    def _plain(self, text: str) -> str:
        """A text in one line."""
        words = " ".join(text.split())
        if len(words) > self.longest:
            raise ValueError(say("layout.text_long", label=self.label, count=len(words), most=self.longest))
        return words

    def _choice(self, text: str) -> str:
        wanted = text.strip().lower()
        words = {choice_words(one).lower(): one for one in self.choices}
        found = [one for word, one in words.items() if wanted and word.startswith(wanted)]
        if len(found) != 1:
            allowed = ", ".join(words)
            raise ValueError(
                say("layout.not_a_choice", label=self.label, given=text.strip()[:LONGEST], allowed=allowed)
            )
        return found[0]

    def next_choice(self, lift: Description, by: int) -> Value:
        """The choice after the present one."""
        at = self.choices.index(str(self.get(lift))) if self.get(lift) in self.choices else -1
        return self.choices[(at + by) % len(self.choices)]


def call_of(lift: Description, number: int) -> str:
    """A unit as everything on the screen calls it: left or right as it is seen, a lone one by its own name."""
    seen = seen_of(lift).of(number)
    return seen.said("name") if seen.is_alone else seen.said("call")


def choice_words(value: str) -> str:
    """A choice as it is shown; a name that is the lift's own as it is."""
    return known(f"layout.is_{value.replace(' ', '_')}", value)


def number_in(value: Value) -> float:
    """A field's value that is a number."""
    assert isinstance(value, int | float), value
    return float(value)


def length_field(
    key: str,
    group: str,
    get: Callable[[Description], Value],
    put: Callable[[Description, float], Description],
    span: tuple[float, float],
    example: float,
    keys: tuple[str, ...] = (),
    *,
    kind: Kind = "length",
    label: str = "",
) -> Typed:
    words = label or say(f"layout.{key}")
    return Typed(
        key, group, words, get, lambda lift, value: put(lift, number_in(value)), kind, *span, example, (), False, keys
    )


def choice_field(
    key: str,
    group: str,
    get: Callable[[Description], Value],
    put: Callable[[Description, str], Description],
    choices: tuple[str, ...],
    keys: tuple[str, ...] = (),
    label: str = "",
) -> Typed:
    words = label or say(f"layout.{key}")
    return Typed(key, group, words, get, lambda one, value: put(one, str(value)), choices=choices, keys=keys)
