"""The drive screen: people's keys to commands, commands to fixed steps, readings to the picture."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from time import perf_counter, perf_counter_ns

import pygame

from simulator.attempt import Attempt, Operator
from simulator.recording.counted import Sampled
from simulator.recording.lift_file import BrokenRecording
from simulator.scenario.description import Description
from simulator.scenario.rig import rig_of
from simulator.window.hands.bindings import Seat, seat_of, seats_of
from simulator.window.hands.gamepads import find_gamepads
from simulator.window.hands.seats import Seats
from simulator.window.kit.canvas import Canvas
from simulator.window.kit.levels import Level
from simulator.window.kit.measures_shown import System
from simulator.window.kit.regions import CAUTION_LINE, COACH, screen_sign
from simulator.window.kit.seen import seen_of
from simulator.window.readouts.prompt_cards import PromptCards
from simulator.window.readouts.readouts import Readouts
from simulator.window.readouts.stop_band import Notice, draw_paused_band, draw_stop_band
from simulator.window.review.lift_extremes import LiftExtremes, raised
from simulator.window.review.looking_back import KeptLift, LookBack
from simulator.window.scene.camera import Camera
from simulator.window.scene.weight_marks import WeightMarks, weight_marks
from simulator.window.screens.cards import PauseCard, lay_veil
from simulator.window.screens.drive_keys import hear_stop, press, stop_look
from simulator.window.screens.drive_words import STILL_MOVING_S, prompt_cards_of, situation_of, step_of, summary_of
from simulator.window.screens.lift_picture import LiftPicture
from simulator.window.screens.screen import STAY, Cover, Go, Screen, Shell, to_debrief, to_start
from simulator.window.screens.sentences import broken_screen
from simulator.window.screens.weigh_cards import Weighing
from simulator.window.shell.desk import Desk
from simulator.window.shell.lift import (
    Begin,
    Choice,
    Lift,
    begin_attempt,
    is_told_by_step,
    partners,
    people,
    turns_it_over,
    unit_moves,
)
from simulator.window.shell.own_turn import OwnTurn
from simulator.window.shell.pace import Pace
from simulator.window.shell.rubbish import set_aside
from simulator.window.shell.sounds import share_of_work
from simulator.words import say

STEPS_AT_ONCE = 4
PHYSICS_SHARE_S = 0.025
"""Wall time a frame gives to physics before it drops what is still owed."""


MOST_SEEDS = 1_000_000


def _with_another_load(description: Description) -> Description:
    """A drill that hides one of several loads draws anew each time; its recording keeps which."""
    is_drawn = description.drill is not None and bool(description.drill.loads)
    return replace(description, seed=perf_counter_ns() % MOST_SEEDS) if is_drawn else description


def drive(choice: Choice) -> Callable[[Shell], Screen]:
    """A lift from time zero."""

    def make(shell: Shell) -> Screen:
        desk, kept = shell.desk, []

        def begin(description: Description, operators: list[Operator | None]) -> Lift:
            lift = desk.begin(description, operators)
            kept.append(KeptLift.of(lift, choice, desk))
            return lift

        screen = DriveScreen(choice, desk.settings.units, begin=begin, desk=desk)
        screen.kept = kept[0]
        return screen

    return make


class DriveScreen(Screen):
    """One lift on the screen."""

    def __init__(
        self, choice: Choice, system: System = "metric", *, begin: Begin = begin_attempt, desk: Desk | None = None
    ) -> None:
        self.choice = choice
        self.system: System = system
        self.desk: Desk = desk or Desk()
        description = choice.description
        self.lift: Lift = begin(_with_another_load(description), partners(description, choice.who, choice.partner))
        self.seats = Seats(description)
        self.seats.pads = find_gamepads(self._pad_seats)
        self.pace: Pace = Pace(description.engine.steps_per_s)
        self.camera: Camera = Camera(sign=screen_sign(description))
        self.readouts = Readouts(description, self.lift.readings, system)
        self.extremes = LiftExtremes(Sampled(rig_of(description)))
        self.extremes.sampled(self.lift.readings)
        if isinstance(self.lift, Attempt):
            self.lift.observers.append(self.extremes.sampled)
        self.readouts.labels = self.seats.labels
        self.own_turn = OwnTurn(description)
        self._turns = False
        """The step that was seen last turns the load over."""
        self.weighing = Weighing(description, self.lift)
        self.sounds = self.desk.sounds
        self.notice = Notice()
        self.prompt_cards: PromptCards = PromptCards()
        self.over: Cover | None = None
        self.kept: KeptLift | None = None
        """The lift as it is remembered, to be looked back on."""
        self._picture: LiftPicture | None = None
        self._card_is_drawn = self._is_covered = False
        self.moved_s = [STILL_MOVING_S for _ in self.readouts.seen.units]
        """How long ago each unit moved, from left to right."""
        self.apply_settings()
        self._summed_up = False

    @property
    def _pad_seats(self) -> tuple[Seat, ...]:
        """The seats that gamepads may be in: those of people, or of whoever takes over."""
        description = self.choice.description
        return people(self.choice.who, description) or seats_of(seen_of(description))

    # Events -----------------------------------------------------------------------------------------------------

    @property
    def is_menu(self) -> bool:
        """Something to choose from lies over the lift."""
        return self.over is not None

    def take_event(self, event: pygame.event.Event) -> Go:
        """Keys of the seats, of the screen, and of whatever lies over it."""
        if self.over is None and hear_stop(self, event):
            return STAY
        if self.over is None or event.type in (pygame.WINDOWFOCUSLOST, pygame.WINDOWFOCUSGAINED):
            self.seats.take_event(event)
        if event.type in (pygame.JOYDEVICEADDED, pygame.JOYDEVICEREMOVED):
            self._change_pads(event.type == pygame.JOYDEVICEREMOVED)
            return STAY
        if self.over is not None:
            if event.type in (pygame.KEYDOWN, pygame.MOUSEBUTTONDOWN):
                self._card_is_drawn = False
            return self._go(self.over.take_event(event))
        if event.type == pygame.KEYDOWN:
            press(self, event)
        elif event.type == pygame.MOUSEBUTTONDOWN and event.pos[1] >= CAUTION_LINE.y:
            self.cover(PauseCard(self))
        elif event.type == pygame.MOUSEBUTTONDOWN and event.pos[1] < COACH.foot:
            self.prompt_cards.ask()
        return STAY

    def change_units(self) -> None:
        """Meters and tonnes, or feet and pounds."""
        self.desk.change(units="us" if self.system == "metric" else "metric")
        self.apply_settings()

    def swap_views(self) -> None:
        """The section large and the side view in the inset, or back."""
        self.readouts.is_across = not self.readouts.is_across
        self._is_covered = True

    @property
    def turns(self) -> bool:
        """The load is to be turned over now: by the step, or where no step is told, by where and how it hangs."""
        return turns_it_over(self.lift) or (self.own_turn.is_on and not is_told_by_step(self.lift))

    def _follow_turn(self) -> None:
        """Views swap by themselves as a step begins that turns the load over, and back after it."""
        turns = self.turns
        if turns is not self._turns:
            self._turns = turns
            if turns is not self.readouts.is_across:
                self.swap_views()

    def _go(self, go: Go) -> Go:
        """What lies over the lift is changed or taken away here."""
        if go.over is not None:
            self.cover(go.over)
        elif go.is_back:
            self._uncover()
        return go if go.screen is not None else STAY

    def again(self) -> Go:
        """To the same lift from time zero."""
        return Go(drive(self.choice))

    def look_back(self) -> Go:
        """To the debrief of the lift as it was up to now; nowhere where nobody remembers it."""
        if self.kept is None:
            return STAY
        self.desk.stop_recording()
        try:
            recording = self.kept.recording(self.desk)
        except BrokenRecording as broken:
            return to_start(self.choice, broken_screen(say("debrief.this_lift"), str(broken)))
        return to_debrief(LookBack(recording, self.kept.choice, self.desk.tell, self.desk))

    def slept(self) -> None:
        """A key let go meanwhile may never be told of."""
        if self.over is None:
            self.wait(say("pause.slept"))

    def leave(self) -> None:
        """The lift is over for its operators."""
        self.desk.exit_code = 1 if getattr(self.lift, "incidents", None) else 0
        self.desk.stop_recording()

    def apply_settings(self) -> None:
        """Bring the screen to the settings of the desk."""
        settings, description = self.desk.settings, self.choice.description
        self.seats.tap_to_hold = settings.tap_to_hold
        self.camera.reduced_motion = settings.reduced_motion
        if isinstance(self.lift, Attempt) and self.lift.session is not None:
            self.lift.session.speak(us=settings.units == "us")
        if settings.units != self.system:
            self.system, was_across = settings.units, self.readouts.is_across
            self.readouts = Readouts(description, self.lift.readings, self.system)
            self.readouts.labels, self.readouts.is_across = self.seats.labels, was_across
            self._picture = None

    def wait(self, words: str) -> None:
        """Paused until the people say that they are ready."""
        self.cover(PauseCard(self, words=words))

    def cover(self, card: Cover) -> None:
        """Pause, and lay this over the lift."""
        self.seats.let_go()
        self.pace.paused = True
        self.over, self._card_is_drawn = card, False

    def _uncover(self) -> None:
        self.apply_settings()
        self.over, self.pace.paused = None, self.lift.is_paused
        self._is_covered = True

    def _change_pads(self, was_removed: bool) -> None:
        had = self.seats.pads
        self.seats.pads = find_gamepads(self._pad_seats, had)
        is_lost = any(self.seats.pads.get(seat) is not pad for seat, pad in had.items())
        if was_removed and is_lost and not self._summed_up:
            self.cover(PauseCard(self, words=say("pause.lost_pad")))

    def sum_up(self) -> None:
        """Lay the summary over the lift."""
        self._summed_up = True
        self.cover(summary_of(self))

    # Frames -----------------------------------------------------------------------------------------------------

    def renew(self, canvas: Canvas) -> None:
        """Everything again on a new canvas."""
        self._picture = LiftPicture(self.choice.description, canvas, self.system)
        self._card_is_drawn = False
        self.camera.follow(0.0, self.lift.readings)
        self.readouts.follow(self.lift.readings, 0.0, situation_of(self))
        canvas.clear()
        self._draw_all(canvas)
        if self.over is not None:
            self.over.renew(canvas)
        set_aside()

    def frame(self, canvas: Canvas, elapsed_s: float) -> bool:
        """Physics for the time that passed, then the picture; a card that lies over it stands still."""
        if self._picture is None:
            self.renew(canvas)
        if self.over is not None and not self.over.is_card:
            return self.over.frame(canvas, elapsed_s)
        if self.over is None:
            self.advance(elapsed_s)
            self._card_is_drawn = False
            self.draw(canvas, elapsed_s)
        is_new = not self._card_is_drawn
        if self.over is not None and is_new:
            self._draw_all(canvas)
            lay_veil(canvas)
            self.over.draw(canvas)
            self._card_is_drawn = True
        self.sounds.work(share_of_work(self.choice.description, self.lift.readings, is_still=self.over is not None))
        return is_new

    def advance(self, elapsed_s: float) -> None:
        """Run the fixed steps that are due; drop what the machine cannot run in time."""
        self._hand_over()
        owed = self.pace.owe(elapsed_s)
        until = perf_counter() + PHYSICS_SHARE_S
        done = 0
        while done < owed and perf_counter() < until and not self.lift.ended:
            steps = min(STEPS_AT_ONCE, owed - done)
            commands = self.seats.commands(steps / self.pace.steps_per_s)
            self.lift.advance(commands, steps)
            done += steps
        self.pace.done(owed if self.lift.ended else done)
        self._note_motion(elapsed_s)

    def draw(self, canvas: Canvas, elapsed_s: float) -> None:
        """Scene, what lies on it, and the panels that changed."""
        readings = self.lift.readings
        self.own_turn.see(readings)
        self._follow_turn()
        self.camera.follow(elapsed_s, readings)
        self.weighing.follow(readings)
        is_new = self.readouts.follow(readings, elapsed_s, situation_of(self))
        self.prompt_cards.follow(elapsed_s, step_of(self))
        if is_new:
            self._take_note()
        assert self._picture is not None
        self._picture.weight_marks = self._weight_marks()
        if self._is_covered:
            canvas.clear()
            self._draw_all(canvas)
        else:
            self._picture.draw(canvas, self.camera, readings, self.readouts, self.seats.labels, is_new=is_new)
        self.notice.draw(canvas, self.desk.recording_fault(), elapsed_s)
        self._draw_bands(canvas)
        if self.lift.ended and not self._summed_up:
            self.sum_up()

    def _draw_bands(self, canvas: Canvas) -> None:
        """What holds the lift, on top of its scene, and what somebody looks aside at."""
        if self.prompt_cards.is_shown:
            self.prompt_cards.draw(canvas, prompt_cards_of(self))
        if self.lift.stopped and not self.lift.ended:
            draw_stop_band(canvas, stop_look(self))
        elif self.lift.is_paused:
            draw_paused_band(canvas)

    def _take_note(self) -> None:
        """Extremes and sound of what the readouts have just come to."""
        before, now = self.readouts.before, self.readouts.watched
        self.extremes.take(self.lift.readings, before, now)
        for level in (Level.STOP, Level.CAUTION):
            if raised(before, now, level):
                self.sounds.play(level)
                return

    def _draw_all(self, canvas: Canvas) -> None:
        assert self._picture is not None
        self._hide_and_show()
        self._picture.draw_all(canvas, self.camera, self.lift.readings, self.readouts, self.seats.labels)
        self._draw_bands(canvas)
        self._is_covered = False

    def _hide_and_show(self) -> None:
        """What the instructor has hidden; it changes under the panel, and so before everything is drawn."""
        assert self._picture is not None
        self._picture.overlay.shows_roses = "roses" not in self.lift.hidden
        self._picture.weight_marks = self._weight_marks()
        self.readouts.shows_loads = "loads" not in self.lift.hidden

    def _weight_marks(self) -> WeightMarks | None:
        is_hidden = "loads" in self.lift.hidden or self.weighing.is_hidden
        return None if is_hidden else weight_marks(self.weighing.scales, self.lift.readings)

    def _hand_over(self) -> None:
        """A seat that is touched takes its unit from the automatic operator."""
        for unit in self.readouts.seen.units:
            if self.seats.touched(seat_of(unit)):
                self.lift.operators[unit.place] = None

    def _note_motion(self, elapsed_s: float) -> None:
        for n, unit in enumerate(self.readouts.seen.units):
            moving = unit_moves(self.choice.description, self.lift.readings, unit)
            self.moved_s[n] = 0.0 if moving else self.moved_s[n] + elapsed_s
