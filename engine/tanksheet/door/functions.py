"""``tanksheet.stock_mass``: a calculation that takes numbers, columns and quantities alike.

Plain numbers go straight to the calculation. Anything else loads what it needs first: NumPy for
columns, nothing for a quantity, whose own registry converts it.
"""

from __future__ import annotations

import functools
import inspect
import math
from collections.abc import Callable, Sequence
from typing import Any

from tanksheet.definition import Calculation, catalogue, is_array
from tanksheet.door.help_text import help_text, shown_signature
from tanksheet.errors import Fault, NotListed

ERRORS = ("raise", "nan")
PACKAGE = __name__.partition(".")[0]
_PLAIN = frozenset({float, int, str, bool, type(None)})


def by_python_name() -> dict[str, Calculation]:
    """Every calculation by the name of its function: ``stock_mass`` for STOCKMASS."""
    return {record.body.__name__: record for record in catalogue().values()}


def function_for(record: Calculation) -> Callable[..., Any]:
    """The function that ``import tanksheet`` shows for a calculation."""
    bind = inspect.signature(record.body).bind
    count = len(record.parameters)

    @functools.wraps(record.function)
    def function(*given: Any, errors: str = "raise", **named: Any) -> Any:
        if named or len(given) != count:
            given = bind(*given, **named).args
        return answer(record, given, errors)

    function.__doc__ = help_text(record)
    function.__signature__ = shown_signature(record)  # type: ignore[attr-defined]
    # So that it can be sent to another process, which looks it up by these two.
    function.__module__, function.__qualname__ = PACKAGE, record.body.__name__
    return function


def answer(record: Calculation, given: Sequence[Any], errors: str) -> Any:
    """A calculation's result for arguments of any kind.

    Raises: a Fault for a bad argument, with its row if it stands in a column. With ``errors``
    "nan" a bad number or word gives NaN instead; what can never fit (columns of different length,
    a quantity of another dimension) is a Fault all the same.
    """
    if errors not in ERRORS:
        raise NotListed(
            f"{record.body.__name__}: errors is {errors!r}; it must be 'raise' or 'nan'"
        )
    if all(map(_is_single, record.parameters.values(), given)):
        return _single(record, given, errors)
    if any(map(holds_quantity, given)):
        from tanksheet.door import quantities

        return quantities.answer(record, given, errors)
    from tanksheet.door import columns

    return columns.answer(record, given, errors)


def _single(record: Calculation, given: Sequence[Any], errors: str) -> Any:
    try:
        return record.function(*given)
    except Fault:
        if errors == "raise":
            raise
        return math.nan


def _is_single(quantity: Any, value: Any) -> bool:
    """Whether an argument is one number, one word, or one plain range of readings."""
    if type(value) in _PLAIN:
        return True
    if isinstance(value, (list, tuple)):
        return quantity.is_readings and all(type(each) in _PLAIN for each in value)
    return not (is_column(value) or is_quantity(value))


def is_column(value: Any) -> bool:
    """Whether a value holds many: a list, an array, a column or a table of a data frame."""
    if isinstance(value, (list, tuple, range)) or is_expression(value):
        return True
    return is_array(value)


def is_expression(value: Any) -> bool:
    """Whether a value is a polars expression, such as ``pl.col("target")``."""
    kind = type(value)
    return kind.__name__ == "Expr" and kind.__module__.startswith("polars.")


def is_quantity(value: Any) -> bool:
    """Whether a value is a quantity of pint, whatever its registry."""
    return _is_quantity_type(type(value))


def holds_quantity(value: Any) -> bool:
    """Whether a value is a quantity or a list with one in it."""
    if not isinstance(value, (list, tuple)):
        return is_quantity(value)
    kinds = set(map(type, value))  # far fewer than there are values
    if any(map(_is_quantity_type, kinds)):
        return True
    return not kinds.isdisjoint((list, tuple)) and any(map(holds_quantity, value))


def _is_quantity_type(kind: type) -> bool:
    # Asked of the type: a row of a data frame may well be called "magnitude".
    return all(hasattr(kind, name) for name in ("magnitude", "units", "m_as"))
