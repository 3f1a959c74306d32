"""`slopepick new`: a scenario from tape-measure numbers that opens at once and says what it assumed."""

from __future__ import annotations

import io
from math import atan2, degrees
from pathlib import Path

import pytest

from simulator.__main__ import main
from simulator.mechanics.trailer_body import lying, part_corners, stated_cg_m, stated_mass_kg
from simulator.plan.draft import complete, draft
from simulator.plan.questions import ATTITUDES, QUESTIONS, SOILS, Question
from simulator.plan.setup_check import check_setup
from simulator.scenario.description import Description
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import load, parse_text

FOOT_M, POUND_KG = 0.3048, 0.45359237
BY_KEY = {question.key: question for question in QUESTIONS}


@pytest.mark.parametrize("attitude", ATTITUDES)
def test_what_was_measured_is_what_the_scenario_has(attitude: str) -> None:
    given = {"attitude": attitude, "length": 13.0, "height": 3.9, "weight": 20e3, "cg_from_front": 6.1, "depth": 6.0}
    made = draft({**given, "ground": "rock", "trailer_out": 8.2, "gap": 10.0, "nose_side": "right"})
    lift = parse_text(made.text, "x.toml")
    assert lift.trailer.attitude == attitude
    assert stated_mass_kg(lift.trailer) == pytest.approx(20e3, rel=1e-6)
    assert stated_cg_m(lift.trailer)[0] + 6.5 == pytest.approx(6.1, abs=1e-3)
    assert lift.gap_m == pytest.approx(10.0, abs=1e-3)
    assert lift.site.nose_seen_from_ravine == "right"
    found = check_setup(lift, step_m=2.0)
    assert found.stations[0].station.y_m == pytest.approx(-8.2, abs=1e-3)
    assert abs(found.load.roll_rad) < 1e-3
    assert found.within_limits, found.refused_for
    assert [one.code for one in found.not_judged] == ["capacity", "capacity", *["slope"] * 2]
    assert found.verdict == "not judged"


def test_every_assumption_is_said_and_marked() -> None:
    made = draft({"length": 12.0, "weight": 15e3})
    of_nothing = {key for key, one in BY_KEY.items() if one.needs}
    of_units = {key for key, one in BY_KEY.items() if one.needs == "nose_unit"}
    assert of_nothing - of_units == {"gust", "wires_out", "wires_kilovolt"}, "no wind, no wires, no unit by name"
    assert set(made.assumed) == set(BY_KEY) - {"length", "weight"} - of_nothing
    assert "measured length" in made.text and "assumed width" in made.text
    assert made.text.startswith("# INVENTED OR UNPROVEN DATA.")
    by_name = {"nose_unit", *of_units}
    full = draft({question.key: _some(question) for question in QUESTIONS if question.key not in by_name})
    assert full.assumed == ("nose_unit",)


def _some(question: Question) -> float | str:
    worked_out = {"cg_from_front": 6.6, "nose_pick": 1.6, "tail_pick": 1.6, "gap": 9.9, "lane_out": 9.6}
    worked_out |= {"trailer_out": 7.6, "edge_out": 4.65, "face_run": 0.65, "pad_side": 0.75}
    worked_out |= {"rope_breaking": 330e3, "shoulder": 250e3, "face_judged_by": "an invented report"}
    return worked_out[question.key] if question.default is None else question.default


def test_soft_ground_is_refused_as_such() -> None:
    """Sandy gravel with a face nearly plumb, small pads close to it: nobody should be told that this works."""
    given = {"depth": 7.0, "face_run": 0.65, "edge_out": 4.65, "pad_side": 0.75, "trailer_out": 7.6}
    assert {"bearing", "set-back"} <= set(check_setup(parse_text(draft(given).text, "x"), room=False).refused_for)


OF_SOIL = {"bearing", "set-back"}
PARTLY = ({}, {"depth": 3.0}, {"attitude": "top_to_ravine"}, {"float_spread": 5.0}, {"weight": 24e3})


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("ground", SOILS)
@pytest.mark.parametrize("given", PARTLY)
def test_a_place_that_nobody_measured_stands_by_the_rules_for_its_ground(
    given: dict[str, float | str], ground: str, system: str
) -> None:
    """No pad too small, none too near to the edge; that no table has a load on top is asked for, not refused."""
    made = draft({**given, "ground": ground}, system)  # type: ignore[arg-type]
    lift = parse_text(made.text, "x.toml")
    found = check_setup(lift, step_m=4.0, room=False)
    assert not OF_SOIL & set(found.refused_for), found.refused_for
    assert "slope" in [one.code for one in found.not_judged]
    bank = degrees(atan2(-lift.site.section_m[2][1], lift.site.edge_y_m - lift.site.section_m[2][0]))
    assert bank <= degrees(lift.site.soil.steepest_angle_rad) + 1e-6
    assert "our own choice" in made.text
    near_m = max(y for _, y, _ in lift_corners(lift))
    assert near_m < lift.site.section_m[2][0], "it lies on the bed, beyond the toe"


def lift_corners(lift: Description) -> list[tuple[float, float, float]]:
    """Of the load as it lies, level."""
    start, origin = lift.trailer.start, stated_cg_m(lift.trailer)
    found = []
    for part in lift.trailer.parts:
        for x, y, z in part_corners(part):
            a, b, c = lying(lift.trailer.attitude, (x - origin[0], y - origin[1], z - origin[2]))
            found.append((start.x_m + a, start.y_m + b, c))
    return found


def test_what_was_measured_bounds_what_was_not() -> None:
    """A trailer measured close to the edge leaves the bank so much room: it is that steep, and refused for it."""
    numbers = complete({"depth": 6.0, "trailer_out": 8.2, "edge_out": 5.0})
    assert numbers["face_run"] == pytest.approx(8.2 - 2.6 / 2 - 5.0)
    lift = parse_text(draft({"depth": 6.0, "trailer_out": 8.2, "edge_out": 5.0}).text, "x.toml")
    assert "set-back" in check_setup(lift, room=False).refused_for
    assert complete({"depth": 6.0, "trailer_out": 8.2, "face_run": 1.2})["face_run"] == 1.2
    assert "our own choice" not in draft({"face_run": 3.0}).text


def test_numbers_that_do_not_fit_each_other_are_faults() -> None:
    with pytest.raises(BrokenScenario) as broken:
        draft({"lane_out": 6.0})
    assert "landing" in str(broken.value)
    with pytest.raises(BrokenScenario):
        draft({"nose_pick": 13.0, "tail_pick": 13.0})


@pytest.mark.parametrize(
    ("key", "text", "system", "expected"),
    [
        ("length", "48", "us", 48 * FOOT_M),
        ("length", "48 ft", "metric", 48 * FOOT_M),
        ("length", "13.2", "metric", 13.2),
        ("weight", "44000", "us", 44000 * POUND_KG),
        ("weight", "26", "metric", 26e3),
        ("boom_highest", "62", "us", 1.0821041),
        ("parts", "4", "us", 4.0),
    ],
)
def test_answers_in_both_systems(key: str, text: str, system: str, expected: float) -> None:
    assert BY_KEY[key].read(text, system).answer == pytest.approx(expected, rel=1e-6)  # type: ignore[arg-type]
    assert BY_KEY["nose_side"].read(" right ", system).answer == "right"  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("key", "text"),
    [("length", "x"), ("length", ""), ("length", "4 t"), ("length", "1e9"), ("weight", "-3"), ("nose_side", "up")],
)
def test_an_answer_that_cannot_be_used_says_what_can(key: str, text: str) -> None:
    with pytest.raises(ValueError) as error:
        BY_KEY[key].read(text, "metric")
    question = BY_KEY[key]
    assert str(error.value) == f'{question.words}: given "{text}", allowed: {question.allowed("metric")}'


def test_the_command_writes_a_file_that_check_and_the_engine_open(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "callout.toml"
    words = ["new", str(out), "--units", "us", "--length", "48", "--weight", "44000", "--ground", "rock"]
    assert main(words) == 0
    said = capsys.readouterr().out
    assert load(out).title == "First draft: trailer 5 ft down", "1.5 m are 4.9 ft"
    assert "assumed, to be measured" in said and BY_KEY["depth"].words in said and BY_KEY["length"].words not in said
    assert main(["check", str(out), "--step", "2"]) == 3, "no rating table: not judged"
    from simulator.engine.commands import STILL
    from simulator.engine.simulation import Simulation

    simulation = Simulation(load(out))
    for _ in range(5):
        simulation.step(STILL)
    assert main(words) == 2
    assert "--force" in capsys.readouterr().err
    assert main([*words, "--force"]) == 0


def test_every_fault_of_the_options_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "x.toml"
    assert main(["new", str(out), "--length", "x", "--weight", "0.1", "--nose-side", "up"]) == 2
    assert capsys.readouterr().err.count("allowed:") == 3
    assert not out.exists()


def test_asking(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """The first question is on which side the nose is seen; a wrong answer is asked again, none takes the default."""
    answers = iter(["up", "right", "", "15", "", ""])
    asked: list[str] = []

    def reply(prompt: str) -> str:
        asked.append(prompt)
        return next(answers, "")

    monkeypatch.setattr("builtins.input", reply)
    out = tmp_path / "x.toml"
    assert main(["new", str(out), "--ask", "--ground", "rock"]) == 0
    assert "nose" in asked[0] and asked[1] == asked[0]
    assert not any("Ground under" in prompt for prompt in asked)
    lift = load(out)
    assert lift.site.nose_seen_from_ravine == "right"
    assert lift.trailer.attitude == "on_wheels"
    assert max(x for part in lift.trailer.parts for x, _ in part.outline_m) == pytest.approx(7.5)
    assert "left or right" in capsys.readouterr().out


def test_asked_in_feet_and_pounds_by_round_numbers(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Ranges in the unit that plain numbers are taken in, cut to three digits into the range (NIST SP 811, App. B)."""
    length, weight, parts, steep = (BY_KEY[key] for key in ("length", "weight", "parts", "boom_highest"))
    assert length.span("us") == "9.85 to 98.4 ft", (3.0 / FOOT_M, 30.0 / FOOT_M)
    assert weight.span("us") == "1,110 to 220,000 lb", (500.0 / POUND_KG, 100e3 / POUND_KG)
    assert (steep.span("us"), steep.usual("us")) == ("28.7 to 83 deg", "62 deg")
    assert (parts.span("us"), parts.usual("us")) == ("1 to 12", "2")
    with pytest.raises(SystemExit):
        main(["new", "--help"])
    said = " ".join(capsys.readouterr().out.split())
    assert "Trailer length: 3 to 30 m (--units us: 9.85 to 98.4 ft)" in said
    assert "Trailer weight with its load: 0.5 to 100 t (--units us: 1,110 to 220,000 lb)" in said
    assert "Highest elevation: 28.7 to 83 deg --" in said and "Parts of line: 1 to 12" in said
    assert main(["new", str(tmp_path / "x.toml"), "--depth", "22", "--units", "us"]) == 0
    assert load(tmp_path / "x.toml").title == "First draft: trailer 22 ft down"
    assert main(["new", str(tmp_path / "y.toml"), "--depth", "22 ft"]) == 0
    assert load(tmp_path / "y.toml").title == "First draft: trailer 6.7 m down"


def test_an_end_of_input_takes_the_defaults(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    assert main(["new", str(tmp_path / "x.toml"), "--ask"]) == 0


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("question", [one for one in BY_KEY.values() if one.kind], ids=lambda one: one.key)
def test_what_is_said_to_be_allowed_is_read(question: Question, system: str) -> None:
    """Both ends of the range and the default, typed as they are shown: plain numbers in the system's own unit."""
    low, _, rest = question.span(system).partition(" to ")  # type: ignore[arg-type]
    high = rest.partition(" ")[0]
    for text in (low, high):
        assert question.low <= question.read(text, system).answer <= question.high * (1.0 + 1e-9)  # type: ignore[arg-type, operator]
    if question.default is not None:
        usual = question.usual(system).partition(" ")[0]  # type: ignore[arg-type]
        assert question.read(usual, system).answer == pytest.approx(question.default, rel=5e-4)  # type: ignore[arg-type]


def _typed(monkeypatch: pytest.MonkeyPatch, answers: dict[str, list[str]]) -> list[str]:
    """Replies by what a question begins with; nothing for all others. Returns what was asked."""
    asked: list[str] = []

    def reply(prompt: str) -> str:
        asked.append(prompt)
        found = next((left for start, left in answers.items() if prompt.startswith(start) and left), [""])
        return found.pop(0)

    monkeypatch.setattr("builtins.input", reply)
    return asked


def test_a_fault_at_the_end_asks_only_for_what_does_not_fit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lane = "Middle of the road units to the lane"
    asked = _typed(monkeypatch, {"Trailer length": ["53'"], lane: ["20 ft", "60'"]})
    out = tmp_path / "x.toml"
    assert main(["new", str(out), "--ask", "--ground", "rock", "--units", "us"]) == 0
    assert [one.startswith(lane) for one in asked].count(True) == 2 and asked[-1].startswith(lane)
    assert "as it was, 20 ft" in asked[-1]
    assert [one.startswith("Trailer length") for one in asked].count(True) == 1
    lift = load(out)
    assert lift.site.live_lane_y_m == pytest.approx(60 * FOOT_M)
    assert max(x for part in lift.trailer.parts for x, _ in part.outline_m) == pytest.approx(26.5 * FOOT_M)


def test_somebody_who_leaves_is_told_how_to_go_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def reply(prompt: str) -> str:
        if prompt.startswith("Trailer height"):
            raise KeyboardInterrupt
        return {"Trailer length": "53'", "Trailer width": "8'6\""}.get(prompt.partition(" [")[0], "")

    monkeypatch.setattr("builtins.input", reply)
    assert main(["new", str(tmp_path / "x.toml"), "--ask", "--units", "us"]) == 1
    import shlex

    said = capsys.readouterr().err
    words = shlex.split(said[said.index("slopepick new ") :].splitlines()[0])
    assert words[3:] == ["--ask", "--units", "us", "--length=53'", "--width=8'6\""]
    monkeypatch.setattr("builtins.input", lambda _: "")
    assert main(words[1:]) == 0
    assert load(tmp_path / "x.toml").trailer.parts[0].width_m == pytest.approx(8.5 * FOOT_M)


def test_a_ton_is_asked_about_once_and_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "own"))
    asked = _typed(
        monkeypatch, {"Trailer weight": ["26 tons"], "Weight of one unit": ["40 tons"], "Tons": ["long", "short"]}
    )
    out = tmp_path / "x.toml"
    assert main(["new", str(out), "--ask", "--units", "us"]) == 0
    assert [one.startswith("Tons") for one in asked].count(True) == 2, "asked until it is answered, and then no more"
    assert stated_mass_kg(load(out).trailer) == pytest.approx(52000 * POUND_KG, rel=1e-6)
    assert "tons are short tons (2,000 lb)" in capsys.readouterr().out
    assert "# As they were typed, tons are short tons (2,000 lb)." in out.read_text()
    assert main(["new", str(tmp_path / "y.toml"), "--weight", "26 tons"]) == 0, "kept in the settings"
    assert main(["new", str(tmp_path / "z.toml"), "--weight", "26 tons", "--tons", "metric"]) == 0
    assert stated_mass_kg(load(tmp_path / "z.toml").trailer) == pytest.approx(26e3, rel=1e-6)


def test_a_written_file_keeps_the_users_units(tmp_path: Path) -> None:
    out = tmp_path / "x.toml"
    words = [
        "--length",
        "53'",
        "--width",
        "8'6\"",
        "--height",
        "13 ft 6 in",
        "--weight",
        "53,000 lb",
        "--wind",
        "20 mph",
    ]
    wires = ["--wires-height", "32'", "--wires-out", "-40'", "--winch-pull", "30,000 lb", "--rope-size", '3/4"']
    assert main(["new", str(out), "--units", "us", *words, *wires, "--face-judged-by", 'A "test" engineer']) == 0
    text, lift = out.read_text(), load(out)
    for written in ('"8 ft 6 in"', '"13 ft 6 in"', '"20 mph"', '"32 ft"', '"40 ft"', '"30000 lbf"', '"0.75 in"'):
        assert written in text, written
    assert lift.site.wind.speed_mps == pytest.approx(8.9408) and lift.site.wind.gust_share == 0.5
    line = lift.site.overhead_line
    assert line is not None and (line.y_m, line.height_m) == (pytest.approx(12.192), pytest.approx(9.7536))
    assert line.kilovolt == 345.0, "not known: the widest distance of the table's 20 ft"
    assert lift.units[0].hoist.stall_line_pull_N == pytest.approx(133446.648)
    assert lift.site.soil.face_judged_by == 'A "test" engineer'
    metric = parse_text(draft({"length": 53 * FOOT_M, "weight": 53000 * POUND_KG}).text, "metric")
    us = parse_text(draft({"length": 53 * FOOT_M, "weight": 53000 * POUND_KG}, "us").text, "us")
    assert us.units[0].boom.longest_m == pytest.approx(metric.units[0].boom.longest_m, abs=1e-5)
    assert us.trailer.cargo.mass_kg == pytest.approx(metric.trailer.cargo.mass_kg, rel=1e-6)


def test_named_units_bring_their_numbers_and_charts(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from simulator.scenario.kept_pieces import find, unit_of

    out, own = tmp_path / "x.toml", unit_of(find("unit", "invented rotator"))
    words = ["new", str(out), "--units", "us", "--length", "53'", "--ground", "rock", "--nose-unit", "invented rotator"]
    assert main([*words, "--face-judged-by", "an invented report"]) == 0
    assert "Longest boom" not in capsys.readouterr().out, "not assumed: the unit's file has it"
    lift = load(out)
    assert 'from = "invented rotator"' in out.read_text() and "[each_unit]" not in out.read_text()
    for unit in lift.units:
        assert unit.boom == own.boom and unit.floats == own.floats
        assert unit.rating is not None and unit.configuration == "outriggers full"
    assert lift.gap_m == pytest.approx(0.75 * 53 * FOOT_M, abs=1e-4)
    assert [one.code for one in check_setup(lift, room=False).not_judged if one.code == "capacity"] == []
    half = ["--nose-configuration", "half", "--force"]
    assert main([*words, *half]) == 0
    assert [one.rating is None for one in load(out).units] == [True, False]
    assert main([*words, "--boom-longest", "60'", "--force"]) == 2
    assert "its file has them" in capsys.readouterr().err
    assert main([*words[:-1], "no such unit", "--force"]) == 2


def test_a_named_unit_is_not_asked_about(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A 53 ft van and two of his own units: every answer that is asked for, at most 60."""
    asked = _typed(monkeypatch, {"Nose unit, one": ["invented rotator"], "Trailer length": ["53'"]})
    assert main(["new", str(tmp_path / "x.toml"), "--ask", "--units", "us", "--ground", "rock"]) == 0
    assert not any("boom" in one or "Parts of line" in one for one in asked)
    assert len(asked) <= 30, len(asked)
