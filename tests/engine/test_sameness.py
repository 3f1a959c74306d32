"""Same description and commands: the same state, bit for bit. A mirrored scene: the mirrored result."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from simulator.engine.commands import STILL, Commands, UnitCommands
from simulator.engine.simulation import Simulation
from tests.engine.lifts import HANDS, LIFT, driven, mirrored, work

ROOT = Path(__file__).resolve().parents[2]
PRINT_HASH = "from tests.engine.lifts import *; print(driven(LIFT).state_hash)"


@pytest.fixture(scope="module")
def driven_once() -> Simulation:
    return driven(LIFT)


@pytest.mark.long_in_plain
def test_two_instances_and_a_fresh_process_agree(driven_once: Simulation) -> None:
    other = subprocess.run([sys.executable, "-c", PRINT_HASH], cwd=ROOT, capture_output=True, text=True, check=True)
    assert driven(LIFT).state_hash == driven_once.state_hash == other.stdout.strip()


PRINT_BOTH = """
import hashlib
import numpy
from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.engine.commands import still
from simulator.places import find_scenario
from simulator.scenario.reader import load
some = numpy.random.default_rng(1).random((60, 60))
lift = load(find_scenario("set_down"))
attempt = Attempt(lift, [Partner(lift, end) for end in range(2)], in_bulk=True)
attempt.advance(still(attempt.rig), 20 * lift.engine.steps_per_s)
print(hashlib.sha256(numpy.linalg.inv(some) @ some).hexdigest(), attempt.state_hash)
"""


@pytest.mark.long_in_plain
def test_states_do_not_depend_on_how_the_linear_algebra_of_this_processor_is_done() -> None:
    """Two kernels of OpenBLAS give an inverse other last bits, and a lift with its operators the same ones."""
    said = [
        subprocess.run(
            [sys.executable, "-c", PRINT_BOTH], cwd=ROOT, capture_output=True, text=True, check=True,
            env={**os.environ, "OPENBLAS_CORETYPE": kernel},
        ).stdout.split()
        for kernel in ("Haswell", "Nehalem")
    ]  # fmt: skip
    (inverse, state), (other_inverse, other_state) = said
    if inverse == other_inverse:
        pytest.skip("numpy has no OpenBLAS here, or one kernel only")
    assert state == other_state


OUTLIVES = """
import sys
from types import ModuleType
sys.modules["early"] = early = ModuleType("early")
import pymunk.space
from tests.engine.lifts import *
early.lift = Simulation(LIFT)
early.lift.step(STILL)
sys.both = [early, pymunk.space]
"""
"""Python takes modules apart in the reverse order of their imports: pymunk's first, then the one that keeps a lift."""


def test_a_lift_that_is_kept_to_the_end_of_python_goes_without_a_word() -> None:
    done = subprocess.run([sys.executable, "-c", OUTLIVES], cwd=ROOT, capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")


def test_reset_goes_back_to_the_very_start(driven_once: Simulation) -> None:
    simulation = Simulation(LIFT)
    started = simulation.state_hash
    work(simulation)
    assert simulation.state_hash != started
    simulation.reset()
    assert simulation.state_hash == started
    work(simulation)
    assert simulation.state_hash == driven_once.state_hash


def test_a_restored_state_goes_on_as_if_nothing_had_been(driven_once: Simulation) -> None:
    """Kept in the middle of the lift, taken up by another instance."""
    simulation = Simulation(LIFT)
    for steps, commands in HANDS[:2]:
        for _ in range(steps):
            simulation.step(commands)
    kept = simulation.state
    other = Simulation(LIFT)
    other.step(STILL)
    other.restore(kept)
    for steps, commands in HANDS[2:]:
        for _ in range(steps):
            other.step(commands)
    assert other.state_hash == driven_once.state_hash


def test_one_command_more_is_another_state(driven_once: Simulation) -> None:
    """The hash sees the smallest change."""
    simulation = Simulation(LIFT)
    simulation.step(Commands(UnitCommands(slew=0.001), UnitCommands()))
    other = Simulation(LIFT)
    other.step(Commands(UnitCommands(slew=0.001 + 1e-12), UnitCommands()))
    assert simulation.state_hash != other.state_hash
    assert driven_once.state.step == sum(steps for steps, _ in HANDS)


def test_the_lift_of_these_tests_leaves_the_bed_and_moves_every_way(driven_once: Simulation) -> None:
    """What is compared is worth comparing."""
    motion, started = driven_once.state.motion, Simulation(LIFT).state.motion
    assert driven_once.state.ground.stretches == ()
    assert motion.z > started.z + 0.3
    assert all(abs(now - then) > 0.005 for now, then in zip(motion[3:6], started[3:6], strict=True))


def test_pymunk_moves_the_load_to_the_very_pose_of_the_state(driven_once: Simulation) -> None:
    """The engine does not ask it for x and z: `ahead` has them, to the last bit."""
    assert driven_once._load is not None
    body, motion, started = driven_once._load._body, driven_once.state.motion, Simulation(LIFT).state.motion
    assert tuple(body.position) == (motion.x, motion.z) and -body.angle == motion.pitch
    assert tuple(body.position) != (started.x, started.z)


def test_every_value_of_a_state_has_all_its_fields(driven_once: Simulation) -> None:
    """Those made inside a step are made without being counted."""

    def look(value: object) -> int:
        if not isinstance(value, tuple):
            return 0
        fields = getattr(value, "_fields", None)
        assert fields is None or len(value) == len(fields), type(value).__name__
        return (fields is not None) + sum(look(part) for part in value)

    kinds = ("State", "Motion", "GroundPush", *2 * ("BoomState", "Drives", "Stance", "LineState", "Hang"))
    assert look(driven_once.state) == len(kinds)


def test_a_mirrored_scene_gives_the_mirrored_result(driven_once: Simulation) -> None:
    """x, pitch and yaw turn over, all else stays, ends change places; to rounding, as sums are in other order."""
    mirror = driven(mirrored(LIFT), swapped=True)
    here, there = driven_once.state, mirror.state
    signs = dict.fromkeys(("x", "pitch", "yaw", "vx", "pitch_rate", "yaw_rate", "oy", "oz", "ly", "lz"), -1.0)
    for name, value in here.motion._asdict().items():
        scale = 1e5 if name.startswith("l") else 1.0
        assert getattr(there.motion, name) * signs.get(name, 1.0) == pytest.approx(value, abs=1e-6 * scale), name
    for line, facing in zip(here.lines, there.lines[::-1], strict=True):
        assert facing.hook_load_N == pytest.approx(line.hook_load_N, abs=1.0)
    for boom, other in zip(here.booms, there.booms[::-1], strict=True):
        assert other.tip == pytest.approx((-boom.tip[0], boom.tip[1], boom.tip[2]), abs=1e-6)
        assert other.stance.floats_N == pytest.approx(boom.stance.floats_N, abs=1.0)
        assert other.drives == pytest.approx(boom.drives, abs=1e-9)
