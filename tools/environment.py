"""The project's own virtual environment, made or brought up to date with nothing but the standard library.

python3 tools/environment.py [extra]

Kept to syntax that Python 3.8 reads, so that an old Python gets a sentence and not a SyntaxError.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import re
import shutil
import subprocess
import sys
import time
from pathlib import Path
from typing import Callable, Sequence  # noqa: UP035 - collections.abc takes no subscripts on Python 3.8

ROOT = Path(__file__).resolve().parent.parent
OLDEST_PYTHON = (3, 11)
ROOM_MB = {"": 700, "test": 1400}
"""Free disk asked for before installing, by extra: about twice what the environment and pip's cache take."""
OUTGROWN, REPLACED_BY = "pygame", "pygame-ce"
"""Both write the same folder, so the new one is installed anew when the old one has gone."""
UV = "uv"
"""Fetches and unpacks side by side what pip does one after the other: a tenth of its time."""
OWN_INDEX = re.compile(r"\b(?<!extra-)(index-url|no-index)=")

_NO_NETWORK = (
    "Failed to establish a new connection",
    "NewConnectionError",
    "ConnectTimeoutError",
    "ReadTimeoutError",
    "Read timed out",
    "NameResolutionError",
    "Temporary failure in name resolution",
    "Max retries exceeded",
    "ProxyError",
    "Connection refused",
    "Connection broken",
    "Network is unreachable",
)
_NO_SPACE = ("No space left on device", "Errno 28", "WinError 112", "not enough space on the disk")


class SetupError(Exception):
    """Set-up cannot go on; the text is one sentence for the person at the keyboard."""


def guarded(main: Callable[[], int]) -> int:
    """Run `main`; what goes wrong with set-up becomes one sentence and exit code 2."""
    try:
        refuse_old_python(sys.version_info[:3])
        return main()
    except SetupError as trouble:
        print(str(trouble), file=sys.stderr)
    except KeyboardInterrupt:
        print("Stopped from the keyboard; the same command goes on from here.", file=sys.stderr)
        return 130
    except OSError as error:
        print(explain_os_error(error), file=sys.stderr)
    return 2


def refuse_old_python(version: Sequence[int]) -> None:
    """Raises SetupError when `version` is older than the project needs."""
    if tuple(version[:2]) < OLDEST_PYTHON:
        given, needed = ".".join(map(str, version)), ".".join(map(str, OLDEST_PYTHON))
        raise SetupError(
            f"Slopepick needs Python {needed} or newer, and this is Python {given} ({sys.executable}): "
            f"run the command again with a newer one, for example python{needed}."
        )


def prepare(extra: str = "", *, root: Path = ROOT) -> Path:
    """The Python of `root`/.venv with the project and its `extra` installed; made or mended only when it is not.

    Raises:
        SetupError: something on this computer is missing, said in one sentence.
    """
    folder = root / ".venv"
    stamp, wanted = folder / "slopepick.json", fingerprint(root)
    known = read_stamp(stamp)
    extras = sorted({extra, *known.get("extras", [])})
    if known.get("of") == wanted and extra in known.get("extras", []) and runs(python_in(folder)):
        return python_in(folder)
    if not runs(python_in(folder)):
        make(folder)
    install(folder, root, extras)
    stamp.write_text(json.dumps({"of": wanted, "extras": extras}), encoding="utf-8")
    return python_in(folder)


def fingerprint(root: Path) -> str:
    """Changes when the project's requirements or its folder change."""
    return hashlib.sha256((root / "pyproject.toml").read_bytes() + str(root).encode()).hexdigest()


def read_stamp(stamp: Path) -> dict:
    """What the last complete set-up wrote; empty when there is none, or none that can be read."""
    try:
        known = json.loads(stamp.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return known if isinstance(known, dict) and isinstance(known.get("extras"), list) else {}


def python_in(folder: Path) -> Path:
    """The interpreter of the environment in `folder`."""
    return folder / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")


def runs(python: Path) -> bool:
    """True when `python` starts, is new enough and has pip."""
    question = f"import sys, pip; sys.exit(sys.version_info < {OLDEST_PYTHON})"
    try:
        return subprocess.run([str(python), "-c", question], capture_output=True).returncode == 0
    except OSError:
        return False


def make(folder: Path) -> None:
    """An empty environment in `folder`, over the remains of a broken one."""
    if not all(map(importlib.util.find_spec, ("venv", "ensurepip"))):
        raise SetupError(
            "This Python cannot make virtual environments, since its venv module is not whole: on Debian and Ubuntu "
            "`sudo apt install python3-venv` brings it; elsewhere take Python from python.org."
        )
    done = quietly([sys.executable, "-m", "venv", "--clear", str(folder)], f"making {folder.name}")
    if done.returncode:
        raise SetupError(explain(done.stdout, folder))


def install(folder: Path, root: Path, extras: Sequence[str]) -> None:
    """The project (editable) and its packages into the environment in `folder`.

    With test packages the engine is not compiled here, where nothing else could run meanwhile: tools/check.py does it
    beside other checks. The build backend is one of those packages, so the build needs no environment of its own.
    """
    refuse_full_disk(folder, ROOM_MB["test" if "test" in extras else ""])
    remove_outgrown(folder)
    named = ",".join(filter(None, extras))
    whole = ["--editable", f"{root}[{named}]" if named else str(root)]
    told = "installing the packages (some minutes, once)"
    if "test" not in extras:
        pip(folder, whole, told)
        return
    pip(folder, ["--no-compile", "hatchling"], "installing the build backend")  # what tests import, they compile
    pip(folder, ["--no-compile", "--no-build-isolation", *whole], told, HATCH_BUILD_NO_HOOKS="true")


def pip(folder: Path, what: Sequence[str], told: str, **variables: str) -> None:
    """Let the environment in `folder` install something, by uv where it is there; raises SetupError when pip, which
    goes on where uv does not, does not either."""
    python = str(python_in(folder))
    if has_uv(folder) and not quietly([python, "-m", UV, "pip", "install", "--quiet", "--python", python, *what], told,
                                      **variables).returncode:  # fmt: skip
        return
    command = [python, "-m", "pip", "install", "--quiet", "--no-input", "--disable-pip-version-check"]
    done = quietly([*command, *what], told, **variables)
    if done.returncode:
        (folder / "install.log").write_text(done.stdout, encoding="utf-8")
        raise SetupError(explain(done.stdout, folder))


def has_uv(folder: Path) -> bool:
    """The environment in `folder` has uv, or is given it: not where pip is set to an index, which uv does not ask."""
    python = str(python_in(folder))
    if subprocess.run([python, "-c", f"import {UV}"], capture_output=True).returncode == 0:
        return True
    said = subprocess.run([python, "-m", "pip", "config", "list"], capture_output=True, encoding="utf-8").stdout
    own = [line for line in said.splitlines() if OWN_INDEX.search(line)]
    if own or any(name in os.environ for name in ("PIP_INDEX_URL", "PIP_NO_INDEX")):
        return False
    command = [python, "-m", "pip", "install", "--quiet", "--no-input", "--disable-pip-version-check", UV]
    return quietly(command, "installing the installer").returncode == 0


def remove_outgrown(folder: Path) -> None:
    """Take away what an older set-up brought and what now comes under the same import name from another package."""
    if not any(folder.glob(f"[Ll]ib*/**/site-packages/{OUTGROWN}-[0-9]*")):
        return
    pip = [str(python_in(folder)), "-m", "pip", "uninstall", "--quiet", "--yes", "--disable-pip-version-check"]
    quietly([*pip, OUTGROWN, REPLACED_BY], f"removing {OUTGROWN}")


def refuse_full_disk(folder: Path, room_MB: int) -> None:
    """Raises SetupError when the disk of `folder` has less free than `room_MB`."""
    free_MB = shutil.disk_usage(folder).free // 1_000_000
    if free_MB < room_MB:
        raise SetupError(f"Too little room on the disk of {folder}: {room_MB} MB are needed and {free_MB} MB are free.")


def quietly(command: Sequence[str], what: str, **variables: str) -> subprocess.CompletedProcess:
    """Run `command` with its output kept, and say in one line what was done and how long it took."""
    print(f"{what} ...", end="", flush=True)
    began_s = time.monotonic()
    # Few tries by environment, since pip's own builds start pip again.
    own = {"PIP_RETRIES": "2", **os.environ, **variables}
    done = subprocess.run(
        command, env=own, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8", errors="replace"
    )
    word = "done" if done.returncode == 0 else "failed"
    print(f" {word} in {time.monotonic() - began_s:.0f} s", flush=True)
    return done


def explain(output: str, folder: Path) -> str:
    """One sentence for what venv or pip said when it failed."""
    if any(sign in output for sign in _NO_SPACE):
        return f"The disk of {folder} is full: free some room and run the same command again."
    if any(sign in output for sign in _NO_NETWORK):
        return (
            "The packages could not be fetched, since the package index does not answer: "
            "connect to the network (or set pip's index and proxy) and run the same command again."
        )
    if "No matching distribution found for " in output:
        package = output.split("No matching distribution found for ", 1)[1].split()[0]
        return (
            f"The package index gave no {package} for this Python ({sys.version.split()[0]}): connect to the network "
            "(or set pip's index and proxy) and run the same command again, or take another Python from 3.11 on."
        )
    lines = [line.strip() for line in output.splitlines() if line.strip()]
    errors = [line for line in lines if line.lower().startswith("error")] or lines or ["no reason given"]
    return f"Set-up failed: {errors[-1]} (all of it is in {folder / 'install.log'})"


def explain_os_error(error: OSError) -> str:
    """One sentence for a file or folder that refuses."""
    where = f" ({error.filename})" if error.filename else ""
    if error.errno == 28:
        return f"The disk is full{where}: free some room and run the same command again."
    return f"Set-up failed: {error.strerror or error}{where}."


def main() -> int:
    """Set up and do nothing else; the extra stands on the command line."""
    prepare(*sys.argv[1:2])
    return 0


if __name__ == "__main__":
    sys.exit(guarded(main))
