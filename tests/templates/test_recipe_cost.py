"""The recipe's sheet Cost: published prices of nutrients, the co-op's bill for the same amounts,
exact fractions over random recipes, and never a total that leaves a product out."""

from __future__ import annotations

import math
import random
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from package_edits import GetWorkbook
from tanksheet.batch import money
from tanksheet.batch.layout import GRAINS
from tanksheet.batch.masters import Product
from tanksheet.recalc import ENGINES, engine
from tanksheet.sheets.evaluate import chosen_values, entry_cells, evaluate
from tanksheet.sheets.verify import moved_cells
from tanksheet.tables import rows
from tanksheet.templates import book
from tanksheet.templates.recipe.order_working import packs_cost
from tanksheet.xlsx.reading import named_cells

ROWS = 12
TOTALS = ("cost_per_fill", "cost_per_m3", "cost_per_1000_gal", "cost_per_season", "cost_of_packs")
SALTS = [str(r["product"]) for r in rows("fertilizers") if r["density_kgL"] == 0]
LIQUIDS = {str(r["product"]): float(r["density_kgL"]) for r in rows("fertilizers")}
LIQUIDS = {name: heavy for name, heavy in LIQUIDS.items() if heavy > 0}
POUND, GALLON = 0.45359237, 3.785411784  # kg and L, exact by definition (NIST SP 811)
CENT = Fraction(1, 100)


def column(values: list[Any], blank: Any = None) -> list[Any]:
    return [*values, *[blank] * (ROWS - len(values))]


def priced(*lines: tuple[Any, ...], **more: Any) -> dict[str, Any]:
    """Entries: product, kilograms for tank A of 100 L at 1:100, price, pack, unit of the pack."""
    products, amounts, prices, sizes, units = (list(c) for c in zip(*lines, strict=True))
    return {
        "products": column(products),
        "tanks": ["A"] * ROWS,
        "amounts": column(amounts),
        "amount_units": ["kg"] * ROWS,
        "prices": column(prices),
        "pack_sizes": column(sizes),
        "pack_units": column(units, "kg"),
        "tank_a": 100.0,
        "ratio": 100.0,
        # A feed of 10 m3 takes just what one fill of the tank holds.
        "season_volume": 10.0,
    } | more


def own(**columns: Any) -> dict[str, Any]:
    made = {}
    for key, value in columns.items():
        several = value if isinstance(value, list) else [value]
        made[key] = [*several, *book("recipe").entries[key].default[len(several) :]]
    return made


def found(settings: dict[str, Any], *keys: str) -> dict[str, Any]:
    plan = book("recipe")
    wanted = [key for name in keys for key in plan.ranges.get(name, (name,))]
    return chosen_values(plan, settings, wanted)


def cents(money_: Fraction) -> float:
    """Rounded to the hundredth, half up."""
    return math.floor(money_ / CENT + Fraction(1, 2)) / 100


# Price of a pack, what it holds, percent of the nutrient on the label, the nutrient, money a kg as
# printed (a pound is 0.45359237 kg), and how far the print is rounded.
PUBLISHED: list[tuple[float, float, str, dict[str, float], str, float, float]] = [
    # University of Wisconsin Extension (Rankin), "Time for some fertilizer math with the old
    # abacus": urea 46 % at 700 a ton, 0.76 a pound; 28 % solution at 600, 1.07.
    (700, 1, "short ton", {"own_total": 46.0}, "N", 0.76 / POUND, 0.007),
    (600, 1, "short ton", {"own_total": 28.0}, "N", 1.07 / POUND, 0.005),
    # New Mexico State University, Guide A-133: urea at 567, 0.62; 0-46-0 at 996, 1.08 a pound P2O5.
    (567, 2000, "lb", {"own_total": 46.0}, "N", 0.62 / POUND, 0.008),
    (996, 2000, "lb", {"own_p": 46.0}, "P2O5", 1.08 / POUND, 0.005),
    # University of Minnesota, SOIL 2125, chapter 2: 20 lb of 33-0-0 for 7.95, 1.20 a pound of N.
    (7.95, 20, "lb", {"own_total": 33.0}, "N", 1.20 / POUND, 0.005),
    # College of St. Benedict, biology 106, after Hershey 1990, Science Activities 27:17: 0.227 kg
    # of 23 % N for 1.99, 38.10 a kilogram.
    (1.99, 227, "g", {"own_total": 23.0}, "N", 38.10, 0.0005),
]


@pytest.mark.parametrize(("price", "size", "unit", "label", "nutrient", "a_kg", "near"), PUBLISHED)
def test_prices_of_nutrients_as_printed(
    price: float,
    size: float,
    unit: str,
    label: dict[str, float],
    nutrient: str,
    a_kg: float,
    near: float,
) -> None:
    settings = priced(("my bag", 5.0, price, size, unit), compare_by=nutrient)
    values = found(settings | own(own_names="my bag", **label), "nutrient_prices")
    assert values["nutrient_prices[0]"] == pytest.approx(a_kg, rel=near)


@pytest.mark.parametrize(
    ("percent", "ounces"),
    # University of Massachusetts Extension, "Fertilizer Calculations for Greenhouse Crops": 13 1/2
    # ounces of a fertilizer with 20 % N make 100 gallons at 200 ppm, 18 of one with 15 %; exactly
    # 13.35 and 17.80, which they round up.
    [(20.0, 13.5), (15.0, 18.0)],
)
def test_a_feed_of_200_ppm_as_printed(percent: float, ounces: float) -> None:
    """At 1 an ounce, 1000 gallons cost ten times the ounces of 100."""
    kilograms = 200 / (percent * 10) * 10  # g/L of feed, 10 m3 of it from 100 L at 1:100
    settings = priced(("my bag", kilograms, 400.0, 25.0, "lb"))
    values = found(settings | own(own_names="my bag", own_total=percent), *TOTALS, "from_products")
    assert values["from_products[0]"] == pytest.approx(200, rel=1e-9)
    assert values["cost_per_1000_gal"] == pytest.approx(10 * ounces, rel=0.0125)
    exact = 0.2 / (percent / 100) * GALLON * 1000 / (POUND * 1000 / 16)
    assert values["cost_per_1000_gal"] == pytest.approx(exact, abs=0.0051)


def test_the_bill_is_that_of_the_batch() -> None:
    """Packs, what they cost and what is left, for the same kilograms: the co-op's own functions."""
    draw = random.Random(20261126)
    for _ in range(150):
        count = draw.randint(1, ROWS)
        names = draw.sample(SALTS, count)
        kilograms = [round(draw.uniform(0.01, 400), 3) for _ in names]
        sizes = [draw.choice((0.5, 1, 5, 22.68, 25, 1000)) for _ in names]
        prices = [f"{draw.randint(1, 99999)}e-{draw.choice((2, 3))}" for _ in names]
        lines = zip(
            names, kilograms, [float(p) for p in prices], sizes, ["kg"] * count, strict=True
        )
        values = found(priced(*lines), "packs", "pack_costs", "leftovers", "cost_of_packs")
        grains = np.array([round(each * GRAINS) for each in kilograms], np.int64)
        used = money.use(np.arange(count), grains, count)
        made = [Product(None, float(size), {}) for size in sizes]
        bill = money.bill(used, made, [Fraction(price) for price in prices], pool=True)
        assert [values[f"packs[{i}]"] for i in range(count)] == bill.order_packs
        owed = [values[f"pack_costs[{i}]"] for i in range(count)]
        assert owed == [each / 100 for each in bill.order_cents]
        assert values["cost_of_packs"] == bill.total / 100
        for i, count_of in enumerate(bill.order_packs):
            left = count_of * sizes[i] - kilograms[i]
            assert values[f"leftovers[{i}]"] == pytest.approx(left, abs=0.00051)


@pytest.mark.parametrize(
    ("packs", "price", "paid"),
    # By hand: half a hundredth goes up, also where the binary fraction lies below it.
    [(3, 1.335, 4.01), (1, 1.005, 1.01), (1, 2.675, 2.68), (5, 0.001, 0.01), (3, 0.0015, 0.0)],
)
def test_half_a_hundredth_goes_up(packs: int, price: float, paid: float) -> None:
    values = found(priced(("urea", packs * 25.0, price, 25.0, "kg")), "pack_costs", "cost_of_packs")
    assert values["pack_costs[0]"] == values["cost_of_packs"] == paid
    assert money.cents(packs, Fraction(str(price))) == round(paid * 100)


def exact_of(lines: list[tuple[Any, ...]], season: Fraction) -> dict[str, float]:
    """Totals by fractions: kilograms in 10 m3 of feed, price and pack in kilograms."""
    a_fill = sum((Fraction(kg) * price / pack for _, kg, price, pack in lines), Fraction(0))
    packs: Fraction = Fraction(0)
    for name in dict.fromkeys(line[0] for line in lines):
        mine = [line for line in lines if line[0] == name]
        need = sum(Fraction(line[1]) for line in mine) * season / 10
        count = math.ceil(need / mine[0][3] * (1 - Fraction(1, 10**9)))
        packs += Fraction(cents(count * mine[0][2])).limit_denominator(100)
    return {
        "cost_per_fill": cents(a_fill),
        "cost_per_m3": cents(a_fill / 10),
        "cost_per_1000_gal": cents(a_fill / 10 * Fraction("3.785411784")),
        "cost_per_season": cents(a_fill / 10 * season),
        "cost_of_packs": cents(packs),
    }


def test_a_bill_of_a_soft_currency_is_to_the_cent() -> None:
    """Packs at a price with two decimals, up to half a million million, by exact fractions."""
    rng = random.Random(17)
    for _ in range(2000):
        packs, cents = rng.randrange(1, 50), rng.randrange(1, 10 ** rng.randrange(3, 13))
        assert packs_cost(packs, cents / 100) == float(packs * cents * CENT)


def test_totals_are_those_of_fractions() -> None:
    """Random recipes of salts and liquids, products in two rows, some of them with a row of 0."""
    draw = random.Random(7)
    for _ in range(200):
        season, lines, plain, prices = draw.randint(1, 5000), [], [], {}
        for _ in range(draw.randint(1, ROWS)):
            name = draw.choice(SALTS + list(LIQUIDS))
            kg = draw.choice((Fraction(0), Fraction(draw.randint(1, 20000), 1000)))
            size, price = Fraction(draw.randint(1, 300), 10), Fraction(draw.randint(0, 20000), 100)
            poured = name in LIQUIDS and draw.random() < 0.5
            row: tuple[Any, ...] = (None, None, "kg")
            if name not in prices:
                heavy = Fraction(str(LIQUIDS[name])) if poured else Fraction(1)
                prices[name] = (price, size * heavy)
                row = (float(price), float(size), "L" if poured else "kg")
            lines.append((name, float(kg), *row))
            if kg:
                plain.append((name, kg, *prices[name]))
        values = found(priced(*lines, season_volume=float(season)), *TOTALS)
        if not plain:
            assert {values[each] for each in TOTALS} == {"not given"}
            continue
        for key, wanted in exact_of(plain, Fraction(season)).items():
            assert values[key] == pytest.approx(wanted, abs=1e-9), key


def test_editions_count_alike() -> None:
    """The US edition has packs in pounds first, and the same sums for the same entries."""
    settings = priced(("urea", 5.0, 30.0, 50.0, "lb"), ("boric acid", 0.1, 20.0, 5.0, "lb"))
    settings |= {"season_volume_unit": "m3", "tank_a_unit": "L"}
    sums = [
        evaluate(book("recipe", edition), settings | {"currency": word})
        for edition, word in (("metric", "EUR"), ("us", "USD"))
    ]
    for key in TOTALS:
        assert sums[0][key] == sums[1][key] != "not given"
    assert book("recipe", "us").entries["pack_units"].words[0] == "lb"
    assert book("recipe", "us").entries["currency"].default == ("USD",)
    assert str(sums[0]["nutrient_said[0]"]).endswith("EUR a kg of N")
    assert str(sums[1]["nutrient_said[0]"]).endswith("USD a lb of N")
    # 50 lb of the pure salt, 46.646 % N by its formula: 30 / (50 * 0.46646) = 1.2863 a pound.
    assert str(sums[1]["nutrient_said[0]"]).startswith("1.29 ")


# never a total that leaves a product out


UREA = ("urea", 5.0, 30.0, 25.0, "kg")
GAPS: list[tuple[tuple[Any, ...], str]] = [
    (("boric acid", 0.1, None, None, "kg"), "price and pack"),
    (("boric acid", 0.1, None, 5.0, "kg"), "price of this pack"),
    (("boric acid", 0.1, 5.0, None, "kg"), "what a pack holds"),
    (("boric acid", 0.1, -5.0, 5.0, "kg"), "price, 0 or more"),
    (("boric acid", 0.1, "5", 5.0, "kg"), "price, 0 or more"),
    (("boric acid", 0.1, 5.0, 0.0, "kg"), "weight of a pack"),
    (("boric acid", 0.1, 5.0, 5.0, "L"), "weight of a pack"),  # a dry product has no litres
    (("boric acid", 0.1, 5.0, 5.0, None), "weight of a pack"),
    (("boric acid", 0.1, 5.0, 1e12, "kg"), "weight of a pack"),
    (("no such thing", 0.1, 5.0, 5.0, "kg"), "mend it on Recipe"),
    (("boric acid", "much", 5.0, 5.0, "kg"), "mend it on Recipe"),
    (("urea", 0.1, 31.0, 25.0, "kg"), "two prices, above too"),
]


@pytest.mark.parametrize(("line", "words"), GAPS, ids=[f"{g[1]} {i}" for i, g in enumerate(GAPS)])
def test_no_total_leaves_one_out(line: tuple[Any, ...], words: str) -> None:
    values = found(priced(UREA, line), *TOTALS, "cost_check", "prices_said")
    assert {values[each] for each in TOTALS} == {"not given"}
    assert str(values["cost_check"]).startswith("not given: the price of ")
    called = line[0] if line[0] != "no such thing" else "row 2"
    assert str(called) in str(values["cost_check"])
    assert (values["prices_said[0]"], values["prices_said[1]"]) == ("", f"not given: {words}")


def test_several_gaps_are_counted() -> None:
    lines = [(name, 1.0, None, None, "kg") for name in ("urea", "boric acid", "borax")]
    check = str(found(priced(*lines), "cost_check")["cost_check"])
    assert check == "not given: the price of urea and of 2 more; see their rows below"


def test_a_row_that_is_not_used_needs_no_price() -> None:
    unused = ("boric acid", 0.0, None, None, "kg")
    values = found(priced(UREA, unused), *TOTALS, "cost_check")
    assert values["cost_per_fill"] == 6.0  # 5 kg of a 25 kg pack at 30
    assert str(values["cost_check"]).startswith("pass")
    # A bad price there is nobody's total.
    values = found(priced(UREA, ("boric acid", 0.0, "x", 5.0, "kg")), *TOTALS, "cost_check")
    assert (values["cost_per_fill"], values["cost_of_packs"]) == (6.0, 30.0)
    nothing = found(priced(unused), *TOTALS, "cost_check")
    assert {nothing[each] for each in TOTALS} == {"not given"}
    assert nothing["cost_check"] == "not used: no product is in use"


def test_free_is_a_price_and_blank_is_none() -> None:
    free = found(priced(("urea", 5.0, 0.0, 25.0, "kg")), *TOTALS, "cost_check")
    assert str(free["cost_check"]).startswith("pass")
    assert {free[each] for each in TOTALS} == {0}


def test_without_a_season_a_fill_still_has_its_cost() -> None:
    values = found(priced(UREA, season_volume=None), *TOTALS, "packs", "cost_check")
    assert values["cost_per_fill"] == 6.0
    assert (values["cost_per_season"], values["cost_of_packs"]) == ("not given", "not given")
    assert values["packs[0]"] == ""


def test_a_product_in_two_rows_is_priced_once_and_bought_together() -> None:
    """20 kg and 10 kg from packs of 25: two packs, not one and one more for each row."""
    for first, second in ((40.0, None), (None, 40.0), (40.0, 40.0)):
        size = [None if price is None else 25.0 for price in (first, second)]
        lines = (("urea", 20.0, first, size[0], "kg"), ("urea", 10.0, second, size[1], "kg"))
        values = found(priced(*lines), *TOTALS, "packs", "leftovers", "cost_check")
        assert str(values["cost_check"]).startswith("pass")
        assert (values["packs[0]"], values["packs[1]"]) == (2, "")
        assert values["leftovers[0]"] == 20
        assert (values["cost_per_fill"], values["cost_of_packs"]) == (48.0, 80.0)


# products of one's own


OWN = {"own_names": "my bag", "own_total": 20.0}


def test_an_own_product_brings_its_pack_and_price() -> None:
    label = own(**OWN, own_packs=25.0, own_prices=30.0)
    bag = found(priced(("my bag", 5.0, None, None, "kg")) | label, *TOTALS, "nutrient_prices")
    assert (bag["cost_per_fill"], bag["cost_of_packs"]) == (6.0, 30.0)
    assert bag["nutrient_prices[0]"] == pytest.approx(30 / 5, rel=1e-9)  # 5 kg of N in the pack
    pounds = own(**OWN, own_packs=50.0, own_prices=30.0, own_pack_units="lb")
    bag = found(priced(("my bag", 5.0, None, None, "kg")) | pounds, *TOTALS)
    assert bag["cost_per_fill"] == cents(Fraction(5 * 30) / (50 * Fraction("0.45359237")))


@pytest.mark.parametrize(
    ("price", "size", "fill", "words"),
    [
        (45.0, None, 9.0, ""),  # today's price of the same pack
        (45.0, 50.0, 4.5, ""),
        # A pack of another size: nobody said what that one costs.
        (None, 50.0, "not given", "not given: price of this pack"),
    ],
)
def test_what_is_typed_on_cost_comes_first(price: Any, size: Any, fill: Any, words: str) -> None:
    label = own(**OWN, own_packs=25.0, own_prices=30.0)
    values = found(priced(("my bag", 5.0, price, size, "kg")) | label, *TOTALS, "prices_said")
    assert (values["cost_per_fill"], values["prices_said[0]"]) == (fill, words)


@pytest.mark.parametrize(
    "label",
    [
        {"own_packs": 25.0},  # a blank price in a sheet's cell is no 0
        {"own_prices": 30.0},
        {"own_packs": 25.0, "own_prices": "x"},
        {"own_packs": 25.0, "own_prices": -1.0},
        {"own_packs": 25.0, "own_prices": 30.0, "own_pack_units": "L"},  # dry
    ],
    ids=str,
)
def test_an_own_product_without_its_figures_is_not_given(label: dict[str, Any]) -> None:
    settings = priced(UREA, ("my bag", 5.0, None, None, "kg")) | own(**OWN, **label)
    values = found(settings, *TOTALS, "cost_check")
    assert {values[each] for each in TOTALS} == {"not given"}
    assert str(values["cost_check"]).startswith("not given: the price of my bag")


def test_an_own_liquid_is_bought_by_volume() -> None:
    label = own(
        **OWN,
        own_packs=20.0,
        own_prices=60.0,
        own_pack_units="L",
        own_forms="liquid, by weight",
        own_density=1.25,
    )
    values = found(priced(("my bag", 5.0, None, None, "kg")) | label, *TOTALS, "leftovers_said")
    assert values["cost_per_fill"] == 12.0  # 5 kg are 4 L of 20
    assert values["leftovers_said[0]"] == "16 L"


# on the sheets


def test_the_answer_block_tells_what_a_fill_costs() -> None:
    values = evaluate(book("recipe"), {})
    assert values["tile_6"] == f"{values['cost_per_fill']:.2f} EUR"
    assert str(values["cost_check"]).startswith("pass")
    other = evaluate(book("recipe"), {"currency": "kr", "prices": column([1.0])})
    assert (other["tile_6"], other["cost_per_fill"]) == ("", "not given")
    stopped = evaluate(
        book("recipe"), {"amounts": [80.0, *book("recipe").entries["amounts"].default[1:]]}
    )
    assert str(stopped["overall"]).startswith("stop") and stopped["tile_6"] == ""


def test_a_missing_price_is_no_matter_of_mixing() -> None:
    values = evaluate(book("recipe"), {"prices": [None] * ROWS})
    assert str(values["overall"]).startswith("pass")


@pytest.mark.parametrize("name", ENGINES)
def test_in_every_engine(name: str, workbook: GetWorkbook) -> None:
    """By hand: 5 kg of urea at 30 for 25 kg and 0.1 kg of boric acid at 11 for 5 kg are 6.22; 10 m3
    take one pack of each. The harness has the totals that are not given, in every engine."""
    plan, path = book("recipe"), Path(workbook("recipe"))
    moved, names = moved_cells(path, plan), named_cells(path)
    settings = priced(UREA, ("boric acid", 0.1, 11.0, 5.0, "kg"))
    wanted = {"cost_per_fill": 6.22, "cost_per_m3": 0.62, "cost_of_packs": 41.0}
    inputs = {moved[cell]: v for cell, v in entry_cells(plan, settings).items()}
    cells = {key: names[key][0] for key in wanted}
    with engine(name).open(path) as session:
        values = session.calculate(inputs, tuple(cells.values()))
    assert {key: values[cell] for key, cell in cells.items()} == wanted
