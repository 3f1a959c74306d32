"""Units that stand as they must: each at its own distance from the edge, askew, short-jacked; by hand and by laws."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, radians, sin

import pytest

from simulator.engine.simulation import NotDriven, Simulation
from simulator.mechanics.boom import BoomPose, boom_pose, tip_m
from simulator.mechanics.footing import frame_of
from simulator.mechanics.outriggers import solve
from simulator.places import find_scenario
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.plan.spacing import set_back_of_m, with_gap_of, with_set_back_of
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load, parse_text
from simulator.scenario.standing import askew, float_places, half_pad_m, on_road, straight
from simulator.scenario.toml_writer import dump
from simulator.scenario.unit import Unit
from simulator.window.layout import place_edits


def lift() -> Description:
    return load(find_scenario("box_on_wheels"))


def with_unit(described: Description, number: int, **values: object) -> Description:
    units = list(described.units)
    units[number] = replace(units[number], **values)  # type: ignore[arg-type]
    return place_edits.with_fitting_landing(replace(described, units=tuple(units)))


def reading(check: SetupCheck, code: str, who: str) -> float:
    return next(one.reading.value for one in check.findings if (one.reading.code, one.reading.who) == (code, who))


class TestPlaces:
    @pytest.mark.parametrize("number", [0, 1])
    def test_a_boom_turns_with_its_unit(self, number: int) -> None:
        """A unit turned by an angle holds its tip where a straight one would, turned by that angle about its axis."""
        unit = lift().units[number]
        turn = radians(7.0)
        turned = replace(unit, yaw_rad=turn, slew_axis_y_m=0.6)
        pose = BoomPose(11.0, 0.9, -0.8)
        x, y, z = tip_m(unit, pose)
        dx, dy = unit.facing * (x - unit.slew_axis_x_m), y
        by_hand = (
            unit.slew_axis_x_m + unit.facing * (dx * cos(turn) - dy * sin(turn)),
            0.6 + dx * sin(turn) + dy * cos(turn),
            z,
        )
        assert askew(turned, tip_m(turned, pose)) == pytest.approx(by_hand)
        assert boom_pose(turned, straight(turned, by_hand)) == pytest.approx(pose)

    def test_a_straight_unit_keeps_every_bit(self) -> None:
        unit, point = lift().units[0], (1.0 / 3.0, -2.0 / 7.0, 9.1)
        assert straight(unit, point) is point and askew(unit, point) is point

    def test_floats_of_a_unit_at_right_angles_by_hand(self) -> None:
        """Turned by 90 degrees, which no file may hold: u lies across the road, v against the way along it."""
        unit = replace(lift().units[0], yaw_rad=pi / 2.0, slew_axis_y_m=1.0)
        near = unit.floats.toward_tailboard_m, unit.floats.across_m
        assert float_places(unit)[0] == pytest.approx((unit.slew_axis_x_m - near[1], 1.0 + near[0]))

    def test_the_corner_of_a_pad_askew_by_hand(self) -> None:
        unit = replace(lift().units[0], yaw_rad=radians(10.0))
        side = unit.floats.pad_side_m
        assert half_pad_m(unit) == pytest.approx(side / 2.0 * (0.984808 + 0.173648), abs=1e-5)


class TestFloats:
    def test_short_jacked_reactions_by_hand(self) -> None:
        """Four like springs, two at +a and two at -b: a load on the middle line bears a : b on the other side."""
        floats = replace(lift().units[0].floats, across_road_m=2.0, soft_float_share=(1.0, 1.0, 1.0, 1.0))
        a, b, load_N = 2.0, floats.across_m, 300e3
        middle = (floats.toward_tailboard_m - floats.toward_cab_m) / 2.0
        held = solve(frame_of(floats), load_N, load_N * middle, 0.0).reactions_N
        assert held[0] + held[2] == pytest.approx(load_N * b / (a + b))
        assert held[1] + held[3] == pytest.approx(load_N * a / (a + b))

    def test_a_short_jack_tips_sooner_and_its_table_is_not_its_own(self) -> None:
        before = check_setup(lift())
        floats = replace(lift().units[0].floats, across_ravine_m=2.4)
        after = check_setup(with_unit(lift(), 0, floats=floats))
        least = [reading(one, "lightest float", "nose unit") for one in (before, after)]
        assert least[1] < least[0]
        assert before.verdict == "no limit passed" and after.verdict == "not judged"
        assert any("short-jacked on its ravine side" in one.missing for one in after.not_judged)
        stated = with_unit(lift(), 0, floats=floats, configuration="ravine jacks half out")
        assert check_setup(stated).verdict == "no limit passed"


class TestCheck:
    def test_the_whole_lift_moved_across_is_the_same_lift(self) -> None:
        """What y is measured from is nobody's business: units, load, site and landing moved alike change no number."""
        by, was = 0.7, lift()
        site, trailer = was.site, was.trailer
        moved = replace(
            was,
            units=tuple(replace(unit, slew_axis_y_m=by) for unit in was.units),
            site=replace(
                site,
                section_m=tuple((y + by, z) for y, z in site.section_m),
                edge_y_m=site.edge_y_m + by,
                live_lane_y_m=site.live_lane_y_m + by,
            ),
            trailer=replace(trailer, start=replace(trailer.start, y_m=trailer.start.y_m + by)),
            landing=replace(was.landing, y_m=was.landing.y_m + by),
        )
        first, second = check_setup(was, step_m=1e3), check_setup(moved, step_m=1e3)
        ends = (0, -1)  # the middle of the tailboards is a station by its y
        for n in ends:
            here, there = first.stations[n], second.stations[n]
            for one, other in zip(here.readings, there.readings, strict=True):
                assert other.value == pytest.approx(one.value, abs=1e-6), one.code
        assert reading(first, "set-back", "nose unit") == pytest.approx(reading(second, "set-back", "nose unit"))

    def test_a_unit_farther_from_the_edge_by_itself(self) -> None:
        """Its pads stand back by as much, it reaches farther over the bed, the other unit notices nothing."""
        before, after = check_setup(lift()), check_setup(with_unit(lift(), 0, slew_axis_y_m=0.5))
        back = [reading(one, "set-back", "nose unit") for one in (before, after)]
        assert back[1] - back[0] == pytest.approx(0.5)
        reach = [one.stations[0].units[0].reach_m for one in (before, after)]
        assert reach[1] > reach[0]
        for one in ("set-back", "capacity", "lightest float", "bearing"):
            assert reading(before, one, "tail unit") == reading(after, one, "tail unit")

    def test_askew_pads_by_hand(self) -> None:
        """Tailboard toward the edge by 3 degrees: the tailboard's ravine-side pad comes out by its arm's sine."""
        before, after = (check_setup(with_unit(lift(), 0, yaw_rad=radians(way))) for way in (0.0, -3.0))
        unit = lift().units[0]
        u, v, side = unit.floats.toward_tailboard_m, unit.floats.across_m, unit.floats.pad_side_m / 2.0
        out = u * sin(radians(3.0)) + v * cos(radians(3.0)) + side * (cos(radians(3.0)) + sin(radians(3.0)))
        came_out = out - (v + side)
        back = [reading(one, "set-back", "nose unit") for one in (before, after)]
        assert back[0] - back[1] == pytest.approx(came_out, abs=1e-6)
        assert reading(after, "capacity", "tail unit") == reading(before, "capacity", "tail unit")

    def test_a_slew_is_counted_from_the_unit_as_it_stands(self) -> None:
        before, after = (check_setup(with_unit(lift(), 0, yaw_rad=radians(way))) for way in (0.0, 4.0))
        slew = [one.stations[0].units[0].points.slew_rad for one in (before, after)]
        assert slew[0] - slew[1] == pytest.approx(radians(4.0), abs=1e-9)

    def test_decks_askew_are_never_thinner_than_they_are(self) -> None:
        from simulator.mechanics.clearance.units import unit_boxes

        unit = replace(lift().units[0], yaw_rad=radians(8.0), slew_axis_y_m=0.3)
        boxes = [box for box in unit_boxes(unit) if box.kind in ("deck", "tailboard")]
        half = unit.carrier_width_m / 2.0
        for u in (-2.0, 0.0, 1.0, unit.tailboard_m):
            for v in (-half, 0.0, half):
                x, y = on_road(unit, u, v)
                inside = [b for b in boxes if b.x_m[0] - 1e-9 <= x <= b.x_m[1] + 1e-9]
                assert any(b.y_m[0] - 1e-9 <= y <= b.y_m[1] + 1e-9 for b in inside), (u, v)

    def test_a_rail_that_is_cut_no_longer_stands_in_the_way(self) -> None:
        """Carried 0.5 m over the road, the load meets a rail 0.8 m high by 0.3 m; where it is cut only the edge is."""
        was = lift()
        low = replace(was, path=replace(was.path, belly_over_road_m=0.5))
        railed = replace(low, site=replace(low.site, guard_rail_height_m=0.8))
        cut = replace(railed, site=replace(railed.site, guard_rail_cut_from_m=-12.0, guard_rail_cut_to_m=12.0))

        def rail_gaps(described: Description) -> list[float]:
            found = check_setup(described).stations
            return [gap.gap_m for one in found[1:-1] if one.room for gap in one.room.parts if gap.meets == "guard rail"]

        assert min(rail_gaps(railed)) == pytest.approx(-0.3, abs=1e-6)
        assert not rail_gaps(cut)


class TestAround:
    def test_either_unit_moves_alone(self) -> None:
        was = lift()
        gap = with_gap_of(was, "tail", was.gap_m + 0.5)
        assert gap.units[0] == was.units[0] and gap.gap_m == pytest.approx(was.gap_m + 0.5)
        back = with_set_back_of(was, "nose", 1.5)
        assert back.units[1] == was.units[1] and set_back_of_m(back, "nose") == pytest.approx(1.5)

    def test_machines_change_places_and_back(self) -> None:
        was = with_unit(lift(), 0, boom=replace(lift().units[0].boom, longest_m=16.0))
        swapped = place_edits.with_units_swapped(was)
        assert swapped.units[1].boom.longest_m == 16.0 and swapped.gap_m == pytest.approx(was.gap_m)
        assert [unit.name for unit in swapped.units] == ["nose", "tail"]
        again = place_edits.with_units_swapped(swapped)
        for one, other in zip(again.units, was.units, strict=True):
            assert replace(one, slew_axis_x_m=other.slew_axis_x_m) == other

    def test_the_file_holds_it_and_a_drive_says_no(self) -> None:
        described = with_unit(lift(), 1, yaw_rad=radians(-2.0), slew_axis_y_m=-0.1)
        assert parse_text(dump(described), "saved") == described
        with pytest.raises(NotDriven, match="tail unit stands askew"):
            Simulation(described)

    @pytest.mark.parametrize(
        ("change", "said"),
        [
            ({"yaw_rad": radians(30.0)}, "yaw"),
            ({"floats": {"across_road_m": 9.0}}, "all the way out"),
        ],
    )
    def test_faults(self, change: dict[str, object], said: str) -> None:
        unit: Unit = lift().units[0]
        values = {
            key: replace(unit.floats, **value) if isinstance(value, dict) else value for key, value in change.items()
        }
        with pytest.raises(BrokenScenario, match=said):
            parse_text(dump(replace(lift(), units=(replace(unit, **values), lift().units[1]))), "x")  # type: ignore[arg-type]

    def test_an_opening_has_two_ends(self) -> None:
        was = lift()
        half = replace(was, site=replace(was.site, guard_rail_cut_from_m=-3.0))
        with pytest.raises(BrokenScenario, match="both ends of the opening"):
            parse_text(dump(half), "x")
