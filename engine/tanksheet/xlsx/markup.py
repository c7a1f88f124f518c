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

from tanksheet.xlsx.elements import Elements, utf8_pieces

_START = re.compile(rb"<(?:[^>\"']|\"[^\"]*\"|'[^']*')*+>")


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
    for _ in Elements(file).read([markup]):
        pass
    return b"".join(utf8_pieces([markup]))


def tags(markup: bytes, deepest: int = 3) -> list[Tag]:
    """The elements of well-formed UTF-8 markup in their order, down to a depth; the root is 1."""
    return _Reader(markup, deepest).found


class _Reader:
    def __init__(self, markup: bytes, deepest: int) -> None:
        self.markup, self.deepest = markup, deepest
        self.found: list[Tag] = []
        self.open: list[Tag | None] = []
        self.texts: list[list[str]] = []  # of the open tags that are found
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
        self.texts.append([])
        self.found.append(tag)

    def finish(self, _: str) -> None:
        tag = self.open.pop()
        if tag is None:
            return
        tag.text = "".join(self.texts.pop())
        if is_empty_tag(self.markup, tag.inner):
            tag.close = tag.end = tag.inner
        else:
            tag.close = self.parser.CurrentByteIndex
            tag.end = self.markup.index(b">", tag.close) + 1

    def characters(self, text: str) -> None:
        if self.open[-1] is not None:
            self.texts[-1].append(text)


def _split(name: str) -> tuple[str, str, str]:
    parts = name.split(" ")
    if len(parts) == 1:
        return "", parts[0], ""
    return parts[0], parts[1], parts[2] if len(parts) > 2 else ""


def _plain(name: str) -> str:
    space, local, _ = _split(name)
    return f"{{{space}}}{local}" if space else local


def end_of_tag(markup: bytes | bytearray, start: int) -> int:
    """Where the tag that begins at ``start`` ends, behind its bracket."""
    match = _START.match(markup, start)
    return match.end() if match else start


def is_empty_tag(markup: bytes | bytearray, end: int) -> bool:
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
