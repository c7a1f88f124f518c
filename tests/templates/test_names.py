"""The list of names that a spreadsheet program shows: short, readable, and none reads as a word
of the program's own."""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree import ElementTree

import formulas
import pytest
from openpyxl.utils import FORMULAE

from package_edits import GetPackage, GetWorkbook
from tanksheet.formula import lambda_text, named_calculations
from tanksheet.sheets.compiled import compiled
from tanksheet.sheets.reference import ID_NAME, tables_sheet
from tanksheet.sheets.run import default_names, run
from tanksheet.sheets.target import Target
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.reading import MAIN, Package
from tanksheet.xlsx.writing import read_parts, sheet_parts

every_workbook = pytest.mark.parametrize("name", TEMPLATES)
# From outside: the functions that openpyxl lists from the standard (ECMA-376 part 1, 18.17.7), and
# those that the engine "formulas" knows beyond it, LET among the few that neither lists.
FUNCTIONS = {
    name.upper().replace("_XLFN.", "").replace("_XLWS.", "")
    for name in (*FORMULAE, *formulas.get_functions(), "LET", "LAMBDA")
}


def clashes(names: Iterable[str]) -> list[str]:
    """Names that read as a function or begin as a constant does."""
    constants = ("true", "false")
    return [
        name for name in names if name.upper() in FUNCTIONS or name.lower().startswith(constants)
    ]


@every_workbook
def test_no_name_of_a_workbook_reads_as_a_function(name: str, workbook: GetWorkbook) -> None:
    package = Package(workbook(name))
    names = [*package.names, *package.hidden_names]
    assert len(names) > 30
    assert clashes(names) == []


def test_no_parameter_of_a_lambda_reads_as_a_function() -> None:
    texts = [lambda_text(each) for each in named_calculations().values()]
    words = {word for text in texts for word in re.findall(r"_xlpm\.(\w+)", text)}
    assert len(words) > 50
    assert clashes(sorted(words)) == []


def test_the_rule_sees_words_of_the_program() -> None:
    bad = ["left", "PI", "True_ratio", "false", "xlookup", "let", "count", "value", "price"]
    assert clashes(["mass_1", *bad, "left_check", "pi_1"]) == bad
    assert len(FUNCTIONS) > 450


@every_workbook
def test_the_working_is_hidden_and_the_rest_is_not(name: str, workbook: GetWorkbook) -> None:
    """What a person fills, reads or is warned by is listed; notes, factors, values in another
    unit, steps, tables and the workbook's own mark are not."""
    package, plan = Package(workbook(name)), book(name)
    assert package.names.keys() >= plan.entries.keys()
    assert package.hidden_names.keys() >= {ID_NAME, *tables_sheet()[1]}
    assert package.hidden_names.keys() >= {step.name for step in compiled(plan).steps}
    assert package.hidden_names.keys() >= plan.hidden - plan.nameless
    assert package.names.keys() == plan.named_cells().keys() - plan.hidden
    endings = ("_note", "_factor", "_headings", "_rows", "_checked")
    assert [each for each in package.names if each.endswith(endings)] == []
    twins = [each for each in package.names if re.search(r"_in_[A-Za-z0-9]+$", each)]
    assert twins == []
    assert set(plan.aliases.values()) - {*plan.entries} <= package.hidden_names.keys()
    assert len(package.names) - len(plan.entries) <= 63


@every_workbook
def test_the_functions_are_in_the_list(name: str, package_of: GetPackage) -> None:
    """A hidden name would not come up while a person types "=FERT."."""
    root = ElementTree.fromstring(read_parts(package_of(name))["xl/workbook.xml"])
    names = {n.get("name"): n for n in root.iter(f"{{{MAIN}}}definedName")}
    for each in named_calculations().values():
        assert names[each.sheet_name].get("hidden") is None


def test_a_hidden_name_is_read_when_asked_for(workbook: GetWorkbook) -> None:
    path, plan = workbook("acid"), book("acid")
    names = default_names(Target.of(Package(path), plan))
    assert "dose" in names and "alkalinity_left" in names
    assert not plan.hidden & set(names)
    found = run(path, plan, {"flow": "10 L/min"}, ["flow_in_Lmin", "flow_note"])
    assert found == {"flow_in_Lmin": pytest.approx(10.0), "flow_note": ""}


def test_a_file_without_a_plan_is_read_by_its_listed_names(workbook: GetWorkbook) -> None:
    target = Target.of(Package(workbook("acid")), None)
    assert "dose" in default_names(target)
    assert not {"flow_note", ID_NAME} & set(default_names(target))
    assert not {"flow_note", ID_NAME} & set(target.listed)


@every_workbook
def test_numbers_are_numbers(name: str, package_of: GetPackage) -> None:
    """No cell holds a number as text: over a table Excel would mark it with a green corner."""
    parts = read_parts(package_of(name))
    texts = [
        (sheet, cell.get("r"), cell.findtext(f"{{{MAIN}}}is/{{{MAIN}}}t") or "")
        for sheet, part in sheet_parts(parts).items()
        for cell in ElementTree.fromstring(parts[part]).iter(f"{{{MAIN}}}c")
        if cell.get("t") == "inlineStr"
    ]
    assert len(texts) > 100
    assert [each for each in texts if reads_as_a_number(each[2])] == []


def reads_as_a_number(text: str) -> bool:
    return re.fullmatch(r"\s*[-+]?(\d[\d,]*\.?\d*|\.\d+)([eE][-+]?\d+)?\s*%?\s*", text) is not None


def test_numbers_held_as_text_are_seen() -> None:
    assert all(map(reads_as_a_number, ["1", " 12 ", "1,000", "2.5", "-3", "5 %", "1e5"]))
    assert not any(map(reads_as_a_number, ["", "1:N", "N", "12 ppm", "A1", "15.5-0-0", "%"]))


def test_titles_and_legends_stand_beside_the_plot() -> None:
    """ECMA-376 part 1, 21.2.2.132: without ``overlay`` a program may draw them over it."""
    from tanksheet.sheets.writer import workbook_bytes

    drawn = 0
    for name in TEMPLATES:
        for part, content in read_parts(workbook_bytes(book(name))).items():
            if part.startswith("xl/charts/chart"):
                assert words_over_the_plot(content) == []
                drawn += 1
    assert drawn >= 2


def words_over_the_plot(chart: bytes) -> list[str]:
    """The titles and legends of a chart that do not say that they keep off the plot."""
    space = "{http://schemas.openxmlformats.org/drawingml/2006/chart}"
    found = [
        element
        for element in ElementTree.fromstring(chart).iter()
        if element.tag in (f"{space}title", f"{space}legend")
    ]
    assert len(found) == 4
    off = [element for element in found if element.find(f"{space}overlay[@val='0']") is None]
    return [element.tag.removeprefix(space) for element in off]


def test_a_title_over_the_plot_is_seen(package_of: GetPackage) -> None:
    chart = read_parts(package_of("acid"))["xl/charts/chart1.xml"]
    assert words_over_the_plot(chart) == []
    spoiled = chart.replace(b'<overlay val="0" />', b"", 1).replace(b'<overlay val="0"/>', b"", 1)
    assert words_over_the_plot(spoiled) == ["title"]
