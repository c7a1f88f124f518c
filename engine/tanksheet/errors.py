"""What can go wrong, and what a spreadsheet shows when it does.

TanksheetError
├── Fault (also ValueError)   a bad argument; each kind has one spreadsheet error
│   ├── NotANumber            #VALUE!   text, blank or TRUE/FALSE where a number belongs
│   ├── OutOfRange            #NUM!     a number that the calculation cannot use
│   ├── DividedByZero         #DIV/0!   nothing to divide by
│   └── NotListed             #N/A      a word (unit, oxide, choice) that is in no list
├── NotCompilable             a calculation's body steps outside the subset of Python
├── WorkbookProblem           a file, sheet, name or cell that cannot be used
└── EngineProblem             a spreadsheet engine that is absent, or broke down
    └── EngineStopped         one that a workbook made crash, or take too much memory
        └── OutOfTime         or time
"""

from __future__ import annotations

from enum import Enum
from typing import NoReturn


class SheetError(str, Enum):
    """An error as a spreadsheet cell holds it."""

    VALUE = "#VALUE!"
    NUM = "#NUM!"
    DIV = "#DIV/0!"
    NA = "#N/A"
    NAME = "#NAME?"
    REF = "#REF!"
    NULL = "#NULL!"
    CIRCULAR = "#CIRC!"
    UNKNOWN = "#ERROR!"

    def __str__(self) -> str:
        return self.value


class TanksheetError(Exception):
    """Anything that this project raises on purpose."""


class Fault(TanksheetError, ValueError):
    """A bad argument: the message says which, what came, and what is allowed."""

    code = SheetError.UNKNOWN


class NotANumber(Fault):
    code = SheetError.VALUE


class OutOfRange(Fault):
    code = SheetError.NUM


class DividedByZero(Fault):
    code = SheetError.DIV


class NotListed(Fault):
    code = SheetError.NA


class NotCompilable(TanksheetError):
    """A body outside the subset that compiles to a formula.

    The message begins with file and line, so that an editor can jump there.
    """

    def __init__(self, file: str, line: int, reason: str) -> None:
        super().__init__(f"{file}:{line}: {reason}")
        self.file, self.line, self.reason = file, line, reason


class WorkbookProblem(TanksheetError):
    """A file, sheet, name or cell that cannot be used; the message says where and how to mend."""


class EngineProblem(TanksheetError):
    """A spreadsheet engine that is not installed, timed out or broke down."""


class EngineStopped(EngineProblem):
    """An engine that a workbook made crash, or that reached its limit of memory or time."""


class OutOfTime(EngineStopped):
    """An engine that was stopped because it took too long."""


FAULTS: dict[SheetError, type[Fault]] = {
    kind.code: kind for kind in (NotANumber, OutOfRange, DividedByZero, NotListed)
}


def fault_for(code: SheetError, message: str) -> Fault:
    """The fault behind a sheet's error: it shows as that error again, whichever it is."""
    fault = FAULTS.get(code, Fault)(message)
    fault.code = code
    return fault


class CarriedFault:
    """A fault held as a value, as an error sits in a cell: touching it raises it.

    A body that never uses the faulty argument, say in the branch not taken, is unaffected,
    which is how a spreadsheet's IF treats an error.
    """

    __slots__ = ("fault",)

    def __init__(self, fault: Fault) -> None:
        self.fault = fault

    def __repr__(self) -> str:
        return str(self.fault.code)

    def _touched(self, *_: object) -> NoReturn:
        raise self.fault

    __add__ = __radd__ = __sub__ = __rsub__ = __mul__ = __rmul__ = _touched
    __truediv__ = __rtruediv__ = __pow__ = __rpow__ = __neg__ = __pos__ = __abs__ = _touched
    __lt__ = __le__ = __gt__ = __ge__ = __bool__ = __float__ = __int__ = _touched
    __eq__ = __ne__ = __str__ = __format__ = _touched
    __hash__ = None  # type: ignore[assignment]
