"""The places of the agreed path at which a set-up is judged: on the bed, raised, across, above the landing, landed.

A load that is turned over in the air is judged every 5 degrees of the turn too, above the landing.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, ceil, floor, sqrt, tan
from typing import Literal, NamedTuple

from simulator.mechanics.clearance.scene import Pose
from simulator.mechanics.ground import ground, height_m
from simulator.mechanics.rest_pose import pose_of
from simulator.mechanics.taut_string import SheaveInside
from simulator.mechanics.trailer_body import Vector, lying, rotation, stated_cg_m, turned
from simulator.plan.hanging import Hanging, Load, hang, plumb_shares
from simulator.plan.line_pulls import Pulls, is_plumb, line_pulls, tips_over
from simulator.plan.slung import Hung, hung_level, runs_round, slung_of
from simulator.plan.turn import is_turned_on_the_way, level_station, lowered, named, turn_of
from simulator.scenario.description import Description
from simulator.scenario.drill import Work
from simulator.scenario.faults import BrokenScenario, Fault
from simulator.scenario.rig import PAIR, TAIL, rig_of

Phase = Literal[
    "lift-off", "held", "raised", "crossing", "over the tailboards", "above the landing", "turning", "landed"
]
"""`held` is raised by a drill that ends before the load crosses."""
SAME_Y_M = 0.02
ACROSS: tuple[Work, ...] = ("cross", "lower")
"""What hands do only in a lift that crosses, or has crossed."""
MOST_SLEW_RAD = 1.5


class Station(NamedTuple):
    """One place of the path; the whole weight on the lines, plumb where each is its unit's only one."""

    phase: Phase
    y_m: float
    """Middle of the trailer's outline across the road."""
    pose: Pose
    tips_m: tuple[Vector, ...]
    """Of every unit."""
    hooks_m: tuple[Vector, ...]
    """Of every line, and so on."""
    pulls: Pulls
    hold_N: tuple[float, ...]
    """What a hold on the bed adds to each line before it lets go."""
    turned_rad: float = 0.0
    """How far it has been turned over."""
    hung: Hung | None = None
    """How it hangs on lines that may run round it."""

    @property
    def shares(self) -> tuple[float, ...]:
        """Of the weight, upward, of every line."""
        return self.pulls.shares

    @property
    def name(self) -> str:
        """For a table: the phase, and the place while it crosses."""
        if self.phase == "turning":
            return named(self.turned_rad)
        return f"crossing {self.y_m:+.1f}" if self.phase == "crossing" else self.phase


def stations(
    description: Description,
    load: Load,
    *,
    step_m: float = 0.5,
    slew_step_rad: float | None = None,
    ahead_m: float = 0.0,
) -> tuple[Station, ...]:
    """The whole path in order; of a drill that ends before the load crosses, up to there.

    Args:
        description: the lift.
        load: of that description.
        step_m: steps of y while it crosses.
        slew_step_rad: steps of the leader's slew instead.
        ahead_m: how far the leading tip is ahead of the other while they cross; the load yaws with them, lines plumb.

    Raises:
        BrokenScenario: tips so low that a sheave would be inside the load on its slings.
    """
    level = hang(load, 0.0, load.roll_rad)
    start, end = description.trailer.start.y_m + load.middle_y_m, description.landing.y_m
    belly = description.path.belly_over_road_m
    if runs_round(description):
        return _slung_stations(description, load, (level, step_m, slew_step_rad))
    if not crosses(description):
        return _lift_off(description, load), _level(description, load, level, "held", start, belly)
    across = [start, *_between(description, level, load, start, end, step_m, slew_step_rad), end]
    flat = hang(load, 0.0, 0.0)
    return (
        _lift_off(description, load),
        *(
            _yawed(description, one, ahead_m if end >= start else -ahead_m)
            for one in (
                _level(description, load, level, _phase(i, y, len(across)), y, belly) for i, y in enumerate(across)
            )
        ),
        _level(description, load, flat, "landed", end, description.landing.height_m, roll_rad=0.0),
    )


def _slung_stations(
    description: Description, load: Load, how: tuple[Hanging, float, float | None]
) -> tuple[Station, ...]:
    try:
        return tuple(_slung_path(description, load, *how))
    except SheaveInside:
        raise BrokenScenario([_tips_too_low(description, load)]) from None


def _tips_too_low(description: Description, load: Load) -> Fault:
    """Sheaves that would be inside the load on its slings, and a height that is surely over it."""
    path, most = description.path, max(line.hoist.block_and_stop_m for unit in description.units for line in unit.lines)
    spread = sum((high - low) ** 2 for low, high in zip(load.body.low_m[1:], load.body.high_m[1:], strict=True))
    above = path.belly_over_road_m + sqrt(spread) + most + description.limits.head_room_caution_m
    given = f"{path.tip_height_m:.2f} m, at which a sheave would be inside the load on its slings"
    return Fault("the lift: [path] tip_height", given, f"over the load with its slings, such as {above:.1f} m")


def _slung_path(
    description: Description, load: Load, level: Hanging, step_m: float, slew_step_rad: float | None
) -> Iterator[Station]:
    """The path of a load whose lines may run round it, its turn over the landing with it."""
    start, end = description.trailer.start.y_m + load.middle_y_m, description.landing.y_m
    belly = description.path.belly_over_road_m
    yield _slung_lift_off(description, load)
    if not crosses(description):
        yield _slung(description, load, "held", start, belly)
    else:
        across = [start, *_between(description, level, load, start, end, step_m, slew_step_rad), end]
        for i, y in enumerate(across):
            yield _slung(description, load, _phase(i, y, len(across)), y, belly)
    if not is_turned_on_the_way(description):
        if crosses(description):
            yield _slung(description, load, "landed", end, description.landing.height_m)
        return
    turn = turn_of(description)
    for one in turn.stations:
        yield _of_hung("turning", end, one.tips_m, one.hung, turned_rad=one.turned_rad)
    if turn.is_whole and crosses(description):
        yield _of_hung("landed", end, turn.stations[-1].tips_m, lowered(description, turn), turned_rad=turn.asked_rad)


def _slung(description: Description, load: Load, phase: Phase, y_m: float, lowest_m: float) -> Station:
    tips, hung = level_station(description, load, y_m, lowest_m)
    return _of_hung(phase, y_m, tips, hung)


def _of_hung(
    phase: Phase, y_m: float, tips: tuple[Vector, ...], hung: Hung, *, hold_N: float = 0.0, turned_rad: float = 0.0
) -> Station:
    hooks = tuple(line.hook_m for line in hung.lines)
    hold = tuple(hold_N * share for share in hung.pulls.shares)
    return Station(phase, y_m, hung.pose, tips, hooks, hung.pulls, hold, turned_rad, hung)


def _slung_lift_off(description: Description, load: Load) -> Station:
    """The whole weight just taken, the trailer where and as it lies."""
    start, pose = description.trailer.start, _lying_pose(description, load)
    turn = rotation(start.pitch_rad, start.yaw_rad, start.roll_rad)
    x, y, z = turned(turn, load.body.cg_m)
    at = pose_of((pose.x_m + x, pose.y_m + y, pose.z_m + z), start.pitch_rad, start.yaw_rad, start.roll_rad)
    tips, hung = hung_level(slung_of(description), at)
    hold = description.site.bed_hold.pull_N if description.site.bed_hold else 0.0
    return _of_hung("lift-off", start.y_m + load.middle_y_m, tips, hung, hold_N=hold)


def crosses(description: Description) -> bool:
    """Whether the load is to cross to its landing: some drills end before."""
    drill = description.drill
    return drill is None or any(step.work in ACROSS for step in drill.steps)


def _yawed(description: Description, station: Station, ahead_m: float) -> Station:
    """A crossing station with the leader's tip ahead in y; positive yaw is tail toward the road."""
    if not ahead_m or station.phase not in ("crossing", "over the tailboards") or len(station.hooks_m) < len(PAIR):
        return station
    span = station.hooks_m[-1][0] - station.hooks_m[0][0]
    yaw = asin(max(-1.0, min(1.0, ahead_m / span))) * (1.0 if description.path.leader == TAIL else -1.0)
    x, y = station.pose[0], station.pose[1]
    matrix = rotation(0.0, yaw, 0.0)

    def about(point: Vector) -> Vector:
        turned_x, turned_y, z = turned(matrix, (point[0] - x, point[1] - y, point[2]))
        return x + turned_x, y + turned_y, z

    hooks, tips, sheaves = (
        tuple(map(about, some)) for some in (station.hooks_m, station.tips_m, station.pulls.sheaves_m)
    )
    pulls = station.pulls._replace(sheaves_m=sheaves)
    return station._replace(pose=station.pose._replace(yaw_rad=yaw), hooks_m=hooks, tips_m=tips, pulls=pulls)


def _phase(i: int, y_m: float, count: int) -> Phase:
    if i == 0:
        return "raised"
    if i == count - 1:
        return "above the landing"
    return "over the tailboards" if abs(y_m) < SAME_Y_M else "crossing"


def _between(
    description: Description,
    level: Hanging,
    load: Load,
    start: float,
    end: float,
    step_m: float,
    slew_step_rad: float | None,
) -> list[float]:
    """Places between the ends, the middle of the tailboards always among them."""
    low, high = min(start, end) + SAME_Y_M, max(start, end) - SAME_Y_M
    by_slew = _of_slew(description, level, load, slew_step_rad) if slew_step_rad else None
    inside = (
        by_slew if by_slew is not None else (i * step_m for i in range(ceil(low / step_m), floor(high / step_m) + 1))
    )
    found = sorted({0.0, *inside} if low < 0.0 < high else set(inside), reverse=start > end)
    return [y for y in found if low < y < high]


def _of_slew(description: Description, level: Hanging, load: Load, step_rad: float) -> list[float] | None:
    """Places at which the leader's slew is a whole number of steps; None when its tip never passes the tailboard."""
    names = rig_of(description).unit_names
    end = names.index(description.path.leader) if description.path.leader in names else 0
    unit = description.units[end]
    tip = tips_over(description, level.hooks_m, level.cg_m)[end]
    along = unit.facing * (description.trailer.start.x_m + tip[0] - unit.slew_axis_x_m)
    if along <= 0.0:
        return None
    offset = tip[1] - load.middle_y_m - unit.slew_axis_y_m
    most = floor(MOST_SLEW_RAD / step_rad)
    return [along * tan(i * step_rad + unit.yaw_rad) - offset for i in range(-most, most + 1)]


def _level(
    description: Description,
    load: Load,
    hanging: Hanging,
    phase: Phase,
    y_m: float,
    belly_m: float,
    *,
    roll_rad: float | None = None,
) -> Station:
    """A station with the trailer level, its lowest point at `belly_m`."""
    roll = load.roll_rad if roll_rad is None else roll_rad
    at = (description.trailer.start.x_m, y_m - load.middle_y_m, belly_m - hanging.lowest_m)
    return _at(description, hanging, phase, y_m, Pose(*at, 0.0, 0.0, roll))


def _at(
    description: Description, hanging: Hanging, phase: Phase, y_m: float, pose: Pose, hold_N: float = 0.0
) -> Station:
    """A station from how the load hangs there; a hold is shared as the weight is, or by its own place (`_hold`)."""
    *hooks, cg = ((pose[0] + x, pose[1] + y, pose[2] + z) for x, y, z in (*hanging.hooks_m, hanging.cg_m))
    tips = tips_over(description, hooks, cg)
    pulls = line_pulls(description, tips, hooks, hanging.shares, cg)
    lines = rig_of(description).lines
    hold = _hold(description, hanging, pulls, hold_N)
    return Station(phase, y_m, pose, tips, tuple(hooks[line.pick] for line in lines), pulls, hold)


def _lying_pose(description: Description, load: Load) -> Pose:
    """Where and as it lies."""
    start = description.trailer.start
    matrix = rotation(start.pitch_rad, start.yaw_rad, start.roll_rad)
    surface = ground(description.site)
    arms = [turned(matrix, point) for point in load.body.points_m]
    z = max(height_m(surface, start.x_m + x, start.y_m + y) - arm for x, y, arm in arms)
    return Pose(start.x_m, start.y_m, z, start.pitch_rad, start.yaw_rad, start.roll_rad)


def _lift_off(description: Description, load: Load) -> Station:
    """The whole weight just taken, the trailer where and as it lies."""
    start, pose = description.trailer.start, _lying_pose(description, load)
    hanging = hang(load, start.pitch_rad, start.roll_rad)
    yawed = rotation(0.0, start.yaw_rad, 0.0)
    hooks = tuple(turned(yawed, hook) for hook in hanging.hooks_m)
    hanging = hanging._replace(hooks_m=hooks, cg_m=turned(yawed, hanging.cg_m))
    pull_N = description.site.bed_hold.pull_N if description.site.bed_hold else 0.0
    return _at(description, hanging, "lift-off", start.y_m + load.middle_y_m, pose, pull_N)


def _hold(description: Description, hanging: Hanging, pulls: Pulls, pull_N: float) -> tuple[float, ...]:
    """A snag or suction at its stated pull, between plumb lines as its place has it, else as the weight is shared."""
    hold, rig = description.site.bed_hold, rig_of(description)
    if hold is None or not pull_N:
        return tuple(0.0 for _ in rig.lines)
    if not is_plumb(rig):
        return tuple(pull_N * share for share in pulls.shares)
    trailer, start = description.trailer, description.trailer.start
    origin = stated_cg_m(trailer)
    own = hold.at_m[0] - origin[0], hold.at_m[1] - origin[1], hold.at_m[2] - origin[2]
    at = turned(rotation(start.pitch_rad, 0.0, start.roll_rad), lying(trailer.attitude, own))
    x, y, _ = turned(rotation(0.0, start.yaw_rad, 0.0), at)
    shares = plumb_shares(hanging.hooks_m, (x, y))
    return tuple(pull_N * shares[line.pick] for line in rig.lines)
