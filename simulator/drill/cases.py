"""What costs points in every drill and is no condition on one reading: early weight, shocks, gaps, an odd weight."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from simulator.drill.conditions import WELL_PLUMB
from simulator.drill.hard_fails import OFF_PAPERS_SHARE, SNATCH_SHARE
from simulator.drill.lever_turns import CORRECTIONS, PERIODS, PULLED, Pulled
from simulator.drill.taking_weight import Happening
from simulator.engine.commands import Commands
from simulator.readings import Readings
from simulator.scenario.description import Limits
from simulator.scenario.drill import EVERYBODY, Mark, Seat, Step
from simulator.scenario.judged_limits import AHEAD_M
from simulator.scenario.rig import Rig

EARLY_N = 3000.0
"""Pull that a line takes when it is to be slack. Our choice, no source."""
ONCE = 15.0
"""Points of what happens once."""
CARRIED_MPS = 0.05
"""A load faster than this across the road is being carried over something; one that rises past a deck's height beside
it is not."""
CARRIED = (("close", 1.0, "carried across close to what it passes"), ("not clear", 4.0, "carried across not clear"))
"""State of a gap, points a second, and what it is called."""
STRAIGHT_BACK_S = 4.0
"""A lever pulled the other way within so long was pulled too far."""
BACK, BACK_MOST = 11.0, 66.0
"""Points of such a turn of a lever full over, and the most that a seat can lose by them in a whole drill. A lever less
far over costs its share, and each turn less than the one before as more is lost: hands that fumble are one fault, told
once, and those that fumble more always lose more. Our choice, no source: it tells calm hands from clumsy ones."""
BESIDE = 12.0
"""Points of a tip that is left at the very end of what counts as plumb; from half of that on they grow evenly. Our
choice, no source: what counts as plumb passes, and what is plumb loses nothing."""
ALONE = 30.0
"""Points of an end of a hanging load moved by `AHEAD_M` in a hold, or in another's turn. Our choice, no source."""
TURN, TURNS_MOST = 5.0, 40.0
"""Points of each turn more, and at most in a step."""
PACE, PACE_MOST = (25.0, 3.0), 60.0
"""Points at once and with each second of hoisting on with an end well ahead of the other, and at most in a step: the
first fault of a lift by two. Our choice, no source."""
HOISTING = ("hoist", "both")
"""Levers that take a unit's end of the load up or down."""
Key = str | tuple[str, float | int | str]
"""What tells a rule that is being broken from others: its name, and which of its marks, seats, gaps or moments."""
HALF = 0.5
"""Half of what fails a drill, or of what ends a step, costs points. Our choice, no source."""


class Case(NamedTuple):
    """One rule at one moment."""

    key: Key
    who: Seat
    rule: str
    reading: str
    value: float
    first: float
    """Points at once."""
    per_s: float
    most: float
    """In one step."""
    low_is_worse: bool = False
    fades: bool = False
    """The most is of the whole drill, and each costs less by as much as is already lost of it."""


def case_of(mark: Mark, key: Key, value: float) -> Case:
    """A mark whose condition holds."""
    once = mark.per == "once"
    points = (mark.points, 0.0) if once else (0.0, mark.points)
    return Case(key, mark.who, mark.why, mark.reading, value, *points, mark.most, mark.comparison.startswith("<"))


def of_gaps(now: Readings, step: Step) -> Iterator[Case]:
    """A part of a load that is carried across close to what it passes, or lower than that."""
    if step.work != "cross" or now.load.ground_N > 0.0 or abs(now.load.vy_mps) < CARRIED_MPS:
        return
    for state, per_s, rule in CARRIED:
        near = [gap.gap_m for gap in now.gaps if gap.state == state]
        if near:
            yield Case(("gap", state), EVERYBODY, rule, "load.gap_m", min(near), 0.0, per_s, 40.0, low_is_worse=True)


def of_taking(happened: Iterable[Happening], limits: Limits, rig: Rig) -> Iterator[Case]:
    """What happened as lines took the load, short of what fails the drill."""
    for one in happened:
        size = abs(one.value)
        who: Seat = EVERYBODY if one.end is None else rig.unit_names[one.end]
        name = "load" if one.end is None else who
        if one.kind == "snatch" and HALF * SNATCH_SHARE < size <= SNATCH_SHARE:
            yield Case("snatch", who, "line taken up fast", f"{name}.shock_share", one.value, ONCE, 0.0, 2.0 * ONCE)
        leans = limits.off_plumb_caution_rad < size <= limits.off_plumb_stop_rad
        if one.kind == "left leaning" and leans:
            yield Case("leaning", who, "came free with its line leaning", f"{name}.off_plumb_rad", one.value, ONCE,
                       0.0, ONCE)  # fmt: skip
        if one.kind == "lifted on" and HALF * OFF_PAPERS_SHARE < size <= OFF_PAPERS_SHARE:
            yield Case("papers", who, "lifted on with no look at the weight", "load.off_papers_share", one.value,
                       ONCE, 0.0, ONCE)  # fmt: skip


def of_plumbing(now: Readings, left: Iterable[int], limits: Limits, rig: Rig) -> Iterator[Case]:
    """How far beside its hook each of these units has left its tip, now that the work of plumbing it is done; of two
    lines each leans by itself, and what they do once they bear is judged."""
    for end in left:
        if len(rig.units[end].lines) > 1:
            continue
        who, least_rad = rig.unit_names[end], WELL_PLUMB * limits.plumb_rad
        share = min(1.0, (now.units[end].off_plumb_rad - least_rad) / (limits.plumb_rad - least_rad))
        if share > 0.0:
            yield Case(("beside", end), who, "tip left beside its hook", f"{who}.off_plumb_rad",
                       now.units[end].off_plumb_rad, BESIDE * share, 0.0, BESIDE)  # fmt: skip


def of_early_weight(now: Readings, began: Readings, step: Step, moved: Iterable[int], rig: Rig) -> Iterator[Case]:
    """Weight taken while the tips are still to be plumbed, or in another's turn, by a seat that moved in this step."""
    if now.load.ground_N <= 0.0:
        return
    for end in moved:
        unit, who = now.units[end], rig.unit_names[end]
        is_early = step.work in ("plumb the tips", "wait") or step.moves not in (EVERYBODY, who)
        was_slack = began.units[end].hook_load_N < EARLY_N
        if is_early and was_slack and unit.hook_load_N > EARLY_N:
            yield Case(("early", end), who, "early weight", f"{who}.hook_load_N", unit.hook_load_N, ONCE, 0.0, ONCE)


def of_moving_alone(now: Readings, began: Readings, step: Step, moved: Iterable[int], rig: Rig) -> Iterator[Case]:
    """An end of a hanging load taken up, down or aside in a hold or in another's turn, by a seat that moved in it."""
    if now.load.ground_N > 0.0 or began.load.ground_N > 0.0:
        return
    for end in moved:
        unit, was, who = now.units[end], began.units[end], rig.unit_names[end]
        went_m = max(abs(unit.hook_z_m - was.hook_z_m), abs(unit.tip_y_m - was.tip_y_m))
        if step.moves not in (EVERYBODY, who) and went_m >= AHEAD_M:
            yield Case(("alone", end), who, "moved its end of the load out of turn", f"{who}.ahead_m", went_m, ALONE,
                       0.0, ALONE)  # fmt: skip


class ToAndFro:
    """Levers turned straight back: a little each time, for hands that look and wait need not; and more where it happens
    again and again while the load hangs, for that feeds a sway."""

    _pulled: dict[tuple[int, int], Pulled]
    _turns: dict[tuple[int, int], list[float]]
    _seen_s: float | None

    def __init__(self, rig: Rig) -> None:
        self._names = rig.unit_names
        self._pulled, self._turns, self._seen_s = {}, {}, None

    def see(self, now: Readings, asked: Commands) -> Iterator[Case]:
        """Take in a moment."""
        dt = 0.0 if self._seen_s is None else now.time_s - self._seen_s
        self._seen_s = now.time_s
        if now.load.ground_N > 0.0:
            self._turns.clear()
        for end, hands in enumerate(asked):
            for lever, pulled in enumerate(hands):
                if abs(pulled) >= PULLED:
                    yield from self._pull((end, lever), pulled, now, dt)

    def _pull(self, lever: tuple[int, int], pulled: float, now: Readings, dt: float) -> Iterator[Case]:
        after_s = self._pulled.setdefault(lever, Pulled()).turned_after_s(pulled, now.time_s, dt)
        if after_s is None:
            return
        who = self._names[lever[0]]
        reading = f"{who}.commands"
        if after_s <= STRAIGHT_BACK_S:
            yield Case(("back", now.time_s), who, "lever turned straight back", reading, abs(pulled),
                       BACK * abs(pulled), 0.0, BACK_MOST, fades=True)  # fmt: skip
        if now.load.ground_N > 0.0:
            return
        turns = [at_s for at_s in self._turns.get(lever, []) if now.time_s - at_s <= PERIODS * now.load.sway_period_s]
        self._turns[lever] = [*turns, now.time_s]
        if len(turns) >= CORRECTIONS:
            yield Case(("to and fro", now.time_s), who, "lever pulled to and fro", reading, abs(pulled), TURN, 0.0,
                       TURNS_MOST)  # fmt: skip


def of_pace(began_m: float, ahead_m: float, asked: Commands, step: Step, rig: Rig) -> Iterator[Case]:
    """One end taken up or let down on, though it has got well ahead of the other.

    Args:
        began_m: the first hook's height over the last one's, less that of a level load, when the step began.
        ahead_m: the same now.
        asked: what the operators ask for.
        step: of the drill.
        rig: of the lift.
    """
    sign = {"raise": 1.0, "lower": -1.0}.get(step.work, 0.0)
    gained_m = ahead_m - began_m
    if not sign or gained_m * ahead_m <= 0.0 or min(abs(gained_m), abs(ahead_m)) < AHEAD_M:
        return
    unit = rig.units[0 if ahead_m * sign > 0.0 else -1]
    hoisted = [
        pulled for lever, pulled in zip(unit.levers, asked[unit.place], strict=True) if lever.function in HOISTING
    ]
    if max(pulled * sign for pulled in hoisted) > PULLED:
        yield Case(("ahead", unit.place), unit.name, "went on ahead of the other", f"{unit.name}.ahead_m",
                   abs(ahead_m), *PACE, PACE_MOST)  # fmt: skip
