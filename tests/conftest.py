"""For all tests: the terminal's last line is pytest's own, and property tests try the same cases in every run."""

import os

from hypothesis import settings

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

settings.register_profile("same", deadline=None, derandomize=True, database=None)
settings.register_profile("roam", deadline=None, max_examples=1000)
settings.load_profile("same")
