"""What the workbook's part and its links list: sheets with their parts, and defined names.

ECMA-376 part 1, 18.2.19 (sheets), 18.2.5 (names); part 2, 9.3 (relationships).
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Collection, Iterable
from typing import NamedTuple

from tanksheet.errors import WorkbookProblem
from tanksheet.xlsx.address import Block, block
from tanksheet.xlsx.elements import MOST_LISTED, Elements
from tanksheet.xlsx.refusals import deceptive

LONGEST_NUMBER = 10  # digits
LONGEST_REFERENCE = 300  # characters; a sheet's title has at most 31

_LINKED = re.compile(r"http://\S+/relationships")  # the strict flavour has another address
_REFERENCE = re.compile(
    r"(?:'(?P<quoted>(?:[^']|'')+)'|(?P<plain>[^'!\[\]():,\s]+))!"
    r"(?P<reach>\$[A-Za-z]{1,3}\$\d{1,7}(?::\$[A-Za-z]{1,3}\$\d{1,7})?)"
)


class Line(NamedTuple):
    """A sheet as the workbook lists it."""

    title: str
    number: str
    link: str


class DefinedName(NamedTuple):
    name: str
    text: str
    is_hidden: bool


class Link(NamedTuple):
    target: str
    kind: str
    is_external: bool


class BookList(Elements):
    """Reads the workbook's part: ``sheets``, and those ``names`` that hold in all of it.

    ``own`` are the names that hold on one sheet only, by the number of the sheet from 0.
    """

    most = MOST_LISTED

    def __init__(self, file: str) -> None:
        super().__init__(file)
        self.sheets: list[Line] = []
        self.names: list[DefinedName] = []
        self.own: dict[str, set[str]] = {}
        self._prefixes: set[str] = set()
        self._within = ""
        self._named: dict[str, str] | None = None

    def starts(self, facts: dict[str, str]) -> None:
        for key, value in facts.items():
            if key.startswith("xmlns:") and _LINKED.fullmatch(value):
                self._prefixes.add(key.removeprefix("xmlns:"))

    def begin_sheets(self, facts: dict[str, str]) -> None:
        self._within = "sheets" if self.depth == 2 else ""
        self.starts(facts)

    def begin_sheet(self, facts: dict[str, str]) -> None:
        if self.depth != 3 or self._within != "sheets":
            return
        self.starts(facts)
        links = (facts[key] for key in facts if key.removesuffix(":id") in self._prefixes)
        self.sheets.append(Line(facts.get("name", ""), facts.get("sheetId", ""), next(links, "")))

    def begin_definedNames(self, facts: dict[str, str]) -> None:  # noqa: N802 - the format's name
        self._within = "names" if self.depth == 2 else ""

    def begin_definedName(self, facts: dict[str, str]) -> None:  # noqa: N802
        if self.depth != 3 or self._within != "names" or facts.get("name", "").startswith("_xl"):
            return
        if "localSheetId" in facts:
            self.own.setdefault(facts["localSheetId"], set()).add(facts.get("name", ""))
        else:
            self._named = facts
            self.listen()

    def end_definedName(self) -> None:  # noqa: N802
        if self._named is not None:
            self.deafen()
            hidden = self._named.get("hidden") in ("1", "true")
            self.names.append(DefinedName(self._named.get("name", ""), self.heard(), hidden))
            self._named = None


class LinkList(Elements):
    """Reads a list of relationships: ``links`` by their Id."""

    most = MOST_LISTED

    def __init__(self, file: str) -> None:
        super().__init__(file)
        self.links: dict[str, Link] = {}

    def begin_Relationship(self, facts: dict[str, str]) -> None:  # noqa: N802 - the format's name
        self.links[facts.get("Id", "")] = Link(
            facts.get("Target", ""),
            facts.get("Type", ""),
            facts.get("TargetMode", "").lower() == "external",
        )


def sheet_homes(
    file: str, lines: Iterable[Line], links: dict[str, Link], parts: Collection[str]
) -> dict[str, str]:
    """The part of each sheet by its title, in order: the one place that follows these links.

    Raises WorkbookProblem for a sheet without a part, a number or a title of its own.
    """
    found: dict[str, str] = {}
    taken: set[str] = set()
    for title, number, link in lines:
        if not (number.isdecimal() and len(number) <= LONGEST_NUMBER) or not title:
            raise deceptive(file, f"sheet {title[:40]!r} has the number {number[:20]!r}")
        if title.casefold() in taken:
            raise deceptive(file, f"two sheets are called {title[:40]!r}")
        taken.add(title.casefold())
        part = part_of(links.get(link), parts)
        if part is None:
            raise WorkbookProblem(
                f"{file}: sheet {title[:40]!r} leads to no part; "
                "open and save it again in a spreadsheet program."
            )
        found[title] = part
    if not found:
        raise WorkbookProblem(f"{file}: the workbook has no sheets; save it again as .xlsx.")
    return found


def part_of(link: Link | None, parts: Collection[str]) -> str | None:
    """The part that a link of the workbook leads to, if it is there."""
    if link is None or link.is_external or not link.target:
        return None
    # A target may be absolute or not.
    part = posixpath.normpath(posixpath.join("/xl", link.target)).lstrip("/")
    return part if part in parts else None


def cells_of_names(
    names: Iterable[DefinedName], sheets: Iterable[str]
) -> dict[str, tuple[Block, bool]]:
    """The names that mean one cell or one rectangle, each with whether it is hidden."""
    titles = {title.casefold(): title for title in sheets}
    found = {}
    for name, text, is_hidden in names:
        cells = _cells(text, titles.get)
        if cells is not None:
            found[name] = cells, is_hidden
    return found


def _cells(reference: str, title_of: Callable[[str], str | None]) -> Block | None:
    text = reference.strip().removeprefix("=")
    match = _REFERENCE.fullmatch(text) if len(text) <= LONGEST_REFERENCE else None
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
