"""Evaluates a typed formula such as =FERT.STOCKMASS(150,15.5,100,200) in any host."""

from __future__ import annotations

import ast
import io
import math
import re
import tempfile
import time
import tokenize
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NoReturn

from tanksheet.definition import PREFIX, Calculation, catalogue
from tanksheet.errors import DividedByZero, NotANumber, NotListed, OutOfRange, SheetError, fault_for
from tanksheet.formula import Node, Ref, formula_text, read_call
from tanksheet.formula.lambdas import has_name
from tanksheet.formula.nodes import Const, Neg, Op
from tanksheet.formula.steps import in_steps
from tanksheet.formula.text import LONGEST
from tanksheet.recalc import ENGINES, engine
from tanksheet.recalc.adapter import COMMAND_SECONDS
from tanksheet.sheets.scratch import RESULT, run_cells, step_cell, write_scratch
from tanksheet.units import Quantity
from tanksheet.xlsx.address import Address, Value

HOSTS = ("python", *ENGINES)
SIGNS: dict[type[ast.AST], str] = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/"}
# What numbers and words look like in a sheet; Python has more forms, which no other host reads.
SPELLED = {
    tokenize.NUMBER: re.compile(r"(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?"),
    tokenize.STRING: re.compile(r'"[^"\\\n]*"'),
}


def evaluate(text: str, host: str = "python") -> Value:
    """The value of a formula.

    It may call FERT functions, with numbers, "words", {runs;of;numbers} and other such calls,
    joined by + - * / and brackets.
    Raises: Fault where a cell would show an error; NotListed for an unknown function or host.
    """
    if host not in HOSTS:
        raise NotListed(f"no host {host!r}; choose from {', '.join(HOSTS)}")
    if len(text) > LONGEST:
        raise NotListed(f"the formula has {len(text)} characters; a spreadsheet takes {LONGEST}")
    try:
        tree = _parsed(text)
        if isinstance(tree, ast.List):
            _refuse(tree)
        value: Value = _in_python(tree) if host == "python" else _in_engine(tree, text, host)
        return value
    except (RecursionError, MemoryError):
        raise NotListed("the formula nests too deeply; split it over several") from None


def _parsed(text: str) -> ast.expr:
    formula = text.strip().removeprefix("=")
    _refuse_mixed_runs(formula)
    try:
        return ast.parse(_as_python(formula), mode="eval").body
    except (SyntaxError, tokenize.TokenError, ValueError):
        raise NotListed(
            f"cannot read {text[:60]!r} as a formula; check brackets and quotes"
        ) from None


def _refuse_mixed_runs(formula: str) -> None:
    """{25,1;24,9} is four numbers or two: a comma is no decimal sign here, and no group mark."""
    outside_words = re.sub(r'"[^"\n]*"', '""', formula)
    for run in re.findall(r"\{[^{}]*\}", outside_words):
        alone = re.sub(r"\([^()]*\)", "", run)
        if "," in alone and ";" in alone:
            points, several = run.replace(",", "."), run.replace(",", ";")
            raise NotListed(
                f"{run[:60]} can be read in two ways: a point is the decimal sign; write "
                f"{points[:60]} or {several[:60]}"
            )


def _as_python(formula: str) -> str:
    """Runs in braces become lists; everything else is spelled alike in both languages."""
    pieces = []
    for token in tokenize.generate_tokens(io.StringIO(formula).readline):
        spelled = SPELLED.get(token.type)
        if token.type == tokenize.COMMENT or (spelled and not spelled.fullmatch(token.string)):
            raise SyntaxError(token.string)
        swapped = {"{": "[", "}": "]", ";": ","}.get(token.string, token.string)
        pieces.append((token.type, swapped if token.type == tokenize.OP else token.string))
    return tokenize.untokenize(pieces).strip()


def _quoted(node: ast.AST) -> str:
    """A part of the formula as a message quotes it: short, with runs in braces."""
    text = ast.unparse(node).replace("[", "{").replace("]", "}")
    return text if len(text) <= 60 else f"{text[:57]}..."


def _refuse(node: ast.AST) -> NoReturn:
    raise NotListed(
        f"cannot evaluate {_quoted(node)}; use FERT functions, numbers, "
        '"words", {1;2;3}, + - * / and brackets'
    )


def _called(node: ast.Call) -> Calculation:
    name = ast.unparse(node.func).upper()
    found = catalogue().get(name.removeprefix(PREFIX))
    if found is None or not name.startswith(PREFIX):
        raise NotListed(f"there is no function {name[:60]}; 'tanksheet list' shows them all")
    if node.keywords:
        raise NotListed(f"{name}: a formula gives arguments by position, without names")
    if len(node.args) != len(found.parameters):
        wanted, count, given = ", ".join(found.parameters), len(found.parameters), len(node.args)
        raise NotListed(
            f"{name} takes {count} argument{'s' if count > 1 else ''}: {wanted}; {given} "
            f"{'was' if given == 1 else 'were'} given. A comma stands between "
            "arguments, a point is the decimal sign"
        )
    return found


def _constant(node: ast.Constant) -> float | str:
    if isinstance(node.value, str):
        return node.value
    if isinstance(node.value, bool) or not isinstance(node.value, (int, float)):
        _refuse(node)
    try:
        number = float(node.value)
    except OverflowError:
        number = math.inf
    return _finite(number)


def _finite(number: float) -> float:
    if not math.isfinite(number):
        raise OutOfRange("a number in the formula, or worked out by it, is too large")
    return number


def _run(node: ast.List) -> list[float]:
    """The numbers of a run; each may be worked out, but none may be a run or a word."""
    if not node.elts:
        raise NotListed("a run {} holds no numbers")
    return [_number(item) for item in node.elts]


def _number(node: ast.expr) -> float:
    value = _in_python(node)
    if not isinstance(value, (int, float)):
        raise NotANumber(f"{_quoted(node)}: text or a run where a number belongs")
    return float(value)


def _in_python(node: ast.expr) -> Any:
    if isinstance(node, ast.Constant):
        return _constant(node)
    if isinstance(node, ast.List):
        return _run(node)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return -_number(node.operand)
    if isinstance(node, ast.BinOp) and type(node.op) in SIGNS:
        return _arithmetic(node)
    if isinstance(node, ast.Call):
        return _called(node).function(*(_in_python(argument) for argument in node.args))
    _refuse(node)


def _arithmetic(node: ast.BinOp) -> float:
    left, right = _number(node.left), _number(node.right)
    work: dict[str, Callable[[], float]] = {
        "+": lambda: left + right,
        "-": lambda: left - right,
        "*": lambda: left * right,
        "/": lambda: left / right,
    }
    try:
        return _finite(work[SIGNS[type(node.op)]]())
    except ZeroDivisionError:
        raise DividedByZero(f"{_quoted(node)}: nothing to divide by") from None


@dataclass
class _Cells:
    """Turns the parsed formula into nodes; arguments stand in cells, one row for each run.

    A constant in a cell is the sheet's to judge, whatever the function makes of it.
    """

    runs: list[Sequence[float | str]] = field(default_factory=list)

    def node(self, part: ast.expr) -> Node:
        if isinstance(part, ast.Constant):
            return Const(_constant(part))
        if isinstance(part, ast.UnaryOp) and isinstance(part.op, ast.USub):
            return Neg(self.node(part.operand))
        if isinstance(part, ast.BinOp) and type(part.op) in SIGNS:
            return Op(SIGNS[type(part.op)], self.node(part.left), self.node(part.right))
        if isinstance(part, ast.Call):
            called = _called(part)
            quantities = called.parameters.values()
            arguments = [self.argument(a, e) for a, e in zip(part.args, quantities, strict=True)]
            return read_call(called.function, arguments, {})
        if isinstance(part, ast.List):
            raise NotANumber(f"{_quoted(part)}: a run where a number belongs")
        _refuse(part)

    def argument(self, part: ast.expr, quantity: Quantity) -> Node:
        if isinstance(part, ast.List) and quantity.is_readings:
            cells = self._put(_run(part))
            return Ref(f"{cells[0].cell}:{cells[-1].cell}")
        if isinstance(part, ast.Constant):
            return Ref(self._put([_constant(part)])[0].cell)
        return self.node(part)

    def _put(self, run: Sequence[float | str]) -> tuple[Address, ...]:
        self.runs.append(run)
        return run_cells(len(self.runs) - 1, len(run))


def _in_engine(tree: ast.expr, text: str, host: str) -> Value:
    cells = _Cells()
    steps = in_steps(cells.node(tree), step_cell, {})
    formulas = [formula_text(steps.result), *(formula_text(node) for _, node in steps.parts)]
    # An engine that knows LAMBDA runs the formula as typed, if each function has a LAMBDA name; the
    # others run it with every body in place, and where LET is not known inside a LAMBDA, a long
    # formula in steps.
    has_run = any(isinstance(part, ast.List) for part in ast.walk(tree))
    calls = (_called(part) for part in ast.walk(tree) if isinstance(part, ast.Call))
    able = engine(host)
    as_typed = able.knows_lambda and not has_run and all(has_name(each) for each in calls)
    as_typed = as_typed and (able.knows_let_in_lambda or not steps.parts)
    if as_typed:
        formulas = [text.strip().removeprefix("=")]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "formula.xlsx"
        write_scratch(path, formulas, cells.runs, as_typed)
        with able.begin(path, time.monotonic() + COMMAND_SECONDS) as session:
            value = session.calculate({}, [RESULT])[RESULT]
    if isinstance(value, SheetError):
        raise fault_for(value, f"{host} gives {value} for {text}")
    return value
