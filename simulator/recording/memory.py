"""A recording kept in memory, so that a lift can be looked back on though nothing could be written."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

from simulator.attempt import Attempt
from simulator.recording.head import Parent
from simulator.recording.lift_file import read_data
from simulator.recording.recorded import Recording
from simulator.recording.recorder import Recorder
from simulator.recording.seconds import Second


class _Kept(BytesIO):
    """Bytes that are still there when their writer has closed them."""

    def close(self) -> None:
        """Nothing is let go."""


class Memory:
    """Remembers an attempt from now on."""

    def __init__(
        self,
        attempt: Attempt,
        *,
        pair: tuple[str, ...] = (),
        parent: Parent | None = None,
        before: Sequence[Second] = (),
    ) -> None:
        """As `Recorder` does."""
        self._file = _Kept()
        self._recorder = Recorder(attempt, self._file, pair=pair, parent=parent, before=before)

    def data(self) -> bytes:
        """The lift as a recording's file holds it; nothing is remembered after this."""
        self._recorder.close()
        return self._file.getvalue()

    def recording(self, name: str = "this lift") -> Recording:
        """The lift as it was; nothing is remembered after this.

        Raises:
            BrokenRecording: nothing was remembered.
        """
        return read_data(self.data(), Path(name))
