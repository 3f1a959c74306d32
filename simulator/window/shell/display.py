"""The display: opening a window, its size, full screen, what showing a frame takes, and when the computer slept."""

from __future__ import annotations

import ctypes
import os
import sys
from statistics import median
from time import perf_counter, process_time, sleep, time
from typing import NamedTuple

import pygame

from simulator.window.kit.regions import SMALLEST_WINDOW
from simulator.words import say

MMAP_THRESHOLD = -3
"""Of `mallopt`; the number stands in the GNU C library's `malloc.h`."""
LARGE_B = 64 * 1024


def give_large_blocks_back() -> None:
    """Keep large pictures out of the heap, so that the memory of each that goes is free again at once.

    The GNU C library takes every large block that was freed as a reason to put the next ones of that size into the
    heap, where what is freed under something kept is not given back: hours of pictures that come and go swell it.
    Other C libraries are left alone.
    """
    if not sys.platform.startswith("linux"):
        return
    mallopt = getattr(ctypes.CDLL(None), "mallopt", None)
    if mallopt is not None:
        mallopt(MMAP_THRESHOLD, LARGE_B)


NO_FRAME_SO_LONG_S = 3.0
"""No frame takes so long of itself."""


class SleepWatch:
    """Asked once a frame."""

    def __init__(self) -> None:
        self._last_s = time()

    def was_long(self) -> bool:
        """Whether it is long since the last question."""
        before_s, self._last_s = self._last_s, time()
        return self._last_s - before_s > NO_FRAME_SO_LONG_S


WINDOW_SHARE = 0.9
"""Share of the desktop that a new window may take."""
FULL_SIZE = (1920, 1080)
FEWEST_FLIPS, TIMED_FLIPS, LONG_FLIPS_MS = 3, 10, 60.0
AGAIN_S = 1.0
"""How often a picture that stands still is shown again."""
RETRIES, RETRY_S = 20, 0.1
"""How often, and how far apart, a display that was just closed is asked again."""
ACCELERATION = "SDL_FRAMEBUFFER_ACCELERATION"
"""What SDL reads when the display starts; "0" shows frames without acceleration."""
CORNER = "SDL_VIDEO_WINDOW_POS"
"""Where a new window stands."""


class NoDisplay(RuntimeError):  # noqa: N818 - named by what is missing
    """No window can be opened; the message is a sentence for the user."""


UNSEEN = ("dummy", "offscreen", "evdev")
"""SDL's video drivers that show nothing."""


def open_window(*, is_plain: bool = False, is_seen: bool = False) -> pygame.Surface:
    """A resizable window, as large as the desktop comfortably allows.

    Args:
        is_plain: frames go to the screen without acceleration.
        is_seen: somebody has to be able to see it; a driver that shows nothing will not do, even one that the
            environment names.

    Raises:
        NoDisplay: there is no screen, or one that is too small.
    """
    give_large_blocks_back()
    try:
        _choose_presenting(is_plain=is_plain)
        _connect()
        if is_seen and pygame.display.get_driver() in UNSEEN:
            raise pygame.error(say("program.unseen", driver=pygame.display.get_driver()))
        pygame.font.init()
        sizes = pygame.display.get_desktop_sizes() or [FULL_SIZE]
        if pygame.display.get_driver() not in UNSEEN:
            _refuse_small(sizes[0])
        share = min(1.0, WINDOW_SHARE * min(sizes[0][0] / FULL_SIZE[0], sizes[0][1] / FULL_SIZE[1]))
        size = [max(least, round(share * full)) for least, full in zip(SMALLEST_WINDOW, FULL_SIZE, strict=True)]
        if os.environ.get("SDL_VIDEODRIVER") == "dummy":
            size = list(FULL_SIZE)
        surface = pygame.display.set_mode((size[0], size[1]), pygame.RESIZABLE)
    except pygame.error as error:
        pygame.quit()
        raise NoDisplay(say("program.no_display", reason=str(error))) from error
    pygame.display.set_caption(say("program.name"))
    pygame.joystick.init()
    return surface


def _refuse_small(desktop: tuple[int, int]) -> None:
    """A window that does not fit would hide its caution line and its keys.

    Raises:
        pygame.error: the desktop is smaller than the smallest window.
    """
    if any(has < least for has, least in zip(desktop, SMALLEST_WINDOW, strict=True)):
        given, least = ("x".join(map(str, size)) for size in (desktop, SMALLEST_WINDOW))
        raise pygame.error(say("program.small_screen", given=given, least=least))


def _connect() -> None:
    """With no screen SDL draws where nobody sees it and says nothing; only who asks for that by name may have it.

    Raises:
        pygame.error: nobody could see the window.
    """
    pygame.display.init()
    driver = pygame.display.get_driver()
    if driver in UNSEEN and os.environ.get("SDL_VIDEODRIVER") != driver:
        pygame.display.quit()
        raise pygame.error(say("program.no_screen"))


def _connect_again() -> None:
    """A bare X server begins anew when its only window closes, and for a moment answers nobody.

    Raises:
        NoDisplay: the screen is gone for good.
    """
    for last in (*[False] * RETRIES, True):
        try:
            return _connect()
        except pygame.error as error:
            if last:
                raise NoDisplay(say("program.no_display", reason=str(error))) from error
        sleep(RETRY_S)


def _choose_presenting(*, is_plain: bool) -> None:
    """Leave what the user's own environment says, unless plain presenting was chosen here."""
    if is_plain:
        os.environ[ACCELERATION] = "0"
    elif os.environ.get(ACCELERATION) == "0":
        del os.environ[ACCELERATION]


def reopen(size: tuple[int, int], *, is_full: bool, is_plain: bool) -> pygame.Surface:
    """Close the display and open it again: full screen or in a window, and as frames are to be shown from now on.

    Raises:
        NoDisplay: the screen is gone.
    """
    pygame.display.quit()
    _choose_presenting(is_plain=is_plain)
    _connect_again()
    surface = _whole_desktop() if is_full else pygame.display.set_mode(size, pygame.RESIZABLE)
    pygame.display.set_caption(say("program.name"))
    return surface


def _whole_desktop() -> pygame.Surface:
    """A window that covers it; where no window manager moves it there, it has to be born in the corner."""
    given = os.environ.get(CORNER)
    os.environ[CORNER] = "0,0"
    try:
        return pygame.display.set_mode((0, 0), pygame.FULLSCREEN)
    finally:
        os.environ.pop(CORNER)
        os.environ.update({} if given is None else {CORNER: given})


def resized(size: tuple[int, int]) -> pygame.Surface:
    """The window after its edge was pulled, never under the smallest size."""
    wanted = max(size[0], SMALLEST_WINDOW[0]), max(size[1], SMALLEST_WINDOW[1])
    if wanted != size:
        pygame.display.set_mode(wanted, pygame.RESIZABLE)
    surface = pygame.display.get_surface()
    assert surface is not None  # a window is resized after it was opened
    return surface


class Presenting:
    """Shows what was drawn; what stands still only now and then, for a screen that has lost it."""

    def __init__(self) -> None:
        self._still_s = 0.0

    def frame(self, elapsed_s: float, *, is_new: bool) -> None:
        """A frame later; showing one costs far more than seeing that nothing has changed."""
        self._still_s += elapsed_s
        if is_new or self._still_s >= AGAIN_S:
            pygame.display.flip()
            self._still_s = 0.0


class Presented(NamedTuple):
    """What showing one frame takes."""

    wall_ms: float
    """The median of some."""
    processor_ms: float
    """Of all threads of this program: where there is no graphics card, acceleration is several of them at work."""


def presented(surface: pygame.Surface) -> Presented:
    """Show some frames and see: ten, or three where each takes long."""
    taken_ms: list[float] = []
    began_s = process_time()
    while len(taken_ms) < FEWEST_FLIPS or (len(taken_ms) < TIMED_FLIPS and sum(taken_ms) < LONG_FLIPS_MS):
        surface.fill((243 - len(taken_ms) % 2, 241, 235))
        begin = perf_counter()
        pygame.display.flip()
        taken_ms.append(1000.0 * (perf_counter() - begin))
    return Presented(median(taken_ms), 1000.0 * (process_time() - began_s) / len(taken_ms))
