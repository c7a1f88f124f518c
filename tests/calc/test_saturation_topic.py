"""What a stock can hold: the table, what lies between its columns, and what has no figure."""

from __future__ import annotations

import pytest

from tanksheet.calc.saturation import saturation
from tanksheet.calc.water import solubility
from tanksheet.errors import NotListed, OutOfRange
from tanksheet.tables import rows

ROWS = {str(row["product"]): row for row in rows("saturation")}
LISTED = [product for product, row in ROWS.items() if row["at_20"]]
SALTS = [str(row["salt"]) for row in rows("solubility")]


@pytest.mark.parametrize("product", LISTED)
def test_it_meets_its_table(product: str) -> None:
    row = ROWS[product]
    for celsius in (0, 10, 20, 30, 40):
        assert saturation(product, celsius) == pytest.approx(row[f"at_{celsius}"], rel=1e-14)
    for low in (0, 10, 20, 30):
        middle = (row[f"at_{low}"] + row[f"at_{low + 10}"]) / 2  # type: ignore[operator]
        assert saturation(product, low + 5) == pytest.approx(middle, rel=1e-14)


@pytest.mark.parametrize("salt", SALTS)
@pytest.mark.parametrize("celsius", [0, 10, 20, 30, 40])
def test_a_litre_of_stock_holds_less_than_a_litre_of_water_takes_up(
    salt: str, celsius: float
) -> None:
    """The salt takes room too, so that the volume grows: no salt dissolves without swelling."""
    assert saturation(salt, celsius) < solubility(salt, celsius)


def test_outside_the_table_is_refused() -> None:
    for celsius in (-0.1, 40.1):
        with pytest.raises(OutOfRange):
            saturation("potassium nitrate", celsius)
    with pytest.raises(NotListed):
        saturation("table salt", 20)


def test_a_product_without_a_figure_is_not_listed() -> None:
    without = [product for product in ROWS if product not in LISTED]
    assert without == ["calcium hypochlorite 65 %"]
    with pytest.raises(NotListed, match="no saturation figure"):
        saturation(without[0], 20)
