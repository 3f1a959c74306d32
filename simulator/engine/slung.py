"""A sling that runs round the load as plain numbers: its ways round the outline, and where on one of them it leaves.

Points are (y, z) in the plane of the cut at the pick, in lying axes from the true CG; y is turned over for a way that
goes round clockwise, so that each goes round counterclockwise. Each bend is asked in turn whether the string leaves
there: at a corner by whether the sheave stands in front of the edge after it, which takes no angles.
"""

from __future__ import annotations

from math import acos, atan2, cos, pi, sin, sqrt
from typing import Final

OFF: Final = -1
"""No way round: straight from the pick."""
FULL_RAD: Final = 2.0 * pi
HAIR_RAD: Final = 1e-9
"""Behind by no more than this is not behind."""


class WayRound:
    """One way round the outline from the pick, in lying axes from the true CG: a row for each bend, in the order
    in which it is met. Nothing changes it."""

    __slots__ = (
        "before_m",
        "begins_rad",
        "edge_over_m",
        "edge_y",
        "edge_z",
        "is_mirrored",
        "radius_m",
        "shell_m",
        "start_over_m",
        "start_y",
        "start_z",
        "turn_rad",
        "y_m",
        "z_m",
    )

    def __init__(self, is_mirrored: bool, start: tuple[float, float, float]) -> None:
        """`is_mirrored`: y turned over, so that it goes round counterclockwise; `start`: the way that the side looks
        along which the string starts, and how far out that side is."""
        self.is_mirrored: bool = is_mirrored
        self.start_y: float = start[0]
        self.start_z: float = start[1]
        self.start_over_m: float = start[2]
        self.y_m: list[float] = []
        self.z_m: list[float] = []
        self.radius_m: list[float] = []
        self.shell_m: list[float] = []
        """Radius of the shell that is pressed there; 0: a sharp corner."""
        self.begins_rad: list[float] = []
        """Which way the string looks where it comes onto the bend."""
        self.turn_rad: list[float] = []
        """All that it can turn there."""
        self.before_m: list[float] = []
        """Laid from the pick to there."""
        self.edge_y: list[float] = []
        self.edge_z: list[float] = []
        self.edge_over_m: list[float] = []
        """Which way the edge after the bend looks, and how far out it is."""


class RoundNumbers:
    """The sling of a line: its ways round, and the pick. Nothing changes it."""

    __slots__ = ("first", "pick_x", "pick_y", "pick_z", "sling_m", "ways", "width_m")

    def __init__(self, pick: tuple[float, float, float], sling_m: float, width_m: float, first: int) -> None:
        """The pick from the true CG in lying axes, on the outline; the sling's length and width; the way that it lies
        at time zero, or `OFF`."""
        self.pick_x: float = pick[0]
        self.pick_y: float = pick[1]
        self.pick_z: float = pick[2]
        self.sling_m: float = sling_m
        self.width_m: float = width_m
        self.first: int = first
        self.ways: list[WayRound] = []


def bears(way: WayRound, y: float, z: float) -> bool:
    """Whether a sheave stands behind the side along which the string would start."""
    return way.start_y * y + way.start_z * z < way.start_over_m


def bend_of(way: WayRound, y: float, z: float) -> int:
    """The bend at which the string leaves: an arc with a tangent to the sheave, or a corner after which the edge is the
    first that the sheave stands in front of."""
    last = len(way.y_m) - 1
    for index in range(last):
        if way.radius_m[index] > 0.0:
            if turned_rad(way, index, y, z) <= way.turn_rad[index]:
                return index
        elif way.edge_y[index] * y + way.edge_z[index] * z >= way.edge_over_m[index]:
            return index
    return last


def turned_rad(way: WayRound, bend: int, y: float, z: float) -> float:
    """How far it turns at the bend at which it leaves."""
    across, up, radius = y - way.y_m[bend], z - way.z_m[bend], way.radius_m[bend]
    away = sqrt(across * across + up * up)
    turned = atan2(up, across) - (acos(radius / away) if radius < away else 0.0) - way.begins_rad[bend]
    while turned < -HAIR_RAD:
        turned = turned + FULL_RAD
    while turned >= FULL_RAD - HAIR_RAD:
        turned = turned - FULL_RAD
    return turned if turned > 0.0 else 0.0


def length_m(way: WayRound, y: float, z: float) -> float:
    """Pick to sheave this way round, in the plane of the cut."""
    bend = bend_of(way, y, z)
    across, up, radius = y - way.y_m[bend], z - way.z_m[bend], way.radius_m[bend]
    laid = way.before_m[bend]
    if radius > 0.0:
        looks = way.begins_rad[bend] + turned_rad(way, bend, y, z)
        laid = laid + radius * (looks - way.begins_rad[bend])
        across, up = across - radius * cos(looks), up - radius * sin(looks)
    return laid + sqrt(across * across + up * up)


def pushed_N(way: WayRound, y: float, z: float, pull_N: float) -> float:
    """Push of a sling at the sharp corner where it presses hardest: 2 T sin(turn / 2); 0 where it passes none.

    Args:
        way: that it goes.
        y: of the sheave.
        z: of the sheave.
        pull_N: in the plane of the cut.
    """
    leaves, most = bend_of(way, y, z), 0.0
    for index in range(leaves + 1):
        if way.shell_m[index] == 0.0:
            turn = turned_rad(way, index, y, z) if index == leaves else way.turn_rad[index]
            push = 2.0 * pull_N * sin((turn if turn < pi else pi) / 2.0)
            most = push if push > most else most
    return most


def pressure_Pa(way: WayRound, y: float, z: float, pull_N: float, width_m: float) -> float:
    """Pressure of a sling on the most sharply bent shell that it lies on: T / (radius x width); 0 on none.

    Args:
        way: that it goes.
        y: of the sheave.
        z: of the sheave.
        pull_N: by the part of the circle's plane, twice: a string that runs round aslant is bent less.
        width_m: of the sling.
    """
    leaves, most = bend_of(way, y, z), 0.0
    for index in range(leaves + 1):
        shell = way.shell_m[index]
        turn = turned_rad(way, index, y, z) if index == leaves else way.turn_rad[index]
        if shell > 0.0 and turn > HAIR_RAD:
            pressure = pull_N / (shell * width_m)
            most = pressure if pressure > most else most
    return most
