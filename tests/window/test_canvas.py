"""The canvas: design units to pixels, layers, text in its place, edges in their colors."""

import pygame
import pytest

from simulator.window.kit import shapes
from simulator.window.kit.canvas import SMALLEST_TEXT, Canvas
from simulator.window.kit.icons import arrow_turn, icon, stamp
from simulator.window.kit.lettering import FILES, Lettering, fonts_folder, shared_lettering
from simulator.window.kit.palette import CAUTION, INK, LEFT, PANEL, PAPER, RIGHT, STOP, from_hex, mixed


@pytest.fixture
def canvas() -> Canvas:
    pygame.font.init()
    made = Canvas(pygame.Surface((1920, 1080)))
    made.clear()
    return made


def on(size: tuple[int, int]) -> Canvas:
    pygame.font.init()
    return Canvas(pygame.Surface(size))


def luminance(color: tuple[int, int, int]) -> float:
    """Relative luminance (WCAG 2.1 definition, from memory, not confirmed)."""
    parts = [c / 255 for c in color]
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("size", [(1920, 1080), (1280, 720), (1920, 1200), (2560, 1080)])
def test_fits_and_centers(size: tuple[int, int]) -> None:
    canvas = on(size)
    f = min(size[0] / 1920, size[1] / 1080)
    assert canvas.f == f
    left, top = canvas.to_px(0, 0)
    right, foot = canvas.to_px(1920, 1080)
    assert left >= 0 and top >= 0
    assert left == pytest.approx(size[0] - right, abs=1)
    assert top == pytest.approx(size[1] - foot, abs=1)
    assert canvas.to_units(*canvas.to_px(123.0, 456.0)) == pytest.approx((123.0, 456.0))


def test_neighboring_rectangles_share_their_edge() -> None:
    canvas = on((1366, 768))
    for x in range(0, 1900, 7):
        assert canvas.rect_px(x, 0, 7, 9).right == canvas.rect_px(x + 7, 0, 7, 9).left


def test_a_layer_lands_where_it_was_drawn(canvas: Canvas) -> None:
    layer = canvas.layer(100, 200, 50, 40)
    layer.clear(PANEL)
    layer.rect(110, 210, 10, 10, STOP)
    canvas.paste(layer)
    assert canvas.surface.get_at((112, 212))[:3] == STOP
    assert canvas.surface.get_at((101, 201))[:3] == PANEL
    assert canvas.surface.get_at((99, 201))[:3] == PAPER


def test_clip_holds_and_is_lifted(canvas: Canvas) -> None:
    with canvas.clip(100, 100, 50, 50):
        canvas.rect(0, 0, 1920, 1080, STOP)
    assert canvas.surface.get_at((120, 120))[:3] == STOP
    assert canvas.surface.get_at((160, 120))[:3] == PAPER
    canvas.rect(160, 120, 4, 4, INK)
    assert canvas.surface.get_at((161, 121))[:3] == INK


def test_lines_far_outside_leave_the_picture_alone(canvas: Canvas) -> None:
    canvas.line((-4000, 500), (-2000, 500), STOP, width=3)
    canvas.rect(-4000, 400, 2000, 20, STOP)
    assert canvas.surface.get_at((10, 500))[:3] == PAPER
    assert canvas.surface.get_at((1900, 410))[:3] == PAPER


@pytest.mark.parametrize("end", [(400, 100), (400, 300), (100, 400), (260, 391)])
def test_a_thick_line_has_no_seam(canvas: Canvas, end: tuple[int, int]) -> None:
    canvas.line((100, 100), end, INK, width=7)
    for n in range(1, 20):
        x, y = 100 + (end[0] - 100) * n / 20, 100 + (end[1] - 100) * n / 20
        got = canvas.surface.get_at((round(x - 0.5), round(y - 0.5)))[:3]
        assert max(abs(a - b) for a, b in zip(got, INK, strict=True)) < 40


def test_polygon_is_filled_and_edged(canvas: Canvas) -> None:
    canvas.polygon([(200, 200), (300, 230), (280, 320), (190, 290)], CAUTION, edge=INK, edge_width=3)
    assert canvas.surface.get_at((245, 260))[:3] == CAUTION
    assert canvas.surface.get_at((250, 215))[:3] != CAUTION


def test_offset_of_a_square_moves_each_side() -> None:
    square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
    for way, by, moved in ((1, 2.0, [-2, -2, 12, -2, 12, 12, -2, 12]), (-1, -1.0, [1, 9, 9, 9, 9, 1, 1, 1])):
        assert [part for point in shapes.offset(square[::way], by) for part in point] == pytest.approx(moved)


def test_digits_stand_still(canvas: Canvas) -> None:
    widths = {canvas.text_width(f"{n}{n}.{n}", 92, weight="bold", digits=True) for n in range(10)}
    assert len(widths) == 1
    assert canvas.digits("11.1", 100, 300, 92) == canvas.digits("88.8", 100, 500, 92)


def test_text_stands_on_its_baseline_and_at_its_anchor(canvas: Canvas) -> None:
    width = canvas.text("HEIL", 400, 300, 60, weight="bold", anchor="right")
    box = pygame.mask.from_threshold(canvas.surface, INK, (60, 60, 60, 255)).get_bounding_rects()
    whole = box[0].unionall(box[1:])
    assert whole.bottom == pytest.approx(300, abs=2)
    assert whole.right == pytest.approx(400, abs=8)
    assert whole.left == pytest.approx(400 - width, abs=8)


def test_text_fits_without_going_under_the_smallest(canvas: Canvas) -> None:
    text, size = canvas.fitted("A label that is a little long", 32, 260)
    assert size >= SMALLEST_TEXT
    assert canvas.text_width(text, size) <= 260
    assert text == "A label that is a little long" or text.endswith("\N{HORIZONTAL ELLIPSIS}")


def test_missing_fonts_fall_back(tmp_path: object) -> None:
    pygame.font.init()
    lettering = Lettering(fonts_folder() / "not there")
    assert lettering.drawn("12.9", "bold", 40, INK).get_width() > 20


def test_caches_are_bounded() -> None:
    pygame.font.init()
    lettering = Lettering(fonts_folder(), kept_texts=16)
    for n in range(100):
        lettering.drawn(str(n), "bold", 20, INK)
    assert lettering.drawn.cache_info().currsize == 16
    for kept in (shapes.disc_stamp, shapes.corner_stamp, stamp):
        assert kept.cache_info().maxsize


def test_icons_differ_by_shape_alone(canvas: Canvas) -> None:
    masks = []
    for name in ("caution", "stop", "tick", "arrow", "two_way", "play"):
        mask = pygame.mask.from_surface(stamp(name, 64, INK, PANEL, 0), 100)
        assert mask.count() > 200, name
        masks.append(mask)
    for n, first in enumerate(masks):
        for second in masks[n + 1 :]:
            assert first.count() + second.count() - 2 * first.overlap_area(second, (0, 0)) > 150
    icon(canvas, "stop", 500, 500, 60)
    assert canvas.surface.get_at((500, 478))[:3] == STOP


@pytest.mark.parametrize(("way", "turn"), [((1, 0), 0), ((0, 1), 90), ((-1, 0), 180), ((0, -1), 270), ((1, 1), 45)])
def test_arrows_turn_to_the_nearest_of_eight(way: tuple[int, int], turn: int) -> None:
    assert arrow_turn(*way) == turn


def test_contrasts_are_those_of_the_design() -> None:
    """The design's own figures: ink on white 16.5, white on left 6.7, on right 6.1, on stop 5.6, ink on caution 8.7."""

    def contrast(first: tuple[int, int, int], second: tuple[int, int, int]) -> float:
        low, high = sorted((luminance(first), luminance(second)))
        return (high + 0.05) / (low + 0.05)

    for first, second, figure in (
        (INK, PANEL, 16.5), (PANEL, LEFT.main, 6.7), (PANEL, RIGHT.main, 6.1), (PANEL, STOP, 5.6), (INK, CAUTION, 8.7),
    ):  # fmt: skip
        assert contrast(first, second) == pytest.approx(figure, abs=0.06)


def test_mixing_runs_from_one_color_to_the_other() -> None:
    a, b = from_hex("000000"), from_hex("FFFFFF")
    assert mixed(a, b, 0.0) == a
    assert mixed(a, b, 1.0) == b
    assert mixed(a, b, 0.5) == (128, 128, 128)


@pytest.mark.parametrize(
    ("written", "shown"),
    [("-0.18 m", "\u22120.18 m"), ("from -2 to -1.5 deg (-3)", "from \u22122 to \u22121.5 deg (\u22123)"),
     ("2025-03-01", "2025-03-01"), ("rock-faced, 3-4 m", "rock-faced, 3-4 m"), ("lift-2.lift", "lift-2.lift")],
)  # fmt: skip
def test_numbers_written_elsewhere_get_a_true_minus(screen: pygame.Surface, written: str, shown: str) -> None:
    type_, plain = shared_lettering(), pygame.font.Font(str(fonts_folder() / FILES["bold"]), 30)
    drawn = type_.drawn(written, "bold", 30, (0, 0, 0))
    by_hand = plain.render(shown, True, (0, 0, 0))
    assert pygame.image.tobytes(drawn, "RGBA") == pygame.image.tobytes(by_hand, "RGBA")
    assert type_.width(written, "bold", 30) == by_hand.get_width()
