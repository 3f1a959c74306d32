"""Which of the engine's inner rooms run: compiled, where they were made from the very sources that stand here, or the
sources themselves. Both give the same bits; the compiled ones are some twenty times as fast.

`tools/compile_engine.py` makes them, into `_compiled` beside this file. Sources that have changed since are run as they
are. `SLOPEPICK_PURE=1` in the environment runs the sources whatever there is. Every command imports this room, so what
only some need is imported where it is used.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from functools import cache
from importlib.machinery import EXTENSION_SUFFIXES, ExtensionFileLoader, ModuleSpec
from pathlib import Path
from types import ModuleType

PACKAGE = Path(__file__).parent
FOLDER = PACKAGE / "_compiled"
SWITCH = "SLOPEPICK_PURE"
GROUP = "slopepick__mypyc"
"""The library that holds them all; each room's own file only opens it."""
ROOMS = (
    *(f"mechanics.{room}" for room in ("matrix", "four_floats", "unit_loads", "load_table", "ground", "ridges")),
    *(f"mechanics.{room}" for room in ("lean", "going_over", "hoist_line", "boom", "bearing", "tank")),
    *(f"engine.{room}" for room in ("drives", "slung", "numbers", "over", "moving", "leaning", "booms", "round_load")),
    *(
        f"engine.{room}"
        for room in ("lines", "stance", "edges", "contact", "loads_besides", "cargo", "motion", "stepping", "recent")
    ),
    *(f"engine.{room}" for room in ("capture", "line_leans", "instruments", "watching")),
)
"""All that a step and a set of readings run through, in the order of their imports."""


def source_of(room: str, package: Path = PACKAGE) -> Path:
    """A room's source."""
    return package.joinpath(*room.split(".")).with_suffix(".py")


def digest(package: Path = PACKAGE) -> str:
    """Of all their sources: what was compiled belongs to it."""
    from hashlib import sha256

    found = sha256()
    for room in ROOMS:
        found.update(room.encode() + b"\0" + source_of(room, package).read_bytes())
    return found.hexdigest()


def stamp(folder: Path = FOLDER) -> Path:
    """Where the digest of what was compiled stands, for this Python."""
    return folder / f"sources{EXTENSION_SUFFIXES[0]}.txt"


def file_of(name: str, folder: Path = FOLDER) -> Path:
    """What was compiled of a module, for this Python."""
    return folder / f"{name}{EXTENSION_SUFFIXES[0]}"


def names() -> tuple[str, ...]:
    """All that is compiled, by the names of modules."""
    return GROUP, *(f"simulator.{room}" for room in ROOMS)


def is_fresh(folder: Path = FOLDER, package: Path = PACKAGE) -> bool:
    """Something is compiled for this Python, from the sources as they are."""
    try:
        return stamp(folder).read_text(encoding="ascii") == digest(package)
    except (OSError, ValueError):
        return False


@cache
def runs() -> bool:
    """Whether the compiled rooms are what runs; their library is loaded when this is first asked."""
    if os.environ.get(SWITCH) or not is_fresh():
        return False
    from importlib.util import module_from_spec, spec_from_file_location

    file = str(file_of(GROUP))
    spec = spec_from_file_location(GROUP, file, loader=ExtensionFileLoader(GROUP, file))
    if spec is None or spec.loader is None:
        return False
    try:
        library = module_from_spec(spec)
        spec.loader.exec_module(library)
    except ImportError:  # made on another system
        return False
    sys.modules[GROUP] = library
    return True


class _Finder:
    """Finds compiled rooms before Python looks for sources."""

    @staticmethod
    def find_spec(fullname: str, path: Sequence[str] | None, target: ModuleType | None = None, /) -> ModuleSpec | None:
        if fullname.removeprefix("simulator.") not in ROOMS or not runs():
            return None
        from importlib.util import spec_from_file_location

        file = str(file_of(fullname))
        return spec_from_file_location(fullname, file, loader=ExtensionFileLoader(fullname, file))


def look_for() -> None:
    """From here on rooms are looked for among what was compiled."""
    sys.meta_path.insert(0, _Finder)


def told() -> str:
    """What runs, for `--version`."""
    return "engine compiled" if runs() else "engine in plain Python"
