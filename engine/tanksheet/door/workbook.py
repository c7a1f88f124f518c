"""A workbook as a function that stays open: set names, read names, as often as you like.

    with tanksheet.open_workbook("stock-tank.xlsx") as book:
        book.set(target_1="150 ppm", ratio="1:128")
        print(book["mass_1"])

What is typed is read as ``tanksheet run`` reads it, with the same messages. The file is never
written to: the engine works on a private copy.
"""

from __future__ import annotations

import functools
import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import TracebackType
from typing import Any

from tanksheet.door import functions, quantities
from tanksheet.errors import EngineProblem, WorkbookProblem
from tanksheet.recalc import engine
from tanksheet.sheets import listing
from tanksheet.sheets.entries import RATIO_FORMS
from tanksheet.sheets.listing import Named
from tanksheet.sheets.run import default_names, run_in
from tanksheet.sheets.settings import Typed
from tanksheet.sheets.target import Target
from tanksheet.subset import is_number
from tanksheet.tables import look_up
from tanksheet.templates import book_of
from tanksheet.xlsx.address import Value


def open_workbook(path: str | os.PathLike[str], engine: str = "ironcalc") -> OpenWorkbook:
    """Opens a workbook, one of ours or any with defined names, in an engine that stays loaded.

    Raises: WorkbookProblem for a file that is no workbook, EngineProblem for an engine that is
    missing.
    """
    return OpenWorkbook(Path(path), engine)


class OpenWorkbook:
    """A workbook open in an engine. Leaving the ``with`` block closes it.

    A setting stays until it is set anew or ``reset``; what was never set stands as in the file.
    """

    def __init__(self, path: Path, engine_name: str) -> None:
        self._session = engine(engine_name).open(path)
        self._target = Target.of(self._session.package, book_of(self._session.package))
        self._settings: dict[str, Typed] = {}
        self._asked = dict.fromkeys(default_names(self._target))
        self._values: dict[str, Any] = {}
        self._open = True

    def set(self, settings: Mapping[str, Any] | None = None, /, **named: Any) -> None:
        """Sets names and recalculates: ``book.set(target_1="150 ppm", ratio="1:128", tank=200)``.

        Text is read as a person types it. A number keeps the unit that stands in the workbook;
        None is a blank; a list fills a range; a quantity of pint is converted.
        Raises: WorkbookProblem, naming the cell, for what does not fit; nothing is set then.
        """
        given = {**(settings or {}), **named}
        new = {name: self._typed(name, value) for name, value in given.items()}
        self._calculate({**self._settings, **new}, list(self._asked))

    def get(self, *names: str) -> dict[str, Any]:
        """The values of these names, of all results without any.

        A number, a word, None for a blank, a SheetError, or a list of these for a range.
        Raises: WorkbookProblem for an unknown name, or an entry that stands in the file and is
        unusable.
        """
        wanted = names or tuple(default_names(self._target))
        if not self._values.keys() >= set(wanted):
            for name in wanted:
                self._target.cells(name)
            self._calculate(self._settings, [*self._asked, *wanted])
        self._refuse_closed()
        return {name: self._values[name] for name in wanted}

    def __getitem__(self, name: str) -> Any:
        return self.get(name)[name]

    def __setitem__(self, name: str, value: Any) -> None:
        self.set({name: value})

    def reset(self) -> None:
        """Back to what the file holds."""
        self._settings, self._values = {}, {}

    @functools.cached_property
    def inputs(self) -> dict[str, Named]:
        """The names that may be set, with meaning, unit, units that may be typed, and limits."""
        self._refuse_closed()
        return listing.inputs(self._target)

    @functools.cached_property
    def results(self) -> dict[str, Named]:
        """The names that are worked out, with meaning and unit."""
        self._refuse_closed()
        return listing.results(self._target)

    def close(self) -> None:
        """Lets go of the engine. Closing twice does no harm."""
        self._open = False
        self._session.close()

    def __enter__(self) -> OpenWorkbook:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def __repr__(self) -> str:
        state = "" if self._open else ", closed"
        return f"<workbook {self._target.path.name}{state}>"

    def _calculate(self, settings: dict[str, Typed], names: Sequence[str]) -> None:
        self._refuse_closed()
        asked = dict.fromkeys(names)
        values = run_in(self._session, self._target.book, settings, list(asked))
        self._settings, self._values, self._asked = settings, values, asked

    def _refuse_closed(self) -> None:
        if not self._open:
            raise EngineProblem(f"{self._target.path.name} is closed; open it again.")

    def _typed(self, name: str, value: Any) -> Typed:
        """A value of Python's as a person would type it, or as it stands in a cell."""
        if isinstance(value, str):
            return value
        if functions.is_quantity(value):
            return self._with_unit(name, value)
        if functions.is_column(value):
            return [self._plain(name, each) for each in value]
        return self._plain(name, value)

    def _plain(self, name: str, value: Any) -> Value:
        value = value.item() if hasattr(value, "dtype") and hasattr(value, "item") else value
        if value is None or isinstance(value, str):
            return value
        if is_number(value):
            return None if value != value else float(value)
        raise WorkbookProblem(
            f"{self._target.path.name}: {name} cannot be set to {value!r}; "
            'give a number, or text such as "150 ppm"'
        )

    def _with_unit(self, name: str, quantity: Any) -> str:
        """A quantity as text in a unit that the cell offers."""
        self._target.cells(name)
        unit_name = self._target.unit_name(self._target.row_of(name)[0])
        if not unit_name:
            raise WorkbookProblem(
                f"{self._target.path.name}: {name} has no unit; give a plain number, not {quantity}"
            )
        offered = self._target.offered(unit_name)
        if offered[0] in RATIO_FORMS or str(quantity.units) in quantities.SHARES:
            ratio = "1:" if str(quantity.units) == "dimensionless" else ""
            return f"{ratio}{quantity.magnitude!r} {'' if ratio else quantity.units}".strip()
        try:
            return (
                f"{float(quantity.m_as(str(look_up('units', 'pint', offered[0]))))!r} {offered[0]}"
            )
        except Exception:  # pint raises many kinds
            raise WorkbookProblem(
                f"{self._target.path.name}: {name} cannot be set to {quantity}; "
                f"use one of the units {', '.join(offered)}"
            ) from None
