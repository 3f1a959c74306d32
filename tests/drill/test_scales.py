"""What a lift's own readings tell of its load, against what is hidden in it and against the lift that follows.

`tools/weigh_draws.py --driven 100` does it for all shipped lifts, with every reading off by its error."""

from __future__ import annotations

import numpy as np
import pytest

from simulator.drill.scales import Scales
from simulator.engine.commands import still
from simulator.mechanics.trailer_body import body
from simulator.plan.recheck import recheck
from simulator.readings import Readings
from simulator.scenario.measures import STANDARD_GRAVITY_MPS2
from tools.weigh_draws import drawn, held

FOLLOWED_S = 12.0
MOST_OFF = 0.03


def test_a_hidden_load_is_found_and_the_rechecked_plan_agrees_with_the_lift_that_follows() -> None:
    lift = drawn("practice_yard", np.random.default_rng(5))
    true = body(lift.trailer)
    weight_N = true.mass_kg * STANDARD_GRAVITY_MPS2
    attempt, scales = held(lift)
    assert scales.found is not None and scales.reading is not None
    assert scales.found.weight_N == pytest.approx(weight_N, rel=1e-3)
    assert scales.found.cg_m[:2] == pytest.approx(true.cg_m[:2], abs=0.01)
    assert scales.found.holds(weight_N, true.cg_m) == (True, True, True, True)

    plan = recheck(lift, [scales.reading], scales.errors).check
    planned = [stand.pull.load_N for stand in plan.stations[1].units]
    loads: list[tuple[float, ...]] = []
    attempt.observers.append(lambda now: loads.append(tuple(unit.line_load_N for unit in now.units)))
    attempt.advance(still(attempt.rig), round(FOLLOWED_S * lift.engine.steps_per_s))
    assert attempt.readings.load.ground_N == 0.0
    assert np.mean(loads, axis=0) == pytest.approx(planned, rel=MOST_OFF)


def test_bounds_hold_the_truth_all_the_while_the_load_is_taken() -> None:
    lift = drawn("practice_yard", np.random.default_rng(6))
    true = body(lift.trailer)
    weight_N = true.mass_kg * STANDARD_GRAVITY_MPS2
    seen: list[Readings] = []
    scales = Scales(lift)

    def see(now: Readings) -> None:
        scales.see(now)
        if scales.state == "on the bed":
            seen.append(now)

    from simulator.attempt import Attempt
    from simulator.drill.partner import Partner

    attempt = Attempt(lift, [Partner(lift, 0), Partner(lift, 1)], in_bulk=True)
    attempt.observers.append(see)
    while scales.state != "moving":
        attempt.advance(still(attempt.rig), attempt.every)
    assert len(seen) > 20
    for now in seen[::5]:
        found = scales.bounds(now)
        assert found.least_N < weight_N and found.from_m < true.cg_m[0] < found.to_m
