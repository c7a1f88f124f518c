"""What stands in a workbook's cells, before any spreadsheet library is involved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from tanksheet.units import Quantity
from tanksheet.xlsx.address import Address, Value


@dataclass(frozen=True)
class Entry:
    """A cell, or a run of cells, that a person fills. ``key`` is its defined name.

    ``words`` are the choices of a list; ``unit_key`` names the entry that holds its unit.
    ``usual`` is the range that is common on a farm, in the base unit: random cases are drawn
    from it, and the sheet says "unusual" outside it. ``limits`` is the range that is possible.
    ``usual_words`` are the choices that random cases are drawn from, all of them if empty.
    ``ion`` is the line of a water report that the number stands for, if any; ``nutrient`` the
    element, or the choice that names it. ``to_base`` gives the factor from one of its units to the
    base unit. With neither ``words`` nor ``limits`` any text may be typed, a name say, of which
    ``usual_words`` are examples. ``also`` names such an entry, whose texts count among ``words``.
    Random cases leave a ``rare`` one blank for the most part. ``like`` names an entry that is read
    by the same formulas, whose bad entries are tried for both.
    """

    key: str
    cells: tuple[Address, ...]
    default: tuple[Value, ...]
    label: str
    words: tuple[str, ...] = ()
    unit_key: str = ""
    base_unit: str = ""
    limits: Quantity | None = None
    usual: tuple[float, float] = (0.0, 0.0)
    optional: bool = False
    usual_words: tuple[str, ...] = ()
    ion: str = ""
    nutrient: str = ""
    to_base: Callable[..., Any] | None = None
    also: str = ""
    rare: bool = False
    like: str = ""

    @property
    def is_text(self) -> bool:
        """Whether any text may be typed."""
        return not self.words and self.limits is None

    @property
    def single(self) -> bool:
        return len(self.cells) == 1


@dataclass(frozen=True)
class Formula:
    """A cell that computes: a Python function of other keys, compiled when it is written.

    ``name`` is its defined name or "". ``known`` says what may be taken for granted about the
    result by formulas that use it.
    """

    key: str
    cell: Address
    function: Callable[..., Any]
    arguments: tuple[str, ...]
    label: str
    name: str = ""
    known: Quantity | None = None


@dataclass(frozen=True)
class Spec:
    """How one cell looks and what it holds: text, a number, or a Formula. It may be merged with
    those to its right, ``across`` in all, and below, ``down`` in all."""

    cell: Address
    content: Any
    style: str
    pattern: str = ""
    across: int = 1
    down: int = 1


@dataclass(frozen=True)
class Rule:
    """A validation on cells: a list of words, or a formula that must be TRUE."""

    cells: tuple[Address, ...]
    message: str
    title: str
    words: tuple[str, ...] = ()
    formula: str = ""
    list_name: str = ""  # the defined name of a long list, which a rule cannot spell out
    blank: bool = True  # whether a blank passes: with it Excel passes all while a unit is blank


@dataclass(frozen=True)
class Mark:
    """A conditional format: a formula for the first cell, a style, perhaps a number format."""

    cells: tuple[Address, ...]
    formula: str
    style: str
    pattern: str = ""


def begins_with(cell: str, word: str) -> str:
    """The formula of a mark on cells whose text begins with a word.

    The word stands first: Gnumeric saves the other order as a rule of the kind "beginsWith" and
    leaves out the text that such a rule needs, so that other programs lose the colour.
    """
    return f'"{word}"=LEFT({cell},{len(word)})'


@dataclass(frozen=True)
class Picture:
    """A line chart over a grid: one line a column, the row headings along the bottom. The grid may
    stand on another sheet; ``numbers`` is the format of the axis. With ``limits`` the first line is
    what was found, and the others, broken, are what it is held against."""

    cell: Address
    title: str
    across: str
    up: str
    heading_cells: tuple[Address, ...]
    row_cells: tuple[Address, ...]
    grid_cells: tuple[Address, ...]
    rows_tall: int = 15
    by_powers: bool = False
    numbers: str = "#,##0"
    wide: float = 30  # cm
    limits: bool = False


@dataclass
class Sheet:
    """One worksheet under construction; ``working`` if all its names belong to the working,
    ``hidden`` if people do not see it; ``frozen`` rows stay at the top, ``breaks`` are the rows
    after which a new page is printed, ``tab`` is the colour of its tab. It is printed one page
    wide, with ``one_page`` one page high too, with a ``scale`` at that scale in percent, which
    breaks need: on a sheet that is made to fit some programs pass them over."""

    title: str
    widths: tuple[float, ...]
    landscape: bool = False
    specs: list[Spec] = field(default_factory=list)
    rules: list[Rule] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    pictures: list[Picture] = field(default_factory=list)
    heights: dict[int, float] = field(default_factory=dict)
    row: int = 1
    printed: bool = True
    working: bool = False
    hidden: bool = False
    frozen: int = 0
    breaks: list[int] = field(default_factory=list)
    tab: str = ""
    scale: int = 0
    one_page: bool = False

    def at(self, column: int, row: int | None = None) -> Address:
        return Address(self.title, self.row if row is None else row, column)

    def put(
        self,
        column: int,
        content: Any,
        style: str,
        pattern: str = "",
        across: int = 1,
        down: int = 1,
    ) -> None:
        self.specs.append(Spec(self.at(column), content, style, pattern, across, down))
