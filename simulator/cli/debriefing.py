"""The recording commands of the front door: what was kept of a lift, replayed, told, and written out."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from simulator.cli.exit_codes import BAD_INPUT, NO, OK
from simulator.files.terminal import ask, complain, force_option, tell, units_option
from simulator.files.writing import PAGE, READINGS, RECORDING, TELEMETRY, TRACK, Output, Refused, begun, look_at
from simulator.scenario.retold import retold

if TYPE_CHECKING:
    from simulator.attempt import Attempt
    from simulator.recording.listing import RecordingEntry
    from simulator.recording.recorded import Recording
    from simulator.recording.recorder import Recorder
    from simulator.scenario.asked_numbers import System

Progress = Callable[[float], object]


def add_recording_commands(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The recording commands' options."""
    listed = commands.add_parser("recordings", help="list the recordings that were kept, newest first")
    _folder_option(listed)
    listed.add_argument("--delete", metavar="NAME", help="delete one of them")
    listed.add_argument("--yes", action="store_true", help="delete without asking")
    units_option(listed)
    replay = commands.add_parser("replay", help="re-run a recording and compare it second by second")
    _recording_argument(replay)
    units_option(replay)
    told = commands.add_parser("debrief", help="tell a recording: what went wrong, when, whose move")
    _recording_argument(told)
    told.add_argument("--compare", metavar="OTHER", help="a second recording, laid beside the first")
    told.add_argument("--pdf", type=Path, metavar="OUT.pdf", help="write the printable page")
    told.add_argument("--csv", type=Path, metavar="OUT.csv", help="write all readings for a spreadsheet")
    units_option(told)
    told.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the page")
    force_option(told)
    look = commands.add_parser("look", help="a recording in the window: go through it, play it, drive on from a moment")
    _recording_argument(look)
    look.add_argument("--at", dest="at_s", type=_time, default=0.0, metavar="T", help="seconds, or min:s")
    units_option(look)
    track = commands.add_parser("track", help="save a recording, or a span of it, as a command track")
    _recording_argument(track)
    track.add_argument("out", type=Path, metavar="OUT.csv", help="the track file")
    track.add_argument("--from", dest="from_s", type=_time, default=0.0, metavar="T", help="seconds, or min:s")
    track.add_argument("--to", dest="to_s", type=_time, metavar="T", help="seconds, or min:s")
    force_option(track)


def _folder_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--folder", type=Path, metavar="F", help="where recordings are; left out: the user's own folder"
    )


def _recording_argument(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("recording", help="a file, or one in the folder: name, beginning of it, or latest")
    _folder_option(parser)


def _time(text: str) -> float:
    found = re.fullmatch(r"(?:(\d+):)?(\d+(?:\.\d*)?)", text)
    if not found:
        raise argparse.ArgumentTypeError(f"given {text}, allowed: seconds such as 75, or min:s such as 1:15")
    return 60.0 * float(found[1] or 0.0) + float(found[2])


def run_recording_command(given: argparse.Namespace, caution: str) -> int:
    """Run one recording command; whatever is wrong with a file is said in a sentence."""
    try:
        return RECORDING_COMMANDS[given.command](given, caution)
    except Exception as error:
        if not isinstance(error, _told_in_a_sentence()):
            raise
        complain(error)
        return BAD_INPUT


def _told_in_a_sentence() -> tuple[type[Exception], ...]:
    """What is wrong with a recording; their rooms need the engine, so they are only looked for when something is."""
    from simulator.recording.again import CannotReplay
    from simulator.recording.lift_file import BrokenRecording

    return BrokenRecording, CannotReplay


def users_folder() -> Path:
    """Where this user's recordings are kept."""
    from simulator.recording.settings import read_settings, settings_path

    return read_settings(settings_path()).settings.recordings_folder


def _folder(given: argparse.Namespace) -> Path:
    return users_folder() if given.folder is None else Path(given.folder)


def _open(given: argparse.Namespace, name: str) -> Recording:
    """A recording by file or name; its notes go to the terminal."""
    from simulator.recording.lift_file import read

    recording = read(_found(given, name))
    complain(*recording.notes)
    return recording


def _found(given: argparse.Namespace, name: str) -> Path:
    """The file of a recording."""
    from simulator.recording.keep import find_recording

    return find_recording(_folder(given), name)


@contextmanager
def _progress(what: str) -> Iterator[Progress]:
    """A bar on the terminal; none when nobody looks."""
    from tqdm import tqdm

    with tqdm(total=100, desc=what, unit="%", leave=False, disable=None) as bar:
        yield lambda part: bar.update(int(100.0 * part) - bar.n)


def recordings(given: argparse.Namespace, caution: str) -> int:
    """List the folder, or delete one of it."""
    from simulator.recording.listing import list_recordings

    folder = _folder(given)
    if given.delete is None:
        entries = list_recordings(folder)
        tell(*(line for entry in entries for line in _entry_lines(entry, given.units)))
        if not entries:
            tell(f"no recordings in {folder}")
        complain(*(entry.fault for entry in entries if entry.fault))
        tell(caution)
        return OK
    if not given.yes and not _agreed(f"delete {given.delete} from {folder}? [y/N] "):
        tell("nothing was deleted")
        return OK
    from simulator.recording.keep import delete_recording

    tell(f"deleted {delete_recording(folder, given.delete)}")
    return OK


def _agreed(question: str) -> bool:
    try:
        return ask(question).strip().lower() in ("y", "yes")
    except EOFError:
        tell("")
        return False


def _entry_lines(entry: RecordingEntry, units: System) -> tuple[str, str]:
    from simulator.recording.recorded import minutes
    from simulator.words import known

    pair = " and ".join(name for name in entry.pair if name) or "no names"
    score = f"score {entry.score}" if entry.score else "no score"
    how = known("debrief.how_" + entry.how.replace(" ", "_"), entry.how)
    title = retold(entry.title, us=units == "us")
    return entry.name, f"    {title}; {pair}; {entry.stamp}; {minutes(entry.length_s)}; {how}; {score}"


def record_option(parser: argparse.ArgumentParser) -> None:
    """The option that keeps a lift driven without a window."""
    parser.add_argument(
        "--record",
        nargs="?",
        const="",
        metavar="FILE",
        help="keep a recording (headless): in FILE, or under a name of its own in the user's folder",
    )


TELEMETRY_HELP = (
    "write every reading; until the lift is over the rows stand beside it, in OUT.csv.NUMBERS.part, row by row"
)


def telemetry_options(parser: argparse.ArgumentParser) -> None:
    """The options that write every reading."""
    parser.add_argument("--telemetry", type=Path, metavar="OUT.csv", help=TELEMETRY_HELP)
    parser.add_argument("--rate", type=_rate, default=20.0, metavar="HZ", help="rows a second, up to every step; 20")


def _rate(text: str) -> float:
    rate = float(text)
    if not 0.0 < rate <= 1e4:
        raise argparse.ArgumentTypeError(f"given {text}, allowed: more than 0, at most 10000")
    return rate


def lift_outputs(given: argparse.Namespace) -> list[Output]:
    """The files that a lift without a window was asked to write.

    Raises:
        Refused: the recording is there already; a recording is never written over.
    """
    wanted = [(given.telemetry, TELEMETRY), (getattr(given, "save_track", None), TRACK)]
    if getattr(given, "record", None):
        if Path(given.record).exists():
            raise Refused(f"{given.record}: given a file that is there, allowed: a new file for the recording")
        wanted.append((Path(given.record), RECORDING))
    return [Output(path, kind) for path, kind in wanted if path is not None]


def recorder(attempt: Attempt, given: argparse.Namespace, stamp: str) -> AbstractContextManager[Recorder | None]:
    """The recorder that was asked for; nothing when none was.

    Raises:
        OSError: the named file is there already, or cannot be made.
    """
    from simulator.recording.keep import start_recording
    from simulator.recording.recorder import Recorder

    wanted = getattr(given, "record", None)
    if wanted is None:
        return nullcontext()
    if wanted == "":
        return start_recording(attempt, users_folder(), stamp)
    return Recorder(attempt, partial(begun, Path(wanted)), stamp=stamp)


def say_recorded(kept: Recorder | None) -> None:
    """Where the lift was kept, or since when it was not."""
    from simulator.recording.recorded import minutes

    if kept is None:
        return
    if kept.stopped_at_s is None:
        complain(f"recording: {kept.path}")
    else:
        complain(f"recording stopped at {minutes(kept.stopped_at_s)}: {kept.why}")


def replay(given: argparse.Namespace, caution: str) -> int:
    """Re-run and compare."""
    from simulator.recording.replay import check

    recording = _open(given, given.recording)
    with _progress("re-running") as progress:
        found = check(recording, progress=progress)
    title = retold(recording.head.title, us=given.units == "us")
    tell(f"{title} ({recording.name})", *found.sentences(), caution)
    return OK if found.same else NO


def debrief(given: argparse.Namespace, caution: str) -> int:
    """Tell one lift, or two; write what was asked for."""
    from simulator.recording.telemetry import write_csv
    from simulator.report.amounts import Amounts
    from simulator.report.lift.debrief import debrief as told_of
    from simulator.report.lift.debrief_lines import debrief_lines
    from simulator.report.lift.debrief_pages import write_pdf
    from simulator.words import say

    amounts = Amounts(given.units)
    written = [(given.csv, READINGS), (given.pdf, PAGE)]
    read = [_found(given, name) for name in (given.recording, given.compare) if name]
    look_at([Output(path, kind) for path, kind in written if path is not None], inputs=read, force=given.force)
    recording = _open(given, given.recording)
    told = told_of(recording, amounts)
    other = told_of(_open(given, given.compare), amounts) if given.compare else None
    tell(*debrief_lines(told, other))
    if given.csv is not None:
        write_csv(recording, given.csv, caution=caution)
        tell(f"readings: {given.csv}")
    if given.pdf is not None:
        with _progress("drawing") as progress:
            invented = say("program.invented")
            write_pdf(
                told, given.pdf, caution=caution, invented=invented, other=other, paper=given.paper, progress=progress
            )
        tell(f"page: {given.pdf}")
    tell(caution)
    return OK


def look(given: argparse.Namespace, caution: str) -> int:
    """Open the window on a recording."""
    from simulator.cli.window_answers import recheck_lift, tell_lift
    from simulator.window.program import NoDisplay, run_debrief

    recording = _open(given, given.recording)
    tell(caution)
    try:
        return run_debrief(recording, at_s=given.at_s, units=given.units, tell=tell_lift, recheck=recheck_lift)
    except NoDisplay as error:
        complain(error)
        return BAD_INPUT


def track(given: argparse.Namespace, caution: str) -> int:
    """Write a command track."""
    from simulator.recording.replay import track_of_recording
    from simulator.recording.track import write

    look_at([Output(given.out, TRACK)], inputs=[_found(given, given.recording)], force=given.force)
    recording = _open(given, given.recording)
    rows = track_of_recording(recording, from_s=given.from_s, to_s=given.to_s)
    write(given.out, rows, recording.rig, caution=caution)
    tell(f"{len(rows)} rows: {given.out}")
    return OK


RECORDING_COMMANDS: dict[str, Callable[[argparse.Namespace, str], int]] = {
    "recordings": recordings,
    "replay": replay,
    "debrief": debrief,
    "look": look,
    "track": track,
}
