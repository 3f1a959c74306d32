"""How many fixed steps a frame is due: the window chooses their number, never their length."""

from __future__ import annotations

SPEEDS = (0.5, 1.0, 2.0, 4.0)
REPLAY_SPEEDS = (0.25, 0.5, 1.0, 2.0, 4.0, 8.0)
"""What is only shown, not reckoned, may run slower and faster."""
MOST_OWED_S = 0.1
"""Wall time a frame may fall behind; what is older is dropped, so simulated time slows instead of the picture."""
JUDGE_S = 1.0
SLOW_SHARE = 0.9
"""Under this share of the wanted speed the window says that time is slowed."""


class Pace:
    """Turns wall time into steps owed, at a chosen speed; knows when the machine does not keep up."""

    def __init__(self, steps_per_s: int, *, speeds: tuple[float, ...] = SPEEDS) -> None:
        self.steps_per_s, self.speeds = steps_per_s, speeds
        self.speed = 1.0
        self.paused = False
        self.kept_up = 1.0
        """Share of the wanted steps that were run over the last second."""
        self._owed_s = 0.0
        self._wanted, self._run = 0.0, 0
        self._judged_s = 0.0

    def faster(self, by: int) -> None:
        """One choice of speed up (+1) or down (-1)."""
        place = self.speeds.index(self.speed) + by
        self.speed = self.speeds[min(len(self.speeds) - 1, max(0, place))]

    def owe(self, elapsed_s: float) -> int:
        """Steps due after `elapsed_s` more seconds on the wall."""
        if self.paused:
            self._owed_s = 0.0
            return 0
        self._wanted += elapsed_s * self.speed * self.steps_per_s
        self._judge(elapsed_s)
        self._owed_s = min(self._owed_s + elapsed_s, MOST_OWED_S)
        return int(self._owed_s * self.speed * self.steps_per_s + 1e-6)

    def done(self, steps: int) -> None:
        """So many of the steps owed were run."""
        self._run += steps
        self._owed_s = max(0.0, self._owed_s - steps / (self.speed * self.steps_per_s))

    @property
    def is_slow(self) -> bool:
        """True when simulated time runs slower than was asked for."""
        return not self.paused and self.kept_up < SLOW_SHARE

    @property
    def shown_speed(self) -> float:
        """The speed that was reached."""
        return round(self.speed * self.kept_up, 1) if self.is_slow else self.speed

    def _judge(self, elapsed_s: float) -> None:
        self._judged_s += elapsed_s
        if self._judged_s >= JUDGE_S:
            self.kept_up = self._run / self._wanted if self._wanted else 1.0
            self._judged_s, self._wanted, self._run = 0.0, 0.0, 0
