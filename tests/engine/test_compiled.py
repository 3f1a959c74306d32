"""The compiled engine and its sources, pymunk's body and the bulk run: one and the same lift, bit for bit."""

from __future__ import annotations

import os
import pickle
import random
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from simulator import compiled
from simulator.attempt import Attempt
from simulator.drill.partner import Partner
from simulator.engine.commands import Commands, UnitCommands, still
from simulator.engine.simulation import Simulation
from simulator.places import shipped_drills, shipped_scenarios
from simulator.recording.headless import run_operators, run_track
from simulator.recording.track import CommandChange, read
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from tests.demo import textbook, with_hoist
from tests.draws import drawn
from tests.drill.lessons import coarser
from tests.engine.lifts import HANDS, LIFT
from tests.engine.sameness_of_builds import Course
from tests.engine.scenes import block, displaced, hung
from tests.engine.scenes import with_hoist as with_sway_damping
from tests.engine.test_cargo import DAMPED, hanging, loaded
from tests.engine.test_energy import TRAILER, UNDAMPED, lifted_to_its_lines
from tests.engine.test_flat import SMALL, set_on
from tests.engine.test_going_over import copy_of, overreached
from tests.engine.test_several_lines import halved
from tests.engine.test_stuck_load import stuck
from tests.engine.turned import haul, lift, the_box
from tests.engine.turned import hung as hung_lying
from tests.shipped_lifts import PIECE_S, PIECES_PER_MIN, Demonstrations, Piece, Pieces

pytestmark = pytest.mark.long

TRACKS = Path(__file__).parents[1] / "outside" / "tracks"
ROUGH = {1: "tank_on_side", 2: "tank_on_side", 3: "box_on_wheels"}
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


def lesson(path: Path) -> Course:
    """A shipped drill by the automatic operators: its first minute, or in a roaming run the whole."""
    described = coarser(load(path))
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)], in_bulk=True)
    pieces = Pieces(attempt)
    run_operators(attempt, longest_s=float(drawn(60, 400)))
    return Course(path.stem, attempt.description, list(pieces.all()))  # with the load that was drawn for it


def track(name: str, described: Description, rows: list[CommandChange]) -> Course:
    """A track in bulk."""
    attempt = Attempt(described, in_bulk=True)
    pieces = Pieces(attempt)
    run_track(attempt, rows)
    return Course(name, described, list(pieces.all()))


def rough(number: int) -> Course:
    """A rough track on winches quick enough to jerk a line slack."""
    described = with_hoist(textbook(ROUGH[number]), speed_mps=1.5, ramp_mps2=20.0)
    return track(f"rough {number}", described, read(TRACKS / f"rough_{number}.csv", rig_of(described)))


def several_lines() -> Course:
    """The small lift off the bed with two lines on each unit."""
    rows, step = [], 0
    for steps, hands in HANDS:
        rows.append(CommandChange(step / 240.0, Commands(*((hoist, 0.9 * hoist, *boom) for hoist, *boom in hands))))
        step += steps
    return track("two lines a unit", halved(LIFT), [*rows, CommandChange(step / 240.0, rows[-1].commands)])


def at_random(path: Path) -> Course:
    """A shipped lift under hands that do anything, half a minute."""
    described, lot = load(path), random.Random(1)
    units = rig_of(described).units
    asked = [Commands(*(tuple(lot.uniform(-1.0, 1.0) for _ in unit.levers) for unit in units)) for _ in range(11)]
    return track(f"{path.stem} at random", described, [CommandChange(3.0 * i, one) for i, one in enumerate(asked)])


def let_go(name: str, simulation: Simulation, hands: Commands | None = None) -> Course:
    """A scene in bulk under hands that do not move, half a minute from where it stands."""
    per_s, asked = round(1.0 / simulation.model.dt), hands or still(simulation.model.rig)
    length, apart = round(PIECE_S * per_s), round(60.0 / PIECES_PER_MIN * per_s)
    pieces, simulation.in_bulk = [], True
    for _ in range(PIECES_PER_MIN // 2):
        begins = simulation.state
        simulation.run(asked, length)
        pieces.append(Piece(begins, ((asked, length),), simulation.state_hash))
        simulation.run(asked, apart - length)
    return Course(name, simulation.description, pieces)


def scenes() -> Iterator[Course]:
    """Of the longest of the tests that are `long_in_plain`, and a load that tips off a waiting deck."""
    tank, box = hanging(loaded(slosh_damping_ratio=0.05)), hung_lying(lift(the_box(), steps_per_s=960))
    swings = hung(TRAILER, hang_m=17.0, units=UNDAMPED)
    dies_out = hung(block(pick_over_cg_m=1.3), units=with_sway_damping({"sway_damping_ratio": 0.04}))
    for name, simulation in (("slosh", tank), ("sway", swings), ("sway that dies out", dies_out)):
        displaced(simulation, along=1.0, across=0.5, yaw=0.1)
        lifted_to_its_lines(simulation)
        yield let_go(name, simulation)
    nose_out = Commands(UnitCommands(hoist=-1.0), UnitCommands())
    for kind in ("liquid", "bulk"):
        pitching = hanging(loaded(kind, slosh_damping_ratio=0.3, repose_rad=0.1), DAMPED)
        yield let_go(f"{kind}, an end let out", pitching, nose_out)
    yield let_go("half over a deck's side", set_on(SMALL, y_m=0.95))
    for name, hands in (
        ("aside", UnitCommands(hoist=1.0, slew=1.0)),
        ("up", UnitCommands(elevation=1.0, telescope=1.0)),
    ):
        yield let_go(f"stuck, pulled {name}", Simulation(stuck()), Commands(hands, hands))
    haul(box, 2.4)
    box.place(box.state.motion._replace(vy=1.5))
    yield let_go("slings that come to bear", box)


def going_over() -> Course:
    """A unit that has begun to go over, left to itself until it is lost; and saved by lowering."""
    simulation = overreached(0.5)
    pieces = []
    for hands in (UnitCommands(), UnitCommands(hoist=-1.0)):
        other = copy_of(simulation)
        for _ in range(8):
            at = other.state
            other.run(Commands(hands, UnitCommands()), 48)
            pieces.append(Piece(at, ((Commands(hands, UnitCommands()), 48),), other.state_hash))
    assert all(len(piece.at.booms[0].over) for piece in (pieces[0], pieces[8]))
    return Course("goes over", simulation.description, pieces)


@pytest.mark.skipif(not compiled.runs(), reason="the engine is not compiled here")
def test_every_lift_is_the_same_compiled_and_not(tmp_path: Path, demonstrated: Demonstrations) -> None:
    """Lifts, drills, rough tracks and scenes, compiled and in bulk; a tenth of a second in every five again in plain
    Python, by pymunk. A roaming run does all of them again."""
    shipped = [(path.stem, demonstrated(path)) for path in shipped_scenarios()]
    courses = [Course(name, lift.description, lift.pieces) for name, lift in shipped]
    courses += [*map(lesson, shipped_drills()), *map(rough, ROUGH), several_lines(), going_over(), *scenes()]
    courses += map(at_random, shipped_scenarios())
    kept = tmp_path / "courses.pickle"
    kept.write_bytes(pickle.dumps(courses))
    plain = subprocess.run(
        [sys.executable, "-m", "tests.engine.sameness_of_builds", str(kept)],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), compiled.SWITCH: "1"},
        capture_output=True,
        encoding="utf-8",
    )
    assert plain.returncode == 0 and plain.stderr.strip().endswith("plain Python"), plain.stderr
    assert plain.stdout.splitlines() == [f"{course.name} {len(course.pieces)}" for course in courses]
    assert len(courses) >= 19 and min(len(course.pieces) for course in courses) >= 2


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
    """A compiler that is not there, asked for one room: a sentence, no library that could be taken for one."""
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
import compile_engine
rooms = compile_engine.rooms_of(Path({root!r}))
rooms.ROOMS = ("mechanics.matrix",)
compile_engine.rooms_of = lambda root: rooms
print(compile_engine.compiled(Path({root!r}), Path({to!r})))
"""
