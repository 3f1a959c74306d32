"""A box or a round shell hung lying from stiff units on four lines, its frame toward the road: what is turned over."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

from simulator.engine.commands import Commands, still
from simulator.engine.simulation import Simulation
from simulator.engine.sling_ways import lying_m, slung
from simulator.engine.state import Motion
from simulator.mechanics.boom import boom_pose
from simulator.mechanics.hoist_line import rope_for_m
from simulator.scenario.description import Description, Engine, Landing, Path
from simulator.scenario.rig import rig_of
from simulator.scenario.trailer import Cargo, Part, Pick, Trailer, TrailerStart
from simulator.scenario.unit import Line, Unit
from tests.demo import demo_unit
from tests.engine.scenes import BOOM, DEEP, FLOATS, HOIST

FREE_M, SIDE_M, HALF_M = 6.7, 0.3, 1.3
SLINGS_M = 3.5, 6.5
"""Of line 1 and line 2."""
PICKS_X_M = (-6.0, 6.0)
MASS_KG = 24000.0
Point = tuple[float, float]


def trailer(
    parts: tuple[Part, ...],
    upper: Point,
    lower: Point,
    cg: Point = (0.0, 0.0),
    *,
    round_it: bool = True,
    slings_m: Point = SLINGS_M,
) -> Trailer:
    """Its section's middle at z = 0; at each end line 1 straight to the upper pick, line 2 from the lower round under.

    Args:
        parts: with no mass; the load is one block.
        upper: pick of line 1, (y, z).
        lower: pick of line 2.
        cg: of all of it.
        round_it: line 2 lies under it first; else straight too.
        slings_m: of line 1 and line 2.
    """
    picks = []
    for name, x in zip(("nose", "tail"), PICKS_X_M, strict=True):
        for number, ((y, z), long) in enumerate(zip((upper, lower), slings_m, strict=True), 1):
            lies = "floor" if number == 2 and round_it else None
            picks.append(
                Pick(f"{name}_{number}", (x, y, z), "single_point", long, 0.0, lies_on=lies, sling_length_m=long)
            )
    return Trailer(parts, Cargo(MASS_KG, (0.0, *cg), (14.6, 2.6, 2.6)), tuple(picks), TrailerStart(0.0, 0.0))


def box_part(width_m: float = 2.0 * HALF_M, height_m: float = 2.0 * HALF_M) -> Part:
    """A box about x = 0, z = 0."""
    x, z = 7.3, height_m / 2.0
    return Part("box", ((-x, -z), (x, -z), (x, z), (-x, z)), width_m)


def the_box(cg: Point = (0.0, 0.0), *, upper_edges: bool = False) -> Trailer:
    """2.6 m wide and high; or hung by both its upper edges, straight."""
    lower = (-HALF_M, HALF_M) if upper_edges else (HALF_M, -HALF_M)
    slings = (SLINGS_M[0], SLINGS_M[0]) if upper_edges else SLINGS_M
    return trailer((box_part(),), (HALF_M, HALF_M), lower, cg, round_it=not upper_edges, slings_m=slings)


def the_shell() -> Trailer:
    """Round, 1.3 m, its frame 1.55 m off; half the frame's width and the CG as in `tests/mechanics/test_turning.py`."""
    half, radius, x = 1.04, 1.3, 7.3
    shell = Part("shell", ((-x, -radius), (x, -radius), (x, radius), (-x, radius)), 2.0 * radius, drawn_as="tank")
    frame = Part("frame", ((-x, -half), (x, -half), (x, half), (-x, half)), 0.01, y_m=1.545)
    return trailer((shell, frame), (1.55, half), (1.55, -half), (0.37, 0.0))


def unit(name: str, load: Trailer, x_m: float, up_m: float) -> Unit:
    """Its tip straight over a pick, its lines as long as they are with the load lying level under it."""
    made = demo_unit(name, -12.0 if name == "nose" else 12.0, boom=BOOM, hoist=HOIST, floats=FLOATS, carrier_kg=1e6)
    pose = boom_pose(made, (x_m, 0.0, up_m))
    lines = []
    for number, across in enumerate((SIDE_M, -SIDE_M), 1):
        pick = load.pick(f"{name}_{number}")
        y, z = across - load.cargo.cg_m[1], up_m - load.cargo.cg_m[2]
        long = lying_m(slung(load, pick, pick.height_m), y, z)
        lines.append(Line(pick.name, rope_for_m(made.hoist, long, pose.length_m), made.hoist, across))
    start = replace(made.start, boom_length_m=pose.length_m, elevation_rad=pose.elevation_rad, slew_rad=pose.slew_rad)
    return replace(made, lines=tuple(lines), start=start, levers=("both", "turn"))


def lift(load: Trailer, *, up_m: float = 0.0, steps_per_s: int = 240) -> Description:
    """Sheaves 6.7 m of free line over the upper pick, or so high over the section's middle."""
    y, z = load.picks[0].at_m[1:]
    up = up_m or z + sqrt(FREE_M**2 - (y - SIDE_M) ** 2)
    units = tuple(unit(name, load, x, up) for name, x in zip(("nose", "tail"), PICKS_X_M, strict=True))
    engine = Engine(steps_per_s=steps_per_s, footing_every_steps=240)
    return Description("test", "invented", DEEP, units, load, Path(1.8, 9.3), Landing(6.6), engine=engine)


def hung(description: Description) -> Simulation:
    """Lying level, its lines just taut."""
    simulation = Simulation(description)
    _, y, z = description.trailer.cargo.cg_m
    simulation.place(Motion(0.0, y, z, 0.0, 0.0, 0.0))
    return simulation


def haul(
    simulation: Simulation, amount_m: float, *, lever: float = 0.2, ends: tuple[float, float] = (1.0, 1.0)
) -> None:
    """Line 1 out and line 2 in until so much of it has gone at the first end.

    Args:
        simulation: of `lift`.
        amount_m: since time zero.
        lever: of the turn lever, at most.
        ends: share of it at each end.
    """
    rig = rig_of(simulation.description)
    goal = simulation.description.units[0].lines[0].rope_out_m + HOIST.parts * amount_m
    moving = simulation.moving.units[0].lines[0]
    top, dt = HOIST.speed_mps, simulation.model.dt
    while (rest := goal + moving.hoist.at) > 1e-6:
        speed = min(lever, rest / (top * 0.5), rest / (top * dt))
        pulled = [
            unit.hands(turn=min(1.0, max(speed, 1e-4) * share)) for unit, share in zip(rig.units, ends, strict=True)
        ]
        simulation.run(Commands(*pulled), 1)
    simulation.run(still(rig), 120)
