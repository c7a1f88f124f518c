"""Feeds from products and targets: units, forms, shares, water, acid and conductivity."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

import tanksheet as ts
from tanksheet.errors import Fault
from tanksheet.recipes import Product, Recipe, Target, least_cost, listed
from tanksheet.recipes.products import IONS
from tanksheet.tables import look_up

NITRATE, KNO3, AMMONIUM = (
    listed("calcium nitrate 15.5-0-0", 12, 25),
    listed("potassium nitrate", 32, 25),
    listed("ammonium nitrate", 14, 25),
)
MKP, EPSOM, ACID = (
    listed("monopotassium phosphate", 45, 25),
    listed("magnesium sulfate heptahydrate", 10, 25),
    listed("nitric acid 60 %", 25, 35),
)
WATER = {"NO3-N": 2.0, "Ca": 20.0, "Mg": 5.0, "S": 5.0, "alkalinity": 2.0}


def test_grams_are_those_of_the_spreadsheet_function() -> None:
    """150 mg/L of N in the feed of 200 L of stock at 1:100 is FERT.STOCKMASS's mass."""
    bag = Product("calcium nitrate", {"N": 15.5}, price=12, pack=25)
    found = least_cost(Recipe((bag,), (Target.exactly("N", 150),), litres=100 * 200))
    mass = ts.stock_mass(150, 15.5, 100, 200)
    assert found.amounts == pytest.approx({"calcium nitrate": mass})
    assert found.cost == pytest.approx(mass / 25_000 * 12)
    assert found.price_of_one_more["N"] == pytest.approx(found.cost / 150)


def test_price_of_a_kilogram_of_nutrient() -> None:
    """What 1 mg/L more costs in 1000 m3 is what FERT.NUTRIENTCOST says of a kilogram."""
    bag = Product("urea", {"N": 46}, price=20, pack=25)
    found = least_cost(Recipe((bag,), (Target("N", at_least=92),), litres=1e6))
    assert found.price_of_one_more["N"] == pytest.approx(ts.nutrient_cost(20, 25, 46))


def test_oxides_of_a_label_count_as_elements() -> None:
    bag = Product("blend 10-52-10", {"P2O5": 52, "K2O": 10}, price=1)
    assert bag.content("P") == pytest.approx(ts.element("P2O5", 52))
    assert bag.content("K") == pytest.approx(ts.element("K2O", 10))
    assert bag.content("Mg") == 0


def test_nitrogen_is_the_sum_of_its_forms_unless_it_is_given() -> None:
    assert NITRATE.content("N") == pytest.approx(15.5)
    given = Product("x", {"N": 20, "NO3-N": 5}, price=1)
    assert (given.content("N"), given.content("NO3-N"), given.content("NH4-N")) == (20, 5, 0)


def test_price_ranges_are_of_a_pack() -> None:
    """Urea at 20 for 25 kg of 46 %: 50 kg of 34 % are worth 40 x 34 / 46, no more."""
    urea, nitrate = Product("urea", {"N": 46}, 20, 25), Product("nitrate", {"N": 34}, 32, 50)
    found = least_cost(Recipe((urea, nitrate), (Target("N", at_least=100),)))
    worth = 40 * 34 / 46
    low, high = found.price_ranges["nitrate"]
    assert low == pytest.approx(worth) and math.isinf(high)
    assert found.reduced_costs["nitrate"] == pytest.approx(32 - worth)
    assert found.price_ranges["urea"][1] == pytest.approx(20 * 32 / worth)


def test_water_counts() -> None:
    recipe = Recipe((NITRATE,), (Target("Ca", at_least=170), Target("N", at_most=200)), WATER)
    found = least_cost(recipe)
    grams = found.amounts[NITRATE.name]
    assert grams * 0.19 == pytest.approx(150)  # 1000 L: a gram is 1 mg/L
    assert found.delivered["Ca"] == pytest.approx(170)
    assert found.delivered["N"] == pytest.approx(2 + 0.155 * grams)


@pytest.mark.parametrize("share", [5.0, 10.0, 25.0])
def test_share_of_a_form(share: float) -> None:
    targets = (Target.exactly("N", 200), Target("NH4-N", at_most=share, of="N"))
    recipe = Recipe((NITRATE, AMMONIUM, KNO3), (*targets, Target("Ca", at_most=190)), WATER)
    found = least_cost(recipe)
    assert found.delivered["NH4-N of N"] == pytest.approx(share)
    assert "NH4-N of N" in found.binding
    looser = replace(recipe, targets=(targets[0], Target("NH4-N", at_most=share + 0.01, of="N"),
                                      recipe.targets[2]))  # fmt: skip
    slope = (least_cost(looser).cost - found.cost) / 0.01
    assert found.price_of_one_more["NH4-N of N"] == pytest.approx(slope, rel=1e-2)
    assert slope < 0


def test_share_between_two_bounds() -> None:
    share = Target("NO3-N", 60, 80, of="N")
    recipe = Recipe((NITRATE, AMMONIUM, KNO3), (Target.exactly("N", 150), share))
    found = least_cost(recipe)
    assert 60 - 1e-9 <= found.delivered["NO3-N of N"] <= 80 + 1e-9
    assert set(found.delivered) == {"N", "NO3-N of N"}
    never = replace(recipe, products=(AMMONIUM,))  # half of it is nitrate
    assert least_cost(never).conflict == ("N", "NO3-N of N")


def test_acid_is_dosed_with_the_nutrients() -> None:
    """1.5 meq/L of acid, whose nitrogen counts: what FERT.ACIDVOLUME pours."""
    recipe = Recipe(
        (NITRATE, ACID),
        (Target.exactly("alkalinity", 0.5), Target.exactly("N", 150)),
        WATER,
        litres=1000,
    )
    found = least_cost(recipe)
    acid = found.amounts[ACID.name]
    density = look_up("fertilizers", "density_kgL", ACID.name)
    assert acid / density == pytest.approx(ts.acid_volume(1.5, "nitric acid 60 %", 1000), rel=2e-3)
    assert acid / 1000 * 133.37 + found.amounts[NITRATE.name] * 0.155 + 2 == pytest.approx(150)


@pytest.mark.parametrize("most", [1.7, 1.9, 2.1])
def test_ceiling_of_conductivity(most: float) -> None:
    """A feed held down by the ceiling reads just that by FERT.EC, the water's ions counted."""
    products = (NITRATE, KNO3, MKP, EPSOM, ACID)
    least = {"N": 100, "K": 100, "Mg": 20, "alkalinity": 0.3}
    wanted = tuple(Target(name, at_least=value) for name, value in least.items())
    filler = Product("paid for", {"S": 0.0}, price=-1.0, alkalinity=0.0, ions={"sulfate": 5.0,
                     "magnesium": 5.0}, at_most=1e6)  # fmt: skip
    recipe = Recipe((*products, filler), (*wanted, Target("EC", at_most=most)), WATER)
    found = least_cost(recipe)
    assert "EC" in found.binding and found.delivered["EC"] == pytest.approx(most)
    assert found.price_of_one_more["EC"] < 0
    mmol = dict.fromkeys(IONS, 0.0)
    for product in recipe.products:
        for ion, each in (product.ions or {}).items():
            mmol[ion] += each * found.amounts[product.name] / 1000
    report = {"nitrate": ("NO3-N", 14.007), "calcium": ("Ca", 40.078), "sulfate": ("S", 32.06)}
    report |= {"magnesium": ("Mg", 24.305), "bicarbonate": ("alkalinity", 1.0)}
    for ion, (name, mass) in report.items():
        mmol[ion] += WATER[name] / mass
    assert ts.conductivity(*mmol.values()) == pytest.approx(most, rel=1e-4)


def test_what_nobody_gave_cannot_be_a_target() -> None:
    bag = Product("own blend", {"N": 20}, price=1)
    for what in ("EC", "alkalinity"):
        with pytest.raises(Fault, match="own blend' must be given"):
            least_cost(Recipe((bag,), (Target(what, at_most=2.0),)))


def test_whole_packs_and_the_scale() -> None:
    """Packs of 25 kg, and a scale of 50 g that weighs from 200 g up."""
    big = Recipe(
        (replace(NITRATE, whole_packs=True), replace(KNO3, step=50, least=200)),
        (Target.within("N", 150, 5), Target.within("K", 120, 5)),
        litres=100_000,
    )
    found = least_cost(big)
    packs = found.amounts[NITRATE.name] / 25_000
    assert packs == pytest.approx(round(packs), abs=1e-9) and packs >= 1
    steps = found.amounts[KNO3.name] / 50
    assert steps == pytest.approx(round(steps), abs=1e-9)
    assert found.cost >= least_cost(replace(big, products=(NITRATE, KNO3))).cost
    little = least_cost(replace(big, litres=100, products=(NITRATE, replace(KNO3, least=200))))
    assert little.status == "infeasible"  # 120 mg/L of K in 100 L are 31 g


def test_limits_of_a_product() -> None:
    recipe = Recipe((replace(NITRATE, at_most=100.0), KNO3), (Target("N", at_least=50),))
    assert least_cost(recipe).amounts[NITRATE.name] == pytest.approx(100)
    forced = replace(recipe, products=(NITRATE, replace(KNO3, at_least=30.0)))
    assert least_cost(forced).amounts[KNO3.name] == pytest.approx(30)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Product("x", {"N": 120}, 1), "N is 120"),
        (lambda: Product("x", {"N": 12}, 1, pack=0), "pack"),
        (lambda: Recipe((NITRATE,), (Target("Xx", 1),)), "'Xx' is none of"),
        (lambda: Recipe((NITRATE,), (), litres=-1), "litres"),
        (lambda: Recipe((NITRATE,), (Target("N", 20, 10),)).blend(), "exclude each other"),
        (lambda: Recipe((NITRATE, NITRATE), ()).blend(), "2 parts are called"),
        (lambda: Recipe((NITRATE,), (Target("N", math.nan),)).blend(), "must be a number"),
        (lambda: listed("moon dust", 1), "moon dust"),
    ],
)
def test_figures_that_make_no_sense(make: object, words: str) -> None:
    with pytest.raises(Fault, match=words):
        make()  # type: ignore[operator]
