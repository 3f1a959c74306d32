"""What a user owns: no command writes over its input, and a lift survives its reports and its interruption."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.places import find_scenario
from simulator.recording.lift_file import read
from simulator.recording.telemetry import Telemetry

pytestmark = pytest.mark.long

ROOT = Path(__file__).parents[1]
TRACK = "t_s,nose_hoist,nose_telescope,nose_elevation,nose_slew,tail_hoist,tail_telescope,tail_elevation,tail_slew\n"
full = pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a disk that is always full")
posix = pytest.mark.skipif(os.name != "posix", reason="signals of another kind there")
Said = pytest.CaptureFixture[str]


@pytest.fixture
def track(tmp_path: Path) -> Path:
    path = tmp_path / "k.csv"
    path.write_text(f"{TRACK}0,0.2,0,0,0,0.2,0,0,0\n2,0,0,0,0,0,0,0,0\n", encoding="utf-8")
    return path


@pytest.fixture
def lift(tmp_path: Path, track: Path) -> Path:
    kept = tmp_path / "v.lift"
    main(["run", "practice_yard", "--commands", str(track), "--record", str(kept)])
    return kept


@pytest.fixture
def scenario(tmp_path: Path) -> Path:
    return Path(shutil.copy(find_scenario("practice_yard"), tmp_path / "yard.toml"))


def refused(source: Path, arguments: list[str], capsys: Said) -> str:
    """What was said; the source is as it was, whatever was asked."""
    before = source.read_bytes()
    capsys.readouterr()
    assert main(arguments) == 2
    assert source.read_bytes() == before
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and "allowed: " in said
    return said


@pytest.mark.parametrize("force", [[], ["--force"]])
def test_no_command_writes_over_what_it_reads(
    lift: Path, track: Path, scenario: Path, force: list[str], capsys: Said
) -> None:
    run = ["run", "practice_yard", "--commands", str(track)]
    demo = ["demo", str(scenario), "--headless"]
    assert "file that is read" in refused(lift, ["track", str(lift), str(lift), *force], capsys)
    for option in ("--csv", "--pdf"):
        assert "file that is read" in refused(lift, ["debrief", str(lift), option, str(lift), *force], capsys)
    assert "file that is read" in refused(track, [*run, "--telemetry", str(track), *force], capsys)
    for option in ("--save-track", "--telemetry"):
        assert "file that is read" in refused(scenario, [*demo, option, str(scenario), *force], capsys)
    sheet = scenario.rename(scenario.with_suffix(".svg"))
    assert "file that is read" in refused(sheet, ["check", str(sheet), "--sheet", str(sheet), *force], capsys)


def test_a_file_of_somebody_elses_stays_and_a_report_is_renewed(lift: Path, tmp_path: Path, capsys: Said) -> None:
    letter, report = tmp_path / "letter.csv", tmp_path / "report.csv"
    letter.write_text("dear Ada", encoding="utf-8")
    for command in (["track", str(lift), str(letter)], ["debrief", str(lift), "--csv", str(letter)]):
        assert "--force" in refused(letter, command, capsys)
    for _ in (1, 2):
        assert main(["track", str(lift), str(report)]) == 0
    assert "--force" in refused(report, ["debrief", str(lift), "--csv", str(report)], capsys)
    for _ in (1, 2):
        assert main(["debrief", str(lift), "--csv", str(tmp_path / "r.csv"), "--pdf", str(tmp_path / "r.pdf")]) == 0
    assert main(["track", str(lift), str(letter), "--force"]) == 0
    assert letter.read_text(encoding="utf-8").startswith("# ")


def test_sheets_telemetry_and_pictures_may_be_renewed(track: Path, tmp_path: Path, capsys: Said) -> None:
    for ending in ("pdf", "png", "svg"):
        for _ in (1, 2):
            assert main(["check", "practice_yard", "--sheet", str(tmp_path / f"s.{ending}")]) == 0
    for _ in (1, 2):
        assert main(["run", "practice_yard", "--commands", str(track), "--telemetry", str(tmp_path / "t.csv")]) == 1
    assert (tmp_path / "t.csv").read_text(encoding="utf-8").count("\n") == 43


@full
def test_a_lift_survives_a_full_disk(track: Path, tmp_path: Path, capsys: Said) -> None:
    kept = tmp_path / "kept.lift"
    run = ["run", "practice_yard", "--commands", str(track), "--record", str(kept), "--telemetry", "/dev/full"]
    assert main(run) == 1
    assert "/dev/full: given a file that cannot be written" in capsys.readouterr().err
    assert read(kept).length_s == 2.0


def test_a_recording_that_was_deleted_is_not_said_to_be_kept(
    track: Path, tmp_path: Path, capsys: Said, monkeypatch: pytest.MonkeyPatch
) -> None:
    from simulator.recording import headless

    kept, drive = tmp_path / "folder" / "kept.lift", headless.run_track

    def delete_meanwhile(*given: object, **more: object) -> None:
        shutil.rmtree(kept.parent)
        drive(*given, **more)  # type: ignore[arg-type]

    kept.parent.mkdir()
    monkeypatch.setattr(headless, "run_track", delete_meanwhile)
    assert main(["run", "practice_yard", "--commands", str(track), "--record", str(kept)]) == 1
    said = capsys.readouterr().err
    assert "recording stopped" in said and "deleted" in said and "recording: " not in said


@posix
@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM", "SIGHUP"])
def test_a_stopped_lift_is_kept_to_its_last_step(name: str, tmp_path: Path) -> None:
    kept, telemetry = tmp_path / "kept.lift", tmp_path / "t.csv"
    command = [sys.executable, "-m", "simulator", "demo", "practice_yard", "--headless"]
    command += ["--record", str(kept), "--telemetry", str(telemetry)]
    wanted = getattr(signal, name)

    def as_a_terminal_would() -> None:
        """Whoever runs the tests may ignore a hang-up, as nohup does, and what is ignored is handed on."""
        signal.signal(wanted, signal.SIG_DFL if wanted != signal.SIGINT else signal.default_int_handler)

    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    with subprocess.Popen(command, cwd=ROOT, text=True, preexec_fn=as_a_terminal_would, **pipes) as running:
        while not kept.exists() or kept.stat().st_size < 20_000:
            assert running.poll() is None
            time.sleep(0.01)
        running.send_signal(wanted)
        out, err = running.communicate(timeout=60)
    assert running.returncode == 1 and "Traceback" not in err
    assert "stopped " in err and f"recording: {kept}" in err and "state hash" in out
    recording = read(kept)
    assert recording.how == "left" and recording.notes == ()
    assert recording.ending is not None and recording.ending.step == recording.seconds[-1].end_step
    assert telemetry.read_text(encoding="utf-8").count("\n") > 2


def test_telemetry_stands_beside_its_place_under_a_plain_name_and_is_never_empty(tmp_path: Path) -> None:
    """What a program leaves that is killed: a file that begins with the caution, and nothing where the whole goes."""
    out = tmp_path / "t.csv"
    with Telemetry(out, caution="be careful"):
        (beside,) = tmp_path.iterdir()
        assert beside.name.startswith("t.csv.") and beside.suffix == ".part"
        assert beside.read_text(encoding="utf-8") == "# be careful\n"
    assert list(tmp_path.iterdir()) == [out]


@posix
def test_an_interrupt_at_the_start_is_no_traceback() -> None:
    """Ours begins where `main` begins; before that it is Python's own start."""
    slow = "import sys; from simulator import __main__ as front; print('here', flush=True); sys.exit(front.main())"
    for wait_s in (0.0, 0.02, 0.05, 0.1):
        command = [sys.executable, "-c", slow, "check", "practice_yard"]
        with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as running:
            assert running.stdout is not None and running.stderr is not None
            running.stdout.readline()
            time.sleep(wait_s + 0.002)
            running.send_signal(signal.SIGINT)
            _, err = running.communicate(timeout=60)
        assert "Traceback" not in err and running.returncode in (0, 1)


@posix
def test_an_interrupt_inside_a_callback_is_heard_all_the_same() -> None:
    """Python swallows what is raised in a weak reference's callback; ours is raised again outside it."""
    lost = (
        "import os, signal, sys, time, weakref\n"
        "from simulator import __main__ as front\n"
        "class Gone: pass\n"
        "def command(given):\n"
        "    gone = Gone()\n"
        "    kept = weakref.ref(gone, lambda _: os.kill(os.getpid(), signal.SIGINT))\n"
        "    del gone\n"
        "    time.sleep(30)\n"
        "    print('went on')\n"
        "front.commands = lambda: {'readings': command}\n"
        "sys.exit(front.main(['readings']))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", lost],
        cwd=ROOT, capture_output=True, text=True, timeout=60,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )  # fmt: skip
    assert (done.returncode, done.stdout, done.stderr) == (1, "", "")


def test_the_front_door_imports_nothing_before_main() -> None:
    ask = "import sys, simulator.__main__; print(*(name for name in sys.modules if name.startswith('simulator')))"
    done = subprocess.run([sys.executable, "-c", ask], cwd=ROOT, capture_output=True, text=True, check=True)
    assert set(done.stdout.split()) == {"simulator", "simulator.compiled", "simulator.__main__"}


def test_the_summary_is_json(track: Path, capsys: Said) -> None:
    def refuse(word: str) -> None:
        raise AssertionError(word)

    main(["run", "practice_yard", "--commands", str(track), "--json"])
    said = json.loads(capsys.readouterr().out, parse_constant=refuse)
    assert said["landed"] is False
    main(["run", "carry_across", "--commands", str(track), "--json"])
    json.loads(capsys.readouterr().out, parse_constant=refuse)
