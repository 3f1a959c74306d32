"""The tables of rigging hardware that ship with the program, read once."""

from __future__ import annotations

from functools import lru_cache

from simulator.places import assets_folder
from simulator.scenario.hardware import Hardware
from simulator.scenario.reader_hardware import load_hardware


@lru_cache(maxsize=1)
def shipped_hardware() -> Hardware:
    """Every table.

    Raises:
        BrokenScenario: somebody has edited the file and broken it.
    """
    return load_hardware(assets_folder() / "hardware.toml")
