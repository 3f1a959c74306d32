"""A scenario file looked at as far as it can be without driving: its numbers, and whether the lift can begin."""

from __future__ import annotations

from pathlib import Path

from simulator.engine import step_rule
from simulator.engine.simulation import Simulation
from simulator.engine.sling_ways import SlingError
from simulator.engine.time_zero import unfit
from simulator.files.bounds import SCENARIO_BYTES
from simulator.files.reading import text_of
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario, Fault, one_line
from simulator.scenario.reader import load, placed


def load_sound(path: Path) -> Description:
    """The lift that a scenario file describes, if it can begin.

    Raises:
        BrokenScenario: with everything that is wrong with the file, or with time zero.
    """
    description = load(path)
    where = one_line(path.name)
    try:
        faults = step_rule.faults(where, description) or unfit(where, Simulation(description, in_bulk=True))
    except SlingError as error:
        number = description.trailer.picks.index(error.pick) + 1
        given = ", ".join(f"{at:g}" for at in error.pick.at_m) + " m, where no sling can lie on the trailer"
        allowed = "a place on its outline, toward one end of the side that `lies_on` names: at = [-4.2, -1.0, 1.0]"
        faults = [Fault(f"{where}: [trailer.picks {number}] at", given, allowed)]
    except ArithmeticError as error:
        given = f"numbers with which the trailer cannot be set on the ground ({one_line(str(error))})"
        faults = [Fault(f"{where}: [trailer.start] y", given, "a lift that can begin")]
    if faults:
        raise BrokenScenario(placed(faults, text_of(path, SCENARIO_BYTES, "a scenario file"), where))
    return description
