"""The package from Python: its whole surface, its examples, and that it costs nothing until it is used."""
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
from __future__ import annotations
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
import doctest
    "Description.lands_turned_rad": "",
import inspect
    "Description.lands_turned_rad": "",
import pickle
    "Description.lands_turned_rad": "",
import subprocess
    "Description.lands_turned_rad": "",
import sys
    "Description.lands_turned_rad": "",
from dataclasses import replace
    "Description.lands_turned_rad": "",
from pathlib import Path
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
import pytest
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
import simulator
    "Description.lands_turned_rad": "",
from simulator import Attempt, BrokenScenario, Commands, Simulation, UnitCommands, checked, load, run
    "Description.lands_turned_rad": "",
from simulator.recording.lift_file import read
    "Description.lands_turned_rad": "",
from simulator.report.lift.debrief import debrief
    "Description.lands_turned_rad": "",
from tests.demo import with_hoist
    "Description.lands_turned_rad": "",
from tests.test_documents import README, blocks
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
SURFACE = {
    "Description.lands_turned_rad": "",
    "Attempt": "(description: Description, operators: list[Operator | None] = <factory>, "
    "Description.lands_turned_rad": "",
    "in_bulk: bool = False) -> None",
    "Description.lands_turned_rad": "",
    "Attempt.acknowledge": "(self, end: int) -> None",
    "Description.lands_turned_rad": "",
    "Attempt.answer": "(self, given: Answer) -> None",
    "Description.lands_turned_rad": "",
    "Attempt.answer_again": "(self, event: Event) -> None",
    "Description.lands_turned_rad": "",
    "Attempt.advance": "(self, commands: Commands, steps: int) -> None",
    "Description.lands_turned_rad": "",
    "Attempt.advance_to_end": "(self, commands: Commands, steps: int) -> None",
    "Description.lands_turned_rad": "",
    "Attempt.changes": "",
    "Description.lands_turned_rad": "",
    "Attempt.ended": "",
    "Description.lands_turned_rad": "",
    "Attempt.incidents": "",
    "Description.lands_turned_rad": "",
    "Attempt.instruct": "(self, what: Instruction) -> None",
    "Description.lands_turned_rad": "",
    "Attempt.instruct_again": "(self, fields: Fields) -> None",
    "Description.lands_turned_rad": "",
    "Attempt.note": "(self, what: Happening, *, step: int | None = None) -> None",
    "Description.lands_turned_rad": "",
    "Attempt.readings": "",
    "Description.lands_turned_rad": "",
    "Attempt.resume": "(self) -> None",
    "Description.lands_turned_rad": "",
    "Attempt.state_hash": "",
    "Description.lands_turned_rad": "",
    "Attempt.stop": "(self, *, by: str = '') -> None",
    "Description.lands_turned_rad": "",
    "Attempt.watch_closely": "(self, observer: Observer, per_s: float) -> None",
    "Description.lands_turned_rad": "",
    "BrokenScenario": "(faults: Iterable[Fault]) -> None",
    "Description.lands_turned_rad": "",
    "CHANNELS": "",
    "Description.lands_turned_rad": "",
    "Commands": "hands",
    "Description.lands_turned_rad": "",
    "Description": "title, story, site, units, trailer, path, landing, limits, engine, seed, "
    "Description.lands_turned_rad": "",
    "difficulty, invented, drill",
    "Description.lands_turned_rad": "",
    "Description.gap_m": "",
    "Description.lands_turned_rad": "",
    "Errors": "gauge_share, gauge_N, display_N, angle_rad, tape_m, height_m, bed_N, sway_rad, sheave_loss",
    "Description.lands_turned_rad": "",
    "Operator": "",
    "Description.lands_turned_rad": "",
    "Operator.command": "(self, readings: Readings) -> Hands",
    "Description.lands_turned_rad": "",
    "Partner": "(description: Description, end: int, *, spare_share: float = 0.6) -> None",
    "Description.lands_turned_rad": "",
    "Partner.command": "(self, readings: Readings) -> Hands",
    "Description.lands_turned_rad": "",
    "Partner.doing": "",
    "Description.lands_turned_rad": "",
    "Partner.follow": "(self, began: Readings, step: int) -> None",
    "Description.lands_turned_rad": "",
    "Partner.my_turn": "",
    "Description.lands_turned_rad": "",
    "Partner.work": "",
    "Description.lands_turned_rad": "",
    "Readings": "step, time_s, units, lines, load, gaps",
    "Description.lands_turned_rad": "",
    "Readings.nose": "",
    "Description.lands_turned_rad": "",
    "Readings.raise_short_m": "",
    "Description.lands_turned_rad": "",
    "Readings.slope_room_m": "",
    "Description.lands_turned_rad": "",
    "Readings.tail": "",
    "Description.lands_turned_rad": "",
    "Readings.to_raise_m": "",
    "Description.lands_turned_rad": "",
    "Readings.with_unit": "(self, place: int, unit: UnitReadings) -> Readings",
    "Description.lands_turned_rad": "",
    "Rechecked": "weighed, doubts, check, missing, cases, do, move_m",
    "Description.lands_turned_rad": "",
    "Rechecked.governs": "",
    "Description.lands_turned_rad": "",
    "Rechecked.holds": "",
    "Description.lands_turned_rad": "",
    "Rechecked.verdict": "",
    "Description.lands_turned_rad": "",
    "Rehearsal": "lift, lots, asked, rows, set_up",
    "Description.lands_turned_rad": "",
    "Rehearsal.as_json": "(self) -> dict[str, Any]",
    "Description.lands_turned_rad": "",
    "Rehearsal.finished": "",
    "Description.lands_turned_rad": "",
    "Rehearsal.verdict": "",
    "Description.lands_turned_rad": "",
    "Rehearsal.write_csv": "(self, path: Path) -> None",
    "Description.lands_turned_rad": "",
    "Simulation": "(description: Description, *, in_bulk: bool = False) -> None",
    "Description.lands_turned_rad": "",
    "Simulation.change": "(self, model: Model, state: State) -> None",
    "Description.lands_turned_rad": "",
    "Simulation.description": "",
    "Description.lands_turned_rad": "",
    "Simulation.place": "(self, motion: Motion) -> None",
    "Description.lands_turned_rad": "",
    "Simulation.reset": "(self) -> None",
    "Description.lands_turned_rad": "",
    "Simulation.restore": "(self, state: State) -> None",
    "Description.lands_turned_rad": "",
    "Simulation.run": "(self, commands: Commands, count: int) -> None",
    "Description.lands_turned_rad": "",
    "Simulation.run_watched": "(self, commands: Commands, count: int, every: int, instruments: Instruments) -> int",
    "Description.lands_turned_rad": "",
    "Simulation.state": "",
    "Description.lands_turned_rad": "",
    "Simulation.state_hash": "",
    "Description.lands_turned_rad": "",
    "Simulation.step": "(self, commands: Commands) -> State",
    "Description.lands_turned_rad": "",
    "Simulation.step_count": "",
    "Description.lands_turned_rad": "",
    "Simulation.time_s": "",
    "Description.lands_turned_rad": "",
    "Summary": "title, caution, rig, last, incidents, state_hash, drill, account, given_up, every",
    "Description.lands_turned_rad": "",
    "Summary.as_json": "(self) -> dict[str, Any]",
    "Description.lands_turned_rad": "",
    "Summary.landed": "",
    "Description.lands_turned_rad": "",
    "Summary.lane_room_m": "",
    "Description.lands_turned_rad": "",
    "Summary.sway_m": "",
    "Description.lands_turned_rad": "",
    "Summary.units": "",
    "Description.lands_turned_rad": "",
    "Summary.lines": "(self, *, us: bool = False, file: str = 'FILE') -> list[str]",
    "Description.lands_turned_rad": "",
    "UnitCommands": "hoist, telescope, elevation, slew",
    "Description.lands_turned_rad": "",
    "checked": "(description: Description) -> Description",
    "Description.lands_turned_rad": "",
    "load": "(name_or_path: str | Path) -> Description",
    "Description.lands_turned_rad": "",
    "rehearse": "(description: Description, draws: int = 100, *, weight: Range | None = None, "
    "Description.lands_turned_rad": "",
    "cg_m: Range | None = None, cg_across_m: Range | None = None, wind_mps: Range | None = None, "
    "Description.lands_turned_rad": "",
    "operators: Sequence[str] | Sequence[Sequence[str]] = ('able',), seed: int | None = None, "
    "Description.lands_turned_rad": "",
    "jobs: int | None = None, on: str | None = None, keep_in: Path | None = None, causes: bool = False) -> Rehearsal",
    "Description.lands_turned_rad": "",
    "run": "(description: Description, operators: Sequence[Operator | None] | None = None, *, "
    "Description.lands_turned_rad": "",
    "longest_s: float = 3600.0, observers: Iterable[Observer] = (), record_in: Path | None = None) -> Summary",
    "Description.lands_turned_rad": "",
    "weigh": "(description: Description, loads_N: Mapping[str, float], *, "
    "Description.lands_turned_rad": "",
    "leans_rad: Mapping[str, tuple[float, float]] | None = None, pitch_rad: float = 0.0, roll_rad: float = 0.0, "
    "Description.lands_turned_rad": "",
    "errors: Errors | None = None) -> Rechecked",
    "Description.lands_turned_rad": "",
}
    "Description.lands_turned_rad": "",
"""Public name: its signature; of a value its fields; nothing for a property. Scripts of others rest on these: a line
    "Description.lands_turned_rad": "",
that has to change here breaks them."""
    "Description.lands_turned_rad": "",
VALUES = ("Commands", "Description", "Errors", "Readings", "Rechecked", "Rehearsal", "Summary", "UnitCommands")
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
def surface() -> dict[str, str]:
    "Description.lands_turned_rad": "",
    """The surface as it is."""
    "Description.lands_turned_rad": "",
    found: dict[str, str] = {}
    "Description.lands_turned_rad": "",
    for name in simulator.__all__:
    "Description.lands_turned_rad": "",
        one = getattr(simulator, name)
    "Description.lands_turned_rad": "",
        if name in VALUES:
    "Description.lands_turned_rad": "",
            found[name] = ", ".join(inspect.signature(one).parameters)
    "Description.lands_turned_rad": "",
        else:
    "Description.lands_turned_rad": "",
            found[name] = "" if name in ("CHANNELS", "Operator") else written(one)
    "Description.lands_turned_rad": "",
        for part, value in vars(one).items() if inspect.isclass(one) else ():
    "Description.lands_turned_rad": "",
            if not part.startswith("_") and (inspect.isfunction(value) or isinstance(value, property)):
    "Description.lands_turned_rad": "",
                found[f"{name}.{part}"] = "" if isinstance(value, property) else written(value)
    "Description.lands_turned_rad": "",
    return found
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
def written(one: object) -> str:
    "Description.lands_turned_rad": "",
    """A signature as the source has it."""
    "Description.lands_turned_rad": "",
    text = str(inspect.signature(one))  # type: ignore[arg-type]
    "Description.lands_turned_rad": "",
    names = [str(row.annotation) for row in inspect.signature(one).parameters.values()]  # type: ignore[arg-type]
    "Description.lands_turned_rad": "",
    for name in (*names, str(inspect.signature(one).return_annotation)):  # type: ignore[arg-type]
    "Description.lands_turned_rad": "",
        text = text.replace(f"'{name}'", name)
    "Description.lands_turned_rad": "",
    return text
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
def test_the_surface_is_the_one_that_scripts_rest_on() -> None:
    "Description.lands_turned_rad": "",
    assert surface() == SURFACE
    "Description.lands_turned_rad": "",
    assert len(simulator.__all__) == 19, "README says how many there are"
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
def test_every_public_name_says_what_it_is() -> None:
    "Description.lands_turned_rad": "",
    assert all(getattr(simulator, name).__doc__ for name in simulator.__all__ if name != "CHANNELS")
    "Description.lands_turned_rad": "",
    assert set(simulator.__all__) <= set(dir(simulator))
    "Description.lands_turned_rad": "",
    with pytest.raises(AttributeError, match="no attribute 'Crane'"):
    "Description.lands_turned_rad": "",
        simulator.Crane  # noqa: B018 - asking is the test
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
def test_importing_the_package_imports_nothing_else() -> None:
    "Description.lands_turned_rad": "",
    ask = "import sys; before = set(sys.modules); import simulator; print(*set(sys.modules) - before)"
    "Description.lands_turned_rad": "",
    done = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True)
    "Description.lands_turned_rad": "",
    new = {name for name in done.stdout.split() if name.split(".")[0] not in sys.stdlib_module_names}
    "Description.lands_turned_rad": "",
    assert new == {"simulator", "simulator.compiled"}
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
def test_help_needs_no_engine() -> None:
    "Description.lands_turned_rad": "",
    ask = "import sys; from simulator.__main__ import build_parser; build_parser().format_help(); print(*sys.modules)"
    "Description.lands_turned_rad": "",
    done = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True)
    "Description.lands_turned_rad": "",
    loaded = set(done.stdout.split())
    "Description.lands_turned_rad": "",
    assert not loaded & {"pymunk", "pygame", "numpy", "shapely", "pint", "matplotlib", "simulator.script"}
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
def examples() -> list[doctest.DocTest]:
    "Description.lands_turned_rad": "",
    """Each from the top: the package's docstring, and the Python of README."""
    "Description.lands_turned_rad": "",
    parser = doctest.DocTestParser()
    "Description.lands_turned_rad": "",
    texts = [("simulator", simulator.__doc__ or ""), ("README.md", "\n".join(blocks(README, "python")))]
    "Description.lands_turned_rad": "",
    return [parser.get_doctest(text, {}, name, name, 0) for name, text in texts]
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
@pytest.mark.parametrize("example", examples(), ids=lambda example: str(example.name))
    "Description.lands_turned_rad": "",
def test_the_examples_come_out_as_written(example: doctest.DocTest) -> None:
    "Description.lands_turned_rad": "",
    assert len(example.examples) > 5
    "Description.lands_turned_rad": "",
    said: list[str] = []
    "Description.lands_turned_rad": "",
    assert doctest.DocTestRunner().run(example, out=said.append).failed == 0, "".join(said)
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
class Pull:
    "Description.lands_turned_rad": "",
    """Takes the line up slowly."""
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
    def command(self, _: object) -> UnitCommands:
    "Description.lands_turned_rad": "",
        """Always the same."""
    "Description.lands_turned_rad": "",
        return UnitCommands(hoist=0.3)
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
def test_a_run_is_the_lift_that_the_commands_alone_give(tmp_path: Path) -> None:
    "Description.lands_turned_rad": "",
    lift, up = load("raise_level"), UnitCommands(hoist=0.3)
    "Description.lands_turned_rad": "",
    times_s: list[float] = []
    "Description.lands_turned_rad": "",
    watch = lambda now: times_s.append(now.time_s)  # noqa: E731 - an observer is any function
    "Description.lands_turned_rad": "",
    told = run(lift, [Pull(), None], longest_s=3.0, observers=[watch], record_in=tmp_path)
    "Description.lands_turned_rad": "",
    bare = Simulation(lift)
    "Description.lands_turned_rad": "",
    for _ in range(3 * lift.engine.steps_per_s):
    "Description.lands_turned_rad": "",
        # An automatic hand moves its levers in steps of 1/4096.
    "Description.lands_turned_rad": "",
        bare.step(Commands(up._replace(hoist=round(0.3 * 4096) / 4096), UnitCommands()))
    "Description.lands_turned_rad": "",
    assert told.state_hash == bare.state_hash
    "Description.lands_turned_rad": "",
    assert times_s[-1] == pytest.approx(3.0)
    "Description.lands_turned_rad": "",
    assert not told.landed and told.drill is not None and not told.drill["passed"]
    "Description.lands_turned_rad": "",
    assert [path.suffix for path in tmp_path.iterdir()] == [".lift"]
    "Description.lands_turned_rad": "",
    assert pickle.loads(pickle.dumps(told)).state_hash == told.state_hash, "a pool of processes hands it back"
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
def test_numbers_that_no_file_could_hold_are_refused() -> None:
    "Description.lands_turned_rad": "",
    lift = load("practice_yard")
    "Description.lands_turned_rad": "",
    assert checked(lift) == lift
    "Description.lands_turned_rad": "",
    wild = replace(lift, trailer=replace(lift.trailer, hidden_mass_factor=float("nan"), hidden_cg_m=(1e9, 0.0, 0.0)))
    "Description.lands_turned_rad": "",
    for use in (checked, run):
    "Description.lands_turned_rad": "",
        with pytest.raises(BrokenScenario) as broken:
    "Description.lands_turned_rad": "",
            use(wild)
    "Description.lands_turned_rad": "",
        assert {fault.place for fault in broken.value.faults} == {
    "Description.lands_turned_rad": "",
            "the lift given: [trailer] hidden_cg number 1",
    "Description.lands_turned_rad": "",
            "the lift given: [trailer] hidden_mass_factor",
    "Description.lands_turned_rad": "",
        }
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
def test_a_lift_that_is_not_there_lists_those_that_are() -> None:
    "Description.lands_turned_rad": "",
    with pytest.raises(BrokenScenario, match="tank_on_side"):
    "Description.lands_turned_rad": "",
        load("nowhere")
    "Description.lands_turned_rad": "",
    assert Attempt(load("centering")).session is not None
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
class Lost:
    "Description.lands_turned_rad": "",
    """An operator whose sums went wrong."""
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
    def __init__(self, answer: object = UnitCommands(hoist=float("nan"))) -> None:
    "Description.lands_turned_rad": "",
        self.answer = answer
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
    def command(self, readings: object) -> UnitCommands:
    "Description.lands_turned_rad": "",
        return self.answer  # type: ignore[return-value]
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
@pytest.mark.parametrize(
    "Description.lands_turned_rad": "",
    ("given", "said"),
    "Description.lands_turned_rad": "",
    [
    "Description.lands_turned_rad": "",
        ({"operators": [Lost()]}, "operators: given 1, allowed: 2"),
    "Description.lands_turned_rad": "",
        ({"operators": Lost()}, "operators: given <.*Lost object.*>, allowed: 2 in a list"),
    "Description.lands_turned_rad": "",
        ({"operators": [None, 3]}, "operators: given 3 for the tail unit, allowed: None, or an object with command"),
    "Description.lands_turned_rad": "",
        (
    "Description.lands_turned_rad": "",
            {"operators": [Lost(None), None]},
    "Description.lands_turned_rad": "",
            r"command: given None, allowed: a tuple of 4 numbers \(hoist, telescope, elevation, slew\), each -1 to 1",
    "Description.lands_turned_rad": "",
        ),
    "Description.lands_turned_rad": "",
        (
    "Description.lands_turned_rad": "",
            {"operators": [Lost((1.0, 0.0)), None]},
    "Description.lands_turned_rad": "",
            r"command: given \(1.0, 0.0\), allowed: a tuple of 4 numbers \(hoist, ",
    "Description.lands_turned_rad": "",
        ),
    "Description.lands_turned_rad": "",
        ({"operators": [Lost(UnitCommands(slew="up")), None]}, "a command: given 'up', allowed: -1 to 1"),  # type: ignore[arg-type]
    "Description.lands_turned_rad": "",
        ({"longest_s": -1.0}, "longest_s: given -1.0, allowed: a number of seconds over 0"),
    "Description.lands_turned_rad": "",
        ({"longest_s": float("inf")}, "longest_s: given inf"),
    "Description.lands_turned_rad": "",
        ({"longest_s": None}, "longest_s: given None"),
    "Description.lands_turned_rad": "",
        ({"longest_s": float("nan")}, "longest_s: given nan"),
    "Description.lands_turned_rad": "",
        ({"operators": [Lost(), None]}, "a command: given nan, allowed: -1 to 1"),
    "Description.lands_turned_rad": "",
    ],
    "Description.lands_turned_rad": "",
)
    "Description.lands_turned_rad": "",
def test_what_a_script_gives_wrongly_is_said(given: dict[str, object], said: str) -> None:
    "Description.lands_turned_rad": "",
    with pytest.raises(ValueError, match=said):
    "Description.lands_turned_rad": "",
        run(load("practice_yard"), **given)  # type: ignore[arg-type]
    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",

    "Description.lands_turned_rad": "",
def test_units_that_stand_for_ever_are_given_up_with_a_hint(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    "Description.lands_turned_rad": "",
    """Winches that stall under the load: nothing moves any more."""
    "Description.lands_turned_rad": "",
    monkeypatch.setattr("simulator.recording.headless.GIVEN_UP_S", 10.0)
    "Description.lands_turned_rad": "",
    yard = load("practice_yard")
    "Description.lands_turned_rad": "",
    weak = with_hoist(yard, stall_line_pull_N=0.1 * yard.units[0].hoist.stall_line_pull_N)
    "Description.lands_turned_rad": "",
    stuck = run(weak, record_in=tmp_path)
    "Description.lands_turned_rad": "",
    why = "both units stood still for 10 s, so the lift was given up"
    "Description.lands_turned_rad": "",
    fine = run(yard).lines()
    "Description.lands_turned_rad": "",
    assert why in stuck.lines() and "given up" not in "".join(fine)
    "Description.lands_turned_rad": "",
    (kept,) = tmp_path.iterdir()
    "Description.lands_turned_rad": "",
    assert why in debrief(read(kept)).heading
    "Description.lands_turned_rad": "",
    assert stuck.last is not None and 10.0 < stuck.last.time_s < 120.0 and not stuck.landed
    "Description.lands_turned_rad": "",
    assert stuck.lines().count("next: slopepick check FILE") == 1
    "Description.lands_turned_rad": "",
    assert stuck.lines(file="my lift.toml").count("next: slopepick check 'my lift.toml'") == 1
    "Description.lands_turned_rad": "",
    assert not any("slopepick check" in line for line in fine)
    "Description.lands_turned_rad": "",
