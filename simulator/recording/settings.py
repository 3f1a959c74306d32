"""The user's settings: one small TOML file in their own folder; whatever is wrong with it is a sentence."""

from __future__ import annotations

import os
import tomllib
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path
from typing import Any, Literal, NamedTuple

from simulator.files.bounds import SETTINGS_BYTES
from simulator.files.own_folders import cache_folder as cache_folder
from simulator.files.own_folders import config_folder
from simulator.files.own_folders import data_folder as data_folder
from simulator.files.reading import Unreadable, text_of
from simulator.files.writing import write_whole
from simulator.scenario.faults import cut, listed, one_line, shown
from simulator.scenario.toml_size import too_much
from simulator.scenario.toml_writer import as_toml

LONGEST_TEXT = 200
ALLOWED = {"bool": "true or false", "str": f"text of at most {LONGEST_TEXT} characters"}


@dataclass(frozen=True)
class Settings:
    """What a user may choose. The names of the fields are the keys in the file."""

    units: Literal["metric", "us"] = "metric"
    mute: bool = False
    reduced_motion: bool = False
    """The camera jumps instead of easing."""
    plain_presenting: bool = False
    """Frames go to the screen without acceleration, which is faster where there is no graphics card."""
    tap_to_hold: bool = False
    """One tap starts a function, the next stops it."""
    left_name: str = ""
    right_name: str = ""
    recordings: str = ""
    """Folder of recordings; empty: the program's own."""
    tons: Literal["", "short", "metric"] = ""
    """Which ton the user means by a ton; empty: not said yet."""

    @property
    def recordings_folder(self) -> Path:
        """Where recordings are kept."""
        # os.path leaves a ~ of nobody as it is, where pathlib raises.
        return Path(os.path.expanduser(self.recordings)) if self.recordings else data_folder() / "recordings"


class Found(NamedTuple):
    """Settings that were read, and what was wrong with the file."""

    settings: Settings
    faults: tuple[str, ...] = ()


def settings_path() -> Path:
    """The file of settings."""
    return config_folder() / "settings.toml"


def read_settings(path: Path) -> Found:
    """The settings in a file; a file that is not there has none. What cannot be used stays as it is by default."""
    try:
        if not path.exists():
            return Found(Settings())
        text = text_of(path, SETTINGS_BYTES, "a file of settings")
    except (Unreadable, OSError) as error:
        return Found(Settings(), (f"{path.name}: {error}; {_USUAL}",))
    if (over := too_much(text)) is not None:
        return Found(Settings(), (f"{path.name}: line {over.line}: given {over.given}; {_USUAL}",))
    try:
        values = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        return Found(Settings(), (f"{path.name}: given text that is no TOML ({cut(str(error))}); {_USUAL}",))
    good, faults = {}, []
    for key, value in values.items():
        fault = fault_of(key, value)
        if fault:
            faults.append(f"{path.name}: {fault}")
        else:
            good[key] = value
    return Found(replace(Settings(), **good), tuple(faults))


def fault_of(key: str, value: object) -> str:
    """Why a key cannot have a value; empty when it can."""
    kinds = {row.name: str(row.type) for row in fields(Settings)}
    if key not in kinds:
        return f"{cut(key)}: given a key that is not known, allowed: {listed(kinds)}"
    if key == "units":
        return "" if value in ("metric", "us") else f"units: given {shown(value)}, allowed: metric or us"
    if key == "tons":
        return "" if value in ("", "short", "metric") else f"tons: given {shown(value)}, allowed: short or metric"
    kind = kinds[key]
    is_good = isinstance(value, bool) if kind == "bool" else isinstance(value, str) and len(value) <= LONGEST_TEXT
    return "" if is_good else f"{key}: given {shown(value)}, allowed: {ALLOWED[kind]}"


def write_settings(settings: Settings, path: Path) -> str:
    """Keep settings, all of them or none.

    Returns:
        Empty, or why they could not be kept, in a sentence.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, _as_toml(asdict(settings)).encode("utf-8", "replace"))
    except (OSError, ValueError) as error:
        return f"{path}: the settings could not be kept ({_why(error)}); they hold until the program ends."
    return ""


def _as_toml(values: dict[str, Any]) -> str:
    rows = (f"{key} = {as_toml(one_line(value) if isinstance(value, str) else value)}" for key, value in values.items())
    return "\n".join(rows) + "\n"


def _why(error: Exception) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or "not UTF-8 text"


_USUAL = "the usual settings hold"
