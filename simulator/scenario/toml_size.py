"""How much a TOML text asks of its reader, counted in one pass before it is read: some texts take hours of it."""

from __future__ import annotations

import re
from typing import NamedTuple

from simulator.files.bounds import SCENARIO_DEPTH, SCENARIO_TOKENS

_TOKEN = re.compile(
    r'''
    """(?:[^"\\]|\\.|"{1,2}(?!"))*+(?:"{3,5})?
    | \'{3}(?:[^']|'{1,2}(?!'))*+(?:'{3,5})?
    | "(?:[^"\\\n]|\\.)*+"? | '[^'\n]*+'?
    | \#[^\n]*
    | [\[\]{},.=\n]
    | [^\s\[\]{},.=\#"']+
    ''',
    re.DOTALL | re.VERBOSE,
)
"""Each letter is looked at once, whatever is open at the end."""
_ENDS_A_KEY = frozenset("[]{},=\n")


class TooMuch(NamedTuple):
    """A limit that a text goes past."""

    line: int
    given: str
    allowed: str


def too_much(text: str) -> TooMuch | None:
    """The first limit that a text goes past; None when it can be read."""
    names, brackets, line = 1, 0, 1
    for count, match in enumerate(_TOKEN.finditer(text), 1):
        token = match[0]
        if count > SCENARIO_TOKENS:
            return TooMuch(line, "more values than that", f"at most {SCENARIO_TOKENS} keys, values and signs in a file")
        brackets += (token in "[{") - (token in "]}")
        names = names + 1 if token == "." else 1 if token in _ENDS_A_KEY else names
        if names > SCENARIO_DEPTH:
            return TooMuch(line, "a key of too many names", f"at most {SCENARIO_DEPTH} names with dots between them")
        if brackets > SCENARIO_DEPTH:
            return TooMuch(line, "too many brackets inside each other", f"at most {SCENARIO_DEPTH}")
        line += token.count("\n")
    return None
