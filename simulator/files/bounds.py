"""The limits of what is taken from a file that somebody else may have made; past them nothing is worked on.

Each is far above what a lift needs, and low enough that any file is answered within seconds and in a few hundred
megabytes. Whoever looks at a limit says in its sentence what was given and what is allowed.
"""

from __future__ import annotations

SCENARIO_BYTES = 1_000_000
SCENARIO_TOKENS = 40_000
"""Keys, values, dots, brackets and line ends of a scenario file."""
SCENARIO_DEPTH = 12
"""Names of a dotted key, and brackets inside brackets."""
LIST_ITEMS = 400
"""Items of any list of a scenario: parts, corners, points, rows, steps. Rules of a lift may allow fewer."""
CORNERS = 1_000
"""Corners of all parts of a trailer together."""
UNKNOWN_NAMES = 20
"""So many unknown names of one table are told one by one."""
FAULTS = 200
"""So many faults of one file are told."""
TEXT_LETTERS = 2_000
"""Any text of a scenario: a title, a name, a story, what an operator is told."""
TITLE_LETTERS = 200
"""What is kept of a title, a name or a date in the head of a recording."""
SETTLING_STEPS = 30_000
"""Steps of the engine before time zero."""
GROUND_WORK = 800_000
"""Steps before time zero times corners that may touch the ground."""

RECORDING_BYTES = 200_000_000
HEAD_BYTES = 4_000_000
"""A head or an end mark, unpacked."""
SECOND_BYTES = 4_000_000
"""A second of a lift, unpacked."""
UNPACKED_BYTES = 256_000_000
"""All frames of a recording together, unpacked."""
FRAMES = 60_000
SEARCHES = 8
"""A damaged file is searched for frames that are whole; so many times its size is looked through."""
LIFT_S = 14_400.0
"""The longest lift that is read or driven without a window."""
CHANNELS = 400
SAMPLES = 100
"""Samples in one second."""
EVENTS = 5_000
"""Events of a lift."""
EVENT_LETTERS = 400
GAPS = 200
"""Parts whose gaps are kept."""
ACCOUNT_LINES = 400
"""Lines of a drill's account."""
LARGEST_READING = 1e9
"""A reading in SI that is larger than this is no reading of a lift."""

DRAWS = 100_000
"""Rehearsals of one run: their rows stand in memory, some 2 kB each."""
TRACK_BYTES = 20_000_000
SETTINGS_BYTES = 100_000
INDEX_BYTES = 50_000_000
