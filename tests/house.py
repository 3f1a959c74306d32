"""The house rules as a reader of sources: nothing is imported, every fault says where and what is allowed."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from fnmatch import fnmatch
from typing import NamedTuple

LONGEST_MODULE, LONGEST_FUNCTION = 400, 40

MAY_IMPORT: dict[str, set[str]] = {
    "files": set(),  # knows nothing of lifts, so every wing may ask it
    "scenario": {"readings"},  # a drill's conditions name channels; the table imports nothing of ours, so no circle
    "readings": {"channel_rows"},
    "channel_rows": set(),
    "events": set(),
    "places": {"scenario"},
    "words": {"places"},
    "mechanics": {"scenario"},
    "engine": {"scenario", "mechanics", "readings", "events"},
    "drill": {"scenario", "mechanics", "readings", "events", "words"},
    "world": {"scenario", "engine", "drill", "readings", "events"},
    "attempt": {"scenario", "engine", "drill", "readings", "events", "world"},
    "recording": {"scenario", "readings", "events", "attempt", "world", "compiled"},
    "rehearsal": {"scenario", "engine", "drill", "events", "attempt", "recording", "plan"},
    "telling": {"events", "words"},
    "plan": {"scenario", "mechanics", "places"},  # where its tables of hardware are; the scenario wing reads them
    "report": {"scenario", "recording", "rehearsal", "plan", "readings", "events", "telling", "words", "places"},
    "window": {"scenario", "attempt", "recording", "readings", "events", "telling", "words", "places"},
    "script": {
        "scenario",
        "engine",
        "readings",
        "drill",
        "attempt",
        "recording",
        "rehearsal",
        "plan",
        "report",
        "words",
        "places",
    },
    "cli": {
        "scenario",
        "engine",
        "readings",
        "drill",
        "attempt",
        "recording",
        "rehearsal",
        "plan",
        "report",
        "words",
        "places",
        "script",
        "telling",
        "window",
    },
    "compiled": set(),
    "__init__": {"script", "compiled"},  # the package's public face: names only, each fetched when it is asked for
}
"""Wing: the wings it may import beside itself. `__main__` may import all, nothing may import `__main__`."""

OPEN_ROOMS: dict[str, set[str]] = {
    "engine.commands": {"drill", "recording", "report", "window"},  # what enters a step; it knows no engine's state
    "engine.state": {"recording"},  # kept whole now and then: a re-run can begin there
    "mechanics.boom": {"window"},  # geometry only: the boom is drawn, and a tip is read back as a pose
    "mechanics.flat_deck": {"window"},  # where a waiting deck is, for drawing and dragging it
    "mechanics.trailer_body": {"window", "report"},  # geometry only: its parts are drawn as they lie
    "mechanics.ground": {"window"},  # geometry only: the slope's outline
    "mechanics.sling": {"window"},  # geometry only: where a sling lies on the load, and how it presses there
    "mechanics.going_over": {"window"},  # geometry only: a unit that goes over is drawn as it leans
    "mechanics.end_turns": {"window"},  # hand calculation: how far each end is turned over
    "mechanics.footing": {"window"},  # hand calculation: resting loads of the boards, what a fix chip would do
    "mechanics.weighing": {"cli", "report", "script", "window"},  # hand calculation: what the load tells
    "mechanics.weighing_doubts": {"report", "window"},  # which reading contradicts which, as kind and fields
    "mechanics.weighing_lift": {"cli", "report", "script", "window"},  # the lift's picks for what is read
    "mechanics.rating": {"window"},  # hand calculation: a fix chip never offers what brings capacity into caution
    "drill.partner": {"recording", "window"},  # a seat that nobody sits in gets its automatic operator
    "drill.ways": {"window"},  # what the ways are called
    "drill.clumsy": {"window"},  # or one with a fault, if the instructor chooses so
    "drill.lever_turns": {"report"},  # when a lever chases the load: the judge's rule is the debrief's
    "drill.instruction": {"window"},  # the instructor's panel says what is done; the attempt does it
    "plan.recheck": {"drill"},  # whether a load holds, for the judge of who goes on with it
    "drill.naming": {"window"},  # what the pair says of its load
    "drill.scales": {"window"},  # what the load tells is shown and drawn
    "drill.session": {"recording", "window"},  # a drill's step, prompt and points are shown; what it remembers is kept
    "drill.judge": {"recording", "window"},  # what cost points, on the card at the end
}
"""Single rooms that more wings may import than the rest of their wing."""

GATES: dict[str, tuple[str, ...]] = {
    "pymunk": ("engine/load.py",),
    "pygame": ("window/*",),
    "shapely": ("mechanics/clearance/*",),
    "matplotlib": ("report/*",),
    "distributed": ("rehearsal/cluster.py",),
    "time": ("window/*",),
    "secrets": (),
    "uuid": (),
}
"""Library (the wall clock and unseeded chance among them): where it may be imported."""

NO_PYGAME = (
    "window/scene/camera.py",
    *(f"window/layout/{room}.py" for room in ("fields", "grips", "load_edits", "place_edits", "sheet", "kept")),
)
MAY_OPEN = (
    "files/*",
    "scenario/reader_hardware.py",
    "recording/glance.py",  # the two ends of a recording, not all of it
    "recording/keep.py",
    "recording/settings.py",
    "words.py",
    "compiled.py",
)
"""Who may open files; `words` and `reader_hardware` our own tables, which must be at hand with no front door;
`compiled` our own sources, before anything else is imported."""
MAY_PRINT = ("files/terminal.py",)
"""Whatever is printed goes through one door, which makes it plain."""
OPEN_TO_ALL = ("files",)
"""A wing that each other one may import."""

OPENERS = {"open", "read_text", "read_bytes", "write_text", "write_bytes", "savetxt", "loadtxt", "fdopen"}
CLOCKS = {"now", "utcnow", "today"}
MAY_ASK_THE_TIME = ("window/*", "cli/kept.py", "cli/driving.py")
SEEDED = {"Random", "default_rng", "Generator", "PCG64", "SeedSequence"}

WORDS: dict[str, str] = {
    **dict.fromkeys(("machine", "machines", "crane", "cranes"), "unit"),
    **dict.fromkeys(
        ("tilt", "tilts", "tilted", "luff", "luffing"), "elevation for the boom, off_plumb for a line, lean for a frame"
    ),
    **dict.fromkeys(("cable", "cables", "wire", "wires"), "hoist line, rope"),
    **dict.fromkeys(("stabiliser", "stabilisers", "stabilizer", "stabilizers"), "outrigger, float"),
    **dict.fromkeys(("swing", "swings", "swinging"), "sway for the load, slew for the boom"),
    **dict.fromkeys(("manager", "handler", "utils", "util", "helpers"), "the name of the one job it does"),
}
"""Word not used in a public name: what to say instead."""
KNOWS_THE_COUNT = ("scenario/rig.py", "scenario/older.py")
"""How many units and lines there are, and what the two of a pair are called, is known here alone."""
OTHER_OF_TWO = ("end", "place", "side", "seat", "unit", "bears", "low", "high", "own", "this")
"""`1 - end`: what asks for the other one, as if there were two."""
PAIRS_OF_SOMETHING_ELSE = {
    **dict.fromkeys(("mechanics/clearance/clip.py", "mechanics/clearance/slew.py", "mechanics/lying.py"), "x and y"),
    "mechanics/rating.py": "an array padded at its far end",
    "recording/spans.py": "an array without rows",
    "report/lift/debrief_notes.py": "ways on a page",
    "window/layout/board.py": "what an arrow moves, along and up",
    "window/scene/solids.py": "x and y",
}
"""Rooms in which `(0, 1)` stands for no units: why."""
PHRASES_KEPT = ("tail_swing", "swings_tail")
"""House words that hold one of them: the superstructure's tail swing."""


class Fault(NamedTuple):
    """One broken rule."""

    where: str
    """path:line"""
    what: str

    def __str__(self) -> str:
        return f"{self.where}: {self.what}"


def faults(path: str, source: str) -> list[Fault]:
    """All faults of one module; `path` is relative to the package, such as `engine/load.py`."""
    tree = ast.parse(source)
    found = [*imports(path, tree), *calls(path, tree), *names(path, tree), *counts(path, tree), *lengths(source, tree)]
    return [Fault(f"{path}:{line}", what) for line, what in sorted(found)]


def counts(path: str, tree: ast.Module) -> Iterator[tuple[int, str]]:
    """What works for two units, or for one line a unit, only."""
    if path in KNOWS_THE_COUNT:
        return
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and node.attr in ("nose", "tail"):
            yield node.lineno, f"writes .{node.attr}, loop over the rig"
        elif isinstance(node, ast.BinOp) and _is_other_of_two(node):
            yield node.lineno, f"writes {ast.unparse(node)}, loop over the rig"
        elif isinstance(node, ast.Tuple) and path not in PAIRS_OF_SOMETHING_ELSE and _numbers(node) == [0, 1]:
            yield node.lineno, "writes (0, 1), loop over the rig"
        elif isinstance(node, ast.Assign) and _unpacks_two(node.targets[0], node.value):
            yield node.lineno, "unpacks two units or lines, loop over the rig"


def _is_other_of_two(node: ast.BinOp) -> bool:
    if not isinstance(node.op, ast.Sub) or getattr(node.left, "value", None) != 1:
        return False
    return getattr(node.right, "id", getattr(node.right, "attr", "")) in OTHER_OF_TWO


def _numbers(node: ast.Tuple) -> list[object]:
    return [getattr(one, "value", None) if type(getattr(one, "value", None)) is int else None for one in node.elts]


def _unpacks_two(target: ast.expr, value: ast.expr) -> bool:
    """`nose, tail = ...` whatever it is, and two names from anything's `units` or `lines`."""
    if not isinstance(target, ast.Tuple) or len(target.elts) != 2:
        return False
    pair = {getattr(one, "id", "") for one in target.elts}
    return bool(pair & {"nose", "tail"}) or getattr(value, "attr", "") in ("units", "lines", "booms")


def lengths(source: str, tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Modules and functions that are too long."""
    if (lines := len(source.splitlines())) > LONGEST_MODULE:
        yield 1, f"module of {lines} lines, at most {LONGEST_MODULE}"
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            lines = (node.end_lineno or node.lineno) - node.lineno + 1
            if lines > LONGEST_FUNCTION:
                yield node.lineno, f"{node.name} has {lines} lines, at most {LONGEST_FUNCTION}"


def imports(path: str, tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Imports against the direction of the house, past a gate, or through the package root."""
    at_import_time = set(_outside_functions(tree))
    for node in ast.walk(tree):
        for module in _imported(path, node):
            yield from ((node.lineno, what) for what in _import_faults(path, module, early=node in at_import_time))


def _import_faults(path: str, module: str, *, early: bool) -> Iterator[str]:
    library, _, inside = module.partition(".")
    gate = GATES.get(library)
    if gate is not None and (not _matches(path, gate) or (library == "pygame" and path in NO_PYGAME)):
        yield f"imports {library}, allowed in {', '.join(gate) or 'no module'}"
    if library != "simulator":
        return
    wing, target = wing_of(path), inside.split(".")[0]
    if not inside:
        yield "imports through the package root, name the wing"
    elif target != wing and wing != "__main__" and not _allowed(wing, inside):
        yield f"{wing} imports {inside}, allowed: {', '.join(sorted(MAY_IMPORT.get(wing, ()))) or 'nothing of ours'}"
    elif target == "window" != wing and early:
        yield "imports window at the top, do it inside the command that opens one"


def _allowed(wing: str, inside: str) -> bool:
    if inside.split(".")[0] in (*OPEN_TO_ALL, *MAY_IMPORT.get(wing, ())):
        return True
    return any(wing in who and f"{inside}.".startswith(f"{room}.") for room, who in OPEN_ROOMS.items())


def wing_of(path: str) -> str:
    """`engine/load.py` is of `engine`, `readings.py` of `readings`."""
    return path.split("/")[0].removesuffix(".py")


def _imported(path: str, node: ast.AST) -> list[str]:
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if not isinstance(node, ast.ImportFrom):
        return []
    home = ["simulator", *path.split("/")[:-1]]
    base = home[: len(home) - node.level + 1] if node.level else []
    module = ".".join([*base, *filter(None, [node.module])])
    if module == "simulator" or module in {f"simulator.{room.split('.')[0]}" for room in OPEN_ROOMS}:
        # From a folder one takes rooms: each counts by its own name. From the root nothing is taken.
        return [module if module == "simulator" else f"{module}.{alias.name}" for alias in node.names]
    return [module]


def wings_imported(path: str, source: str) -> set[str]:
    """The other wings that a module takes anything from."""
    modules = [module.split(".") for node in ast.walk(ast.parse(source)) for module in _imported(path, node)]
    return {parts[1] for parts in modules if parts[0] == "simulator" and len(parts) > 1} - {wing_of(path)}


def _outside_functions(node: ast.AST) -> Iterator[ast.AST]:
    for child in ast.iter_child_nodes(node):
        if not isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
            yield child
            yield from _outside_functions(child)


def calls(path: str, tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Files opened, text printed, chance not from a seed, imports hidden in a call."""
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        written = ast.unparse(node.func)
        last = written.rsplit(".", 1)[-1]
        if last in OPENERS and not _matches(path, MAY_OPEN):
            yield node.lineno, f"opens a file with {last}, allowed in {', '.join(MAY_OPEN)}"
        if last in CLOCKS and not _matches(path, MAY_ASK_THE_TIME):
            yield node.lineno, f"asks the wall clock with {last}, allowed in {', '.join(MAY_ASK_THE_TIME)}"
        if written == "print" and not _matches(path, MAY_PRINT):
            yield node.lineno, f"prints, allowed in {', '.join(MAY_PRINT)}"
        if last in {"import_module", "__import__"}:
            yield node.lineno, "imports by a call, which no rule can see"
        if _is_chance(written) and not (last in SEEDED and (node.args or node.keywords)):
            yield node.lineno, f"{written} without the scenario's seed"


def _is_chance(written: str) -> bool:
    return written in SEEDED or bool(re.match(r"(random|np\.random|numpy\.random)\.", written)) or written == "urandom"


def names(path: str, tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Public names with a word of another trade."""
    for line, name in [(1, path.rsplit("/", 1)[-1].removesuffix(".py")), *_public_names(tree)]:
        plain = re.sub(r"(?<=[a-z])(?=[A-Z])", "_", name).lower()
        for phrase in PHRASES_KEPT:
            plain = plain.replace(phrase, "")
        for word in plain.split("_"):
            if word in WORDS:
                yield line, f"{name} says {word}: say {WORDS[word]}"
        if "_base_" in f"_{plain}_" and name[:1].isupper() and not name.isupper():
            yield line, f"{name}: no Base classes"


def _public_names(scope: ast.Module | ast.ClassDef) -> Iterator[tuple[int, str]]:
    for node in scope.body:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            if node.name.startswith("_"):
                continue
            yield node.lineno, node.name
            if isinstance(node, ast.ClassDef):
                yield from _public_names(node)
            else:
                every = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
                yield from ((one.lineno, one.arg) for one in every)
        for target in _assigned(node):
            if isinstance(target, ast.Name) and not target.id.startswith("_"):
                yield target.lineno, target.id


def _assigned(node: ast.stmt) -> list[ast.expr]:
    if isinstance(node, ast.Assign):
        return node.targets
    return [node.target] if isinstance(node, ast.AnnAssign) else []


def _matches(path: str, patterns: tuple[str, ...]) -> bool:
    return any(fnmatch(path, pattern) for pattern in patterns)
