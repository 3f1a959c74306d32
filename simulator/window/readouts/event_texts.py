"""Events and incidents of a lift in words: units named by the side they are seen on, amounts in the user's units."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress

from simulator.drill.instruction import SLACKEN
from simulator.events import WORDS_OF_ACTS, Happening
from simulator.telling.account import account_words
from simulator.telling.happened import told
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.measures_shown import System
from simulator.window.kit.seen import Seen
from simulator.window.readouts.act_words import act_text
from simulator.window.readouts.alert_words import as_seen, unit_names
from simulator.window.readouts.looks import capital
from simulator.words import say


def event_text(one: Happening, seen: Seen, system: System) -> str:
    """What happened, as a sentence without its end."""
    if one.kind == "instructor" and one.what != WORDS_OF_ACTS[SLACKEN]:
        with suppress(ValueError):
            act = act_text(one.fields, seen, system)
            return capital(say("event.instructor", act=act[:1].lower() + act[1:]))
    return capital(as_seen(told(one, _amount(system), unit_names(seen)), seen))


def incident_text(one: Happening | None, seen: Seen, system: System) -> str:
    """An incident, short: what met what."""
    return "" if one is None else event_text(one, seen, system).partition(say("event.then"))[0]


def lost_text(one: Happening, seen: Seen, system: System) -> str:
    """A line of a drill's account."""
    return as_seen(account_words(one, _amount(system), unit_names(seen)).strip(), seen)


def _amount(system: System) -> Callable[[float, str], str]:
    def amount(value: float, what: str) -> str:
        if what == "m":
            return shown.length(value, system).joined
        if what == "rad":
            return shown.angle(value).joined
        return (shown.load(value, system) if what == "N" else shown.slow_speed(value, system)).joined

    return amount
