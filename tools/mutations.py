"""How much the tests see: small faults drawn by lot are put into the simulator, one at a time, and its tests are run.

A fault is a comparison, a sign, an operation or a number changed, or a statement left out. Where the tests never come
by, which a `raise` in its place shows first, it does not count and another is drawn. The same seed draws the same
faults from the same sources, so two states of the tests can be compared.

python tools/mutations.py --seed 1 --count 30 [--checkout FOLDER] [--rooms mechanics/sling ...] [--tests FILE ...]
"""

from __future__ import annotations

import argparse
import ast
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent
LONGEST_S = 1800.0
"""Of tests with a fault: longer ones go round in it."""
OTHER: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In, ast.And: ast.Or, ast.Or: ast.And,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.USub: ast.UAdd,
}  # fmt: skip
"""What stands in the place of an operator."""


class Fault(NamedTuple):
    """One change: a room, its line, what is changed, and the room with the fault and with a `raise` there."""

    room: Path
    line: int
    what: str
    faulty: str
    probed: str


def main() -> int:
    """Draw, try and count."""
    asked = arguments()
    chance = random.Random(asked.seed)
    with tempfile.TemporaryDirectory() as temporary:
        there = Path(temporary) / "checkout"
        shutil.copytree(asked.checkout, there, ignore=shutil.ignore_patterns(".*", "__pycache__"))
        rooms = [there / "simulator" / f"{name}.py" for name in asked.rooms]
        rooms = rooms or sorted(there.glob("simulator/*/**/*.py"))
        places = [(room, number) for room in rooms for number in spots(room)]
        caught = tried = 0
        while tried < asked.count and places:
            fault = made(*places.pop(chance.randrange(len(places))))
            tests = asked.tests or tests_of(fault.room.relative_to(there / "simulator"))
            if passes(there, fault.room, fault.probed, tests):
                continue
            seen = not passes(there, fault.room, fault.faulty, tests)
            tried, caught = tried + 1, caught + seen
            told = "caught" if seen else "MISSED"
            print(f"{told}  {fault.room.relative_to(there)}:{fault.line}  {fault.what}", flush=True)
    print(f"mutations: {caught} of {tried} caught, seed {asked.seed}")
    return 0


def arguments() -> argparse.Namespace:
    """From the command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=30)
    parser.add_argument("--checkout", type=Path, default=ROOT, help="whose simulator and tests; it is left as it is")
    parser.add_argument("--rooms", nargs="*", default=[], help="only these, such as mechanics/sling")
    parser.add_argument("--tests", nargs="*", default=[], help="only these; else those of the room's wing")
    return parser.parse_args()


def tests_of(room: Path) -> list[str]:
    """Tests of a room's wing."""
    wing = room.parts[0]
    also = {"mechanics": ["tests/plan"], "engine": ["tests/outside"], "telling": ["tests/report"]}.get(wing, [])
    return [*([f"tests/{wing}"] if (ROOT / "tests" / wing).is_dir() else []), *also]


def spots(room: Path) -> list[int]:
    """Numbers of the nodes of a room that can be changed, in the order of `ast.walk`."""
    return [number for number, (node, _) in enumerate(within(ast.parse(room.read_text("utf-8")))) if can_change(node)]


def within(tree: ast.Module) -> Iterator[tuple[ast.AST, ast.stmt]]:
    """Every node inside a function's body, with the statement that it is part of."""
    for function in (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)):
        for statement in function.body:
            yield from _under(statement, statement)


def _under(node: ast.AST, statement: ast.stmt) -> Iterator[tuple[ast.AST, ast.stmt]]:
    statement = node if isinstance(node, ast.stmt) else statement
    if isinstance(node, ast.FunctionDef):
        return
    yield node, statement
    for child in ast.iter_child_nodes(node):
        yield from _under(child, statement)


def can_change(node: ast.AST) -> bool:
    """Whether `change` knows what to do."""
    if isinstance(node, ast.Compare):
        return len(node.ops) == 1
    if isinstance(node, ast.BinOp | ast.BoolOp | ast.UnaryOp):
        return type(node.op) in OTHER
    if isinstance(node, ast.Constant):
        return type(node.value) in (int, float)
    return isinstance(node, ast.AugAssign) or (isinstance(node, ast.Expr) and isinstance(node.value, ast.Call))


def change(node: ast.AST) -> str:
    """Change a node where it stands; what was done."""
    if isinstance(node, ast.Compare):
        node.ops[0] = OTHER[type(node.ops[0])]()  # type: ignore[assignment]
        return f"comparison: {ast.unparse(node)}"
    if isinstance(node, ast.BinOp | ast.BoolOp | ast.UnaryOp):
        node.op = OTHER[type(node.op)]()  # type: ignore[assignment]
        return f"operation: {ast.unparse(node)}"
    if isinstance(node, ast.Constant):
        was = node.value
        node.value = was + 1 if isinstance(was, int) else 1.2 * was if was else 0.1  # type: ignore[operator]
        return f"number: {was} to {node.value}"
    return "left out"


def made(room: Path, number: int) -> Fault:
    """The change at one spot of a room."""
    tree = ast.parse(room.read_text("utf-8"))
    node, statement = list(within(tree))[number]
    line, probe = statement.lineno, ast.parse("raise SystemError('probe')").body
    probed = deepcopy(tree)
    _put(probed, list(within(probed))[number][1], probe)
    before = ast.unparse(statement).partition("\n")[0]
    what = change(node)
    if what == "left out":
        _put(tree, statement, ast.parse("pass").body)
        what = f"left out: {before}"
    return Fault(room, line, what, ast.unparse(tree), ast.unparse(probed))


def _put(tree: ast.Module, statement: ast.stmt, instead: list[ast.stmt]) -> None:
    """Other statements in the place of one."""
    for node in ast.walk(tree):
        for body in (value for _, value in ast.iter_fields(node) if isinstance(value, list)):
            if statement in body:
                at = body.index(statement)
                body[at : at + 1] = instead
                return


def passes(there: Path, room: Path, text: str, tests: list[str]) -> bool:
    """Whether the tests pass with a room's text; the room is then as it was."""
    was = room.read_text("utf-8")
    room.write_text(text, "utf-8")
    pytest = [sys.executable, "-m", "pytest", "-x", "-q", "-n", "0", "-p", "no:cacheprovider", *tests]
    own = {**os.environ, "PYTHONPATH": str(there), "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        return subprocess.run(pytest, cwd=there, env=own, capture_output=True, timeout=LONGEST_S).returncode == 0
    except subprocess.TimeoutExpired:
        return False
    finally:
        room.write_text(was, "utf-8")


if __name__ == "__main__":
    sys.exit(main())
