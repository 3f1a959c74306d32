"""The pygame program."""

import os

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
