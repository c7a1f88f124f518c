"""The LibreOffice extension: the FERT functions for any sheet, with help in the Function Wizard.

An .oxt is a zip file: the component, its type library, a description of each function, and the
calculations themselves. It is the same on every machine.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element, SubElement

import tanksheet
from tanksheet.definition import Calculation, catalogue
from tanksheet.hosts.uno_types import CELLS, Method, type_library
from tanksheet.sheets.package import write_parts
from tanksheet.units import Quantity

IDENTIFIER = "org.tanksheet.fert"
IMPLEMENTATION = "FERT"  # the part of =FERT.STOCKMASS( before the dot
INTERFACE = "org.tanksheet.XFert"
PACKAGE = Path(tanksheet.__file__).parent
HERE = Path(__file__).parent
COMPONENT, TYPES, FUNCTIONS = "component.py", "types.rdb", "CalcAddIns.xcu"
CORE = ("__init__", "errors", "units", "subset", "definition", "tables")
MEDIA = "application/vnd.sun.star."
REGISTRY = "http://openoffice.org/2001/registry"
MANIFEST = "http://openoffice.org/2001/manifest"
DESCRIPTION = "http://openoffice.org/extensions/description/2006"
NEEDS = "http://libreoffice.org/extensions/description/2011"
OLDEST = "7.0"


def extension_bytes() -> bytes:
    """The finished .oxt file."""
    return write_parts(
        {
            "META-INF/manifest.xml": _manifest(),
            "description.xml": _description(),
            "LICENSE": _source(HERE / "data" / "LICENSE"),
            COMPONENT: _source(HERE / "libreoffice_component.py"),
            TYPES: type_library(INTERFACE, [_method(c) for c in catalogue().values()]),
            FUNCTIONS: _functions(catalogue().values()),
            **_core(),
        }
    )


def _core() -> dict[str, bytes]:
    """The calculations, as LibreOffice's Python is to import them."""
    files = [
        *(PACKAGE / f"{name}.py" for name in CORE),
        *(PACKAGE / "calc").glob("*.py"),
        *(PACKAGE / "data").glob("*.csv"),
    ]
    return {
        f"pythonpath/tanksheet/{file.relative_to(PACKAGE).as_posix()}": _source(file)
        for file in files
    }


def _source(file: Path) -> bytes:
    # A checkout on Windows may have other line ends; the extension is the same everywhere.
    return file.read_bytes().replace(b"\r\n", b"\n")


def method_name(calculation: Calculation) -> str:
    return calculation.name.lower()


def _argument_name(parameter: str) -> str:
    """UNO's own name for an argument, in letters and digits."""
    return parameter.replace("_", "")


def _method(calculation: Calculation) -> Method:
    parameters = tuple((_argument_name(name), CELLS) for name in calculation.parameters)
    return Method(method_name(calculation), parameters)


def _functions(calculations: Iterable[Calculation]) -> bytes:
    """What the Function Wizard shows."""
    root = Element(
        "oor:component-data",
        {
            "xmlns:oor": REGISTRY,
            "oor:name": "CalcAddIns",
            "oor:package": "org.openoffice.Office",
        },
    )
    functions = _node(_node(_node(root, "AddInInfo"), IMPLEMENTATION, True), "AddInFunctions")
    for calculation in calculations:
        node = _node(functions, method_name(calculation), True)
        _property(node, "DisplayName", calculation.sheet_name, "en")
        _property(node, "CompatibilityName", calculation.sheet_name, "en")
        _property(node, "Description", _help(calculation), "en")
        _property(node, "Category", "Add-In")
        parameters = _node(node, "Parameters")
        for name, entry in calculation.parameters.items():
            argument = _node(parameters, _argument_name(name), True)
            _property(argument, "DisplayName", argument_title(name, entry), "en")
            _property(argument, "Description", f"{entry.meaning}; {entry.allowed}", "en")
    return _xml(root)


def argument_title(name: str, entry: Quantity) -> str:
    """An argument's name with its unit: ``target (mg/L)``."""
    unit = "" if entry.is_word or entry.is_readings else entry.unit.symbol
    return f"{name} ({unit})" if unit and unit not in ("parts", "pH", "money") else name


def _help(calculation: Calculation) -> str:
    unit = calculation.unit.symbol
    return f"{calculation.summary} Result in {unit}." if unit else calculation.summary


def _node(parent: Element, name: str, replace: bool = False) -> Element:
    operation = {"oor:op": "replace"} if replace else {}
    return SubElement(parent, "node", {"oor:name": name, **operation})


def _property(parent: Element, name: str, text: str, language: str = "") -> None:
    entry = SubElement(parent, "prop", {"oor:name": name})
    SubElement(entry, "value", {"xml:lang": language} if language else {}).text = text


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
    SubElement(root, "version", {"value": tanksheet.__version__})
    names = SubElement(root, "display-name")
    SubElement(names, "name", {"lang": "en"}).text = "Tanksheet functions"
    office = {"value": OLDEST, "d:name": f"LibreOffice {OLDEST}"}
    SubElement(SubElement(root, "dependencies"), "l:LibreOffice-minimal-version", office)
    return _xml(root)


def _xml(root: Element) -> bytes:
    ElementTree.indent(root)
    text: bytes = ElementTree.tostring(root, encoding="UTF-8", xml_declaration=True)
    return text + b"\n"
