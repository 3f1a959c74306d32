"""What the crew can read off at a moment: states of the engine to `Readings`."""

from __future__ import annotations

from math import atan, atan2, hypot, pi, sqrt, tan

from simulator.engine.model import Model, Side
from simulator.engine.recent import Recent
from simulator.engine.state import State, UnitState
from simulator.mechanics.boom import reach_m
from simulator.mechanics.ground import height_m
from simulator.mechanics.hoist_line import head_room_m, rope_left_m
from simulator.mechanics.trailer import Matrix, rotation, turned
from simulator.readings import LoadReadings, PartGap, Readings, UnitReadings, lines_of
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2

NEAR_LOWEST_M = 1.0
"""Points within this height of the lowest are looked at for the height over the bed."""


class Instruments:
    """Reads states; remembers one sway period of what must be averaged. `watch` at the steady rate, `read` any time."""

    def __init__(self, model: Model) -> None:
        self._model = model
        description = model.description
        self._per_s = description.engine.readings_per_s
        self._plumbs = [(Recent(), Recent()) for _ in model.sides]
        self._sways = (Recent(), Recent())
        self._still = 0
        self.change(model)
        self._pads_y = max(u.floats.across_m + u.floats.pad_side_m / 2.0 for u in description.units)

    def change(self, model: Model) -> None:
        """Go on with another model of the same lift, all averages kept."""
        self._model = model
        picks = [side.pick_m[0] for side in model.sides]
        span = picks[1] - picks[0]
        self._weights = picks[1] / span, -picks[0] / span

    def watch(self, state: State) -> None:
        """Take the moment's sample of what is averaged over a sway period."""
        window = max(1, round(self.sway_period_s(state) * self._per_s))
        for (along, across), unit in zip(self._plumbs, state.units, strict=True):
            ax, ay = off_plumb_rad(unit)
            along.add(ax, window)
            across.add(ay, window)
        nose, tail = self._weights
        tips = [unit.tip for unit in state.units]
        self._sways[0].add(state.motion.x - nose * tips[0][0] - tail * tips[1][0], window)
        self._sways[1].add(state.motion.y - nose * tips[0][1] - tail * tips[1][1], window)
        motion = state.motion
        speed = sqrt(motion.vx**2 + motion.vy**2 + motion.vz**2)
        self._still = self._still + 1 if speed < self._model.description.landing.still_mps else 0

    def sway_period_s(self, state: State) -> float:
        """Small sway along the road on the present lines: 2 pi sqrt(L / g), L sheave to pick line."""
        long = sum(
            weight * (unit.hang.distance_m + side.pick.height_m)
            for weight, unit, side in zip(self._weights, state.units, self._model.sides, strict=True)
        )
        return 2.0 * pi * sqrt(max(long, 0.01) / STANDARD_GRAVITY_MPS2)

    def read(self, state: State, gaps: tuple[PartGap, ...] = ()) -> Readings:
        """The readings of a state."""
        both = state.units[0].hook_load_N + state.units[1].hook_load_N
        nose = self._unit(self._model.sides[0], state.units[0], both)
        tail = self._unit(self._model.sides[1], state.units[1], both)
        load = self._load(state, slack=nose.slack and tail.slack)
        units = nose, tail
        return Readings(state.step, state.step * self._model.dt, units, lines_of(units), load, gaps)

    def _unit(self, side: Side, state: UnitState, both_N: float) -> UnitReadings:
        unit, drives, hook, stance = side.unit, state.drives, state.hang.hook, state.stance
        ax, ay = off_plumb_rad(state)
        along, across = (recent.mean for recent in self._plumbs[side.end])
        rope = drives.rope_out_m
        slack = state.hook_load_N < self._model.description.limits.slack_N
        lean = sqrt(sum(part * part for part in state.lean))
        return UnitReadings(
            state.hook_load_N + side.below_sheave_N,
            state.hook_load_N,
            state.hook_load_N / both_N if both_N > 0.0 else 0.0,
            *(_whole(ax, ay), ax, ay, _whole(along, across), along, across),
            *(slack, stance.stalled),
            *(drives.length_m, drives.elevation_rad, drives.slew_rad),
            reach_m(unit, drives.length_m, drives.elevation_rad),
            hypot(hook[0] - unit.slew_axis_x_m, hook[1]),
            *state.tip,
            *hook,
            lean,
            *(state.line_m, state.stiffness, state.damper, state.hang.distance_m),
            *(rope, rope_left_m(unit.hoist, rope), head_room_m(unit.hoist, state.line_m)),
            *(drives.hoist_mps, drives.telescope_mps, drives.elevation_radps, drives.slew_radps),
            stance.capacity_used,
            *stance.floats_N,
            *(stance.floats_N[stance.least_float], stance.least_float_share),
            *(stance.ground_used, stance.tipping),
            stance.capacity_used / side.tandem_share,
            *(max(stance.floats_N) / side.bearing_Pa, side.set_back_room_m),
        )

    def _load(self, state: State, *, slack: bool) -> LoadReadings:
        model, motion, ground, other = self._model, state.motion, state.ground, state.other
        matrix = rotation(motion.pitch, motion.yaw, motion.roll)
        rx, ry, rz = turned(matrix, model.reference_m)
        vx = motion.vx + motion.oy * rz - motion.oz * ry
        vy = motion.vy + motion.oz * rx - motion.ox * rz
        vz = motion.vz + motion.ox * ry - motion.oy * rx
        lowest, over_bed, y_low, y_high = self._extent(state, matrix)
        along, across = (recent.half_peak_to_peak for recent in self._sways)
        lane_room = model.description.site.live_lane_y_m - y_high
        return LoadReadings(
            motion.x + rx,
            motion.y + ry,
            motion.z + rz,
            vx,
            vy,
            vz,
            motion.pitch,
            motion.yaw,
            motion.roll,
            motion.pitch_rate,
            motion.yaw_rate,
            motion.roll_rate,
            sqrt(vx * vx + vy * vy + vz * vz),
            along,
            across,
            max(along, across),
            self.sway_period_s(state),
            lowest,
            over_bed,
            sqrt(ground.fx**2 + ground.fy**2 + ground.fz**2),
            *ground[:7],
            *other,
            lane_room,
            slack and self._landed(state, y_low, lane_room),
        )

    def _extent(self, state: State, matrix: Matrix) -> tuple[float, float, float, float]:
        """Lowest point over the road, least height over the ground, least and greatest y."""
        motion, bed = state.motion, self._model.bed
        a, b, c, d, e, f, g, h, i = matrix
        heights = [g * x + h * y + i * z for x, y, z in bed.points]
        sides = [d * x + e * y + f * z for x, y, z in bed.points]
        low = min(heights)
        near = low + NEAR_LOWEST_M
        over_bed = min(
            motion.z + height - height_m(bed.surface, motion.x + a * x + b * y + c * z, motion.y + side)
            for height, side, (x, y, z) in zip(heights, sides, bed.points, strict=True)
            if height < near
        )
        return motion.z + low, over_bed, motion.y + min(sides), motion.y + max(sides)

    def _landed(self, state: State, y_low: float, lane_room: float) -> bool:
        landing, motion = self._model.description.landing, state.motion
        return (
            state.ground.road_N >= landing.road_share * self._model.weight_N
            and self._still >= landing.still_s * self._per_s
            and y_low >= self._pads_y + landing.off_pads_m
            and lane_room >= landing.off_lane_m
            and abs(motion.pitch) <= landing.attitude_rad
            and abs(motion.roll) <= landing.attitude_rad
        )


def off_plumb_rad(state: UnitState) -> tuple[float, float]:
    """A line's angle from plumb along and across: which way the hook lies from the tip."""
    hook, tip = state.hang.hook, state.tip
    drop = tip[2] - hook[2]
    return atan2(hook[0] - tip[0], drop), atan2(hook[1] - tip[1], drop)


def _whole(along: float, across: float) -> float:
    """One angle from its two parts."""
    return atan(hypot(tan(along), tan(across)))
