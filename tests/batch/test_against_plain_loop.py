"""The batch against a plain loop with exact fractions, on random co-ops and on the demo."""

from __future__ import annotations

import tempfile
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import coop_files
import plain_loop
from tanksheet.batch.coop import price_coop
from tanksheet.batch.demo import write_demo
from tanksheet.batch.priced import Priced

NAMES = st.sampled_from(["A", "B", "Ç d", "E,e", 'F"f', "G", ""])
PRODUCTS = st.sampled_from(["p", "q", "r 1-2-3", "s", "z"])


def decimals(most: int, places: int = 3) -> st.SearchStrategy[str]:
    return st.decimals(0, most, places=places).map(str)


NUMBERS = st.one_of(
    decimals(500),
    decimals(500, 1),
    st.sampled_from(
        ["0", "-1", "x", "", "1e2", " 7 ", "inf", "nan", "1e400", "+3", "-0", "1,5", ".5"]
    ),
)
RATE_UNITS = st.sampled_from(
    "kg/ha lb/acre L/ha gal/acre kg lb L gal kg/ha lb/acre oz kg/acre l/ha".split()
)
TABLES = {
    "members": st.tuples(NAMES, st.sampled_from(["", "Alder"])),
    "blocks": st.tuples(
        NAMES, st.sampled_from("uvw"), NUMBERS, st.sampled_from(["ha", "acre", "m"])
    ),
    "products": st.tuples(
        PRODUCTS,
        st.sampled_from(["dry", "liquid", "liquid", "dry", "gas"]),
        st.sampled_from(["", "1.25", "1.326", "0", "5", "x"]),
        st.sampled_from(["25", "50", "20.5", "0", "1000", "0.5", "x"]),
        st.sampled_from(["kg", "lb", "L", "gal", "box"]),
        st.sampled_from(["46", "", "0", "101", "x"]),
        st.just("0"),
        st.just(""),
    ),
    "prices": st.tuples(
        PRODUCTS,
        st.one_of(decimals(900, 2), decimals(9, 4), st.sampled_from(["", "-1", "x"])),
        st.sampled_from(["EUR", "EUR", "EUR", "USD"]),
        st.sampled_from(["", "", "late"]),
    ),
    "programs": st.tuples(
        NAMES,
        st.sampled_from("uvwx"),
        st.sampled_from(["1", "53", "", "0", "54", "2.5", "3.0", "May"]),
        PRODUCTS,
        NUMBERS,
        RATE_UNITS,
    ),
}
LEAST = {"members": 4, "blocks": 8, "products": 5, "prices": 6, "programs": 0}
MOST = {"members": 8, "blocks": 20, "products": 9, "prices": 12, "programs": 60}


@st.composite
def coops(draw: st.DrawFn) -> dict[str, list[str]]:
    """Tables with many good rows, and bad ones of every kind among them."""
    return {
        name: [
            ",".join(_quoted(text) for text in row)
            for row in draw(st.lists(each, min_size=LEAST[name], max_size=MOST[name]))
        ]
        for name, each in TABLES.items()
    }


def _quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"' if set(text) & set('",') else text


def agrees(done: Priced, found: plain_loop.Found) -> int:
    """Holds a run against the loop, to the last pack, cent and rejected line. Returns the
    statements."""
    out = coop_files.read(done.out)
    statements = {(row["member"], row["product"]): row for row in out["statements"]}
    assert list(statements) == sorted(found.used)
    for key, row in statements.items():
        assert abs(Fraction(row["used_kg"]) - found.used[key]) < Fraction("1e-7"), key
        assert int(row["packs"]) == found.packs[key], key
        assert coop_files.cents(row["cost"]) == found.cents[key], key
    assert [row["product"] for row in out["order"]] == sorted(found.order)
    for row in out["order"]:
        used, packs, left, cents = found.order[row["product"]]
        assert abs(Fraction(row["used_kg"]) - used) < Fraction("1e-6")
        assert abs(Fraction(row["left_over_kg"]) - left) < Fraction("1e-6")
        assert (int(row["packs"]), coop_files.cents(row["cost"])) == (packs, cents)
    rejected = [(Path(row["file"]).stem, int(row["row"])) for row in out["rejects"]]
    assert len(rejected) == len(set(rejected))
    assert set(rejected) == found.rejected
    assert all(row["reason"] for row in out["rejects"])
    assert done.rows.read == found.read
    assert done.rows.accepted + done.rows.rejected == done.rows.read
    assert done.rows.rejected == len(rejected)
    conserves(out)
    return len(statements)


def conserves(out: coop_files.Output) -> None:
    """What holds of any run by its own figures, to the last digit."""
    for row in out["order"]:
        mine = [each for each in out["statements"] if each["product"] == row["product"]]
        assert coop_files.exact(mine, "used_kg") == Decimal(row["used_kg"])
        assert coop_files.exact(mine, "packs") == Decimal(row["packs"])
        assert coop_files.exact(mine, "cost") == Decimal(row["cost"])
        assert Decimal(row["left_over_kg"]) >= 0


@settings(max_examples=120, deadline=None)
@given(coop=coops(), pool=st.booleans(), scenario=st.sampled_from(["", "late"]))
def test_random_coops(coop: dict[str, list[str]], pool: bool, scenario: str) -> None:
    header = coop_files.HEADERS["prices"] + ",scenario"
    coop["products"].insert(0, "z,dry,,25,kg,0,0,0")  # so that both scenarios are known
    coop["prices"][:0] = ["z,1.005,EUR,", "z,2,EUR,late"]
    with tempfile.TemporaryDirectory() as place:
        folder = coop_files.write(Path(place) / "in", coop, prices=header)
        done = price_coop(folder, Path(place) / "out", pool=pool, scenario=scenario)
        agrees(done, plain_loop.priced(folder, pool, scenario))


@pytest.mark.parametrize("pool", [False, True])
@pytest.mark.parametrize("scenario", ["", "early order"])
def test_the_demo_coop(tmp_path: Path, pool: bool, scenario: str) -> None:
    write_demo(tmp_path / "in")
    done = price_coop(tmp_path / "in", tmp_path / "out", pool=pool, scenario=scenario)
    assert agrees(done, plain_loop.priced(tmp_path / "in", pool, scenario)) > 1000
    assert done.members == 200 and done.rows.rejected == 9
    assert done.saving > 0


@pytest.mark.parametrize("kind", ["parquet", "typed parquet", "workbook"])
def test_other_kinds_of_files_give_the_same(tmp_path: Path, kind: str) -> None:
    write_demo(tmp_path / "in")
    if kind == "workbook":
        place = coop_files.as_workbook(tmp_path / "in", tmp_path / "co-op.xlsx")
    else:
        place = coop_files.as_parquet(tmp_path / "in", tmp_path / "other", kind[0] == "t")
    price_coop(tmp_path / "in", tmp_path / "one")
    price_coop(place, tmp_path / "two")
    one, two = coop_files.read(tmp_path / "one"), coop_files.read(tmp_path / "two")
    assert (one["statements"], one["order"]) == (two["statements"], two["order"])
    for left, right in zip(one["rejects"], two["rejects"], strict=True):
        file = {"workbook": "co-op.xlsx:programs"}.get(kind, "programs.parquet")
        assert right == {**left, "file": file}


def test_the_loop_itself_on_a_co_op_reckoned_by_hand(tmp_path: Path) -> None:
    """125 kg of urea for A is 5.51 bags of 22.68 kg; 10 lb on each of 9.884 acres is 44.83 kg."""
    found = plain_loop.priced(coop_files.write(tmp_path, coop_files.SMALL))
    assert found.used["A", "urea"] == 125
    assert float(found.used["B", "urea"]) == pytest.approx(44.8340, abs=1e-4)
    assert float(found.used["A", "solution"]) == pytest.approx(3 * 2.5 * 0.404686 * 1.25, abs=1e-5)
    assert [found.packs[key] for key in sorted(found.packs)] == [1, 6, 2]
    assert [found.cents[key] for key in sorted(found.cents)] == [841, 11850, 3950]  # 840.5 is 841
