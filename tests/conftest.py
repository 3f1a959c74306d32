"""For all tests: the terminal's last line is pytest's own."""

import os

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
