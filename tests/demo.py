"""What tests build lifts of: the demo unit, the textbook lifts, a lift with one thing changed. No maker's figures."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import radians
from pathlib import Path
from typing import Any

from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import NOSE, TAIL
from simulator.scenario.trailer import Pick
from simulator.scenario.unit import Boom, Floats, Hoist, Line, Unit, UnitStart

AXES_X_M = {NOSE: -9.075, TAIL: 9.075}
"""Three quarters of a textbook trailer's 14.6 m between the tailboards (common practice, no source)."""
BOOM = Boom(6.7, 14.5, radians(5), radians(60), 1.2, 2.6)
FLOATS = Floats(2.8, 4.2, 3.5)
HOIST = Hoist()
PARKED = UnitStart(11.7, radians(34.8), radians(-71.5))
"""Tip over the nose pick of a trailer whose middle lies 8 m out."""
ROPE_M = 46.5


def demo_unit(
    name: str = NOSE,
    slew_axis_x_m: float | None = None,
    *,
    pick: str | None = None,
    boom: Boom = BOOM,
    hoist: Hoist = HOIST,
    start: UnitStart = PARKED,
    rope_out_m: float = ROPE_M,
    **changes: Any,
) -> Unit:
    """A unit of 38 t with one line.

    Args:
        name: `nose` or `tail` say where it stands and which way it looks; any other stands and looks as the nose unit.
        slew_axis_x_m: another place to stand.
        pick: where its line goes; else to the pick of its own name.
        boom: and what follows: other parts of it.
        hoist: of its line.
        start: of its boom.
        rope_out_m: of its line.
        changes: other values of its fields.
    """
    made = Unit(
        name=name,
        slew_axis_x_m=AXES_X_M.get(name, AXES_X_M[NOSE]) if slew_axis_x_m is None else slew_axis_x_m,
        tailboard_m=3.6,
        deck_height_m=1.35,
        boom=boom,
        lines=(Line(pick or name, rope_out_m, hoist),),
        start=start,
        floats=FLOATS,
        carrier_kg=21e3,
        carrier_cg_m=3.0,
        superstructure_kg=11.5e3,
        superstructure_cg_m=1.7,
        boom_kg=5.5e3,
        tailboard_toward="nose" if name == TAIL else "tail",
    )
    return replace(made, **changes)


@cache
def textbook(name: str = "tank_on_side") -> Description:
    """A lift by the numbers that the trade teaches with: check values, where a shipped lift has its own."""
    return load(Path(__file__).parent / "textbook" / f"{name}.toml")


def rehoisted(unit: Unit, **changes: Any) -> Unit:
    """The unit with these values of the hoist of each of its lines."""
    lines = tuple(replace(line, hoist=replace(line.hoist, **changes)) for line in unit.lines)
    return replace(unit, lines=lines)


def restarted(unit: Unit, *, rope_out_m: float | None = None, **changes: Any) -> Unit:
    """The unit with these values of its start, and so much rope out on each of its lines."""
    lines = unit.lines if rope_out_m is None else tuple(replace(line, rope_out_m=rope_out_m) for line in unit.lines)
    return replace(unit, lines=lines, start=replace(unit.start, **changes))


def with_unit(lift: Description, place: int, **changes: Any) -> Description:
    """One unit with these fields changed."""
    return _put(lift, place, replace(lift.units[place], **changes))


def with_units(lift: Description, **changes: Any) -> Description:
    """Every unit with these fields changed."""
    return replace(lift, units=tuple(replace(unit, **changes) for unit in lift.units))


def with_boom(lift: Description, **changes: Any) -> Description:
    """Every unit's boom with these fields changed."""
    return replace(lift, units=tuple(replace(unit, boom=replace(unit.boom, **changes)) for unit in lift.units))


def with_floats(lift: Description, **changes: Any) -> Description:
    """Every unit's floats with these fields changed."""
    return replace(lift, units=tuple(replace(unit, floats=replace(unit.floats, **changes)) for unit in lift.units))


def with_hoist(lift: Description, place: int | None = None, **changes: Any) -> Description:
    """The hoists of one unit, or of all, with these fields changed."""
    if place is not None:
        return _put(lift, place, rehoisted(lift.units[place], **changes))
    return replace(lift, units=tuple(rehoisted(unit, **changes) for unit in lift.units))


def with_line(lift: Description, place: int, number: int = 1, **changes: Any) -> Description:
    """One line of a unit (1 or 2) with these fields changed."""
    lines = list(lift.units[place].lines)
    lines[number - 1] = replace(lines[number - 1], **changes)
    return with_unit(lift, place, lines=tuple(lines))


def with_start(lift: Description, place: int, *, rope_out_m: float | None = None, **changes: Any) -> Description:
    """One unit's start with these fields changed, and so much rope out on each of its lines."""
    return _put(lift, place, restarted(lift.units[place], rope_out_m=rope_out_m, **changes))


def with_trailer(lift: Description, **changes: Any) -> Description:
    """The trailer with these fields changed."""
    return replace(lift, trailer=replace(lift.trailer, **changes))


def with_lie(lift: Description, **changes: Any) -> Description:
    """The trailer lying somewhere else, or another way."""
    return with_trailer(lift, start=replace(lift.trailer.start, **changes))


def with_pick(lift: Description, name: str, **changes: Any) -> Description:
    """One pick with these fields changed."""
    picks = (replace(pick, **changes) if pick.name == name else pick for pick in lift.trailer.picks)
    return with_trailer(lift, picks=tuple(picks))


def with_picks(lift: Description, **changes: Any) -> Description:
    """Every pick with these fields changed."""
    return with_trailer(lift, picks=tuple(replace(pick, **changes) for pick in lift.trailer.picks))


def pair_of_picks(nose: tuple[Any, ...], tail: tuple[Any, ...], **changes: Any) -> tuple[Pick, ...]:
    """A nose and a tail pick by their places, alike in all else."""
    return Pick(NOSE, nose, **changes), Pick(TAIL, tail, **changes)


def _put(lift: Description, place: int, unit: Unit) -> Description:
    return replace(lift, units=(*lift.units[:place], unit, *lift.units[place + 1 :]))
