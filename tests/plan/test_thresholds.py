"""The table of thresholds says what the program holds, and each number of it has its source here again, by hand."""

from __future__ import annotations

from math import atan2, degrees, tan
from pathlib import Path

import pytest

from simulator.mechanics.bearing import LEAST_SET_BACK_M
from simulator.mechanics.drum import LEAST_BEND, bend_ratio, layer_in_play
from simulator.mechanics.rating import TIPPING_SHARE
from simulator.mechanics.sling import LEAST_OFF_M
from simulator.plan.questions import SOILS as ASKED
from simulator.plan.site_rules import TABLE_ENDS_M
from simulator.plan.thresholds import page, rows
from simulator.scenario.description import Limits
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.hardware import MARK_WORDS
from simulator.scenario.reader import parse_text
from simulator.scenario.site import SOILS, Site
from simulator.scenario.toml_writer import dump
from simulator.scenario.unit import Hoist
from tests.plan.variants import shipped

PAGE = Path(__file__).parents[2] / "docs" / "thresholds.md"
PSF_PA = 4.4482216152605 / 0.3048**2
"""Exact: NIST SP 811, App. B."""
FOOT_M = 0.3048


def test_the_page_is_what_the_program_holds() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), "python tools/thresholds.py writes it anew"


def test_every_row_has_a_source_and_says_how_far_it_is_confirmed() -> None:
    for _, found in rows():
        for row in found:
            assert row.source and row.mark in MARK_WORDS
            assert row.caution or row.stop


def test_off_plumb_is_what_a_boom_bears_from_the_side() -> None:
    """Common practice, no source: a side pull near 3 % of the load is the stop; caution 1 deg, plumb half of it."""
    limits = Limits()
    assert tan(limits.off_plumb_stop_rad) == pytest.approx(0.03, abs=0.0005)
    assert degrees(limits.off_plumb_caution_rad) == pytest.approx(1.0, abs=0.001)
    assert limits.plumb_rad == pytest.approx(limits.off_plumb_caution_rad / 2.0, rel=1e-3)


def test_a_gap_that_clears_clears_with_the_sway_that_is_let_pass() -> None:
    """Common practice, no source; and a scenario file that states otherwise is a fault."""
    assert Limits().sway_caution_m <= Limits().gap_close_m
    text = dump(shipped()).replace("sway_caution = 0.3", "sway_caution = 0.5")
    with pytest.raises(BrokenScenario) as broken:
        parse_text(text, "x")
    assert "sway_caution at most gap_close" in str(broken.value)


def test_a_hook_off_the_load() -> None:
    """Common practice, no source: half a meter of sling between load and hook, and a caution 0.3 m before that."""
    assert (Limits().hook_off_caution_m, Limits().hook_off_stop_m) == (0.8, LEAST_OFF_M) == (0.8, 0.5)


def test_live_traffic_and_light_contact() -> None:
    """Common practice, no source: caution at 2 m, stop at 1 m; what comes down at 0.3 m/s is no light contact."""
    limits = Limits()
    assert (limits.lane_caution_m, limits.lane_stop_m) == (2.0, 1.0)
    assert Site.__dataclass_fields__["light_contact_mps"].default < 0.3


def test_wind_at_the_boom() -> None:
    """Stop: light in-service wind of ISO 4302, 14 m/s (from memory); caution 20 mph (common practice, no source)."""
    limits = Limits()
    assert limits.wind_stop_mps == 14.0
    assert limits.wind_caution_mps == pytest.approx(20.0 * 0.44704, abs=0.1)


@pytest.mark.parametrize(
    ("name", "psf", "rise", "run"),
    [
        ("crystalline bedrock", 12000, 1, 0),
        ("sedimentary rock", 4000, 1, 0),
        ("sandy gravel", 3000, 2, 3),
        ("sand", 2000, 2, 3),
        ("clay", 1500, 2, 3),
        ("fill", 500, 2, 3),
    ],
)
def test_soils(name: str, psf: float, rise: float, run: float) -> None:
    """IBC 2012 Table 1806.2 (fill: Chicago code 13-132-060); 29 CFR 1926 Subpart P App. B: type C 1-1/2:1."""
    soil = SOILS[name]
    assert soil["allowable_bearing"] == pytest.approx(psf * PSF_PA, rel=1e-3)
    assert soil["steepest_angle"] == pytest.approx(atan2(rise, run), abs=1e-6)


def test_one_value_for_a_soil_in_all_rooms() -> None:
    for asked, named in (("gravel", "sandy gravel"), ("sand", "sand"), ("clay", "clay")):
        assert ASKED[asked].allowable_Pa == SOILS[named]["allowable_bearing"]
        assert ASKED[asked].steepest_rad == SOILS[named]["steepest_angle"]
    assert ASKED["rock"].allowable_Pa == SOILS["crystalline bedrock"]["allowable_bearing"]


def test_where_the_table_of_slopes_ends() -> None:
    """20 ft: 29 CFR 1926 Subpart P App. B, Table B-1 (secondary copy); 2 ft: 1926.651(j)(2)."""
    assert pytest.approx(20.0 * FOOT_M) == TABLE_ENDS_M
    assert pytest.approx(2.0 * FOOT_M) == LEAST_SET_BACK_M


def test_shares_of_the_tipping_load() -> None:
    """85 %: 29 CFR 1910.180(c)(1) (summaries). The page says whose the 75 % is, and that it is not used here."""
    assert TIPPING_SHARE == 0.85
    (line,) = [line for line in page().splitlines() if "without outriggers |" in line]
    assert "75 %" in line and "J765" in line and "1910.180 says 85 %" in line and "| M |" in line


def test_drum_sheave_and_wraps() -> None:
    """18 times the rope (ASME B30.5, from memory); 2 wraps (29 CFR 1926.1417(t)), 5 where the maker asks for them."""
    assert LEAST_BEND == 18.0
    assert bend_ratio(Hoist(rope_diameter_m=0.02, drum_diameter_m=0.34)) == pytest.approx(18.0)
    assert bend_ratio(Hoist(rope_diameter_m=0.02, drum_diameter_m=0.5, sheave_diameter_m=0.3)) == pytest.approx(15.0)
    assert Hoist().wraps_to_stay == 2
    few, many = (Hoist(wraps_to_stay=wraps) for wraps in (2, 5))
    # 0.45 m of drum, 0.55 m wide, 19 mm of rope: 28 wraps of 1.473 m a layer, so 26 are usable below two.
    assert layer_in_play(few, 26 * 1.4734) == 1 and layer_in_play(many, 26 * 1.4734) == 2
