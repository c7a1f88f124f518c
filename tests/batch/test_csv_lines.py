"""The lines of CSV, however they are cut: against Python's own reader, and against one another."""

from __future__ import annotations

import csv
import random
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tanksheet.batch import csv_lines, csv_table
from tanksheet.batch.csv_lines import Split, sorted_out, split
from tanksheet.batch.csv_table import CsvTable

FIELDS = 4
HEADER = b"member,block,area,area_unit\n"
TEXTS = ["a", "", "1.5", "x y", "é", "a,b", 'q"r', "two\nlines", "\n", '"', ",", "a\r\nb"]
BAD_LINES = [
    *(b"", b" ", b"a", b"a,b", b"a,b,c,d,e", b'"a,b,c,d', b'a,b,c,d"', b'"a,b', b'a,b"'),
    *(
        b"\xff,b,c,d",
        b'"a"b,c,d,e',
        b"a\rb,c,d,e",
        b'a"b,c,d,e',
        b'"a""b",c,d,e',
        b"\xef\xbb\xbfa,b,c,d",
    ),
]


def rows_of(made: Split) -> dict[int, list[str]]:
    """The rows by place, plain and odd ones."""
    plain = [line.split(",") for line in made.plain.decode().split("\n")[:-1]]
    places = range(made.count) if made.places is None else made.places.tolist()
    return dict(zip(places, plain, strict=True)) | dict(made.rows)


def written(rows: list[list[str]], quoting: int) -> bytes:
    lines = []
    for row in rows:
        parts = []
        for text in row:
            must = quoting == csv.QUOTE_ALL or set(text) & set(',"\n\r')
            parts.append('"' + text.replace('"', '""') + '"' if must else text)
        lines.append(",".join(parts) + "\n")
    return "".join(lines).encode()


ROWS = st.lists(
    st.lists(st.sampled_from(TEXTS), min_size=FIELDS, max_size=FIELDS), min_size=1, max_size=12
)


@given(rows=ROWS, quoting=st.sampled_from([csv.QUOTE_ALL, csv.QUOTE_MINIMAL]))
def test_good_rows_come_out_as_they_went_in(rows: list[list[str]], quoting: int) -> None:
    """Line breaks between quotes become one kind; blank rows of one field are not among these."""
    made = split(written(rows, quoting), FIELDS)
    wanted = [[text.replace("\r\n", "\n") for text in row] for row in rows]
    assert made.rejects == []
    assert list(dict(sorted(rows_of(made).items())).values()) == wanted


@given(
    lines=st.lists(
        st.one_of(
            st.sampled_from(BAD_LINES),
            st.lists(st.sampled_from(TEXTS[:6]), min_size=FIELDS, max_size=FIELDS).map(
                lambda row: written([row], csv.QUOTE_MINIMAL)[:-1]
            ),
            st.text(alphabet='ab,"\n', max_size=9).map(str.encode),
        ),
        min_size=1,
        max_size=12,
    )
)
def test_the_quick_way_and_the_thorough_way_agree(lines: list[bytes]) -> None:
    data = b"\n".join(lines) + b"\n"
    thorough = sorted_out(data, FIELDS)
    with pytest.MonkeyPatch.context() as patch:
        for block in (1, 20, csv_lines.BLOCK):
            patch.setattr(csv_lines, "BLOCK", block)
            frame, quick = csv_table._read(data, FIELDS)  # which goes the thorough way if it must
            assert len(frame) == quick.count + len(quick.rows)
            assert rows_of(quick) == rows_of(thorough)
            assert (quick.rejects, quick.lines) == (thorough.rejects, thorough.lines)
    places = [*rows_of(thorough), *(each.line for each in thorough.rejects)]
    assert len(places) == len(set(places))
    taken = sum(1 + "".join(row).count("\n") for row in rows_of(thorough).values())
    assert taken + len(thorough.rejects) == thorough.lines == data.count(b"\n")


def dirty(seed: int) -> bytes:
    """A file of some hundred rows of every kind."""
    draw = random.Random(seed)
    lines = []
    for _ in range(draw.randint(1, 300)):
        if draw.random() < 0.2:
            lines.append(draw.choice(BAD_LINES) + b"\n")
        else:
            row = [draw.choice(TEXTS[: draw.choice((4, 12))]) for _ in range(FIELDS)]
            lines.append(written([row], draw.choice((csv.QUOTE_ALL, csv.QUOTE_MINIMAL))))
    data = HEADER + b"".join(lines)
    return data if draw.random() < 0.7 else data.rstrip(b"\n")


def all_of(table: CsvTable, in_parts: bool) -> tuple[list[object], list[object]]:
    rows: list[object] = []
    rejects: list[object] = []
    for part in table.parts() if in_parts else [table.whole]:
        for piece in part.rows():
            # A blank is None or "", as the line came out of one reader or the other.
            texts = [[text or "" for text in row] for row in piece.frame.rows()]
            rows += zip(piece.lines.tolist(), texts, strict=True)
            rejects += piece.rejects
    return sorted(rows, key=str), sorted(rejects, key=str)


@pytest.mark.parametrize("seed", range(60))
def test_pieces_and_parts_of_any_size_give_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    path = tmp_path / "blocks.csv"
    path.write_bytes(dirty(seed))
    wanted = all_of(CsvTable(path, "blocks"), False)
    assert len(wanted[0]) + len(wanted[1]) > 0
    for size in (1, 17, 100, 1000):
        monkeypatch.setattr(csv_table, "PIECE", size)
        monkeypatch.setattr(csv_table, "PART", size * 2)
        assert all_of(CsvTable(path, "blocks"), False) == wanted
        assert all_of(CsvTable(path, "blocks"), True) == wanted


def test_python_reads_the_same_good_file(tmp_path: Path) -> None:
    """A file with quotes of every kind, against the csv module on the whole of it."""
    draw = random.Random(1)
    rows = [[draw.choice(TEXTS) for _ in range(FIELDS)] for _ in range(500)]
    path = tmp_path / "blocks.csv"
    path.write_bytes(HEADER + written(rows, csv.QUOTE_MINIMAL).replace(b"\r\n", b"\n"))
    with path.open(encoding="utf-8", newline="") as stream:
        wanted = list(csv.reader(stream))[1:]
    [piece] = CsvTable(path, "blocks").rows()
    assert piece.rejects == []
    order = piece.lines.argsort()
    found = piece.frame.select("member", "block", "area", "area_unit").rows()
    assert [[text or "" for text in found[at]] for at in order] == wanted
