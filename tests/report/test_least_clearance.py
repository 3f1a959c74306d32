"""Least clearance: only what a part is over counts; beside the decks every load passes their height."""

from dataclasses import replace

import numpy as np

from simulator.mechanics.trailer_body import lying, part_corners, stated_cg_m
from simulator.readings import PartGap
from simulator.report.lift.debrief import debrief
from simulator.report.lift.least_clearance import is_over
from tests.report.lifts import made_up, tank


def test_least_clearance_counts_only_what_a_part_is_over() -> None:
    """Beside the deck the part passes its height by 1 cm; over it there is half a meter."""
    description = tank()
    part = description.trailer.parts[0]
    beside, over = (
        PartGap(part.name, 0.01, "nose unit deck", "close"),
        PartGap(part.name, 0.5, "nose unit deck", "clears"),
    )
    recording = made_up({"load.y_m": lambda time_s: np.where(time_s < 20.0, -8.0, 0.0)}, description=description)
    seconds = tuple(one._replace(gaps=(beside if one.end_step <= 19 * 240 else over,)) for one in recording.seconds)
    row = debrief(replace(recording, seconds=seconds)).worst[-1]
    assert row.label == "Min clearance over a deck" and row.cells[0].startswith("0.50 m at")
    only_beside = tuple(one._replace(gaps=(beside,)) for one in recording.seconds[:19])
    assert "clearance" not in debrief(replace(recording, seconds=only_beside)).worst[-1].label
    # The part's own width decides: at its edge over the deck's edge it counts, a hand's width beyond it does not.
    reach_m = description.units[0].carrier_width_m / 2.0
    load = recording.at(0.0).load
    ys = [lying(description.trailer.attitude, corner)[1] for corner in part_corners(part)]
    middle_m = lying(description.trailer.attitude, stated_cg_m(description.trailer))[1]
    at_edge_m = -reach_m - (max(ys) - middle_m)
    assert is_over(description, part.name, "nose unit deck", load._replace(y_m=at_edge_m + 0.1))
    assert not is_over(description, part.name, "nose unit deck", load._replace(y_m=at_edge_m - 0.1))
