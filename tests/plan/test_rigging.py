"""The rigging list of a set-up, its refusals, its edges, and the file of hardware with all its faults."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from math import atan2, degrees, radians, sin

import pytest

from simulator.mechanics.allowances import DYNAMIC_MARGIN
from simulator.mechanics.drum import lead_line_pull_N
from simulator.mechanics.rigging import Held, bridle_leg, choose, judge, side_load_share, size_at_most
from simulator.places import assets_folder
from simulator.plan.rigging_list import EndRigging
from simulator.plan.setup_check import SetupCheck, check_setup, rigging_list
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.hardware import Hardware, Piece
from simulator.scenario.reader_hardware import load_hardware, parse_hardware
from tests.plan.variants import first_pick, hoist, shipped, trailer

FILE = assets_folder() / "hardware.toml"


@pytest.fixture(scope="module")
def hardware() -> Hardware:
    return load_hardware(FILE)


@pytest.fixture(scope="module")
def tank() -> SetupCheck:
    return check_setup(shipped(), room=False)


def _by_role(one: EndRigging, role: str) -> list[Held]:
    return [piece.held for piece in one.pieces if piece.role.startswith(role)]


def test_the_tanks_legs(hardware: Hardware, tank: SetupCheck) -> None:
    """Rigging over half the shell's width as it lies; half the worst hook load over its sine."""
    lift = shipped()
    low_m, high_m = (end(z for _, z in lift.trailer.parts[0].outline_m) for end in (min, max))
    legs_rad = atan2(lift.trailer.picks[0].height_m, (high_m - low_m) / 2.0)
    for one, ends in zip(
        rigging_list(tank, hardware), zip(*(at.units for at in tank.stations), strict=True), strict=True
    ):
        worst = max(stand.line.load_N for stand in ends) - 300.0 * 9.80665
        assert one.hook_load_N == pytest.approx(worst)
        assert one.leg.angle_rad == pytest.approx(legs_rad)
        assert one.leg.tension_N == pytest.approx(worst / 2.0 / sin(one.leg.angle_rad))
        for held in _by_role(one, "legs of chain"):
            assert held.holds and held.needed_N == pytest.approx(1.15 * one.leg.tension_N)
        (rope,) = _by_role(one, "hoist rope")
        assert rope.needed_N == pytest.approx(1.15 * lead_line_pull_N(worst + 300.0 * 9.80665, 2, 1.02))
        assert rope.allowed_N == pytest.approx(330e3 / 3.5) and rope.mark == "S"
        assert not one.refused
        assert any("shell" in edge for edge in one.edges)


def test_a_rope_between_two_sizes_is_judged_as_the_smaller(hardware: Hardware) -> None:
    """3/4 in is 19.05 mm, 5/8 in 15.88 mm (exact: NIST SP 811): 19 mm is 3/4 in, 18 mm is not, 12 mm is nothing."""
    (table,) = hardware.of("rope")
    sizes = [size_at_most(table, diameter_m) for diameter_m in (0.019, 0.018, 0.0160, 0.012)]
    assert [size.size if size else None for size in sizes] == ["3/4 in", "5/8 in", "5/8 in", None]
    found = check_setup(hoist(shipped(), rope_breaking_N=None, rope_diameter_m=0.012), room=False)
    assert [one.code for one in found.not_judged] == ["hoist rope", "hoist rope"]
    assert found.verdict == "not judged"


def test_a_rope_made_not_to_spin_is_held_to_five() -> None:
    """29 CFR 1926.1414(e)(2). What holds at 3.5 with little to spare is over at 5."""
    usual, kept = (
        check_setup(shipped(), room=False),
        check_setup(hoist(shipped(), rope_is_rotation_resistant=True), room=False),
    )
    for before, after in zip(usual.rigging, kept.rigging, strict=True):
        (as_usual,), (as_kept,) = _by_role(before, "hoist rope"), _by_role(after, "hoist rope")
        assert as_kept.allowed_N == pytest.approx(as_usual.allowed_N * 3.5 / 5.0)
        assert as_kept.used > as_usual.used


def test_what_only_just_holds_by_a_figure_from_memory_does_not_hold(hardware: Hardware) -> None:
    """Dynamics 1.15 (measured), 0.90 for a figure from memory (common practice, no source): 78.3 % is the most."""
    (shackles,), (gr80, _) = hardware.of("shackle"), hardware.of("chain")
    from_memory, read = _piece(hardware, "shackle 1 in"), _piece(hardware, "chain Gr 80 1/2 in")
    assert (from_memory.mark, read.mark) == ("M", "T")
    for table, piece, share, holds in (
        (shackles, from_memory, 0.98, False),
        (shackles, from_memory, 0.79, False),
        (shackles, from_memory, 0.78, True),
        (gr80, read, 0.88, False),
        (gr80, read, 0.86, True),
    ):
        assert judge(table, piece, DYNAMIC_MARGIN * share * piece.rated_N, by_grade=True).holds is holds


def test_one_way_to_make_the_legs_is_enough(hardware: Hardware) -> None:
    """No sling of the table holds half as much again in one basket; chain does, so the legs are not refused."""
    lift = shipped()
    heavy = trailer(lift, cargo=replace(lift.trailer.cargo, mass_kg=1.6 * lift.trailer.cargo.mass_kg))
    for one in rigging_list(check_setup(heavy, room=False), hardware):
        slings = _by_role(one, "one round sling")
        assert slings and not any(held.holds for held in slings)
        assert not any("sling" in text or "chain" in text for text in one.refused)


def _piece(hardware: Hardware, name: str) -> Piece:
    return next(piece for table in hardware.tables for piece in table.pieces if piece.name == name)


def test_a_size_at_hand_that_does_not_hold_is_refused_with_the_next_that_does(
    hardware: Hardware, tank: SetupCheck
) -> None:
    half = _piece(hardware, "chain Gr 80 1/2 in")
    nose, _ = rigging_list(tank, hardware, have=(half,))
    (held,) = [held for held in _by_role(nose, "legs of chain") if held.piece.table == "chain Gr 80"]
    assert held.piece == half and not held.holds
    table = next(one for one in hardware.tables if half in one.pieces)
    fits = next(piece for piece in table.pieces if piece.rated_N >= held.needed_N)
    assert held.next_size == fits
    assert any(fits.size in text for text in nose.refused)
    bigger, _ = rigging_list(tank, hardware, have=(fits,))
    assert bigger.refused == ()


def test_no_size_is_said_when_none_holds(hardware: Hardware) -> None:
    table = hardware.of("sling")[0]
    held = choose(table, table.pieces[-1].rated_N * 1.01)
    assert not held.holds and held.next_size is None and held.piece == table.pieces[-1]


@pytest.mark.parametrize("table", range(5))
def test_chosen_is_the_smallest_that_holds(hardware: Hardware, table: int) -> None:
    """Against every size in turn, for needs just under and over each rating."""
    pieces = hardware.tables[table].pieces
    for i, piece in enumerate(pieces):
        assert choose(hardware.tables[table], piece.rated_N).piece == piece
        above = choose(hardware.tables[table], piece.rated_N * 1.001)
        assert above.piece == pieces[min(i + 1, len(pieces) - 1)]
        assert above.holds == (i + 1 < len(pieces))
        assert judge(hardware.tables[table], piece, piece.rated_N * 1.001).used == pytest.approx(1.001)


def test_side_load_bands() -> None:
    """Bands T (WAC 296-155-33905), percentages M: 0-5 none, 6-45 30 %, 46-90 50 % off, over 90 not at all."""
    shares = [side_load_share(radians(angle)) for angle in (0, 5, 6, 45, 46, 90, 91)]
    assert shares == [1.0, 1.0, 0.7, 0.7, 0.5, 0.5, 0.0]


def test_low_legs_and_wide_bows_are_refused(hardware: Hardware) -> None:
    """R (ASME B30.9): under 30 deg from horizontal not without maker's or qualified person's word."""
    lift = shipped()
    lift = first_pick(lift, height_m=0.7, width_m=2.6)
    one, other = rigging_list(check_setup(lift, room=False), hardware)
    assert degrees(one.leg.angle_rad) == pytest.approx(28.3, abs=0.05)
    assert any("30 deg" in text and "0.75 m" in text for text in one.refused)
    assert any(text.startswith("shackle at the hook") for text in one.refused)
    assert other.refused == ()


def test_a_single_point_has_one_leg(hardware: Hardware) -> None:
    lift = shipped()
    lift = first_pick(lift, pivot="single_point", kind="pad eye")
    one, _ = rigging_list(check_setup(lift, room=False), hardware)
    assert (one.legs, one.edges) == (1, ())
    assert one.leg.tension_N == pytest.approx(one.hook_load_N)


def test_edges_in_a_legs_way_are_found(hardware: Hardware) -> None:
    """Picks half-way up a box 2.6 m wide: legs to its sides pass inside its upper edges; wider legs clear them."""
    lift = shipped("box_on_wheels")
    bridle = {"kind": "two-leg bridle", "width_m": 2.0, "spreader": None}
    low = first_pick(lift, at_m=(-5.5, 0.0, 2.6), height_m=3.7, **bridle)
    inside, _ = rigging_list(check_setup(low, room=False), hardware)
    assert set(inside.edges) == {"ravine-side upper edge of box", "road-side upper edge of box"}
    beside = first_pick(low, width_m=2.6 / (3.7 - 1.4) * 3.7)
    clear, _ = rigging_list(check_setup(beside, room=False), hardware)
    assert clear.edges == ()


def test_a_straight_pair_and_a_flat_one() -> None:
    assert bridle_leg(1000.0, 0.0, 2.0).tension_N == pytest.approx(500.0)
    assert bridle_leg(1000.0, 2.0, 0.0).tension_N == float("inf")


BROKEN = {
    "no table": "x = 1",
    "unknown key": '[[table]]\nname="a"\nkind="chain"\nsource="s"\nmark="T"\nsize=["1"]\nrated_lb=[1]\ncolor=1',
    "unknown kind": '[[table]]\nname="a"\nkind="string"\nsource="s"\nmark="T"\nsize=["1"]\nrated_lb=[1]',
    "unknown mark": '[[table]]\nname="a"\nkind="chain"\nsource="s"\nmark="Z"\nsize=["1"]\nrated_lb=[1]',
    "no source": '[[table]]\nname="a"\nkind="chain"\nmark="T"\nsize=["1"]\nrated_lb=[1]',
    "falling": '[[table]]\nname="a"\nkind="chain"\nsource="s"\nmark="T"\nsize=["1","2"]\nrated_lb=[2,1]',
    "too few": '[[table]]\nname="a"\nkind="chain"\nsource="s"\nmark="T"\nsize=["1","2"]\nrated_lb=[2]',
    "odd marks": '[[table]]\nname="a"\nkind="chain"\nsource="s"\nmark="T"\nmarks=["Q"]\nsize=["1"]\nrated_lb=[2]',
    "odd mm": '[[table]]\nname="a"\nkind="chain"\nsource="s"\nmark="T"\nmm=["x"]\nsize=["1"]\nrated_lb=[2]',
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_hardware_file_says_where_and_what(name: str) -> None:
    with pytest.raises(BrokenScenario) as broken:
        parse_hardware(tomllib.loads(BROKEN[name]), "h.toml")
    (fault,) = broken.value.faults
    assert fault.place.startswith("h.toml")
    assert fault.given and fault.allowed


def test_all_faults_of_a_hardware_file_at_once(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.raises(BrokenScenario) as broken:
        parse_hardware(tomllib.loads(BROKEN["no source"] + "\n" + BROKEN["unknown kind"]), "h.toml")
    assert len(broken.value.faults) == 2
    twice = tomllib.loads(FILE.read_text(encoding="utf-8") + FILE.read_text(encoding="utf-8"))
    with pytest.raises(BrokenScenario) as broken:
        parse_hardware(twice, "h.toml")
    assert len(broken.value.faults) == 5
    with pytest.raises(BrokenScenario):
        load_hardware(tmp_path_factory.mktemp("x") / "nothing.toml")


def test_every_figure_has_a_mark_and_a_source(hardware: Hardware) -> None:
    assert {table.kind for table in hardware.tables} == {"chain", "shackle", "sling", "rope"}
    for table in hardware.tables:
        assert table.source
        assert all(piece.mark in "TRMP" for piece in table.pieces)
