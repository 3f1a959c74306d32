"""What all screens share: the user's settings, the sounds, where recordings go, and what could not be kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from simulator.attempt import Attempt
from simulator.recording.head import Parent
from simulator.recording.keep import start_recording
from simulator.recording.recorder import Recorder
from simulator.recording.seconds import Second
from simulator.recording.settings import Settings, read_settings, settings_path, write_settings
from simulator.scenario.description import Description
from simulator.window.kit.measures_shown import clock
from simulator.window.kit.seen import seen_of
from simulator.window.layout.answers import MakeBench
from simulator.window.protocols import Check, Recheck, Tell, nothing_told
from simulator.window.shell.lift import Begin, begin_attempt
from simulator.window.shell.lifts_on_offer import Offer
from simulator.window.shell.sounds import Sounds
from simulator.words import say

LONGEST_NAME = 24


@dataclass
class Desk:
    """One for the whole program."""

    settings: Settings = field(default_factory=Settings)
    path: Path | None = None
    """The file of settings; none keeps nothing."""
    keeps_lifts: bool = False
    """Lifts are recorded into the folder of the settings."""
    faults: tuple[str, ...] = ()
    """What was wrong with the file of settings, or why it could not be written."""
    slow_present_ms: float = 0.0
    """What showing a frame takes, if it was found to be slow."""
    dear_present_ms: float = 0.0
    """What a frame took of the processor with acceleration, where the program does without it by itself for that."""

    begin: Begin = begin_attempt
    """Starts a lift."""
    tell: Tell = nothing_told
    """Finds what went wrong in a lift."""
    check: Check | None = None
    """Judges a set-up before anyone drives."""
    lay: MakeBench | None = None
    """Judges a lift while it is laid out."""
    recheck: Recheck | None = None
    """Judges the rest of a path with a load that was weighed."""

    offers: tuple[Offer, ...] | None = None
    """The lifts on offer, once somebody has looked."""
    exit_code: int = 0
    """1 if the lift driven last ended by an incident."""

    def __post_init__(self) -> None:
        self.sounds = Sounds()
        self.sounds.is_muted = self.settings.mute
        self.kept = self.settings
        """What stands in the file; `settings` may differ by what was asked for only this once."""
        self.recorder: Recorder | None = None
        """Writes the present lift."""

    def change(self, **values: Any) -> None:
        """Choose; keep it."""
        self.settings = replace(self.settings, **values)
        self.sounds.is_muted = self.settings.mute
        self.kept = replace(self.kept, **values)
        if self.path is not None:
            fault = write_settings(self.kept, self.path)
            self.faults = (fault,) if fault else ()

    def pair(self, description: Description) -> tuple[str, ...]:
        """Names of the operators, unit by unit."""
        names = self.settings.left_name, self.settings.right_name
        rows = sorted((unit.place, names[unit.side]) for unit in seen_of(description).units)
        return tuple(name for _, name in rows)

    def record(
        self, attempt: Attempt, *, parent: Parent | None = None, before: Sequence[Second] = ()
    ) -> Recorder | None:
        """Begin to record a lift, if lifts are kept; one that goes on from a parent, with what that has `before`."""
        self.recorder = None
        if self.keeps_lifts:
            stamp = datetime.now().strftime("%Y-%m-%d %H:%M:%S")
            folder, pair = self.settings.recordings_folder, self.pair(attempt.description)
            self.recorder = start_recording(attempt, folder, stamp, pair, parent=parent, before=before)
        return self.recorder

    def stop_recording(self) -> None:
        """The lift is over for its operators."""
        if self.recorder is not None:
            self.recorder.close()

    def recording_fault(self) -> str:
        """Since when and why the present lift is not recorded; empty while it is, or need not be."""
        if self.recorder is None or self.recorder.stopped_at_s is None:
            return ""
        return say("notice.recording_stopped", time=clock(self.recorder.stopped_at_s), why=self.recorder.why)


def users_desk() -> Desk:
    """The desk of whoever uses this computer."""
    path = settings_path()
    found = read_settings(path)
    return Desk(found.settings, path, True, found.faults)
