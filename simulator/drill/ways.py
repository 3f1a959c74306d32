"""The ways in which an automatic operator may drive: able, clumsy, or with one fault. Names only."""

from __future__ import annotations

from typing import Literal, get_args

Fault = Literal[
    "hoists straight on",
    "stays out of plumb",
    "hoists early",
    "slews only",
    "chases sway",
    "stops alone",
    "goes on alone",
    "turns alone",
    "out faster than in",
    "rushes the corner",
    "turns low",
    "turns near the lane",
    "turns while swaying",
]
FAULTS: tuple[Fault, ...] = get_args(Fault)
TURN_FAULTS: tuple[Fault, ...] = FAULTS[FAULTS.index("turns alone") :]
"""Those that show only where a load is turned over."""

SKILLS = {"a little clumsy": 0.75, "clumsy": 0.6, "very clumsy": 0.4}
"""How able the automatic hands are: 1 is the usual partner."""
WAYS = ("able", *SKILLS, *FAULTS)
"""Every way in which an automatic operator may drive, by its name."""
