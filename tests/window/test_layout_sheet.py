"""A lift that is laid out, as data: what is typed, dragged, undone, and written to a file that reads back."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, degrees

import pytest

from simulator.cli.layout_answers import Bench
from simulator.mechanics.trailer_body import stated_cg_m, stated_mass_kg
from simulator.places import find_scenario
from simulator.scenario.checks import faults_of
from simulator.scenario.description import Description
from simulator.scenario.reader import load, parse_text
from simulator.scenario.toml_writer import dump
from simulator.scenario.writer_for_people import write_for_people
from simulator.window.layout import load_edits, place_edits
from simulator.window.layout.grips import Grip
from simulator.window.layout.sheet import Sheet, rounded

FOOT = 0.3048
LIFTS = ("box_on_wheels", "tank_on_side", "practice_yard", "four_lines", "box_onto_flat")


@pytest.fixture(params=LIFTS)
def lift(request: pytest.FixtureRequest) -> Description:
    return load(find_scenario(str(request.param)))


@pytest.fixture
def sheet() -> Sheet:
    return Sheet(load(find_scenario("box_on_wheels")), system="us", settle=Bench("us").settled)


def grip(sheet: Sheet, key: str, view: str = "above") -> Grip:
    return next(one for one in sheet.grips if one.key == key and one.view == view)


class TestEveryField:
    def test_what_is_put_in_is_read_out(self, lift: Description) -> None:
        sheet = Sheet(lift)
        for typed in sheet.fields:
            if typed.kind in (None, "count"):
                continue
            now = typed.get(sheet.lift)
            if now is None:
                continue
            value = (
                float(now) + 0.05 if typed.kind in ("share", "speed", "slope", "angle") else 1.01 * float(now) + 0.02
            )
            assert typed.get(typed.put(sheet.lift, value)) == pytest.approx(value, abs=1e-9), typed.key

    def test_what_is_shown_reads_back_within_its_last_digit(self, lift: Description) -> None:
        for system in ("metric", "us"):
            sheet = Sheet(lift, system=system)  # type: ignore[arg-type]
            for typed in sheet.fields:
                text, now = sheet.shown(typed.key), typed.get(sheet.lift)
                if typed.key == "soil":  # a soil of its own name is in no list
                    continue
                value, _ = typed.read(text, sheet.system)
                if isinstance(now, float):
                    assert value == pytest.approx(now, rel=2e-3, abs=3e-3), (typed.key, text)
                else:
                    assert value == now

    def test_a_trailer_that_grows_stays_where_it_is(self, lift: Description) -> None:
        for change in (load_edits.with_length, load_edits.with_width, load_edits.with_height):
            longer = change(lift, 1.1 * load_edits.size_m(lift.trailer)[0 if change is load_edits.with_length else 1])
            assert load_edits.middle_x_m(longer) == pytest.approx(load_edits.middle_x_m(lift), abs=1e-9)

    def test_heavier_keeps_its_heavy_end_and_its_place(self, lift: Description) -> None:
        heavier = load_edits.with_weight(lift, 1.2 * stated_mass_kg(lift.trailer))
        assert stated_mass_kg(heavier.trailer) == pytest.approx(1.2 * stated_mass_kg(lift.trailer))
        assert stated_cg_m(heavier.trailer)[0] == pytest.approx(stated_cg_m(lift.trailer)[0])
        assert load_edits.middle_x_m(heavier) == pytest.approx(load_edits.middle_x_m(lift))

    def test_the_bank_is_the_line_from_edge_to_toe(self, lift: Description) -> None:
        angle = place_edits.bank_rad(lift)
        assert angle == pytest.approx(atan2(place_edits.depth_m(lift), place_edits.run_m(lift)))
        half = place_edits.with_bank(lift, 0.5)
        assert place_edits.depth_m(half) == pytest.approx(place_edits.depth_m(lift))
        assert place_edits.run_m(half) == pytest.approx(place_edits.depth_m(lift) / 0.5463024898, rel=1e-6)

    def test_an_edge_takes_its_slope_along(self, lift: Description) -> None:
        moved = place_edits.with_edge(lift, lift.site.edge_y_m - 0.5)
        assert place_edits.depth_m(moved) == place_edits.depth_m(lift)
        assert place_edits.run_m(moved) == pytest.approx(place_edits.run_m(lift))
        assert not faults_of(moved)


class TestTyping:
    @pytest.mark.parametrize(
        ("key", "text", "meters"),
        [
            ("length", "53'", 53 * FOOT),
            ("height", "13 ft 6 in", 13.5 * FOOT),
            ("rigging", "8'6\"", 8.5 * FOOT),
            ("gap", "36", 36 * FOOT),
            ("depth", "9 m", 9.0),
        ],
    )
    def test_numbers_as_people_write_them(self, sheet: Sheet, key: str, text: str, meters: float) -> None:
        assert sheet.type(key, text) == ""
        assert sheet.field(key).get(sheet.lift) == pytest.approx(meters)
        assert key in sheet.given

    def test_a_bank_of_one_to_one(self, sheet: Sheet) -> None:
        assert sheet.type("bank", "1:1") == ""
        assert degrees(place_edits.bank_rad(sheet.lift)) == pytest.approx(45.0)

    @pytest.mark.parametrize("text", ["", "long", "53 lb", "1,5", "900'", "8' 14\"", "\u2603", "-3"])
    def test_what_is_not_understood_is_kept_with_a_sentence_and_changes_nothing(self, sheet: Sheet, text: str) -> None:
        before = sheet.lift
        why = sheet.type("length", text)
        assert "Length" in why and "53'" in why, why  # the field's name, and an example in their units
        assert sheet.lift is before and sheet.shown("length") == text
        assert sheet.type("length", "50'") == "" and sheet.half == {}

    def test_what_no_file_could_hold_is_kept_too(self, sheet: Sheet) -> None:
        before = sheet.lift
        why = sheet.type("landing", "8'")
        assert "landing" in why and sheet.lift is before and sheet.shown("landing") == "8'"

    def test_tons_are_asked_for_once(self, sheet: Sheet) -> None:
        assert sheet.asks_which_tons("22 tons", "weight")
        sheet.type("weight", "22 tons")
        assert "weight" in sheet.half
        sheet.say_tons("short")
        assert stated_mass_kg(sheet.lift.trailer) == pytest.approx(22 * 907.18474)
        assert sheet.half == {} and not sheet.asks_which_tons("21 tons", "weight")

    def test_a_choice_is_known_by_its_first_letters(self, sheet: Sheet) -> None:
        assert sheet.type("attitude", "on its side, roof to ra") == ""
        assert sheet.lift.trailer.attitude == "top_to_ravine"
        assert "on its wheels" in sheet.type("attitude", "upside down")

    def test_a_line_overhead_comes_and_goes(self, sheet: Sheet) -> None:
        assert sheet.type("line_height", "40 ft") == ""
        assert sheet.lift.site.overhead_line is not None
        assert sheet.type("line_kv", "none") == "" and sheet.lift.site.overhead_line is None


class TestDragging:
    def test_a_truck_goes_by_half_feet_and_with_shift_by_inches(self, sheet: Sheet) -> None:
        sheet.type("axis_1", "26 ft")
        sheet.take_hold(grip(sheet, "unit_1"))
        sheet.drag(0.40, 3.0)
        assert sheet.lift.units[1].slew_axis_x_m == pytest.approx(27.5 * FOOT)
        sheet.drag(0.40, 3.0, fine=True)
        assert sheet.lift.units[1].slew_axis_x_m == pytest.approx((27 + 4 / 12) * FOOT)
        sheet.let_go()
        sheet.undo()
        assert sheet.lift.units[1].slew_axis_x_m == pytest.approx(26 * FOOT)

    def test_a_drag_that_is_dropped_leaves_no_trace(self, sheet: Sheet) -> None:
        before = sheet.lift
        sheet.take_hold(grip(sheet, "load"))
        sheet.drag(1.0, -1.0)
        assert sheet.lift != before
        sheet.drop()
        assert sheet.lift is before and not sheet.can_undo

    def test_nothing_is_dragged_to_where_no_file_could_hold_it(self, sheet: Sheet) -> None:
        sheet.take_hold(grip(sheet, "landing"))
        sheet.drag(0.0, -3.0)
        assert faults_of(sheet.lift) == () and "landing" in sheet.fault
        sheet.let_go()

    def test_every_grip_moves_what_it_says(self, lift: Description) -> None:
        for one in Sheet(lift).grips:
            sheet = Sheet(lift)
            sheet.take_hold(one)
            sheet.drag(0.3, 0.3)
            sheet.drag(0.3, -0.3) if sheet.lift == lift else None
            changed = [move.field for move in one.moves if sheet.field(move.field).get(sheet.lift) !=
                       sheet.field(move.field).get(Sheet(lift).lift)]  # fmt: skip
            assert changed or sheet.fault, one.key

    def test_toe_moves_run_and_depth(self, sheet: Sheet) -> None:
        run, depth = place_edits.run_m(sheet.lift), place_edits.depth_m(sheet.lift)
        sheet.take_hold(grip(sheet, "toe", "across"))
        sheet.drag(-0.61, -0.61)
        assert place_edits.run_m(sheet.lift) - run == pytest.approx(0.61, abs=0.08)
        assert place_edits.depth_m(sheet.lift) - depth == pytest.approx(0.61, abs=0.08)


class TestUndo:
    def test_back_and_forward_through_all_changes(self, sheet: Sheet) -> None:
        seen = [sheet.lift]
        for key, text in (("length", "48'"), ("depth", "30'"), ("gap", "34'"), ("attitude", "on its side, roof to ra")):
            sheet.type(key, text)
            seen.append(sheet.lift)
        for lift in reversed(seen[:-1]):
            sheet.undo()
            assert sheet.lift == lift
        for lift in seen[1:]:
            sheet.redo()
            assert sheet.lift == lift
        assert not sheet.can_redo

    def test_a_new_change_ends_the_way_forward(self, sheet: Sheet) -> None:
        sheet.type("length", "48'")
        sheet.undo()
        sheet.type("length", "50'")
        assert not sheet.can_redo


class TestFiles:
    def test_a_file_for_people_reads_to_an_equal_lift(self, lift: Description) -> None:
        for system in ("metric", "us"):
            text = write_for_people(lift, system, head=("Demo.",), words={"site.edge_y": "measured"})  # type: ignore[arg-type]
            assert parse_text(text, "x") == lift
            assert "# measured" in text and text.startswith("# Demo.")

    def test_it_keeps_feet(self, sheet: Sheet) -> None:
        sheet.type("lane", "33 ft")
        sheet.type("pick_0", "5'6\"")
        sheet.type("tips", "32'")
        text = write_for_people(sheet.lift, "us")
        assert parse_text(text, "x") == sheet.lift
        assert 'live_lane_y = "33 ft"' in text and 'tip_height = "32 ft"' in text

    def test_rules_find_in_a_description_what_they_find_in_its_file(self, lift: Description) -> None:
        assert faults_of(lift) == ()
        broken = replace(lift, landing=replace(lift.landing, y_m=1.0))
        found = faults_of(broken)
        with pytest.raises(Exception, match="landing") as raised:
            parse_text(dump(broken), "the lift")
        assert [fault.given for fault in found] == [fault.given for fault in raised.value.faults]  # type: ignore[attr-defined]


class TestBeginning:
    def test_a_new_lift_has_round_numbers_near_those_it_was_made_from(self) -> None:
        for system, step in (("us", FOOT / 2.0), ("metric", 0.1)):
            bench = Bench(system)  # type: ignore[arg-type]
            made = bench.new()
            lift = rounded(made, bench.system, bench.settled)
            assert faults_of(lift) == ()
            assert lift.gap_m == pytest.approx(made.gap_m, abs=1.01 * step)
            for before, after in zip(Sheet(made).fields, Sheet(lift).fields, strict=True):
                was, now = before.get(made), after.get(lift)
                if before.kind == "length" and isinstance(was, float) and isinstance(now, float):
                    assert now == pytest.approx(was, abs=2.01 * step), before.key
            length = load_edits.size_m(lift.trailer)[0] / step
            assert length == pytest.approx(round(length), abs=1e-6)


def test_a_title_follows_the_depth_that_it_states(sheet: Sheet) -> None:
    assert sheet.lift.title == "Box trailer on its wheels, 6.8 m (22 ft) down"
    sheet.type("depth", "10'")
    assert sheet.lift.title == "Box trailer on its wheels, 3.0 m (10 ft) down"
    sheet.undo()
    assert "6.8 m (22 ft) down" in sheet.lift.title
    held = grip(sheet, "toe", "across")
    sheet.take_hold(held)
    for up_m in (0.5, 1.0, 1.8288):
        sheet.drag(0.0, up_m)
    sheet.let_go()
    assert f"({place_edits.depth_m(sheet.lift) / FOOT:.0f} ft) down" in sheet.lift.title
    assert place_edits.depth_m(sheet.lift) == pytest.approx(5.0, abs=0.1)
    new = Sheet(rounded(Bench("us").new(), "us", Bench("us").settled), system="us", settle=Bench("us").settled)
    assert new.lift.title.endswith("trailer 5 ft down")
    new.type("depth", "7'")
    assert new.lift.title.endswith("trailer 7 ft down")
    new.type("height", "12'")
    assert new.lift.title.endswith("trailer 7 ft down")
