"""What an operator's hands do in each kind of work: where tip and hooks go now, by readings and the agreed path."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, copysign, sin, sqrt

from simulator.drill.agreed_path import Agreement, agreement, middle
from simulator.drill.own_lines import (
    SLACK_OUT_N,
    SteadyHooks,
    all_bear,
    high_m,
    hook_z_m,
    off_m,
    own_lines,
    plumb_tip_m,
    share_of_way,
)
from simulator.drill.own_means import OwnMeans
from simulator.drill.slack import HOOK_PER_S, LIGHT_N, LIGHT_PACE, ONE_LINE, SOFTEST_MPS, slack_ups_mps
from simulator.drill.steering import Aim, Vector, rates, tip_speed_across, toward
from simulator.drill.turning_over import TurningOver
from simulator.drill.under_load import is_no_place, moves_on_bed
from simulator.readings import Readings, UnitReadings
from simulator.scenario.description import Description
from simulator.scenario.drill import Step
from simulator.scenario.rig import rig_of

PLUMBED_M = 0.03
"""A tip this near over its hook is plumb enough to take weight."""
LIFT_SPEED_MPS = 0.02
RAISE_SPEED_MPS = 0.18
LOWER_SPEED_MPS = 0.12
SOFT_SPEED_MPS = 0.025
CROSS_SPEED_MPS = 0.20
NEARLY_FREE = 0.15  # of the weight on the ground: a tip that followed its hook would let wind push the load along
SPARE_SHARE = 0.6
"""Share of a function's top speed that the crossing asks for, unless said."""
KEEPING_SPEED_MPS = 0.03
"""Top speed at which a hook's height is corrected while the load is carried across."""
LEVELING_MPS = 0.005
"""How fast a load that came up leaning across a unit's lines is brought level, from when it is raised."""
LEVELED_IN = ("raise", "cross", "steady", "lower")
LEVEL_PER_S = 0.15
"""How briskly a load is brought level by a unit's two lines: share of the error a second."""
SLUNG_LEVEL_PER_S = 0.3
"""The same on slings round it: lines that lean together turn it as they grow shorter or longer alike."""
UNEVEN_M = 0.01  # out of level at a line's pick: less is left alone
ALIKE = ("lighten", "center", "lift off", "raise", "cross", "steady", "lower")
"""Work in which the load is kept level from one line of a unit to the other."""
LEVEL_M = 0.10  # ahead of the other hook: halts a hand
SOFT_HEIGHT_M = 0.4  # over the road or a waiting deck: below it the load comes down softly
SHORT_M = 0.15
"""A tip that rests farther than this from its landing place was meant to."""
PLACE_M = 1.5
"""A tip within this of its landing place when a load is to come down is brought over it; any farther off, the load
comes down where it hangs."""
APART_M, ALONE_APART_M = 0.3, 0.6
"""Tips half again as far apart as this across halt the one ahead; the second where only one may move."""
ALONE_SHARE = 0.8
"""Of the pitch that raises a caution: so far out of level one end goes by itself in its own turn."""
STEADY_M = 0.12
"""Sway below which a load is lowered."""
CLEAR_TIMES = 3.0
"""How much faster a load that swings more than that as it comes free is taken clear of what it swings back to."""
ON_THE_BED = ("plumb the tips", "take slack", *ONE_LINE, "lighten", "center", "lift off")
"""Work during which the tip stays over its own hook."""
SLACKENS_S, SLACKEN_MPS = 5.0, 0.04
"""How long, at least, and how fast line is let out to be slack."""
HALF_TURNED_RAD = 0.8
"""Turned over by more than this, the load is on its way to how it is set down."""
AWAY_S = 0.25
"""Hands that have not been asked for so long take up from where things are."""


class Hands:
    """One seat's hands; they remember where a kind of work began and how far they have led the tip since."""

    since_s: float
    _pitch: float
    _high_m: tuple[float, ...]
    """How much higher than level each line is meant to have the load beside the other."""
    _means: OwnMeans
    _to_y_m: float | None
    _y: float
    _y_speed: float
    _tip: Vector
    _hooks: SteadyHooks
    _turning: TurningOver
    _is_turned: bool
    _last_s: float | None

    def __init__(
        self, description: Description, end: int, *, spare_share: float = SPARE_SHARE, by_signals: bool = False
    ) -> None:
        """
        Args:
            description: the lift.
            end: place of the unit whose seat it is.
            spare_share: share of a function's top speed that the crossing may ask for.
            by_signals: what is aimed at is told to a person a signal at a time, who cannot do justice to what two lines
                differ by a little.
        """
        self._description = description
        self._end, self._spare_share, self._by_signals = end, spare_share, by_signals
        self._lying, self._turned = agreement(description), agreement(description, is_turned=True)
        self._is_turned = False
        self._units = rig_of(description).units
        self._own = self._units[end]
        self._leader = next((unit.place for unit in self._units if unit.name == description.path.leader), end)
        self.since_s = self._pitch = 0.0
        self._high_m = (0.0,) * len(self._own.lines)
        self._means = OwnMeans(self._own, self._units)
        self._to_y_m = None
        self._y = self._y_speed = 0.0
        self._tip = (0.0, 0.0, 0.0)
        self._alone = False
        self._hooks = SteadyHooks(self._units)
        reach_m = middle([self._lying.picks_m[line.place][0] for line in self._own.lines])
        self._turning = TurningOver(description, self._own, self._units, reach_m=reach_m)
        self._last_s = None

    @property
    def agreed(self) -> Agreement:
        """What the pair agreed, of the load as it lies or as it was turned over."""
        return self._turned if self._is_turned else self._lying

    def begin(self, readings: Readings, step: Step | None = None) -> None:
        """Begin a kind of work from where things are; `step`: of a drill, which may name another place than the landing
        for the load to be carried to, until another step does."""
        mine = readings.units[self._end]
        if step is not None and step.work == "cross":
            self._to_y_m = step.to_y_m
        self.since_s, self._pitch = readings.time_s, readings.load.pitch_rad
        self._high_m = high_m(readings, self._own, self.agreed)
        self._y, self._y_speed = mine.tip_y_m, 0.0
        self._tip = mine.tip_x_m, mine.tip_y_m, mine.tip_z_m
        self._turning.begin(readings)
        if self._description.lands_turned_rad and readings.load.turned_rad > HALF_TURNED_RAD:
            self._is_turned = True
            self._means.forget()
            self._high_m = (0.0,) * len(self._own.lines)  # level on its wheels, not as the turn left it

    def has_turned(self, readings: Readings) -> bool:
        """The load hangs as it is to be set down."""
        return self._turning.is_done(readings)

    def aim(self, work: str, readings: Readings, *, alone: bool = False) -> Aim | None:
        """Where tip and hook go at this moment of `work`; none: leave everything alone.

        Args:
            work: what is done.
            readings: what is known.
            alone: the others do not move meanwhile, so that nobody is waited for until the load is well out of level.
        """
        self._alone = alone and len(self._units) > 1
        dt = 0.0 if self._last_s is None else readings.time_s - self._last_s
        if dt > AWAY_S:
            self._y, self._y_speed, dt = readings.units[self._end].tip_y_m, 0.0, 0.0
        self._last_s = readings.time_s
        self._means.see(readings, self.agreed, dt)
        self._hooks.look(readings, self._units, dt)
        if work in LEVELED_IN and readings.load.ground_N <= 0.0:
            self._high_m = tuple(copysign(max(0.0, abs(high) - LEVELING_MPS * dt), high) for high in self._high_m)
        return self._beside_one_another(self._aim(readings, dt, work), readings, work)

    def _aim(self, readings: Readings, dt: float, name: str) -> Aim | None:
        mine, path = readings.units[self._end], self._description.path
        if name in ("wait", "done"):
            return None
        if name in ON_THE_BED:
            return self._on_the_bed(readings, name)
        x = self.agreed.tips_x_m[self._end] + self._turning.along_m(readings, dt)
        if name in ("hold", "name the load"):
            return Aim((mine.tip_x_m, mine.tip_y_m, mine.tip_z_m), hook_up_mps=0.0)
        if name == "raise":
            to_z = toward(mine.tip_z_m, path.tip_height_m, 1.0)
            return Aim((toward(mine.tip_x_m, x, 0.3), self._y, to_z), hook_up_mps=self._raising(readings, dt))
        if name == "cross":
            speed = self._across(readings, dt)
            return Aim((x, self._y, path.tip_height_m), (0.0, speed, 0.0), self._keeping_height(readings))
        if name in ("lower", "slack off") and not self._at_the_place:
            return Aim(self._tip, hook_up_mps=self._lowering_here(readings, name))
        y = self._over_the_place_y(readings)
        if name == "turn":
            ups = self._turning.up_mps(readings, dt)
            return Aim((x, y, path.tip_height_m), hook_up_mps=max(ups), more_up_mps=tuple(up - max(ups) for up in ups))
        if name == "steady" and not self._at_the_place:
            return Aim(self._tip)
        if name == "steady":
            return Aim((x, y, path.tip_height_m), hook_up_mps=self._keeping_height(readings))
        if name == "lower" and readings.load.ground_N > 0.0 and all_bear(readings, self._own):
            x, y, _ = self._over_the_lines(readings)
        return Aim((x, y, path.tip_height_m), hook_up_mps=self._lowering(readings, name))

    def _on_the_bed(self, readings: Readings, name: str) -> Aim:
        """Tip over its own hook; line up a little, and wait whenever the load moves."""
        mine, load = readings.units[self._end], readings.load
        tip = self._over_the_lines(readings)
        if name == "plumb the tips":
            return Aim(tip)
        if name == "take slack":
            return self._slack_out(readings, tip)
        if moves_on_bed(readings):
            nearly_N = NEARLY_FREE * sum(line.hook_load_N for line in readings.lines)
            return Aim((mine.tip_x_m, mine.tip_y_m, mine.tip_z_m) if load.ground_N < nearly_N else tip)
        if name in ONE_LINE:
            return self._slack_out(readings, tip, 1 + ONE_LINE.index(name))
        if name in ("lighten", "center"):
            return self._one_end(readings, tip)
        if not self._has_one_line and load.ground_N > 0.0 and not all_bear(readings, self._own):
            return self._slack_out(readings, tip)
        rising = LIFT_SPEED_MPS * self._not_ahead(readings, self._pitch) * self._boom_keeps_up(readings)
        if load.ground_N <= 0.0:
            tip = (mine.tip_x_m, mine.tip_y_m, mine.tip_z_m)
            rising *= CLEAR_TIMES if load.sway_m > STEADY_M else 1.0
        return Aim(tip, hook_up_mps=rising)

    def _over_the_lines(self, readings: Readings) -> Vector:
        """Where the tip goes to be plumb. Two lines that bear and lean apart hold it in place: a step aside stretches
        one and eases the other, so the sum of their pulls comes plumb long before the tip has gone all the way."""
        mine, tip = readings.units[self._end], plumb_tip_m(readings, self._own)
        if self._has_one_line or not all_bear(readings, self._own):
            return tip
        share = share_of_way(own_lines(readings, self._own))
        return mine.tip_x_m + share * (tip[0] - mine.tip_x_m), mine.tip_y_m + share * (tip[1] - mine.tip_y_m), tip[2]

    def _one_end(self, readings: Readings, tip: tuple[float, float, float]) -> Aim:
        """Own end up slowly, the tip over its hook; nothing more once the load is free."""
        mine = readings.units[self._end]
        if readings.load.ground_N <= 0.0:
            return Aim((mine.tip_x_m, mine.tip_y_m, mine.tip_z_m))
        if any(line.hook_load_N < SLACK_OUT_N for line in own_lines(readings, self._own)):
            return self._slack_out(readings, tip)
        return Aim(tip, hook_up_mps=LIFT_SPEED_MPS if off_m(readings, self._own) < LEVEL_M else 0.0)

    def _slack_out(self, readings: Readings, tip: Vector, only: int = 0) -> Aim:
        """Up with each line until it bears, or with line `only` alone; one that bears waits for its neighbor."""
        ups = slack_ups_mps(own_lines(readings, self._own), only, by_signals=self._by_signals)
        return Aim(tip, hook_up_mps=max(ups), more_up_mps=tuple(up - max(ups) for up in ups))

    def _beside_one_another(self, aim: Aim | None, readings: Readings, name: str) -> Aim | None:
        """Of two lines, the one that has its side of the load too high goes up slower, or comes down."""
        if aim is None or name not in ALIKE or self._has_one_line or self._waits_on_bed(readings):
            return aim
        if name == "lower" and readings.load.ground_N > 0.0:
            return replace(aim, more_up_mps=self._means.unloading_mps(readings, aim.hook_up_mps))
        means = self._means.high_m
        off = [high - meant for high, meant in zip(means, self._high_m, strict=True)]
        per_s = SLUNG_LEVEL_PER_S if self._description.lands_turned_rad else LEVEL_PER_S
        more = [-per_s * copysign(max(0.0, abs(high) - UNEVEN_M), high) for high in off]
        if not self._by_signals:
            more = [one + own for one, own in zip(more, self._means.untwisting_mps(readings), strict=True)]
        return replace(aim, more_up_mps=tuple(min(KEEPING_SPEED_MPS, max(-KEEPING_SPEED_MPS, one)) for one in more))

    def _boom_keeps_up(self, readings: Readings) -> float:
        """Pace at which a load is taken off the ground, 0 to 1: by two lines slower while the boom has still to come
        over the sum of their pulls, which moves toward the heavier side as they come to bear."""
        if self._has_one_line or readings.load.ground_N <= 0.0:
            return 1.0
        drop_m = readings.units[self._end].tip_z_m - hook_z_m(readings, self._own)
        lean_rad = atan2(off_m(readings, self._own), drop_m)
        least = LIGHT_PACE if readings.units[self._end].hook_load_N < LIGHT_N else 0.0
        return max(least, 1.0 - lean_rad / self._description.limits.off_plumb_caution_rad)

    def _waits_on_bed(self, readings: Readings) -> bool:
        """Lines that are still being taken up, or a load that slides: nothing is to be made level yet."""
        slack = any(line.slack for line in own_lines(readings, self._own))
        return readings.load.ground_N > 0.0 and (slack or moves_on_bed(readings))

    @property
    def _has_one_line(self) -> bool:
        return len(self._own.lines) == 1

    def _not_ahead(self, readings: Readings, pitch_rad: float, up: float = 1.0) -> float:
        """Pace, 0 to 1.5: less when this hook is ahead of the other on the way (`up` 1 or -1), more when behind."""
        first, last = (self._hooks.z_m(readings, self._units[place]) for place in (0, -1))
        ahead = first - last - self.agreed.hook_rise_m(pitch_rad)
        mine = (ahead if self._end == 0 else -ahead) * up
        if self._alone:
            most = ALONE_SHARE * self.agreed.span_m * sin(self._description.limits.pitch_caution_rad)
            return 1.0 if mine < most else 0.0
        return min(1.5, max(0.0, 1.0 - mine / LEVEL_M))

    def to_raise_m(self, readings: Readings) -> float:
        """Hook still to go up for the belly to be at its agreed height over the road."""
        goal = self._description.path.belly_over_road_m + self.agreed.hook_over_belly_m[self._end]
        return goal - self._hooks.z_m(readings, self._own)

    def _keeping_height(self, readings: Readings) -> float:
        """Slowly up or down to the agreed height over the road."""
        wanted = HOOK_PER_S * self.to_raise_m(readings)
        return min(KEEPING_SPEED_MPS, max(-KEEPING_SPEED_MPS, wanted))

    def _raising(self, readings: Readings, dt: float) -> float:
        """Up, levelling slowly on the way, easing off toward the agreed height."""
        self._pitch = copysign(max(0.0, abs(self._pitch) - 0.0012 * dt), self._pitch)
        rest = self.to_raise_m(readings)
        speed = min(RAISE_SPEED_MPS, 0.25 * abs(rest) + 0.005)
        pace = self._not_ahead(readings, self._pitch, copysign(1.0, rest))
        return copysign(speed, rest) * pace

    def _across(self, readings: Readings, dt: float) -> float:
        """The tip's next place across, and its speed."""
        units = readings.units
        goal = self.landing_tip_y(self._end)
        if self._leader != self._end:
            self._y = self._square_to_leader_y(readings)
            return tip_speed_across(units[self._leader])
        rest = goal - self._y
        period = readings.load.sway_period_s
        top = min(CROSS_SPEED_MPS, *(self._pace(i, unit) for i, unit in enumerate(units)))
        apart_m = ALONE_APART_M if self._alone else APART_M
        tips = [unit.tip_y_m for unit in units]
        top *= min(1.0, max(0.0, 1.5 - (max(tips) - min(tips)) / apart_m))
        ramp = CROSS_SPEED_MPS / period
        wanted = copysign(min(top, sqrt(2.0 * 0.5 * ramp * abs(rest)), 0.4 * abs(rest)), rest)
        change = ramp * dt
        self._y_speed += min(change, max(-change, wanted - self._y_speed))
        self._y += self._y_speed * dt
        return self._y_speed

    def _pace(self, end: int, unit: UnitReadings) -> float:
        """Speed across that asks no function of a unit for more than the spare share of its top speed."""
        described = self._description.units[end]
        boom = described.boom
        tip = (unit.tip_x_m, unit.tip_y_m, unit.tip_z_m)
        asked = rates(described, tip, (0.0, 0.1, 0.0))
        tops = boom.telescope_speed_mps, boom.elevation_speed_radps, boom.slew_speed_radps
        most = max(abs(rate) / top for rate, top in zip(asked, tops, strict=True))
        return 0.1 * self._spare_share / max(most, 1e-3)

    def _lowering(self, readings: Readings, name: str) -> float:
        """Down, level, softly at the end; then pay out until the line hangs loose."""
        if name == "slack off":
            return self._slackening(readings)
        height = max(0.0, readings.load.height_over_road_m - self._description.landing.height_m)
        speed = SOFT_SPEED_MPS if height < SOFT_HEIGHT_M else min(LOWER_SPEED_MPS, 0.25 * height)
        waited = readings.time_s - self.since_s
        speed = min(speed, 0.01 + 0.02 * waited)
        if readings.load.road_N > 0.0:
            return -self._setting_down(readings, speed)
        return -speed * self._not_ahead(readings, 0.0, -1.0)

    def _slackening(self, readings: Readings) -> float:
        """Line out for a while, and until it hangs loose."""
        is_loose = all(line.slack for line in own_lines(readings, self._own))
        return 0.0 if is_loose and readings.time_s - self.since_s > SLACKENS_S else -SLACKEN_MPS

    @property
    def _at_the_place(self) -> bool:
        """The tip stood over the landing place, or short of it by no more than a correction, when this work began."""
        return abs(self._tip[1] - self.landing_tip_y(self._end)) < PLACE_M

    def _lowering_here(self, readings: Readings, name: str) -> float:
        """Down where it hangs, onto whatever ground is there, level and softly; then out until the line hangs loose."""
        load = readings.load
        if name == "slack off":
            return self._slackening(readings)
        if is_no_place(readings):
            return 0.0
        height = max(0.0, load.height_over_bed_m)
        speed = SOFT_SPEED_MPS if height < SOFT_HEIGHT_M else min(LOWER_SPEED_MPS, 0.25 * height)
        speed = min(speed, 0.01 + 0.02 * (readings.time_s - self.since_s))
        if load.ground_N > 0.0:
            is_slack = all(line.slack for line in own_lines(readings, self._own))
            # A line that leans: the ground pushes the load aside, and nothing more is let down there.
            leans = readings.units[self._end].off_plumb_rad > self._description.limits.off_plumb_caution_rad
            return 0.0 if is_slack or leans else -self._setting_down(readings, speed)
        return -speed * self._not_ahead(readings, 0.0, -1.0)

    def _setting_down(self, readings: Readings, speed: float) -> float:
        """Slower by two lines while both bear, so that they can be kept alike."""
        if self._has_one_line or any(line.slack for line in own_lines(readings, self._own)):
            return speed
        return min(speed, SOFTEST_MPS)

    def _over_the_place_y(self, readings: Readings) -> float:
        """Where the tip stands to come down: square to the leader's, if that one has stopped short of its place."""
        short_m = abs(readings.units[self._leader].tip_y_m - self.landing_tip_y(self._leader))
        if self._leader == self._end or short_m < SHORT_M:
            return self.landing_tip_y(self._end)
        return self._square_to_leader_y(readings)

    def _square_to_leader_y(self, readings: Readings) -> float:
        """Where the tip stands with the load square to the road under the leader's tip."""
        offset = self.agreed.tip_y_over_reference_m
        return readings.units[self._leader].tip_y_m + offset[self._end] - offset[self._leader]

    def landing_tip_y(self, end: int) -> float:
        """Where a unit's tip stands across the road over the landing place, or where a drill has it carried to."""
        beside_m = 0.0 if self._to_y_m is None else self._to_y_m - self._description.landing.y_m
        return self.agreed.lands_y_m + beside_m + self.agreed.tip_y_over_reference_m[end]
