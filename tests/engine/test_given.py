"""Commands kept in little room come back as they were given."""

import pickle

from hypothesis import given, settings
from hypothesis import strategies as st

from simulator.engine.command_log import ROWS_TOGETHER, Given
from simulator.engine.commands import Commands, UnitCommands

HANDS = st.builds(UnitCommands, *[st.floats(-1.0, 1.0)] * 4)
ROWS = st.lists(st.tuples(st.integers(0, 2**40), st.builds(Commands, HANDS, HANDS)), max_size=8)


@settings(max_examples=40)
@given(rows=ROWS, times=st.sampled_from([0, 1, ROWS_TOGETHER // 4, ROWS_TOGETHER]))
def test_every_change_comes_back_to_the_last_bit(rows: list[tuple[int, Commands]], times: int) -> None:
    kept = Given()
    for step, commands in rows * times:
        kept.add(step, commands)
    assert list(kept) == rows * times
    assert list(kept) == rows * times, "and again"


def test_an_hour_of_moving_hands_takes_little_room() -> None:
    """A ramp up and down each second, 60 changes a second: 15.6 MB as bare numbers."""
    kept = Given()
    for number in range(3600 * 60):
        hoist = abs(number % 60 - 30) / 30.0
        kept.add(number * 4, Commands(UnitCommands(hoist=hoist), UnitCommands()))
    assert len(pickle.dumps(kept)) < 2.0e6
