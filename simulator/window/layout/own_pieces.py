"""Units and trailers by name, those that ship and the user's own, put into a lift that is laid out. No pygame."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from simulator.scenario.description import Description
from simulator.scenario.kept_pieces import BrokenPiece, Piece, find, kept, placed_trailer, placed_unit
from simulator.scenario.trailer import Trailer
from simulator.scenario.unit import Unit
from simulator.window.layout import load_edits, place_edits

AS_STATED = "as_stated"
"""A unit or trailer that is none of those with a name."""
SAME_M = 1e-6


@lru_cache(maxsize=1)
def named_units() -> dict[str, Piece]:
    """Units that can be used, by name."""
    return _usable("unit")


@lru_cache(maxsize=1)
def trailers() -> dict[str, Piece]:
    """Trailers that can be used, by name."""
    return _usable("trailer")


def look_again() -> None:
    """The folders may have changed: somebody has entered a unit."""
    named_units.cache_clear()
    trailers.cache_clear()
    _unit.cache_clear()
    _trailer.cache_clear()


def _usable(kind: str) -> dict[str, Piece]:
    found = {}
    for name in kept(kind):  # type: ignore[arg-type]
        try:
            found[name] = find(kind, name)  # type: ignore[arg-type]
        except BrokenPiece:
            continue
    return found


@lru_cache(maxsize=64)
def _unit(name: str, configuration: str | None) -> Unit:
    return placed_unit(named_units()[name], configuration)


@lru_cache(maxsize=64)
def _trailer(name: str) -> Trailer:
    return placed_trailer(trailers()[name])


def name_of(unit: Unit) -> str:
    """Which one it is, by what nobody changes about it on the road."""
    for name in named_units():
        try:
            own = _unit(name, None)
        except BrokenPiece:
            continue
        if (own.boom, own.carrier_kg, own.tailboard_m, own.deck_height_m) == (
            unit.boom,
            unit.carrier_kg,
            unit.tailboard_m,
            unit.deck_height_m,
        ):
            return name
    return AS_STATED


def charts_of(unit: Unit) -> tuple[str, ...]:
    """How it may be set up, by the names of its charts."""
    name = name_of(unit)
    return tuple(one.configuration for one in named_units()[name].charts) if name in named_units() else ()


def with_named(lift: Description, number: int, name: str, configuration: str | None = None) -> Description:
    """Another unit where one stands; its tailboard stands where that one's does.

    Raises:
        ValueError: there is none of that name that can be used.
    """
    if name == AS_STATED:
        return lift
    try:
        one = _unit(name, configuration)
    except (BrokenPiece, KeyError) as broken:
        raise ValueError(str(broken)) from broken
    there = lift.units[number]
    moved = place_edits.in_place_of(there, one)
    return place_edits.with_unit(lift, number, replace(moved, start=there.start))


def trailer_of(trailer: Trailer) -> str:
    """Which type it is, by its parts."""
    for name in trailers():
        try:
            own = _trailer(name)
        except BrokenPiece:
            continue
        if [part.name for part in own.parts] == [part.name for part in trailer.parts] and all(
            abs(a - b) < SAME_M for a, b in zip(load_edits.size_m(own), load_edits.size_m(trailer), strict=True)
        ):
            return name
    return AS_STATED


def with_trailer(lift: Description, name: str) -> Description:
    """Another trailer where one lies, on the same side up, its lines at its own picks.

    Raises:
        ValueError: there is none of that name that can be used.
    """
    if name == AS_STATED:
        return lift
    try:
        own = _trailer(name)
    except (BrokenPiece, KeyError) as broken:
        raise ValueError(str(broken)) from broken
    attitude, was = lift.trailer.attitude, lift.trailer
    if own.attitude != attitude:
        own = load_edits.with_attitude(replace(lift, trailer=own), attitude).trailer
    new = load_edits.put_trailer(lift, replace(own, start=was.start))
    names = {one.name: other.name for one, other in zip(was.picks, own.picks, strict=False)}
    units = tuple(
        replace(unit, lines=tuple(replace(line, pick=names.get(line.pick, line.pick)) for line in unit.lines))
        for unit in lift.units
    )
    return replace(new, units=units)
