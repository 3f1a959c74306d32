"""Common units are read without the units library, and come out as the library reads them, to the last bit."""

import random
import subprocess
import sys

import pytest

from simulator.scenario import measures
from simulator.scenario.measures import COMMON, parse


@pytest.mark.parametrize(("given", "unit"), sorted(COMMON))
def test_common_units_are_those_of_the_units_library(monkeypatch: pytest.MonkeyPatch, given: str, unit: str) -> None:
    chance = random.Random(f"{given} {unit}")
    texts = [f"{round(chance.uniform(-100, 1000), chance.randrange(4))} {given}" for _ in range(200)]
    texts += [f"0 {given}", f"7 {given}", f" -.5 {given} ", f"1e3  {given}"]
    ours = [parse.__wrapped__(text, unit) for text in texts]
    monkeypatch.setattr(measures, "COMMON", {})
    assert ours == [parse.__wrapped__(text, unit) for text in texts]


def test_a_unit_of_another_dimension_is_still_a_fault() -> None:
    with pytest.raises(ValueError, match="is not in N"):
        parse("12 t", "N")


@pytest.mark.parametrize("name", ["tank_on_side", "box_on_wheels", "practice_yard"])
def test_shipped_lifts_are_read_without_the_units_library(name: str) -> None:
    """Importing the library takes longer than all the rest of reading a lift."""
    code = f"""
import sys
from simulator.places import find_scenario
from simulator.scenario.reader import load
load(find_scenario({name!r}))
sys.exit("pint" in sys.modules)
"""
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
