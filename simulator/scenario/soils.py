"""Named soils. A scenario may name one of them, or any other with both numbers beside the name.

Allowable bearing: IBC 2012 Table 1806.2, reproduced whole in a textbook; fill: Chicago code 13-132-060, archived.
Steepest line from the toe: 29 CFR 1926 Subpart P App. B Table B-1, secondary copy: soil is type C, 1-1/2:1, until a
competent person has found it to be better (1926.652(b)(1), from memory); stable rock vertical. Both tables hold for
slopes up to 20 ft with nothing heavy on top: beyond that an engineer decides.
"""

from __future__ import annotations

from typing import Any

SOILS: dict[str, dict[str, Any]] = {
    "crystalline bedrock": {"allowable_bearing": 574.6e3, "steepest_angle": 1.5707963},
    "sedimentary rock": {"allowable_bearing": 191.5e3, "steepest_angle": 1.5707963},
    "sandy gravel": {"allowable_bearing": 143.6e3, "steepest_angle": 0.5880026},
    "sand": {"allowable_bearing": 95.8e3, "steepest_angle": 0.5880026},
    "clay": {"allowable_bearing": 71.8e3, "steepest_angle": 0.5880026},
    "fill": {"allowable_bearing": 23.94e3, "steepest_angle": 0.5880026},
}
"""Keys and values as in a scenario file, SI."""
