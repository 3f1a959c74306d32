"""What a coach says: whose move, one sentence and the hand calculation behind it, and what that asks of the levers."""

from __future__ import annotations

from typing import Literal, NamedTuple

from simulator.drill.conditions import channel_of
from simulator.drill.spoken_amounts import Amount, Words, words
from simulator.drill.voice_signals import Signal, spoken
from simulator.readings import Readings
from simulator.scenario.drill import NOBODY, Condition, Seat
from simulator.scenario.rig import TWO_BY_ONE, Rig

Kind = Literal["stop", "wait", "move", "hold", "done"]


class Prompt(NamedTuple):
    """What the coach says."""

    kind: Kind
    mover: Seat
    sentence: str
    reason: str
    """The hand calculation behind it, for those who ask."""
    signal: Signal | None = None


class Draft(NamedTuple):
    """A prompt before it is put into somebody's units."""

    kind: Kind
    mover: Seat
    order: Words | Signal
    why: Words
    meant: Signal | None = None
    """What an order in words of its own asks of the levers."""

    @property
    def key(self) -> tuple[object, ...]:
        """What makes it another order, and not the same with another distance."""
        order = self.order
        what = (order.function, order.sign, order.pace, order.line) if isinstance(order, Signal) else (order,)
        return (self.kind, self.mover, *what)

    def said(self, *, us: bool) -> Prompt:
        """In meters or in feet."""
        order, why = self.order, self.why.said(us=us)
        if isinstance(order, Signal):
            return Prompt(self.kind, self.mover, spoken(order, us=us), why, order)
        return Prompt(self.kind, self.mover, order.said(us=us), why, self.meant)


COMPARED = {"<": "under", "<=": "under", ">": "over", ">=": "over", "within": "within", "beyond": "beyond"}
PLAIN = str.maketrans("._", "  ")


def hold(why: str) -> Draft:
    """Nobody moves; `why` is a key of the file of words."""
    return Draft("hold", NOBODY, words("coach.drill_hold"), words(why))


def waiting_for(missing: tuple[Condition, ...], rig: Rig = TWO_BY_ONE) -> Draft:
    """Nothing is left for hands to do; if the step does not end, the first condition that keeps it is named."""
    if not missing:
        return hold("coach.why_hold_done")
    one = missing[0]
    channel = channel_of(one, rig)
    bound = Amount(one.value, channel.unit, min(2, channel.decimals))
    how = words("coach.condition_change" if one.change else f"coach.condition_{COMPARED[one.comparison]}").said()
    return Draft("hold", NOBODY, words("coach.drill_hold"),
                 words("coach.why_hold_missing", reading=_plainly(one.reading), how=how, bound=bound))  # fmt: skip


def why_sway(now: Readings) -> Words:
    """Why a load that sways is waited for."""
    sway, period = Amount(now.load.sway_m, "m", 2), f"{now.load.sway_period_s:.1f}"
    return words("coach.why_wait_sway", sway=sway, period=period)


def _plainly(reading: str) -> str:
    """`load.pitch_rad` is load pitch."""
    name, _, unit = reading.rpartition("_")
    return (name if name and unit in ("m", "mps", "rad", "radps", "N", "s") else reading).translate(PLAIN)
