"""The function reference is what the code says, and every example is worked out in every host."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from engines_needed import need
from tanksheet.cli import main
from tanksheet.definition import Calculation, catalogue
from tanksheet.errors import DividedByZero, Fault
from tanksheet.expression import HOSTS, evaluate
from tanksheet.formula.lambdas import has_name, uses_let
from tanksheet.hosts import reference_page
from tanksheet.hosts.reference_page import LET_NOTE, example_formula, page
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS
from tanksheet.recalc import ENGINES
from tanksheet.sheets.scratch import SHEET, write_scratch
from tanksheet.xlsx.address import Address
from xlwings_jobs import same

PAGE = Path(__file__).resolve().parents[2] / "workbook_templates" / "FUNCTIONS.md"
RECORDS = list(catalogue().values())
EACH = pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.name)
EXAMPLE = re.compile(r"^Example: `(=FERT\..*)` gives (-?\d+(?:\.\d+)?)", re.MULTILINE)


@pytest.fixture(scope="module")
def made() -> str:
    return page()


def section(made: str, name: str) -> str:
    """The text from a heading to the next one."""
    _, found, rest = made.partition(f"### {name}\n")
    assert found, f"{name} has no section"
    return re.split(r"^##", rest, maxsplit=1, flags=re.MULTILINE)[0]


def test_the_page_is_up_to_date(made: str) -> None:
    assert PAGE.read_text(encoding="utf-8") == made, "run scripts/build"


def test_the_command_writes_it(tmp_path: Path, made: str) -> None:
    target = tmp_path / "page.md"
    assert main(["list", "--page", str(target)]) == 0
    assert target.read_text(encoding="utf-8") == made


def test_every_function_stands_once_and_is_linked(made: str) -> None:
    names = [*(c.sheet_name for c in RECORDS), *(t.sheet_name for t in TABLE_FUNCTIONS.values())]
    assert re.findall(r"^### (.*)$", made, re.MULTILINE) == names
    links = re.findall(r"\]\(#(\w+)\)", made)
    assert links == [name.replace(".", "").lower() for name in names]
    assert {c.topic for c in RECORDS} == set(reference_page.HEADINGS)


@EACH
def test_a_section_says_what_a_person_needs(made: str, record: Calculation) -> None:
    text = section(made, record.sheet_name)
    assert record.summary in text.replace("\n", " ")
    assert f"Source: {record.source}" in text
    for name, entry in record.parameters.items():
        row = next(line for line in text.splitlines() if line.startswith(f"| `{name}` |"))
        assert entry.meaning in row
        assert entry.allowed in row
        assert entry.is_readings or f"| {entry.unit.symbol or 'number'} |" in row
    assert f"`FERT_{record.name}`" in text
    assert f"`tanksheet.{record.body.__name__}`" in text
    assert (LET_NOTE in text) is (has_name(record) and uses_let(record))


@EACH
def test_the_printed_example_in_python(made: str, record: Calculation) -> None:
    """The figures are read off the page itself."""
    formula, shown = EXAMPLE.findall(section(made, record.sheet_name))[0]
    digits = len(shown.partition(".")[2])
    value = evaluate(formula)
    assert isinstance(value, float)
    assert round(value, digits) == pytest.approx(float(shown), rel=1e-12)


@pytest.mark.parametrize("host", [host for host in HOSTS if host not in ("python", "formulas")])
@EACH
def test_the_example_in_every_engine(record: Calculation, host: str) -> None:
    need(ENGINES[host])
    value = evaluate(example_formula(record), host)
    assert value == pytest.approx(record.function(*record.example[0]), rel=1e-9)


def test_the_examples_in_formulas(tmp_path: Path) -> None:
    """As typed, all in one workbook, since loading one takes this engine seconds; those with LET
    go through ``evaluate``, which works them out in steps."""
    need(ENGINES["formulas"])
    plain = [record for record in RECORDS if not uses_let(record)]
    path = tmp_path / "examples.xlsx"
    write_scratch(path, [example_formula(record)[1:] for record in plain], [], True)
    cells = {record.name: Address(SHEET, row, 1) for row, record in enumerate(plain, 1)}
    with ENGINES["formulas"].open(path) as session:
        found = session.calculate({}, list(cells.values()))
    for record in RECORDS:
        whole = record.name in cells
        value = (
            found[cells[record.name]] if whole else evaluate(example_formula(record), "formulas")
        )
        assert value == pytest.approx(record.function(*record.example[0]), rel=1e-9), record.name


def test_what_lambda_hosts_cannot_do(made: str) -> None:
    """The note on LET is true of at least one function, and not of all."""
    assert 0 < made.count(LET_NOTE) < len(RECORDS) / 2


def test_own_errors_are_named(made: str) -> None:
    assert "`#NUM!`: the pH wanted must not be above" in section(made, "FERT.ACIDNEED")
    assert "`#N/A`: *ion* carries no charge" in section(made, "FERT.IONMMOL")
    assert "`#N/A`: the two units measure" in section(made, "FERT.UNITFACTOR")
    assert "`#DIV/0!`" in section(made, "FERT.SAR")
    assert "`#DIV/0!`" not in section(made, "FERT.STOCKMASS")
    with pytest.raises(DividedByZero):
        catalogue()["SAR"].function(7.73, 0, 0)


def test_listed_words_work(made: str) -> None:
    """A word from each list on the page, in the function that looks it up."""
    words = section(made + "\n##", "FERT.TABLE") and made.partition("## Listed words")[2]
    listed = dict(re.findall(r"^- (.*?): (.*)$", words, re.MULTILINE))
    formulas = {
        "Oxides": '=FERT.ELEMENT("{}",1)',
        "Acids": '=FERT.ACIDVOLUME(1,"{}",1)',
        "Salts": '=FERT.SOLUBILITY("{}",20)',
        "Products": '=FERT.SATURATION("{}",20)',
        "Ions": '=FERT.IONMMOL(1,"{}","mg/L")',
        "Units of volume": '=FERT.CONVERT(1,"{}","L")',
        "Units of temperature": '=FERT.CONVERT(1,"{}","degC")',
    }
    for title, formula in formulas.items():
        for word in re.findall(r"`(.*?)`", listed[title]):
            try:
                assert isinstance(evaluate(formula.format(word)), float)
            except Fault as fault:
                raise AssertionError(f"{title}: {word!r} gives {fault.code}") from fault


def test_a_changed_docstring_is_seen(made: str, monkeypatch: pytest.MonkeyPatch) -> None:
    body = catalogue()["STOCKMASS"].body
    monkeypatch.setattr(body, "__doc__", "Another summary.\n\nSource: nowhere.")
    assert page() != made
    assert not same(1.0, 1.0 + 1e-9)
