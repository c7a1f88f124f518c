"""The extension under many cells and in several documents: how often it is called, and by whom."""

from __future__ import annotations

import mmap
import struct
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from openpyxl import Workbook

from libreoffice_ground import with_extension
from tanksheet.errors import SheetError
from tanksheet.recalc.libreoffice_engine import LibreOffice
from tanksheet.xlsx.address import Address

TANK = Address("Sheet1", 1, 5)
# Put at the end of the component: every call adds one to the number in a file of eight bytes.
COUNTING = """
import mmap
_file = open({path!r}, "r+b")
_count = mmap.mmap(_file.fileno(), 8)
_uncounted = methods

def methods():
    def counted(work):
        def call(*cells):
            _count[:] = struct.pack("<Q", struct.unpack("<Q", _count[:])[0] + 1)
            return work(*cells)
        return call
    return {{name: counted(work) for name, work in _uncounted().items()}}
"""
Office = tuple[LibreOffice, Callable[[], int]]


@pytest.fixture(scope="module")
def counting(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    """LibreOffice with an extension that counts, and what asks for the calls since last asked."""
    folder, count = tmp_path_factory.mktemp("bundled"), tmp_path_factory.mktemp("count") / "calls"
    count.write_bytes(bytes(8))
    with ExitStack() as stack:
        office = stack.enter_context(with_extension(folder))
        component = folder / "fert.oxt" / "component.py"
        component.write_text(component.read_text() + COUNTING.format(path=str(count)))
        file = stack.enter_context(count.open("r+b"))
        shared = stack.enter_context(mmap.mmap(file.fileno(), 8))

        def since() -> int:
            (calls,) = struct.unpack("<Q", shared[:])
            shared[:] = bytes(8)
            return int(calls)

        yield office, since


def column(path: Path, calls: int) -> Path:
    """A file with a call in every row, all of them with the tank of cell E1."""
    workbook = Workbook()
    workbook.active.title = TANK.sheet
    for row in range(1, calls + 1):
        workbook.active.append([100 + row / 100, 15.5, 100, _call(row)])
    workbook.active["E1"] = 200
    workbook.save(path)
    return path


def _call(row: int) -> str:
    return f"=FERT.STOCKMASS(A{row},B{row},C{row},$E$1)"


def mass(row: int, tank: float) -> float:
    """By hand: mg/L x parts x L, over g/kg."""
    return (100 + row / 100) * 100 * tank / 155


def calls_made(counting: Office, path: Path, rows: int) -> dict[str, int]:
    """How often the component is asked when a column is opened, set and recalculated."""
    office, since = counting
    last = Address(TANK.sheet, rows, 4)
    made = {}
    since()
    with office.open(column(path, rows)) as session:
        made["open"] = since()
        assert session.calculate({}, [last])[last] == near(mass(rows, 200))
        made["recalculate"] = since()
        found = session.calculate({TANK: 300.0}, [last])
        assert found[last] == near(mass(rows, 300))
        made["set what all depend on"] = since()
    return made


def test_each_step_asks_once_for_each_cell(counting: Office, tmp_path: Path) -> None:
    """Four times the cells take four times the calls, not sixteen times. LibreOffice 7.4 makes none
    while it opens, since it calculates when somebody looks; 25.2 asks for each cell then too."""
    for rows in (1000, 4000):
        made = calls_made(counting, tmp_path / f"{rows}.xlsx", rows)
        assert made.pop("open") in (0, rows)
        assert made == {"recalculate": rows, "set what all depend on": rows}


def test_a_second_document_and_two_at_once(counting: Office, tmp_path: Path) -> None:
    office, _ = counting
    first, second = (column(tmp_path / f"{name}.xlsx", 20) for name in ("first", "second"))
    ends = [Address(TANK.sheet, row, 4) for row in (1, 20)]
    with office.open(first) as session:
        assert session.calculate({}, ends) == {end: near(mass(end.row, 200)) for end in ends}
    with office.open(first) as one, office.open(second) as two:
        for tank in (300.0, 400.0):
            for session, litres in ((one, tank), (two, tank + 50)):
                found = session.calculate({TANK: litres}, ends)
                assert found == {end: near(mass(end.row, litres)) for end in ends}
        assert two.calculate({TANK: "full"}, ends)[ends[0]] == SheetError.VALUE
        assert one.calculate({TANK: 500.0}, ends)[ends[0]] == near(mass(1, 500))
    with office.open(second) as session:
        assert session.calculate({}, ends)[ends[1]] == near(mass(20, 200))


def near(value: float) -> object:
    return pytest.approx(value, rel=1e-12)
