"""The turn of a load in the air as lines of text and as plain values, and rigs side by side by how far they turn it."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees
from typing import Any

from simulator.plan.hanging import Load
from simulator.plan.setup_check import SetupCheck
from simulator.plan.turn import BEYOND_RAD, GoesSlack, Rigged, Turn, TurnStation
from simulator.report.amounts import Amounts
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of

WIDTHS = (9, 8, 7, 9, 9, 7)
"""Letters of the columns after the lines' loads."""
NOTES = (
    "pushes: the hardest push of a sling at a corner or on a shell; off: least sling from the load to its hook.",
    "line 1 out x, line 2 in x: speeds that keep the height, over the speed of the turn.",
)


def turn_lines(check: SetupCheck, amounts: Amounts) -> list[str]:
    """Every 5 degrees what each line carries, the lowest point, the hardest push, and speeds that keep the height."""
    turn = check.turn
    if turn is None:
        return []
    rows = [
        *turn_heads(check, amounts),
        *(turn_cells(one, check.description, check.load, amounts) for one in turn.stations),
    ]
    return [
        "Turning it over, line 1 out and line 2 in alike at every unit, its height kept:",
        *(_line(row) for row in rows),
        *NOTES,
        *turn_ends(turn),
    ]


def _line(cells: tuple[str, ...]) -> str:
    first, *others = cells
    widths = (*(8 for _ in others[: -len(WIDTHS)]), *WIDTHS)
    return f"{first:<8}" + "".join(f"{cell:>{width}}" for cell, width in zip(others, widths, strict=True))


def turn_heads(check: SetupCheck, amounts: Amounts) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Names of the table's columns, and their units."""
    names, u, w = rig_of(check.description).line_names, amounts.length_unit, amounts.load_unit
    return (
        ("turned", *names, "lowest", "pushes", "off", "line 1", "line 2", "yaw"),
        ("deg", *(w for _ in names), u, w, u, "out x", "in x", "deg"),
    )


def turn_cells(one: TurnStation, description: Description, load: Load, amounts: Amounts) -> tuple[str, ...]:
    """One station, a text a column."""
    off = min((line.run.hook_off_m for line in one.hung.lines if line.run is not None), default=float("inf"))
    return (
        f"{abs(round(degrees(one.turned_rad)))}",
        *(f"{amounts.load(line.pull_share * load.weight_N):.1f}" for line in one.hung.lines),
        f"{amounts.length(one.hung.lowest_m):.2f}",
        f"{amounts.load(_hardest_N(one, description, load)):.1f}",
        f"{amounts.length(off):.2f}",
        f"{one.speeds[0]:.2f}",
        f"{one.speeds[1]:.2f}",
        f"{degrees(one.hung.pose.yaw_rad):.1f}",
    )


def _hardest_N(one: TurnStation, description: Description, load: Load) -> float:
    picks = [description.trailer.picks[line.pick] for line in rig_of(description).lines]
    rows = zip(one.hung.lines, picks, strict=True)
    pushes = [found.push_N for line, pick in rows for found in line.squeezes(load.weight_N, pick.sling_width_m)]
    return max(pushes, default=0.0)


def turn_ends(turn: Turn) -> Iterator[str]:
    """How far it turns, and which line goes slack next."""
    if turn.slack is not None:
        yield f"It turns to {degrees(turn.turns_to_rad):.0f} deg and no further: {_why(turn.slack)}."
    elif turn.next_slack is not None:
        yield f"Next to go slack: {turn.next_slack.line}, at {degrees(turn.next_slack.turned_rad):.0f} deg."
    else:
        yield f"No line goes slack before {degrees(turn.asked_rad + BEYOND_RAD):.0f} deg."


def _why(slack: GoesSlack) -> str:
    return f"{slack.line} goes slack" if slack.line else "it does not hang stable"


def compared_lines(rigs: tuple[Rigged, ...], weight_N: float, amounts: Amounts) -> list[str]:
    """Rigs side by side."""
    lines = ["Rigs side by side, by how far they turn the load:"]
    for one in rigs:
        turn = one.turn
        most = max(line.pull_share for at in turn.stations for line in at.hung.lines) * weight_N
        low = min(at.hung.lowest_m for at in turn.stations)
        whole = (
            f"all the way, {degrees(turn.asked_rad):.0f} deg"
            if turn.is_whole
            else (f"{degrees(turn.turns_to_rad):.1f} of {degrees(turn.asked_rad):.0f} deg")
        )
        why = f"; {_why(turn.slack)} there" if turn.slack else ""
        lines.append(
            f"  {one.name:<32}{whole}{why}; most on a line {amounts.text(most, 'N')}, "
            f"lowest point {amounts.text(low, 'm')}"
        )
    return lines


def turn_json(turn: Turn | None, description: Description, weight_N: float) -> dict[str, Any] | None:
    """The whole turn, SI."""
    if turn is None:
        return None
    names = rig_of(description).line_names
    return {
        "asked_rad": turn.asked_rad,
        "turns_to_rad": turn.turns_to_rad,
        "is_whole": turn.is_whole,
        "slack": turn.slack._asdict() if turn.slack else None,
        "next_slack": turn.next_slack._asdict() if turn.next_slack else None,
        "stations": [_station_json(one, names, weight_N) for one in turn.stations],
    }


def _station_json(one: TurnStation, names: tuple[str, ...], weight_N: float) -> dict[str, Any]:
    pose = one.hung.pose
    return {
        "turned_rad": one.turned_rad,
        "moved_m": one.moved_m,
        "kept_m": one.kept_m,
        "line_1_out_over_turn": one.speeds[0],
        "line_2_in_over_turn": one.speeds[1],
        "lowest_m": one.hung.lowest_m,
        "pose": dict(zip(pose._fields, pose, strict=True)),
        "stable": one.hung.holds,
        "lines": {
            name: {
                "pull_N": line.pull_share * weight_N,
                "laid_m": line.run.laid_m if line.run else 0.0,
                "hook_off_m": line.run.hook_off_m if line.run else None,
                "push_N": max((each.push_N for each in line.squeezes(weight_N, 1.0)), default=0.0),
            }
            for name, line in zip(names, one.hung.lines, strict=True)
        },
    }
