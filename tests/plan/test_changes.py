"""What a check tells to change, over set-ups drawn at random: never less than nothing, and enough."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from random import Random
from typing import get_args

import pytest

from simulator.plan.findings import Amount, Finding, passed
from simulator.plan.setup_check import SetupCheck, check_setup
from simulator.report.amounts import Amounts, System
from simulator.report.plan.setup_json import setup_json
from simulator.report.plan.setup_lines import change_words, setup_lines, told
from simulator.scenario.description import Description
from simulator.scenario.site import OverheadLine
from simulator.scenario.trailer import Trailer
from tests.plan.variants import boom, floats, hoist, path, shipped, site, soil, trailer, units

LEFT = re.compile(r"head room leaves [\d.]+")
"""How much there is; it may be nothing."""


def drawn(seed: int) -> Description:
    """A shipped lift with half of these numbers moved, some of them past any sense."""
    draw = Random(seed)
    by = draw.uniform
    lift = shipped(draw.choice(("tank_on_side", "box_on_wheels")))
    line, radius_m = lift.units[0].hoist, lift.units[0].superstructure_radius_m
    bearing_Pa, tip_m, belly_m = (
        lift.site.soil.allowable_bearing_Pa,
        lift.path.tip_height_m,
        lift.path.belly_over_road_m,
    )
    changes: list[Callable[[Description], Description]] = [
        lambda lift: boom(lift, longest_m=by(9.0, 14.0), shortest_m=by(6.0, 8.5)),
        lambda lift: boom(lift, highest_rad=by(0.8, 1.1), slew_ravine_rad=by(-1.75, 0.1)),
        lambda lift: hoist(lift, usable_rope_m=by(45.0, 70.0)),
        lambda lift: hoist(lift, stall_line_pull_N=by(0.5, 1.0) * line.stall_line_pull_N),
        lambda lift: floats(lift, pad_side_m=by(0.4, 0.8)),
        lambda lift: path(lift, tip_height_m=tip_m + by(-2.0, 0.2)),
        lambda lift: path(lift, belly_over_road_m=belly_m + by(-0.6, 0.2)),
        lambda lift: units(lift, superstructure_radius_m=radius_m + by(0.0, 0.4)),
        lambda lift: site(lift, wind=replace(lift.site.wind, speed_mps=by(5.0, 22.0))),
        lambda lift: site(lift, live_lane_y_m=lift.site.live_lane_y_m + by(-2.5, 0.5)),
        lambda lift: site(lift, overhead_line=OverheadLine(by(-14.0, -8.0), by(9.0, 18.0), 30.0)),
        lambda lift: soil(lift, allowable_bearing_Pa=by(0.5, 1.2) * bearing_Pa),
        lambda lift: _heavier(lift, by(0.9, 2.1)),
        lambda lift: _marked(lift, by(0.4, 0.9)),
    ]
    for change in draw.sample(changes, len(changes) // 2):
        lift = change(lift)
    return lift


def _marked(lift: Description, share: float) -> Description:
    rating = lift.units[0].rating
    return lift if rating is None else units(lift, rating=replace(rating, tandem_share=share))


def _heavier(lift: Description, factor: float) -> Description:
    old: Trailer = lift.trailer
    return trailer(lift, cargo=replace(old.cargo, mass_kg=factor * old.cargo.mass_kg))


def _told(found: SetupCheck) -> list[Finding]:
    return [one for one in found.findings if one.level != "good"]


SEEDS = range(60)


def test_no_change_that_is_told_is_negative_or_nothing() -> None:
    """In words, as a reader sees it, in both systems."""
    seen: set[tuple[str, str]] = set()
    for seed in SEEDS:
        for one in _told(check_setup(drawn(seed), step_m=4.0)):
            seen.add((one.reading.code, one.level))
            assert one.reading.change is not None
            assert all(amount.value >= 0.0 for amount in one.reading.change.amounts), one
            for system in get_args(System):
                words = LEFT.sub("", change_words(one, Amounts(system)))
                amounts = re.findall(r"(-?\d[\d.,]*) (?:m/s|m|ft/s|ft|t|lb|mph|deg)\b", words)
                assert "no limit" not in words and "{" not in words, words
                assert all(float(amount.replace(",", "")) > 0.0 for amount in amounts), words
    codes = {code for code, _ in seen}
    assert {
        "capacity",
        "stall",
        "head room",
        "rope left",
        "bearing",
        "off plumb",
        "live lane",
        "gap over",
        "slew",
        "overhead line",
        "two-unit mark",
    } <= codes
    both = {code for code in codes if {(code, "stop"), (code, "caution")} <= seen}
    assert {"capacity", "head room", "off plumb", "live lane", "bearing"} <= both, "limits of either kind were met"


def _caution(lift: Description, code: str) -> Finding:
    """The worst of both units."""
    found = [one for one in check_setup(lift, step_m=4.0).findings if one.reading.code == code]
    one = min(found, key=lambda each: each.reading.margin)
    assert one.level == "caution"
    return one


def _more(lift: Description, code: str) -> float:
    change = _caution(lift, code).reading.change
    assert change is not None
    return change.amounts[0].value


CURES: dict[str, tuple[Description, Callable[[Description, float], Description]]] = {
    "head room": (
        path(shipped(), tip_height_m=shipped().path.tip_height_m - 0.4),
        lambda lift, more: path(lift, tip_height_m=lift.path.tip_height_m + more),
    ),
    "rope left": (
        hoist(shipped(), usable_rope_m=shipped().units[0].hoist.usable_rope_m - 18.0),
        lambda lift, more: hoist(lift, usable_rope_m=lift.units[0].hoist.usable_rope_m + more),
    ),
    "bearing": (
        floats(shipped(), pad_side_m=0.65),
        lambda lift, more: floats(lift, pad_side_m=more),
    ),
    "live lane": (
        site(shipped(), live_lane_y_m=shipped().site.live_lane_y_m - 0.6),
        lambda lift, more: site(lift, live_lane_y_m=lift.site.live_lane_y_m + more),
    ),
    "off plumb": (
        site(units(shipped(), wind_stop_mps=60.0), wind=replace(shipped().site.wind, speed_mps=10.0)),
        lambda lift, less: site(lift, wind=replace(lift.site.wind, speed_mps=less - 0.001)),
    ),
}


@pytest.mark.parametrize("code", CURES)
def test_what_a_caution_tells_to_change_cures_it(code: str) -> None:
    """Measured to the limit that was passed, not to the one behind it."""
    lift, cure = CURES[code]
    cured = check_setup(cure(lift, _more(lift, code) + 1e-6), step_m=4.0)
    assert all(one.level == "good" for one in cured.findings if one.reading.code == code)


def test_taking_off_what_a_caution_tells_comes_to_the_caution() -> None:
    """Used is load over what is allowed, so the load that is left uses the limit that was passed, by hand."""
    found = check_setup(_heavier(shipped(), 1.5), step_m=4.0)
    seen = [
        one for one in found.findings if one.reading.code in ("capacity", "two-unit mark") and one.level == "caution"
    ]
    assert seen
    for one in seen:
        stand = next(each for each in found.stations if each.station.name == one.where)
        load_N = stand.units[("nose unit", "tail unit").index(one.reading.who)].line.load_N
        assert one.reading.change is not None
        left_N = load_N - one.reading.change.amounts[0].value
        assert one.reading.value * left_N / load_N == pytest.approx(one.reading.caution)


def test_which_limit_was_passed() -> None:
    """Caution and stop begin at their limits when rising, below them when falling."""
    assert [passed(used, 0.85, 1.0, rising=True) for used in (0.85, 0.99, 1.0, 2.0)] == [0.85, 0.85, 1.0, 1.0]
    assert [passed(room, 1.5, 0.5, rising=False) for room in (1.4, 0.5, 0.4, -1.0)] == [1.5, 1.5, 0.5, 0.5]


@pytest.mark.parametrize(
    ("amount", "metric", "us"),
    [
        (Amount(0.0001, "m"), "0.01 m", "0.01 ft"),
        (Amount(0.61, "m"), "0.61 m", "2.01 ft"),
        (Amount(0.3048, "m"), "0.31 m", "1.00 ft"),
        (Amount(0.3048, "m", is_least=False), "0.30 m", "1.00 ft"),
        (Amount(9806.65, "N"), "1.0 t", "2,300 lb"),
        (Amount(0.0, "N"), "0.1 t", "100 lb"),
        (Amount(10.0, "m/s", is_least=False), "10.0 m/s", "22 mph"),
    ],
)
def test_an_amount_is_rounded_to_what_is_enough(amount: Amount, metric: str, us: str) -> None:
    """0.61 m is 2.0013 ft, a tonne 2204.6 lb, 10 m/s 22.37 mph (NIST SP 811, App. B)."""
    assert Amounts("metric").amount(amount) == metric
    assert Amounts("us").amount(amount) == us


def test_one_name_of_a_station_in_the_users_units() -> None:
    """No station is named by a bare number, and the same one is named alike everywhere in an answer."""
    found = check_setup(drawn(3), step_m=1.0)
    for system, unit in (("metric", "m"), ("us", "ft")):
        lines = setup_lines(found, Amounts(system), every_station=True)  # type: ignore[arg-type]
        places = re.findall(r"crossing ([+-][\d.]+)( \w+)?", "\n".join(lines))
        assert places and {after for _, after in places} == {f" {unit}"}
        rows = set(re.findall(r"^crossing ([+-][\d.]+)", "\n".join(lines), re.MULTILINE))
        assert {number for number, _ in places} == rows


def test_the_verdict_comes_first_and_again_with_what_to_change() -> None:
    found = check_setup(drawn(3), step_m=4.0)
    lines = setup_lines(found, Amounts())
    (first, last) = [i for i, line in enumerate(lines) if line.startswith("A STATED LIMIT")]
    assert first == 1 and lines[first] == lines[last]
    stops, cautions = ([one for one in found.findings if one.level == level] for level in ("stop", "caution"))
    assert lines[first] == f"A STATED LIMIT IS PASSED; {len(stops)} STOP, {len(cautions)} CAUTION"
    assert all(f"STOP    {told(one, Amounts())}" in "\n".join(lines[last:]) for one in stops)
    assert all(
        re.search(r"(?:^| )(?:STOP|CAUTION)$", line) for line in lines[2:last] if line.endswith(("STOP", "CAUTION"))
    )
    assert any(line.endswith(" STOP") for line in lines[2:last])


def test_what_is_too_far_to_be_measured_is_said_to_be_at_least_so_far() -> None:
    """Far is 1.5 m more than close: less is measured, more is a lower bound (said by `Scene.far_m`)."""
    lift = shipped()
    far_m = lift.limits.gap_close_m + 1.5
    found = check_setup(lift, step_m=4.0)
    gaps = [one["gaps"] for one in setup_json(found, "")["stations"]]
    booms = [boom for each in gaps for boom in each["booms"]]
    beside = [one for each in gaps for one in each["beside"]]
    assert {one["at_least"] for one in booms} == {one["at_least"] for one in beside} == {True, False}
    assert all(one["at_least"] == (one["distance_m"] > far_m) for one in booms)
    assert all(one["at_least"] == (max(one["distance_m"], one["over_m"]) > far_m) for one in beside)
    high = check_setup(path(lift, tip_height_m=lift.path.tip_height_m + 5.0), step_m=4.0)
    (room,) = [one for one in high.findings if one.reading.code == "boom"]
    assert room.reading.is_at_least
    assert ": at least " in told(room, Amounts())
