"""The recordings that were kept, newest first; Enter looks back on one."""

from __future__ import annotations

from pathlib import Path
from time import perf_counter

import pygame

from simulator.recording.lift_file import BrokenRecording, read
from simulator.recording.listing import Listing, RecordingEntry
from simulator.scenario.retold import retold
from simulator.window.kit import measures_shown as shown
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.head_foot import draw_back, draw_caution_line, draw_head, is_back
from simulator.window.kit.icons import icon
from simulator.window.kit.palette import INK, INK_2, PANEL, PAPER, RULE
from simulator.window.kit.seen import MIRRORED, SEEN_BY_TWO
from simulator.window.review.looking_back import LookBack
from simulator.window.review.moments import how_in_words, points_seen
from simulator.window.screens.screen import BACK, ENTER_KEYS, STAY, Go, Spots, StillScreen
from simulator.window.screens.sentences import broken_screen
from simulator.words import say

TOP, PITCH, ROW_H, ROWS, LEFT, WIDTH = 152.0, 108.0, 96.0, 8, 48.0, 1824.0
LOOK_S, SHOW_EVERY_S = 0.006, 0.5
"""So much of a frame goes into files of a long list; so often the list is drawn as far as it is."""
FOOT_KEYS = (("key.arrows", "key.choose"), ("key.enter", "debrief.name"), ("key.escape", "key.back"))


class RecordingsScreen(StillScreen):
    """Lists a folder; Esc goes back."""

    def __init__(self, folder: Path, system: shown.System = "metric") -> None:
        self.folder, self.system = folder, system
        self._listing, self._unshown_s = Listing(folder), 0.0
        for _ in range(ROWS):
            self._listing.look()
        self.entries: list[RecordingEntry] = self._listing.entries
        self.chosen = 0
        self._spots: Spots[int] = Spots()
        self._is_drawn = False

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """Goes on with a list that is not whole, a little each frame; draws when something changed."""
        if self._listing.left:
            self._look_on(elapsed_s)
        return super().frame(canvas, elapsed_s)

    def _look_on(self, elapsed_s: float) -> None:
        until_s = perf_counter() + LOOK_S
        while self._listing.look() and perf_counter() < until_s:
            pass
        self._unshown_s += elapsed_s
        if self._unshown_s < SHOW_EVERY_S and self._listing.left:
            return
        chosen = self.entries[self.chosen].path if self.entries and self.chosen else None
        self.entries, self._unshown_s, self._is_drawn = self._listing.entries, 0.0, False
        if chosen is not None:  # the cursor stays on its recording while others come before it
            self.chosen = next(i for i, entry in enumerate(self.entries) if entry.path == chosen)

    def take_event(self, event: pygame.event.Event) -> Go:
        """Arrows choose, Enter or the mouse takes, Esc goes back."""
        if is_back(event):
            return BACK
        if event.type == pygame.MOUSEBUTTONDOWN and (found := self._spots.at(event.pos)) is not None:
            self.chosen, self._is_drawn = found, False
            return self._take()
        if event.type != pygame.KEYDOWN:
            return STAY
        if event.key == pygame.K_ESCAPE:
            return BACK
        if event.key in ENTER_KEYS:
            return self._take()
        step = {pygame.K_DOWN: 1, pygame.K_UP: -1, pygame.K_PAGEDOWN: ROWS, pygame.K_PAGEUP: -ROWS}.get(event.key, 0)
        self.chosen = min(max(0, len(self.entries) - 1), max(0, self.chosen + step))
        self._is_drawn = False
        return STAY

    def _take(self) -> Go:
        """What cannot be read cannot be looked back on; its fault stands in its row."""
        if not self.entries or self.entries[self.chosen].how == "unreadable":
            return STAY
        path = self.entries[self.chosen].path
        try:
            recording = read(path)
        except BrokenRecording as broken:
            return Go(over=broken_screen(path.name, str(broken)))
        return Go(lambda shell: shell.doors.debrief(LookBack(recording, None, shell.desk.tell, shell.desk), None, ""))

    def draw(self, canvas: Canvas) -> None:
        """Draws the rows round the chosen one."""
        canvas.clear(PAPER)
        self._spots.clear()
        draw_head(canvas, say("recordings.title"), str(self.folder), width=1500.0)
        draw_back(canvas)
        first = max(0, min(self.chosen - ROWS // 2, len(self.entries) - ROWS))
        for place, index in enumerate(range(first, min(len(self.entries), first + ROWS))):
            self._draw_row(canvas, index, TOP + PITCH * place)
        if self.entries:
            last = min(len(self.entries), first + ROWS)
            count = say("faults.shown", first=first + 1, last=last, count=len(self.entries))
            if self._listing.left:
                count = say("recordings.more", shown=count, left=self._listing.left)
            canvas.text(count, 1872.0, 98.0, 28.0, weight="medium", color=INK_2, anchor="right")
        else:
            canvas.text(say("recordings.none"), LEFT, TOP + 60.0, 34.0, weight="bold", width=WIDTH)
        draw_caution_line(canvas, FOOT_KEYS, left=48.0)

    def _draw_row(self, canvas: Canvas, index: int, y: float) -> None:
        entry, is_chosen = self.entries[index], index == self.chosen
        if is_chosen:
            canvas.box(LEFT - 6.0, y - 6.0, WIDTH + 12.0, ROW_H + 12.0, fill=INK, radius=12.0)
        canvas.box(LEFT, y, WIDTH, ROW_H, fill=PANEL, edge=None if is_chosen else RULE, radius=8.0)
        self._spots.add(LEFT, y, WIDTH, ROW_H, index)
        left = LEFT + 24.0
        if entry.fault:
            icon(canvas, "caution", LEFT + 46.0, y + ROW_H / 2.0, 44.0)
            left = LEFT + 88.0
        score = _score_words(entry) if entry.score else ""
        right = LEFT + WIDTH - 24.0
        title = retold(entry.title, us=self.system == "us")
        canvas.text(title or entry.name, left, y + 42.0, 32.0, weight="bold", width=1080.0)
        canvas.text(score, right, y + 42.0, 28.0, weight="bold", anchor="right", width=620.0)
        words = entry.fault or ", ".join(
            part for part in (entry.stamp, say("debrief.and").join(filter(None, entry.pair)), entry.name) if part
        )
        canvas.text(words, left, y + 78.0, 26.0, weight="medium", color=INK_2, width=1180.0)
        how = f"{shown.clock(entry.length_s)}  {how_in_words(entry.how)}" if entry.how != "unreadable" else ""
        canvas.text(how, right, y + 78.0, 26.0, weight="medium", color=INK_2, anchor="right", width=460.0)


def _score_words(entry: RecordingEntry) -> str:
    """The points together and of each seat as it is seen: a recording names nose and tail."""
    points = points_seen(entry.score or "", MIRRORED if entry.nose_seen == "right" else SEEN_BY_TWO)
    if points is None:
        return say("recordings.score", score=entry.score)
    return say("recordings.score_seats", together=points.together, **points.of_units)
