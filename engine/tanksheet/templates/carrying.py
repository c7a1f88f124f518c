"""What our workbooks have for each other: one thing, and the name that it has in each; and the acid
of the acid workbook as a product of the recipe."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tanksheet.recalc import Session
from tanksheet.sheets.carry import Found, Item, Meaning, More
from tanksheet.sheets.contents import Contents, said
from tanksheet.sheets.present import present
from tanksheet.subset import is_number
from tanksheet.tables import is_listed

WATER, STOCK, ACID, RECIPE = "water-report", "stock-tank", "acid", "recipe"
FIELD, SEASON = "field-event", "season"

MEANINGS: tuple[Meaning, ...] = (
    Meaning(
        "flow",
        {
            "zone-flow": "flow",
            STOCK: "flow",
            ACID: "flow",
            RECIPE: "flow",
            SEASON: "flow",
            FIELD: "flow",
        },
        result_unit="L/min",
    ),
    Meaning(
        "calcium",
        {
            WATER: "calcium",
            STOCK: "water_ca",
            ACID: "water_calcium",
            RECIPE: "water_ca",
            SEASON: "water_ca",
            FIELD: "water_ca",
        },
        ion="Ca",
    ),
    Meaning(
        "magnesium",
        {WATER: "magnesium", RECIPE: "water_mg", SEASON: "water_mg", FIELD: "water_mg"},
        ion="Mg",
    ),
    Meaning("sodium", {WATER: "sodium", RECIPE: "water_na", SEASON: "water_na"}, ion="Na"),
    Meaning("potassium", {WATER: "potassium", RECIPE: "water_k", SEASON: "water_k"}, ion="K"),
    Meaning("sulfate", {WATER: "sulfate", RECIPE: "water_s", SEASON: "water_s"}, ion="SO4"),
    Meaning(
        "chloride",
        {WATER: "chloride", ACID: "water_chloride", RECIPE: "water_cl", SEASON: "water_cl"},
        ion="Cl",
    ),
    Meaning("nitrate", {WATER: "nitrate", RECIPE: "water_n", SEASON: "water_n"}, ion="NO3"),
    Meaning("ammonium", {WATER: "ammonium", RECIPE: "water_nh4", SEASON: "water_nh4"}, ion="NH4"),
    Meaning("boron", {WATER: "boron", RECIPE: "water_b", SEASON: "water_b"}, ion="B"),
    Meaning("iron", {WATER: "iron", RECIPE: "water_fe", SEASON: "water_fe"}, ion="Fe"),
    Meaning("manganese", {WATER: "manganese", RECIPE: "water_mn", SEASON: "water_mn"}, ion="Mn"),
    Meaning(
        "alkalinity",
        {
            WATER: "bicarbonate",
            STOCK: "water_alkalinity",
            ACID: "alkalinity",
            RECIPE: "water_alkalinity",
            SEASON: "water_alkalinity",
            FIELD: "water_alkalinity",
        },
        ion="HCO3",
        also={WATER: ("carbonate", "CO3")},
    ),
    Meaning(
        "pH of the water",
        {
            WATER: "water_ph",
            ACID: "ph_now",
            RECIPE: "water_ph",
            SEASON: "water_ph",
            FIELD: "water_ph",
        },
    ),
    Meaning("temperature of the water", {WATER: "temperature", ACID: "temperature"}),
    Meaning(
        "conductivity of the water",
        {WATER: "ec_at_25", RECIPE: "ec_water", STOCK: "ec_water", FIELD: "ec_water"},
        result_unit="mS/cm",
    ),
)

PRODUCT, TANK, AMOUNT, UNIT = "products", "tanks", "amounts", "amount_units"
SETTING = ("ratio", "ratio_reading")


def acid_of(session: Session, settings: Mapping[str, Any]) -> More:
    """Gives the row of the recipe that holds the acid, its amount worked out anew for the
    recipe's tank and setting. ``session`` holds the acid workbook, ``settings`` what was set in it.
    """

    def found(source: Contents, target: Contents) -> Found:
        here, there = source.present.target.book, target.present.target.book
        if not (here and there and here.name == "acid" and there.name == "recipe"):
            return
        acid = str(source.present.value("acid"))
        if not {PRODUCT, TANK, AMOUNT, UNIT, *SETTING} <= target.inputs.keys() | {UNIT}:
            yield f"no place in {target.present.target.path.name} for acid: {acid}"
            return
        row = _row(target)
        if isinstance(row, str):
            yield f"acid is not carried: {row}"
            return
        tank = _tank(target, row)
        stock = f"tank_{tank.lower()}"
        if stock not in target.inputs or any(
            target.present.value(name) in (None, "") for name in (stock, *SETTING)
        ):
            yield f"acid is not carried: it takes the recipe's {stock}, ratio and what 1:N means"
            return
        volume = _volume(session, source, target, settings, stock)
        if not is_number(volume) or volume <= 0:
            yield f"acid is not carried: {acid} for a tank comes to {volume}"
            return
        was = target.present.value(PRODUCT)[row]
        note = f"was {was}" if was not in (None, "", acid) else ""
        yield [
            Item("acid", f"{PRODUCT}[{row + 1}]", acid, note=note),
            Item("acid", f"{TANK}[{row + 1}]", tank),
            Item(
                "acid_per_tank",
                f"{AMOUNT}[{row + 1}]",
                float(f"{volume:.12g}"),
                "L",
                f"for {said(target, stock)} at {said(target, SETTING[0])}",
            ),
        ]

    return found


def _row(target: Contents) -> int | str:
    """The row of the one acid that the recipe has, else the first free one, else why not."""
    products = [str(each or "") for each in target.present.value(PRODUCT)]
    acids = [i for i, each in enumerate(products) if is_listed("acids", each)]
    if len(acids) > 1:
        return f"{target.present.target.path.name} has {len(acids)} acids; choose by hand"
    free = [i for i, each in enumerate(products) if not each]
    rows = acids or free
    return rows[0] if rows else f"no row of products is free in {target.present.target.path.name}"


def _tank(target: Contents, row: int) -> str:
    """The tank of the row, or the last one, which acids have for themselves."""
    book = target.present.target.book
    assert book
    stands = target.present.value(TANK)[row]
    return str(stands) if stands not in (None, "") else book.entries[TANK].words[-1]


def _volume(
    session: Session,
    source: Contents,
    target: Contents,
    settings: Mapping[str, Any],
    stock: str,
) -> Any:
    """Litres of acid for the recipe's tank."""
    anew = {**settings, "tank": said(target, stock)}
    anew |= {name: said(target, name) for name in SETTING}
    return present(session, source.present.target, anew, ["acid_per_tank"]).value("acid_per_tank")
