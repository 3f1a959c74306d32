"""What objects remember, as plain lists that a file can hold, and put back with the kind of every value looked at.

An object remembers what its class annotates, in that order; all else it has follows from what it was made of. Values
that several share, such as the readings a step began with, are kept once and are shared again when they are put back:
whoever asks for such a value by `is` gets the same answer.
"""

from __future__ import annotations

import types
from collections import deque
from collections.abc import Sequence
from dataclasses import is_dataclass
from functools import cache
from math import isfinite
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

ENDLESS = {"inf": float("inf"), "-inf": float("-inf"), "nan": float("nan")}
"""Numbers that JSON has no word for."""
GROUPS = {list: list, set: set, deque: deque}


class NotRemembered(ValueError):  # noqa: N818 - says what it is
    """What stands in a file is not what such an object remembers."""


@cache
def remembers(kind: Any) -> dict[str, Any]:
    """The names that objects of a class remember, each with its kind."""
    return get_type_hints(kind)


class Shelf:
    """Values of shared kinds, each once, on the way into a file or out of it."""

    def __init__(self, shared: Sequence[type], rows: Sequence[Any] = ()) -> None:
        """
        Args:
            shared: kinds whose values are kept once.
            rows: what was kept of such values, on the way out of a file.
        """
        self._shared = tuple(shared)
        self.rows = list(rows)
        """Of each shared value what is kept of it."""
        self._numbers: dict[int, int] = {}
        self._values: dict[int, Any] = {}
        self._held: list[Any] = []

    def kept(self, value: Any, kind: Any) -> Any:
        """A value as plain lists, numbers and texts."""
        if kind in self._shared:
            return self._number_of(value)
        return self._plain(value, kind)

    def _number_of(self, value: Any) -> int:
        if id(value) not in self._numbers:
            self._numbers[id(value)] = number = len(self.rows)
            self._held.append(value)  # so that no other value gets its identity meanwhile
            self.rows.append(None)
            self.rows[number] = self._plain(value, type(value))
        return self._numbers[id(value)]

    def _plain(self, value: Any, kind: Any) -> Any:
        origin, within = get_origin(kind), get_args(kind)
        if origin in (Union, types.UnionType):
            arms = [arm for arm in within if arm is not type(None)]
            if value is None or len(arms) == 1:
                return None if value is None else self.kept(value, arms[0])
            number = next(i for i, arm in enumerate(arms) if isinstance(value, get_origin(arm) or arm))
            return [number, self.kept(value, arms[number])]
        if origin is dict:
            return [[self.kept(one, within[0]), self.kept(other, within[1])] for one, other in value.items()]
        if origin is tuple and Ellipsis not in within:
            return [self.kept(one, each) for one, each in zip(value, within, strict=True)]
        if origin in (*GROUPS, tuple, Sequence):
            return [self.kept(one, within[0]) for one in (sorted(value) if origin is set else value)]
        if isinstance(value, float):
            return value if isfinite(value) else str(value)
        if value is None or isinstance(value, str | int):
            return value
        return [self.kept(getattr(value, name), each) for name, each in remembers(kind).items()]

    def put_back(self, thing: Any, plain: Any) -> None:
        """Let an object remember what was kept of it.

        Raises:
            NotRemembered: something else was kept.
        """
        names = remembers(thing.__class__)
        if not isinstance(plain, list) or len(plain) != len(names):
            raise NotRemembered(f"{type(thing).__name__}: given no {len(names)} values")
        for (name, kind), one in zip(names.items(), plain, strict=True):
            setattr(thing, name, self.value(one, kind, getattr(thing, name, None)))

    def value(self, plain: Any, kind: Any, now: Any = None) -> Any:
        """A value from what was kept of it; `now` is the object that is to remember it, if it is one that does.

        Raises:
            NotRemembered: it is none of that kind.
        """
        if kind in self._shared:
            return self._of_number(plain, kind)
        try:
            return self._value(plain, kind, now)
        except (TypeError, ValueError, LookupError, AttributeError) as error:
            raise NotRemembered(f"given {str(plain)[:40]}, allowed: {kind}") from error

    def _of_number(self, number: Any, kind: type) -> Any:
        if not isinstance(number, int) or not 0 <= number < len(self.rows):
            raise NotRemembered(f"given the number {str(number)[:40]}, allowed: 0 to {len(self.rows) - 1}")
        if number not in self._values:
            self._values[number] = self._value(self.rows[number], kind, None)
        if not isinstance(self._values[number], kind):
            raise NotRemembered(f"number {number} is no {kind.__name__}")
        return self._values[number]

    def _value(self, plain: Any, kind: Any, now: Any) -> Any:
        origin, within = get_origin(kind), get_args(kind)
        if origin in (Union, types.UnionType):
            arms = [arm for arm in within if arm is not type(None)]
            if plain is None and len(arms) < len(within):
                return None
            return self.value(plain, arms[0], now) if len(arms) == 1 else self.value(plain[1], arms[_place(plain[0])])
        if origin is Literal:
            return within[within.index(plain)]
        if origin is dict:
            return {self.value(one, within[0]): self.value(other, within[1]) for one, other in plain}
        if origin is tuple and Ellipsis not in within:
            return tuple(self.value(one, each) for one, each in zip(plain, within, strict=True))
        if origin in (*GROUPS, tuple, Sequence):
            olds = iter(now if isinstance(now, tuple) else ())
            return GROUPS.get(origin, tuple)(self.value(one, within[0], next(olds, None)) for one in _listed(plain))
        return self._single(plain, kind, now)

    def _single(self, plain: Any, kind: Any, now: Any) -> Any:
        """One number or text, or one object."""
        if kind is float:
            return ENDLESS[plain] if isinstance(plain, str) else float(plain)
        if kind in (int, bool, str):
            if type(plain) is not kind:
                raise NotRemembered(f"given {str(plain)[:40]}, allowed: {kind.__name__}")
            return plain
        if is_dataclass(kind) or issubclass(kind, tuple):
            names = remembers(kind)
            return kind(*(self.value(one, each) for one, each in zip(plain, names.values(), strict=True)))
        thing = now if isinstance(now, kind) else kind()
        self.put_back(thing, plain)
        return thing


def _listed(plain: Any) -> list[Any]:
    if not isinstance(plain, list):
        raise NotRemembered(f"given {str(plain)[:40]}, allowed: a list")
    return plain


def _place(number: Any) -> int:
    if not isinstance(number, int) or number < 0:
        raise NotRemembered(f"given {str(number)[:40]}, allowed: a place from 0 on")
    return number
