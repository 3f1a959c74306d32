"""What the pair agreed before the lift: where tips go and how high, worked out from the stated numbers alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import sin

from simulator.mechanics.sling import trailer_sling
from simulator.mechanics.trailer_body import Body, Vector, body, rotation, stated_cg_m, turned, turned_back
from simulator.scenario.description import Description
from simulator.scenario.rig import RigLine, rig_of
from simulator.scenario.trailer import Trailer

NOTHING = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Agreement:
    """Stated geometry of the lift."""

    tips_x_m: tuple[float, ...]
    """Where each unit's tip stands along the road while the load hangs level: over the middle of its picks; a lone
    unit's over the stated CG, which all its lines hold between them."""
    hook_over_belly_m: tuple[float, ...]
    """Each unit's hook, or the middle of its hooks, over the trailer's lowest point, level."""
    picks_m: tuple[Vector, ...]
    """Where each line pulls from the trailer's reference point, in lying axes: its pick, or where its sling leaves the
    load."""
    picks_up_m: tuple[float, ...]
    """How high over the reference point that is, the load level."""
    span_m: float
    """The first unit's picks to the last one's; 0 for a lone unit."""
    lands_y_m: float
    """Trailer's reference point when landed."""
    tip_y_over_reference_m: tuple[float, ...]
    """Each tip's y less the reference point's, hanging plumb."""

    def hook_rise_m(self, pitch_rad: float) -> float:
        """The first unit's hook over the last one's at a pitch."""
        return self.hook_over_belly_m[0] - self.hook_over_belly_m[-1] + self.span_m * sin(pitch_rad)


def agreement(description: Description, *, is_turned: bool = False) -> Agreement:
    """Work it out; the hidden CG and the true mass are not looked at.

    Args:
        description: the lift.
        is_turned: for the load as it is to be set down, where that is turned over from how it lies.
    """
    trailer = replace(description.trailer, hidden_cg_m=NOTHING, hidden_mass_factor=1.0)
    stated = body(trailer)
    start = description.trailer.start
    roll = description.lands_turned_rad if is_turned else 0.0
    low_z, _, middle_y = _extent(stated, description.lands_turned_rad)
    low_z = low_z if is_turned else stated.low_m[2]
    rig = rig_of(description)
    runs = [_run(description, trailer, stated, rig_line, roll, low_z) for rig_line in rig.lines]
    hooks = [hook - low_z for _, _, hook in runs]
    own = [[runs[line.place] for line in unit.lines] for unit in rig.units]
    xs = [middle([at[0] for at, _, _ in each]) for each in own]
    tips = xs if len(xs) > 1 else [_under_cg([at[0] for at, _, _ in each]) for each in own]
    return Agreement(
        tips_x_m=tuple(start.x_m + x for x in tips),
        hook_over_belly_m=tuple(middle([hooks[line.place] for line in unit.lines]) for unit in rig.units),
        picks_m=tuple(at for at, _, _ in runs),
        picks_up_m=tuple(level[2] for _, level, _ in runs),
        span_m=xs[-1] - xs[0],
        lands_y_m=description.landing.y_m - middle_y,
        tip_y_over_reference_m=_across([[level for _, level, _ in each] for each in own]),
    )


def _across(picks_m: Sequence[Sequence[Vector]]) -> tuple[float, ...]:
    """Each tip's y over the stated CG, from its picks. A load on one line an end hangs with its center of gravity under
    the line between its two picks: beside that it rolls until it is there."""
    over = [_under_cg([y for _, y, _ in each]) for each in picks_m]
    if [len(each) for each in picks_m] != [1, 1]:
        return tuple(over)
    (first_x, first_y, _), (last_x, last_y, _) = picks_m[0][0], picks_m[1][0]
    along = first_x / (first_x - last_x) if first_x != last_x else 0.5
    aside = first_y + along * (last_y - first_y)
    return tuple(y - aside for y in over)


def _extent(stated: Body, roll_rad: float) -> tuple[float, float, float]:
    """Lowest and highest point and the middle across, from the reference point, of a load turned by 0 or 90 degrees."""
    (_, low_y, low_z), (_, high_y, high_z) = stated.low_m, stated.high_m
    if roll_rad == 0.0:
        return low_z, high_z, (low_y + high_y) / 2.0
    if roll_rad < 0.0:
        return -high_y, -low_y, (low_z + high_z) / 2.0
    return low_y, high_y, -(low_z + high_z) / 2.0


def _run(
    description: Description, trailer: Trailer, stated: Body, line: RigLine, roll_rad: float, low_z_m: float
) -> tuple[Vector, Vector, float]:
    """Of a line whose sheave is straight over the load, from the reference point: where it pulls, in lying axes and
    with the load at a roll, and its hook's height."""
    pick, at = trailer.picks[line.pick], stated.picks_m[line.pick]
    if pick.sling_length_m is None:
        return at, at, at[2] + pick.height_m
    path, matrix = description.path, rotation(0.0, 0.0, roll_rad)
    over = path.tip_height_m - path.belly_over_road_m + low_z_m
    sling = trailer_sling(
        trailer, pick.at_m, from_m=stated_cg_m(trailer), lies_on=pick.lies_on, sling_m=pick.sling_length_m
    )
    run = sling.run(turned_back(matrix, (at[0], 0.0, over)))
    (x, y, z), up = turned(matrix, run.leaves_m), turned(matrix, run.toward)[2]
    return run.leaves_m, (x, y, z), z + run.hook_off_m * up


def _under_cg(picks_m: Sequence[float]) -> float:
    """Where the sum of pulls at these picks acts, along x or y from the stated CG: over it, if it is between them."""
    return min(max(picks_m), max(min(picks_m), 0.0))


def middle(values: Sequence[float]) -> float:
    """Their mean."""
    return sum(values) / len(values)
