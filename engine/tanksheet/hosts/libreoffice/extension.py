"""The LibreOffice extension: the FERT functions for any sheet, with help in the Function Wizard.

An .oxt is a zip file: the component, its type library, a description of each function, and the
calculations themselves. It is the same on every machine.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree
from xml.etree.ElementTree import Element, SubElement

from tanksheet import definition
from tanksheet.definition import catalogue
from tanksheet.hosts.libreoffice.uno_types import ANY, CELLS, Method, type_library
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS
from tanksheet.units import Quantity
from tanksheet.xlsx.writing import write_parts

IDENTIFIER = "org.tanksheet.fert"
IMPLEMENTATION = "FERT"  # the part of =FERT.STOCKMASS( before the dot
INTERFACE = "org.tanksheet.XFert"
PACKAGE = Path(definition.__file__).parent
HERE = Path(__file__).parent
COMPONENT, TYPES, FUNCTIONS = "component.py", "types.rdb", "CalcAddIns.xcu"
# The calculations and what they stand on; the patterns are taken in the package's folder.
CORE = (
    *(f"{name}.py" for name in ("__init__", "errors", "units", "subset", "definition", "tables")),
    *("calc/*.py", "data/*.csv", "xlsx/__init__.py", "xlsx/address.py"),
    *("hosts/__init__.py", "hosts/table_functions.py", "hosts/cheapest_table.py"),
)
MEDIA = "application/vnd.sun.star."
REGISTRY = "http://openoffice.org/2001/registry"
MANIFEST = "http://openoffice.org/2001/manifest"
DESCRIPTION = "http://openoffice.org/extensions/description/2006"
NEEDS = "http://libreoffice.org/extensions/description/2011"
OLDEST = "7.0"


class Function(NamedTuple):
    """A function as LibreOffice is told of it; ``optional`` names arguments with a default."""

    name: str
    sheet_name: str
    help: str
    parameters: dict[str, Quantity]
    optional: tuple[str, ...] = ()
    gives_table: bool = False

    @property
    def method(self) -> Method:
        parameters = tuple((_plain(name), ANY) for name in self.parameters)
        return Method(self.name.lower(), parameters, CELLS if self.gives_table else ANY)


def functions() -> Iterator[Function]:
    """Every function of the extension: the calculations, then those that give tables."""
    for each in catalogue().values():
        unit = each.unit.symbol
        text = f"{each.summary} Result in {unit}." if unit not in ("", "word") else each.summary
        known = inspect.signature(each.body).parameters.values()
        optional = tuple(each.name for each in known if each.default is not each.empty)
        yield Function(each.name, each.sheet_name, text, each.parameters, optional)
    for table in TABLE_FUNCTIONS.values():
        text = f"{table.summary} Enter it as an array formula."
        yield Function(table.name, table.sheet_name, text, table.arguments, gives_table=True)


def _plain(parameter: str) -> str:
    """UNO's own name for an argument, in letters and digits."""
    return parameter.replace("_", "")


def extension_bytes() -> bytes:
    """The finished .oxt file."""
    return write_parts(extension_parts())


def extension_parts() -> dict[str, bytes]:
    """The extension's files by their place in it."""
    core = [file for pattern in CORE for file in PACKAGE.glob(pattern)]
    return {
        "META-INF/manifest.xml": _manifest(),
        "description.xml": _description(),
        "LICENSE": _source(HERE / "LICENSE"),
        COMPONENT: _source(HERE / "component.py"),
        TYPES: type_library(INTERFACE, [each.method for each in functions()]),
        FUNCTIONS: _functions(),
        **{f"pythonpath/tanksheet/{f.relative_to(PACKAGE).as_posix()}": _source(f) for f in core},
    }


def unpack(folder: Path) -> None:
    """Writes the extension's files into a folder, as LibreOffice keeps a bundled extension."""
    for name, content in extension_parts().items():
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)


def _source(file: Path) -> bytes:
    # A checkout on Windows may have other line ends; the extension is the same everywhere.
    return file.read_bytes().replace(b"\r\n", b"\n")


def _functions() -> bytes:
    """What the Function Wizard shows."""
    root = Element(
        "oor:component-data",
        {
            "xmlns:oor": REGISTRY,
            "oor:name": "CalcAddIns",
            "oor:package": "org.openoffice.Office",
        },
    )
    listed = _node(_node(_node(root, "AddInInfo"), IMPLEMENTATION, True), "AddInFunctions")
    for function in functions():
        node = _node(listed, function.method.name, True)
        _property(node, "DisplayName", function.sheet_name, "en")
        _property(node, "CompatibilityName", function.sheet_name, "en")
        _property(node, "Description", function.help, "en")
        _property(node, "Category", "Add-In")
        parameters = _node(node, "Parameters")
        for name, quantity in function.parameters.items():
            argument = _node(parameters, _plain(name), True)
            _property(argument, "DisplayName", argument_title(name, quantity), "en")
            told = f"{quantity.meaning}; {quantity.allowed}"
            # The wizard calls every argument optional, since every one is of type "any".
            needed = "" if name in function.optional else "; needed"
            _property(argument, "Description", told + needed, "en")
    return _xml(root)


def argument_title(name: str, quantity: Quantity) -> str:
    """An argument's name with its unit: ``target (mg/L)``."""
    unit = "" if quantity.is_word or quantity.is_readings else quantity.unit.symbol
    return f"{name} ({unit})" if unit and unit not in ("parts", "pH", "money") else name


def _node(parent: Element, name: str, replace: bool = False) -> Element:
    operation = {"oor:op": "replace"} if replace else {}
    return SubElement(parent, "node", {"oor:name": name, **operation})


def _property(parent: Element, name: str, text: str, language: str = "") -> None:
    prop = SubElement(parent, "prop", {"oor:name": name})
    SubElement(prop, "value", {"xml:lang": language} if language else {}).text = text


def _manifest() -> bytes:
    root = Element("manifest:manifest", {"xmlns:manifest": MANIFEST})
    files = {
        TYPES: "uno-typelibrary;type=RDB",
        COMPONENT: "uno-component;type=Python",
        FUNCTIONS: "configuration-data",
    }
    for name, media in files.items():
        facts = {"manifest:full-path": name, "manifest:media-type": MEDIA + media}
        SubElement(root, "manifest:file-entry", facts)
    return _xml(root)


def _description() -> bytes:
    spaces = {"xmlns": DESCRIPTION, "xmlns:d": DESCRIPTION, "xmlns:l": NEEDS}
    root = Element("description", spaces)
    SubElement(root, "identifier", {"value": IDENTIFIER})
    SubElement(root, "version", {"value": _version()})
    names = SubElement(root, "display-name")
    SubElement(names, "name", {"lang": "en"}).text = "Tanksheet functions"
    office = {"value": OLDEST, "d:name": f"LibreOffice {OLDEST}"}
    SubElement(SubElement(root, "dependencies"), "l:LibreOffice-minimal-version", office)
    return _xml(root)


def _version() -> str:
    # Read, not imported: the package as a whole is for the outermost room only.
    text = (PACKAGE / "__init__.py").read_text(encoding="utf-8")
    return str(re.findall(r'__version__ = "(.+)"', text)[0])


def _xml(root: Element) -> bytes:
    ElementTree.indent(root)
    text: bytes = ElementTree.tostring(root, encoding="UTF-8", xml_declaration=True)
    return text + b"\n"
