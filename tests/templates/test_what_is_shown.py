"""Label, unit and number format beside each result, and the safety sentences, held by hand.

A figure that is right can still mislead: psi that is labelled bar, an EC shown as "2", acid and
water the wrong way round. Nothing but a second copy sees that, so this is one.
"""

from __future__ import annotations

import io
from pathlib import Path
from typing import NamedTuple

import pytest
from openpyxl import Workbook, load_workbook

from package_edits import GetPackage, GetWorkbook
from tanksheet.sheets.book import Book
from tanksheet.sheets.cells import Formula
from tanksheet.sheets.rows import SAID
from tanksheet.tables import rows
from tanksheet.templates import TEMPLATES, book
from tanksheet.xlsx.address import Address
from tanksheet.xlsx.reading import Package

TABLE = Path(__file__).with_name("what_is_shown.txt")
every_workbook = pytest.mark.parametrize("name", TEMPLATES)


class Shown(NamedTuple):
    """What stands around the first cell of a name."""

    label: str
    unit: str
    format: str


def expected(workbook: str) -> dict[str, Shown]:
    found = {}
    for line in TABLE.read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            of, name, label, unit, pattern = (part.strip() for part in line.split("|"))
            if of == workbook:
                assert name not in found, f"{name} stands twice"
                found[name] = Shown(label, unit, pattern)
    return found


def shown(workbook: Workbook, cell: Address, wanted: Shown) -> Shown:
    sheet = workbook[cell.sheet]
    label = sheet.cell(cell.row, 1).value
    if wanted.label.startswith("^"):
        above = (sheet.cell(row, cell.column) for row in range(cell.row - 1, 0, -1))
        head = next(c.value for c in above if isinstance(c.value, str) and c.data_type == "s")
        label = f"^ {head}"
    beside = sheet.cell(cell.row, cell.column + 1)
    unit = beside.value if wanted.unit and beside.data_type == "s" else ""
    return Shown(str(label), str(unit), sheet.cell(cell.row, cell.column).number_format)


def results(plan: Book) -> set[str]:
    """Results, verdicts, and the columns of tables that show numbers."""
    names = set()
    for spec in (spec for sheet in plan.sheets for spec in sheet.specs):
        formula = spec.content
        if not isinstance(formula, Formula) or formula.name in plan.hidden:
            continue
        is_verdict = spec.cell.sheet.startswith("Behind") and spec.cell.column == SAID
        if is_verdict or spec.style in ("worked out", "worked word"):
            names.add(formula.key.partition("[")[0])
    return names


@every_workbook
def test_labels_units_and_formats(name: str, package_of: GetPackage, workbook: GetWorkbook) -> None:
    opened = load_workbook(io.BytesIO(package_of(name)))
    package = Package(workbook(name))
    cells = package.names | package.hidden_names
    wanted = expected(name)
    got = {key: shown(opened, cells[key][0], each) for key, each in wanted.items()}
    assert got == wanted
    assert results(book(name)) <= set(wanted), "results that the table does not hold"


@every_workbook
def test_a_unit_beside_a_result_fits_its_name(name: str) -> None:
    """The end of a name says the unit too (``flow_in_gpm``), so both must go together."""
    for key, each in expected(name).items():
        stem, joint, unit = key.rpartition("_in_")
        if joint and each.unit:
            assert unit == "".join(c for c in each.unit.replace("%", "pct") if c.isalnum()), stem


BACKFLOW = "inject only behind the backflow preventer that the local code asks for"
# Word for word as people read them. Sources: NC State and UMass Extension on acids, common
# extension advice (from memory) for the rest.
SAFETY: dict[str, tuple[str, ...]] = {
    "zone-flow": (
        "Backflow: an injector on a drinking-water supply needs the backflow preventer that the "
        "local code asks for, installed and tested by a licensed person. Do not inject without it.",
        "Shut the water and let the pressure off before you open any pipe, filter or fitting.",
    ),
    "stock-tank": (
        "Wear goggles and gloves. Fill the tank part-way with water, add the fertilizer slowly "
        "while stirring, then make up to the mark. If acid is used: acid into water, never water "
        "into acid.",
        "Never put chlorine products in a tank with acid or with ammonium or urea: poisonous gas. "
        "Keep calcium products apart from sulfates and phosphates in concentrates: they settle "
        "out.",
        f"On a drinking-water supply, {BACKFLOW}, installed and tested by a licensed person. "
        "Labels and safety data sheets come first.",
    ),
    "ratio-table": (
        "A stock beyond the solubility limit leaves sludge that clogs injector and emitters. The "
        "limit falls in cold water: use the figure for the coldest morning.",
        "Concentrates are corrosive and salty: goggles and gloves. On a drinking-water supply, "
        f"{BACKFLOW}.",
    ),
    "water-report": (
        "These verdicts are about crops and pipes, never about drinking: for that, ask the health "
        f"authority. On a drinking-water supply, {BACKFLOW}, installed and tested by a licensed "
        "person.",
        "Where this report leads you to chlorine or acid: never bring chlorine products together "
        "with acid or with ammonium or urea, which sets poisonous gas free. Labels and safety data "
        "sheets come first.",
    ),
    "acid": (
        "Acid into water, never water into acid: it can boil and spit. Goggles, face shield, "
        "acid-proof gloves and apron; eyewash and clean water within reach; fresh air; a "
        "neutralizer for spills.",
        "Never bring acid together with chlorine products (bleach, pool chlorine), not even in one "
        "tank after the other: poisonous gas. Nitric acid keeps away from anything that burns.",
        "Backflow protection, storage and disposal follow the local code; on a drinking-water "
        "supply a licensed person installs and tests them. Label and safety data sheet come before "
        "this page.",
        "Add the acid in steps and read a meter in water that has just been treated: a sample left "
        "standing loses carbon dioxide and its pH climbs.",
    ),
    "recipe": (
        "Goggles and gloves. Fill each tank half with water, add the products one by one while "
        "stirring, then make up to the mark. Acid into water, never water into acid; face shield, "
        "apron, eyewash.",
        "Never bring chlorine products together with acid, ammonium or urea: poisonous gas. On a "
        f"drinking-water supply, {BACKFLOW}. Labels and safety data sheets come first.",
    ),
    "field-event": (
        f"Backflow: {BACKFLOW}, tested by a licensed person, and with an interlock that stops the "
        "injector when the water stops.",
        "Concentrates burn skin and eyes: goggles, gloves, clean water at hand. Acid into water, "
        "never water into acid. Never chlorine with acid, ammonium or urea: poisonous gas.",
        "Only products whose label allows it go into irrigation water. Keep the tank bunded, away "
        "from wells and ditches. Labels, safety data sheets and local codes come before this page.",
    ),
    "proving": (
        "Backflow: test only behind the backflow preventer that the local code asks for, installed "
        "and tested by a licensed person. Let the pressure off before you open a fitting.",
        "Draw plain water or fertilizer stock for a test, never acid or chlorine from an open "
        "cylinder: goggles and gloves, clean water at hand. Water that lay in the sun may scald.",
    ),
    "season": (
        f"Backflow: {BACKFLOW}, tested by a licensed person, and with an interlock that stops the "
        "injectors when the water stops.",
        "Concentrates burn skin and eyes: goggles, gloves, clean water at hand. Acid into water, "
        "never water into acid. Never chlorine with acid, ammonium or urea: poisonous gas.",
        "Only products whose label allows it go into irrigation water. Rates and timing follow the "
        "local adviser, soil and leaf tests. Labels, safety data sheets and local codes come "
        "first.",
    ),
    "timing": (
        "Backflow: inject only behind the backflow preventer that the local code asks for, "
        "tested by a licensed person, and with an interlock that stops the injector when the "
        "water stops.",
        "Never bring chlorine together with acid, ammonium, urea or other feed, in a tank, a "
        "pump or a line: poisonous gas. Acid into water, never water into acid. Goggles, "
        "gloves, clean water.",
        "Nobody drinks from or washes at these lines. Water that lay in the sun may scald; let "
        "the pressure off before you open an end. Labels, local codes and safety data sheets "
        "come first.",
    ),
    "fault-finder": (
        "Backflow: where water runs back into the tank, stock may run into drinking water. Shut"
        " the supply and the tank valve first; a licensed person tests the preventer, as local "
        "code asks.",
        "Check with plain water and gloves. Never feel for suction, open a fitting or shake a "
        "jar with acid, chlorine or any concentrate in it; goggles, and rinse the unit first.",
        "Water off and pressure let off before you open anything; water that lay in the sun may"
        " scald. Labels, safety data sheets and the unit's own sheet come before this page.",
    ),
    "injector": (
        "Backflow: every injector stands behind the backflow preventer that the local "
        "code asks for, put in and tested by a licensed person; on a bypass too.",
        "Acid, chlorine and solvents ask for seals and a body that the maker names for "
        "them, goggles and gloves at the unit, and never one after another without a "
        "rinse.",
        "No unit above its pressure on the nameplate: a regulator, slow valves. Labels, "
        "nameplates and local codes come before this page.",
    ),
    "series": (
        "Backflow: the whole row of injectors stands behind the backflow preventer that the local "
        "code asks for, put in and tested by a licensed person, with an interlock that stops all "
        "of them when the water stops.",
        "Acid and chlorine never on one line at one time, nor one after the other without a rinse: "
        "poisonous gas. Goggles, gloves and clean water at the row. Acid into water, never water "
        "into acid.",
        "Each injector has its own check valve and can be shut off on both sides. Never open a "
        "unit under pressure. Labels, nameplates, safety data sheets and local codes come before "
        "this page.",
    ),
    "upkeep": (
        "Backflow: upkeep never opens the way from stock to drinking water. Have the preventer "
        "tested as often as the local code says, by a licensed person; until it passes, do not "
        "inject.",
        "Before you open anything: water off, pressure let off, pump locked out, lines flushed "
        "with plain water. Water that lay in the sun may scald. Goggles and gloves; acid lines "
        "above all.",
        "Never let chlorine meet acid, ammonium or urea on parts, in tanks or in rinse water: "
        "poisonous gas. Labels, the maker's manual and local codes come before this page.",
    ),
    "commissioning": (
        "Backflow: without the preventer that the local code asks for, tested by a licensed "
        "person, do not inject at all. An interlock stops the injector when the water stops.",
        "Open valves slowly: trapped air and surges burst pipes. Water that lay in the sun in a"
        " pipe may scald at the test port; let it run off first. Pressure off before a fitting "
        "is opened.",
        "First run with plain water, then stock; acid last, in goggles and gloves. Acid into "
        "water, never water into acid; never chlorine with acid, ammonium or urea: poisonous "
        "gas.",
    ),
}
CARDS = {
    "series": "Line card",
    "timing": "Block card",
    "season": "Week card",
    "field-event": "Event card",
    "stock-tank": "Mixing card",
    "recipe": "Card plan",
}
# As the table of acids words them; the kinds of hazard are common knowledge of the pure acids (from
# memory), the labels of the products come first.
HAZARDS = {
    "nitric acid 60 %": "corrosive acid; oxidizer; toxic fumes",
    "nitric acid 67 %": "corrosive acid; oxidizer; toxic fumes",
    "phosphoric acid 75 %": "corrosive acid",
    "phosphoric acid 85 %": "corrosive acid",
    "sulfuric acid 35 %": "corrosive acid",
    "sulfuric acid 93 %": "strongly corrosive acid; great heat with water",
    "hydrochloric acid 32 %": "corrosive acid; irritating fumes",
    "citric acid 50 %": "weak acid; eye irritant",
}


def texts(workbook: Workbook, title: str) -> list[str]:
    cells = (cell.value for row in workbook[title].iter_rows() for cell in row)
    return [value for value in cells if isinstance(value, str)]


@every_workbook
def test_safety_sentences(name: str, package_of: GetPackage) -> None:
    opened = load_workbook(io.BytesIO(package_of(name)))
    said = texts(opened, opened.sheetnames[0])
    at = said.index("Safety")
    assert tuple(said[at + 1 : at + 1 + len(SAFETY[name])]) == SAFETY[name]
    if name in CARDS:
        # Of the recipe they stand in formulas, in one of several languages.
        card = "\n".join(texts(opened, CARDS[name]))
        assert all(line in card for line in SAFETY[name])


def test_every_workbook_that_speaks_of_acid_says_which_goes_into_which() -> None:
    for name in ("stock-tank", "acid", "recipe", "field-event", "season", "series"):
        assert "acid into water, never water into acid" in " ".join(SAFETY[name]).lower()


def test_hazards_of_the_acids() -> None:
    assert {str(row["acid"]): row["hazard"] for row in rows("acids")} == HAZARDS
