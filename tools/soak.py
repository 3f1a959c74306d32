"""A long stay in the real window: keys at random from outside; memory watched, and every key's release.

python tools/soak.py [--minutes 30] [--seed 1]

A burst of keys goes down and up; its opposite follows, so that the lift stays near where it was. Two seconds of the
lift's own time after the last release every drive has to stand still: one that moves has lost a release. A lift that
ends by an incident is begun again from its card. 0 when nothing was lost and memory grew by 5 MB at most after the
first minute.
"""

from __future__ import annotations

import argparse
import random
import resource
import sys
import tempfile
import time
from pathlib import Path

from drive_by_keys import KEY_NAMES
from real_window import Environment, Tail, can_be_had, display, key, program

from simulator.window.hands.bindings import BINDINGS, SEATS

RATE_HZ = 5.0
STILL_AFTER_S = 2.0
PATIENCE_S = 12.0
"""A lift whose time stands for so long has ended; a slow computer's goes on."""
MOST_GROWTH_B = 5.0e6
SPEEDS = ("hoist_speed_mps", "telescope_speed_mps", "elevation_speed_radps", "slew_speed_radps")
OPPOSITE = {
    KEY_NAMES[row.scancode(seat)]: KEY_NAMES[other.scancode(seat)]
    for seat in SEATS
    for row in BINDINGS
    for other in BINDINGS
    if other.lever == row.lever and other.sign == -row.sign
}


def resident_B(pid: int) -> int:
    """Memory that a process holds."""
    pages = int(Path(f"/proc/{pid}/statm").read_text(encoding="ascii").split()[1])
    return pages * resource.getpagesize()


def burst(environment: Environment, chance: random.Random) -> None:
    """Some keys down, held and up again; then their opposites as long."""
    names = chance.sample(sorted(OPPOSITE), chance.randint(1, 5))
    names = [name for name in names if OPPOSITE[name] not in names]
    held_s = chance.uniform(0.05, 0.8)
    for row in (names, [OPPOSITE[name] for name in names]):
        key(environment, "keydown", row)
        time.sleep(held_s)
        key(environment, "keyup", chance.sample(row, len(row)))


def later(tail: Tail) -> dict[str, float] | None:
    """The readings two seconds later in the lift's own time; None if it does not come to them."""
    first: float | None = None
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        for row in tail.rows():
            first = row["time_s"] if first is None else first
            if row["time_s"] >= first + STILL_AFTER_S:
                return row
        time.sleep(0.1)
    return None


def moving(row: dict[str, float]) -> list[str]:
    """Drives that move."""
    return [f"{end}.{name}" for end in ("nose", "tail") for name in SPEEDS if row[f"{end}.{name}"] != 0.0]


def soak(environment: Environment, pid: int, tail: Tail, minutes: float, seed: int) -> tuple[int, int, int, list[int]]:
    """Bursts; those that left something moving; lifts begun again; memory after each burst from the first minute on."""
    chance, began_s = random.Random(seed), time.monotonic()
    bursts = lost = again = 0
    memory: list[int] = []
    while time.monotonic() - began_s < minutes * 60.0:
        burst(environment, chance)
        tail.rows()
        row = later(tail)
        if row is None:
            again += 1
            key(environment, "key", ["Tab"])
            time.sleep(2.0)
            continue
        bursts += 1
        left = moving(row)
        lost += bool(left)
        if left:
            print(f"at {row['time_s']:.1f} s still moving: {', '.join(left)}", flush=True)
        if time.monotonic() - began_s > 60.0:
            memory.append(resident_B(pid))
    return bursts, lost, again, memory


def main() -> int:
    """Stay so long and say what came of it."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("scenario", nargs="?", default="practice_yard", help="a file, or a shipped scenario's name")
    parser.add_argument("--minutes", type=float, default=30.0)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    if not can_be_had():
        print("needs Linux with Xvfb and xdotool", file=sys.stderr)
        return 2
    with tempfile.TemporaryDirectory() as own, display() as environment:
        environment |= {"XDG_DATA_HOME": own, "XDG_CONFIG_HOME": own, "HOME": own}
        telemetry = Path(own) / "telemetry.csv"
        with program(environment, given.scenario, telemetry, rate=RATE_HZ) as running:
            time.sleep(5.0)
            bursts, lost, again, memory = soak(environment, running.pid, Tail(telemetry), given.minutes, given.seed)
            has_died = running.poll() is not None
    if not memory:
        print("nothing was seen: too short, or the program did not run", file=sys.stderr)
        return 2
    grown_B = max(memory) - memory[0]
    print(f"{given.minutes:g} minutes, {bursts} bursts of keys, {lost} with a release lost, {again} lifts begun again")
    print(f"memory {memory[0] / 1e6:.1f} MB after the first minute, then {grown_B / 1e6:+.2f} MB at most")
    print("the program ended by itself" if has_died else "the program ran to the end")
    return 1 if lost or has_died or grown_B > MOST_GROWTH_B else 0


if __name__ == "__main__":
    sys.exit(main())
