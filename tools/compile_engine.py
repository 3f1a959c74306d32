"""Compile the engine's inner rooms with mypyc, where a C compiler is there; without one all runs as it is, slower.

python tools/compile_engine.py

The rooms are listed in simulator/compiled.py. They are one library, so that calls between them stay in C. Products of
numbers are never fused with sums (-ffp-contract=off): the same bits as plain Python on every processor.
"""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).resolve().parent.parent
_SETUP = """
from mypyc.build import mypycify
from setuptools import setup
files = {files!r}
setup(
    name="compiled",
    packages=[],
    ext_modules=mypycify(
        ["--follow-imports=silent", "--ignore-missing-imports", *files], opt_level="1", debug_level="0",
        group_name="slopepick",
    ),
)
"""
LONGEST_S = 900


def rooms_of(root: Path) -> ModuleType:
    """`simulator/compiled.py` by itself: the package need not be installed."""
    spec = importlib.util.spec_from_file_location("_compiled_rooms", root / "simulator" / "compiled.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def compiled(root: Path, folder: Path) -> str:
    """Compile the rooms of the package under `root` into `folder`.

    Returns:
        Empty when they are there, fresh; else why not, in a sentence.
    """
    rooms = rooms_of(root)
    package = root / "simulator"
    if rooms.is_fresh(folder, package):
        return ""
    missing = [name for name in ("mypyc", "setuptools") if importlib.util.find_spec(name) is None]
    if missing:
        return f"The engine runs in plain Python, since {' and '.join(missing)} is not installed."
    with tempfile.TemporaryDirectory() as temporary:
        there = Path(temporary)
        shutil.copytree(package, there / "simulator", ignore=shutil.ignore_patterns("__pycache__", "_compiled"))
        # The public face leads to all rooms and to numpy's types, and nothing of it is compiled.
        (there / "simulator" / "__init__.py").write_text("", encoding="utf-8")
        files = [rooms.source_of(room, Path("simulator")).as_posix() for room in rooms.ROOMS]
        (there / "setup.py").write_text(_SETUP.format(files=files), encoding="utf-8")
        said = _built(there)
        return said or _kept(rooms, there, folder)


def _built(there: Path) -> str:
    """Run the build; what stands in its way, in a sentence."""
    fuse = "" if sys.platform == "win32" else " -ffp-contract=off"
    own = {**os.environ, "CFLAGS": os.environ.get("CFLAGS", "") + fuse}
    command = [sys.executable, "setup.py", "--quiet", "build_ext", "--inplace"]
    try:
        done = subprocess.run(command, cwd=there, env=own, capture_output=True, text=True, timeout=LONGEST_S)
    except (OSError, subprocess.TimeoutExpired) as error:
        return f"The engine runs in plain Python, since compiling it did not end: {error}."
    if done.returncode == 0:
        return ""
    lines = [line.strip() for line in (done.stderr + done.stdout).splitlines() if line.strip()]
    errors = [line for line in lines if "error" in line.lower()] or lines or ["no reason given"]
    return f"The engine runs in plain Python, since it could not be compiled: {errors[-1]}"


def _kept(rooms: ModuleType, there: Path, folder: Path) -> str:
    """Put what was built into `folder`, the stamp last: half of it never counts."""
    folder.mkdir(parents=True, exist_ok=True)
    rooms.stamp(folder).unlink(missing_ok=True)
    suffix = rooms.EXTENSION_SUFFIXES[0]
    for name in rooms.names():
        built = there.joinpath(*name.split(".")).with_name(name.rpartition(".")[2] + suffix)
        if not built.exists():
            return f"The engine runs in plain Python, since compiling it left no {built.name}."
        _replace(built, rooms.file_of(name, folder))
    # Of the copy that was compiled: sources that were changed meanwhile are others.
    rooms.stamp(folder).write_text(rooms.digest(there / "simulator"), encoding="ascii")
    return ""


def _replace(built: Path, to: Path) -> None:
    """In one move, beside a library that may be running."""
    beside = to.with_name(to.name + ".new")
    shutil.copy2(built, beside)
    beside.replace(to)


def main() -> int:
    """Compile in place; 1 with a sentence when it cannot be done."""
    began_s = time.monotonic()
    said = compiled(ROOT, ROOT / "simulator" / "_compiled")
    print(said or f"The engine is compiled ({time.monotonic() - began_s:.0f} s).", flush=True)
    return 1 if said else 0


if __name__ == "__main__":
    sys.exit(main())
