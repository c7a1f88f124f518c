"""The extension's files: the same everywhere, complete, and able to run without LibreOffice."""

from __future__ import annotations

import importlib.util
import io
import math
import struct
import subprocess
import sys
import types
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from tanksheet import catalogue
from tanksheet.cli import main
from tanksheet.definition import Calculation
from tanksheet.errors import DividedByZero, Fault, NotANumber, NotListed, OutOfRange
from tanksheet.hosts.libreoffice import extension as libreoffice_extension
from tanksheet.hosts.libreoffice.extension import (
    extension_bytes,
    extension_parts,
    functions,
    unpack,
)
from tanksheet.hosts.libreoffice.uno_types import ANY, CELLS, Method, type_library
from tanksheet.hosts.table_functions import TABLE_FUNCTIONS

ROOT = Path(__file__).parents[2]
OOR = "{http://openoffice.org/2001/registry}"
# What unoidl-write of LibreOffice 7.4.7.2 makes of
#   module org { module tanksheet { interface XFert {
#     any flow([in] sequence<sequence<any> > volume, [in] any seconds);
#     sequence<sequence<any> > table([in] sequence<sequence<any> > table);
#   }; }; };
UNOIDL_WRITE = """
554e4f49444cff00fc00000001000000002a2a2043726561746564206279204c696272654f66666963652037
2e342e372e3220756e6f69646c2d7772697465202a2a0005010000001b000000636f6d2e73756e2e73746172
2e756e6f2e58496e7465726661636500000000000000000200000004000000666c6f7703000000616e790200
00000006000000766f6c756d65070000005b5d5b5d616e7900070000007365636f6e64737b00008000000000
050000007461626c65910000800100000000b000008091000080000000005846657274000001000000ce0000
004300000074616e6b7368656574000001000000e1000000d40000006f726700f8000000eb000000
"""
# LibreOffice's own error numbers: its help page "Error Codes in LibreOffice Calc".
SHOWN = {519: "#VALUE!", 503: "#NUM!", 532: "#DIV/0!", 32767: "#N/A"}


def test_the_type_library_is_what_libreoffice_writes() -> None:
    methods = [
        Method("flow", (("volume", CELLS), ("seconds", ANY))),
        Method("table", (("table", CELLS),), CELLS),
    ]
    note = "** Created by LibreOffice 7.4.7.2 unoidl-write **"
    assert type_library("org.tanksheet.XFert", methods, note) == bytes.fromhex(UNOIDL_WRITE)
    assert type_library("org.tanksheet.XFert", methods[:1], note) != bytes.fromhex(UNOIDL_WRITE)


def test_two_builds_are_equal_and_carry_no_date() -> None:
    content = extension_bytes()
    assert content == extension_bytes()
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert {info.date_time for info in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        names = archive.namelist()
    assert names == sorted(names)
    assert {name.partition("/")[0] for name in names} == {
        *("CalcAddIns.xcu", "LICENSE", "META-INF", "component.py", "description.xml"),
        *("pythonpath", "types.rdb"),
    }


def test_line_ends_of_a_checkout_do_not_count(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = extension_bytes()
    for name in ("component.py", "LICENSE"):
        target = tmp_path / name
        target.parent.mkdir(exist_ok=True)
        text = (libreoffice_extension.HERE / name).read_bytes()
        target.write_bytes(text.replace(b"\n", b"\r\n"))
    monkeypatch.setattr(libreoffice_extension, "HERE", tmp_path)
    assert extension_bytes() == before


def test_the_licence_is_the_projects() -> None:
    assert extension_parts()["LICENSE"] == (ROOT / "LICENSE").read_bytes()


def test_the_function_wizard_is_told_of_every_function() -> None:
    root = ElementTree.fromstring(extension_parts()["CalcAddIns.xcu"])
    listed = root.findall(f"node[@{OOR}name='AddInInfo']/node[@{OOR}name='FERT']/node/node")
    told = {node.get(f"{OOR}name"): node for node in listed}
    assert list(told) == [name.lower() for name in (*catalogue(), *TABLE_FUNCTIONS)]
    for function in functions():
        node = told[function.method.name]
        texts = {p.get(f"{OOR}name"): p.findtext("value") for p in node.findall("prop")}
        assert texts["DisplayName"] == texts["CompatibilityName"] == function.sheet_name
        assert texts["Description"] == function.help
        arguments = node.findall(f"node[@{OOR}name='Parameters']/node")
        names = [argument.get(f"{OOR}name") for argument in arguments]
        assert names == [name for name, _ in function.method.parameters]
        assert all(name and name.isalnum() and name == name.lower() for name in names)
        assert all(len(list(argument.iter("value"))) == 2 for argument in arguments)
    assert "(mg/L)" in str(ElementTree.tostring(told["stockmass"]))


EXAMPLES = """
import sys, types
class Helper:
    def addImplementation(self, make, name, services):
        self.offered = name, services
sys.modules["unohelper"] = types.SimpleNamespace(ImplementationHelper=Helper, Base=object)
sys.path.append(sys.argv[1])
import component
assert component.g_ImplementationHelper.offered == ("FERT", ("org.tanksheet.Fert",))
methods = component.methods()
def rows(value):
    if isinstance(value, list):
        return tuple((each,) for each in value)
    return value
for name, record in component.catalogue().items():
    arguments, shown = record.example
    result = methods[name.lower()](None, *map(rows, arguments))
    assert abs(result - shown) <= 1e-3 * abs(shown), (name, result)
    assert record.body.__code__.co_filename.startswith(sys.argv[1]), record.body
assert len(methods["table"](None, "oxides")) > 5
outside = [m for m in sys.modules if m.partition(".")[0] in ("numpy", "openpyxl", "pint", "uno")]
assert not outside, outside
print(len(methods))
"""


def test_the_packed_copy_runs_under_a_bare_python(tmp_path: Path) -> None:
    """Isolated, without site packages; the calculations come from the extension's own folder."""
    unpack(tmp_path)
    done = subprocess.run(
        [sys.executable, "-I", "-S", "-B", "-c", EXAMPLES, str(tmp_path)],
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.stderr == ""
    assert done.stdout.strip() == str(len(list(functions())))


@pytest.fixture(scope="module")
def component() -> Any:
    """The component as a module, with a stand-in for what it signs in to."""
    file = libreoffice_extension.HERE / "component.py"
    spec = importlib.util.spec_from_file_location("libreoffice_component", file)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    helper = types.SimpleNamespace(addImplementation=lambda *_: None)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "path", list(sys.path))
        stand_in = types.SimpleNamespace(ImplementationHelper=lambda: helper, Base=object)
        patch.setitem(sys.modules, "unohelper", stand_in)
        spec.loader.exec_module(module)
    return module


def shown_as(value: float) -> str:
    """The error that LibreOffice sees in a not-a-number."""
    assert math.isnan(value)
    (bits,) = struct.unpack("<Q", struct.pack("<d", value))
    return SHOWN[bits & 0xFFFFFFFF]


@pytest.mark.parametrize("fault", [NotANumber, OutOfRange, DividedByZero, NotListed])
def test_a_fault_becomes_its_error(component: Any, fault: type[Exception]) -> None:
    def work() -> float:
        raise fault("a message that no cell shows")

    code = str(fault.code)  # type: ignore[attr-defined]
    assert shown_as(component.method(work)(None)) == code
    assert shown_as(component.table_method(work)(None)[0][0]) == code


@pytest.mark.parametrize("problem", [RecursionError, KeyError, MemoryError, TypeError])
def test_no_traceback_reaches_a_cell(component: Any, problem: type[Exception]) -> None:
    def work() -> float:
        raise problem("inside")

    assert shown_as(component.method(work)(None)) == "#VALUE!"


ODD = (None, "", "x" * 100_000, math.inf, -1e308, (), ((),), ((1.0, "a"), ("", 2.0)), ((None,),))


@pytest.mark.parametrize("value", ODD, ids=lambda value: str(value)[:20])
def test_odd_arguments_never_raise(component: Any, value: Any) -> None:
    for name, method in component.methods().items():
        width = len(next(f for f in functions() if f.method.name == name).parameters)
        for count in {0, width - 1, width, width + 1}:
            result = method(None, *[value] * count)
            assert isinstance(result, (float, str, tuple)), (name, result)


def test_an_argument_with_a_default_may_be_left_out(
    component: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """LibreOffice hands over None for it. No calculation has such an argument yet."""

    def body(ratio: float, tank: float = 200.0) -> float:
        return ratio * tank

    known = catalogue()["TANKLIFE"].parameters
    record = Calculation(
        name="TRIAL",
        topic="stock",
        function=body,
        body=body,
        parameters={"ratio": known["ratio"], "tank": known["tank"]},
        returns=catalogue()["TANKLIFE"].returns,
        example=((3.0,), 600.0),
        empirical="",
    )
    work: Callable[..., float] = component.single(record)
    assert work(3.0, None) == 600.0
    assert work(((3.0,),), None) == 600.0
    assert work(3.0, 2.0) == 6.0
    monkeypatch.setattr(libreoffice_extension, "catalogue", lambda: {"TRIAL": record})
    assert next(functions()).method == Method("trial", (("ratio", ANY), ("tank", ANY)))
    told = ElementTree.fromstring(extension_parts()["CalcAddIns.xcu"])
    texts = [value.text or "" for value in told.iter("value")]
    assert [text.endswith("; needed") for text in texts if "above 0" in text] == [False]
    assert [text.endswith("; needed") for text in texts if "at least 1" in text] == [True]


def test_every_argument_may_be_anything(component: Any) -> None:
    """Of UNO's types only ``any`` lets an argument be left out, which is then a blank."""
    assert {kind for each in functions() for _, kind in each.method.parameters} == {ANY}
    assert {each.method.result for each in functions() if each.gives_table} == {CELLS}
    for name, record in catalogue().items():
        call = component.methods()[name.lower()]
        for at in range(len(record.parameters)):
            given = list(record.example[0])
            given[at] = None
            with pytest.raises(Fault) as refused:
                record.function(*given)
            cells = [tuple((x,) for x in e) if isinstance(e, list) else e for e in given]
            assert shown_as(call(None, *cells)) == str(refused.value.code), (name, at)


def test_the_command_writes_the_file_and_spares_one_that_is_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "fert.oxt"
    assert main(["addin", "libreoffice", "--out", str(target)]) == 0
    assert target.read_bytes() == extension_bytes()
    target.write_bytes(b"mine")
    assert main(["addin", "libreoffice", "--out", str(target)]) == 2
    assert "--force" in capsys.readouterr().err
    assert target.read_bytes() == b"mine"
    assert main(["addin", "libreoffice", "--out", str(target), "--force"]) == 0
    assert target.read_bytes() == extension_bytes()
