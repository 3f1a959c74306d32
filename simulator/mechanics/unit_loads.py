"""What loads a unit's frame: its own weights, pulls on its boom, and the plumb load that would tip it.

Everything is in the unit's own axes: u from the slew axis toward the tailboard, v toward the road, z up from the
ground. A unit that does not stand level is reckoned in its own axes with all forces turned by the level error instead.
A load on the frame is (vertical, moment toward u, moment toward v) about the slew axis at the ground.
"""

from __future__ import annotations

from math import inf, sqrt

from simulator.mechanics.four_floats import Four, Frame
from simulator.mechanics.matrix import Vector


class Stand:
    """One unit's weights and floats as plain numbers. Build it with `footing.stand`."""

    __slots__ = (
        "behind_Nm",
        "block_N",
        "boom_N",
        "carrier_Nm",
        "foot_pin_back_m",
        "foot_pin_height_m",
        "frame",
        "moving_N",
        "raised_Nm",
        "slope_u",
        "slope_v",
        "upright",
        "weight_N",
    )

    def __init__(
        self,
        frame: Frame,
        foot_pin_height_m: float,
        weight_N: float,
        block_N: float,
        carrier_Nm: float,
        behind_Nm: float,
        boom_N: float,
        raised_Nm: float,
        slopes: tuple[float, float],
    ) -> None:
        """See the names; `slopes` is the level error, positive where u and v run downhill."""
        self.frame: Frame = frame
        self.foot_pin_height_m: float = foot_pin_height_m
        self.foot_pin_back_m: float = 0.0
        """Behind the slew axis."""
        self.moving_N: float = 0.0
        """Weight of the boom's sections but the first."""
        self.weight_N: float = weight_N
        self.block_N: float = block_N
        """All its blocks."""
        self.carrier_Nm: float = carrier_Nm
        """Carrier's moment toward the cab."""
        self.behind_Nm: float = behind_Nm
        """Moment, opposite the boom, of the superstructure and of the boom's foot pin standing behind the slew axis."""
        self.boom_N: float = boom_N
        """Boom weight times its CG share: times boom length it is a moment."""
        self.raised_Nm: float = raised_Nm
        """Weights times their heights, boom at level."""
        self.slope_u: float = slopes[0]
        self.slope_v: float = slopes[1]
        self.upright: float = sqrt(1.0 - slopes[0] * slopes[0] - slopes[1] * slopes[1])
        """Part of a weight that still presses square to the frame."""


def weights(on: Stand, out_m: float, rise_m: float, cos_slew: float, sin_slew: float) -> Vector:
    """Load of the unit's own weights, boom reaching `out_m` and rising `rise_m` from its foot pin."""
    radial = (on.boom_N * out_m - on.behind_Nm) * on.upright
    height = on.raised_Nm + on.boom_N * rise_m
    toward_u = radial * cos_slew - on.carrier_Nm * on.upright + on.slope_u * height
    return on.weight_N * on.upright, toward_u, radial * sin_slew + on.slope_v * height


def pulled_at(on: Stand, at_m: Vector, force_N: Vector) -> Vector:
    """Load of a pull on the boom; a level pull overturns by its height.

    Args:
        on: the unit.
        at_m: (u, v, z) of where it pulls, as a unit that stands level would hold it.
        force_N: (Fu, Fv, Fz); a hanging load is negative along z.
    """
    u, v, z = at_m
    fu, fv, fz = force_N
    along = fu * on.upright - on.slope_u * fz
    across = fv * on.upright - on.slope_v * fz
    down = -fz * on.upright - on.slope_u * fu - on.slope_v * fv
    return down, down * u + along * z, down * v + across * z


def on_functions(
    on: Stand, boom: Vector, slew: tuple[float, float], at_m: Vector, force_N: Vector, lead_N: float
) -> Vector:
    """What a unit's functions have to hold.

    Args:
        on: the unit.
        boom: (length, cosine and sine of elevation).
        slew: cosine and sine.
        at_m: (u, v, z) of where the lines pull.
        force_N: (Fu, Fv, Fz) of all of them; a hanging load is negative along z.
        lead_N: what their lead lines pull along the boom.

    Returns:
        Moment about the foot pin that lowers the boom, push along it that draws it in, torque about the slew axis
        toward the road. The frame's own level error is left out: it adds its slope's share of the boom's weight.
    """
    length, level, steep = boom
    c, s = slew
    u, v, z = at_m
    fu, fv, fz = force_N
    out, outward, aside = u * c + v * s, fu * c + fv * s, fv * c - fu * s
    lowers = (z - on.foot_pin_height_m) * outward - (out + on.foot_pin_back_m) * fz + on.boom_N * length * level
    return lowers, lead_N + on.moving_N * steep - outward * level - fz * steep, out * aside


def plumb_load_that_tips_N(on: Stand, own: Vector, at_m: Vector) -> float:
    """Least over the edges of the floats' outline: what the weights hold down, over the load's distance outside it.

    Args:
        on: the unit.
        own: load of its own weights at this pose.
        at_m: (u, v, z) of where the load hangs.

    Returns:
        N; infinite where no load tips it, 0 where it tips by itself.
    """
    per_N, per_u, per_v = pulled_at(on, at_m, (0.0, 0.0, -1.0))
    own_N, own_u, own_v = own
    least = inf
    for a, b, c in on.frame.outline:
        overturns = -(a * per_N + b * per_u + c * per_v)
        holds = a * own_N + b * own_u + c * own_v
        if holds < 0.0:
            return 0.0
        if overturns > 0.0 and holds / overturns < least:
            least = holds / overturns
    return least


def least_float(reactions_N: Four, resting_N: Four) -> tuple[int, float]:
    """The float lightest by its share of resting load, and that share. One that rests on nothing is not counted."""
    best, index = inf, 0
    for i in range(4):
        reaction, rest = reactions_N[i], resting_N[i]
        if rest > 0.0 and reaction < best * rest:
            best, index = reaction / rest, i
    return index, best if best < inf else 0.0
