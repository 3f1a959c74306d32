"""What the crew can read off at a moment: states of the engine to `Readings`."""

from __future__ import annotations

from math import atan2, dist, hypot, inf, pi, sqrt

from simulator.engine.line_leans import Angles, bearing, of_the_sum, off_plumb_rad, weights_over_cg, whole
from simulator.engine.model import LineModel, Model, UnitModel
from simulator.engine.moving import Moving
from simulator.engine.recent import Leans, Recents
from simulator.engine.slung import OFF, pressure_Pa, pushed_N
from simulator.engine.state import SlungState, State
from simulator.mechanics.boom import reach_m, tip_over
from simulator.mechanics.flat_deck import is_over
from simulator.mechanics.ground import height_m
from simulator.mechanics.hoist_line import head_room_m, rope_left_m
from simulator.mechanics.lean import tip_give_m_per_N
from simulator.mechanics.matrix import Matrix, Vector, rotation, turned, turned_back
from simulator.readings import Gaps, LineReadings, LoadReadings, Readings, UnitReadings
from simulator.scenario.judged_limits import TAKING_UP_N
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2

NEAR_LOWEST_M = 1.0
"""Points within this height of the lowest are looked at for the height over the bed."""
LEAST_N = 1.0
"""A line with no block on it counts by this while it is slack."""
Laid = tuple[float, float, float, float]
"""Sling laid on the load, sling off it, push at a corner, pressure on a shell."""


class Instruments:
    """Reads states; remembers one sway period of what must be averaged. `watch` at the steady rate, `read` any time."""

    def __init__(self, model: Model) -> None:
        self._model = model
        description = model.description
        self._per_s = description.engine.readings_per_s
        self._of_lines = [Leans() for _ in model.lines]
        self._of_sums = [Leans() for _ in model.units]
        """Of units with more than one line."""
        self._sways = Recents()
        self._still = 0
        self.change(model)
        self._pads_y = max(u.floats.across_m + u.floats.pad_side_m / 2.0 for u in description.units)

    def change(self, model: Model) -> None:
        """Go on with another model of the same lift, all averages kept."""
        self._model = model
        self._weights = weights_over_cg([line.pick_m[0] for line in model.lines])
        self._pick_heights_m = [line.pick.height_m for line in model.lines]
        self._slack_N = model.description.limits.slack_N
        self._still_mps = model.description.landing.still_mps
        self._turns_by = -1.0 if model.description.lands_turned_rad < 0.0 else 1.0
        self._carried_N = model.description.landing.road_share * model.weight_N

    def watch(self, moving: Moving) -> None:
        """Take the moment's sample of what is averaged over a sway period."""
        body, place = moving.body, 0
        x, y, long = body.x, body.y, 0.0
        for unit in moving.units:
            for line in unit.lines:
                weight = self._weights[place]
                x, y = x - weight * line.sheave_x, y - weight * line.sheave_y
                long += weight * (line.distance_m + self._pick_heights_m[place])
                place += 1
        window = max(1, round(period_s(long) * self._per_s))
        self._sways.add(x, y, window)
        self._watch_lines(moving, window)
        speed = sqrt(body.vx**2 + body.vy**2 + body.vz**2)
        self._still = self._still + 1 if speed < self._still_mps else 0

    def _watch_lines(self, moving: Moving, window: int) -> None:
        """How each line leans, and the sum of the pulls of each unit with more than one; a slack one counts by its
        block, so that its angle is soon forgotten once it bears. While a unit takes up its lines all count alike: one
        that bears a little before the other leans by itself, and says nothing of where the tip stands."""
        place = 0
        for at, unit in enumerate(moving.units):
            blocks_N, whole_N, least_N = 0.0, 0.0, inf
            for line in unit.lines:
                block_N = max(LEAST_N, line.numbers.below_sheave_N)
                pull_N = line.pull_N + block_N
                blocks_N, whole_N, least_N = blocks_N + block_N, whole_N + line.pull_N, min(least_N, line.pull_N)
                drop = line.sheave_z - line.hook_z
                along, across = atan2(line.hook_x - line.sheave_x, drop), atan2(line.hook_y - line.sheave_y, drop)
                self._of_lines[place].add(pull_N, along, across, window)
                place += 1
            if len(unit.lines) > 1:
                bears = 0.0 if least_N < self._slack_N and whole_N < TAKING_UP_N else 1.0
                pulls = [(bears * line.pull_N, line.ux, line.uy, line.uz) for line in unit.lines]
                self._of_sums[at].add(blocks_N + bears * whole_N, *of_the_sum(pulls), window)

    def is_carried(self, moving: Moving) -> bool:
        """The road carries as much of the load as of one that has landed."""
        return moving.road_N >= self._carried_N

    def sway_period_s(self, state: State) -> float:
        """Small sway along the road on the present lines: 2 pi sqrt(L / g), L sheave to pick line."""
        long = 0.0
        for weight, line, over_m in zip(self._weights, state.lines, self._pick_heights_m, strict=True):
            long += weight * (line.hang.distance_m + over_m)
        return period_s(long)

    def read(self, state: State, gaps: Gaps = ()) -> Readings:
        """The readings of a state."""
        whole = sum(line.hook_load_N for line in state.lines)
        lines = tuple(self._line(of, state) for of in self._model.lines)
        units = tuple(self._unit(of, state, lines, whole) for of in self._model.units)
        differ = units[0].turn_m - units[-1].turn_m
        load = self._load(state, slack=all(line.slack for line in lines), ends_differ_m=differ)
        return Readings(state.step, state.step * self._model.dt, units, lines, load, gaps)

    def _line(self, of: LineModel, state: State) -> LineReadings:
        line, hoist = state.lines[of.rig.place], of.line.hoist
        tip = _both(line.sheave, state.booms[of.rig.unit].given)
        ax, ay = off_plumb_rad(line)
        along, across = self._of_lines[of.rig.place].means
        return LineReadings._make(
            (
                line.hook_load_N + of.numbers.below_sheave_N,
                line.hook_load_N,
                *(whole(ax, ay), ax, ay, whole(along, across), along, across),
                *(line.hook_load_N < self._model.description.limits.slack_N, line.stalled),
                *tip,
                *line.hang.hook,
                *(line.line_m, line.stiffness, line.damper, dist(tip, line.hang.hook)),
                *(line.rope_out_m, rope_left_m(hoist, line.rope_out_m), head_room_m(hoist, line.line_m)),
                line.hoist_mps,
                *self._on_the_load(of, state),
            )
        )

    def _on_the_load(self, of: LineModel, state: State) -> Laid:
        """Of a line its sling on the load, what is off it, the hardest push at a corner and pressure on a shell."""
        own, slung = of.numbers.round, slung_of(state, of.rig.place)
        if own is None or slung is None:
            return 0.0, of.pick.height_m, 0.0, 0.0
        _, way, laid = slung
        if way == OFF:
            return 0.0, own.sling_m, 0.0, 0.0
        line, motion = state.lines[of.rig.place], state.motion
        sx, sy, sz = line.sheave
        matrix = rotation(motion.pitch, motion.yaw, motion.roll)
        x, y, z = turned_back(matrix, (sx - motion.x, sy - motion.y, sz - motion.z))
        if own.ways[way].is_mirrored:
            y = -y
        long = line.hang.distance_m + own.sling_m
        along = x - own.pick_x
        part = sqrt(max(0.0, 1.0 - along * along / (long * long)))
        push = pushed_N(own.ways[way], y, z, line.hook_load_N * part)
        pressure = pressure_Pa(own.ways[way], y, z, line.hook_load_N * part * part, own.width_m)
        return laid, own.sling_m - laid, push, pressure

    def _unit(self, of: UnitModel, state: State, all_lines: tuple[LineReadings, ...], whole_N: float) -> UnitReadings:
        boom = state.booms[of.place]
        drives, stance = boom.drives, boom.stance
        lines = [all_lines[line.place] for line in self._model.rig.units[of.place].lines]
        shown = lines[0] if len(lines) == 1 else self._together(of, state, lines)
        hook_N = shown.hook_load_N
        tip = _both(boom.tip, boom.given)
        stiff = tip_over(of.numbers.foot, drives.length_m, drives.elevation_rad, drives.slew_rad)
        return UnitReadings._make(
            (
                shown.line_load_N,
                hook_N,
                hook_N / whole_N if whole_N > 0.0 else 0.0,
                *shown[2:8],
                *(shown.slack, shown.stall),
                *(drives.length_m, drives.elevation_rad, drives.slew_rad),
                reach_m(of.unit, drives.length_m, drives.elevation_rad),
                hypot(shown.hook_x_m - of.unit.slew_axis_x_m, shown.hook_y_m),
                *tip,
                *(shown.hook_x_m, shown.hook_y_m, shown.hook_z_m),
                dist(tip, stiff),
                *(
                    shown.line_length_m,
                    shown.line_stiffness_N_per_m,
                    shown.line_damper_N_s_per_m,
                    shown.sheave_to_hook_m,
                ),
                *(shown.rope_out_m, shown.rope_left_m, shown.head_room_m, shown.hoist_speed_mps),
                *(drives.telescope_mps, drives.elevation_radps, drives.slew_radps),
                stance.capacity_used,
                *stance.floats_N,
                *(stance.floats_N[stance.least_float], stance.least_float_share),
                *(stance.ground_used, stance.tipping),
                stance.capacity_used / of.tandem_share,
                *(max(stance.floats_N) / of.numbers.bearing_Pa, of.set_back_room_m),
                1.0 / tip_give_m_per_N(of.numbers.bend, drives.length_m),
                *(stance.used[0], stance.used[1], abs(stance.used[2])),
                *(*shown[-4:], self._turn_m(of, lines), *_gone_over(of, boom.over)),
            )
        )

    def _turn_m(self, of: UnitModel, lines: list[LineReadings]) -> float:
        """Half of what line 1 is out and line 2 in since the load hung lying level."""
        if len(lines) == 1:
            return 0.0
        return (lines[0].line_length_m - lines[1].line_length_m) / 2.0 - of.level_turn_m

    def _together(self, of: UnitModel, state: State, lines: list[LineReadings]) -> LineReadings:
        """A unit's lines as one reading: sums, the worst, and what the sum of the pulls does."""
        loads = bearing([line.line_load_N for line in lines])
        parts = [load / sum(loads) for load in loads]
        own = [state.lines[line.place] for line in self._model.rig.units[of.place].lines]
        ax, ay = of_the_sum([(line.hook_load_N, line.hang.ux, line.hang.uy, line.hang.uz) for line in own])
        along, across = self._of_sums[of.place].means

        def summed(name: str) -> float:
            return sum(float(getattr(line, name)) for line in lines)

        def weighed(name: str) -> float:
            return sum(part * float(getattr(line, name)) for part, line in zip(parts, lines, strict=True))

        count = len(lines)
        return LineReadings._make(
            (
                *(summed("line_load_N"), summed("hook_load_N")),
                *(whole(ax, ay), ax, ay, whole(along, across), along, across),
                *(any(line.slack for line in lines), any(line.stall for line in lines)),
                *(weighed("tip_x_m"), weighed("tip_y_m"), weighed("tip_z_m")),
                *(weighed("hook_x_m"), weighed("hook_y_m"), summed("hook_z_m") / count),
                summed("line_length_m") / count,
                *(summed("line_stiffness_N_per_m"), summed("line_damper_N_s_per_m")),
                summed("sheave_to_hook_m") / count,
                max(line.rope_out_m for line in lines),
                *(min(line.rope_left_m for line in lines), min(line.head_room_m for line in lines)),
                summed("hoist_speed_mps") / count,
                *(max(line.laid_m for line in lines), min(line.hook_off_m for line in lines)),
                max(line.squeeze_N for line in lines),
                max(line.shell_pressure_Pa for line in lines),
            )
        )

    def _load(self, state: State, *, slack: bool, ends_differ_m: float) -> LoadReadings:
        model, motion, ground, other = self._model, state.motion, state.ground, state.other
        matrix = rotation(motion.pitch, motion.yaw, motion.roll)
        rx, ry, rz = turned(matrix, model.reference_m)
        vx = motion.vx + motion.oy * rz - motion.oz * ry
        vy = motion.vy + motion.oz * rx - motion.ox * rz
        vz = motion.vz + motion.ox * ry - motion.oy * rx
        lowest, over_bed, y_low, y_high = self._extent(state, matrix)
        along, across = self._sways.along.half_peak_to_peak, self._sways.across.half_peak_to_peak
        lane_room = model.description.site.live_lane_y_m - y_high
        return LoadReadings._make(
            (
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
                slack and self._landed(state, lowest, (y_low, y_high)),
                *(motion.roll * self._turns_by, ends_differ_m, self._twist_Nm(state, matrix)),
                state.holding[1] if state.holding else 0.0,
            )
        )

    def _twist_Nm(self, state: State, matrix: Matrix) -> float:
        """Half of what the first unit's lines turn the load about its length more than the last one's."""
        rig, motion, moments = self._model.rig, state.motion, []
        if len(rig.units) == 1 or len(rig.lines) == len(rig.units):
            return 0.0
        for unit in (rig.units[0], rig.units[-1]):
            whole = 0.0
            for of in unit.lines:
                line = state.lines[of.place]
                hx, hy, hz = line.hang.hook
                x, y, z, pull = hx - motion.x, hy - motion.y, hz - motion.z, line.hook_load_N
                ux, uy, uz = line.hang.ux, line.hang.uy, line.hang.uz
                mx, my, mz = y * uz - z * uy, z * ux - x * uz, x * uy - y * ux
                whole += pull * (mx * matrix[0] + my * matrix[3] + mz * matrix[6])
            moments.append(whole)
        return (moments[0] - moments[1]) / 2.0

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
        low_y, high_y, deck = motion.y + min(sides), motion.y + max(sides), bed.surface.deck
        if deck is not None and low_y < deck.high_y_m and high_y > deck.low_y_m:
            low_x, high_x = self._ends(state, matrix)
            if low_x < deck.high_x_m and high_x > deck.low_x_m:
                # A load wider than the deck has no corner over it.
                over_bed = min(over_bed, motion.z + low - deck.top_m)
        return motion.z + low, over_bed, low_y, high_y

    def _ends(self, state: State, matrix: Matrix) -> tuple[float, float]:
        """Least and greatest x."""
        a, b, c = matrix[0], matrix[1], matrix[2]
        ends = [a * x + b * y + c * z for x, y, z in self._model.bed.points]
        return state.motion.x + min(ends), state.motion.x + max(ends)

    def _is_on_its_deck(self, state: State, low_m: float, y_m: tuple[float, float]) -> bool:
        """Where a deck waits the load is to lie on it, and stand out over it by no more than is allowed."""
        deck, motion = self._model.bed.surface.deck, state.motion
        if deck is None:
            return True
        ends = self._ends(state, rotation(motion.pitch, motion.yaw, motion.roll))
        return low_m > deck.top_m / 2.0 and is_over(self._model.description, deck, ends, y_m)

    def _landed(self, state: State, lowest_m: float, y_m: tuple[float, float]) -> bool:
        landing, motion = self._model.description.landing, state.motion
        lane_room = self._model.description.site.live_lane_y_m - y_m[1]
        return (
            state.ground.road_N >= self._carried_N
            and self._still >= landing.still_s * self._per_s
            and y_m[0] >= self._pads_y + landing.off_pads_m
            and lane_room >= landing.off_lane_m
            and abs(motion.pitch) <= landing.attitude_rad
            and abs(motion.roll - self._model.description.lands_turned_rad) <= landing.attitude_rad
            and self._is_on_its_deck(state, lowest_m, y_m)
        )


def slung_of(state: State, place: int) -> SlungState | None:
    """How a line's sling lies; none where it does not run round the load."""
    for one in state.slung:
        if one.place == place:
            return one
    return None


def _gone_over(of: UnitModel, over: tuple[float, ...]) -> Angles:
    """How far a unit has gone over its floats, along and across."""
    return (of.numbers.foot.facing * over[0], over[1]) if over else (0.0, 0.0)


def _both(at: Vector, more: Vector) -> Vector:
    return at[0] + more[0], at[1] + more[1], at[2] + more[2]


def period_s(long_m: float) -> float:
    """Of small sway under lines so long."""
    return 2.0 * pi * sqrt(max(long_m, 0.01) / STANDARD_GRAVITY_MPS2)
