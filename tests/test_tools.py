"""The set-up tools: what is missing on a computer is said in one sentence, never as a traceback."""

from __future__ import annotations

import ast
import importlib.util
import json
import os
import shutil
import subprocess
import sys
from collections import namedtuple
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[1]
TOOLS = ROOT / "tools"
BEFORE_START = (
    "import runpy, sys; sys.path.insert(0, {tools!r}); {change}; runpy.run_path({script!r}, run_name='__main__')"
)


@pytest.fixture
def environment(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """tools/environment.py, which is a script's neighbor and no package."""
    spec = importlib.util.spec_from_file_location("environment", TOOLS / "environment.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def checkout(tmp_path: Path) -> Iterator[Path]:
    """An empty project with the real tools, in a folder with a space in its name."""
    folder = tmp_path / "a checkout"
    shutil.copytree(TOOLS, folder / "tools", ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, folder)
    for name in ("simulator", "assets", "scenarios"):
        (folder / name).mkdir()
    yield folder
    shutil.rmtree(folder)


def run_tool(checkout: Path, script: str, change: str = "pass", **variables: str) -> subprocess.CompletedProcess[str]:
    """Run a tool of `checkout` after `change` was done to its interpreter."""
    code = BEFORE_START.format(
        tools=str(checkout / "tools"), change=change, script=str(checkout / "tools" / f"{script}.py")
    )
    return subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, **variables},
        cwd=checkout.parent,
        capture_output=True,
        text=True,
    )


def sentence_of(run: subprocess.CompletedProcess[str]) -> str:
    """What a tool said when it gave up: one sentence, exit code 2."""
    assert run.returncode == 2, run
    assert "Traceback" not in run.stdout + run.stderr
    assert run.stderr.count("\n") == 1, run.stderr
    return run.stderr.strip()


@pytest.mark.parametrize("script", ["environment", "start", "test"])
def test_an_old_python_can_read_the_tools(script: str) -> None:
    ast.parse((TOOLS / f"{script}.py").read_text(encoding="utf-8"), feature_version=(3, 8))


@pytest.mark.parametrize("script", ["start", "test"])
def test_old_python(checkout: Path, script: str) -> None:
    said = sentence_of(run_tool(checkout, script, "sys.version_info = (3, 8, 18)"))
    assert "Python 3.11 or newer" in said
    assert "Python 3.8.18" in said
    assert not (checkout / ".venv").exists()


@pytest.mark.parametrize("script", ["start", "test"])
@pytest.mark.parametrize("missing", ["venv", "ensurepip"])
def test_missing_venv_module(checkout: Path, script: str, missing: str) -> None:
    said = sentence_of(run_tool(checkout, script, f"sys.modules[{missing!r}] = None"))
    assert "python3-venv" in said
    assert not (checkout / ".venv").exists()


def test_no_network(checkout: Path) -> None:
    """A real environment, a real pip, and an index nobody answers at: port 1 of this computer."""
    said = sentence_of(
        run_tool(
            checkout,
            "start",
            PIP_INDEX_URL="http://127.0.0.1:1/simple",
            PIP_CONFIG_FILE=os.devnull,
            PIP_FIND_LINKS="",
            PIP_RETRIES="0",
            PIP_NO_CACHE_DIR="1",
        )
    )
    assert "connect to the network" in said
    assert not (checkout / ".venv" / "slopepick.json").exists()


def test_unwritable_place(environment: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    def main() -> int:
        raise PermissionError(13, "Permission denied", "/somewhere/.venv")

    assert environment.guarded(main) == 2
    assert capsys.readouterr().err == "Set-up failed: Permission denied (/somewhere/.venv).\n"


def test_stopped_from_the_keyboard(environment: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    def main() -> int:
        raise KeyboardInterrupt

    assert environment.guarded(main) == 130
    assert capsys.readouterr().err.count("\n") == 1


@pytest.mark.parametrize(("free_MB", "refused"), [(699, True), (700, False)])
def test_disk_room(
    environment: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, free_MB: int, refused: bool
) -> None:
    usage = namedtuple("usage", "total used free")(0, 0, free_MB * 1_000_000)
    monkeypatch.setattr(shutil, "disk_usage", lambda folder: usage)
    if not refused:
        environment.refuse_full_disk(tmp_path, 700)
        return
    with pytest.raises(environment.SetupError, match="700 MB are needed and 699 MB are free"):
        environment.refuse_full_disk(tmp_path, 700)


@pytest.mark.parametrize(
    ("output", "part"),
    [
        ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "is full"),
        ("WARNING: Retrying ... NewConnectionError ...\nERROR: No matching distribution found for x", "network"),
        ("ERROR: No matching distribution found for pymunk<8,>=7.3", "gave no pymunk<8,>=7.3 for this Python"),
        ("blah\nERROR: something else\n", "ERROR: something else"),
        ("", "no reason given"),
    ],
)
def test_what_pip_said_becomes_one_sentence(environment: ModuleType, output: str, part: str) -> None:
    said = environment.explain(output, Path("here"))
    assert part in said
    assert "\n" not in said


def test_a_ready_environment_is_used_as_it_is(
    environment: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Made once; again only for another extra, changed requirements, or an interpreter that no longer starts."""
    done: list[str] = []
    working = [False]
    monkeypatch.setattr(environment, "runs", lambda python: working[0])
    monkeypatch.setattr(environment, "make", lambda folder: done.append("make") or folder.mkdir(exist_ok=True))
    monkeypatch.setattr(environment, "install", lambda folder, root, extras: done.append(",".join(extras)))

    def prepared(extra: str = "") -> list[str]:
        done.clear()
        environment.prepare(extra, root=tmp_path)
        return list(done)

    (tmp_path / "pyproject.toml").write_text("one", encoding="utf-8")
    assert prepared() == ["make", ""]
    working[0] = True
    assert prepared() == []
    assert prepared("test") == [",test"]
    assert prepared() == []
    assert prepared("test") == []
    (tmp_path / "pyproject.toml").write_text("two", encoding="utf-8")
    assert prepared() == [",test"]
    (tmp_path / ".venv" / "slopepick.json").write_text("[not", encoding="utf-8")
    assert prepared("test") == ["test"]
    working[0] = False
    assert prepared("test") == ["make", "test"]


def test_the_stamp_is_of_this_folder(environment: ModuleType, tmp_path: Path) -> None:
    stamps = set()
    for name in ("here", "there"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "pyproject.toml").write_text("same", encoding="utf-8")
        stamps.add(environment.fingerprint(tmp_path / name))
    assert len(stamps) == 2


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"extras": 3}', json.dumps(None)])
def test_an_odd_stamp_counts_as_none(environment: ModuleType, tmp_path: Path, text: str) -> None:
    stamp = tmp_path / "stamp.json"
    stamp.write_text(text, encoding="utf-8")
    assert environment.read_stamp(stamp) == {}


@pytest.mark.parametrize("folder", ["lib/python3.12/site-packages", "Lib/site-packages"])
def test_what_an_older_set_up_brought_is_taken_away_first(
    environment: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, folder: str
) -> None:
    """pygame and pygame-ce write the same folder: over each other they are neither."""
    asked: list[list[str]] = []
    monkeypatch.setattr(environment, "quietly", lambda command, _: asked.append(command))
    (tmp_path / folder / "pygame_ce-2.5.8.dist-info").mkdir(parents=True)
    environment.remove_outgrown(tmp_path)
    assert asked == []
    (tmp_path / folder / "pygame-2.6.1.dist-info").mkdir()
    environment.remove_outgrown(tmp_path)
    assert asked[0][1:4] == ["-m", "pip", "uninstall"] and asked[0][-2:] == ["pygame", "pygame-ce"]


def test_the_tests_of_the_lower_bounds_are_there() -> None:
    from tools.lower_bounds import TESTED, bounds

    assert [name for name in TESTED if not (ROOT / name).exists()] == []
    assert {"numpy", "pymunk", "matplotlib", "hatchling", "pytest"} <= set(bounds())


def _defined(path: Path) -> set[str]:
    """Names that a module has once it is loaded, by its source."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            found.add(node.name)
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            found.add(node.id)
        elif isinstance(node, ast.Import | ast.ImportFrom):
            found |= {(one.asname or one.name).partition(".")[0] for one in node.names}
    return found


@pytest.mark.parametrize("tool", sorted(one.stem for one in TOOLS.glob("*.py")))
def test_a_tool_finds_what_it_takes_from_its_neighbors(tool: str) -> None:
    """Types are checked in the program alone: a name that went away was found only by whoever ran the tool."""
    neighbors = {one.stem: one for one in TOOLS.glob("*.py")}
    for node in ast.walk(ast.parse((TOOLS / f"{tool}.py").read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and (path := neighbors.get((node.module or "").removeprefix("tools."))):
            assert {one.name for one in node.names} <= _defined(path), (tool, path.name)


@pytest.mark.parametrize(
    ("config", "variable", "asks_uv"),
    [
        ("global.extra-index-url='file:///here'", "", True),
        ("global.index-url='https://mirror.example/simple'", "", False),
        ("install.no-index='1'", "", False),
        ("", "PIP_INDEX_URL", False),
        ("", "", True),
    ],
)
def test_where_pip_is_set_to_an_index_nothing_else_is_asked(
    environment: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, config: str, variable: str, asks_uv: bool
) -> None:
    for name in ("PIP_INDEX_URL", "PIP_NO_INDEX"):
        monkeypatch.delenv(name, raising=False)
    if variable:
        monkeypatch.setenv(variable, "https://mirror.example/simple")
    asked: list[list[str]] = []

    def run(command: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        return subprocess.CompletedProcess(command, returncode="import" in command[-1], stdout=config)

    def quietly(command: list[str], _: str) -> subprocess.CompletedProcess[str]:
        asked.append(command)
        return subprocess.CompletedProcess(command, returncode=0)

    monkeypatch.setattr(environment.subprocess, "run", run)
    monkeypatch.setattr(environment, "quietly", quietly)
    assert environment.has_uv(tmp_path) is asks_uv
    assert [command[-1] for command in asked] == ["uv"] * asks_uv


@pytest.mark.parametrize(("uv_code", "pip_code", "ran"), [(0, 0, ["uv"]), (1, 0, ["uv", "pip"]), (1, 1, ["uv", "pip"])])
def test_pip_goes_on_where_uv_does_not_and_has_the_last_word(
    environment: ModuleType,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    uv_code: int,
    pip_code: int,
    ran: list[str],
) -> None:
    done: list[str] = []

    def quietly(command: list[str], _: str) -> subprocess.CompletedProcess[str]:
        done.append(command[2])
        return subprocess.CompletedProcess(command, uv_code if command[2] == "uv" else pip_code, stdout="error: odd")

    monkeypatch.setattr(environment, "quietly", quietly)
    monkeypatch.setattr(environment, "has_uv", lambda _: True)
    if pip_code:
        with pytest.raises(environment.SetupError, match="odd"):
            environment.pip(tmp_path, ["anything"], "installing")
    else:
        environment.pip(tmp_path, ["anything"], "installing")
    assert done == ran
