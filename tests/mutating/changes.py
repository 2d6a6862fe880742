"""Small changes of a module, one at a time: another comparison, another sign, a number one more, the other branch."""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

PACKAGE = Path(__file__).parents[2] / "circuitcheck"

_COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.GtE,
    ast.GtE: ast.Lt,
    ast.Gt: ast.LtE,
    ast.LtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
}
_REACHED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
}
_CALLED = {"min": "max", "max": "min", "any": "all", "all": "any", "MORE": "LESS", "LESS": "MORE"}


class Change(NamedTuple):
    """One change. ``line``: the line as it is written; ``nth``: which of its changes; ``place``: which expression."""

    module: str
    line: str
    nth: int
    what: str
    place: int

    @property
    def name(self) -> str:
        """How a list of explained changes names it."""
        return f"{self.module}: {self.line} [{self.nth}: {self.what}]"

    @property
    def path(self) -> Path:
        """The module's file."""
        return PACKAGE / f"{self.module}.py"

    def source(self) -> str:
        """The whole module, changed."""
        tree = ast.parse(self.path.read_text("utf-8"))
        old = next(each for place, each in enumerate(_nodes(tree)) if place == self.place)
        changed = _changed(copy.deepcopy(old))
        assert changed is not None
        for parent in ast.walk(tree):
            for name, value in ast.iter_fields(parent):
                if value is old:
                    setattr(parent, name, changed[0])
                elif isinstance(value, list):
                    value[:] = [changed[0] if each is old else each for each in value]
        return ast.unparse(ast.fix_missing_locations(tree))


def changes_of(path: Path) -> Iterator[Change]:
    """Every change of a module of the package."""
    source = path.read_text("utf-8")
    tree, lines = ast.parse(source), source.splitlines()
    counts: dict[int, int] = {}
    for place, node in enumerate(_nodes(tree)):
        changed = _changed(copy.deepcopy(node))
        if changed is None:
            continue
        nth = counts[node.lineno] = counts.get(node.lineno, 0) + 1
        module = path.relative_to(PACKAGE).with_suffix("").as_posix()
        yield Change(module, lines[node.lineno - 1].strip(), nth, changed[1], place)


def _nodes(tree: ast.AST) -> Iterator[ast.expr]:
    """Every expression but type hints, in one order."""
    for name, value in ast.iter_fields(tree):
        if name in ("annotation", "returns"):
            continue
        for child in value if isinstance(value, list) else (value,):
            if isinstance(child, ast.AST):
                if isinstance(child, ast.expr):
                    yield child
                yield from _nodes(child)


def _changed(node: ast.expr) -> tuple[ast.expr, str] | None:
    match node:
        case ast.Compare(ops=[op]):
            node.ops = [_COMPARED[type(op)]()]
            return node, f"{type(op).__name__} is {type(node.ops[0]).__name__}"
        case ast.BoolOp(op=op):
            node.op = ast.Or() if isinstance(op, ast.And) else ast.And()
            return node, f"{type(op).__name__} is {type(node.op).__name__}"
        case ast.UnaryOp(op=ast.Not()):
            return node.operand, "no not"
        case ast.BinOp(op=op) if type(op) in _REACHED:
            node.op = _REACHED[type(op)]()
            return node, f"{type(op).__name__} is {type(node.op).__name__}"
        case ast.IfExp():
            node.body, node.orelse = node.orelse, node.body
            return node, "the other branch"
        case ast.Constant(value=bool() as value):
            return ast.Constant(not value), f"{value} is {not value}"
        case ast.Constant(value=int() | float() as number):
            return ast.Constant(number + 1), f"{number} is {number + 1}"
        case ast.Name(id=name) if name in _CALLED:
            return ast.Name(_CALLED[name], ast.Load()), f"{name} is {_CALLED[name]}"
    return None
