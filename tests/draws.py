"""How many random cases a test tries: some in every run, many in a roaming one (`--hypothesis-profile=roam`)."""

from hypothesis import settings

ROAM = 1000
"""Examples of a property in that profile (`conftest.py`)."""


def drawn(some: int, many: int) -> int:
    """As many cases as this run asks for."""
    return many if settings().max_examples >= ROAM else some
