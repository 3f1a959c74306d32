"""`weigh`: what real displays showed in the first hold, turned into weight and heavy end, and the rest re-checked."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable
from functools import partial
from math import radians
from typing import TYPE_CHECKING, TypeVar

from simulator.cli.exit_codes import BAD_INPUT, NOT_JUDGED, OF_VERDICT
from simulator.cli.planning.answer import Describe, refuse
from simulator.cli.planning.typed import note_tons, say_how, tons_json, tons_said
from simulator.files.terminal import complain, tell, tell_json
from simulator.scenario.asked_numbers import Field
from simulator.scenario.typed_numbers import NotTaken, read

if TYPE_CHECKING:
    from simulator.mechanics.weighing import Errors, Reading
    from simulator.scenario.description import Description

T = TypeVar("T")

LOADS = "a line of the lift and its load with a unit, such as nose=12.3t, nose=27.1klb or nose=120kN"
LEANS = "a line of the lift and its angle off plumb along, and across: nose=1.5deg or nose=1.5deg,-0.5deg"
LOAD = Field("a load as displayed", "force", -5e6, 5e6, 120e3)
ANGLE = Field("an angle", "angle", -radians(45.0), radians(45.0), radians(2.0))
LENGTH = Field("how sure a length is", "length", 0.0, 5.0, 0.0508)
SHARE = Field("a share of what is read", "share", 0.0, 0.5, 0.05)
MOST_READINGS = 6


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
        tell_json(weigh_json(described, found) | {**tons_json(given), "caution": caution})
    else:
        tell(*weigh_lines(described, found, amounts), *tons_said(given), caution)
    return OF_VERDICT[found.verdict]


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
        tell_json({"title": described.title, "on_bed": True, **found._asdict(), **tons_json(given), "caution": caution})
    else:
        amounts = Amounts(given.units)
        tell(amounts.told(described.title), *bounds_lines(described, found, amounts), *tons_said(given), caution)
    return NOT_JUDGED


def _readings(given: argparse.Namespace, described: Description) -> list[Reading]:
    """One reading for each number of the longest list.

    Raises:
        Bad: an option that cannot be used.
    """
    from simulator.mechanics.weighing_lift import reading_of
    from simulator.scenario.rig import rig_of

    names = rig_of(described).line_names
    load, lean = partial(_loads, given), partial(_leans, given)
    loads = _by_line("--line", given.line, names, load)
    if set(loads) != set(names):
        missing = ", ".join(name for name in names if name not in loads)
        raise Bad("--line", f"none for {missing}", LOADS)
    leans = _by_line("--lean", given.lean, names, lean)
    pitches, rolls = (
        _list(given, option, text, ANGLE) for option, text in (("--pitch", given.pitch), ("--roll", given.roll))
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

    def number(option: str, field: Field) -> float:
        return _number(given, f"--{option}", getattr(given, option.replace("-", "_")), field)

    return Errors(
        gauge_share=number("gauge", SHARE),
        gauge_N=number("full-scale", LOAD),
        angle_rad=number("angle", ANGLE),
        tape_m=number("tape", LENGTH),
        height_m=number("height", LENGTH),
        bed_N=number("bed", LOAD),
        sway_rad=number("sway", ANGLE),
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


def _loads(given: argparse.Namespace, option: str, text: str) -> list[float]:
    """Weights or forces, N; without a unit they are refused, since a display may be in any system."""
    bare = next((one for one in _apart(text) if re.fullmatch(r"[-+\d.,\s]*", one)), None)
    if bare is not None:
        raise Bad(option, f'"{bare}"', f"{LOADS}; up to 500 t")
    return _list(given, option, text, LOAD)


def _leans(given: argparse.Namespace, option: str, text: str) -> tuple[float, float]:
    along, *across = _list(given, option, text, ANGLE)
    if len(across) > 1:
        raise Bad(option, f'"{text}"', LEANS)
    return along, (across or [0.0])[0]


def _list(given: argparse.Namespace, option: str, text: str, field: Field) -> list[float]:
    parts = _apart(text)
    if len(parts) > MOST_READINGS:
        raise Bad(option, f"{len(parts)} numbers", f"up to {MOST_READINGS}")
    return [_number(given, option, part, field) for part in parts]


def _apart(text: str) -> list[str]:
    """The numbers of a list; a comma between bare digits and three more parts thousands: 27,100lb."""
    return re.split(r"(?<!\d),|,(?!\d{3}(?:,\d{3})*(?:\.\d*)?\s*[a-zA-Z#])", text)


def _number(given: argparse.Namespace, option: str, text: str, field: Field) -> float:
    """SI.

    Raises:
        Bad: it is no such number.
    """
    try:
        found = read(text, field, given.units, given.tons)
    except NotTaken as error:
        raise Bad(f"{option} ({error.field})", f'"{error.given}"', error.allowed + say_how(error)) from error
    note_tons(given, found.tons)
    return found.value
