"""An operator with a tape measure lays out a 53 ft van with two units entered before, by real keys in a real window.

Each line of `STEPS` is one action: a key, or a field that is typed and taken with Enter. The lift is saved and its
roadside paper printed; the file is checked, so that what is told here is what the screen showed.

python tools/layout_by_hand.py [--list]
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from real_window import ROOT, Environment, can_be_had, display, program

FIELD, KEY = "field", "key"
STEPS: tuple[tuple[str, str, str], ...] = (
    (KEY, "l", "start screen: lay out a lift"),
    (KEY, "n", "a new one"),
    (FIELD, "20 ft", "units' middle to the slope's edge"),
    (KEY, "Down", "past edge to nearest pad: it follows"),
    (FIELD, "5 ft", "road down to the toe"),
    (FIELD, "8 ft", "edge to toe, level"),
    (KEY, "Down", "past the bank's angle: it follows"),
    (FIELD, "38 ft", "units' middle to the live lane"),
    (FIELD, "0 ft", "no rail"),
    (KEY, "Next", "the load"),
    (FIELD, "dry van 53", "trailer type: brings its sizes and picks"),
    (KEY, "Down", "on its wheels, as assumed"),
    (KEY, "Down", "length as typed by its type"),
    (KEY, "Down", "width, the same"),
    (KEY, "Down", "height, the same"),
    (FIELD, "26 to 30 klb", "weight by the papers, least and most"),
    (FIELD, "25 to 28 ft", "front end to center of gravity, least and most"),
    (FIELD, "33 ft", "units' middle out to its middle"),
    (KEY, "Down", "its middle between the units"),
    (FIELD, "4 ft", "front end to nose pick"),
    (FIELD, "5 ft", "rear end to tail pick"),
    (FIELD, "7 ft", "pick to hook"),
    (KEY, "Next", "the way"),
    (FIELD, "6 ft", "lowest point over the road"),
    (FIELD, "34 ft", "boom tips over the road"),
    (KEY, "Next", "the units"),
    (FIELD, "40 ft", "tailboard to tailboard"),
    (KEY, "Down", "past which unit at which end"),
    (FIELD, "our 75", "left unit, by name"),
    (FIELD, "hired 60", "right unit, by name"),
    (KEY, "Down", "left: where it stands, from the gap"),
    (KEY, "Down", "left: its distance from the edge"),
    (KEY, "Down", "left: straight"),
    (KEY, "Down", "left: beams all out"),
    (KEY, "Down", "left: jacks, road side"),
    (KEY, "Down", "left: jacks, ravine side"),
    (FIELD, "60 in", "left: mats under the floats"),
    (KEY, "Down", "left: boom"),
    (KEY, "Down", "left: weight"),
    (KEY, "Down", "left: parts of line"),
    (KEY, "Down", "right: where it stands"),
    (KEY, "Down", "right: its distance from the edge"),
    (KEY, "Down", "right: straight"),
    (KEY, "Down", "right: beams all out"),
    (KEY, "Down", "right: jacks, road side"),
    (KEY, "Down", "right: jacks, ravine side"),
    (FIELD, "60 in", "right: mats under the floats"),
)
"""What is done until the verdict stands there."""
MOST_ACTIONS = 60
PATIENCE_S = 240
UNITS = (("our 75", "72 deg", "52,000 lb"), ("hired 60", "70 deg", "46,300 lb"))
"""Name, highest elevation and carrier's weight of the two: invented."""


def own_units(folder: Path) -> None:
    """Two units in the user's folder, as if they had been entered before: invented, like the one that ships."""
    shipped = (ROOT / "assets" / "units" / "invented rotator.toml").read_text(encoding="utf-8")
    folder.mkdir(parents=True)
    for name, highest, carrier in UNITS:
        text = shipped.replace('highest = "62 deg"', f'highest = "{highest}"')
        text = text.replace('carrier = "46,300 lb"', f'carrier = "{carrier}"')
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")


def send(environment: Environment, kind: str, what: str, pause_s: float) -> None:
    """One action."""
    if kind == KEY:
        subprocess.run(["xdotool", "key", what], env=environment, check=True)
    else:
        subprocess.run(["xdotool", "type", "--delay", "40", what], env=environment, check=True)
        time.sleep(pause_s / 2.0)
        subprocess.run(["xdotool", "key", "Return"], env=environment, check=True)
    time.sleep(pause_s)


def lay_out(home: Path, pause_s: float) -> Path:
    """All of it; the file that was saved."""
    own_units(home / "data" / "slopepick" / "units")
    (home / "config" / "slopepick").mkdir(parents=True)
    (home / "config" / "slopepick" / "settings.toml").write_text('units = "us"\n', encoding="utf-8")
    with display() as shown:
        environment = {**shown, "XDG_DATA_HOME": str(home / "data"), "XDG_CONFIG_HOME": str(home / "config")}
        environment |= {"HOME": str(home), "PYTHONPATH": str(ROOT)}
        with program(environment, "", home / "telemetry.csv", rate=1.0):
            time.sleep(30.0 * pause_s)
            for kind, what, _ in STEPS:
                send(environment, kind, what, pause_s)
            time.sleep(6.0 * pause_s)
            send(environment, KEY, "ctrl+s", pause_s)
            send(environment, KEY, "Return", pause_s)
            send(environment, KEY, "ctrl+p", pause_s)
            return _waited_for(home)


def _waited_for(home: Path) -> Path:
    """The file that is saved, once its paper is printed too: keys wait for a program that is busy."""
    for _ in range(PATIENCE_S):
        files = [one for one in home.rglob("*.toml") if one.parent.name == "scenarios"]
        if files and any(home.rglob("*.pdf")):
            return files[0]
        time.sleep(1.0)
    raise SystemExit(f"nothing was saved: {sorted(str(one) for one in home.rglob('*.*'))[:20]}")


def main() -> int:
    """Do it, and tell the actions and the verdict."""
    asked = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    asked.add_argument("--list", action="store_true", help="only list the actions")
    asked.add_argument("--pause", type=float, default=0.5, help="seconds after each action, more on a busy computer")
    given = asked.parse_args()
    for number, (kind, what, why) in enumerate(STEPS, 1):
        print(f"{number:>3}  {kind:<6}{what:<14}{why}")
    print(f"{len(STEPS)} actions, at most {MOST_ACTIONS}")
    if given.list:
        return 0
    if not can_be_had():
        print("needs Xvfb and xdotool")
        return 1
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        saved = lay_out(home, given.pause)
        environment = {**os.environ, "XDG_DATA_HOME": str(home / "data"), "HOME": str(home), "PYTHONPATH": str(ROOT)}
        checked = subprocess.run(
            [sys.executable, "-m", "simulator", "check", str(saved), "--units", "us"],
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )
        print(checked.stdout[:2500], checked.stderr[:600], *(one.name for one in home.rglob("*.pdf")), sep="\n")
    return 0 if len(STEPS) <= MOST_ACTIONS else 1


if __name__ == "__main__":
    sys.exit(main())
