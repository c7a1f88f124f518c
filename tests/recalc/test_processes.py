"""Programs that run beside this one: that they end, whatever happens, and that waiting ends too."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import textwrap
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from engines_needed import need
from small_cells import MakeBook, at, one
from tanksheet.errors import EngineProblem, WorkbookProblem
from tanksheet.recalc import Engine, convert, engine, gnumeric_engine, libreoffice_engine
from tanksheet.recalc.libreoffice_engine import LibreOffice
from tanksheet.xlsx.address import Address

posix = pytest.mark.skipif(os.name != "posix", reason="process groups are looked at the POSIX way")


@pytest.fixture
def office() -> Iterator[LibreOffice]:
    own = LibreOffice()
    need(own)
    yield own
    own.close()


def group_of(office: LibreOffice) -> int:
    worker = office._worker
    assert worker is not None
    return worker.groups[0]


def ends(group: int, seconds: float = 20) -> bool:
    """Whether every process of a group ends in time."""
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.1)
    return False


@posix
def test_close_stops_libreoffice(office: LibreOffice, make_book: MakeBook) -> None:
    with office.open(make_book({"A1": 2, "B1": "=A1*2"})) as session:
        assert one(session, "B1") == 4
        group = group_of(office)
        os.killpg(group, 0)
        office.close()
        assert ends(group)
        with pytest.raises(EngineProblem, match="no longer running"):
            one(session, "B1")
    with office.open(make_book({"A1": 3, "B1": "=A1*2"})) as session:
        assert one(session, "B1") == 6


@posix
@pytest.mark.parametrize(
    "ending", ["pass", "raise SystemExit(3)", "1/0", "os.kill(os.getpid(), 9)"]
)
def test_libreoffice_ends_with_the_program(
    office: LibreOffice, make_book: MakeBook, ending: str
) -> None:
    path = make_book({"A1": 2, "B1": "=A1*2"})
    program = f"""
        import os
        from pathlib import Path
        from tanksheet.recalc.libreoffice_engine import LibreOffice
        office = LibreOffice()
        session = office.open(Path({str(path)!r}))
        print(office._worker.groups[0], flush=True)
        {ending}
    """
    room = Path(libreoffice_engine.__file__).parents[2]
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(program)],
        capture_output=True,
        text=True,
        timeout=90,
        env={**os.environ, "PYTHONPATH": str(room), "TMPDIR": str(path.parent)},
    )
    assert ends(int(done.stdout))


@posix
def test_a_libreoffice_that_hangs_is_stopped(
    office: LibreOffice, make_book: MakeBook, monkeypatch: pytest.MonkeyPatch
) -> None:
    with office.open(make_book({"A1": 2, "B1": "=A1*2"})) as session:
        group = group_of(office)
        os.killpg(group, signal.SIGSTOP)
        monkeypatch.setattr(libreoffice_engine, "CALL_SECONDS", 1.0)
        with pytest.raises(EngineProblem, match="no answer for 1 s and was stopped"):
            one(session, "B1")
        assert ends(group)


@posix
def test_a_libreoffice_that_dies_is_replaced(office: LibreOffice, make_book: MakeBook) -> None:
    path = make_book({"A1": 2, "B1": "=A1*2"})
    with office.open(path) as session:
        os.killpg(group_of(office), signal.SIGKILL)
        with pytest.raises(EngineProblem, match=r"small book\.xlsx"):
            one(session, "B1")
    with office.open(path) as session:
        assert one(session, "B1") == 4


def stand_in(folder: Path, script: str) -> Path:
    program = folder / "program"
    program.write_text("#!/bin/sh\n" + script)
    program.chmod(0o755)
    return program


@posix
def test_a_libreoffice_that_does_not_start(
    office: LibreOffice, make_book: MakeBook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    program = stand_in(tmp_path, "exec sleep 100\n")
    monkeypatch.setattr(libreoffice_engine, "soffice", lambda: str(program))
    monkeypatch.setattr(libreoffice_engine, "START_SECONDS", 1.0)
    with pytest.raises(EngineProblem, match="LibreOffice took too long to start"):
        office.open(make_book({"A1": 2}))


@posix
def test_a_gnumeric_that_hangs_or_fails(
    make_book: MakeBook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gnumeric = engine("gnumeric")
    need(gnumeric)
    with gnumeric.open(make_book({"A1": 2})) as session:
        monkeypatch.setattr(gnumeric_engine, "CALL_SECONDS", 0.5)
        for script, said in (
            ("exec sleep 100\n", "took more than"),
            ("echo no >&2; exit 1\n", "no"),
        ):
            program = stand_in(tmp_path, script)
            monkeypatch.setattr("shutil.which", lambda _, p=program: str(p))
            with pytest.raises(EngineProblem, match=said):
                one(session, "A1")


@pytest.mark.parametrize(
    ("module", "finder", "name"),
    [
        ("tanksheet.recalc.gnumeric_engine.shutil", "which", "gnumeric"),
        ("tanksheet.recalc.libreoffice_engine", "soffice", "libreoffice"),
        ("tanksheet.recalc.libreoffice_engine", "python_with_uno", "libreoffice"),
        ("tanksheet.recalc.package_engine.importlib.util", "find_spec", "ironcalc"),
        ("tanksheet.recalc.package_engine.importlib.util", "find_spec", "formulas"),
    ],
)
def test_an_absent_engine_says_what_to_install(
    module: str, finder: str, name: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(f"{module}.{finder}", lambda *_: None)
    absent: Engine = engine(name)
    assert "install" in str(absent.missing())
    for use in (absent.version, lambda: absent.open(tmp_path / "a.xlsx")):
        with pytest.raises(EngineProblem, match="install"):
            use()


@pytest.mark.parametrize(("kind", "start"), [("pdf", b"%PDF"), ("ods", b"PK"), ("xlsx", b"PK")])
def test_convert(
    office: LibreOffice, make_book: MakeBook, tmp_path: Path, kind: str, start: bytes
) -> None:
    path = make_book({"A1": 2, "B1": "=A1*2"})
    made = convert(path, tmp_path / "out", kind)  # type: ignore[arg-type]
    assert made == tmp_path / "out" / f"small book.{kind}"
    assert made.read_bytes().startswith(start)
    assert list((tmp_path / "out").iterdir()) == [made]
    if kind == "xlsx":
        with office.open(made) as session:
            assert session.calculate({at("A1"): 5.0}, [at("B1")]) == {at("B1"): 10.0}


def test_convert_refuses_to_overwrite_its_source(office: LibreOffice, make_book: MakeBook) -> None:
    path = make_book({"A1": 2})
    before = path.read_bytes()
    with pytest.raises(WorkbookProblem, match="the result would replace it"):
        convert(path, path.parent, "xlsx")
    assert path.read_bytes() == before


def test_cells_far_apart_are_read_singly(office: LibreOffice, make_book: MakeBook) -> None:
    with office.open(make_book({"A1": 2, "XFD1000": "=A1*2", "B2": "=1/0"})) as session:
        far = Address("Stock tank", 1000, 16_384)
        got = session.calculate({at("A1"): 7.0}, [at("A1"), far, at("B2"), at("C3")])
        assert [str(v) for v in got.values()] == ["7.0", "14.0", "#DIV/0!", "None"]
