"""Pads and set-back against worked rows."""

from __future__ import annotations

from math import atan, cos, pi

import pytest

from simulator.mechanics.bearing import bearing_used, edge_check, pad_area_m2, pad_pressure_Pa, set_back_needed_m

FT, LBF = 0.3048, 4.4482216152605
PSF = LBF / FT**2
# Worked truck at a slew of 45 degrees, legs at (10, 9) ft: 44,821.477 lb.
WEIGHT_LB = 68000.0 + 44000.0 * 19.0 / 35.0
MOMENT_LBFT = 60000.0 + (WEIGHT_LB - 68000.0) * 22.0
WORST_LEG_LB = WEIGHT_LB / 4.0 + MOMENT_LBFT * cos(pi / 4.0) * (1.0 / 40.0 + 1.0 / 36.0)

TYPE_C, TYPE_B, ROCK = atan(1.0 / 1.5), pi / 4.0, pi / 2.0
"""29 CFR 1926 Subpart P App. B, Table B-1 (read in a secondary copy); type C as 1-1/2:1."""


@pytest.mark.parametrize(
    ("pounds", "psf", "area_ft2", "side_ft"),
    [
        (42000.0, 1500.0, 28.0, 5.291503),
        (42000.0, 2000.0, 21.0, 4.582576),
        (42000.0, 3000.0, 14.0, 3.741657),
        (WORST_LEG_LB, 2000.0, 22.410739, 4.733998),
        (WORST_LEG_LB, 3000.0, 14.940492, 3.865293),
    ],
)
def test_pad_area(pounds: float, psf: float, area_ft2: float, side_ft: float) -> None:
    """A = reaction / allowable pressure; the last two are the worst leg of the worked truck."""
    area = pad_area_m2(pounds * LBF, psf * PSF) / FT**2
    assert (area, area**0.5) == pytest.approx((area_ft2, side_ft), abs=5e-7)


def test_pad_pressure_passes_2000_psf_and_fails_1500() -> None:
    """42,000 lb on 5 x 5 ft: 1,680 psf = 80.438835 kPa (allowables: IBC 2012 Table 1806.2, from a textbook)."""
    reaction, side = 42000.0 * LBF, 5.0 * FT
    assert pad_pressure_Pa(reaction, side) / 1000.0 == pytest.approx(80.438835, abs=5e-7)
    assert bearing_used(reaction, side, 2000.0 * PSF) == pytest.approx(0.84)
    assert bearing_used(reaction, side, 1500.0 * PSF) == pytest.approx(1.12)


@pytest.mark.parametrize(
    ("height_ft", "run_ft", "steepest", "set_back_ft"),
    [(12.0, 12.0, TYPE_C, 6.0), (12.0, 12.0, TYPE_B, 2.0), (15.0, 15.0, TYPE_C, 7.5), (12.0, 0.0, ROCK, 2.0)],
)
def test_set_back(height_ft: float, run_ft: float, steepest: float, set_back_ft: float) -> None:
    """max(n H - r, 2 ft): line of influence (geometry) and the 2-ft rule (29 CFR 1926.651(j)(2), secondary copy)."""
    assert set_back_needed_m(height_ft * FT, run_ft * FT, steepest) / FT == pytest.approx(set_back_ft)
    bank = ((30.0 * FT, 0.0), (0.0, 0.0), (-run_ft * FT - 1e-12, -height_ft * FT), (-60.0 * FT, -height_ft * FT))
    for pad_ft, stands in ((set_back_ft + 0.01, True), (set_back_ft - 0.01, False)):
        check = edge_check(bank, 0.0, pad_ft * FT, steepest)
        assert check.needed_m / FT == pytest.approx(set_back_ft)
        assert check.stands_behind is stands and check.set_back_m == pytest.approx(pad_ft * FT)


DEMO_SECTION = ((15.0, 0.0), (-4.65, 0.0), (-5.3, -12.0), (-12.0, -12.0), (-20.0, -4.0))
PAD_EDGE_Y_M = -3.5 - 0.375


def test_the_demo_shoulder_holds_as_rock_and_is_refused_as_soil() -> None:
    rock, soil = (edge_check(DEMO_SECTION, -4.65, PAD_EDGE_Y_M, angle) for angle in (ROCK, TYPE_C))
    assert rock.stands_behind and rock.set_back_m == pytest.approx(0.775)
    assert not soil.stands_behind and soil.line_y_m == pytest.approx(-5.3 + 12.0 * 1.5)


def test_a_steep_upper_face_governs_and_the_bed_height_counts() -> None:
    """A 4 m upright face over a long easy slope: its own toe, not the lowest one, asks for 6 m at 1-1/2:1."""
    bank = ((10.0, 0.0), (0.0, 0.0), (-0.001, -4.0), (-40.0, -12.0))
    assert edge_check(bank, 0.0, 5.0, TYPE_C).needed_m == pytest.approx(6.0 - 0.001)
    assert edge_check(bank, 0.0, 5.0, TYPE_C, bed_m=1.0).needed_m == pytest.approx(4.5 - 0.001)
    assert edge_check(bank, 0.0, 5.0, TYPE_C, pad_z_m=1.0).needed_m == pytest.approx(7.5 - 0.001)


def test_no_slope_asks_for_the_2_ft_only() -> None:
    assert edge_check(((10.0, 0.0), (-10.0, 0.0)), -4.0, -3.0, TYPE_C).needed_m == pytest.approx(2.0 * FT)
    assert edge_check(((10.0, 0.0), (-3.0, 0.0)), -4.0, -3.0, TYPE_C).stands_behind
