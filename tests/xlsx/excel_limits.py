"""What Excel asks of a workbook beyond the schemas: sizes, and numbers that lead somewhere.

Limits: "Excel specifications and limits" (the program's published list): cell text, formula 8,192
characters and 64 levels, column 255 wide, row 409 points high. Names of at most 255 characters
that are no cell: the program's help on names. Titles of 32, prompts of 255 and errors of 225
characters, lists of 255: XlsxWriter's documentation, which found them by trial. A name's formula
of 7,992 characters: public reports, no document known.
"""

from __future__ import annotations

import functools
import posixpath
import re
from collections.abc import Iterable, Iterator, Mapping
from xml.etree import ElementTree

from openpyxl.formula import Tokenizer

from format_check import TYPES, content_of, content_types
from tanksheet.xlsx.address import Block, block, looks_like_cell
from tanksheet.xlsx.reading import BOOK, MAIN, RELATIONS

Parts = Mapping[str, bytes]
LONGEST_FORMULA, DEEPEST, LONGEST_NAMED = 8_192, 64, 7_992
LONGEST_TEXT = 32_767
RULE_LIMITS = {"promptTitle": 32, "errorTitle": 32, "prompt": 255, "error": 225}
BUILT_IN_FORMATS = 163  # numFmtId up to here are the program's own (ECMA-376 part 1, 18.8.30)


def broken_limits(parts: Parts) -> list[str]:
    """Everything in a package that Excel would refuse, repair or cut short."""
    found = [*_links(parts), *_book(parts[BOOK])]
    styles = ElementTree.fromstring(parts["xl/styles.xml"])
    found += [f"xl/styles.xml: {fault}" for fault in _styles(styles)]
    counts = {name: len(_all(styles, f"{name}/*")) for name in ("cellXfs", "dxfs")}
    strings = parts.get("xl/sharedStrings.xml")
    counts["sst"] = len(ElementTree.fromstring(strings)) if strings else 0
    for name, content in parts.items():
        if name.startswith("xl/worksheets/") and name.endswith(".xml"):
            sheet = ElementTree.fromstring(content)
            found += [f"{name}: {fault}" for fault in _sheet(sheet, counts)]
    return found


def _all(root: ElementTree.Element, path: str) -> list[ElementTree.Element]:
    steps = [step if step == "*" else f"{{{MAIN}}}{step}" for step in path.split("/")]
    return root.findall("/".join(steps))


def _number(element: ElementTree.Element, name: str, otherwise: str = "0") -> int:
    return int(element.get(name, otherwise))


# the package


def _links(parts: Parts) -> Iterator[str]:
    """ECMA-376 part 2: each part has a type, each link leads to a part, each id is given once."""
    contents = content_types(parts[TYPES])
    for name in contents:
        if name.startswith("/") and name[1:] not in parts:
            yield f"{TYPES}: it lists {name}, which is not there"
    for name in parts:
        if name != TYPES and not content_of(name, contents):
            yield f"{name} has no content type"
        if name.endswith(".rels"):
            yield from _targets(name, parts)
        elif name.endswith(".xml"):
            yield from _uses_of_links(name, parts)


def _rels(name: str, parts: Parts) -> list[ElementTree.Element]:
    folder, file = posixpath.split(name)
    home = f"{folder}/_rels/{file}.rels"
    return list(ElementTree.fromstring(parts[home])) if home in parts else []


def _targets(name: str, parts: Parts) -> Iterator[str]:
    folder = posixpath.dirname(posixpath.dirname(name))
    tree = ElementTree.fromstring(parts[name])
    yield from (f"{name}: {fault}" for fault in _twice("link", (str(e.get("Id")) for e in tree)))
    for link in tree:
        target = posixpath.normpath(posixpath.join("/", folder, link.get("Target", "")))
        if link.get("TargetMode") != "External" and target[1:] not in parts:
            yield f"{name}: {link.get('Id')} leads to {target}, which is not there"


def _uses_of_links(name: str, parts: Parts) -> Iterator[str]:
    known = {link.get("Id") for link in _rels(name, parts)}
    for element in ElementTree.fromstring(parts[name]).iter():
        for key, value in element.attrib.items():
            if key.startswith(f"{{{RELATIONS}}}") and value not in known:
                yield f"{name}: {value} is no link of this part"


# the workbook


def _book(part: bytes) -> Iterator[str]:
    root = ElementTree.fromstring(part)
    sheets = [str(sheet.get("name")) for sheet in _all(root, "sheets/sheet")]
    yield from _twice("sheet", sheets)
    yield from _twice("sheetId", (str(s.get("sheetId")) for s in _all(root, "sheets/sheet")))
    for title in sheets:
        odd = re.search(r"[\[\]:*?/\\]", title) or title[:1] == "'" or title[-1:] == "'"
        if not 1 <= len(title) <= 31 or odd:
            yield f"no sheet can be called {title!r}"
    if all(sheet.get("state") in ("hidden", "veryHidden") for sheet in _all(root, "sheets/sheet")):
        yield "every sheet is hidden"
    names = _all(root, "definedNames/definedName")
    yield from _twice("name", (f"{n.get('name')} {n.get('localSheetId', '')}" for n in names))
    for name in names:
        yield from _name(name, len(sheets))


def _name(element: ElementTree.Element, sheets: int) -> Iterator[str]:
    name, text = element.get("name", ""), element.text or ""
    if not re.fullmatch(r"[^\W\d][\w.]*", name) or len(name) > 255 or looks_like_cell(name):
        yield f"{name!r} cannot be a name"
    if len(element.get("comment", "")) > 255:
        yield f"the comment of {name} has more than 255 characters"
    if not 1 <= len(text) <= LONGEST_NAMED:
        yield f"the formula of {name} has {len(text)} characters"
    if _number(element, "localSheetId") >= sheets:
        yield f"{name} belongs to a sheet that is not there"
    yield from (f"{name}: {fault}" for fault in _formula(text))


def _twice(what: str, names: Iterable[str]) -> Iterator[str]:
    seen: set[str] = set()
    for name in names:
        if name.casefold() in seen:
            yield f"two of the kind {what} are called {name!r}"
        seen.add(name.casefold())


@functools.cache
def _formula(text: str) -> list[str]:
    found = []
    if len(text) > LONGEST_FORMULA:
        found.append(f"a formula has {len(text)} characters")
    depth = deepest = 0
    for token in Tokenizer(f"={text}").items:
        if token.type in ("FUNC", "PAREN"):
            depth += 1 if token.subtype == "OPEN" else -1
        deepest = max(deepest, depth)
    if deepest > DEEPEST:
        found.append(f"a formula has {deepest} levels")
    return found


# styles


def _styles(root: ElementTree.Element) -> Iterator[str]:
    formats = [_number(each, "numFmtId") for each in _all(root, "numFmts/numFmt")]
    yield from _twice("numFmt", map(str, formats))
    yield from (f"numFmtId {n} belongs to the program" for n in formats if n <= BUILT_IN_FORMATS)
    sizes = {
        "fontId": len(_all(root, "fonts/font")),
        "fillId": len(_all(root, "fills/fill")),
        "borderId": len(_all(root, "borders/border")),
        "xfId": len(_all(root, "cellStyleXfs/xf")),
    }
    for xf in (*_all(root, "cellXfs/xf"), *_all(root, "cellStyleXfs/xf")):
        for key, size in sizes.items():
            if _number(xf, key) >= size:
                yield f"an xf has {key} {xf.get(key)}, and there are {size}"
        used = _number(xf, "numFmtId")
        if used > BUILT_IN_FORMATS and used not in formats:
            yield f"an xf has numFmtId {used}, which is not defined"
    for own in _all(root, "dxfs/dxf/numFmt"):
        if _number(own, "numFmtId") <= BUILT_IN_FORMATS:
            yield f"a dxf has numFmtId {own.get('numFmtId')}, which belongs to the program"
    for block_name in ("numFmts", "fonts", "fills", "borders", "cellXfs", "dxfs"):
        for element in _all(root, block_name):
            if _number(element, "count", str(len(element))) != len(element):
                yield f"{block_name} says it has {element.get('count')}, and has {len(element)}"


# sheets


def _sheet(root: ElementTree.Element, counts: Mapping[str, int]) -> Iterator[str]:
    yield from _cells(root, counts)
    for column in _all(root, "cols/col"):
        if float(column.get("width", 0)) > 255 or _number(column, "max") > 16_384:
            yield f"column {column.get('min')} is {column.get('width')} wide"
    for rule in _all(root, "conditionalFormatting/cfRule"):
        none_needed = rule.get("type") in ("colorScale", "dataBar", "iconSet")
        if not none_needed and _number(rule, "dxfId", "-1") not in range(counts["dxfs"]):
            yield f"a conditional format has dxfId {rule.get('dxfId')}"
        yield from _formulas_in(rule)
    for rule in _all(root, "dataValidations/dataValidation"):
        for key, most in RULE_LIMITS.items():
            if len(rule.get(key, "")) > most:
                yield f"{rule.get('sqref')}: its {key} has {len(rule.get(key, ''))} characters"
        yield from _formulas_in(rule, most=255 if rule.get("type") == "list" else LONGEST_FORMULA)
    yield from _overlaps([block("", str(m.get("ref"))) for m in _all(root, "mergeCells/mergeCell")])
    rules = _all(root, "dataValidations/dataValidation")
    reaches = [reach for rule in rules for reach in rule.get("sqref", "").split()]
    yield from _overlaps([block("", reach) for reach in reaches])


def _formulas_in(rule: ElementTree.Element, most: int = LONGEST_FORMULA) -> Iterator[str]:
    for formula in rule:
        text = formula.text or ""
        length = len(text.strip('"'))  # the quotes around a list that is spelled out do not count
        if length > most:
            yield f"{rule.get('sqref')}: a rule has {length} characters"
        yield from _formula(text)


def _cells(root: ElementTree.Element, counts: Mapping[str, int]) -> Iterator[str]:
    last = (0, 0)
    for row in _all(root, "sheetData/row"):
        if float(row.get("ht", 0)) > 409:
            yield f"row {row.get('r')} is {row.get('ht')} high"
        for cell in row:
            where = block("", str(cell.get("r"))).first
            if where.row != _number(row, "r") or (where.row, where.column) <= last:
                yield f"{cell.get('r')} stands out of order"
            last = (where.row, where.column)
            if _number(cell, "s") >= counts["cellXfs"]:
                yield f"{cell.get('r')} has style {cell.get('s')}"
            yield from (f"{cell.get('r')}: {fault}" for fault in _content(cell, counts["sst"]))


def _content(cell: ElementTree.Element, strings: int) -> Iterator[str]:
    value = cell.findtext(f"{{{MAIN}}}v")
    if cell.get("t") == "s" and int(value or -1) not in range(strings):
        yield f"shared string {value} is not there"
    text = cell.findtext(f".//{{{MAIN}}}t") or (value or "")
    if len(text) > LONGEST_TEXT:
        yield f"it holds {len(text)} characters"
    formula = cell.findtext(f"{{{MAIN}}}f")
    if formula is not None:
        yield from _formula(formula)


def _overlaps(blocks: list[Block]) -> Iterator[str]:
    taken: dict[tuple[int, int], Block] = {}
    for each in blocks:
        for where in each:
            other = taken.setdefault((where.row, where.column), each)
            if other is not each:
                yield f"{each.reach} overlaps {other.reach}"
                break
