"""Reads the elements of a part one by one, within bounds, whoever wrote it.

A part arrives in pieces and nothing of it is kept but what a reader asks for, so that a file of
1 MB that unpacks to 190 MB takes some seconds and little memory, and is refused in one sentence
where it goes beyond what workbooks need. What the parser itself keeps is bounded too: open
elements, different names, and tags, which it holds whole.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Callable, Iterable, Iterator
from typing import Any
from xml.parsers import expat

from tanksheet.errors import WorkbookProblem
from tanksheet.xlsx.refusals import damaged_markup, has_doctype, too_much

MOST_ELEMENTS = 2_000_000  # of a whole file: a million numbers, 600,000 formulas
MOST_LISTED = 200_000  # of a list; Excel takes some 65,000 links of a sheet
DEEPEST = 100_000
MOST_WORDS = 20_000  # different names of elements and attributes; a schema has some hundreds
LONGEST_TAG = 2_000_000  # bytes; also of a comment
LONGEST_TEXT = 250_000  # characters; Excel takes 32,767 in a cell, each spelled in up to 7
MOST_TEXT = 50_000_000  # characters of all the texts that are kept

ENCODINGS = ("UTF-8", "UTF-16", "US-ASCII")
_DECLARED = re.compile(r"""^(\ufeff?<\?xml[^>]*\bencoding=["'])[^"']*""")


class Elements:
    """Calls ``begin_<name>(attributes)`` and ``end_<name>()`` of a subclass.

    They are called for elements that have the same prefix as the root; the root itself calls
    ``starts``. Between ``listen`` and ``deafen`` the text is gathered, and ``heard`` gives it.
    ``depth`` is 1 in the root.
    """

    most = MOST_ELEMENTS

    def __init__(self, file: str) -> None:
        self.file = file
        self.count = self.depth = 0
        self.prefix = ""
        self._heard: list[str] = []
        self._length = self._all_text = 0
        self._words: dict[str, str] = {}
        self._begins: dict[str, Callable[[dict[str, str]], None]] = {}
        self._ends: dict[str, Callable[[], None]] = {}
        self.parser = expat.ParserCreate(intern=self._words)
        self.parser.buffer_text = True
        self.parser.XmlDeclHandler = self._declared
        self.parser.StartDoctypeDeclHandler = self._doctype
        self.parser.StartElementHandler = self._root
        self.parser.EndElementHandler = self._end

    def read(self, pieces: Iterable[bytes]) -> Iterator[None]:
        """Reads a part and yields after each piece, so that a caller may stop.

        Raises WorkbookProblem for damaged markup and for what goes beyond the bounds.
        """
        fed, rest = 0, iter(pieces)
        try:
            for piece in self.arriving(rest):
                fed += len(piece)
                self.parser.Parse(piece, False)
                self._refuse_excess(fed)
                yield
            self.parser.Parse(b"", True)
            yield
        except (expat.ExpatError, LookupError, ValueError) as problem:
            for _ in rest:  # a part that cannot be unpacked to its end says so instead
                pass
            raise damaged_markup(self.file, problem) from None

    def arriving(self, pieces: Iterator[bytes]) -> Iterator[bytes]:
        """The pieces as they go to the parser."""
        return pieces

    def starts(self, facts: dict[str, str]) -> None:
        """The first element."""
        return None

    def listen(self) -> None:
        self.parser.CharacterDataHandler = self._hear

    def deafen(self) -> None:
        self.parser.CharacterDataHandler = None

    def heard(self) -> str:
        text = "".join(self._heard)
        self._heard.clear()
        self._length = 0
        return text

    def _root(self, name: str, facts: dict[str, str]) -> None:
        self.count = self.depth = 1
        self.prefix = name[: name.find(":") + 1]
        for own in dir(self):
            kind, _, element = own.partition("_")
            handlers: Any = {"begin": self._begins, "end": self._ends}.get(kind)
            if handlers is not None:
                handlers[self.prefix + element] = getattr(self, own)
        self.parser.StartElementHandler = self._begin
        self.starts(facts)

    def _begin(self, name: str, facts: dict[str, str]) -> None:
        self.count += 1
        self.depth += 1
        begin = self._begins.get(name)
        if begin is not None:
            begin(facts)

    def _end(self, name: str) -> None:
        end = self._ends.get(name)
        if end is not None:
            end()
        self.depth -= 1

    def _hear(self, text: str) -> None:
        self._heard.append(text)
        self._length += len(text)
        self._all_text += len(text)
        if self._length > LONGEST_TEXT:
            raise too_much(self.file, f"a text of more than {LONGEST_TEXT:,} characters")
        if self._all_text > MOST_TEXT:
            raise too_much(self.file, f"more than {MOST_TEXT:,} characters of text")

    def _declared(self, version: str, encoding: str | None, alone: int) -> None:
        if encoding and encoding.upper() not in ENCODINGS:
            raise WorkbookProblem(
                f"{self.file}: its XML is encoded as {encoding[:30]}, and .xlsx files use UTF-8 or "
                "UTF-16; open and save it again."
            )

    def _doctype(self, *_: object) -> None:
        raise has_doctype(self.file)

    def _refuse_excess(self, fed: int) -> None:
        if self.count > self.most:
            most = f"{MOST_ELEMENTS:,} in all, {MOST_LISTED:,} in a list"
            raise too_much(self.file, f"more elements than are taken ({most})")
        if self.depth > DEEPEST:
            raise too_much(self.file, f"more than {DEEPEST:,} elements in each other")
        if len(self._words) > MOST_WORDS:
            raise too_much(self.file, f"more than {MOST_WORDS:,} different names of elements")
        # What has come behind the start of the last tag is what the parser waits with.
        if fed - max(self.parser.CurrentByteIndex, 0) > LONGEST_TAG:
            raise too_much(self.file, f"a tag of more than {LONGEST_TAG:,} bytes")


def utf8_pieces(pieces: Iterable[bytes]) -> Iterator[bytes]:
    """A part in UTF-8; UTF-16, the other encoding that packages allow, is converted."""
    decoder: Any = None
    first = True
    for piece in pieces:
        if first:
            decoder = _decoder(piece)
        if decoder is None:
            yield piece
        else:
            text = decoder.decode(piece)
            yield (_DECLARED.sub(r"\1UTF-8", text) if first else text).encode()
        first = False
    if decoder is not None:
        decoder.decode(b"", True)  # raises where a character is cut in two


def _decoder(start: bytes) -> Any:
    if start[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return codecs.getincrementaldecoder("utf-16")()
    two = {b"<\0": "utf-16-le", b"\0<": "utf-16-be"}.get(start[:2])
    return codecs.getincrementaldecoder(two)() if two else None
