"""What is drawn by lot for each rehearsal: the load, the wind, and who drives how."""

from __future__ import annotations

from dataclasses import replace
from math import inf
from random import Random
from typing import NamedTuple

from simulator.attempt import Operator
from simulator.drill.clumsy import operator_of
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import parse_text
from simulator.scenario.toml_writer import dump

Range = tuple[float, float]
SEEDS = 2**31
"""Seeds of a draw are below this, as a scenario's own is."""


class Lots(NamedTuple):
    """Between what is drawn, evenly; None keeps what the scenario says, what it hides among it."""

    seed: int
    ways: tuple[tuple[str, ...], ...]
    """Of each unit: the ways (`drill.ways.WAYS`) one of which its operator drives in; one named twice comes twice as
    often."""
    weight: Range | None = None
    """True mass over the stated one."""
    cg_m: Range | None = None
    """True center of gravity from the stated one, along the trailer toward the axles."""
    cg_across_m: Range | None = None
    """The same across it, toward its left when looking along x."""
    wind_mps: Range | None = None
    """Mean of ten minutes, as the scenario's own; gusts as it describes them come on top."""


RANGES = ("weight", "cg_m", "cg_across_m", "wind_mps")


class Draw(NamedTuple):
    """What was drawn for one rehearsal."""

    number: int
    """From 1."""
    weight: float
    cg_m: float
    cg_across_m: float
    wind_mps: float
    gust_seed: int
    """The gusts come at other moments in each draw."""
    ways: tuple[str, ...]
    hand_seeds: tuple[int, ...]
    """Of what clumsy hands draw by lot, unit by unit."""


def drawn(description: Description, lots: Lots, number: int) -> Draw:
    """Draw `number` of a lift: the same whatever was drawn before it, whoever asks, and on how many cores.

    Each draw has a random stream of its own, seeded by seed and number (Python's generator by its text, which it hashes
    with SHA-512), and takes the same places of it: another range or way changes nothing else.
    """
    stream = Random(f"{lots.seed} {number}")
    trailer, wind = description.trailer, description.site.wind
    along, across, _ = trailer.hidden_cg_m
    return Draw(
        number,
        _between(stream, lots.weight, trailer.hidden_mass_factor),
        _between(stream, lots.cg_m, along),
        _between(stream, lots.cg_across_m, across),
        _between(stream, lots.wind_mps, wind.speed_mps),
        int(stream.random() * SEEDS),
        tuple(ways[int(stream.random() * len(ways))] for ways in lots.ways),
        tuple(int(stream.random() * SEEDS) for _ in lots.ways),
    )


def _between(stream: Random, ends: Range | None, stated: float) -> float:
    """A place of the stream, used or not."""
    share = stream.random()
    return stated if ends is None else ends[0] + share * (ends[1] - ends[0])


def lift_of(description: Description, draw: Draw) -> Description:
    """The lift with what was drawn as its true numbers."""
    trailer, site = description.trailer, description.site
    hidden = draw.cg_m, draw.cg_across_m, trailer.hidden_cg_m[2]
    return replace(
        description,
        seed=draw.gust_seed,
        trailer=replace(trailer, hidden_mass_factor=draw.weight, hidden_cg_m=hidden),
        site=replace(site, wind=replace(site.wind, speed_mps=draw.wind_mps)),
    )


def operators_of(lift: Description, draw: Draw) -> list[Operator | None]:
    """Who drives it, unit by unit."""
    each = enumerate(zip(draw.ways, draw.hand_seeds, strict=True))
    return [operator_of(lift, end, way, seed=seed) for end, (way, seed) in each]


def unordered(lots: Lots) -> list[str]:
    """What is no range."""
    found = []
    for name in RANGES:
        ends = getattr(lots, name)
        if ends is not None and not (
            isinstance(ends, tuple) and len(ends) == 2 and all(isinstance(one, int | float) for one in ends)
            and -inf < ends[0] <= ends[1] < inf
        ):  # fmt: skip
            found.append(f"{name}: given {ends!r}, allowed: two numbers such as (0.9, 1.1), the smaller first")
    return found


def wild(description: Description, lots: Lots) -> list[str]:
    """What no scenario file could hold where all ranges are at one of their ends."""
    stated = drawn(description, Lots(lots.seed, lots.ways), 1)
    ranges = {name: getattr(lots, name) for name in RANGES}
    found: dict[str, None] = {}
    for which in range(2):
        ends = {name: ends[which] for name, ends in ranges.items() if ends is not None}
        try:
            parse_text(dump(lift_of(description, stated._replace(**ends))), "at an end of the ranges")
        except BrokenScenario as broken:
            found |= dict.fromkeys(map(str, broken.faults))
    return list(found)
