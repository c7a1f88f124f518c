"""Each kind of bad row is rejected with file, line, column, value and reason; each kind of bad file
is refused in one line that names it, and nothing is written."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import polars as pl
import pytest
from openpyxl import Workbook

import coop_files
from tanksheet.batch.coop import price_coop
from tanksheet.cli import main
from tanksheet.errors import TanksheetError

GOOD = coop_files.SMALL["programs"]

# title: table, its lines, and the line, column, value and words of the reason that are wanted
BAD: dict[str, tuple[str, list[str], tuple[int, str, str, str]]] = {
    "unknown member": ("programs", ["C,home,20,urea,1,kg"], (2, "member", "C", "not in members")),
    "unknown block": ("programs", ["A,west,20,urea,1,kg"], (2, "block", "west", "not in blocks")),
    "another's block": ("programs", ["B,river,2,urea,1,kg"], (2, "block", "river", "this member")),
    "unknown product": ("programs", ["A,home,2,lime,1,kg"], (2, "product", "lime", "not in pro")),
    "negative rate": ("programs", ["A,home,2,urea,-1,kg"], (2, "rate", "-1", "below 0")),
    "text in a rate": ("programs", ["A,home,2,urea,12O,kg"], (2, "rate", "12O", "not a number")),
    "decimal comma": ("programs", ['A,home,2,urea,"1,5",kg'], (2, "rate", "1,5", "not a number")),
    "two numbers": ("programs", ["A,home,2,urea,1 5,kg"], (2, "rate", "1 5", "not a number")),
    "unit in the rate": ("programs", ["A,home,2,urea,5kg,kg"], (2, "rate", "5kg", "not a num")),
    "infinite": ("programs", ["A,home,2,urea,inf,kg"], (2, "rate", "inf", "not a number")),
    "no number": ("programs", ["A,home,2,urea,nan,kg"], (2, "rate", "nan", "not a number")),
    "huge": ("programs", ["A,home,2,urea,1e400,kg"], (2, "rate", "1e400", "too large")),
    "more than a farm": ("programs", ["A,home,2,urea,1e9,kg"], (2, "rate", "1e9", "kg in one row")),
    "blank rate": ("programs", ["A,home,2,urea,,kg"], (2, "rate", "", "blank")),
    "wrong unit": ("programs", ["A,home,2,urea,1,oz"], (2, "rate_unit", "oz", "gal/acre")),
    "mixed unit": ("programs", ["A,home,2,urea,1,kg/acre"], (2, "rate_unit", "kg/acre", "lb/acre")),
    "litres of a salt": ("programs", ["A,home,2,urea,1,L"], (2, "rate_unit", "L", "no liquid")),
    "no such week": ("programs", ["A,home,54,urea,1,kg"], (2, "week", "54", "1 to 53")),
    "half a week": ("programs", ["A,home,2.5,urea,1,kg"], (2, "week", "2.5", "whole number")),
    "blanks only": ("programs", [",,,,,"], (2, "member", "", "blank")),
    "spaces only": ("programs", [" , ,, , , "], (2, "member", " ", "blank")),
    "blank line": ("programs", [GOOD[0], "", GOOD[1]], (3, "", "", "blank line")),
    "too few": ("programs", [GOOD[0], "A,home,2"], (3, "", "A,home,2", "too few fields: 3")),
    "too many": ("programs", ["A,home,2,urea,1,kg,x"], (2, "", "A,home,2,urea,1,kg,x", "many")),
    "open quote": ("programs", ['A,"home,2,urea,1,kg', *GOOD], (2, "", "A,", "not closed")),
    "stray quote": ("programs", ['A,"ho"me,2,urea,1,kg'], (2, "", "A,", "must be doubled")),
    "shut quote": ("programs", ['A,home,2,urea,1,kg"'], (2, "", "A,home", "not closed")),
    "member twice": ("members", ["A,x", "B,y", "A,z"], (4, "member", "A", "stands above")),
    "blank member": ("members", ["A,x", "B,y", ",z"], (4, "member", "", "blank")),
    "block twice": (
        "blocks",
        ["A,home,10,ha", "A,river,2,acre", "B,home,4,ha", "A,home,11,ha"],
        (5, "block", "home", "stands above"),
    ),
    "block of nobody": (
        "blocks",
        ["A,home,10,ha", "A,river,2,acre", "B,home,4,ha", "C,home,11,ha"],
        (5, "member", "C", "not in members"),
    ),
    "price twice": (
        "prices",
        ["urea,1,EUR", "solution,2,EUR", "urea,3,EUR"],
        (4, "product", "urea", "stands above"),
    ),
    "another currency": (
        "prices",
        ["urea,1,EUR", "solution,2,EUR", "urea,3,USD"],
        (4, "product", "urea", "stands above"),
    ),
    "price of nothing": (
        "prices",
        ["urea,1,EUR", "solution,2,EUR", "lime,3,EUR"],
        (4, "product", "lime", "not in products"),
    ),
    "product twice": (
        "products",
        [*coop_files.SMALL["products"], "urea,dry,,25,kg,46,0,0"],
        (4, "product", "urea", "stands above"),
    ),
    "no such form": (
        "products",
        [*coop_files.SMALL["products"], "x,gas,,25,kg,46,0,0"],
        (4, "form", "gas", "liquid, dry"),
    ),
    "no density": (
        "products",
        [*coop_files.SMALL["products"], "x,liquid,,25,kg,46,0,0"],
        (4, "density_kgL", "", "blank"),
    ),
    "density in g/L": (
        "products",
        [*coop_files.SMALL["products"], "x,liquid,1250,25,kg,46,0,0"],
        (4, "density_kgL", "1250", "at most 3"),
    ),
    "empty pack": (
        "products",
        [*coop_files.SMALL["products"], "x,dry,,0,kg,46,0,0"],
        (4, "pack", "0", "above 0"),
    ),
    "pack of a salt by the litre": (
        "products",
        [*coop_files.SMALL["products"], "x,dry,,5,L,46,0,0"],
        (4, "pack_unit", "L", "unknown"),
    ),
    "label beyond all": (
        "products",
        [*coop_files.SMALL["products"], "x,dry,,5,kg,146,0,0"],
        (4, "n", "146", "at most 100"),
    ),
}


def outcome(tmp_path: Path, folder: Path) -> coop_files.Output:
    """What came out, after a look at the counts."""
    done = price_coop(folder, tmp_path / "out")
    out = coop_files.read(tmp_path / "out")
    assert done.rows.rejected == len(out["rejects"])
    assert done.rows.accepted + done.rows.rejected == done.rows.read
    return out


@pytest.mark.parametrize("title", BAD)
def test_a_bad_row(tmp_path: Path, title: str) -> None:
    table, lines, (row, column, value, reason) = BAD[title]
    folder = coop_files.write(tmp_path / "in", coop_files.small(**{table: lines}))
    out = outcome(tmp_path, folder)
    [reject] = out["rejects"]
    assert (reject["file"], reject["row"]) == (f"{table}.csv", str(row))
    assert reject["column"] == column and reject["value"].startswith(value)
    assert reason in reject["reason"]
    if table != "programs":
        assert len(out["statements"]) == 3, "the good rows go on"
    else:
        assert len(out["statements"]) == len(set(lines) & set(GOOD))


def test_a_missing_price_and_what_hangs_on_a_rejected_row(tmp_path: Path) -> None:
    tables = coop_files.small(prices=["urea,,EUR", "solution,2,EUR"], blocks=["A,home,x,ha"])
    tables["products"].append("bad,dry,,0,kg,0,0,0")
    tables["programs"] = ["A,river,1,solution,1,L", "A,home,1,urea,1,kg", "A,home,1,bad,1,kg"]
    folder = coop_files.write(tmp_path / "in", tables)
    told = {(r["file"], r["row"]): r["reason"] for r in outcome(tmp_path, folder)["rejects"]}
    assert told["prices.csv", "2"] == "blank"
    assert told["programs.csv", "2"] == "not in blocks for this member"
    assert told["programs.csv", "3"] == "its row in blocks for this member was rejected"
    tables["blocks"] = ["A,home,1,ha"]
    folder = coop_files.write(tmp_path / "in", tables)
    told = {(r["file"], r["row"]): r["reason"] for r in outcome(tmp_path, folder)["rejects"]}
    assert told["programs.csv", "3"] == "no price in prices"
    assert told["programs.csv", "4"] == "its row in products was rejected"


def test_two_currencies(tmp_path: Path) -> None:
    tables = coop_files.small(prices=["urea,1,EUR", "solution,2,USD"])
    out = outcome(tmp_path, coop_files.write(tmp_path / "in", tables))
    assert [(r["column"], r["value"]) for r in out["rejects"]] == [
        ("currency", "USD"),
        ("product", "solution"),
    ]


@pytest.mark.parametrize(
    "line",
    [" A , home ,20, urea , 12.5 , KG/HA ", '"A","home","20","urea","12.5","kg/ha"',
     'A,home,"20",urea,+1.25e1,kg/ha', "A,home,,urea,12.5,kg/ha"],
)  # fmt: skip
def test_rows_that_are_good_all_the_same(tmp_path: Path, line: str) -> None:
    folder = coop_files.write(tmp_path / "in", coop_files.small(programs=[line]))
    out = outcome(tmp_path, folder)
    assert out["rejects"] == []
    assert [row["used_kg"] for row in out["statements"]] == ["125"]


def spread_row(tmp_path: Path) -> Path:
    """A member's name with line breaks, and a program row with one."""
    tables = coop_files.small(members=['A,"Alder\n\nAcre, ""old"""', "B,Birch"])
    tables["programs"] = [GOOD[0], 'A,"ho\nme",20,urea,1,kg', GOOD[1], "A,home,20,urea,x,kg"]
    return coop_files.write(tmp_path / "in", tables)


def test_a_line_break_between_quotes(tmp_path: Path) -> None:
    """It is one row, named by its first line; the rows behind it have their own lines still."""
    out = outcome(tmp_path, spread_row(tmp_path))
    assert [(row["row"], row["value"]) for row in out["rejects"]] == [("3", "ho\nme"), ("6", "x")]
    assert len(out["statements"]) == 2


def test_a_forgotten_quote_swallows_nothing(tmp_path: Path) -> None:
    lines = [GOOD[0], 'A,"home,20,urea,1,kg', *GOOD, 'B,home",20,urea,1,kg', GOOD[1]]
    folder = coop_files.write(tmp_path / "in", coop_files.small(programs=lines))
    done = price_coop(folder, tmp_path / "out")
    assert done.counts["programs.csv"].accepted == 5
    assert [row["row"] for row in coop_files.read(tmp_path / "out")["rejects"]] == ["3", "7"]


def test_a_bad_byte(tmp_path: Path) -> None:
    folder = coop_files.write(tmp_path / "in", coop_files.SMALL)
    path = folder / "programs.csv"
    path.write_bytes(
        path.read_bytes().replace(b"B,home", b"B\xe9,home").replace(b"A,h", "Ä,h".encode())
    )
    out = outcome(tmp_path, folder)
    assert [(r["row"], r["column"], r["value"][:5]) for r in out["rejects"]] == [
        ("2", "member", "Ä"),
        ("3", "", "B\\xe9"),
    ]
    assert "UTF-8" in out["rejects"][1]["reason"]


@pytest.mark.parametrize("change", ["bom", "crlf", "both", "no last line break", "column order"])
def test_good_files_of_other_habits(tmp_path: Path, change: str) -> None:
    plain = coop_files.write(tmp_path / "plain", coop_files.SMALL)
    price_coop(plain, tmp_path / "wanted")
    folder = coop_files.write(tmp_path / "in", coop_files.SMALL)
    for path in folder.iterdir():
        data = path.read_bytes()
        if change in ("crlf", "both"):
            data = data.replace(b"\n", b"\r\n")
        if change in ("bom", "both"):
            data = b"\xef\xbb\xbf" + data
        if change == "no last line break":
            data = data.rstrip(b"\n")
        if change == "column order":
            rows = [line.split(",") for line in data.decode().splitlines()]
            data = "".join(",".join(["note", *reversed(row)]) + "\n" for row in rows).encode()
        path.write_bytes(data)
    price_coop(folder, tmp_path / "out")
    for name in ("statements.csv", "order.csv", "rejects.csv"):
        assert (tmp_path / "out" / name).read_bytes() == (tmp_path / "wanted" / name).read_bytes()


def parquet_of_text(folder: Path) -> None:
    (folder / "programs.csv").rename(folder / "programs.parquet")


def cut_parquet(folder: Path) -> None:
    pl.read_csv(folder / "programs.csv").write_parquet(folder / "programs.parquet")
    (folder / "programs.csv").unlink()
    data = (folder / "programs.parquet").read_bytes()
    (folder / "programs.parquet").write_bytes(data[: len(data) // 2])


def without(*names: str) -> Callable[[Path], None]:
    def work(folder: Path) -> None:
        for name in names:
            (folder / name).unlink()

    return work


def folder_for_file(folder: Path) -> None:
    (folder / "prices.csv").unlink()
    (folder / "prices.csv").mkdir()


def rewritten(name: str, change: Callable[[bytes], bytes]) -> Callable[[Path], None]:
    def work(folder: Path) -> None:
        (folder / name).write_bytes(change((folder / name).read_bytes()))

    return work


FILES: dict[str, tuple[Callable[[Path], object], tuple[str, ...]]] = {
    "missing": (without("prices.csv"), ("prices.csv", "lacks")),
    "two missing": (without("prices.csv", "blocks.csv"), ("blocks.csv, prices.csv",)),
    "a folder": (folder_for_file, ("prices.csv", "lacks")),
    "empty": (rewritten("blocks.csv", lambda _: b""), ("blocks.csv", "empty")),
    "blank": (rewritten("blocks.csv", lambda _: b"\n \n"), ("blocks.csv", "empty")),
    "blank first line": (rewritten("blocks.csv", lambda d: b"\n" + d), ("blocks.csv", "blank")),
    "UTF-16": (
        rewritten("members.csv", lambda d: d.decode().encode("utf-16")),
        ("members.csv", "UTF-16"),
    ),
    "UTF-16 without a mark": (
        rewritten("members.csv", lambda d: d.decode().encode("utf-16-le")),
        ("members.csv", "UTF-16"),
    ),
    "semicolons": (
        rewritten("prices.csv", lambda d: d.replace(b",", b";")),
        ("prices.csv", "semicolons"),
    ),
    "tabs": (rewritten("prices.csv", lambda d: d.replace(b",", b"\t")), ("prices.csv", "tabs")),
    "CR alone": (rewritten("prices.csv", lambda d: d.replace(b"\n", b"\r")), ("prices.csv", "CR")),
    "a column missing": (
        rewritten("programs.csv", lambda d: d.replace(b"rate_unit", b"unit", 1)),
        ("programs.csv", "lacks rate_unit", "'unit'"),
    ),
    "a column twice": (
        rewritten("programs.csv", lambda d: d.replace(b"week", b"rate", 1)),
        ("programs.csv", "rate twice"),
    ),
    "header in Latin 1": (
        rewritten("programs.csv", lambda d: d.replace(b"week", b"w\xe9ek", 1)),
        ("programs.csv", "header"),
    ),
    "no Parquet": (parquet_of_text, ("programs.parquet", "cannot be read")),
    "half a Parquet": (cut_parquet, ("programs.parquet", "cannot be read")),
    "both kinds": (
        lambda f: pl.read_csv(f / "prices.csv").write_parquet(f / "prices.parquet"),
        ("prices.csv", "prices.parquet"),
    ),
    "every price in a scenario": (
        rewritten("prices.csv", lambda _: b"product,price,currency,scenario\nurea,1,EUR,late\n"),
        ("prices.csv", "--scenario", "late"),
    ),
}


@pytest.mark.parametrize("title", FILES)
def test_a_file_that_cannot_be_used(
    tmp_path: Path, title: str, capsys: pytest.CaptureFixture[str]
) -> None:
    change, words = FILES[title]
    folder = coop_files.write(tmp_path / "in", coop_files.SMALL)
    change(folder)
    assert main(["batch", str(folder), "--out", str(tmp_path / "out")]) == 2
    said = capsys.readouterr()
    assert said.out == "" and said.err.count("\n") == 1
    assert all(word in said.err for word in words), said.err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (["nowhere", "--out", "out"], "nowhere"),
        (["in"], "--out"),
        (["in/prices.csv", "--out", "out"], "prices.csv"),
        (["in", "--out", "in/prices.csv"], "prices.csv"),
        (["in", "--out", "out", "--scenario", "spring"], "spring"),
        (["in", "--demo"], "members.csv"),
        (["book.xlsx", "--out", "out"], "blocks, products"),
    ],
)
def test_bad_arguments(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    arguments: list[str],
    word: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    coop_files.write(tmp_path / "in", coop_files.SMALL)
    book = Workbook()
    book.active.title = "members"
    book.active.append(["member", "name"])
    book.save("book.xlsx")
    assert main(["batch", *arguments]) == 2
    said = capsys.readouterr()
    assert said.err.count("\n") == 1 and word in said.err
    assert not Path("out").exists()


def test_a_header_alone_is_no_fault(tmp_path: Path) -> None:
    folder = coop_files.write(tmp_path / "in", coop_files.small(programs=[]))
    assert outcome(tmp_path, folder) == {"statements": [], "order": [], "rejects": []}
    folder = coop_files.write(tmp_path / "in", {name: [] for name in coop_files.SMALL})
    assert outcome(tmp_path, folder)["statements"] == []


def test_every_row_bad(tmp_path: Path) -> None:
    folder = coop_files.write(tmp_path / "in", coop_files.small(programs=["x"] * 50))
    assert [row["row"] for row in outcome(tmp_path, folder)["rejects"]] == [
        str(line) for line in range(2, 52)
    ]


def test_too_much_for_one_cell(tmp_path: Path) -> None:
    lines = ["A,home,1,urea,9e7,kg"] * 11
    folder = coop_files.write(tmp_path / "in", coop_files.small(programs=lines))
    with pytest.raises(TanksheetError, match="922,337 t of one product"):
        price_coop(folder, tmp_path / "out")
    folder = coop_files.write(tmp_path / "in", coop_files.small(programs=lines[:10]))
    assert outcome(tmp_path, folder)["statements"][0]["used_kg"] == "900000000"


def test_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = coop_files.write(tmp_path / "in", coop_files.small(programs=[*GOOD, "x"]))
    assert main(["batch", str(folder), "--out", str(tmp_path / "out"), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["rows"] == {"read": 13, "accepted": 12, "rejected": 1}
    assert told["files"]["programs.csv"] == {"read": 4, "accepted": 3, "rejected": 1}
    assert (told["packs"], told["cost"], told["currency"]) == (9, 166.41, "EUR")
