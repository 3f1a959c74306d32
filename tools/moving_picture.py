"""README's pictures: a whole lift as the window shows it, driven by the automatic operators, and one moment of it.

`python tools/moving_picture.py` writes lift.gif and lift.png to assets/pictures, in about a minute: look at both before
they are kept.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from pathlib import Path

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
os.environ.setdefault("SDL_AUDIODRIVER", "dummy")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
sys.path.insert(0, str(Path(__file__).parents[1]))

import pygame
from PIL import Image

from simulator import Attempt, load
from simulator.window.kit.canvas import Canvas
from simulator.window.screens.drive import DriveScreen
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import Choice

FOLDER = Path(__file__).parents[1] / "assets" / "pictures"
LIFT = "turn_over_tank"
MOVING_PX, STILL_PX = (960, 540), (1280, 720)
DRAWN = 2
"""Drawn so many times as large as it is kept, for smooth edges and lettering."""
FRAME_S = 0.1
"""Simulated time from one frame drawn to the next: the window follows the lift as it does for people."""
EVERY_S = 3.0
"""Simulated time from one frame kept to the next."""
SHOWN_S, LAST_SHOWN_S = 0.12, 3.0
COLORS = 128
LARGEST_BYTES = 3_000_000, 400_000
"""Of the moving picture and of the still."""


def frames(lift: str, every_s: float, size: tuple[int, int]) -> Iterator[tuple[Attempt, Image.Image]]:
    """The window at every so many seconds of a lift, and when it is over."""
    description = load(lift)
    canvas = Canvas(pygame.Surface(size))
    screen = DriveScreen(Choice(description, "demo"), desk=Desk())
    attempt = screen.lift
    assert isinstance(attempt, Attempt)
    shown_s = -every_s
    while screen.over is None:
        if attempt.readings.time_s >= shown_s + every_s:
            screen.renew(canvas)
            shown_s = attempt.readings.time_s
            yield attempt, kept(canvas.surface)
        screen.frame(canvas, FRAME_S)
    yield attempt, kept(canvas.surface)


def kept(surface: pygame.Surface) -> Image.Image:
    """A drawn frame as a picture of its own."""
    return Image.frombytes("RGB", surface.get_size(), pygame.image.tobytes(surface, "RGB"))


def few_colors(pictures: list[Image.Image], colors: int) -> list[Image.Image]:
    """All in one palette, taken from a sheet of some of them; nothing strewn, so that what stands still stays still."""
    some = pictures[:: max(1, len(pictures) // 8)]
    wide, high = pictures[0].size
    sheet = Image.new("RGB", (wide, high * len(some)))
    for row, picture in enumerate(some):
        sheet.paste(picture, (0, row * high))
    palette = sheet.quantize(colors, method=Image.Quantize.MEDIANCUT)
    return [picture.quantize(palette=palette, dither=Image.Dither.NONE) for picture in pictures]


def moving(path: Path, pictures: list[Image.Image]) -> None:
    """One moving picture, the last frame longer than the others; `optimize` keeps of a frame only what has changed."""
    first, *rest = few_colors(pictures, COLORS)
    shown_ms = [round(1000 * SHOWN_S)] * len(rest) + [round(1000 * LAST_SHOWN_S)]
    first.save(path, save_all=True, append_images=rest, duration=shown_ms, loop=0, optimize=True, disposal=1)


def main() -> int:
    """Drive once, keep both pictures; 1 when one came out too large."""
    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode(STILL_PX)
    FOLDER.mkdir(parents=True, exist_ok=True)
    pictures: list[Image.Image] = []
    over_decks: Image.Image | None = None
    wide, high = MOVING_PX
    for attempt, picture in frames(LIFT, EVERY_S, (DRAWN * wide, DRAWN * high)):
        pictures.append(picture.resize(MOVING_PX, Image.Resampling.LANCZOS))
        if over_decks is None and attempt.readings.load.y_m > -0.5:
            over_decks = picture.resize(STILL_PX, Image.Resampling.LANCZOS)
    assert over_decks is not None
    moving(FOLDER / "lift.gif", pictures)
    few_colors([over_decks], 2 * COLORS)[0].save(FOLDER / "lift.png", optimize=True)
    sizes = [(FOLDER / name).stat().st_size for name in ("lift.gif", "lift.png")]
    print(f"{len(pictures)} frames, {sizes[0] / 1e6:.2f} MB; still {sizes[1] / 1e3:.0f} kB; in {FOLDER}")
    return int(any(size > most for size, most in zip(sizes, LARGEST_BYTES, strict=True)))


if __name__ == "__main__":
    sys.exit(main())
