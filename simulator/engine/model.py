"""A description turned into the numbers a step needs: immutable, built once."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

from simulator.engine.contact import Bed, bed
from simulator.engine.drives import Limits, limits
from simulator.engine.weather import Weather, weather
from simulator.mechanics.bearing import edge_check
from simulator.mechanics.boom import Foot, foot
from simulator.mechanics.drum import stall_table
from simulator.mechanics.footing import Stand, resting_loads, stand
from simulator.mechanics.ground import bed_at, ground
from simulator.mechanics.outriggers import Four
from simulator.mechanics.trailer import Body, Vector, body, lying, stated_cg_m
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import rig_of
from simulator.scenario.trailer import Pick
from simulator.scenario.unit import Unit


@dataclass(frozen=True, slots=True)
class Side:
    """One unit with its end of the trailer."""

    unit: Unit
    end: int
    pick: Pick
    pick_m: Vector
    """From the true CG, lying axes."""
    rigging_m: float
    """Pick line to hook."""
    across_rigid: bool
    below_sheave_N: float
    """Weight of block and rigging."""
    foot: Foot
    """Where its boom stands."""
    ends: Limits
    """Speeds, ramps and travel ends of its functions."""
    stand: Stand
    """Weights and floats."""
    resting_N: Four
    """Float reactions with the hook empty, boom over the tailboard at start length and elevation."""
    bearing_Pa: float
    settle_mps: float
    tandem_share: float
    """Share of capacity that a lift by two units may use."""
    set_back_room_m: float
    """Least room of a pad behind the line it must stand behind."""
    stall: tuple[tuple[float, float], ...]
    """Line load at which the winch stalls, by rope left."""
    lean_share: float
    """Part of the way to where it is going that a tip leans in one step."""


@dataclass(frozen=True, slots=True)
class Model:
    """Numbers of one lift."""

    description: Description
    dt: float
    body: Body
    reference_m: Vector
    """Stated CG (reference point of readings) from the true CG, lying axes."""
    sides: tuple[Side, Side]
    bed: Bed
    weather: Weather
    weight_N: float
    hold_point_m: Vector | None
    """From the true CG, lying axes."""
    footing_every: int
    liquid: bool
    """The cargo has a free surface."""
    is_calm: bool
    """Neither wind nor a free surface."""


def _from(point: Vector, origin: Vector) -> Vector:
    return point[0] - origin[0], point[1] - origin[1], point[2] - origin[2]


def _side(description: Description, trailer_body: Body, end: int, dt: float) -> Side:
    unit = description.units[end]
    line = rig_of(description).units[end].lines[0]
    pick = description.trailer.picks[line.pick]
    share = 1.0 - exp(-dt / unit.lean_relaxation_s) if unit.lean_relaxation_s > 0.0 else 1.0
    standing = stand(unit, cross_fall_rad=description.site.cross_fall_rad)
    return Side(
        unit=unit,
        end=end,
        pick=pick,
        pick_m=_from(trailer_body.picks_m[line.pick], trailer_body.cg_m),
        rigging_m=pick.height_m,
        across_rigid=pick.pivot == "bridle_across",
        below_sheave_N=(unit.hoist.block_kg + pick.rigging_kg) * STANDARD_GRAVITY_MPS2,
        foot=foot(unit),
        ends=limits(unit),
        stand=standing,
        resting_N=resting_loads(standing, unit, unit.start.boom_length_m, unit.start.elevation_rad),
        bearing_Pa=description.site.soil.allowable_bearing_Pa,
        settle_mps=description.site.soil.settle_mps_per_overload,
        tandem_share=unit.rating.tandem_share if unit.rating else 1.0,
        set_back_room_m=_set_back_room_m(description, unit, end),
        stall=stall_table(unit.hoist),
        lean_share=share,
    )


def _set_back_room_m(description: Description, unit: Unit, end: int) -> float:
    """Over both ravine-side floats: how far the pad's edge stands behind where it must."""
    site, floats = description.site, unit.floats
    surface, pad_edge = ground(site), -floats.across_m - floats.pad_side_m / 2.0
    rooms = []
    for u in (floats.toward_tailboard_m, -floats.toward_cab_m):
        rise, _ = bed_at(surface, unit.slew_axis_x_m + unit.facing * u)
        edge = edge_check(site.section_m, site.edge_y_m, pad_edge, site.soil.steepest_angle_rad, bed_m=rise)
        rooms.append(edge.set_back_m - edge.needed_m)
    return min(rooms)


def build(description: Description) -> Model:
    """The model of a description."""
    dt = 1.0 / description.engine.steps_per_s
    trailer_body = body(description.trailer)
    cg = trailer_body.cg_m
    site = description.site
    points = tuple(_from(point, cg) for point in trailer_body.points_m)
    hold, liquid = site.bed_hold, description.trailer.cargo.free_surface_length_m > 0.0
    hold_point = None
    if hold is not None:
        own = _from(hold.at_m, stated_cg_m(description.trailer))
        hold_point = _from(lying(description.trailer.attitude, own), cg)
    return Model(
        description=description,
        dt=dt,
        body=trailer_body,
        reference_m=(-cg[0], -cg[1], -cg[2]),
        sides=(_side(description, trailer_body, 0, dt), _side(description, trailer_body, 1, dt)),
        bed=bed(ground(site), points, site.contact, site.road_contact, trailer_body.mass_kg),
        weather=weather(site.wind, trailer_body, description.seed),
        weight_N=trailer_body.mass_kg * STANDARD_GRAVITY_MPS2,
        hold_point_m=hold_point,
        footing_every=description.engine.footing_every_steps,
        liquid=liquid,
        is_calm=not (site.wind.speed_mps or liquid),
    )
