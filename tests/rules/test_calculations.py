"""What every calculation must be: named, described, in the glossary, compilable, published."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from rules_ground import PACKAGE, PUBLISHED
from tanksheet import catalogue
from tanksheet.calc import TOPICS
from tanksheet.definition import Calculation, of
from tanksheet.errors import NotCompilable
from tanksheet.formula import formula_text, lambda_text, named_calculations, read_calculation
from tanksheet.formula.steps import in_steps
from tanksheet.units import QUANTITIES, Gram, Litre, Number, Quantity
from tanksheet.xlsx.address import looks_like_cell

RECORDS = list(catalogue().values())
EACH = pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.name)
LONGEST_FORMULA = 8192
LONGEST_NAME = 7992  # a defined name: public reports on Excel
# Too long for a name: these live in cells, in Python and in the add-ins.
NAMELESS = {"FEEDPH"}
LONGEST_DESCRIPTION = 255  # a function wizard shows no more


def misnamed(record: Calculation) -> list[str]:
    found = []
    if not re.fullmatch(r"FERT\.[A-Z][A-Z0-9]*", record.sheet_name):
        found.append(f"{record.sheet_name}: capital letters and digits only")
    if catalogue().get(record.name) is not record or of(record.function) is not record:
        found.append(f"{record.sheet_name}: the register holds another record under this name")
    if record.topic not in TOPICS:
        found.append(f"{record.sheet_name}: topic {record.topic!r} is not in TOPICS")
    return found


def undescribed(record: Calculation) -> list[str]:
    found = []
    if not record.summary.endswith("."):
        found.append(f"{record.name}: the summary must end with a full stop")
    if not 0 < len(record.summary) < LONGEST_DESCRIPTION:
        found.append(f"{record.name}: the summary has {len(record.summary)} characters")
    if "Source:" not in (record.body.__doc__ or "") or not record.source:
        found.append(f"{record.name}: the docstring names no source")
    found += [
        f"{record.name}: nothing says what {name} means"
        for name, entry in record.parameters.items()
        if not 0 < len(entry.meaning) < LONGEST_DESCRIPTION
    ]
    return found


def outside_glossary(record: Calculation, glossary: Mapping[str, Quantity]) -> list[str]:
    found = []
    for name, entry in record.parameters.items():
        known = glossary.get(name)
        if known is None:
            found.append(f"{record.name}: {name} is not in the glossary")
        elif known.unit != entry.unit:
            found.append(
                f"{record.name}: {name} is in {entry.unit.symbol}, not {known.unit.symbol}"
            )
        if looks_like_cell(name):
            found.append(f"{record.name}: {name} is a cell address")
    return found


def uncompilable(
    record: Calculation, longest: int = LONGEST_FORMULA, longest_name: int = LONGEST_NAME
) -> list[str]:
    """What does not compile, or is too long for a cell or, where it has one, for a name."""
    try:
        steps = in_steps(read_calculation(record.function), "step_{}".format, record.parameters)
        cells = [formula_text(node) for node in (*(part for _, part in steps.parts), steps.result)]
        name = lambda_text(record)
    except NotCompilable as problem:
        return [f"{record.name}: {problem}"]
    found = [f"{record.name}: {len(text)} characters" for text in cells if len(text) >= longest]
    if len(name) >= longest_name and record.name not in NAMELESS:
        found.append(f"{record.name}: a name of {len(name)} characters")
    if not name.startswith("_xlfn.LAMBDA(") or name.count("(") != name.count(")"):
        found.append(f"{record.name}: {name[:40]} is no LAMBDA")
    return found


def unpublished(records: Iterable[Calculation], files: Iterable[Path]) -> list[str]:
    """Calculations for which no outside figure is on file."""
    named: set[str] = set()
    for path in files:
        with path.open(encoding="utf-8", newline="") as stream:
            named |= {row["calculation"] for row in csv.DictReader(stream)}
    return [record.name for record in records if record.name not in named]


def unlisted_topics(folder: Path, topics: Iterable[str]) -> set[str]:
    """Files of calc/ that TOPICS lacks, and topics that have no file."""
    return {path.stem for path in folder.glob("*.py") if path.stem != "__init__"} ^ set(topics)


@EACH
def test_name(record: Calculation) -> None:
    assert misnamed(record) == []


@EACH
def test_description(record: Calculation) -> None:
    assert undescribed(record) == []


@EACH
def test_glossary(record: Calculation) -> None:
    assert outside_glossary(record, QUANTITIES) == []


@EACH
def test_compiles(record: Calculation) -> None:
    assert uncompilable(record) == []


def test_every_calculation_has_an_outside_figure() -> None:
    assert unpublished(RECORDS, PUBLISHED.glob("*.csv")) == []


def test_topics_are_the_files_of_calc() -> None:
    assert unlisted_topics(PACKAGE / "calc", TOPICS) == set()
    assert len(set(TOPICS)) == len(TOPICS)


def test_the_register_follows_the_order_of_topics() -> None:
    order = [TOPICS.index(record.topic) for record in RECORDS]
    assert order == sorted(order)
    assert set(order) == set(range(len(TOPICS))), "every topic has a calculation"


# Each rule, fed a specimen that breaks it.

GOOD = catalogue()["STOCKMASS"]


def nameless(tank: Litre) -> Gram:
    """No full stop"""
    return tank


def looping(tank: Litre) -> Gram:
    """Loops. Source: nothing."""
    while tank > 1:
        tank = tank / 2
    return tank


def specimen(body: Any, **changes: Any) -> Calculation:
    def function(tank: float) -> Any:
        return body(tank)

    parameters = {"tank": QUANTITIES["tank"]}
    record = replace(GOOD, function=function, body=body, parameters=parameters, **changes)
    function.calculation = record  # type: ignore[attr-defined]
    return record


def test_bad_names_are_seen() -> None:
    assert len(misnamed(replace(GOOD, name="Stock_Mass"))) == 2
    assert len(misnamed(replace(GOOD, name="FLOW"))) == 1
    assert len(misnamed(replace(GOOD, topic="kitchen"))) == 2


def test_bad_descriptions_are_seen() -> None:
    assert len(undescribed(specimen(nameless))) == 2
    silent = replace(QUANTITIES["tank"], meaning="")
    assert len(undescribed(replace(GOOD, parameters={"tank": silent}))) == 1
    assert len(undescribed(specimen(lambda tank: tank))) == 3


def test_foreign_quantities_are_seen() -> None:
    strange = replace(GOOD, parameters={"colour": QUANTITIES["tank"]})
    assert len(outside_glossary(strange, QUANTITIES)) == 1
    other_unit = replace(GOOD, parameters={"tank": Quantity(Number, "a number")})
    assert len(outside_glossary(other_unit, QUANTITIES)) == 1
    cell_like = replace(GOOD, parameters={"ec25": QUANTITIES["tank"]})
    assert len(outside_glossary(cell_like, {"ec25": QUANTITIES["tank"]})) == 1


def test_bodies_that_do_not_compile_are_seen() -> None:
    assert len(uncompilable(specimen(looping))) == 1
    assert len(uncompilable(GOOD, longest=100)) == 1
    assert len(uncompilable(GOOD, longest=100, longest_name=100)) == 2


def test_names_are_for_calculations_that_fit_in_one() -> None:
    named = named_calculations()
    assert set(catalogue()) - set(named) == NAMELESS
    assert list(named) == [name for name in catalogue() if name in named]
    assert all(len(lambda_text(each)) < LONGEST_NAME for each in named.values())
    assert all(len(lambda_text(catalogue()[name])) >= LONGEST_NAME for name in NAMELESS)


def test_missing_figures_are_seen(tmp_path: Path) -> None:
    file = tmp_path / "stock.csv"
    file.write_text("calculation,expected\nSTOCKMASS,1\n", encoding="utf-8")
    assert unpublished([GOOD, catalogue()["FLOW"]], [file]) == ["FLOW"]


def test_missing_topics_are_seen(tmp_path: Path) -> None:
    for name in ("__init__", "flow", "ratio"):
        (tmp_path / f"{name}.py").touch()
    assert unlisted_topics(tmp_path, ("flow", "stock")) == {"ratio", "stock"}


@pytest.mark.parametrize(
    "name",
    "NH4 NO3 SO4 HCO3 ec25 ph1 ppm1 A1 xfd1 XFD1048576 R1C1 r1c1 R C r c R12 C3 RC r5c".split(),
)
def test_cell_like_names(name: str) -> None:
    assert looks_like_cell(name)


@pytest.mark.parametrize(
    "name",
    "XFE1 A1048577 A0 nh4_mmol ratio tank NO3x ABCD1 a x1y r_1 c_2 ec_25 R1C1x".split(),
)
def test_names_that_are_no_cells(name: str) -> None:
    assert not looks_like_cell(name)
