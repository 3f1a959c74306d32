"""First run: makes the environment if need be, then shows a whole lift.

python3 tools/start.py
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

from environment import ROOT, guarded, prepare

SCENARIO = "turn_over_tank"
PICTURES = Path("build") / "first-run"
_SHOW_HIDDEN_WINDOW = """
import pygame
pygame.display.init()
pygame.display.set_mode((64, 64), pygame.HIDDEN)
raise SystemExit(pygame.display.get_driver() in ("dummy", "offscreen"))
"""


def main() -> int:
    """Set up, then demonstrate in a window, or as pictures where there is no display."""
    python = prepare()
    if has_display(python):
        print(f"opening the demonstration: {SCENARIO} (Esc pauses, F1 shows the keys)", flush=True)
        return subprocess.run([str(python), "-m", "simulator", "demo", SCENARIO], cwd=ROOT).returncode
    print(f"no display here: the demonstration runs without a window, pictures go to {PICTURES}", flush=True)
    return picture_run(python)


def has_display(python: Path) -> bool:
    """True when a window can be opened; the window library is asked, since it alone knows every system's ways."""
    return subprocess.run([str(python), "-c", _SHOW_HIDDEN_WINDOW], capture_output=True).returncode == 0


def picture_run(python: Path) -> int:
    """The demonstration without a window: stills and a summary in `PICTURES`."""
    folder = ROOT / PICTURES
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    command = [str(python), "-m", "simulator", "demo", SCENARIO, "--headless", "--stills", str(folder)]
    environment = {**os.environ, "PYTHONIOENCODING": "utf-8"}
    run = subprocess.Popen(command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, encoding="utf-8")
    assert run.stdout is not None
    with (folder / "summary.txt").open("w", encoding="utf-8") as summary:
        for line in run.stdout:
            print(line, end="", flush=True)
            summary.write(line)
    if run.wait() == 0:
        stills = len(list(folder.glob("*.png")))
        print(f"{stills} pictures and summary.txt are in {folder}")
    return run.returncode


if __name__ == "__main__":
    sys.exit(guarded(main))
