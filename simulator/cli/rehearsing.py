"""`rehearse`: one lift driven many times, what is not known drawn by lot."""

from __future__ import annotations

import argparse
import json
import re
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from simulator.cli.exit_codes import BAD_INPUT, NO, OF_VERDICT
from simulator.cli.planning.typed import note_tons, tons_json, tons_said
from simulator.drill.ways import WAYS
from simulator.files import bounds
from simulator.files.interrupts import Interrupts
from simulator.files.plain_text import cut_to
from simulator.files.terminal import complain, force_option, tell, tell_json, units_option
from simulator.files.writing import COUNTED, REHEARSALS, REHEARSED, Output, look_at, write_whole
from simulator.scenario.retold import retold
from simulator.scenario.rig import PAIR
from simulator.words import say

if TYPE_CHECKING:
    from simulator.rehearsal.driven import Job
    from simulator.rehearsal.kept import KeptRows
    from simulator.rehearsal.lots import Lots
    from simulator.rehearsal.many import Where
    from simulator.report.rehearsal.rehearsed import Rehearsal
    from simulator.scenario.description import Description

Describe = Callable[[str], "Description | None"]
"""A scenario by file or name; None when it has faults, which are told."""
CODES = (
    "Exit code 1: in a draw a limit was passed or the lift did not end as it should, the check finds a limit passed in "
    "the lift as described, or not all draws were driven; 3: the check says not judged; 2: input that cannot be used. "
    "Nothing of it says that anybody may lift."
)
TABLE, COUNTS, PAGE = "rehearsal.csv", "rehearsal.json", "rehearsal.pdf"
"""What a finished run leaves in its folder, beside its draws and the recordings of the worst."""
DRAWS = 100
LEAST_SHARE, MOST_SHARE = 0.5, 2.0
"""Of the stated weight: what a scenario file may hide (`trailer.hidden_mass_factor`)."""
PLAIN_LINES = 10
"""So many lines of progress where no terminal shows a bar."""


def add_rehearse_command(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Its options; what they hold is read here, so that all their faults are told at once."""
    about = "drive a lift many times, load, wind and operators drawn by lot"
    parser = commands.add_parser("rehearse", help=about, description=about, epilog=CODES)
    parser.add_argument("scenario", help="a file, or a shipped scenario's name")
    parser.add_argument("--draws", metavar="N", default=str(DRAWS), help=f"how many; {DRAWS}")
    parser.add_argument("--weight", metavar="0.9..1.1", help="true weight: a share of the stated one, or 22..28t")
    parser.add_argument("--cg", metavar="-0.3..0.3m", help="true center of gravity from the stated one, along")
    parser.add_argument("--cg-across", metavar="-0.1..0.1m", help="the same across")
    parser.add_argument("--wind", metavar="0..6m/s", help="mean wind; gusts on top as described")
    ways = ", ".join(way.replace(" ", "-") for way in WAYS)
    hands = f"which of these ways each unit's operator draws; nose=slews-only for one unit alone: {ways}"
    parser.add_argument("--operators", metavar="able,a-little-clumsy", default="able", help=hands)
    parser.add_argument("--seed", metavar="N", help="of the draws; the scenario's own")
    parser.add_argument("--jobs", metavar="N", help="processes; as many as cores. It changes no result")
    parser.add_argument("--on", metavar="ADDRESS", help="drive on the workers of a running Dask scheduler instead")
    kept = "keep rows, tables, a page and the ten worst as recordings; a run that was interrupted goes on there"
    parser.add_argument("--out", type=Path, metavar="FOLDER", help=kept)
    parser.add_argument("--causes", action="store_true", help="debrief each draw: what it names first")
    parser.add_argument("--json", action="store_true", help="the answer as JSON, SI")
    units_option(parser)
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the page")
    force_option(parser)


class AskedDraws(NamedTuple):
    """What the options ask for."""

    draws: int
    lots: Lots
    where: Where


def rehearse(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """Drive them all and tell what they came to."""
    lift = describe(given.scenario)
    faults: list[str] = []
    asked = _asked(given, lift, faults)
    complain(*faults)
    if lift is None or faults:
        return BAD_INPUT
    from simulator.cli.window_answers import declined
    from simulator.rehearsal.cores import WorkersLost
    from simulator.rehearsal.driven import Job
    from simulator.report.rehearsal.rehearsed import first_told

    if why := declined(lift, given.units):
        complain(f"{retold(lift.title, us=given.units == 'us')}: not driven. {why[:1].upper()}{why[1:]}", caution)
        return NO
    _look_at_outputs(given)
    try:
        return _rehearsed(given, asked, Job(lift, asked.lots, first_told if given.causes else None), caution)
    except WorkersLost as error:
        kept = [] if given.out is None else [f"what was driven is kept in {given.out}, and the same command goes on"]
        complain(error, *kept)
        return NO


def _rehearsed(given: argparse.Namespace, asked: AskedDraws, job: Job, caution: str) -> int:
    from simulator.rehearsal.kept import KeptRows
    from simulator.rehearsal.many import rehearse as drive_many
    from simulator.report.rehearsal.rehearsed import Rehearsal, set_up_of

    set_up = set_up_of(job.lift)
    with ExitStack() as open_now:
        stop = open_now.enter_context(Interrupts())
        kept = None if given.out is None else open_now.enter_context(KeptRows(given.out, job))
        with _progress(asked.draws) as progress:
            rows = drive_many(job, asked.draws, asked.where, kept=kept, stopped=stop.asked, progress=progress)
        found = Rehearsal(job.lift, asked.lots, asked.draws, rows, set_up)
        same = _keep(found, job, given, asked.where, stop.asked) if kept and found.finished else True
    _tell(found, given, caution)
    if not found.finished:
        complain(_stopped(stop.how, kept, found))
    return OF_VERDICT[found.verdict] if same and found.finished else NO


def _stopped(how: str, kept: KeptRows | None, found: Rehearsal) -> str:
    """That it was, and what is left of it."""
    left = "nothing of them is kept" if kept is None else f"they are kept in {kept.path}, and the same command goes on"
    return f"stopped {how}: {len(found.rows)} of {found.asked} draws driven; {left}"


def _tell(found: Rehearsal, given: argparse.Namespace, caution: str) -> None:
    from simulator.report.amounts import Amounts
    from simulator.report.rehearsal.rehearsed_lines import rehearsal_lines

    if given.json:
        tell_json(found.as_json() | tons_json(given))
        return
    tell(*rehearsal_lines(found, Amounts(given.units), given.out))
    if given.out is None:
        tell(say("rehearsal.not_kept"))
    tell(*tons_said(given), caution)


def _keep(found: Rehearsal, job: Job, given: argparse.Namespace, where: Where, stopped: Callable[[], bool]) -> bool:
    """Tables, page, and the worst once more; whether those came to the same states."""
    from simulator.rehearsal.many import record
    from simulator.report.amounts import Amounts
    from simulator.report.rehearsal.rehearsed_pages import write_page

    same = True
    complain(f"driving the {len(found.tally.worst)} worst again, to keep them as recordings")
    for row, is_same in record(job, found.tally.worst, given.out, where, stopped=stopped):
        if not is_same:
            complain(f"draw {row.number}: driven again it came to another state; its recording is of the second time")
        same &= is_same
    found.write_csv(given.out / TABLE)
    write_whole(given.out / COUNTS, json.dumps(found.as_json(), indent=2, allow_nan=False).encode())
    write_page(found, given.out / PAGE, Amounts(given.units), paper=given.paper)
    return same


def _look_at_outputs(given: argparse.Namespace) -> None:
    """Refuse what would destroy a file."""
    if given.out is not None and given.out.is_dir():
        from simulator.places import find_scenario

        outputs = [Output(given.out / name, kind) for name, kind in
                   ((TABLE, REHEARSED), (COUNTS, COUNTED), (PAGE, REHEARSALS))]  # fmt: skip
        look_at(outputs, inputs=[find_scenario(given.scenario)], force=given.force)


@contextmanager
def _progress(draws: int) -> Iterator[Callable[[int], None]]:
    """A bar on a terminal; where nobody looks a line now and then."""
    from tqdm import tqdm

    tqdm.monitor_interval = 0  # no thread beside those that drive
    with tqdm(total=draws, unit="draw", leave=False, disable=None) as bar:
        shown = 0

        def tell_how_many(done: int) -> None:
            nonlocal shown
            bar.update(done - bar.n)
            if bar.disable and (done == draws or done * PLAIN_LINES // draws > shown):
                shown = done * PLAIN_LINES // draws
                complain(f"{done} of {draws} draws driven")

        yield tell_how_many


def _asked(given: argparse.Namespace, lift: Description | None, faults: list[str]) -> AskedDraws:
    """All options read; what is wrong with each is added to `faults`."""
    from simulator.rehearsal.lots import SEEDS, Lots, wild
    from simulator.rehearsal.many import MOST_JOBS, Where

    draws = _whole("--draws", given.draws, 1, bounds.DRAWS, "1000", faults)
    jobs = None if given.jobs is None else _whole("--jobs", given.jobs, 1, MOST_JOBS, "2", faults)
    seed = None if given.seed is None else _whole("--seed", given.seed, 0, SEEDS - 1, "7", faults)
    if given.on is not None and given.jobs is not None:
        _fault(faults, "--jobs", f"{given.jobs} beside --on", "one of them: the workers are as many as they are")
    if given.out is not None and not _may_be_folder(given.out):
        _fault(faults, "--out", f'"{given.out}"', "a folder, new or of the same run, in one that is there")
    units = PAIR if lift is None else tuple(one.name for one in lift.units)
    lots = Lots(
        seed if seed is not None else lift.seed if lift else 0,
        _ways(given.operators, units, faults),
        _weight(given, lift, faults),
        _range("cg", given, "--cg", faults),
        _range("cg", given, "--cg-across", faults),
        _range("wind", given, "--wind", faults),
    )
    if lift is not None and not faults:
        faults += wild(lift, lots)
    return AskedDraws(draws, lots, Where(jobs, given.on))


def _may_be_folder(path: Path) -> bool:
    return path.is_dir() or (not path.exists() and path.absolute().parent.is_dir())


def _fault(faults: list[str], place: str, given: str, allowed: str) -> None:
    faults.append(f"{place}: given {given}, allowed: {allowed}")


def _whole(option: str, text: str, low: int, high: int, example: str, faults: list[str]) -> int:
    """A whole number."""
    if re.fullmatch(r"\d{1,12}", text) and low <= int(text) <= high:
        return int(text)
    _fault(faults, option, f'"{cut_to(text, 60)}"', f"a whole number such as {example}, {low} to {high}")
    return low


def _range(what: str, given: argparse.Namespace, option: str, faults: list[str]) -> tuple[float, float] | None:
    from simulator.plan.ranges import BrokenRange, read_range

    text = getattr(given, option.removeprefix("--").replace("-", "_"))
    try:
        found = None if text is None else read_range(text, what, given.units, given.tons)
    except BrokenRange as error:
        _fault(faults, option, f'"{cut_to(text or "", 60)}"', str(error))
        return None
    note_tons(given, found and found.tons)
    return found and found[:2]


def _weight(given: argparse.Namespace, lift: Description | None, faults: list[str]) -> tuple[float, float] | None:
    """As a share of the stated weight, whichever way it was said."""
    from simulator.plan.ranges import is_share_of_weight

    text = given.weight
    if text is None or is_share_of_weight(text):
        return _range("share", given, "--weight", faults)
    found = _range("weight", given, "--weight", faults)
    if found is None or lift is None:
        return None
    from simulator.plan.sweep import stated_corner

    stated_kg = stated_corner(lift).mass_kg
    low, high = found[0] / stated_kg, found[1] / stated_kg
    if low < LEAST_SHARE or high > MOST_SHARE:
        may = f"{LEAST_SHARE:g} to {MOST_SHARE:g} of the stated {stated_kg / 1e3:.1f} t, such as 0.9..1.1"
        _fault(faults, "--weight", f'"{cut_to(text, 60)}"', may)
    return low, high


def _ways(text: str, units: tuple[str, ...], faults: list[str]) -> tuple[tuple[str, ...], ...]:
    """The ways of each unit: its own where some are named for it, else those for all."""
    of_all: list[str] = []
    own: dict[str, list[str]] = {}
    for one in text.split(","):
        unit, is_own, name = one.rpartition("=")
        way = name.strip().replace("-", " ")
        if way not in WAYS:
            _fault(faults, "--operators", f'"{cut_to(name, 60)}"', ", ".join(known.replace(" ", "-") for known in WAYS))
        elif is_own and unit.strip() not in units:
            may = f"{' or '.join(units)}, such as {units[0]}=able"
            _fault(faults, "--operators", f'unit "{cut_to(unit, 60)}"', may)
        else:
            (own.setdefault(unit.strip(), []) if is_own else of_all).append(way)
    return tuple(tuple(own.get(unit, of_all) or ["able"]) for unit in units)
