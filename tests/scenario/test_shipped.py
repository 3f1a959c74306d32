"""The shipped scenarios: each loads, writes and reads back, says that it is invented, and can be lifted as planned."""

from __future__ import annotations

import tomllib
from math import cos, dist, hypot, sin
from pathlib import Path

import pytest

from simulator.engine.line_leans import weights_over_cg
from simulator.mechanics import boom, hoist_line, sling, trailer_body
from simulator.places import assets_folder, find_scenario, scenarios_folder, shipped_scenarios
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load, parse_text, validate
from simulator.scenario.rig import rig_of
from simulator.scenario.toml_writer import dump
from simulator.scenario.trailer import Pick
from simulator.scenario.unit import Rating

SHIPPED = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))
TIPS_OFF_M = 0.3
MOST_POINTS = 24


@pytest.fixture(params=SHIPPED, ids=lambda path: path.stem)
def lift(request: pytest.FixtureRequest) -> Description:
    return load(request.param)


def test_the_three_are_there() -> None:
    assert {"tank_on_side", "box_on_wheels", "practice_yard"} <= {path.stem for path in SHIPPED}


def test_written_out_it_reads_back_equal(lift: Description) -> None:
    text = dump(lift)
    assert parse_text(text, "x.toml") == lift
    assert dump(parse_text(text, "x.toml")) == text


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_it_says_that_it_is_invented(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# INVENTED DEMO DATA.")
    assert tomllib.loads(text)["invented"] is True
    assert "Invented" in load(path).story


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_every_table_is_commented(path: Path) -> None:
    """A comment above the header, or below it (a blank-line-separated run of headers of one kind shares one)."""
    lines = path.read_text(encoding="utf-8").splitlines()
    kinds_told: set[str] = set()
    for number, line in enumerate(lines):
        if line.startswith("["):
            kind = line.strip("[]")
            told = any("#" in other for other in lines[number - 1 : _end_of_table(lines, number)])
            assert told or kind in kinds_told, line
            kinds_told.add(kind)


def _end_of_table(lines: list[str], start: int) -> int:
    return next((n for n in range(start + 1, len(lines)) if not lines[n]), len(lines))


def test_few_contact_points(lift: Description) -> None:
    points = trailer_body.body(lift.trailer).points_m
    assert 8 <= len(points) <= MOST_POINTS


def test_booms_start_near_the_picks_with_slack_lines(lift: Description) -> None:
    """Picks placed by hand: rotation about the CG, trailer's lowest point on the bed under it."""
    body, start = trailer_body.body(lift.trailer), lift.trailer.start
    c, s = cos(start.pitch_rad), sin(start.pitch_rad)
    floor = _section_z(lift, start.y_m)
    cg_z = floor - body.low_m[2] / c  # the bed lies at the trailer's pitch: its plane through x = 0 is `floor`
    cg_z -= start.x_m * s / c
    for unit, own in zip(lift.units, rig_of(lift).units, strict=True):
        at = unit.start
        tip = boom.tip_m(unit, boom.BoomPose(at.boom_length_m, at.elevation_rad, at.slew_rad))
        picks = []
        for rope, line in zip(unit.lines, own.lines, strict=True):
            x, y, z = body.picks_m[line.pick]
            picks.append((start.x_m + x * c + z * s, start.y_m + y, cg_z - x * s + z * c))
            sheave_x = tip[0] - unit.facing * rope.across_m * sin(at.slew_rad)
            sheave = (sheave_x, tip[1] + rope.across_m * cos(at.slew_rad), tip[2])
            slack = hoist_line.line_length_m(rope.hoist, rope.rope_out_m, at.boom_length_m)
            pick = lift.trailer.picks[line.pick]
            if pick.sling_length_m is None:
                slack -= dist(sheave, (*picks[-1][:2], picks[-1][2] + pick.height_m))
            else:
                picks[-1] = (picks[-1][0], start.y_m, cg_z)  # its tip stands over the load's middle
                slack -= _round_it_m(lift, pick, (sheave[0] - start.x_m, sheave[1] - start.y_m, sheave[2] - cg_z))
            assert 0.2 < slack < 0.4
        off = [sum(pick[axis] for pick in picks) / len(picks) - tip[axis] for axis in (0, 1)]
        assert hypot(*off) < TIPS_OFF_M


def _round_it_m(lift: Description, pick: Pick, sheave: tuple[float, float, float]) -> float:
    """Sheave to hook, over what is laid."""
    trailer, long = lift.trailer, pick.sling_length_m or 0.0
    found = sling.trailer_sling(
        trailer, pick.at_m, from_m=trailer_body.stated_cg_m(trailer), lies_on=pick.lies_on, sling_m=long
    )
    run = found.run(sheave)
    return run.laid_m + run.free_m - long


def _section_z(lift: Description, y_m: float) -> float:
    for (y0, z0), (y1, z1) in zip(lift.site.section_m, lift.site.section_m[1:], strict=False):
        if y1 <= y_m <= y0:
            return z0 + (z1 - z0) * (y0 - y_m) / (y0 - y1)
    raise AssertionError("trailer off the section")


def test_the_planned_path_is_within_travel_rating_and_rope(lift: Description) -> None:
    """Along the path with plumb lines: travel ends, head room, rope left, capacity used short of caution."""
    body, rig = trailer_body.body(lift.trailer), rig_of(lift)
    parts = weights_over_cg([body.picks_m[line.pick][0] for line in rig.lines])
    first, last = lift.trailer.start.y_m, lift.landing.y_m
    for step in range(41):
        y = first + (last - first) * step / 40
        for unit, own in zip(lift.units, rig.units, strict=True):
            tip_x = sum(body.picks_m[line.pick][0] for line in own.lines) / len(own.lines)
            pose = boom.boom_pose(unit, (lift.trailer.start.x_m + tip_x, y, lift.path.tip_height_m))
            assert unit.boom.shortest_m <= pose.length_m <= unit.boom.longest_m
            assert unit.boom.lowest_rad <= pose.elevation_rad <= unit.boom.highest_rad
            assert unit.boom.slew_ravine_rad <= pose.slew_rad <= unit.boom.slew_road_rad
            carried = 0.0
            for rope, line in zip(unit.lines, own.lines, strict=True):
                pick, hoist = lift.trailer.picks[line.pick], rope.hoist
                high = lift.path.belly_over_road_m + body.picks_m[line.pick][2] - body.low_m[2] + pick.height_m
                drop = lift.path.tip_height_m - high
                assert drop - hoist.block_and_stop_m > lift.limits.head_room_caution_m
                wanted = drop * hoist.parts + pose.length_m + hoist.to_boom_foot_m
                assert hoist.usable_rope_m - wanted > lift.limits.rope_left_caution_m
                carried += body.mass_kg * parts[line.place] + hoist.block_kg + pick.hung_kg
            assert carried < lift.limits.capacity_caution * _rated_kg(
                unit.rating, boom.reach_m(unit, pose.length_m, pose.elevation_rad), pose.length_m
            )


def _rated_kg(rating: Rating | None, reach: float, length: float) -> float:
    assert rating is not None
    row = next(i for i, radius in enumerate(rating.radii_m) if radius >= reach)
    column = next(i for i, column_m in enumerate(rating.boom_lengths_m) if column_m >= length)
    return float(rating.rated_kg[row][column])


def test_tank_is_as_the_demonstration_wants_it() -> None:
    lift = load(find_scenario("tank_on_side"))
    body = trailer_body.body(lift.trailer)
    assert body.mass_kg == pytest.approx(25300.0)
    assert trailer_body.stated_cg_m(lift.trailer)[0] == pytest.approx(lift.trailer.start.x_m, abs=0.01)
    long_m, across_m, high_m = (most - least for least, most in zip(body.low_m, body.high_m, strict=True))
    assert (long_m, across_m, high_m) == pytest.approx((12.8, 3.8, 2.5))
    for at_m, pick in zip(body.picks_m, lift.trailer.picks, strict=True):
        assert abs(at_m[1]) < 0.02
        assert at_m[2] + pick.height_m > high_m / 2.0
    assert lift.gap_m == pytest.approx(0.7 * long_m)


def test_places() -> None:
    assert scenarios_folder().is_dir()
    assert assets_folder().is_dir()
    assert [path.name for path in shipped_scenarios()] == [path.name for path in SHIPPED]
    for path in SHIPPED:
        for name in (path, str(path), path.stem, path.name):
            assert find_scenario(name).read_bytes() == path.read_bytes()


@pytest.mark.parametrize("name", ["nope", "", "a\0b", "x" * 5000, "../tank_on_side"])
def test_no_such_scenario(name: str) -> None:
    with pytest.raises(BrokenScenario) as broken:
        find_scenario(name)
    (fault,) = broken.value.faults
    assert fault.given == "no such file"
    assert "tank_on_side" in fault.allowed
    assert "\n" not in str(fault)


def test_validate(tmp_path: Path) -> None:
    good, bad = SHIPPED[0], tmp_path / "bad.toml"
    assert validate([good])[1] == 0
    bad.write_text(good.read_text(encoding="utf-8").replace("difficulty = ", "difficulty = 9"), encoding="utf-8")
    lines, code = validate([bad, good, "nope", tmp_path], find=find_scenario)
    assert code == 2
    assert lines[0] == f"{bad}: 1 fault"
    line = next(number for number, row in enumerate(bad.read_text("utf-8").split("\n"), 1) if row.startswith("diffic"))
    assert lines[1].startswith(f"  bad.toml: line {line}: difficulty: given 9")
    assert lines[2].startswith(f"{good}: good, ")
    assert lines[3] == "nope: 1 fault"
    assert lines[5] == f"{tmp_path}: 1 fault"
    assert len(lines) == 7
