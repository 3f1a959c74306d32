"""Advice agrees with itself, and what is proposed was tried by the check itself."""

from __future__ import annotations

import re
from dataclasses import replace
from math import radians

from simulator.plan.findings import OPPOSITE
from simulator.plan.setup_check import SetupCheck, check_setup, proposals
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_lines import change_words, tried_lines
from simulator.scenario.description import Description
from tests.plan.test_changes import drawn
from tests.plan.variants import boom, hoist, path, shipped


def _apart(lift: Description) -> Description:
    """Tips that the booms want lower and the blocks want higher."""
    return path(
        hoist(boom(lift, highest_rad=radians(58.0)), block_and_stop_m=2.2), tip_height_m=lift.path.tip_height_m + 0.1
    )


def _told(found: SetupCheck) -> list[str]:
    return [change_words(one, Amounts()) for one in found.findings if one.level != "good" and one.reading.change]


def test_it_never_asks_for_higher_and_lower_at_once() -> None:
    for lift in (_apart(shipped()), *map(drawn, range(40))):
        found = check_setup(lift, step_m=4.0)
        moves = [
            (one.reading.who, move)
            for one in found.findings
            if one.level != "good" and one.reading.change
            for move in one.reading.change.moves
        ]
        heights = {move for _, move in moves if move not in ("nearer", "farther", "else")}
        assert not any(OPPOSITE[move] in heights for move in heights), lift.title
        for who in ("nose unit", "tail unit"):
            assert not {"nearer", "farther"} <= {move for other, move in moves if other == who}
        words = " ".join(_told(found))
        assert not ("raise the tips" in words and re.search(r"tips [\d.]+ m lower", words))


def test_what_is_left_of_an_advice_reads_as_a_sentence() -> None:
    found = check_setup(_apart(shipped()), step_m=2.0)
    assert {"head room", "elevation"} <= set(found.refused_for)
    told = _told(found)
    assert any(re.search(r"To change: stand the unit [\d.]+ m farther off\.", words) for words in told)
    assert any(
        re.search(r"shorten the rigging by [\d.]+ m, or carry the trailer [\d.]+ m lower\.", words) for words in told
    )


def test_what_is_proposed_was_tried_and_says_what_it_gains() -> None:
    low_m = shipped().path.tip_height_m - 1.2
    lift = path(shipped(), tip_height_m=low_m)
    found = check_setup(lift, step_m=2.0)
    assert found.refused_for == ("head room",)
    best, *_ = proposals(found)
    assert (best.change.words, best.cures, best.leaves) == ("hold the tips {} higher", ("head room",), ())
    by_m = best.change.amounts[0].value
    again = check_setup(path(lift, tip_height_m=low_m + by_m), step_m=2.0)
    assert again.refused_for == ()
    (line, *_) = tried_lines((best,), Amounts())
    assert line.endswith(f"hold the tips {by_m:.2f} m higher: cures head room; then no stated limit is passed")
    assert proposals(check_setup(replace(shipped()), step_m=2.0)) == ()
