"""The recipe's sheet My products: labels as printed, beside ours in the list, and never a pass that
rests on what a label does not tell."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tanksheet.errors import WorkbookProblem
from tanksheet.recalc import ENGINES, engine
from tanksheet.sheets.evaluate import chosen_values, entry_cells, evaluate
from tanksheet.sheets.run import run
from tanksheet.sheets.verify import moved_cells
from tanksheet.tables import is_listed, rows
from tanksheet.templates import book
from tanksheet.templates.recipe.feed import TARGETS
from tanksheet.templates.recipe.own_products import OWN, WEIGHED
from typed_recipe import typed_recipe

NAME = "blend 20-10-20"
# IUPAC atomic weights: element in its oxide, by hand.
P_OF_P2O5, K_OF_K2O = 61.9476 / 141.943, 78.1966 / 94.196
CA_OF_CAO, MG_OF_MGO, S_OF_SO3 = 40.078 / 56.077, 24.305 / 40.304, 32.06 / 80.057
SI_OF_SIO2 = 28.085 / 60.083
N_FORMS = {"own_nitrate": 6.0, "own_ammonium": 2.0, "own_urea": 12.0}


def own(**columns: Any) -> dict[str, Any]:
    """Entries of the sheet, the first rows as told, the rest as it comes."""
    plan = book("recipe")
    made = {}
    for key, values in columns.items():
        several = values if isinstance(values, list) else [values]
        made[key] = [*several, *plan.entries[key].default[len(several) :]]
    return made


def recipe(*lines: tuple[str, str, float, str], **columns: Any) -> dict[str, Any]:
    """A recipe of these products with pure water, and own products beside it."""
    filled = [*lines, *[(None, "A", None, "g")] * (12 - len(lines))]
    products, tanks, amounts, units = (list(column) for column in zip(*filled, strict=True))
    typed = {"products": products, "tanks": tanks, "amounts": amounts, "amount_units": units}
    keys = [key for key in book("recipe").entries if key.startswith("water_")]
    water = {key: 0.0 for key in keys if not key.endswith("_unit")} | {"water_ph": 7.0}
    return typed | water | own(**columns)


def arrives(settings: dict[str, Any]) -> dict[str, Any]:
    values = evaluate(book("recipe"), settings)
    return {name: values[f"together[{i}]"] for i, name in enumerate(TARGETS)}


def test_our_own_list_has_a_row_of_saturation_for_each_product() -> None:
    """By that table the sheet tells our names from a person's, which it never holds."""
    names = [row["product"] for row in rows("fertilizers")]
    assert [row["product"] for row in rows("saturation")] == names


# Cornell, "Fertilizer calculations and practice questions" (N. Mattson): 150 ppm N from a 20 %
# fertilizer at 1:200 takes 20.25 oz in a gallon of stock by the label's chart, which is rounded;
# exactly 20.029 oz (150.0 g/L), here for 100 L of stock.
def test_a_label_chart_of_a_20_percent_blend() -> None:
    line = (NAME, "A", 15.0, "kg")
    settings = recipe(line, own_names=NAME, own_total=20.0, own_p=10.0, own_k=20.0)
    found = arrives(settings | {"ratio": 200.0})
    assert found["N"] == pytest.approx(150, rel=1e-9)
    assert found["N"] * 20.25 / 20.029 == pytest.approx(150, rel=0.012)
    # Oxides by hand: 75 ppm of P2O5 and 150 of K2O.
    assert found["P"] == pytest.approx(75 * P_OF_P2O5, rel=1e-4)
    assert found["K"] == pytest.approx(150 * K_OF_K2O, rel=1e-4)


@pytest.mark.parametrize(
    ("column", "choice", "word", "element", "share"),
    [
        ("own_p", "own_pk_as", "P2O5 K2O", "P", P_OF_P2O5),
        ("own_p", "own_pk_as", "P K", "P", 1),
        ("own_k", "own_pk_as", "P2O5 K2O", "K", K_OF_K2O),
        ("own_k", "own_pk_as", "P K", "K", 1),
        ("own_ca", "own_camg_as", "CaO MgO", "Ca", CA_OF_CAO),
        ("own_ca", "own_camg_as", "Ca Mg", "Ca", 1),
        ("own_mg", "own_camg_as", "CaO MgO", "Mg", MG_OF_MGO),
        ("own_mg", "own_camg_as", "Ca Mg", "Mg", 1),
        ("own_s", "own_s_as", "SO3", "S", S_OF_SO3),
        ("own_s", "own_s_as", "S", "S", 1),
        ("own_si", "own_si_as", "SiO2", "Si", SI_OF_SIO2),
        ("own_si", "own_si_as", "Si", "Si", 1),
        *((f"own_{each.lower()}", "", "", each, 1) for each in "Fe Mn Zn Cu B Mo Na Cl".split()),
    ],
)
def test_what_a_label_prints(
    column: str, choice: str, word: str, element: str, share: float
) -> None:
    """10 kg in 100 L at 1:100 is 1 g/L of feed, so 1 % is 10 mg/L."""
    printed = {choice: word} if choice else {}
    found = arrives(recipe((NAME, "A", 10.0, "kg"), own_names=NAME, **{column: 5.0}, **printed))
    assert found.pop(element) == pytest.approx(50 * share, rel=1e-4)
    assert set(found.values()) == {0}


@pytest.mark.parametrize(
    ("form", "density", "unit", "percent"),
    [
        ("liquid, by weight", 1.2, "kg/L", 8.0),
        ("liquid, by volume", 1.2, "kg/L", 8.0 / 1.2),  # g in 100 mL over kg/L
        # Purdue, UAN at 10.6 lb/gal: 0.45359237 kg over 3.785411784 L.
        ("liquid, by weight", 10.6, "lb/gal", 8.0),
        ("liquid, by volume", 10.6, "lb/gal", 8.0 / (10.6 * 0.45359237 / 3.785411784)),
    ],
)
def test_liquids_are_poured(form: str, density: float, unit: str, percent: float) -> None:
    heavy = density if unit == "kg/L" else density * 0.45359237 / 3.785411784
    settings = recipe(
        ("my liquid", "A", 2.0, "L"),
        own_names="my liquid",
        own_total=8.0,
        own_forms=form,
        own_density=density,
        own_density_units=unit,
    )
    values = evaluate(book("recipe"), settings)
    assert values["used_amounts[0]"] == pytest.approx(2000 * heavy, rel=1e-9)
    mg_per_l = 2000 * heavy * percent / 100 * 1000 / (100 * 100)
    assert values["together[0]"] == pytest.approx(mg_per_l, rel=1e-6)
    assert values["weights[0]"] == "2 L"
    blank = {"targets": [None] * len(TARGETS), "target_alkalinity": None}
    values = evaluate(book("recipe"), settings | blank)
    assert (values["lines_a[1]"], values["doses_a[1]"]) == ("my liquid", "2 L")


def test_a_dry_own_product_is_weighed() -> None:
    values = evaluate(book("recipe"), recipe((NAME, "A", 2.0, "L"), own_names=NAME, own_total=20.0))
    assert str(values["used_amounts[0]"]) == "#NUM!"
    assert str(values["dissolved[0]"]).startswith("stop: mend the tank, amount or unit")


# what a label does not tell


UNKNOWN: list[dict[str, Any]] = [
    {"own_total": 20.0},
    dict(N_FORMS),
    # The label of potassium nitrate, the formula's: even where the ions balance, acid may hide.
    {"own_nitrate": 13.7, "own_k": 46.5},
    {"own_ca": 10.0, "own_cl": 17.7},
    {"own_fe": 6.0, "own_metals": "chelated"},
    {"own_fe": 6.0, "own_metals": "salts"},
    {"own_fe": 6.0},
    {"own_b": 17.0},
]


@pytest.mark.parametrize("label", UNKNOWN, ids=str)
@pytest.mark.parametrize("amount", [0.001, 3.0])
@pytest.mark.parametrize("ph", [None, 5.5])
def test_nothing_passes_that_rests_on_a_label(
    label: dict[str, Any], amount: float, ph: float | None
) -> None:
    """A tank and a feed with an own product are never "pass", however little of it, and also
    where the pH of the tank was measured."""
    settings = recipe((NAME, "A", amount, "kg"), own_names=NAME, **label)
    settings |= {"ph_a": ph, "water_alkalinity": 60.0}
    values = evaluate(book("recipe"), settings)
    assert values["own_faults[0]"] == ""
    for verdict in ("clear_a", "feed_acidity", "feed_clear"):
        assert not str(values[verdict]).startswith(("pass", "not used")), verdict
        assert NAME in str(values[verdict]) or "more on sheet" in str(values[verdict])
    assert not str(values["overall"]).startswith("pass")
    words = "typed" if ph else "a guess, since nobody gave the acidity of a product; measure"
    assert str(values["ph_said_a"]).endswith(words)


def test_the_rest_of_a_recipe_is_judged_as_before() -> None:
    """An own product that is on the sheet and not in the recipe changes nothing."""
    plan = book("recipe")
    before = evaluate(plan, {})
    after = evaluate(plan, own(own_names=NAME, **N_FORMS))
    assert str(before["overall"]).startswith("pass")
    changed = {key for key in before if before[key] != after[key]}
    assert changed and all(key.startswith(("own_", "mine_")) for key in changed)


def test_a_label_still_clashes_by_what_it_tells() -> None:
    """Nitrate, ammonium, calcium and the like are ions by the label's own words: gypsum from an own
    sulfate beside calcium nitrate is a stop as that from ours is."""
    nitrate = ("calcium nitrate 15.5-0-0", "A", 8.0, "kg")
    ours = evaluate(
        book("recipe"), recipe(nitrate, ("magnesium sulfate heptahydrate", "A", 4.0, "kg"))
    )
    own_one = evaluate(
        book("recipe"),
        recipe(
            nitrate,
            ("my bitter salt", "A", 4.0, "kg"),
            own_names="my bitter salt",
            own_mg=9.861,
            own_s=13.008,
        ),
    )
    assert str(ours["clear_a"]).startswith("stop: calcium of calcium nitrate")
    same = str(ours["clear_a"]).replace("magnesium sulfate heptahydrate", "my bitter salt")
    assert str(own_one["clear_a"]).startswith(same.partition(";")[0])


def test_metals_clash_only_where_the_label_says_what_they_are() -> None:
    def free(**label: Any) -> Any:
        line = ("my iron", "A", 1.0, "kg")
        values = evaluate(book("recipe"), recipe(line, own_names="my iron", own_fe=6.0, **label))
        return tuple(round(float(str(values[f"sum_{x}_a"])), 3) for x in ("metal", "complex"))

    # 60 g of iron in 100 L: 0.6 g/L over 55.845 g/mol.
    assert free() == (0, 0)
    assert free(own_metals="salts") == (10.744, 0)
    assert free(own_metals="chelated") == (0, 10.744)


# what cannot be right


FAULTS: list[tuple[dict[str, Any], str]] = [
    ({"own_names": "Urea", "own_total": 46.0}, "in the list already"),
    ({"own_names": ["x", "X"], "own_total": [1.0, 1.0]}, "stands twice"),
    ({"own_names": "x*", "own_total": 1.0}, "without * ? and ~"),
    ({"own_names": 20.0, "own_total": 1.0}, "without * ? and ~"),
    ({"own_total": 1.0}, "give it a name"),
    ({"own_fe": "much"}, "give it a name"),
    ({"own_names": "x"}, "type what its label says"),
    ({"own_names": "x", "own_total": "20"}, "percents from 0 to 100"),
    ({"own_names": "x", "own_k": 101.0}, "percents from 0 to 100"),
    ({"own_names": "x", "own_k": -1.0}, "percents from 0 to 100"),
    ({"own_names": "x", "own_k": 10.0, "own_pk_as": None}, "percents from 0 to 100"),
    # 20 % N as nitrate is 89 % of NO3, 20 % P is 51 % of PO3.
    ({"own_names": "x", "own_nitrate": 20.0, "own_p": 20.0, "own_pk_as": "P K"}, "weigh 140 %"),
    ({"own_names": "x", "own_k": 60.0, "own_cl": 60.0, "own_pk_as": "P K"}, "weigh 120 %"),
    ({"own_names": "x", "own_total": 20.0, "own_nitrate": 12.0}, "make 12 % N, the total is 20 %"),
    ({"own_names": "x", "own_total": 20.0, "own_urea": 20.4}, "make 20.4 % N, the total is 20 %"),
    ({"own_names": "x", "own_total": 2.0, "own_forms": "liquid, by weight"}, "density"),
    (
        {
            "own_names": "x",
            "own_total": 2.0,
            "own_forms": "liquid, by volume",
            "own_density": 12.0,
        },
        "needs its density; type it, 0.5 to 3 kg/L",
    ),
    ({"own_names": "x", "own_total": 2.0, "own_forms": "powder"}, "dry or liquid?"),
]


@pytest.mark.parametrize(("label", "words"), FAULTS, ids=[words for _, words in FAULTS])
def test_what_cannot_be_right_says_so_and_stays_out_of_the_list(
    label: dict[str, Any], words: str
) -> None:
    settings = recipe(("x", "A", 1.0, "kg"), **label)
    values = evaluate(book("recipe"), settings)
    assert str(values["own_faults[0]"]).startswith("stop: ")
    assert words in str(values["own_faults[0]"])
    assert values["mine_product[0]"] == ""
    assert str(values["dissolved[0]"]).startswith("stop: ")
    assert str(values["clear_a"]).startswith("stop: ")


@pytest.mark.parametrize(
    "label",
    [
        # Labels of the trade (from memory) that look like more than 100 % and are none: chloride
        # of potash prints 62 % K2O and 47 % Cl, potassium nitrate 46.5 % K2O beside 13.7 % N,
        # urea 46 %, ammonium nitrate 34.5 %, sulfate of potash 52 % K2O and 45 % SO3.
        {"own_k": 62.0, "own_cl": 47.6},
        {"own_total": 13.7, "own_nitrate": 13.7, "own_k": 46.5},
        {"own_total": 46.0, "own_urea": 46.0},
        {"own_total": 34.5, "own_nitrate": 17.3, "own_ammonium": 17.2},
        {"own_k": 52.0, "own_s": 45.0, "own_s_as": "SO3"},
        {"own_p": 61.0, "own_total": 12.0, "own_ammonium": 12.0},
        # Its forms rounded to a tenth each: 8.1 and 11.8 beside 20.
        {"own_total": 20.0, "own_nitrate": 11.8, "own_ammonium": 8.1, "own_p": 10.0, "own_k": 20.0},
    ],
    ids=str,
)
def test_labels_of_the_trade_are_fit_for_the_list(label: dict[str, Any]) -> None:
    values = evaluate(book("recipe"), own(own_names=NAME, **label))
    assert (values["own_faults[0]"], values["mine_product[0]"]) == ("", NAME)


def test_what_the_parts_weigh_together() -> None:
    """By hand from IUPAC weights, 1 % of each element at a time."""
    least = {"n_nitrate": 62.004 / 14.007, "n_ammonium": 18.039 / 14.007, "n_other": 1}
    least |= {"n_urea": 60.056 / 28.014, "p": 78.971 / 30.974, "si": 60.083 / 28.085}
    column = {"n_nitrate": "nitrate", "n_ammonium": "ammonium", "n_urea": "urea"}
    column["n_other"] = "total"
    for each in WEIGHED:
        label = {f"own_{column.get(each, each)}": 1.0}
        label |= {"own_pk_as": "P K", "own_si_as": "Si"}  # type: ignore[dict-item]
        values = evaluate(book("recipe"), own(own_names="x", **label))
        assert values["own_weights[0]"] == pytest.approx(least.get(each, 1), rel=2e-4), each


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("calcium nitrat", "stop: 'calcium nitrat' is not in the list; see My products"),
        ("bend 20-10-20", "stop: 'bend 20-10-20' is not in the list"),
        (12.0, "stop: choose a product from the list"),
        (True, "stop: choose a product from the list"),
        ("*", "stop: choose a product from the list"),
    ],
)
def test_a_misspelt_name_says_so(typed: Any, words: str) -> None:
    values = evaluate(
        book("recipe"), recipe((typed, "A", 1.0, "kg"), own_names=NAME, own_total=20.0)
    )
    assert str(values["dissolved[0]"]).startswith(words)
    assert str(values["clear_a"]).startswith("stop")


def test_a_name_that_waits_for_mending_is_called_so() -> None:
    values = evaluate(book("recipe"), recipe((NAME, "A", 1.0, "kg"), own_names=NAME))
    assert values["dissolved[0]"] == f"stop: mend '{NAME}' on My products"


# other ways in


def test_chosen_values_are_those_of_all() -> None:
    """Also where only a part of the book is worked out."""
    settings = recipe((NAME, "A", 3.0, "kg"), own_names=[None, NAME], own_total=[None, 20.0])
    plan = book("recipe")
    keys = ["clear_a", "feed_acidity", "together[0]"]
    some = chosen_values(plan, settings, keys)
    every = evaluate(plan, settings)
    assert {key: some[key] for key in keys} == {key: every[key] for key in keys}
    assert not is_listed("fertilizers", NAME)  # gone once the book is worked out


def test_a_file_with_own_products_is_a_function(workbook: Any) -> None:
    path, plan = Path(workbook("recipe")), book("recipe")
    wanted = ["together", "own_faults"]
    typed = typed_recipe()
    settings = typed | {
        "own_names[3]": "blend 5-11-26",
        "own_total[3]": "5",
        "own_p[3]": "11",
        "own_k[3]": "26",
        "products": ["blend 5-11-26", *typed["products"][1:]],
        "amounts": [10.0, *typed["amounts"][1:]],
    }
    answer = run(path, plan, settings, wanted)
    plain = evaluate(plan, typed)
    assert answer["own_faults"] == [""] * OWN
    more = answer["together"][0] - float(str(plain["together[0]"]))
    # 10 kg instead of 8 kg of calcium nitrate: 1 g/L of feed with 5 % N for 0.8 g/L with 15.5 %.
    assert more == pytest.approx(50 - 124, rel=1e-6)
    with pytest.raises(WorkbookProblem, match="did you mean"):
        run(path, plan, {"products": "calcium nitrat"}, wanted)


@pytest.mark.parametrize("name", ENGINES)
def test_own_labels_in_every_engine(name: str, workbook: Any) -> None:
    """Whole labels, two of them wrong: what arrives, what is said, and the list of choices."""
    plan, path = book("recipe"), Path(workbook("recipe"))
    settings = recipe(
        ("BLEND 20-10-20", "A", 15.0, "kg"),
        ("my liquid", "B", 2.0, "L"),
        ("wrong", "C", 1.0, "kg"),
        own_names=[NAME, "my liquid", "wrong", "urea", "~", None],
        own_total=[20.0, None, 20.0, 46.0, 1.0, None],
        own_nitrate=[6.0, 8.0, 1.0],
        own_ammonium=[2.0],
        own_urea=[12.0],
        own_p=[10.0],
        own_k=[20.0],
        own_fe=[0.1],
        own_metals=["chelated"],
        own_forms=["dry", "liquid, by volume"],
        own_density=[None, 10.6],
        own_density_units=["kg/L", "lb/gal"],
    )
    expected = evaluate(plan, settings)
    assert expected["dissolved[2]"] == "stop: mend 'wrong' on My products"
    moved = moved_cells(path, plan)
    wanted = ("together", "own_faults", "dissolved", "mine_product", "clear_a", "feed_acidity")
    named = plan.named_cells()
    cells = {key: [moved[cell] for cell in named[key]] for key in wanted}
    with engine(name).open(path) as session:
        inputs = {moved[cell]: value for cell, value in entry_cells(plan, settings).items()}
        values = session.calculate(inputs, [cell for each in cells.values() for cell in each])
    for key, several in cells.items():
        for i, cell in enumerate(several):
            truth = expected[key] if key in expected else expected[f"{key}[{i}]"]
            if isinstance(truth, float):
                assert values[cell] == pytest.approx(truth, rel=1e-9), (key, i)
            else:
                assert values[cell] == truth, (key, i)
