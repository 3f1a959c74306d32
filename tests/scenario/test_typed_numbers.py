"""Numbers as people write them: what is understood, what is refused and with which words, and back again."""

from __future__ import annotations

from fractions import Fraction
from math import atan, atan2, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simulator.scenario.asked_numbers import KINDS, SYSTEMS, Field, Kind, System, written
from simulator.scenario.typed_numbers import NotTaken, WhichTons, parse_typed, read, tons_note

FOOT_M, POUND_KG, G = 0.3048, 0.45359237, 9.80665
WIDE: dict[Kind, Field] = {kind: Field("The field", kind, -1e9, 1e9, 2.5908) for kind in KINDS}


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("53'", "length", 53 * FOOT_M),
        ("8'6\"", "length", 8.5 * FOOT_M),
        ("8'-6\"", "length", 8.5 * FOOT_M),
        ("8’ 6½”", "length", (8 + 6.5 / 12) * FOOT_M),
        ("13 ft 6 in", "length", 13.5 * FOOT_M),
        ("13ft6in", "length", 13.5 * FOOT_M),
        ("13 feet 6", "length", 13.5 * FOOT_M),
        ("102 in", "length", 8.5 * FOOT_M),
        ("-8'6\"", "length", -8.5 * FOOT_M),
        ("2.6 m", "length", 2.6),
        ('3/4"', "size", 0.01905),
        ("53,000 lb", "mass", 53000 * POUND_KG),
        ("53000#", "mass", 53000 * POUND_KG),
        ("53 kips", "mass", 53000 * POUND_KG),
        ("26.5 t", "mass", 26500.0),
        ("26 short tons", "mass", 52000 * POUND_KG),
        ("26 metric tons", "mass", 26000.0),
        ("30,000 lb", "force", 30000 * POUND_KG * G),
        ("12 kN", "force", 12000.0),
        ("1:1", "slope", pi / 4),
        ("1.5H:1V", "slope", atan2(1.0, 1.5)),
        ("1V:1.5H", "slope", atan2(1.0, 1.5)),
        ("1 in 6", "slope", atan(1 / 6)),
        ("45%", "slope", atan(0.45)),
        ("45%", "share", 0.45),
        ("12 deg", "angle", 12 * pi / 180),
        ("12°", "angle", 12 * pi / 180),
        ("20 mph", "speed", 20 * 1609.344 / 3600),
        ("2000 psf", "pressure", 2000 * POUND_KG * G / FOOT_M**2),
    ],
)
def test_is_understood_in_either_system(text: str, kind: Kind, expected: float) -> None:
    for system in SYSTEMS:
        assert read(text, WIDE[kind], system).value == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("kind", "metric", "us"),
    [
        ("length", 53.0, 53 * FOOT_M),
        ("size", 0.053, 53 * FOOT_M / 12),
        ("mass", 53e3, 53 * POUND_KG),
        ("force", 53e3 * G, 53 * POUND_KG * G),
        ("speed", 53.0, 53 * 0.44704),
        ("angle", 53 * pi / 180, 53 * pi / 180),
        ("count", 53.0, 53.0),
    ],
)
def test_a_plain_number_means_one_thing_in_each_system(kind: Kind, metric: float, us: float) -> None:
    assert read("53", WIDE[kind], "metric").value == pytest.approx(metric, rel=1e-9)
    assert read("53", WIDE[kind], "us").value == pytest.approx(us, rel=1e-9)


def test_a_ton_is_asked_for_once_and_said_afterwards() -> None:
    for text in ("26 tons", "26 ton", "26T", "26 tn"):
        with pytest.raises(WhichTons, match=r"The field.*short tons.*metric tons"):
            read(text, WIDE["mass"], "us")
    short, metric = (read("26 tons", WIDE["mass"], "us", tons) for tons in ("short", "metric"))
    assert short.value == pytest.approx(52000 * POUND_KG) and metric.value == pytest.approx(26000.0)
    assert tons_note(short.tons) == ("tons are short tons (2,000 lb)",)
    assert tons_note(read("26 t", WIDE["mass"], "metric").tons) == ()


@pytest.mark.parametrize(
    ("text", "kind", "why"),
    [
        ("1,5", "length", "a comma parts thousands only"),
        ("53,00 lb", "mass", "a comma parts thousands only"),
        ("8'14\"", "length", "less than 12 inches"),
        ("8.5' 6\"", "length", "whole feet"),
        ("8' 6 1/3\"", "length", "inches as 6 1/2"),
        ("2:1", "slope", "which part is level"),
        ("0:1", "slope", "more than 0"),
        ("5 kg", "length", "such as"),
        ("5 ft", "mass", "such as"),
        ("", "mass", "such as"),
        ("6 ft 6 in 3", "length", "such as"),
        ("1e999", "mass", "such as"),
        ("nan", "mass", "such as"),
        ("5 T/m", "mass", "such as"),
        ("9" * 80, "mass", "such as"),
    ],
)
def test_a_refusal_names_the_field_and_shows_an_example(text: str, kind: Kind, why: str) -> None:
    for system, example in (("metric", KINDS[kind].metric.name), ("us", KINDS[kind].us.name)):
        with pytest.raises(NotTaken) as refused:
            read(text, WIDE[kind], system)  # type: ignore[arg-type]
        words = str(refused.value)
        assert words.startswith("The field: given ") and why in words and example in words, words


def test_a_refusal_shows_the_users_own_units() -> None:
    field = Field("Trailer length", "length", 3.0, 30.0, 53 * FOOT_M)
    with pytest.raises(
        NotTaken, match=r"^Trailer length: given \"120'\", allowed: a length such as 53' or 53 ft; 9.85 to"
    ):
        read("120'", field, "us")
    with pytest.raises(NotTaken, match=r"a length such as 16 m; 3 to 30 m$"):
        read("120'", field, "metric")


def test_the_ends_of_a_range_are_in_it_whatever_the_units() -> None:
    field = Field("Boom", "length", 20 * FOOT_M, 40 * FOOT_M, 30 * FOOT_M)
    assert read("40'", field, "us").value == pytest.approx(40 * FOOT_M)
    assert read("480 in", field, "us").value == pytest.approx(40 * FOOT_M)
    with pytest.raises(NotTaken):
        read("40' 1/16\"", field, "us")


@given(
    feet=st.integers(0, 999),
    sixteenths=st.integers(0, 191),
    form=st.sampled_from(["{f}' {i}\"", "{f}'{i}\"", "{f} ft {i} in", "{f}ft-{i}in", "{f} feet {i} inches"]),
)
def test_any_feet_and_inches(feet: int, sixteenths: int, form: str) -> None:
    inches, rest = divmod(sixteenths, 16)
    part = Fraction(rest, 16)
    typed = f"{inches} {part}" if rest else f"{inches}"
    expected = (12 * feet + inches + part) * Fraction(254, 10000)
    found = read(form.format(f=feet, i=typed), WIDE["length"], "us").value
    assert found == pytest.approx(float(expected), rel=1e-12, abs=1e-15)


@given(
    kind=st.sampled_from(["length", "size", "mass", "force", "angle", "slope", "speed", "pressure", "share", "count"]),
    amount=st.floats(-5000.0, 5000.0).filter(lambda value: abs(value) > 1e-3),
    system=st.sampled_from(SYSTEMS),
    words=st.booleans(),
)
def test_what_is_written_reads_back_and_is_then_written_the_same(
    kind: Kind, amount: float, system: System, words: bool
) -> None:
    field = WIDE[kind]
    value = amount * (field.plain(system).one if kind != "share" else 1e-4)
    text = written(value, field, system, words=words)
    back = read(text, field, system).value
    plain = field.plain(system)
    last = {"ft": FOOT_M / 1200, "": 1e-4}.get(plain.name, plain.one / 10**plain.decimals)
    assert abs(back - value) <= 0.51 * last, text
    assert written(back, field, system, words=words) == text


@given(text=st.text("0123456789.,'\"/-+:%° ftinmlbkgdeTons", max_size=14), system=st.sampled_from(SYSTEMS))
def test_whatever_is_typed_is_a_number_or_a_sentence(text: str, system: System) -> None:
    for kind in ("length", "mass", "slope", "speed", "share"):
        field = Field("The field", kind, -1e6, 1e6, 2.0)  # type: ignore[arg-type]
        try:
            assert -1e6 <= read(text, field, system).value <= 1e6 * (1 + 1e-9)
        except NotTaken as refused:
            assert str(refused).startswith("The field: given ")


@pytest.mark.parametrize(
    ("text", "unit", "expected"),
    [
        ("8 ft 6 in", "m", 8.5 * FOOT_M),
        ("53'", "m", 53 * FOOT_M),
        ("53,000 lb", "kg", 53000 * POUND_KG),
        ("1:1", "rad", pi / 4),
    ],
)
def test_a_file_may_say_it_so_too(text: str, unit: str, expected: float) -> None:
    assert parse_typed(text, unit) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("text", ["26 tons", "26 ton", "26 T"])
def test_a_file_has_to_say_which_ton(text: str) -> None:
    with pytest.raises(ValueError, match="which ton"):
        parse_typed(text, "kg")
    assert parse_typed("26 t", "kg") == 26000.0
