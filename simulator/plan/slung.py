"""A load at rest on lines that may run round it, from given tips: where it hangs, and what each line carries.

Least potential energy in all six ways to move, lines that do not stretch. Whether it hangs stable is part of the
answer; how high its center of gravity is over the picks is not asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import dist
from typing import NamedTuple

import numpy as np

from simulator.mechanics.clearance.scene import Pose
from simulator.mechanics.line_path import Bridle, LinePath, Straight
from simulator.mechanics.rest_pose import Line, Rest, pose_of, rest_unstretched
from simulator.mechanics.rest_pose import Pose as BodyPose
from simulator.mechanics.sling import Run, Sling, Squeeze, trailer_sling
from simulator.mechanics.trailer_body import Vector, stated_cg_m
from simulator.plan.hanging import Load, load_of
from simulator.plan.line_pulls import Pulls, sheave_m
from simulator.scenario.description import Description
from simulator.scenario.rig import Rig, RigLine, RigUnit, rig_of
from simulator.scenario.trailer import Pick, Trailer

ROUNDS = 6
"""Of making lines as long as they are while loaded: a tenth of a millimeter is left."""
PLUMB_ROUNDS = 3
"""Of moving the tips: a hundredth of a degree is left."""


class HungLine(NamedTuple):
    """One line at rest."""

    hook_m: Vector
    """Its hook, or its sling's upper eye, in the world."""
    pull_share: float
    """Along the line, of the weight."""
    run: Run | None
    """How its sling runs; none for a line that goes straight."""

    @property
    def slack(self) -> bool:
        """It carries nothing."""
        return self.pull_share <= 0.0

    def free_m(self, sheave_m: Vector) -> float:
        """From its sheave to where it leaves the load, or to the hook of a line that goes straight."""
        return dist(sheave_m, self.hook_m) if self.run is None else self.run.free_m

    def squeezes(self, weight_N: float, width_m: float) -> tuple[Squeeze, ...]:
        """How it presses at each bend."""
        return () if self.run is None else self.run.squeeze(self.pull_share * weight_N, width_m)


class Hung(NamedTuple):
    """The load at rest."""

    pose: Pose
    """Of its reference point."""
    lines: tuple[HungLine, ...]
    """In the rig's order."""
    pulls: Pulls
    lowest_m: float
    """Lowest corner over the road."""
    rest: Rest

    @property
    def holds(self) -> bool:
        """It hangs stable."""
        return self.rest.stable


@dataclass(frozen=True, slots=True)
class Slung:
    """A load's numbers for hanging it from tips. Build it with `slung_of`."""

    description: Description
    rig: Rig
    load: Load
    paths: tuple[LinePath, ...]
    """Of each line, from the center of gravity."""
    corners_m: np.ndarray
    """From the center of gravity."""

    def sheaves_m(self, tips_m: Sequence[Vector]) -> tuple[Vector, ...]:
        """Of every line, beside its unit's tip."""
        units = self.description.units
        return tuple(sheave_m(units[line.unit], tips_m[line.unit], line.number - 1) for line in self.rig.lines)

    def lengths_m(self, sheaves_m: Sequence[Vector], pose: BodyPose) -> tuple[float, ...]:
        """Sheave to hook of each line with the load at a pose."""
        return tuple(
            path.reach((np.array(sheave) - pose.cg_m) @ pose.turn).distance_m
            for path, sheave in zip(self.paths, sheaves_m, strict=True)
        )

    def at_rest(
        self, sheaves_m: Sequence[Vector], lengths_m: Sequence[float], before: BodyPose | Rest, *, rounds: int = ROUNDS
    ) -> Rest:
        """Where it rests, coming from a pose or a rest; pulls are parts of the weight."""
        rows = zip(sheaves_m, lengths_m, self.paths, strict=True)
        lines = [Line(sheave, length, 1.0, path) for sheave, length, path in rows]
        return rest_unstretched(1.0, lines, start=before, rounds=rounds)

    def told(self, sheaves_m: Sequence[Vector], rest: Rest) -> Hung:
        """A rest in the words of a plan."""
        at, turn = rest.pose.cg_m, rest.pose.turn
        x, y, z = (float(value) for value in at - turn @ np.array(self.load.body.cg_m))
        lines, shares, splay = [], [], []
        for path, sheave, pull in zip(self.paths, sheaves_m, rest.pulls_N, strict=True):
            own = (np.array(sheave) - at) @ turn
            reach, run = path.reach(own), path.run(own) if isinstance(path, Sling) else None
            toward = turn @ reach.toward
            hook = np.array(sheave) - reach.distance_m * toward
            lines.append(HungLine(_vector(hook), pull, run))
            shares.append(pull * float(toward[2]))
            splay.append((pull * float(toward[0]), pull * float(toward[1])))
        pose = Pose(x, y, z, rest.pose.pitch_rad, rest.pose.yaw_rad, rest.pose.roll_rad)
        lowest = float((self.corners_m @ turn[2]).min() + at[2])
        return Hung(pose, tuple(lines), Pulls(tuple(sheaves_m), tuple(shares), tuple(splay), 0.0), lowest, rest)


def _vector(of: np.ndarray) -> Vector:
    x, y, z = (float(value) for value in of)
    return x, y, z


def runs_round(description: Description) -> bool:
    """Some line's sling may come to bear on the load."""
    return any(pick.sling_length_m is not None for pick in description.trailer.picks)


@lru_cache(maxsize=16)
def slung_of(description: Description) -> Slung:
    """The numbers of a load whose lines may run round it."""
    load, rig = load_of(description), rig_of(description)
    cg = np.array(load.body.cg_m)
    paths = tuple(_path(description.trailer, load, line) for line in rig.lines)
    return Slung(description, rig, load, paths, np.array(load.corners_m) - cg)


def _path(trailer: Trailer, load: Load, line: RigLine) -> LinePath:
    pick, cg = trailer.picks[line.pick], load.body.cg_m
    x, y, z = (at - own for at, own in zip(load.body.picks_m[line.pick], cg, strict=True))
    if pick.sling_length_m is None:
        return Bridle((x, y, z), pick.height_m) if pick.pivot == "bridle_across" else Straight((x, y, z), pick.height_m)
    return _sling(trailer, pick, pick.sling_length_m)


def _sling(trailer: Trailer, pick: Pick, length_m: float) -> Sling:
    origin = stated_cg_m(trailer)
    from_m = tuple(a + b for a, b in zip(origin, trailer.hidden_cg_m, strict=True))
    return trailer_sling(
        trailer, pick.at_m, from_m=(from_m[0], from_m[1], from_m[2]), lies_on=pick.lies_on, sling_m=length_m
    )


def level_over(slung: Slung, x_m: float, y_m: float, lowest_m: float, *, pitch_rad: float = 0.0) -> BodyPose:
    """The load as it lies, its center of gravity at (x, y), its lowest corner at a height."""
    flat = pose_of((x_m, y_m, 0.0), pitch_rad=pitch_rad)
    low = float((slung.corners_m @ flat.turn[2]).min())
    return pose_of((x_m, y_m, lowest_m - low), pitch_rad=pitch_rad)


def tips_for(slung: Slung, pose: BodyPose) -> tuple[Vector, ...]:
    """Tips at their agreed height: along over each unit's own picks, across over the center of gravity."""
    tip_z, picks = slung.description.path.tip_height_m, slung.load.body.picks_m
    cg_x = slung.load.body.cg_m[0]
    found = []
    for unit in slung.rig.units:
        along = sum(picks[line.pick][0] - cg_x for line in unit.lines) / len(unit.lines)
        along = 0.0 if len(slung.rig.units) == 1 else along
        found.append((float(pose.cg_m[0]) + along, float(pose.cg_m[1]), tip_z))
    return tuple(found)


def plumbed(slung: Slung, tips_m: Sequence[Vector], hung: Hung) -> tuple[Vector, ...]:
    """Tips moved so that what their lines pull together is plumb: along each unit by itself, across all alike.

    What units pull across against each other is a balance of yaw: a load yaws after tips that part, and keeps it.
    """
    pulls = [_leans(hung, unit) for unit in slung.rig.units]
    across = sum(one[1] for one in pulls) / max(sum(one[2] for one in pulls), 1e-9)
    rows = zip(tips_m, pulls, strict=True)
    return tuple((x - along / give if give > 0.0 else x, y - across, z) for (x, y, z), (along, _, give) in rows)


def _leans(hung: Hung, unit: RigUnit) -> tuple[float, float, float]:
    """What a unit's lines pull along and across, and what that grows by with each meter of its tip."""
    along = across = give = 0.0
    for line in unit.lines:
        share, (x, y) = hung.pulls.shares[line.place], hung.pulls.splay[line.place]
        free_m = hung.lines[line.place].free_m(hung.pulls.sheaves_m[line.place])
        along, across, give = along + x, across + y, give + share / max(free_m, 0.1)
    return along, across, give


def hung_level(slung: Slung, pose: BodyPose) -> tuple[tuple[Vector, ...], Hung]:
    """Tips plumb over what they carry, and the load at rest on lines as long as they are with it at this pose."""
    tips = tips_for(slung, pose)
    hung = _hung_at(slung, tips, pose)
    for _ in range(PLUMB_ROUNDS):
        tips = plumbed(slung, tips, hung)
        hung = _hung_at(slung, tips, pose)
    return tips, hung


def _hung_at(slung: Slung, tips: tuple[Vector, ...], pose: BodyPose) -> Hung:
    sheaves = slung.sheaves_m(tips)
    return slung.told(sheaves, slung.at_rest(sheaves, slung.lengths_m(sheaves, pose), pose))
