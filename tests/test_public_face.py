"""The package from Python: its whole surface, its examples, and that it costs nothing until it is used."""

from __future__ import annotations

import doctest
import inspect
import pickle
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

import simulator
from simulator import Attempt, BrokenScenario, Commands, Simulation, UnitCommands, checked, load, run
from simulator.recording.lift_file import read
from simulator.report.lift.debrief import debrief
from tests.demo import with_hoist
from tests.test_documents import README, blocks

SURFACE = {
    "Attempt": "(description: Description, operators: list[Operator | None] = <factory>, "
    "in_bulk: bool = False) -> None",
    "Attempt.acknowledge": "(self, end: int) -> None",
    "Attempt.answer": "(self, given: Answer) -> None",
    "Attempt.answer_again": "(self, event: Event) -> None",
    "Attempt.advance": "(self, commands: Commands, steps: int) -> None",
    "Attempt.advance_to_end": "(self, commands: Commands, steps: int) -> None",
    "Attempt.changes": "",
    "Attempt.ended": "",
    "Attempt.incidents": "",
    "Attempt.instruct": "(self, what: Instruction) -> None",
    "Attempt.instruct_again": "(self, fields: Fields) -> None",
    "Attempt.note": "(self, what: Happening, *, step: int | None = None) -> None",
    "Attempt.readings": "",
    "Attempt.resume": "(self) -> None",
    "Attempt.slacken": "(self) -> None",
    "Attempt.state_hash": "",
    "Attempt.stop": "(self, *, by: str = '') -> None",
    "Attempt.watch_closely": "(self, observer: Observer, per_s: float) -> None",
    "BrokenScenario": "(faults: Iterable[Fault]) -> None",
    "CHANNELS": "",
    "Commands": "hands",
    "Description": "title, story, site, units, trailer, path, landing, limits, engine, seed, "
    "difficulty, invented, drill",
    "Description.gap_m": "",
    "Description.lands_turned_rad": "",
    "Errors": "gauge_share, gauge_N, display_N, angle_rad, tape_m, height_m, bed_N, sway_rad, sheave_loss",
    "Operator": "",
    "Operator.command": "(self, readings: Readings) -> Hands",
    "Partner": "(description: Description, end: int, *, spare_share: float = 0.6) -> None",
    "Partner.command": "(self, readings: Readings) -> Hands",
    "Partner.doing": "",
    "Partner.follow": "(self, began: Readings, step: int) -> None",
    "Partner.my_turn": "",
    "Partner.work": "",
    "Readings": "step, time_s, units, lines, load, gaps",
    "Readings.nose": "",
    "Readings.raise_short_m": "",
    "Readings.slope_room_m": "",
    "Readings.tail": "",
    "Readings.to_raise_m": "",
    "Readings.with_unit": "(self, place: int, unit: UnitReadings) -> Readings",
    "Rechecked": "weighed, doubts, check, missing, cases, do, move_m",
    "Rechecked.governs": "",
    "Rechecked.holds": "",
    "Rechecked.verdict": "",
    "Rehearsal": "lift, lots, asked, rows, set_up",
    "Rehearsal.as_json": "(self) -> dict[str, Any]",
    "Rehearsal.finished": "",
    "Rehearsal.verdict": "",
    "Rehearsal.write_csv": "(self, path: Path) -> None",
    "Simulation": "(description: Description, *, in_bulk: bool = False) -> None",
    "Simulation.change": "(self, model: Model, state: State) -> None",
    "Simulation.description": "",
    "Simulation.place": "(self, motion: Motion) -> None",
    "Simulation.reset": "(self) -> None",
    "Simulation.restore": "(self, state: State) -> None",
    "Simulation.run": "(self, commands: Commands, count: int) -> None",
    "Simulation.run_watched": "(self, commands: Commands, count: int, every: int, instruments: Instruments) -> int",
    "Simulation.state": "",
    "Simulation.state_hash": "",
    "Simulation.step": "(self, commands: Commands) -> State",
    "Simulation.step_count": "",
    "Simulation.time_s": "",
    "Summary": "title, caution, rig, last, incidents, state_hash, drill, account, given_up, every",
    "Summary.as_json": "(self) -> dict[str, Any]",
    "Summary.landed": "",
    "Summary.lane_room_m": "",
    "Summary.sway_m": "",
    "Summary.units": "",
    "Summary.lines": "(self, *, us: bool = False, file: str = 'FILE') -> list[str]",
    "UnitCommands": "hoist, telescope, elevation, slew",
    "checked": "(description: Description) -> Description",
    "load": "(name_or_path: str | Path) -> Description",
    "rehearse": "(description: Description, draws: int = 100, *, weight: Range | None = None, "
    "cg_m: Range | None = None, cg_across_m: Range | None = None, wind_mps: Range | None = None, "
    "operators: Sequence[str] | Sequence[Sequence[str]] = ('able',), seed: int | None = None, "
    "jobs: int | None = None, on: str | None = None, keep_in: Path | None = None, causes: bool = False) -> Rehearsal",
    "run": "(description: Description, operators: Sequence[Operator | None] | None = None, *, "
    "longest_s: float = 3600.0, observers: Iterable[Observer] = (), record_in: Path | None = None) -> Summary",
    "weigh": "(description: Description, loads_N: Mapping[str, float], *, "
    "leans_rad: Mapping[str, tuple[float, float]] | None = None, pitch_rad: float = 0.0, roll_rad: float = 0.0, "
    "errors: Errors | None = None) -> Rechecked",
}
"""Public name: its signature; of a value its fields; nothing for a property. Scripts of others rest on these: a line
that has to change here breaks them."""
VALUES = ("Commands", "Description", "Errors", "Readings", "Rechecked", "Rehearsal", "Summary", "UnitCommands")


def surface() -> dict[str, str]:
    """The surface as it is."""
    found: dict[str, str] = {}
    for name in simulator.__all__:
        one = getattr(simulator, name)
        if name in VALUES:
            found[name] = ", ".join(inspect.signature(one).parameters)
        else:
            found[name] = "" if name in ("CHANNELS", "Operator") else written(one)
        for part, value in vars(one).items() if inspect.isclass(one) else ():
            if not part.startswith("_") and (inspect.isfunction(value) or isinstance(value, property)):
                found[f"{name}.{part}"] = "" if isinstance(value, property) else written(value)
    return found


def written(one: object) -> str:
    """A signature as the source has it."""
    text = str(inspect.signature(one))  # type: ignore[arg-type]
    names = [str(row.annotation) for row in inspect.signature(one).parameters.values()]  # type: ignore[arg-type]
    for name in (*names, str(inspect.signature(one).return_annotation)):  # type: ignore[arg-type]
        text = text.replace(f"'{name}'", name)
    return text


def test_the_surface_is_the_one_that_scripts_rest_on() -> None:
    assert surface() == SURFACE
    assert len(simulator.__all__) == 19, "README says how many there are"


def test_every_public_name_says_what_it_is() -> None:
    assert all(getattr(simulator, name).__doc__ for name in simulator.__all__ if name != "CHANNELS")
    assert set(simulator.__all__) <= set(dir(simulator))
    with pytest.raises(AttributeError, match="no attribute 'Crane'"):
        simulator.Crane  # noqa: B018 - asking is the test


def test_importing_the_package_imports_nothing_else() -> None:
    ask = "import sys; before = set(sys.modules); import simulator; print(*set(sys.modules) - before)"
    done = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True)
    new = {name for name in done.stdout.split() if name.split(".")[0] not in sys.stdlib_module_names}
    assert new == {"simulator", "simulator.compiled"}


def test_help_needs_no_engine() -> None:
    ask = "import sys; from simulator.__main__ import build_parser; build_parser().format_help(); print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True)
    loaded = set(done.stdout.split())
    assert not loaded & {"pymunk", "pygame", "numpy", "shapely", "pint", "matplotlib", "simulator.script"}


def examples() -> list[doctest.DocTest]:
    """Each from the top: the package's docstring, and the Python of README."""
    parser = doctest.DocTestParser()
    texts = [("simulator", simulator.__doc__ or ""), ("README.md", "\n".join(blocks(README, "python")))]
    return [parser.get_doctest(text, {}, name, name, 0) for name, text in texts]


@pytest.mark.parametrize("example", examples(), ids=lambda example: str(example.name))
def test_the_examples_come_out_as_written(example: doctest.DocTest) -> None:
    assert len(example.examples) > 5
    said: list[str] = []
    assert doctest.DocTestRunner().run(example, out=said.append).failed == 0, "".join(said)


class Pull:
    """Takes the line up slowly."""

    def command(self, _: object) -> UnitCommands:
        """Always the same."""
        return UnitCommands(hoist=0.3)


def test_a_run_is_the_lift_that_the_commands_alone_give(tmp_path: Path) -> None:
    lift, up = load("raise_level"), UnitCommands(hoist=0.3)
    times_s: list[float] = []
    watch = lambda now: times_s.append(now.time_s)  # noqa: E731 - an observer is any function
    told = run(lift, [Pull(), None], longest_s=3.0, observers=[watch], record_in=tmp_path)
    bare = Simulation(lift)
    for _ in range(3 * lift.engine.steps_per_s):
        # An automatic hand moves its levers in steps of 1/4096.
        bare.step(Commands(up._replace(hoist=round(0.3 * 4096) / 4096), UnitCommands()))
    assert told.state_hash == bare.state_hash
    assert times_s[-1] == pytest.approx(3.0)
    assert not told.landed and told.drill is not None and not told.drill["passed"]
    assert [path.suffix for path in tmp_path.iterdir()] == [".lift"]
    assert pickle.loads(pickle.dumps(told)).state_hash == told.state_hash, "a pool of processes hands it back"


def test_numbers_that_no_file_could_hold_are_refused() -> None:
    lift = load("practice_yard")
    assert checked(lift) == lift
    wild = replace(lift, trailer=replace(lift.trailer, hidden_mass_factor=float("nan"), hidden_cg_m=(1e9, 0.0, 0.0)))
    for use in (checked, run):
        with pytest.raises(BrokenScenario) as broken:
            use(wild)
        assert {fault.place for fault in broken.value.faults} == {
            "the lift given: [trailer] hidden_cg number 1",
            "the lift given: [trailer] hidden_mass_factor",
        }


def test_a_lift_that_is_not_there_lists_those_that_are() -> None:
    with pytest.raises(BrokenScenario, match="tank_on_side"):
        load("nowhere")
    assert Attempt(load("centering")).session is not None


class Lost:
    """An operator whose sums went wrong."""

    def __init__(self, answer: object = UnitCommands(hoist=float("nan"))) -> None:
        self.answer = answer

    def command(self, readings: object) -> UnitCommands:
        return self.answer  # type: ignore[return-value]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"operators": [Lost()]}, "operators: given 1, allowed: 2"),
        ({"operators": Lost()}, "operators: given <.*Lost object.*>, allowed: 2 in a list"),
        ({"operators": [None, 3]}, "operators: given 3 for the tail unit, allowed: None, or an object with command"),
        (
            {"operators": [Lost(None), None]},
            r"command: given None, allowed: a tuple of 4 numbers \(hoist, telescope, elevation, slew\), each -1 to 1",
        ),
        (
            {"operators": [Lost((1.0, 0.0)), None]},
            r"command: given \(1.0, 0.0\), allowed: a tuple of 4 numbers \(hoist, ",
        ),
        ({"operators": [Lost(UnitCommands(slew="up")), None]}, "a command: given 'up', allowed: -1 to 1"),  # type: ignore[arg-type]
        ({"longest_s": -1.0}, "longest_s: given -1.0, allowed: a number of seconds over 0"),
        ({"longest_s": float("inf")}, "longest_s: given inf"),
        ({"longest_s": None}, "longest_s: given None"),
        ({"longest_s": float("nan")}, "longest_s: given nan"),
        ({"operators": [Lost(), None]}, "a command: given nan, allowed: -1 to 1"),
    ],
)
def test_what_a_script_gives_wrongly_is_said(given: dict[str, object], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        run(load("practice_yard"), **given)  # type: ignore[arg-type]


def test_units_that_stand_for_ever_are_given_up_with_a_hint(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Winches that stall under the load: nothing moves any more."""
    monkeypatch.setattr("simulator.recording.headless.GIVEN_UP_S", 10.0)
    yard = load("practice_yard")
    weak = with_hoist(yard, stall_line_pull_N=0.1 * yard.units[0].hoist.stall_line_pull_N)
    stuck = run(weak, record_in=tmp_path)
    why = "both units stood still for 10 s, so the lift was given up"
    fine = run(yard).lines()
    assert why in stuck.lines() and "given up" not in "".join(fine)
    (kept,) = tmp_path.iterdir()
    assert why in debrief(read(kept)).heading
    assert stuck.last is not None and 10.0 < stuck.last.time_s < 120.0 and not stuck.landed
    assert stuck.lines().count("next: slopepick check FILE") == 1
    assert stuck.lines(file="my lift.toml").count("next: slopepick check 'my lift.toml'") == 1
    assert not any("slopepick check" in line for line in fine)
