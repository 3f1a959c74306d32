"""What a drill knows, shown: the coach's reason, what each seat is told, its cautions, the instructor's acts."""

from __future__ import annotations

import pygame
import pytest

from simulator.attempt import Attempt
from simulator.drill.instruction import KINDS, Instruction
from simulator.drill.session import Caution
from simulator.recording.older_events import happening_of
from simulator.scenario.measures import METERS_PER_FOOT
from simulator.scenario.rig import TWO_BY_ONE
from simulator.window.hands.bindings import WHY_KEY, Labels
from simulator.window.kit.levels import Level
from simulator.window.kit.measures_shown import System
from simulator.window.kit.regions import PLAN_INSET, SECTION_INSET
from simulator.window.kit.seen import MIRRORED, SEEN_BY_TWO
from simulator.window.loop import Program
from simulator.window.readouts.alert_words import alert_look
from simulator.window.readouts.alerts import Watched
from simulator.window.readouts.drill_alerts import STAYS_S, DrillAlert, stand
from simulator.window.readouts.event_texts import event_text
from simulator.window.readouts.prompt_cards import ASKED_S, TOLD_S
from simulator.window.screens.cards import PAUSE_ROWS
from simulator.window.screens.drive import DriveScreen
from simulator.window.screens.drive_keys import BY_PLACE
from simulator.window.screens.drive_words import prompt_cards_of, situation_of
from simulator.window.screens.keys_and_marks import letter_caps, other_caps, slow_caps
from simulator.window.shell.lift import Choice
from simulator.words import say
from tests.test_documents import README
from tests.window.sample import calm_readings
from tests.window.screens import classroom, frames, key, mouse, open_small, post, show_lift, tap, yard

ENDS = SEEN_BY_TWO


def later(shown: Program, seconds: float) -> None:
    """The same frames, each as long as half a second on the wall."""
    frames(shown, round(2.0 * seconds) + 1, 0.5)


def at_rest(name: str = "plumb_tips") -> tuple[Program, DriveScreen, Attempt]:
    """A drill in which the texts of the first step have been seen and are gone."""
    shown, drive, lift = classroom(name=name)
    later(shown, TOLD_S)
    assert not drive.prompt_cards.is_shown
    return shown, drive, lift


def inset(shown: Program, place: tuple[float, float, float, float]) -> bytes:
    """The picture over one inset."""
    return pygame.image.tobytes(shown.surface.subsurface(shown.canvas.rect_px(*place)), "RGB")


# The reason ------------------------------------------------------------------------------------------------------


def test_the_key_shows_the_reason_while_the_lift_goes_on_and_the_same_key_puts_it_away() -> None:
    shown, drive, lift = at_rest()
    frames(shown, 12)
    before, step = inset(shown, PLAN_INSET), lift.readings.step
    key(shown, WHY_KEY)
    session, look = lift.session, prompt_cards_of(drive)
    assert session is not None and session.prompt is not None
    as_seen = drive.readouts.as_seen
    assert (look.prompt, look.reason) == (as_seen(session.prompt.sentence), as_seen(session.prompt.reason))
    assert look.reason and "tail unit" not in (look.prompt + look.reason).lower()
    assert inset(shown, PLAN_INSET) != before
    frames(shown, 6)
    assert drive.over is None and lift.readings.step > step
    key(shown, WHY_KEY)
    assert not drive.prompt_cards.is_shown and not prompt_cards_of(drive).reason


def test_it_goes_by_itself_and_leaves_the_insets_as_they_were() -> None:
    shown, drive, _ = at_rest()
    drive.pace.paused = True
    frames(shown, 12)
    before = [inset(shown, place) for place in (SECTION_INSET, PLAN_INSET)]
    key(shown, WHY_KEY)
    assert [inset(shown, place) for place in (SECTION_INSET, PLAN_INSET)] != before
    later(shown, ASKED_S - 1.0)
    assert drive.prompt_cards.is_asked
    later(shown, 1.0)
    frames(shown, 12)
    assert not drive.prompt_cards.is_shown
    assert [inset(shown, place) for place in (SECTION_INSET, PLAN_INSET)] == before


def test_the_reason_is_told_in_the_users_units() -> None:
    shown, drive, _ = at_rest()
    key(shown, WHY_KEY)
    assert " m " in prompt_cards_of(drive).reason
    tap(shown, pygame.K_F2)
    frames(shown, 2)
    assert " ft " in prompt_cards_of(drive).reason and " m " not in prompt_cards_of(drive).reason


def test_the_pause_menu_and_the_mouse_ask_too() -> None:
    shown, drive, lift = at_rest()
    row = [name for name, _ in PAUSE_ROWS].index("pause.why")
    tap(shown, pygame.K_ESCAPE, *[pygame.K_DOWN] * row, pygame.K_RETURN)
    step = lift.readings.step
    frames(shown, 6)
    assert drive.over is None and drive.prompt_cards.is_asked and lift.readings.step > step
    mouse(shown, pygame.MOUSEBUTTONDOWN, 900.0, 50.0)
    assert not drive.prompt_cards.is_shown


def test_without_a_drill_the_key_says_so() -> None:
    shown = open_small()
    show_lift(shown, Choice(yard(), "two"))
    frames(shown, 3)
    drive = shown.screen
    assert isinstance(drive, DriveScreen) and not drive.prompt_cards.is_shown
    key(shown, WHY_KEY)
    assert prompt_cards_of(drive).reason == say("glance.no_drill") and not any(prompt_cards_of(drive).told)


def test_a_hidden_coach_gives_no_reason_away() -> None:
    shown, drive, lift = at_rest()
    lift.instruct(Instruction("hide coach"))
    key(shown, WHY_KEY)
    assert prompt_cards_of(drive).reason == say("glance.hidden") and not prompt_cards_of(drive).prompt


# What each seat is told ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["centering", "carry_across"])
def test_a_step_that_begins_tells_each_seat_its_own_text_for_a_while(name: str) -> None:
    shown, drive, lift = classroom(name=name)
    session = lift.session
    assert session is not None
    index = next(i for i, row in enumerate(session.drill.steps) if row.told("nose") != row.told("tail"))
    step = session.drill.steps[index]
    session.back_to(index, lift.readings)
    frames(shown, 2)
    left, right = (unit.place for unit in drive.readouts.seen.units)
    texts = (step.told("nose"), step.told("tail"))
    assert drive.prompt_cards.is_shown and not drive.prompt_cards.is_asked
    assert prompt_cards_of(drive).told == (texts[left], texts[right]) and not prompt_cards_of(drive).reason
    later(shown, TOLD_S)
    assert not drive.prompt_cards.is_shown


# The drill's cautions --------------------------------------------------------------------------------------------

LIMIT = Caution("The tips are not in step. The one ahead waits.", "load.yaw")
COSTS = Caution("line loaded before its turn", "tail.hook_load", costs=True)
CALM = calm_readings()


def row(caution: Caution, since_s: float = 5.0) -> DrillAlert:
    return DrillAlert(caution, since_s, since_s)


def test_a_limit_and_what_costs_points_are_said_in_the_alert_line() -> None:
    look = alert_look(Watched(), CALM, ENDS, "metric", drill=(row(LIMIT),))
    assert look is not None and (look.text, look.number) == (LIMIT.text, 1)
    look = alert_look(Watched(), CALM, MIRRORED, "metric", drill=(row(COSTS),))
    assert look is not None and look.text.startswith(f"{say('unit.left_name')}, {COSTS.text}.")


def test_a_stop_goes_before_it_and_the_newest_caution_comes_first() -> None:
    def said(name: str, level: int, since_s: float) -> str:
        watched = Watched({name: Level(level)}, {name: since_s})
        look = alert_look(watched, CALM, ENDS, "metric", drill=(row(LIMIT, 5.0),))
        assert look is not None and look.number == 2
        return look.text

    assert said("nose.stall", 1, 4.0) == LIMIT.text
    assert said("nose.stall", 1, 6.0) != LIMIT.text
    assert said("nose.tipping", 2, 4.0) != LIMIT.text


def test_what_an_alert_says_with_its_value_is_not_said_twice() -> None:
    rows = [row(Caution("x", reading, costs=True)) for reading in
            ("nose.off_plumb_rad", "nose.least_float_share", "load.sway", "tail.off_plumb_rad")]  # fmt: skip
    names = ("nose.off_plumb", "nose.float.cab_road", "sway")
    watched = Watched(dict.fromkeys(names, Level.CAUTION), dict.fromkeys(names, 1.0))
    look = alert_look(watched, CALM, ENDS, "metric", drill=rows)
    assert look is not None and look.number == len(names) + 1


def test_a_caution_that_comes_and_goes_does_not_flicker() -> None:
    rows = stand((), [LIMIT], 10.0)
    rows = stand(rows, [], 10.0 + 0.9 * STAYS_S)
    assert [(one.caution, one.since_s) for one in rows] == [(LIMIT, 10.0)]
    assert [one.since_s for one in stand(rows, [LIMIT], 10.0 + STAYS_S)] == [10.0]
    assert not stand(rows, [], 10.0 + 1.1 * STAYS_S)
    assert not stand(rows, [], 3.0), "a step back in time takes it along"


def test_moving_out_of_turn_stands_in_the_alert_line_by_keys() -> None:
    shown, drive, lift = classroom(name="centering")
    session = lift.session
    assert session is not None
    index = next(i for i, one in enumerate(session.drill.steps) if one.moves == "nose")
    session.back_to(index, lift.readings)
    post(pygame.KEYDOWN, 0, pygame.KSCAN_U)
    wanted = f"{say('unit.right_name')}, moved out of turn. "
    for _ in range(40):
        frames(shown, 6)
        alert = drive.readouts._coach(situation_of(drive)).alert
        if alert is not None and alert.text.startswith(wanted):
            return
    pytest.fail("nothing was said of a move out of turn for four seconds")


# Keys and acts in words ------------------------------------------------------------------------------------------


def test_every_key_by_its_place_is_on_the_help_screen_and_in_the_readme() -> None:
    told = README.split("## Keys")[1].split("\n## ")[0]
    does = {cap.label: cap.does for cap in letter_caps(Labels(), SEEN_BY_TWO)}
    for scancode in BY_PLACE:
        label = Labels().of(scancode)
        assert does[label] and (f"`{label}`" in told or f"| {label} | {label} |" in told)
    others = {cap.label: cap.does for cap in other_caps(SEEN_BY_TWO)}
    for label in (say("key.f11"), say("key.f2"), say("key.tab"), say("key.escape"), say("key.f1")):
        assert others[label] and label in README
    slow = [cap.does for cap in slow_caps(SEEN_BY_TWO)]
    assert "| acknowledge a stop | left Shift | right Shift |" in told
    assert len(slow) == 2 and all("slow" in does and "acknowledge stop" in does for does in slow)


@pytest.mark.parametrize(
    ("what", "system", "seen"),
    [
        (Instruction("gust", 8.0, 0, 6.0), "metric", "The instructor: gust of wind, 8 m/s, 6 s"),
        (Instruction("gust", 20.0 * 0.44704, 0, 6.0), "us", "20 mph"),
        (Instruction("line slips", 0.3, 1), "metric", "right line slips, 0.30 m"),
        (Instruction("line slips", METERS_PER_FOOT, 0), "us", "left line slips, 1.00 ft"),
        (Instruction("cargo shifts", 0.5), "metric", "0.50 m to the right"),
        (Instruction("soft float", 0.45, 0), "metric", "left unit, 45"),
        (Instruction("step back", 2.0), "metric", "step 3"),
    ],
)
def test_an_act_is_told_with_its_amount_in_the_users_units(what: Instruction, system: System, seen: str) -> None:
    assert seen in event_text(what.happening(TWO_BY_ONE), ENDS, system)


@pytest.mark.parametrize("kind", KINDS)
def test_every_act_has_words_and_none_is_a_raw_line(kind: str) -> None:
    act = Instruction(kind, 0.5, 1, 1.0)  # type: ignore[arg-type]
    said = event_text(act.happening(TWO_BY_ONE), ENDS, "metric")
    by_a_seat = kind == "slacken"  # from a key of the window, not from the instructor's panel
    assert said.startswith("The instructor: ") != by_a_seat and "|" not in said and said[0].isupper()


def test_an_act_that_is_none_is_shown_as_it_stands() -> None:
    assert "dance" in event_text(happening_of("instructor", "dance | 1.0 | 0 | 0.0"), ENDS, "metric")
