"""Changes to xl/workbook.xml (ECMA-376 part 1, 18.2.27): defined names, a sheet, recalculation."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple
from xml.sax.saxutils import escape, quoteattr

from tanksheet.errors import WorkbookProblem
from tanksheet.xlsx.markup import Edit, Tag, as_utf8, at_the_end_of, edited, tags
from tanksheet.xlsx.reading import BOOK, MAIN, RELATIONS
from tanksheet.xlsx.user_package import UserPackage

# Names come behind whichever of these is last, as the schema orders them.
BEFORE_NAMES = ("sheets", "functionGroups", "externalReferences")
_ON_LOAD = re.compile(r"""fullCalcOnLoad\s*=\s*("[^"]*"|'[^']*')""")


class Name(NamedTuple):
    """What a defined name means, the comment that people see, and whether lists leave it out."""

    text: str
    comment: str = ""
    hidden: bool = False


class WorkbookPart:
    """The part as it is, and the edits gathered so far."""

    def __init__(self, package: UserPackage) -> None:
        self.file = package.file
        self.markup = as_utf8(package.read(BOOK), package.file)
        self.edits: list[Edit] = []
        self.tags = tags(self.markup)
        self.root = self.tags[0]
        if self.root.space != MAIN:
            raise WorkbookProblem(
                f"{self.file}: it is in the strict flavour of the format, or in none; "
                "save it as a plain .xlsx workbook."
            )

    def part_of(self, name: str) -> Tag | None:
        """A direct part of the workbook, such as "sheets"."""
        found = (tag for tag in self.tags if tag.depth == 2 and tag.name == name)
        return next((tag for tag in found if tag.space == MAIN), None)

    def listed(self, name: str) -> list[Tag]:
        return [t for t in self.tags if t.depth == 3 and (t.space, t.name) == (MAIN, name)]

    @property
    def is_protected(self) -> bool:
        """Whether the list of sheets is locked."""
        tag = self.part_of("workbookProtection")
        return tag is not None and tag.attributes.get("lockStructure") in ("1", "true", "on")

    def local_names(self) -> list[tuple[str, Tag]]:
        """Names that hold on one sheet only, with the sheet."""
        titles = [str(tag.attributes.get("name")) for tag in self.listed("sheet")]
        found = []
        for tag in self.listed("definedName"):
            number = tag.attributes.get("localSheetId", "")
            if number.isdecimal():
                title = titles[int(number)] if int(number) < len(titles) else "?"
                found.append((title, tag))
        return found

    def names(self) -> dict[str, Tag]:
        """Names of the whole workbook, in small letters, since case does not tell names apart."""
        return {
            tag.attributes.get("name", "").casefold(): tag
            for tag in self.listed("definedName")
            if "localSheetId" not in tag.attributes
        }

    def set_names(self, wanted: Mapping[str, Name]) -> list[str]:
        """Defines names, each in its place in the alphabet. Returns those that were changed."""
        there = self.names()
        inserted: dict[int, list[str]] = {}
        changed = []
        for name, meaning in sorted(wanted.items(), key=lambda item: item[0].casefold()):
            tag = there.get(name.casefold())
            if tag is None:
                inserted.setdefault(self._place(name), []).append(self._name_text(name, meaning))
            elif _meaning(tag) != meaning:
                self.edits.append(Edit(tag.start, tag.end, self._name_text(name, meaning)))
            else:
                continue
            changed.append(name)
        for place, texts in inserted.items():
            self.edits.append(self._insertion(place, "".join(texts)))
        return changed

    def _place(self, name: str) -> int:
        key = name.casefold()
        later = (
            tag.start
            for tag in self.listed("definedName")
            if tag.attributes.get("name", "").casefold() > key
        )
        return next(later, -1)

    def _insertion(self, place: int, text: str) -> Edit:
        if place >= 0:
            return Edit(place, place, text)
        names = self.part_of("definedNames")
        if names is not None:
            return at_the_end_of(self.markup, names, text)
        element = self.root.spelled("definedNames")
        return Edit(self._anchor(), self._anchor(), f"<{element}>{text}</{element}>")

    def _anchor(self) -> int:
        return max(tag.end for name in BEFORE_NAMES if (tag := self.part_of(name)) is not None)

    def _name_text(self, name: str, meaning: Name) -> str:
        element = self.root.spelled("definedName")
        comment = f" comment={quoteattr(meaning.comment)}" if meaning.comment else ""
        facts = comment + (' hidden="1"' if meaning.hidden else "")
        return f"<{element} name={quoteattr(name)}{facts}>{escape(meaning.text)}</{element}>"

    def add_hidden_sheet(self, title: str, link: str) -> None:
        """Puts a sheet behind the others, so that their numbers stay as they are."""
        sheets = self.part_of("sheets")
        assert sheets is not None  # Package has found sheets in it
        used = [int(tag.attributes.get("sheetId", "0")) for tag in self.listed("sheet")]
        text = (
            f'<{self.root.spelled("sheet")} xmlns:r="{RELATIONS}" '
            f"name={quoteattr(title)} "
            f'sheetId="{max(used) + 1}" state="hidden" r:id="{link}"/>'
        )
        self.edits.append(at_the_end_of(self.markup, sheets, text))

    def recalculate_on_load(self) -> None:
        """Stored results of cells that call the functions are of no use once these change."""
        tag = self.part_of("calcPr")
        if tag is None:
            names = self.part_of("definedNames")
            place = names.end if names is not None else self._anchor()
            text = f'<{self.root.spelled("calcPr")} fullCalcOnLoad="1"/>'
            self.edits.append(Edit(place, place, text))
            return
        old = self.markup[tag.start : tag.inner].decode()
        if "fullCalcOnLoad" in tag.attributes:
            new = _ON_LOAD.sub('fullCalcOnLoad="1"', old)
        else:
            new = re.sub(r"(\s*/?>)$", r' fullCalcOnLoad="1"\1', old)
        self.edits.append(Edit(tag.start, tag.inner, new))

    def finished(self) -> bytes:
        return edited(self.markup, self.edits)


def _meaning(tag: Tag) -> Name:
    hidden = tag.attributes.get("hidden") in ("1", "true")
    return Name(tag.text, tag.attributes.get("comment", ""), hidden)
