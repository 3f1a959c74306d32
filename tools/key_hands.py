"""A pair at one keyboard: an automatic operator decides what each seat's hands want, and keys in pulses give it.

A key knows full and nothing, and with the slow key a fifth and nothing. What a pulse gives too much or too little is
made up for by the next. The hands read what a person reads, and act by keys alone.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from simulator.drill.naming import NAMING, Answer, Told
from simulator.drill.partner import Partner
from simulator.drill.progress import Progress
from simulator.drill.scales import Scales
from simulator.engine.commands import Hands
from simulator.readings import Readings
from simulator.scenario.description import Description
from simulator.scenario.measures import TONNE_N
from simulator.scenario.rig import rig_of
from simulator.window.hands.bindings import CREEP, KEY_SHARES, SEATS, Seat, find_binding, unit_of
from simulator.window.kit.regions import screen_sign
from simulator.window.kit.seen import seen_of

DECIDES_S = 0.2
"""A finger does not change its mind sooner. Common sense, no source."""
SLOW_UNDER = 0.55
"""Wishes under this share of full are met with the slow key."""
BOUNCE_S = 0.7
"""A winch is pressed for about one bounce of the load on its lines and booms, so that letting go stills what pressing
shook; taps of half a bounce feed it. Measured on the shipped tank."""
SPARE_SHARE = 0.25
"""The crossing is asked for so slowly that the slow key suffices for it."""
LEAST_TURN = 0.02
"""Less than this share of full between two lines is no turn, but one line a little more than the other."""
MOST_OWED_S = 0.5
"""No more than so long a pulse is made up for."""


class KeyHands:
    """One seat's hands."""

    def __init__(self, description: Description, seat: Seat) -> None:
        self.seat = seat
        unit = unit_of(seen_of(description), seat)
        if unit is None:
            raise ValueError(f"the {seat} seat drives no unit of this lift")
        self.end = unit.place
        self.partner = Partner(description, self.end, spare_share=SPARE_SHARE)
        self.presses = 0
        self._creep = description.units[self.end].creep_share
        self._levers = [lever.key for lever in unit.unit.levers]
        self._held = dict.fromkeys(self._levers, 0)
        self._owed = dict.fromkeys(self._levers, 0.0)
        self._is_slow = True
        self._decided_s: float | None = None

    def see(self, now: Readings) -> None:
        """Take in a moment; decide when the fingers may."""
        wanted = self._by_lever(self.partner.command(now))
        since_s = DECIDES_S if self._decided_s is None else now.time_s - self._decided_s
        if since_s < DECIDES_S - 1e-6:
            return
        self._decided_s = now.time_s
        given = self._level
        self._is_slow = all(abs(pulled) <= SLOW_UNDER * KEY_SHARES.get(key, 1.0) for key, pulled in wanted.items())
        self._held = {key: self._finger(key, pulled, given, since_s) for key, pulled in wanted.items()}

    def _by_lever(self, hands: Hands) -> dict[str, float]:
        """What is wanted of each lever: of two lines that both run, of those that move them alike and turn the load."""
        wanted = dict(zip(self._levers, hands, strict=True))
        first, second = wanted.get("hoist_1", 0.0), wanted.get("hoist_2", 0.0)
        if first and second and "both" in wanted:
            alike, turned = (first + second) / 2.0, (second - first) / 2.0
            turns = abs(turned) > LEAST_TURN and "turn" in wanted
            wanted |= {"hoist_1": 0.0, "hoist_2": 0.0, "both": alike}
            if turns:
                wanted["turn"] = turned
            else:
                wanted |= {"hoist_2": 2.0 * turned}
        return wanted

    @property
    def _level(self) -> float:
        """What a key gives at present."""
        return self._creep if self._is_slow else 1.0

    def _finger(self, lever: str, wanted: float, given: float, since_s: float) -> int:
        """Which of a lever's two keys is held from now on: 1, -1, or 0 for none."""
        share = KEY_SHARES.get(lever, 1.0)
        before, level = self._held[lever], share * self._level
        owed = self._owed[lever] + (wanted - before * share * given) * since_s
        owed = max(-MOST_OWED_S * level, min(MOST_OWED_S * level, owed))
        self._owed[lever] = owed if wanted else 0.0
        if not wanted or owed * before < 0.0:
            return 0
        press_s = BOUNCE_S if lever.startswith("hoist") or lever == "both" else DECIDES_S
        if before or abs(owed) < level * press_s / 2.0:
            return before
        self.presses += 1
        return 1 if owed > 0.0 else -1

    def keys(self) -> set[int]:
        """Scancodes of the keys that are down."""
        held = {find_binding(lever, sign).scancode(self.seat) for lever, sign in self._held.items() if sign}
        return held | {CREEP[self.seat]} if held and self._is_slow else held


class PairAtKeys:
    """Both seats, in a drill or in a plain lift; it follows the drill's steps by readings, as the screen tells them."""

    def __init__(self, description: Description, began: Readings, *, seats: Iterable[Seat] = SEATS) -> None:
        self.seats = tuple(KeyHands(description, seat) for seat in seats)
        self.progress = (
            Progress(description.drill, began, rig=rig_of(description)) if description.drill is not None else None
        )
        self._description, self._scales = description, Scales(description)
        self._follow()

    @property
    def is_done(self) -> bool:
        """The drill's last step has ended."""
        return self.progress is not None and self.progress.done

    @property
    def presses(self) -> int:
        """Keys pressed so far, the slow keys not counted."""
        return sum(hands.presses for hands in self.seats)

    def see(self, now: Readings) -> None:
        """Take in a moment."""
        self._scales.see(now)
        if self.progress is not None and self.progress.see(now):
            self._follow()
        for hands in self.seats:
            hands.see(now)

    def keys(self) -> frozenset[int]:
        """Scancodes of all keys that are down; none when it is done."""
        return frozenset() if self.is_done else frozenset().union(*(hands.keys() for hands in self.seats))

    def says(self) -> tuple[str, ...]:
        """Keys that open the card and name the load, once it has been weighed in the step that asks for it."""
        at = self.progress
        if at is None or at.step.work != NAMING or at.goes_on is not None or self._scales.found is None:
            return ()
        answer = Told(self._description, self._scales).by_the_loads()
        at.goes_on = answer.goes_on
        return naming_keys(self._description, answer)

    def _follow(self) -> None:
        if self.progress is not None:
            for hands in self.seats:
                hands.partner.follow(self.progress.began, self.progress.index)


def naming_keys(description: Description, answer: Answer) -> tuple[str, ...]:
    """From the lift to the card and back, in tonnes: names of keys as xdotool has them, digits as they are."""
    typed = [{".": "period"}.get(letter, letter) for letter in f"{answer.weight_N / TONNE_N:.2f}"]
    is_left = (answer.heavy == "nose") == (screen_sign(description) > 0.0)
    end = [] if answer.heavy == "even" else ["Left" if is_left else "Right"]
    side = {"road": ["Left"], "ravine": ["Right"]}.get(answer.side or "", [])
    across = [] if answer.side is None else ["Down", *side]
    return ("Return", *typed, "Down", *end, *across, "Down", *(["Right"] if answer.goes_on else []), "Return")
