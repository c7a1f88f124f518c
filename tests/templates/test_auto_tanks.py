"""Tanks that are left to the sheet. What must not meet is that of the compatibility charts of
extension services (calcium with sulfates and phosphates; acids with carbonates, thiosulfates and
chelates; chlorine with acid, ammonium and urea: from memory, they agree); contents are from the
formulas."""

from __future__ import annotations

import random
from typing import Any

import pytest

from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book

PLAN = book("recipe")
CALCIUM = ("calcium nitrate 15.5-0-0", "calcium nitrate tetrahydrate", "calcium chloride dihydrate")
SALTS = (
    *("potassium sulfate", "monopotassium phosphate", "magnesium sulfate heptahydrate"),
    *("monoammonium phosphate", "ammonium sulfate", "diammonium phosphate"),
)
TRACES = ("manganese sulfate monohydrate", "boric acid", "zinc sulfate heptahydrate")
CHELATES = ("iron DTPA 11 %", "iron EDDHA 6 %", "manganese EDTA 13 %")
ACIDS = ("nitric acid 60 %", "phosphoric acid 75 %", "sulfuric acid 35 %")
HARMLESS = ("potassium nitrate", "ammonium nitrate", "magnesium nitrate hexahydrate", "urea")
ALL = (*CALCIUM, *SALTS, *TRACES, *CHELATES, *ACIDS, *HARMLESS)


def tanks_of(products: list[str], tanks: list[str] | None = None, **more: Any) -> list[str]:
    """The tank of each product, where every one without a letter is left to the sheet."""
    blank = 12 - len(products)
    settings = {
        "products": [*products, *[None] * blank],
        "tanks": [*(tanks or ["auto"] * len(products)), *["auto"] * blank],
        **more,
    }
    values = evaluate(PLAN, settings)
    return [str(values[f"used_tanks[{i}]"]) for i in range(len(products))]


def test_what_must_not_meet_is_kept_apart() -> None:
    draw = random.Random(3)
    for _ in range(150):
        products = draw.sample(ALL, draw.randint(3, 12))
        where = dict(zip(products, tanks_of(products), strict=True))
        calcium = {where[name] for name in CALCIUM if name in where}
        salts = {where[name] for name in SALTS if name in where}
        acids = {where[name] for name in ACIDS if name in where}
        chelates = {where[name] for name in CHELATES if name in where}
        assert not calcium & salts, where
        assert not acids & chelates, where
        sour = {where[name] for name in ACIDS[1:] if name in where}
        assert not sour & calcium, where


@pytest.mark.parametrize(
    ("products", "apart"),
    [
        (["nitric acid 60 %", "potassium thiosulfate 0-0-25-17S"], True),
        (["nitric acid 60 %", "potassium bicarbonate"], True),
        (["potassium silicate liquid", "calcium nitrate 15.5-0-0"], True),
        (["sodium hypochlorite 12.5 %", "ammonium nitrate"], True),
        (["sodium hypochlorite 12.5 %", "phosphoric acid 75 %"], True),
        (["potassium carbonate", "magnesium sulfate heptahydrate"], True),
        (["monopotassium phosphate", "potassium sulfate"], False),
        (["calcium nitrate 15.5-0-0", "iron DTPA 11 %"], False),
    ],
)
def test_pairs(products: list[str], apart: bool) -> None:
    one, other = tanks_of(products)
    assert (one != other) is apart


def test_a_typed_tank_stays_and_the_others_go_round_it() -> None:
    """The calcium nitrate is in B by hand, so the sulfate goes to A."""
    products = ["calcium nitrate 15.5-0-0", "magnesium sulfate heptahydrate", "iron DTPA 11 %"]
    assert tanks_of(products, ["B", "auto", "auto"])[:2] == ["B", "A"]
    assert tanks_of(products, ["auto", "A", "auto"])[:2] == ["B", "A"]


def test_an_alkali_gets_the_third_tank_and_the_acid_another() -> None:
    products = ["potassium carbonate", "nitric acid 60 %", "monopotassium phosphate"]
    alkali, acid, phosphate = tanks_of(products)
    assert alkali not in (acid, phosphate)


def test_loads_are_balanced() -> None:
    """Beside much calcium nitrate the potassium nitrate goes where there is little; beside much
    sulfate the other way round."""
    three = ["calcium nitrate 15.5-0-0", "magnesium sulfate heptahydrate", "potassium nitrate"]
    blank: dict[str, Any] = {"targets": [None] * 15}
    much_calcium = blank | {"targets": [*[None] * 2, 200, 250, 2, *[None] * 10]}
    much_sulfate = blank | {"targets": [*[None] * 2, 200, 20, 150, *[None] * 10]}
    assert tanks_of(three, **much_calcium) == ["A", "B", "B"]
    assert tanks_of(three, **much_sulfate) == ["A", "B", "A"]


def test_two_tanks_are_enough_where_there_are_no_more() -> None:
    products = list(map(str, PLAN.entries["products"].default))
    assert set(tanks_of(products)) == {"A", "B", "C"}
    assert set(tanks_of(products, auto_tanks="A and B")) == {"A", "B"}


def test_the_example_is_placed_as_a_grower_would() -> None:
    products, tanks = (list(map(str, PLAN.entries[k].default)) for k in ("products", "tanks"))
    assert tanks_of(products) == tanks
    values = evaluate(PLAN, {"tanks": ["auto"] * 12})
    assert str(values["overall"]).startswith("pass")
    assert values["dissolved_said[0]"] == "tank A"
