"""Named soils: known ones bring their numbers, others must bring both themselves."""

from pathlib import Path

import pytest

from simulator.places import find_scenario
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import parse_text

NUMBERS = ("allowable_bearing", "steepest_angle")


def without_numbers(name: str) -> str:
    """The tank's scenario on a soil that is only named."""
    lines = Path(find_scenario("tank_on_side")).read_text(encoding="utf-8").splitlines()
    return "\n".join(line for line in lines if not line.startswith(NUMBERS)).replace("rock shoulder", name)


def test_a_soil_nobody_knows_must_bring_its_numbers() -> None:
    with pytest.raises(BrokenScenario) as broken:
        parse_text(without_numbers("moon dust"), "tank")
    (fault,) = broken.value.faults
    assert fault.place == "tank: [site.soil] name"
    assert "moon dust" in fault.given
    assert "crystalline bedrock" in fault.allowed


def test_a_named_soil_brings_its_numbers() -> None:
    """IBC 2012 Table 1806.2: 191.5 kPa (secondary copy)."""
    assert parse_text(without_numbers("sedimentary rock"), "tank").site.soil.allowable_bearing_Pa == 191.5e3
