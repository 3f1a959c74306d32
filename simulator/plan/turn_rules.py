"""What a turn comes to as values with limits: how far the rig turns the load, hooks off it, how slings press."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from simulator.mechanics.allowances import DYNAMIC_MARGIN
from simulator.mechanics.section import trailer_discs
from simulator.mechanics.sling import shell_bears_Pa
from simulator.plan.findings import Amount, Change, NotJudged, Place, Reading
from simulator.plan.hanging import Load
from simulator.plan.slung import HungLine
from simulator.plan.stations import Station
from simulator.plan.turn import AT_RAD, Turn, named
from simulator.scenario.description import Description, Limits
from simulator.scenario.rig import RigLine, rig_of
from simulator.scenario.trailer import Pick, Trailer

FULL = 1.0


def turn_readings(description: Description, load: Load, turn: Turn | None) -> Iterator[tuple[Place, Reading]]:
    """How far it turns, held against how far it is to be turned."""
    if turn is None:
        return
    asked = turn.asked_rad - 2.0 * AT_RAD
    what = f"{turn.slack.line} slack there" if turn.slack and turn.slack.line else "every line bears"
    if turn.slack and not turn.slack.line:
        what = "not stable there"
    change = Change(
        "this rig turns it only to {}: lead one line of each unit from the lower edge round under the load",
        (Amount(turn.turns_to_rad, "rad", is_least=False),),
    )
    place = Place(named(turn.turns_to_rad), description.landing.y_m)
    yield place, Reading("turn", "trailer", "turns to", "rad", turn.turns_to_rad, asked, asked, False, what, change)


def slung_readings(description: Description, load: Load, station: Station) -> Iterator[Reading]:
    """Stable or not, each hook off the load, and each sling's push and pressure against what is stated."""
    hung = station.hung
    if hung is None:
        return
    if not hung.holds:
        change = Change("bring the picks so that it hangs stable: at this place it would turn over by itself")
        yield Reading("stable", "trailer", "hangs stable", "share", 0.0, FULL, FULL, False, station.name, change)
    for own, line in zip(rig_of(description).lines, hung.lines, strict=True):
        unit = f"{description.units[own.unit].name} unit"
        pick = description.trailer.picks[own.pick]
        if line.run is not None:
            yield _hook_off(description.limits, unit, own, line)
            yield from _pressed(description.trailer, load, pick, unit, own, line)


def _hook_off(limits: Limits, unit: str, own: RigLine, line: HungLine) -> Reading:
    assert line.run is not None
    off, caution, stop = line.run.hook_off_m, limits.hook_off_caution_m, limits.hook_off_stop_m
    change = Change("a sling {} longer: its upper eye comes to lie on the load", (Amount(caution - off, "m"),))
    return Reading("hook off", unit, "hook off the load", "m", off, caution, stop, False, own.name, change)


def _pressed(trailer: Trailer, load: Load, pick: Pick, unit: str, own: RigLine, line: HungLine) -> Iterator[Reading]:
    """Against what is stated; what is not stated is among what could not be judged."""
    found = line.squeezes(load.weight_N * DYNAMIC_MARGIN, pick.sling_width_m)
    corners = [one.push_N for one in found if one.pressure_Pa is None]
    shells = [one.pressure_Pa for one in found if one.pressure_Pa is not None]
    if corners and pick.corner_bears_N is not None:
        used = _over(max(corners), pick.corner_bears_N)
        change = Change("a wider sleeve or a spreader: the corner is stated to bear less")
        yield Reading("squeeze", unit, "sling at a corner", "share", used, FULL, FULL, True, own.name, change)
    bears_Pa = shell_bears_Pa(trailer, pick)
    if shells and bears_Pa is not None:
        used = _over(max(shells), bears_Pa)
        change = Change("a wider sling, or a spreader: the shell is stated to bear less")
        yield Reading("shell", unit, "sling on the shell", "share", used, FULL, FULL, True, own.name, change)


def _over(value: float, bears: float) -> float:
    return value / bears if bears > 0.0 else inf


def turn_not_judged(description: Description, stations: tuple[Station, ...]) -> Iterator[NotJudged]:
    """Slings that press what is not stated to bear anything."""
    for own in rig_of(description).lines:
        pick = description.trailer.picks[own.pick]
        runs = [one.hung.lines[own.place].run for one in stations if one.hung is not None]
        turns = [turn for run in runs if run is not None for turn in run.turns]
        if any(turn.shell_radius_m for turn in turns) and shell_bears_Pa(description.trailer, pick) is None:
            missing = f"what the shell bears under the sling of {own.name} is not stated"
            yield NotJudged("shell", "trailer", missing, "may_bear of the shell, from its maker; or a spreader")
        if any(not turn.shell_radius_m for turn in turns) and pick.corner_bears_N is None:
            missing = f"what the corners bear under the sling of {own.name} is not stated"
            yield NotJudged("squeeze", "trailer", missing, "corner_bears of the pick; or a spreader")


def sling_gets_under(description: Description) -> tuple[str, ...]:
    """How a sling is got under a load that lies on it: said in the plan, not judged."""
    under = [pick.name for pick in description.trailer.picks if pick.lies_on and _lies_under(description, pick)]
    if not under:
        return ()
    names = " and ".join(under)
    return (
        f"the slings of {names} have to be got under the lying load first: lift an end a little with line 1 and block "
        "it, dig a hole at the picks, or float a rope through and pull the sling after it; nobody reaches under it "
        "while it hangs (common practice, no source)",
    )


def _lies_under(description: Description, pick: Pick) -> bool:
    down = {"top_to_ravine": "right", "top_to_road": "left", "on_wheels": "floor"}[description.trailer.attitude]
    return pick.lies_on == down and bool(trailer_discs(description.trailer, pick.at_m[0]))
