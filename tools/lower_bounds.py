"""The program installed with the exact lower bounds of its packages, used and tested: do the bounds hold?

python tools/lower_bounds.py                       # exact lower bounds, this Python: the oldest that is allowed
python tools/lower_bounds.py --newest --python P   # the newest of all packages, under another Python
python tools/lower_bounds.py --only numpy          # one package at its lower bound, the others as here: same states

In an environment of its own that is taken away again, from a copy of what is checked out; it needs a network.
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import tempfile
import tomllib
from importlib import metadata
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BOUND = re.compile(r"(?P<name>[\w-]+)(?P<extra>\[\w+\])?>=(?P<least>[\d.]+)")
USES = (
    "--version",
    "validate practice_yard tank_on_side centering",
    "check tank_on_side --sheet plan.pdf",
    "demo practice_yard --headless --record kept.lift",
    "demo set_down --headless",
    "replay kept.lift",
    "debrief kept.lift --pdf page.pdf --csv readings.csv",
)
"""Commands, and all of them answer 0, or 3 where a set-up is not wholly judged."""
TESTED = (
    *("tests/files", "tests/engine/test_sameness.py", "tests/scenario/test_broken.py"),
    *("tests/recording/test_round_trip.py", "tests/plan/test_sheet_text.py", "tests/window/test_panels.py"),
)
TEST_PACKAGES = ("pytest", "pytest-xdist", "hypothesis", "filelock")


def bounds() -> dict[str, str]:
    """Every package that is named in `pyproject.toml`, with its lower bound."""
    said = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    project = said["project"]
    rows = [*said["build-system"]["requires"], *project["dependencies"], *project["optional-dependencies"]["test"]]
    return {found["name"]: found["least"] for row in rows if (found := BOUND.match(row))}


def constraints(given: argparse.Namespace) -> list[str]:
    """What is asked of the installer."""
    if given.newest:
        return []
    least = bounds()
    if given.only is None:
        return [f"{name}=={version}" for name, version in least.items()]
    here = {one.name.lower(): one.version for one in metadata.distributions() if one.name.lower() != "slopepick"}
    return [f"{name}=={version}" for name, version in (here | {given.only: least[given.only]}).items()]


def said_by(command: list[str], folder: Path, environment: dict[str, str]) -> str:
    """What a command said.

    Raises:
        SystemExit: it did not answer as it should.
    """
    done = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True)
    if done.returncode not in (0, 3):
        sys.exit(f"{' '.join(command[-4:])}: exit {done.returncode}\n{(done.stdout + done.stderr)[-4000:]}")
    return done.stdout


def states(command: list[str], folder: Path, environment: dict[str, str]) -> list[str]:
    """Every use tried; the hashes of the states that lifts came to."""
    for name in ("kept.lift", "page.pdf", "readings.csv", "plan.pdf"):
        (folder / name).unlink(missing_ok=True)
    said = [said_by([*command, *use.split()], folder, environment) for use in USES]
    print(said[0].strip(), *(f"  slopepick {use}" for use in USES[1:]), sep="\n", flush=True)
    return re.findall(r"state hash (\w+)", "".join(said))


def main() -> int:
    """Install, use, test; 1 when anything of it fails or states differ that should not."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--python", default=sys.executable, help="which Python; this one")
    parser.add_argument("--newest", action="store_true", help="the newest packages instead of the oldest")
    parser.add_argument("--only", metavar="PACKAGE", help="only this one at its lower bound, the others as here")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder, asked = Path(name), constraints(given)
        (folder / "constraints.txt").write_text("\n".join(asked), encoding="utf-8")
        # To pip by the environment: so it holds where the package is built, too.
        environment = {**os.environ, "PIP_CONSTRAINT": str(folder / "constraints.txt"), "MPLBACKEND": "agg"}
        environment.pop("PYTHONPATH", None)
        said_by([given.python, "-m", "venv", "own"], folder, environment)
        python = [str(folder / "own" / ("Scripts" if os.name == "nt" else "bin") / "python")]
        pip = [*python, "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
        said_by([*pip, str(ROOT), *TEST_PACKAGES], folder, environment)
        print(said_by([*python, "-m", "pip", "list", "--format", "freeze"], folder, environment).replace("\n", " "))
        there = states([*python, "-m", "simulator"], folder, environment)
        here = states([sys.executable, "-m", "simulator"], folder, {**os.environ, "PYTHONPATH": str(ROOT)})
        same = there == here
        print("the states are those of this environment" if same else f"states: {there}, in this environment {here}")
        if given.only is None:
            # What an old package does with a new one's old names is no matter of ours.
            quiet = ("-q", "-n", "0", "-p", "no:cacheprovider", "-W", "ignore::DeprecationWarning")
            print(said_by([*python, "-m", "pytest", *quiet, *TESTED], ROOT, environment).splitlines()[-1])
    return 0 if same or given.only is None else 1


if __name__ == "__main__":
    sys.exit(main())
