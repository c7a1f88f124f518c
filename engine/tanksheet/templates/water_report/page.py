"""Water report: the laboratory's sheet as it comes, checked, and what the water means."""

from __future__ import annotations

from tanksheet.sheets.book import Book
from tanksheet.sheets.inputs import Beside
from tanksheet.sheets.measures import tile_number
from tanksheet.sheets.page import Page, Tile, add_page
from tanksheet.templates.verdicts import Verdicts, verdicts_of
from tanksheet.templates.water_report import verdict_working as means
from tanksheet.templates.water_report import working as work
from tanksheet.units import AsCalcite, MgPerL, PerMillilitre, Quantity

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
    ("carbonate", "Carbonate, CO3, if it stands apart", "CO3", None, "mg/L", (0, 1)),
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
HARDNESS = Quantity(AsCalcite, "total hardness", 0, 1e6)
BACTERIA = Quantity(PerMillilitre, "bacteria in the water", 0, 1e9)
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
        "Scale: the calcite index from calcium, alkalinity, pH, temperature and ionic strength; "
        "below 0 none forms, above 0.5 it stops.",
        "saturation of calcite, as FERT.CALCITEINDEX; 0.5 is common practice, no source",
    ),
    (
        "Ionic strength where a main ion is blank: 13 mmol/L for each mS/cm.",
        "Griffin and Jurinak 1973, Soil Science 116:26-30 (from memory)",
    ),
    (
        "Residual sodium carbonate: below 1.25 meq/L safe, above 2.5 not suitable.",
        "USDA Handbook 60 (1954); Wilcox 1955, USDA Circular 969",
    ),
    ("Dissolved solids, where not given: 640 mg/L for each mS/cm.", "FAO paper 29; UC ANR"),
)


STEPS = (
    "Type each line of the report with the unit that the laboratory prints; ppm is the same as "
    "mg/L. Leave a line blank where nothing is given; type 0 where none was found.",
    "Type pH, conductivity and temperature, and what else the report has.",
    "Look first whether the report is sound: charges that balance, a meter that agrees.",
    "Read the verdict at the top. Lines that say nothing have passed.",
    "Carry the water into the workbooks recipe and acid; have it tested again each season.",
)


def make(edition: str = "metric") -> Book:
    book = Book(
        "water-report",
        "Water report",
        "Type a laboratory's water report as it comes: is it sound, and what does the water mean?",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Water report")
    page.opening("Water report")
    verdicts = verdicts_of(page)
    _ions(page)
    _readings(page)
    _soundness(page, verdicts)
    _crop(page, verdicts)
    _drippers(page, verdicts)
    _nutrients(page)
    page.gap()
    page.safety(SAFETY)
    verdicts.close(*TILES)
    book.sources += SOURCES
    return book


TILES = (
    Tile(1, "EC, mS/cm", tile_number, {"number": "ec_used"}),
    Tile(2, "pH", tile_number, {"number": "water_ph"}),
    Tile(3, "SAR", tile_number, {"number": "sar_value"}),
    Tile(4, "Alk., meq/L", tile_number, {"number": "alkalinity_meq"}),
    Tile(6, "charge error, %", tile_number, {"number": "balance"}),
)


def _ions(page: Page) -> None:
    page.section("Ions", "", "", "", "meq/L")
    for name, label, ion, default, unit, usual in (*CATIONS, *ANIONS):
        beside = Beside(f"{name}_meq", work.charges(ion), "meq/L", {"amount": name}, "0.00;-0.00;")
        page.input(
            name, label, name, default, unit, usual=usual, optional=True, ion=ion, beside=beside
        )
    page.input(
        "hardness",
        "Total hardness, if it is printed",
        HARDNESS,
        None,
        "mg/L as CaCO3",
        usual=(5, 1000),
        optional=True,
    )
    page.gap()


def _readings(page: Page) -> None:
    page.section("Trace elements and readings")
    for name, label, ion, default, unit, usual in TRACES:
        page.input(name, label, TRACE, default, unit, usual=usual, optional=True, ion=ion)
    page.input("suspended", "Suspended solids", SOLIDS, 8, "mg/L", usual=(1, 200), optional=True)
    page.input(
        "dissolved", "Dissolved solids", SOLIDS, None, "mg/L", usual=(50, 5000), optional=True
    )
    page.input(
        "sulfide", "Hydrogen sulfide, H2S", TRACE, 0.05, "mg/L", usual=(0.01, 5), optional=True
    )
    page.input("bacteria", "Bacteria (plate count)", BACTERIA, 4000, usual=(10, 1e5), optional=True)
    page.input("water_ph", "pH", "ph_now", 7.3, usual=(5.5, 9), optional=True)
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
    page.input(
        "temperature",
        "Temperature of the water",
        "celsius",
        15,
        "degC",
        usual=(2, 35),
        optional=True,
        us=(59, "degF"),
    )
    page.gap()


def _soundness(page: Page, verdicts: Verdicts) -> None:
    page.section("Is the report sound?")
    page.result("missing", "Main ions not given", work.missing_of, words=True)
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
    verdicts.add("balance_check", "Do the charges balance?", means.balance)
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
    verdicts.add("ec_check", "Does the meter agree?", means.conductivity)
    verdicts.add("hardness_check", "Does the hardness agree?", means.printed_hardness)
    page.gap()


def _crop(page: Page, verdicts: Verdicts) -> None:
    page.section("For crop and soil")
    _figures(page)
    verdicts.add("salinity_check", "Salinity", means.salinity)
    verdicts.add("infiltration_check", "Infiltration (SAR with EC)", means.infiltration)
    verdicts.add("sodium_check", "Sodium (SAR)", means.sodium)
    verdicts.add("residual_check", "Residual alkalinity", means.residual_carbonate)
    _judged(verdicts, "chloride_check", "Chloride", "chloride", "chloride_typed", "chloride_meq")
    _judged(verdicts, "boron_check", "Boron", "boron", "boron_typed", "boron")
    _judged(verdicts, "nitrate_check", "Nitrate nitrogen", "nitrate", "nitrate_typed", "nitrate")
    verdicts.add("overhead_check", "Sodium, chloride on leaves", means.overhead)
    _judged(
        verdicts,
        "bicarbonate_check",
        "Bicarbonate on leaves",
        "bicarbonate",
        "bicarbonate_typed",
        "bicarbonate_meq",
    )
    verdicts.add("ph_check", "pH", means.normal_ph)
    page.gap()


def _figures(page: Page) -> None:
    """What the verdicts on crop and soil are about."""
    page.result("hard_meq", "Calcium with magnesium", work.hard_of, unit="meq/L", may_be_words=True)
    page.result(
        "total_hardness", "... hardness as CaCO3", work.hardness_of, unit="mg/L", may_be_words=True
    )
    page.result(
        "alkalinity_meq",
        "Bicarbonate with carbonate",
        work.alkalinity_of,
        unit="meq/L",
        may_be_words=True,
    )
    page.result(
        "alkalinity_caco3",
        "... alkalinity as CaCO3",
        work.alkalinity_as_caco3,
        unit="mg/L",
        may_be_words=True,
    )
    page.result(
        "sar_value", "Sodium adsorption ratio (SAR)", work.sar_of, pattern="0.00", may_be_words=True
    )
    page.result(
        "residual", "Residual sodium carbonate", work.residual_of, unit="meq/L", may_be_words=True
    )
    page.result(
        "ec_used",
        "Conductivity to judge by",
        work.judged_conductivity,
        unit="mS/cm",
        note="measured, or of the ions",
        may_be_words=True,
    )


def _judged(verdicts: Verdicts, check: str, label: str, name: str, typed: str, amount: str) -> None:
    """The verdict on one line of the report."""
    verdicts.add(check, label, means.judgement(name), typed=typed, amount=amount)


def _drippers(page: Page, verdicts: Verdicts) -> None:
    page.section("Risk that drippers clog")
    page.result(
        "solids",
        "Dissolved solids",
        work.solids_of,
        unit="mg/L",
        may_be_words=True,
        note="640 x EC if not given",
    )
    page.result("strength", "Ionic strength", work.strength_of, unit="mmol/L")
    page.result(
        "calcite",
        "Calcite index",
        work.calcite_of,
        may_be_words=True,
        pattern="0.00",
        celsius="temperature",
        note="above 0: it scales",
    )
    verdicts.add("calcite_check", "Scale of lime", means.calcite, index="calcite")
    # The name that this verdict had before.
    page.book.add_range("clog_lime", ("calcite_check",))
    verdicts.add("clog_dissolved", "Dissolved solids", means.clogging_by_dissolved)
    for name, label in (
        ("suspended", "Suspended solids"),
        ("iron", "Iron"),
        ("manganese", "Manganese"),
        ("sulfide", "Hydrogen sulfide"),
        ("bacteria", "Bacteria"),
    ):
        _judged(verdicts, f"clog_{name}", label, name, f"{name}_typed", name)
    page.gap()


def _nutrients(page: Page) -> None:
    page.section("Nutrients that the water brings")
    page.result(
        "brings_n",
        "N, from nitrate and ammonium",
        work.nitrogen_of,
        unit="mg/L",
        may_be_words=True,
        note="1 mg/L is 1 g in a m3",
    )
    for name, label, ion, amount, note in (
        ("k", "K", "K", "potassium", "1 ppm: 2.72 lb an acre-foot"),
        ("ca", "Ca", "Ca", "calcium", ""),
        ("mg", "Mg", "Mg", "magnesium", ""),
        ("s", "S, from sulfate", "SO4", "sulfate", ""),
    ):
        page.result(
            f"brings_{name}",
            label,
            work.nutrient(ion),
            unit="mg/L",
            may_be_words=True,
            note=note,
            typed=f"{amount}_typed",
            amount=amount,
        )
