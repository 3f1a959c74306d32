"""TOML tables to the frozen dataclasses of the description, by walking their types; no field is known by name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, dataclass, field, is_dataclass
from difflib import get_close_matches
from typing import Any, Literal, NamedTuple, cast, get_args, get_origin

from simulator.files.bounds import LIST_ITEMS, TEXT_LETTERS, UNKNOWN_NAMES
from simulator.files.plain_text import steers
from simulator.scenario.faults import NOTHING, Fault, listed, shown, shown_key
from simulator.scenario.keys import Entry, allowed, apart, entries, extra
from simulator.scenario.measures import Measure, MeasuredAs, Names
from simulator.scenario.typed_numbers import parse_typed

FAILED: Any = object()
"""Stands for a value that could not be read; its faults are noted."""


class Layer(NamedTuple):
    """One table of the file that gives values to a description; later layers win over earlier ones."""

    table: str
    """Its name in the file, such as `units.nose.boom`; empty for the top of the file."""
    values: dict[str, Any]

    def place(self, key: str) -> str:
        """`[units.nose.boom] shortest`."""
        return f"[{self.table}] {shown_key(key)}" if self.table else shown_key(key)

    def below(self, key: str) -> str:
        """Name of a table inside this one."""
        return f"{self.table}.{shown_key(key)}" if self.table else shown_key(key)


@dataclass
class Notes:
    """What reading a file has brought to light so far."""

    where: str
    faults: list[Fault] = field(default_factory=list)
    found: dict[str, Any] = field(default_factory=dict)
    """Every value and table that could be read, by dotted path, defaults included."""
    places: dict[str, str] = field(default_factory=dict)
    """Where in the file each of them stands."""

    def fault(self, place: str, given: str, may: str) -> Any:
        """Note a fault and stand in for the value."""
        self.faults.append(Fault(f"{self.where}: {place}", given, may))
        return FAILED

    def keep(self, path: str, place: str, value: Any) -> Any:
        """Note a value and where it stands."""
        self.places[path] = place
        if value is not FAILED:
            self.found[path] = value
        return value


def read_table(notes: Notes, cls: type, layers: list[Layer], path: str, *, ready: dict[str, Any] | None = None) -> Any:
    """One dataclass from its layers.

    Args:
        notes: takes faults and findings.
        cls: the dataclass.
        layers: tables that give its values, the last one winning; at least one.
        path: dotted path of the result in `notes.found`.
        ready: fields that are read elsewhere, by field name.

    Returns:
        The dataclass, or `FAILED`.
    """
    ready = ready or {}
    rows = [entry for entry in entries(cls) if entry.field not in ready]
    for layer in layers:
        _unknown_keys(notes, [entry.key for entry in rows], layer)
    values = {entry.field: _read_entry(notes, entry, layers, path) for entry in rows} | ready
    result = FAILED if any(value is FAILED for value in values.values()) else cls(**values)
    return notes.keep(path, f"[{layers[0].table}]", result)


def _unknown_keys(notes: Notes, keys: list[str], layer: Layer) -> None:
    unknown = [key for key in layer.values if key not in keys]
    for key in unknown[:UNKNOWN_NAMES]:
        near = get_close_matches(key[:60], keys, n=3, cutoff=0.5)
        may = f"perhaps {listed(near)}" if near else listed(keys)
        notes.fault(layer.place(key), "a name that is not known", may)
    if (more := len(unknown) - UNKNOWN_NAMES) > 0:
        notes.fault(layer.place(unknown[UNKNOWN_NAMES]), f"{more} more names that are not known", listed(keys))


def _read_name(notes: Notes, names: Names, raw: Any, place: str) -> Any:
    """The whole name that a text stands for."""
    whole = names.find(raw) if isinstance(raw, str) else None
    if whole is not None:
        return whole
    near = get_close_matches(raw[:60], names.known, n=3, cutoff=0.5) if isinstance(raw, str) else []
    may = f"perhaps {listed(near)}" if near else f"one of {len(names.known)} names such as {names.known[0]}"
    return notes.fault(place, shown(raw), may)


def _read_as_named(notes: Notes, follows: MeasuredAs, layer: Layer, layers: list[Layer], key: str) -> Any:
    """A number measured in what another key names; anything will do where that names nothing, its own fault."""
    named = next((one.values[follows.key] for one in reversed(layers) if follows.key in one.values), None)
    measure = follows.measure(named)
    return 0.0 if measure is None else _read_number(notes, layer.values[key], layer.place(key), measure)


def _read_entry(notes: Notes, entry: Entry, layers: list[Layer], above: str) -> Any:
    path = f"{above}.{entry.key}" if above else entry.key
    having = [layer for layer in layers if entry.key in layer.values]
    base = apart(entry.hint).base
    if not having:
        default = entry.default
        if default is MISSING and is_dataclass(base) and not _needed(base):
            default = cast(type, base)()
        if default is not MISSING:
            return notes.keep(path, layers[0].place(entry.key), default)
        return notes.fault(layers[-1].place(entry.key), NOTHING, _wanted(entry, layers[-1]))
    if is_dataclass(base):
        return _read_subtable(notes, base, entry.key, layers, path)
    result: Any = FAILED
    for layer in having:
        follows = extra(entry.hint, MeasuredAs)
        if follows is not None:
            result = _read_as_named(notes, follows, layer, layers, entry.key)
        else:
            result = _read_value(notes, entry.hint, layer.values[entry.key], layer.place(entry.key), None)
    return notes.keep(path, having[-1].place(entry.key), result)


def _wanted(entry: Entry, layer: Layer) -> str:
    """What a missing key should have been."""
    base = apart(entry.hint).base
    if not is_dataclass(base):
        return allowed(entry.hint)
    return f"a table [{layer.below(entry.key)}] with {listed(_needed(base), last='and')}"


def _needed(table: Any) -> list[str]:
    """Keys that a table of the file has to give."""
    return [row.key for row in entries(table) if row.default is MISSING]


def _read_subtable(notes: Notes, cls: Any, key: str, layers: list[Layer], path: str) -> Any:
    """A table in a table, from every layer that has it."""
    having = [layer for layer in layers if key in layer.values]
    inner = [Layer(layer.below(key), layer.values[key]) for layer in having if isinstance(layer.values[key], dict)]
    wrong = [layer for layer in having if not isinstance(layer.values[key], dict)]
    for layer in wrong:
        notes.fault(layer.place(key), shown(layer.values[key]), f"a table [{layer.below(key)}]")
    if not inner:
        return FAILED
    if having[-1] is not layers[-1]:
        inner.append(Layer(layers[-1].below(key), {}))
    before = len(notes.faults)
    result = read_table(notes, cls, inner, path)
    if wrong:
        # What is missing may stand in the table that is none.
        notes.faults[before:] = [fault for fault in notes.faults[before:] if fault.given != NOTHING]
        return FAILED
    return result


def _read_value(notes: Notes, hint: Any, raw: Any, place: str, measure: Measure | None) -> Any:
    """One value that is not a table of its own."""
    names = extra(hint, Names)
    if names is not None:
        return _read_name(notes, names, raw, place)
    base, measure, _ = apart(hint, measure)
    if get_origin(base) is tuple:
        return _read_list(notes, base, raw, place, measure)
    if get_origin(base) is Literal:
        fits = any(raw == choice and type(raw) is type(choice) for choice in get_args(base))
        return raw if fits else notes.fault(place, shown(raw), allowed(base))
    if base is float:
        return _read_number(notes, raw, place, measure or Measure("1"))
    return raw if _plain_fits(base, raw, measure) else notes.fault(place, shown(raw), allowed(base, measure))


def _plain_fits(base: Any, raw: Any, measure: Measure | None) -> bool:
    """True when `raw` is of a type that needs no reading."""
    if type(raw) is not base:
        return False
    if base is str:
        return bool(raw.strip()) and len(raw) <= TEXT_LETTERS and not steers(raw, lines=True)
    return base is not int or measure is None or measure.low <= raw <= measure.high


def _read_number(notes: Notes, raw: Any, place: str, measure: Measure) -> Any:
    given = shown(raw)
    try:
        if isinstance(raw, str):
            value = parse_typed(raw, measure.unit)
            given += f" ({value:g})" if measure.unit == "1" else f" ({value:g} {measure.unit})"
        elif isinstance(raw, int | float) and not isinstance(raw, bool):
            value = float(raw)
        else:
            return notes.fault(place, given, measure.allowed)
    except (ValueError, OverflowError):
        return notes.fault(place, given, measure.allowed)
    return value if measure.check(value) else notes.fault(place, given, measure.allowed)


def _read_list(notes: Notes, base: Any, raw: Any, place: str, measure: Measure | None) -> Any:
    members = get_args(base)
    open_ended = members[-1] is Ellipsis
    if not isinstance(raw, list) or not (open_ended or len(raw) == len(members)):
        return notes.fault(place, shown(raw), allowed(base, measure))
    if len(raw) > LIST_ITEMS:
        return notes.fault(place, shown(raw), f"a list of at most {LIST_ITEMS}")
    hints = [members[0]] * len(raw) if open_ended else list(members)
    read = _reader_of(notes, members[0], place, measure)
    items = [read(hint, item, number) for number, (hint, item) in enumerate(zip(hints, raw, strict=True), 1)]
    return FAILED if any(item is FAILED for item in items) else tuple(items)


def _reader_of(notes: Notes, member: Any, place: str, measure: Measure | None) -> Callable[[Any, Any, int], Any]:
    """How one item of a list is read: a table, a row, or a number."""
    inner = apart(member).base
    if is_dataclass(inner):
        return lambda hint, item, number: _read_item_table(notes, inner, item, place, number)
    word = "row" if get_origin(inner) is tuple else "number"
    return lambda hint, item, number: _read_value(notes, hint, item, f"{place} {word} {number}", measure)


def _read_item_table(notes: Notes, cls: Any, item: Any, place: str, number: int) -> Any:
    """One table of an array of tables: `[trailer] parts` and 3 make `[trailer.parts 3]`."""
    name = f"{place.replace('[', '').replace('] ', '.')} {number}"
    if not isinstance(item, dict):
        return notes.fault(f"[{name}]", shown(item), "a table")
    return read_table(notes, cls, [Layer(name, item)], name)
