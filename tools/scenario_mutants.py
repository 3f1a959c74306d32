"""Scenario files broken on purpose: letters, lines, values, whole tables, bombs, and slips that somebody could make."""

from __future__ import annotations

import random
import re
from collections.abc import Callable

WILD = (
    "0",
    "-1",
    "1e308",
    "-0.0",
    "nan",
    "inf",
    "1" + "0" * 400,
    "true",
    '""',
    '"3 ft"',
    '"-2 t"',
    '"5 parsec"',
    "[]",
    "[1, 2]",
    "{}",
    "[{}]",
    "1979-05-27",
    '"\\u001b]52;c;cm0=\\u0007"',
    '"a\\u0000b"',
    '"$x^{$"',
    '"' + "long " * 2000 + '"',
)
SLIPS = (0.3048, 1 / 0.3048, 1000.0, 0.001, 9.80665, 57.29578, 0.0174533, 10.0, 0.1, -1.0, 2.0, 0.5, 1.1, 0.9)
"""Feet for meters, tonnes for kilograms, degrees for radians, a decimal point, a sign, a little more or less."""
Lines = list[str]


def _filled(lines: Lines, chance: random.Random) -> int:
    """A line with something in it, if there is one."""
    filled = [index for index, line in enumerate(lines) if line.strip() and not line.startswith("#")]
    return chance.choice(filled or range(len(lines)))


def _dropped(lines: Lines, chance: random.Random, _: Lines) -> None:
    del lines[_filled(lines, chance)]


def _doubled(lines: Lines, chance: random.Random, _: Lines) -> None:
    index = _filled(lines, chance)
    lines.insert(chance.randrange(len(lines)), lines[index])


def _wild(lines: Lines, chance: random.Random, _: Lines) -> None:
    """Another value."""
    index = _filled(lines, chance)
    lines[index] = f"{lines[index].partition('=')[0]}= {chance.choice(WILD)}"


def _slip(lines: Lines, chance: random.Random, _: Lines) -> None:
    """A number in another unit, with another sign or a point elsewhere: many of these are no fault."""
    index = _filled(lines, chance)
    words = lines[index].split(" ")
    for place, word in enumerate(words):
        bare = word.strip('",[]')
        if bare.replace(".", "", 1).lstrip("-").isdigit() and chance.random() < 0.5:
            words[place] = word.replace(bare, f"{float(bare) * chance.choice(SLIPS):.6g}")
    lines[index] = " ".join(words)


def _table_slip(lines: Lines, chance: random.Random, _: Lines) -> None:
    """A whole table in another unit, or made a little larger: what somebody copies from a drawing."""
    heads = [index for index, line in enumerate(lines) if line.startswith("[")] or [0]
    at, by = chance.randrange(len(heads)), chance.choice((*SLIPS, chance.uniform(0.8, 1.25)))
    for index in range(heads[at] + 1, heads[at + 1] if at + 1 < len(heads) else len(lines)):
        key, equals, value = lines[index].partition("=")
        if equals and chance.random() < 0.7:
            lines[index] = f"{key}={_scaled(value, by)}"


def _scaled(value: str, by: float) -> str:
    """Every number of a value by a factor, its comment as it was."""
    said, mark, comment = value.partition("#")
    return re.sub(r"-?\d+(\.\d+)?", lambda found: f"{float(found[0]) * by:.6g}", said) + mark + comment


def _nudged(lines: Lines, chance: random.Random, _: Lines) -> None:
    """Some numbers of some lines a little, or much, larger or smaller: most of these are no fault."""
    for _ in range(chance.choice((1, 3, 10))):
        index = _filled(lines, chance)
        key, equals, value = lines[index].partition("=")
        if equals:
            lines[index] = f"{key}={_scaled(value, chance.choice((0.5, 0.9, 0.97, 1.03, 1.1, 2.0)))}"


def _swapped(lines: Lines, chance: random.Random, _: Lines) -> None:
    """Two values changed places."""
    one, other = (_filled(lines, chance) for _ in range(2))
    (a, _, b), (c, _, d) = lines[one].partition("="), lines[other].partition("=")
    if b and d:
        lines[one], lines[other] = f"{a}={d}", f"{c}={b}"


def _misspelt(lines: Lines, chance: random.Random, _: Lines) -> None:
    index = _filled(lines, chance)
    at = chance.randrange(len(lines[index]) + 1)
    lines[index] = lines[index][:at] + chance.choice("abz_.=[]\"'\\\x07\x1b\x00é\u202e") + lines[index][at + 1 :]


def _cut(lines: Lines, chance: random.Random, _: Lines) -> None:
    del lines[chance.randrange(1, len(lines) + 1) :]


def _spliced(lines: Lines, chance: random.Random, other: Lines) -> None:
    """The beginning of one file, the end of another, or a table of it in between."""
    begin, end = sorted(chance.randrange(len(other) + 1) for _ in range(2))
    at = chance.randrange(len(lines) + 1)
    lines[at : at + chance.choice((0, end - begin, len(lines)))] = other[begin:end]


def _section(lines: Lines, chance: random.Random, _: Lines) -> None:
    """Another point of the ground: anywhere, or near where the ground is."""
    for index, line in enumerate(lines):
        if line.startswith("section"):
            points = line.split("], [")
            at = chance.randrange(1, len(points))
            y, z = chance.uniform(-20.0, 5.0), chance.uniform(-14.0, 4.0)
            near = re.findall(r"-?\d+\.?\d*", points[at])
            if chance.random() < 0.6 and len(near) > 1:
                y, z = float(near[0]) + chance.uniform(-0.2, 1.0), float(near[1]) + chance.gauss(0.0, 0.5)
            points.insert(at, f"{y:.2f}, {z:.2f}")
            lines[index] = "], [".join(points)


def _bomb(lines: Lines, chance: random.Random, _: Lines) -> None:
    """Little to write, much to read."""
    many = chance.choice((50, 1000, 20_000))
    bombs = (
        "a." * many + "a = 1",
        f"[{'b.' * many}b]",
        "c = " + "[" * many + "]" * many,
        "d = " + "{e=" * many + "1" + "}" * many,
        "\n".join(f"key_{number} = {number}" for number in range(many)),
        "\n".join("[[units]]" for _ in range(many)),
        "\n".join('[[trailer.parts]]\nname = "p"\nwidth = 1' for _ in range(many)),
        "f = [" + "1, " * many + "]",
        'g = "' + "x" * many + '"',
        'h = """' + '\\"""' * many,
        "i = " + "1" * many,
    )
    lines.insert(chance.randrange(len(lines) + 1), chance.choice(bombs))


def _list_made_long(lines: Lines, chance: random.Random, _: Lines) -> None:
    """The items of a list again and again."""
    with_list = [index for index, line in enumerate(lines) if "= [" in line and line.rstrip().endswith("]")]
    if with_list:
        index = chance.choice(with_list)
        key, _, items = lines[index].partition("= [")
        inside = items.rstrip()[:-1]
        lines[index] = f"{key}= [{', '.join([inside] * chance.choice((2, 3, 500)))}]"


KINDS: dict[str, Callable[[Lines, random.Random, Lines], None]] = {
    "line dropped": _dropped,
    "line doubled": _doubled,
    "wild value": _wild,
    "plausible slip": _slip,
    "table in another unit": _table_slip,
    "numbers nudged": _nudged,
    "values swapped": _swapped,
    "letter changed": _misspelt,
    "file cut": _cut,
    "files spliced": _spliced,
    "ground changed": _section,
    "bomb": _bomb,
    "list made long": _list_made_long,
}


def mutant(texts: list[str], chance: random.Random) -> tuple[str, str]:
    """A kind and a text."""
    kind, lines = chance.choice(sorted(KINDS)), chance.choice(texts).splitlines()
    for _ in range(chance.choice((1, 1, 1, 3))):
        KINDS[kind](lines or [""], chance, chance.choice(texts).splitlines())
    return kind, "\n".join(lines)
