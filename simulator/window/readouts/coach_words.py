"""What the coach strip says when no drill says more: whose move, and one prompt, from readings and advice."""

from __future__ import annotations

from typing import NamedTuple

from simulator.drill.session import Caution
from simulator.readings import Readings
from simulator.scenario.description import END_NAMES
from simulator.window.hands.bindings import find_binding
from simulator.window.kit.thresholds import Level
from simulator.window.readouts.advice import Advice
from simulator.window.readouts.alerts import Watched
from simulator.window.readouts.coach_strip import Mover
from simulator.words import say

CALLS = ("unit.left_call", "unit.right_call")
SIDES: tuple[Mover, Mover] = ("left", "right")


class Situation(NamedTuple):
    """What the strip needs to know beside the readings; pairs are seen left, seen right."""

    moving: tuple[bool, bool] = (False, False)
    automatic: tuple[bool, bool] = (False, False)
    off_turn: tuple[bool, bool] = (False, False)
    """In a step of a drill that somebody else moves in, or nobody: to move costs points."""
    is_stopped: bool = False
    """A stop order holds both."""
    stopped_by: str = ""
    """Who called it, as it is said."""
    has_ended: bool = False
    incident: str = ""
    """What ended it, short."""
    label: str = ""
    title: str = ""
    progress: tuple[int, int] | None = None
    prompt: str = ""
    """A drill's or an operator's own prompt; it gives way only to stop."""
    is_quiet: bool = False
    """The instructor has hidden the coach: it says stop, and nothing else."""
    score: str = ""
    """Points kept so far in a drill."""
    cautions: tuple[Caution, ...] = ()
    """The drill's own."""
    speed: str = "1x"
    is_slow: bool = False
    ends: tuple[int, ...] = (0, 1)
    """The units seen left and right."""

    @property
    def held(self) -> tuple[bool, bool]:
        """Who is to move nothing: both under a stop order and at the end, else whoever is off turn."""
        return (True, True) if self.is_stopped or self.has_ended else self.off_turn


class Call(NamedTuple):
    """Whose move it is and what the coach says."""

    mover: Mover
    words: str
    prompt: str


def call(
    readings: Readings, watched: Watched, advice: tuple[Advice, Advice], levels: tuple[Level, Level], now: Situation
) -> Call:
    """The strip's one order. `advice` and off-plumb `levels` are seen left, seen right."""
    if now.is_stopped:
        return Call("stop", say("coach.hold"), say("coach.stop_order_prompt", by=now.stopped_by))
    if readings.load.landed and (now.has_ended or not now.score):
        # In a drill the load may stand on the road and the drill goes on.
        return Call("none", say("coach.ready"), say("coach.landed_prompt"))
    if now.has_ended:
        return Call("stop", say("coach.hold"), say("coach.ended_prompt"))
    if watched.worst is Level.STOP:
        return Call("stop", say("coach.hold"), _stop_prompt(watched))
    if now.is_quiet:
        return Call(*_who_moves(now), "")
    for side, (row, level) in enumerate(zip(advice, levels, strict=True)):
        if row.kind == "control" and level > Level.GOOD and not now.automatic[side]:
            return Call(SIDES[side], say("coach.your_move"), fix_prompt(side, row))
    mover, words = _who_moves(now)
    return Call(mover, words, _calm_prompt(readings, watched, advice, now))


def fix_prompt(side: int, advice: Advice) -> str:
    """One order for one unit."""
    control = say(f"control.said_{find_binding(advice.function, advice.sign).word}")
    return say("coach.fix_prompt", side=say(CALLS[side]), control=control)


def _stop_prompt(watched: Watched) -> str:
    return say("coach.stop_prompt" if watched.level("sway") is Level.GOOD else "coach.stop_sway_prompt")


def _who_moves(now: Situation) -> tuple[Mover, str]:
    if all(now.moving):
        words = "coach.both_automatic" if all(now.automatic) else "coach.both_move"
        return "both", say(words)
    for side in (0, 1):
        if now.moving[side]:
            return SIDES[side], say("coach.automatic" if now.automatic[side] else "coach.moves")
    return "none", say("coach.ready")


def _calm_prompt(readings: Readings, watched: Watched, advice: tuple[Advice, Advice], now: Situation) -> str:
    if watched.level("sway") > Level.GOOD:
        return say("coach.sway_prompt")
    if now.prompt and now.score:
        return now.prompt
    uneven = _uneven_prompt(readings, watched, now)
    if uneven:
        return uneven
    if watched.level("pitch") > Level.GOOD:
        return _level_prompt(readings, now)
    if now.prompt:
        return now.prompt
    if not all(unit.slack for unit in readings.units):
        return say("coach.go_on_prompt")
    return say("coach.plumb_prompt" if any(row.kind == "control" for row in advice) else "coach.ready_prompt")


def _level_prompt(readings: Readings, now: Situation) -> str:
    """The low end comes up; where nobody sits there who can be asked, and it does not, the high end comes down."""
    low = 1 if readings.load.pitch_rad > 0.0 else 0
    if low not in now.ends or len(now.ends) < 2:
        return say("coach.level_prompt")
    side = now.ends.index(low)
    if not now.automatic[side]:
        return say("coach.level_up_prompt", side=say(CALLS[side]))
    key = "coach.level_wait_prompt" if now.moving[side] else "coach.level_down_prompt"
    return say(key, side=say(CALLS[1 - side]))


def _uneven_prompt(readings: Readings, watched: Watched, now: Situation) -> str:
    """One line slack while the other bears: nobody goes on together; whoever can be asked takes up, or lets down."""
    slack = [side for side, end in enumerate(now.ends) if readings.units[end].slack]
    if len(now.ends) != 2 or len(slack) != 1 or readings.load.road_N > 0.0:
        return ""
    side, bears = slack[0], 1 - slack[0]
    bears_much = watched.level(f"{END_NAMES[now.ends[bears]]}.capacity") > Level.GOOD
    if not now.automatic[bears] and (bears_much or (now.automatic[side] and not now.moving[side])):
        return say("coach.give_back_prompt", side=say(CALLS[bears]))
    if now.automatic[side]:
        return say("coach.slack_wait_prompt", side=say(CALLS[bears]))
    return say("coach.take_up_prompt", side=say(CALLS[side]))
