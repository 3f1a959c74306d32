"""Fixed steps by wall time: their number follows time and speed, never their length."""

from __future__ import annotations

import pytest

from simulator.engine.commands import Commands
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.window.screens import drive
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.drive_words import situation_of
from simulator.window.shell.lift import Choice, OutOfReach
from simulator.window.shell.pace import MOST_OWED_S, Pace
from tests.window.inside import panel_look
from tests.window.sample import calm_readings, sample_description


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


class Clock:
    """A clock that goes on only when told."""

    def __init__(self) -> None:
        self.now_s = 0.0

    def __call__(self) -> float:
        return self.now_s


class CostlyLift(OutOfReach):
    """A lift that only counts, and whose every step takes its time by a clock."""

    def __init__(self, description: Description, clock: Clock, step_cost_s: float) -> None:
        super().__init__([None, None])
        self.readings: Readings = calm_readings()._replace(step=0, time_s=0.0)
        self.ended = False
        self._clock, self._cost_s, self._per_s = clock, step_cost_s, description.engine.steps_per_s

    def advance(self, commands: Commands, steps: int) -> None:
        self._clock.now_s += steps * self._cost_s
        step = self.readings.step + steps
        self.readings = self.readings._replace(step=step, time_s=step / self._per_s)


def costly(monkeypatch: pytest.MonkeyPatch, step_cost_s: float) -> tuple[DriveScreen, Clock]:
    """A drive screen on a machine on which a step takes so long."""
    description, clock = sample_description(), Clock()
    monkeypatch.setattr(drive, "perf_counter", clock)
    choice = Choice(description, "two")
    return DriveScreen(choice, begin=lambda *_: CostlyLift(description, clock, step_cost_s)), clock


def run_frames(screen: DriveScreen, clock: Clock, seconds_s: float) -> float:
    """Frames of a 60th at least, as long as the physics takes; answers the time that went by."""
    start_s = last_s = clock.now_s
    while clock.now_s - start_s < seconds_s:
        clock.now_s = max(clock.now_s, last_s + 1 / 60)
        elapsed_s, last_s = clock.now_s - last_s, clock.now_s
        screen.advance(elapsed_s)
    return clock.now_s - start_s


def test_on_a_machine_that_keeps_up_lift_time_is_clock_time(monkeypatch: pytest.MonkeyPatch) -> None:
    screen, clock = costly(monkeypatch, 1e-4)
    passed_s = run_frames(screen, clock, 5.0)
    assert screen.lift.readings.time_s == pytest.approx(passed_s, abs=0.05)
    assert not screen.pace.is_slow


def test_on_a_machine_too_slow_time_slows_and_the_strip_says_how_much(monkeypatch: pytest.MonkeyPatch) -> None:
    """A step of 1/240 s takes 1/120 s: lift time goes at half of clock time, and the strip says so."""
    screen, clock = costly(monkeypatch, 1 / 120)
    passed_s = run_frames(screen, clock, 6.0)
    assert screen.lift.readings.time_s == pytest.approx(passed_s / 2.0, rel=0.1)
    assert screen.pace.is_slow
    assert screen.pace.shown_speed == pytest.approx(0.5, abs=0.1)
    now = situation_of(screen)
    assert now.is_slow and now.speed == f"{screen.pace.shown_speed:g}x".replace("0.5x", "½x")
    screen.readouts.follow(screen.lift.readings, 1.0, now)
    assert panel_look(screen.readouts, "coach").is_slow


def test_frames_stay_short_however_slow_the_physics(monkeypatch: pytest.MonkeyPatch) -> None:
    screen, clock = costly(monkeypatch, 1 / 120)
    for _ in range(50):
        before_s = clock.now_s
        screen.advance(0.25)
        assert clock.now_s - before_s <= drive.PHYSICS_SHARE_S + drive.STEPS_AT_ONCE / 120


def test_a_computer_that_slept_does_not_rush_the_lift(monkeypatch: pytest.MonkeyPatch) -> None:
    """An hour between two frames is a tenth of a second for the lift, and afterwards it goes on at its pace."""
    screen, clock = costly(monkeypatch, 1e-5)
    run_frames(screen, clock, 1.0)
    before_s = screen.lift.readings.time_s
    screen.advance(3600.0)
    assert screen.lift.readings.time_s - before_s <= MOST_OWED_S + 1 / 240
    before_s = screen.lift.readings.time_s
    passed_s = run_frames(screen, clock, 3.0)
    assert screen.lift.readings.time_s - before_s == pytest.approx(passed_s, abs=MOST_OWED_S)
    assert not screen.pace.is_slow, "what was slept through is forgotten within seconds"
