"""What objects remember comes back as it was, and nothing else is taken for it."""

import json
from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf, isnan, nan
from typing import Any, Literal, NamedTuple

import pytest

from simulator.files.remembered import NotRemembered, Shelf


class Seen(NamedTuple):
    at_s: float
    pulls_N: tuple[float, ...]


@dataclass
class Loss:
    points: float
    rule: str
    first: Seen | None = None


class Inner:
    count: int

    def __init__(self) -> None:
        self.count, self.of_no_matter = 0, "made anew"


class Outer:
    began: Seen
    again: Seen | None
    losses: list[Loss]
    open: dict[tuple[str, int], Loss]
    key: str | tuple[str, float | int | str]
    moved: set[int]
    rows: deque[tuple[float, ...]]
    state: Literal["up", "down"]
    inner: Inner
    both: tuple[Inner, ...]
    gaps: Sequence[Seen]
    is_on: bool

    def __init__(self) -> None:
        seen, loss = Seen(0.1 + 0.2, (inf, -inf, nan)), Loss(2.5, "out of turn")
        self.began, self.again = seen, seen
        self.losses, self.open = [loss, Loss(1.0, "early", seen)], {("turn", 1): loss}
        self.key, self.moved, self.rows = ("mark", 3), {2, 0}, deque([(1.0, 2.0)])
        self.state: Any = "up"
        self.inner, self.both, self.gaps, self.is_on = Inner(), (Inner(), Inner()), (), True


def kept_and_put_back(given: Outer, into: Outer) -> None:
    shelf = Shelf((Seen, Loss))
    text = json.dumps([shelf.kept(given, Outer), shelf.rows], allow_nan=False)
    plain, rows = json.loads(text)
    Shelf((Seen, Loss), rows=rows).put_back(into, plain)


def test_every_value_comes_back_and_what_was_shared_is_shared() -> None:
    given, into = Outer(), Outer()
    given.inner.count, given.both[1].count, given.state, given.key = 7, 9, "down", "snatch"
    own = into.inner
    kept_and_put_back(given, into)
    assert into.began.at_s == 0.1 + 0.2 and into.began.pulls_N[:2] == (inf, -inf) and isnan(into.began.pulls_N[2])
    assert into.again is into.began and into.losses[1].first is into.began
    assert into.open["turn", 1] is into.losses[0] and into.losses[0] == Loss(2.5, "out of turn")
    assert (into.state, into.key, into.moved, into.rows) == ("down", "snatch", {0, 2}, deque([(1.0, 2.0)]))
    assert into.inner is own and own.count == 7 and own.of_no_matter == "made anew"
    assert [one.count for one in into.both] == [0, 9]


NAMES = list(Outer.__annotations__)


def with_value(name: str, value: object) -> Callable[[list[Any]], object]:
    def change(plain: list[Any]) -> None:
        plain[NAMES.index(name)] = value

    return change


@pytest.mark.parametrize(
    "change",
    [
        with_value("began", 99),
        with_value("began", -1),
        with_value("began", "0"),
        with_value("began", 1),  # a loss
        with_value("losses", 3),
        with_value("losses", [[1]]),
        with_value("open", [[["turn"], 1]]),
        with_value("key", [7, "x"]),
        with_value("key", [-1, "x"]),
        with_value("moved", [[1]]),
        with_value("moved", ["1"]),
        with_value("rows", [["long"]]),
        with_value("rows", "12"),
        with_value("state", "sideways"),
        with_value("inner", [1.5]),
        with_value("inner", []),
        with_value("is_on", 1),
        list.pop,
    ],
)
def test_anything_else_is_refused(change: Callable[[list[Any]], object]) -> None:
    shelf = Shelf((Seen, Loss))
    plain = json.loads(json.dumps(shelf.kept(Outer(), Outer)))
    change(plain)
    with pytest.raises(NotRemembered):
        Shelf((Seen, Loss), rows=shelf.rows).put_back(Outer(), plain)
