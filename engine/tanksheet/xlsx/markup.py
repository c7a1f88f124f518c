"""Changes to a part of a user's workbook at the level of its text: every other byte stays.

Writing a parsed tree out again would lose prefixes and marks for extensions (mc:Ignorable), so the
tree only tells where an element begins and ends, and new text is put in there.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple
from xml.parsers import expat

from tanksheet.errors import WorkbookProblem
from tanksheet.xlsx.reading import safe_tree

_START = re.compile(rb"<(?:[^>\"']|\"[^\"]*\"|'[^']*')*+>")
_DECLARED = re.compile(r"""^(<\?xml[^>]*\bencoding=["'])[^"']*""")


@dataclass
class Tag:
    """One element and where it stands: ``start`` and ``end`` around it, ``inner`` and ``close``
    around its content, all in bytes. An empty element may have no content to stand around.
    """

    space: str
    name: str
    prefix: str
    attributes: dict[str, str]
    depth: int
    start: int
    inner: int = 0
    close: int = 0
    end: int = 0
    text: str = ""

    def spelled(self, name: str) -> str:
        """Another element's name with this one's prefix: ``x:sheet`` beside ``x:sheets``."""
        return f"{self.prefix}:{name}" if self.prefix else name


class Edit(NamedTuple):
    """Put ``text`` in place of the bytes from ``start`` to ``end``; equal numbers insert."""

    start: int
    end: int
    text: str


def as_utf8(markup: bytes, file: str) -> bytes:
    """The markup in UTF-8; UTF-16, the other encoding that packages allow, is converted.

    Raises WorkbookProblem when the XML is damaged, declares a document type, or is neither.
    """
    safe_tree(markup, file)
    if markup[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return _DECLARED.sub(r"\1UTF-8", markup.decode("utf-16")).encode()
    declared: list[str] = []
    parser = expat.ParserCreate()
    parser.XmlDeclHandler = lambda version, encoding, alone: declared.append(encoding or "UTF-8")
    parser.Parse(markup, True)
    if declared and declared[0].upper() not in ("UTF-8", "US-ASCII"):
        raise WorkbookProblem(
            f"{file}: its XML is encoded as {declared[0]}, and .xlsx files use UTF-8 or UTF-16; "
            "open and save it again."
        )
    return markup


def tags(markup: bytes, deepest: int = 3) -> list[Tag]:
    """The elements of well-formed UTF-8 markup in their order, down to a depth; the root is 1."""
    return _Reader(markup, deepest).found


class _Reader:
    def __init__(self, markup: bytes, deepest: int) -> None:
        self.markup, self.deepest = markup, deepest
        self.found: list[Tag] = []
        self.open: list[Tag | None] = []
        parser = expat.ParserCreate(namespace_separator=" ")
        parser.namespace_prefixes = True
        parser.buffer_text = True
        parser.StartElementHandler = self.begin
        parser.EndElementHandler = self.finish
        parser.CharacterDataHandler = self.characters
        self.parser = parser
        parser.Parse(markup, True)

    def begin(self, name: str, attributes: dict[str, str]) -> None:
        if len(self.open) >= self.deepest:
            self.open.append(None)
            return
        start = self.parser.CurrentByteIndex
        space, local, prefix = _split(name)
        named = {_plain(key): value for key, value in attributes.items()}
        tag = Tag(space, local, prefix, named, len(self.open) + 1, start)
        tag.inner = end_of_tag(self.markup, start)
        self.open.append(tag)
        self.found.append(tag)

    def finish(self, _: str) -> None:
        tag = self.open.pop()
        if tag is None:
            return
        if is_empty_tag(self.markup, tag.inner):
            tag.close = tag.end = tag.inner
        else:
            tag.close = self.parser.CurrentByteIndex
            tag.end = self.markup.index(b">", tag.close) + 1

    def characters(self, text: str) -> None:
        tag = self.open[-1]
        if tag is not None:
            tag.text += text


def _split(name: str) -> tuple[str, str, str]:
    parts = name.split(" ")
    if len(parts) == 1:
        return "", parts[0], ""
    return parts[0], parts[1], parts[2] if len(parts) > 2 else ""


def _plain(name: str) -> str:
    space, local, _ = _split(name)
    return f"{{{space}}}{local}" if space else local


def end_of_tag(markup: bytes, start: int) -> int:
    """Where the tag that begins at ``start`` ends, behind its bracket."""
    match = _START.match(markup, start)
    return match.end() if match else start


def is_empty_tag(markup: bytes, end: int) -> bool:
    """Whether the tag that ends here closes its own element: ``<a/>``."""
    return markup[end - 2 : end] == b"/>"


def at_the_end_of(markup: bytes, tag: Tag, text: str) -> Edit:
    """The edit that puts text behind an element's content, also where it has none (``<a/>``)."""
    if is_empty_tag(markup, tag.inner):
        return Edit(tag.inner - 2, tag.inner, f">{text}</{tag.spelled(tag.name)}>")
    return Edit(tag.close, tag.close, text)


def edited(markup: bytes, edits: Iterable[Edit]) -> bytes:
    """The markup with edits that do not overlap; those at one place stay in their order."""
    pieces: list[bytes] = []
    at = 0
    for edit in sorted(edits, key=lambda each: (each.start, each.end)):
        pieces += (markup[at : edit.start], edit.text.encode())
        at = edit.end
    return b"".join([*pieces, markup[at:]])
