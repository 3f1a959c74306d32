"""Where the files that ship with the program are: scenarios and assets, in a checkout or an installed wheel."""

from __future__ import annotations

from pathlib import Path

from simulator.scenario.faults import BrokenScenario, Fault, cut, listed

RESPELLED = {"centring": "centering"}  # the older spelling
"""Shipped lifts that were spelled otherwise once."""
_PACKAGE = Path(__file__).resolve().parent


def _folder(name: str) -> Path:
    """A wheel carries its data inside the package; a checkout has it beside the package."""
    installed = _PACKAGE / "_data" / name
    return installed if installed.is_dir() else _PACKAGE.parent / name


def scenarios_folder() -> Path:
    """Folder of the shipped scenario files."""
    return _folder("scenarios")


def assets_folder() -> Path:
    """Folder of fonts, words, icons and sounds."""
    return _folder("assets")


def shipped_scenarios() -> tuple[Path, ...]:
    """The shipped scenario files, by name."""
    return tuple(sorted(scenarios_folder().glob("*.toml")))


def shipped_drills() -> tuple[Path, ...]:
    """The shipped drills, each a scenario file of its own, by name."""
    return tuple(sorted((scenarios_folder() / "drills").glob("*.toml")))


def find_scenario(name_or_path: str | Path) -> Path:
    """A scenario file by its path, or a shipped one by its name with or without `.toml`.

    Raises:
        BrokenScenario: there is neither; it lists the shipped names.
    """
    shipped = {path.stem: path for path in (*shipped_scenarios(), *shipped_drills())}
    path = Path(name_or_path)
    if _exists(path):
        return path
    name = str(name_or_path).removesuffix(".toml")
    name = RESPELLED.get(name, name)
    if name in shipped:
        return shipped[name]
    may = f"a file that exists, or a shipped scenario: {listed(shipped) if shipped else 'none found'}"
    raise BrokenScenario([Fault(cut(str(name_or_path)), "no such file", may)])


def _exists(path: Path) -> bool:
    """False, too, for text that can be no path."""
    try:
        return path.exists() and path.name != ""
    except (OSError, ValueError):
        return False
