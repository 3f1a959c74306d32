"""The tape-measure numbers a first scenario is made from: what is asked, in which unit, and what stands in for it."""

from __future__ import annotations

from typing import NamedTuple

from simulator.scenario.asked_numbers import Field, Kind, System, Tons
from simulator.scenario.kept_pieces import BrokenPiece, find
from simulator.scenario.site import SOILS as NAMED
from simulator.scenario.typed_numbers import read

Answer = float | str
LONGEST_TEXT = 120


class Soil(NamedTuple):
    """Ground under the floats."""

    allowable_Pa: float
    steepest_rad: float
    source: str


def _soil(name: str, source: str) -> Soil:
    """A soil with the numbers that every room has for it."""
    found = NAMED[name]
    return Soil(found["allowable_bearing"], found["steepest_angle"], source)


SOILS: dict[str, Soil] = {
    "rock": Soil(
        NAMED["crystalline bedrock"]["allowable_bearing"],
        1.4835,
        "IBC 2012 Table 1806.2, crystalline bedrock; a rock cut taken at 85 deg is an assumption",
    ),
    "gravel": _soil("sandy gravel", "IBC 2012 Table 1806.2, sandy gravel; 29 CFR 1926 Subpart P App. B, type C"),
    "sand": _soil("sand", "IBC 2012 Table 1806.2, sand, silty or clayey gravel; Subpart P App. B, type C"),
    "clay": _soil("clay", "IBC 2012 Table 1806.2, clay and silt; Subpart P App. B, type C"),
}
"""Read in secondary copies; the ground that is there is judged by a competent person."""


class Taken(NamedTuple):
    """An answer in SI, and which ton was meant where a ton was."""

    answer: Answer
    tons: Tons | None = None


class Question(NamedTuple):
    """One number, choice or text."""

    key: str
    words: str
    kind: Kind | None
    """None: a choice, or a text where there is nothing to choose."""
    default: Answer | None
    """None: worked out from the other answers."""
    low: float = 0.0
    high: float = 0.0
    choices: tuple[str, ...] = ()
    needs: str = ""
    """Asked only where this other one has an answer that is not 0."""
    unless: str = ""
    """Asked only where this other one has no answer: a unit kept in a file of its own brings its numbers."""
    instead: str = "worked out"
    """What is done without an answer, where there is no default."""

    @property
    def field(self) -> Field:
        """What a typed number is read as."""
        assert self.kind is not None, "a choice is no number"
        usual = self.default if isinstance(self.default, float) and self.default else (self.low + self.high) / 3.0
        return Field(self.words, self.kind, self.low, self.high, usual)

    def span(self, system: System) -> str:
        """Least and most, or the choices."""
        return self.allowed(system) if self.kind is None else self.field.span(system)

    def allowed(self, system: System) -> str:
        """What may be answered, in words."""
        if self.choices:
            return " or ".join(self.choices)
        return f"a text of at most {LONGEST_TEXT} letters" if self.kind is None else self.field.allowed(system)

    def asked(self, system: System) -> str:
        """The question as it is put, with range and example."""
        example = "" if self.kind is None else f", such as {self.field.examples(system)}"
        return f"{self.words} [{self.span(system)}{example}"

    def usual(self, system: System) -> str:
        """What stands for no answer, in words."""
        if self.default is None or isinstance(self.default, str):
            return self.default or self.instead
        plain = self.field.plain(system)
        value = self.default / plain.one
        return f"{round(value, 4 - len(str(int(value)))):,.10g} {plain.name}".strip()

    def read(self, text: str, system: System, tons: Tons | None = None) -> Taken:
        """An answer in SI.

        Raises:
            ValueError: with what is allowed; of a number `NotTaken`, with the field and an example.
        """
        text = text.strip()
        if self.kind is not None:
            return Taken(*read(text, self.field, system, tons))
        if (self.choices and text not in self.choices) or not 0 < len(text) <= LONGEST_TEXT or not text.isprintable():
            raise ValueError(f'{self.words}: given "{text[:60]}", allowed: {self.allowed(system)}')
        if self.key in ("nose_unit", "tail_unit"):
            self._look_for(text)
        return Taken(text)

    def _look_for(self, name: str) -> None:
        """A unit of that name.

        Raises:
            ValueError: there is none that can be used.
        """
        try:
            find("unit", name)
        except BrokenPiece as broken:
            raise ValueError(f"{self.words}: {broken.faults[0]}") from broken


ATTITUDES = ("on_wheels", "top_to_ravine", "top_to_road")
QUESTIONS: tuple[Question, ...] = (
    Question(
        "nose_side",
        "Standing in the ravine and looking at the road, the trailer's nose is on the",
        None,
        "left",
        choices=("left", "right"),
    ),
    Question("attitude", "The trailer lies", None, "on_wheels", choices=ATTITUDES),
    Question("length", "Trailer length", "length", 13.2, 3.0, 30.0),
    Question("width", "Trailer width", "length", 2.6, 1.0, 5.0),
    Question("height", "Trailer height on its wheels", "length", 4.0, 1.0, 6.0),
    Question("weight", "Trailer weight with its load", "mass", 18e3, 500.0, 100e3),
    Question("cg_from_front", "Front end to center of gravity", "length", None, 0.5, 29.0),
    Question("nose_pick", "Front end to nose pick", "length", None, 0.0, 29.0),
    Question("tail_pick", "Rear end to tail pick", "length", None, 0.0, 29.0),
    Question("rigging_height", "Pick to hook, rigging tight", "length", 2.1, 0.3, 10.0),
    Question("depth", "Road down to the bed under the trailer", "length", 1.5, 0.3, 60.0),
    Question(
        "trailer_out",
        "Middle of the road units out to the middle of the trailer",
        "length",
        None,
        2.0,
        30.0,
        instead="just beyond the slope's toe",
    ),
    Question(
        "edge_out",
        "Middle of the road units out to the slope's edge",
        "length",
        None,
        1.5,
        20.0,
        instead="as near as the pads may stand to it",
    ),
    Question(
        "face_run",
        "Slope's edge out to its toe, level",
        "length",
        None,
        0.05,
        30.0,
        instead="as steep as this ground may stand beside pads, or as the trailer leaves room for",
    ),
    Question("ground", "Ground under the floats", None, "gravel", choices=tuple(SOILS)),
    Question("gap", "Tailboard to tailboard", "length", None, 2.0, 40.0),
    Question("lane_out", "Middle of the road units to the lane that traffic still uses", "length", None, 3.0, 60.0),
    Question(
        "nose_unit",
        "Nose unit, one of your own by name (slopepick units list)",
        None,
        None,
        instead="neither is, both are asked for",
    ),
    Question("tail_unit", "Tail unit, by name", None, None, needs="nose_unit", instead="the same as the nose unit"),
    Question(
        "nose_configuration",
        "Nose unit is set up as its chart is called, such as outriggers full",
        None,
        None,
        needs="nose_unit",
        instead="the only chart there is",
    ),
    Question(
        "tail_configuration",
        "Tail unit is set up as its chart is called",
        None,
        None,
        needs="nose_unit",
        instead="the only chart there is",
    ),
    Question("unit_weight", "Weight of one unit", "mass", 38e3, 5e3, 120e3, unless="nose_unit"),
    Question("boom_longest", "Longest boom, foot pin to tip", "length", 14.5, 4.0, 40.0, unless="nose_unit"),
    Question("boom_shortest", "Shortest boom, foot pin to tip", "length", 6.7, 2.0, 30.0, unless="nose_unit"),
    Question("boom_highest", "Highest elevation", "angle", 1.0821, 0.5, 1.45, unless="nose_unit"),
    Question("deck_height", "Deck over the road", "length", 1.35, 0.5, 2.5, unless="nose_unit"),
    Question(
        "float_spread", "Float to float across, middles of the pads", "length", 7.0, 2.0, 12.0, unless="nose_unit"
    ),
    Question(
        "pad_side",
        "Side of a square pad, or of the mats under it",
        "length",
        None,
        0.2,
        3.0,
        instead="what this ground needs under such weights, about",
        unless="nose_unit",
    ),
    Question("parts", "Parts of line", "count", 2.0, 1.0, 12.0, unless="nose_unit"),
    Question("rope", "Rope on the drum less two wraps", "length", 66.0, 10.0, 300.0, unless="nose_unit"),
    Question("winch_pull", "Winch line pull on the first layer", "force", 130e3, 5e3, 900e3, unless="nose_unit"),
    Question("rope_size", "Rope diameter", "size", 0.019, 0.006, 0.06, unless="nose_unit"),
    Question(
        "rope_breaking",
        "Rope's least breaking strength, by its certificate",
        "force",
        None,
        20e3,
        3e6,
        instead="looked up by its size",
        unless="nose_unit",
    ),
    Question("wind", "Wind, mean of ten minutes", "speed", 0.0, 0.0, 25.0),
    Question("gust", "Gusts on top of it, as a share", "share", 0.5, 0.0, 2.0, needs="wind"),
    Question("rail", "Guard rail height, 0 for none or cut", "length", 0.0, 0.0, 2.0),
    Question("wires_height", "Lowest overhead wire over the road, 0 for none near", "length", 0.0, 0.0, 60.0),
    Question(
        "wires_out",
        "Middle of the road units out to the wires, level, minus on the far side",
        "length",
        0.0,
        -60.0,
        60.0,
        needs="wires_height",
    ),
    Question(
        "wires_kilovolt", "Kilovolts of the wires; not known: 345", "count", 345.0, 0.1, 1200.0, needs="wires_height"
    ),
    Question(
        "shoulder",
        "Shoulder: bearing pressure allowed under the pads",
        "pressure",
        None,
        10e3,
        50e6,
        instead="by the ground's name",
    ),
    Question("cross_fall", "Road falls toward the ravine by", "slope", 0.0, 0.0, 0.2),
    Question(
        "face_judged_by",
        "Who found the slope's face to carry the pads, and where that is written",
        None,
        None,
        instead="nobody: not judged",
    ),
)
