"""What lies in the folder afterwards: the same bytes each time, all of a run or nothing of it."""

from __future__ import annotations

import os
import pty
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import openpyxl
import pytest

import coop_files
from engines_needed import need
from tanksheet.batch import coop, demo, progress, rejects
from tanksheet.batch.coop import price_coop
from tanksheet.batch.outputs import FILES
from tanksheet.cli import main
from tanksheet.errors import WorkbookProblem
from tanksheet.recalc import ENGINES, convert
from tanksheet.xlsx.writing import read_parts

sys.path.append(str(Path(__file__).parents[1] / "xlsx"))
from excel_limits import broken_limits
from format_check import faults

ENGINE = Path(coop.__file__).parents[2]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    demo.write_demo(tmp_path / "in")
    return tmp_path / "in"


def content(out: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in out.iterdir()}


def environment() -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(ENGINE)}


def test_the_same_bytes_each_time(folder: Path, tmp_path: Path) -> None:
    """In another process, on another day, whatever the order of dictionaries and threads."""
    price_coop(folder, tmp_path / "one")
    time.sleep(2.1)  # a zip file counts in steps of two seconds
    command = [sys.executable, "-m", "tanksheet.cli", "batch", str(folder), "--out"]
    surroundings = {
        **environment(),
        "PYTHONHASHSEED": "7",
        "POLARS_MAX_THREADS": "1",
        "TZ": "Asia/Tokyo",
    }
    subprocess.run(
        [*command, str(tmp_path / "two")], check=True, env=surroundings, stdout=subprocess.DEVNULL
    )
    assert content(tmp_path / "one") == content(tmp_path / "two")
    assert sorted(content(tmp_path / "one")) == sorted(FILES)


def test_rows_in_another_order_give_the_same_results(folder: Path, tmp_path: Path) -> None:
    price_coop(folder, tmp_path / "one")
    for name in ("members", "products", "programs", "blocks"):
        head, *lines = (folder / f"{name}.csv").read_text(encoding="utf-8").splitlines()
        text = "\n".join([head, *reversed(lines)]) + "\n"
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    price_coop(folder, tmp_path / "two")
    one, two = content(tmp_path / "one"), content(tmp_path / "two")
    assert one["statements.csv"] == two["statements.csv"] and one["order.csv"] == two["order.csv"]


STOPS = {
    "while it reads": "programs.amounts = lambda *_: os.kill(os.getpid(), signal.SIGKILL)",
    "before the files": "coop.replace_files = lambda *_: os.kill(os.getpid(), signal.SIGKILL)",
    "before the swap": "Path.replace = lambda *_: os.kill(os.getpid(), signal.SIGKILL)",
}


@pytest.mark.parametrize("stop", STOPS)
@pytest.mark.parametrize("before", ["nothing", "an older run"])
def test_a_killed_run_leaves_no_half_written_output(
    folder: Path, tmp_path: Path, stop: str, before: str
) -> None:
    out = tmp_path / "out"
    if before == "an older run":
        price_coop(folder, out, pool=True)
    old = content(out) if out.exists() else {}
    code = f"""
import os, signal
from pathlib import Path
from tanksheet.batch import coop, programs
{STOPS[stop]}
coop.price_coop({str(folder)!r}, {str(out)!r})
"""
    killed = subprocess.run([sys.executable, "-c", code], env=environment())
    assert killed.returncode == -signal.SIGKILL
    left = content(out) if out.exists() else {}
    assert {name: left[name] for name in left if not name.startswith(".")} == old
    assert stop == "before the swap" or left == old, "rejects on their way have no name"
    price_coop(folder, out)
    assert set(FILES) <= set(content(out))


def test_a_killed_run_on_a_clock(tmp_path: Path) -> None:
    """A larger co-op, killed at some moments from outside."""
    lines = coop_files.SMALL["programs"] * 200_000
    folder = coop_files.write(tmp_path / "in", coop_files.small(programs=lines))
    out = tmp_path / "out"
    command = [sys.executable, "-m", "tanksheet.cli", "batch", str(folder), "--out", str(out)]
    for seconds in (0.4, 0.7):
        run = subprocess.Popen(command, env=environment(), stdout=subprocess.DEVNULL)
        time.sleep(seconds)
        run.kill()
        if run.wait() == 0:
            assert sorted(content(out)) == sorted(FILES)
            shutil.rmtree(out)
        assert not out.exists() or set(FILES) <= set(content(out)) or not any(out.glob("[!.]*"))


def test_a_failure_leaves_the_old_files(folder: Path, tmp_path: Path) -> None:
    price_coop(folder, tmp_path / "out")
    (tmp_path / "out" / "order.csv").unlink()
    (tmp_path / "out" / "order.csv").mkdir()
    old = (tmp_path / "out" / "statements.csv").read_bytes()
    with pytest.raises(WorkbookProblem, match=r"order\.csv: cannot be written"):
        price_coop(folder, tmp_path / "out", pool=True)
    assert (tmp_path / "out" / "statements.csv").read_bytes() == old
    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert names == set(FILES)


def test_rejects_wait_on_the_disk_under_no_name(tmp_path: Path) -> None:
    waiting = rejects.Rejects(tmp_path)
    assert list(tmp_path.iterdir()) == []
    assert b"".join(waiting.pieces()) == b"file,row,column,value,reason\n"
    waiting.close()


# the workbook


@pytest.mark.parametrize("pool", [False, True])
def test_the_summary(folder: Path, tmp_path: Path, pool: bool) -> None:
    done = price_coop(folder, tmp_path / "out", pool=pool)
    path, out = tmp_path / "out" / "summary.xlsx", coop_files.read(tmp_path / "out")
    book = openpyxl.load_workbook(path)
    assert book.sheetnames == ["Summary", "Order", "Members", "Nutrients", "Scenarios", "Rejects"]
    front = {row[0]: row[1] for row in book["Summary"].iter_rows(values_only=True)}
    assert front["cost (EUR)"] == done.cost / 100 == float(coop_files.exact(out["order"], "cost"))
    assert front["rows rejected (rejects.csv says why)"] == len(out["rejects"])
    order = list(book["Order"].iter_rows(min_row=4, values_only=True))
    assert [str(row[0]) for row in order] == [row["product"] for row in out["order"]]
    assert sum(row[4] for row in order) == pytest.approx(done.cost / 100)
    members = list(book["Members"].iter_rows(min_row=4, values_only=True))
    assert len(members) == 200 and sum(row[4] for row in members) == pytest.approx(done.cost / 100)
    for member in members[:20]:
        mine = [row for row in out["statements"] if row["member"] == member[0]]
        assert member[2:4] == (len(mine), sum(int(row["packs"]) for row in mine))
        assert member[4] == pytest.approx(float(coop_files.exact(mine, "cost")))
    costs = {row[0]: row[1] for row in book["Scenarios"].iter_rows(min_row=4, values_only=True)}
    late = price_coop(folder, tmp_path / "late", pool=pool, scenario="late")
    assert costs["late"] == late.cost / 100


def test_its_chart_has_a_title_and_words(folder: Path, tmp_path: Path) -> None:
    price_coop(folder, tmp_path / "out")
    parts = read_parts((tmp_path / "out" / "summary.xlsx").read_bytes())
    chart = parts["xl/charts/chart1.xml"].decode()
    assert "Where the money goes: cost by product" in chart
    assert chart.count('overlay val="0"') == 3, "no title may lie over the bars"
    drawing = parts["xl/drawings/drawing1.xml"].decode()
    assert 'descr="Bar chart of cost by product in EUR, largest first: ' in drawing


def test_it_is_what_the_standard_and_excel_ask_for(folder: Path, tmp_path: Path) -> None:
    price_coop(folder, tmp_path / "out")
    parts = read_parts((tmp_path / "out" / "summary.xlsx").read_bytes())
    assert faults(parts) == []
    assert broken_limits(parts) == []


def test_names_that_look_like_formulas(tmp_path: Path) -> None:
    tables = coop_files.small(members=["A,=1+1", "B,+x"])
    price_coop(coop_files.write(tmp_path / "in", tables), tmp_path / "out")
    book = openpyxl.load_workbook(tmp_path / "out" / "summary.xlsx")
    cell = book["Members"]["B4"]
    assert (cell.value, cell.data_type) == ("=1+1", "s")


def test_spreadsheets_read_what_comes_out(folder: Path, tmp_path: Path) -> None:
    done = price_coop(folder, tmp_path / "out")
    need(ENGINES["libreoffice"])
    made = convert(tmp_path / "out" / "summary.xlsx", tmp_path / "read", "ods")
    with zipfile.ZipFile(made) as parts:
        assert f'office:value="{done.cost / 100}"'.encode() in parts.read("content.xml")
    need(ENGINES["gnumeric"])
    for name, row in (("order", 2), ("statements", 2), ("rejects", 4)):
        made = tmp_path / "read" / f"{name}.xlsx"
        subprocess.run(["ssconvert", tmp_path / "out" / f"{name}.csv", made], check=True)
        cells = openpyxl.load_workbook(made).active
        wanted = coop_files.read(tmp_path / "out")[name][row - 2]
        for column, text in enumerate(wanted.values(), 1):
            value = cells.cell(row, column).value
            is_same = float(text) == value if isinstance(value, (int, float)) else text == value
            assert is_same or (text == "" and value is None), (text, value)


# what a person sees


def test_a_bar_on_a_terminal_only(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    folder = coop_files.write(tmp_path / "in", coop_files.SMALL)
    monkeypatch.setattr(progress, "EVERY", 0.0)
    assert main(["batch", str(folder), "--out", str(tmp_path / "out")]) == 0
    assert capfd.readouterr().err == ""
    near, far = pty.openpty()
    with os.fdopen(far, "w") as terminal:
        monkeypatch.setattr(sys, "stderr", terminal)
        assert main(["batch", str(folder), "--out", str(tmp_path / "out")]) == 0
    seen = os.read(near, 10_000).decode()
    os.close(near)
    assert "pricing [##############################] 100%" in seen
    assert seen.rstrip(" \r").endswith("100%"), "the bar is taken away"
    said = capfd.readouterr().out
    assert "12 rows read: 12 accepted, 0 rejected" in said and "wrote" in said


def test_the_demo_is_the_same_each_time(tmp_path: Path) -> None:
    assert main(["batch", str(tmp_path / "one"), "--demo"]) == 0
    assert main(["batch", str(tmp_path / "two"), "--demo"]) == 0
    one = content(tmp_path / "one")
    assert one == content(tmp_path / "two")
    assert one["members.csv"].count(b"\n") == 201
