"""Worked examples of extension services, priced as programs of one member."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

import coop_files
from tanksheet.batch.coop import price_coop

POUND, GALLON = 0.45359237, 3.785411784


def run(
    tmp_path: Path, product: str, block: str, program: str, price: str = "1"
) -> dict[str, float]:
    """Kilograms, packs, cost, and the kilograms of each nutrient, of one row."""
    tables = {
        "members": ["A,"],
        "blocks": [f"A,field,{block}"],
        "products": [f"x,{product}"],
        "prices": [f"x,{price},USD"],
        "programs": [f"A,field,1,x,{program}"],
    }
    price_coop(coop_files.write(tmp_path / "in", tables), tmp_path / "out")
    [row] = coop_files.read(tmp_path / "out")["statements"]
    book = openpyxl.load_workbook(tmp_path / "out" / "summary.xlsx")
    nutrients = {}
    if "Nutrients" in book.sheetnames:
        nutrients = {r[0]: r[1] for r in book["Nutrients"].iter_rows(min_row=4, values_only=True)}
    return {
        "kg": float(row["used_kg"]),
        "packs": int(row["packs"]),
        "cost": float(row["cost"]),
        **nutrients,
    }


def test_nitrogen_in_twenty_gallons_an_acre(tmp_path: Path) -> None:
    """Purdue University: 20 gal/acre of 28 % N at 10.6 lb/gal bring 59.4 lb of N an acre."""
    density = 10.6 * POUND / GALLON
    got = run(tmp_path, f"liquid,{density:.9f},275,gal,28,0,0", "1,acre", "20,gal/acre")
    assert got["n"] / POUND == pytest.approx(59.4, rel=1e-3)


def test_ammonium_sulfate_for_fifty_kilograms_of_nitrogen(tmp_path: Path) -> None:
    """Fertigation Calculations, 2013 (pdfcoffee.com): 238.1 kg of ammonium sulfate, 21 % N."""
    got = run(tmp_path, "dry,,50,kg,21,0,0", "1,ha", "238.1,kg/ha")
    assert got["n"] == pytest.approx(50, rel=1e-4) and got["packs"] == 5


def test_volume_of_a_solution(tmp_path: Path) -> None:
    """The same source: 250 kg at 1.27 kg/L are 196.8 L (printed, cut; 196.85 exactly)."""
    got = run(tmp_path, "liquid,1.27,1000,L,33,0,0", "1,ha", "196.85,L")
    assert got["kg"] == pytest.approx(250, rel=1e-4)
    got = run(tmp_path, "liquid,1.27,1000,L,33,0,0", "1,ha", "196.8,L")
    assert got["kg"] == pytest.approx(250, rel=5e-4)


@pytest.mark.parametrize(
    ("label", "price", "printed", "digits"),
    [
        # University of Wisconsin Extension (Rankin): urea at 700 a short ton, 0.76 a pound of N.
        ("46,0,0", "700", 0.76, 0.005),
        # New Mexico State University A-133: superphosphate 0-46-0 at 996, 1.08 a pound of P2O5.
        ("0,46,0", "996", 1.08, 0.005),
        # Noble Research Institute, June 2007: 34 % N at 370, 0.54 a pound of N.
        ("34,0,0", "370", 0.54, 0.005),
        # scienceofagriculture.com, fertilizer comparison: 35 % N at 550, 0.79 a pound of N.
        ("35,0,0", "550", 0.79, 0.005),
    ],
)
def test_price_of_a_pound_of_nutrient(
    tmp_path: Path, label: str, price: str, printed: float, digits: float
) -> None:
    """A short ton of the product, bought whole, over the pounds of the nutrient in it."""
    got = run(tmp_path, f"dry,,1,short ton,{label}", "1,ha", "2000,lb", price)
    assert got["packs"] == 1 and got["cost"] == float(price)
    nutrient = got["n"] if "n" in got else got["p2o5"]
    assert got["cost"] / (nutrient / POUND) == pytest.approx(printed, abs=digits)


def test_pounds_an_acre_on_hectares(tmp_path: Path) -> None:
    """UF/IFAS HS1200 prints 1 lb/acre as 1.12 kg/ha."""
    got = run(tmp_path, "dry,,50,lb,46,0,0", "100,ha", "1,lb/acre")
    assert got["kg"] == pytest.approx(112, abs=0.5)
    assert got["packs"] == 5  # 247.1 lb


def test_a_liquid_by_the_ton(tmp_path: Path) -> None:
    """Computed: 28 % N at 600 a short ton and 10.6 lb/gal is 3.18 a gallon (Wisconsin, Purdue)."""
    density = 10.6 * POUND / GALLON
    got = run(tmp_path, f"liquid,{density:.9f},1,gal,28,0,0", "1,ha", "1000,gal", "3.18")
    assert got["packs"] == 1000 and got["cost"] == 3180
    assert got["cost"] / (got["n"] / POUND) == pytest.approx(1.07143, rel=1e-5)
