"""A unit that goes over: a rigid body on those of its four floats that touch the ground, free to lean about the others.

Axes as in `unit_loads`: u from the slew axis toward the tailboard, v toward the road, z up. It moves by the sink rate s
of a float it stands on (its pivot) and by two lean rates: a point at (u, v, z) from there goes at (a z, b z,
-(s + a u + b v)). The ground under a float is hard, takes no pull and gives nothing back: of all motions that take no
float into the ground, the one nearest to the free motion, measured by the body's own inertia. Feet do not slide.
"""

from __future__ import annotations

from math import cos, pi, sin, sqrt
from typing import Final

from simulator.mechanics.four_floats import Four, Frame, Places
from simulator.mechanics.matrix import Matrix, Vector, inverse, times, transposed, turned

MOST_LEAN_RAD: Final = 10.0 * pi / 180.0
"""A unit that leans farther is lost: jacks and beams stand askew under it, and no maker lets them bear so. Our own
choice, no source."""
ROUNDS: Final = 400
"""Most rounds in which the floats' pushes are brought to agree; some thirty do."""
AGREED: Final = 1e-13
"""Meters a second by which they then may still differ."""


class Masses:
    """Carrier, superstructure and boom: weight, place, and how far each is spread. Build it with `footing.masses`."""

    __slots__ = ("behind_m", "boom_kg", "boom_share", "carrier", "carrier_kg", "spread", "upper", "upper_kg", "upper_m")

    def __init__(self, carrier_kg: float, upper_kg: float, boom_kg: float) -> None:
        """The three masses; the rest is set by `footing.masses`."""
        self.carrier_kg: float = carrier_kg
        self.upper_kg: float = upper_kg
        self.boom_kg: float = boom_kg
        self.carrier: Vector = (0.0, 0.0, 0.0)
        """Its center: (u, v, z)."""
        self.spread: Vector = (0.0, 0.0, 0.0)
        """Mean square distance of its mass from its center along u, v and z."""
        self.upper_m: tuple[float, float] = (0.0, 0.0)
        """The superstructure's center: opposite the boom from the slew axis, height."""
        self.upper: float = 0.0
        """The superstructure's mean square distance from its center, alike every way."""
        self.boom_share: float = 0.5
        self.behind_m: tuple[float, float] = (0.0, 0.0)
        """The foot pin: behind the slew axis, height."""


class Spread:
    """A body's mass, first and second moments of mass about a point."""

    __slots__ = ("first", "mass_kg", "second")

    def __init__(self, mass_kg: float, first: Vector, second: Matrix) -> None:
        """kg, kg m along each axis, kg m2 along each two axes."""
        self.mass_kg: float = mass_kg
        self.first: Vector = first
        self.second: Matrix = second


def spread(on: Masses, out_m: float, rise_m: float, cos_slew: float, sin_slew: float) -> Spread:
    """Of a unit whose boom reaches so far and rises so far from its foot pin, about the slew axis at the ground."""
    back, high = on.behind_m
    upper_back, upper_high = on.upper_m
    middle = on.boom_share * out_m - back
    boom = middle * cos_slew, middle * sin_slew, high + on.boom_share * rise_m
    upper = -upper_back * cos_slew, -upper_back * sin_slew, upper_high
    su, sv, sz = on.spread
    along = out_m * cos_slew, out_m * sin_slew, rise_m
    places = on.carrier, upper, boom
    first, second = (0.0, 0.0, 0.0), (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    for mass, at in zip((on.carrier_kg, on.upper_kg, on.boom_kg), places, strict=True):
        first = _plus(first, mass, at)
        second = _plus_square(second, mass, at)
    second = _plus_square(second, on.boom_kg / 12.0, along)  # a rod, foot pin to tip
    a, b, c, d, e, f, g, h, i = second
    round_upper = on.upper_kg * on.upper
    a, e, i = a + on.carrier_kg * su, e + on.carrier_kg * sv, i + on.carrier_kg * sz
    second = a + round_upper, b, c, d, e + round_upper, f, g, h, i + round_upper
    return Spread(on.carrier_kg + on.upper_kg + on.boom_kg, first, second)


def _plus(first: Vector, mass: float, at: Vector) -> Vector:
    x, y, z = first
    u, v, w = at
    return x + mass * u, y + mass * v, z + mass * w


def _plus_square(second: Matrix, mass: float, at: Vector) -> Matrix:
    a, b, c, d, e, f, g, h, i = second
    u, v, w = at
    uv, uw, vw = mass * u * v, mass * u * w, mass * v * w
    return a + mass * u * u, b + uv, c + uw, d + uv, e + mass * v * v, f + vw, g + uw, h + vw, i + mass * w * w


def about(of: Spread, point: tuple[float, float], leaned: Matrix) -> Spread:
    """The same about a point on the ground, the body turned about it."""
    pu, pv = point
    mass, (su, sv, sz) = of.mass_kg, of.first
    a, b, c, d, e, f, g, h, i = of.second
    # J - p S' - S p' + m p p'
    uv = pu * sv + pv * su - mass * pu * pv
    a, b, c = a - 2.0 * pu * su + mass * pu * pu, b - uv, c - pu * sz
    d, e, f = d - uv, e - 2.0 * pv * sv + mass * pv * pv, f - pv * sz
    g, h = g - pu * sz, h - pv * sz
    second = times(times(leaned, (a, b, c, d, e, f, g, h, i)), transposed(leaned))
    return Spread(mass, turned(leaned, (su - mass * pu, sv - mass * pv, sz)), second)


def leaned_by(lean_u: float, lean_v: float) -> Matrix:
    """The turn of a body that leans by so many radians, about the level axis square to that way."""
    size = sqrt(lean_u * lean_u + lean_v * lean_v)
    if size == 0.0:
        return 1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0
    u, v, c, s = lean_u / size, lean_v / size, cos(size), sin(size)
    uv = (c - 1.0) * u * v
    return 1.0 + (c - 1.0) * u * u, uv, s * u, uv, 1.0 + (c - 1.0) * v * v, s * v, -s * u, -s * v, c


def inertia(of: Spread) -> Matrix:
    """Against sink rate and both lean rates of the point that the moments are about."""
    (su, sv, _), (uu, uv, _, _, vv, _, _, _, zz) = of.first, of.second
    return of.mass_kg, su, sv, su, uu + zz, uv, sv, uv, vv + zz


def lowest(places: Places, lean_u: float, lean_v: float) -> int:
    """The float on which a body that leans so stands; the first of those that are as low."""
    best, index = -1e300, 0
    for i in range(4):
        u, v = places[i]
        out = lean_u * u + lean_v * v
        if out > best + 1e-9:
            best, index = out, i
    return index


def held(mass: Matrix, free: Vector, places: list[Vector], dt: float) -> tuple[Vector, Four]:
    """A step's motion under floats that push.

    Args:
        mass: as `inertia`.
        free: sink rate and lean rates, were there no ground.
        places: of each float from the pivot, body turned; its height over the ground third.
        dt: step, s.

    Returns:
        Sink rate and lean rates, and each float's push times the step, N s.
    """
    back = inverse(mass)
    gives = [turned(back, (1.0, place[0], place[1])) for place in places]
    pushes = [0.0, 0.0, 0.0, 0.0]
    s, a, b = free
    for _ in range(ROUNDS):
        most = 0.0
        for i in range(4):
            (u, v, over), (gs, ga, gb) = places[i], gives[i]
            too_fast = s + a * u + b * v - over / dt
            more = too_fast / (gs + ga * u + gb * v)
            was = pushes[i]
            now = was + more if was + more > 0.0 else 0.0
            pushes[i] = now
            change = now - was
            s, a, b = s - change * gs, a - change * ga, b - change * gb
            moved = abs(change) * (gs + ga * u + gb * v)
            most = moved if moved > most else most
        if most < AGREED:
            break
    return (s, a, b), (pushes[0], pushes[1], pushes[2], pushes[3])


def onto_outline(frame: Frame, load: Vector) -> Vector:
    """A load whose moments are the least changed with which the frame stands: its resultant on the floats' outline."""
    vertical, to_u, to_v = load
    for _ in range(2):
        for a, b, c in frame.outline:
            holds = a * vertical + b * to_u + c * to_v
            if holds < 0.0:
                to_u, to_v = to_u - holds * b, to_v - holds * c
    return vertical, to_u, to_v
