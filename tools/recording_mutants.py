"""Recordings damaged on purpose: bytes, frames, contents under a good CRC, bombs, splices, other numbers."""

from __future__ import annotations

import json
import random
import struct
import zlib
from collections.abc import Callable

from simulator.events import Event
from simulator.recording.head import head_of
from simulator.recording.layout import END, HEAD, MAGIC, SECOND, FileFrame, as_json, frame, frames
from simulator.recording.seconds import Second, second_content, second_of

WILD_TEXT = (
    "",
    "x" * 50_000,
    "a meets b, " * 3000,
    "\x1b]52;c;cm0=\x07",
    "$x^{$",
    "\x00",
    "\u202egnol",
    "%s%n",
    "a\nb",
)


PAST_ALL_BOUNDS = 6_000_000
"""Letters of one frame: more than any may have, and no more than that, so that a mutant is soon made."""


def mutated(data: bytes, chance: random.Random, other: bytes = b"") -> tuple[str, bytes]:
    """A damaged copy, and how it was damaged; `other` is a second recording, to be spliced in."""
    kind = chance.choice(sorted(KINDS))
    return kind, KINDS[kind](data, chance, other or data)


def _cut(data: bytes, chance: random.Random, _: bytes) -> bytes:
    return data[: chance.randrange(len(data))]


def _noise(_: bytes, chance: random.Random, __: bytes) -> bytes:
    return chance.randbytes(chance.randrange(1, 4000))


def _noise_behind(data: bytes, chance: random.Random, _: bytes) -> bytes:
    return data[: chance.randrange(len(data))] + chance.randbytes(300)


def _bits(data: bytes, chance: random.Random, _: bytes) -> bytes:
    changed = bytearray(data)
    for _ in range(chance.choice((1, 1, 2, 20))):
        changed[chance.randrange(len(changed))] ^= 1 << chance.randrange(8)
    return bytes(changed)


def _hole(data: bytes, chance: random.Random, _: bytes) -> bytes:
    begin = chance.randrange(len(data))
    return data[:begin] + data[begin + chance.randrange(1, 5000) :]


def _doubled(data: bytes, chance: random.Random, _: bytes) -> bytes:
    begin, end = sorted(chance.sample(range(len(data)), 2))
    return data[:end] + data[begin:]


def _content(data: bytes, chance: random.Random, _: bytes) -> bytes:
    """Nonsense inside a frame, under a CRC that is good."""
    every = list(frames(data))
    picked = chance.choice(every)
    inside = bytearray(picked.content)
    for _ in range(chance.choice((1, 3, 30))):
        place = chance.randrange(min(len(inside), chance.choice((70, len(inside)))))
        inside[place] = chance.choice((0, 1, 127, 128, 255, chance.randrange(256)))
    if chance.random() < 0.2:
        inside = inside[: chance.randrange(len(inside))]
    return _with(data, picked, bytes(inside))


def _head(data: bytes, chance: random.Random, _: bytes) -> bytes:
    """A head with one value of another kind, in both copies."""
    heads = [one for one in frames(data) if one.kind == HEAD]
    value = json.loads(heads[0].content)
    wild = (None, -1, 0, 10**30, 1.5, "", "text", [], {}, [[]], [1, 2], True, {"a": []}, "x\n\x1b[31m", ["\ud800"])
    key = chance.choice(sorted(value))
    if key == "channels" and chance.random() < 0.6:
        value[key][chance.randrange(len(value[key]))][chance.randrange(3)] = chance.choice(wild)
    elif key == "units" and chance.random() < 0.8:
        unit = chance.choice(value[key])
        unit[chance.randrange(3)] = chance.choice((*wild, ["nose_1", "nose_2"], ["nose_hoist"], unit[0] + "_1"))
    elif key == "scenario" and chance.random() < 0.6:
        lines = value[key].splitlines()
        lines[chance.randrange(len(lines))] = chance.choice(("", "x = 1", "[", "steps_per_s = 100", "title = 3"))
        value[key] = "\n".join(lines)
    else:
        value[key] = chance.choice(wild)
    content = json.dumps(value).encode("utf-8", "replace")
    return frame(HEAD, content).join((data[: heads[0].begin], b"")) + data[heads[1].end :]


def _with(data: bytes, old: FileFrame, content: bytes) -> bytes:
    return data[: old.begin] + frame(old.kind, content) + data[old.end :]


def _as_second(data: bytes, chance: random.Random, change: Callable[[Second, random.Random], Second]) -> bytes:
    """One second of the lift another, written as the program would write it."""
    every = list(frames(data))
    head = head_of(as_json(next(one.content for one in every if one.kind == HEAD)))
    picked = chance.choice([one for one in every if one.kind == SECOND])
    second = change(second_of(picked.content, head.rig, layout=head.layout), chance)
    return _with(data, picked, second_content(second))


def _events(data: bytes, chance: random.Random, _: bytes) -> bytes:
    def change(second: Second, chance: random.Random) -> Second:
        kind = chance.choice(("incident", "stop order", "instructor", "step", "stage", "odd", chance.choice(WILD_TEXT)))
        what = chance.choice((*WILD_TEXT, "met", "act_gust", "act_back", "step", "lifted", "stall"))
        wild = chance.choice((0, -1, 9, 1e9, 3.5, *WILD_TEXT))
        fields = chance.choice(
            (
                {},
                {"act": "gust", "amount": 9.0, "place": 0, "lasts_s": 3.0},
                {"act": "line slips", "amount": wild, "place": wild, "lasts_s": 1.0},
                {"number": wild, "title": wild},
                {"unit": wild, "line": wild, "part": wild, "speed_mps": wild, "text": wild},
            )
        )
        step = chance.choice((second.begin_step, second.end_step, second.end_step + 1))
        one = Event(step, kind, what, fields)
        return second._replace(events=(one,) * _as_many(chance.choice((1, 3, 200, 4000, 6000)), str(one)))

    return _as_second(data, chance, change)


def _as_many(many: int, text: str) -> int:
    """No more of a text than it takes to pass every bound."""
    return min(many, 1 + PAST_ALL_BOUNDS // (len(text) + 1))


def _samples(data: bytes, chance: random.Random, _: bytes) -> bytes:
    def change(second: Second, chance: random.Random) -> Second:
        samples = second.samples.astype("int64")
        for _ in range(chance.choice((1, 5, samples.size))):
            row, column = chance.randrange(samples.shape[0]), chance.randrange(1, samples.shape[1])
            samples[row, column] = chance.choice(
                (0, -1, 10**6, -(10**12), 1 << 60, -(1 << 62), (1 << 63) - 1, -(1 << 63))
            )
        return second._replace(samples=samples)

    return _as_second(data, chance, change)


def _gaps(data: bytes, chance: random.Random, _: bytes) -> bytes:
    def change(second: Second, chance: random.Random) -> Second:
        wild = chance.choice((0.0, -5.0, 1e8, 1e300, float("nan"), float("inf")))
        gaps = tuple(gap._replace(part=chance.choice(WILD_TEXT), gap_m=wild) for gap in second.gaps)
        return second._replace(gaps=gaps * chance.choice((1, 50)))

    return _as_second(data, chance, change)


def _times(data: bytes, chance: random.Random, _: bytes) -> bytes:
    """A second that begins or ends elsewhere."""
    picked = chance.choice([one for one in frames(data) if one.kind == SECOND])
    begin, end = struct.unpack_from("<QQ", picked.content)
    wild = (0, 1, begin + 1, end + 1, end + 240, 10 * end, 1 << 31, 1 << 39, (1 << 63) + 1, (1 << 64) - 1)
    begin, end = chance.choice((begin, chance.choice(wild))), chance.choice((end, chance.choice(wild)))
    return _with(data, picked, struct.pack("<QQ", begin, end) + picked.content[16:])


def _bomb(data: bytes, chance: random.Random, _: bytes) -> bytes:
    """Little to read, much to unpack or to search."""
    every = list(frames(data))
    at = chance.choice(every).end
    many, kind = chance.choice((10, 400, 20_000)), chance.choice((HEAD, SECOND, END))
    length = chance.choice((1_000, 3_900_000, 63_000_000))
    bombs: tuple[Callable[[], bytes], ...] = (
        lambda: frame(kind, bytes(length)) * min(many, 2_000_000 // (length // 1000 + 20)),
        lambda: b"".join(struct.pack("<4sII", kind, 12 * (many - i), 0) for i in range(many)),
        lambda: b"".join(struct.pack("<4sII", kind, chance.randrange(1 << 32), 0) for _ in range(many)),
        lambda: b"".join(frame(SECOND, one.content) for one in every if one.kind == SECOND) * (many // 100 + 1),
    )
    return data[:at] + chance.choice(bombs)() + data[at:]


def _head_bomb(data: bytes, chance: random.Random, _: bytes) -> bytes:
    """A head whose scenario, names or columns are too much."""
    heads = [one for one in frames(data) if one.kind == HEAD]
    value = json.loads(heads[0].content)
    many, text = chance.choice((100, 5_000, 100_000)), chance.choice(WILD_TEXT)
    value |= chance.choice(
        (
            {"scenario": "a." * many + "a = 1"},
            {"scenario": value["scenario"] + "\n[[trailer.parts]]" * many},
            {"title": "x" * many},
            {"title": text, "stamp": text, "pair": [text] * 3},
            {"pair": ["x"] * many},
            {"versions": {f"p{number}": "1" for number in range(many)}},
            {"channels": value["channels"] + [[f"c{number}", "m", 3] for number in range(many)]},
            {"begins": chance.choice((1, 240, 1 << 30, 1 << 62))},
            {"steps_per_s": chance.choice((60, 120, 480, 10_000))},
        )
    )
    content = json.dumps(value).encode("utf-8", "replace")
    return MAGIC + 2 * frame(HEAD, content) + data[heads[1].end :]


def _end(data: bytes, chance: random.Random, _: bytes) -> bytes:
    """Another end mark."""
    how, text = chance.choice(("landed", "done", "incident", "left", "gone")), chance.choice(WILD_TEXT)
    line = chance.choice((text, "  5 nose: rule, 3 times, first at 1.5 s (nose.slack 1)"))
    lines = [line] * _as_many(chance.choice((0, 3, 5000)), line)
    step = chance.choice((0, 1 << 40, -1))
    value = {"how": how, "text": text, "step": step, "score": text, "lines": lines}
    return data + frame(END, json.dumps(value).encode("utf-8", "replace"))


def _spliced(data: bytes, chance: random.Random, other: bytes) -> bytes:
    """Whole frames of two recordings, in some order."""
    one, two = list(frames(data)), list(frames(other))
    both = [data[f.begin : f.end] for f in one] + [other[f.begin : f.end] for f in two]
    if chance.random() < 0.5:
        chance.shuffle(both)
    else:
        both = both[: chance.randrange(len(one))] + both[chance.randrange(len(one)) :]
    return MAGIC + b"".join(both)


def _repacked(data: bytes, chance: random.Random, _: bytes) -> bytes:
    """A frame packed otherwise, or with more behind its end."""
    picked = chance.choice(list(frames(data)))
    packed = zlib.compress(picked.content, chance.choice((0, 9))) + chance.choice((b"", b"more"))
    crc = zlib.crc32(packed, zlib.crc32(picked.kind + len(packed).to_bytes(4, "little")))
    return data[: picked.begin] + struct.pack("<4sII", picked.kind, len(packed), crc) + packed + data[picked.end :]


KINDS: dict[str, Callable[[bytes, random.Random, bytes], bytes]] = {
    "bits": _bits,
    "cut": _cut,
    "hole": _hole,
    "doubled": _doubled,
    "noise": _noise,
    "noise behind a good start": _noise_behind,
    "content": _content,
    "head": _head,
    "events": _events,
    "samples": _samples,
    "gaps": _gaps,
    "times": _times,
    "bomb": _bomb,
    "head bomb": _head_bomb,
    "end mark": _end,
    "spliced": _spliced,
    "repacked": _repacked,
}
