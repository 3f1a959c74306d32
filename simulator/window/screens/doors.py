"""The two screens that others lead back to."""

from __future__ import annotations

from simulator.window.screens.debrief_screen import DebriefScreen
from simulator.window.screens.screen import Doors
from simulator.window.screens.start_screen import start

DOORS = Doors(start, lambda back, at_s, fault: DebriefScreen(back, at_s=at_s, fault=fault))
