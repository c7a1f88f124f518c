"""A workbook of one sheet that is written letter by letter."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Sequence
from pathlib import Path

SPACE = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
LINKED = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"


def one_sheet(
    folder: Path,
    rows: str,
    prefix: str = "",
    encoding: str = "utf-8",
    strings: str = "",
    strings_part: str = "xl/sharedStrings.xml",
    more: Sequence[str] = (),
    space: str = SPACE,
    data: str = "<sheetData>{}</sheetData>",
) -> Path:
    """Sheet Mix with these rows, ``more`` sheets with the same, and shared strings.

    With a prefix every element of the sheet bears it.
    """
    path = folder / "mix.xlsx"
    titles = ["Mix", *more]
    markup = f'<worksheet xmlns="{space}">{data.format(rows)}</worksheet>'
    parts = {f"xl/worksheets/s{i}.xml": _said(markup, prefix, encoding) for i in range(len(titles))}
    links = [
        f'Id="r{i}" Type="{LINKED}/worksheet" Target="worksheets/s{i}.xml"'
        for i in range(len(titles))
    ]
    types = [
        f'PartName="/xl/worksheets/s{i}.xml" ContentType="{KIND}.worksheet+xml"'
        for i in range(len(titles))
    ]
    if strings:
        parts[strings_part] = f'<sst xmlns="{space}">{strings}</sst>'.encode()
        target = strings_part.removeprefix("xl/")
        links.append(f'Id="rs" Type="{LINKED}/sharedStrings" Target="{target}"')
        types.append(f'PartName="/{strings_part}" ContentType="{KIND}.sharedStrings+xml"')
    sheets = "".join(
        f'<sheet name="{title}" sheetId="{i + 1}" r:id="r{i}"/>' for i, title in enumerate(titles)
    )
    parts |= {
        "xl/workbook.xml": f'<workbook xmlns="{space}" xmlns:r="{LINKED}">'
        f"<sheets>{sheets}</sheets></workbook>".encode(),
        "xl/_rels/workbook.xml.rels": _links(links),
        "_rels/.rels": _links([f'Id="r1" Type="{LINKED}/officeDocument" Target="xl/workbook.xml"']),
        "[Content_Types].xml": _types(types),
    }
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        for name, content in parts.items():
            file.writestr(name, content)
    return path


def _said(markup: str, prefix: str, encoding: str) -> bytes:
    if prefix:
        markup = re.sub(r"<(/?)(?=\w+[\s/>])", rf"<\1{prefix}", markup)
        markup = markup.replace("xmlns=", f"xmlns:{prefix.rstrip(':')}=", 1)
    declared = "UTF-16" if encoding.startswith("utf-16") else "UTF-8"
    text = f'<?xml version="1.0" encoding="{declared}"?>\n{markup}'
    return text.encode(encoding)


def _links(lines: list[str]) -> bytes:
    inside = "".join(f"<Relationship {line}/>" for line in lines)
    return f'<Relationships xmlns="{PACKAGE}/relationships">{inside}</Relationships>'.encode()


def _types(lines: list[str]) -> bytes:
    book = f'PartName="/xl/workbook.xml" ContentType="{KIND}.sheet.main+xml"'
    inside = "".join(f"<Override {line}/>" for line in [book, *lines])
    return (
        f'<Types xmlns="{PACKAGE}/content-types"><Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Default Extension="xml" ContentType="application/xml"/>{inside}</Types>'
    ).encode()
