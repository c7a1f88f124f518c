"""Writes ``tanksheet/__init__.pyi``: every calculation by name and type, for editors and mypy.

    python -m tanksheet.door.stub

The functions themselves are made when they are first asked for, which no editor can see.
"""

from __future__ import annotations

import textwrap
from pathlib import Path

import tanksheet
from tanksheet.definition import Calculation, catalogue
from tanksheet.door.help_text import help_text
from tanksheet.units import Quantity

STUB = Path(tanksheet.__file__).with_suffix(".pyi")
TOP = '''\
# Written by `python -m tanksheet.door.stub` (scripts/build) from the register; a test compares.
"""Tanksheet: fertigation calculations, written once, for Python and for spreadsheets."""

from collections.abc import Sequence
from typing import Any, Literal, Protocol, TypeAlias, overload

from tanksheet import recipes as recipes
from tanksheet.batch.coop import price_coop as price_coop
from tanksheet.batch.priced import Priced as Priced
from tanksheet.definition import Calculation as Calculation
from tanksheet.definition import catalogue as catalogue
from tanksheet.door.workbook import OpenWorkbook as OpenWorkbook
from tanksheet.door.workbook import open_workbook as open_workbook
from tanksheet.errors import Fault as Fault
from tanksheet.errors import TanksheetError as TanksheetError

class _Array(Protocol):
    def __array__(self, *args: Any, **kwargs: Any) -> Any: ...

class _Quantity(Protocol):
    @property
    def magnitude(self) -> Any: ...
    @property
    def units(self) -> Any: ...

class _Expression(Protocol):
    def map_batches(self, *args: Any, **kwargs: Any) -> Any: ...

_Many: TypeAlias = list[Any] | tuple[Any, ...] | range | _Array | _Quantity | _Expression
_Errors: TypeAlias = Literal["raise", "nan"]

__version__: str

'''
LONGEST_CHOICE = 60  # characters; a longer list of words fits no line


def stub_text() -> str:
    """The whole stub, as ruff lays it out."""
    return TOP + "\n".join(map(_pair, catalogue().values()))


def _pair(record: Calculation) -> str:
    """The two ways to call a calculation: on single values, and on anything else."""
    doc = textwrap.indent(f'"""{help_text(record)}"""', " " * 4, lambda line: bool(line.strip()))
    single = [(name, _single_type(each)) for name, each in record.parameters.items()]
    many = [(name, _any_type(each)) for name, each in record.parameters.items()]
    return f"{_head(record, single, 'float')}\n{doc}\n\n{_head(record, many, 'Any')} ..."


def _head(record: Calculation, parameters: list[tuple[str, str]], result: str) -> str:
    lines = [f"{name}: {kind}," for name, kind in parameters]
    lines += ["*,", 'errors: _Errors = "raise",']
    inside = textwrap.indent("\n".join(lines), " " * 4)
    return f"@overload\ndef {record.body.__name__}(\n{inside}\n) -> {result}:"


def _single_type(quantity: Quantity) -> str:
    if quantity.is_readings:
        return "Sequence[float | None]"
    if not quantity.is_word:
        return "float"
    words = ", ".join(f'"{word}"' for word in quantity.words)
    return f"Literal[{words}] | str" if words and len(words) <= LONGEST_CHOICE else "str"


def _any_type(quantity: Quantity) -> str:
    if quantity.is_readings:
        return "Sequence[Any] | _Many"
    return ("str" if quantity.is_word else "float") + " | _Many"


def write_stub() -> Path:
    """Writes the stub beside the package's own file."""
    STUB.write_text(stub_text() + "\n", encoding="utf-8")
    return STUB


if __name__ == "__main__":
    print(f"wrote {write_stub()}")
