"""Being asked to stop: noted, so that what is being written can be brought to an end."""

from __future__ import annotations

import signal
import threading
from types import FrameType, TracebackType
from typing import Any

ASKS = {
    "SIGINT": "from the keyboard",
    "SIGTERM": "from outside",
    "SIGHUP": "because its terminal closed",
    "SIGBREAK": "from the keyboard, or because its console closed",
}
"""Signal: how somebody stopped the program. The last is Windows' own, which has no hang-up."""


class Interrupts:
    """While it is open the first request to stop is noted, and only the second breaks off. Use it as a context."""

    def __init__(self) -> None:
        self.how = ""
        """How somebody asked to stop; empty until then."""
        self._before: dict[int, Any] = {}

    def asked(self) -> bool:
        """Somebody asked to stop."""
        return bool(self.how)

    def __enter__(self) -> Interrupts:
        if threading.current_thread() is threading.main_thread():
            for name in ASKS:
                number = getattr(signal, name, None)
                # What was started so that it outlives its terminal ignores the hang-up, and goes on ignoring it.
                if number is not None and signal.getsignal(number) is not signal.SIG_IGN:
                    self._before[number] = signal.signal(number, self._note)
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, at: TracebackType | None) -> None:
        for number, before in self._before.items():
            signal.signal(number, before)

    def _note(self, number: int, _: FrameType | None) -> None:
        if self.how:
            raise KeyboardInterrupt
        self.how = ASKS[signal.Signals(number).name]
