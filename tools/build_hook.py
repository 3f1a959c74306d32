"""Compiles the engine's inner rooms while the package is built, where that can be done; never stops a build."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class EngineHook(BuildHookInterface):  # type: ignore[type-arg]
    """In place; from there into the wheel too."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Called before anything is put together."""
        root = Path(self.root)
        spec = importlib.util.spec_from_file_location("compile_engine", root / "tools" / "compile_engine.py")
        if self.target_name != "wheel" or spec is None or spec.loader is None:
            return
        tool = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(tool)
        folder = root / "simulator" / "_compiled"
        try:
            said = tool.compiled(root, folder)
        except Exception as error:  # a build without compiled rooms is whole all the same
            said = f"The engine runs in plain Python, since compiling it failed: {error!r}."
        if said:
            self.app.display_warning(said)
        elif version != "editable":
            rooms = tool.rooms_of(root)
            files = [rooms.stamp(folder), *(rooms.file_of(name, folder) for name in rooms.names())]
            build_data["force_include"].update({str(file): f"simulator/_compiled/{file.name}" for file in files})
            build_data["pure_python"], build_data["infer_tag"] = False, True
