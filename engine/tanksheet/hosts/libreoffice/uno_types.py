"""A UNO type library: the binary file that tells LibreOffice which methods a component has.

LibreOffice's own ``unoidl-write`` makes such files, but few people have it; the format is short
enough to write here. A test holds the two equal.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from dataclasses import dataclass, field

MAGIC = b"UNOIDL\xff\0"
NOTE = "** Written by Tanksheet **"
INTERFACE, MODULE, IN = 5, 0, 0
SEEN = 0x80000000  # marks a text that stands earlier in the file
ROOT_INTERFACE = "com.sun.star.uno.XInterface"
ANY = "any"  # one value or rows of cells; as an argument it may be left out
CELLS = "[][]any"  # rows of cells, one or more: what a table function gives


@dataclass(frozen=True)
class Method:
    """A method: its name, name and type of each parameter, and the type of its result."""

    name: str
    parameters: tuple[tuple[str, str], ...]
    result: str = ANY


def type_library(interface: str, methods: Sequence[Method], note: str = NOTE) -> bytes:
    """The library with one interface, such as ``org.tanksheet.XFert``."""
    out = _Library(bytearray(MAGIC + bytes(8)))
    out.data += b"\0" + note.encode("ascii") + b"\0"
    payload = out.interface(methods)
    *modules, name = interface.split(".")
    for module in reversed(modules):
        entry = out.entry(name, payload)
        payload = len(out.data)
        out.data += bytes([MODULE]) + struct.pack("<I", 1) + entry
        name = module
    root = out.entry(name, payload)
    struct.pack_into("<II", out.data, len(MAGIC), len(out.data), 1)
    return bytes(out.data + root)


@dataclass
class _Library:
    data: bytearray
    places: dict[str, int] = field(default_factory=dict)

    def number(self, value: int) -> None:
        self.data += struct.pack("<I", value)

    def text(self, text: str) -> None:
        if text in self.places:
            self.number(SEEN | self.places[text])
            return
        self.places[text] = len(self.data)
        self.number(len(text))
        self.data += text.encode("ascii")

    def interface(self, methods: Sequence[Method]) -> int:
        start = len(self.data)
        self.data.append(INTERFACE)
        self.number(1)
        self.text(ROOT_INTERFACE)
        for count in (0, 0, len(methods)):  # optional bases, attributes, methods
            self.number(count)
        for method in methods:
            self.method(method)
        return start

    def method(self, method: Method) -> None:
        self.text(method.name)
        self.text(method.result)
        self.number(len(method.parameters))
        for name, kind in method.parameters:
            self.data.append(IN)
            self.text(name)
            self.text(kind)
        self.number(0)  # exceptions

    def entry(self, name: str, payload: int) -> bytes:
        """A name in the file, and the record that points to it and to what it names."""
        start = len(self.data)
        self.data += name.encode("ascii") + b"\0"
        return struct.pack("<II", start, payload)
