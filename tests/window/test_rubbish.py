"""What stays as long as a screen does is spared the collector; what the screen before it left behind is not kept."""

from __future__ import annotations

import gc
import weakref
from collections.abc import Iterator

import pytest

from simulator.window.screens import drive, layout_screen
from simulator.window.shell import rubbish
from simulator.window.shell.lift import Choice
from tests.window.layouts import open_layout
from tests.window.screens import frames, open_small, show_lift, yard


@pytest.fixture(autouse=True)
def real_collector(held: None, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The one of this process, which is left as it was found."""
    monkeypatch.setattr(rubbish, "gc", gc)
    yield
    gc.freeze()


class Circle:
    """Held by itself alone."""

    def __init__(self) -> None:
        self.itself = self


def test_what_is_there_is_spared_and_what_nobody_holds_goes_the_next_time() -> None:
    gc.unfreeze()
    left = weakref.ref(Circle())
    rubbish.set_aside()
    assert gc.get_freeze_count() > 1000
    gc.collect()
    assert left() is not None, "spared"
    rubbish.set_aside()
    assert left() is None and gc.get_freeze_count() > 1000


def test_a_lift_and_a_layout_set_aside_once_what_they_are_drawn_with(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    monkeypatch.setattr(drive, "set_aside", lambda: asked.append("lift"))
    monkeypatch.setattr(layout_screen, "set_aside", lambda: asked.append("layout"))
    shown = open_small()
    show_lift(shown, Choice(yard(), "two"))
    frames(shown, 3)
    assert asked == ["lift"]
    shown, _ = open_layout()
    frames(shown, 3)
    assert asked == ["lift", "layout"]
