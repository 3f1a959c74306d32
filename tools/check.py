"""One command says yes or no: ruff, format, types, tests, in that order; the first that fails ends it.

python tools/check.py [arguments for pytest]
"""

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


def main(for_pytest: list[str]) -> int:
    """0 when everything passes; pytest comes last, so that its summary is the last line."""
    checks = {**CHECKS, "pytest": ["pytest", *for_pytest]}
    for name, command in checks.items():
        if passes(name, command):
            continue
        print(f"check: NO, {name} failed: python -m {' '.join(command)}", file=sys.stderr)
        return 1
    return 0


def passes(name: str, command: list[str]) -> bool:
    """Run one check; a line with its time when it passes, unless it is pytest, which says so itself."""
    began_s = time.monotonic()
    passed = subprocess.run([sys.executable, "-m", *command], cwd=ROOT).returncode == 0
    if passed and name != "pytest":
        print(f"check: {name} passed in {time.monotonic() - began_s:.0f} s", flush=True)
    return passed


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
