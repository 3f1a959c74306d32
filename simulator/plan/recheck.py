"""The rest of the path judged anew with what the load told: what governs now, in how many cases, what to do."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import inf
from typing import Literal, NamedTuple

import numpy as np

from simulator.mechanics.cargo import cg_run_m
from simulator.mechanics.trailer_body import Vector, lying, stated_mass_kg
from simulator.mechanics.weighing import SIGMAS, Array, Errors, Reading, Weighed, weigh
from simulator.mechanics.weighing_doubts import Doubt, Fields, contradictions, refusals
from simulator.mechanics.weighing_lift import ends_of, papers_of
from simulator.plan.batch import CODES, Unknowns, depth_of, judge_many, prepare
from simulator.plan.findings import Finding, NotJudged, Verdict
from simulator.plan.hanging import as_stated, load_of, off_the_bed
from simulator.plan.line_pulls import is_plumb
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import rig_of
from simulator.scenario.trailer import Trailer

SHARES = (0.9, 1.0, 1.1, 1.2)
"""Of the weight on paper."""
STEP_M = 0.05


class GoOn(NamedTuple):
    """For one weight: along from the place on paper, toward the tail end; no place holds where both are None."""

    weight_N: float
    from_m: float | None
    to_m: float | None


def go_on_limits(description: Description) -> tuple[GoOn, ...]:
    """The rest of the path with other weights and places: where no stated limit is passed.

    Empty for a lift whose lines splay: each of its cases is judged by itself, which `slopepick weigh` does.
    """
    known = off_the_bed(as_stated(description))
    if not is_plumb(rig_of(known)):
        return ()
    body, paper_kg = load_of(known).body, stated_mass_kg(known.trailer)
    xs = sorted(pick[0] for pick in body.picks_m)
    places: Array = np.asarray(np.arange(round(xs[0] / STEP_M) + 1, round(xs[-1] / STEP_M)) * STEP_M, dtype=np.float64)
    masses = np.repeat(np.array(SHARES) * paper_kg, len(places))
    same = np.ones(len(masses))
    unknowns = Unknowns(masses, np.tile(places, len(SHARES)), same * known.site.wind.speed_mps, same * depth_of(known))
    holds = (judge_many(prepare(known), unknowns) < 1.0).all(axis=1).reshape(len(SHARES), -1)
    return tuple(_of(share * paper_kg, places[row]) for share, row in zip(SHARES, holds, strict=True))


def _of(mass_kg: float, places_m: Array) -> GoOn:
    weight_N = mass_kg * STANDARD_GRAVITY_MPS2
    if not len(places_m):
        return GoOn(weight_N, None, None)
    return GoOn(weight_N, float(places_m.min()), float(places_m.max()))


CASES, FEW = 1000, 16
"""Drawn from the spread: of plumb lines, many at once; of splayed ones, each judged by itself."""
LOADED = ("capacity", "lightest float", "bearing", "stall", "share", "hoist rope", "rigging", "payload", "deck holds")
"""What changes with weight and center of gravity: of what is within its limits, this alone can govern anew."""
ROUGH_M = 2.0
"""Step across of what is judged many times."""
MOVED = (0.25, 0.5, 0.75, 1.0)
"""Of how far the weight is off the papers: moves of the picks that are tried."""
LEAST_MOVE_M = 0.1
"""Picks are not moved by less. Our choice, no source."""
Do = Literal["go on", "look first", "move the picks", "set down and think"]


class Unusable(ValueError):  # noqa: N818 - it says what it is
    """Readings that nothing can be made of."""

    def __init__(self, doubts: Sequence[Doubt]) -> None:
        super().__init__("; ".join(f"{one.kind}: {_plainly(one.fields)}" for one in doubts))
        self.doubts = tuple(doubts)


class Cases(NamedTuple):
    """The spread, judged case by case."""

    drawn: int
    held: int
    """Of these, how many pass no stated limit."""
    refused: dict[str, int]
    """Cases past each limit, the most first; one may be past several."""
    worst: tuple[float, Vector] | None
    """Weight and center of gravity of a case that is past most; None when all held."""


class Rechecked(NamedTuple):
    """What the load told, and what it means for the rest of the path."""

    weighed: Weighed
    doubts: tuple[Doubt, ...]
    """What speaks against the readings, though they can be used."""
    check: SetupCheck
    """The rest of the path with weight and center of gravity as found."""
    missing: tuple[NotJudged, ...]
    """What a verdict needs and is missing; also rigging that the plan chose by the papers and that is too small now."""
    cases: Cases
    """Drawn from the spread."""
    do: Do
    move_m: float
    """How far both picks are to be moved along, toward the tail end; 0 unless `do` says so."""

    @property
    def verdict(self) -> Verdict:
        """A limit that any case of the spread passes is passed: a false stop is better than a false go."""
        if self.check.refused_for or self.cases.held < self.cases.drawn:
            return "limit passed"
        return "not judged" if self.missing or self.doubts else "no limit passed"

    @property
    def holds(self) -> bool:
        """The rest of the path holds, in every case of the spread."""
        return self.verdict == "no limit passed"

    @property
    def governs(self) -> Finding:
        """What is past its limit, or comes nearest to it, with the load as found."""
        return max(self.check.findings, key=_used)


def _used(one: Finding) -> float:
    """Share of the stop limit that is used; what a load does not change counts only past its limit."""
    reading = one.reading
    if one.level != "stop" and reading.code not in LOADED:
        return -1.0
    value, stop = (reading.value, reading.stop) if reading.rising else (reading.stop, reading.value)
    return value / stop if stop > 0.0 else inf


def recheck(description: Description, readings: Sequence[Reading], errors: Errors | None = None) -> Rechecked:
    """Weigh, and judge the rest of the path with what was found.

    Args:
        description: the lift; its hidden numbers are not looked at.
        readings: one, or more at other attitudes.
        errors: how sure they are; as `Errors` has them unless given.

    Raises:
        Unusable: readings that contradict each other.
        ValueError: no reading.
    """
    known, errors = as_stated(description), errors or Errors()
    weighed, doubts = weigh_sound(known, readings, errors)
    check = check_setup(with_found(known, weighed.weight_N, weighed.cg_m), stated=False, begun=True)
    missing = (*check.not_judged, *_too_small(known, check))
    found = Rechecked(weighed, doubts, check, missing, _in_the_spread(known, weighed), "go on", 0.0)
    if found.verdict == "not judged" and not doubts:
        return found._replace(do="look first")
    return found if found.holds else _else(known, found)


def weigh_sound(
    description: Description, readings: Sequence[Reading], errors: Errors
) -> tuple[Weighed, tuple[Doubt, ...]]:
    """What the readings say, and what may yet speak against them.

    Raises:
        Unusable: readings that contradict each other.
        ValueError: no reading.
    """
    if bad := [doubt for one in readings for doubt in refusals(one, errors)]:
        raise Unusable(bad)
    ends, papers = ends_of(description), papers_of(description)
    found = weigh(readings, errors, ends, most_pitch_rad=description.limits.pitch_stop_rad)
    doubts = [doubt for one in readings for doubt in contradictions(one, errors, ends, found, papers)]
    if bad := [doubt for doubt in doubts if doubt.refuses]:
        raise Unusable(bad)
    return found, tuple(doubts)


def with_found(description: Description, weight_N: float, cg_m: Vector) -> Description:
    """The lift with a weight, and a center of gravity in lying axes from the stated one, as its true numbers.

    A cargo that moves was weighed where it lies with the load level.
    """
    trailer = description.trailer
    home = tuple(found - run for found, run in zip(cg_m, cg_run_m(trailer, 0.0, 0.0), strict=True))
    own = _own_axes(trailer, home)
    factor = weight_N / STANDARD_GRAVITY_MPS2 / stated_mass_kg(trailer)
    return replace(description, trailer=replace(trailer, hidden_mass_factor=factor, hidden_cg_m=own))


def _own_axes(trailer: Trailer, lies_m: tuple[float, ...]) -> Vector:
    """The inverse of `trailer.lying`: its columns are where the axes lie."""
    axes = np.array([lying(trailer.attitude, axis) for axis in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))])
    x, y, z = (float(value) for value in axes @ np.array(lies_m))
    return x, y, z


def _in_the_spread(description: Description, weighed: Weighed) -> Cases:
    plumb = is_plumb(rig_of(description))
    drawn = _drawn(weighed, CASES if plumb else FEW, description.seed)
    past = list((_many if plumb else _one_by_one)(description, weighed, drawn))
    counts = Counter(code for codes in past for code in codes)
    worst = max(range(len(past)), key=lambda n: len(past[n]))
    weight, *cg = drawn[worst].tolist()
    is_past = bool(past[worst])
    held = sum(not codes for codes in past)
    return Cases(len(past), held, dict(counts.most_common()), (weight, (cg[0], cg[1], cg[2])) if is_past else None)


def _drawn(weighed: Weighed, count: int, seed: int) -> Array:
    """(case, 4): weight and center of gravity, each inside its 95 %; the first is the one that was found.

    Args:
        weighed: what was found.
        count: cases.
        seed: the scenario's.
    """
    draw = np.random.default_rng(seed)
    middle = np.array([weighed.weight_N, *weighed.cg_m])
    sigma = np.sqrt(np.diag(weighed.covariance))
    alike = weighed.covariance / np.outer(sigma, sigma)
    drawn = draw.multivariate_normal(np.zeros(4), alike, 4 * count)
    inside = drawn[(np.abs(drawn) <= SIGMAS).all(axis=1)][: count - 1]
    return np.vstack([middle, middle + inside * sigma])


def _many(description: Description, weighed: Weighed, drawn: Array) -> Iterator[tuple[str, ...]]:
    found = off_the_bed(with_found(description, weighed.weight_N, weighed.cg_m))
    same = np.ones(len(drawn))
    unknowns = Unknowns(
        drawn[:, 0] / STANDARD_GRAVITY_MPS2,
        drawn[:, 1] - weighed.cg_m[0],
        same * description.site.wind.speed_mps,
        same * depth_of(description),
    )
    for row in judge_many(prepare(found), unknowns) >= 1.0:
        yield tuple(code for code, is_past in zip(CODES, row, strict=True) if is_past)


def _one_by_one(description: Description, _: Weighed, drawn: Array) -> Iterator[tuple[str, ...]]:
    for weight, *cg in drawn.tolist():
        case = with_found(description, weight, (cg[0], cg[1], cg[2]))
        yield check_setup(case, step_m=ROUGH_M, room=False, stated=False, begun=True).refused_for


def _too_small(description: Description, check: SetupCheck) -> Iterator[NotJudged]:
    """Rigging that hangs there by the plan: where no size was stated, the smallest that held the papers' load."""
    planned = check_setup(description, step_m=ROUGH_M, room=False).rigging
    for was, now in zip(planned, check.rigging, strict=True):
        for serves in dict.fromkeys(piece.serves for piece in was.pieces if not piece.at_hand):
            pairs = [pair for pair in zip(was.pieces, now.pieces, strict=True) if pair[0].serves == serves]
            if all(new.held.needed_N > old.held.allowed_N for old, new in pairs):
                old, new = pairs[0]
                needs = f"{new.held.piece.name} or stronger there, where the plan chose {old.held.piece.name}"
                yield NotJudged("rigging size", was.who, f"whether the {new.role} that hangs there holds", needs)


def _else(description: Description, found: Rechecked) -> Rechecked:
    """It does not hold as it hangs: the shortest move of all picks toward its weight with which it would."""
    off_m = found.weighed.cg_m[0]
    for share in () if found.doubts else MOVED:
        if abs(share * off_m) >= LEAST_MOVE_M and _holds_moved(description, found.weighed, share * off_m):
            return found._replace(do="move the picks", move_m=share * off_m)
    return found._replace(do="set down and think")


def _holds_moved(description: Description, weighed: Weighed, along_m: float) -> bool:
    moved = with_picks_moved(description, along_m)
    check = check_setup(with_found(moved, weighed.weight_N, weighed.cg_m), stated=False)
    return not check.refused_for and _in_the_spread(moved, weighed).worst is None


def with_picks_moved(description: Description, along_m: float) -> Description:
    """The lift with every pick moved along the load, as far as the load reaches."""
    trailer = description.trailer
    xs = [x for part in trailer.parts for x, _ in part.outline_m]
    picks = tuple(
        replace(pick, at_m=(min(max(xs), max(min(xs), pick.at_m[0] + along_m)), *pick.at_m[1:]))
        for pick in trailer.picks
    )
    return replace(description, trailer=replace(trailer, picks=picks))


def _plainly(fields: Fields) -> str:
    return ", ".join(f"{name} {value}" for name, value in fields.items())
