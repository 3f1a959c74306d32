"""What a plan allows for that a lift does beyond statics. All of it stands here; no limit of a plan has another.

A plan is statics of the agreed path. Able operators in this simulator were driven through set-ups drawn by lot; what
they met beside the plan these figures have to cover, at the 95th percentile at least: docs/verdict-tables.md has the
counts, `tools/driven_setups.py` makes them. Grade of source of all: measured by this simulator with able operators;
people and machines may do worse.
"""

from __future__ import annotations

from math import radians

DYNAMIC_MARGIN = 1.15
"""A load that is lifted pulls so much harder than one that hangs still: on every pull that is compared with capacity,
floats, bearing, functions, winch, rope and rigging. As much as statics of a start gives, 1 + 2 a / g at the usual 0.63
m/s2 of a hook on two parts; more than the 1.10 at which hoisting class HC2 of ISO 8686 begins (from memory)."""
HANDS_TAKE_M = 0.15
"""A load that is carried comes so much nearer to things, and a hook to its sheave, than agreed: sway, one end ahead."""
SLACK_M = 0.30
"""Lines lie so slack before the lift; each part of line takes that off the rope left."""
HANDS_LEAN_RAD = radians(0.95)
"""Tips are so far from plumb over the load while they are steered, beside what wind does: the 95th percentile of the
units in the lifts that were counted was 0.934 deg."""
