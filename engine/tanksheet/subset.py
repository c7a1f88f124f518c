"""The words that a calculation's body may use besides arithmetic, as plain Python.

Each has a twin in every spreadsheet (``formula/text.py``) and in NumPy (``formula/arrays.py``).
Where Python and spreadsheets differ by habit, the meaning here is the spreadsheet's: rounding
is half away from zero, powers of negative numbers are refused, blanks among readings are skipped.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Context, Decimal
from typing import Any, Callable, TypeVar

from tanksheet.errors import CarriedFault, Fault, NotANumber, NotListed, OutOfRange

PI = math.pi
# Room for every digit of every float, so that rounding a huge number does not fail.
WIDE = Context(prec=800)
Function = TypeVar("Function", bound=Callable[..., Any])


def helper(function: Function) -> Function:
    """Marks a small function that bodies may call; it is compiled in place, without checks."""
    function.__dict__["helper"] = True
    return function


def check(condition: bool, message: str, fault: type[Fault] = OutOfRange) -> None:
    """A statement in a body: unless the condition holds, the result is the fault's error."""
    if not condition:
        raise fault(message)


def sqrt(number: float) -> float:
    check(number >= 0, f"no square root of {number:g}; it must be at least 0")
    return math.sqrt(number)


def exp(number: float) -> float:
    return math.exp(number)


def log(number: float) -> float:
    check(number > 0, f"no logarithm of {number:g}; it must be above 0")
    return math.log(number)


def log10(number: float) -> float:
    check(number > 0, f"no logarithm of {number:g}; it must be above 0")
    return math.log10(number)


def power(base: float, exponent: float) -> float:
    """``base`` to any power; a negative base is refused, as is 0 to a power of 0 or below."""
    check(
        base > 0 or (base == 0 and exponent > 0),
        f"{base:g} cannot be raised to the power {exponent:g}; the base must be above 0",
    )
    return math.pow(base, exponent)


def ceil(number: float) -> float:
    return float(math.ceil(number))


def floor(number: float) -> float:
    return float(math.floor(number))


def rounded(number: float, digits: int) -> float:
    """Half away from zero on the 15 digits that a person sees, as spreadsheets round.

    445.84999999999997, which is 445.85 after a unit conversion, rounds to 445.9.
    """
    step = Decimal(1).scaleb(-int(digits))
    seen = Decimal(f"{float(number):.15g}")
    if seen == seen.quantize(step, ROUND_HALF_UP, WIDE):  # nothing to round among those digits
        seen = Decimal(repr(float(number)))
    return float(seen.quantize(step, ROUND_HALF_UP, WIDE))


def shown(number: float, digits: int) -> str:
    """A rounded number as text: up to one decimal without needless zeros (10.0 reads "10"), more
    decimals in full ("0.50"), since one engine would write 0.54 with twenty digits otherwise."""
    if digits > 1:
        return f"{rounded(number, digits) + 0.0:.{digits}f}"
    # A sheet writes 15 digits of a number and noughts behind them.
    text = f"{Decimal(f'{rounded(number, digits):.15g}'):f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def is_number(value: Any) -> bool:
    """False for text, a blank, TRUE/FALSE and an error held in a cell."""
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def number_held(cell: Any) -> Any:
    """The number that a cell holds as text: digits with at most one point, as a sheet keeps them
    that was pasted or formatted as text. Whatever else stands there is handed on as it is.

    The sheet's own reading of text depends on the land: it takes 12.5 for a date in some.
    """
    if not isinstance(cell, str):
        return cell
    text = cell.replace("\u00a0", " ").strip(" ")
    digits = text.replace(".", "")
    plain = digits.isascii() and digits.isdecimal() and len(digits) < 16
    return float(text) if plain and len(text) - len(digits) < 2 else cell


def without_unit(cell: Any, unit: Any) -> Any:
    """The text of a cell less the unit that ends it, in any case: "200 L" beside L. Whatever else
    stands there is handed on as it is."""
    if not isinstance(cell, str):
        return cell
    if isinstance(unit, CarriedFault):
        raise unit.fault
    text = " ".join(part for part in cell.split(" ") if part)
    if not isinstance(unit, str) or not text.lower().endswith(unit.lower()):
        return cell
    return text[: len(text) - len(unit)].strip(" ")


def is_error(value: Any) -> bool:
    """Whether a cell holds an error; asking does not hand it on."""
    return isinstance(value, CarriedFault)


def begins(text: Any, word: str) -> bool:
    """Whether a text begins with a word, in any case; an error comes through."""
    if isinstance(text, CarriedFault):
        raise text.fault
    return isinstance(text, str) and text.lower().startswith(word.lower())


def before(text: Any, mark: str) -> str:
    """What a text says before the first place of a mark, all of it without one."""
    if isinstance(text, CarriedFault):
        raise text.fault
    return str(text).partition(mark)[0]


def after(text: Any, mark: str) -> str:
    """What a text says after the first place of a mark, nothing without one."""
    if isinstance(text, CarriedFault):
        raise text.fault
    return str(text).partition(mark)[2]


def numbers(readings: Any) -> list[float]:
    """The numbers among readings, row by row; blanks (None) are skipped.

    Raises: NotANumber for text, TRUE/FALSE or an error among the readings.
    """
    flat: list[float] = []
    for reading in readings if isinstance(readings, (list, tuple)) else [readings]:
        if isinstance(reading, (list, tuple)):
            flat.extend(numbers(reading))
        elif reading is None:
            continue
        elif is_number(reading):
            flat.append(float(reading))
        else:
            raise NotANumber(f"{reading!r} among the readings is not a number; clear or mend it")
    return flat


def count(readings: Any) -> float:
    """How many of the cells hold numbers; blanks and text are passed over."""
    if isinstance(readings, (list, tuple)):
        return sum(count(reading) for reading in readings)
    return 1.0 if is_number(readings) else 0.0


def _numbers_among(cells: Sequence[Any]) -> list[float]:
    """The numbers of a run; text and blanks are passed over, an error comes through."""
    return [_amount(each) for each in cells if is_number(each) or isinstance(each, CarriedFault)]


def mean(readings: Sequence[Any]) -> float:
    return statistics.fmean(_numbers_among(readings))


def mean_deviation(readings: Sequence[float]) -> float:
    """Mean absolute deviation from the mean."""
    centre = statistics.fmean(readings)
    return statistics.fmean(abs(reading - centre) for reading in readings)


def standard_deviation(readings: Sequence[Any]) -> float:
    """Sample standard deviation (n - 1)."""
    return statistics.stdev(_numbers_among(readings))


def lowest_total(readings: Sequence[float], how_many: float) -> float:
    """Sum of the lowest readings."""
    return math.fsum(sorted(readings)[: int(how_many)])


# Whole columns of a workbook, for templates: lists of what the cells hold, "" for a blank.


def _amount(cell: Any) -> float:
    """A cell's number; 0 for a blank or text. An error among the cells comes through."""
    if isinstance(cell, CarriedFault):
        raise cell.fault
    return float(cell) if is_number(cell) else 0.0


def _is(cell: Any, word: Any) -> bool:
    """Whether a cell holds a word, in any case; what is no text is no word."""
    if isinstance(word, CarriedFault):
        raise word.fault
    return isinstance(cell, str) and isinstance(word, str) and cell.lower() == word.lower()


def dot(left: Sequence[Any], right: Sequence[Any]) -> float:
    """Sum of products, cell by cell; a blank or text counts as 0."""
    return math.fsum(_amount(a) * _amount(b) for a, b in zip(left, right))


def sum_where(words: Sequence[Any], word: str, amounts: Sequence[Any]) -> float:
    """Sum of the amounts beside a word; a blank or text among them counts as 0.

    Write the word out where another row may hold an error: a sheet passes such a row over for a
    word that stands in the formula, and lets the error through for one that stands in a cell.
    """
    return math.fsum(_amount(n) for w, n in zip(words, amounts) if _is(w, word))


def position(word: str, words: Sequence[Any]) -> float:
    """Where a word first stands, from 1.

    Raises: NotListed (#N/A in a sheet) when it does not, or is blank.
    """
    if _is("", word):
        raise NotListed("a blank stands nowhere; choose a word from the list")
    for place, each in enumerate(words, 1):
        if _is(each, word):
            return float(place)
    raise NotListed(f"{word!r} is not in the list")


def among(word: str, words: Sequence[Any]) -> bool:
    """Whether a word stands in a column; an error among its cells comes through."""
    for each in words:
        if isinstance(each, CarriedFault):
            raise each.fault
    return any(_is(each, word) for each in words)


def smallest(amounts: Sequence[Any], place: float) -> float:
    """The place-th smallest number; blanks and text are passed over, an error comes through."""
    return sorted(_numbers_among(amounts))[int(place) - 1]


def nth(cells: Sequence[Any], place: float) -> Any:
    """What stands in the place-th cell, from 1."""
    return cells[int(place) - 1]
