"""The data sheet in a user's package: its part, and the lists that mention it."""

from __future__ import annotations

from collections.abc import Iterable

from tanksheet.hosts.lambdas import data as lambda_data
from tanksheet.xlsx.markup import Tag, as_utf8, at_the_end_of, edited, tags
from tanksheet.xlsx.reading import LINKS, RELATIONS, TYPES
from tanksheet.xlsx.user_package import UserPackage
from tanksheet.xlsx.workbook_part import WorkbookPart

KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"


def _links(package: UserPackage) -> list[Tag]:
    return tags(as_utf8(package.read(LINKS), package.file))


def new_sheet(package: UserPackage, book: WorkbookPart, changes: dict[str, bytes]) -> str:
    """Adds the hidden sheet to the changes. Returns its title, one that is free."""
    title = _free(lambda_data.TITLE, package.sheets)
    parts = [name.replace("\\", "/") for name in package.parts]
    stems = [name.removesuffix(".xml") for name in parts]
    part = _free(f"xl/worksheets/{lambda_data.TITLE}", stems) + ".xml"
    link = _free("rIdFert", (tag.attributes.get("Id", "") for tag in _links(package)))
    changes[part] = lambda_data.worksheet()
    _append(
        package,
        LINKS,
        "Relationship",
        f'Id="{link}" Type="{RELATIONS}/worksheet" Target="{part.removeprefix("xl/")}"',
        changes,
    )
    _append(package, TYPES, "Override", f'PartName="/{part}" ContentType="{KIND}"', changes)
    book.add_hidden_sheet(title, link)
    return title


def replaced_sheet(package: UserPackage, sheet: str, changes: dict[str, bytes]) -> None:
    """Writes the data of an earlier edition anew."""
    changes[package.sheets[sheet]] = lambda_data.worksheet()


def _free(wanted: str, taken: Iterable[str]) -> str:
    used = {each.casefold() for each in taken}
    name, number = wanted, 1
    while name.casefold() in used:
        number += 1
        name = f"{wanted}_{number}"
    return name


def _append(
    package: UserPackage, part: str, element: str, attributes: str, changes: dict[str, bytes]
) -> None:
    markup = as_utf8(package.read(part), package.file)
    root = tags(markup)[0]
    text = f"<{root.spelled(element)} {attributes}/>"
    changes[part] = edited(markup, [at_the_end_of(markup, root, text)])
