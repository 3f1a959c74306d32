"""The lifts on offer: those that ship, and the user's own; one that cannot be used is shown with its faults."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

from simulator.places import shipped_drills, shipped_scenarios
from simulator.recording.settings import data_folder
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load

FIRST = ("practice_yard.toml", "turn_over_tank.toml")
"""Shipped lifts that stand before the others: the one to begin with, and the one in which there is most to do."""


class Offer(NamedTuple):
    """One scenario file: its lift, or what is wrong with it."""

    description: Description | None
    name: str = ""
    faults: tuple[str, ...] = ()


def shipped_lifts() -> tuple[Description, ...]:
    """The shipped lifts that can be read: those of `FIRST`, then the easiest first."""
    found = [(row.name, row.description) for row in map(offer, shipped_scenarios()) if row.description is not None]
    found.sort(key=lambda one: (one[0] not in FIRST, one[1].difficulty, one[1].title))
    return tuple(description for _, description in found)


def drill_offers() -> tuple[Offer, ...]:
    """The shipped drills that can be read, the easiest first."""
    found = [row for row in map(offer, shipped_drills()) if row.description is not None]
    return tuple(sorted(found, key=lambda row: (row.description.difficulty if row.description else 0, row.name)))


def user_folder() -> Path:
    """Where the user may put scenario files."""
    return data_folder() / "scenarios"


def user_offers(folder: Path) -> tuple[Offer, ...]:
    """The user's own lifts, by the names of their files; those that cannot be used come last."""
    found = map(offer, sorted(folder.glob("*.toml")))
    return tuple(sorted(found, key=lambda row: (row.description is None, row.name)))


def offer(path: Path) -> Offer:
    """A scenario file on offer."""
    try:
        return Offer(load(path), path.name)
    except BrokenScenario as broken:
        return Offer(None, path.name, tuple(str(fault) for fault in broken.faults))


def offered_lifts(shipped: Iterable[Description], own: Iterable[Offer] = ()) -> tuple[Offer, ...]:
    """All of them, what ships first."""
    return (*(Offer(description) for description in shipped), *own)
