"""Fixed steps by wall time: their number follows time and speed, never their length."""

from __future__ import annotations

import pytest

from simulator.window.pace import MOST_OWED_S, Pace


def run(pace: Pace, frame_s: float, frames: int) -> int:
    """Steps run over frames on a machine that keeps up."""
    total = 0
    for _ in range(frames):
        steps = pace.owe(frame_s)
        pace.done(steps)
        total += steps
    return total


@pytest.mark.parametrize("speed", [0.5, 1.0, 2.0, 4.0])
@pytest.mark.parametrize("frame_s", [1 / 60, 1 / 30, 0.0137])
def test_steps_add_up_to_time_whatever_the_frame_rate(speed: float, frame_s: float) -> None:
    pace = Pace(240)
    pace.speed = speed
    frames = 600
    assert run(pace, frame_s, frames) == pytest.approx(240 * speed * frame_s * frames, abs=2)
    assert not pace.is_slow


def test_pause_owes_nothing_and_forgets_nothing_afterwards() -> None:
    pace = Pace(240)
    pace.paused = True
    assert pace.owe(10.0) == 0
    pace.paused = False
    assert pace.owe(0.0) == 0


def test_a_long_hitch_is_dropped_not_run_through() -> None:
    assert Pace(240).owe(5.0) == round(MOST_OWED_S * 240)


def test_a_machine_too_slow_slows_simulated_time_and_says_so() -> None:
    """Half of the steps owed for 1 s can be run: the speed shown is half."""
    pace = Pace(240)
    for _ in range(300):
        pace.done(min(2, pace.owe(1 / 60)))
    assert pace.is_slow
    assert pace.shown_speed == pytest.approx(0.5, abs=0.05)


def test_speeds_are_chosen_one_by_one_and_end() -> None:
    pace = Pace(240)
    for _ in range(5):
        pace.faster(+1)
    assert pace.speed == 4.0
    for _ in range(9):
        pace.faster(-1)
    assert pace.speed == 0.5
