"""A description turned into the numbers a step needs: immutable, built once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import exp, hypot, sqrt

from simulator.engine.contact import Bed, ContactNumbers
from simulator.engine.drives import Travel
from simulator.engine.edges import Outline, Side
from simulator.engine.numbers import BodyNumbers, LineNumbers, UnitNumbers
from simulator.engine.sling_ways import lying_m, slung
from simulator.engine.stepping import StepNumbers
from simulator.engine.weather import cargo, hold, holding_line, weather
from simulator.mechanics.bearing import edge_check
from simulator.mechanics.boom import foot
from simulator.mechanics.boom_section import bend_of
from simulator.mechanics.drum import brake_over_stall, breaking_N, layers, lead_line_share
from simulator.mechanics.flat_deck import surface_of
from simulator.mechanics.footing import masses, resting_loads, stand
from simulator.mechanics.ground import bed_at, ground
from simulator.mechanics.matrix import Vector, inverse
from simulator.mechanics.rating import TIPPING_SHARE, table_of
from simulator.mechanics.reliefs import reliefs
from simulator.mechanics.ridges import ridges
from simulator.mechanics.trailer_body import Body, body, lying, part_sides, stated_cg_m
from simulator.scenario.description import Description
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from simulator.scenario.rig import MOST_LINES, Rig, RigLine, rig_of
from simulator.scenario.site import BedHold, Contact, HoldingLine
from simulator.scenario.trailer import Pick, Trailer
from simulator.scenario.unit import Line, Unit


@dataclass(frozen=True, slots=True)
class UnitModel:
    """One unit."""

    unit: Unit
    place: int
    numbers: UnitNumbers
    tandem_share: float
    """Share of capacity that a lift by two units may use; 1 for a lone unit."""
    set_back_room_m: float
    """Least room of a pad behind the line it must stand behind."""
    level_turn_m: float = 0.0
    """Half of how much longer line 1 is than line 2 while the load hangs lying level; of lines with slings round it."""


@dataclass(frozen=True, slots=True)
class LineModel:
    """One line, and the pick it goes to."""

    rig: RigLine
    line: Line
    pick: Pick
    numbers: LineNumbers

    @property
    def pick_m(self) -> Vector:
        """From the true CG, lying axes."""
        return self.numbers.pick_m


@dataclass(frozen=True, slots=True)
class Model:
    """Numbers of one lift."""

    description: Description
    rig: Rig
    dt: float
    body: Body
    reference_m: Vector
    """Stated CG (reference point of readings) from the true CG, lying axes."""
    units: tuple[UnitModel, ...]
    lines: tuple[LineModel, ...]
    """Every line, in the rig's order."""
    trailer: BodyNumbers
    step: StepNumbers
    hold_point_m: Vector | None
    """From the true CG, lying axes."""

    @property
    def weight_N(self) -> float:
        """The trailer's."""
        return self.trailer.weight_N

    @property
    def bed(self) -> Bed:
        """The ground and the points that can touch it."""
        return self.step.bed

    def lines_of(self, unit: UnitModel) -> tuple[LineModel, ...]:
        """A unit's lines."""
        return tuple(self.lines[line.place] for line in self.rig.units[unit.place].lines)


def _from(point: Vector, origin: Vector) -> Vector:
    return point[0] - origin[0], point[1] - origin[1], point[2] - origin[2]


def _unit(description: Description, place: int, dt: float) -> UnitModel:
    unit, site = description.units[place], description.site
    standing, boom, rating = stand(unit, cross_fall_rad=site.cross_fall_rad), unit.boom, unit.rating
    numbers = UnitNumbers(
        foot(unit),
        standing,
        Travel(boom.telescope_speed_mps, boom.telescope_ramp_mps2, boom.shortest_m, boom.longest_m),
        Travel(boom.elevation_speed_radps, boom.elevation_ramp_radps2, boom.lowest_rad, boom.highest_rad),
        Travel(boom.slew_speed_radps, boom.slew_ramp_radps2, boom.slew_ravine_rad, boom.slew_road_rad),
    )
    numbers.bend, numbers.masses = bend_of(unit), masses(unit)
    numbers.reliefs, numbers.holding_factor = reliefs(unit, standing), boom.holding_factor
    numbers.full_share = unit.full_speed_share
    numbers.pad_side_m = unit.floats.pad_side_m
    numbers.bearing_Pa = site.soil.allowable_bearing_Pa
    numbers.settle_mps = site.soil.settle_mps_per_overload
    numbers.resting_N = resting_loads(standing, unit, unit.start.boom_length_m, unit.start.elevation_rad)
    if unit.lean_relaxation_s > 0.0:
        numbers.lean_share = 1.0 - exp(-dt / unit.lean_relaxation_s)
        numbers.given_share = 1.0 - exp(-dt * description.engine.footing_every_steps / unit.lean_relaxation_s)
    numbers.table = table_of(rating) if rating else None
    numbers.tipping_share = rating.tipping_share if rating else TIPPING_SHARE
    tandem_share = rating.tandem_share if rating and len(description.units) > 1 else 1.0
    return UnitModel(unit, place, numbers, tandem_share, _set_back_room_m(description, unit))


def _line(description: Description, rig_line: RigLine, trailer_body: Body, telescope: Travel) -> LineModel:
    line = description.units[rig_line.unit].lines[rig_line.number - 1]
    hoist, pick = line.hoist, description.trailer.picks[rig_line.pick]
    numbers = LineNumbers(
        Travel(hoist.speed_mps, hoist.ramp_mps2, -hoist.usable_rope_m, 0.0),
        telescope,
        line.across_m,
        _from(trailer_body.picks_m[rig_line.pick], trailer_body.cg_m),
        pick.height_m,
    )
    numbers.across_rigid = pick.pivot == "bridle_across"
    if pick.sling_length_m is not None:
        numbers.round = slung(description.trailer, pick, pick.sling_length_m)
        numbers.rigging_m = pick.sling_length_m
    numbers.below_sheave_N = (hoist.block_kg + _rigging_kg(description, rig_line)) * STANDARD_GRAVITY_MPS2
    numbers.rope_EA_N, numbers.parts = hoist.rope_EA_N, float(hoist.parts)
    numbers.to_boom_foot_m, numbers.usable_rope_m = hoist.to_boom_foot_m, hoist.usable_rope_m
    numbers.damping_ratio = hoist.damping_ratio
    numbers.sway_per_N = 2.0 * hoist.sway_damping_ratio / sqrt(STANDARD_GRAVITY_MPS2)
    numbers.share_kg = trailer_body.mass_kg / len(rig_of(description).lines)
    numbers.to_stop_m = hoist.to_boom_foot_m + hoist.parts * hoist.block_and_stop_m
    numbers.two_block_override = hoist.two_block_override
    numbers.layers = [(layer.up_to_m, layer.stall_N, layer.gear) for layer in layers(hoist)]
    numbers.lead_share = lead_line_share(hoist.parts, hoist.sheave_loss)
    numbers.brake_over_stall, numbers.breaking_N = brake_over_stall(hoist), breaking_N(hoist) / numbers.lead_share
    return LineModel(rig_line, line, pick, numbers)


def _level(
    description: Description, unit: UnitModel, rig: Rig, lines: tuple[LineModel, ...], trailer_body: Body
) -> UnitModel:
    """With how its two lines differ while the load hangs lying level at its agreed height, its tip over the load."""
    own = [lines[line.place].numbers for line in rig.units[unit.place].lines]
    if len(own) != MOST_LINES or any(line.round is None for line in own):
        return unit
    over_m = description.path.tip_height_m - description.path.belly_over_road_m
    over_m += trailer_body.low_m[2] - trailer_body.cg_m[2]
    first, second = (lying_m(line.round, line.across_m, over_m) for line in own if line.round is not None)
    return replace(unit, level_turn_m=(first - second) / 2.0)


def _rigging_kg(description: Description, rig_line: RigLine) -> float:
    """A line's part of the rigging above its pick, with its spreader: lines that share a pick share it."""
    sharing = sum(line.pick == rig_line.pick for line in rig_of(description).lines)
    return description.trailer.picks[rig_line.pick].hung_kg / sharing


def _set_back_room_m(description: Description, unit: Unit) -> float:
    """Over both ravine-side floats: how far the pad's edge stands behind where it must."""
    site, floats = description.site, unit.floats
    surface, pad_edge = ground(site), -floats.ravine_m - floats.pad_side_m / 2.0
    rooms = []
    for u in (floats.toward_tailboard_m, -floats.toward_cab_m):
        rise, _ = bed_at(surface, unit.slew_axis_x_m + unit.facing * u)
        edge = edge_check(site.section_m, site.edge_y_m, pad_edge, site.soil.steepest_angle_rad, bed_m=rise)
        rooms.append(edge.set_back_m - edge.needed_m)
    return min(rooms)


def _held_point_m(description: Description, hold: BedHold | HoldingLine | None, cg: Vector) -> Vector | None:
    """Where a hold is on the trailer, from the true CG, lying axes."""
    if hold is None:
        return None
    own = _from(hold.at_m, stated_cg_m(description.trailer))
    return _from(lying(description.trailer.attitude, own), cg)


def _met(trailer: Trailer, points: tuple[Vector, ...], cg: Vector) -> tuple[list[list[Side]], list[Vector]]:
    """The sides of each part that touches the ground, and which way each contact point looks out of the load."""
    origin = stated_cg_m(trailer)
    parts, looks = [], dict.fromkeys(points, (0.0, 0.0, 0.0))
    for part in trailer.parts:
        if not part.touches_ground:
            continue
        sides = []
        for way, out in part_sides(part):
            own, to_origin = lying(trailer.attitude, way), sum(a * b for a, b in zip(way, origin, strict=True))
            sides.append(Side(own, out - to_origin - sum(a * b for a, b in zip(own, cg, strict=True))))
        parts.append(sides)
        for point in points:
            met = [
                side
                for side in sides
                if abs(side.x * point[0] + side.y * point[1] + side.z * point[2] - side.out_m) < 1e-6
            ]
            if len(met) > 2:
                x, y, z = looks[point]
                looks[point] = x + sum(s.x for s in met), y + sum(s.y for s in met), z + sum(s.z for s in met)
    return parts, [_unit_of(look) for look in looks.values()]


def _unit_of(way: Vector) -> Vector:
    size = hypot(*way) or 1.0
    return way[0] / size, way[1] / size, way[2] / size


def _contact(contact: Contact, share_kg: float) -> ContactNumbers:
    """Its damper is a share of critical for the trailer's mass on all its points."""
    k = contact.stiffness_N_per_m
    damper = 2.0 * contact.damping_ratio * sqrt(k * share_kg)
    return ContactNumbers(k, contact.friction, damper, contact.damper_depth_m)


def build(description: Description) -> Model:
    """The model of a description."""
    dt = 1.0 / description.engine.steps_per_s
    trailer_body, site, rig = body(description.trailer), description.site, rig_of(description)
    cg, hold_point = trailer_body.cg_m, _held_point_m(description, site.bed_hold, trailer_body.cg_m)
    points = tuple(_from(point, cg) for point in trailer_body.points_m)
    share_kg = trailer_body.mass_kg / len(points)
    others = weather(site.wind, trailer_body, description.seed)
    hold(others, site.bed_hold, hold_point)
    holding_line(others, site.holding_line, _held_point_m(description, site.holding_line, cg))
    surface = surface_of(description)
    outline = Outline(ridges(surface), *_met(description.trailer, points, cg))
    bed = Bed(surface, points, _contact(site.contact, share_kg), _contact(site.road_contact, share_kg), outline)
    units = tuple(_unit(description, place, dt) for place in range(len(description.units)))
    lines = tuple(_line(description, line, trailer_body, units[line.unit].numbers.telescope) for line in rig.lines)
    units = tuple(_level(description, unit, rig, lines, trailer_body) for unit in units)
    weight = trailer_body.mass_kg * STANDARD_GRAVITY_MPS2
    inertia = trailer_body.inertia_kg_m2
    return Model(
        description=description,
        rig=rig,
        dt=dt,
        body=trailer_body,
        reference_m=(-cg[0], -cg[1], -cg[2]),
        units=units,
        lines=lines,
        trailer=BodyNumbers(trailer_body.mass_kg, inertia, inverse(inertia), weight),
        step=StepNumbers(
            dt, description.engine.footing_every_steps, bed, others, cargo(description.trailer, trailer_body)
        ),
        hold_point_m=hold_point,
    )
