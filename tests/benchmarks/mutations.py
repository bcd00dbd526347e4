"""Small faults that a programmer might make, each one change of one place in a module.

mutations    every mutation of a source text, in its order
Mutation     one of them; `applied` gives the source with the fault in it

Left out is what no test should fence: docstrings, type hints, imports, decorators, `__all__`, style sheets.
"""

from __future__ import annotations

import ast
from collections.abc import Callable
from copy import deepcopy
from typing import NamedTuple, TypeVar

NodeT = TypeVar("NodeT", bound=ast.AST)

COMPARISONS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE), ast.LtE: (ast.Lt, ast.Gt), ast.Gt: (ast.GtE, ast.LtE), ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,), ast.NotEq: (ast.Eq,), ast.Is: (ast.IsNot,), ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,), ast.NotIn: (ast.In,),
}  # fmt: skip
ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
    ast.Mod: ast.FloorDiv, ast.Pow: ast.Mult, ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr,
}  # fmt: skip
TWINS = {"min": "max", "max": "min", "any": "all", "all": "any"}
UNFENCED_NAMES = {"__all__", "__slots__", "CSS", "DEFAULT_CSS"}
UNFENCED_CALLS = {"cast", "TypeVar", "NewType", "ParamSpec"}


class Mutation(NamedTuple):
    """One change: the bytes from `start` to `end` of the source become `text`."""

    line: int
    kind: str
    change: str
    start: int
    end: int
    text: str

    def applied(self, source: str) -> str:
        data = source.encode()
        return (data[: self.start] + self.text.encode() + data[self.end :]).decode()


def mutations(source: str) -> list[Mutation]:
    """Every mutation of the source, by its place in it."""
    found = _Finder(source)
    found.visit(ast.parse(source))
    return sorted(found.mutations)


def can_be_parsed(source: str) -> bool:
    """Whether a fault has left a program at all."""
    try:
        ast.parse(source)
    except SyntaxError:
        return False
    return True


class _Finder(ast.NodeVisitor):
    """Walks over what is run and notes what could be wrong in it."""

    def __init__(self, source: str) -> None:
        self.mutations: list[Mutation] = []
        self._data = source.encode()
        self._starts = [0]
        for line in self._data.splitlines(keepends=True):
            self._starts.append(self._starts[-1] + len(line))

    def _note(self, kind: str, node: ast.expr | ast.stmt, new: ast.AST | str) -> None:
        """`new` takes the place of the node; an expression in brackets, so that it stays one."""
        text = new if isinstance(new, str) else ast.unparse(new)
        start = self._starts[node.lineno - 1] + node.col_offset
        end = self._starts[(node.end_lineno or node.lineno) - 1] + (node.end_col_offset or 0)
        change = _difference(self._data[start:end].decode(), text)
        bare = isinstance(node, ast.stmt) or isinstance(new, ast.Constant | ast.Name | ast.Call)
        self.mutations.append(Mutation(node.lineno, kind, change, start, end, text if bare else f"({text})"))

    def _changed(self, kind: str, node: NodeT, change: Callable[[NodeT], None]) -> None:
        """Notes the node as it is once a copy of it has been changed."""
        copy = deepcopy(node)
        change(copy)
        self._note(kind, node, copy)  # type: ignore[arg-type]  # every node given has a place

    # What is left out

    def visit_Import(self, node: ast.Import) -> None: ...

    def visit_ImportFrom(self, node: ast.ImportFrom) -> None: ...

    def visit_match_case(self, node: ast.match_case) -> None:
        for each in (*([node.guard] if node.guard else []), *node.body):
            self.visit(each)

    def visit_FunctionDef(self, node: ast.FunctionDef | ast.AsyncFunctionDef) -> None:
        for default in (*node.args.defaults, *node.args.kw_defaults):
            if default is not None:
                self._default(default)
        for each in node.body:
            self.visit(each)

    visit_AsyncFunctionDef = visit_FunctionDef  # noqa: N815  # as ast names it

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        for each in node.body:
            self.visit(each)

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if node.value is not None and not _unfenced(node.target):
            self.visit(node.value)

    def visit_Subscript(self, node: ast.Subscript) -> None:
        if not (isinstance(node.value, ast.Name) and node.value.id in ("Literal", "Annotated")):
            self.generic_visit(node)

    # What could be wrong

    def visit_If(self, node: ast.If) -> None:
        if isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            return
        self._condition(node.test)
        self.generic_visit(node)

    def visit_IfExp(self, node: ast.IfExp) -> None:
        self._condition(node.test)
        self.generic_visit(node)

    def visit_While(self, node: ast.While) -> None:
        self._condition(node.test)
        self.generic_visit(node)

    def visit_comprehension(self, node: ast.comprehension) -> None:
        for test in node.ifs:
            self._note("condition", test, ast.Constant(True))
        self.generic_visit(node)

    def _condition(self, test: ast.expr) -> None:
        if not isinstance(test, ast.Constant | ast.Compare):  # a comparison is flipped anyway
            self._note("condition", test, ast.UnaryOp(ast.Not(), test))

    def visit_Compare(self, node: ast.Compare) -> None:
        for at, known in enumerate(node.ops):
            for other in COMPARISONS[type(known)]:
                self._changed("comparison", node, lambda copy, at=at, new=other: _put(copy.ops, at, new()))  # type: ignore[misc]
        self.generic_visit(node)

    def visit_BoolOp(self, node: ast.BoolOp) -> None:
        other = ast.Or() if isinstance(node.op, ast.And) else ast.And()
        self._note("and/or", node, ast.BoolOp(other, node.values))
        self.generic_visit(node)

    def visit_UnaryOp(self, node: ast.UnaryOp) -> None:
        if isinstance(node.op, ast.Not | ast.USub):
            self._note("not" if isinstance(node.op, ast.Not) else "sign", node, node.operand)
        self.generic_visit(node)

    def visit_BinOp(self, node: ast.BinOp) -> None:
        if (other := ARITHMETIC.get(type(node.op))) and not (_is_text(node.left) or _is_text(node.right)):
            self._note("arithmetic", node, ast.BinOp(node.left, other(), node.right))
        self.generic_visit(node)

    def visit_AugAssign(self, node: ast.AugAssign) -> None:
        if other := ARITHMETIC.get(type(node.op)):
            self._note("arithmetic", node, ast.AugAssign(node.target, other(), node.value))
        self._note("statement", node, "pass")
        self.visit(node.value)

    def visit_Constant(self, node: ast.Constant) -> None:
        value = node.value
        if isinstance(value, bool):
            self._note("truth", node, ast.Constant(not value))
        elif isinstance(value, int):
            self._note("number", node, ast.Constant(value + 1))
            self._note("number", node, ast.Constant(value - 1))
        elif isinstance(value, float):
            self._note("number", node, ast.Constant(value * 1.25 if value else 1.0))
        elif isinstance(value, str):
            self._note("text", node, ast.Constant("" if value else "changed"))
            if value.strip():
                self._note("text", node, ast.Constant(f"{value[:-1]}~" if len(value) > 1 else "~"))

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        """Its pieces have no place of their own in every Python: the whole is changed."""
        for at, piece in enumerate(node.values):
            if isinstance(piece, ast.Constant) and str(piece.value).strip():
                self._changed("text", node, lambda copy, at=at: _put(copy.values, at, ast.Constant("~")))  # type: ignore[misc]

    def visit_Return(self, node: ast.Return) -> None:
        if node.value is not None and not (isinstance(node.value, ast.Constant) and node.value.value is None):
            self._note("return", node, "return None")
        self.generic_visit(node)

    def visit_Expr(self, node: ast.Expr) -> None:
        if isinstance(node.value, ast.Constant):
            return  # a docstring
        self._note("statement", node, "pass")
        self.generic_visit(node)

    def visit_Assign(self, node: ast.Assign) -> None:
        if any(map(_unfenced, node.targets)):
            return
        if all(isinstance(each, ast.Attribute | ast.Subscript) for each in node.targets):
            self._note("statement", node, "pass")
        self.generic_visit(node)

    def visit_Raise(self, node: ast.Raise) -> None:
        self._note("statement", node, "pass")
        self.generic_visit(node)

    def visit_Continue(self, node: ast.Continue) -> None:
        self._note("statement", node, "break")

    def visit_Break(self, node: ast.Break) -> None:
        self._note("statement", node, "continue")

    def visit_Call(self, node: ast.Call) -> None:
        name = node.func.id if isinstance(node.func, ast.Name) else ""
        if name in UNFENCED_CALLS:
            return
        if name in TWINS:
            self._note("twin", node.func, ast.Name(TWINS[name]))
        for at in range(len(node.args) - 1):
            if name not in ("isinstance", "issubclass") and ast.dump(node.args[at]) != ast.dump(node.args[at + 1]):
                self._changed("argument", node, lambda copy, at=at: _swap(copy.args, at))  # type: ignore[misc]
        for at in range(len(node.keywords)):
            self._changed("argument", node, lambda copy, at=at: _drop(copy.keywords, at))  # type: ignore[misc]
        self.generic_visit(node)

    def _default(self, default: ast.expr) -> None:
        if not isinstance(default, ast.Constant):
            self._note("default", default, ast.Constant(None))
        self.visit(default)


def _put(values: list[NodeT], at: int, value: NodeT) -> None:
    values[at] = value


def _swap(values: list[NodeT], at: int) -> None:
    values[at], values[at + 1] = values[at + 1], values[at]


def _drop(values: list[NodeT], at: int) -> None:
    del values[at]


def _is_text(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _unfenced(target: ast.expr) -> bool:
    return isinstance(target, ast.Name) and target.id in UNFENCED_NAMES


def _difference(old: str, new: str, width: int = 60) -> str:
    """Both texts from shortly before the place where they part, each on one line."""
    before, after = (" ".join(text.split()) for text in (old, new))
    parting = next((at for at, (one, other) in enumerate(zip(before, after, strict=False)) if one != other), 0)
    start = 0 if parting < width // 2 else parting - 12
    return " -> ".join(_short(text[start:], width) for text in (before, after))


def _short(text: str, width: int) -> str:
    return text if len(text) <= width else f"{text[:width]}…"
