"""Tables that are read all rows at once give what they give row by row, or are left to that."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tanksheet.batch import at_once, masters
from tanksheet.batch.csv_table import CsvTable

ODD = (
    *("", " ", " A", "A ", "é", "\x1f", "1e3", "+4", ".5", "5.", "-1", "0", "0.0", "1e-9", "inf"),
    *("nan", "1,5", "١", "99999999999", "HA", "ha", "acre ", "hectare", "\u2007", "00012.50"),
)


def drawn(draw: random.Random, odd: float) -> tuple[list[str], list[str]]:
    """Rows of members and of blocks, with a share of odd cells."""

    def cell(usual: str) -> str:
        return draw.choice(ODD) if draw.random() < odd else usual

    count = draw.randint(1, 30)
    members = [f"{cell(f'M{i}')},{cell('Hill farm')}" for i in range(count)]
    blocks = [
        ",".join(
            (
                cell(f"M{draw.randrange(count)}"),
                cell(f"B{i}" if draw.random() < 0.95 else "B0"),
                cell(f"{draw.uniform(0.001, 900):.{draw.randint(0, 12)}f}"),
                cell(draw.choice(["ha", "acre", "m2"])),
            )
        )
        for i in range(draw.randint(1, 40))
    ]
    return members, blocks


def tables(folder: Path, members: list[str], blocks: list[str]) -> tuple[CsvTable, CsvTable]:
    for name, header, rows in (
        ("members", "member,name", members),
        ("blocks", "member,block,area,area_unit", blocks),
    ):
        text = "\n".join([header, *rows]) + "\n"
        (folder / f"{name}.csv").write_text(text.replace('"', ""), encoding="utf-8")
    return CsvTable(folder / "members.csv", "members"), CsvTable(folder / "blocks.csv", "blocks")


@pytest.mark.parametrize("odd", [0.0, 0.01, 0.2])
def test_the_same_as_row_by_row(
    odd: float, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    draw, quick = random.Random(7), 0
    for _ in range(60):
        found = tables(tmp_path, *drawn(draw, odd))
        members = masters.members(found[0])
        blocks = masters.blocks(found[1], members)
        quick += at_once.members(found[0]) is not None
        with monkeypatch.context() as slow:
            slow.setattr(at_once, "members", lambda *_: None)
            slow.setattr(at_once, "blocks", lambda *_: None)
            again = masters.members(found[0])
            assert members == again
            assert list(members.rows) == list(again.rows)
            assert blocks == masters.blocks(found[1], again)
    assert quick == 60 if odd == 0 else quick < 60


def test_sound_blocks_are_read_at_once(tmp_path: Path) -> None:
    found = tables(tmp_path, ["M1,Ann"], ["M1,B1,2.5,ha", "M1,B2,10,acre"])
    rows = at_once.blocks(found[1], {"M1": "Ann"}, {"ha": 1.0, "acre": 0.40468564224})
    assert rows == {("M1", "B1"): 2.5, ("M1", "B2"): 10 * 0.40468564224}


@pytest.mark.parametrize(
    "block",
    ["M2,B1,2.5,ha", "M1,B1,0,ha", "M1,B1,1e3,ha", "M1,B1,2.5,HA", "M1, B1,2.5,ha", "M1,,2,ha"],
)
def test_one_odd_block_leaves_all_to_the_rule(tmp_path: Path, block: str) -> None:
    found = tables(tmp_path, ["M1,Ann"], ["M1,B9,2.5,ha", block])
    assert at_once.blocks(found[1], {"M1": "Ann"}, {"ha": 1.0}) is None


def test_a_block_twice_leaves_all_to_the_rule(tmp_path: Path) -> None:
    found = tables(tmp_path, ["M1,Ann"], ["M1,B1,2.5,ha", "M1,B1,3.5,ha"])
    assert at_once.blocks(found[1], {"M1": "Ann"}, {"ha": 1.0}) is None
