"""How far a telescopic boom bends: its sections from length, depth and mass, and the give of its tip at any length.

Square boxes, each as long as the whole boom drawn in, pushed out alike, each in the one before it: depth and plate
shrink by one share from section to section. A section rests in the one around it on two pads, at that one's mouth and
at its own inner end, so each carries a bending moment that statics alone gives, and the tip's give for each newton is
the energy of all of them (Castigliano): sum of integral of m^2 / (E I), m the moment of one newton square to the tip.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from simulator.mechanics.lean import Bend
from simulator.scenario.unit import Boom, Unit

STEEL_PA = 205e9
STEEL_KG_PER_M3 = 7850.0
"""Both: textbooks."""
METAL_SHARE = 0.8
"""Of the boom's mass that is plate of its sections; the rest is head, rams, pads. Common practice, no source."""
TAPER = 0.87
"""Depth and plate of a section over those of the one around it. Common practice, no source."""
MOST_OUT = 0.8
"""Of its length that a section is pushed out at most: a fifth stays inside. Common practice, no source."""

LENGTHS = 64
"""Lengths from the shortest to the longest at which a give is kept: between them a straight line is 0.03 % off."""


class Section(NamedTuple):
    """One section where it stands, from the foot pin."""

    inner_m: float
    mouth_m: float
    EI_Nm2: float


def count(boom: Boom) -> int:
    """Sections that a boom of these two lengths needs."""
    return 1 + max(1, ceil((boom.longest_m - boom.shortest_m) / (MOST_OUT * boom.shortest_m) - 1e-9))


def moving_share(boom: Boom) -> float:
    """Part of the boom's weight that is pushed out: all its sections but the one at the foot."""
    return 1.0 - 1.0 / sum(TAPER ** (2 * i) for i in range(count(boom)))


def base_inertia_m4(boom: Boom, boom_kg: float) -> float:
    """Second moment of area of the section at the foot: a square box with as much metal as its mass allows."""
    area = (
        METAL_SHARE * boom_kg / (STEEL_KG_PER_M3 * boom.shortest_m * sum(TAPER ** (2 * i) for i in range(count(boom))))
    )
    outside = boom.depth_m**2
    inside = max(0.0, outside - area)
    return (outside * outside - inside * inside) / 12.0


def sections(boom: Boom, boom_kg: float, length_m: float) -> tuple[Section, ...]:
    """All sections at a boom length, from the foot out."""
    number, base = count(boom), STEEL_PA * base_inertia_m4(boom, boom_kg)
    out = (length_m - boom.shortest_m) / (number - 1)
    return tuple(Section(i * out, i * out + boom.shortest_m, base * TAPER ** (4 * i)) for i in range(number))


def give_of(rows: tuple[Section, ...]) -> float:
    """m of tip for each newton square to it, of sections that stand so."""
    tip = rows[-1].mouth_m
    total = 0.0
    for i, row in enumerate(rows):
        loads = [(tip, 1.0)] if row is rows[-1] else _pads(row, rows[i + 1], tip)
        if i:
            loads += [(at, -force) for at, force in _pads(rows[i - 1], row, tip)]
        total += _energy(row, loads)
    return total


def _pads(around: Section, inside: Section, tip_m: float) -> list[tuple[float, float]]:
    """Where and how hard a section presses on the one around it, a newton at the tip: at its mouth, at its own end."""
    room = around.mouth_m - inside.inner_m
    return [(around.mouth_m, (tip_m - inside.inner_m) / room), (inside.inner_m, (around.mouth_m - tip_m) / room)]


def _energy(row: Section, loads: list[tuple[float, float]]) -> float:
    """Integral of m^2 / (E I) along one section, exact: m is straight from load to load."""
    knots = sorted({row.inner_m, row.mouth_m, *(at for at, _ in loads if row.inner_m < at < row.mouth_m)})
    total = 0.0
    for a, b in pairwise(knots):
        first, last = (sum(force * max(0.0, at - x) for at, force in loads) for x in (a, b))
        total += (b - a) * (first * first + first * last + last * last) / 3.0
    return total / row.EI_Nm2


def tip_give_m_per_N(boom: Boom, boom_kg: float, length_m: float) -> float:
    """Of the tip square to the boom at a length: by its sections, or as stated at its longest and by their shape."""
    give = give_of(sections(boom, boom_kg, length_m))
    if boom.tip_stiffness_N_per_m is None:
        return give
    return give / (give_of(sections(boom, boom_kg, boom.longest_m)) * boom.tip_stiffness_N_per_m)


def bend_of(unit: Unit) -> Bend:
    """How a unit's boom bends, over its travel."""
    return _bend_of(unit.boom, unit.boom_kg)


@lru_cache(maxsize=16)
def _bend_of(boom: Boom, boom_kg: float) -> Bend:
    step = (boom.longest_m - boom.shortest_m) / LENGTHS
    lengths = (boom.shortest_m + i * step for i in range(LENGTHS + 1))
    return Bend(boom.shortest_m, step, [tip_give_m_per_N(boom, boom_kg, length) for length in lengths])
