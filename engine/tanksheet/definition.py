"""What a calculation is: the decorator, the record and the register.

Calculations sign in here; this module knows none of them. A decorated function stays a function:
it checks its arguments against the glossary, runs its body, and raises a ``Fault`` where a
spreadsheet would show an error.
"""

from __future__ import annotations

import functools
import inspect
import math
import re
from dataclasses import dataclass
from typing import Any, Callable, Optional, TypeVar, get_type_hints

from tanksheet import subset
from tanksheet.errors import (
    CarriedFault,
    DividedByZero,
    Fault,
    NotANumber,
    NotListed,
    OutOfRange,
)
from tanksheet.units import Quantity, Unit, find_quantity, unit_of
from tanksheet.xlsx.address import looks_like_cell

PREFIX = "FERT."
Function = TypeVar("Function", bound=Callable[..., Any])
_REGISTER: dict[str, Calculation] = {}


@dataclass(frozen=True)
class Calculation:
    """One calculation: its sheet name, its Python function and all that hosts need to know."""

    name: str
    topic: str
    function: Callable[..., Any]
    body: Callable[..., Any]
    parameters: dict[str, Quantity]
    returns: Any
    example: tuple[tuple[Any, ...], Any]
    empirical: str

    @property
    def sheet_name(self) -> str:
        return PREFIX + self.name

    @property
    def unit(self) -> Unit:
        return unit_of(self.returns)

    @property
    def summary(self) -> str:
        return (inspect.getdoc(self.body) or "").split("\n\n")[0].replace("\n", " ")

    @property
    def source(self) -> str:
        text = (inspect.getdoc(self.body) or "").partition("Source: ")[2]
        return " ".join(text.split())


def catalogue() -> dict[str, Calculation]:
    """Every calculation by its sheet name without the prefix, in the order of the topics."""
    return dict(_REGISTER)


def calculation(
    name: str, *, example: tuple[tuple[Any, ...], Any], empirical: str = ""
) -> Callable[[Function], Function]:
    """Registers a function as ``FERT.<name>``.

    ``example`` is shown to people and run by a test: arguments and result. ``empirical`` says
    why the formula's dimensions do not work out, for the few that are fitted to measurements.
    """

    def register(body: Function) -> Function:
        record = _record(name, body, example, empirical)
        if name in _REGISTER:
            raise ValueError(f"{PREFIX}{name} is defined twice: {_REGISTER[name].body.__module__}")
        _REGISTER[name] = record
        return record.function  # type: ignore[return-value]

    return register


def of(function: Callable[..., Any]) -> Optional[Calculation]:
    """The record behind a calculation's function, or None for any other function."""
    found = getattr(function, "calculation", None)
    return found if isinstance(found, Calculation) else None


def _record(
    name: str, body: Callable[..., Any], example: tuple[tuple[Any, ...], Any], empirical: str
) -> Calculation:
    if not re.fullmatch(r"[A-Z][A-Z0-9]*", name):
        raise ValueError(f"{name!r}: a sheet name has capital letters and digits only")
    hints = get_type_hints(body, include_extras=True)
    names = inspect.signature(body).parameters
    parameters = {parameter: _described(body, parameter, hints) for parameter in names}
    function = _checked(body, parameters)
    record = Calculation(
        name=name,
        topic=body.__module__.rpartition(".")[2],
        function=function,
        body=body,
        parameters=parameters,
        returns=hints["return"],
        example=example,
        empirical=empirical,
    )
    function.calculation = record  # type: ignore[attr-defined]
    return record


def _described(body: Callable[..., Any], parameter: str, hints: dict[str, Any]) -> Quantity:
    where = f"{body.__module__}.{body.__name__}: parameter {parameter!r}"
    if looks_like_cell(parameter):
        raise ValueError(f"{where} is a cell address in a spreadsheet; add a unit or a word")
    quantity = find_quantity(parameter)
    if quantity is None:
        raise ValueError(f"{where} is not in the glossary (tanksheet.units.QUANTITIES)")
    if hints.get(parameter) != quantity.alias:
        raise ValueError(f"{where} has another unit in the glossary: {quantity.unit.symbol}")
    return quantity


def _checked(body: Callable[..., Any], parameters: dict[str, Quantity]) -> Callable[..., Any]:
    signature = inspect.signature(body)
    plain = [_plain(quantity) for quantity in parameters.values()]

    @functools.wraps(body)
    def function(*given: Any, **named: Any) -> Any:
        if named or len(given) != len(parameters):
            given = signature.bind(*given, **named).args
        if all(is_plain(value) for is_plain, value in zip(plain, given)):
            return evaluated(body, list(given))
        return evaluated(body, _accepted(body.__name__, parameters, given))

    return function


def _plain(quantity: Quantity) -> Callable[[Any], bool]:
    """A quick look at an argument: is it what the body takes, a float in range or a listed word?

    A column of cells calls a function 100,000 times, and the checks below take far longer than
    the arithmetic. They still judge whatever is not plain, so a no costs time and nothing else.
    """
    holds, words = quantity.holds, quantity.words
    if quantity.is_readings:
        return lambda value: False
    if quantity.is_word:
        return lambda value: type(value) is str and (value in words or not words)
    return lambda value: type(value) is float and holds(value)


def _accepted(owner: str, parameters: dict[str, Quantity], given: tuple[Any, ...]) -> list[Any]:
    """The arguments, checked in the order of the formula: numbers, their ranges, then words.

    With two bad arguments the order decides which error shows; one handed on comes first.
    """
    values = dict(zip(parameters, given))
    numbers = [name for name, quantity in parameters.items() if not quantity.is_word]
    words = [name for name, quantity in parameters.items() if quantity.is_word]
    for group in (numbers, words):
        for name in group:
            if isinstance(values[name], CarriedFault):
                raise values[name].fault
        for name in group:
            values[name] = _converted(f"{owner}: {name}", parameters[name], values[name])
        for name in group:
            _refuse_outside(f"{owner}: {name}", parameters[name], values[name])
    return list(values.values())


def accepted(what: str, quantity: Quantity, value: Any) -> Any:
    """One argument as a body takes it. Raises a Fault that begins with ``what``."""
    if isinstance(value, CarriedFault):
        raise value.fault
    value = _converted(what, quantity, value)
    _refuse_outside(what, quantity, value)
    return value


def evaluated(body: Callable[..., Any], values: list[Any]) -> Any:
    """Runs a body; arithmetic that fails becomes the fault that a spreadsheet shows."""
    try:
        result = body(*values)
    except Fault:
        raise
    except ZeroDivisionError:
        raise DividedByZero(f"{body.__name__}: nothing to divide by") from None
    except OverflowError:
        raise OutOfRange(f"{body.__name__}: the result is too large") from None
    except ValueError:
        raise OutOfRange(f"{body.__name__}: no result for these arguments") from None
    except TypeError:
        raise NotANumber(f"{body.__name__}: text where a number belongs") from None
    if isinstance(result, complex) or (isinstance(result, float) and not math.isfinite(result)):
        raise OutOfRange(f"{body.__name__}: no finite result for these arguments")
    return float(result) if isinstance(result, int) and not isinstance(result, bool) else result


def _converted(what: str, quantity: Quantity, value: Any) -> Any:
    if quantity.is_readings and not is_array(value):
        return subset.numbers(value)
    if quantity.is_word:
        return _canonical(quantity, value)
    if subset.is_number(value) or _is_numpy_number(value):
        return float(value)
    came = "blank" if value is None or (isinstance(value, str) and not value) else _shown(value)
    raise NotANumber(f"{what} is {came}; it must be a number, {quantity.allowed}")


def _is_numpy_number(value: Any) -> bool:
    """Its scalars are numbers too, but not its truth values; NumPy itself stays out of the core."""
    kind = getattr(getattr(value, "dtype", None), "kind", None)
    return kind in ("i", "u", "f") and value.ndim == 0


def is_array(value: Any) -> bool:
    """Whether a value is an array, or a column or table of a data frame; all have this protocol."""
    return hasattr(type(value), "__array__") and getattr(value, "ndim", None) != 0


def _shown(value: Any) -> str:
    """A value as a message shows it, in one line."""
    if is_array(value):
        return f"a column ({type(value).__name__}), which only tanksheet's public functions take"
    return repr(value)


def _canonical(quantity: Quantity, value: Any) -> Any:
    """A listed word as the glossary spells it: sheets compare text without regard to case."""
    return next((word for word in quantity.words if word.lower() == str(value).lower()), value)


def _refuse_outside(what: str, quantity: Quantity, value: Any) -> None:
    if quantity.is_readings:
        _refuse_readings(what, quantity, value)
    elif quantity.is_word:
        if not isinstance(value, str) or (quantity.words and value not in quantity.words):
            raise NotListed(f"{what} is {_shown(value)}; it must be {quantity.allowed}")
    elif not quantity.holds(value):
        raise OutOfRange(f"{what} is {value:g}; it must be {quantity.allowed}")


def _refuse_readings(what: str, quantity: Quantity, values: list[float]) -> None:
    if len(values) < quantity.at_least:
        raise OutOfRange(f"{what} has {len(values)} numbers; it needs at least {quantity.at_least}")
    for value in values:
        if not quantity.holds(value):
            raise OutOfRange(f"{what} has {value:g}; each must be {quantity.allowed}")
