"""Holds the XML parts of an .xlsx package against ``format_table.txt``: order, counts and types of
elements and attributes. What the table does not list is a fault.

The published schemas themselves are not carried here: their files name no licence.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from xml.etree import ElementTree

from tanksheet.xlsx.address import looks_like_cell

TABLE = Path(__file__).with_name("format_table.txt")
TYPES = "[Content_Types].xml"
RELATIONS = "application/vnd.openxmlformats-package.relationships+xml"
# The simple types, XML Schema part 2 and ECMA-376 part 1, 22.9 and 20.1.10.
KINDS = {
    "text": r"(?s).*",
    "bool": r"0|1|true|false",
    "uint": r"\d{1,10}",
    "int": r"-?\d{1,10}",
    "emu": r"-?\d{1,14}",
    "angle": r"\d{1,8}",
    "percent": r"-?\d{1,6}%?",
    "double": r"-?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?",
    "rgb": r"[0-9A-Fa-f]{6}",
    "argb": r"[0-9A-Fa-f]{8}",
    "date": r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ",
    "uri": r"[!-~]+",
    "id": r"[A-Za-z_][\w.-]*",
    "mime": r"[\w.+-]+/[\w.+-]+",
    "part": r"(/[^/\\?#]+)+",
    "cell": r"[A-Z]{1,3}[1-9]\d{0,6}",
    "ref": r"[A-Z]{1,3}[1-9]\d{0,6}(:[A-Z]{1,3}[1-9]\d{0,6})?",
    "refs": r"[A-Z]{1,3}[1-9]\d{0,6}(:[A-Z]{1,3}[1-9]\d{0,6})?( [A-Z:0-9]+)*",
}
LARGEST = {"uint": 2**32 - 1, "int": 2**31 - 1, "angle": 21_599_999}  # in size, sign left out
_ATTRIBUTE = re.compile(r"([\w:]+)=(\w+|\{[^}]*\})(!?)")
_CHILD = re.compile(r"([\w:]+)=([\w.]+)")


@dataclass
class Type:
    """What an element may carry: attributes with their kinds, and children in order."""

    attributes: dict[str, str]
    required: set[str]
    model: re.Pattern[str]
    children: dict[str, str]
    text: str = ""


@dataclass
class Table:
    """The table as read: namespaces by prefix, root elements by content type, types by name."""

    spaces: dict[str, str] = field(default_factory=dict)
    roots: dict[str, tuple[str, str]] = field(default_factory=dict)
    types: dict[str, Type] = field(default_factory=dict)


@functools.cache
def table() -> Table:
    """The table that the file holds."""
    made, prefix = Table(), ""
    text = re.sub(r"\n {6,}", " ", TABLE.read_text(encoding="utf-8"))
    for line in text.splitlines():
        if not line.strip() or line.startswith("#"):
            continue
        if not line.startswith(" "):
            prefix, space = line.split()[:2]
            made.spaces[prefix] = space
        elif "<" in line:
            content, root, name = line.split()
            made.roots[content] = f"{prefix}:{root.strip('<>')}", f"{prefix}.{name}"
        else:
            name, attributes, children = re.fullmatch(r" *(\w+) \[(.*?)\] ?(.*)", line).groups()  # type: ignore[union-attr]
            made.types[f"{prefix}.{name}"] = _type(prefix, attributes, children)
    return made


def _type(prefix: str, attributes: str, children: str) -> Type:
    found = _ATTRIBUTE.findall(attributes)
    kinds = {name: kind for name, kind, _ in found}
    required = {name for name, _, mark in found if mark}
    if children.startswith("text="):
        return Type(kinds, required, re.compile(""), {}, children[5:])
    below: dict[str, str] = {}

    def as_pattern(match: re.Match[str]) -> str:
        name = match[1] if ":" in match[1] else f"{prefix}:{match[1]}"
        kind = match[2] if match[2][0].islower() and "." not in match[2] else ""
        below[name] = kind or (match[2] if "." in match[2] else f"{prefix}.{match[2]}")
        return f"(?:{name};)"

    model = _CHILD.sub(as_pattern, children)
    return Type(
        kinds, required, re.compile(re.sub(r"\s*\|\s*|(?<=[)*+?}])\s+", _tight, model)), below
    )


def _tight(match: re.Match[str]) -> str:
    return "|" if "|" in match[0] else ""


def is_a(kind: str, value: str) -> bool:
    """Whether a value is of a kind of the table."""
    if kind.startswith("{"):
        return value in kind[1:-1].split("|")
    if re.fullmatch(KINDS[kind], value) is None:
        return False
    if kind in LARGEST:
        return abs(int(value)) <= LARGEST[kind]
    if kind in ("cell", "ref", "refs"):
        return all(looks_like_cell(corner) for corner in re.split("[ :]", value))
    return True


def faults(parts: Mapping[str, bytes]) -> list[str]:
    """Everything in the XML parts of a package that the table does not allow."""
    contents = content_types(parts[TYPES])
    found: list[str] = []
    for name in parts:
        content = TYPES if name == TYPES else content_of(name, contents)
        if content not in table().roots:
            found.append(f"{name}: its content type {content!r} is not in the table")
            continue
        root, kind = table().roots[content]
        element = ElementTree.fromstring(parts[name])
        if _name(element.tag) != root:
            found.append(f"{name}: it begins with {_name(element.tag)}, not {root}")
        else:
            found += [f"{name}: {fault}" for fault in _faults(element, kind)]
    return found


def content_types(part: bytes) -> dict[str, str]:
    """The content type by extension or by part name with its slash."""
    tree = ElementTree.fromstring(part)
    return {
        (each.get("PartName") or f".{each.get('Extension', '').lower()}"): each.get(
            "ContentType", ""
        )
        for each in tree
    }


def content_of(part: str, contents: Mapping[str, str]) -> str:
    """The content type of a part, "" if nothing tells it."""
    return contents.get(f"/{part}") or contents.get(f".{part.rpartition('.')[2].lower()}", "")


def _name(tag: str) -> str:
    space, _, local = tag.removeprefix("{").rpartition("}")
    prefix = next((p for p, known in table().spaces.items() if known == space), f"{{{space}}}")
    return f"{prefix}:{local}" if space else local


def _faults(element: ElementTree.Element, kind: str) -> Iterator[str]:
    name = _name(element.tag)
    if kind in KINDS:
        if not is_a(kind, element.text or "") or element.attrib or len(element):
            yield f"{name} holds {element.text!r} {element.attrib}, which is no {kind}"
        return
    known = table().types[kind]
    yield from _attribute_faults(element, known, name)
    text = "".join([element.text or "", *(child.tail or "" for child in element)])
    if not is_a(known.text, text) if known.text else text.strip():
        yield f"{name} holds the words {text[:30]!r}"
    names = [_name(child.tag) for child in element]
    if known.model.fullmatch("".join(f"{each};" for each in names)) is None:
        short = " ".join(dict.fromkeys(names))
        yield f"{name} has the children {short}, which are unknown, too many or out of order"
        return
    for child, child_name in zip(element, names, strict=True):
        yield from _faults(child, known.children[child_name])


def _attribute_faults(element: ElementTree.Element, known: Type, name: str) -> Iterator[str]:
    given = {_name(key): value for key, value in element.attrib.items()}
    for missing in sorted(known.required - given.keys()):
        yield f"{name} lacks its attribute {missing}"
    for key, value in given.items():
        if key not in known.attributes:
            yield f"{name} has an attribute {key} that the table does not list"
        elif not is_a(known.attributes[key], value):
            yield f"{name} has {key}={value!r}, which is no {known.attributes[key]}"
