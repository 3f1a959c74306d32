"""No order of the coach leads nowhere: a person who does what it says, and only that, comes to the end of a drill."""

from __future__ import annotations

import pytest

from tests.drill.lessons import coarser, drill, session
from tests.drill.obedient import beside_partner

pytestmark = pytest.mark.long
LEAST = {"turn_over": 78.0}
"""Points, of 85 elsewhere: lines of a light crate lean for some seconds as they come to bear one after the other."""


@pytest.mark.parametrize("end", [0, 1])
@pytest.mark.parametrize(
    "name", ["plumb_tips", "set_down", "lay_on_deck", "turn_and_land", "turn_over", "two_line_centering"]
)
def test_whoever_does_what_the_coach_says_beside_a_partner_passes_it(name: str, end: int) -> None:
    """All drills: `tools/obedient_person.py`."""
    attempt = beside_partner(coarser(drill(name)), end, longest_s=420.0)
    held = session(attempt)
    assert held.passed and not attempt.incidents
    assert held.result()[0].together > LEAST.get(name, 85.0)
