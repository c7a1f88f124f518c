"""What stands in a workbook now: its entries, what came of them, and its results."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from tanksheet.errors import WorkbookProblem
from tanksheet.recalc import Session
from tanksheet.sheets.complaints import complaints
from tanksheet.sheets.evaluate import chosen_values, evaluate
from tanksheet.sheets.integrity import refuse_changed, whole
from tanksheet.sheets.settings import Typed, set_cells
from tanksheet.sheets.target import Target
from tanksheet.xlsx.address import Address, Value


@dataclass(frozen=True)
class Present:
    """A workbook after some settings, as an engine has worked it out.

    ``entries`` is what stands in each entry of our own workbook, ``used`` its value in the base
    unit by the key of that, and ``bad`` what is wrong with it.
    """

    target: Target
    values: Mapping[Address, Value]
    entries: Mapping[str, Any] = field(default_factory=dict)
    used: Mapping[str, Value] = field(default_factory=dict)
    bad: Mapping[str, str] = field(default_factory=dict)

    def value(self, name: str) -> Any:
        """A value, or a list of them for a range."""
        return shaped([self.values[cell] for cell in self.target.cells(name)])

    def refuse_bad(self) -> None:
        """Raises WorkbookProblem with one line an unusable entry, naming its cell."""
        if self.bad:
            raise WorkbookProblem("\n".join(self.bad.values()))


def present(
    session: Session, target: Target, settings: Mapping[str, Typed], names: Sequence[str]
) -> Present:
    """Sets names, recalculates, and reads ``names`` and every entry.

    Raises: WorkbookProblem for a name that is not there or cannot be set so, and for a file of ours
    that is not whole any more.
    """
    book, checking = target.book, target.book is not None and not session.checked
    found = whole(target.package, book) if book and checking else None
    inputs: dict[Address, Value] = {}
    for name, typed in settings.items():
        inputs.update(set_cells(target, name, typed))
    wanted = [cell for name in names for cell in target.cells(name)]
    if book is None:
        return Present(target, session.calculate(inputs, wanted))
    places = {key: target.cells(key) for key in book.entries}
    wanted += [cell for cells in places.values() for cell in cells]
    if found:
        wanted += found.formulas().values()
    values = session.calculate(inputs, wanted)
    now = {key: shaped([values[cell] for cell in cells]) for key, cells in places.items()}
    used = chosen_values(book, now, [book.key_for(key) for key in places])
    bad = complaints(target, now, used)
    if found and not bad:
        refuse_changed(found, evaluate(book, now), values)
        session.checked = True
    return Present(target, values, now, used, bad)


def shaped(values: list[Value]) -> Any:
    """One value as it is, several as a list."""
    return values[0] if len(values) == 1 else values
