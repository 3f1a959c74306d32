"""What is wrong with a scenario: where, what was given, what is allowed."""

from __future__ import annotations

import datetime
import json
import re
from collections.abc import Iterable
from typing import NamedTuple

from simulator.files.plain_text import cut_to
from simulator.files.plain_text import one_line as one_line

LONGEST_SHOWN = 60
"""Characters of a given text that a fault repeats."""
NOTHING = "nothing"


class Fault(NamedTuple):
    """One thing to put right."""

    place: str
    """File, table and key, such as `tank.toml: [units.nose.boom] shortest`."""
    given: str
    allowed: str

    def __str__(self) -> str:
        return f"{self.place}: given {self.given}, allowed: {self.allowed}"


class BrokenScenario(Exception):  # noqa: N818 - it says what it is: a scenario that cannot be used
    """A scenario that cannot be used, with everything that is wrong with it."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


def cut(text: str) -> str:
    """`text` on one line and no longer than a fault should repeat."""
    return cut_to(text, LONGEST_SHOWN)


def shown(value: object) -> str:
    """A value from a TOML file, as a fault repeats it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(cut(value), ensure_ascii=False)
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if isinstance(value, int):
        # A whole number of thousands of digits cannot be turned into text.
        return str(value) if abs(value) < 10**LONGEST_SHOWN else "a very large whole number"
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, datetime.date | datetime.time):
        return f"the date or time {value.isoformat()}"
    return cut(str(value))


def shown_key(key: str) -> str:
    """A key as it stands in the file, quoted when it is not a bare one."""
    return key if re.fullmatch(r"[A-Za-z0-9_-]{1,60}", key) else json.dumps(cut(key), ensure_ascii=False)


def listed(names: Iterable[str], *, last: str = "or") -> str:
    """`a, b or c`."""
    names = list(names)
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {last} {names[-1]}"
