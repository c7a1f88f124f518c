"""The data that the LAMBDA functions look things up in, as one plain worksheet part.

It uses neither the workbook's shared strings nor its styles, so that those parts stay untouched.
"""

from __future__ import annotations

import re
from functools import lru_cache
from xml.sax.saxutils import escape

from tanksheet import tables
from tanksheet.formula import lambda_text, named_calculations
from tanksheet.formula.text import column_name
from tanksheet.tables import Datum
from tanksheet.xlsx.address import Address, column_letters
from tanksheet.xlsx.reading import MAIN

TITLE = "fert_tables"
NOTE = "Data of the FERT functions (Tanksheet). Upgrading them writes this sheet anew."
FIRST_ROW = 3  # below the note and the headings
_WORD = re.compile(r"\bfert_\w+")


@lru_cache(maxsize=1)
def columns() -> dict[str, tuple[Datum, ...]]:
    """The columns of the data tables that some LAMBDA names, by their defined names."""
    texts = map(lambda_text, named_calculations().values())
    used = {word for text in texts for word in _WORD.findall(text)}
    return {
        name: tuple(row[column] for row in tables.rows(table))
        for table in tables.KEYS
        for column in tables.rows(table)[0]
        if (name := column_name(table, column)) in used
    }


def reference(name: str, sheet: str) -> str:
    """Where a column stands on the data sheet: ``'fert_tables'!$A$3:$A$85``."""
    known = columns()
    letters = column_letters(list(known).index(name) + 1)
    quoted = sheet.replace("'", "''")
    return f"'{quoted}'!${letters}${FIRST_ROW}:${letters}${FIRST_ROW + len(known[name]) - 1}"


def worksheet() -> bytes:
    """The worksheet part."""
    known = columns()
    rows = [[NOTE], list(known)]
    longest = max(len(values) for values in known.values())
    body = "".join(_row(at, row) for at, row in enumerate(rows, 1))
    for at in range(longest):
        entries = [values[at] if at < len(values) else "" for values in known.values()]
        body += _row(FIRST_ROW + at, entries)
    head = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
    return f'{head}<worksheet xmlns="{MAIN}"><sheetData>{body}</sheetData></worksheet>'.encode()


def _row(number: int, entries: list[Datum] | list[str]) -> str:
    cells = "".join(_cell(f"{column_letters(at)}{number}", e) for at, e in enumerate(entries, 1))
    return f'<row r="{number}">{cells}</row>'


def _cell(place: str, entry: Datum) -> str:
    if isinstance(entry, float):
        return f'<c r="{place}"><v>{entry!r}</v></c>'
    if entry == "":
        return ""
    return f'<c r="{place}" t="inlineStr"><is><t>{escape(entry)}</t></is></c>'


def note_cell(sheet: str) -> Address:
    """The cell that says that a sheet is ours."""
    return Address(sheet, 1, 1)
