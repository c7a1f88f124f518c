"""What the field event workbook works out, and its verdicts."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.page import Page
from tanksheet.templates.field_event import dose_working as dose
from tanksheet.templates.field_event import line_working as line
from tanksheet.templates.field_event import stock_working as stock
from tanksheet.templates.field_event import time_working as time
from tanksheet.templates.field_event.line import ions
from tanksheet.templates.stock_tank.tank_working import limit_of
from tanksheet.templates.stock_tank.working import density_counted
from tanksheet.templates.verdicts import Verdicts

ELEMENTS = ("n", "p", "k", "ca", "mg", "s")
BROUGHT = {"N": "n", "P2O5": "p", "K2O": "k", "Ca": "ca", "Mg": "mg", "S": "s"}
CONTENTS: dict[str, Any] = {each: f"element_{each}" for each in (*ELEMENTS, "trace")}
DOSES: dict[str, Any] = {
    "by_mass": "product_dose",
    "by_volume": "liquid_dose",
    "plant": "plant_dose",
}
SHARE: dict[str, Any] = {"strength": "in_stock", "limit": "stock_limit"}


def maybe(
    page: Page, name: str, label: str, function: Any, unit: str, pattern: str = "", **uses: Any
) -> None:
    """A result that is blank until all is given that it takes."""
    page.result(name, label, function, unit=unit, may_be_words=True, pattern=pattern, **uses)


def amounts(page: Page, verdicts: Verdicts) -> None:
    page.section("What it takes")
    maybe(page, "content", "Product contains", dose.content_of, "%", **CONTENTS)
    page.working_value("label_together", dose.label_sum, **CONTENTS)
    maybe(page, "density_counted", "... its density if liquid", density_counted, "kg/L")
    page.working_value("doses_given", dose.doses_typed, **DOSES)
    _product(page)
    _nutrients(page)
    verdicts.add(
        "dose_check",
        "Is all there?",
        dose.dose_verdict,
        given="doses_given",
        by_volume="liquid_dose",
        plant="plant_dose",
        together="label_together",
        density_used="density_counted",
        strength="stock_strength",
        stock="stock_volume",
    )
    page.gap()


def _product(page: Page) -> None:
    maybe(
        page,
        "product_mass",
        "Product",
        dose.product_needed,
        "kg",
        given="doses_given",
        density_used="density_counted",
        **DOSES,
    )
    maybe(
        page,
        "product_volume",
        "... its volume if liquid",
        dose.volume_needed,
        "L",
        given="doses_given",
        needed="product_mass",
        density_used="density_counted",
    )
    maybe(
        page,
        "stock_volume",
        "To inject, water added",
        dose.stock_volume,
        "L",
        needed="product_mass",
        volume="product_volume",
        density_used="density_counted",
        strength="stock_strength",
    )
    maybe(
        page, "stock_per_area", "... on the area", dose.stock_per_area, "L/ha", stock="stock_volume"
    )


def _nutrients(page: Page) -> None:
    needed: dict[str, Any] = {"needed": "product_mass"}
    maybe(page, "nutrient_mass", "Nutrient given", dose.nutrient_given, "kg", **needed)
    maybe(
        page,
        "nutrient_dose",
        "... on the area",
        dose.nutrient_per_area,
        "kg/ha",
        nutrient_kg="nutrient_mass",
    )
    for name, element in BROUGHT.items():
        maybe(
            page,
            f"brings_{name.lower()}",
            f"It brings {name}",
            dose.brings(name),
            "kg",
            percent=f"element_{element}",
            **needed,
        )


def running(page: Page, verdicts: Verdicts) -> None:
    page.section("While it runs")
    page.result("window", "Between filling and flushing", time.window_of, unit="h", pattern="0.00")
    maybe(page, "inject_hours", "Inject for", time.injecting, "h", "0.00")
    page.working_value("inject_words", time.inject_said)
    maybe(page, "clean_hours", "Plain water after it", time.clean_after, "h", "0.00")
    maybe(page, "injection_rate", "Rate of injection", time.rate_of, "L/h", stock="stock_volume")
    maybe(
        page, "injection_ratio", "That is 1 :", time.ratio_of, "parts", "0.0", rate="injection_rate"
    )
    _in_the_line(page)
    _fills(page)
    _can_it(verdicts)


def _in_the_line(page: Page) -> None:
    mixed: dict[str, Any] = {
        "needed": "product_mass",
        "ratio": "injection_ratio",
        "stock": "stock_volume",
    }
    maybe(page, "nutrient_ppm", "Nutrient in the line", time.concentration, "mg/L", **mixed)
    maybe(page, "in_feed", "Product in the line", time.product_in_feed, "g/L", "0.00", **mixed)
    maybe(page, "water_depth", "Water on the area", time.water_depth, "mm")


def _fills(page: Page) -> None:
    maybe(page, "tank_fills", "Fills of the tank", time.fills_of, "", "0", stock="stock_volume")
    fills: dict[str, Any] = {"fills": "tank_fills"}
    maybe(page, "fill_volume", "... each of", time.each_fill, "L", amount="stock_volume", **fills)
    maybe(
        page, "fill_mass", "... with product", time.each_fill, "kg", amount="product_mass", **fills
    )
    page.working_value("fill_liquid", time.each_fill, amount="product_volume", **fills)


def _can_it(verdicts: Verdicts) -> None:
    page = verdicts.page
    verdicts.add("time_check", "Does the clock allow it?", time.time_verdict, tall=38)
    capacity = time.pump_verdict(page.book.edition)
    verdicts.add(
        "pump_check",
        "Can the injector?",
        capacity,
        tall=38,
        rate="injection_rate",
        density_used="density_counted",
        stock="stock_volume",
    )
    verdicts.add(
        "tank_check",
        "Does the tank hold it?",
        time.tank_verdict(page.book.edition),
        stock="stock_volume",
        fills="tank_fills",
    )
    page.gap()


def stays_clear(page: Page, verdicts: Verdicts) -> None:
    page.section("Does it dissolve and stay clear?")
    _stock(page)
    ions(page.book)
    _conductivity(page)
    verdicts.add(
        "dissolves_check",
        "Does it dissolve?",
        stock.dissolves_verdict(page.book.edition),
        density_used="density_counted",
        share="stock_share",
        least="least_litres",
        **SHARE,
    )
    verdicts.add(
        "strength_check", "Is it too strong?", line.strength_verdict, ratio="injection_ratio"
    )
    verdicts.add("ec_check", "Is the EC too high?", line.ec_verdict)
    _settles(verdicts)


def _settles(verdicts: Verdicts) -> None:
    verdicts.add(
        "stock_check",
        "Does the stock stay clear?",
        stock.stock_verdict,
        density_used="density_counted",
        strength="in_stock",
        settler="line_settler",
        known="line_known",
        lime="tank_calcite",
        phosphate="tank_dicalcium",
        gypsum="tank_gypsum",
    )
    verdicts.add(
        "clear_check",
        "Does the line stay clear?",
        line.clear_verdict,
        tall=38,
        settler="line_settler",
        known="line_known",
        said="line_clear",
    )
    verdicts.add(
        "acid_check",
        "Is the line too sour?",
        line.acid_verdict,
        tall=38,
        hydrogen="line_brought_hydrogen",
        known="line_known",
        said="line_acid",
    )


def _stock(page: Page) -> None:
    maybe(
        page,
        "in_stock",
        "Product in the stock",
        stock.stock_strength,
        "g/L",
        needed="product_mass",
        stock="stock_volume",
    )
    page.working_value("limit_listed", limit_of, own="saturated", density_used="density_counted")
    maybe(
        page,
        "stock_limit",
        "A cold stock holds",
        stock.limit_if_dry,
        "g/L",
        limit="limit_listed",
        density_used="density_counted",
    )
    maybe(page, "stock_share", "... used of it", stock.share_of, "%", **SHARE)
    maybe(
        page,
        "least_stock",
        "Least stock for it",
        stock.least_stock,
        "L",
        needed="product_mass",
        limit="stock_limit",
    )
    page.working_value("least_litres", stock.litres_or_none, least="least_stock")


def _conductivity(page: Page) -> None:
    maybe(
        page,
        "ec_added",
        "The product adds",
        line.added_conductivity,
        "mS/cm",
        line="line_of_both",
        water="line_of_water",
    )
    maybe(page, "ec_line", "EC while injecting", line.line_conductivity, "mS/cm")
