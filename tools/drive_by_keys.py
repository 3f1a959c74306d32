"""Drive a drill in the real window, in real time, by keys alone: a scripted pair at one keyboard.

python tools/drive_by_keys.py SCENARIO [--faster N] [--longest S] [--still PICTURE.png] [--pictures FOLDER]
                              [--whole-way]

With --whole-way the keys begin on the start screen, go through the seat check, and end in the debrief. --pictures takes
one at each moment of `MOMENTS` as it comes, and keeps the recording beside them.
The pair reads what the program writes beside the window (`--telemetry`) and acts by keys going down and up, sent from
outside. What it came to is read off the recording that the program keeps. 0 when the drill was passed.
"""

from __future__ import annotations

import argparse
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from math import degrees
from pathlib import Path

from key_hands import PairAtKeys
from real_window import Environment, Running, Tail, can_be_had, display, key, program, readings_of

from simulator.places import find_scenario
from simulator.readings import Readings
from simulator.recording.lift_file import read
from simulator.recording.recorded import Recording
from simulator.report.amounts import Amounts
from simulator.report.lift.event_words import account_lines
from simulator.scenario.description import Description
from simulator.scenario.reader import load
from simulator.scenario.rig import rig_of
from simulator.window.hands.bindings import BINDINGS, CREEP, SEATS
from simulator.window.shell.lifts_on_offer import drill_offers, offered_lifts, shipped_lifts

RATE_HZ, LOOKS_S, PATIENCE_S = 20.0, 0.02, 60.0
OVER_S = 10.0
"""Readings that stop for so long have ended: the last moment of a lift may fall between two of them."""
NAMES = {
    "left": {"hoist": "rf", "hoist_1": "rf", "hoist_2": "tg", "telescope": "eq", "elevation": "ws", "slew": "da",
             "both": "xz", "turn": "54"},
    "right": {"hoist": "uj", "hoist_1": "uj", "hoist_2": "yh", "telescope": "ip", "elevation": "ol",
              "slew": ("k", "semicolon"), "both": ("period", "slash"), "turn": "67"},
}  # fmt: skip
KEY_NAMES = {
    **{row.scancode(seat): NAMES[seat][row.lever][0 if row.sign > 0 else 1] for row in BINDINGS for seat in SEATS},
    CREEP["left"]: "Shift_L",
    CREEP["right"]: "Shift_R",
}
"""Scancode: what the key is called on a display with a US keyboard."""


MOMENTS: dict[str, Callable[[Readings], bool]] = {
    "1-lift-off": lambda now: now.load.ground_N <= 0.0 and now.load.height_over_bed_m > 0.05,
    "2-crossing": lambda now: now.load.y_m > 0.0,
    "3-turned-45": lambda now: degrees(now.load.turned_rad) > 45.0,
    "4-turned-85": lambda now: degrees(now.load.turned_rad) > 85.0,
    "5-landing": lambda now: now.load.road_N > 0.0,
}
"""What is worth a picture of a load that is carried across and turned over."""


@dataclass
class Seen:
    """Worst readings on the way; of those that hang, while it hangs."""

    off_plumb_rad: float = 0.0
    sway_m: float = 0.0
    ends_differ_m: float = 0.0
    yaw_rad: float = 0.0
    pitch_rad: float = 0.0
    least_float_share: float = 1.0
    last: Readings | None = field(default=None, repr=False)

    def see(self, now: Readings) -> None:
        """Take in a moment."""
        self.last = now
        for unit in now.units:
            self.off_plumb_rad = max(self.off_plumb_rad, 0.0 if unit.slack else unit.mean_off_plumb_rad)
            self.least_float_share = min(self.least_float_share, unit.least_float_share)
        if now.load.ground_N <= 0.0:
            self.sway_m = max(self.sway_m, now.load.sway_m)
            self.ends_differ_m = max(self.ends_differ_m, abs(now.load.ends_differ_m))
            self.yaw_rad = max(self.yaw_rad, abs(now.load.yaw_rad))
            self.pitch_rad = max(self.pitch_rad, abs(now.load.pitch_rad))


class Pictures:
    """A picture at each moment, once, taken beside the driving."""

    def __init__(self, environment: Environment, folder: Path | None) -> None:
        self._environment, self._folder = environment, folder
        self._to_come = dict(MOMENTS) if folder is not None else {}
        if folder is not None:
            folder.mkdir(parents=True, exist_ok=True)

    def see(self, now: Readings) -> None:
        """Takes what is due."""
        for name in [name for name, is_now in self._to_come.items() if is_now(now)]:
            del self._to_come[name]
            self.take(name)

    def take(self, name: str) -> None:
        """The whole display, by a process of its own: keys are not held up."""
        if self._folder is not None:
            command = ["import", "-window", "root", str(self._folder / f"{name}.png")]
            subprocess.Popen(command, env=self._environment)


def drive(
    environment: Environment,
    running: Running,
    tail: Tail,
    described: Description,
    longest_s: float,
    *,
    faster: int = 0,
    pictures: Pictures,
) -> tuple[PairAtKeys, Seen]:
    """Keys down and up until the drill or the lift is over, or for so long in the lift's own time."""
    pair: PairAtKeys | None = None
    seen, down, silent_until = Seen(), frozenset[int](), time.monotonic() + PATIENCE_S
    while time.monotonic() < silent_until and running.poll() is None:
        for row in tail.rows():
            now = readings_of(row, rig_of(described))
            if pair is None:
                pair = PairAtKeys(described, now)
                key(environment, "key", ["equal"] * faster)
            pair.see(now)
            seen.see(now)
            pictures.see(now)
            silent_until = time.monotonic() + OVER_S
        wanted = pair.keys() if pair is not None else down
        _move(environment, "keyup", down - wanted)
        _move(environment, "keydown", wanted - down)
        down = wanted
        for name in pair.says() if pair is not None else ():
            key(environment, "key", [name])
        if pair is not None and (pair.is_done or (seen.last is not None and seen.last.time_s > longest_s)):
            _move(environment, "keyup", down)
            return pair, seen
        time.sleep(LOOKS_S)
    if pair is not None and running.poll() is None:
        return pair, seen
    what = f"ended with {running.poll()}" if running.poll() is not None else f"wrote no readings for {PATIENCE_S:.0f} s"
    raise SystemExit(f"the program {what}; last reading at {seen.last.time_s if seen.last else 0.0:.1f} s")


def _move(environment: Environment, action: str, keys: frozenset[int]) -> None:
    """The slow key goes down first and up last, as under a hand: else a function runs at full for a moment."""
    is_up = action == "keyup"
    names = [KEY_NAMES[one] for one in sorted(keys, key=lambda one: ((one in CREEP.values()) == is_up, one))]
    if names:
        key(environment, action, ["--delay", "0", *names])


def sit_down(environment: Environment, described: Description) -> None:
    """From the start screen to the seats and into the lift."""
    offers = offered_lifts(shipped_lifts(), drill_offers())
    at = next(number for number, one in enumerate(offers) if one.description == described)
    time.sleep(4.0)
    for name in (*["Right"] * at, "Return", "Return"):
        key(environment, "key", [name])
        time.sleep(0.5)


def leave(
    environment: Environment, running: Running, still: Path | None, pictures: Pictures, *, to_debrief: bool = False
) -> None:
    """From the card at the end to the start screen and out, by Esc, as a person leaves; or to the debrief first."""
    time.sleep(1.5)
    pictures.take("6-summary")
    if to_debrief:
        time.sleep(1.5)
        key(environment, "key", ["Return"])
        time.sleep(4.0)
        pictures.take("7-debrief")
    if still is not None:
        subprocess.run(["import", "-window", "root", str(still)], env=environment, check=True)
    for _ in range(4):
        if running.poll() is None:
            key(environment, "key", ["Escape"])
            time.sleep(1.0)


def real_lift(
    name: str,
    longest_s: float,
    still: Path | None = None,
    *,
    faster: int = 0,
    whole_way: bool = False,
    folder: Path | None = None,
) -> tuple[PairAtKeys, Seen, Recording]:
    """A drill in a window of its own; what the pair did, what they saw, and what the program kept of it."""
    path = find_scenario(name)
    described = load(path)
    with tempfile.TemporaryDirectory() as own, display() as environment:
        environment |= {"XDG_DATA_HOME": own, "XDG_CONFIG_HOME": own, "HOME": own}
        telemetry = Path(own) / "telemetry.csv"
        with program(environment, "" if whole_way else str(path), telemetry, rate=RATE_HZ) as running:
            if whole_way:
                sit_down(environment, described)
            pictures = Pictures(environment, folder)
            tail = Tail(telemetry)
            pair, seen = drive(environment, running, tail, described, longest_s, faster=faster, pictures=pictures)
            leave(environment, running, still, pictures, to_debrief=whole_way)
        kept = next(Path(own).rglob("*.lift"))
        if folder is not None:
            shutil.copy(kept, folder)
        return pair, seen, read(kept)


def main() -> int:
    """Drive one and say what it came to."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("scenario", help="a drill's file, or a shipped drill's name")
    parser.add_argument("--faster", type=int, default=2, metavar="N", help="presses of +: 2 is 4x, the most")
    parser.add_argument("--longest", type=float, default=600.0, metavar="S", help="give up after so long")
    parser.add_argument("--still", type=Path, metavar="PICTURE.png", help="a picture of the end")
    parser.add_argument("--pictures", type=Path, metavar="FOLDER", help="a picture at each moment, and the recording")
    parser.add_argument("--whole-way", action="store_true", help="from the start screen to the debrief")
    given = parser.parse_args()
    if not can_be_had():
        print("needs Linux with Xvfb and xdotool", file=sys.stderr)
        return 2
    began_s = time.monotonic()
    pair, seen, recording = real_lift(
        given.scenario,
        given.longest,
        given.still,
        faster=given.faster,
        whole_way=given.whole_way,
        folder=given.pictures,
    )
    on_wall_s = time.monotonic() - began_s
    ending = recording.ending
    print(f"{given.scenario}: {recording.how}, {recording.length_s:.1f} s of lift in {on_wall_s:.0f} s on the wall")
    print(f"keys pressed: {pair.presses}, beside the slow keys")
    print(f"most off plumb {degrees(seen.off_plumb_rad):.2f} deg, most sway {seen.sway_m:.3f} m, least float "
          f"{seen.least_float_share:.0%} of its resting load")  # fmt: skip
    print(f"while it hung: ends apart at most {seen.ends_differ_m:.3f} m, yaw {degrees(seen.yaw_rad):.2f} deg, "
          f"pitch {degrees(seen.pitch_rad):.2f} deg")  # fmt: skip
    for line in account_lines(ending.account if ending else (), Amounts()):
        print(line)
    if load(find_scenario(given.scenario)).drill is None:
        return 0 if recording.how == "landed" else 1
    return 0 if ending is not None and any(one.fields.get("state") == "passed" for one in ending.account) else 1


if __name__ == "__main__":
    sys.exit(main())
