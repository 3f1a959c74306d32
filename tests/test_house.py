"""The house: which wing may import which, what stays behind a gate, how long things are, which words are used."""

import ast
import os
import subprocess
import sys
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

from tests.house import LONGEST_FUNCTION, LONGEST_MODULE, MAY_IMPORT, faults, lengths

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "simulator"
MODULES = sorted(path.relative_to(PACKAGE).as_posix() for path in PACKAGE.rglob("*.py"))
OTHERS = sorted(
    path.relative_to(ROOT).as_posix() for folder in ("tests", "tools") for path in (ROOT / folder).rglob("*.py")
)

LONG_FUNCTION = "def f() -> None:\n" + "    pass\n" * LONGEST_FUNCTION

BROKEN = [
    ("drill/coach.py", "def f(now):\n    return now.nose", "writes .nose"),
    ("drill/coach.py", "def f(end):\n    return 1 - end", "writes 1 - end"),
    ("report/lift/moves.py", "def f():\n    for end in (0, 1):\n        print", "writes (0, 1)"),
    ("engine/model.py", "def f(state):\n    a, b = state.units\n    return a", "unpacks two"),
    ("engine/model.py", "def f(pair):\n    nose, tail = pair\n    return nose", "unpacks two"),
    ("scenario/reader.py", "from simulator.mechanics.boom import tip_m", "scenario imports mechanics.boom"),
    ("mechanics/boom.py", "from simulator.readings import Readings", "mechanics imports readings"),
    ("engine/simulation.py", "from simulator.drill.judge import judge", "engine imports drill.judge"),
    ("engine/simulation.py", "from ..window import camera", "engine imports window"),
    ("drill/judge.py", "from simulator.engine.state import State", "drill imports engine.state"),
    ("drill/judge.py", "from simulator.engine import state", "drill imports engine.state"),
    (
        "report/lift/debrief.py",
        "def f() -> None:\n    from simulator.engine.simulation import step",
        "report imports engine",
    ),
    ("report/lift/debrief.py", "from simulator.mechanics.boom import tip_m", "report imports mechanics"),
    ("plan/sweep.py", "import simulator.attempt", "plan imports attempt"),
    ("readings.py", "from simulator.scenario.unit import Unit", "allowed: channel_rows"),
    ("attempt.py", "from simulator.__main__ import main", "attempt imports __main__"),
    ("attempt.py", "from simulator import readings", "through the package root"),
    ("attempt.py", "from . import readings", "through the package root"),
    ("attempt.py", "import simulator", "through the package root"),
    ("__main__.py", "from simulator.window.scene.camera import Camera", "inside the command"),
    ("engine/simulation.py", "import pymunk", "imports pymunk, allowed in engine/load.py"),
    ("window/scene/camera.py", "import pygame", "imports pygame"),
    ("report/lift/debrief.py", "from pygame import Surface", "imports pygame"),
    ("mechanics/boom.py", "from shapely.geometry import Polygon", "imports shapely"),
    ("plan/sweep.py", "import matplotlib.pyplot as plt", "imports matplotlib"),
    ("rehearsal/many.py", "from distributed import Client", "imports distributed"),
    ("engine/simulation.py", "from time import monotonic", "imports time"),
    ("recording/recorder.py", "from datetime import datetime\nx = datetime.now()", "asks the wall clock with now"),
    ("recording/recorder.py", "import uuid", "imports uuid, allowed in no module"),
    ("engine/weather.py", "import random\nx = random.random()", "without the scenario's seed"),
    ("engine/weather.py", "from random import Random\nx = Random()", "without the scenario's seed"),
    ("plan/sweep.py", "import numpy as np\nx = np.random.default_rng()", "without the scenario's seed"),
    ("plan/sweep.py", "import numpy as np\nx = np.random.normal(0, 1)", "without the scenario's seed"),
    ("attempt.py", "x = open('a')", "opens a file with open"),
    ("attempt.py", "from pathlib import Path\nx = Path('a').read_text()", "opens a file with read_text"),
    ("plan/sweep.py", "def f(path):\n    path.write_bytes(b'')", "opens a file with write_bytes"),
    ("engine/load.py", "print('here')", "prints"),
    ("engine/load.py", "import importlib\nx = importlib.import_module('pygame')", "imports by a call"),
    ("engine/load.py", "x = 1\n" * (LONGEST_MODULE + 1), f"at most {LONGEST_MODULE}"),
    ("engine/load.py", LONG_FUNCTION, f"at most {LONGEST_FUNCTION}"),
    ("engine/load.py", "class A:\n" + "".join("    " + line + "\n" for line in LONG_FUNCTION.splitlines()), "at most"),
    ("mechanics/boom.py", "def luff_rad() -> None: ...", "luff_rad says luff"),
    ("mechanics/boom.py", "def f(*, crane_kg: float) -> None: ...", "crane_kg says crane"),
    ("mechanics/boom.py", "class CraneState: ...", "CraneState says crane"),
    ("engine/state.py", "class State:\n    swing_m: float", "swing_m says swing"),
    ("engine/state.py", "MOST_TILT_RAD = 1.0", "says tilt"),
    ("engine/machine.py", "", "machine says machine"),
    ("drill/judge.py", "class StepHandler: ...", "StepHandler says handler"),
    ("drill/judge.py", "class BaseStep: ...", "no Base classes"),
]

ALLOWED = [
    ("drill/partner.py", "from simulator.engine.commands import Commands"),
    ("window/hands/seats.py", "import time\nimport pygame\nfrom simulator.engine import commands"),
    ("engine/load.py", "import pymunk\nfrom simulator.engine.state import State\nfrom .motion import Motion"),
    ("mechanics/clearance/gaps.py", "from shapely import Polygon\nfrom simulator.scenario.unit import Unit"),
    ("engine/weather.py", "from random import Random\nx = Random(7)"),
    ("scenario/faults.py", "from datetime import date\nNAMES = {date: 'a date'}"),
    ("plan/sweep.py", "import numpy as np\nx = np.random.default_rng(7)"),
    ("files/writing.py", "x = open('a')"),
    ("files/terminal.py", "print('a')"),
    ("scenario/faults.py", "from simulator.files.plain_text import one_line"),
    ("scenario/rig.py", "class Rig: ..."),
    ("engine/commands.py", "from simulator.scenario.rig import Rig"),
    ("__main__.py", "def main() -> None:\n    from simulator.window.scene.camera import Camera\n    x = Camera"),
    ("scenario/trailer.py", "class Rigging:\n    rigging_kg: float\n    tail_swing_m: float\n    _swing: float"),
    ("engine/load.py", "x = 1\n" * LONGEST_MODULE),
    ("engine/load.py", LONG_FUNCTION.removesuffix("    pass\n")),
]


@pytest.mark.parametrize("path", MODULES)
def test_every_module_keeps_the_house(path: str) -> None:
    assert not [str(one) for one in faults(path, (PACKAGE / path).read_text(encoding="utf-8"))]


@pytest.mark.parametrize("path", OTHERS)
def test_tests_and_tools_are_short_too(path: str) -> None:
    source = (ROOT / path).read_text(encoding="utf-8")
    assert not list(lengths(source, ast.parse(source)))


def test_the_wings_are_there() -> None:
    assert {"scenario/description.py", "readings.py", "engine/load.py"} <= set(MODULES)


def test_allowed_imports_go_one_way() -> None:
    TopologicalSorter(MAY_IMPORT).prepare()


def contracts(folder: Path) -> subprocess.CompletedProcess[str]:
    """What import-linter says of the contracts of a folder's `pyproject.toml`."""
    asked = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True, no_logo=True))"
    environment = {**os.environ, "PYTHONPATH": str(folder)}
    return subprocess.run(
        [sys.executable, "-c", asked], cwd=folder, env=environment, capture_output=True, encoding="utf-8"
    )


def test_imports_keep_the_contracts() -> None:
    found = contracts(ROOT)
    assert found.returncode == 0 and "0 broken" in found.stdout, found.stdout + found.stderr


@pytest.mark.parametrize("late", ["from ring.b import y", "def f():\n    from ring.b import y"])
def test_a_circle_is_found_wherever_the_import_stands(tmp_path: Path, late: str) -> None:
    ring = tmp_path / "ring"
    ring.mkdir()
    for name, text in {"__init__": "", "a": late, "b": "y = 1"}.items():
        (ring / f"{name}.py").write_text(text + "\n", encoding="utf-8")
    rule = '[[tool.importlinter.contracts]]\nname = "none"\ntype = "acyclic_siblings"\nancestors = ["ring"]\n'
    (tmp_path / "pyproject.toml").write_text(f'[tool.importlinter]\nroot_package = "ring"\n{rule}', encoding="utf-8")
    assert "0 broken" in contracts(tmp_path).stdout
    types = "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    from ring.a import z\ny = 1\n"
    (ring / "b.py").write_text(types, encoding="utf-8")
    found = contracts(tmp_path)
    assert found.returncode == 1 and "1 broken" in found.stdout


@pytest.mark.parametrize(("path", "source", "part"), BROKEN, ids=[f"{path}: {part}" for path, _, part in BROKEN])
def test_a_broken_rule_is_found(path: str, source: str, part: str) -> None:
    found = [str(one) for one in faults(path, source)]
    assert len(found) == 1, found
    assert part in found[0]
    assert found[0].startswith(f"{path}:")


@pytest.mark.parametrize(("path", "source"), ALLOWED)
def test_what_is_allowed_passes(path: str, source: str) -> None:
    assert faults(path, source) == []
