"""A debrief of a long lift: twice the lift is twice the work, not four times."""

import sys
from collections import Counter
from collections.abc import Callable, Iterator, Sized
from dataclasses import replace
from types import FrameType
from typing import Any

import numpy as np
import pytest

from simulator.engine.commands import FUNCTIONS, UnitCommands
from simulator.events import Event
from simulator.recording.recorded import Recording
from simulator.report.lift import judged, onset
from simulator.report.lift.debrief import MOST_PRINTED, debrief
from simulator.report.lift.debrief_telling import telling
from simulator.report.lift.lever_use import first_asked_s, last_asked_s
from simulator.scenario.rig import PAIR
from simulator.window.kit.levels import Level
from simulator.window.review.chart_view import Axis, flag_places
from simulator.window.review.moments import Moment
from tests.report.lifts import PER_S, asked, made_up

SHORT_S = 150


def _swinging(mean: float, amplitude: float, period_s: float) -> Callable[[Any], Any]:
    return lambda time_s: mean + amplitude * np.sin(2.0 * np.pi * time_s / period_s)


def _restless(length_s: int) -> Recording:
    """Every reading passes its limits again and again, all levers change four times a second, stages come and go."""
    courses: dict[str, Any] = {
        "load.sway_m": _swinging(0.3, 0.4, 21.0),
        "load.pitch_rad": _swinging(0.03, 0.06, 27.0),
        "load.sway_period_s": 4.0,
        "load.ground_N": lambda time_s: np.where(np.sin(2.0 * np.pi * time_s / 47.0) > 0.97, 5e3, 0.0),
    }
    for end, late_s in (("nose", 0.0), ("tail", 2.0)):
        courses |= {
            f"{end}.mean_off_plumb_rad": _swinging(0.05, 0.06, 23.0 + late_s),
            f"{end}.capacity_used": _swinging(0.7, 0.4, 37.0 + late_s),
            f"{end}.head_room_m": _swinging(3.0, 3.2, 41.0 + late_s),
            f"{end}.tip_y_m": _swinging(0.0, 1.5, 17.0 + late_s),
            f"{end}.slew_rad": _swinging(0.0, 0.3, 17.0 + late_s),
        }
    recording = made_up(courses, length_s=length_s)
    hands = np.random.default_rng(1).uniform(-1.0, 1.0, (length_s, 4, 2, len(FUNCTIONS)))
    seconds = [
        second._replace(
            changes=tuple(
                (second.begin_step + quarter * PER_S // 4,
                 asked(nose=UnitCommands(*nose.tolist()), tail=UnitCommands(*tail.tolist())))
                for quarter, (nose, tail) in enumerate(hands[number])
            ),
            events=tuple(
                Event(second.begin_step + 9, "stage", "stage", {"unit": end, "doing": f"raises {number % 3}"})
                for end in PAIR
            ),
        )
        for number, second in enumerate(recording.seconds)
    ]  # fmt: skip
    return replace(recording, seconds=tuple(seconds))


class _Work:
    """Counts the lines of our own that are run."""

    def __init__(self) -> None:
        self.lines = 0

    def __call__(self, frame: FrameType, event: str, _: object) -> Any:
        if "simulator" not in frame.f_code.co_filename:
            return None
        self.lines += event == "line"
        return self


@pytest.fixture
def whole_columns(monkeypatch: pytest.MonkeyPatch) -> Iterator[Counter[str]]:
    """How often something was worked out for every sample of a lift."""
    done: Counter[str] = Counter()
    for room, name in ((judged, "counted"), (onset, "_last_so_far")):
        was = getattr(room, name)

        def noted(*given: Any, _was: Callable[..., Any] = was, _name: str = name) -> Any:
            done[_name] += 1
            return _was(*given)

        monkeypatch.setattr(room, name, noted)
    yield done


def _lines_run(work_on: Callable[[], Sized]) -> tuple[int, int]:
    """Lines run for some work, and how much came of it."""
    work, before = _Work(), sys.gettrace()
    sys.settrace(work)
    try:
        came = work_on()
    finally:
        sys.settrace(before)
    return work.lines, len(came)


def test_twice_the_lift_is_twice_the_work() -> None:
    debrief(_restless(20))  # texts are read before
    short, long = (_findings_of(_restless(length_s)) for length_s in (SHORT_S, 2 * SHORT_S))
    assert long[1] > 1.7 * short[1] > 68  # there is twice as much to tell
    assert long[0] < 2.3 * short[0]


def _findings_of(recording: Recording) -> tuple[int, int]:
    return _lines_run(lambda: debrief(recording).findings)


def _full_of_incidents(count: int) -> Recording:
    """So many in ten seconds: no lift has them, a file may."""
    fields = {"part": "frame", "other": "deck", "x_m": 1.0, "y_m": 1.0, "z_m": 1.0, "speed_mps": 0.1}
    events = tuple(Event(1 + 2400 * i // count, "incident", "met", fields) for i in range(count))
    return made_up({}, length_s=10, events=events)


def test_twice_the_events_are_twice_the_work_on_screen_and_off() -> None:
    _findings_of(_full_of_incidents(10))
    short, long = (_findings_of(_full_of_incidents(count)) for count in (100, 200))
    assert (short[1], long[1]) == (100, 200) and long[0] < 2.2 * short[0]
    moments = [Moment(number, number / 100.0, Level.STOP, "") for number in range(1, 801)]
    few, many = (_lines_run(lambda: flag_places(moments[:count], Axis(8.0))) for count in (400, 800))  # noqa: B023
    assert (few[1], many[1]) == (400, 800) and many[0] < 2.2 * few[0]


def test_paper_has_the_gravest_findings_and_says_how_many_it_has_not() -> None:
    told = debrief(_full_of_incidents(MOST_PRINTED + 50))
    assert f"incident {MOST_PRINTED + 50}, stop 0" in told.heading
    assert [one.number for one in told.printed] == list(range(1, MOST_PRINTED + 1))
    mild = replace(
        told, findings=tuple(one._replace(level="caution") for one in told.findings[:100]) + told.findings[100:]
    )
    assert len(mild.printed) == MOST_PRINTED and sum(one.level == "caution" for one in mild.printed) == 50
    texts = [text.get_text() for sheet in telling((told,), "a4") for text in sheet.figure.texts]
    assert any(text.startswith("50 findings less grave or later are not printed") for text in texts)


def test_no_column_is_gone_through_for_each_finding(whole_columns: Counter[str]) -> None:
    short = len(debrief(_restless(SHORT_S)).findings), whole_columns.copy()
    whole_columns.clear()
    long = len(debrief(_restless(2 * SHORT_S)).findings), whole_columns.copy()
    assert long[0] > short[0] > 40
    assert long[1] == short[1]
    assert sum(long[1].values()) < long[0]


def test_what_was_asked_between_two_times_is_what_all_changes_say() -> None:
    """The changes of a span are found by bisection: held against going through all of them."""
    hands = ((3.0, asked(nose=UnitCommands(hoist=0.5))), (5.5, asked()), (8.25, asked(tail=UnitCommands(slew=-1.0))))
    recording = made_up({}, length_s=12, hands=hands)
    spans = [(3.0, 5.5, "nose"), (8.25, 12.0, "tail")]
    for begin_s, end_s in ((0.0, 2.9), (0.0, 4.0), (3.0, 5.5), (5.5, 8.25), (4.0, 12.0), (9.0, 11.0), (0.0, 12.0)):
        over = [(max(a, begin_s), min(b, end_s), end) for a, b, end in spans if a < end_s and b > begin_s]
        assert first_asked_s(recording, begin_s, end_s) == (over[0][0] if over else begin_s)
        for end, name, function in ((0, "nose", "hoist"), (1, "tail", "slew")):
            last = [b for _, b, who in over if who == name]
            assert last_asked_s(recording, end, function, begin_s, end_s) == (last[-1] if last else None)
