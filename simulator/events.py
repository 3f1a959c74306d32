"""What happens in a lift, as kind and fields. Words are made of it where it is shown; none are read back."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

Field = str | float | int
Fields = Mapping[str, Field]
"""By name; an amount is in SI and its name ends in its unit. `unit` and `line` are names of the rig."""
NONE: Fields = MappingProxyType({})


class Happening(NamedTuple):
    """Something that happened, or began."""

    kind: str
    """What sort: incident, stop order, instructor, step, stage, load, travel end, stall, tipping, slack, given up."""
    what: str
    """Which of them: the key of its words."""
    fields: Fields = NONE


class Event(NamedTuple):
    """What happened at a step of a lift."""

    step: int
    kind: str
    what: str
    fields: Fields = NONE

    @property
    def happening(self) -> Happening:
        """The same without its step."""
        return Happening(self.kind, self.what, self.fields)


WORDS_OF_ACTS = {
    "gust": "act_gust",
    "soft float": "act_float",
    "line slips": "act_slip",
    "cargo shifts": "act_cargo",
    "bed holds": "act_bed",
    "step back": "act_back",
    "slacken": "act_slacken",
}
"""An instructor's acts that have words of their own; all others are `instructor`."""
ACCOUNT = "account"
"""Kind of what a drill's account is made of: drill, lost, center."""
STATES = ("passed", "failed", "not passed", "not done")
"""How a drill ends, in its account."""
UNKNOWN = "unknown"
"""What of an event that this program does not know; its `text` field then says what it says."""
