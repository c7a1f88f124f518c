"""Cells and values as they go through a pipe to a child process and back, in JSON.

A place is [sheet, row, column], both counted from 1. A value is [kind, value]; the kinds are
"number", "text", "truth", "error" (the text of the error), "empty", and "blank": a formula that
gives nothing. Kept light, since every child reads this file when it starts.
"""

from __future__ import annotations

from typing import Any

from tanksheet.errors import SheetError
from tanksheet.xlsx.address import Address, Value, as_error, as_number

Sent = list[Any]


def place(where: Address) -> Sent:
    return [where.sheet, where.row, where.column]


def sent(value: Value) -> Sent:
    if value is None:
        return ["empty", None]
    if isinstance(value, SheetError):
        return ["error", str(value)]
    if isinstance(value, bool):
        return ["truth", value]
    return ["text" if isinstance(value, str) else "number", value]


def received(kind: str, value: Any) -> Value:
    if kind == "number":
        return as_number(value)
    if kind == "error":
        return as_error(value)
    if kind == "empty":
        return None
    return bool(value) if kind == "truth" else str(value)
