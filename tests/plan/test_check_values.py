"""Set-ups worked by hand in published formulas and tables, to the rounding shown there.

Marks: C mathematics; T read in the published text; R in a secondary copy; M from memory, not confirmed; P common
practice. Tables with M are held only against what this program's own file says of them, never as what a standard says.
"""

from __future__ import annotations

from dataclasses import replace
from math import acos, degrees, hypot, pi, radians

import pytest

from simulator.mechanics.bearing import bearing_used, pad_area_m2, set_back_needed_m
from simulator.mechanics.boom import boom_pose, reach_m, tip_m
from simulator.mechanics.rigging import (
    ROPE_FACTOR,
    basket_share,
    bridle_leg,
    choose,
    judge,
    side_load_share,
)
from simulator.places import assets_folder
from simulator.plan.hanging import hang, load_of
from simulator.plan.setup_check import check_setup
from simulator.scenario.description import Description
from simulator.scenario.hardware import Hardware, Table
from simulator.scenario.measures import POUND_N
from simulator.scenario.reader_hardware import load_hardware
from tests.demo import with_boom, with_trailer
from tests.plan.variants import shipped

FOOT_M = 0.3048
POUND_KG = 0.45359237
PSF_PA = 47.880259
WEIGHT_LB = 44000.0
SHARE_LB = WEIGHT_LB * 19.0 / 35.0
"""Front share of the base case: picks 35 ft apart, center of gravity 16 ft from the front one (C: 23,885.714 lb)."""


@pytest.fixture(scope="module")
def hardware() -> Hardware:
    return load_hardware(assets_folder() / "hardware.toml")


def _table(hardware: Hardware, name: str) -> Table:
    table = hardware.named(name)
    assert table is not None
    return table


def base_case(*, cg_over_picks_ft: float = 0.0) -> Description:
    """The published base case as a trailer: its mass in one cargo, picks 35 ft apart."""
    lift = shipped()
    picks = tuple(
        replace(pick, at_m=(x * FOOT_M, 0.0, 2.0)) for pick, x in zip(lift.trailer.picks, (-16.0, 19.0), strict=True)
    )
    parts = tuple(replace(part, mass_kg=0.0) for part in lift.trailer.parts)
    center = (0.0, 0.0, 2.0 + cg_over_picks_ft * FOOT_M)
    cargo = replace(lift.trailer.cargo, mass_kg=WEIGHT_LB * POUND_KG, cg_m=center)
    return with_trailer(lift, attitude="on_wheels", parts=parts, cargo=cargo, picks=picks)


def test_1_shares_of_the_base_case() -> None:
    """C (check 1): 23,885.714 + 20,114.286 = 44,000 lb."""
    load = load_of(base_case())
    shares = hang(load, 0.0, 0.0).shares
    assert load.weight_N / POUND_N == pytest.approx(44000.0, rel=1e-9)
    assert [share * WEIGHT_LB for share in shares] == pytest.approx([23885.714, 20114.286], abs=0.0006)


@pytest.mark.parametrize(
    ("pitch_deg", "over_ft", "front", "rear"),
    [
        (10.0, 3.0, 23220.710, 20779.290),
        (10.0, -3.0, 24550.719, 19449.281),
        (20.0, 3.0, 22513.027, 21486.973),
    ],
)
def test_2_shares_of_a_pitched_load(pitch_deg: float, over_ft: float, front: float, rear: float) -> None:
    """C (check 2): center of gravity over the line of picks, front high: the low end gains load."""
    shares = hang(load_of(base_case(cg_over_picks_ft=over_ft)), radians(pitch_deg), 0.0).shares
    assert [share * WEIGHT_LB for share in shares] == pytest.approx([front, rear], abs=0.0006)


@pytest.mark.parametrize(
    ("angle_deg", "leg_lb", "level_lb"), [(60.0, 13790.424, 6895.212), (45.0, 16889.751, 16889.751 / 2**0.5)]
)
def test_3_bridle_on_the_front_share(angle_deg: float, leg_lb: float, level_lb: float) -> None:
    """C: half the share over the sine of the leg's angle from horizontal."""
    from math import tan

    width = 2.0
    leg = bridle_leg(SHARE_LB * POUND_N, width, width / 2.0 * tan(radians(angle_deg)))
    assert degrees(leg.angle_rad) == pytest.approx(angle_deg)
    assert leg.tension_N / POUND_N == pytest.approx(leg_lb, abs=0.0006)
    assert leg.level_N / POUND_N == pytest.approx(level_lb, abs=0.0006)


def test_4_chain_for_the_front_share(hardware: Hardware) -> None:
    """T (OSHA sling guide): 60-degree pair: Gr 80 5/8 in, as 1/2 in fails at 20,800; Gr 100 1/2 in, used to 91.9 %."""
    leg = bridle_leg(SHARE_LB * POUND_N, 2.0, 3.0**0.5)
    gr80, gr100 = _table(hardware, "chain Gr 80"), _table(hardware, "chain Gr 100")
    assert choose(gr80, leg.tension_N).piece.size == "5/8 in"
    half = next(piece for piece in gr80.pieces if piece.size == "1/2 in")
    refused = judge(gr80, half, leg.tension_N)
    assert not refused.holds
    assert refused.next_size is not None and refused.next_size.size == "5/8 in"
    chosen = choose(gr100, leg.tension_N)
    assert chosen.piece.size == "1/2 in"
    assert 100.0 * chosen.used == pytest.approx(91.9, abs=0.06)


@pytest.mark.parametrize(
    ("name", "pairs_lb"),
    [
        ("chain Gr 80", {60: (6100, 12300, 20800, 31300, 49000), 45: (4900, 10000, 17000, 25600, 40000)}),
        ("chain Gr 100", {60: (7400, 15200, 26000, 39100, 61100), 30: (4300, 8800, 15000, 22600, 35300)}),
    ],
)
def test_4_pairs_of_the_chain_tables(hardware: Hardware, name: str, pairs_lb: dict[int, tuple[float, ...]]) -> None:
    """T, and R for Gr 100 3/4 in: two legs rated 2 x single x sine agree with every cell within 100 lb."""
    for angle, cells in pairs_lb.items():
        for piece, cell in zip(_table(hardware, name).pieces, cells, strict=True):
            assert basket_share(radians(angle)) * piece.rated_N / POUND_N == pytest.approx(cell, abs=100.0)


def test_4_chain_from_first_principles(hardware: Hardware) -> None:
    """C, within 1.2 % of the tables: two bars at grade x 10 MPa, a quarter of it (ISO chain grade definition)."""
    for name, grade in (("chain Gr 80", 80), ("chain Gr 100", 100)):
        for piece in _table(hardware, name).pieces:
            assert piece.diameter_m is not None
            bars_m2 = 2.0 * pi / 4.0 * piece.diameter_m**2
            assert bars_m2 * grade * 10.0e6 / 4.0 == pytest.approx(piece.rated_N, rel=0.012)


def test_5_shackles_for_the_front_share(hardware: Hardware) -> None:
    """M for 7/8 in and larger: 1-1/4 in, used to 99.5 %; pulled 45 deg off in-line it takes 1-3/4 in."""
    table = _table(hardware, "shackle")
    straight = choose(table, SHARE_LB * POUND_N)
    assert (straight.piece.size, straight.piece.mark) == ("1-1/4 in", "M")
    assert 100.0 * straight.used == pytest.approx(99.5, abs=0.06)
    aside = choose(table, SHARE_LB * POUND_N, share=side_load_share(radians(45.0)))
    assert aside.piece.size == "1-3/4 in"
    assert aside.allowed_N / POUND_N == pytest.approx(35000.0)
    three_quarter = next(piece for piece in table.pieces if piece.size == "3/4 in")
    assert three_quarter.mark == "R"
    assert three_quarter.rated_N * side_load_share(radians(45.0)) / POUND_N == pytest.approx(6650.0)


def test_6_slings() -> None:
    """C, 10,600 lb vertical: basket 21,200, at 60 deg 18,359.7."""
    assert 10600.0 * basket_share(radians(90.0)) == pytest.approx(21200.0)
    assert 10600.0 * basket_share(radians(60.0)) == pytest.approx(18359.7, abs=0.06)


def test_7_rope_for_the_front_share(hardware: Hardware) -> None:
    """M: single part at 3.5: 1 in; 7/8 in gives 22,742.9 lb and fails."""
    table = _table(hardware, "rope 6x36 IWRC EIP")
    allowed = [piece.rated_N / ROPE_FACTOR / POUND_N for piece in table.pieces]
    assert allowed == pytest.approx([9600.0, 11771.4, 16800.0, 22742.9, 29542.9], abs=0.06)
    assert choose(table, SHARE_LB * POUND_N, share=1.0 / 3.5).piece.size == "1 in"


def test_8_pads() -> None:
    """C with R (IBC table): 42,000 lb on 2,000 psf: 21 ft2; on 5 x 5 ft it passes 2,000 and fails 1,500 psf."""
    assert pad_area_m2(42000.0 * POUND_N, 2000.0 * PSF_PA) / FOOT_M**2 == pytest.approx(21.0, rel=1e-6)
    assert bearing_used(42000.0 * POUND_N, 5.0 * FOOT_M, 2000.0 * PSF_PA) == pytest.approx(1680.0 / 2000.0, rel=1e-6)
    assert bearing_used(42000.0 * POUND_N, 5.0 * FOOT_M, 1500.0 * PSF_PA) > 1.0


@pytest.mark.parametrize(
    ("height_ft", "run_ft", "slope_deg", "behind_ft"),
    [(12.0, 12.0, 33.690068, 6.0), (12.0, 12.0, 45.0, 2.0), (15.0, 15.0, 33.690068, 7.5)],
)
def test_9_set_back(height_ft: float, run_ft: float, slope_deg: float, behind_ft: float) -> None:
    """C from R (29 CFR 1926 Subpart P App. B; 1926.651(j)(2)): n H - r, at least 2 ft."""
    found = set_back_needed_m(height_ft * FOOT_M, run_ft * FOOT_M, radians(slope_deg))
    assert found / FOOT_M == pytest.approx(behind_ft, rel=1e-6)


def test_10_reach_and_boom() -> None:
    """C (trigonometry): L 40 ft at 55 deg, foot pin 3 ft back and 8 ft high: R 19.943057, tip 40.766082 ft."""
    unit = with_boom(shipped(), foot_pin_back_m=3.0 * FOOT_M, foot_pin_height_m=8.0 * FOOT_M).units[0]
    assert reach_m(unit, 40.0 * FOOT_M, radians(55.0)) / FOOT_M == pytest.approx(19.943057, abs=6e-7)
    here = boom_pose(unit, (unit.slew_axis_x_m + 19.943057 * FOOT_M, 0.0, 40.766082 * FOOT_M))
    assert here.length_m / FOOT_M == pytest.approx(40.0, abs=1e-6)
    for slew, drawn in ((30.0, 17.271194), (60.0, 9.971529), (90.0, 0.0), (120.0, -9.971529)):
        tip = tip_m(unit, here._replace(slew_rad=radians(slew)))
        assert (tip[0] - unit.slew_axis_x_m) / FOOT_M == pytest.approx(drawn, abs=1e-6)
        assert hypot(tip[0] - unit.slew_axis_x_m, tip[1]) / FOOT_M == pytest.approx(19.943057, abs=1e-6)
    assert degrees(acos(8.0 / 12.0)) == pytest.approx(48.189685, abs=6e-7)


def test_a_share_of_the_base_case_in_a_whole_check() -> None:
    """The line load at every level station: share, block and rigging."""
    found = check_setup(base_case(), room=False)
    extra = (300.0 + 200.0) * 9.80665
    for one in found.stations[1:]:
        loads = [(stand.line.load_N - extra) / POUND_N for stand in one.units]
        assert loads == pytest.approx([23885.714, 20114.286], abs=0.001)
