"""Every validation of every workbook in an outside engine: at its limits, inside them and outside.

The limits are the glossary's, which tests/rules pins by a hand-typed table; what a limit is in
another unit comes from pint, and from the definitions of percent and of the Fahrenheit scale.
"""

from __future__ import annotations

import io
import itertools
import math
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pint
import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.formula.translate import Translator

from engines_needed import need
from package_edits import GetPackage
from tanksheet.errors import SheetError
from tanksheet.recalc import ENGINES, Session
from tanksheet.sheets.book import Book
from tanksheet.sheets.cases import Drawn
from tanksheet.sheets.cells import Entry
from tanksheet.sheets.evaluate import evaluate
from tanksheet.tables import look_up
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.address import Address, Value

HAIR = 1e-9
FAR = 60  # a column that no page uses
REGISTRY: Any = pint.UnitRegistry()
NEVER: tuple[Value, ...] = ("12", "much", "", True, "1:100", SheetError.NA, SheetError.REF)
every_workbook = pytest.mark.parametrize("name", TEMPLATES)


def numbers(plan: Book) -> list[Entry]:
    return [entry for entry in plan.entries.values() if entry.limits]


def units_of(plan: Book, entry: Entry) -> tuple[str, ...]:
    return plan.entries[entry.unit_key].words if entry.unit_key else ("",)


# Grams in a mmol and a meq of an element and in a gram of its oxide, by hand from IUPAC weights.
NUTRIENTS: dict[str, dict[str, float]] = {
    "N": {"mmol/L": 14.007, "meq/L": 14.007},
    "P": {"mmol/L": 30.9738, "meq/L": 30.9738, "ppm P2O5": 61.9476 / 141.943},
    "K": {"mmol/L": 39.0983, "meq/L": 39.0983, "ppm K2O": 78.1966 / 94.196},
    "Ca": {"mmol/L": 40.078, "meq/L": 20.039, "ppm CaO": 40.078 / 56.077},
    "Mg": {"mmol/L": 24.305, "meq/L": 12.1525, "ppm MgO": 24.305 / 40.304},
    "S": {"mmol/L": 32.06, "meq/L": 16.03, "ppm SO3": 32.06 / 80.057},
    "Na": {"mmol/L": 22.9898, "meq/L": 22.9898, "ppm Na2O": 45.9796 / 61.979},
    "Cl": {"mmol/L": 35.45, "meq/L": 35.45},
    "Fe": {"mmol/L": 55.845, "umol/L": 0.055845, "ug/L": 0.001, "ppm Fe2O3": 111.69 / 159.687},
    "Mn": {"mmol/L": 54.938, "umol/L": 0.054938, "ug/L": 0.001, "ppm MnO": 54.938 / 70.937},
    "B": {"mmol/L": 10.81, "umol/L": 0.01081, "ug/L": 0.001, "ppm B2O3": 21.62 / 69.617},
}
# The same of what reports print as another substance.
NUTRIENTS["N"] |= {"mg/L as N": 1, "mg/L as NO3": 14.007 / 62.004, "mg/L as NH4": 14.007 / 18.039}
NUTRIENTS["S"] |= {"mg/L as S": 1, "mg/L as SO4": 32.06 / 96.056}
# mg/L as CaCO3 by definition: a grain (64.79891 mg) in a US gallon or an imperial gallon, 10 mg of
# CaO in a litre, 10 mg of CaCO3; alkalinity in meq/L and as bicarbonate.
AS_LIME = {
    "mg/L as CaCO3": 1,
    "gpg": 64.79891 / 3.785411784,
    "e": 64.79891 / 4.54609,
    "dH": 10 * 100.086 / 56.077,
    "fH": 10,
    "meq/L": 50.043,
    "mmol/L": 50.043,
    "mg/L as HCO3": 50.043 / 61.016,
}


def by_hand(plan: Book, entry: Entry, unit: str) -> float | None:
    """mg/L of an element, or of alkalinity as CaCO3, in one of a unit; None for a plain unit, nan
    for an oxide of another element."""
    if entry.key.endswith("alkalinity") and entry.base_unit == "mg/L":
        return AS_LIME.get(unit)
    nutrient = entry.nutrient
    if nutrient in plan.entries:
        nutrient = str(plan.entries[nutrient].default[0])
    if not nutrient:
        return None
    own = NUTRIENTS[nutrient]
    if unit in AS_LIME and unit not in own:
        return AS_LIME[unit] * own["meq/L"] / 50.043
    oxide = unit.startswith("ppm ") and unit not in own
    return math.nan if oxide else own.get(unit)


def in_unit(plan: Book, base_value: float, entry: Entry, unit: str) -> float:
    """What is typed for a value in the base unit."""
    if (factor := by_hand(plan, entry, unit)) is not None:
        return base_value / factor
    if entry.base_unit == "degC":
        return base_value * 9 / 5 + 32 if unit == "degF" else base_value
    if entry.base_unit == "parts":
        return 100 / base_value if unit == "%" else base_value
    if not unit or entry.ion:
        return base_value / (ion_factor(entry, unit) if entry.ion else 1)
    base, other = (
        REGISTRY.parse_expression(str(look_up("units", "pint", each)))
        for each in (entry.base_unit, unit)
    )
    return float((base_value * base / other).to("").magnitude)


def ion_factor(entry: Entry, unit: str) -> float:
    """By hand, from IUPAC atomic weights in g/mol and the charges of the ions."""
    mass = {"Ca": 40.078, "Mg": 24.305, "K": 39.0983, "Na": 22.9898, "Cl": 35.45, "B": 10.81}
    mass |= {"Fe": 55.845, "Mn": 54.938, "NH4": 18.039, "NO3": 62.004, "SO4": 96.056}
    mass |= {"HCO3": 61.016, "CO3": 60.008}
    charge = {"Ca": 2, "Mg": 2, "SO4": 2, "CO3": 2}.get(entry.ion, 1)
    alone = {"mg/L as N": 14.007, "mg/L as S": 32.06}
    millimoles = {"mmol/L": 1, "umol/L": 0.001, "meq/L": 1 / charge}.get(unit)
    # As CaCO3: see AS_LIME.
    # of CaO in a litre, 10 mg of CaCO3.
    as_lime = {"mg/L as CaCO3": 1, "gpg": 64.79891 / 3.785411784, "e": 64.79891 / 4.54609}
    as_lime |= {"dH": 10 * 100.086 / 56.077, "fH": 10}
    if unit in as_lime:
        millimoles = as_lime[unit] / 50.043 / charge
    if unit == "ug/L":
        millimoles = 0.001 / mass[entry.ion]
    if millimoles is None:
        millimoles = 1 / alone.get(unit, mass[entry.ion])
    to_base = {"mmol/L": 1, "meq/L": charge, "mg/L": mass[entry.ion]}
    return millimoles * to_base[entry.base_unit]


def tried(plan: Book, entry: Entry, unit: str) -> list[tuple[float, bool]]:
    """Numbers to type at, just inside and just outside both limits, and whether they may stand."""
    limits = entry.limits
    assert limits is not None
    # Conversions of pint and of the sheet differ in the last digits, more so after an offset.
    hair = 1e-4 if entry.ion or by_hand(plan, entry, unit) is not None else HAIR
    step = hair * max(1.0, limits.high) if entry.base_unit == "degC" else 0.0
    cases = []
    for limit, inward in ((limits.low, 1), (limits.high, -1)):
        if math.isinf(limit):
            continue
        away = step or hair * abs(limit) or hair
        cases += [(limit + inward * away, True), (limit - inward * away, False)]
        if unit in ("", entry.base_unit, "1:N") and not entry.ion:
            cases.append((limit, not (inward == 1 and limits.above)))
    found = [(in_unit(plan, value, entry, unit), fits) for value, fits in cases]
    return [(value, fits) for value, fits in found if not math.isnan(value)]


class Proof:
    """A built workbook with the formula of each validation in a cell of its own, far to the right:
    for the first and the last cell of each entry."""

    def __init__(self, plan: Book, package: bytes, path: Path) -> None:
        self.plan, self.path = plan, path
        workbook = load_workbook(io.BytesIO(package))
        self.cells: dict[tuple[str, int], Address] = {}
        for at, entry in enumerate(numbers(plan), 1):
            for place in {0, len(entry.cells) - 1}:
                cell = entry.cells[place]
                proof = Address(cell.sheet, at, FAR + bool(place))
                text = self._formula(workbook, entry, cell)
                workbook[cell.sheet].cell(proof.row, proof.column).value = text
                self.cells[entry.key, place] = proof
        workbook.save(path)

    @staticmethod
    def _formula(workbook: Workbook, entry: Entry, cell: Address) -> str:
        rules = workbook[cell.sheet].data_validations.dataValidation
        [rule] = [rule for rule in rules if cell.cell in rule.sqref]
        assert rule.type == "custom"
        assert len(rule.formula1) <= 255  # Excel's limit (Microsoft's page on data validation)
        text = Translator(f"={rule.formula1}", origin=entry.cells[0].cell)
        return str(text.translate_formula(cell.cell))

    def said(
        self, session: Session, typed: Mapping[tuple[str, int], Value], units: Mapping[str, Value]
    ) -> dict[tuple[str, int], Value]:
        """What the validations say when these entries and units are typed all at once."""
        inputs = {self.plan.entries[key].cells[at]: value for (key, at), value in typed.items()}
        inputs |= {self.plan.entries[key].cells[0]: unit for key, unit in units.items()}
        wanted = [self.cells[each] for each in typed]
        values = session.calculate(inputs, wanted)
        return {each: values[self.cells[each]] for each in typed}


def rounds(plan: Book) -> Iterator[tuple[dict[str, Value], dict[str, tuple[float, bool]]]]:
    """Units, and a number to type in each entry with whether it may stand, till all were tried."""
    queues = {
        entry.key: [
            (unit, case) for unit in units_of(plan, entry) for case in tried(plan, entry, unit)
        ]
        for entry in numbers(plan)
    }
    for row in itertools.zip_longest(*queues.values()):
        now = {key: each for key, each in zip(queues, row, strict=True) if each}
        keys = {key: plan.entries[key].unit_key for key in now}
        yield (
            {keys[key]: unit for key, (unit, _) in now.items() if keys[key]},
            {key: case for key, (_, case) in now.items()},
        )


@every_workbook
def test_limits(name: str, package_of: GetPackage, tmp_path: Path) -> None:
    need(ENGINES["ironcalc"])
    plan = book(name)
    proof = Proof(plan, package_of(name), tmp_path / "proof.xlsx")
    tally = {True: 0, False: 0}
    with ENGINES["ironcalc"].open(proof.path) as session:
        for units, now in rounds(plan):
            typed = {each: now[each[0]][0] for each in proof.cells if each[0] in now}
            for (key, at), value in proof.said(session, typed, units).items():
                number, fits = now[key]
                where = plan.entries[key].cells[at].a1
                assert value is fits, f"{where} ({key}): {number!r} {units}: {value}"
                tally[fits] += 1
    assert min(tally.values()) > len(numbers(plan))


@every_workbook
def test_what_is_no_number_may_not_stand(name: str, package_of: GetPackage, tmp_path: Path) -> None:
    need(ENGINES["ironcalc"])
    plan = book(name)
    proof = Proof(plan, package_of(name), tmp_path / "proof.xlsx")
    with ENGINES["ironcalc"].open(proof.path) as session:
        for value in NEVER:
            said = proof.said(session, dict.fromkeys(proof.cells, value), {})
            assert set(said.values()) == {False}, value


@every_workbook
@pytest.mark.parametrize("unit", [None, "", "hogshead", "*", 7.0, True, SheetError.NA])
def test_without_a_unit_no_number_may_stand(
    name: str, unit: Value, package_of: GetPackage, tmp_path: Path
) -> None:
    """And the rule does not let a blank pass where it names a cell that may be blank: Excel then
    takes anything (Microsoft's page on data validation: "Ignore blank")."""
    need(ENGINES["ironcalc"])
    plan = book(name)
    with_unit = [entry for entry in numbers(plan) if entry.unit_key]
    proof = Proof(plan, package_of(name), tmp_path / "proof.xlsx")
    typed: dict[tuple[str, int], Value] = {
        each: plan.entries[each[0]].usual[1] for each in proof.cells
    }
    typed = {each: value for each, value in typed.items() if plan.entries[each[0]].unit_key}
    with ENGINES["ironcalc"].open(proof.path) as session:
        said = proof.said(session, typed, {entry.unit_key: unit for entry in with_unit})
    # An error as the unit may come through: no host takes it for TRUE.
    assert set(said.values()) <= ({unit, False} if isinstance(unit, SheetError) else {False})
    assert bool(said) == bool(with_unit)


@every_workbook
def test_no_blank_passes_beside_a_unit_that_may_be_blank(name: str, package_of: GetPackage) -> None:
    plan, workbook = book(name), load_workbook(io.BytesIO(package_of(name)))
    for entry in numbers(plan):
        if not entry.unit_key:
            continue
        unit = plan.entries[entry.unit_key].cells[0]
        for rule in workbook[unit.sheet].data_validations.dataValidation:
            if entry.cells[0].cell in rule.sqref:
                names_it = unit.cell in rule.formula1.replace("$", "")
                assert not (names_it and rule.allowBlank), entry.key


def is_refusal(value: Value) -> bool:
    """An error, or a verdict that asks for another entry."""
    words = value if isinstance(value, str) else ""
    return isinstance(value, SheetError) or words.startswith(("stop: type ", "stop: mend "))


@every_workbook
def test_the_sheet_refuses_what_its_validations_refuse(name: str) -> None:
    """A value may come by pasting, which no validation sees: the results must not take it."""
    plan = book(name)
    assert not any(map(is_refusal, evaluate(plan, {}).values()))
    for entry in numbers(plan):
        for unit in units_of(plan, entry):
            for number, fits in tried(plan, entry, unit):
                typed: list[Value] = [number, *entry.default[1:]]
                settings: Drawn = {entry.key: number if entry.single else typed}
                if entry.key == "own_density":  # counts for liquids only
                    settings["own_forms"] = ["liquid"] * len(typed)
                now = evaluate(plan, settings | ({entry.unit_key: unit} if unit else {}))
                if entry.single:
                    refused = isinstance(now[plan.key_for(entry.key)], SheetError)
                    assert refused is not fits, (entry.key, number, unit)
                elif not fits:
                    assert any(map(is_refusal, now.values())), (entry.key, number, unit)
