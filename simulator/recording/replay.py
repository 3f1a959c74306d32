"""A recording re-run: its commands driven again from time zero, its hashes compared, and a lift gone on with."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from simulator.attempt import Attempt, Operator
from simulator.engine.commands import still
from simulator.files.remembered import NotRemembered
from simulator.readings import Channel, Readings
from simulator.recording.again import BareLift, DriveAgain, UnjudgedLift, WholeLift
from simulator.recording.again import CannotReplay as CannotReplay
from simulator.recording.kept_memory import Memory, follow
from simulator.recording.layout import LAYOUT
from simulator.recording.recorded import Recording, minutes
from simulator.recording.recorder import versions
from simulator.recording.seconds import STATES_OF_RIGS, Second
from simulator.recording.spans import Progress as Progress
from simulator.recording.spans import same_seconds
from simulator.recording.telemetry import row
from simulator.recording.track import CommandChange
from simulator.recording.whole_numbers import places, to_whole
from simulator.scenario.description import Description
from simulator.scenario.faults import listed
from simulator.scenario.toml_writer import dump
from simulator.world import World

OTHER_STATES = (
    "it is of layout {layout}: its hashes are of states in an older form, which no state of this engine meets"
)
NOTHING_DIFFERS = (
    "recorded with this very program, Python, libm, pymunk and kind of computer: what was recorded has been changed, "
    "or so has the program"
)
UNITS_CHANGED = (
    "the program's units have changed since: they have {numbers}, of which this recording says nothing; the re-run is "
    "of units of today, the stored readings of those of then"
)
MOST_NUMBERS = 4
"""So many of them are named."""
SoFar = Callable[[Second], object] | None
"""Told each second that has been driven again."""
LOOK_ON_S = 5
"""After a hash that differs, go on this long for a reading that does."""


@dataclass(frozen=True)
class Difference:
    """The first stored reading that came out otherwise."""

    time_s: float
    channel: str
    stored: float
    again: float


@dataclass(frozen=True)
class RerunCheck:
    """How a re-run compared."""

    seconds: int
    """Seconds whose hash was the same, or with `older_layout` that were re-run."""
    same_until_s: float
    hash_differs_at_s: float | None = None
    """End of the first second whose state differs."""
    reading: Difference | None = None
    stored_until_s: float = 0.0
    """What was not re-run is there as stored readings, up to here."""
    versions_differ: tuple[str, ...] = ()
    older_layout: int | None = None
    """The layout of a recording whose states this engine has no like of: stored readings alone were compared."""
    new_in_units: tuple[str, ...] = ()
    """Numbers of today's units that its scenario lacks, though every default was written out: it is older."""

    @property
    def same(self) -> bool:
        """Nothing differs."""
        return self.hash_differs_at_s is None and self.reading is None

    def sentences(self) -> list[str]:
        """The result, in words."""
        with_state = ", each with the same state" if self.older_layout is None else ""
        said = [f"{self.seconds} s re-run{with_state}, up to {minutes(self.same_until_s)}"]
        if self.older_layout is not None:
            said.append(OTHER_STATES.format(layout=self.older_layout) + "; stored readings were compared instead")
            said += [] if self.reading is not None else ["no stored reading differs"]
        if self.hash_differs_at_s is not None:
            said.append(f"the state differs at {minutes(self.hash_differs_at_s)}")
        if self.reading is not None:
            one = self.reading
            said.append(
                f"first reading that differs, at {minutes(one.time_s)}: {one.channel}, stored {one.stored:g}, "
                f"now {one.again:g}"
            )
        elif self.hash_differs_at_s is not None:
            said.append(f"no stored reading differs within {LOOK_ON_S} s after that")
        if not self.same:
            said += self._reasons() or [NOTHING_DIFFERS]
        if self.stored_until_s > self.same_until_s:
            said.append(f"from there to {minutes(self.stored_until_s)} the stored readings go on")
        return said

    def _reasons(self) -> list[str]:
        """What is known to be otherwise than when it was recorded."""
        said = [f"recorded with {text}" for text in self.versions_differ]
        if new := self.new_in_units:
            numbers = listed(new[:MOST_NUMBERS], last="and") + (" and more" if len(new) > MOST_NUMBERS else "")
            said.insert(0, UNITS_CHANGED.format(numbers=numbers))
        return said


def check(
    recording: Recording, *, every_reading: bool = False, jobs: int | None = None, progress: Progress | None = None
) -> RerunCheck:
    """Re-run a recording with nobody looking on, and compare each second's state.

    Where one differs, it is re-run once more, looked at, for the first stored reading that differs.

    Args:
        recording: of a lift.
        every_reading: look on from the start, so that a reading is found that differs where no state does.
        jobs: processes; as many as there are cores when none is given.
        progress: told how far it is.

    Raises:
        CannotReplay: no scenario, or no second from time zero.
    """
    description, seconds = _description(recording), recording.whole
    if every_reading or not _has_our_states(recording):
        return _look_on(recording, progress)
    same = same_seconds(description, seconds, name=recording.name, jobs=jobs, progress=progress)
    return _checked(recording, same) if same == len(seconds) else _look_on(recording, progress)


def _look_on(recording: Recording, progress: Progress | None) -> RerunCheck:
    """Re-run, looked at, up to the first second that differs and on to a reading that does, or `LOOK_ON_S` more."""
    world = World(_description(recording), in_bulk=True)
    compare = _Compare(recording, world)
    drive = DriveAgain(recording.whole, BareLift(world, compare.look), recording.name)
    same, differs_at_s, hashes_count = 0, None, _has_our_states(recording)
    for second in recording.whole:
        time_s = second.end_step / recording.head.steps_per_s
        if differs_at_s is not None and (compare.found is not None or time_s - differs_at_s > LOOK_ON_S):
            break
        drive.through(second)
        compare.find()
        if not hashes_count and compare.found is not None:
            break
        if differs_at_s is None and (not hashes_count or world.simulation.state_hash == second.state_hash):
            same += 1
        elif differs_at_s is None:
            differs_at_s = time_s
        if progress:
            progress(second.end_step / recording.whole_until_step)
    return _checked(recording, same, differs_at_s, compare.found)


def _checked(
    recording: Recording, same: int, differs_at_s: float | None = None, reading: Difference | None = None
) -> RerunCheck:
    """So many seconds with the same state."""
    same_s = recording.seconds[same - 1].end_step / recording.head.steps_per_s if same else 0.0
    differ = tuple(f"{name} {had}, this is {now}" for name, had, now in _other_versions(recording))
    older = None if _has_our_states(recording) else recording.head.layout
    return RerunCheck(same, same_s, differs_at_s, reading, recording.length_s, differ, older, _new_in_units(recording))


def _has_our_states(recording: Recording) -> bool:
    """Its states are of the form of this engine's, so that their hashes can be the same."""
    return recording.head.layout >= STATES_OF_RIGS


def take_over(
    recording: Recording,
    step: int,
    *,
    begin: Callable[[Attempt, Sequence[Second]], object] | None = None,
    followers: Sequence[Operator] = (),
    progress: Progress | None = None,
) -> Attempt:
    """The recorded lift brought to a step by re-running, to be driven on from there.

    Args:
        recording: of a lift whose commands are whole up to `step`.
        step: of its engine, from time zero.
        begin: called with the attempt at the last whole second before, and the seconds up to there as they were kept
            (none, if such a recording of today has other columns): to attach a recorder that names this one as parent.
        followers: automatic operators that look on meanwhile, so that they know where they are when they take a seat.
        progress: told how far it is.

    Raises:
        CannotReplay: no such step, or the re-run comes out otherwise on the way.
    """
    _refuse_step(recording, step)
    before = tuple(second for second in recording.whole if second.end_step <= step)
    remembered, memory = _last_memory(before, followers)
    so_far = None if progress is None else lambda second: progress(second.end_step / step)
    attempt = _brought_to(recording, before[:remembered], so_far, memory, followers)
    if followers:
        attempt.watch_closely(lambda now: follow(followers, attempt, now), attempt.asked_per_s)
    drive = DriveAgain(recording.whole[remembered:], WholeLift(attempt), recording.name)
    _drive_as_recorded(recording, attempt, drive, before[remembered:], so_far)
    if begin is not None:
        begin(attempt, before if _has_our_columns(recording) else ())
    drive.to(step)
    attempt.simulation.in_bulk = False
    del attempt.watchers[: bool(followers)]
    return attempt


def _refuse_step(recording: Recording, step: int) -> None:
    """Stop where nothing can be driven on from."""
    _description(recording)
    if step and not _has_our_states(recording):
        why = OTHER_STATES.format(layout=recording.head.layout)
        raise CannotReplay(
            f"{recording.name}: {why}, so it cannot be driven on from there; stored readings can be shown"
        )
    if not 0 <= step <= recording.whole_until_step:
        raise CannotReplay(f"{recording.name}: given step {step}, allowed: 0 to {recording.whole_until_step}")


def _last_memory(seconds: Sequence[Second], followers: Sequence[Operator]) -> tuple[int, Memory | None]:
    """After how many of some seconds there is the last memory that these operators can go on from; 0: there is none.

    A step back goes by the drill's own memory of its steps, which has to be there all the while.
    """
    if any(event.fields.get("act") == "step back" for second in seconds for event in second.events):
        return 0, None
    for count in range(len(seconds), 0, -1):
        if text := seconds[count - 1].memory:
            try:
                memory = Memory(text)
            except NotRemembered:
                continue
            if memory.serves(followers):
                return count, memory
    return 0, None


def _brought_to(
    recording: Recording,
    seconds: Sequence[Second],
    so_far: SoFar,
    memory: Memory | None,
    followers: Sequence[Operator],
) -> Attempt:
    """The lift at the end of these seconds, its drill and operators as they are remembered; at time zero with none."""
    attempt = Attempt(_description(recording), in_bulk=True)
    if memory is None:
        return attempt
    session, attempt.session = attempt.session, None
    drive = DriveAgain(seconds, UnjudgedLift(attempt), recording.name)
    _drive_as_recorded(recording, attempt, drive, seconds, so_far)
    try:
        memory.put_back(attempt, session, followers)
    except NotRemembered as error:
        raise CannotReplay(f"{recording.name}: {error}, so it cannot be driven on from there") from error
    return attempt


def _has_our_columns(recording: Recording) -> bool:
    """What it keeps of a moment is what a recording of today does."""
    head, ours = recording.head, recording.channels
    names, decimals = [one.name for one in ours], [places(one) for one in ours]
    return head.layout == LAYOUT and (list(head.channels), list(head.decimals)) == (names, decimals)


def _drive_as_recorded(
    recording: Recording, attempt: Attempt, drive: DriveAgain, seconds: Sequence[Second], so_far: SoFar
) -> None:
    """Re-run these seconds, the state compared at the end of each."""
    for second in seconds:
        drive.through(second)
        if attempt.state_hash != second.state_hash:
            at = minutes(second.end_step / recording.head.steps_per_s)
            raise CannotReplay(f"{recording.name}: the re-run differs at {at}, so it cannot go on from later")
        if so_far:
            so_far(second)


def track_of_recording(recording: Recording, *, from_s: float = 0.0, to_s: float | None = None) -> list[CommandChange]:
    """The commands of a recording, or of a span of it, as a track; its times begin at zero.

    Raises:
        CannotReplay: no such span, or commands in it were lost.
    """
    dt = 1.0 / recording.head.steps_per_s
    whole_s = recording.whole_until_step * dt
    end_s = whole_s if to_s is None else to_s
    if not 0.0 <= from_s < end_s or end_s > whole_s:
        raise CannotReplay(f"{recording.name}: given {from_s:g} to {end_s:g} s, allowed: a span in 0 to {whole_s:g} s")
    held = [(0, still(recording.rig)), *recording.changes]
    first = [commands for step, commands in held if step * dt <= from_s][-1]
    rows = [CommandChange(step * dt - from_s, commands) for step, commands in held if from_s < step * dt < end_s]
    return [CommandChange(0.0, first), *rows, CommandChange(end_s - from_s, rows[-1].commands if rows else first)]


class _Compare:
    """Looks for the first stored sample that a re-run does not meet; what readings tell of gaps is not looked at."""

    def __init__(self, recording: Recording, world: World) -> None:
        self.found: Difference | None = None
        self._recording, self._world = recording, world
        self._read: list[tuple[int, list[float]]] = []
        known = {channel.name: i for i, channel in enumerate(recording.channels) if not _is_of_gaps(channel)}
        shared = [name for name in recording.head.channels if name in known]
        self._here = np.array([known[name] for name in shared])
        self._there = np.array([recording.head.channels.index(name) for name in shared])
        self._names = shared
        self._decimals = np.array(recording.head.decimals)[self._there]
        self._rows = {int(step): i for i, step in enumerate(recording.column("step"))}

        self.look()

    def look(self) -> None:
        """Read this moment off, and keep it if it was stored."""
        self._world.watch()
        stored_row = self._rows.get(self._world.simulation.step_count)
        if self.found is None and stored_row is not None:
            self._read.append((stored_row, row(self._world.read(), self._recording.rig)))

    def find(self) -> None:
        """Compare what was kept since the last time."""
        if self.found is not None or not self._read:
            return
        rows = [stored_row for stored_row, _ in self._read]
        values = np.array([value for _, value in self._read])[:, self._here]
        self._read.clear()
        was = self._recording.stored[rows][:, self._there]
        apart = np.abs(to_whole(values, self._decimals) - was)
        if not apart.any():
            return
        first = int(np.argmax(apart.any(axis=1)))
        worst = int(np.argmax(apart[first]))
        stored = float(was[first, worst] / 10.0 ** self._decimals[worst])
        time_s = self._recording.time_s[rows[first]]
        self.found = Difference(float(time_s), self._names[worst], stored, float(values[first, worst]))


def _is_of_gaps(channel: Channel) -> bool:
    """One that readings work out of their gaps."""
    return "." not in channel.name and channel.name not in Readings._fields


def _description(recording: Recording) -> Description:
    if recording.description is None or not recording.whole_until_step:
        why = "its scenario cannot be used" if recording.description is None else "no second from time zero was saved"
        raise CannotReplay(f"{recording.name}: {why}, so it cannot be re-run; stored readings can be shown")
    return recording.description


def _new_in_units(recording: Recording) -> tuple[str, ...]:
    units = "".join(map(dump, _description(recording).units))
    return tuple(sorted(_numbers(units) - _numbers(recording.head.scenario)))


def _numbers(text: str) -> set[str]:
    """Names of the numbers in the text of a scenario, as it is written: each in a line."""
    rows = (line.partition(" = ") for line in text.splitlines())
    return {name for name, _, value in rows if value[:1].isdigit() or value[:1] == "-"}


def _other_versions(recording: Recording) -> list[tuple[str, str, str]]:
    here = versions()
    had = recording.head.versions
    return [(name, had.get(name, "unknown"), here[name]) for name in here if had.get(name) != here[name]]
