"""fertilizers.csv against chemistry: atomic weights, charge balance, published labels.

One row's ``molar_mass`` is the grams of product that hold one mole of the formula unit: the molar
mass of a pure solid, the molar mass over the strength of a solution, 1000 where the ions are
counted per kg. So mass / molar_mass x an ion column is always moles of that ion.
"""

from __future__ import annotations

import re

import pytest

from chemistry import (
    CHARGES,
    ELEMENTS,
    Row,
    atoms,
    formula_and_share,
    mass,
    rows_by,
    table,
    weight,
)

# Columns beyond the ions of FERT.EC, in moles as these, and the charge of each; a chelate's charge
# stands in a column of its own. Boron counts as B(OH)3, silicon as Si(OH)4, chlorine as HOCl, none
# of them charged: what the product lacks of these protons stands under hydrogen.
OTHERS = {
    "thiosulfate": -2, "borate": 0, "silicate": 0, "molybdate": -2, "metal": 2, "complex": 0,
    "complex_charge": 0,
}  # fmt: skip
COLUMNS = [
    "product", "formula", "kind", "grade", "basis", "molar_mass", *ELEMENTS, "density_kgL",
    *CHARGES, *OTHERS, "chlorine", "ph_low", "ph_high", "hazard", "source",
]  # fmt: skip
ROWS = table("fertilizers")
PURE = [row for row in ROWS if row["basis"] == "pure"]
CHELATES = [row for row in ROWS if row["kind"] == "chelate"]
BY_NAME = rows_by("fertilizers", "product")
# Columns whose element comes wholly as the ion of the other column, in one atom an ion.
CARRIED = {
    "n_nitrate": "nitrate", "n_ammonium": "ammonium", "p": "dihydrogen_phosphate",
    "k": "potassium", "ca": "calcium", "mg": "magnesium", "na": "sodium", "cl": "chloride",
    "b": "borate", "si": "silicate", "mo": "molybdate",
}  # fmt: skip
# Charge of the metal chelate's anion, with Na+ as its partner (formulas in the table).
CHELATE_ANION = {"Fe": -1, "Mn": -2, "Zn": -2, "Cu": -2}
METALS = ("fe", "mn", "zn", "cu")
# Percentage points, and charge left over for each charge of the cations: labels are rounded.
PERCENT_TOLERANCE, CHARGE_TOLERANCE = 0.01, 0.003
# The pH between which something of the product holds: chelates, thiosulfates, free chlorine.
TENDER = {
    "iron EDTA 13 %": (1.5, 6.3),
    "iron DTPA 11 %": (1.5, 7),
    "iron EDDHA 6 %": (3, 9),
    "manganese EDTA 13 %": (4, 8),
    "zinc EDTA 15 %": (3, 8),
    "copper EDTA 15 %": (3, 8),
    "ammonium thiosulfate 12-0-0-26S": (6, 14),
    "potassium thiosulfate 0-0-25-17S": (6, 14),
    "sodium hypochlorite 12.5 %": (6.5, 14),
    "calcium hypochlorite 65 %": (6.5, 14),
}
# Words without which a product's hazards are not told.
HAZARDS = {
    "nitric acid": ("corrosive", "oxidizer"),
    "phosphoric acid": ("corrosive",),
    "sulfuric acid": ("corrosive",),
    "hydrochloric acid": ("corrosive",),
    "urea phosphate": ("corrosive",),
    "hypochlorite": ("chlorine gas with acid", "chloramines"),
    "thiosulfate": ("sulfur dioxide", "acid"),
    "carbonate": ("gas with acid",),
    "silicate": ("alkaline", "acid"),
    "^ammonium nitrate": ("oxidizer", "explode"),
    "potassium nitrate": ("oxidizer",),
    "borax": ("unborn",),
    "boric acid": ("unborn",),
    "octaborate": ("unborn",),
}
# Words in capitals that a product's name may carry: chelating agents, and S in a grade.
CAPITALS = {"EDTA", "DTPA", "EDDHA", "S"}
# Sums of the columns. A changed sum is a changed figure: look at it, then change the number.
SUMS = {
    "n_nitrate": 118.511, "n_ammonium": 116.741, "n_urea": 94.871, "n_other": 0, "p": 158.153,
    "k": 419.747,
    "ca": 83.228, "mg": 81.681, "s": 337.486, "fe": 50.088, "mn": 73.267, "zn": 109.171,
    "cu": 40.451, "b": 49.786, "mo": 94, "na": 102.155, "cl": 264.4, "si": 9.723,
    "molar_mass": 27881.653, "density_kgL": 20.867, "calcium": 11.73, "magnesium": 17.109,
    "potassium": 45.947, "sodium": 32.077, "ammonium": 39.022, "nitrate": 30.811,
    "sulfate": 38.413, "chloride": 23.75, "bicarbonate": 2, "dihydrogen_phosphate": 10.791,
    "hydrogen": -4.434, "thiosulfate": 6.706, "borate": 13, "silicate": 3.462, "molybdate": 8,
    "metal": 11.353, "complex": 12.393, "complex_charge": -9, "chlorine": 10.931,
}  # fmt: skip

name = {"ids": lambda row: row["product"]}
every_row = pytest.mark.parametrize("row", ROWS, **name)  # type: ignore[arg-type]
every_pure_row = pytest.mark.parametrize("row", PURE, **name)  # type: ignore[arg-type]
every_chelate = pytest.mark.parametrize("row", CHELATES, **name)  # type: ignore[arg-type]


def moles_per_kg(row: Row, column: str) -> float:
    return float(row[column]) * 1000 / float(row["molar_mass"])


def content_faults(row: Row) -> list[str]:
    """Percents and molar mass of a pure row that its formula does not give."""
    formula, share = formula_and_share(row["formula"])
    counts, whole = atoms(formula), mass(formula)
    found = []
    for element in sorted(set(ELEMENTS.values())):
        listed = sum(float(row[c]) for c, counted in ELEMENTS.items() if counted == element)
        true = 100 * share * counts[element] * weight(element) / whole
        if abs(listed - true) > PERCENT_TOLERANCE:
            found.append(f"{element}: {listed} listed, {true:.3f} by formula")
    if float(row["molar_mass"]) != pytest.approx(whole / share, rel=1e-4):
        found.append(f"molar mass: {row['molar_mass']} listed, {whole / share:.3f} by formula")
    return found


def ion_faults(row: Row) -> list[str]:
    """Ions that do not carry the element of the percent column."""
    moles = {column: moles_per_kg(row, ion) for column, ion in CARRIED.items()}
    moles["s"] = moles_per_kg(row, "sulfate") + 2 * moles_per_kg(row, "thiosulfate")
    moles["cl"] = moles_per_kg(row, "chloride") + moles_per_kg(row, "chlorine")
    found = []
    for column, each in moles.items():
        percent = each * weight(ELEMENTS[column]) / 10
        if percent != pytest.approx(float(row[column]), rel=2e-3, abs=0.003):
            found.append(f"ions bring {percent:.3f} % {column}, {row[column]} listed")
    metal = sum(float(row[column]) * 10 / weight(ELEMENTS[column]) for column in METALS)
    held, free = ("complex", "metal") if row["kind"] == "chelate" else ("metal", "complex")
    if moles_per_kg(row, held) != pytest.approx(metal, rel=2e-3) or float(row[free]):
        found.append(f"{metal:.4f} mol/kg of metals, {row['metal']} and {row['complex']} listed")
    return found


def charge(row: Row) -> float:
    """Charge left over, for each charge of the cations."""
    moles = {ion: z * float(row[ion]) for ion, z in (CHARGES | OTHERS).items()}
    moles["complex"] = float(row["complex"]) * float(row["complex_charge"])
    size = sum(map(abs, moles.values())) / 2
    return sum(moles.values()) / size if size else 0.0


def grade_faults(row: Row) -> list[str]:
    """Label figures N-P2O5-K2O that the contents do not bear out.

    A label promises the least; technical goods fall up to 2 points short of the pure compound.
    """
    grade = re.match(r"([\d.]+)-([\d.]+)-([\d.]+)", row["grade"])
    if grade is None:
        return []
    nitrogen = sum(float(row[c]) for c in ("n_nitrate", "n_ammonium", "n_urea"))
    contents = (
        nitrogen,
        float(row["p"]) * mass("P2O5") / (2 * weight("P")),
        float(row["k"]) * mass("K2O") / (2 * weight("K")),
    )
    return [
        f"label {promise}, content {content:.2f}"
        for promise, content in zip(grade.groups(), contents, strict=True)
        if not -0.05 <= content - float(promise) <= 2.1
    ]


def name_faults(names: list[str]) -> list[str]:
    found = [text for text in names if len(text) >= 40 or not re.fullmatch(r"[\w .%-]+", text)]
    found += [text for text in names if set(re.findall(r"[A-Z]+", text)) - CAPITALS]
    lowered = [text.lower() for text in names]
    return found + [text for text in names if lowered.count(text.lower()) > 1]


def test_columns() -> None:
    assert list(ROWS[0]) == COLUMNS


def test_words() -> None:
    assert {row["kind"] for row in ROWS} == {"salt", "acid", "liquid", "chelate"}
    assert {row["basis"] for row in ROWS} == {"pure", "label"}
    assert name_faults([row["product"] for row in ROWS]) == []


def test_rows_and_sums_are_pinned() -> None:
    counts = {kind: sum(row["kind"] == kind for row in ROWS) for kind in ("salt", "acid")}
    assert (len(ROWS), len(PURE), len(CHELATES), counts) == (57, 37, 6, {"salt": 36, "acid": 7})
    columns = (*ELEMENTS, "molar_mass", "density_kgL", *CHARGES, *OTHERS, "chlorine")
    sums = {column: round(sum(float(row[column]) for row in ROWS), 3) for column in columns}
    assert sums == SUMS


@every_row
def test_ranges(row: Row) -> None:
    contents = [float(row[column]) for column in ELEMENTS]
    assert min(contents) >= 0 and 0 < sum(contents) <= 100
    liquid = row["kind"] in ("acid", "liquid")
    assert 1.1 < float(row["density_kgL"]) < 1.9 if liquid else float(row["density_kgL"]) == 0
    counted = {*CHARGES, *OTHERS, "chlorine"} - {"hydrogen", "complex_charge"}
    assert all(float(row[column]) >= 0 for column in counted)


@every_row
def test_label_rows_count_per_kg(row: Row) -> None:
    per_kg = row["formula"].startswith("per kg: ")
    assert per_kg == (row["basis"] == "label") == (row["molar_mass"] == "1000")


@every_pure_row
def test_contents_follow_from_the_formula(row: Row) -> None:
    assert content_faults(row) == []


@every_row
def test_ions_carry_the_contents(row: Row) -> None:
    assert ion_faults(row) == []


@every_row
def test_charges_balance(row: Row) -> None:
    assert abs(charge(row)) <= CHARGE_TOLERANCE


@every_row
def test_the_ph_that_a_product_bears(row: Row) -> None:
    # From memory, as the table's source says; the rule is that nobody else has a narrower range.
    assert (float(row["ph_low"]), float(row["ph_high"])) == TENDER.get(row["product"], (0, 14))


@every_row
def test_hazard_words(row: Row) -> None:
    needed = [words for part, words in HAZARDS.items() if re.search(part, row["product"])]
    assert row["hazard"]
    assert [word for words in needed for word in words if word not in row["hazard"]] == []


# A second row for each product that is counted by its label: the pure salt, which holds more.
@pytest.mark.parametrize(
    "product",
    [
        "potassium sulfate",
        "potassium chloride",
        "magnesium sulfate monohydrate",
        "potassium magnesium sulfate",
        "zinc sulfate monohydrate",
    ],
)
def test_a_technical_product_holds_less_than_the_pure_salt(product: str) -> None:
    technical, pure = BY_NAME[product], BY_NAME[f"{product} pure"]
    assert (technical["basis"], pure["basis"]) == ("label", "pure")
    for column in ("k", "mg", "zn"):
        assert 0.9 * float(pure[column]) <= float(technical[column]) <= float(pure[column])


# Percent as a label of the trade prints it; the factors of the oxides from atomic weights.
@pytest.mark.parametrize(
    ("product", "column", "label", "factor"),
    [
        ("potassium sulfate", "k", 52, 2 * weight("K") / mass("K2O")),
        ("potassium sulfate", "s", 18, 1),
        ("potassium chloride", "k", 62, 2 * weight("K") / mass("K2O")),
        ("magnesium sulfate monohydrate", "mg", 16, 1),
        ("potassium magnesium sulfate", "k", 22, 2 * weight("K") / mass("K2O")),
        ("potassium magnesium sulfate", "mg", 11, 1),
        ("potassium magnesium sulfate", "s", 22, 1),
        ("zinc sulfate monohydrate", "zn", 35, 1),
    ],
)
def test_technical_products_follow_their_label(
    product: str, column: str, label: float, factor: float
) -> None:
    assert float(BY_NAME[product][column]) == pytest.approx(label * factor, rel=2e-4)


@pytest.mark.parametrize(
    ("product", "percent"),
    [("sodium hypochlorite 12.5 %", 12.5), ("calcium hypochlorite 65 %", 65)],
)
def test_free_chlorine_is_counted_as_chlorine_gas(product: str, percent: float) -> None:
    found = moles_per_kg(BY_NAME[product], "chlorine") * mass("Cl2") / 10
    assert found == pytest.approx(percent, rel=1e-3)


@every_row
def test_grades_agree_with_contents(row: Row) -> None:
    assert grade_faults(row) == []


@every_chelate
def test_the_charge_of_a_chelate(row: Row) -> None:
    metal = next(each for each in CHELATE_ANION if float(row[each.lower()]))
    assert float(row["complex_charge"]) == CHELATE_ANION[metal]


@every_chelate
def test_a_chelate_holds_less_metal_than_its_formula(row: Row) -> None:
    formula = row["formula"].removeprefix("per kg: ")
    counts = atoms(formula)
    metal = next(each for each in CHELATE_ANION if counts[each])
    pure = 100 * weight(metal) / mass(formula)
    assert 0.4 * pure < float(row[metal.lower()]) <= pure
    sodium = moles_per_kg(row, "sodium") * weight(metal) / (10 * float(row[metal.lower()]))
    assert sodium == pytest.approx(counts["Na"], rel=1e-3)


# Total N, P2O5, K2O or the element, as published, in percent by weight. Sources: a) USDA NRCS
# New Mexico, Agronomy Technical Note 76, nitrogen fertilizer guide (docslib.org/doc/3058196);
# b) Cornell CCA study guide, nitrogen sources (nrcca.cals.cornell.edu/nutrient/CA4/CA0426.php);
# c) encyclopaedia article "Magnesium nitrate"; d) technical label, from memory.
@pytest.mark.parametrize(
    ("product", "columns", "published", "tolerance"),
    [
        ("urea", ("n_urea",), 46, 0.02),  # a, b
        ("ammonium nitrate", ("n_nitrate", "n_ammonium"), 34, 0.03),  # a, b
        ("ammonium sulfate", ("n_ammonium",), 21, 0.02),  # a, b
        ("ammonium sulfate", ("s",), 24, 0.02),  # b
        ("diammonium phosphate", ("n_ammonium",), 21, 0.02),  # a
        ("monoammonium phosphate", ("n_ammonium",), 12, 0.02),  # d
        ("ammonium thiosulfate 12-0-0-26S", ("n_ammonium",), 12, 0.01),  # a
        ("ammonium polyphosphate 10-34-0", ("n_ammonium",), 10, 0.01),  # a
        ("urea ammonium nitrate 32-0-0", ("n_nitrate", "n_ammonium", "n_urea"), 32, 0.01),  # a
        ("urea ammonium nitrate 28-0-0", ("n_nitrate", "n_ammonium", "n_urea"), 28, 0.01),  # a
        ("magnesium nitrate hexahydrate", ("n_nitrate",), 10.5, 0.045),  # c
        ("magnesium nitrate hexahydrate", ("mg",), 9.4, 0.02),  # c
    ],
)
def test_published_contents(
    product: str, columns: tuple[str, ...], published: float, tolerance: float
) -> None:
    content = sum(float(BY_NAME[product][column]) for column in columns)
    assert content == pytest.approx(published, rel=tolerance)


# Nitrogen forms of UAN from its salts: plant nutrition institute fact sheet 7, ammonium nitrate
# and urea in percent (studylib.net/doc/8368113), rounded to whole percents there.
@pytest.mark.parametrize(("grade", "nitrate", "urea"), [("32-0-0", 44, 35), ("28-0-0", 40, 30)])
def test_forms_of_nitrogen_in_uan(grade: str, nitrate: float, urea: float) -> None:
    row = BY_NAME[f"urea ammonium nitrate {grade}"]
    half = nitrate * weight("N") / mass("NH4NO3")
    assert float(row["n_nitrate"]) == float(row["n_ammonium"]) == pytest.approx(half, rel=0.015)
    from_urea = urea * 2 * weight("N") / mass("CO(NH2)2")
    assert float(row["n_urea"]) == pytest.approx(from_urea, rel=0.015)


# Pounds a US gallon, 0.45359237 kg / 3.785411784 L. UAN 32: Mississippi State Extension P1466;
# the others: extension sheet, studylib.net/doc/18119690. Secondary sources spread by 0.3 %.
@pytest.mark.parametrize(
    ("product", "pounds"),
    [
        ("urea ammonium nitrate 32-0-0", 11.06),
        ("urea ammonium nitrate 28-0-0", 10.67),
        ("ammonium polyphosphate 10-34-0", 11.65),
        ("ammonium thiosulfate 12-0-0-26S", 11.04),
    ],
)
def test_published_densities(product: str, pounds: float) -> None:
    density = float(BY_NAME[product]["density_kgL"])
    assert density == pytest.approx(pounds * 0.45359237 / 3.785411784, rel=0.003)


def changed(product: str, **cells: str) -> Row:
    return BY_NAME[product] | cells


def test_wrong_contents_show() -> None:
    assert content_faults(changed("potassium nitrate", k="38.69"))
    assert content_faults(changed("potassium nitrate", molar_mass="101.2"))
    assert content_faults(changed("nitric acid 60 %", n_nitrate="22.229"))
    assert content_faults(changed("borax", formula="Na2B4O7.5H2O"))


def test_wrong_ions_show() -> None:
    assert ion_faults(changed("calcium nitrate tetrahydrate", nitrate="1"))
    assert ion_faults(changed("urea ammonium nitrate 32-0-0", ammonium="5.6"))
    assert ion_faults(changed("ammonium sulfate", n_ammonium="0", n_nitrate="21.201"))


@pytest.mark.parametrize(
    ("product", "column"),
    [
        ("diammonium phosphate", "hydrogen"),
        ("borax", "hydrogen"),
        ("zinc sulfate heptahydrate", "metal"),
        ("iron EDTA 13 %", "complex"),
        ("manganese EDTA 13 %", "complex_charge"),
        ("potassium thiosulfate 0-0-25-17S", "thiosulfate"),
        ("ammonium thiosulfate 12-0-0-26S", "hydrogen"),
        ("sodium molybdate dihydrate", "molybdate"),
        ("calcium hypochlorite 65 %", "hydrogen"),
    ],
)
def test_wrong_charges_show(product: str, column: str) -> None:
    assert abs(charge(changed(product, **{column: "0"}))) > 10 * CHARGE_TOLERANCE


@pytest.mark.parametrize(
    ("product", "column"),
    [
        ("borax", "borate"),
        ("potassium silicate liquid", "silicate"),
        ("sodium hypochlorite 12.5 %", "chlorine"),
        ("ferrous sulfate heptahydrate", "metal"),
        ("copper EDTA 15 %", "complex"),
        ("ammonium thiosulfate 12-0-0-26S", "thiosulfate"),
    ],
)
def test_ions_that_are_missing_show(product: str, column: str) -> None:
    assert ion_faults(changed(product, **{column: "0"}))


def test_wrong_grades_show() -> None:
    assert grade_faults(changed("monopotassium phosphate", grade="0-34-52"))
    assert grade_faults(changed("urea", grade="47-0-0"))


@pytest.mark.parametrize("names", [["Wonder 20"], ["urea", "Urea"], ["urea*"], ["a" * 40]])
def test_wrong_names_show(names: list[str]) -> None:
    assert name_faults(names)
