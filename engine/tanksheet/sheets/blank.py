"""A workbook without the example: the same plan with nothing typed in."""

from __future__ import annotations

import dataclasses
from collections.abc import Collection

from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Entry, Sheet
from tanksheet.xlsx.address import Address, Value


def without_example(book: Book, stays: Collection[str] = (), goes: Collection[str] = ()) -> Book:
    """A copy of the plan whose numbers and rows are blank.

    Units and choices stay as they are offered first, and so do a 0 where a number is needed and
    what ``stays`` names; ``goes`` names choices that nobody should take over unseen.
    Raises: KeyError for a name that is no entry of the book.
    """
    for name in (*stays, *goes):
        book.entries[name]
    entries = {
        key: entry
        if key in stays
        else dataclasses.replace(entry, default=_blank(entry, key in goes))
        for key, entry in book.entries.items()
    }
    typed: dict[Address, Value] = {}
    for entry in entries.values():
        typed.update(zip(entry.cells, entry.default, strict=True))
    sheets = [_emptied(sheet, typed) for sheet in book.sheets]
    return dataclasses.replace(book, entries=entries, sheets=sheets)


def _blank(entry: Entry, goes: bool) -> tuple[Value, ...]:
    if entry.key.endswith(("_unit", "_units")):
        # The rows of the example may have a unit each; without it, one is as likely as another.
        return entry.default[:1] * len(entry.default)
    if entry.single and entry.words and not entry.optional and not goes:
        return entry.default
    if entry.single and not entry.optional and entry.default[0] == 0:
        return entry.default  # nothing of it, as of most nutrients on a label
    return (None,) * len(entry.default)


def _emptied(sheet: Sheet, typed: dict[Address, Value]) -> Sheet:
    specs = [
        dataclasses.replace(spec, content=typed[spec.cell]) if spec.cell in typed else spec
        for spec in sheet.specs
    ]
    return dataclasses.replace(sheet, specs=specs)
