"""What the layout screen keeps between frames is what it would draw anew, pixel by pixel; and is kept at all."""

from __future__ import annotations

from math import inf
from random import Random

import numpy as np
import pygame
import pytest

from simulator.cli.layout_answers import Bench
from simulator.places import find_scenario
from simulator.scenario.reader import load
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.kept_panel import KeptPanel, KeptRow, KeptStamp
from simulator.window.kit.palette import INK, PANEL
from simulator.window.kit.regions import Region
from simulator.window.layout.panels import Focus
from simulator.window.layout.sheet import Sheet
from simulator.window.layout.work import Work
from simulator.window.scene.kept_pictures import Picture, PictureShape
from simulator.window.screens.layout_screen import LayoutScreen
from simulator.window.screens.layout_view import KeptLayout
from simulator.window.shell.desk import Desk

FRAME_S = 1.0 / 30.0
MOVES, STEPS = 5, 3
BLEND = 4
"""SDL blends a stamp's soft edge some levels otherwise the first time it is laid; what is stale is off by far more."""


def screen_of(name: str) -> LayoutScreen:
    pygame.init()
    pygame.display.set_mode((64, 64))
    desk, bench = Desk(), Bench("us")
    desk.change(units="us")
    screen = LayoutScreen(Work(Sheet(load(find_scenario(name)), system="us", settle=bench.settled), bench), desk)
    screen.work.go_on(FRAME_S)
    return screen


def pixels(screen: LayoutScreen, canvas: Canvas) -> np.ndarray:
    """The screen on one and the same surface, as in the program."""
    canvas.surface.fill((255, 0, 255))
    screen.draw(canvas)
    return pygame.surfarray.array3d(canvas.surface).astype(np.int16)


def anew(screen: LayoutScreen, canvas: Canvas) -> np.ndarray:
    """The same with nothing kept, and all that was kept put back."""
    kept, pictures, spots = screen.kept, screen._pictures, list(screen._spots.rows)
    screen.kept, screen._pictures = KeptLayout(), None
    found = pixels(screen, canvas)
    assert screen._spots.rows == spots, "the mouse finds the same"
    screen.kept, screen._pictures = kept, pictures
    return found


def off(screen: LayoutScreen, canvas: Canvas) -> int:
    """How far the worst pixel is from a freshly drawn one, of 255."""
    return int(np.abs(pixels(screen, canvas) - anew(screen, canvas)).max())


def event(screen: LayoutScreen, kind: int, x: float, y: float) -> None:
    screen.take_event(pygame.event.Event(kind, pos=(x, y), button=1, buttons=(1, 0, 0), rel=(0, 0)))


def look_elsewhere(screen: LayoutScreen, draw: Random) -> None:
    """Another group, field, row or station, and something half typed."""
    board, sheet, work = screen.board, screen.work.sheet, screen.work
    board.open_group(draw.choice(("place", "load", "path", "units")))
    board.focus = Focus("fields", draw.choice([one.key for one in sheet.fields if one.group == board.group]))
    if draw.random() < 0.3:
        sheet.type("length", draw.choice(("x", "48'")))
    sheet.step(draw.choice(("jacks_ravine_0", "askew_1", "pad_0", "width", "soil")), draw.choice((-2, 2)))
    work.look_at_row(draw.choice((None, draw.randrange(5))))
    work.look_at_station(draw.randrange(30))
    work.go_on(FRAME_S)


@pytest.mark.parametrize(("name", "size", "seed"), [
    ("box_on_wheels", (1920, 1080), 1), ("box_on_wheels", (1280, 720), 2), ("tank_on_side", (1920, 1080), 3),
    ("four_lines", (1366, 768), 4),
])  # fmt: skip
def test_kept_panels_are_as_freshly_drawn_ones_over_a_random_drag(name: str, size: tuple[int, int], seed: int) -> None:
    screen, draw, moved = screen_of(name), Random(seed), 0
    canvas = Canvas(pygame.Surface(size))
    for _ in range(MOVES):
        look_elsewhere(screen, draw)
        assert off(screen, canvas) <= BLEND, "at rest"
        grip = draw.choice(screen.work.sheet.grips)
        x, y = screen.pictures.spot(grip)
        event(screen, pygame.MOUSEBUTTONDOWN, x, y)
        for _ in range(STEPS):
            before = screen.work.sheet.count
            x, y = x + draw.uniform(-25.0, 25.0), y + draw.uniform(-25.0, 25.0)
            event(screen, pygame.MOUSEMOTION, x, y)
            screen.work.go_on(FRAME_S)
            moved += screen.work.sheet.count != before
            assert off(screen, canvas) <= BLEND, grip.key
        event(screen, pygame.MOUSEBUTTONUP, x, y)
        screen.work.go_on(FRAME_S)
    assert moved >= MOVES, "something was dragged"


def test_a_panel_is_drawn_again_only_where_what_it_shows_has_changed() -> None:
    pygame.init()
    canvas, drawn = Canvas(pygame.Surface((1920, 1080))), list[str]()
    panel = KeptPanel(Region(10.0, 10.0, 200.0, 100.0))

    def show(words: str, *rows: str) -> None:
        def line(text: str) -> None:
            drawn.append(text)

        regions = [Region(12.0, 20.0 + 20.0 * n, 100.0, 20.0) for n in range(len(rows))]
        kept = [KeptRow(at, one, lambda _, one=one: line(one)) for at, one in zip(regions, rows, strict=True)]
        panel.show(canvas, words, lambda _: line(words), kept)

    for words, rows, wanted in (
        ("head", ("a", "b"), ["head", "a", "b"]),
        ("head", ("a", "b"), []),
        ("head", ("a", "c"), ["c"]),
        ("other", ("a", "c"), ["other", "a", "c"]),
        ("other", ("a",), ["other", "a"]),
    ):
        drawn.clear()
        show(words, *rows)
        assert drawn == wanted
    drawn.clear()
    canvas = Canvas(pygame.Surface((1280, 720)))
    show("other", "a")
    assert drawn == ["other", "a"], "another size"


def test_a_picture_is_off_as_soon_as_anything_it_comes_from_has_changed() -> None:
    pygame.init()
    canvas, picture = Canvas(pygame.Surface((400, 300))), Picture()
    shape = PictureShape((50.0, 50.0), [(0.0, 0.0), (9.0, 9.0)], 2.0, (1.0,))
    picture.draw(canvas, shape, lambda layer: None)
    assert picture.off_px(canvas, shape) == 0.0
    assert picture.off_px(canvas, shape._replace(points=[(0.0, 0.0), (9.0, 9.5)])) == 0.5
    assert picture.off_px(canvas, shape._replace(besides=(1.1,))) == inf


def test_a_stamp_is_laid_where_it_was_drawn() -> None:
    pygame.init()
    stamp, count = KeptStamp(), [0]

    def draw(layer: Canvas) -> None:
        count[0] += 1
        layer.rect(105.0, 105.0, 10.0, 10.0, INK)

    for _ in range(2):
        canvas = Canvas(pygame.Surface((1920, 1080)))
        canvas.clear(PANEL)
        stamp.show(canvas, Region(100.0, 100.0, 40.0, 40.0), "same", draw)
        assert canvas.surface.get_at((110, 110))[:3] == INK
        assert canvas.surface.get_at((104, 104))[:3] == PANEL and canvas.surface.get_at((116, 116))[:3] == PANEL
    assert count == [1]
