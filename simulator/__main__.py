"""The front door: `slopepick COMMAND`.

Nothing is imported before it is needed, and nothing outside `main`: an interrupt is no traceback, however early.
"""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import argparse
    from collections.abc import Callable, Sequence

    from simulator.scenario.description import Description

OK, INCIDENT, BAD_INPUT = 0, 1, 2
"""Exit codes: landed with no stop limit passed, or drill passed; not so, or interrupted; input that cannot be used."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and say how it went."""
    before = sys.unraisablehook
    try:
        _hear_every_interrupt()
        return _answered(arguments)
    except BrokenPipeError:
        return OK
    except KeyboardInterrupt:
        return INCIDENT
    finally:
        sys.unraisablehook = before


def _hear_every_interrupt() -> None:
    """An interrupt that comes inside a callback of Python's own (a weak reference that goes, a finalizer) can't be
    raised there: Python prints it and goes on. It is raised again a moment later, outside the callback.
    """
    import signal
    from _thread import interrupt_main
    from threading import Timer, get_ident

    ident, before = get_ident(), sys.unraisablehook

    def interrupt() -> None:
        if sys.platform == "win32":
            interrupt_main()
        else:
            signal.pthread_kill(ident, signal.SIGINT)

    def again(lost: sys.UnraisableHookArgs) -> None:
        if lost.exc_type is KeyboardInterrupt:
            Timer(0.01, interrupt).start()
        else:
            before(lost)

    sys.unraisablehook = again


def _answered(arguments: Sequence[str] | None) -> int:
    """One command; a file that cannot be read or written is a sentence."""
    from contextlib import suppress
    from io import TextIOWrapper

    from simulator.cli.planning.options import joined
    from simulator.files.terminal import complain
    from simulator.files.writing import Refused

    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # a terminal that lacks a letter gets its number, not a traceback
            stream.reconfigure(errors="backslashreplace")
    given = _in_own_units(build_parser().parse_args(joined(sys.argv[1:] if arguments is None else arguments)))
    try:
        return commands()[given.command](given)
    except BrokenPipeError:
        raise
    except (OSError, Refused) as error:
        words = f"{error.filename or 'a file'}: {error.strerror or error}" if isinstance(error, OSError) else error
        with suppress(OSError):  # where nothing can be said there is nobody to hear it
            complain(words)
        return BAD_INPUT


def _in_own_units(given: argparse.Namespace) -> argparse.Namespace:
    """Units and tons that no option says are as in the user's settings, for every command alike."""
    if "units" in given and (given.units is None or given.tons is None):
        from simulator.recording.settings import read_settings, settings_path

        own = read_settings(settings_path()).settings
        given.units, given.tons = given.units or own.units, given.tons or own.tons or None
    return given


def build_parser() -> argparse.ArgumentParser:
    """The command line."""
    from simulator.cli.debriefing import add_recording_commands
    from simulator.cli.driving import add_lift_commands
    from simulator.cli.kept import add_kept_commands
    from simulator.cli.planning.options import add_commands
    from simulator.cli.rehearsing import add_rehearse_command
    from simulator.files.terminal import Parser

    parser: argparse.ArgumentParser = Parser(
        prog="slopepick", description="Two units, two lines, one load.", epilog=_caution()
    )
    parser.add_argument("--version", action=_version_action(), help="say which version runs, and end")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    add_lift_commands(commands)
    validate = commands.add_parser("validate", help="list every fault of scenario files")
    validate.add_argument("files", nargs="+", metavar="FILE", help="a file, or a shipped scenario's name")
    commands.add_parser("readings", help="print the table of readings: symbol, unit, decimals, meaning and sign")
    keys = commands.add_parser("keys", help="every key of scenario files: meaning, unit, range, default, source")
    keys.add_argument("words", nargs="*", metavar="WORD", help="only those with all these words")
    add_commands(commands)
    add_kept_commands(commands)
    add_rehearse_command(commands)
    add_recording_commands(commands)
    return parser


def _version_action() -> type[argparse.Action]:
    """Its answer is worked out only when it is asked for."""
    import argparse

    class Version(argparse.Action):
        def __init__(self, option_strings: list[str], dest: str, help: str | None = None) -> None:
            super().__init__(option_strings, dest, nargs=0, help=help)

        def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
            from simulator.files.terminal import tell

            tell(_version())
            parser.exit()

    return Version


def _version() -> str:
    """What runs: of which version, and whether its engine is compiled."""
    from importlib import metadata

    from simulator.compiled import told

    try:
        number = metadata.version("slopepick")
    except metadata.PackageNotFoundError:
        number = "not installed"
    return f"slopepick {number}, {told()}"


def _caution() -> str:
    from simulator.words import say

    return say("program.caution")


def _described(name: str) -> Description | None:
    """The scenario's description; None, with every fault printed, when it has faults."""
    from simulator.cli.starting import load_sound
    from simulator.files.terminal import complain
    from simulator.places import find_scenario
    from simulator.scenario.faults import BrokenScenario

    try:
        return load_sound(find_scenario(name))
    except BrokenScenario as broken:
        complain(*broken.faults)
        return None


def validate(given: argparse.Namespace) -> int:
    """Every fault of every file; 0 when there is none."""
    from simulator.cli.starting import load_sound
    from simulator.files.terminal import complain, tell
    from simulator.places import find_scenario
    from simulator.scenario.reader import validate as check

    lines, code = check(given.files, find=find_scenario, read=load_sound)
    (complain if code else tell)(*lines)
    tell(_caution())
    return code


def readings(_: argparse.Namespace) -> int:
    """The table of channels."""
    from simulator.files.terminal import tell
    from simulator.readings import CHANNELS

    tell(f"{'reading':<34}{'symbol':<8}{'unit':<7}{'decimals':>8}  meaning; positive way")
    for channel in CHANNELS:
        tell(f"{channel.name:<34}{channel.symbol:<8}{channel.unit:<7}{channel.decimals:>8}  {channel.meaning}")
    tell(_caution())
    return OK


def keys(given: argparse.Namespace) -> int:
    """The keys of scenario files."""
    from simulator.files.terminal import complain, tell
    from simulator.scenario.key_list import key_lines

    lines = key_lines(" ".join(given.words))
    if not lines:
        complain(f'keys: given "{" ".join(given.words)}", allowed: words of a key or its meaning, such as: rope')
        return BAD_INPUT
    tell(*lines)
    return OK


def lift(given: argparse.Namespace) -> int:
    """Whatever moves a load."""
    from simulator.cli.driving import run_lift_command

    return run_lift_command(given, _described, _caution())


def plan(given: argparse.Namespace) -> int:
    """Whatever is asked of a set-up before anyone drives."""
    from simulator.cli.planning.options import run_planning

    return run_planning(given, _described, _caution())


def rehearse(given: argparse.Namespace) -> int:
    """One lift, many times."""
    from simulator.cli.rehearsing import rehearse

    return rehearse(given, _described, _caution())


def keep(given: argparse.Namespace) -> int:
    """Whatever is asked of lifts that were kept."""
    from simulator.cli.debriefing import run_recording_command

    return run_recording_command(given, _caution())


def kept(given: argparse.Namespace) -> int:
    """Whatever is asked of units and trailers that have files of their own."""
    from simulator.cli.kept import run_kept_command

    return run_kept_command(given)


def commands() -> dict[str, Callable[[argparse.Namespace], int]]:
    """Every command by its name, and who answers it."""
    from simulator.cli.debriefing import RECORDING_COMMANDS
    from simulator.cli.driving import LIFT_COMMANDS
    from simulator.cli.planning.options import PLANNING

    return {
        "validate": validate,
        "readings": readings,
        "keys": keys,
        **dict.fromkeys(LIFT_COMMANDS, lift),
        **dict.fromkeys(PLANNING, plan),
        "rehearse": rehearse,
        "units": kept,
        "trailers": kept,
        **dict.fromkeys(RECORDING_COMMANDS, keep),
    }


if __name__ == "__main__":
    sys.exit(main())
