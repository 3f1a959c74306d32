"""Numbers of the command line as people write them, in the user's units; a ton is short or metric by what they said."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from simulator.cli.planning.answer import Describe, refuse
from simulator.scenario.asked_numbers import Field, Tons
from simulator.scenario.typed_numbers import NotTaken, WhichTons, read, tons_note

if TYPE_CHECKING:
    from simulator.scenario.description import Description

TO_SAY = "; such as --tons short, once and for all in the settings"


def number(given: argparse.Namespace, option: str, text: str, field: Field) -> float | None:
    """SI; None, with the refusal printed, where it is no such number.

    Args:
        given: the command line; which ton was meant is noted in it.
        option: its name, for the refusal.
        text: as typed.
        field: what it is.
    """
    try:
        found = read(text, field, given.units, given.tons)
    except NotTaken as error:
        refuse(f"{option} ({error.field})", f'"{error.given}"', error.allowed + say_how(error))
        return None
    note_tons(given, found.tons)
    return found.value


def lift_and_number(
    given: argparse.Namespace, describe: Describe, option: str, text: str, field: Field
) -> tuple[Description, float] | None:
    """The lift of a command and the number it asks for, SI; None, with the refusal printed, where one is no good."""
    found = number(given, option, text, field)
    described = None if found is None else describe(given.scenario)
    return None if found is None or described is None else (described, found)


def say_how(error: NotTaken) -> str:
    """Where to say which ton is meant."""
    return TO_SAY if isinstance(error, WhichTons) else ""


def note_tons(given: argparse.Namespace, tons: Tons | None) -> None:
    """A ton was typed: every output says which."""
    if tons is not None:
        given.tons_typed = tons


def tons_said(given: argparse.Namespace) -> tuple[str, ...]:
    """The line that says which ton was meant, where one was typed."""
    return tons_note(getattr(given, "tons_typed", None))


def tons_json(given: argparse.Namespace) -> dict[str, str]:
    """The same as a plain value."""
    tons = getattr(given, "tons_typed", None)
    return {} if tons is None else {"tons": tons}
