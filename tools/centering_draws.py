"""The centering drill on loads drawn by lot, driven by the automatic operators: what sways, and what the loads say.

python tools/centering_draws.py [how many] [first seed]
"""

import sys
from dataclasses import replace
from math import degrees, radians, tan
from pathlib import Path
from random import Random
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from simulator.attempt import Attempt  # noqa: E402 - a script finds the program beside it
from simulator.drill.partner import Partner  # noqa: E402
from simulator.mechanics.boom import boom_pose  # noqa: E402
from simulator.mechanics.hoist_line import rope_for_m  # noqa: E402
from simulator.places import find_scenario  # noqa: E402
from simulator.recording.headless import run_operators  # noqa: E402
from simulator.scenario.description import Description, Engine  # noqa: E402
from simulator.scenario.reader import load  # noqa: E402
from simulator.scenario.unit import Unit  # noqa: E402
from tests.demo import restarted, with_lie, with_trailer  # noqa: E402

MOST_SWAY_M, MOST_ERROR_M = 0.08, 0.15
CG_M, MASS, BED_RAD, TIP_M = 1.0, (0.7, 1.3), radians(2.0), 0.6
FLOOR_M, TIP_HEIGHT_M, SLACK_M = -0.5, 9.0, 0.3


class Outcome(NamedTuple):
    """One draw."""

    seed: int
    drawn: str
    done: bool
    score: float
    sway_m: float
    """Largest in the hold test, once the load had hung free for a sway period."""
    cg_error_m: float
    time_s: float
    incidents: int

    @property
    def good(self) -> bool:
        """Done, with almost no sway and a center of gravity that was found."""
        found = abs(self.cg_error_m) < MOST_ERROR_M
        return self.done and not self.incidents and self.sway_m < MOST_SWAY_M and found and self.score > 85.0


def drawn(seed: int) -> tuple[Description, str]:
    """The shipped drill with hidden CG, mass, bed and tips drawn by lot."""
    draw, lift = Random(seed), load(find_scenario("centering"))
    cg, mass, pitch = draw.uniform(-CG_M, CG_M), draw.uniform(*MASS), draw.uniform(-BED_RAD, BED_RAD)
    tips = [(draw.uniform(-TIP_M, TIP_M), draw.uniform(-TIP_M, TIP_M)) for _ in range(2)]
    rise = 60.0 * tan(pitch)
    units = tuple(_started(lift, place, tips[place], pitch) for place in range(len(lift.units)))
    lift = with_trailer(with_lie(lift, pitch_rad=pitch), hidden_cg_m=(cg, 0.0, 0.0), hidden_mass_factor=mass)
    told = f"CG {cg:+.2f} m, mass {mass:.2f}, bed {degrees(pitch):+.1f} deg, tips {tips[0]}, {tips[1]}"
    site = replace(lift.site, bed_m=((-60.0, rise), (60.0, -rise)))
    return replace(lift, units=units, site=site), told


def _started(lift: Description, place: int, off_m: tuple[float, float], pitch_rad: float) -> Unit:
    """A unit whose tip stands so far off its pick, with a slack line."""
    unit = lift.units[place]
    pick = lift.trailer.pick(unit.lines[0].pick)
    hook_z = FLOOR_M + pick.at_m[2] + pick.height_m - pick.at_m[0] * tan(pitch_rad)
    tip = (pick.at_m[0] + off_m[0], lift.trailer.start.y_m + off_m[1], TIP_HEIGHT_M)
    length, elevation, slew = boom_pose(unit, tip)
    rope = rope_for_m(unit.hoist, TIP_HEIGHT_M - hook_z + SLACK_M, length)
    return restarted(unit, boom_length_m=length, elevation_rad=elevation, slew_rad=slew, rope_out_m=rope)


def outcome(seed: int, *, steps_per_s: int = 240) -> Outcome:
    """Drive one draw."""
    described, told = drawn(seed)
    described = replace(described, engine=Engine(steps_per_s, readings_per_s=steps_per_s // 4))
    attempt = Attempt(described, [Partner(described, 0), Partner(described, 1)])
    run_operators(attempt, longest_s=300.0)
    session = attempt.session
    assert session is not None
    sway = max((figures[0].sway_m for figures in session.judge.kept.steps.values()), default=9.9)
    error = session.center.from_loads_m - session.center.true_m if session.center else 9.9
    score, _ = session.result()
    return Outcome(seed, told, session.done, score.together, sway, error, attempt.simulation.time_s,
                   len(attempt.incidents))  # fmt: skip


def main(arguments: list[str]) -> int:
    """Print every draw and what they came to; 1 when one failed."""
    count = int(arguments[0]) if arguments else 200
    first = int(arguments[1]) if len(arguments) > 1 else 1
    outcomes = []
    for seed in range(first, first + count):
        one = outcome(seed)
        outcomes.append(one)
        print(f"{seed:4d} {'good' if one.good else 'FAILED'} score {one.score:.0f} sway {100 * one.sway_m:.1f} cm "
              f"CG off {100 * one.cg_error_m:+.1f} cm {one.time_s:.0f} s {one.incidents} incidents; {one.drawn}",
              flush=True)  # fmt: skip
    failed = [one.seed for one in outcomes if not one.good]
    print(f"{len(outcomes)} draws, {len(failed)} failed {failed}; worst sway "
          f"{100 * max(one.sway_m for one in outcomes):.1f} cm, worst CG "
          f"{100 * max(abs(one.cg_error_m) for one in outcomes):.1f} cm")  # fmt: skip
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
