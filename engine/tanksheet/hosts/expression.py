"""Evaluates a typed formula such as =FERT.STOCKMASS(150,15.5,100,200) in any host."""

from __future__ import annotations

import ast
import io
import tempfile
import tokenize
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NoReturn

from tanksheet.definition import PREFIX, Calculation, catalogue
from tanksheet.errors import FAULTS, Fault, NotANumber, NotListed, SheetError
from tanksheet.formula import Node, Ref, formula_text, read_call
from tanksheet.formula.nodes import Const, Neg, Op
from tanksheet.recalc import Value, engine
from tanksheet.sheets.scratch import RESULT, run_cells, write_scratch

# Hosts that know LAMBDA run the formula as typed; the others run it with every body in place.
LAMBDA_HOSTS = ("ironcalc", "formulas")
HOSTS = ("python", *LAMBDA_HOSTS, "libreoffice", "gnumeric")
SIGNS: dict[type[ast.AST], str] = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/"}


def evaluate(text: str, host: str = "python") -> Value:
    """The value of a formula.

    It may call FERT functions, with numbers, "words", {runs;of;numbers} and other such calls,
    joined by + - * / and brackets.
    Raises: Fault where a cell would show an error; NotListed for an unknown function or host.
    """
    if host not in HOSTS:
        raise NotListed(f"no host {host!r}; choose from {', '.join(HOSTS)}")
    tree = _parsed(text)
    if host == "python":
        return _in_python(tree)
    return _in_engine(tree, text, host)


def _parsed(text: str) -> ast.expr:
    formula = text.strip().removeprefix("=")
    try:
        return ast.parse(_as_python(formula), mode="eval").body
    except (SyntaxError, tokenize.TokenError):
        raise NotListed(f"cannot read {text!r} as a formula; check brackets and quotes") from None


def _as_python(formula: str) -> str:
    """Runs in braces become lists; everything else is spelled alike in both languages."""
    pieces = []
    for token in tokenize.generate_tokens(io.StringIO(formula).readline):
        swapped = {"{": "[", "}": "]", ";": ","}.get(token.string, token.string)
        pieces.append((token.type, swapped if token.type == tokenize.OP else token.string))
    return tokenize.untokenize(pieces).strip()


def _refuse(node: ast.AST) -> NoReturn:
    raise NotListed(
        f"cannot evaluate {ast.unparse(node)}; use FERT functions, numbers, "
        '"words", {1;2;3}, + - * / and brackets'
    )


def _called(node: ast.Call) -> Calculation:
    name = ast.unparse(node.func).upper()
    found = catalogue().get(name.removeprefix(PREFIX))
    if found is None or not name.startswith(PREFIX) or node.keywords:
        raise NotListed(f"there is no function {name}; 'tanksheet list' shows them all")
    if len(node.args) != len(found.parameters):
        wanted = ", ".join(found.parameters)
        raise NotListed(f"{name} takes {len(found.parameters)} arguments: {wanted}")
    return found


def _in_python(node: ast.expr) -> Any:
    if isinstance(node, ast.Constant) and isinstance(node.value, (int, float, str)):
        return node.value
    if isinstance(node, ast.List):
        return [_in_python(item) for item in node.elts]
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return -_in_python(node.operand)
    if isinstance(node, ast.BinOp) and type(node.op) in SIGNS:
        return _arithmetic(node)
    if isinstance(node, ast.Call):
        return _called(node).function(*(_in_python(argument) for argument in node.args))
    _refuse(node)


def _arithmetic(node: ast.BinOp) -> float:
    left, right = _in_python(node.left), _in_python(node.right)
    work: dict[str, Callable[[], float]] = {
        "+": lambda: left + right,
        "-": lambda: left - right,
        "*": lambda: left * right,
        "/": lambda: left / right,
    }
    try:
        return work[SIGNS[type(node.op)]]()
    except ZeroDivisionError:
        raise FAULTS[SheetError.DIV](f"{ast.unparse(node)}: nothing to divide by") from None
    except TypeError:
        raise NotANumber(f"{ast.unparse(node)}: text where a number belongs") from None


@dataclass
class _Cells:
    """Turns the parsed formula into nodes; runs of numbers go to cells of their own."""

    runs: list[list[float]] = field(default_factory=list)

    def node(self, part: ast.expr) -> Node:
        if isinstance(part, ast.Constant) and isinstance(part.value, (int, float, str)):
            return Const(part.value)
        if isinstance(part, ast.List):
            return self.run(part)
        if isinstance(part, ast.UnaryOp) and isinstance(part.op, ast.USub):
            return Neg(self.node(part.operand))
        if isinstance(part, ast.BinOp) and type(part.op) in SIGNS:
            return Op(SIGNS[type(part.op)], self.node(part.left), self.node(part.right))
        if isinstance(part, ast.Call):
            return read_call(_called(part).function, [self.node(a) for a in part.args], {})
        _refuse(part)

    def run(self, part: ast.List) -> Node:
        numbers = [float(_in_python(item)) for item in part.elts]
        self.runs.append(numbers)
        cells = run_cells(len(self.runs) - 1, len(numbers))
        return Ref(f"{cells[0].cell}:{cells[-1].cell}")


def _in_engine(tree: ast.expr, text: str, host: str) -> Value:
    cells = _Cells()
    native = formula_text(cells.node(tree))
    typed = text.strip().removeprefix("=")
    formula = typed if host in LAMBDA_HOSTS and not cells.runs else native
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "formula.xlsx"
        write_scratch(path, formula, cells.runs, host in LAMBDA_HOSTS)
        with engine(host).open(path) as session:
            value = session.calculate({}, [RESULT])[RESULT]
    if isinstance(value, SheetError):
        kind = FAULTS.get(value, Fault)
        raise kind(f"{host} gives {value} for {text}")
    return value
