"""The recipe workbook's inputs of what is at hand: the water, tanks and injectors."""

from __future__ import annotations

from tanksheet.calc.ratio import feed_rate, percent_injected, tank_life
from tanksheet.sheets.page import Page
from tanksheet.templates.recipe.feed import WATER
from tanksheet.templates.recipe.placing_working import THREE, TWO
from tanksheet.templates.recipe.wording import LANGUAGES
from tanksheet.templates.recipe.working import TANKS
from tanksheet.units import Percent, Quantity

TOLERANCE = Quantity(Percent, "how far off a target may be", 0, 100, above=True)


def water(page: Page) -> None:
    page.section("Water")
    page.input("water_ph", "pH of the water", "ph_water", 7.4, usual=(6, 8.5))
    page.input(
        "feed_temperature",
        "Temperature of the feed",
        "celsius",
        20,
        "degC",
        usual=(5, 35),
        us=(68, "degF"),
    )
    for name, line in WATER.items():
        page.input(
            f"water_{name}",
            line.label,
            "target",
            line.default,
            "ppm",
            usual=line.usual,
            nutrient=line.nutrient,
            reported=line.reported,
            optional=line.optional,
        )
    page.input(
        "water_alkalinity",
        "Alkalinity, as CaCO3",
        "alkalinity_as_caco3",
        60,
        "ppm",
        usual=(0, 300),
        reported="HCO3",
    )
    page.gap()


def tanks_and_injector(page: Page) -> None:
    page.section("Tanks and injector")
    for letter in TANKS:
        page.input(
            f"tank_{letter.lower()}",
            f"Stock that tank {letter} holds",
            "tank",
            100,
            "L",
            usual=(100, 5000),
            us=(25, "gal"),
        )
    page.input("ratio", "Setting of the injectors", "ratio", 100, "1:N", usual=(50, 300))
    page.ratio_reading("ratio")
    page.input("flow", "Water flow", "flow", 30, "L/min", usual=(1, 3000), us=(8, "gpm"))
    page.input(
        "temperature",
        "Coldest the tanks get",
        "table_celsius",
        10,
        "degC",
        usual=(2, 35),
        us=(50, "degF"),
    )
    _settings(page)
    page.gap()


def _settings(page: Page) -> None:
    for letter in TANKS:
        page.input(
            f"ph_{letter.lower()}",
            f"pH measured in tank {letter}",
            "ph_tank",
            None,
            usual=(3, 7),
            optional=True,
        )
    page.input("tolerance", "Tolerance on each target", TOLERANCE, 10, "%", usual=(2, 25))
    page.result(
        "percent_setting",
        "Setting in percent",
        percent_injected,
        pattern="0.000",
        ratio="ratio_set",
    )
    page.result("stock_per_hour", "Drawn from each tank", feed_rate)
    for letter in TANKS:
        low = letter.lower()
        page.result(f"hours_{low}", f"Tank {letter} lasts", tank_life, tank=f"tank_{low}")
    page.choice("auto_tanks", "Tanks that auto may use", (THREE, TWO), THREE)
    page.choice("card_language", "Language of the cards", LANGUAGES, LANGUAGES[0])
