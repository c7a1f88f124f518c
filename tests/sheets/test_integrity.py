"""Files that people have changed, by LibreOffice and by openpyxl: each works, or is refused in one
line that names the cell."""

from __future__ import annotations

import dataclasses
import json
import os
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.workbook.defined_name import DefinedName

from engines_needed import need
from package_edits import (
    GetPackage,
    add_name,
    add_sheet,
    insert_rows_on_top,
    set_formula,
    type_into,
)
from small_books import small_book
from tanksheet.cli import main
from tanksheet.errors import WorkbookProblem
from tanksheet.recalc import ENGINES, libreoffice_worker
from tanksheet.recalc.libreoffice_found import python_with_uno, soffice
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.integrity import copied_sheets, lost_lines, whole
from tanksheet.sheets.run import run
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.address import Address, column_letters
from tanksheet.xlsx.reading import Package

Capture = pytest.CaptureFixture[str]
Made = dict[str, Path]
EDITS = Path(__file__).with_name("libreoffice_edits.py")
PLAN = book("ratio-table")
SHEET = "Stock strength"
RATIOS, TANK = PLAN.entries["ratios"].cells, PLAN.entries["tank"].cells[0]
GRID = PLAN.named_cells()["grams_per_litre"]
ROW, LAST = RATIOS[0].row, RATIOS[-1].row
LEFT, RIGHT = GRID[0].column, GRID[-1].column
RIGHT_LETTER = column_letters(RIGHT)
BEYOND = f"${RIGHT_LETTER}${RATIOS[-1].row + 2}"
ONE = GRID[3]
# A row above the table in which nothing has a name.
NAMED = {(c.sheet, c.row) for cells in PLAN.named_cells().values() for c in cells}
FORMULAS = {(f.cell.sheet, f.cell.row) for f in PLAN.formulas.values()}
WORDS = next(row for row in range(1, ROW) if (SHEET, row) not in NAMED | FORMULAS)
OLD = tuple(evaluate(PLAN, {})[f"grams_per_litre[0,{j}]"] for j in range(RIGHT - LEFT + 1))

# What is done in LibreOffice, in rows and columns from 0, and what run says: "" where it works.
IN_LIBREOFFICE: dict[str, tuple[list[list[Any]], str]] = {
    "saved": ([], ""),
    "rows on top": ([["insert_rows", SHEET, 0, 3]], ""),
    "rows between": ([["insert_rows", SHEET, WORDS, 2]], ""),
    "a row inside the table": ([["insert_rows", SHEET, ROW + 1, 1]], r"\(ratios\) was stretched"),
    "an entry's row deleted": (
        [["delete_rows", TANK.sheet, TANK.row - 1, 1]],
        rf"the cell of 'tank' was deleted \(it was '{TANK.sheet}'!{TANK.cell}\)",
    ),
    "a row of the table deleted": (
        [["delete_rows", SHEET, ROW + 1, 1]],
        rf"'{SHEET}'!A{ROW}:A{LAST - 1} \(ratios\) lost a part",
    ),
    "a row of words deleted": ([["delete_rows", SHEET, WORDS - 1, 1]], ""),
    "a sheet copied": ([["copy_sheet", SHEET, f"{SHEET}_2"]], ""),
    "the copy typed into": (
        [
            ["copy_sheet", SHEET, f"{SHEET}_2"],
            ["type_in", f"{SHEET}_2", TANK.row - 1, TANK.column - 1, 999],
        ],
        "",
    ),
    "a result overwritten": (
        [["type_in", SHEET, ONE.row - 1, ONE.column - 1, 5]],
        rf"'{SHEET}'!{ONE.cell} \(grams_per_litre\) has lost its formula and holds 5",
    ),
    "a result cleared": (
        [["type_in", SHEET, ONE.row - 1, ONE.column - 1, ""]],
        rf"'{SHEET}'!{ONE.cell} \(grams_per_litre\) has lost its formula and is empty",
    ),
    "another formula": (
        [["type_in", SHEET, ONE.row - 1, ONE.column - 1, "=1+1"]],
        rf"'{SHEET}'!{ONE.cell} \(grams_per_litre\) holds another formula .* it gives 2 instead",
    ),
    "a sheet renamed": ([["rename_sheet", SHEET, "North house"]], ""),
    "headings sorted": (
        [["sort_rows", SHEET, ROW - 1, LAST - 1, RATIOS[0].column - 1, RATIOS[0].column - 1, 0]],
        "",
    ),
    "rows sorted with their results": (
        [["sort_rows", SHEET, ROW - 1, LAST - 1, RATIOS[0].column - 1, RIGHT - 1, 0]],
        rf"'{SHEET}'!{GRID[0].cell} \(grams_per_litre\) holds another formula",
    ),
    "results drawn down": (
        [["drag_down", SHEET, LAST - 1, LAST + 4, LEFT - 1, RIGHT - 1, 1]],
        rf"'{SHEET}'![A-Z]+[0-9]+ .*(holds another|lost its) formula",
    ),
    "a name stretched": (
        [
            [
                "point_name",
                "grams_per_litre",
                f"$'{SHEET}'.{GRID[0].absolute}:${RIGHT_LETTER}${LAST + 2}",
            ]
        ],
        rf"'{SHEET}'!{GRID[0].cell}:{RIGHT_LETTER}{LAST + 2} \(grams_per_litre\) was stretched",
    ),
}


@pytest.fixture(autouse=True)
def _engine() -> None:
    need(ENGINES["ironcalc"])


@pytest.fixture(scope="module")
def source(package_of: GetPackage, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("source") / "ratio-table.xlsx"
    path.write_bytes(package_of("ratio-table"))
    return path


@pytest.fixture(scope="module")
def made(source: Path, package_of: GetPackage, tmp_path_factory: pytest.TempPathFactory) -> Made:
    """All the edits in one LibreOffice, since it takes seconds to start."""
    need(ENGINES["libreoffice"])
    folder = tmp_path_factory.mktemp("edited")
    recipe = folder / "source.xlsx"
    recipe.write_bytes(package_of("recipe"))
    jobs = [
        {"source": str(source), "target": str(folder / f"{name}.xlsx"), "edits": edits}
        for name, (edits, _) in IN_LIBREOFFICE.items()
    ]
    jobs.append(
        {
            "source": str(recipe),
            "target": str(folder / "products sorted.xlsx"),
            "edits": [_products_sorted()],
        }
    )
    (folder / "jobs.json").write_text(json.dumps(jobs), encoding="utf-8")
    surroundings = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    worker = str(libreoffice_worker.__file__)
    call = [str(python_with_uno()), str(EDITS), worker, str(soffice()), str(folder / "jobs.json")]
    done = subprocess.run(call, env=surroundings, capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stderr
    return {Path(str(job["target"])).stem: Path(str(job["target"])) for job in jobs}


def _products_sorted() -> list[Any]:
    """The rows of products with what a person typed beside them, by name from the last."""
    entries = book("recipe").entries
    columns = [entries[key].cells for key in ("products", "tanks", "amounts", "amount_units")]
    left, right = min(c[0].column for c in columns), max(c[0].column for c in columns)
    first, last, by = columns[0][0], columns[0][-1].row, columns[0][0].column - left
    return ["sort_rows", first.sheet, first.row - 1, last - 1, left - 1, right - 1, by]


def check(path: Path, says: str) -> None:
    """The file gives what the plan gives, or is refused in one line."""
    if not says:
        grid = run(path, PLAN, {}, ["grams_per_litre", "ratios"])
        first = grid["ratios"].index(PLAN.entries["ratios"].default[0])
        across = len(OLD)
        assert grid["grams_per_litre"][first * across :][:across] == pytest.approx(list(OLD))
        return
    with pytest.raises(WorkbookProblem, match=rf"^{path.name}: .*{says}") as caught:
        run(path, PLAN, {}, ["grams_per_litre"])
    line = str(caught.value)
    assert "\n" not in line and line.endswith("or start from a fresh workbook (tanksheet make)")


@pytest.mark.parametrize("name", IN_LIBREOFFICE)
def test_in_libreoffice(name: str, made: Made) -> None:
    check(made[name], IN_LIBREOFFICE[name][1])


def test_product_rows_sorted_in_libreoffice(made: Made) -> None:
    """The weights stand between what is typed, and LibreOffice sorts them too: refused."""
    says = r"Recipe!B\d+ \(weights\) holds another formula .*gives [\d.]+ k?g instead"
    with pytest.raises(WorkbookProblem, match=says) as caught:
        run(made["products sorted"], book("recipe"), {}, ["ec_feed"])
    assert "\n" not in str(caught.value)


# openpyxl moves cells and leaves names and formulas where they were, and copies sheets without them


def _insert(row: int, count: int) -> Callable[[Any], None]:
    return lambda file: file[SHEET].insert_rows(row, count)


def _delete(row: int, sheet: str = SHEET) -> Callable[[Any], None]:
    return lambda file: file[sheet].delete_rows(row)


def _put(cell: str, value: Any) -> Callable[[Any], None]:
    return lambda file: file[SHEET].__setitem__(cell, value)


def _rename(file: Any) -> None:
    file[SHEET].title = "North house"


def _copy(file: Any) -> None:
    file.copy_worksheet(file[SHEET])[TANK.cell] = 999


def _sort(file: Any) -> None:
    cells = [file[SHEET][cell.cell] for cell in RATIOS]
    for cell, value in zip(
        cells, sorted((c.value for c in cells), key=lambda v: v or 0, reverse=True), strict=True
    ):
        cell.value = value


def _sort_formulas(file: Any) -> None:
    """Formulas moved as they are spelled, so that they mean another row."""
    sheet = file[SHEET]
    one, other = sheet[GRID[0].cell], sheet.cell(LAST, LEFT)
    one.value, other.value = other.value, one.value


def _stretch(file: Any) -> None:
    reach = f"'{SHEET}'!{GRID[0].absolute}:${RIGHT_LETTER}${LAST + 2}"
    file.defined_names["grams_per_litre"] = DefinedName("grams_per_litre", attr_text=reach)


MOVED = r"(has lost its formula|holds another formula) "
IN_OPENPYXL: dict[str, tuple[Callable[[Any], None], str]] = {
    "saved": (lambda file: None, ""),
    "rows on top": (_insert(1, 3), MOVED),
    "a row inside the table": (_insert(ROW + 1, 1), rf"'{SHEET}'![A-Z]+[0-9]+ .*formula"),
    "an entry's row deleted": (_delete(TANK.row, TANK.sheet), MOVED),
    "a row of the table deleted": (_delete(ROW + 1), rf"'{SHEET}'![A-Z]+[0-9]+ .*formula"),
    "a row of words deleted": (_delete(WORDS), MOVED),
    "a sheet copied and typed into": (_copy, ""),
    "a result overwritten": (
        _put(ONE.cell, 5),
        rf"'{SHEET}'!{ONE.cell} \(grams_per_litre\) has lost its formula and holds 5",
    ),
    "another formula": (
        _put(ONE.cell, "=1+1"),
        rf"'{SHEET}'!{ONE.cell} \(grams_per_litre\) holds another formula",
    ),
    "a sheet renamed": (_rename, rf"leads to '{SHEET}'!\$[A-Z]+\$.*, which is not there"),
    "headings sorted": (_sort, ""),
    "formulas sorted": (
        _sort_formulas,
        rf"'{SHEET}'!{GRID[0].cell} \(grams_per_litre\) holds another formula",
    ),
    "a name stretched": (_stretch, rf"{RIGHT_LETTER}[0-9]+ \(grams_per_litre\) was stretched"),
}


@pytest.mark.parametrize("name", IN_OPENPYXL)
def test_in_openpyxl(name: str, source: Path, tmp_path: Path) -> None:
    change, says = IN_OPENPYXL[name]
    file, path = load_workbook(source), tmp_path / "ratio-table.xlsx"
    change(file)
    file.save(path)
    check(path, says)


# what is said, and where


def test_copies_are_mentioned(made: Made, source: Path, tmp_path: Path, capsys: Capture) -> None:
    """Nothing typed into a copy is read, and that is said; sheets of one's own are let alone."""
    file, other = load_workbook(source), tmp_path / "other.xlsx"
    file.copy_worksheet(file[SHEET])
    file.save(other)
    for path, title in ((made["the copy typed into"], f"{SHEET}_2"), (other, f"{SHEET} Copy")):
        assert copied_sheets(Package(path), PLAN) == [title]
        assert main(["run", str(path), "--get", "limit"]) == 0
        assert capsys.readouterr().err == (
            f"tanksheet: {path.name}: nothing on {title!r} is read; "
            "for another case, copy the whole file\n"
        )
    own = tmp_path / "own.xlsx"
    own.write_bytes(source.read_bytes())
    add_sheet(own, "My notes", "")
    add_name(own, "mine", "'My notes'!$A$1")
    assert copied_sheets(Package(own), PLAN) == []
    assert copied_sheets(Package(made["a sheet renamed"]), PLAN) == []


def test_verify_names_every_cell_first(source: Path, tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "ratio-table.xlsx"
    file = load_workbook(source)
    for cell in GRID[3:6]:
        file[SHEET][cell.cell] = 5
    file.save(path)
    assert main(["verify", str(path), "--engines", "ironcalc", "--cases", "1", "--no-edges"]) == 1
    out = capsys.readouterr().out.splitlines()
    assert out[:3] == [
        f"ratio-table.xlsx: {cell.a1} (grams_per_litre) has lost its formula and holds 5"
        for cell in GRID[3:6]
    ]
    with pytest.raises(WorkbookProblem, match="and so has 2 other cells"):
        whole(Package(path), PLAN)


def test_cells_without_a_name(tmp_path: Path) -> None:
    """They stand in the row of cells that have names, wherever that row has gone."""
    plan = small_book()
    plan.formulas["doubled"] = dataclasses.replace(plan.formulas["doubled"], name="")
    twin = plan.formulas["doubled"].cell
    path = tmp_path / "small.xlsx"
    path.write_bytes(workbook_bytes(plan))
    assert whole(Package(path), plan).formulas()["doubled"] == twin
    insert_rows_on_top(path, twin.sheet, 4)
    now = Address(twin.sheet, twin.row + 4, twin.column)
    assert whole(Package(path), plan).formulas()["doubled"] == now
    file = load_workbook(path)
    file[now.sheet][now.cell] = 7
    file.save(path)
    assert lost_lines(Package(path), plan) == [
        f"small.xlsx: {now.a1} has lost its formula and holds 7"
    ]
    with pytest.raises(WorkbookProblem, match=f"{now.cell} has lost its formula"):
        run(path, plan, {})


def test_a_step_of_the_working(package_of: GetPackage, tmp_path: Path) -> None:
    path, plan = tmp_path / "acid.xlsx", book("acid")
    path.write_bytes(package_of("acid"))
    package = Package(path)
    step = next(name for name in package.hidden_names if "_step_" in name)
    type_into(path, step, 1.0)
    with pytest.raises(WorkbookProblem, match=rf"\({step}\) has lost its formula and holds 1"):
        run(path, plan, {})


def test_a_formula_spelled_otherwise_that_gives_the_same(source: Path, tmp_path: Path) -> None:
    """Programs spell formulas in their own way: what counts is what they give."""
    path = tmp_path / "ratio-table.xlsx"
    path.write_bytes(source.read_bytes())
    set_formula(path, "limit", "0+746")
    assert run(path, PLAN, {}, ["limit"]) == {"limit": 746.0}
    with pytest.raises(WorkbookProblem, match=r"\(limit\) holds another formula .* gives 746"):
        run(path, PLAN, {"temperature": "30 degC"}, ["limit"])


def test_a_whole_file_is_whole(package_of: GetPackage, tmp_path: Path) -> None:
    """Every cell of every workbook is found: none is passed over because it has no name."""
    for name in TEMPLATES:
        path = tmp_path / f"{name}.xlsx"
        path.write_bytes(package_of(name))
        found = whole(Package(path), book(name))
        assert found.formulas().keys() == book(name).formulas.keys()
        assert all(now == book(name).formulas[key].cell for key, now in found.formulas().items())
