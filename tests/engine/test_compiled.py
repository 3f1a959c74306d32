"""The compiled engine and its sources, pymunk's body and the bulk run: one and the same lift, bit for bit."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from simulator import compiled
from simulator.engine.commands import still
from simulator.engine.simulation import Simulation
from tests.engine.lifts import HANDS, LIFT
from tests.engine.scenes import block, hung

ROOT = Path(__file__).parents[2]


def test_a_bulk_run_is_pymunks_own_to_the_last_bit() -> None:
    """On the bed, off it, in wind, hung and set about: the state at every second."""
    by_pymunk, in_bulk = Simulation(LIFT), Simulation(LIFT, in_bulk=True)
    assert in_bulk.state_hash == by_pymunk.state_hash
    for steps, commands in HANDS:
        for _ in range(steps // 120):
            by_pymunk.run(commands, 120)
            in_bulk.run(commands, 120)
            assert in_bulk.state_hash == by_pymunk.state_hash
    assert by_pymunk.state.motion.pitch_rate != 0.0


def test_a_level_box_at_rest_has_the_same_zeros_either_way() -> None:
    """Nothing turns it, so its turning is a zero: of one sign, or the hashes differ."""
    by_pymunk, in_bulk = (hung(block()) for _ in range(2))
    in_bulk.in_bulk = True
    for simulation in (by_pymunk, in_bulk):
        simulation.run(still(simulation.model.rig), 50)
    assert in_bulk.state_hash == by_pymunk.state_hash


def test_a_bulk_run_can_be_left_and_taken_up_at_any_step() -> None:
    one, other = Simulation(LIFT, in_bulk=True), Simulation(LIFT)
    for steps, commands in HANDS[:2]:
        one.run(commands, steps)
        one.in_bulk = not one.in_bulk
        for _ in range(steps):
            other.step(commands)
    assert one.state_hash == other.state_hash


def lifts(body: str, **switches: str) -> subprocess.Popen[str]:
    """All lifts, drills and rough tracks in a process of their own."""
    command = [sys.executable, "-m", "tests.engine.sameness_of_builds", body]
    own = {**os.environ, "PYTHONPATH": str(ROOT), **switches}
    pipe = subprocess.PIPE
    return subprocess.Popen(command, cwd=ROOT, env=own, stdout=pipe, stderr=pipe, encoding="utf-8")


@pytest.mark.skipif(not compiled.runs(), reason="the engine is not compiled here")
def test_every_lift_is_the_same_compiled_and_not() -> None:
    both = [lifts("bulk"), lifts("pymunk", **{compiled.SWITCH: "1"})]
    (fast, ran), (plain, ran_plain) = (process.communicate() for process in both)
    assert [process.returncode for process in both] == [0, 0], ran + ran_plain
    assert ran.strip().endswith("compiled") and ran_plain.strip().endswith("plain Python")
    assert fast.splitlines() == plain.splitlines()
    assert len(fast.splitlines()) >= 13


def test_sources_that_have_changed_are_run_as_they_are(tmp_path: Path) -> None:
    """What was compiled counts only for the sources it was made from."""
    package = tmp_path / "simulator"
    for room in compiled.ROOMS:
        copy = compiled.source_of(room, package)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_bytes(compiled.source_of(room).read_bytes())
    folder = tmp_path / "made"
    folder.mkdir()
    assert not compiled.is_fresh(folder, package)
    compiled.stamp(folder).write_text(compiled.digest(package), encoding="ascii")
    assert compiled.is_fresh(folder, package)
    changed = compiled.source_of("engine.lines", package)
    changed.write_text(changed.read_text(encoding="utf-8") + "\n# one more line\n", encoding="utf-8")
    assert not compiled.is_fresh(folder, package)


def test_a_build_without_a_compiler_says_so_and_leaves_nothing(tmp_path: Path) -> None:
    """A compiler that is not there: a sentence, exit code 1, no library that could be taken for one."""
    said = subprocess.run(
        [sys.executable, "-c", _COMPILE_WITHOUT.format(tools=str(ROOT / "tools"), root=str(ROOT), to=str(tmp_path))],
        env={**os.environ, "CC": str(tmp_path / "no-compiler"), "PATH": str(tmp_path)},
        capture_output=True,
        encoding="utf-8",
        cwd=ROOT,
    )
    assert said.returncode == 0, said.stderr
    assert said.stdout.startswith("The engine runs in plain Python, since")
    assert not list(tmp_path.iterdir())


_COMPILE_WITHOUT = """
import sys
from pathlib import Path
sys.path.insert(0, {tools!r})
from compile_engine import compiled
print(compiled(Path({root!r}), Path({to!r})))
"""
