"""A lift that cannot begin as it is described: told with the file, before anything moves."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.cli.starting import load_sound
from simulator.engine.simulation import Simulation
from simulator.engine.time_zero import unfit
from simulator.places import find_scenario, shipped_drills, shipped_scenarios
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load, parse_text

YARD = find_scenario("practice_yard").read_text(encoding="utf-8")
ROPE = re.search(r"rope_out = [\d.]+", YARD)[0]  # type: ignore[index]
"""Of either line."""
PIT = "[-8.4, -0.4], [-9.4, 0]"


@pytest.mark.parametrize("path", [*shipped_scenarios(), *shipped_drills()], ids=lambda path: path.stem)
def test_every_shipped_lift_can_begin(path: Path) -> None:
    load_sound(path)


def faults(text: str) -> list[str]:
    return list(map(str, unfit("x.toml", Simulation(parse_text(text, "x.toml")))))


def test_a_line_is_slack_or_told_how_much_rope_makes_it_so() -> None:
    said = faults(YARD.replace(ROPE, "rope_out = 25", 1))
    assert len(said) == 1 and said[0].startswith("x.toml: [units 1.lines 1] rope_out: given 25 m, allowed: more than ")
    enough = float(said[0].split("more than ")[1].split(" m")[0])
    assert faults(YARD.replace(ROPE, f"rope_out = {enough + 0.01}", 1)) == []
    assert faults(YARD.replace(ROPE, f"rope_out = {enough - 0.1}", 1)) != []


@pytest.mark.parametrize(("ridge_z_m", "is_in"), [(-0.3, False), (0.1, True), (4.0, True)])
def test_ground_does_not_stand_in_the_trailer(ridge_z_m: float, is_in: bool) -> None:
    ridge = f"[-6.4, -0.4], [-6.5, {ridge_z_m}], [-6.6, -0.4], {PIT}"
    said = faults(YARD.replace(PIT, ridge))
    assert bool(said) == is_in
    assert all("stands" in one and "the underside of frame" in one for one in said)


def test_a_trailer_in_the_air_or_on_a_slide_is_told() -> None:
    text = YARD.replace("settle = 4 ", "settle = 0 ").replace("friction = 0.5", "friction = 0.0")
    text = text.replace("[-8.4, -0.4], [-9.4, 0], [-20, 0]", "[-20, -14.5]")
    said = faults(text.replace(ROPE, "rope_out = 40"))
    assert len(said) == 1 and "does not come to rest" in said[0]


def test_a_unit_that_falls_over_its_floats_by_itself_is_told() -> None:
    """With little else but a boom over the ravine, its CG lies 3 m from the slew axis, past floats 1 m out."""
    light = re.sub(r'^(carrier|superstructure) = "[\d.]+ t"', r'\1 = "1 t"', YARD, flags=re.MULTILINE)
    assert faults(light) == []
    said = faults(re.sub(r"^across = [\d.]+", "across = 1.0", light, flags=re.MULTILINE))
    assert len(said) == 2 and all("floats on which the unit tips over with no load" in one for one in said)


def test_ground_that_does_not_carry_a_unit_alone_is_told_with_the_pad_that_it_carries() -> None:
    """Reaction over the pad's area and the ground's bearing, less 1, times the rate of sinking."""
    small = re.sub(r"pad_side = [\d.]+", "pad_side = 0.05", YARD)
    said = faults(small)
    assert len(said) == 2 and all("floats] pad_side: given 0.05 m, which sinks into this ground" in one for one in said)
    enough = max(float(one.split("allowed: ")[1].split(" m")[0]) for one in said)
    assert faults(small.replace("pad_side = 0.05", f"pad_side = {enough + 0.01:g}")) == []
    assert len(faults(small.replace("pad_side = 0.05", f"pad_side = {enough - 0.02:g}"))) == 2


def test_the_front_door_tells_it_with_its_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "x.toml"
    path.write_text(YARD.replace(ROPE, "rope_out = 25"), encoding="utf-8")
    for command in (["validate", str(path)], ["demo", str(path), "--headless"], ["check", str(path)]):
        assert main(command) == 2
        assert capsys.readouterr().err.count("rope_out: given 25 m") == 2
    assert load(path).title  # its numbers alone are good
    with pytest.raises(BrokenScenario, match=r"line \d+: \[units 1\.lines 1\] rope_out"):
        load_sound(path)


def test_a_share_of_nothing_is_told() -> None:
    with pytest.raises(BrokenScenario, match=r"tandem_share: given 0, allowed: a number, 0\.05 to 1"):
        parse_text(YARD.replace("[each_unit.rating]", "[each_unit.rating]\ntandem_share = 0"), "x.toml")


def test_a_pick_that_no_sling_can_lie_at_is_a_fault_with_its_line(tmp_path: Path) -> None:
    """Out beyond the trailer's end there is nothing to lie on: said as what is wrong with the file, by its line."""
    text = find_scenario("turn_over_tank").read_text(encoding="utf-8")
    said = "at = [-5.3, -1.04, 1.0]"
    assert text.count(said) == 1
    path = tmp_path / "beyond.toml"
    path.write_text(text.replace(said, "at = [-9.9, -1.04, 1.0]"), encoding="utf-8")
    with pytest.raises(BrokenScenario) as broken:
        load_sound(path)
    (fault,) = broken.value.faults
    assert "[trailer.picks 2] at" in fault.place and "line " in fault.place
    assert "no sling can lie" in fault.given and "at = [" in fault.allowed
