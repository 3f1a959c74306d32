"""One's own unit, entered once: its numbers and its maker's chart, to a file among the user's units. No pygame.

Nothing of it is assumed: a number that is left out is asked for. What is odd about the chart is answered cell by cell;
a cell that stands so in the maker's chart is kept and said to be as printed.
"""

from __future__ import annotations

import json
from typing import NamedTuple

from simulator.files.writing import write_whole
from simulator.scenario.asked_numbers import KINDS, Field, Kind, System
from simulator.scenario.chart_text import Oddity, read_chart
from simulator.scenario.kept_pieces import BrokenPiece, checked, kept, own_folder, parse_piece
from simulator.scenario.typed_numbers import read
from simulator.words import say


class Asked(NamedTuple):
    """One thing that is asked of a unit."""

    key: str
    """Of the unit's file, dotted; `name`, `by`, `configuration` and `chart` are texts."""
    kind: Kind | None = None
    low: float = 0.0
    high: float = 0.0
    example: float = 0.0

    @property
    def label(self) -> str:
        """As it is asked for."""
        return say(f"own_unit.{self.key.replace('.', '_')}")

    def field(self) -> Field:
        """As numbers that people type are read."""
        assert self.kind is not None
        return Field(self.label, self.kind, self.low, self.high, self.example)


TEXTS = ("name", "by", "configuration")
CHART = "chart"
ASKED = (
    *(Asked(key) for key in TEXTS),
    Asked("tailboard", "length", 0.5, 10.0, 3.6576),
    Asked("deck_height", "length", 0.3, 3.0, 1.3716),
    Asked("carrier", "mass", 1e3, 100e3, 21e3),
    Asked("carrier_cg", "length", -5.0, 10.0, 3.048),
    Asked("superstructure", "mass", 500.0, 80e3, 11.5e3),
    Asked("superstructure_cg", "length", -3.0, 5.0, 1.8288),
    Asked("boom_mass", "mass", 200.0, 40e3, 5.5e3),
    Asked("boom.shortest", "length", 1.0, 40.0, 6.7056),
    Asked("boom.longest", "length", 2.0, 60.0, 14.6304),
    Asked("boom.lowest", "angle", -0.2, 1.0, 0.0),
    Asked("boom.highest", "angle", 0.2, 1.5, 1.0821),
    Asked("boom.foot_pin_back", "length", 0.0, 5.0, 1.2192),
    Asked("boom.foot_pin_height", "length", 0.5, 5.0, 2.4384),
    Asked("hoist.parts", "count", 1.0, 12.0, 2.0),
    Asked("hoist.usable_rope", "length", 5.0, 400.0, 65.8368),
    Asked("hoist.to_boom_foot", "length", 0.0, 20.0, 2.1336),
    Asked("hoist.block", "mass", 0.0, 5e3, 300.0),
    Asked("hoist.block_and_stop", "length", 0.0, 5.0, 0.9144),
    Asked("hoist.stall_line_pull", "force", 5e3, 1e6, 130e3),
    Asked("hoist.rope_diameter", "size", 0.005, 0.06, 0.01905),
    Asked("floats.toward_tailboard", "length", 0.2, 12.0, 2.7432),
    Asked("floats.toward_cab", "length", 0.2, 12.0, 4.2672),
    Asked("floats.across", "length", 0.5, 8.0, 3.3528),
    Asked("floats.pad_side", "size", 0.2, 3.0, 0.762),
    Asked(CHART),
)


class Entry:
    """What has been typed of a unit so far."""

    def __init__(self, system: System) -> None:
        self.system: System = system
        self.texts: dict[str, str] = {one.key: "" for one in ASKED}
        self.as_printed: list[str] = []
        """Cells that are odd and stand so in the maker's chart: somebody has said so."""

    def why_not(self, key: str) -> str:
        """What is wrong with one answer; nothing where it can be used."""
        one, text = next(one for one in ASKED if one.key == key), self.texts[key].strip()
        if not text:
            return say("own_unit.missing", label=one.label)
        if one.kind is None:
            return ""
        try:
            read(text, one.field(), self.system)
        except ValueError as why:
            return str(why)
        return ""

    @property
    def faults(self) -> tuple[str, ...]:
        """Everything that is wrong with the answers, in their order; without any the file can be made."""
        found = [why for one in ASKED if (why := self.why_not(one.key))]
        if found or self.oddities:
            return tuple(found)
        name = self.texts["name"].strip()
        if name in kept("unit"):
            return (say("own_unit.taken", name=name),)
        try:
            return checked(parse_piece("unit", self.file_text("2000-01-01"), name))
        except BrokenPiece as broken:
            return broken.faults

    @property
    def oddities(self) -> tuple[Oddity, ...]:
        """What of its chart somebody still has to look at."""
        text = self.texts[CHART]
        return read_chart(text, self.system, as_printed=self.as_printed).oddities if text.strip() else ()

    def say_printed(self, oddity: Oddity) -> None:
        """The maker's chart has it so."""
        if oddity.may_be_printed and oddity.cell not in self.as_printed:
            self.as_printed.append(oddity.cell)

    def file_text(self, date: str) -> str:
        """The unit's file; its chart as it was pasted, with when and by whom."""
        tables: dict[str, list[str]] = {"unit": [], "unit.boom": [], "unit.hoist": [], "unit.floats": []}
        for one in ASKED:
            if one.kind is None:
                continue
            table, _, key = one.key.rpartition(".")
            value = read(self.texts[one.key], one.field(), self.system).value
            shown = str(round(value)) if one.kind == "count" else repr(float(value))
            place = f"unit.{table}".rstrip(".")
            tables[place].append(f"{key} = {shown}  # {_plain(self.texts[one.key])} [{KINDS[one.kind].unit}]")
        lines = [f'note = "{_plain(say("own_unit.note", date=date))}"']
        for table, rows in tables.items():
            lines += ["", f"[{table}]", *rows]
        chart = self.texts[CHART].replace("\\", "\\\\").replace('"""', '\\"\\"\\"').rstrip("\n")
        own = {key: self.texts[key].strip() for key in ("configuration", "by")}
        named = {**own, "entered": date, "units": self.system}
        lines += ["", "[[charts]]", *(f"{key} = {json.dumps(text, ensure_ascii=False)}" for key, text in named.items())]
        if self.as_printed:
            lines.append(f"as_printed = {json.dumps(self.as_printed)}")
        return "\n".join([*lines, f'text = """\n{chart}\n"""', ""])

    def save(self, date: str) -> str:
        """Keep it among the user's units; answers where.

        Raises:
            OSError: it cannot be written.
        """
        path = own_folder("unit") / f"{self.texts['name'].strip()}.toml"
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, self.file_text(date).encode("utf-8"))
        return str(path)


def _plain(text: str) -> str:
    """In a comment or a short text."""
    return "".join(letter for letter in text if letter.isprintable() and letter not in '"\\').strip()
