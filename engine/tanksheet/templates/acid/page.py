"""Acid: how much of which acid brings the water to the pH wanted, and what that brings along."""

from __future__ import annotations

from tanksheet.calc.ratio import feed_rate
from tanksheet.sheets.book import Book
from tanksheet.sheets.choices import shown_unit
from tanksheet.sheets.inputs import Beside
from tanksheet.sheets.measures import tile_in, tile_number
from tanksheet.sheets.page import Page, Tile, add_page
from tanksheet.tables import rows
from tanksheet.templates.acid import working as work
from tanksheet.templates.acid.steps import NUTRIENTS, add_steps
from tanksheet.templates.verdicts import Verdicts, verdicts_of
from tanksheet.units import Hour, Quantity

ACIDS = tuple(str(row["acid"]) for row in rows("acids"))
HOURS = Quantity(Hour, "hours of running in a day", 0, 24)
SAFETY = (
    "Acid into water, never water into acid: it can boil and spit. Goggles, face shield, "
    "acid-proof gloves and apron; eyewash and clean water within reach; fresh air; a neutralizer "
    "for spills.",
    "Never bring acid together with chlorine products (bleach, pool chlorine), not even in one "
    "tank after the other: poisonous gas. Nitric acid keeps away from anything that burns.",
    "Backflow protection, storage and disposal follow the local code; on a drinking-water supply "
    "a licensed person installs and tests them. Label and safety data sheet come before this page.",
    "Add the acid in steps and read a meter in water that has just been treated: a sample left "
    "standing loses carbon dioxide and its pH climbs.",
)
SOURCES = (
    (
        "All protons of phosphoric and citric acid are solved at the pH wanted, as FERT.ACIDDOSE.",
        "titrations in PHREEQC 3.8, phreeqc.dat and minteq.v4.dat",
    ),
    (
        "A pH wanted of 5.5 to 6.5 passes; below 5.0 stops: roots, metal and concrete suffer.",
        "common practice, no source",
    ),
    (
        "0.6 to 2 meq/L of alkalinity left keep the root zone's pH steady; where less than 5 % of "
        "the acid is left in alkalinity, an injector 5 % high leaves none.",
        "common practice, no source",
    ),
    (
        "Above 5 % acid by volume, ask whether the injector's seals stand it.",
        "UMass Extension, Adjusting Alkalinity with Acids",
    ),
    (
        "Heat of mixing: heats of dilution, all the acid at once and no heat lost.",
        "Petrucci et al., General Chemistry 10th ed., problem 7-126; CRC Handbook (Parker 1965)",
    ),
    (
        "A mix above 60 degC stops (polyethylene tanks soften), and so does a stock of more than "
        "half acid.",
        "common practice, no source",
    ),
    (
        "No more than 2.25 US fl oz of phosphoric acid in 100 US gal, because of the phosphorus.",
        "UMass Extension, Adjusting Alkalinity with Acids",
    ),
    (
        "Nitrogen from 5 mg/L, chloride from 4 and 10 meq/L, on sprinkled leaves from 3 meq/L.",
        "Ayers and Westcot 1985, FAO Irrigation and Drainage Paper 29 rev. 1, table 1",
    ),
    (
        "A whole feed holds 31 mg/L P and 64 mg/L S (1 and 2 mmol/L).",
        "Hoagland and Arnon 1950, California Agricultural Experiment Station Circular 347",
    ),
    (
        "Acid into water; protective wear; never with chlorine.",
        "NC State Extension; UMass Extension; common extension advice (from memory)",
    ),
)


STEPS = (
    "Type alkalinity, pH and temperature of the water as the laboratory or your test kit says. The "
    "dose follows from the alkalinity, hardly from the pH of the water.",
    "Choose the acid and the pH wanted, then injector, tank and how long it runs.",
    "Read the verdict at the top. What is wrong says so beside its row, with what to do.",
    "Put on goggles, gloves and apron. Water first, then the acid, slowly, then fill up.",
    "Read the pH at the emitter and correct the setting. Step by step shows other pH values.",
)


def make(edition: str = "metric") -> Book:
    book = Book(
        "acid",
        "Acid",
        "How much acid brings the water to a lower pH, and what it leaves.",
        edition=edition,
        steps=STEPS,
    )
    page = add_page(book, "Acid")
    page.opening("Acid")
    verdicts = verdicts_of(page)
    _water(page)
    _dose(page, verdicts)
    _stock(page, verdicts)
    _left(page, verdicts)
    page.gap()
    page.safety(SAFETY)
    add_steps(book)
    verdicts.close(*_tiles(edition))
    book.sources += SOURCES
    return book


def _tiles(edition: str) -> list[Tile]:
    dose, acid = shown_unit("mL/m3", edition), shown_unit("L", edition)
    return [
        Tile(1, f"Acid, {dose} of water", tile_in("mL/m3", dose), {"number": "dose"}),
        Tile(2, "pH after", tile_number, {"number": "ph_target"}),
        Tile(3, "meq/L left", tile_number, {"number": "alkalinity_left"}),
        Tile(4, "% of stock", tile_number, {"number": "percent_acid"}),
        Tile(6, f"Acid a day, {acid}", tile_in("L", acid), {"number": "acid_per_day"}),
    ]


def _water(page: Page) -> None:
    page.section("Water and acid", "", "", "", "as CaCO3")
    page.input(
        "alkalinity",
        "Alkalinity or bicarbonate",
        "alkalinity",
        250,
        "mg/L as CaCO3",
        usual=(0.5, 8),
        ion="HCO3",
        beside=Beside("alkalinity_caco3", work.carbonate_of, "mg/L CaCO3", {}, "0.0"),
    )
    page.input("ph_now", "pH of the water now", "ph_now", 7.8, usual=(6.5, 9))
    page.input("ph_target", "pH wanted", "ph_target", 5.8, usual=(5.2, 6.8))
    page.input(
        "temperature",
        "Temperature of the water",
        "celsius",
        25,
        "degC",
        usual=(2, 35),
        us=(77, "degF"),
    )
    for name, label, default, ion in (
        ("water_calcium", "Calcium of the water", 80, "Ca"),
        ("water_chloride", "Chloride of the water", 20, "Cl"),
    ):
        quantity = "calcium" if ion == "Ca" else "chloride"
        page.input(name, label, quantity, default, "mg/L", usual=(0.05, 10), optional=True, ion=ion)
    page.choice("acid", "Acid", ACIDS, "sulfuric acid 93 %")
    page.verdict("hazard", "Beware", work.hazard_of)
    page.gap()


def _dose(page: Page, verdicts: Verdicts) -> None:
    page.section("Acid for the water")
    page.result(
        "need",
        "Acid needed",
        work.need_of,
        unit="meq/L",
        celsius="temperature",
        note="strong acid a litre",
    )
    page.result(
        "moles",
        "... of this acid",
        work.moles_of,
        unit="mmol/L",
        celsius="temperature",
        note="all its protons solved",
    )
    page.result("dose", "Acid to add", work.dose_of, unit="mL/m3", note="1 m3 is 1,000 L")
    verdicts.add("target_check", "Is the pH wanted sensible?", work.target_verdict)
    verdicts.add("strong_check", "How exact is the dose?", work.exactness, minor=True)
    page.gap()


def _stock(page: Page, verdicts: Verdicts) -> None:
    page.section("Acid through an injector")
    page.input("ratio", "Injector setting", "ratio", 100, "1:N", usual=(20, 1000))
    page.ratio_reading("ratio")
    page.input("flow", "Water flow", "flow", 45, "L/min", usual=(1, 3000), us=(12, "gpm"))
    page.input("hours", "It runs in a day", HOURS, 4, "h", usual=(0.1, 24))
    page.input("tank", "Stock the tank holds", "tank", 200, "L", usual=(5, 20000), us=(50, "gal"))
    page.result("strength", "Acid in the stock", work.strength_of, unit="mL/L")
    page.result("percent_acid", "That is, by volume", work.percent_of, unit="%", pattern="0.00")
    page.result(
        "mixing_heat",
        "Mixed at once it reaches",
        work.mixing_temperature,
        unit="degC",
        may_be_words=True,
        pattern="0",
        celsius="temperature",
        note="hotter where they meet",
    )
    verdicts.add(
        "seals_check", "Will tank and injector stand it?", work.seals_verdict, celsius="temperature"
    )
    page.result(
        "acid_per_tank",
        "Acid for one tank of stock",
        work.tankful_of,
        unit="L",
        note="water first, then acid",
    )
    # Water over stock is the setting, whatever 1:N means.
    page.result("stock_per_hour", "Stock drawn in an hour", feed_rate, ratio="ratio_set")
    page.result("acid_per_hour", "Acid used in an hour", work.hourly_of, unit="L")
    page.result("acid_per_day", "Acid used in a day", work.daily_of, unit="L")
    verdicts.add("amounts_check", "Does the stock last?", work.amounts_verdict)
    page.gap()


def _left(page: Page, verdicts: Verdicts) -> None:
    page.section("What the treated water holds")
    page.result("alkalinity_left", "Alkalinity left", work.left_of, unit="meq/L")
    page.result(
        "left_caco3", "... as CaCO3", work.carbonate_left, unit="mg/L", left="alkalinity_left"
    )
    verdicts.add("left_check", "Is enough left?", work.left_verdict, left="alkalinity_left")
    for name, element in NUTRIENTS:
        page.result(f"adds_{name}", f"{element} from the acid", work.added(name), unit="mg/L")
    verdicts.add("nitrogen_check", "Nitrogen", work.nitrogen_verdict, brought="adds_n")
    verdicts.add("phosphorus_check", "Phosphorus", work.phosphorus_verdict, brought="adds_p")
    verdicts.add("sulfur_check", "Sulfur", work.sulfur_verdict, brought="adds_s")
    verdicts.add(
        "chloride_check",
        "Chloride",
        work.chloride_verdict,
        brought="adds_cl",
        water="water_chloride",
        water_typed="water_chloride_typed",
    )
    verdicts.add(
        "settling_check",
        "Phosphate with calcium",
        work.settling_verdict,
        brought="adds_p",
        calcium="water_calcium",
        calcium_typed="water_calcium_typed",
    )
