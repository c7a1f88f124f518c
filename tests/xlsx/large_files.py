"""Files of about 1 MB that unpack to much, each in one way, and honest files that are merely big.

``size`` is about how many bytes the largest part of a file unpacks to.
"""

from __future__ import annotations

import itertools
import random
import zipfile
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path

from tanksheet.xlsx.reading import BOOK, LINKS, MAIN, RELATIONS, TYPES
from tanksheet.xlsx.writing import read_parts

SHEET = "xl/worksheets/big.xml"
STRINGS = "xl/sharedStrings.xml"
CHUNK = 1 << 20
Pieces = Iterator[str]


def many(text: Callable[[int], str], size: int) -> Pieces:
    """text(0), text(1) and so on, until they are as long as wanted."""
    done = 0
    for first in itertools.count(0, 1000):
        chunk = "".join(text(number) for number in range(first, first + 1000))
        done += len(chunk)
        yield chunk
        if done >= size:
            return


def long(text: str, size: int) -> Pieces:
    chunk = text * (CHUNK // len(text))
    yield from itertools.repeat(chunk, max(1, size // len(chunk)))


def noise() -> Iterator[str]:
    """Some bytes that do not pack, since the ratio of packing has a limit of its own."""
    chance = random.Random(1)
    while True:
        yield chance.randbytes(4_000).hex()


def noisy(pieces: Pieces) -> Pieces:
    for piece, some in zip(pieces, noise(), strict=False):
        yield f"{piece}<!-- {some} -->"


def sheet(*inside: Pieces | str, before: str = "", after: str = "") -> Pieces:
    yield f'<worksheet xmlns="{MAIN}">{before}<sheetData>'
    for each in inside:
        yield from [each] if isinstance(each, str) else each
    yield f"</sheetData>{after}</worksheet>"


def write(path: Path, base: bytes, changes: Mapping[str, Pieces | str]) -> Path:
    """The workbook ``base`` with one more sheet, called Big, and with these changes.

    A new text for SHEET is the whole sheet, one for BOOK goes among the names; any other is a part
    of its own.
    """
    parts = read_parts(base)
    _add(parts, BOOK, "</sheets>", '<sheet name="Big" sheetId="99" r:id="rIdBig"/>{}')
    _add(parts, BOOK, "</definedNames>", f"{FIRST}{{}}")
    _add(parts, LINKS, "</Relationships>", f"{LINK}{{}}")
    _add(parts, TYPES, "</Types>", f"{KIND}{{}}")
    no_strings = f'<sst xmlns="{MAIN}"/>'
    changed: dict[str, Pieces | str] = {SHEET: "".join(sheet(ONE)), STRINGS: no_strings, **changes}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as file:
        for name, content in parts.items():
            inside = changed.pop(name, "")
            end = "</definedNames>" if name == BOOK else ""
            head, tail = content.decode("latin-1").rsplit(end, 1) if end else ("", "")
            pieces = [head, *([inside] if isinstance(inside, str) else inside), end + tail]
            _store(file, name, pieces if end else [content.decode("latin-1")])
        for name, new in changed.items():
            _store(file, name, [new] if isinstance(new, str) else new)
    return path


def _add(parts: dict[str, bytes], part: str, end: str, text: str) -> None:
    before, after = parts[part].decode().rsplit(end, 1)
    parts[part] = (before + text.format(end) + after).encode()


def _store(file: zipfile.ZipFile, name: str, pieces: Iterable[str]) -> None:
    with file.open(name, "w", force_zip64=True) as stream:
        for piece in pieces:
            stream.write(piece.encode("latin-1"))


FIRST = '<definedName name="first">Big!$A$1</definedName>'
ONE = '<row r="1"><c r="A1"><v>1</v></c></row>'
LINK = (
    f'<Relationship Id="rIdBig" Type="{RELATIONS}/worksheet" Target="worksheets/big.xml"/>'
    f'<Relationship Id="rIdWords" Type="{RELATIONS}/sharedStrings" Target="sharedStrings.xml"/>'
)
SPREADSHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml"
KIND = (
    f'<Override PartName="/{SHEET}" ContentType="{SPREADSHEET}.worksheet+xml"/>'
    f'<Override PartName="/{STRINGS}" ContentType="{SPREADSHEET}.sharedStrings+xml"/>'
)


def name(number: int) -> str:
    return f'<definedName name="n{number}">Big!$A$1:$J$10000</definedName>'


def row(number: int) -> str:
    cells = "".join(f'<c r="{letter}{number + 1}"><v>{number}</v></c>' for letter in "ABCDEFGH")
    return f'<row r="{number + 1}">{cells}</row>'


def text_cell(size: int) -> Pieces:
    start, end = '<row r="1"><c r="A1" t="inlineStr"><is><t>', "</t></is></c></row>"
    return sheet(start, noisy_text("x", size), end)


def noisy_text(text: str, size: int) -> Pieces:
    for piece, some in zip(long(text, size), noise(), strict=False):
        yield piece + some


def attribute(size: int) -> Pieces:
    return sheet('<row r="1"><c r="A1" x="', noisy_text("y", size), '"><v>1</v></c></row>')


def deep(size: int) -> Pieces:
    yield f'<worksheet xmlns="{MAIN}">'
    yield from noisy(long("<a>", size))


HOSTILE: dict[str, Callable[[int], dict[str, Pieces | str]]] = {
    "names": lambda size: {BOOK: many(name, size)},
    "one long name": lambda size: {
        BOOK: itertools.chain(['<definedName name="n">'], noisy_text("1+", size), [END])
    },
    "elements among the names": lambda size: {BOOK: noisy(long("<a/>", size))},
    "cells": lambda size: {SHEET: sheet(many(row, size))},
    "tiny cells": lambda size: {SHEET: sheet('<row r="1">', noisy(long("<c/>", size)), "</row>")},
    "array formulas": lambda size: {
        SHEET: sheet(
            many(
                lambda i: (
                    f'<row r="{i + 1}"><c r="A{i + 1}"><f t="array" ref="A{i + 1}">1</f></c></row>'
                ),
                size,
            )
        )
    },
    "empty numbers": lambda size: {
        SHEET: sheet(many(lambda i: f'<row r="{i + 1}"><c r="A{i + 1}" t="n"/></row>', size))
    },
    "elements side by side": lambda size: {SHEET: sheet(noisy(long("<a/>", size)))},
    "elements in each other": lambda size: {SHEET: deep(size)},
    "words for elements": lambda size: {SHEET: sheet(many(lambda i: f"<a{i:x}/>", size))},
    "shared strings": lambda size: {
        STRINGS: itertools.chain(
            [f'<sst xmlns="{MAIN}">'],
            many(lambda i: f"<si><t>{i}</t></si>", size),
            ["</sst>"],
        )
    },
    "one text": lambda size: {SHEET: text_cell(size)},
    "one attribute": lambda size: {SHEET: attribute(size)},
    "one comment": lambda size: {
        SHEET: sheet("<!-- ", noisy_text("z", size), ' --><row r="1"><c r="A1"/></row>')
    },
    "many parts": lambda size: {
        f"xl/media/{i}.xml": "<a/>" for i in range(10_001 + min(size // 10_000, 50_000))
    },
    "links": lambda size: {
        "xl/worksheets/_rels/big.xml.rels": itertools.chain(
            ["<Relationships>"],
            many(lambda i: f'<Relationship Id="r{i}" Target="a{i}.xml"/>', size),
            ["</Relationships>"],
        )
    },
}
END = "</definedName>"
