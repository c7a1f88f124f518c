"""Engines in child processes: what a workbook can do to one, it does to nobody else.

The limits themselves (1 GB, 60 s, one line) are this project's promise; the system's own tools
measure them.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from engines_needed import need
from odd_books import OddBook
from small_cells import MakeBook, at, one
from tanksheet.errors import EngineProblem, EngineStopped, OutOfTime
from tanksheet.recalc import ENGINES, Session, session
from tanksheet.recalc.package_engine import MOST_BYTES, PackageEngine

ROOM = Path(session.__file__).parents[2]
CALL = [sys.executable, "-m", "tanksheet.cli"]
posix = pytest.mark.skipif(os.name != "posix", reason="signals are sent the POSIX way")


class Odd(PackageEngine):
    name, title, book = "openpyxl", "Odd", OddBook  # any package that is installed


@pytest.fixture
def odd() -> Iterator[Odd]:
    engine = Odd()
    yield engine
    engine.close()


@pytest.fixture
def path(make_book: MakeBook) -> Path:
    return make_book({"A1": "", "B1": "=A1"})


def told(opened: Session, what: str) -> object:
    return one(opened, "B1", {"A1": what})


def pid_of(opened: Session) -> int:
    pid = opened._child._process.pid  # type: ignore[attr-defined]
    assert isinstance(pid, int)
    return pid


def ends(pid: int, seconds: float = 20) -> bool:
    """Whether a process that is not our child, or that has been waited for, ends in time."""
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        try:
            os.kill(pid, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.05)
    return False


@posix
@pytest.mark.parametrize(
    ("what", "says"),
    [
        ("crash", "Odd broke off: a formula nests too deeply or calls itself without end"),
        ("eat", "it needed more memory than it may take"),
        ("nest", "a formula nests too deeply or calls itself without end"),
        ("panic", "index out of bounds"),
    ],
)
def test_a_broken_child_is_replaced(odd: Odd, path: Path, what: str, says: str) -> None:
    with odd.open(path) as opened:
        assert told(opened, "abc") == 3
        before = pid_of(opened)
        with pytest.raises(EngineStopped, match=says) as caught:
            told(opened, what)
        assert str(caught.value).startswith("Odd could not calculate small book.xlsx: ")
        assert "\n" not in str(caught.value)
        assert ends(before)
        assert told(opened, "abcd") == 4
    with odd.open(path) as opened:
        assert told(opened, "ab") == 2


def test_a_refusal_leaves_the_child_alone(odd: Odd, path: Path) -> None:
    with odd.open(path) as opened:
        before = pid_of(opened)
        with pytest.raises(EngineProblem, match="small book.xlsx: no such function$") as caught:
            told(opened, "refuse")
        assert not isinstance(caught.value, EngineStopped)
        assert told(opened, "abc") == 3
        assert pid_of(opened) == before


@pytest.mark.parametrize("what", ["sleep", "hold on"])
def test_a_child_that_takes_too_long_is_stopped(
    odd: Odd, path: Path, what: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(session, "SECONDS", 3.0)
    with odd.open(path) as opened:
        pid, start = pid_of(opened), time.monotonic()
        with pytest.raises(OutOfTime, match="Odd gave no answer for [123] s and was stopped"):
            told(opened, what)
        assert time.monotonic() - start < 10
        assert ends(pid)
        monkeypatch.undo()
        assert told(opened, "abc") == 3


def test_what_an_engine_prints_reaches_nobody(
    odd: Odd, path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    with odd.open(path) as opened:
        assert told(opened, "say") == 3
        assert told(opened, "abcd") == 4
    assert capfd.readouterr() == ("", "")


def test_a_child_serves_one_workbook_after_another(odd: Odd, path: Path) -> None:
    with odd.open(path) as opened:
        first = pid_of(opened)
        with odd.open(path) as other:
            assert pid_of(other) != first
            assert told(other, "ab") == told(opened, "ab")
            second = pid_of(other)
    with odd.open(path) as opened:
        assert pid_of(opened) in (first, second)
    odd.close()
    assert ends(first) and ends(second)


@posix
@pytest.mark.parametrize("state", ["idle", "hold on"])
@pytest.mark.parametrize("ending", [signal.SIGKILL, signal.SIGTERM])
def test_a_child_ends_with_the_program(path: Path, state: str, ending: signal.Signals) -> None:
    """Even one that runs no line of Python at the time."""
    program = f"""
import sys; sys.path[:0] = {[str(Path(__file__).parent), str(ROOM)]!r}
from pathlib import Path
from tanksheet.xlsx.address import Address
from tanksheet.recalc.package_engine import PackageEngine
import odd_books
class Odd(PackageEngine):
    name, title, book = "openpyxl", "Odd", odd_books.OddBook
opened = Odd().open(Path({str(path)!r}))
cell = Address("Stock tank", 1, 1)
opened.calculate({{}}, [cell])
print(opened._child._process.pid, flush=True)
if {state!r} == "idle": input()
opened.calculate({{cell: {state!r}}}, [cell])
"""
    with subprocess.Popen(
        [sys.executable, "-c", program], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as parent:
        assert parent.stdout
        child = int(parent.stdout.readline())
        time.sleep(1.0)
        os.kill(child, 0)
        parent.send_signal(ending)
        parent.wait(20)
        assert ends(child)


# hostile files, by the command line


def hostile(make_book: MakeBook, what: str) -> Path:
    names = {"out": "'Stock tank'!$B$1"}
    if what == "a LAMBDA that calls itself":
        names["LOOP"] = "_xlfn.LAMBDA(_xlpm.x,LOOP(_xlpm.x+1))"
        return make_book({"A1": 1, "B1": "=LOOP(A1)"}, names=names)
    if what == "4,000 brackets":
        return make_book({"A1": 1, "B1": f"={'(' * 4000}A1{')' * 4000}"}, names=names)
    return make_book(
        {"B1": "=SUMPRODUCT(Other!A1:XFD1048576)"}, names=names, more={"Other": {"A1": 2}}
    )


MEASURE = """
import resource, subprocess, sys
code = subprocess.run(sys.argv[1:]).returncode
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
sys.exit(code)
"""


@posix
@pytest.mark.parametrize(
    ("what", "says"),
    [
        ("a LAMBDA that calls itself", "nests too deeply or calls itself"),
        ("4,000 brackets", "nests too deeply or calls itself"),
        ("a whole sheet", "needed more memory"),
    ],
)
def test_a_hostile_file_gets_one_line(make_book: MakeBook, what: str, says: str) -> None:
    need(ENGINES["ironcalc"])
    path = hostile(make_book, what)
    start = time.monotonic()
    done = subprocess.run(
        [sys.executable, "-c", MEASURE, *CALL, "run", str(path), "--get", "out"],
        env={**os.environ, "PYTHONPATH": str(ROOM)},
        capture_output=True,
        text=True,
    )
    assert time.monotonic() - start < 60
    assert done.returncode == 2
    assert says in done.stderr and done.stderr.count("\n") == 1, done.stderr
    assert done.stderr.startswith("tanksheet: IronCalc could not calculate small book.xlsx: ")
    # The largest process, in kB; the other is this program with some tens of MB.
    assert int(done.stdout) * 1024 < MOST_BYTES * 1.1
    assert list(path.parent.iterdir()) == [path]


def test_an_ordinary_look_up_over_whole_columns_completes(make_book: MakeBook) -> None:
    """By hand: item 7 costs 7 times 1.5."""
    prices = {f"A{i}": f"item {i}" for i in range(1, 1001)}
    prices |= {f"B{i}": i * 1.5 for i in range(1, 1001)}  # type: ignore[misc]
    cells = {f"B{i}": f'=VLOOKUP("item "&{i * 7},Prices!A:C,2,FALSE)' for i in range(1, 11)}
    path = make_book(cells, more={"Prices": prices})
    for name in ("ironcalc", "formualizer"):
        need(ENGINES[name])
        with ENGINES[name].open(path) as opened:
            got = opened.calculate({}, [at("B1"), at("B10")])
            assert list(got.values()) == [10.5, 105.0]


@posix
def test_ctrl_c_is_one_line_and_leaves_nothing_running(make_book: MakeBook) -> None:
    """Forty look-ups over whole columns take IronCalc some seconds."""
    need(ENGINES["ironcalc"])
    cells = {f"B{i}": f"=VLOOKUP({i},Prices!A:Z,2,FALSE)" for i in range(1, 41)}
    path = make_book(cells, names={"out": "'Stock tank'!$B$1"}, more={"Prices": {"A1": 1}})
    with subprocess.Popen(
        [*CALL, "run", str(path), "--get", "out"],
        env={**os.environ, "PYTHONPATH": str(ROOM)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    ) as command:
        child = 0
        deadline = time.monotonic() + 30
        while not child and time.monotonic() < deadline:
            children = Path(f"/proc/{command.pid}/task/{command.pid}/children")
            child = int((children.read_text().split() or ["0"])[0])
            time.sleep(0.05)
        assert child
        time.sleep(1.0)
        os.killpg(command.pid, signal.SIGINT)  # as a terminal does
        out, err = command.communicate(timeout=20)
    assert (command.returncode, out, err) == (130, "", "tanksheet: stopped\n")
    assert ends(child)
