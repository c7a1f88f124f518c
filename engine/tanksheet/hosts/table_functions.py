"""Functions that give a whole table instead of one value, for hosts that take arrays.

A table function is Python only: it is not compiled. Hosts list ``TABLE_FUNCTIONS`` beside the
register, so a new one appears in all of them at once. LibreOffice's own Python runs this
module too: standard library, Python 3.9.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Callable, Union

from tanksheet import tables
from tanksheet.definition import PREFIX, accepted, catalogue
from tanksheet.hosts.cheapest_table import cheapest_rows
from tanksheet.units import Quantity, Readings, Word

Cell = Union[float, str]
Rows = list[list[Cell]]


@dataclass(frozen=True)
class Block(Quantity):
    """A range of cells that keeps its shape; its function judges what stands in it."""

    @property
    def allowed(self) -> str:
        return "a range of cells"


def block(meaning: str) -> Block:
    return Block(Readings, meaning)


@dataclass(frozen=True)
class TableFunction:
    """A function whose result fills rows and columns; the first row holds the headings.

    ``arguments`` describes each argument as the glossary describes quantities. ``make`` gets the
    arguments checked and converted, and returns rows of equal length.
    """

    name: str
    summary: str
    arguments: dict[str, Quantity]
    make: Callable[..., Rows]
    source: str
    example: tuple[Any, ...]

    @property
    def sheet_name(self) -> str:
        return PREFIX + self.name

    def rows(self, *given: Any) -> Rows:
        """The table for arguments as cells hold them.

        Raises: Fault where a cell would show an error; TypeError for a wrong count of arguments.
        """
        if len(given) != len(self.arguments):
            raise TypeError(f"{self.sheet_name} takes {len(self.arguments)} arguments")
        pairs = zip(self.arguments.items(), given)
        return self.make(*(_taken(name, quantity, value) for (name, quantity), value in pairs))


def _taken(name: str, quantity: Quantity, value: Any) -> Any:
    if not isinstance(quantity, Block):
        return accepted(name, quantity, value)
    return value if isinstance(value, list) else [[value]]


def _data_table(table: str) -> Rows:
    rows = tables.rows(table)
    return [list(rows[0]), *(list(row.values()) for row in rows)]


def _by_name(functions: Sequence[TableFunction]) -> dict[str, TableFunction]:
    """The functions by name.

    Raises: ValueError for a name that stands twice, here or among the calculations.
    """
    found: dict[str, TableFunction] = {}
    for each in functions:
        if each.name in found or each.name in catalogue():
            raise ValueError(f"{each.sheet_name} is defined twice")
        found[each.name] = each
    return found


TABLE_FUNCTIONS = _by_name(
    (
        TableFunction(
            name="TABLE",
            summary="A data table of this project as rows and columns, headings first.",
            arguments={"table": Quantity(Word, "which table", words=tuple(tables.KEYS))},
            make=_data_table,
            source="the table itself names the source of each row.",
            example=("units",),
        ),
        TableFunction(
            name="LEASTCOST",
            summary=(
                "The cheapest amounts of products that keep to limits, with what each costs; the "
                "last row adds up."
            ),
            arguments={
                "products": block("names, one a product"),
                "prices": block("money for 1 of each product, such as 1 kg"),
                "contents": block("what 1 of each product brings: a row a product"),
                "at_least": block("the least of each column of contents; blank for none"),
                "at_most": block("the most of each; blank for none"),
            },
            make=cheapest_rows,
            source=(
                "a linear program, solved in exact fractions. Example: prices of a kilogram and "
                "shares of N, P2O5 and K2O, for 10 kg of N and 5 of K2O with at most 2 of P2O5."
            ),
            example=(
                [["urea"], ["potassium nitrate"], ["monopotassium phosphate"]],
                [[0.8], [1.4], [1.9]],
                [[0.46, 0.0, 0.0], [0.135, 0.0, 0.46], [0.0, 0.52, 0.34]],
                [[10.0, 1.0, 5.0]],
                [["", 2.0, ""]],
            ),
        ),
    )
)
