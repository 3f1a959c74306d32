"""Commands to motion, one function at a time: ramps, top speeds, travel ends, two-block."""

from __future__ import annotations

from math import inf, sqrt


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
    """One function: where it stands, how fast it goes, what is asked of it."""

    __slots__ = ("asked", "at", "speed", "travel")

    def __init__(self, travel: Travel, at: float) -> None:
        """Standing still at a place of its travel."""
        self.travel: Travel = travel
        self.at: float = at
        self.speed: float = 0.0
        self.asked: float = 0.0
        """-1 to 1; more is taken as the end value."""


def ramped(drive: Drive, asked: float, speed: float, dt: float) -> float:
    """Speed after one step: ramped toward what is asked, slow enough to stop at the travel's ends."""
    travel = drive.travel
    wanted = travel.top * (1.0 if asked > 1.0 else -1.0 if asked < -1.0 else asked)
    change = travel.ramp * dt
    if wanted > speed + change:
        wanted = speed + change
    elif wanted < speed - change:
        wanted = speed - change
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
