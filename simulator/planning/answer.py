"""What the planning commands share: exit codes, refusals."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from simulator.files.terminal import complain

if TYPE_CHECKING:
    from simulator.scenario.description import Description

OK, REFUSED, BAD_INPUT = 0, 1, 2
"""Exit codes: it works; it does not; input that cannot be used."""
Describe = Callable[[str], "Description | None"]
"""A scenario by file or name; None when it has faults, which are printed."""


def refuse(place: str, given: object, allowed: str) -> int:
    """Say what was given and what is allowed."""
    complain(f"{place}: given {given}, allowed: {allowed}")
    return BAD_INPUT


def hardware_file() -> Path:
    """The tables of rigging hardware that ship with the program."""
    from simulator.places import assets_folder

    return assets_folder() / "hardware.toml"
