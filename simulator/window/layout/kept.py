"""What is kept of a lift that is laid out: a draft in the user's folder, and the file it is saved to. No pygame.

A draft holds the lift, what was given of it, and every text that is half typed, so that nothing is lost when the
program ends in the middle. A file that somebody else has changed meanwhile is never written over without asking.
"""

from __future__ import annotations

import hashlib
import json
import re
from pathlib import Path
from typing import NamedTuple

from simulator.files.bounds import SCENARIO_BYTES
from simulator.files.reading import Unreadable, text_of
from simulator.files.writing import write_whole
from simulator.recording.settings import data_folder
from simulator.scenario.asked_numbers import System, written
from simulator.scenario.faults import BrokenScenario
from simulator.scenario.reader import parse_text
from simulator.scenario.toml_writer import dump
from simulator.scenario.writer_for_people import write_for_people
from simulator.window.layout.fields import fields_of
from simulator.window.layout.one_field import Typed
from simulator.window.layout.sheet import RANGED, Half, Settle, Sheet
from simulator.words import say

LONGEST_NAME = 40


class Draft(NamedTuple):
    """A lift that was being laid out."""

    sheet: Sheet
    path: Path | None
    """The file it is of."""
    digest: str
    """Of that file as it was read or written last."""


def draft_path() -> Path:
    """Where the draft is."""
    return data_folder() / "layout-draft.json"


def sheets_folder() -> Path:
    """Where sheets for the roadside go."""
    return data_folder() / "sheets"


def keep(sheet: Sheet, path: Path | None, digest: str, *, at: Path | None = None) -> str:
    """Keep a draft; answers why it could not be, or nothing."""
    table = {
        "lift": dump(sheet.lift),
        "given": sorted(sheet.given),
        "half": {key: list(half) for key, half in sheet.half.items()},
        "tons": sheet.tons,
        "ranges": {key: list(ends) for key, ends in sheet.ranges.items()},
        "path": None if path is None else str(path),
        "digest": digest,
    }
    place = at or draft_path()
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        write_whole(place, json.dumps(table, ensure_ascii=False, indent=1).encode())
    except OSError as why:
        return say("layout.not_kept", why=str(why))
    return ""


def kept(system: System, settle: Settle, *, at: Path | None = None) -> Draft | None:
    """The draft that is kept; None where there is none that can be read."""
    try:
        table = json.loads(text_of(at or draft_path(), SCENARIO_BYTES, "a draft"))
        sheet = Sheet(parse_text(table["lift"], "draft"), system=system, settle=settle)
        sheet.given = frozenset(map(str, table["given"]))
        keys = {one.key for one in sheet.fields}
        sheet.half = {key: Half(*map(str, row)) for key, row in table["half"].items() if key in keys}
        sheet.tons = table["tons"] if table["tons"] in ("short", "metric") else None
        rows = table.get("ranges", {}).items()
        sheet.ranges = {key: (float(low), float(high)) for key, (low, high) in rows if key in RANGED}
        path = Path(table["path"]) if table["path"] else None
        return Draft(sheet, path, str(table["digest"]))
    except (Unreadable, BrokenScenario, ValueError, KeyError, TypeError, AttributeError):
        return None


def forget(at: Path | None = None) -> None:
    """The draft is done with: its lift is in a file."""
    (at or draft_path()).unlink(missing_ok=True)


# The file ---------------------------------------------------------------------------------------------------------


def digest_of(path: Path) -> str:
    """What a file holds, in short; empty where there is none."""
    try:
        return hashlib.sha256(text_of(path, SCENARIO_BYTES, "a scenario").encode()).hexdigest()
    except Unreadable:
        return ""


def file_name(title: str) -> str:
    """A file's name for a title."""
    plain = re.sub(r"[^a-z0-9]+", "_", title.lower()).strip("_")[:LONGEST_NAME].strip("_")
    return f"{plain or 'lift'}.toml"


def beside(path: Path) -> Path:
    """A name that is free, next to a file that stays."""
    number = 2
    while (found := path.with_name(f"{path.stem}_{number}{path.suffix}")).exists():
        number += 1
    return found


def between(sheet: Sheet, typed: Typed) -> str:
    """The range that was given of a number, in words; nothing where there is none."""
    if typed.key not in sheet.ranges:
        return ""
    low, high = (written(one, typed.asked(sheet.system), sheet.system) for one in sheet.ranges[typed.key])
    return say("layout.between", low=low, high=high)


def text_for(sheet: Sheet) -> str:
    """The lift as a scenario file, each number that the screen shows with a word on where it is from."""
    words: dict[str, str] = {}
    for typed in fields_of(sheet.lift):
        how = say("layout.measured" if typed.key in sheet.given else "layout.assumed")
        for key in typed.keys:
            note = f"{typed.label}: {typed.shown(sheet.lift, sheet.system)}, {how}{between(sheet, typed)}"
            words[key] = f"{words[key]}; {note}" if key in words else note
    head = say("layout.file_head").splitlines()
    return write_for_people(sheet.lift, sheet.system, head=head, words=words)


def save(sheet: Sheet, path: Path) -> str:
    """Write the file, and see that it reads to the same lift; its digest.

    Raises:
        OSError: it cannot be written.
    """
    text = text_for(sheet)
    assert parse_text(text, path.name) == sheet.lift
    path.parent.mkdir(parents=True, exist_ok=True)
    write_whole(path, text.encode())
    return digest_of(path)
