"""All checks, from nothing: makes the environment with what tests need, then runs tools/check.py in it.

python3 tools/test.py [arguments for pytest]
"""

import subprocess
import sys

from environment import ROOT, guarded, prepare


def main() -> int:
    """Set up, then check; what follows on the command line goes to pytest."""
    python = prepare("test")
    return subprocess.run([str(python), str(ROOT / "tools" / "check.py"), *sys.argv[1:]], cwd=ROOT).returncode


if __name__ == "__main__":
    sys.exit(guarded(main))
