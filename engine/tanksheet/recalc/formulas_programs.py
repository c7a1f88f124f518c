"""What ``formulas`` reads in a cell, kept small.

The library makes a graph of dispatchers of each formula: of a large workbook a gigabyte. Here its
own parser reads a formula and its own functions work it out, but between the two stands a list of
steps. What such a list cannot say (LAMBDA and LET, operators between references, functions that
look at the graph) is left to the library as it is.

This file imports the library, so only the child process may read it, when it loads a workbook.
"""

from __future__ import annotations

import contextlib
import gc
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

import schedula
from formulas.cell import CELL, Cell, Ref
from formulas.errors import FormulaError, InvalidRangeName
from formulas.excel import BOOK, ExcelModel
from formulas.functions import COMPILING, wrap_ranges_func
from formulas.parser import Parser
from formulas.ranges import Ranges
from formulas.tokens.operand import Error, Operand, Range
from formulas.tokens.operator import Operator

# The library reads these by rewriting its own graph.
OF_THE_GRAPH = re.compile(r"\b(?:LAMBDA|LET)\s*\(|_XLETA\.", re.IGNORECASE)
BETWEEN_REFERENCES = frozenset(" ,:")
WORD = re.compile(r"[^\W\d][\w.\\]*")

_as_values = wrap_ranges_func(schedula.bypass)


class Beyond(Exception):
    """A formula that a list of steps cannot say."""


class Program:
    """What the library calls to work out a cell: values in, the cell's value out."""

    __slots__ = ("__name__", "constants", "inputs", "links", "result", "steps")

    def __init__(
        self,
        name: str,
        inputs: dict[str, Any],
        constants: tuple[Any, ...],
        steps: tuple[tuple[Any, tuple[int, ...]], ...],
        result: int,
    ) -> None:
        self.__name__ = name
        self.inputs = inputs
        """Each operand that is a reference, and its ranges; None for a name that has none."""
        self.constants = constants
        self.steps = steps
        """A function, and the places of its arguments among inputs, constants, steps before it."""
        self.result = result
        self.links: tuple[tuple[tuple[int, Any], ...], ...] = ()
        """For each value that comes in: the places that it goes to, and the ranges there."""

    def link(self, nodes: Mapping[Any, list[str]]) -> None:
        """Say which operands the values serve that come in."""
        places = {operand: place for place, operand in enumerate(self.inputs)}
        self.links = tuple(
            tuple((places[operand], self.inputs[operand]) for operand in operands)
            for operands in nodes.values()
        )

    def __call__(self, *values: Any) -> Any:
        kept: list[Any] = [None] * len(self.inputs)
        for link, value in zip(self.links, values, strict=True):
            for place, ranges in link:
                kept[place] = _seen(value, ranges, kept[place])
        kept.extend(self.constants)
        try:
            for function, places in self.steps:
                kept.append(_given(function(*[kept[place] for place in places])))
        except NotImplementedError:
            return Error.errors["#NAME?"]
        return _as_values(kept[self.result])


def _seen(value: Any, ranges: Any, before: Any) -> Any:
    """A value as an operand of these ranges has it, where it may have part of them already."""
    if ranges is None or not isinstance(value, Ranges):
        return value
    if before is None and _names(ranges) == _names(value):
        return value
    seen = before or Ranges(ranges.ranges)
    seen.values.update(value.values)
    return seen


def _names(ranges: Any) -> list[str]:
    return [each["name"] for each in ranges.ranges]


def _given(value: Any) -> Any:
    if value is schedula.NONE:
        raise ValueError("a reference without values")
    return value


class Steps:
    """Stands where the parser has its builder, and takes the tokens in the order of working.

    Whatever has a value has a number: 0, 1, 2 ... in that order; what is alike has the same one.
    """

    def __init__(self, match: Any = None) -> None:
        self._open: list[int] = []
        self._numbers: dict[Any, int] = {}
        self._references: dict[int, str] = {}
        self._constants: dict[int, Any] = {}
        self._steps: dict[int, tuple[Any, tuple[int, ...]]] = {}

    def __len__(self) -> int:
        return len(self._open)

    def append(self, token: Any) -> None:
        if not isinstance(token, Operand):
            number = self._step(token)
        elif not isinstance(token, Range):
            number = self._constant((type(token), token.name), token.compile())
        elif token.attr.get("anchor") or token.attr.get("indirect"):
            raise Beyond
        else:
            number = self._number(token.name)
            self._references[number] = token.name
        self._open.append(number)

    def finish(self) -> None:
        """The parser says that it is done."""

    def _number(self, key: Any) -> int:
        return self._numbers.setdefault(key, len(self._numbers))

    def _constant(self, key: Any, value: Any) -> int:
        number = self._number(key)
        self._constants[number] = value
        return number

    def _step(self, token: Any) -> int:
        if isinstance(token, Operator) and token.name in BETWEEN_REFERENCES:
            raise Beyond
        start = len(self._open) - token.get_n_args
        if start < 0:
            raise FormulaError
        arguments = self._open[start:]
        del self._open[start:]
        function = token.compile()
        if isinstance(function, dict):
            told = [self._told(key) for key in function.get("extra_inputs", ())]
            function, arguments = function["function"], told + arguments
        step = function, tuple(arguments)
        number = self._number(step)
        self._steps[number] = step
        return number

    def _told(self, key: Any) -> int:
        """What some functions are told beside their arguments."""
        if key not in (COMPILING, CELL):
            raise Beyond
        return self._constant(key, False)

    def program(self, cell: Any, ranges: Callable[[str], Any]) -> Program:
        """The steps for a cell; ``ranges`` tells what a reference stands for."""
        if CELL in self._numbers:
            self._constants[self._numbers[CELL]] = cell
        order = [*self._references, *self._constants, *self._steps]
        place = {number: place for place, number in enumerate(order)}
        result = self._open[-1]
        steps = [(each, tuple(place[n] for n in among)) for each, among in self._steps.values()]
        inputs = {name: ranges(name) for name in self._references.values()}
        name = f"={cell.ranges[0]['name']}"
        return Program(name, inputs, tuple(self._constants.values()), tuple(steps), place[result])


class Reader(Parser):  # type: ignore[misc]
    """The library's parser, with steps where they will do."""

    def __init__(self) -> None:
        super().__init__(is_cell=True)
        self.ast_builder = Steps
        self._whole = Parser(is_cell=True)

    def ast(self, expression: str, context: Any = None) -> Any:
        if not OF_THE_GRAPH.search(expression):
            with contextlib.suppress(Beyond):
                return super().ast(expression, context)
        return self._whole.ast(expression, context)


class SmallCell(Cell):  # type: ignore[misc]
    """A cell of the library's model."""

    parser = Reader()
    builder: Any

    def compile_with(self, model: SmallModel, references: Any, context: Any) -> Any:
        if not isinstance(self.builder, Steps):
            self.compile(references=references, context=context)
            model.need_names(self.inputs or (), context)
            return self
        self.func = self.builder.program(self.range, lambda name: model.ranges(name, context))
        self.update_inputs(references=model.other_names)
        self.func.link(self.inputs)
        self.builder = None
        return self


class SmallModel(ExcelModel):  # type: ignore[misc]
    """The library's workbook, of small cells.

    It knows hidden names too, as spreadsheet programs do, but none that nothing in the workbook
    uses; and a name of cells is those cells, with no graph of its own.
    """

    def __init__(self) -> None:
        super().__init__()
        self.names: dict[str, Any] = {}
        """Names that stand for cells, by the library's name for them: the name and the ranges."""
        self.other_names: dict[str, Any] = {}
        self._ranges: dict[str, Any] = {}

    def add_references(self, book: Any, context: Any = None) -> Any:
        used = Used(book)
        for name in book.defined_names.values():
            known = name.name in used.names and not (name.hidden and name.name.startswith("_xl"))
            ranges = _cells_of(name, context) if known and name.name not in used.by_names else None
            if ranges is not None:
                self.names[Ref(name.name.upper(), None, context).output] = name, ranges
            name.hidden = not known or ranges is not None  # the library passes these over
        self.other_names = super().add_references(book, context)
        return {**self.other_names, **{key: ranges for key, (_, ranges) in self.names.items()}}

    @property
    def references(self) -> Any:
        """Asked for with each cell, so not put together each time."""
        books = list(self.books.values())
        return books[0].get("references", {}) if len(books) == 1 else super().references

    def need_names(self, nodes: Iterable[Any], context: Any) -> None:
        """The library's own formulas look for names of cells in its graph."""
        for node in nodes:
            if node in self.names and node not in self.cells:
                name, _ = self.names[node]
                ref = Ref(name.name.upper(), f"={name.value}", context).compile(context=context)
                ref.add(self.dsp, context=context)
                self.cells[node] = ref

    def ranges(self, name: str, context: Any) -> Any:
        """What a reference stands for; None for a name that stands for no cells."""
        if name not in self._ranges:
            self._ranges[name] = self._found(name, context)
        return self._ranges[name]

    def _found(self, name: str, context: Any) -> Any:
        if name in self.names:
            return self.names[name][1]
        if self.other_names.get(name) is not None:
            return self.other_names[name]
        try:
            return Ranges().push(name, context=context)
        except InvalidRangeName:
            return None

    @property
    def workbook(self) -> Any:
        """The workbook as openpyxl has it; ``finish`` lets go of it."""
        return next(iter(self.books.values()))[BOOK]

    def finish(self, *options: Any, **more: Any) -> Any:
        super().finish(*options, **more)
        self.books.clear()
        self.cells.clear()
        self._ranges.clear()
        return self

    def forget(self) -> None:
        """Let go of the values of the calculation before."""
        self.dsp.solution = type(self.dsp.solution)()
        gc.collect()  # they hold on to one another

    def _compile_cell(
        self, crd: str, val: Any, context: Any, check_formula: bool, references: Any
    ) -> Any:
        cell = SmallCell(crd, val, context=context, check_formula=check_formula)
        return cell.compile_with(self, references, context)


def _cells_of(name: Any, context: Any) -> Any:
    """The cells that a name stands for, or None if it is no plain reference."""
    try:
        tokens, _ = SmallCell.parser.ast(f"={name.value}", context)
    except FormulaError:
        return None  # the library shall say what it makes of that
    if len(tokens) != 1 or not isinstance(tokens[0], Range) or tokens[0].attr.get("is_reference"):
        return None
    return Ranges().push(tokens[0].name, context=context)


class Used:
    """The names that stand in a cell's formula, or in what such a name says."""

    def __init__(self, book: Any) -> None:
        names = {name.upper(): name for name in book.defined_names}
        new = _words(text for sheet in book.worksheets for text in _formulas(sheet))
        # INDIRECT may put any name together.
        new = set(names) if "INDIRECT" in new else new & names.keys()
        found: set[str] = set()
        by_names: set[str] = set()
        while new:
            found |= new
            by_names |= _words(str(book.defined_names[names[word]].value) for word in new)
            new = (by_names & names.keys()) - found
        self.names = {names[word] for word in found}
        self.by_names = {names[word] for word in by_names & names.keys()}


def _words(texts: Iterable[str]) -> set[str]:
    return {word for text in texts for word in WORD.findall(text.upper())}


def _formulas(sheet: Any) -> Iterator[str]:
    for row in sheet.iter_rows():
        for cell in row:
            if cell.data_type == "f":
                yield cell.value if isinstance(cell.value, str) else str(cell.value.text)
