"""Fields of the description as a file has them: key, kind, measure, allowed values in words."""

from __future__ import annotations

import types
from dataclasses import MISSING, fields, is_dataclass
from functools import lru_cache
from typing import Annotated, Any, Literal, NamedTuple, Union, get_args, get_origin, get_type_hints

from simulator.files.bounds import TEXT_LETTERS
from simulator.scenario.faults import listed, shown
from simulator.scenario.measures import Measure

_WORD_OF_SUFFIX = {
    "_N_per_m": "stiffness",
    "_kg_per_m3": "density",
    "_radps2": "ramp",
    "_radps": "speed",
    "_mps2": "ramp",
    "_mps": "speed",
    "_Nm": "moment",
    "_rad": "angle",
    "_kg": "mass",
    "_Pa": "pressure",
    "_N": "force",
    "_m": "length",
    "_s": "time",
}
"""Unit suffixes of field names, longest first, each with the word that tells two fields apart once it is gone."""


class Hint(NamedTuple):
    """A field's type, taken apart."""

    base: Any
    measure: Measure | None
    optional: bool


class Entry(NamedTuple):
    """One field of a table."""

    field: str
    key: str
    hint: Any
    default: Any
    """`MISSING` when the file has to give it."""


@lru_cache(maxsize=256)
def entries(table: type) -> tuple[Entry, ...]:
    """The fields of a dataclass in order, with the keys a file uses for them.

    A key is the field's name without its unit. Where that would be the name of two fields, the word for what it is
    measured in stays: `boom` is the table, `boom_mass` is `boom_kg`.
    """
    hints = get_type_hints(table, include_extras=True)
    names = [field.name for field in fields(table)]
    stems = [_stem(name)[0] for name in names]
    found = []
    for field, stem in zip(fields(table), stems, strict=True):
        word = _stem(field.name)[1]
        key = f"{stem}_{word}" if word and stems.count(stem) > 1 else stem
        default = field.default if field.default_factory is MISSING else field.default_factory()
        found.append(Entry(field.name, key, hints[field.name], default))
    return tuple(found)


def _stem(name: str) -> tuple[str, str]:
    """A field's name without its unit suffix, and the word for that suffix ("" when it has none)."""
    for suffix, word in _WORD_OF_SUFFIX.items():
        if name.endswith(suffix) and not name.endswith(f"_per{suffix}"):
            return name.removesuffix(suffix), word
    return name, ""


def apart(hint: Any, measure: Measure | None = None) -> Hint:
    """A type hint taken apart; an outer measure holds for everything inside that has none of its own."""
    optional = False
    while True:
        origin = get_origin(hint)
        if origin is Annotated:
            hint, *extras = get_args(hint)
            measure = next((extra for extra in extras if isinstance(extra, Measure)), measure)
        elif origin in (Union, types.UnionType):
            optional = True
            hint = next(option for option in get_args(hint) if option is not type(None))
        else:
            return Hint(hint, measure, optional)


def extra(hint: Any, kind: type) -> Any:
    """What of this kind a type hint is annotated with; None when there is none."""
    return next((one for one in getattr(hint, "__metadata__", ()) if isinstance(one, kind)), None)


def allowed(hint: Any, measure: Measure | None = None) -> str:
    """The allowed values of a type, in words."""
    base, measure, _ = apart(hint, measure)
    if is_dataclass(base):
        return "a table"
    if get_origin(base) is Literal:
        return listed(shown(choice) for choice in get_args(base))
    if get_origin(base) is tuple:
        return _allowed_list(get_args(base), measure)
    if base is bool:
        return "true or false"
    if base is str:
        return f"text that is not blank, at most {TEXT_LETTERS} letters, no control characters"
    words = (measure or Measure("1")).allowed
    return words.replace("a number", "a whole number", 1) if base is int else words


def _allowed_list(members: tuple[Any, ...], measure: Measure | None) -> str:
    count = "" if members[-1] is Ellipsis else f" of {len(members)}"
    return f"a list{count}, each {allowed(members[0], measure)}"
