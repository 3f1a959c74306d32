"""A small scenario of round numbers, edited by dotted paths, and TOML text of any such tables."""

from __future__ import annotations

import copy
import json
import tomllib
from collections.abc import Callable
from typing import Any

import pytest

SMALL = """
title = "small"
story = "invented"

[site]
section = [[20, 0], [-5, 0], [-6, -10], [-20, -10]]
edge_y = -5

[each_unit]
tailboard = 3
deck_height = 1
carrier = 20000
carrier_cg = 1
superstructure = 10000
superstructure_cg = 1.5
boom_mass = 5000

[each_unit.boom]
shortest = 6
longest = 14
lowest = 0
highest = 1
foot_pin_back = 1
foot_pin_height = 2

[each_unit.floats]
toward_tailboard = 3
toward_cab = 4
across = 3

[each_unit.rating]
boom_lengths = [6, 10, 14]
radii = [4, 8, 12]
rated = [[9000, 9000, 8000], [0, 6000, 6000], [0, 0, 3000]]

[[units]]
name = "nose"
slew_axis_x = -9

[units.start]
boom_length = 10
elevation = 0.6
slew = -1

[[units.lines]]
pick = "nose"
rope_out = 40

[[units]]
name = "tail"
slew_axis_x = 9

[units.start]
boom_length = 10
elevation = 0.6
slew = -1

[[units.lines]]
pick = "tail"
rope_out = 40

[[trailer.picks]]
name = "nose"
at = [-5, 0, 3]

[[trailer.picks]]
name = "tail"
at = [5, 0, 3]

[trailer.cargo]
mass = 9000
cg = [0, 0, 2]
size = [8, 2, 1]

[[trailer.parts]]
name = "box"
outline = [[-6, 1], [6, 1], [6, 3], [-6, 3]]
width = 2
mass = 1000

[[trailer.parts]]
name = "wheels"
outline = [[3, 0], [5, 0], [5, 1], [3, 1]]
width = 2
mass = 0

[trailer.start]
x = 0
y = -8

[path]
belly_over_road = 2
tip_height = 9

[landing]
y = 6
"""

GONE = object()
"""In an edit: take the value away."""


def toml_text(tables: dict[str, Any]) -> str:
    """TOML of tables read by tomllib, tables inside in their inline form."""
    return "\n".join(f"{json.dumps(key)} = {_inline(value)}" for key, value in tables.items())


def _inline(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key)} = {_inline(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_inline(item) for item in value) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    return str(value)


def edited(tables: dict[str, Any], edits: dict[str, Any]) -> dict[str, Any]:
    """A copy of tables with the values at dotted paths (numbers index lists) put in or taken away."""
    result = copy.deepcopy(tables)
    for path, value in edits.items():
        *above, last = (int(step) if step.isdigit() else step for step in path.split("."))
        spot: Any = result
        for step in above:
            spot = spot.setdefault(step, {}) if isinstance(spot, dict) else spot[step]
        if value is GONE:
            del spot[last]
        else:
            spot[last] = value
    return result


@pytest.fixture
def small() -> Callable[..., str]:
    """Text of the small scenario with edits; `GONE` takes a value away."""
    return lambda edits=None: toml_text(edited(tomllib.loads(SMALL), edits or {}))
