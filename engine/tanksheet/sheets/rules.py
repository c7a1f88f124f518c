"""The validation of a cell for a number: the real limits, in the unit that is chosen beside it."""

from __future__ import annotations

from tanksheet.formula import Ref, formula_text, read_function
from tanksheet.sheets.cells import Entry, Rule
from tanksheet.sheets.entries import fits
from tanksheet.xlsx.address import Address, column_letters

HOW_TO_COUNT = {
    "factor": ", counted in the unit beside it",
    "temperature": ", or as warm on the scale beside it",
    "ratio": " (100 for 1:100), or choose % and type a percent",
}
LONGEST_TEXT = 40
# Characters, Excel's limits; what stands in both a prompt and an error has the shorter one.
LONGEST_FORMULA, LONGEST_MESSAGE, LONGEST_ERROR = 255, 255, 225


def number_rule(entry: Entry, form: str = "plain", beside: Address | str | None = None) -> Rule:
    """The rule for all cells of an entry.

    ``form`` is as in ``entries.fits``; ``beside`` is the cell of the unit, or the name of its
    factor, which stands on another sheet.
    Raises: ValueError when formula or message would be longer than Excel takes.
    """
    if entry.limits is None:
        raise ValueError(f"{entry.key} is a number without limits")
    arguments = [Ref(entry.cells[0].cell)] + ([Ref(_fixed(beside))] if beside else [])
    formula = formula_text(read_function(fits(entry.limits, form), arguments, {}))
    may_be_blank = entry.optional or not entry.single
    # Where a cell that the formula names is blank, "ignore blank" has Excel accept anything. A
    # factor is never blank; a unit may be.
    ignore_blank = may_be_blank and form in ("plain", "factor")
    unit = HOW_TO_COUNT[form] if beside else ""
    blank = ", or leave it blank" if may_be_blank else ""
    kind = "" if entry.limits.is_date else "a number, "
    message = f"{entry.label}: type {kind}{entry.limits.allowed}{unit}{blank}."
    if len(formula) > LONGEST_FORMULA or len(message) > LONGEST_MESSAGE:
        raise ValueError(f"{entry.key}: the validation is too long: {formula} {message}")
    title = "A date" if entry.limits.is_date else "A number"
    return Rule(entry.cells, message, title, (), formula, blank=ignore_blank)


def text_rule(entry: Entry) -> Rule:
    """The rule for all cells of an entry that takes any text: it may be no longer than is shown."""
    formula = f"LEN({entry.cells[0].cell})<={LONGEST_TEXT}"
    message = f"{entry.label}: type words, {LONGEST_TEXT} letters at most, or leave it blank."
    return Rule(entry.cells, message, "Words", (), formula)


def _fixed(cell: Address | str) -> str:
    if isinstance(cell, str):
        return cell
    return f"${column_letters(cell.column)}${cell.row}"
