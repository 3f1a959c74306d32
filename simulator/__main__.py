"""The front door: `slopepick COMMAND`. Heavy libraries are imported by the command that needs them."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from datetime import datetime
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING

from simulator.debriefing import (
    RECORDING_COMMANDS,
    add_recording_commands,
    record_option,
    recorder,
    run_recording_command,
    say_recorded,
    telemetry_options,
)
from simulator.drill.ways import WAYS
from simulator.planning.options import PLANNING, add_commands, joined, run_planning

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from simulator.attempt import Attempt, Operator
    from simulator.readings import Readings
    from simulator.recording.telemetry import Telemetry
    from simulator.report.summary import Summary
    from simulator.scenario.description import Description

OK, INCIDENT, BAD_INPUT = 0, 1, 2
"""Exit codes: done and landed; not landed, or an incident; input that cannot be used."""
DEMO = "tank_on_side"
"""What is shown when no scenario is named."""


def build_parser() -> argparse.ArgumentParser:
    """The command line."""
    parser = argparse.ArgumentParser(prog="slopepick", description="Two units, two lines, one load.", epilog=_caution())
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    drive_parser = commands.add_parser("drive", help="drive a lift in the window")
    _drive_options(drive_parser)
    drive_parser.add_argument("--at-once", action="store_true", help="begin SCENARIO without the seat check")
    telemetry_options(drive_parser)
    demo = commands.add_parser("demo", help="watch the automatic operators drive a lift")
    _drive_options(demo)
    demo.add_argument("--headless", action="store_true", help="no window, as fast as it can; prints a summary")
    demo.add_argument("--clumsy", metavar="HOW", default="able", help=f"how the right unit drives: {', '.join(WAYS)}",
                      choices=WAYS)  # fmt: skip
    demo.add_argument("--json", action="store_true", help="the summary as JSON (headless)")
    demo.add_argument("--save-track", type=Path, metavar="FILE.csv", help="keep the commands given (headless)")
    demo.add_argument("--stills", type=Path, metavar="FOLDER", help="keep pictures of the lift (headless)")
    telemetry_options(demo)
    record_option(demo)
    run = commands.add_parser("run", help="drive a command track without a window")
    run.add_argument("scenario", help="a file, or a shipped scenario's name")
    run.add_argument("--commands", type=Path, required=True, metavar="TRACK.csv", help="rows held until the next")
    run.add_argument("--json", action="store_true", help="the summary as JSON")
    run.add_argument("--units", choices=("metric", "us"), default="metric", help="units shown")
    telemetry_options(run)
    record_option(run)
    validate = commands.add_parser("validate", help="list every fault of scenario files")
    validate.add_argument("files", nargs="+", metavar="FILE", help="a file, or a shipped scenario's name")
    commands.add_parser("readings", help="print the table of readings: symbol, unit, decimals, meaning and sign")
    add_commands(commands)
    add_recording_commands(commands)
    return parser


def _drive_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("scenario", nargs="?", help="a file, or a shipped scenario's name")
    words = "units shown; left out: as in the user's settings, metric with no window"
    parser.add_argument("--units", choices=("metric", "us"), help=words)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and say how it went."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # a terminal that lacks a letter gets its number, not a traceback
            stream.reconfigure(errors="backslashreplace")
    given = build_parser().parse_args(joined(sys.argv[1:] if arguments is None else arguments))
    run: Callable[[argparse.Namespace], int] = COMMANDS[given.command]
    try:
        return run(given)
    except BrokenPipeError:
        return OK
    except KeyboardInterrupt:
        return INCIDENT
    except OSError as error:
        print(f"{error.filename or 'a file'}: {error.strerror or error}", file=sys.stderr)
        return BAD_INPUT


def _caution() -> str:
    from simulator.words import say

    return say("program.caution")


def _described(name: str) -> Description | None:
    """The scenario's description; None, with every fault printed, when it has faults."""
    from simulator.places import find_scenario
    from simulator.scenario.faults import BrokenScenario
    from simulator.scenario.reader import load

    try:
        return load(find_scenario(name))
    except BrokenScenario as broken:
        for fault in broken.faults:
            print(fault, file=sys.stderr)
        return None


def validate(given: argparse.Namespace) -> int:
    """Every fault of every file; 0 when there is none."""
    from simulator.places import find_scenario
    from simulator.scenario.reader import validate as check

    lines, code = check(given.files, find=find_scenario)
    for line in lines:
        print(line, file=sys.stderr if code else sys.stdout)
    print(_caution())
    return code


def readings(_: argparse.Namespace) -> int:
    """The table of channels."""
    from simulator.readings import CHANNELS

    print(f"{'reading':<34}{'symbol':<8}{'unit':<7}{'decimals':>8}  meaning; positive way")
    for channel in CHANNELS:
        print(f"{channel.name:<34}{channel.symbol:<8}{channel.unit:<7}{channel.decimals:>8}  {channel.meaning}")
    print(_caution())
    return OK


def drive(given: argparse.Namespace) -> int:
    """The window, for people or for the demonstration."""
    described = None
    if given.scenario is not None or given.command == "demo":
        described = _described(given.scenario or DEMO)
        if described is None:
            return BAD_INPUT
    from simulator.attempt import Attempt
    from simulator.judging import check_lift, tell_lift
    from simulator.window.program import NoDisplay, run_drive

    print(_caution())
    try:
        with _telemetry(given) as telemetry:

            def begin(lift: Description, operators: list[Operator | None]) -> Attempt:
                attempt = Attempt(lift, operators)
                if telemetry is not None:
                    attempt.watch_closely(telemetry, given.rate)
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
            )
    except NoDisplay as error:
        print(error, file=sys.stderr)
        return BAD_INPUT


def demo(given: argparse.Namespace) -> int:
    """The automatic operators, in the window or without."""
    if not given.headless:
        return drive(given)
    described = _described(given.scenario or DEMO)
    if described is None:
        return BAD_INPUT
    from simulator.attempt import Attempt
    from simulator.drill.clumsy import operator_of
    from simulator.recording.headless import run_operators, track_of
    from simulator.recording.track import write

    right = 1 if described.site.nose_seen_from_ravine == "left" else 0
    ways = [given.clumsy if end == right else "able" for end in (0, 1)]
    attempt = Attempt(described, [operator_of(described, end, way) for end, way in enumerate(ways)])
    moments: list[Readings] = []
    if given.stills:
        attempt.observers.append(lambda now: moments.append(now) if now.step % 240 == 0 else None)
    code = _watched(attempt, given, lambda: run_operators(attempt))
    if given.save_track:
        write(given.save_track, track_of(attempt), caution=_caution())
    if given.stills:
        _keep_stills(described, [*moments, attempt.readings], given.stills)
    return code


def run(given: argparse.Namespace) -> int:
    """A command track, without a window."""
    from simulator.recording.track import BrokenTrack, read

    described = _described(given.scenario)
    try:
        track = read(given.commands)
    except BrokenTrack as broken:
        print(broken, file=sys.stderr)
        return BAD_INPUT
    if described is None:
        return BAD_INPUT
    from simulator.attempt import Attempt
    from simulator.recording.headless import run_track

    attempt = Attempt(described)
    return _watched(attempt, given, lambda: run_track(attempt, track))


def _watched(attempt: Attempt, given: argparse.Namespace, go: Callable[[], None]) -> int:
    """Run a lift under a summary and, if asked, telemetry; print the summary."""
    from simulator.scripting import summed_up

    us = given.units == "us"
    with _telemetry(given) as telemetry, recorder(attempt, given, f"{datetime.now():%Y-%m-%d %H:%M:%S}") as kept:
        if telemetry is not None:
            attempt.watch_closely(telemetry, given.rate)
        summary = summed_up(attempt, go)
    say_recorded(kept)
    _show(summary, given.scenario or DEMO, as_json=given.json, us=us)
    session = attempt.session
    good = summary.landed if session is None else session.passed and not attempt.incidents
    return OK if good else INCIDENT


def _telemetry(given: argparse.Namespace) -> AbstractContextManager[Telemetry | None]:
    """The file asked for, open; nothing when none was."""
    from contextlib import nullcontext

    from simulator.recording.telemetry import Telemetry

    return Telemetry(given.telemetry, caution=_caution()) if given.telemetry else nullcontext()


def _show(summary: Summary, file: str, *, as_json: bool, us: bool) -> None:
    if as_json:
        import json

        print(json.dumps(summary.as_json(), indent=2))
    else:
        print("\n".join(summary.lines(us=us, file=file)))


def _keep_stills(described: Description, moments: list[Readings], folder: Path) -> None:
    """Pictures of the start, half way up, over the decks, and the end."""
    from simulator.window.program import render_still

    folder.mkdir(parents=True, exist_ok=True)
    first, last = moments[0].load.z_m, max(moment.load.z_m for moment in moments)
    picked = {
        "1-start": moments[0],
        "2-half-way": min(moments, key=lambda now: abs(now.load.z_m - (first + last) / 2.0)),
        "3-over-the-decks": min(moments, key=lambda now: abs(now.load.y_m)),
        "4-end": moments[-1],
    }
    for name, moment in picked.items():
        render_still(described, moment, folder / f"{name}.png")


def plan(given: argparse.Namespace) -> int:
    """Whatever is asked of a set-up before anyone drives."""
    return run_planning(given, _described, _caution())


def keep(given: argparse.Namespace) -> int:
    """Whatever is asked of lifts that were kept."""
    return run_recording_command(given, _caution())


COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "drive": drive,
    "demo": demo,
    "run": run,
    "validate": validate,
    "readings": readings,
    **dict.fromkeys(PLANNING, plan),
    **dict.fromkeys(RECORDING_COMMANDS, keep),
}

if __name__ == "__main__":
    sys.exit(main())
