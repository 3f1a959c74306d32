"""The work on one lift that is laid out: judged while it moves, tried for what helps, kept and saved. No pygame."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from simulator.telling.laid_out import Help, Judged, Row, Spoke, Stop
from simulator.window.layout.answers import Bench
from simulator.window.layout.kept import beside, digest_of, forget, keep, save, sheets_folder
from simulator.window.layout.sheet import Sheet
from simulator.words import say

REST_S = 0.15
"""So long nothing has moved before all stations are judged, and what would help is tried."""
KEEP_S = 0.6
"""So long nothing has changed before the draft is kept."""
SLICE = 6
"""Spokes that are looked at in one frame."""


class Option(NamedTuple):
    """One answer to a question."""

    key: str
    """A letter, or `enter`."""
    words: str
    what: str


class Ask(NamedTuple):
    """A question that has to be answered before anything else."""

    text: str
    options: tuple[Option, ...]


def _assumed(sheet: Sheet) -> tuple[str, ...]:
    """Numbers that nobody gave, as the screen shows them."""
    rows = (one for one in sheet.fields if one.key not in sheet.given and one.key != "swap" and not one.longest)
    return tuple(f"{one.label}: {one.shown(sheet.lift, sheet.system)}" for one in rows)


class Work:
    """One sheet with its verdict, its file and its draft."""

    def __init__(
        self, sheet: Sheet, bench: Bench, *, path: Path | None = None, digest: str = "", draft: Path | None = None
    ) -> None:
        self.sheet, self.bench = sheet, bench
        self.path, self.digest = path, digest
        self.judged: Judged | None = None
        self.why_old = ""
        """Why the verdict is not of the lift as it stands; empty where it is."""
        self.helps: tuple[Help, ...] = ()
        self.rooms: list[list[Spoke]] = []
        self.cases: tuple[int, int] | None = None
        """In how many of how many cases of the ranges it holds; None: no range, or not counted yet."""
        self._is_counted = True
        self.message = ""
        self.ask: Ask | None = None
        self.is_saved = path is not None
        self._draft = draft
        self._station: tuple[str, float] | None = None
        self._row: tuple[str, str] | None = None
        self._count = -1
        """Of the sheet that was judged."""
        self._kept_count = sheet.count
        self._rest_s = 0.0
        self._trying: Iterator[tuple[Help, ...]] | None = None
        self._spokes: list[Iterator[Spoke]] = []

    # Judging ------------------------------------------------------------------------------------------------------

    @property
    def is_trying(self) -> bool:
        """Changes are still tried."""
        return self._trying is not None

    @property
    def is_moving(self) -> bool:
        """What is shown was judged at fewer places: something moves."""
        return self.judged is not None and self.judged.is_quick

    def go_on(self, elapsed_s: float) -> bool:
        """One frame's work; True when there is something new to show."""
        self._rest_s += elapsed_s
        if self.sheet.count != self._count:
            self._rest_s = 0.0
            self._judge(is_quick=self.sheet.is_dragging)
            return True
        if self._rest_s < REST_S:
            return False
        if self.is_moving:
            self._judge(is_quick=False)
            return True
        if self._rest_s > KEEP_S and self._kept_count != self.sheet.count and not self.sheet.is_dragging:
            self.keep_draft()
        return not self.sheet.is_dragging and self._try()

    def _judge(self, *, is_quick: bool) -> None:
        sheet = self.sheet
        self._count = sheet.count
        self._trying, self._spokes = None, []
        try:
            self.judged = self.bench.judged(sheet.lift, is_quick=is_quick)
        except (ValueError, ArithmeticError, LookupError, StopIteration) as why:
            self.why_old = say("layout.old", why=str(why))
            return
        count = len(sheet.half)
        self.why_old = say("layout.old", why=say("layout.old_half", count=count)) if count else ""
        if not is_quick:
            self.helps, self.rooms = (), []
            self.cases, self._is_counted = None, not sheet.ranges
            self._trying = self.bench.helps(sheet.lift, self.judged)
            self._spokes = [self.bench.room(self.judged, end) for end in range(len(sheet.lift.units))]
            self.is_saved = self.is_saved and not sheet.can_undo

    def _try(self) -> bool:
        """A slice of what is looked at while nobody does anything; the cases of its ranges, then the room for tips."""
        if not self._is_counted:
            self._is_counted = True
            self.cases = self.bench.cases(self.sheet.lift, self.sheet.ranges)
            return True
        if self._spokes:
            if len(self.rooms) < len(self.sheet.lift.units) - len(self._spokes) + 1:
                self.rooms.append([])
            for _ in range(SLICE):
                one = next(self._spokes[0], None)
                if one is None:
                    self._spokes.pop(0)
                    return True
                self.rooms[-1].append(one)
            return False
        if self._trying is None:
            return False
        found = next(self._trying, None)
        if found is None:
            self._trying = None
            return True
        is_new = found != self.helps
        self.helps = found
        return is_new

    # What is looked at --------------------------------------------------------------------------------------------

    @property
    def station(self) -> int:
        """The station that is shown: the one that was chosen, or what is nearest to it now."""
        if self.judged is None or self._station is None:
            return 0
        phase, y_m = self._station
        path = self.judged.path
        return min(range(len(path)), key=lambda n: (path[n].phase != phase, abs(path[n].y_m - y_m)))

    @property
    def stop(self) -> Stop | None:
        """The same, if there is one."""
        return None if self.judged is None or not self.judged.path else self.judged.path[self.station]

    @property
    def row(self) -> Row | None:
        """The row that is chosen."""
        if self.judged is None or self._row is None:
            return None
        return next((one for one in self.judged.rows if (one.code, one.who) == self._row), None)

    def look_at_station(self, number: int) -> None:
        """Show the pose at a station."""
        if self.judged is not None and self.judged.path:
            one = self.judged.path[max(0, min(len(self.judged.path) - 1, number))]
            self._station = one.phase, one.y_m

    def look_at_row(self, number: int | None) -> None:
        """Choose a row: its station is shown, with what governs marked; None looks at none."""
        if self.judged is None or number is None:
            self._row = None
            return
        one = self.judged.rows[max(0, min(len(self.judged.rows) - 1, number))]
        self._row = one.code, one.who
        if one.station >= 0:
            self.look_at_station(one.station)

    def take_help(self, number: int) -> None:
        """Take a change that was tried; undo takes it back."""
        if number < len(self.helps):
            one = self.helps[number]
            self.message = self.sheet.change(one.lift) or say("layout.taken", words=one.words)

    # Keeping ------------------------------------------------------------------------------------------------------

    def keep_draft(self) -> None:
        """What is half done is in the user's folder."""
        self._kept_count = self.sheet.count
        if self._draft is not None and (self.sheet.can_undo or self.sheet.half):
            self.message = keep(self.sheet, self.path, self.digest, at=self._draft) or self.message

    def save_to(self, path: Path) -> None:
        """Save; where somebody else has changed the file, ask first."""
        if self.sheet.half:
            self.message = say("layout.half_left", count=len(self.sheet.half))
            return
        if path.exists() and digest_of(path) != (self.digest if path == self.path else ""):
            both = Option("enter", say("layout.ask_changed_both"), f"save {beside(path)}")
            leave = Option("esc", say("layout.ask_changed_not"), "leave")
            why = "layout.ask_changed" if path == self.path else "layout.ask_taken"
            self.ask = Ask(say(why, name=path.name), (both, leave))
            return
        try:
            self.digest = save(self.sheet, path)
        except OSError as why:
            self.message = say("layout.not_saved", why=str(why))
            return
        self.path, self.is_saved = path, True
        self.message = say("layout.saved", path=path)
        if self._draft is not None:
            forget(self._draft)
        self._kept_count = self.sheet.count

    def print_sheet(self, name: str) -> None:
        """The sheet for the roadside, of all stations."""
        if self.judged is None or self.why_old:
            self.message = say("layout.not_printed", why=self.why_old)
            return
        if self.judged.is_quick:
            self._judge(is_quick=False)
        path = sheets_folder() / f"{name}.pdf"
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            self.bench.print_sheet(self.judged, path, _assumed(self.sheet))
        except OSError as why:
            self.message = say("layout.not_printed", why=str(why))
        else:
            self.message = say("layout.printed", path=path)
