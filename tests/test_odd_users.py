"""Users without a home, folders with letters that a terminal lacks, and a computer that writes commas in numbers."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import platformdirs
import pytest

from simulator.__main__ import main
from simulator.recording.settings import Settings, data_folder, settings_path


@pytest.fixture
def no_home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Where a user is who has no home: in a folder, and platformdirs says that it knows of none."""

    def refuse(*_: object, **__: object) -> str:
        raise RuntimeError("could not determine the home directory")

    for name in ("user_config_dir", "user_data_dir"):
        monkeypatch.setattr(platformdirs, name, refuse)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_without_a_home_things_are_kept_where_one_is(no_home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert settings_path().is_relative_to(no_home)
    assert data_folder().is_relative_to(no_home)
    assert main(["recordings"]) == 0
    assert str(no_home) in capsys.readouterr().out


def test_a_folder_of_nobody_is_a_folder() -> None:
    assert Settings(recordings="~nobody-of-that-name/lifts").recordings_folder.name == "lifts"


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_a_letter_that_the_terminal_lacks_is_no_fault(encoding: str, tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "simulator", "recordings", "--folder", str(tmp_path / "Größe 3 Ωü")],
        env={**os.environ, "PYTHONIOENCODING": encoding},
        cwd=Path(__file__).parents[1],
        capture_output=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"no recordings in" in done.stdout and b"\\u03a9" in done.stdout
