"""What the layout screen shows of a lift is what `slopepick check` says of the file it saves."""

from __future__ import annotations

import random
from functools import cache

import pytest

from simulator.cli.layout_answers import Bench
from simulator.places import find_scenario
from simulator.plan.setup_check import check_setup
from simulator.report.amounts import Amounts
from simulator.report.plan.setup_lines import headline, sentence
from simulator.scenario.description import Description
from simulator.scenario.reader import load, parse_text
from simulator.telling.laid_out import Judged
from simulator.window.layout import kept
from simulator.window.layout.sheet import Sheet
from simulator.window.layout.work import Work
from tests.draws import drawn


@cache
def shipped(name: str) -> Description:
    return load(find_scenario(name))


def moved_at_random(rng: random.Random, name: str) -> Sheet:
    """A lift after some drags and steps by lot."""
    sheet = Sheet(shipped(name), system=rng.choice(("us", "metric")), settle=Bench("us").settled)
    for _ in range(rng.randint(1, 4)):
        grip = rng.choice(sheet.grips)
        sheet.take_hold(grip)
        sheet.drag(rng.uniform(-1.5, 1.5), rng.uniform(-1.5, 1.5), fine=rng.random() < 0.5)
        sheet.let_go()
    for _ in range(rng.randint(0, 2)):
        sheet.step(rng.choice(sheet.fields).key, rng.choice((-1, 1)), fine=rng.random() < 0.5)
    return sheet


def shown_of(judged: Judged) -> tuple[object, ...]:
    """All that the screen shows of a verdict."""
    rows = tuple((one.sentence, one.level, one.value, one.limit, round(one.used, 9), one.where) for one in judged.rows)
    ribbon = tuple((one.name, one.level, round(one.used, 9)) for one in judged.path)
    return judged.verdict, judged.headline, rows, ribbon


def as_checked(bench: Bench, lift: Description, judged: Judged) -> None:
    """Verdict, rows and ribbon are those of a check of that very lift."""
    found = check_setup(lift)
    amounts = Amounts("us")
    assert judged.headline == headline(found) and judged.verdict == found.verdict
    sentences = {sentence(one, amounts) for one in found.findings}
    assert all(any(row.sentence.startswith(one) for one in sentences) for row in judged.rows)
    assert len(judged.path) == len(found.stations)
    assert shown_of(bench.told(found)) == shown_of(judged)


@pytest.mark.long
def test_what_is_shown_is_what_check_says_of_the_saved_file() -> None:
    """Forty in every run, three hundred in a roaming one (`--hypothesis-profile=roam`)."""
    rng = random.Random(7)
    bench = Bench("us")
    for _ in range(drawn(40, 300)):
        sheet = moved_at_random(rng, rng.choice(("box_on_wheels", "tank_on_side", "practice_yard", "four_lines")))
        work = Work(sheet, bench)
        work.go_on(0.02)
        assert work.judged is not None and not work.judged.is_quick
        saved = parse_text(kept.text_for(sheet), "saved")
        assert saved == sheet.lift
        as_checked(bench, saved, work.judged)


def test_fewer_places_give_the_same_numbers_where_they_are() -> None:
    bench = Bench("metric")
    lift = shipped("tank_on_side")
    whole, quick = bench.judged(lift), bench.judged(lift, is_quick=True)
    by_name = {one.name: one for one in whole.path}
    assert len(quick.path) < len(whole.path) / 2
    for one in quick.path:
        same = by_name[one.name]
        assert (one.level, one.used, one.load, one.units) == (same.level, same.used, same.load, same.units)
