"""The lift commands of the front door: drive, watch the automatic operators, run a command track."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from simulator.cli.debriefing import lift_outputs, record_option, recorder, say_recorded, telemetry_options
from simulator.cli.exit_codes import BAD_INPUT, NO, OK
from simulator.drill.ways import WAYS
from simulator.files.interrupts import Interrupts
from simulator.files.terminal import complain, force_option, tell, tell_json, units_option
from simulator.files.writing import STILL, Output, Refused, look_at, write_whole
from simulator.scenario.retold import retold
from simulator.scenario.standing import not_driven

if TYPE_CHECKING:
    from simulator.attempt import Attempt, Operator
    from simulator.readings import Readings
    from simulator.recording.telemetry import Telemetry
    from simulator.report.lift.summary import Summary
    from simulator.scenario.asked_numbers import System
    from simulator.scenario.description import Description

DEMO = "tank_on_side"
"""What is shown when no scenario is named."""
STILLS = ("1-start", "2-half-way", "3-over-the-decks", "4-end")
Describe = Callable[[str], "Description | None"]
"""A scenario by file or name; None when it has faults, which are told."""


def add_lift_commands(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The lift commands' options."""
    drive_parser = commands.add_parser("drive", help="drive a lift in the window")
    _drive_options(drive_parser)
    drive_parser.add_argument("--at-once", action="store_true", help="begin SCENARIO without the seat check")
    demo = commands.add_parser("demo", help="watch the automatic operators drive a lift")
    _drive_options(demo)
    demo.add_argument("--headless", action="store_true", help="no window, as fast as it can; prints a summary")
    demo.add_argument("--clumsy", metavar="HOW", default="able", help=f"how the right unit drives: {', '.join(WAYS)}",
                      choices=WAYS)  # fmt: skip
    demo.add_argument("--json", action="store_true", help="the summary as JSON (headless)")
    demo.add_argument("--save-track", type=Path, metavar="FILE.csv", help="keep the commands given (headless)")
    demo.add_argument("--stills", type=Path, metavar="FOLDER", help="keep pictures of the lift (headless)")
    record_option(demo)
    run = commands.add_parser("run", help="drive a command track without a window")
    run.add_argument("scenario", help="a file, or a shipped scenario's name")
    run.add_argument("--commands", type=Path, required=True, metavar="TRACK.csv", help="rows held until the next")
    run.add_argument("--json", action="store_true", help="the summary as JSON")
    units_option(run)
    record_option(run)
    for parser in (drive_parser, demo, run):
        telemetry_options(parser)
        force_option(parser)


def _drive_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("scenario", nargs="?", help="a file, or a shipped scenario's name")
    units_option(parser)


def run_lift_command(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """Run one lift command; whatever would be destroyed is refused before anything moves."""
    described = None
    if given.scenario is not None or given.command == "demo":
        described = describe(given.scenario or DEMO)
        if described is None:
            return BAD_INPUT
        if (given.command != "run" or not_driven(described.units)) and _declined(described, given, caution):
            return NO
    return LIFT_COMMANDS[given.command](given, described, caution)


def _declined(described: Description, given: argparse.Namespace, caution: str) -> bool:
    """A load that would not stay where it lies is not lifted; the check's own sentence says why."""
    from simulator.cli.window_answers import declined

    why = declined(described, given.units)
    if why:
        complain(f"{retold(described.title, us=given.units == 'us')}: not driven. {why[:1].upper()}{why[1:]}", caution)
    return bool(why)


def _look_at_outputs(given: argparse.Namespace) -> None:
    """Refuse what would destroy a file."""
    from simulator.places import find_scenario

    read = [find_scenario(given.scenario or DEMO), getattr(given, "commands", None)]
    outputs = lift_outputs(given)
    if stills := getattr(given, "stills", None):
        if stills.exists() and not stills.is_dir():
            raise Refused(f"{stills}: given a file, allowed: a folder for the pictures")
        if stills.is_dir():
            outputs += [Output(stills / f"{name}.png", STILL) for name in STILLS]
    look_at(outputs, inputs=[path for path in read if path is not None], force=given.force)


def drive(given: argparse.Namespace, described: Description | None, caution: str) -> int:
    """The window, for people or for the demonstration."""
    _look_at_outputs(given)
    from simulator.attempt import Attempt
    from simulator.cli.layout_answers import Bench
    from simulator.cli.window_answers import check_lift, recheck_lift, tell_lift
    from simulator.window.program import NoDisplay, run_drive

    tell(caution)
    try:
        with _telemetry(given, caution) as telemetry:

            def begin(lift: Description, operators: list[Operator | None]) -> Attempt:
                attempt = Attempt(lift, operators)
                if telemetry is not None:
                    attempt.watch_closely(telemetry.observer(attempt.rig), given.rate)
                return attempt

            return run_drive(
                described,
                demo=given.command == "demo",
                partner=given.clumsy if given.command == "demo" else "able",
                at_once=given.command == "drive" and given.at_once,
                units=given.units,
                begin=begin,
                tell=tell_lift,
                check=check_lift,
                recheck=recheck_lift,
                lay=Bench,
            )
    except NoDisplay as error:
        complain(error)
        return BAD_INPUT


def demo(given: argparse.Namespace, described: Description | None, caution: str) -> int:
    """The automatic operators, in the window or without."""
    if not given.headless or described is None:
        return drive(given, described, caution)
    _look_at_outputs(given)
    from simulator.attempt import Attempt
    from simulator.drill.clumsy import operator_of
    from simulator.recording.headless import run_operators, track_of
    from simulator.recording.track import write

    right = len(described.units) - 1 if described.site.nose_seen_from_ravine == "left" else 0
    ways = [given.clumsy if end == right else "able" for end in range(len(described.units))]
    operators: list[Operator | None] = [operator_of(described, end, way) for end, way in enumerate(ways)]
    attempt = Attempt(described, operators, in_bulk=True)
    moments: list[Readings] = []
    if given.stills:
        attempt.observers.append(lambda now: moments.append(now) if now.step % 240 == 0 else None)
    code = _watched(attempt, given, lambda asked: run_operators(attempt, stopped=asked), caution)
    if given.save_track:
        write(given.save_track, track_of(attempt), attempt.rig, caution=caution)
    if given.stills:
        _keep_stills(described, [*moments, attempt.readings], given.stills, given.units)
    return code


def run(given: argparse.Namespace, described: Description | None, caution: str) -> int:
    """A command track, without a window."""
    from simulator.recording.track import BrokenTrack, read
    from simulator.scenario.rig import rig_of

    assert described is not None, "a track without a scenario is refused by the command line"
    try:
        track = read(given.commands, rig_of(described))
    except BrokenTrack as broken:
        complain(*broken.faults)
        return BAD_INPUT
    _look_at_outputs(given)
    from simulator.attempt import Attempt
    from simulator.recording.headless import run_track

    attempt = Attempt(described, in_bulk=True)
    return _watched(attempt, given, lambda asked: run_track(attempt, track, stopped=asked), caution)


def _watched(
    attempt: Attempt, given: argparse.Namespace, go: Callable[[Callable[[], bool]], None], caution: str
) -> int:
    """Run a lift under a summary and, if asked, telemetry; print the summary.

    Somebody who asks it to stop ends the lift, not what is written of it.
    """
    from simulator.script import summed_up

    with (
        Interrupts() as stop,
        _telemetry(given, caution) as telemetry,
        recorder(attempt, given, f"{datetime.now():%Y-%m-%d %H:%M:%S}") as kept,
    ):
        if telemetry is not None:
            attempt.watch_closely(telemetry.observer(attempt.rig), given.rate)
        summary = summed_up(attempt, lambda: go(stop.asked))
    if stop.how:
        complain(f"stopped {stop.how} at {minutes(attempt)} of the lift; what was asked for is kept up to there")
    say_recorded(kept)
    if telemetry is not None and telemetry.stopped:
        complain(telemetry.stopped)
    _show(summary, given.scenario or DEMO, as_json=given.json, us=given.units == "us")
    session = attempt.session
    good = summary.landed and not summary.past_stop if session is None else session.passed and not attempt.incidents
    return OK if good else NO


def minutes(attempt: Attempt) -> str:
    """Where a lift is, as people say it."""
    from simulator.recording.recorded import minutes

    return minutes(attempt.simulation.time_s)


def _telemetry(given: argparse.Namespace, caution: str) -> AbstractContextManager[Telemetry | None]:
    """The file asked for, open; nothing when none was."""
    from simulator.recording.telemetry import Telemetry

    return Telemetry(given.telemetry, caution=caution) if given.telemetry else nullcontext()


def _show(summary: Summary, file: str, *, as_json: bool, us: bool) -> None:
    if as_json:
        tell_json(summary.as_json())
    else:
        tell(*summary.lines(us=us, file=file))


def _keep_stills(described: Description, moments: list[Readings], folder: Path, units: System) -> None:
    """Pictures of the start, half way up, over the decks, and the end."""
    from simulator.window.program import still_picture

    folder.mkdir(parents=True, exist_ok=True)
    first, last = moments[0].load.z_m, max(moment.load.z_m for moment in moments)
    half_way = min(moments, key=lambda now: abs(now.load.z_m - (first + last) / 2.0))
    over = min(moments, key=lambda now: abs(now.load.y_m))
    for name, moment in zip(STILLS, (moments[0], half_way, over, moments[-1]), strict=True):
        write_whole(folder / f"{name}.png", still_picture(described, moment, units=units))


LIFT_COMMANDS: dict[str, Callable[[argparse.Namespace, Description | None, str], int]] = {
    "drive": drive,
    "demo": demo,
    "run": run,
}
