"""One command says yes or no: ruff, format, types, tests, in that order; the first that fails ends it.

The engine is compiled first, where that can be done; then its own tests run with its sources, and all tests with what
was compiled. Without a C compiler all run with the sources.

python tools/check.py [arguments for pytest]
"""

import os
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
CHECKS = {
    "ruff check": ["ruff", "check", "--quiet", "."],
    "ruff format": ["ruff", "format", "--quiet", "--check", "."],
    "mypy": ["mypy", "--no-error-summary"],
}

IN_PLAIN_PYTHON = {"engine in plain Python": ["pytest", "--quiet", "tests/engine"]}
"""What is tested with the engine's sources although it is compiled."""


def main(for_pytest: list[str]) -> int:
    """0 when everything passes; pytest comes last, so that its summary is the last line."""
    is_compiled = subprocess.run([sys.executable, str(ROOT / "tools" / "compile_engine.py")], cwd=ROOT).returncode == 0
    checks = {**CHECKS, **(IN_PLAIN_PYTHON if is_compiled else {}), "pytest": ["pytest", *for_pytest]}
    for name, command in checks.items():
        if passes(name, command):
            continue
        print(f"check: NO, {name} failed: python -m {' '.join(command)}", file=sys.stderr)
        return 1
    return 0


def passes(name: str, command: list[str]) -> bool:
    """Run one check; a line with its time when it passes, unless it is pytest, which says so itself."""
    began_s = time.monotonic()
    own = {**os.environ, "SLOPEPICK_PURE": "1"} if name in IN_PLAIN_PYTHON else None
    passed = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, env=own).returncode == 0
    if passed and name != "pytest":
        print(f"check: {name} passed in {time.monotonic() - began_s:.0f} s", flush=True)
    return passed


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
