"""What stands in the cells of a built workbook: names, formulas, cached values."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import pytest
from openpyxl.formula import Tokenizer

from engines_needed import need
from package_edits import GetPackage, GetWorkbook, cells_of
from tanksheet.definition import PREFIX
from tanksheet.formula import named_calculations
from tanksheet.recalc import ENGINES, Difference, differences
from tanksheet.sheets.evaluate import cell_values
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.address import Address, address, looks_like_cell
from tanksheet.xlsx.reading import MAIN, Package
from tanksheet.xlsx.values import stored_values
from tanksheet.xlsx.writing import read_parts, sheet_parts

# Functions that Excel 2010+, LibreOffice 7+, Gnumeric, IronCalc and the package "formulas" share.
SHARED = set(
    "ABS AND AVEDEV AVERAGE COUNT COUNTA EXP FALSE FIND FIXED IF INDEX INT ISERROR ISNUMBER "
    "ISTEXT LEFT LEN LN LOG10 MATCH MAX MID MIN NOT OR RIGHT ROUND SMALL SQRT STDEV SUBSTITUTE SUM "
    "SUMIF SUMPRODUCT TRIM TRUE VALUE".split()
)
VOLATILE = {"NOW", "TODAY", "RAND", "RANDBETWEEN", "OFFSET", "INDIRECT", "CELL", "INFO"}

every_workbook = pytest.mark.parametrize("name", TEMPLATES)


def formula_cells(path: Path) -> Iterator[tuple[Address, ElementTree.Element]]:
    """Every cell of the file that holds a formula."""
    parts = read_parts(path.read_bytes())
    for sheet, part in sheet_parts(parts).items():
        for cell in ElementTree.fromstring(parts[part]).iter(f"{{{MAIN}}}c"):
            if cell.find(f"{{{MAIN}}}f") is not None:
                yield address(sheet, str(cell.get("r"))), cell


def formula_text(cell: ElementTree.Element) -> str:
    """The formula, with "=" before it."""
    return f"={cell.findtext(f'{{{MAIN}}}f')}"


def functions_in(formula: str) -> set[str]:
    """The functions that a formula calls, read by openpyxl's tokenizer."""
    return {
        token.value.rstrip("(").upper()
        for token in Tokenizer(formula).items
        if token.type == "FUNC" and token.subtype == "OPEN"
    }


@every_workbook
def test_every_entry_and_formula_has_a_name(name: str, workbook: GetWorkbook) -> None:
    path, plan = workbook(name), book(name)
    named = {cell for cells in cells_of(path).values() for cell in cells}
    formulas = {cell for cell, _ in formula_cells(path)}
    assert formulas >= {each.cell for each in plan.formulas.values()}
    assert not formulas - named, "formula cells without a name"
    for entry in plan.entries.values():
        assert list(cells_of(path)[entry.key]) == list(entry.cells)


@every_workbook
def test_no_name_looks_like_a_cell_or_a_constant(name: str, workbook: GetWorkbook) -> None:
    names = cells_of(workbook(name))
    assert names
    for each in names:
        assert re.fullmatch(r"[A-Za-z_][A-Za-z0-9_]*", each), each
        assert not looks_like_cell(each), each
        assert not each.lower().startswith(("true", "false")), each
    lowered = [each.lower() for each in names]
    assert len(set(lowered)) == len(lowered), "names must differ by more than case"


@every_workbook
def test_cached_values_are_the_engines(name: str, workbook: GetWorkbook) -> None:
    """Every formula cell holds a value; those of the plan hold what Python computes."""
    path, plan = workbook(name), book(name)
    cells = [cell for cell, node in formula_cells(path) if node.find(f"{{{MAIN}}}v") is not None]
    assert len(cells) == len(list(formula_cells(path)))
    expected = cell_values(plan, {})
    stored = stored_values(Package(path), expected)
    assert len(expected) == len(plan.formulas)
    assert not differences(expected, stored, relative=0)


@every_workbook
def test_cached_values_are_an_outside_engines(name: str, workbook: GetWorkbook) -> None:
    """Working cells too: recalculating the file as it is changes no cell. The last corrections to
    a pH are differences of numbers that are nearly equal, so only their absolute size counts."""
    need(ENGINES["ironcalc"])
    path = workbook(name)
    cells = [cell for cell, _ in formula_cells(path)]
    with ENGINES["ironcalc"].open(path) as session:
        got = session.calculate({}, cells)
    found = differences(stored_values(Package(path), cells), got)
    assert not [each for each in found if each.kind != "number" or gap(each) > 1e-12]


def gap(difference: Difference) -> float:
    expected, got = difference.expected, difference.got
    assert isinstance(expected, float) and isinstance(got, float)
    return abs(expected - got)


@every_workbook
def test_cells_use_shared_functions_only(name: str, workbook: GetWorkbook) -> None:
    used: set[str] = set()
    for cell, node in formula_cells(workbook(name)):
        strange = functions_in(formula_text(node)) - SHARED
        assert not strange, f"{cell.a1}: {strange}"
        used |= functions_in(formula_text(node))
    assert used


def test_the_list_of_shared_functions_can_refuse() -> None:
    assert functions_in('=IF(A1>0,XLOOKUP(A1,B1:B9,C1:C9),"LET(x,1,x)")') - SHARED == {"XLOOKUP"}
    assert not SHARED & VOLATILE


@every_workbook
def test_formulas_fit_into_a_cell(name: str, workbook: GetWorkbook) -> None:
    """Excel takes 8192 characters and 64 levels of nesting."""
    for cell, node in formula_cells(workbook(name)):
        formula = formula_text(node)
        assert len(formula) <= 8192, cell.a1
        depth = deepest = 0
        for token in Tokenizer(formula).items:
            if token.type in ("FUNC", "PAREN"):
                depth += 1 if token.subtype == "OPEN" else -1
            deepest = max(deepest, depth)
        assert deepest <= 64, cell.a1


@every_workbook
def test_lambdas_are_names_and_no_cell_calls_one(name: str, workbook: GetWorkbook) -> None:
    path = workbook(name)
    tree = ElementTree.fromstring(read_parts(path.read_bytes())["xl/workbook.xml"])
    names = {n.get("name"): n.text or "" for n in tree.iter(f"{{{MAIN}}}definedName")}
    for calculation in named_calculations().values():
        assert names[calculation.sheet_name].startswith("_xlfn.LAMBDA(")
    for text in names.values():
        assert not VOLATILE & functions_in(f"={text}")
    for cell, node in formula_cells(path):
        assert PREFIX not in formula_text(node).upper(), cell.a1


@every_workbook
def test_no_macros_links_or_outside_data(name: str, package_of: GetPackage) -> None:
    parts = read_parts(package_of(name))
    for part in parts:
        assert not re.search(r"vba|macro|externalLink|connections|queryTable|embed", part, re.I)
    for part, content in parts.items():
        if part.endswith(".rels"):
            assert b'TargetMode="External"' not in content, part
    for sheet in sheet_parts(parts).values():
        for cell in ElementTree.fromstring(parts[sheet]).iter(f"{{{MAIN}}}f"):
            assert "[" not in (cell.text or ""), cell.text


@every_workbook
def test_parts_are_in_a_fixed_order_with_fixed_dates(name: str, workbook: GetWorkbook) -> None:
    with zipfile.ZipFile(workbook(name)) as archive:
        names, dates = archive.namelist(), {info.date_time for info in archive.infolist()}
        assert b"2026-01-01T00:00:00Z" in archive.read("docProps/core.xml")
    assert names[0] == "[Content_Types].xml"
    assert names[1:] == sorted(names[1:])
    assert dates == {(1980, 1, 1, 0, 0, 0)}
