"""Slopepick from Python: load a lift, change its numbers, run it with no window, read how it went.

A lift is a frozen description. What a scenario file says, `dataclasses.replace` can say too, the numbers hidden from
the trainee among them; `checked` judges the outcome as it judges a file, and `run` does so by itself.

>>> from dataclasses import replace
>>> from simulator import BrokenScenario, checked, load
>>> lift = load("practice_yard")  # a shipped lift or drill by its name, or a file
>>> heavy = replace(lift, trailer=replace(lift.trailer, hidden_mass_factor=1.2))
>>> try:
...     checked(replace(lift, trailer=replace(lift.trailer, hidden_mass_factor=20.0)))
... except BrokenScenario as broken:
...     print(broken)
the lift given: [trailer] hidden_mass_factor: given 20.0, allowed: a number, 0.5 to 2

An `Attempt` is one lift, driven by whoever gives it `Commands` for a number of steps (240 a second unless the file says
otherwise). To begin again, make another. Its `readings` are all that can be known; `CHANNELS` is their table.

>>> from simulator import CHANNELS, Attempt, Commands, UnitCommands
>>> attempt = Attempt(heavy)
>>> up = UnitCommands(hoist=0.3)  # -1 to 1
>>> while attempt.readings.load.ground_N > 0.0:
...     attempt.advance(Commands(up, up), steps=4)
>>> f"free of the ground after {attempt.readings.time_s:.1f} s"
'free of the ground after 4.8 s'
>>> row = next(one for one in CHANNELS if one.name == "nose.hook_load_N")
>>> f"{row.meaning}: {row.read(attempt.readings) / 1e3:.0f} kN"
'nose unit: pull at the pick: 37 kN'

`run` drives a lift or a drill to its end, with two automatic operators (`Partner`) or with others: an `Operator` is
whatever has a method `command(readings)` that answers `UnitCommands`. What comes back is a `Summary`: `landed`,
`incidents`, the worst of each unit, the score of a `drill`, the `last` readings, and all of it `as_json()`.

`rehearse` runs it many times on all cores, with load, wind and operators drawn by lot, and answers a `Rehearsal`: its
`rows`, and in its `tally` how often each limit was kept, what governed and which draws were the worst.

>>> from simulator import rehearse
>>> found = rehearse(load("plumb_tips"), 3, weight=(0.9, 1.1), operators=["able", "a little clumsy"], jobs=1)
>>> [f"{row.draw.weight:.2f} {row.draw.ways[1]}: {row.points:.0f} points" for row in found.rows]
['1.05 able: 86 points', '0.91 a little clumsy: 91 points', '0.97 able: 100 points']
>>> found.tally.kept, found.verdict
(Count(draws=3, of=3), 'no limit passed')

`weigh` says what a load tells while it hangs still, from what displays show: weight and center of gravity, each with
its spread (`Errors` says how sure the readings are), and whether the rest of the path holds with them.

>>> from simulator import weigh
>>> found = weigh(lift, {"nose": 37e3, "tail": 31e3})  # line loads, block and rigging in them
>>> weighed = found.weighed
>>> f"{weighed.weight_N / 1e3:.0f} kN, sure to {weighed.weight_spread_N / 1e3:.1f}"
'58 kN, sure to 2.5'
>>> f"{weighed.cg_m[0]:+.2f} m toward the tail end, sure to {weighed.spread_m[0]:.2f}"
'-0.37 m toward the tail end, sure to 0.16'
>>> found.cases.held, found.cases.drawn, found.do
(1000, 1000, 'go on')

`Simulation` is the bare engine under an attempt: reset, step, state, hash; no operators, no drill, no gaps.

For training and research; a real lift is planned by qualified people, from the makers' charts and local codes.
"""

from typing import TYPE_CHECKING

from simulator.compiled import look_for as _look_for_compiled

_look_for_compiled()  # before any room is imported

__all__ = [
    "CHANNELS",
    "Attempt",
    "BrokenScenario",
    "Commands",
    "Description",
    "Errors",
    "Operator",
    "Partner",
    "Readings",
    "Rechecked",
    "Rehearsal",
    "Simulation",
    "Summary",
    "UnitCommands",
    "checked",
    "load",
    "rehearse",
    "run",
    "weigh",
]

if TYPE_CHECKING:
    from simulator.script import *
else:

    def __getattr__(name: str) -> object:
        """A public name on its first use: the command line asks for none, and starts without the engine."""
        if name not in __all__:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        import simulator.script as script

        return getattr(script, name)

    def __dir__() -> list[str]:
        return sorted([*globals(), *__all__])
