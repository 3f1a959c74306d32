"""Numbers as text, in both unit systems. Conversions are recomputed here from NIST SP 811, App. B (exact factors)."""

from __future__ import annotations

from math import inf, nan, radians

import pytest

from simulator.window.kit import measures_shown as shown

FOOT_M = 0.3048
POUND_KG = 0.45359237
GRAVITY = 9.80665
MINUS = "\u2212"


@pytest.mark.parametrize(("tonnes", "text"), [(12.9, "12.9"), (0.44, "0.4"), (99.94, "99.9"), (120.0, "120")])
def test_load_in_tonnes(tonnes: float, text: str) -> None:
    assert shown.load(tonnes * 1000.0 * GRAVITY, "metric") == (text, "t")


@pytest.mark.parametrize(
    ("pounds", "text"),
    [
        (28_432.0, "28,400"),
        (3_950.0, "4,000"),
        (40.0, "0"),
        (-40.0, "0"),
        (104_000.0, "104,000"),
        (-2_000.0, f"{MINUS}2,000"),
    ],
)
def test_load_in_pounds_to_the_hundred(pounds: float, text: str) -> None:
    assert shown.load(pounds * POUND_KG * GRAVITY, "us") == (text, "lb")


@pytest.mark.parametrize("kilopounds", [28.4, 3.9, 104.0])
def test_load_in_thousand_pounds_where_three_digits_fit(kilopounds: float) -> None:
    value = shown.load_in_thousands(kilopounds * 1000.0 * POUND_KG * GRAVITY, "us")
    assert value.unit == "klb" and float(value.text) == pytest.approx(kilopounds)


@pytest.mark.parametrize("feet", [34.8, 8.5, 0.4])
def test_length_in_feet(feet: float) -> None:
    assert shown.length(feet * FOOT_M, "us") == (f"{feet:.1f}", "ft")


@pytest.mark.parametrize(("meters", "text"), [
    (1.16, "+1.16"), (-0.12, f"{MINUS}0.12"), (-9.59, f"{MINUS}9.59"), (9.994, "+9.99"), (9.996, "+10.0"),
    (-10.84, f"{MINUS}10.8"), (123.4, "+123"), (-0.001, "+0.00"), (0.0, "+0.00"),
])  # fmt: skip
def test_gap_keeps_three_digits_and_its_sign_and_never_minus_zero(meters: float, text: str) -> None:
    assert shown.gap(meters, "metric").text == text


@pytest.mark.parametrize("value", [0.0, 0.3, 5.0, 9.95, 27.3, 99.9])
def test_both_systems_use_at_most_the_same_digits(value: float) -> None:
    for system in ("metric", "us"):
        load = shown.load_in_thousands(value * 9e3, system)
        texts = (shown.length(value, system).text, shown.gap(-value, system).text, load.text)
        assert all(sum(letter.isdigit() for letter in text) <= 3 for text in texts)


def test_angle_percent_seconds_clock_speed() -> None:
    assert shown.angle(radians(-2.1)).joined == "2.1°"
    assert shown.angle(radians(61.4), decimals=0).text == "61"
    assert shown.percent(0.714).joined == "71 %"
    assert shown.seconds(4.94).joined == "4.9 s"
    assert [shown.clock(t) for t in (0.0, 59.9, 252.0, 3600.0)] == ["00:00", "00:59", "04:12", "60:00"]
    assert [shown.speed(x) for x in (0.5, 1.0, 2.0, 4.0)] == ["½x", "1x", "2x", "4x"]


@pytest.mark.parametrize("value", [nan, inf])
def test_no_value_is_a_dash(value: float) -> None:
    assert shown.percent(value).text == shown.gap(value, "us").text == shown.load(value, "us").text == "–"
    assert shown.clock(value) == "00:00"
