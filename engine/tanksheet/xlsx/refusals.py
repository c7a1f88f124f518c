"""What is said of a file that is refused: one sentence, what is wrong and how to mend it."""

from __future__ import annotations

import zipfile
import zlib

from tanksheet.errors import WorkbookProblem

MOST_BYTES = 200_000_000
MOST_PARTS = 10_000
# Deflate cannot do better than about 1030:1. Real sheets of repeated rows come near 100:1, and a
# small part may well be one long run, so only large parts are judged.
MOST_RATIO, RATIO_COUNTS_FROM = 400, 1_000_000
DAMAGE = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError)
_OLD_FILE = b"\xd0\xcf\x11\xe0"


def deceptive(file: str, what: str) -> WorkbookProblem:
    return WorkbookProblem(f"{file}: {what}, which no real workbook does; do not trust this file.")


def too_much(file: str, what: str) -> WorkbookProblem:
    return WorkbookProblem(f"{file}: it holds {what}; delete what it does not need.")


def has_doctype(file: str) -> WorkbookProblem:
    return WorkbookProblem(
        f"{file}: its XML declares a document type, which no .xlsx file does; "
        "do not trust this file."
    )


def damaged_markup(file: str, problem: Exception) -> WorkbookProblem:
    return WorkbookProblem(
        f"{file}: the workbook's XML is damaged ({problem}); open and save it again."
    )


def damaged(file: str, problem: BaseException) -> WorkbookProblem:
    """What is said of a file whose parts cannot be unpacked, or are not all there."""
    said = str(problem.args[0] if problem.args else problem)
    return WorkbookProblem(
        f"{file}: the file is damaged or cut short ({said}); fetch or save it again."
    )


def not_a_zip(file: str, start: bytes) -> str:
    if not start:
        return f"{file}: the file is empty; fetch or save it again."
    if start == _OLD_FILE:
        return (
            f"{file}: this is an old .xls workbook or one locked with a password; "
            "save it as .xlsx without a password."
        )
    return f"{file}: this is not an .xlsx workbook; save it as .xlsx in a spreadsheet program."


def refuse_bombs(file: str, parts: list[zipfile.ZipInfo]) -> None:
    size = sum(part.file_size for part in parts)
    if size > MOST_BYTES or len(parts) > MOST_PARTS:
        raise WorkbookProblem(
            f"{file}: unpacked it would be {size / 1e6:.0f} MB in {len(parts)} parts, and the most "
            f"taken is {MOST_BYTES / 1e6:.0f} MB in {MOST_PARTS}; delete what it does not need."
        )
    for part in parts:
        if part.file_size > max(RATIO_COUNTS_FROM, MOST_RATIO * part.compress_size):
            raise WorkbookProblem(
                f"{file}: {part.filename} would unpack to {part.file_size / 1e6:.0f} MB from "
                f"{part.compress_size} bytes, which no real workbook does; do not trust this file."
            )
