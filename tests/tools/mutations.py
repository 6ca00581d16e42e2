"""Small faults in a module's source, one at a time, each undone after use; mutate.py tries them."""

import ast
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

OPERATORS = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
COMPARISONS = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
}
PAIRS = "min max, minimum maximum, sin cos, sinh cosh, any all, floor ceil, erf erfc, low high"
NAMES = dict(
    pair for words in PAIRS.split(", ") for pair in (words.split(), reversed(words.split()))
)
# Without these a call either stays as it is or cannot be read at all, which says nothing.
KEPT = set(
    [
        "float",
        "int",
        "str",
        "bool",
        "tuple",
        "list",
        "dict",
        "set",
        "frozenset",
        "asarray",
        "len",
        "iter",
        "next",
        "super",
    ]
)
UNTOUCHED = (ast.Raise, ast.Import, ast.ImportFrom, ast.Global, ast.Nonlocal, ast.Assert)
UNREAD = {"annotation", "returns", "decorator_list", "format_spec", "ctx", "bases"}
SHOWN_WITHIN = (ast.Constant, ast.Name, ast.Attribute)


@dataclass
class Mutant:
    """One fault: where it stands, its line, what changes, and the statement that it is in."""

    line_number: int
    line: str
    change: str
    statement: int
    tree: ast.Module
    place: tuple[Any, Any, Any]

    @contextmanager
    def made(self) -> Iterator[ast.Module]:
        """The module's tree with the fault in it."""
        holder, key, new = self.place
        old, holder[key] = holder[key], new
        try:
            yield self.tree
        finally:
            holder[key] = old


def mutants(source: str) -> list[Mutant]:
    """All faults this knows how to make in a module, in the order of its lines."""
    tree, lines, found, seen = ast.parse(source), source.splitlines(), [], Counter()
    for holder, key, above, statement in _places(tree, 0):
        node = holder[key]
        shown = above if isinstance(node, SHOWN_WITHIN) and isinstance(above, ast.expr) else None
        before = _words(shown or node)
        for new in _faults(node, above):
            ast.fix_missing_locations(ast.copy_location(new, node))
            line = lines[node.lineno - 1].strip()
            fault = Mutant(node.lineno, line, "", statement, tree, (holder, key, new))
            with fault.made():
                fault.change = f"{before} → {_words(shown or new)}"
            seen[fault.line, fault.change] += 1
            if (again := seen[fault.line, fault.change]) > 1:
                fault.change += f" ({again})"
            found.append(fault)
    return sorted(found, key=lambda fault: fault.line_number)


def marked(source: str, mark: str) -> ast.Module:
    """Tree of a module in which each statement first tells its line to the function ``mark``."""
    tree = ast.parse(source)
    for node in list(ast.walk(tree)):
        for name in ("body", "orelse", "finalbody"):
            if isinstance(body := getattr(node, name, None), list):
                new = []
                for one in body:
                    told = ast.parse(f"{mark}({one.lineno})").body[0]
                    new += [one] if _is_docstring(one) else [ast.copy_location(told, one), one]
                setattr(node, name, new)
    return ast.fix_missing_locations(tree)


def _is_docstring(statement):
    return isinstance(statement, ast.Expr) and _is_text(statement.value)


def _places(above, statement):
    """Every node that may be changed: who holds it, under which key, its parent and statement."""
    for name, value in ast.iter_fields(above):
        if name in UNREAD:
            continue
        many = isinstance(value, list)
        holder = value if many else vars(above)
        for key in range(len(value)) if many else (name,):
            node = holder[key]
            if isinstance(node, ast.AST) and not isinstance(node, UNTOUCHED):
                within = node.lineno if isinstance(node, ast.stmt) else statement
                if hasattr(node, "lineno"):
                    yield holder, key, above, within
                yield from _places(node, within)


def _faults(node, above):
    """What could stand in a node's place."""
    match node:
        case ast.BinOp(left, op, right) if not (_is_text(left) or _is_text(right)):
            if type(op) in OPERATORS:
                yield ast.BinOp(left, OPERATORS[type(op)](), right)
            yield left
            if isinstance(op, ast.Add | ast.Mult):
                yield right
        case ast.AugAssign(target, op, value) if type(op) in OPERATORS:
            yield ast.AugAssign(target, OPERATORS[type(op)](), value)
        case ast.UnaryOp(ast.USub() | ast.Not(), operand):
            yield operand
        case ast.Compare(left, [op], right):
            others = COMPARISONS.get(type(op), ())
            yield from (ast.Compare(left, [other()], right) for other in others)
            if not others:  # of what is or is not in something
                yield ast.UnaryOp(ast.Not(), node)
        case ast.BoolOp(op, values):
            yield ast.BoolOp(ast.Or() if isinstance(op, ast.And) else ast.And(), values)
            yield from values if len(values) == 2 else [ast.BoolOp(op, values[1:])]
        case ast.Constant(bool(value)):
            if getattr(above, "arg", "") != "strict":  # a net below that nothing falls into
                yield ast.Constant(not value)
        case ast.Constant(int(value)):
            yield ast.Constant(value + 1)
        case ast.Constant(float(value)):
            yield ast.Constant(value * 1.1 or 1.0)
        case ast.IfExp(test, body, orelse):
            yield ast.IfExp(test, orelse, body)
        case ast.If(test, body, orelse):
            yield ast.If(ast.UnaryOp(ast.Not(), test), body, orelse)
        case ast.Return(ast.BinOp() | ast.Call() | ast.Name() | ast.Attribute() as value):
            yield ast.Return(ast.UnaryOp(ast.USub(), value))
        case ast.Expr(ast.Call()):
            yield ast.Pass()
        case ast.Name(name, ast.Load()) if name in NAMES:
            yield ast.Name(NAMES[name], ast.Load())
        case ast.Attribute(value, name, ast.Load()) if name in NAMES:
            yield ast.Attribute(value, NAMES[name], ast.Load())
        case ast.Call(function, arguments, keywords):
            name = getattr(function, "attr", getattr(function, "id", ""))
            if len(arguments) == 1 and not keywords and name not in KEPT and name[:1].islower():
                yield arguments[0]
            for one in keywords if not isinstance(above, ast.Expr) else ():
                if one.arg not in (None, "strict", "dtype"):
                    rest = [other for other in keywords if other is not one]
                    yield ast.Call(function, arguments, rest)


def _words(node):
    return f"if {ast.unparse(node.test)}" if isinstance(node, ast.If) else ast.unparse(node)


def _is_text(node):
    return isinstance(node, ast.JoinedStr) or (
        isinstance(node, ast.Constant) and isinstance(node.value, str)
    )
