"""A workbook file that may come from anyone: checked once, then its parts, sheets and names.

Everybody who reads a file goes through ``Package``, so that one file is refused alike, in one
sentence, by whatever command meets it. The parts that list things (``INDEXES``) are read whole and
have a limit; a sheet is read in pieces (``values``). ECMA-376 part 2 for the package, part 1, 18.2
for the workbook.
"""

from __future__ import annotations

import posixpath
import re
import zipfile
from collections.abc import Callable, Collection, Iterator
from pathlib import Path, PurePosixPath
from xml.etree import ElementTree
from xml.parsers import expat

from tanksheet.errors import WorkbookProblem
from tanksheet.xlsx.address import Block, block
from tanksheet.xlsx.refusals import (
    DAMAGE,
    damaged,
    damaged_markup,
    deceptive,
    has_doctype,
    not_a_zip,
    refuse_bombs,
)

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
BOOK, LINKS, TYPES = "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "[Content_Types].xml"
INDEXES = (BOOK, LINKS, TYPES)
LARGEST_INDEX = 20_000_000  # bytes
PIECE = 1 << 16

_MARKUP = (".xml", ".rels", ".vml")
_LINK = re.compile(r"\{http://\S+/relationships\}id")  # the strict flavour has another address
_REFERENCE = re.compile(
    r"(?:'(?P<quoted>(?:[^']|'')+)'|(?P<plain>[^'!\[\]():,\s]+))!"
    r"(?P<reach>\$[A-Za-z]{1,3}\$\d{1,7}(?::\$[A-Za-z]{1,3}\$\d{1,7})?)"
)


class Package:
    """A workbook file: ``sheets`` (title to part, in order) and ``names`` (see ``named_cells``).

    ``hidden_names`` are those that a spreadsheet program keeps out of its list of names.
    ``file`` is what messages call a file that is a private copy of another.

    Raises WorkbookProblem, in one sentence that starts with the file's name, when the file is no
    workbook, is damaged or locked, or is built to deceive or to exhaust.
    """

    def __init__(self, path: Path, file: str = "") -> None:
        self.path = Path(path)
        self.file = file or self.path.name
        self.infos = self._listed()
        refuse_bombs(self.file, self.infos)
        self._refuse_odd_parts()
        for name in self.parts:
            if name.lower().endswith(_MARKUP):
                self._refuse_doctype(name)
            if name.lower().endswith(".rels"):
                self._refuse_targets_outside(name)
        book = self.tree(BOOK)
        self.sheets = sheet_homes(self.file, book, self.tree(LINKS), self.parts)
        names = _names(book, self.sheets)
        self.names = {name: cells for name, (cells, hidden) in names.items() if not hidden}
        self.hidden_names = {name: cells for name, (cells, hidden) in names.items() if hidden}

    @property
    def parts(self) -> list[str]:
        return [info.filename for info in self.infos]

    def size(self, part: str) -> int:
        """Bytes of a part when unpacked; 0 for one that is not there."""
        return next((info.file_size for info in self.infos if info.filename == part), 0)

    def read(self, part: str) -> bytes:
        """A part's content. Raises WorkbookProblem when it is missing or damaged."""
        return b"".join(self.pieces(part))

    def tree(self, part: str) -> ElementTree.Element:
        """One of the INDEXES, parsed."""
        return safe_tree(self.read(part), self.file)

    def pieces(self, part: str) -> Iterator[bytes]:
        """A part's content in pieces, so that memory does not grow with it."""
        if part in INDEXES and self.size(part) > LARGEST_INDEX:
            raise WorkbookProblem(
                f"{self.file}: its part {part} has {self.size(part) / 1e6:.0f} MB, and the most "
                f"taken is {LARGEST_INDEX / 1e6:.0f} MB; delete names that lead nowhere."
            )
        try:
            with zipfile.ZipFile(self.path) as parts, parts.open(part) as stream:
                while piece := stream.read(PIECE):
                    yield piece
        except (KeyError, *DAMAGE) as problem:
            raise damaged(self.file, problem) from None

    def parse(self, parser: expat.XMLParserType, part: str) -> Iterator[None]:
        """Feeds a part to a parser whose handlers do the work, and yields after each piece."""
        parser.StartDoctypeDeclHandler = self._deceptive_doctype
        pieces = self.pieces(part)
        try:
            for piece in pieces:
                parser.Parse(piece, False)
                yield
            parser.Parse(b"", True)
            yield
        except (expat.ExpatError, LookupError, ValueError) as problem:
            for _ in pieces:  # a part that cannot be unpacked to its end says so instead
                pass
            raise damaged_markup(self.file, problem) from None

    # checks

    def _listed(self) -> list[zipfile.ZipInfo]:
        path = self.path
        if path.is_dir():
            raise WorkbookProblem(f"{self.file}: this is a folder, not an .xlsx file.")
        try:
            with path.open("rb") as file:
                start = file.read(4)
            if start[:2] != b"PK":
                raise WorkbookProblem(not_a_zip(self.file, start))
            with zipfile.ZipFile(path) as parts:
                infos = parts.infolist()
        except FileNotFoundError:
            raise WorkbookProblem(f"{self.file}: there is no such file ({path}).") from None
        except OSError as problem:
            raise WorkbookProblem(f"{self.file}: cannot be read ({problem.strerror}).") from None
        except (ValueError, *DAMAGE) as problem:
            raise damaged(self.file, problem) from None
        if BOOK not in [info.filename for info in infos]:
            raise WorkbookProblem(
                f"{self.file}: this is a zip file but not an .xlsx workbook; "
                "open it in a spreadsheet program and save it as .xlsx."
            )
        return infos

    def _refuse_odd_parts(self) -> None:
        seen: set[str] = set()
        for info in self.infos:
            name = info.filename.replace("\\", "/")
            if name[:1] == "/" or name[1:2] == ":" or ".." in PurePosixPath(name).parts:
                raise deceptive(
                    self.file, f"a part is called {info.filename!r}, a place outside it"
                )
            if name.casefold() in seen:
                raise deceptive(self.file, f"it holds two parts called {info.filename!r}")
            seen.add(name.casefold())
            if info.flag_bits & 1:
                raise WorkbookProblem(
                    f"{self.file}: {info.filename} is locked with a password; "
                    "save the workbook without one."
                )

    def _deceptive_doctype(self, *_: object) -> None:
        raise has_doctype(self.file)

    def _refuse_doctype(self, part: str) -> None:
        """Reads up to the first element, behind which no document type may stand."""
        parser = expat.ParserCreate()
        begun: list[str] = []
        parser.StartElementHandler = lambda name, _: begun.append(name)
        for _ in self.parse(parser, part):
            if begun:
                return

    def _refuse_targets_outside(self, part: str) -> None:
        folder = posixpath.dirname(posixpath.dirname(part))

        def begin(_: str, facts: dict[str, str]) -> None:
            target = facts.get("Target", "")
            if facts.get("TargetMode", "Internal").lower() != "external" and not _inside(
                folder, target
            ):
                raise deceptive(self.file, f"{part} leads to {target[:60]!r}, a place outside it")

        parser = expat.ParserCreate()
        parser.StartElementHandler = begin
        for _ in self.parse(parser, part):
            pass


def named_cells(path: Path) -> dict[str, Block]:
    """Defined names of the whole workbook that mean one cell or one rectangle of cells.

    Left out: names of one sheet only, hidden and built-in names, constants, formulas, LAMBDAs,
    broken references, and references without dollar signs (they mean another cell wherever they
    are used). Raises WorkbookProblem as ``Package`` does.
    """
    return Package(path).names


def sheet_names(path: Path) -> list[str]:
    """The workbook's sheets in order. Raises WorkbookProblem as ``Package`` does."""
    return list(Package(path).sheets)


def safe_tree(markup: bytes, file: str) -> ElementTree.Element:
    """Parse XML that may come from anyone: document types, and so all entities, are refused."""
    guard = expat.ParserCreate()

    def refuse(*_: object) -> None:
        raise has_doctype(file)

    guard.StartDoctypeDeclHandler = refuse
    try:
        guard.Parse(markup, True)
        return ElementTree.fromstring(markup)
    except (expat.ExpatError, ElementTree.ParseError, LookupError, ValueError) as problem:
        raise damaged_markup(file, problem) from None


def sheet_homes(
    file: str, book: ElementTree.Element, links: ElementTree.Element, parts: Collection[str]
) -> dict[str, str]:
    """The part of each sheet by its title, in order: the one place that follows these links.

    Raises WorkbookProblem for a sheet without a part, a number or a title of its own.
    """
    targets = {link.get("Id"): link for link in links}
    found: dict[str, str] = {}
    # Excel's strict flavour has other namespaces but the same element names.
    for sheet in book.iterfind("./{*}sheets/{*}sheet"):
        title, number = sheet.get("name") or "", sheet.get("sheetId") or ""
        if not number.isdecimal() or not title:
            raise deceptive(file, f"sheet {title!r} has the number {number!r}")
        if title.casefold() in {known.casefold() for known in found}:
            raise deceptive(file, f"two sheets are called {title!r}")
        found[title] = _home(file, title, targets.get(_link_of(sheet)), parts)
    if not found:
        raise WorkbookProblem(f"{file}: the workbook has no sheets; save it again as .xlsx.")
    return found


def _home(file: str, title: str, link: ElementTree.Element | None, parts: Collection[str]) -> str:
    target = "" if link is None else link.get("Target") or ""
    external = link is not None and link.get("TargetMode", "").lower() == "external"
    # A target may be absolute or not.
    part = posixpath.normpath(posixpath.join("/xl", target)).lstrip("/")
    if not target or external or part not in parts:
        raise WorkbookProblem(
            f"{file}: sheet {title!r} leads to no part; "
            "open and save it again in a spreadsheet program."
        )
    return part


def _link_of(sheet: ElementTree.Element) -> str | None:
    return next((value for key, value in sheet.attrib.items() if _LINK.fullmatch(key)), None)


def _inside(folder: str, target: str) -> bool:
    if target.startswith("/"):
        return not target.startswith("//")
    depth = len(PurePosixPath(folder).parts)
    steps = target.partition("#")[0].replace("\\", "/").split("/")
    for step in steps:
        depth += 0 if step in ("", ".") else -1 if step == ".." else 1
        if depth < 0:
            return False
    return ":" not in steps[0]


def _names(book: ElementTree.Element, sheets: dict[str, str]) -> dict[str, tuple[Block, bool]]:
    """The names that mean cells, each with whether it is hidden."""
    titles = {title.casefold(): title for title in sheets}
    found = {}
    for element in book.iterfind("./{*}definedNames/{*}definedName"):
        name = str(element.get("name"))
        if element.get("localSheetId") is not None or name.startswith("_xl"):
            continue
        cells = _cells(element.text or "", titles.get)
        if cells is not None:
            found[name] = cells, element.get("hidden") in ("1", "true")
    return found


def _cells(reference: str, title_of: Callable[[str], str | None]) -> Block | None:
    match = _REFERENCE.fullmatch(reference.strip().removeprefix("="))
    if not match:
        return None
    written = match["plain"] or match["quoted"].replace("''", "'")
    sheet = title_of(written.casefold())
    if sheet is None:
        return None
    try:
        return block(sheet, match["reach"])
    except WorkbookProblem:  # a row or column that no sheet has
        return None
