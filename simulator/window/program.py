"""The window's doors: drive a lift, look back on a recording, or save one picture without a window."""

from __future__ import annotations

import zlib
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO

import pygame

from simulator.files.interrupts import Interrupts
from simulator.files.terminal import complain
from simulator.files.writing import STILL
from simulator.readings import Readings
from simulator.recording.recorded import Recording
from simulator.scenario.description import Description
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.measures_shown import System
from simulator.window.layout.answers import MakeBench
from simulator.window.loop import Program
from simulator.window.protocols import Check, Recheck, Tell, nothing_told
from simulator.window.review.looking_back import LookBack
from simulator.window.screens.debrief_screen import DebriefScreen
from simulator.window.screens.drive import drive
from simulator.window.screens.screen import Doors
from simulator.window.screens.seat_check import sit_down
from simulator.window.screens.start_screen import start
from simulator.window.shell.desk import Desk, users_desk
from simulator.window.shell.display import FULL_SIZE, NoDisplay, open_window
from simulator.window.shell.lift import Begin, Choice, begin_attempt
from simulator.window.shell.lifts_on_offer import shipped_lifts
from simulator.words import say

DOORS = Doors(start, lambda back, at_s, fault: DebriefScreen(back, at_s=at_s, fault=fault))


INTERRUPTED = 1
"""Exit code of a window that was closed by a signal."""
HEAD_OF_PNG = 33
"""Bytes of its signature and its first chunk."""

__all__ = ["NoDisplay", "Program", "open_window", "run_debrief", "run_drive", "shipped_lifts", "still_picture"]


def run_drive(
    description: Description | None,
    *,
    demo: bool = False,
    partner: str = "able",
    at_once: bool = False,
    units: System | None = None,
    begin: Begin = begin_attempt,
    tell: Tell = nothing_told,
    check: Check | None = None,
    recheck: Recheck | None = None,
    lay: MakeBench | None = None,
    most_frames: int | None = None,
) -> int:
    """Open the window and stay in it until it is closed. Arguments as of `run_debrief`, and:

    Args:
        description: the lift to drive; without one the start screen offers those there are.
        demo: automatic operators drive both units; any key of a seat takes that unit over.
        partner: how the right unit drives itself in the demonstration, of `drill.clumsy.WAYS`.
        at_once: the lift that is given begins without the seat check.
        begin: starts a lift; the front door may let others look on there.
        check, lay: judge a set-up for the start screen, and a lift while it is laid out.

    Returns:
        0, or 1 if a lift driven last ended by an incident, or a signal closed the window.

    Raises:
        NoDisplay: there is no screen, or no lift to offer.
    """

    def show(program: Program) -> None:
        if description is None:
            program.show(lambda shell: start(shell.desk))
        else:
            begin_with = drive if at_once else sit_down
            program.show(begin_with(Choice(description, "demo" if demo else "two", partner)))

    return _run(show, units, begin, tell, check, recheck, most_frames, lay=lay)


def run_debrief(
    recording: Recording,
    *,
    at_s: float = 0.0,
    units: System | None = None,
    begin: Begin = begin_attempt,
    tell: Tell = nothing_told,
    recheck: Recheck | None = None,
    most_frames: int | None = None,
) -> int:
    """Open the window on a recording: its debrief, and from there replay or driving on.

    Args:
        recording: whole or not.
        at_s: the moment it opens at.
        units: meters and tonnes, or feet and pounds; as in the user's settings unless given.
        begin: starts a lift.
        tell: finds what went wrong.
        recheck: judges the rest of a path with a load that was weighed.
        most_frames: stop after so many frames.

    Returns:
        0, or 1 if a lift driven last ended by an incident, or a signal closed the window.

    Raises:
        NoDisplay: there is no screen.
    """

    def show(program: Program) -> None:
        back = LookBack(recording, None, tell, program.desk)
        program.show(lambda shell: shell.doors.debrief(back, at_s, ""))

    return _run(show, units, begin, tell, None, recheck, most_frames)


def _run(
    show: Callable[[Program], None],
    units: System | None,
    begin: Begin,
    tell: Tell,
    check: Check | None,
    recheck: Recheck | None,
    most_frames: int | None,
    *,
    lay: MakeBench | None = None,
) -> int:
    desk = _desk(units)
    desk.begin, desk.tell, desk.check, desk.recheck, desk.lay = begin, tell, check, recheck, lay
    with Interrupts() as stop:  # before SDL, which takes signals that nobody has taken
        # Somebody who counts the frames need not see them; without that it would go on forever.
        surface = open_window(is_plain=desk.settings.plain_presenting, is_seen=most_frames is None)
        try:
            desk.sounds.find_device()
            program = Program(surface, desk, DOORS)
            program.look_at_display()
            show(program)
            code = program.run(most_frames, stopped=stop.asked)
        finally:
            pygame.quit()
    if not stop.how:
        return code
    kept = desk.recorder
    complain(say("program.stopped", how=stop.how))
    if kept is not None and kept.stopped_at_s is None:
        complain(say("program.kept", path=kept.path))
    return INTERRUPTED


def _desk(units: System | None) -> Desk:
    """The user's own; units that were asked for hold for this once."""
    desk = users_desk()
    if units is not None:
        desk.settings = replace(desk.settings, units=units)
    return desk


def still_picture(
    description: Description, readings: Readings, size: tuple[int, int] = FULL_SIZE, *, units: System = "metric"
) -> bytes:
    """One picture of the drive screen, without a window.

    Args:
        description: the lift.
        readings: the moment.
        size: in pixels.
        units: meters and tonnes, or feet and pounds.

    Returns:
        A PNG that says where it comes from.
    """
    from simulator.window.screens.lift_picture import draw_still

    pygame.font.init()
    surface = pygame.Surface(size)
    draw_still(Canvas(surface), description, readings, units)
    picture = BytesIO()
    pygame.image.save(surface, picture, "still.png")
    return _signed(picture.getvalue())


def _signed(png: bytes) -> bytes:
    """With a text chunk behind its head (PNG specification, 11.3.4.3), by which it is known when it is renewed."""
    text = b"tEXtSoftware\0" + STILL.mark
    chunk = (len(text) - 4).to_bytes(4, "big") + text + zlib.crc32(text).to_bytes(4, "big")
    return png[:HEAD_OF_PNG] + chunk + png[HEAD_OF_PNG:]
