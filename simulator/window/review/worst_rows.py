"""A recorded lift's worst values by seat, with the level each came to."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from simulator.recording.counted import worst
from simulator.recording.recorded import Recording
from simulator.scenario.description import Limits
from simulator.window.kit import levels
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.levels import Level, Threshold
from simulator.window.kit.measures_shown import System
from simulator.window.kit.seen import seen_in
from simulator.words import say

_Text = Callable[[float], str]


class WorstCells(NamedTuple):
    """One quantity: what, and its worst values with their levels."""

    label: str
    """Short, with the unit where cells have no room for it."""
    cells: tuple[tuple[str, Level], ...]
    """Unit by unit from left to right, or one for the load."""


def worst_rows(recording: Recording, limits: Limits, system: System) -> tuple[WorstCells, ...]:
    """All of them; nothing where no sample was saved."""
    if not len(recording.time_s):
        return ()
    seen = seen_in(recording.description)

    def by_seat(field: str, limit: Threshold | None, text: _Text) -> WorstCells:
        cells = tuple(_cell(recording, f"{unit.name}.{field}", limit, text) for unit in seen.units)
        return WorstCells(say(f"debrief.worst_{field}", unit=shown.load(0.0, system).unit), cells)

    return (
        by_seat("mean_off_plumb_rad", levels.off_plumb(limits), lambda v: shown.angle(v).joined),
        by_seat("line_load_N", None, lambda v: shown.load(v, system).text),
        by_seat("capacity_used", levels.capacity(limits), lambda v: shown.percent(v).joined),
        by_seat(
            "least_float_share", levels.float_share(limits), lambda v: shown.percent(v).joined
        ),
        by_seat(
            "head_room_m", levels.head_room(limits), lambda v: shown.length(v, system).joined
        ),
        WorstCells(
            say("debrief.worst_sway_m"),
            (_cell(recording, "load.sway_m", levels.sway(limits),
                   lambda v: shown.length(v, system, decimals=2).joined),),
        ),
    )  # fmt: skip


def _cell(recording: Recording, key: str, limit: Threshold | None, text: _Text) -> tuple[str, Level]:
    found = worst(recording, key)
    if found is None:
        return shown.NONE, Level.GOOD
    return text(found.value), limit.level(found.value) if limit else Level.GOOD
