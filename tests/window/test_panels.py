"""Drawn readouts: inside their regions with the longest words and values, and calm when the lift is calm."""

from __future__ import annotations

from collections.abc import Callable
from math import nan

import pygame
import pytest

from simulator import words
from simulator.window.hands.bindings import Labels
from simulator.window.kit import regions
from simulator.window.kit.canvas import SMALLEST_TEXT, Canvas
from simulator.window.kit.head_foot import DRIVE_KEYS, DRIVE_KEYS_ALONE, draw_caution_line
from simulator.window.kit.levels import Level
from simulator.window.kit.palette import CAUTION, CAUTION_TINT, STOP, STOP_TINT
from simulator.window.kit.pieces import lines_of, unbroken
from simulator.window.kit.regions import SCENE, SMALLEST_WINDOW, Region
from simulator.window.kit.seen import SEEN_BY_TWO
from simulator.window.program import still_picture
from simulator.window.readouts.coach_words import at_rest
from simulator.window.readouts.looks import BoardLook, TileLook
from simulator.window.readouts.outrigger_board import HEIGHT as BOARD_HEIGHT
from simulator.window.readouts.outrigger_board import WIDTH as BOARD_WIDTH
from simulator.window.readouts.outrigger_board import draw_board
from simulator.window.readouts.overlay import Overlay, rose_place, tag_x
from simulator.window.readouts.readouts import Readouts
from simulator.window.readouts.rose_tag import HEADROOM, TagLook, draw_tag
from simulator.window.readouts.rose_tag import HEIGHT as TAG_HEIGHT
from simulator.window.readouts.rose_tag import WIDTH as TAG_WIDTH
from simulator.window.screens.keys_and_marks import KeysScreen
from simulator.words import say
from tests.window.inside import draw_alone, panel_look
from tests.window.sample import calm_readings, caution_readings, sample_description, stop_readings
from tests.window.within import GROUND, outside

REGIONS = {
    "coach": regions.COACH, "left": regions.UNIT_PANELS[0], "right": regions.UNIT_PANELS[1], "strip": regions.CLEARANCE,
    "table": regions.LOAD_TABLE, "line": regions.CAUTION_LINE,
}  # fmt: skip


def readouts(readings_of: Callable, system: str = "metric") -> Readouts:  # type: ignore[type-arg]
    """Readouts that have looked once."""
    description, readings = sample_description(), readings_of()
    result = Readouts(description, readings, system)  # type: ignore[arg-type]
    result.follow(readings, 0.0, at_rest(SEEN_BY_TWO)._replace(moving=(True, True), is_slow=True, speed="0.7x"))
    return result


@pytest.mark.parametrize("size", [(1920, 1080), (1366, 768), (1280, 720)])
@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.usefixtures("any_words")
def test_panels_stay_in_their_regions(screen: pygame.Surface, size: tuple[int, int], system: str) -> None:
    rows = readouts(stop_readings, system)
    for name, region in REGIONS.items():
        canvas = Canvas(pygame.Surface(size))
        canvas.clear(GROUND)
        draw_alone(rows, canvas, name)
        assert not outside(canvas.surface, canvas.rect_px(*region).inflate(2, 2)), name


@pytest.mark.parametrize("size", [(1920, 1080), (1366, 768), (1280, 720)])
def test_shipped_words_are_never_cut_short(screen: pygame.Surface, cut_short: list[str], size: tuple[int, int]) -> None:
    description = sample_description()
    for readings_of in (calm_readings, caution_readings, stop_readings):
        for system in ("metric", "us"):
            rows = readouts(readings_of, system)
            canvas = Canvas(pygame.Surface(size))
            rows.draw_due(canvas, most=99)
            Overlay(description, canvas).renew(rows, Labels())
    KeysScreen(None, labels=Labels(), is_paused=True).draw(Canvas(pygame.Surface(size)))
    assert cut_short == []


def patch(size: tuple[int, int]) -> Canvas:
    """A piece of a window of that size, with room all round a tag or a board at its origin."""
    canvas = Canvas(pygame.Surface((460, 360)), f=size[0] / 1920, origin_px=(80, 80))
    canvas.clear(GROUND)
    return canvas


def look_of(angle: str, level: Level, word: str, chip: str, key: str) -> TagLook:
    """A tag's look with its longest parts."""
    return TagLook(angle, word, level, "88", 0, "8.8", 90, chip, 45 if key else None, key, bool(key), not key)


@pytest.mark.parametrize("size", [(1920, 1080), (1366, 768), (1280, 720)])
@pytest.mark.usefixtures("any_words")
def test_tags_stay_in_their_boxes(screen: pygame.Surface, size: tuple[int, int]) -> None:
    """Every word with every chip that may stand beside it, and an angle as wide as angles get."""
    heads = ((Level.STOP, "rose.stop"), (Level.CAUTION, "rose.off_plumb"), (Level.GOOD, "rose.plumb"))
    heads = (*heads, (Level.GOOD, "rose.slack"))
    chips = [(text, "Ctrl") for key, text in words.table().items() if key.startswith("control.") and "said" not in key]
    chips += [(text, "") for key, text in words.table().items() if key.startswith("fix.")]
    for level, word in heads:
        for chip, key in chips:
            for side in (0, 1):
                canvas = patch(size)
                draw_tag(canvas, side, 0.0, 0.0, look_of("88.8", level, words.say(word), chip, key))
                box = Region(0.0, -HEADROOM, TAG_WIDTH, TAG_HEIGHT + HEADROOM)
                assert not outside(canvas.surface, canvas.rect_px(*box).inflate(2, 2)), (word, chip)


@pytest.mark.parametrize("size", [(1920, 1080), (1366, 768), (1280, 720)])
@pytest.mark.usefixtures("any_words")
def test_boards_stay_in_their_boxes(screen: pygame.Surface, size: tuple[int, int]) -> None:
    """Every kind of tile, with figures as wide as they get in thousand pounds."""
    tiles = (
        TileLook("88.8", 1.0, Level.CAUTION, True, ""),
        TileLook("108", 0.5, Level.GOOD, False, words.say("board.ground")),
        TileLook("0.0", 0.0, Level.STOP, True, words.say("board.up")),
        TileLook("88.8", 0.7, Level.GOOD, True, ""),
    )
    spare = words.say("board.spare", value="88.8")
    for side in (0, 1):
        for tipping in (False, True):
            canvas = patch(size)
            draw_board(canvas, side, 0.0, 0.0, BoardLook("klb", tiles, spare, tipping))
            box = Region(0.0, 0.0, BOARD_WIDTH, BOARD_HEIGHT)
            # A loose tile stands out over its place by its turn, never over the board's head.
            assert not outside(canvas.surface, canvas.rect_px(*box).inflate(8, 2))


def test_smallest_text_is_sixteen_pixels_in_the_smallest_window(screen: pygame.Surface) -> None:
    canvas = Canvas(pygame.Surface(regions.SMALLEST_WINDOW))
    assert canvas.size_px(SMALLEST_TEXT) == 16


@pytest.mark.parametrize("deep", [False, True])
def test_nothing_is_amber_or_red_in_a_calm_lift(screen: pygame.Surface, tmp_path: object, deep: bool) -> None:
    readings = calm_readings(height_m=-8.1, y_m=-8.0, tip_z_m=9.3) if deep else calm_readings()
    for colors, count in warm_counts(readings, tmp_path).items():
        assert count == 0, colors


def test_the_same_count_finds_the_warm_colors_of_a_bad_lift(screen: pygame.Surface, tmp_path: object) -> None:
    counts = warm_counts(caution_readings(), tmp_path)
    assert counts[CAUTION] > 500 and counts[STOP] > 500


def warm_counts(readings: object, folder: object) -> dict[tuple[int, int, int], int]:
    """Pixels of each warm color in a whole picture."""
    path = folder / "still.png"  # type: ignore[operator]
    path.write_bytes(still_picture(sample_description(), readings))  # type: ignore[arg-type]
    picture = pygame.image.load(str(path))
    warm = (CAUTION, CAUTION_TINT, STOP, STOP_TINT)
    return {color: pygame.mask.from_threshold(picture, color, (3, 3, 3, 255)).count() for color in warm}


@pytest.mark.parametrize("tips", [(-6.0, 6.0), (-1.0, 1.0), (-11.0, 11.0), (-9.0, 3.0)])
@pytest.mark.parametrize(("scale", "radius"), [(16.0, 84.0), (21.0, 112.0), (32.0, 112.0)])
def test_roses_never_touch_and_their_tags_stay_in_the_scene(
    tips: tuple[float, float], scale: float, radius: float
) -> None:
    spots = [(960.0 + x * scale, 264.0) for x in tips]
    middle = (spots[0][0] + spots[1][0]) / 2.0
    left, right = (rose_place(side, spots[side], middle, radius)[0] for side in (0, 1))
    assert right - left >= 2.0 * radius
    for side, x in ((0, left), (1, right)):
        tag = Region(tag_x(side, x, radius), 182.0, TAG_WIDTH, 150.0)
        assert tag.x >= SCENE.x and tag.right <= SCENE.right
        assert tag.right <= left - radius if side == 0 else tag.x >= right + radius


def test_readouts_survive_values_that_are_not_numbers(screen: pygame.Surface) -> None:
    calm = calm_readings()
    odd = calm.with_unit(0, calm.nose._replace(capacity_used=float("inf"), share=nan))._replace(gaps=())
    rows = Readouts(sample_description(), odd, "metric")
    rows.follow(odd, 0.0, at_rest(SEEN_BY_TWO))
    assert rows.draw_due(Canvas(pygame.Surface((1280, 720))), most=99) == 6
    assert panel_look(rows, "left").capacity.value.text == "OVER"
    assert panel_look(rows, "left").share.text == "–"


def test_unchanged_readouts_are_not_drawn_again(screen: pygame.Surface) -> None:
    rows = readouts(calm_readings)
    canvas = Canvas(pygame.Surface((1280, 720)))
    assert rows.draw_due(canvas, most=99) == 6
    now = at_rest(SEEN_BY_TWO)._replace(moving=(True, True), is_slow=True, speed="0.7x")
    for _ in range(3):
        rows.follow(calm_readings(), 0.11, now)
        assert rows.draw_due(canvas) == 0
    calm = calm_readings()
    rows.follow(calm._replace(load=calm.load._replace(pitch_rad=0.02)), 0.5, now)
    assert rows.draw_due(canvas) == 1


def test_a_lift_that_ended_badly_is_not_told_to_go_on(screen: pygame.Surface) -> None:
    rows = Readouts(sample_description(), calm_readings(), "metric")
    rows.follow(calm_readings(), 0.0, at_rest(SEEN_BY_TWO)._replace(has_ended=True, moving=(True, True)))
    look = panel_look(rows, "coach")
    assert look.mover == "stop" and look.prompt == words.say("coach.ended_prompt")
    rows = Readouts(sample_description(), caution_readings(), "metric")
    ended = at_rest(SEEN_BY_TWO)._replace(
        has_ended=True, moving=(True, True), automatic=(True, False), incident="Shell meets the deck"
    )
    rows.follow(caution_readings(), 0.0, ended)
    alert = panel_look(rows, "coach").alert
    assert alert.level is Level.STOP and "Shell meets the deck" in alert.text and alert.number == 1
    for name in ("left", "right"):
        assert panel_look(rows, name).state == words.say("panel.hold") and not panel_look(rows, name).is_moving
    landed = calm_readings()._replace(load=calm_readings().load._replace(landed=True))
    rows = Readouts(sample_description(), landed, "metric")
    rows.follow(landed, 0.0, at_rest(SEEN_BY_TWO)._replace(has_ended=True))
    assert panel_look(rows, "coach").prompt == words.say("coach.landed_prompt")


@pytest.mark.parametrize("moves", [True, False])
def test_lines_that_pay_out_after_landing_are_told_alike_by_panel_and_coach(
    screen: pygame.Surface, moves: bool
) -> None:
    landed = calm_readings()._replace(load=calm_readings().load._replace(landed=True))
    rows = Readouts(sample_description(), landed, "metric")
    rows.follow(landed, 0.0, at_rest(SEEN_BY_TWO, moving=(moves, moves)))
    coach = panel_look(rows, "coach")
    assert coach.prompt == words.say("coach.landed_prompt")
    assert coach.mover == ("both" if moves else "none")
    state = words.say("panel.move" if moves else "panel.hold")
    assert [panel_look(rows, name).state for name in ("left", "right")] == [state, state]


@pytest.mark.parametrize("keys", [DRIVE_KEYS, DRIVE_KEYS_ALONE])
def test_keep_clear_stands_at_the_foot_of_a_lift_in_every_window(
    monkeypatch: pytest.MonkeyPatch, keys: tuple[tuple[str, str], ...]
) -> None:
    """Some windows round letters up to whole pixels, so that the line came out a little too long."""
    drawn: list[str] = []
    kept = Canvas.text

    def text(self: Canvas, words: str, x: float, y: float, size: float = 24.0, **more: object) -> float:
        drawn.append(self.fitted(words, size, float(str(more["width"])), weight="medium")[0] if "width" in more else "")
        return kept(self, words, x, y, size, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(Canvas, "text", text)
    for width in range(SMALLEST_WINDOW[0], 3841, 16):
        drawn.clear()
        draw_caution_line(Canvas(pygame.Surface((width, round(width * 9 / 16)))), keys)
        assert say("program.caution") in drawn, width


def test_a_number_stays_on_the_line_of_its_unit(screen: pygame.Surface) -> None:
    canvas = Canvas(screen)
    assert unbroken("only 0.01 m, 12.9 t. In 4 s") == ["only", "0.01 m,", "12.9 t.", "In", "4 s"]
    words = "went 0.17 m toward the road, the right unit's only 0.01 m"
    for width in range(120, 700, 10):
        lines = lines_of(canvas, words, float(width), most=9)
        assert " ".join(lines) == words and not any(line.startswith(("m ", "m,")) or line == "m" for line in lines)
