"""The printed debrief: all is on the paper, readable without color, the caution on every page."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from matplotlib import rc_context
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgb
from matplotlib.figure import Figure
from matplotlib.text import Text

from simulator.attempt import Attempt
from simulator.engine.commands import STILL
from simulator.places import find_scenario
from simulator.recording.memory import Memory
from simulator.report.lift.debrief import Debrief, debrief
from simulator.report.lift.debrief_pages import SETTINGS, sheets_of, write_pdf
from simulator.report.sheet import lines_of
from simulator.scenario.reader import load
from simulator.words import say
from tests.report.lifts import made_up, noted, ramp

pytestmark = pytest.mark.long

CAUTION, INVENTED = say("program.caution"), say("program.invented")


@pytest.fixture(scope="module")
def bad() -> Debrief:
    text = "a part with quite a long name meets the tail unit's tailboard-end ravine-side jack, x +6.1, z +0.7 m"
    courses = {
        "nose.line_length_m": ramp(12.0, -0.2, 10.0),
        "load.pitch_rad": ramp(12.0, 0.01),
        "load.y_m": ramp(0.0, 0.2, -8.0),
        "tail.mean_off_plumb_rad": ramp(16.0, 0.01),
        "nose.capacity_used": ramp(20.0, 0.06, 0.4),
        "tail.least_float_share": ramp(20.0, -0.05, 0.9),
    }
    events = (noted(200, "stage", "nose unit: raise"), noted(8000, "incident", text))
    return debrief(made_up(courses, pair=("Ada", "Ben"), events=events, how="incident"))


@pytest.fixture(scope="module")
def two_figures(bad: Debrief) -> list[Figure]:
    """Two runs, named with a whole sentence and nothing to cut it at."""
    head = replace(bad.recording.head, pair=(24 * "Lia", "Ben"))
    first = replace(bad, recording=replace(bad.recording, head=head))
    return drawn(first, debrief(made_up({}, length_s=60, pair=(24 * "Eli", "Dot"))), "letter")


@pytest.fixture(scope="module", params=["one on a4", "two on letter"])
def figures(request: pytest.FixtureRequest, bad: Debrief) -> list[Figure]:
    if request.param == "one on a4":
        return drawn(bad, None, "a4")
    return request.getfixturevalue("two_figures")  # type: ignore[no-any-return]


def drawn(told: Debrief, other: Debrief | None, paper: str) -> list[Figure]:
    with rc_context(SETTINGS):
        return [sheet.figure for sheet in sheets_of(told, other, caution=CAUTION, invented=INVENTED, paper=paper)]


def written(figure: Figure) -> str:
    return " ".join(text.get_text() for text in figure.texts)


def test_every_page_carries_the_caution_and_says_that_the_data_is_invented(figures: list[Figure]) -> None:
    for number, figure in enumerate(figures, 1):
        assert CAUTION in written(figure)
        assert f"{INVENTED}. Page {number} of {len(figures)}." in written(figure)


def test_every_text_lies_on_the_paper_and_on_no_other(figures: list[Figure]) -> None:
    """Texts in charts may lie over lines; those of the sheet itself, tables among them, lie over nothing."""
    for figure in figures:
        renderer = FigureCanvasAgg(figure).get_renderer()
        figure.draw(renderer)
        width, height = figure.bbox.width, figure.bbox.height
        for text in figure.findobj(Text):
            if isinstance(text, Text) and text.get_text().strip() and text.get_visible():
                box = text.get_window_extent(renderer)
                assert min(box.x0, box.y0) >= 0.0 and box.x1 <= width and box.y1 <= height, text.get_text()
        boxes = [(text.get_text(), text.get_window_extent(renderer)) for text in figure.texts if text.get_text()]
        for i, (one, a) in enumerate(boxes):
            for other, b in boxes[i + 1 :]:
                apart = a.x1 <= b.x0 or b.x1 <= a.x0 or a.y1 <= b.y0 + 1.0 or b.y1 <= a.y0 + 1.0
                assert apart, (one, other)


def test_no_text_of_charts_and_views_lies_on_another(figures: list[Figure]) -> None:
    """Names of axes, ticks, legends, flags, times, numbers: each can be read."""
    for figure in figures[-2:]:
        renderer = FigureCanvasAgg(figure).get_renderer()
        figure.draw(renderer)
        texts = [one for one in figure.findobj(Text) if isinstance(one, Text) and one.get_text().strip()]
        boxes = [(one.get_text(), one.get_window_extent(renderer)) for one in texts if one.get_visible()]
        seen = [(text, box) for text, box in boxes if box.width > 0.0]
        assert len(seen) > 40
        for i, (one, a) in enumerate(seen):
            for other, b in seen[i + 1 :]:
                over = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
                assert min(over) <= 1.0, (one, other, over)


def test_the_runs_of_a_comparison_are_named_in_their_own_columns(two_figures: list[Figure]) -> None:
    for figure in two_figures[-2:]:
        renderer = FigureCanvasAgg(figure).get_renderer()
        first, second = (
            next(one for one in figure.texts if one.get_text().startswith(f"Run {letter}: "))
            for letter in "AB"
        )  # fmt: skip
        for run, name in ((first, "Lia"), (second, "Eli")):
            assert run.get_text().count(name) > 3 and run.get_text().endswith("...")
        left, right = (run.get_window_extent(renderer) for run in (first, second))
        assert left.x1 < right.x0 and right.x1 < figure.bbox.width


def test_no_color_is_needed(figures: list[Figure]) -> None:
    for figure in figures:
        for axes in figure.axes:
            colors = [line.get_color() for line in axes.lines] + [patch.get_facecolor() for patch in axes.patches]
            for color in colors:
                assert len(set(np.round(to_rgb(color), 6))) == 1


def test_the_two_lines_of_a_chart_differ_in_dash_and_marker(bad: Debrief, figures: list[Figure]) -> None:
    charts = [axes for axes in figures[-2].axes if axes.get_ylabel().startswith("off plumb")]
    assert charts
    for axes in charts:
        nose, tail = [line for line in axes.lines if len(line.get_xdata()) > 2]
        assert nose.get_linestyle() != tail.get_linestyle()
        assert nose.get_marker() != tail.get_marker()


def test_findings_are_flagged_by_number_over_the_charts(bad: Debrief, figures: list[Figure]) -> None:
    flags = {text.get_text(): text.get_position()[0] for text in figures[-2].axes[0].texts}
    assert flags == {str(one.number): one.time_s for one in bad.findings}
    assert len(flags) >= 5


def test_a_pdf_of_as_many_pages(bad: Debrief, tmp_path: Path) -> None:
    told: list[float] = []
    write_pdf(bad, tmp_path / "one.pdf", caution=CAUTION, invented=INVENTED, progress=told.append)
    data = (tmp_path / "one.pdf").read_bytes()
    assert data.startswith(b"%PDF-")
    assert data.count(b"/Type /Page ") == len(told)
    assert told[-1] == 1.0


def test_a_recording_without_a_second_still_gives_a_page_the_same_each_time(tmp_path: Path) -> None:
    told = debrief(made_up({}, length_s=0, notes=("made-up.lift: no second of the lift was saved",)))
    for name in ("one.pdf", "two.pdf"):
        write_pdf(told, tmp_path / name, caution=CAUTION, invented=INVENTED)
    data = (tmp_path / "one.pdf").read_bytes()
    assert data.count(b"/Type /Page ") == 1
    assert data == (tmp_path / "two.pdf").read_bytes()


@pytest.mark.parametrize("length_s", [0.0, 0.1, 0.5, 1.0, 2.0, 4.9])
def test_a_short_lift_has_a_page(length_s: float, tmp_path: Path) -> None:
    attempt = Attempt(load(find_scenario("practice_yard")))
    memory = Memory(attempt)
    attempt.advance(STILL, round(length_s * 240))
    write_pdf(debrief(memory.recording()), tmp_path / "page.pdf", caution=CAUTION, invented=INVENTED)
    assert (tmp_path / "page.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("length_s", [5, 7, 1200])
def test_a_longer_one_too(length_s: int, tmp_path: Path) -> None:
    told = debrief(made_up({"load.pitch_rad": ramp(0.05, 0.01)}, length_s=length_s))
    write_pdf(told, tmp_path / "page.pdf", caution=CAUTION, invented=INVENTED)
    assert (tmp_path / "page.pdf").read_bytes().startswith(b"%PDF")


def test_text_is_drawn_and_not_read(bad: Debrief, tmp_path: Path) -> None:
    head = replace(bad.recording.head, title="cost $5_a & $x^{ \\frac", pair=("$\\alpha$", "b_{"))
    wild = replace(bad, recording=replace(bad.recording, head=head))
    write_pdf(wild, tmp_path / "page.pdf", caution=CAUTION, invented=INVENTED, other=wild)
    assert (tmp_path / "page.pdf").stat().st_size > 10_000


def test_a_number_stays_beside_its_unit_on_paper() -> None:
    text = "worst 4.6 deg at 12:59.8, past it for 4 s; the tail unit's only 0.01 m, 1,200 lb of 24 % and 12 men"
    for width_mm in range(18, 120):
        lines = lines_of(text, float(width_mm), 8.0)
        assert " ".join(lines) == text
        assert not {line.split()[0].rstrip(",;") for line in lines} & {"deg", "s", "m", "lb", "%"}
