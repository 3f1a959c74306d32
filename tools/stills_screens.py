"""Every screen beside the drive screen, in the order of a way through the program."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import NamedTemporaryFile

import pygame

from simulator.cli.window_answers import check_lift, tell_lift
from simulator.places import find_scenario
from simulator.recording.keep import list_recordings
from simulator.recording.lift_file import read
from simulator.scenario.reader import load
from simulator.window.hands.bindings import BINDINGS, Labels
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.measures_shown import System
from simulator.window.kit.pieces import draw_progress
from simulator.window.review.looking_back import LookBack
from simulator.window.screens.debrief_screen import DebriefScreen
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.keys_and_marks import KeysScreen
from simulator.window.screens.recordings import RecordingsScreen
from simulator.window.screens.replay_screen import ReplayScreen
from simulator.window.screens.screen import Screen
from simulator.window.screens.seat_check import SeatCheck
from simulator.window.screens.sentences import check_screen, faults_screen
from simulator.window.screens.settings_screen import SettingsScreen
from simulator.window.screens.start_screen import StartScreen
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice
from simulator.window.shell.lifts_on_offer import drill_offers, offer, offered_lifts, shipped_lifts

BROKEN = 'title = "A broken file"\nstory = 3\n[site]\nsection = "flat"\n'
"""A scenario file with faults, to see how they are told."""
KEYS = {pygame.KSCAN_ESCAPE: pygame.K_ESCAPE, pygame.KSCAN_SPACE: pygame.K_SPACE, pygame.KSCAN_TAB: pygame.K_TAB}
"""What is more than a place on the keyboard."""


def desk_for(system: System) -> Desk:
    """Settings that are kept nowhere, with these units."""
    desk = Desk()
    desk.change(units=system)
    return desk


def other_screens(system: System, size: tuple[int, int], folder: Path) -> Iterator[tuple[str, pygame.Surface]]:
    """Each screen's name and picture; `folder` holds recordings, the newest of them is looked back on."""
    canvas, desk = Canvas(pygame.Surface(size)), desk_for(system)
    for name, make in _screens(desk, folder).items():
        canvas.clear()
        screen = make()
        screen.renew(canvas)
        screen.frame(canvas, 0.0)
        yield name, canvas.surface
    draw_progress(canvas, 0.4)
    yield "progress", canvas.surface


def _screens(desk: Desk, folder: Path) -> dict[str, Callable[[], Screen]]:
    lifts = shipped_lifts()
    offers = offered_lifts(lifts, drill_offers())
    drill = Choice(load(find_scenario("centering")), "two")
    yard, last = Choice(lifts[0], "two"), Choice(lifts[-1], "left")
    back = LookBack(read(list_recordings(folder)[0].path), None, tell_lift, desk)
    units = desk.settings.units
    return {
        "start": lambda: StartScreen(offers, desk, check=check_lift),
        "start-last": lambda: StartScreen(offers, desk, chosen=last, check=check_lift),
        "faults": _broken,
        "check": lambda: check_screen(lifts[-1], check_lift, units),
        "settings": lambda: SettingsScreen(desk),
        "keys": lambda: KeysScreen(lifts[0], labels=Labels(), is_paused=True),
        "recordings": lambda: RecordingsScreen(folder),
        "seats": lambda: _pressed(SeatCheck(yard), *(row.left for row in BINDINGS[:5])),
        "pause": lambda: _pressed(DriveScreen(yard, units, desk=desk), pygame.KSCAN_ESCAPE),
        "drill": lambda: DriveScreen(drill, units, desk=desk),
        "stop-order": lambda: _pressed(DriveScreen(drill, units, desk=desk), pygame.KSCAN_SPACE),
        "instructor": lambda: _pressed(DriveScreen(drill, units, desk=desk), pygame.KSCAN_TAB),
        "debrief": lambda: DebriefScreen(back),
        "replay": lambda: ReplayScreen(back, desk, at_s=0.6 * back.recording.length_s),
    }


def _broken() -> Screen:
    with NamedTemporaryFile("w", suffix=".toml") as file:
        file.write(BROKEN)
        file.flush()
        return faults_screen(offer(Path(file.name)))


def _pressed(screen: Screen, *scancodes: int) -> Screen:
    for scancode in scancodes:
        key = KEYS.get(scancode, 0)
        screen.take_event(pygame.event.Event(pygame.KEYDOWN, key=key, scancode=scancode, mod=0, unicode=""))
    return screen
