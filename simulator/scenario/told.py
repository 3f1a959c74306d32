"""What units are told in a step of a drill, however a file says it: `to`, or the older `to_nose` and `to_tail`."""

from __future__ import annotations

from typing import Any

from simulator.scenario.rig import PAIR

OLDER = {f"to_{unit}": unit for unit in PAIR}


def with_told(top: dict[str, Any]) -> dict[str, Any]:
    """The same content with every step's texts as a list of units and texts; what is wrong stays where it is found."""
    drill = top.get("drill")
    if not isinstance(drill, dict) or not isinstance(drill.get("steps"), list):
        return top
    steps = [_step(one) if isinstance(one, dict) else one for one in drill["steps"]]
    return {**top, "drill": {**drill, "steps": steps}}


def _step(step: dict[str, Any]) -> dict[str, Any]:
    older = {unit: step[key] for key, unit in OLDER.items() if key in step}
    to = step.get("to", {})
    if not isinstance(to, dict) or not (to or older):
        return step
    rest = {key: value for key, value in step.items() if key not in OLDER}
    return {**rest, "to": [{"unit": unit, "text": text} for unit, text in {**older, **to}.items()]}
