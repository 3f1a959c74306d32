"""What to do another time: the advice that goes with a finding's own cause, or else with what it is about."""

from __future__ import annotations

from simulator.words import known


def next_time(level: str, key: str, cause: str = "") -> str:
    """The advice for a finding; empty where there is none.

    Args:
        level: caution, stop or incident.
        key: the channel it is about; empty for none.
        cause: what kind of fault is told first, such as `went on alone`; empty for none.
    """
    places = (cause.replace(" ", "_"), key.rpartition(".")[2], "incident" if level == "incident" else "")
    return next((said for place in places if place and (said := known(f"next_time.{place}"))), "")
