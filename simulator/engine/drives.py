"""Commands to motion, one function at a time: ramps, top speeds, travel ends, two-block."""

from __future__ import annotations

from math import inf, sqrt
from typing import Final

SLIPS_OVER: Final = 0.1
"""With so much over what it holds a function gives way at its top speed. Common practice, no source."""


class Travel:
    """One function's limits: top speed, ramp, and the ends of its travel. Nothing changes it."""

    __slots__ = ("ample", "high", "low", "ramp", "top")

    def __init__(self, top: float, ramp: float, low: float, high: float) -> None:
        """Speed per second, its change per second, and the two ends."""
        self.top: float = top
        self.ramp: float = ramp
        self.low: float = low
        self.high: float = high
        self.ample: float = ample(top, ramp)
        """With this much travel left no speed need be held back."""


def ample(top: float, ramp: float) -> float:
    """A stop from top speed, and a second at top speed more: no step is that long."""
    return top * top / (2.0 * ramp) + top if ramp > 0.0 else inf


class Drive:
    """One function: where it stands, how fast it goes, what is asked of it, and what its load leaves it."""

    __slots__ = ("asked", "at", "down_most", "gear", "is_pressed", "slips", "speed", "travel", "up_most", "used")

    def __init__(self, travel: Travel, at: float) -> None:
        """Standing still at a place of its travel, free."""
        self.travel: Travel = travel
        self.at: float = at
        self.speed: float = 0.0
        self.asked: float = 0.0
        """-1 to 1; more is taken as the end value."""
        self.used: float = 0.0
        """Load over what stalls it; positive where it pushes toward less."""
        self.gear: float = 1.0
        """Top speed over that of its travel: a winch's layer."""
        self.is_pressed: bool = False
        """The three below are not those of a free function."""
        self.up_most: float = 1.0
        self.down_most: float = 1.0
        """Share of top speed that it still has, either way."""
        self.slips: float = 0.0
        """Speed at which its load takes it along."""


def press(drive: Drive, used: float, holds: float, full: float, both_ways: bool) -> None:
    """A load bears on a function.

    Args:
        drive: changed in place.
        used: load over what stalls it, positive where it pushes toward less.
        holds: as many times what stalls it the function holds while it is not driven.
        full: it has its full speed up to this share.
        both_ways: it stalls and gives way toward more as well (a slewing boom).
    """
    drive.used = used
    drive.up_most = left(used, full)
    drive.down_most = left(-used, full) if both_ways else 1.0
    drive.slips = 0.0
    if used > holds:
        drive.slips = -_slip(drive, used / holds)
    elif both_ways and -used > holds:
        drive.slips = _slip(drive, -used / holds)
    drive.is_pressed = drive.up_most < 1.0 or drive.down_most < 1.0 or drive.slips != 0.0


def left(used: float, full: float) -> float:
    """Share of its top speed that a function has against this share of what stalls it."""
    if used <= full:
        return 1.0
    return (1.0 - used) / (1.0 - full) if used < 1.0 else 0.0


def _slip(drive: Drive, over: float) -> float:
    """At top speed when a tenth more pulls than it holds."""
    speed = drive.travel.top * (over - 1.0) / SLIPS_OVER
    return speed if speed < drive.travel.top else drive.travel.top


def pressed(drive: Drive, speed: float) -> float:
    """The speed that its load leaves it: at once, a pump or a brake knows no ramp."""
    top = drive.travel.top * drive.gear
    most, least = top * drive.up_most, 0.0 - top * drive.down_most
    speed = most if speed > most else least if speed < least else speed
    if drive.slips < 0.0:
        return speed if speed < drive.slips else drive.slips
    if drive.slips > 0.0:
        return speed if speed > drive.slips else drive.slips
    return speed


def ramped(drive: Drive, asked: float, speed: float, dt: float) -> float:
    """Speed after one step: ramped toward what is asked, what its load leaves, slow enough to stop at the travel's
    ends."""
    travel = drive.travel
    wanted = travel.top * drive.gear * (1.0 if asked > 1.0 else -1.0 if asked < -1.0 else asked)
    change = travel.ramp * dt
    if wanted > speed + change:
        wanted = speed + change
    elif wanted < speed - change:
        wanted = speed - change
    if drive.is_pressed:
        wanted = pressed(drive, wanted)
    if wanted > 0.0:
        room = travel.high - drive.at
        return wanted if room > travel.ample else no_faster(wanted, room, travel.ramp, dt)
    if wanted < 0.0:
        room = drive.at - travel.low
        return wanted if room > travel.ample else 0.0 - no_faster(-wanted, room, travel.ramp, dt)
    return wanted


def no_faster(speed: float, room: float, ramp: float, dt: float) -> float:
    """The speed, or the greatest that can still stop within the room that is left."""
    if room <= 0.0:
        return 0.0
    stopping, last_step = sqrt(2.0 * ramp * room), room / dt
    most = stopping if stopping < last_step else last_step
    return speed if speed < most else most


def short_of_the_block(hoist: Drive, telescope: Drive, room_m: float, dt: float) -> None:
    """Hold back hoist and telescope so that the block stops at its stop: telescoping out takes up line as hoisting
    does."""
    up, out = hoist.speed, telescope.speed
    closing = up + out
    most = no_faster(closing, room_m, hoist.travel.ramp, dt)
    if closing <= most:
        return
    taking = (up if up > 0.0 else 0.0) + (out if out > 0.0 else 0.0)
    share = (most + taking - closing) / taking
    if up > 0.0:
        hoist.speed = up * share
    if out > 0.0:
        telescope.speed = out * share
