"""The only clock: a description becomes a world, and `step` moves it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from simulator.engine.capture import captured, move_to, restore
from simulator.engine.commands import Commands, still
from simulator.engine.incidents import DEEPEST_SUNK_M, Incident, fallen, on_end, parted
from simulator.engine.instruments import Instruments
from simulator.engine.lines import hang
from simulator.engine.model import Model, build
from simulator.engine.moving import Moving
from simulator.engine.start import moving_parts, set_down
from simulator.engine.state import Motion, State, state_hash
from simulator.engine.stepping import steps, take_forces
from simulator.engine.watching import ends, watched
from simulator.mechanics.matrix import Vector, rotation, turned
from simulator.scenario.description import Description
from simulator.scenario.rig import BOOM_FUNCTIONS
from simulator.scenario.standing import not_driven

if TYPE_CHECKING:
    from simulator.engine.load import Load


class NotDriven(ValueError):  # noqa: N818 - a sentence, as its siblings
    """A lift that is judged, and not driven: a sentence says why."""


class Simulation:
    """One lift: reset, step, state. Same description and commands, same states, bit for bit."""

    def __init__(self, description: Description, *, in_bulk: bool = False) -> None:
        """`in_bulk`: many steps at a time are taken without pymunk, to the same bits.

        Raises:
            NotDriven: a unit stands askew, or at its own distance from the edge.
        """
        if why := not_driven(description.units):
            raise NotDriven(why)
        self.in_bulk = in_bulk
        self.incidents: list[Incident] = []
        self._asked: Commands | None = None
        self._take(build(description))
        self._first = self.model
        self._start = self._settled()
        self.restore(self._start)

    def _take(self, model: Model) -> None:
        """Moving parts of a model."""
        self.model = model
        self.moving: Moving = moving_parts(model)
        """What moves, as it stands now."""
        self._load: Load | None = None
        """pymunk's body, while it is where the trailer is: steps in bulk are taken without it."""
        self._state: State | None = None
        self._asked = None

    @property
    def description(self) -> Description:
        """What the world was built from."""
        return self.model.description

    @property
    def state(self) -> State:
        """This moment, as a value."""
        if self._state is None:
            self._state = captured(self.moving)
        return self._state

    @property
    def step_count(self) -> int:
        """Steps since time zero."""
        return self.moving.step

    @property
    def time_s(self) -> float:
        """Simulated time since time zero."""
        return self.moving.step * self.model.dt

    @property
    def state_hash(self) -> str:
        """SHA-256 of the state."""
        return state_hash(self.state)

    def reset(self) -> None:
        """Back to time zero."""
        self.incidents.clear()
        self.change(self._first, self._start)

    def restore(self, state: State) -> None:
        """Go on from a state of this same lift."""
        restore(self.moving, state)
        self._load, self._state = None, state

    def place(self, motion: Motion) -> None:
        """Put the trailer's true CG somewhere, moving as `motion` says."""
        move_to(self.moving.body, motion)
        for unit in self.moving.units:
            for line in unit.lines:
                hang(line, self.moving.body)
        self._load = self._state = None

    def change(self, model: Model, state: State) -> None:
        """Go on from a state of another model of this same lift."""
        self._take(model)
        self.restore(state)

    def slacken(self) -> bool:
        """Begin to let the holding line out; False where there is none, or it is let out already."""
        if not self.holds_by_a_line:
            return False
        self.moving.holding.is_let_out, self._state = True, None
        return True

    @property
    def holds_by_a_line(self) -> bool:
        """A holding line is made fast, and nobody lets it out."""
        return self.moving.holding.is_tied and not self.moving.holding.is_let_out

    def step(self, commands: Commands) -> State:
        """One step of the fixed length under the operators' commands."""
        self.run(commands, 1)
        return self.state

    def run(self, commands: Commands, count: int) -> None:
        """So many steps under commands that hold."""
        self._ask(commands)
        self._state = None
        while count > 0:
            count -= self._steps(count, with_lines=True)
            self._look_for_an_end()

    def run_watched(self, commands: Commands, count: int, every: int, instruments: Instruments) -> int:
        """Steps in bulk from a moment at the steady rate, at most a whole number of such moments: see `watched`.

        Returns:
            How many were taken; the last moment has not been watched.
        """
        self._ask(commands)
        self._load = self._state = None
        taken = watched(instruments, self.model.step, self.moving, every, count)
        self._look_for_an_end()
        if rest := -taken % every:
            self.run(commands, rest)
        return taken + rest

    def _look_for_an_end(self) -> None:
        """What ends the lift by itself, the first of it."""
        if self.incidents or not ends(self.moving):
            return
        if self._is_down():
            self.incidents.append(fallen(self.model, self.state))
        elif self.moving.is_parted:
            self.incidents.append(parted(self.model, self.state))
        else:
            self.incidents.append(on_end(self.time_s, self.moving.body.pitch))

    def _is_down(self) -> bool:
        """A unit does not stand any more."""
        moving = self.moving
        return moving.is_gone or any(max(unit.sunk_m) > DEEPEST_SUNK_M for unit in moving.units)

    def _steps(self, count: int, *, with_lines: bool) -> int:
        """At most so many steps; how many were taken."""
        if self.in_bulk and not self.incidents:
            self._load = None
            return steps(self.model.step, self.moving, count, with_lines)
        if self._load is None:
            from simulator.engine.load import Load

            self._load = Load(self.moving.body)
        take_forces(self.model.step, self.moving, with_lines)
        self._load.advance(self.moving.body, self.model.dt)
        return 1

    def _ask(self, commands: Commands) -> None:
        """Levers to what is asked of each drive; hoists, telescope, elevation, slew, then those that move two lines."""
        if commands is self._asked or commands == self._asked:
            return
        for hands, unit, rig in zip(commands, self.moving.units, self.model.rig.units, strict=True):
            own = len(unit.lines)
            besides = own + len(BOOM_FUNCTIONS)
            if len(hands) != len(rig.levers):
                raise ValueError(f"commands of the {rig.name} unit: given {len(hands)}, allowed: {len(rig.levers)}")
            unit.telescope.asked, unit.elevation.asked, unit.slew.asked = hands[own:besides]
            for line, asked in zip(unit.lines, hands[:own], strict=True):
                line.hoist.asked = asked
            for lever, hand in zip(rig.levers[besides:], hands[besides:], strict=True):
                for place, way in lever.pulls:
                    unit.lines[place - rig.lines[0].place].hoist.asked += hand * way
            for line in unit.lines:
                line.hoist.asked = max(-1.0, min(1.0, line.hoist.asked))
        self._asked = commands

    def _settled(self) -> State:
        """Time zero: booms as described, lines slack, the trailer come to rest on the ground."""
        set_down(self.model, self.moving)
        self._ask(still(self.model.rig))
        count = round(self.description.site.settle_s / self.model.dt)
        while count > 0:
            count -= self._steps(count, with_lines=False)
        still_at = captured(self.moving).motion
        self.place(Motion(*still_at[:6]))
        return self.state._replace(step=0, hold_at=self._held())

    def _held(self) -> Vector | None:
        """Where the bed holds the trailer at time zero."""
        point, motion = self.model.hold_point_m, self.state.motion
        if point is None:
            return None
        x, y, z = turned(rotation(motion.pitch, motion.yaw, motion.roll), point)
        return motion.x + x, motion.y + y, motion.z + z
