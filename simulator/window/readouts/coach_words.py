"""What the coach strip says when no drill says more: whose move, and one prompt, from readings and advice."""

from __future__ import annotations

from typing import NamedTuple

from simulator.drill.session import Caution
from simulator.readings import Readings
from simulator.window.hands.bindings import find_binding
from simulator.window.kit.levels import Level
from simulator.window.kit.seen import Seen, SeenUnit
from simulator.window.readouts.alerts import Watched, is_loose
from simulator.window.readouts.coach_strip import Mover
from simulator.window.readouts.fix_chips import Advice
from simulator.window.readouts.looks import capital
from simulator.window.readouts.weighing_panel import WeighLook
from simulator.words import say


class Situation(NamedTuple):
    """What the strip needs to know beside the readings; what is said of each unit goes from left to right."""

    moving: tuple[bool, ...]
    automatic: tuple[bool, ...]
    off_turn: tuple[bool, ...]
    """In a step of a drill that somebody else moves in, or nobody: to move costs points."""
    is_stopped: bool = False
    """A stop order holds every unit."""
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
    weighing: WeighLook | None = None
    """What the load tells, in the hold after lift-off."""

    @property
    def held(self) -> tuple[bool, ...]:
        """Who is to move nothing: everybody under a stop order and at the end, else whoever is off turn."""
        return tuple(True for _ in self.off_turn) if self.is_stopped or self.has_ended else self.off_turn


def at_rest(seen: Seen, *, moving: tuple[bool, ...] = ()) -> Situation:
    """People in every seat, and nothing to say."""
    nobody = tuple(False for _ in seen.units)
    return Situation(moving or nobody, nobody, nobody)


class Call(NamedTuple):
    """Whose move it is and what the coach says."""

    mover: Mover
    words: str
    prompt: str


def call(
    readings: Readings,
    watched: Watched,
    advice: tuple[Advice, ...],
    levels: tuple[Level, ...],
    now: Situation,
    seen: Seen,
) -> Call:
    """The strip's one order. `advice` and off-plumb `levels` go from left to right."""
    if now.is_stopped:
        return Call("stop", say("coach.hold"), seen.say("coach.stop_order_prompt", by=now.stopped_by))
    if readings.load.landed and (now.has_ended or not now.score):
        # In a drill the load may stand on the road and the drill goes on; lines that still pay out are told as moves.
        moves = _who_moves(now._replace(moving=tuple(False for _ in now.moving)) if now.has_ended else now, seen)
        return Call(*moves, say("coach.landed_prompt"))
    if now.has_ended:
        return Call("stop", say("coach.hold"), seen.say("coach.ended_prompt"))
    if watched.worst is Level.STOP:
        return Call("stop", say("coach.hold"), _stop_prompt(watched, seen))
    if now.is_quiet:
        return Call(*_who_moves(now, seen), "")
    for unit, row, level, is_automatic in zip(seen.units, advice, levels, now.automatic, strict=True):
        hoists = row.lever.startswith("hoist") and not now.score
        if row.kind == "control" and (level > Level.GOOD or hoists) and not is_automatic:
            return Call(unit.where, say("coach.your_move"), fix_prompt(unit, row))
    mover, words = _who_moves(now, seen)
    return Call(mover, words, _calm_prompt(readings, watched, advice, now, seen))


def fix_prompt(unit: SeenUnit, advice: Advice) -> str:
    """One order for one unit."""
    control = say(f"control.said_{find_binding(advice.lever, advice.sign).word}")
    if unit.is_alone:
        return say("coach.fix_prompt_alone", control=capital(control))
    return say("coach.fix_prompt", side=unit.said("call"), control=control)


def _stop_prompt(watched: Watched, seen: Seen) -> str:
    return seen.say("coach.stop_prompt" if watched.level("sway") is Level.GOOD else "coach.stop_sway_prompt")


def _who_moves(now: Situation, seen: Seen) -> tuple[Mover, str]:
    if all(now.moving) and not seen.is_alone:
        return "both", say("coach.both_automatic" if all(now.automatic) else "coach.both_move")
    for unit, moves, is_automatic in zip(seen.units, now.moving, now.automatic, strict=True):
        if moves:
            return unit.where, say("coach.automatic" if is_automatic else "coach.moves")
    return "none", say("coach.ready")


def _calm_prompt(readings: Readings, watched: Watched, advice: tuple[Advice, ...], now: Situation, seen: Seen) -> str:
    if watched.level("sway") > Level.GOOD:
        return seen.say("coach.sway_prompt")
    if now.prompt and now.score:
        return now.prompt
    uneven = "" if seen.is_alone else _uneven_prompt(readings, watched, now, seen)
    if uneven:
        return uneven
    if now.prompt and now.weighing is not None and not now.weighing.is_bounds:
        return now.prompt  # as it lay, so it hangs: it is weighed first, and leveled on the way
    if watched.level("pitch") > Level.GOOD:
        return _level_prompt(readings, now, seen)
    if now.prompt:
        return now.prompt
    if not all(line.slack for line in readings.lines):
        return seen.say("coach.go_on_prompt")
    return seen.say("coach.plumb_prompt" if any(row.kind == "control" for row in advice) else "coach.ready_prompt")


def _level_prompt(readings: Readings, now: Situation, seen: Seen) -> str:
    """The low end comes up; where nobody sits there who can be asked, and it does not, the high end comes down."""
    if seen.is_alone:
        return say("coach.level_prompt")
    in_order = sorted(range(len(seen.units)), key=lambda n: seen.units[n].place, reverse=readings.load.pitch_rad > 0.0)
    low, high = in_order[0], in_order[-1]
    if not now.automatic[low]:
        return say("coach.level_up_prompt", side=seen.units[low].said("call"))
    key = "coach.level_wait_prompt" if now.moving[low] else "coach.level_down_prompt"
    return say(key, side=seen.units[high].said("call"))


def _uneven_prompt(readings: Readings, watched: Watched, now: Situation, seen: Seen) -> str:
    """One unit's lines slack while the other's bear: nobody goes on together; whoever can be asked takes up, or lets
    down."""
    loose = [n for n, unit in enumerate(seen.units) if is_loose(readings, unit.unit)]
    taut = [n for n in range(len(seen.units)) if n not in loose]
    if not loose or not taut or readings.load.road_N > 0.0:
        return ""
    slack, bears = loose[0], taut[0]
    call = seen.units[bears].said("call")
    bears_much = watched.level(f"{seen.units[bears].name}.capacity") > Level.GOOD
    if not now.automatic[bears] and (bears_much or (now.automatic[slack] and not now.moving[slack])):
        return say("coach.give_back_prompt", side=call)
    if now.automatic[slack]:
        return say("coach.slack_wait_prompt", side=call)
    return say("coach.take_up_prompt", side=seen.units[slack].said("call"))
