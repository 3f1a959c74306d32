"""What moves in a lift, whoever looks on: the engine, what the instructor does to it, the moments to go back to."""

from __future__ import annotations

from simulator.drill.instruction import SLACKEN, Instruction, changed, from_fields
from simulator.engine.changes import carried_over, slipped
from simulator.engine.commands import Commands
from simulator.engine.instruments import Instruments
from simulator.engine.model import Model, build
from simulator.engine.simulation import Simulation
from simulator.engine.state import State
from simulator.events import Fields
from simulator.readings import Gaps, Readings
from simulator.scenario.description import Description


class World:
    """A lift's simulation, with the instructor's hand in it and instruments on it."""

    def __init__(self, description: Description, *, in_bulk: bool = False) -> None:
        self.simulation = Simulation(description, in_bulk=in_bulk)
        engine = description.engine
        self.every = max(1, round(engine.steps_per_s / engine.readings_per_s))
        """Steps from one set of readings to the next."""
        self.drill_step = 0
        """Number of the drill's step it is in."""
        self._has_drill = description.drill is not None
        self._starts: dict[int, tuple[Model, State]] = {0: (self.simulation.model, self.simulation.state)}
        self._gust: tuple[int, float] | None = None
        """Step at which a gust is over, and by how much the wind then changes."""
        self.instruments = Instruments(self.simulation.model)
        self._send_gust()

    def step(self, commands: Commands, steps: int = 1) -> None:
        """So many steps of the engine."""
        while steps > 0:
            count = steps if self._gust is None else max(1, min(steps, self._gust[0] - self.simulation.step_count))
            self.simulation.run(commands, count)
            steps -= count
            if self._gust is not None and self.simulation.step_count >= self._gust[0]:
                self._change(Instruction("gust", self._gust[1]))
                self._gust = None

    def step_watched(self, commands: Commands, steps: int) -> int:
        """Steps in bulk from a moment at the steady rate on, up to so many, each moment watched but for the last.

        Returns:
            How many were taken: whole moments, fewer where the lift may have ended, or a gust is still on.
        """
        if self._gust is None and not self.simulation.incidents:
            return self.simulation.run_watched(commands, steps, self.every, self.instruments)
        self.step(commands, self.every)
        return self.every

    def watch(self) -> None:
        """Take a moment at the steady rate into what is averaged over a sway."""
        self.instruments.watch(self.simulation.moving)

    @property
    def may_have_landed(self) -> bool:
        """The road carries enough of the load to ask whether it has landed."""
        return self.instruments.is_carried(self.simulation.moving)

    def read(self, gaps: Gaps = ()) -> Readings:
        """Readings of this moment."""
        return self.instruments.read(self.simulation.state, gaps)

    def instruct(self, what: Instruction) -> bool:
        """What the instructor does to the lift itself; False for what it is nothing to, such as a pause."""
        if what.kind == "step back":
            return self._step_back(int(what.amount))
        if what.kind == SLACKEN:
            return self.simulation.slacken()
        if what.kind == "line slips":
            self.simulation.restore(slipped(self.simulation.state, what.end, what.amount))
            return True
        is_changed = self._change(what)
        if what.kind == "gust":
            lasts = round(what.lasts_s / self.simulation.model.dt)
            self._gust = self.simulation.state.step + lasts, -what.amount
        return is_changed

    def instruct_again(self, fields: Fields) -> None:
        """Do again what an event of the kind `instructor` holds.

        Raises:
            ValueError: it says nothing that an instructor can do.
        """
        self.instruct(from_fields(fields, self.simulation.model.rig))

    def begin_drill_step(self, number: int) -> None:
        """Remember this moment as the start of a step of the drill."""
        self.drill_step = number
        self._starts[number] = self.simulation.model, self.simulation.state
        self._send_gust()

    def _send_gust(self) -> None:
        """The gust of the drill's step, if it has one."""
        drill = self.simulation.model.description.drill
        step = None if drill is None or self.drill_step >= len(drill.steps) else drill.steps[self.drill_step]
        if step is not None and step.gust_mps > 0.0:
            self.instruct(Instruction("gust", step.gust_mps, lasts_s=step.gust_lasts_s))

    def _step_back(self, number: int) -> bool:
        """To the start of a drill's step (-1: the present one), if it has begun; time goes on."""
        number = self.drill_step if number < 0 else number
        if not self._has_drill or number not in self._starts:
            return False
        model, state = self._starts[number]
        self.simulation.change(model, state._replace(step=self.simulation.state.step))
        self.instruments = Instruments(model)
        self.watch()
        self.drill_step, self._gust = number, None
        self._send_gust()
        return True

    def _change(self, what: Instruction) -> bool:
        """Go on with something else about the lift."""
        was = self.simulation.model
        description = changed(was.description, what)
        if description is was.description:
            return False
        now = build(description)
        self.simulation.change(now, carried_over(was, now, self.simulation.state))
        self.instruments.change(now)
        return True
