"""The wheel: it holds all that the program needs, and the program finds it there with no checkout near."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from simulator import compiled

ROOT = Path(__file__).parents[1]
PICTURES = ROOT / "assets" / "pictures"

LOOK_ROUND = """
from pathlib import Path
import simulator
from simulator import load
from simulator.__main__ import main
from simulator.places import assets_folder, scenarios_folder, shipped_drills, shipped_scenarios
from simulator.window.kit.lettering import FILES, fonts_folder
from simulator.window.program import run_drive

here = Path.cwd()
for place in (simulator.__file__, assets_folder(), scenarios_folder(), fonts_folder()):
    assert Path(place).is_relative_to(here), place
assert all((fonts_folder() / name).is_file() for name in FILES.values())
shipped = [path.stem for path in (*shipped_scenarios(), *shipped_drills())]
assert main(["validate", *shipped]) == 0
assert main(["rigging", shipped[0]]) == 0
assert run_drive(None, most_frames=3) == 0
assert run_drive(load("centering"), demo=True, most_frames=3) == 0
print("shipped:", *shipped)
"""


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    """The wheel of this checkout, built by the project's own backend."""
    from hatchling.build import build_wheel

    folder, before = tmp_path_factory.mktemp("wheel"), Path.cwd()
    os.chdir(ROOT)
    try:
        return zipfile.ZipFile(folder / build_wheel(str(folder)))
    finally:
        os.chdir(before)


def files(folder: Path) -> set[str]:
    """Files under a folder of the checkout, by their path in it, without what Python and the desktop leave behind."""
    every = (path.relative_to(ROOT) for path in (ROOT / folder).rglob("*") if path.is_file())
    left = {"__pycache__", compiled.FOLDER.name}
    return {path.as_posix() for path in every if not left & set(path.parts) and not path.name.startswith(".")}


def test_the_wheel_holds_every_asset_scenario_and_module(wheel: zipfile.ZipFile) -> None:
    data = "simulator/_data/"
    inside = set(wheel.namelist())
    wanted = (files(Path("assets")) | files(Path("scenarios"))) - files(PICTURES)
    assert {name.removeprefix(data) for name in inside if name.startswith(data)} == wanted
    made = f"simulator/{compiled.FOLDER.name}/"
    rooms = {name for name in inside if name.startswith("simulator/") and not name.startswith((data, made))}
    assert rooms == files(Path("simulator"))
    stamp = compiled.stamp().name
    expected = {stamp, *(compiled.file_of(name).name for name in compiled.names())} if compiled.is_fresh() else set()
    assert {name.removeprefix(made) for name in inside if name.startswith(made)} == expected
    assert len(wanted) > 15


def test_the_wheel_brings_the_command_and_the_notices(wheel: zipfile.ZipFile) -> None:
    (info,) = {name.split("/")[0] for name in wheel.namelist() if ".dist-info/" in name}
    assert "slopepick = simulator.__main__:main" in wheel.read(f"{info}/entry_points.txt").decode()
    assert {f"{info}/licenses/THIRD_PARTY.md", f"{info}/licenses/assets/fonts/OFL.txt"} <= set(wheel.namelist())


def test_the_program_finds_its_files_in_the_layout_of_the_wheel(wheel: zipfile.ZipFile, tmp_path: Path) -> None:
    folder = tmp_path / "Größe 3 ü" / "slope pick"
    wheel.extractall(folder)
    done = subprocess.run(
        [sys.executable, "-c", LOOK_ROUND],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder), "SDL_VIDEODRIVER": "dummy", "SDL_AUDIODRIVER": "dummy",
             "HOME": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path), "XDG_DATA_HOME": str(tmp_path)},
        capture_output=True,
        text=True,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "shipped: " in done.stdout and "tank_on_side" in done.stdout and "centering" in done.stdout
