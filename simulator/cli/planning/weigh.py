"""`weigh`: what real displays showed in the first hold, turned into weight and heavy end, and the rest re-checked."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from math import radians
from typing import TYPE_CHECKING, TypeVar

from simulator.cli.planning.answer import BAD_INPUT, NOT_JUDGED, OK, REFUSED, Describe, refuse
from simulator.files.terminal import complain, tell, tell_json

if TYPE_CHECKING:
    from simulator.mechanics.weighing import Errors, Reading
    from simulator.scenario.description import Description

T = TypeVar("T")

LOADS = "a line of the lift and its load with a unit, such as nose=12.3t, nose=27.1klb or nose=120kN"
LEANS = "a line of the lift and its angle off plumb along, and across: nose=1.5deg or nose=1.5deg,-0.5deg"
MOST_LOAD_N = 5e6
MOST_ANGLE_RAD = radians(45.0)
MOST_READINGS = 6


_NUMBER = re.compile(r"^[-+]?(?:\d+\.?\d*|\.\d+)")


class Bad(ValueError):  # noqa: N818 - it says what it is
    """An option that cannot be used: which, what was given, what is allowed."""


def add_weigh(parser: argparse.ArgumentParser) -> None:
    """Its options; lists are of readings at other attitudes of the same load."""
    parser.add_argument("scenario", help="a file, or a shipped scenario's name")
    parser.add_argument(
        "--line", action="append", default=[], metavar="NAME=12.3t[,..]", help="a line load as displayed"
    )
    parser.add_argument("--lean", action="append", default=[], metavar="NAME=1deg[,0deg]",
                        help="off plumb along, across: load toward the tail unit, the road; plumb")  # fmt: skip
    parser.add_argument("--pitch", default="0deg", metavar="2deg[,..]", help="nose up; level")
    parser.add_argument("--roll", default="0deg", metavar="1deg[,..]", help="road side up; level")
    parser.add_argument("--gauge", default="5%", metavar="5%", help="gauges are good to this share of what they read")
    parser.add_argument("--full-scale", default="0t", metavar="0.2t", help="and to this, their error at full scale")
    parser.add_argument("--angle", default="0.5deg", metavar="0.5deg", help="angles are good to this")
    parser.add_argument("--tape", default="5cm", metavar="5cm", help="picks are where they are stated to this")
    parser.add_argument("--height", default="0.5m", metavar="0.5m", help="the stated height of the CG is good to this")
    parser.add_argument("--bed", default="0t", metavar="0.1t", help="the bed may still push or drag by this")
    parser.add_argument("--sway", default="0deg", metavar="0.3deg", help="the lines sway through so much each way")
    parser.add_argument("--at", choices=("hook", "winch"), default="hook", help="where the gauges measure; hook")
    parser.add_argument("--moved", choices=("up", "down", "unknown"), default="unknown",
                        help="which way the lines ran last, for gauges at the winch")  # fmt: skip
    parser.add_argument("--lies", action="store_true", help="part of the load still lies on the bed: bounds only")


def weigh(given: argparse.Namespace, describe: Describe, caution: str) -> int:
    """0: the rest of the path holds in every case of the spread; 1: a limit is passed; 3: in doubt or not judged."""
    described = describe(given.scenario)
    if described is None:
        return BAD_INPUT
    from simulator.plan.recheck import Unusable, recheck
    from simulator.report.amounts import Amounts
    from simulator.report.plan.weigh_lines import doubt_sentence, weigh_json, weigh_lines

    amounts = Amounts(given.units)
    try:
        errors, readings = _errors(given), _readings(given, described)
        if given.lies:
            return _bounds(given, described, readings, errors, caution)
        found = recheck(described, readings, errors)
    except Bad as bad:
        return refuse(*bad.args)
    except Unusable as broken:
        complain(*(doubt_sentence(one, amounts) for one in broken.doubts))
        return BAD_INPUT
    if given.json:
        tell_json(weigh_json(described, found) | {"caution": caution})
    else:
        tell(*weigh_lines(described, found, amounts), caution)
    return {"limit passed": REFUSED, "not judged": NOT_JUDGED, "no limit passed": OK}[found.verdict]


def _bounds(
    given: argparse.Namespace, described: Description, readings: list[Reading], errors: Errors, caution: str
) -> int:
    """Part of the load lies: nothing is judged with it."""
    from simulator.mechanics.weighing import bounds
    from simulator.mechanics.weighing_lift import ends_of, most_N
    from simulator.report.amounts import Amounts
    from simulator.report.plan.weigh_lines import bounds_lines

    found = bounds(readings[-1], errors, ends_of(described), most_N=most_N(described))
    if given.json:
        tell_json({"title": described.title, "on_bed": True, **found._asdict(), "caution": caution})
    else:
        tell(described.title, *bounds_lines(described, found, Amounts(given.units)), caution)
    return NOT_JUDGED


def _readings(given: argparse.Namespace, described: Description) -> list[Reading]:
    """One reading for each number of the longest list.

    Raises:
        Bad: an option that cannot be used.
    """
    from simulator.mechanics.weighing_lift import reading_of
    from simulator.scenario.rig import rig_of

    names = rig_of(described).line_names
    loads = _by_line("--line", given.line, names, _loads)
    if set(loads) != set(names):
        missing = ", ".join(name for name in names if name not in loads)
        raise Bad("--line", f"none for {missing}", LOADS)
    leans = _by_line("--lean", given.lean, names, _leans)
    pitches, rolls = (
        _list(option, text, _angle) for option, text in (("--pitch", given.pitch), ("--roll", given.roll))
    )
    lists = {**{f"--line {name}": found for name, found in loads.items()}, "--pitch": pitches, "--roll": rolls}
    count = max(map(len, lists.values()))
    for option, found in lists.items():
        if len(found) not in (1, count) or (option.startswith("--line") and len(found) != count):
            raise Bad(option, f"{len(found)} of {count} readings", "as many numbers in each list, one for each reading")
    moved = {"up": 1, "down": -1, "unknown": 0}[given.moved]
    return [
        reading_of(
            described,
            {name: found[k] for name, found in loads.items()},
            leans_rad=leans,
            pitch_rad=pitches[k if len(pitches) > 1 else 0],
            roll_rad=rolls[k if len(rolls) > 1 else 0],
            at_winch=given.at == "winch",
            moved=moved,
        )
        for k in range(count)
    ]


def _errors(given: argparse.Namespace) -> Errors:
    """How sure the readings are.

    Raises:
        Bad: an option that cannot be used.
    """
    from simulator.mechanics.weighing import Errors

    return Errors(
        gauge_share=_within("--gauge", given.gauge, _percent(given.gauge), 0.5, "a share such as 5%, 0 to 50%"),
        gauge_N=_load("--full-scale", given.full_scale),
        angle_rad=_angle("--angle", given.angle),
        tape_m=_length("--tape", given.tape),
        height_m=_length("--height", given.height),
        bed_N=_load("--bed", given.bed),
        sway_rad=_angle("--sway", given.sway),
    )


def _by_line(option: str, texts: list[str], names: tuple[str, ...], read: Callable[[str, str], T]) -> dict[str, T]:
    found: dict[str, T] = {}
    for text in texts:
        name, mark, rest = text.partition("=")
        if not mark or name not in names or name in found:
            raise Bad(
                option, f'"{text}"', f"{LOADS if option == '--line' else LEANS}; each line once: {', '.join(names)}"
            )
        found[name] = read(f"{option} {name}", rest)
    return found


def _loads(option: str, text: str) -> list[float]:
    return _list(option, text, _load)


def _leans(option: str, text: str) -> tuple[float, float]:
    along, *across = _list(option, text, _angle)
    if len(across) > 1:
        raise Bad(option, f'"{text}"', LEANS)
    return along, (across or [0.0])[0]


def _list(option: str, text: str, read: Callable[[str, str], float]) -> list[float]:
    parts = text.split(",")
    if len(parts) > MOST_READINGS:
        raise Bad(option, f"{len(parts)} numbers", f"up to {MOST_READINGS}")
    return [read(option, part) for part in parts]


def _load(option: str, text: str) -> float:
    """A weight or a force, N; without a unit it is refused, since nobody knows which system it is in."""
    from simulator.scenario.measures import STANDARD_GRAVITY_MPS2

    as_mass, as_force = _parsed(text, "kg"), _parsed(text, "N")
    value = as_mass * STANDARD_GRAVITY_MPS2 if as_mass is not None else as_force
    if value is None or not abs(value) <= MOST_LOAD_N:
        raise Bad(option, f'"{text}"', f"{LOADS}; up to 500 t")
    return value


def _angle(option: str, text: str) -> float:
    return _within(option, text, _parsed(text, "rad"), MOST_ANGLE_RAD, "an angle with a unit such as 2deg, up to 45deg")


def _length(option: str, text: str) -> float:
    value = _parsed(text, "m")
    return _within(
        option, text, abs(value) if value is not None else None, 5.0, "a length such as 5cm or 2in, up to 5m"
    )


def _within(option: str, text: str, value: float | None, most: float, allowed: str) -> float:
    if value is None or not abs(value) <= most:
        raise Bad(option, f'"{text}"', allowed)
    return value


def _percent(text: str) -> float | None:
    number = text.removesuffix("%").strip()
    value = _parsed(number, "1")
    return None if value is None or value < 0.0 else value / 100.0 if text.endswith("%") else value


def _parsed(text: str, unit: str) -> float | None:
    from simulator.scenario.measures import parse

    spaced = _NUMBER.sub(r"\g<0> ", text.strip(), count=1)
    try:
        return parse(spaced, unit)
    except ValueError:
        return None
