"""Whether a workbook file is still whole: every name on its cells, every formula in its place.

A file in which a formula was overwritten, a row was deleted or a block was stretched would go on
giving numbers, and wrong ones. It is refused in a line that names the cell. What a person may do,
move cells, insert rows beside the tables, rename sheets, add sheets and names, does no harm.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.recalc.compare import differences
from tanksheet.sheets.book import Book
from tanksheet.sheets.compiled import compiled
from tanksheet.sheets.settings import plainly
from tanksheet.xlsx.address import Address, Block, Value
from tanksheet.xlsx.formula_texts import formula_texts
from tanksheet.xlsx.reading import Package
from tanksheet.xlsx.values import computed_cells, stored_values

STEP = re.compile(r".+_step_[0-9]+")
_COPY = re.compile(r"( ?\(\d+\)|_\d+| Copy ?\d*)")
AFRESH = "or start from a fresh workbook (tanksheet make)"
# Numbers that differ by less come from other programs' arithmetic, not from other formulas.
RELATIVE = 1e-6
MANY = 0.1  # of the formulas: so many are not overwritten one by one


@dataclass(frozen=True)
class Whole:
    """A file that has every cell of its plan: where each one stands, by where it was planned."""

    package: Package
    book: Book
    placed: Mapping[Address, Address]

    def formulas(self) -> dict[str, Address]:
        """Where each formula of the plan stands, by its key; less those that cannot be told."""
        formulas = self.book.formulas.items()
        return {key: self.placed[f.cell] for key, f in formulas if f.cell in self.placed}


def whole(package: Package, book: Book) -> Whole:
    """The file with its cells found.

    Raises: WorkbookProblem, in one line, for a name that is missing or means other cells, and for a
    formula that is gone.
    """
    found = Whole(package, book, _with_unnamed(book, named_places(package, book)))
    lost = lost_formulas(found)
    if lost:
        raise WorkbookProblem(_lost_line(found, lost))
    return found


# names


def named_places(package: Package, book: Book) -> dict[Address, Address]:
    """Where each named cell of the book stands in the file, which a user may have rearranged.

    Raises: WorkbookProblem naming the first name that is missing or has another size.
    """
    names = package.names | package.hidden_names
    placed: dict[Address, Address] = {}
    for name, cells in book.named_cells().items():
        if name not in names:
            raise WorkbookProblem(_missing(package, name, cells[0]))
        if len(names[name]) != len(cells) or _shape(names[name]) != _shape(cells):
            raise WorkbookProblem(_stretched(package, name, names[name], cells))
        placed.update(zip(cells, names[name], strict=True))
    return placed


def _shape(cells: Sequence[Address]) -> tuple[int, int]:
    return cells[-1].row - cells[0].row, cells[-1].column - cells[0].column


def _missing(package: Package, name: str, cell: Address) -> str:
    text = package.astray.get(name, "")
    if "#REF!" in text:
        why = f"the cell of {name!r} was deleted (it was {cell.a1})"
        return f"{package.file}: {why}; undo that, {AFRESH}"
    if text:
        why = f"the name {name!r} leads to {text[:60]}, which is not there (it was {cell.a1})"
        return f"{package.file}: {why}; give the sheet its old name again, {AFRESH}"
    return (
        f"{package.file}: the name {name!r} is missing; define it for the cell that holds it "
        f"(it was {cell.a1}), {AFRESH}"
    )


def _stretched(package: Package, name: str, now: Block, cells: Sequence[Address]) -> str:
    more = "was stretched" if len(now) > len(cells) else "lost a part"
    return (
        f"{package.file}: {now} ({name}) {more}: the name {name!r} covers {len(now)} cells; "
        f"it must cover {len(cells)}; undo that, {AFRESH}"
    )


def _with_unnamed(book: Book, placed: dict[Address, Address]) -> dict[Address, Address]:
    """The same with the cells that have no name: they stand in the row of those that have one."""
    rows: dict[tuple[str, int], set[tuple[str, int]]] = {}
    columns: dict[tuple[str, int], set[int]] = {}
    for planned, now in placed.items():
        rows.setdefault((planned.sheet, planned.row), set()).add((now.sheet, now.row))
        columns.setdefault((planned.sheet, planned.column), set()).add(now.column)
    found = dict(placed)
    for formula in book.formulas.values():
        cell = formula.cell
        row = rows.get((cell.sheet, cell.row), set())
        column = columns.get((cell.sheet, cell.column), {cell.column})
        if cell not in found and len(row) == 1 and len(column) == 1:
            [(sheet, number)], [along] = row, column
            found[cell] = Address(sheet, number, along)
    return found


def copied_sheets(package: Package, book: Book) -> list[str]:
    """Sheets that are copies of the book's own: nothing that is typed there is read.

    Programs copy the names of a sheet with it, and call it by its name and a number.
    """
    known, names = book.named_cells(), package.names | package.hidden_names
    ours = {names[name][0].sheet for name in known if name in names}
    return [
        title
        for title in package.sheets
        if title not in ours
        and (
            len(package.own_names.get(title, set()) & known.keys()) > 1
            or any(_COPY.fullmatch(title.removeprefix(own)) for own in ours if own in title)
        )
    ]


def copies_line(package: Package, book: Book) -> str:
    """What to say of copied sheets, "" where there are none."""
    copied = copied_sheets(package, book)
    if not copied:
        return ""
    sheets = ", ".join(map(repr, copied))
    return f"{package.file}: nothing on {sheets} is read; for another case, copy the whole file"


# formulas


def lost_formulas(found: Whole) -> dict[Address, str]:
    """The cells that should hold a formula and hold none, with their names or ""."""
    package = found.package
    names = {now: _called(found.book, key) for key, now in found.formulas().items()}
    for name, cells in package.hidden_names.items():
        if STEP.fullmatch(name):
            names.update(dict.fromkeys(cells, name))
    held = computed_cells(package, names)
    return {cell: name for cell, name in names.items() if cell not in held}


def _lost_line(found: Whole, lost: Mapping[Address, str]) -> str:
    [first, *_] = sorted(lost.items(), key=lambda each: (not each[1], each[0]))
    line = f"{found.package.file}: {_lost_cell(found.package, *first)}"
    if len(lost) > MANY * len(found.book.formulas):
        return (
            f"{line}, and so have {len(lost) - 1:,} others: cells have moved away from their "
            f"names; undo that, {AFRESH}"
        )
    if len(lost) > 1:
        others = "one other cell" if len(lost) == 2 else f"{len(lost) - 1:,} other cells"
        line += f", and so has {others} (tanksheet verify names all)"
    return f"{line}; undo that, {AFRESH}"


def lost_lines(package: Package, book: Book) -> list[str]:
    """A line for each cell that has lost its formula.

    Raises: WorkbookProblem for a name that is missing or means other cells.
    """
    found = Whole(package, book, _with_unnamed(book, named_places(package, book)))
    lost = lost_formulas(found)
    return [f"{package.file}: {_lost_cell(package, *each)}" for each in sorted(lost.items())]


def _lost_cell(package: Package, cell: Address, name: str) -> str:
    stands = stored_values(package, [cell])[cell]
    held = "is empty" if stands is None else f"holds {plainly(stands)[:40]}"
    called = f" ({name})" if name else ""
    return f"{cell.a1}{called} has lost its formula and {held}"


def _called(book: Book, key: str) -> str:
    """The name of a formula, or of the block that it belongs to; "" where it has none."""
    whole_name = key.partition("[")[0]
    return book.formulas[key].name or (whole_name if whole_name in book.ranges else "")


# what the formulas give


def refuse_changed(
    found: Whole, expected: Mapping[str, Value], values: Mapping[Address, Value]
) -> None:
    """Compares what the formulas give with what they should, by key.

    A formula that is spelled as it was is believed: then the last digit differs, or a word that
    hangs on it. Raises: WorkbookProblem naming the first cell that holds another formula.
    """
    keys = {now: key for key, now in found.formulas().items()}
    should = {now: expected[key] for now, key in keys.items()}
    odd = [
        each
        for each in differences(should, values, RELATIVE)
        if not isinstance(each.expected, SheetError)
    ]
    if not odd:
        return
    texts = formula_texts(found.package, [each.address for each in odd])
    planned = compiled(found.book).texts
    for each in odd:
        key = keys[each.address]
        if _plain(texts.get(each.address, "")) == _plain(planned[key]):
            continue
        name = _called(found.book, key)
        raise WorkbookProblem(
            f"{found.package.file}: {each.address.a1}{f' ({name})' if name else ''} holds another "
            f"formula than its workbook: it gives {plainly(each.got)[:60]} instead of "
            f"{plainly(each.expected)[:60]}; it was changed, or another version made the file; "
            f"undo that, {AFRESH}"
        )


def _plain(formula: str) -> str:
    return "".join(formula.split()).lstrip("=").upper()
