"""What moves besides and is rarely there: a unit that goes over, a holding line from the bank."""

from __future__ import annotations

from simulator.mechanics.four_floats import Four
from simulator.mechanics.matrix import Matrix


class Over:
    """How a unit goes over: what it leans by, how fast, on which float it stands."""

    __slots__ = (
        "is_gone",
        "is_up",
        "lean_u",
        "lean_v",
        "pivot",
        "pushed_Ns",
        "rate_u",
        "rate_v",
        "sink_mps",
        "turn",
    )

    def __init__(self) -> None:
        """It stands on its floats."""
        self.stands()

    def stands(self) -> None:
        """On its floats, still."""
        self.is_up: bool = False
        """No floats balance it, or it has not come back to all of them yet."""
        self.is_gone: bool = False
        """Past its balance, or leaning farther than it can be saved from."""
        self.lean_u: float = 0.0
        self.lean_v: float = 0.0
        """Toward the tailboard, toward the road."""
        self.sink_mps: float = 0.0
        """Of its pivot."""
        self.rate_u: float = 0.0
        self.rate_v: float = 0.0
        self.pivot: int = 0
        """The float it stands on."""
        self.pushed_Ns: Four = (0.0, 0.0, 0.0, 0.0)
        """By each float since the floats were last read."""
        self.turn: Matrix = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)
        """Of the leaning unit, its own axes."""


class HoldingLine:
    """A line from an anchor on the bank to the load, as it stands."""

    __slots__ = ("is_let_out", "is_tied", "length_m", "pull_N")

    def __init__(self) -> None:
        """There is none."""
        self.is_tied: bool = False
        """It may hold: there is one, and it has not slipped or parted."""
        self.is_let_out: bool = False
        """It is being let out."""
        self.length_m: float = 0.0
        """Anchor to load, unloaded."""
        self.pull_N: float = 0.0
