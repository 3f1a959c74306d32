"""The user's own folders: for settings, for what the program keeps, and for what it can make again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import platformdirs

PROGRAM = "slopepick"


def config_folder() -> Path:
    """For settings."""
    return _own_folder(platformdirs.user_config_dir)


def data_folder() -> Path:
    """The user's folder for what the program keeps."""
    return _own_folder(platformdirs.user_data_dir)


def cache_folder() -> Path:
    """The user's folder for what the program can make again and keeps only for speed."""
    return _own_folder(platformdirs.user_cache_dir)


def _own_folder(find: Callable[..., str]) -> Path:
    """The user's own, or one in the present folder for a user who has no home."""
    try:
        return Path(find(PROGRAM, appauthor=False))
    except RuntimeError:
        return Path.cwd() / PROGRAM
