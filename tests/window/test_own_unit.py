"""One's own unit entered once on its screen, chosen by name, and a lift laid out with it: by real events."""

from __future__ import annotations

from pathlib import Path

import pygame
import pytest

from simulator.scenario import kept_pieces
from simulator.scenario.reader import parse_text
from simulator.window.layout import kept, own_pieces
from simulator.window.layout.unit_entry import ASKED, CHART, Entry
from simulator.window.screens.own_unit_screen import OwnUnitScreen
from tests.window.layouts import begun, open_layout, press, write
from tests.window.screens import frames

CTRL = pygame.KMOD_LCTRL
TEXTS = {
    "name": "our 75",
    "by": "A. Operator",
    "configuration": "outriggers full",
    "tailboard": "11' 10\"",
    "deck_height": "4' 5\"",
    "carrier": "46,300 lb",
    "carrier_cg": "9' 10\"",
    "superstructure": "25,350 lb",
    "superstructure_cg": "5' 7\"",
    "boom_mass": "12,125",
    "boom.shortest": "22",
    "boom.longest": "48",
    "boom.lowest": "0",
    "boom.highest": "70",
    "boom.foot_pin_back": "3' 11\"",
    "boom.foot_pin_height": "8' 6\"",
    "hoist.parts": "2",
    "hoist.usable_rope": "216",
    "hoist.to_boom_foot": "6' 7\"",
    "hoist.block": "660",
    "hoist.block_and_stop": "3' 3\"",
    "hoist.stall_line_pull": "29,200 lbf",
    "hoist.rope_diameter": "0.75",
    "floats.toward_tailboard": "9' 2\"",
    "floats.toward_cab": "13' 9\"",
    "floats.across": "11' 2\"",
    "floats.pad_side": "30",
}
CHART_TEXT = """Radius ft  22      28      34      40      48
10         79,300  77,300  75,400  73,400  70,700
16         79,300  77,300  75,400  73,400  70,700
23         -       52,500  51,800  51,000  49,800
30         -       -       29,100  28,900  28,400
40         -       -       -       -       15,000"""
ODD = CHART_TEXT.replace("16         79,300", "16         79,900")
"""More at a longer radius: a slip, or as the maker printed it."""


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The user's folder of units, empty."""
    monkeypatch.setattr(kept_pieces, "data_folder", lambda: tmp_path)
    own_pieces.look_again()
    yield tmp_path  # type: ignore[misc]
    own_pieces.look_again()


def filled(chart: str) -> Entry:
    entry = Entry("us")
    entry.texts |= TEXTS | {CHART: chart}
    return entry


class TestEntry:
    def test_nothing_is_assumed(self, own: Path) -> None:
        faults = Entry("us").faults
        assert len(faults) == len(ASKED) and all("nothing given" in one for one in faults)

    def test_what_is_kept_is_what_was_typed(self, own: Path) -> None:
        entry = filled(CHART_TEXT)
        assert entry.faults == ()
        entry.save("2026-12-01")
        piece = kept_pieces.find("unit", "our 75")
        assert kept_pieces.checked(piece) == ()
        unit = kept_pieces.placed_unit(piece)
        assert unit.tailboard_m == pytest.approx(11.0 * 0.3048 + 10.0 * 0.0254)
        assert unit.boom_kg == pytest.approx(12125.0 * 0.45359237)
        assert unit.hoist.rope_diameter_m == pytest.approx(0.75 * 0.0254)
        assert unit.rating is not None
        assert unit.rating.entered == "as entered from the maker's chart, 2026-12-01 by A. Operator"
        assert unit.rating.rated_kg[0][0] == pytest.approx(79300.0 * 0.45359237)

    def test_a_name_is_not_taken_twice(self, own: Path) -> None:
        filled(CHART_TEXT).save("2026-12-01")
        assert any("there is a unit of this name" in one for one in filled(CHART_TEXT).faults)

    def test_a_number_that_is_none_is_told_with_what_is_allowed(self, own: Path) -> None:
        entry = filled(CHART_TEXT)
        entry.texts["carrier"] = "46 ft"
        assert "Weight of what stands on the ground" in entry.why_not("carrier")
        assert len(entry.faults) == 1

    def test_an_odd_cell_stands_only_when_somebody_says_so(self, own: Path) -> None:
        entry = filled(ODD)
        assert [one.cell for one in entry.oddities] == ["B3"]
        entry.say_printed(entry.oddities[0])
        assert entry.oddities == () and entry.faults == ()
        assert 'as_printed = ["B3"]' in entry.file_text("2026-12-01")


class TestScreen:
    def test_entered_by_keys_kept_and_chosen_by_name(self, own: Path) -> None:
        shown, screen = open_layout()
        begun(shown, screen, pygame.K_n, "n")
        press(shown, pygame.K_F9)
        entered = shown.screen
        assert isinstance(entered, OwnUnitScreen)
        for one in ASKED[:-1]:
            write(shown, TEXTS[one.key])
            press(shown, pygame.K_RETURN)
        for line in ODD.splitlines():
            write(shown, line)
            press(shown, pygame.K_RETURN)
        press(shown, pygame.K_s, mod=CTRL)
        frames(shown, 1)
        assert entered.is_asked and not list(own.rglob("*.toml"))  # first the odd cell
        press(shown, pygame.K_p, "p")
        frames(shown, 1)
        assert [path.stem for path in own.rglob("*.toml")] == ["our 75"]
        press(shown, pygame.K_ESCAPE)
        assert shown.screen is screen
        sheet = screen.work.sheet
        assert sheet.type("named_0", "our 75") == "" and sheet.shown("named_0") == "our 75"
        assert sheet.lift.units[0].boom.highest_rad == pytest.approx(1.22173, abs=1e-5)
        assert sheet.lift.units[1].rating is None  # the other one is as it was
        assert parse_text(kept.text_for(sheet), "saved") == sheet.lift


class TestNewLift:
    @pytest.mark.parametrize("system", ["us", "metric"])
    def test_a_new_lift_stands_and_may_be_driven(self, own: Path, system: str) -> None:
        shown, screen = open_layout(system=system)  # type: ignore[arg-type]
        begun(shown, screen, pygame.K_n, "n")
        work = screen.work
        assert work.judged is not None and not [row for row in work.judged.rows if row.level == "stop"]
        assert work.bench.declined(work.sheet.lift) == ""
        assert all(unit.floats.across_road_m is None for unit in work.sheet.lift.units)

    def test_a_trailer_type_brings_its_sizes_and_keeps_its_place(self, own: Path) -> None:
        shown, screen = open_layout()
        begun(shown, screen, pygame.K_n, "n")
        sheet = screen.work.sheet
        out = sheet.shown("out")
        assert sheet.type("type", "dry van 53") == ""
        assert sheet.shown("length") == "53'" and sheet.shown("out") == out
        assert "allowed" in sheet.type("type", "zeppelin")

    def test_a_range_is_counted_and_said_in_the_file(self, own: Path) -> None:
        shown, screen = open_layout()
        begun(shown, screen, pygame.K_n, "n")
        work = screen.work
        assert work.sheet.type("weight", "30,000 to 44,000 lb") == ""
        assert work.sheet.shown("weight") == "44,000 lb"  # laid out with the heavier one
        for _ in range(4):
            work.go_on(0.2)
        assert work.cases is not None and 0 < work.cases[0] <= work.cases[1] >= 100
        assert "between 30,000 lb and 44,000 lb" in kept.text_for(work.sheet)
        assert "smaller number first" in work.sheet.type("weight", "44 to 30 klb")

    def test_a_sentence_calls_a_unit_as_its_row_does(self, own: Path) -> None:
        from simulator.window.layout.panels import as_seen

        _, screen = open_layout()
        assert as_seen(screen.work.sheet, "stand the nose unit 1 ft nearer") == "stand the left unit 1 ft nearer"

    def test_the_paper_for_the_roadside_names_what_nobody_gave(
        self, own: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        from simulator.report.plan import roadside
        from simulator.window.layout import work as work_room

        told: list[tuple[str, tuple[str, ...]]] = []

        def instead(check: object, path: Path, amounts: object, caution: str, **given: object) -> None:
            told.append((str(given["paper"]), given["assumed"]))  # type: ignore[arg-type]

        monkeypatch.setattr(roadside, "write_roadside", instead)
        monkeypatch.setattr(work_room, "sheets_folder", lambda: tmp_path / "sheets")
        shown, screen = open_layout()
        begun(shown, screen, pygame.K_n, "n")
        screen.work.sheet.type("weight", "40,000 lb")
        frames(shown, 1)
        press(shown, pygame.K_p, mod=CTRL)
        [(paper, assumed)] = told
        assert paper == "letter"
        assert any(one.startswith("Length:") for one in assumed)
        assert not any(one.startswith("Weight with its load:") for one in assumed)
