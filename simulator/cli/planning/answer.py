"""What the planning commands share: exit codes, refusals."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from simulator.cli.exit_codes import BAD_INPUT
from simulator.files.terminal import complain

if TYPE_CHECKING:
    from simulator.scenario.description import Description

Describe = Callable[[str], "Description | None"]
"""A scenario by file or name; None when it has faults, which are printed."""


def refuse(place: str, given: object, allowed: str) -> int:
    """Say what was given and what is allowed."""
    complain(f"{place}: given {given}, allowed: {allowed}")
    return BAD_INPUT
