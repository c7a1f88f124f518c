"""Water report: the laboratory's sheet as it comes, checked, and what the water means."""

from __future__ import annotations

from tanksheet.calc.water import (
    hardness,
)
from tanksheet.sheets.book import Book
from tanksheet.sheets.inputs import Beside
from tanksheet.sheets.page import Page, add_page
from tanksheet.templates.water_report import working as work
from tanksheet.units import MgPerL, Quantity

# Name, label, ion, default, its unit, usual range in mmol/L. The default is an invented hard well.
CATIONS = (
    ("calcium", "Calcium, Ca", "Ca", 80, "mg/L", (0.05, 8)),
    ("magnesium", "Magnesium, Mg", "Mg", 12, "mg/L", (0.05, 5)),
    ("sodium", "Sodium, Na", "Na", 1.2, "meq/L", (0.05, 20)),
    ("potassium", "Potassium, K", "K", None, "mg/L", (0, 1)),
    ("ammonium", "Ammonium, NH4", "NH4", None, "mg/L as N", (0, 0.5)),
)
ANIONS = (
    ("bicarbonate", "Alkalinity or bicarbonate, HCO3", "HCO3", 250, "mg/L as CaCO3", (0.1, 10)),
    ("sulfate", "Sulfate, SO4", "SO4", 30, "mg/L as SO4", (0.05, 8)),
    ("chloride", "Chloride, Cl", "Cl", 20, "ppm", (0.05, 20)),
    ("nitrate", "Nitrate, NO3", "NO3", 2.5, "mg/L as N", (0, 3)),
)
TRACES = (
    ("boron", "Boron, B", "B", 0.08, "mg/L", (0.005, 3)),
    ("iron", "Iron, Fe", "Fe", 150, "ug/L", (0.005, 5)),
    ("manganese", "Manganese, Mn", "Mn", 0.04, "mg/L", (0.002, 2)),
)
TRACE = Quantity(MgPerL, "an element in the water", 0, 1e5)
SOLIDS = Quantity(MgPerL, "solids in the water", 0, 1e6)
METER = ("at 25 degC", "not corrected")
SAFETY = (
    "These verdicts are about crops and pipes, never about drinking: for that, ask the health "
    "authority. On a drinking-water supply, inject only behind the backflow preventer that the "
    "local code asks for, installed and tested by a licensed person.",
    "Where this report leads you to chlorine or acid: never bring chlorine products together with "
    "acid or with ammonium or urea, which sets poisonous gas free. Labels and safety data sheets "
    "come first.",
)
SOURCES = (
    (
        "Charges that balance within 5 % pass, beyond 10 % the report needs mending.",
        "common practice in water laboratories, no source",
    ),
    (
        "Measured conductivity within 10 % of that of the ions passes, beyond 20 % stops.",
        "common practice, no source",
    ),
    (
        "Limits for crops and soil; pass is no restriction on use, caution slight to moderate, "
        "stop severe. The limits stand on the sheet Tables.",
        "Ayers and Westcot 1985, FAO Irrigation and Drainage Paper 29 rev. 1, table 1, in me/L",
    ),
    (
        "Clogging of drippers: pass is minor, caution moderate, stop severe.",
        "Bucks, Nakayama and Gilbert 1979, Agric. Water Manage. 2:149-162, as in FAO paper 29",
    ),
    (
        "Lime settles from pH 7.5 with 2 meq/L bicarbonate.",
        "University of California Cooperative Extension (Schwankl), slides on drip maintenance",
    ),
    ("Dissolved solids, where not given: 640 mg/L for each mS/cm.", "FAO paper 29; UC ANR"),
)


def make() -> Book:
    book = Book(
        "water-report",
        "Water report",
        "Type a laboratory's water report as it comes: is it sound, and what does the water mean?",
    )
    widths = (35, 11, 15, 11, 8, 11, 8, 38, 9)
    page = add_page(book, "Water report", widths=widths)
    page.heading(
        "Water report",
        f"{book.purpose} Choose on each line the unit that the report "
        "prints; ppm is the same as mg/L. A blank line counts as 0.",
    )
    _ions(page)
    _readings(page)
    _soundness(page)
    _crop(page)
    _drippers(page)
    _nutrients(page)
    page.gap()
    page.safety(SAFETY)
    book.sources += SOURCES
    return book


def _ions(page: Page) -> None:
    page.section("Ions", metric="mmol/L", us="meq/L")
    for name, label, ion, default, unit, usual in (*CATIONS, *ANIONS):
        beside = Beside(f"{name}_meq", work.charges(ion), "meq/L", {"amount": name}, "0.00")
        page.input(
            name, label, name, default, unit, usual=usual, optional=True, ion=ion, beside=beside
        )
    page.gap()


def _readings(page: Page) -> None:
    page.section("Trace elements and readings")
    for name, label, ion, default, unit, usual in TRACES:
        page.input(name, label, TRACE, default, unit, usual=usual, optional=True, ion=ion)
    page.input("suspended", "Suspended solids", SOLIDS, None, "mg/L", usual=(1, 200), optional=True)
    page.input(
        "dissolved", "Dissolved solids", SOLIDS, None, "mg/L", usual=(50, 5000), optional=True
    )
    page.input("water_ph", "pH", "ph_now", 7.8, usual=(5.5, 9))
    page.input(
        "ec_measured",
        "Conductivity (EC)",
        "ec_measured",
        610,
        "uS/cm",
        usual=(0.05, 5),
        optional=True,
    )
    page.choice("meter", "... is it the reading at 25 degC?", METER, "at 25 degC")
    page.input("temperature", "Temperature of the water", "celsius", 59, "degF", usual=(2, 35))
    page.gap()


def _soundness(page: Page) -> None:
    page.section("Is the report sound?", "results")
    page.result("cations", "Sum of cations", work.sum_of_cations, unit="meq/L")
    page.result("anions", "Sum of anions", work.sum_of_anions, unit="meq/L")
    page.result(
        "balance",
        "Charge balance error",
        work.balance_of,
        unit="%",
        may_be_words=True,
        note="above 0: anions are short",
    )
    page.verdict("balance_check", "Do the charges balance?", work.balance)
    page.result(
        "ec_of_ions",
        "Conductivity of these ions",
        work.water_conductivity,
        unit="mS/cm",
        pattern="0.000",
    )
    page.result(
        "ec_at_25",
        "Conductivity measured, at 25 degC",
        work.reading_at_25,
        unit="mS/cm",
        may_be_words=True,
        pattern="0.000",
        celsius="temperature",
    )
    page.verdict("ec_check", "Does the meter agree?", work.conductivity)
    page.gap()


def _crop(page: Page) -> None:
    page.section("For crop and soil", "results")
    page.result("total_hardness", "Hardness as CaCO3", hardness)
    page.result("alkalinity_caco3", "Alkalinity as CaCO3", work.alkalinity_as_caco3, unit="mg/L")
    page.result(
        "sar_value",
        "Sodium adsorption ratio (SAR)",
        work.sar_of,
        may_be_words=True,
        pattern="0.00",
    )
    page.result(
        "ec_used",
        "Conductivity to judge by",
        work.judged_conductivity,
        unit="mS/cm",
        note="measured, or else that of the ions",
    )
    page.verdict("salinity_check", "Salinity", work.salinity)
    page.verdict("infiltration_check", "Infiltration (SAR with EC)", work.infiltration)
    page.verdict("sodium_check", "Sodium (SAR)", work.sodium)
    _judged(page, "chloride_check", "Chloride", "chloride", "chloride_typed", "chloride_meq")
    _judged(page, "boron_check", "Boron", "boron", "boron_typed", "boron")
    _judged(page, "nitrate_check", "Nitrate nitrogen", "nitrate", "nitrate_typed", "nitrate")
    page.verdict("overhead_check", "Sodium, chloride on leaves", work.overhead)
    _judged(
        page,
        "bicarbonate_check",
        "Bicarbonate on leaves",
        "bicarbonate",
        "bicarbonate_typed",
        "bicarbonate_meq",
    )
    page.verdict("ph_check", "pH", work.normal_ph)
    page.gap()


def _judged(page: Page, check: str, label: str, name: str, typed: str, amount: str) -> None:
    """The verdict on one line of the report."""
    page.verdict(check, label, work.judgement(name), typed=typed, amount=amount)


def _drippers(page: Page) -> None:
    page.section("Risk that drippers clog", "results")
    page.result(
        "solids",
        "Dissolved solids",
        work.solids_of,
        unit="mg/L",
        note="640 x EC where none were given",
    )
    page.verdict("clog_ph", "pH", work.clogging_by_ph)
    page.verdict("clog_dissolved", "Dissolved solids", work.clogging_by_dissolved)
    _judged(page, "clog_suspended", "Suspended solids", "suspended", "suspended", "suspended")
    _judged(page, "clog_iron", "Iron", "iron", "iron_typed", "iron")
    _judged(page, "clog_manganese", "Manganese", "manganese", "manganese_typed", "manganese")
    page.verdict("clog_lime", "Lime (pH with bicarbonate)", work.clogging_by_lime)
    page.gap()


def _nutrients(page: Page) -> None:
    page.section("Nutrients that the water brings", "results")
    page.result(
        "brings_n",
        "N, from nitrate and ammonium",
        work.nitrogen_of,
        unit="mg/L",
        note="1 mg/L is 1 g in each m3 of water",
    )
    page.result(
        "brings_k",
        "K",
        work.nutrient("K"),
        unit="mg/L",
        amount="potassium",
        note="1 ppm is 2.72 lb in each acre-foot",
    )
    page.result("brings_ca", "Ca", work.nutrient("Ca"), unit="mg/L", amount="calcium")
    page.result("brings_mg", "Mg", work.nutrient("Mg"), unit="mg/L", amount="magnesium")
    page.result("brings_s", "S, from sulfate", work.nutrient("SO4"), unit="mg/L", amount="sulfate")
