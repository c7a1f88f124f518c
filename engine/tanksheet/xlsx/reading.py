"""A workbook file that may come from anyone: checked once, then its parts, sheets and names.

Everybody who reads a file goes through ``Package``, so that one file is refused alike, in one
sentence, by whatever command meets it. Every part is read in pieces (``elements``); those that list
things (``INDEXES``) have a limit of their own, since a change of them needs them whole. ECMA-376
part 2 for the package, part 1, 18.2 for the workbook.
"""

from __future__ import annotations

import contextlib
import io
import posixpath
import zipfile
from collections.abc import Generator, Iterator
from pathlib import Path, PurePosixPath

from tanksheet.errors import WorkbookProblem
from tanksheet.xlsx import elements
from tanksheet.xlsx.address import Block
from tanksheet.xlsx.elements import Elements
from tanksheet.xlsx.listing import BookList, LinkList, cells_of_names, part_of, sheet_homes
from tanksheet.xlsx.refusals import DAMAGE, damaged, deceptive, not_a_zip, refuse_bombs, too_much

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
BOOK, LINKS, TYPES = "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "[Content_Types].xml"
INDEXES = (BOOK, LINKS, TYPES)
LARGEST_INDEX = 20_000_000  # bytes
LARGEST_CONTENTS = 5_000_000  # bytes of the zip's own list, some 60,000 parts
PIECE = 1 << 16

_MARKUP = (".xml", ".rels", ".vml")


class Package:
    """A workbook file: ``sheets`` (title to part, in order) and ``names`` (see ``named_cells``).

    ``hidden_names`` are those that a spreadsheet program keeps out of its list of names, ``astray``
    those that mean no cells, with their text; ``own_names`` hold on one sheet only.
    ``file`` is what messages call a file that is a private copy of another.

    Raises WorkbookProblem, in one sentence that starts with the file's name, when the file is no
    workbook, is damaged or locked, or is built to deceive or to exhaust.
    """

    def __init__(self, path: Path, file: str = "") -> None:
        self.path = Path(path)
        self.file = file or self.path.name
        self.infos = self._listed()
        self.parts = [info.filename for info in self.infos]
        self._sizes = {info.filename: info.file_size for info in self.infos}
        self._spent: dict[str, int] = {}
        self._archive: zipfile.ZipFile | None = None
        refuse_bombs(self.file, self.infos)
        self._refuse_odd_parts()
        with self._opened() as self._archive:  # once for all these looks
            links = self._checked_parts()
            book = BookList(self.file)
            self._read_whole(book, BOOK)
            self._read_whole(Elements(self.file), TYPES)
            self.sheets = sheet_homes(self.file, book.sheets, links.links, self._sizes)
            for part in self.sheets.values():
                self._refuse_doctype(part)  # whatever it is called
        self._archive = None
        self.strings = _strings_part(links, self._sizes)
        names = cells_of_names(book.names, self.sheets)
        self.names = {name: cells for name, (cells, hidden) in names.items() if not hidden}
        self.hidden_names = {name: cells for name, (cells, hidden) in names.items() if hidden}
        self.astray = {each.name: each.text for each in book.names if each.name not in names}
        titles = {str(number): title for number, title in enumerate(self.sheets)}
        self.own_names = {titles[n]: own for n, own in book.own.items() if n in titles}

    def size(self, part: str) -> int:
        """Bytes of a part when unpacked; 0 for one that is not there."""
        return self._sizes.get(part, 0)

    def read(self, part: str) -> bytes:
        """A part's content. Raises WorkbookProblem when it is missing or damaged."""
        return b"".join(self.pieces(part))

    def pieces(self, part: str) -> Generator[bytes, None, None]:
        """A part's content in pieces, so that memory does not grow with it."""
        if part in INDEXES and self.size(part) > LARGEST_INDEX:
            raise WorkbookProblem(
                f"{self.file}: its part {part} has {self.size(part) / 1e6:.0f} MB, and the most "
                f"taken is {LARGEST_INDEX / 1e6:.0f} MB; delete names that lead nowhere."
            )
        try:
            with self._opened() as parts, parts.open(part) as stream:
                while piece := stream.read(PIECE):
                    yield piece
        except (KeyError, *DAMAGE) as problem:
            raise damaged(self.file, problem) from None

    def parse(self, reader: Elements, part: str) -> Iterator[None]:
        """Feeds a part to a reader and yields after each piece.

        All parts together have one allowance of elements, so that many sheets are no way round it.
        """
        left = elements.MOST_ELEMENTS - sum(self._spent.values()) + self._spent.get(part, 0)
        reader.most = max(0, min(reader.most, left))
        with contextlib.closing(self.pieces(part)) as pieces:
            for _ in reader.read(pieces):
                self._spent[part] = max(self._spent.get(part, 0), reader.count)
                yield

    @contextlib.contextmanager
    def _opened(self) -> Iterator[zipfile.ZipFile]:
        if self._archive is not None:
            yield self._archive
            return
        try:
            archive = zipfile.ZipFile(self.path)
        except OSError as problem:
            raise WorkbookProblem(f"{self.file}: cannot be read ({problem.strerror}).") from None
        with archive:
            yield archive

    # checks

    def _listed(self) -> list[zipfile.ZipInfo]:
        path = self.path
        if path.is_dir():
            raise WorkbookProblem(f"{self.file}: this is a folder, not an .xlsx file.")
        if path.exists() and not path.is_file():
            raise WorkbookProblem(f"{self.file}: this is a device, not an .xlsx file.")
        try:
            with path.open("rb") as file:
                start = file.read(4)
            if start[:2] != b"PK":
                raise WorkbookProblem(not_a_zip(self.file, start))
            with _Listing(path) as listing, zipfile.ZipFile(listing) as parts:
                infos = parts.infolist()
        except FileNotFoundError:
            raise WorkbookProblem(f"{self.file}: there is no such file ({path}).") from None
        except OSError as problem:
            raise WorkbookProblem(f"{self.file}: cannot be read ({problem.strerror}).") from None
        except _TooLong:
            raise too_much(self.file, "more parts than can be listed") from None
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

    def _checked_parts(self) -> LinkList:
        """Looks into each part, and gives the workbook's links."""
        links = LinkList(self.file)
        for part in self.parts:
            if part.lower().endswith(_MARKUP):
                self._refuse_doctype(part)
            if part.lower().endswith(".rels"):
                found = links if part == LINKS else LinkList(self.file)
                self._read_whole(found, part)
                self._refuse_targets_outside(part, found)
        if LINKS not in self._sizes:
            raise damaged(self.file, KeyError(f"There is no part {LINKS}"))
        return links

    def _read_whole(self, reader: Elements, part: str) -> None:
        for _ in self.parse(reader, part):
            pass

    def _refuse_doctype(self, part: str) -> None:
        """Reads up to the first element, behind which no document type may stand."""
        with contextlib.suppress(_Begun):
            self._read_whole(_Prolog(self.file), part)

    def _refuse_targets_outside(self, part: str, found: LinkList) -> None:
        folder = posixpath.dirname(posixpath.dirname(part))
        for target, _, is_external in found.links.values():
            if not is_external and not _inside(folder, target):
                raise deceptive(self.file, f"{part} leads to {target[:60]!r}, a place outside it")


class _Begun(Exception):
    """The first element has come."""


class _Prolog(Elements):
    def starts(self, facts: dict[str, str]) -> None:
        raise _Begun


class _TooLong(Exception):
    """The zip's own list of parts would fill the memory."""


class _Listing(io.FileIO):
    """The file while its list of parts is read, which zipfile does in one go."""

    def read(self, size: int | None = -1, /) -> bytes:
        if size is not None and size > LARGEST_CONTENTS:
            raise _TooLong
        return super().read(size)


def _strings_part(links: LinkList, parts: dict[str, int]) -> str:
    """The part with the texts that cells share; "" where there is none."""
    found = (part_of(link, parts) for link in links.links.values() if _is_strings(link.kind))
    return next((part for part in found if part), "")


def _is_strings(kind: str) -> bool:
    return kind.rpartition("/")[2] == "sharedStrings"


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
