"""Acid: how much of which acid brings the water to the pH wanted, and what that brings along."""

from __future__ import annotations

from tanksheet.calc.ratio import feed_rate
from tanksheet.sheets.book import Book
from tanksheet.sheets.inputs import Beside
from tanksheet.sheets.page import Page, add_page
from tanksheet.tables import rows
from tanksheet.templates.acid import working as work
from tanksheet.templates.acid.steps import NUTRIENTS, add_steps
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
        "Phosphoric acid is counted with one proton, citric acid with two. Phosphoric gives some "
        "more near pH 6: in hard water 12 % less does at pH 6.0, and 8 % less at 5.8.",
        "titrations in PHREEQC 3.8, phreeqc.dat; dissociation constants of the acids",
    ),
    (
        "A pH wanted of 5.5 to 6.5 passes; below 5.0 stops: roots, metal and concrete suffer.",
        "common practice, no source",
    ),
    (
        "0.6 to 2 meq/L of alkalinity left keep the root zone's pH steady.",
        "common practice, no source",
    ),
    (
        "Above 5 % acid by volume, ask whether the injector's seals stand it.",
        "UMass Extension, Adjusting Alkalinity with Acids",
    ),
    (
        "No more than 2.25 US fl oz of phosphoric acid in 100 US gal, because of the phosphorus.",
        "UMass Extension, Adjusting Alkalinity with Acids",
    ),
    (
        "Acid into water; protective wear; never with chlorine.",
        "NC State Extension; UMass Extension; common extension advice (from memory)",
    ),
)


def make() -> Book:
    book = Book("acid", "Acid", "How much acid brings the water to a lower pH, and what it leaves.")
    page = add_page(book, "Acid", widths=(35, 11, 15, 11, 8, 11, 13, 34, 9))
    page.heading(
        "Acid",
        f"{book.purpose} Type in the yellow cells. The dose follows from the "
        "alkalinity, hardly from the pH of the water.",
    )
    _water(page)
    _dose(page)
    _stock(page)
    _left(page)
    page.gap()
    page.safety(SAFETY)
    add_steps(book)
    book.sources += SOURCES
    return book


def _water(page: Page) -> None:
    page.section("Water and acid")
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
    page.input("temperature", "Temperature of the water", "celsius", 77, "degF", usual=(2, 35))
    page.choice("acid", "Acid", ACIDS, "sulfuric acid 93 %")
    page.verdict("hazard", "Beware", work.hazard_of)
    page.gap()


def _dose(page: Page) -> None:
    page.section("Acid for the water", "results", metric="1,000 L", us="1,000 US gal")
    page.result(
        "need",
        "Acid needed",
        work.need_of,
        unit="meq/L",
        celsius="temperature",
        note="strong acid in each litre of water",
    )
    page.result("dose", "Acid to add", work.dose_of, unit="mL/m3", note="1 m3 is 1,000 L")
    page.verdict("strong_check", "How exact is the dose?", work.exactness)
    page.verdict("target_check", "Is the pH wanted sensible?", work.target_verdict)
    page.verdict("phosphorus_check", "Too much phosphorus?", work.phosphorus_verdict)
    page.gap()


def _stock(page: Page) -> None:
    page.section("Acid through an injector")
    page.input("ratio", "Injector setting", "ratio", 100, "1:N", usual=(20, 1000))
    page.input("flow", "Water flow through the injector", "flow", 12, "gpm", usual=(1, 3000))
    page.input("hours", "It runs in a day", HOURS, 4, "h", usual=(0.1, 24))
    page.input("tank", "Stock the tank holds", "tank", 50, "gal", usual=(5, 20000))
    page.result("strength", "Acid in the stock", work.strength_of, unit="mL/L")
    page.result("percent_acid", "That is, by volume", work.percent_of, unit="%", pattern="0.00")
    page.verdict("seals_check", "Will the injector stand it?", work.seals_verdict)
    page.result(
        "acid_per_tank",
        "Acid for one tank of stock",
        work.tankful_of,
        unit="L",
        note="water first, then the acid, then fill up",
    )
    page.result("stock_per_hour", "Stock drawn in an hour", feed_rate)
    page.result("acid_per_hour", "Acid used in an hour", work.hourly_of, unit="L")
    page.result("acid_per_day", "Acid used in a day", work.daily_of, unit="L")
    page.gap()


def _left(page: Page) -> None:
    page.section("What the treated water holds", "results")
    page.result("alkalinity_left", "Alkalinity left", work.left_of, unit="meq/L")
    page.result(
        "left_caco3", "... as CaCO3", work.carbonate_left, unit="mg/L", left="alkalinity_left"
    )
    page.verdict("left_check", "Is enough left?", work.left_verdict, left="alkalinity_left")
    for name, element in NUTRIENTS:
        page.result(f"adds_{name}", f"{element} from the acid", work.added(name), unit="mg/L")
