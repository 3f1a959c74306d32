"""A line from the bank that holds what friction does not: statics by hand, what it lets go at, who lets it out."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin, tan

import pytest

from simulator.attempt import Attempt
from simulator.drill.instruction import SLACKEN, Instruction
from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.instruments import Instruments
from simulator.engine.simulation import Simulation
from simulator.engine.state import state_from
from simulator.places import find_scenario
from simulator.plan.lying_rules import CAUTION, STOP, lies
from simulator.plan.setup_check import check_setup
from simulator.scenario.checks import faults_of
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load, parse_text
from simulator.scenario.site import Contact, HoldingLine, Site
from simulator.scenario.toml_writer import dump
from simulator.scenario.trailer import TrailerStart
from tests.engine.scenes import FIRM, G, block, describe

MASS_KG, SIZE_M = 24000.0, (12.0, 2.6, 2.6)
HALF_M = SIZE_M[2] / 2.0
LEAN_RAD, FRICTION = radians(25.0), 0.3
UP_M = 12.0
"""The anchor is so far up the slope from the load's middle."""
AT_M = 0.0, 0.0, 0.0
"""Made fast in the middle of its underside: the line runs along the slope, just over it."""


def on_a_slope(holds_N: float | None, *, drawn_up_N: float = 0.0, settle_s: float = 6.0) -> Description:
    """A box on a plane slope that friction alone does not hold, and a line straight up that slope."""
    slope = tan(LEAN_RAD)
    section = ((60.0, 0.0), (0.0, 0.0), (-60.0, -60.0 * slope))
    contact = Contact(friction=FRICTION)
    x, y = 0.0, -20.0
    # The middle of the underside lies on the slope; the stated CG is half a box off it.
    foot = y + HALF_M * sin(LEAN_RAD), y * slope - HALF_M * cos(LEAN_RAD) + HALF_M / cos(LEAN_RAD)
    foot_y = foot[0]
    anchor = x, foot_y + UP_M * cos(LEAN_RAD), (foot_y + UP_M * cos(LEAN_RAD)) * slope
    line = None if holds_N is None else HoldingLine(anchor, AT_M, holds_N, drawn_up_N)
    site = Site(section, 0.0, contact=contact, road_contact=contact, soil=FIRM, settle_s=settle_s, holding_line=line)
    start = TrailerStart(x, y, roll_rad=LEAN_RAD)
    box = block(mass_kg=MASS_KG, size_m=SIZE_M)
    return describe(box, ((-6.0, -19.0, 12.0), (6.0, -19.0, 12.0)), (60.0, 60.0), site=site, at=start)


ON = 0.0, 0.0, 2.0
"""On the shell of a shipped tank."""
NEEDED_N = MASS_KG * G * (sin(LEAN_RAD) - FRICTION * cos(LEAN_RAD))
"""W (sin - mu cos): by hand, all friction there is."""


def test_friction_alone_lets_it_slide() -> None:
    assert tan(LEAN_RAD) > FRICTION
    simulation = Simulation(on_a_slope(None, settle_s=0.0), in_bulk=True)
    simulation.run(STILL, 480)
    assert simulation.state.motion.vy < -1.0


def test_the_line_holds_what_friction_does_not() -> None:
    """At rest it pulls what is missing, W (sin - mu cos), and no more than all of it, W sin: how much of the friction
    is used between hangs on how it came to rest."""
    for drawn_up_N in (0.0, 60e3):
        simulation = Simulation(on_a_slope(200e3, drawn_up_N=drawn_up_N), in_bulk=True)
        simulation.run(STILL, 1200)
        now = Instruments(simulation.model).read(simulation.state).load
        assert now.speed_mps < 1e-3
        assert 0.99 * NEEDED_N < now.holding_line_N < MASS_KG * G * sin(LEAN_RAD)
        along_N = now.ground_y_N * cos(LEAN_RAD) + now.ground_z_N * sin(LEAN_RAD)
        square_N = now.ground_z_N * cos(LEAN_RAD) - now.ground_y_N * sin(LEAN_RAD)
        assert along_N + now.holding_line_N == pytest.approx(MASS_KG * G * sin(LEAN_RAD), rel=2e-3)
        assert square_N == pytest.approx(MASS_KG * G * cos(LEAN_RAD), rel=2e-3)
        assert abs(along_N) <= FRICTION * square_N * 1.001


def test_it_lets_go_at_what_it_holds_and_the_load_slides() -> None:
    weak = Simulation(on_a_slope(0.8 * NEEDED_N, settle_s=0.0), in_bulk=True)
    weak.run(STILL, 960)
    assert weak.state.holding[2] == 0.0 and weak.state.motion.vy < -0.5
    attempt = Attempt(on_a_slope(0.8 * NEEDED_N, settle_s=0.0), in_bulk=True)
    attempt.advance(attempt._still, 960)
    assert [event.what for event in attempt.events if event.kind == "holding line"] == ["slipped"]


def test_the_word_lets_it_out_once_and_only_once() -> None:
    attempt = Attempt(on_a_slope(200e3), in_bulk=True)
    before = attempt.readings.load.holding_line_N
    assert before > 0.0
    attempt.slacken()
    attempt.slacken()
    assert [event.what for event in attempt.events] == ["act_slacken"]
    attempt.advance(attempt._still, 240)
    assert attempt.simulation.state.holding[3] == 1.0
    assert attempt.readings.load.holding_line_N < 0.5 * before or attempt.readings.load.speed_mps > 0.05
    assert not attempt.world.instruct(Instruction(SLACKEN))


def test_automatic_operators_let_it_out_as_the_load_comes_off() -> None:
    """With the load lifted clear by hand, the first look of an automatic operator gives the word."""

    class Nobody:
        def command(self, readings: object) -> tuple[float, ...]:
            return tuple(0.0 for _ in attempt.rig.units[0].levers)

    attempt = Attempt(on_a_slope(200e3), [Nobody(), None], in_bulk=True)
    attempt.advance(attempt._still, 24)
    assert attempt.simulation.holds_by_a_line
    motion = attempt.simulation.state.motion
    attempt.simulation.place(motion._replace(z=motion.z + 1.0))
    attempt.advance(attempt._still, 48)
    assert not attempt.simulation.holds_by_a_line
    assert [event.what for event in attempt.events] == ["act_slacken"]


def test_a_state_with_its_line_goes_on_to_the_same_bits() -> None:
    one = Simulation(on_a_slope(200e3), in_bulk=True)
    one.run(STILL, 100)
    one.slacken()
    one.run(STILL, 20)
    other = Simulation(on_a_slope(200e3))
    other.restore(state_from([*one.state]))
    one.run(Commands(UnitCommands(hoist=0.5), UnitCommands()), 50)
    for _ in range(50):
        other.step(Commands(UnitCommands(hoist=0.5), UnitCommands()))
    assert one.state_hash == other.state_hash


def test_a_check_says_what_pull_holds_it_and_takes_a_line_that_does() -> None:
    """By hand, with 1.2 in hand of the friction: W (sin - mu / 1.2 cos), on a line straight up the slope."""
    loose = lies(on_a_slope(None))
    by_hand_N = MASS_KG * G * (sin(LEAN_RAD) - STOP * FRICTION * cos(LEAN_RAD))
    assert not loose.stays and loose.hold_N == pytest.approx(by_hand_N, rel=0.02)
    held = lies(on_a_slope(3.0 * by_hand_N))
    assert held.stays and held.line_N == pytest.approx(by_hand_N, rel=0.05)
    assert held.line_used == pytest.approx(1.0 / 3.0, rel=0.05)
    weak = lies(on_a_slope(0.9 * by_hand_N))
    assert weak.line_used > CAUTION and not weak.stays
    codes = {one.reading.code: one for one in check_setup(on_a_slope(0.9 * by_hand_N), room=False).findings}
    assert codes["holding line"].level == "stop"


def test_a_level_load_needs_none() -> None:
    described = on_a_slope(200e3)
    flat = replace(described.site, section_m=((60.0, 0.0), (0.0, 0.0), (-60.0, -0.1)))
    anchor = HoldingLine((0.0, 0.0, 0.0), AT_M, 200e3)
    lying = lies(replace(described, site=replace(flat, holding_line=anchor), trailer=replace(
        described.trailer, start=TrailerStart(0.0, -20.0))))  # fmt: skip
    assert lying.stays and lying.line_N == 0.0


@pytest.mark.parametrize(
    ("line", "says"),
    [
        (HoldingLine((0.0, 99.0, 0.0), ON, 1e5), ("anchor", "y 99 m", "inside the section, such as [0, ")),
        (HoldingLine((0.0, -8.0, 20.0), ON, 1e5), ("anchor", "z 20 m at y -8 m", "where the ground is, such as")),
        (HoldingLine((0.0, 2.0, 0.0), (30.0, 0.0, 0.0), 1e5), ("at", "[30, 0, 0] m", "on the trailer: x -6.4 to 6.4")),
        (HoldingLine((0.0, 2.0, 0.0), ON, 1e5, 1e5), ("drawn_up", "100000 N", "less than holds, 100000 N")),
    ],
)
def test_a_line_that_cannot_be_is_a_fault_with_place_and_example(line: HoldingLine, says: tuple[str, ...]) -> None:
    described = load(find_scenario("tank_on_side"))
    (fault,) = faults_of(replace(described, site=replace(described.site, holding_line=line)))
    for part in says:
        assert part in str(fault)


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ('anchor = [0, 2]\nat = [0, 0, 1]\nholds = "5 t"', "anchor"),
        ("anchor = [0, 2, 0]\nat = [0, 0, 1]\nholds = 0", "holds"),
        ('anchor = [0, 2, 0]\nat = [0, 0, 1]\nholds = "5 t"\npay_out = "9 m/s"', "pay_out"),
        ("anchor = [0, 2, 0]\nat = [0, 0, 1]", "holds"),
    ],
)
def test_a_value_out_of_range_says_where_and_what_is_allowed(row: str, says: str) -> None:
    text = f"{dump(load(find_scenario('tank_on_side')))}\n[site.holding_line]\n{row}\n"
    with pytest.raises(BrokenScenario) as broken:
        parse_text(text, "held.toml")
    assert f"[site.holding_line] {says}" in str(broken.value)


def test_a_line_stands_in_a_file() -> None:
    described = load(find_scenario("tank_on_side"))
    line = HoldingLine((0.0, 2.0, 0.0), ON, 1e5, 5e3)
    described = replace(described, site=replace(described.site, holding_line=line))
    assert parse_text(dump(described), "held.toml").site.holding_line == line
