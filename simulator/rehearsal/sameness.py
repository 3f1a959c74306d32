"""What decides how a rehearsal comes out beside its job: the program's sources, and the versions they run on."""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from pathlib import Path

from simulator.files.reading import bytes_of
from simulator.recording.recorder import versions

PACKAGE = Path(__file__).resolve().parent.parent
MOST_BYTES = 1_000_000


@cache
def program() -> dict[str, str]:
    """Versions by name, and a digest of all sources of the program; compiled or not makes no difference to a lift."""
    found = sha256()
    for path in sorted(PACKAGE.rglob("*.py")):
        found.update(path.relative_to(PACKAGE).as_posix().encode() + b"\0")
        found.update(bytes_of(path, MOST_BYTES, "a source of the program"))
    return {**versions(), "sources": found.hexdigest()[:16]}


def difference(own: dict[str, str], other: dict[str, str]) -> str:
    """What differs between two programs, in words; empty where nothing does."""
    names = [name for name in {**own, **other} if own.get(name) != other.get(name)]
    return ", ".join(f"{name} {other.get(name, 'none')} there, {own.get(name, 'none')} here" for name in names)
